//! The year: what was found, when and where, and the finds of a month.

use std::collections::{BTreeMap, HashMap};

use jiff::civil::Date;

use super::{FindRecord, Notebook};
use crate::allowance::{Facts, GoesBy, goes_by};
use crate::error::Error;
use crate::find::{Determination, How};
use crate::id::{FindId, PatchId};
use crate::pack::Pack;
use crate::patch::{Many, Season};
use crate::place::Position;
use crate::store::{StoreError, Summed, View};
use crate::year::{
    Called, Came, Cell, Counted, Counting, Ground, Key, Laid, Pick, Row, Runs, Watched, order, runs, seasons,
    twelve,
};

/// By what the year is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// By fungus.
    Fungus,
    /// By place.
    Place,
}

/// What is asked of the year.
#[derive(Debug, Clone, PartialEq)]
pub struct AskedOfYear {
    /// By what it is told.
    pub by: By,
    /// One season, as it is named; none for all of them laid over each other, as for one that is not there.
    pub season: Option<String>,
    /// What is told more of.
    pub more_of: Option<Key>,
}

/// The year.
#[derive(Debug, Clone, PartialEq)]
pub struct Year {
    /// Every season that there is, the latest first.
    pub seasons: Vec<Season>,
    /// The one that is told.
    pub season: Option<Season>,
    /// All finds together.
    pub all: YearLine,
    /// Each fungus or place of which there is something to tell, in the order of the year.
    pub lines: Vec<YearLine>,
    /// More of one of them, or of all.
    pub more: Option<YearMore>,
}

/// One fungus or place.
#[derive(Debug, Clone, PartialEq)]
pub struct YearLine {
    /// Which.
    pub title: Title,
    /// Its twelve months, July to June.
    pub months: Vec<Laid>,
    /// What they come to together.
    pub sum: Cell,
    /// What those that were left weigh, by what those of the same fungus weighed that were taken.
    pub left: LeftWeight,
}

/// More of one fungus or place.
#[derive(Debug, Clone, PartialEq)]
pub struct YearMore {
    /// What its page says anyway.
    pub line: YearLine,
    /// What each season came to, the latest first.
    pub seasons: Vec<(Season, Cell, LeftWeight)>,
    /// First and last days.
    pub runs: Runs,
}

/// What a line is called.
#[derive(Debug, Clone, PartialEq)]
pub struct Title {
    /// What it is of.
    pub key: Key,
    /// Of a patch, what its owner calls it.
    pub name: Option<String>,
    /// Of a patch, what is looked for there.
    pub kind: Option<String>,
    /// Of a patch without a name, where it is.
    pub centre: Option<Position>,
}

/// What was left weighs about so much. An estimate, from what was weighed and counted: whoever takes the largest leaves less.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct LeftWeight {
    /// Grams, at least.
    pub least: f64,
    /// Grams, at most; none if more may have been there than anybody counted.
    pub most: Option<f64>,
    /// Something was left of which none was ever counted and weighed: it is not in these numbers.
    pub lacks_some: bool,
}

/// The finds of a month, and the looks that found nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct MonthOf {
    /// Of what.
    pub title: Title,
    /// Which.
    pub pick: Pick,
    /// What it came to.
    pub cell: Cell,
    /// Its finds, the latest first, and what each goes by.
    pub finds: Vec<(FindRecord, GoesBy)>,
    /// How many more finds there are.
    pub more: u32,
    /// The looks that found nothing of it, or something that nobody counted; the latest first.
    pub looked: Vec<(Date, Title, Came)>,
}

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
    pub fn month(&self, pack: &Pack, key: &Key, pick: Pick, most: usize) -> Result<MonthOf, Error> {
        let watched = Watched { key: key.clone(), pick };
        let (grounds, counted, finds) = self.read(|view| {
            let grounds = view.grounds()?;
            let called = |name: &str| called(pack, name);
            let mut counting = Counting::new(grounds.clone(), &called);
            count(view, &mut counting, &|names| is_settled(pack, names))?;
            let mut finds: Vec<(Date, FindId)> = Vec::new();
            view.each_find_of(pick, &mut |summed| {
                if is_of(&mut counting, key, summed) {
                    finds.push((summed.sum.day, summed.find));
                }
            })?;
            Ok((grounds, counting.finish(Some(&watched)), finds))
        })?;
        let rows = [&counted.all].into_iter().chain(&counted.fungi).chain(&counted.places);
        let cell =
            rows.filter(|row| row.key == *key).map(|row| row.course.sum(|month| pick.holds(month.first())));
        let looked =
            counted.looked.iter().map(|(day, at, came)| Ok((*day, self.title(at, &grounds)?, *came)));
        let (shown, more) = self.latest(pack, finds, most)?;
        Ok(MonthOf {
            title: self.title(key, &grounds)?,
            pick,
            cell: cell.last().unwrap_or_default(),
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

/// What all lines of one answer have in common.
#[derive(Debug, Clone)]
struct Telling {
    /// What one fruitbody weighs in the mean, in grams, by fungus.
    means: HashMap<Key, f64>,
    season: Option<Season>,
    today: Date,
}

impl Telling {
    fn line(&self, fungi: &[Row], row: &Row, title: Title) -> YearLine {
        YearLine {
            title,
            months: twelve(&row.course, self.season, self.today),
            sum: self.sum(row),
            left: self.left(fungi, row),
        }
    }

    fn sum(&self, row: &Row) -> Cell {
        row.course.sum(|month| self.season.is_none_or(|season| month.season() == season))
    }

    /// Only of one fungus is a mean worth anything: all together are the sum of each.
    fn left(&self, fungi: &[Row], row: &Row) -> LeftWeight {
        match row.key {
            Key::All => fungi
                .iter()
                .map(|fungus| self.left(fungi, fungus))
                .fold(LeftWeight::nothing(), LeftWeight::and),
            _ => LeftWeight::of(self.sum(row).amounts.left(), self.means.get(&row.key).copied()),
        }
    }
}

impl LeftWeight {
    fn nothing() -> Self {
        Self { least: 0.0, most: Some(0.0), lacks_some: false }
    }

    fn of(left: Many, mean: Option<f64>) -> Self {
        match mean {
            _ if left.is_none() => Self::nothing(),
            Some(mean) => Self {
                least: f64::from(left.least) * mean,
                most: left.most.map(|most| f64::from(most) * mean),
                lacks_some: false,
            },
            None => Self { lacks_some: true, ..Self::nothing() },
        }
    }

    fn and(self, other: Self) -> Self {
        Self {
            least: self.least + other.least,
            most: self.most.zip(other.most).map(|(one, other)| one + other),
            lacks_some: self.lacks_some || other.lacks_some,
        }
    }
}

fn means(fungi: &[Row]) -> HashMap<Key, f64> {
    let named = fungi.iter().filter(|row| row.key != Key::Unnamed);
    named.filter_map(|row| Some((row.key.clone(), row.course.sum(|_| true).mean_grams()?))).collect()
}

/// Puts everything into the count.
fn count(
    view: &View,
    counting: &mut Counting<'_>,
    is_settled: &dyn Fn(&[(Option<String>, Option<String>)]) -> bool,
) -> Result<(), StoreError> {
    view.each_outing(&mut |went| counting.outing(went))?;
    view.each_sum(&mut |sum| counting.finds(sum))?;
    view.each_visit(&mut |visited| counting.visit(visited))?;
    // Asked once for each set of names: it takes the pack, and most disputes are of one kind.
    let mut known: HashMap<Vec<(Option<String>, Option<String>)>, bool> = HashMap::new();
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
fn is_settled(pack: &Pack, names: &[(Option<String>, Option<String>)]) -> bool {
    let given: Vec<Determination> = names
        .iter()
        .map(|(taxon, how)| Determination {
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
