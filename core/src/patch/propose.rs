//! Which patch a find belongs to, if any: the nearest of its kind that it can lie in.

use serde::Serialize;

use super::Patch;
use crate::find::{Find, Host, Substrate, Sure};
use crate::id::PatchId;
use crate::place::{Position, distance};
use crate::units::Metres;

/// What is proposed for a find.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "answer", rename_all = "kebab-case")]
pub enum Proposal {
    /// It lies in this one, and in no other that it could be taken for.
    Joins {
        /// The patch.
        patch: Near,
    },
    /// It could lie in any of these: somebody has to say which.
    Choose {
        /// The patches, the likeliest first.
        patches: Vec<Near>,
    },
    /// No patch of its kind is here: found one, if it is worth coming back.
    New,
    /// Where it is, is not known.
    Unplaced,
}

/// A patch and how far off its middle is.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Near {
    /// Which.
    pub id: PatchId,
    /// Its name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// The way from the find to its middle.
    #[serde(rename = "distance_m")]
    pub distance: Metres,
}

/// A place known worse than this says nothing about which patch: a fix under trees is good to 10 to 30 m (common practice,
/// no source).
pub const VAGUE_METRES: f64 = 50.0;

/// The patch that a find belongs to.
///
/// A patch comes into question if nothing it is known for contradicts the find, and if the find can lie within it: no
/// farther from its middle than its radius and the doubt about both positions together. If some of these grow on the very
/// same substance, those that do not are dropped. Of the rest the one it lies deepest in is joined, if the doubt cannot make
/// another's middle the nearer.
/// `named` is the taxon that the find goes by, if it has a name yet.
#[must_use]
pub fn propose<'a>(
    find: &Find,
    named: Option<&str>,
    patches: impl IntoIterator<Item = (PatchId, &'a Patch)>,
) -> Proposal {
    let Some(here) = find.position.as_ref().map(|whereabouts| whereabouts.position) else {
        return Proposal::Unplaced;
    };
    let mut fitting: Vec<Fitting> = Vec::new();
    for (id, patch) in patches {
        let (Some(likeness), Some(centre)) = (likeness(find, named, patch), patch.centre) else { continue };
        let (distance, doubt) = (distance(here, centre), doubt(here, centre));
        let outside = (distance.get() - patch.reach().get()).max(0.0);
        if outside <= doubt {
            let near = Near { id, name: patch.name.clone(), distance };
            fitting.push(Fitting { likeness, outside, doubt, near });
        }
    }
    if fitting.iter().any(|one| one.likeness == Likeness::Same) {
        fitting.retain(|one| one.likeness == Likeness::Same);
    }
    fitting.sort_by(|a, b| {
        let nearer = a.near.distance.get().total_cmp(&b.near.distance.get());
        a.outside.total_cmp(&b.outside).then(nearer).then(a.near.id.cmp(&b.near.id))
    });
    match fitting.as_slice() {
        [] => Proposal::New,
        [first, others @ ..] if first.is_clear_of(others) => Proposal::Joins { patch: first.near.clone() },
        all => Proposal::Choose { patches: all.iter().map(|one| one.near.clone()).collect() },
    }
}

/// A patch that the find can lie in.
struct Fitting {
    likeness: Likeness,
    /// How far beyond its edge the find seems to be, in metres; 0 within.
    outside: f64,
    /// How far that may be out.
    doubt: f64,
    near: Near,
}

impl Fitting {
    fn is_clear_of(&self, others: &[Self]) -> bool {
        let nearer = |other: &Self| other.near.distance.get() - self.near.distance.get() > self.doubt;
        self.doubt <= VAGUE_METRES && others.iter().all(nearer)
    }
}

/// How far the distance between two positions may be out: their errors are independent.
pub(super) fn doubt(a: Position, b: Position) -> f64 {
    let error = |position: Position| position.accuracy().map_or(0.0, Metres::get);
    error(a).hypot(error(b))
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Likeness {
    /// On the very same substance.
    Same,
    /// Nothing speaks against it.
    Alike,
}

/// `None` if something speaks against it. What is not known never does, nor does a tree that was guessed.
fn likeness(find: &Find, named: Option<&str>, patch: &Patch) -> Option<Likeness> {
    if named.zip(patch.taxon.as_deref()).is_some_and(|(here, there)| here != there) {
        return None;
    }
    if let (Some(here), Some(there)) = (&find.host, &patch.host)
        && other_tree(here, there)
    {
        return None;
    }
    match (find.on, patch.on) {
        (Some(here), Some(there)) if here == there => Some(Likeness::Same),
        (Some(here), Some(there)) if !akin(here, there) => None,
        _ => Some(Likeness::Alike),
    }
}

fn other_tree(a: &Host, b: &Host) -> bool {
    let sure = |host: &Host| host.sure != Sure::Guess;
    sure(a) && sure(b) && a.tree.trim().to_lowercase() != b.tree.trim().to_lowercase()
}

/// Two people, or two years, call one log by two words; nobody takes wood for dung.
fn akin(a: Substrate, b: Substrate) -> bool {
    use Substrate::{
        BuriedWood, BurntGround, FallenBranch, FallenTrunk, Grass, Litter, LivingTree, Moss, Other, Soil,
        StandingTrunk, Stump, WoodChips,
    };
    let wood = |on| {
        matches!(
            on,
            StandingTrunk | FallenTrunk | FallenBranch | Stump | BuriedWood | LivingTree | WoodChips | Moss
        )
    };
    let ground = |on| matches!(on, Soil | Litter | Moss | Grass | BurntGround | BuriedWood | WoodChips);
    a == b || a == Other || b == Other || (wood(a) && wood(b)) || (ground(a) && ground(b))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::find::{Got, Whereabouts};

    /// So many metres north of a middle, on WGS84 at 51.5 degrees north: 111,257 m to a degree (meridian arc, from memory;
    /// good to a metre over these distances).
    fn north(metres: f64, accuracy: f64) -> Position {
        let latitude = 51.5 + metres / 111_257.0;
        Position::new(latitude, -1.5).unwrap().within(Metres::new(accuracy).unwrap())
    }

    fn find(metres: f64, accuracy: f64) -> Find {
        let position = Some(Whereabouts { position: north(metres, accuracy), got: Got::Fix });
        Find { position, on: Some(Substrate::Stump), host: tree("elder", Sure::Likely), ..Find::default() }
    }

    #[allow(clippy::unnecessary_wraps, reason = "as the field has it")]
    fn tree(tree: &str, sure: Sure) -> Option<Host> {
        Some(Host { tree: tree.into(), sure })
    }

    fn patch(metres: f64, radius: f64) -> Patch {
        let radius = Metres::new(radius).ok();
        Patch { centre: Some(north(metres, 0.0)), radius, ..Patch::default() }
    }

    fn answer(find: &Find, patches: &[Patch]) -> String {
        let ids: Vec<PatchId> = patches.iter().map(|_| PatchId::new()).collect();
        let number = |near: &Near| ids.iter().position(|id| *id == near.id).unwrap().to_string();
        match propose(find, Some("jelly-ear"), ids.iter().copied().zip(patches)) {
            Proposal::Joins { patch } => format!("joins {}", number(&patch)),
            Proposal::Choose { patches } => {
                format!("choose {}", patches.iter().map(number).collect::<Vec<_>>().join(" "))
            }
            Proposal::New => "new".into(),
            Proposal::Unplaced => "unplaced".into(),
        }
    }

    #[test]
    fn nearest_within_reach_and_doubt() {
        for (find, patches, expected) in [
            (find(0.0, 5.0), vec![patch(8.0, 10.0)], "joins 0"),
            (find(0.0, 5.0), vec![patch(14.0, 10.0)], "joins 0"),
            (find(0.0, 5.0), vec![patch(17.0, 10.0)], "new"),
            (find(0.0, 5.0), vec![patch(9.0, 10.0), patch(-2.0, 10.0)], "joins 1"),
            (find(0.0, 12.0), vec![patch(9.0, 10.0), patch(-2.0, 10.0)], "choose 1 0"),
            (find(0.0, 60.0), vec![patch(9.0, 10.0)], "choose 0"),
            (find(0.0, 5.0), vec![], "new"),
            (Find::default(), vec![patch(0.0, 10.0)], "unplaced"),
            (find(0.0, 5.0), vec![Patch::default()], "new"),
        ] {
            assert_eq!(answer(&find, &patches), expected);
        }
    }

    #[test]
    fn only_what_is_of_its_kind() {
        let on = |on| Patch { on: Some(on), ..patch(2.0, 10.0) };
        let by = |name, sure| Patch { host: tree(name, sure), ..patch(2.0, 10.0) };
        let of = |taxon: &str| Patch { taxon: Some(taxon.into()), ..patch(2.0, 10.0) };
        for (patches, expected) in [
            (vec![on(Substrate::Dung)], "new"),
            (vec![on(Substrate::Soil)], "new"),
            (vec![on(Substrate::StandingTrunk)], "joins 0"),
            (vec![on(Substrate::Moss)], "joins 0"),
            (
                vec![Patch { on: Some(Substrate::Stump), ..patch(6.0, 10.0) }, on(Substrate::FallenTrunk)],
                "joins 0",
            ),
            (vec![by("oak", Sure::Sure)], "new"),
            (vec![by("oak", Sure::Guess)], "joins 0"),
            (vec![by(" Elder", Sure::Sure)], "joins 0"),
            (vec![of("jelly-ear")], "joins 0"),
            (vec![of("velvet-shank")], "new"),
        ] {
            assert_eq!(answer(&find(0.0, 3.0), &patches), expected, "{patches:?}");
        }
    }

    proptest! {
        #[test]
        fn a_worse_fix_never_makes_a_choice_for_anyone(
            places in prop::collection::vec((-40.0..40.0, 2.0..20.0), 0..5), accuracy in 0.0..30.0, more in 0.0..30.0,
        ) {
            let patches: Vec<Patch> = places.into_iter().map(|(at, radius)| patch(at, radius)).collect();
            let (before, after) = (answer(&find(0.0, accuracy), &patches), answer(&find(0.0, accuracy + more), &patches));
            if before.starts_with("choose") {
                prop_assert!(after.starts_with("choose"), "{} then {}", before, after);
            }
            if let Some(joined) = before.strip_prefix("joins ") {
                prop_assert!(after.contains(joined), "{} then {}", before, after);
            }
        }

        #[test]
        fn the_order_of_patches_does_not_matter(places in prop::collection::vec((-40.0..40.0, 2.0..20.0), 0..5)) {
            let patches: Vec<Patch> = places.into_iter().map(|(at, radius)| patch(at, radius)).collect();
            let ids: Vec<PatchId> = patches.iter().map(|_| PatchId::new()).collect();
            let forward = propose(&find(0.0, 8.0), None, ids.iter().copied().zip(&patches));
            prop_assert_eq!(forward, propose(&find(0.0, 8.0), None, ids.iter().copied().zip(&patches).rev()));
        }
    }
}
