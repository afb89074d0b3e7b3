//! The key's words, all in one place: short, plain, never certain beyond the evidence, and never that a thing may be eaten.

use crate::pack::{
    Character, CharacterIndex, Kind, Pack, Standing, TaxonIndex, capital, in_a_sentence, month_name,
};

use super::evidence::{Answer, Evidence, Observed};
use super::step::{Explained, Fit, Obstacle, Point, Question, SpokenAgainst, Step, Suspected};
use super::stream::effort;
use super::verdict::{SUSPECTED_FROM, Status};

/// What ends every naming.
pub const IN_DOUBT: &str = "If in any doubt, leave it.";
/// How many points are told for and against a taxon.
const POINTS: usize = 6;
/// Less than this is printed as nothing, in bits.
const TOLD_FROM_BITS: f64 = 0.05;
/// How many dangerous taxa are named in one sentence.
const DANGERS: usize = 4;

/// Where the find stands, in a few sentences.
#[must_use]
pub fn verdict(pack: &Pack, step: &Step) -> String {
    match step.status {
        Status::Settled | Status::Group => naming(pack, step),
        Status::Unknown => {
            "Nothing that Trug knows fits well. Photograph the underside and the dug-out base, and ask \
                            someone who knows. Leave it."
                .to_owned()
        }
        Status::NotSettled => not_settled(pack, step),
    }
}

fn naming(pack: &Pack, step: &Step) -> String {
    let group = step.group.and_then(|group| pack.group(group));
    let fits = match group {
        Some(group) => format!(
            "Fits {}, a group that no look in the field parts: {}.",
            in_a_sentence(group.english.first().map_or(group.latin.as_str(), String::as_str)),
            list(&names(pack, &step.named), "or"),
        ),
        None => format!("Fits {}.", list(&names(pack, &step.named), "or")),
    };
    if step.spoken_against.is_empty() {
        return format!(
            "{fits} The pack names no dangerous look-alike; what it does not know, it cannot warn of. {IN_DOUBT}"
        );
    }
    let against = step.spoken_against.iter().map(|it| spoken_against(pack, it));
    let against = against.collect::<Vec<_>>().join("; ");
    format!("{fits} Your answers speak against: {against}. Check these on every one you cut. {IN_DOUBT}")
}

fn spoken_against(pack: &Pack, against: &SpokenAgainst) -> String {
    format!("{} ({})", name(pack, against.taxon), labels(pack, against.by.iter().copied()).join(", "))
}

fn not_settled(pack: &Pack, step: &Step) -> String {
    let leads = step.leading.first().and_then(|taxon| pack.taxon(*taxon));
    let leading = list(&names(pack, &step.leading), "or");
    let best = step.ranking.first().map_or(0.0, |ranked| ranked.chance);
    match leads {
        Some(taxon) if taxon.standing.is_dangerous() && best >= 0.5 => {
            format!("Not settled. {} fits best, which {}. Leave it.", capital(&leading), harm(taxon.standing))
        }
        Some(taxon) if taxon.standing == Standing::Food && !taxon.key_may_name && best >= 0.5 => {
            let because =
                taxon.key_may_not_because.as_deref().unwrap_or("this one is for people, not for keys");
            format!(
                "Not settled. {} fits best, and the key does not name it: {} Ask someone who knows, or leave it.",
                capital(&leading),
                sentence(because),
            )
        }
        _ => format!("Not settled. {}", still_fits(pack, step)),
    }
}

/// What still fits beside what is hoped for, and the cheapest way out.
fn still_fits(pack: &Pack, step: &Step) -> String {
    let standing: Vec<String> =
        step.in_the_way.iter().take(DANGERS).map(|obstacle| name(pack, obstacle.taxon)).collect();
    if standing.is_empty() {
        return "The answers do not say enough yet. Until they do, leave it.".to_owned();
    }
    let verb = if standing.len() == 1 { "fits" } else { "fit" };
    let mut text = format!("{} still {verb}.", capital(&list(&standing, "and")));
    if let Some(first) = step.in_the_way.first().filter(|obstacle| !obstacle.checks.is_empty()) {
        text.push(' ');
        text.push_str(&way_out(pack, first));
    }
    text.push_str(" Until then, leave it.");
    text
}

fn way_out(pack: &Pack, obstacle: &Obstacle) -> String {
    let looks = obstacle.checks.iter().filter_map(|check| {
        let label = in_a_sentence(&pack.character(check.character)?.label);
        Some(if check.afresh { format!("{label} (again)") } else { label })
    });
    format!("Look at: {}.", list(&looks.collect::<Vec<_>>(), "or"))
}

/// What stands in the way of a name, and what would clear it.
#[must_use]
pub fn obstacle(pack: &Pack, obstacle: &Obstacle) -> String {
    let why = if obstacle.not_spoken_against { "is not spoken against" } else { "still fits" };
    let name = capital(&name(pack, obstacle.taxon));
    if obstacle.checks.is_empty() {
        format!("{name} {why}.")
    } else {
        format!("{name} {why}. {}", way_out(pack, obstacle))
    }
}

/// The warning to show above everything else, while anything dangerous cannot be left out of account.
#[must_use]
pub fn warning(pack: &Pack, step: &Step) -> Option<String> {
    let dangers = step.suspected.iter().take(DANGERS).filter_map(|suspected| {
        let taxon = pack.taxon(suspected.taxon)?;
        Some(format!("{} ({})", name(pack, suspected.taxon), harm(taxon.standing)))
    });
    let dangers: Vec<String> = dangers.collect();
    let more = step.suspected.len().saturating_sub(DANGERS);
    let more = if more == 0 { String::new() } else { format!(", and {more} more") };
    (!dangers.is_empty()).then(|| format!("Could be: {}{more}.", dangers.join(", ")))
}

/// How strongly a dangerous taxon must still be reckoned with.
#[must_use]
pub fn suspicion(pack: &Pack, suspected: &Suspected) -> String {
    let harm = pack.taxon(suspected.taxon).map_or("", |taxon| harm(taxon.standing));
    let how = if suspected.chance >= 0.5 {
        "fits best"
    } else if suspected.chance >= 0.1 {
        "fits well"
    } else if suspected.chance >= f64::from(SUSPECTED_FROM) {
        "still fits"
    } else {
        "nothing speaks against it yet"
    };
    format!("{how}; {harm}")
}

/// Where the find stands, in a line to stand above the rest.
#[must_use]
pub fn title(pack: &Pack, step: &Step) -> String {
    match step.status {
        Status::Settled => format!("Fits {}", list(&names(pack, &step.named), "or")),
        Status::Group => {
            let group = step.group.and_then(|group| pack.group(group));
            let name = group.map(|group| group.english.first().unwrap_or(&group.latin));
            format!("Fits {}, a group", name.map(|name| in_a_sentence(name)).unwrap_or_default())
        }
        Status::NotSettled => "Not settled".to_owned(),
        Status::Unknown => "Nothing that Trug knows fits well".to_owned(),
    }
}

/// An answer as it was given: "Ring: absent (not sure)".
#[must_use]
pub fn answered(pack: &Pack, answer: &Answer) -> String {
    let Some(character) = pack.character(answer.character) else { return String::new() };
    let unsure = if answer.sure || answer.seen == Observed::CannotTell { "" } else { " (not sure)" };
    format!("{}: {}{unsure}", capital(&character.label), observed(character, answer.seen))
}

/// What stays in view after a name: the cautions of the taxa named, each once.
#[must_use]
pub fn cautions(pack: &Pack, step: &Step) -> Vec<String> {
    let mut told: Vec<String> = Vec::new();
    let taxa = step.named.iter().filter_map(|at| pack.taxon(*at));
    for caution in taxa.flat_map(|taxon| &taxon.cautions) {
        if !told.contains(&caution.text) {
            told.push(caution.text.clone());
        }
    }
    told
}

/// What speaks against one dangerous look-alike of what is named, and so has to be looked at on every one that is cut:
/// "Funeral bell: spore dust, stem".
#[must_use]
pub fn check(pack: &Pack, against: &SpokenAgainst) -> String {
    let by = labels(pack, against.by.iter().copied()).join(", ");
    format!("{}: {by}", capital(&name(pack, against.taxon)))
}

/// Why a question is worth an answer, for somebody who stands in a wood: what has to be done, and what it parts. While nothing
/// was seen and nothing is suspected it parts one thing from another by chance only, and that is not told.
#[must_use]
pub fn why(pack: &Pack, evidence: &Evidence, question: &Question) -> String {
    let effort = question.effort.in_words();
    let again = if question.afresh { " A doubtful answer, to be looked at afresh." } else { "" };
    let parts = question.parts.filter(|_| !evidence.is_bare() || evidence.suspect().is_some());
    match parts {
        Some((food, danger)) => {
            format!("{effort}. Parts {} from {}.{again}", name(pack, food), name(pack, danger))
        }
        None => format!("{effort}.{again}"),
    }
}

/// Why a question is worth an answer, and what it costs. Where its worth lies in parting one danger from one food, it may
/// tell next to nothing about the rest: then that goes without saying.
#[must_use]
pub fn reason(pack: &Pack, question: &Question) -> String {
    let again = question.afresh.then(|| "a doubtful answer, to be looked at afresh".to_owned());
    let parts = question
        .parts
        .map(|(food, danger)| format!("parts {} from {}", name(pack, food), name(pack, danger)));
    let gain = (question.gain_bits >= TOLD_FROM_BITS).then(|| format!("{:.1} bits", question.gain_bits));
    let said = [again, parts, gain, Some(effort(question.effort).to_owned())];
    said.into_iter().flatten().collect::<Vec<_>>().join("; ")
}

/// What the answers say for and against one taxon, a sentence each; empty where they say nothing.
#[must_use]
pub fn explanation(pack: &Pack, evidence: &Evidence, explained: &Explained) -> Vec<String> {
    let told = |head: &str, points: &[Point]| {
        let points: Vec<String> = points
            .iter()
            .take(POINTS)
            .filter_map(|point| self::point(pack, evidence, explained.taxon, point))
            .collect();
        (!points.is_empty()).then(|| format!("{head}: {}.", points.join("; ")))
    };
    let mut sentences = Vec::new();
    sentences.extend(told("For", &explained.speaks_for));
    sentences.extend(told("Against", &explained.speaks_against));
    if explained.is_spoken_against {
        sentences.push("Spoken against, as far as your answers hold for every fruitbody.".to_owned());
    }
    sentences
}

fn point(pack: &Pack, evidence: &Evidence, taxon: TaxonIndex, point: &Point) -> Option<String> {
    let character = pack.character(point.character)?;
    let label = in_a_sentence(&character.label);
    let seen = seen(pack, evidence, point.character)?;
    let fit = match point.fit {
        Fit::Usual => "as usual",
        Fit::Sometimes => "seen sometimes",
        Fit::Rare => "seen rarely",
        Fit::NotExpected => "not expected",
        Fit::NotApplicable => "it has nothing of the kind",
        Fit::Unknown => return None,
    };
    let dangerous = pack.taxon(taxon).is_some_and(|taxon| taxon.standing.is_dangerous());
    let clears_nothing = dangerous && point.bits < 0.0 && !point.counts;
    let reserve = if clears_nothing { ", which clears nothing by itself" } else { "" };
    Some(format!("{label}: {seen} ({fit}{reserve})"))
}

/// What was last seen of a character, in words.
#[must_use]
pub fn seen(pack: &Pack, evidence: &Evidence, at: CharacterIndex) -> Option<String> {
    let character = pack.character(at)?;
    let told = evidence.looks_at(at).rfind(|answer| answer.seen != Observed::CannotTell)?;
    Some(observed(character, told.seen))
}

fn observed(character: &Character, seen: Observed) -> String {
    match seen {
        Observed::CannotTell => "cannot be told".to_owned(),
        Observed::Millimetres { from, to } if from < to => format!("{from}–{to} mm"),
        Observed::Millimetres { from, .. } => format!("{from} mm"),
        Observed::Month(month) => month_name(month).to_owned(),
        Observed::States(states) => {
            let labels: Vec<String> = states
                .iter()
                .filter_map(|state| character.states.get(state.get()))
                .map(|state| state.label.clone())
                .collect();
            debug_assert!(character.kind == Kind::States);
            list(&labels, "or")
        }
    }
}

fn harm(standing: Standing) -> &'static str {
    match standing {
        Standing::Deadly => "has killed",
        Standing::Harmful => "makes people ill",
        Standing::Inedible => "is not eaten",
        Standing::Food => "is eaten by people",
    }
}

/// The name to show for a taxon.
fn name(pack: &Pack, at: TaxonIndex) -> String {
    pack.taxon(at)
        .map(|taxon| {
            taxon.english.first().map_or_else(|| taxon.latin.clone(), |english| in_a_sentence(english))
        })
        .unwrap_or_default()
}

fn names(pack: &Pack, taxa: &[TaxonIndex]) -> Vec<String> {
    taxa.iter().map(|taxon| name(pack, *taxon)).collect()
}

fn labels(pack: &Pack, characters: impl Iterator<Item = CharacterIndex>) -> Vec<String> {
    characters.filter_map(|at| pack.character(at)).map(|character| in_a_sentence(&character.label)).collect()
}

/// "a", "a or b", "a, b or c".
fn list(items: &[String], last: &str) -> String {
    match items.split_last() {
        None => String::new(),
        Some((only, [])) => only.clone(),
        Some((end, rest)) => format!("{} {last} {end}", rest.join(", ")),
    }
}

fn sentence(text: &str) -> String {
    let text = in_a_sentence(text.trim());
    if text.ends_with(['.', '!', '?']) { text } else { format!("{text}.") }
}
