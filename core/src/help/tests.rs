//! What may stand on a page for the worst hour: every number with its country, source and day, and nothing that consoles.

use std::collections::BTreeSet;

use proptest::prelude::*;

use super::*;
use crate::pack::Pack;

fn help() -> &'static Help {
    Help::shipped().unwrap()
}

/// Every text that a reader may see.
fn texts(help: &Help) -> Vec<&str> {
    let page = &help.page;
    let mut texts: Vec<&str> =
        vec![&page.head, &page.lead, &page.unreviewed, &page.sheet_unreviewed, &page.no_country];
    texts.extend(page.sections.iter().flat_map(|section| &section.lines).map(|line| line.text.as_str()));
    texts.extend(help.countries.iter().flat_map(|one| &one.lines).map(|line| line.words.as_str()));
    texts.extend(help.courses.iter().map(|course| course.begins.as_str()));
    texts
}

/// The words of a text that console, or say that something does no harm. "Feeling better" is only ever named to be denied.
fn consoling(text: &str) -> Vec<&'static str> {
    const NEVER: [&str; 20] = [
        "safe",
        "harmless",
        "don't worry",
        "do not worry",
        "no need",
        "edible",
        "probably",
        "usually mild",
        "will pass",
        "recovers",
        "calm",
        "no danger",
        "not dangerous",
        "mostly",
        "only a",
        "good news",
        "wait and",
        "unlikely",
        "is fine",
        "all clear",
    ];
    let text = text.to_lowercase();
    NEVER.into_iter().filter(|never| text.contains(never)).collect()
}

#[test]
fn every_line_and_number_has_sources_that_exist_with_their_day() {
    let help = help();
    let known: BTreeSet<&str> = help.sources.iter().map(|source| source.id.as_str()).collect();
    assert_eq!(known.len(), help.sources.len(), "a source is there twice");
    let lines = help.page.sections.iter().flat_map(|section| &section.lines).map(|line| &line.source);
    let numbers = help.countries.iter().flat_map(|country| &country.lines).map(|line| &line.source);
    let mut used = BTreeSet::new();
    for sources in lines.chain(numbers).chain(help.courses.iter().map(|course| &course.source)) {
        assert!(!sources.is_empty());
        for source in sources {
            assert!(known.contains(source.as_str()), "{source} is not among the sources");
            used.insert(source.as_str());
        }
    }
    assert_eq!(used, known, "a source that nothing rests on");
    for source in &help.sources {
        assert!(source.seen.parse::<jiff::civil::Date>().is_ok() && !source.citation.is_empty());
    }
}

#[test]
fn a_number_stands_only_under_a_country_and_every_country_has_an_emergency_number_first() {
    let digits = |text: &str| text.chars().any(|c| c.is_ascii_digit());
    let codes: BTreeSet<&str> = help().countries.iter().map(|country| country.code.as_str()).collect();
    assert_eq!(codes.len(), help().countries.len());
    for country in &help().countries {
        assert!(country.code.split('-').all(|part| (2..=3).contains(&part.len())), "{}", country.code);
        assert_eq!(
            country.lines.first().map(|line| line.kind),
            Some(LineKind::Emergency),
            "{}",
            country.code
        );
        for line in &country.lines {
            assert!(
                digits(&line.number) && line.number.chars().all(|c| c.is_ascii_digit() || " +-".contains(c))
            );
        }
    }
    // Outside the table of countries nothing looks like a number to ring.
    let page = help().page.sections.iter().flat_map(|section| &section.lines);
    for line in page {
        let longest = line.text.split(|c: char| !c.is_ascii_digit()).map(str::len).max();
        assert!(longest < Some(3), "{}", line.text);
    }
}

#[test]
fn what_is_from_memory_is_marked_and_is_no_poison_centre() {
    for (country, line) in
        help().countries.iter().flat_map(|one| one.lines.iter().map(move |line| (one, line)))
    {
        if line.is_unchecked() {
            assert_eq!(line.kind, LineKind::Emergency, "{}: {}", country.code, line.number);
        } else {
            let published =
                |id: &String| help().sources.iter().any(|source| source.id == *id && source.published);
            assert!(line.source.iter().any(published), "{}: {}", country.code, line.number);
        }
    }
    for course in &help().courses {
        assert!(!course.source.iter().any(|source| source == "memory"));
    }
    assert!(!help().page.unchecked.is_empty());
}

#[test]
fn nothing_consoles() {
    for text in texts(help()) {
        assert_eq!(consoling(text), Vec::<&str>::new(), "{text}");
    }
    assert_eq!(consoling("It is probably harmless."), ["harmless", "probably"], "the test can fail");
}

#[test]
fn the_page_opens_as_it_must_and_says_that_nobody_reviewed_it() {
    let page = &help().page;
    assert_eq!(page.head, "Get help now");
    assert_eq!(page.lead, "Do not wait for symptoms. Feeling better is not recovery.");
    assert!(!page.reviewed && page.unreviewed.starts_with("No clinician has reviewed this page yet"));
    let ids: Vec<&str> = page.sections.iter().map(|section| section.id.as_str()).collect();
    assert_eq!(ids, ["now", "not", "why", "keep", "asked"]);
}

/// Sources: NHS, NHS 111 Wales and nidirect. Northern Ireland has no 111, and a phone there says no more than GB.
#[test]
fn nobody_in_northern_ireland_is_shown_111() {
    for code in ["GB", "gb", "GB-NIR"] {
        let numbers: Vec<&str> =
            help().country(code).unwrap().lines.iter().map(|line| line.number.as_str()).collect();
        assert_eq!(numbers, ["999"]);
    }
    assert_eq!(help().country("GB-ENG").unwrap().lines.len(), 2);
}

#[test]
fn courses_speak_of_dangerous_taxa_of_the_pack_each_once() {
    let pack = Pack::britain().unwrap();
    let mut seen = BTreeSet::new();
    for id in help().courses.iter().flat_map(|course| &course.taxa) {
        let taxon = pack.taxon_by_id(id).and_then(|at| pack.taxon(at));
        assert!(taxon.is_some_and(|taxon| taxon.standing.is_dangerous()), "{id}");
        assert!(seen.insert(id), "{id} has two courses");
    }
    // The pack's own statements, from other sources, name the same poison wherever they name one.
    for course in help().courses.iter().filter(|course| !course.poison.starts_with("not named")) {
        let poison = course.poison.rsplit(' ').next().unwrap();
        let said = course.taxa.iter().filter_map(|id| pack.taxon(pack.taxon_by_id(id)?)).filter(|taxon| {
            let text = taxon.standing_statement.text.to_lowercase();
            assert!(text.is_empty() || text.contains(poison), "{}: {text}", taxon.id);
            !text.is_empty()
        });
        assert!(said.count() > 0, "{poison}");
    }
    for id in ["death-cap", "funeral-bell", "deadly-webcap"] {
        assert!(help().course(id).is_some());
    }
    assert!(help().course("chanterelle").is_none());
}

proptest! {
    /// Whatever a phone says of where it is, a country answers with its own lines or none at all.
    #[test]
    fn a_code_finds_its_own_country_or_none(code in "[A-Za-z]{2}(-[A-Z]{2,3})?") {
        if let Some(country) = help().country(&code) {
            let code = code.to_uppercase();
            prop_assert!(country.code == code || Some(country.code.as_str()) == code.split('-').next());
        }
    }
}
