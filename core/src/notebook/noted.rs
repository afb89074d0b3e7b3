//! What a find's own fields answer to the key, so that nobody is asked twice.

use crate::find::{Find, Ground, Growth, Substrate, Sure};
use crate::key::stream::Seen;
use crate::pack::{Kind, Pack};

/// The answers that a find gives by itself: how and on what it grows, the tree, the ground, the month. What this pack has no
/// word for is left out.
#[must_use]
pub fn noted(pack: &Pack, find: &Find) -> Vec<Seen> {
    let states = [
        ("growth", find.growth.map_or(&[][..], growth), true),
        ("substrate", find.on.map_or(&[][..], substrate), true),
        ("ground", find.ground.map_or(&[][..], ground), true),
    ];
    let mut seen: Vec<Seen> = states
        .into_iter()
        .filter_map(|(character, states, sure)| of_states(pack, character, states, sure))
        .collect();
    if let Some(host) = &find.host {
        let tree = host.tree.to_lowercase();
        seen.extend(of_states(pack, "host", &[tree.as_str()], host.sure != Sure::Guess));
    }
    if let (Some(at), Some(character)) = (find.at, pack.characters().iter().find(|it| it.kind == Kind::Month))
    {
        let states = Some(vec![at.day().month().to_string()]);
        seen.push(Seen { character: character.id.clone(), states, range: None, sure: true });
    }
    seen
}

/// An answer of those states that the pack knows.
fn of_states(pack: &Pack, character: &str, states: &[&str], sure: bool) -> Option<Seen> {
    let known = pack.character_by_id(character).and_then(|at| pack.character(at))?;
    let states: Vec<String> =
        states.iter().filter(|state| known.state_by_id(state).is_some()).map(ToString::to_string).collect();
    let character = character.to_owned();
    (!states.is_empty()).then_some(Seen { character, states: Some(states), range: None, sure })
}

fn growth(growth: Growth) -> &'static [&'static str] {
    match growth {
        Growth::Single => &["single"],
        Growth::Scattered => &["scattered"],
        Growth::Tuft => &["tuft"],
        Growth::Tiers => &["tiers"],
        Growth::Ring => &["ring"],
    }
}

fn substrate(on: Substrate) -> &'static [&'static str] {
    match on {
        Substrate::StandingTrunk | Substrate::LivingTree => &["trunk"],
        Substrate::FallenTrunk | Substrate::Stump => &["stump"],
        Substrate::FallenBranch => &["branch"],
        Substrate::BuriedWood => &["buried"],
        Substrate::WoodChips => &["chips"],
        Substrate::Soil => &["soil"],
        // Of leaves or of needles: the find does not say.
        Substrate::Litter => &["soil", "needles"],
        Substrate::Moss => &["moss", "needles"],
        Substrate::Grass => &["grass"],
        Substrate::Dung => &["dung"],
        Substrate::BurntGround => &["burnt"],
        Substrate::Cone | Substrate::Fungus | Substrate::Other => &[],
    }
}

fn ground(ground: Ground) -> &'static [&'static str] {
    match ground {
        Ground::Chalk => &["chalk"],
        Ground::Acid => &["acid"],
        Ground::Neutral => &["neutral"],
        Ground::Unknown => &[],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::find::Host;
    use crate::key::stream::Request;

    #[test]
    fn what_a_find_says_is_not_asked_again() {
        let pack = Pack::britain().unwrap();
        let find = Find {
            at: "2026-01-10T12:00:00+00:00".parse().ok(),
            on: Some(Substrate::FallenBranch),
            host: Some(Host { tree: "Elder".into(), sure: Sure::Guess }),
            ground: Some(Ground::Unknown),
            growth: Some(Growth::Tuft),
            ..Find::default()
        };
        let seen = noted(pack, &find);
        let told: Vec<(&str, &str, bool)> = seen
            .iter()
            .map(|one| (one.character.as_str(), one.states.as_ref().unwrap()[0].as_str(), one.sure))
            .collect();
        assert_eq!(
            told,
            [
                ("growth", "tuft", true),
                ("substrate", "branch", true),
                ("host", "elder", false),
                ("month", "1", true)
            ]
        );
        Request { evidence: seen, suspect: None }.resolve(pack).unwrap();
        assert!(noted(pack, &Find::default()).is_empty());
    }

    #[test]
    fn every_word_that_is_carried_over_is_one_of_the_pack() {
        let pack = Pack::britain().unwrap();
        let known = |character: &str, states: &[&str]| {
            let character = pack.character(pack.character_by_id(character).unwrap()).unwrap();
            for state in states {
                assert!(character.state_by_id(state).is_some(), "{state}");
            }
        };
        for word in Growth::ALL {
            known("growth", growth(*word));
        }
        for word in Substrate::ALL {
            known("substrate", substrate(*word));
        }
        for word in Ground::ALL {
            known("ground", ground(*word));
        }
    }
}
