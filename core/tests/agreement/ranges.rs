//! Numbers and months: what the facts give must hold what the pack says, and the pack what the facts give.

use crate::facts::Known;
use crate::{Reading, Verdict};

/// Ranges of millimetres in a text: "30-60", "40 by 10 mm", "10-15 cm". Inches in brackets say the same again.
fn spans(text: &str) -> Vec<(f32, f32)> {
    let parts = text.split('(').enumerate();
    let wanted =
        |(at, part): &(usize, &str)| *at == 0 || !part.split([' ', ')', ',']).any(|word| word == "in");
    let text =
        parts.filter(wanted).map(|(_, part)| part).collect::<Vec<_>>().join(" ").replace(['–', '—'], "-");
    let mut spans = Vec::new();
    for (at, word) in text.split_whitespace().enumerate() {
        let unit = text.split_whitespace().nth(at + 1).unwrap_or_default();
        let scale = if unit.starts_with("cm") { 10.0 } else { 1.0 };
        if ["high", "tall", "long"].contains(&unit) {
            continue;
        }
        let word = word.trim_matches(|c: char| !c.is_ascii_digit() && c != '?');
        let (low, high) = word.split_once('-').unwrap_or((word, word));
        let number = |part: &str| part.trim_matches(['(', ')']).parse::<f32>().ok().map(|n| n * scale);
        if let Some(high) = number(high) {
            spans.push((number(low).unwrap_or(0.0), high));
        }
    }
    spans
}

pub fn judge_numbers(
    reading: &Reading,
    known: &Known<'_>,
    source: &str,
    [least, low, high, most]: [f32; 4],
) -> (String, Verdict) {
    let what = format!("({least}–){low}–{high}(–{most})");
    let own = known.facts(source, &reading.own);
    let passing = known.facts(source, &reading.passing);
    // What is mentioned in passing may be another measure: it counts where nothing else is given.
    let texts = if own.is_empty() { &passing } else { &own };
    let spans: Vec<(f32, f32)> = texts.iter().flat_map(|text| spans(text)).collect();
    if spans.is_empty() {
        let contrasts = known.contrasts(source);
        let digits = contrasts.iter().any(|text| text.contains(|c: char| c.is_ascii_digit()));
        let verdict =
            if digits { Verdict::NotDecided } else { Verdict::Disagrees("it gives no number".to_owned()) };
        return (what, verdict);
    }
    // One source of several may give only a part; all it gives must be within the pack's range.
    let beyond = |(from, to): &&(f32, f32)| *from > 0.0 && *from < least - 0.5 || *to > most + 0.5;
    let is_own = !own.is_empty();
    let verdict = match spans.iter().find(beyond) {
        Some((from, to)) if is_own => Verdict::Disagrees(format!("it gives {from}–{to}")),
        _ if spans.iter().any(|(from, to)| *from <= most && *to >= least) => Verdict::Agrees,
        _ => Verdict::Disagrees(format!("it gives {spans:?}")),
    };
    (what, verdict)
}

/// Months that a text gives: numbers, or seasons as common practice has them.
fn months(text: &str) -> Vec<u8> {
    let mut months = Vec::new();
    let numbers = text.split([' ', '(']).next().unwrap_or_default();
    if let Some((from, to)) = numbers.split_once('-')
        && let (Ok(from), Ok(to)) = (from.parse::<u8>(), to.parse::<u8>())
    {
        let mut month = from;
        loop {
            months.push(month);
            if month == to || months.len() > 12 {
                return months;
            }
            month = month % 12 + 1;
        }
    }
    months
}

pub fn judge_months(
    reading: &Reading,
    known: &Known<'_>,
    source: &str,
    [least, low, high, most]: [u8; 4],
) -> (String, Verdict) {
    let what = format!("({least}–){low}–{high}(–{most})");
    let own = known.facts(source, &reading.own);
    if own.is_empty() {
        return (what, Verdict::Disagrees("it gives no months".to_owned()));
    }
    let given: Vec<u8> = own.iter().flat_map(|text| months(text)).collect();
    if given.is_empty() {
        return (what, Verdict::NotDecided); // a season in words
    }
    let seen = |month: u8| {
        if least <= most { (least..=most).contains(&month) } else { month >= least || month <= most }
    };
    let missing: Vec<&u8> = given.iter().filter(|month| !seen(**month)).collect();
    let verdict = if missing.is_empty() {
        Verdict::Agrees
    } else {
        Verdict::Disagrees(format!("it gives {missing:?} as well"))
    };
    (what, verdict)
}

/// Bounds of a claim that none of its sources reaches, where all of them are published and give numbers: a range may be wider
/// than one source has it, never than all.
pub fn beyond_all(reading: &Reading, known: &Known<'_>, sources: &[&str], range: [f32; 4]) -> Option<String> {
    let mut all = Vec::new();
    for source in sources {
        let own: Vec<(f32, f32)> =
            known.facts(source, &reading.own).iter().flat_map(|text| spans(text)).collect();
        if own.is_empty() {
            return None;
        }
        all.extend(own);
    }
    let least = all.iter().map(|span| span.0).fold(f32::MAX, f32::min);
    let most = all.iter().map(|span| span.1).fold(0.0, f32::max);
    let within = |bound: &f32| (least - 0.5..=most + 0.5).contains(bound);
    (!range.iter().all(within)).then(|| format!("all of {sources:?} together give {least}–{most}"))
}
