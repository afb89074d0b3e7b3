//! What each answer says about a taxon.

use crate::pack::{Cell, CharacterIndex, Frequency, Kind, TaxonIndex};

use super::engine::{Assessment, Key};
use super::heard::Heard;
use super::reading::Reading;
use super::step::{Explained, Fit, Point};

/// An answer weaker than this, in bits, is not worth a word.
const MENTIONED_FROM: f64 = 0.1;

/// What speaks for and against one taxon.
pub(super) fn explain(key: &Key<'_>, now: &Assessment, taxon: TaxonIndex) -> Explained {
    let points = now.heard.iter().filter(|heard| heard.looks > 0);
    let mut points: Vec<Point> = points.filter_map(|heard| point(key, heard, taxon)).collect();
    points.sort_by(|one, other| {
        other.bits.abs().total_cmp(&one.bits.abs()).then(one.character.cmp(&other.character))
    });
    let leader = now.leader.and_then(|at| key.candidates.get(at));
    let rival = leader.and_then(|leader| leader.rivals.iter().find(|rival| rival.taxon == taxon));
    let told = |wanted: &dyn Fn(&Point) -> bool| points.iter().copied().filter(wanted).collect();
    Explained {
        taxon,
        speaks_for: told(&|point| point.bits >= MENTIONED_FROM),
        // What a taxon usually shows may fit others better; that is no word against it.
        speaks_against: told(&|point| point.bits <= -MENTIONED_FROM && point.fit != Fit::Usual),
        is_spoken_against: rival.is_some_and(|rival| rival.is_spoken_against(&now.heard)),
    }
}

fn point(key: &Key<'_>, heard: &Heard, taxon: TaxonIndex) -> Option<Point> {
    let character = key.pack.character(heard.character)?;
    let scale = key.table.scale(heard.character)?;
    let fit = fit(key, heard, taxon);
    let mean: f32 = heard.seen.iter().filter_map(|step| key.table.mean(scale).get(step.get())).sum();
    let own: f32 =
        heard.seen.iter().filter_map(|step| key.table.truth(scale.first + step.get()).get(taxon.get())).sum();
    let reading = Reading::of(scale);
    let seen = heard.seen.len();
    let read =
        |truth: f32| if character.kind == Kind::Month { truth } else { reading.chance_of(seen, truth) };
    let bits = match fit {
        Fit::Unknown => 0.0,
        Fit::NotApplicable => (scale.misread * f32::from(seen) / f32::from(scale.steps) / read(mean)).log2(),
        _ => (read(own) / read(mean)).log2(),
    };
    let separates = heard
        .seen
        .iter()
        .all(|state| character.states.get(state.get()).is_none_or(|described| described.separator));
    Some(Point {
        character: heard.character,
        fit,
        bits: f64::from(bits),
        counts: heard.firm && character.separator && separates && fit == Fit::NotExpected,
    })
}

/// How the taxon bears what was seen: by its most frequent state among them.
fn fit(key: &Key<'_>, heard: &Heard, taxon: TaxonIndex) -> Fit {
    let months = || heard.seen.iter().filter_map(|step| u8::try_from(step.0 + 1).ok());
    match key.pack.cell(taxon, heard.character) {
        Cell::NotApplicable => Fit::NotApplicable,
        Cell::Unknown => Fit::Unknown,
        Cell::States(cell) => {
            let frequency = heard
                .seen
                .iter()
                .filter_map(|state| cell.states.get(state.get())?.as_ref())
                .map(|seen| seen.frequency)
                .max();
            match frequency {
                Some(Frequency::Usual) => Fit::Usual,
                Some(Frequency::Sometimes) => Fit::Sometimes,
                Some(Frequency::Rare) => Fit::Rare,
                None => Fit::NotExpected,
            }
        }
        Cell::Months(range, _) => {
            if months().any(|month| range.is_usual(month)) {
                Fit::Usual
            } else if months().any(|month| range.is_seen(month)) {
                Fit::Sometimes
            } else {
                Fit::NotExpected
            }
        }
        Cell::Number(range, _) => size_fit(heard, range.low, range.high, range.least, range.most),
    }
}

fn size_fit(heard: &Heard, low: f32, high: f32, least: f32, most: f32) -> Fit {
    let bin = |millimetres: f32| u16::from(super::scale::bin(millimetres));
    let seen = |from: f32, to: f32| heard.seen.iter().any(|step| (bin(from)..=bin(to)).contains(&step.0));
    if seen(low, high) {
        Fit::Usual
    } else if seen(least, most) {
        Fit::Sometimes
    } else {
        Fit::NotExpected
    }
}

/// Whether an answer at this character fits a taxon badly: it does not show it, or only rarely.
pub(super) fn is_misfit(
    key: &Key<'_>,
    now: &Assessment,
    character: CharacterIndex,
    taxon: TaxonIndex,
) -> bool {
    let heard = now.heard.iter().find(|heard| heard.character == character && heard.looks > 0);
    heard.is_some_and(|heard| matches!(fit(key, heard, taxon), Fit::NotExpected | Fit::Rare))
}
