//! The year: what was found, when and where, and the finds of a month.

use std::collections::{BTreeMap, HashMap};

use jiff::civil::Date;

use super::year_told::{AskedOfYear, By, MonthOf, Telling, Title, Year, YearMore, means};
use super::{FindRecord, Notebook};
use crate::allowance::{Facts, GoesBy, goes_by};
use crate::error::Error;
use crate::find::{Determination, How};
use crate::id::{FindId, PatchId};
use crate::pack::Pack;
use crate::patch::Season;
use crate::store::{GivenName, StoreError, Summed, View};
use crate::year::{Called, Counted, Counting, Ground, Key, Pick, Row, Watched, order, runs, seasons};

impl Notebook {
    /// The year.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn year(&self, pack: &Pack, asked: &AskedOfYear) -> Result<Year, Error> {
        let today = self.now().day();
        let (grounds, counted) = self.read(|view| {
            let grounds = view.grounds()?;
            let called = |name: &str| called(pack, name);
            let mut counting = Counting::new(grounds.clone(), &called);
            count(view, &mut counting, &|names| is_settled(pack, names))?;
            Ok((grounds, counting.finish(None)))
        })?;
        let all_seasons = seasons(&counted, today);
        let season = all_seasons
            .iter()
            .copied()
            .find(|one| asked.season.as_ref().is_some_and(|name| one.to_string() == *name));
        let telling = Telling { means: means(&counted.fungi), season, today };
        let Counted { all, fungi, places, .. } = counted;
        let more = asked.more_of.as_ref().and_then(|key| {
            [&all].into_iter().chain(&fungi).chain(&places).find(|row| row.key == *key).cloned()
        });
        let more = more.map(|row| self.more(&telling, &fungi, &row, &grounds)).transpose()?;
        let all = telling.line(&fungi, &all, self.title(&all.key, &grounds)?);
        let mut rows = if asked.by == By::Fungus { fungi.clone() } else { places };
        rows.retain(|row| {
            row.course.months.keys().any(|month| season.is_none_or(|season| month.season() == season))
        });
        order(&mut rows, season, |key| sorted_by(pack, key, &grounds));
        let lines = rows.iter().map(|row| Ok(telling.line(&fungi, row, self.title(&row.key, &grounds)?)));
        let lines = lines.collect::<Result<_, Error>>()?;
        Ok(Year { seasons: all_seasons, season, all, lines, more })
    }

    /// The finds of a month, at most so many, the latest first; and the looks that found nothing.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn month(&self, pack: &Pack, key: &Key, when: Pick, most: usize) -> Result<MonthOf, Error> {
        let watched = Watched { key: key.clone(), pick: when };
        let (grounds, counted, finds) = self.read(|view| {
            let grounds = view.grounds()?;
            let called = |name: &str| called(pack, name);
            let mut counting = Counting::new(grounds.clone(), &called);
            count(view, &mut counting, &|names| is_settled(pack, names))?;
            let mut finds: Vec<(Date, FindId)> = Vec::new();
            view.each_find_of(when, &mut |summed| {
                if is_of(&mut counting, key, summed) {
                    finds.push((summed.sum.day, summed.find));
                }
            })?;
            Ok((grounds, counting.finish(Some(&watched)), finds))
        })?;
        let mut rows = [&counted.all].into_iter().chain(&counted.fungi).chain(&counted.places);
        let row = rows.find(|row| row.key == *key);
        let cell = row.map(|row| row.course.sum(|month| when.holds(month.first())));
        let looked =
            counted.looked.iter().map(|(day, at, came)| Ok((*day, self.title(at, &grounds)?, *came)));
        let (shown, more) = self.latest(pack, finds, most)?;
        Ok(MonthOf {
            title: self.title(key, &grounds)?,
            pick: when,
            cell: cell.unwrap_or_default(),
            finds: shown,
            more,
            looked: looked.collect::<Result<_, Error>>()?,
        })
    }

    /// The latest of some finds, and how many more there are.
    fn latest(
        &self,
        pack: &Pack,
        mut finds: Vec<(Date, FindId)>,
        most: usize,
    ) -> Result<(Vec<(FindRecord, GoesBy)>, u32), Error> {
        finds.sort_unstable_by(|one, other| other.cmp(one));
        let more = u32::try_from(finds.len().saturating_sub(most)).unwrap_or(u32::MAX);
        let mut shown = Vec::new();
        for (day, find) in finds.into_iter().take(most) {
            let record = self.find(find)?;
            let name = super::today::named(pack, &record);
            shown.push((day, record, name));
        }
        // Within a day by the hour, which the sums do not tell.
        shown.sort_by_key(|(day, record, _)| std::cmp::Reverse((*day, record.find.value.at)));
        Ok((shown.into_iter().map(|(_, record, name)| (record, name)).collect(), more))
    }

    fn more(
        &self,
        telling: &Telling,
        fungi: &[Row],
        row: &Row,
        grounds: &BTreeMap<PatchId, Ground>,
    ) -> Result<YearMore, Error> {
        let mut seasons: Vec<Season> = row.course.months.keys().map(|month| month.season()).collect();
        seasons.dedup();
        let told = |season: Season| {
            let telling = Telling { season: Some(season), ..telling.clone() };
            (season, telling.sum(row), telling.left(fungi, row))
        };
        Ok(YearMore {
            line: telling.line(fungi, row, self.title(&row.key, grounds)?),
            seasons: seasons.into_iter().rev().map(told).collect(),
            runs: runs(&row.course.days, telling.today),
        })
    }

    fn title(&self, key: &Key, grounds: &BTreeMap<PatchId, Ground>) -> Result<Title, Error> {
        let mut title = Title { key: key.clone(), name: None, kind: None, centre: None };
        if let Key::Patch(patch) = key
            && let Some(ground) = grounds.get(patch)
        {
            title.name.clone_from(&ground.name);
            title.kind.clone_from(&ground.kind);
            if title.name.is_none() {
                title.centre = self.patch(*patch)?.patch.value.centre;
            }
        }
        Ok(title)
    }
}

/// Puts everything into the count.
fn count(
    view: &View,
    counting: &mut Counting<'_>,
    is_settled: &dyn Fn(&[GivenName]) -> bool,
) -> Result<(), StoreError> {
    view.each_outing(&mut |went| counting.outing(went))?;
    view.each_sum(&mut |sum| counting.finds(sum))?;
    view.each_visit(&mut |visited| counting.visit(visited))?;
    // Asked once for each set of names: it takes the pack, and most disputes are of one kind.
    let mut known: HashMap<Vec<GivenName>, bool> = HashMap::new();
    let mut failed = Ok(());
    view.each_doubtful(&mut |doubtful| match view.names_of(doubtful.find) {
        Ok(names) => {
            if !*known.entry(names).or_insert_with_key(|names| is_settled(names)) {
                counting.unsettled(&doubtful.sum);
            }
        }
        Err(error) => failed = Err(error),
    })?;
    failed
}

/// Whether a find that was given these names, oldest first, is settled.
fn is_settled(pack: &Pack, names: &[GivenName]) -> bool {
    let given: Vec<Determination> = names
        .iter()
        .map(|GivenName { taxon, how }| Determination {
            taxon: taxon.clone(),
            how: How::ALL.iter().copied().find(|known| how.as_deref() == Some(known.word())),
            ..Determination::default()
        })
        .collect();
    goes_by(pack, &given).how.is_some()
}

/// Whether a find counts as this.
fn is_of(counting: &mut Counting<'_>, key: &Key, summed: &Summed<'_>) -> bool {
    match key {
        Key::All => true,
        Key::Fungus(_) | Key::Unnamed => counting.key_of_name(summed.sum.taxon) == Some(key),
        _ => counting.key_of_place(summed.sum.patch, summed.sum.outing) == Some(key),
    }
}

/// What a name is counted under. A stage that has to be known by itself counts as its species, a group by itself.
fn called(pack: &Pack, name: &str) -> Called {
    let taxon = pack.taxon_by_name(name).and_then(|at| pack.taxon(at));
    let species = taxon.and_then(|taxon| taxon.stage.as_ref()).and_then(|stage| pack.taxon(stage.of));
    let id =
        species.or(taxon).map(|taxon| taxon.id.clone()).or_else(|| pack.named(name).map(|named| named.id));
    let id = id.unwrap_or_else(|| name.trim().to_owned());
    let one_with = Facts::named(pack, &id).map_or_else(|| vec![id.clone()], |facts| facts.ids);
    Called { id, one_with }
}

/// What a line stands by among its like: the name that is shown.
fn sorted_by(pack: &Pack, key: &Key, grounds: &BTreeMap<PatchId, Ground>) -> String {
    let english = |name: &str| pack.named(name).map_or_else(|| name.to_owned(), |named| named.english);
    match key {
        Key::Fungus(id) => english(id),
        Key::Outing(place) => place.clone(),
        Key::Patch(patch) => {
            let ground = grounds.get(patch);
            let name = ground.and_then(|ground| ground.name.clone());
            name.or_else(|| ground.and_then(|ground| ground.kind.as_deref()).map(english)).unwrap_or_default()
        }
        Key::All | Key::Unnamed | Key::Elsewhere => String::new(),
    }
}
