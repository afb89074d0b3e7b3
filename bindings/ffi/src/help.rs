//! The help page: whom to ring, what to do and not to do. It needs no notebook, so it is there when none will open.
//!
//! Times until the signs of a poison begin stand on the doctor's sheet alone, but for the two late ones that tell why not to wait:
//! a table of them would be read as an all-clear.

use trug::help::{Country, Help, Number, Section};

use crate::TrugError;

/// Everything that the help page says.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct HelpPage {
    /// The first words.
    pub head: String,
    /// The second.
    pub lead: String,
    /// That no clinician has reviewed the page; none once one has.
    pub unreviewed: Option<String>,
    /// Whom to ring in the country that was asked for; none if its numbers are not here.
    pub here: Option<CountryHelp>,
    /// What is said where there are none.
    pub no_country: String,
    /// Whom to ring in every country that is here.
    pub countries: Vec<CountryHelp>,
    /// What to do, not to do, why not to wait, what to keep, what will be asked: now, not, why, keep, asked.
    pub sections: Vec<HelpSection>,
}

/// Lines under one title.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct HelpSection {
    /// A stable id.
    pub id: String,
    /// The title.
    pub title: String,
    /// The lines, the most urgent first.
    pub lines: Vec<HelpLine>,
}

/// One line.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct HelpLine {
    /// The words.
    pub words: String,
    /// Where they come from.
    pub sources: Vec<HelpSource>,
}

/// A country, or a nation of one where advice differs.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct CountryHelp {
    /// ISO 3166: GB, GB-NIR.
    pub code: String,
    /// Its name.
    pub name: String,
    /// Whom to ring, the emergency number first.
    pub numbers: Vec<NumberToRing>,
}

/// A number to ring.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct NumberToRing {
    /// What answers there: emergency, poison, advice.
    pub kind: String,
    /// The number, as its owner writes it.
    pub number: String,
    /// Who that is and when to ring.
    pub words: String,
    /// What marks it if it stands here from memory.
    pub unchecked: Option<String>,
    /// Where it comes from.
    pub sources: Vec<HelpSource>,
}

/// Where something comes from.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct HelpSource {
    /// The citation.
    pub citation: String,
    /// The day on which it was read: 2026-11-25; none for memory and for rules of Trug's own.
    pub seen: Option<String>,
}

/// The help page, with the numbers of a country if its ISO 3166 code is given. Opens no notebook and reads no file.
///
/// # Errors
/// `help-damaged`, which no tested build answers.
#[uniffi::export]
pub fn help_page(country: Option<String>) -> Result<HelpPage, TrugError> {
    let help = Help::shipped()?;
    let page = &help.page;
    Ok(HelpPage {
        head: page.head.clone(),
        lead: page.lead.clone(),
        unreviewed: (!page.reviewed).then(|| page.unreviewed.clone()),
        here: country.and_then(|code| help.country(&code)).map(|country| of_country(help, country)),
        no_country: page.no_country.clone(),
        countries: help.countries.iter().map(|country| of_country(help, country)).collect(),
        sections: page.sections.iter().map(|section| of_section(help, section)).collect(),
    })
}

fn of_country(help: &Help, country: &Country) -> CountryHelp {
    let number = |line: &Number| NumberToRing {
        kind: line.kind.word().to_owned(),
        number: line.number.clone(),
        words: line.words.clone(),
        unchecked: line.is_unchecked().then(|| help.page.unchecked.clone()),
        sources: sources(help, &line.source),
    };
    CountryHelp {
        code: country.code.clone(),
        name: country.name.clone(),
        numbers: country.lines.iter().map(number).collect(),
    }
}

fn of_section(help: &Help, section: &Section) -> HelpSection {
    let lines = section.lines.iter();
    let lines = lines.map(|line| HelpLine { words: line.text.clone(), sources: sources(help, &line.source) });
    HelpSection { id: section.id.clone(), title: section.title.clone(), lines: lines.collect() }
}

fn sources(help: &Help, ids: &[String]) -> Vec<HelpSource> {
    let told = help.sources_of(ids);
    told.map(|source| HelpSource {
        citation: source.citation.clone(),
        seen: source.published.then(|| source.seen.clone()),
    })
    .collect()
}
