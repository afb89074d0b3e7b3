//! One worked situation as its file has it, and the question it puts.
//!
//! What a situation leaves out is as in [`Situation::default`]: seven velvet shanks in their prime, named by the key, on
//! land with the owner's leave, on an October afternoon.

use std::collections::BTreeMap;

use jiff::civil::Date;
use serde::Deserialize;
use trug::allowance::{
    Advice, AreaHere, Asked, Facts, Maturity, Naming, Past, Site, Take, There, Whereto, advise,
};
use trug::code::{Code, Rule, choose, shipped};
use trug::find::{Count, Growth, Hazard, Host, How, Sure, Width};
use trug::moment::Moment;
use trug::outing::Permission;
use trug::pack::Pack;
use trug::place::Position;
use trug::stage::Stage;
use trug::units::Grams;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct File {
    pub situation: Vec<Situation>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[allow(clippy::struct_excessive_bools, reason = "a file has them so")]
pub struct Situation {
    /// What it shows.
    pub name: String,
    /// Where the expected answer comes from.
    pub source: String,
    /// Ids of the codes in force; left out, those that hold until others are chosen.
    pub codes: Option<Vec<String>>,
    pub house: Vec<Rule>,
    pub unread: Vec<String>,
    /// A taxon or group of the pack.
    pub taxon: Option<String>,
    /// Or a fungus that the pack lacks.
    pub fungus: Option<Facts>,
    pub nameless: bool,
    /// key, sight, told, spore-print, microscope; or not-settled.
    pub named: String,
    pub or: Vec<String>,
    pub seen: String,
    pub stage: Stage,
    pub stages: BTreeMap<Stage, u32>,
    /// Nobody can tell how old they are.
    pub no_stage: bool,
    /// Stages that nobody counted.
    pub uncounted: bool,
    pub width: Option<String>,
    pub height: Option<String>,
    pub each: Option<Grams>,
    pub growth: Option<Growth>,
    pub land: String,
    pub areas: Vec<Area>,
    pub hazards: Vec<Hazard>,
    pub host: String,
    /// Whether whoever named the tree was guessing.
    pub guess: bool,
    pub place: Option<[f64; 2]>,
    pub now: String,
    pub taken: Vec<Taken>,
    pub rest_until: Option<String>,
    pub expect: Expect,
    /// What was then taken all the same.
    pub then: Option<Then>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Area {
    name: String,
    closed: bool,
    /// Metres; 0 inside, left out if unknown.
    off: Option<f64>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[allow(clippy::struct_excessive_bools, reason = "a file has them so")]
pub struct Taken {
    at: Option<String>,
    taxon: Option<String>,
    nameless: bool,
    visit: bool,
    here: bool,
    mine: bool,
    count: Option<u32>,
    grams: Option<Grams>,
    specimens: u32,
}

#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Expect {
    pub answer: String,
    pub up_to: u32,
    pub leave: Option<u32>,
    pub specimen: u32,
    pub grams_left: Option<Grams>,
    pub stage: Option<String>,
    pub look_again: Option<String>,
    /// Words that the first line holds.
    pub says: Vec<String>,
    /// `code/clause` and its verdict.
    pub reasons: BTreeMap<String, String>,
    /// `code/clause` and what it lacks.
    pub missing: BTreeMap<String, Vec<String>>,
}

#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Then {
    pub taken: u32,
    #[serde(default)]
    pub specimens: u32,
    pub followed: bool,
}

impl Default for Situation {
    fn default() -> Self {
        Self {
            name: String::new(),
            source: String::new(),
            codes: None,
            house: Vec::new(),
            unread: Vec::new(),
            taxon: None,
            fungus: None,
            nameless: false,
            named: "key".into(),
            or: Vec::new(),
            seen: "7".into(),
            stage: Stage::Prime,
            stages: BTreeMap::new(),
            no_stage: false,
            uncounted: false,
            width: None,
            height: None,
            each: None,
            growth: None,
            land: "permitted".into(),
            areas: Vec::new(),
            hazards: Vec::new(),
            host: "oak".into(),
            guess: false,
            place: None,
            now: "2026-10-18T14:00:00+01:00".into(),
            taken: Vec::new(),
            rest_until: None,
            expect: Expect::default(),
            then: None,
        }
    }
}

/// A taking of now, on this visit, from here, by whoever asks.
impl Default for Taken {
    fn default() -> Self {
        Self {
            at: None,
            taxon: None,
            nameless: false,
            visit: true,
            here: true,
            mine: true,
            count: None,
            grams: None,
            specimens: 0,
        }
    }
}

/// What the pack knows of a taxon or group.
pub fn known(id: &str) -> Facts {
    Facts::named(Pack::britain().unwrap(), id).unwrap_or_else(|| panic!("no taxon or group {id}"))
}

impl Situation {
    /// The fungus asked after; a velvet shank unless it says otherwise.
    pub fn subject(&self) -> Option<Facts> {
        let named = || known(self.taxon.as_deref().unwrap_or("velvet-shank"));
        (!self.nameless).then(|| self.fungus.clone().unwrap_or_else(named))
    }

    /// The codes in force.
    pub fn codes_in_force(&self, all: &[Code]) -> Vec<Code> {
        let mut codes: Vec<Code> = match &self.codes {
            None => choose(shipped().unwrap(), None).unwrap().into_iter().cloned().collect(),
            Some(ids) => ids
                .iter()
                .map(|id| {
                    all.iter().find(|code| code.about.id == *id).unwrap_or_else(|| panic!("no code {id}"))
                })
                .cloned()
                .collect(),
        };
        if !self.house.is_empty() {
            codes.push(Code::own(self.house.clone()));
        }
        codes
    }

    fn maturity(&self) -> Maturity {
        match (self.uncounted, self.no_stage, self.stages.is_empty()) {
            (true, ..) => Maturity::Uncounted,
            (_, true, _) => Maturity::Unknown,
            (.., false) => Maturity::Mixed(self.stages.clone()),
            (.., true) => Maturity::All(self.stage),
        }
    }

    fn now(&self) -> Moment {
        self.now.parse().unwrap()
    }

    pub fn advice(&self, all: &[Code]) -> Advice {
        let codes = self.codes_in_force(all);
        let codes: Vec<&Code> = codes.iter().collect();
        let subject = self.subject();
        let or: Vec<Facts> = self.or.iter().map(|id| known(id)).collect();
        let or: Vec<&Facts> = or.iter().collect();
        let others: Vec<Facts> =
            self.taken.iter().filter_map(|taken| taken.taxon.as_deref().map(known)).collect();
        let mut fungi: Vec<&Facts> = others.iter().collect();
        fungi.extend(subject.as_ref());
        let mut other = 0..others.len();
        let takes: Vec<Take> = self
            .taken
            .iter()
            .map(|taken| Take {
                day: taken.at.as_ref().map_or_else(|| self.now(), |at| at.parse().unwrap()).day(),
                fungus: match (&taken.taxon, taken.nameless) {
                    (Some(_), _) => other.next(),
                    (None, true) => None,
                    (None, false) => subject.as_ref().map(|_| others.len()),
                },
                visit: taken.visit,
                here: taken.here,
                mine: taken.mine,
                count: taken.count,
                grams: taken.grams,
                specimens: taken.specimens,
            })
            .collect();
        let areas: Vec<AreaHere> = self.areas.iter().map(Area::here).collect();
        let sure = if self.guess { Sure::Guess } else { Sure::Likely };
        let host = (!self.host.is_empty()).then(|| Host { tree: self.host.clone(), sure });
        let width = |text: &Option<String>| text.as_ref().map(|text| text.parse::<Width>().unwrap());
        advise(&Asked {
            fungus: subject.as_ref(),
            naming: match self.named.as_str() {
                "not-settled" => Naming::NotSettled,
                how => Naming::By(how.parse::<How>().unwrap()),
            },
            or: &or,
            there: There {
                seen: (!self.seen.is_empty()).then(|| self.seen.parse::<Count>().unwrap()),
                maturity: self.maturity(),
                width: width(&self.width),
                height: width(&self.height),
                each: self.each,
                growth: self.growth,
            },
            site: Site {
                land: self.land.parse::<Permission>().unwrap(),
                areas: &areas,
                hazards: &self.hazards,
                host: host.as_ref(),
                position: self.place.map(|[latitude, longitude]| Position::new(latitude, longitude).unwrap()),
            },
            now: self.now(),
            past: Past {
                takes: &takes,
                fungi: &fungi,
                rest_until: self.rest_until.as_ref().map(|day| day.parse::<Date>().unwrap()),
            },
            codes: &codes,
            unread: &self.unread,
        })
    }
}

impl Area {
    fn here(&self) -> AreaHere {
        let whereto = match self.off {
            None => Whereto::Unknown,
            Some(0.0) => Whereto::Inside,
            Some(metres) => Whereto::Near(metres),
        };
        AreaHere { name: self.name.clone(), closed: self.closed, whereto }
    }
}
