//! What rules must know of a fungus, taken from a pack or told by hand.

use serde::{Deserialize, Serialize};

use crate::code::{Fungus, Measure};
use crate::pack::{Abundance, Cell, GroupIndex, Pack, Standing, Taxon, TaxonIndex, in_a_sentence};
use crate::units::Millimetres;

/// A fungus, or a group of fungi that no look parts, as rules see it.
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Facts {
    /// Its id in the pack and those of the groups it belongs to; none if no pack knows it.
    pub ids: Vec<String>,
    /// What to call it in a sentence.
    pub name: String,
    /// The Latin name in use; several for a group.
    pub latin: Vec<String>,
    /// Other Latin names.
    pub synonyms: Vec<String>,
    /// Its forms, as the pack's character `form` has them.
    pub forms: Vec<String>,
    /// What it is to people, the worst of a group; `None` if no pack knows it.
    pub standing: Option<Standing>,
    /// How seldom it is met, the rarest of a group; `None` if no pack knows it.
    pub abundance: Option<Abundance>,
    /// The sizes it is taken from by its own nature, whatever the codes say.
    pub taken_from: Vec<(Measure, Millimetres)>,
    /// Its dangerous look-alikes, and what parts it from each.
    pub checks: Vec<Check>,
}

/// A dangerous look-alike, to be looked for on every fruitbody that is cut.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Check {
    /// Its id in the pack.
    pub taxon: String,
    /// What to call it in a sentence.
    pub name: String,
    /// Whether it has killed.
    pub deadly: bool,
    /// What to look at.
    pub look_at: Vec<String>,
    /// What parts the two, in words.
    pub apart: String,
}

impl Fungus for Facts {
    fn ids(&self) -> &[String] {
        &self.ids
    }

    fn latin(&self) -> &[String] {
        &self.latin
    }

    fn synonyms(&self) -> &[String] {
        &self.synonyms
    }

    fn forms(&self) -> &[String] {
        &self.forms
    }
}

impl Facts {
    /// What a pack knows of a taxon.
    #[must_use]
    pub fn of_taxon(pack: &Pack, at: TaxonIndex) -> Self {
        let Some(taxon) = pack.taxon(at) else { return Self::default() };
        let group = taxon.group.and_then(|group| pack.group(group)).map(|group| group.id.clone());
        // A stage that has to be known by itself is still its species.
        let species = taxon.stage.as_ref().and_then(|stage| pack.taxon(stage.of)).map(|of| of.id.clone());
        let ids = [Some(taxon.id.clone()), species, group].into_iter().flatten().collect();
        let name = taxon.english.first().map_or_else(|| taxon.latin.clone(), |name| in_a_sentence(name));
        Self { ids, name, ..Self::of_members(pack, &[at]) }
    }

    /// What a pack knows of a group: of its members the worst and the rarest.
    #[must_use]
    pub fn of_group(pack: &Pack, at: GroupIndex) -> Self {
        let Some(group) = pack.group(at) else { return Self::default() };
        let members: Vec<TaxonIndex> = pack.members(at).collect();
        let own = members.iter().filter_map(|member| pack.taxon(*member)).map(|taxon| taxon.id.clone());
        let ids = std::iter::once(group.id.clone()).chain(own).collect();
        let name = group.english.first().map_or_else(|| group.latin.clone(), |name| in_a_sentence(name));
        Self { ids, name, ..Self::of_members(pack, &members) }
    }

    /// The taxon or group that goes by this id or name.
    #[must_use]
    pub fn named(pack: &Pack, name: &str) -> Option<Self> {
        if let Some(at) = pack.taxon_by_name(name) {
            return Some(Self::of_taxon(pack, at));
        }
        let same = |other: &String| other.eq_ignore_ascii_case(name.trim());
        let groups = pack.taxa().iter().filter_map(|taxon| taxon.group);
        let mut named = groups.filter(|at| {
            pack.group(*at).is_some_and(|group| same(&group.id) || group.english.iter().any(same))
        });
        named.next().map(|at| Self::of_group(pack, at))
    }

    /// A fungus that no pack knows, by whatever name it goes.
    #[must_use]
    pub fn unknown(name: &str) -> Self {
        Self { name: name.trim().to_owned(), latin: vec![name.trim().to_owned()], ..Self::default() }
    }

    fn of_members(pack: &Pack, members: &[TaxonIndex]) -> Self {
        let taxa: Vec<&Taxon> = members.iter().filter_map(|member| pack.taxon(*member)).collect();
        Self {
            latin: taxa.iter().map(|taxon| taxon.latin.clone()).collect(),
            synonyms: taxa.iter().flat_map(|taxon| taxon.synonyms.clone()).collect(),
            forms: members.iter().flat_map(|member| forms(pack, *member)).collect(),
            standing: taxa.iter().map(|taxon| taxon.standing).max(),
            abundance: taxa.iter().map(|taxon| taxon.abundance).min(),
            taken_from: taxa.iter().flat_map(|taxon| taken_from(taxon)).collect(),
            checks: checks(pack, members),
            ..Self::default()
        }
    }

    /// Whether the two may be the same: they share a taxon or a group.
    pub(super) fn may_be(&self, other: &Self) -> bool {
        self.ids.iter().any(|id| other.ids.contains(id))
            || self.latin.iter().any(|name| other.latin.iter().any(|own| own.eq_ignore_ascii_case(name)))
    }
}

fn forms(pack: &Pack, taxon: TaxonIndex) -> Vec<String> {
    let Some(at) = pack.character_by_id("form") else { return Vec::new() };
    let (Some(form), Cell::States(cell)) = (pack.character(at), pack.cell(taxon, at)) else {
        return Vec::new();
    };
    let states = form.states.iter().zip(&cell.states);
    states.filter(|(_, seen)| seen.is_some()).map(|(state, _)| state.id.clone()).collect()
}

fn taken_from(taxon: &Taxon) -> impl Iterator<Item = (Measure, Millimetres)> {
    let maturity = taxon.maturity.as_ref();
    let width = maturity.and_then(|it| it.width.as_ref()).map(|size| (Measure::Width, size));
    let height = maturity.and_then(|it| it.height.as_ref()).map(|size| (Measure::Height, size));
    width.into_iter().chain(height).map(|(of, size)| (of, Millimetres::nearest(size.taken_from)))
}

fn checks(pack: &Pack, members: &[TaxonIndex]) -> Vec<Check> {
    let mut all: Vec<Check> = Vec::new();
    for (other, entry) in members.iter().flat_map(|member| pack.lookalikes_of(*member)) {
        let Some(taxon) = pack.taxon(other).filter(|taxon| taxon.standing.is_dangerous()) else { continue };
        let known = all.iter().any(|check| check.taxon == taxon.id);
        if known || members.contains(&other) {
            continue;
        }
        let labels = entry.by.iter().filter_map(|at| pack.character(*at)).map(|it| in_a_sentence(&it.label));
        all.push(Check {
            taxon: taxon.id.clone(),
            name: taxon.english.first().map_or_else(|| taxon.latin.clone(), |name| in_a_sentence(name)),
            deadly: taxon.standing == Standing::Deadly,
            look_at: labels.collect(),
            apart: entry.apart.clone(),
        });
    }
    all.sort_by_key(|check| !check.deadly);
    all
}
