//! Counting: finds, visits and outings in, courses out.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use jiff::civil::Date;

use super::look::{Look, Occasion, counted};
use super::{Called, Came, Cell, Course, Ground, Key, Month, Sum, Visited, Watched, Went};
use crate::id::{OutingId, PatchId};
use crate::patch::survivor;

/// A line of the year.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// What is counted.
    pub key: Key,
    /// What it came to.
    pub course: Course,
}

/// Everything, counted.
#[derive(Debug, Clone, PartialEq)]
pub struct Counted {
    /// All finds together.
    pub all: Row,
    /// Each fungus, and what has no name.
    pub fungi: Vec<Row>,
    /// Each patch; where outings were; and elsewhere.
    pub places: Vec<Row>,
    /// The looks that were watched for and found nothing of it, the latest first: the day, the place, what came of it.
    pub looked: Vec<(Date, Key, Came)>,
}

/// Takes what there is, in any order but for one thing: outings come first.
pub struct Counting<'n> {
    called: &'n dyn Fn(&str) -> Called,
    grounds: BTreeMap<PatchId, Ground>,
    /// The place of an outing, and whether it went for nothing so far.
    went: HashMap<OutingId, (Option<usize>, Option<Date>)>,
    by_name: HashMap<String, usize>,
    by_patch: HashMap<PatchId, Option<usize>>,
    fungi: Rows,
    kin: Vec<Vec<String>>,
    places: Rows,
    all: Course,
    looks: HashMap<(usize, Occasion), Look>,
}

/// Rows by what they are of.
#[derive(Debug, Default)]
struct Rows {
    rows: Vec<Row>,
    by_key: HashMap<Key, usize>,
}

impl Rows {
    fn at(&mut self, key: Key) -> usize {
        *self.by_key.entry(key).or_insert_with_key(|key| {
            self.rows.push(Row { key: key.clone(), course: Course::default() });
            self.rows.len() - 1
        })
    }

    fn course(&mut self, at: usize) -> Option<&mut Course> {
        self.rows.get_mut(at).map(|row| &mut row.course)
    }
}

impl Course {
    fn add(&mut self, day: Date, cell: Cell) {
        *self.months.entry(Month::of(day)).or_default() += cell;
    }

    fn found(&mut self, day: Date, cell: Cell) {
        self.add(day, cell);
        if !cell.amounts.seen.is_none() {
            self.days.push(day);
        }
    }
}

impl std::fmt::Debug for Counting<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Counting").finish_non_exhaustive()
    }
}

impl<'n> Counting<'n> {
    /// Begins with the patches that are there, merged ones included, and with what names stand for.
    #[must_use]
    pub fn new(grounds: BTreeMap<PatchId, Ground>, called: &'n dyn Fn(&str) -> Called) -> Self {
        Self {
            called,
            grounds,
            went: HashMap::new(),
            by_name: HashMap::new(),
            by_patch: HashMap::new(),
            fungi: Rows::default(),
            kin: Vec::new(),
            places: Rows::default(),
            all: Course::default(),
            looks: HashMap::new(),
        }
    }

    /// An outing. Two that were at one place, in the same words, are one place.
    pub fn outing(&mut self, went: &Went<'_>) {
        let place = went.place.trim();
        let place = (!place.is_empty()).then(|| self.places.at(Key::Outing(place.to_owned())));
        self.went.insert(went.outing, (place, went.day.filter(|_| went.is_over)));
    }

    /// What some finds come to.
    pub fn finds(&mut self, sum: &Sum<'_>) {
        let fungus = self.fungus(sum.taxon);
        let place = self.place(sum.patch, sum.outing);
        let cell = Cell::of(sum.amounts, sum.by_others);
        for course in
            [self.fungi.course(fungus), self.places.course(place), Some(&mut self.all)].into_iter().flatten()
        {
            course.found(sum.day, cell);
        }
        self.is_not_in_vain(sum.outing);
        let is_there = !sum.amounts.seen.is_none();
        self.look(place, sum.outing, sum.day).says(fungus, is_there, sum.taxon.is_empty());
    }

    /// A look at a patch. One at a patch that is not there any more says nothing.
    pub fn visit(&mut self, visited: &Visited) {
        let Some(place) = self.patch(visited.patch) else { return };
        self.is_not_in_vain(visited.outing);
        let look = self.look(place, visited.outing, visited.day);
        look.outcome = look.outcome.max(visited.outcome);
    }

    /// A find that counts by the last name given to it, and is not settled.
    pub fn unsettled(&mut self, find: &Sum<'_>) {
        let fungus = self.fungus(find.taxon);
        let place = self.place(find.patch, find.outing);
        let cell = Cell { unsettled: 1, ..Cell::default() };
        for course in
            [self.fungi.course(fungus), self.places.course(place), Some(&mut self.all)].into_iter().flatten()
        {
            course.add(find.day, cell);
        }
    }

    /// What a name, as it was given, is counted under.
    pub fn key_of_name(&mut self, name: &str) -> Option<&Key> {
        let at = self.fungus(name);
        self.fungi.rows.get(at).map(|row| &row.key)
    }

    /// What a place is counted under.
    pub fn key_of_place(&mut self, patch: Option<PatchId>, outing: Option<OutingId>) -> Option<&Key> {
        let at = self.place(patch, outing);
        self.places.rows.get(at).map(|row| &row.key)
    }

    /// The outing was at something: it was no look at its place by itself.
    fn is_not_in_vain(&mut self, outing: Option<OutingId>) {
        if let Some((_, in_vain)) = outing.and_then(|outing| self.went.get_mut(&outing)) {
            *in_vain = None;
        }
    }

    fn look(&mut self, place: usize, outing: Option<OutingId>, day: Date) -> &mut Look {
        let occasion = outing.map_or(Occasion::Day(day), Occasion::Outing);
        let look = self.looks.entry((place, occasion)).or_insert_with(|| Look::on(day));
        look.day = look.day.min(day);
        look
    }

    fn fungus(&mut self, name: &str) -> usize {
        if let Some(at) = self.by_name.get(name) {
            return *at;
        }
        let (key, kin) = if name.is_empty() {
            (Key::Unnamed, Vec::new())
        } else {
            let called = (self.called)(name);
            (Key::Fungus(called.id), called.one_with)
        };
        let at = self.fungi.at(key);
        if at == self.kin.len() {
            self.kin.push(kin);
        }
        self.by_name.insert(name.to_owned(), at);
        at
    }

    fn place(&mut self, patch: Option<PatchId>, outing: Option<OutingId>) -> usize {
        if let Some(place) = patch.and_then(|patch| self.patch(patch)) {
            return place;
        }
        let of_outing = outing.and_then(|outing| self.went.get(&outing)).and_then(|(place, _)| *place);
        of_outing.unwrap_or_else(|| self.places.at(Key::Elsewhere))
    }

    /// The row of the patch that stands for this one; none if it is not there.
    fn patch(&mut self, patch: PatchId) -> Option<usize> {
        if let Some(known) = self.by_patch.get(&patch) {
            return *known;
        }
        let grounds = &self.grounds;
        let next = |at| {
            Ok(grounds
                .get(&at)
                .and_then(|ground| ground.merged_into)
                .filter(|into| grounds.contains_key(into)))
        };
        let Ok(stands) = survivor::<std::convert::Infallible>(patch, next);
        let place = self.grounds.contains_key(&stands).then(|| self.places.at(Key::Patch(stands)));
        self.by_patch.insert(patch, place);
        place
    }
}

impl Counting<'_> {
    /// Everything, counted; with the looks that were watched for.
    #[must_use]
    pub fn finish(mut self, watched: Option<&Watched>) -> Counted {
        for (outing, (place, day)) in std::mem::take(&mut self.went) {
            if let (Some(place), Some(day)) = (place, day) {
                self.look(place, Some(outing), day);
            }
        }
        let kinds = self.kinds();
        let looks = std::mem::take(&mut self.looks);
        let mut looked = Vec::new();
        for ((place, _), look) in looks {
            let of_place = look.came();
            let at = self.places.rows.get(place).map(|row| row.key.clone());
            let mut tell = |key: &Key, came: Came| {
                let is_watched = watched.is_some_and(|one| one.key == *key && one.pick.holds(look.day));
                if is_watched && came != Came::Found {
                    looked.extend(at.clone().map(|at| (look.day, at, came)));
                }
            };
            let looked_for = kinds.get(place).into_iter().flatten().chain(&look.there).chain(&look.gone);
            for fungus in looked_for.copied().collect::<BTreeSet<usize>>() {
                let came = look.came_of(fungus, &self.kin);
                if let Some(row) = self.fungi.rows.get_mut(fungus) {
                    row.course.add(look.day, counted(came));
                    tell(&row.key, came);
                }
            }
            if let Some(row) = self.places.rows.get_mut(place) {
                row.course.add(look.day, counted(of_place));
                tell(&row.key, of_place);
            }
            self.all.add(look.day, counted(of_place));
            tell(&Key::All, of_place);
        }
        looked.sort_by(|one, other| (other.0, &one.1).cmp(&(one.0, &other.1)));
        let all = Row { key: Key::All, course: self.all };
        let mut counted = Counted { all, fungi: self.fungi.rows, places: self.places.rows, looked };
        let rows = counted.fungi.iter_mut().chain(&mut counted.places).chain([&mut counted.all]);
        for row in rows {
            row.course.days.sort_unstable();
            row.course.days.dedup();
        }
        for rows in [&mut counted.fungi, &mut counted.places] {
            rows.retain(|row| !row.course.months.is_empty());
        }
        counted
    }

    /// What is looked for at each place: the kind that a patch is of, or else whatever was ever found there.
    fn kinds(&mut self) -> Vec<Vec<usize>> {
        let mut kinds: Vec<Vec<usize>> = vec![Vec::new(); self.places.rows.len()];
        let unnamed = self.fungi.by_key.get(&Key::Unnamed).copied();
        for ((place, _), look) in &self.looks {
            let is_patch = self.places.rows.get(*place).is_some_and(|row| matches!(row.key, Key::Patch(_)));
            if let Some(kinds) = kinds.get_mut(*place).filter(|_| is_patch) {
                kinds.extend(look.there.iter().filter(|at| Some(**at) != unnamed));
                kinds.sort_unstable();
                kinds.dedup();
            }
        }
        let known = |row: &Row| match row.key {
            Key::Patch(patch) => self.grounds.get(&patch).and_then(|ground| ground.kind.clone()),
            _ => None,
        };
        let of_patches: Vec<Option<String>> = self.places.rows.iter().map(known).collect();
        for (kinds, kind) in kinds.iter_mut().zip(of_patches) {
            if let Some(kind) = kind.filter(|kind| !kind.is_empty()) {
                *kinds = vec![self.fungus(&kind)];
            }
        }
        kinds
    }
}
