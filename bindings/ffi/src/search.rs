//! *Search*, and *A kind*: what is on record, and known, that goes with some words or a name.

use trug::notebook::{FoundFind, FoundPatch, Limits, Listed};
use trug::pack::{Pack, TaxonIndex, in_a_sentence};
use trug::spelling::Fit;
use trug::units::Metres;

use crate::now::FindLine;
use crate::shared::{Fix, NameShown};
use crate::{Book, TrugError};

/// Kinds and patches that a page shows at most; of finds it says itself how many.
const FEW: usize = 8;

/// Everything that goes with some words.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct SearchPage {
    /// What was asked for, as given: by it an answer is told from a later one.
    pub asked: String,
    /// Finds: those that fit best first, then the newest.
    pub finds: Vec<FindFound>,
    /// How many more finds there are.
    pub more_finds: u32,
    /// Patches: those that fit best first, then the nearest, or by name.
    pub patches: Vec<PatchFound>,
    /// How many more patches there are.
    pub more_patches: u32,
    /// Kinds that are known, the likeliest first.
    pub kinds: Vec<NameShown>,
    /// How many more kinds there are.
    pub more_kinds: u32,
    /// If nothing was found: what may have been meant, which finds something.
    pub instead: Option<String>,
}

/// A find that was found.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct FindFound {
    /// The find.
    pub find: FindLine,
    /// Where its outing went.
    pub outing: Option<String>,
    /// The name of its patch.
    pub patch: Option<String>,
    /// The tree.
    pub host: Option<String>,
    /// The passage of its note that was asked for.
    pub passage: Option<String>,
    /// Whether it fits only nearly: something is spelt otherwise.
    pub nearly: bool,
}

/// A patch that was found.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct PatchFound {
    /// Its id.
    pub id: String,
    /// What its owner calls it.
    pub name: Option<String>,
    /// What is looked for there.
    pub kind: Option<NameShown>,
    /// The tree.
    pub host: Option<String>,
    /// What is grown on.
    pub on: Option<String>,
    /// How far its middle is, in metres, if both places are known.
    pub metres: Option<f64>,
    /// Which way, in degrees clockwise from true north; none also if it is here.
    pub bearing: Option<f64>,
    /// The first day on which it may be gathered from again, while it rests: 2026-10-18.
    pub rests_until: Option<String>,
    /// Whether it fits only nearly.
    pub nearly: bool,
}

/// Everything that the page of a kind shows. Nothing in it says that a thing is fit to eat.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct KindPage {
    /// Its name, and what it is to people.
    pub name: NameShown,
    /// Its other English names.
    pub also: Vec<String>,
    /// Latin names that it went by.
    pub once: Vec<String>,
    /// For a group those that belong to it; for one of a group the group, and stages that are known by themselves.
    pub kin: Vec<NameShown>,
    /// What stays in view whatever else is said.
    pub cautions: Vec<String>,
    /// What it is taken for, or is taken for it: the dangerous ones first.
    pub lookalikes: Vec<TakenFor>,
    /// What it shows, in the order of a field guide.
    pub shows: Vec<Trait>,
    /// Finds that somebody has given its name, the newest first.
    pub finds: Vec<FindFound>,
    /// How many more finds there are.
    pub more_finds: u32,
    /// Patches where it is looked for.
    pub patches: Vec<PatchFound>,
    /// How many more patches there are.
    pub more_patches: u32,
}

/// Two kinds that are taken for each other.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct TakenFor {
    /// The other one.
    pub name: NameShown,
    /// The one of which `apart` speaks first.
    pub first: String,
    /// The one against which it is set, as within a sentence.
    pub against: String,
    /// What parts them: the first against the second.
    pub apart: String,
}

/// Something that a kind shows.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct Trait {
    /// What is looked at.
    pub what: String,
    /// What is seen there.
    pub words: String,
}

#[uniffi::export]
impl Book {
    /// Everything that goes with all of some words, however they are spelt, and so many finds at most; seen from here if the
    /// phone knows where that is. Of a text as long as a book its beginning counts.
    ///
    /// # Errors
    /// `paused`; `place-latitude`, `place-longitude` for a fix off the Earth.
    pub fn search(&self, words: String, here: Option<Fix>, most: u32) -> Result<SearchPage, TrugError> {
        let here = here.map(Fix::position).transpose()?;
        let found = self.notebook.search(self.pack, &words, here, &limits(most))?;
        let (finds, more_finds) = self.finds_found(&found.finds);
        let (patches, more_patches) = self.patches_found(&found.patches);
        Ok(SearchPage {
            asked: words,
            finds,
            more_finds,
            patches,
            more_patches,
            more_kinds: count(found.kinds.more),
            kinds: found.kinds.shown.into_iter().map(NameShown::from).collect(),
            instead: found.instead,
        })
    }

    /// What is known of a kind, by its id or any of its names, and so many of its finds at most. A name that no pack knows has finds
    /// and patches alone.
    ///
    /// # Errors
    /// As [`Book::search`].
    pub fn kind_page(&self, name: String, here: Option<Fix>, most: u32) -> Result<KindPage, TrugError> {
        let here = here.map(Fix::position).transpose()?;
        let found = self.notebook.of_kind(self.pack, &name, here, &limits(most))?;
        let (finds, more_finds) = self.finds_found(&found.finds);
        let (patches, more_patches) = self.patches_found(&found.patches);
        let known = Known::of(self.pack, &name);
        Ok(KindPage {
            name: NameShown::of(self.pack, &name),
            also: known.also,
            once: known.once,
            kin: known.kin,
            cautions: known.cautions,
            lookalikes: known.lookalikes,
            shows: known.shows,
            finds,
            more_finds,
            patches,
            more_patches,
        })
    }
}

impl Book {
    fn finds_found(&self, listed: &Listed<FoundFind>) -> (Vec<FindFound>, u32) {
        let shown = listed.shown.iter().map(|found| FindFound {
            find: self.line(&found.record, &found.goes_by),
            outing: found.outing.clone(),
            patch: found.patch.clone(),
            host: found.record.find.value.host.as_ref().map(|host| host.tree.clone()),
            passage: found.passage.clone(),
            nearly: found.fit == Fit::Near,
        });
        (shown.collect(), count(listed.more))
    }

    fn patches_found(&self, listed: &Listed<FoundPatch>) -> (Vec<PatchFound>, u32) {
        let today = self.notebook.now().day();
        let shown = listed.shown.iter().map(|found| {
            let patch = &found.record.patch.value;
            PatchFound {
                id: found.record.id.to_string(),
                name: patch.name.clone(),
                kind: patch.taxon.as_deref().map(|name| NameShown::of(self.pack, name)),
                host: patch.host.as_ref().map(|host| host.tree.clone()),
                on: patch.on.map(|on| on.word().to_owned()),
                metres: found.distance.map(Metres::get),
                bearing: found.bearing,
                rests_until: patch.rests_until.filter(|_| patch.rests_on(today)).map(|day| day.to_string()),
                nearly: found.fit == Fit::Near,
            }
        });
        (shown.collect(), count(listed.more))
    }
}

fn limits(finds: u32) -> Limits {
    Limits { kinds: FEW, patches: FEW, finds: usize::try_from(finds).unwrap_or(usize::MAX) }
}

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

/// What the pack says of a kind.
#[derive(Default)]
struct Known {
    also: Vec<String>,
    once: Vec<String>,
    kin: Vec<NameShown>,
    cautions: Vec<String>,
    lookalikes: Vec<TakenFor>,
    shows: Vec<Trait>,
}

impl Known {
    /// Of a group, what is known of any of its members, but for what they show: that is each one's own.
    fn of(pack: &Pack, name: &str) -> Self {
        let Some(named) = pack.named(name) else { return Self::default() };
        let kin = pack.kin(&named.id);
        let members: Vec<TaxonIndex> = if named.is_group {
            kin.iter().filter_map(|one| pack.taxon_by_id(&one.id)).collect()
        } else {
            pack.taxon_by_id(&named.id).into_iter().collect()
        };
        let mut known = Self { lookalikes: lookalikes(pack, &members), ..Self::default() };
        for taxon in members.iter().filter_map(|at| pack.taxon(*at)) {
            known.cautions.extend(taxon.cautions.iter().map(|caution| caution.text.clone()));
        }
        if let ([only], false) = (members.as_slice(), named.is_group) {
            let taxon = pack.taxon(*only);
            known.also = taxon.into_iter().flat_map(|taxon| taxon.english.iter().skip(1)).cloned().collect();
            known.once = taxon.map(|taxon| taxon.synonyms.clone()).unwrap_or_default();
            known.shows = shows(pack, *only);
        }
        known.kin = kin.into_iter().map(NameShown::from).collect();
        known
    }
}

/// Each other kind once; the deadly before the harmful, and those before the rest.
fn lookalikes(pack: &Pack, own: &[TaxonIndex]) -> Vec<TakenFor> {
    let mut others: Vec<(trug::pack::Named, TakenFor)> = Vec::new();
    let all = own.iter().flat_map(|at| pack.lookalikes_of(*at).map(|(other, entry)| (*at, other, entry)));
    for (at, other, entry) in all.filter(|(_, other, _)| !own.contains(other)) {
        let Some((this, named)) = pack.named_at(at).zip(pack.named_at(other)) else { continue };
        if others.iter().any(|(known, _)| known.id == named.id) {
            continue;
        }
        // An entry sets the taxon in whose file it stands against the other.
        let (first, against) = if entry.taxon == other { (&this, &named) } else { (&named, &this) };
        let taken_for = TakenFor {
            name: NameShown::from(named.clone()),
            first: first.english.clone(),
            against: in_a_sentence(&against.english),
            apart: entry.apart.clone(),
        };
        others.push((named, taken_for));
    }
    others.sort_by_key(|(other, _)| std::cmp::Reverse(other.standing));
    others.into_iter().map(|(_, taken_for)| taken_for).collect()
}

fn shows(pack: &Pack, at: TaxonIndex) -> Vec<Trait> {
    let seen = pack.character_indices().zip(pack.characters()).filter_map(|(index, character)| {
        Some(Trait { what: character.label.clone(), words: pack.in_words(at, index)? })
    });
    seen.collect()
}
