//! "Leave it", asked of the notebook: the records tell what was taken before, the pack what it is, the codes what holds.

use std::collections::{BTreeMap, BTreeSet};

use jiff::ToSpan;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::act::Edit;
use super::finds::outing_on;
use super::house;
use super::record::{Kept, fields};
use super::{Notebook, kind};
use crate::allowance::{
    Advice, Asked, Facts, Maturity, Naming, Past, Reason, Site, Take, There, advise, basket,
};
use crate::code::{self, Code};
use crate::condition::{self, Observed};
use crate::error::Error;
use crate::find::{Count, FieldError, Find, How, LONGEST_TEXT, Width};
use crate::id::{AdviceId, ChoiceId, FindId, OutingId, PatchId};
use crate::moment::Moment;
use crate::outing::{Outing, Permission};
use crate::pack::{Pack, TaxonIndex};
use crate::patch::{Amounts, Many, Patch, Proposal, Season, Tally};
use crate::store::{Record, Span};
use crate::units::Grams;

/// What stands before somebody, for whom it is to be judged.
#[derive(Debug, Clone, Default)]
pub struct Question {
    /// The find as far as it is noted; it need not be kept.
    pub find: Find,
    /// Whether that find is on record: then what it says was taken is no earlier taking.
    pub is_kept: bool,
    /// The name by which it goes there.
    pub named_on_record: Option<String>,
    /// What it is taken for: an id of the pack, or any name.
    pub taxon: Option<String>,
    /// How that was reached; `None` if it is not settled.
    pub how: Option<How>,
    /// How high they are, in place of what the find says.
    pub height: Option<Width>,
    /// What one weighs.
    pub each: Option<Grams>,
    /// May I pick here? In place of the outing's answer.
    pub land: Option<Permission>,
    /// Ids of codes, in place of those that were chosen.
    pub codes: Option<Vec<String>>,
    /// Further codes to hold it against.
    pub further: Vec<Code>,
    /// How many were taken already from here on this visit, and what those weigh, beside what is on record.
    pub taken: Option<(u32, Option<Grams>)>,
}

/// Advice that was given for a find, as it was given.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Given {
    /// The find.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub find: Option<FindId>,
    /// When.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<Moment>,
    /// What was said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub advice: Option<Value>,
    /// Why something was taken all the same, in the forager's words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub because: Option<String>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub further: Map<String, Value>,
}

impl Given {
    /// The advice, if this version can read it.
    #[must_use]
    pub fn advice(&self) -> Option<Advice> {
        Advice::deserialize(self.advice.as_ref()?).ok()
    }

    /// Whether what a find says was taken keeps to it; `None` if it does not say.
    #[must_use]
    pub fn is_followed_by(&self, find: &Find) -> Option<bool> {
        let advice = self.advice()?;
        find.taken
            .or(find.specimens.map(|_| 0))
            .map(|taken| advice.is_followed_by(taken, find.specimens.unwrap_or(0)))
    }
}

/// The codes that somebody gathers under from then on.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Choice {
    /// Ids of codes; `None` for those that hold until others are chosen.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub codes: Option<Vec<String>>,
    /// When.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<Moment>,
    /// Fields of a later version.
    #[serde(flatten)]
    pub further: Map<String, Value>,
}

/// What the records say of one question.
struct Known {
    outing: Option<OutingId>,
    land: Permission,
    patch: Option<Patch>,
    /// The patch and those merged into it.
    family: BTreeSet<PatchId>,
    tallies: Vec<Tally>,
    chosen: Option<Vec<String>>,
}

impl Notebook {
    /// What may be taken of what stands there, with every reason.
    ///
    /// # Errors
    /// [`Error::Sign`] for a sign that the taxon does not show, [`Error::Code`] for a code that is not there.
    pub fn advise(&self, pack: &Pack, question: &Question) -> Result<Advice, Error> {
        self.asking(pack, question, advise)
    }

    /// What limits a basket: every rule on what one person may carry away; with a taxon, those on it alone.
    ///
    /// # Errors
    /// As [`Notebook::advise`].
    pub fn basket_limits(&self, pack: &Pack, question: &Question) -> Result<Vec<Reason>, Error> {
        self.asking(pack, question, basket)
    }

    /// Puts a question with all that the notebook knows of it.
    fn asking<T>(
        &self,
        pack: &Pack,
        question: &Question,
        judge: impl FnOnce(&Asked<'_>) -> T,
    ) -> Result<T, Error> {
        let mut find = question.find.clone();
        let now = *find.at.get_or_insert_with(|| self.now());
        let known = self.known(&find, question.taxon.as_deref(), now)?;
        let facts = question
            .taxon
            .as_deref()
            .map(|name| Facts::named(pack, name).unwrap_or_else(|| Facts::unknown(name)));
        let maturity = maturity(pack, question)?;
        let (fungi, mut takes) = known.past(pack, question, now.day());
        takes.extend(question.taken.map(|(count, grams)| Take {
            day: now.day(),
            fungus: None,
            visit: true,
            here: true,
            mine: true,
            count: Some(count),
            grams,
            specimens: 0,
        }));
        let fungi: Vec<&Facts> = fungi.iter().collect();
        let chosen = question.codes.as_ref().or(known.chosen.as_ref());
        let mut codes = code::choose(code::shipped()?, chosen.map(Vec::as_slice))?;
        codes.extend(&question.further);
        let (own, mut unread) = house::readable(self.house_rules()?);
        codes.extend((!own.rules.is_empty()).then_some(&own));
        let place = find.position.as_ref().map(|at| at.position);
        let ground = self.ground(place)?;
        for code in ground.codes {
            if codes.iter().all(|other| other.about.id != code.about.id) {
                codes.push(code);
            }
        }
        unread.extend(ground.unread);
        Ok(judge(&Asked {
            fungus: facts.as_ref(),
            naming: question.how.map_or(Naming::NotSettled, Naming::By),
            or: &[],
            there: There {
                seen: find.seen.or_else(|| counted(&find)),
                maturity,
                width: find.width,
                height: question.height.or(find.height),
                each: question.each,
                growth: find.growth,
            },
            site: Site {
                land: question.land.unwrap_or(known.land),
                areas: &ground.here,
                hazards: find.hazards.as_deref().unwrap_or_default(),
                host: find.host.as_ref(),
                position: place,
            },
            now,
            past: Past {
                takes: &takes,
                fungi: &fungi,
                rest_until: known.patch.as_ref().and_then(|patch| patch.rests_until),
            },
            codes: &codes,
            unread: &unread,
        }))
    }

    /// Keeps the advice that was given for a find, and why it was not heeded, if somebody says so.
    ///
    /// # Errors
    /// [`Error::NotFound`]; [`Error::Field`] if the reason is longer than a page.
    pub fn keep_advice(&self, find: FindId, advice: &Advice, because: Option<String>) -> Result<(), Error> {
        if because.as_ref().is_some_and(|text| text.len() > LONGEST_TEXT) {
            return Err(
                FieldError { field: "because", why: "too long: keep it under 20000 bytes".into() }.into()
            );
        }
        let given = Given {
            find: Some(find),
            at: Some(self.now()),
            advice: serde_json::to_value(advice).ok(),
            because,
            further: Map::new(),
        };
        let (id, fields) = (AdviceId::new(), fields(&given)?);
        self.decide_and_keep(|desk| {
            desk.find(find)?;
            Ok((vec![Edit::new(kind::ADVICE, id, fields.clone())], ()))
        })
    }

    /// The advice given for a find, oldest first.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn advice_given(&self, find: FindId) -> Result<Vec<Given>, Error> {
        let given = self.read(|view| view.children(kind::ADVICE, find.into()))?;
        Ok(given.iter().map(|record| Kept::from(record).value).collect())
    }

    /// From now on these codes hold; `None` for those that hold until others are chosen.
    ///
    /// # Errors
    /// [`Error::Code`] for a code that is not there.
    pub fn choose_codes(&self, codes: Option<Vec<String>>) -> Result<(), Error> {
        code::choose(code::shipped()?, codes.as_deref())?;
        let choice = Choice { codes, at: Some(self.now()), further: Map::new() };
        self.keep(&[Edit::new(kind::CHOICE, ChoiceId::new(), fields(&choice)?)])
    }

    /// From now on one code holds beside those in force, or no longer does.
    ///
    /// # Errors
    /// [`Error::Code`] for a code that is not there.
    pub fn gather_under(&self, code: &str, holds: bool) -> Result<(), Error> {
        let chosen = self.chosen_codes()?;
        self.choose_codes(Some(code::choose_with(code::shipped()?, chosen.as_deref(), code, holds)?))
    }

    /// The codes that were chosen last; `None` if none ever were.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn chosen_codes(&self) -> Result<Option<Vec<String>>, Error> {
        self.read(|view| view.all(kind::CHOICE)).map(|choices| chosen(&choices))
    }

    fn known(&self, find: &Find, taxon: Option<&str>, now: Moment) -> Result<Known, Error> {
        let patch = match find.patch {
            Some(patch) => Some(self.standing_patch(patch)?),
            None => match self.patch_for(find, taxon)? {
                Proposal::Joins { patch } => Some(patch.id),
                _ => None,
            },
        };
        let today = now.day();
        // As long as the longest span that a rule can name.
        let from = today.checked_sub(1.year()).unwrap_or(today).min(Season::of(today).first());
        self.read(|view| {
            let outing = match find.outing {
                Some(id) => Some(id),
                None => outing_on(view, now)?,
            };
            let record = outing.map(|id| view.record(kind::OUTING, id.into())).transpose()?.flatten();
            let land = record.and_then(|record| Kept::<Outing>::from(&record).value.permission);
            let record = patch.map(|id| view.record(kind::PATCH, id.into())).transpose()?.flatten();
            let here = Span { from, to: Date::MAX, patch };
            let family = if patch.is_some() { view.tallies(&here)? } else { Vec::new() };
            Ok(Known {
                outing,
                land: land.unwrap_or(Permission::Unknown),
                patch: record.map(|record| Kept::<Patch>::from(&record).value),
                family: family.iter().filter_map(|tally| tally.patch).chain(patch).collect(),
                tallies: view.tallies(&Span { patch: None, ..here })?,
                chosen: chosen(&view.all(kind::CHOICE)?),
            })
        })
    }
}

/// Choices come in order of their ids, and so of the time at which they were made.
fn chosen(choices: &[Record]) -> Option<Vec<String>> {
    choices.last().and_then(|record| Kept::<Choice>::from(record).value.codes)
}

impl Known {
    /// Every taking on record, and the fungi that they name.
    fn past(&self, pack: &Pack, question: &Question, today: Date) -> (Vec<Facts>, Vec<Take>) {
        let mut fungi = Vec::new();
        let mut positions: BTreeMap<&str, usize> = BTreeMap::new();
        let mut takes = Vec::new();
        let mut own = question.is_kept.then(|| Amounts::of(&question.find));
        for tally in &self.tallies {
            let mut amounts = tally.amounts;
            if is_of(tally, question, today)
                && let Some(own) = own.take()
            {
                amounts = without(amounts, &own);
            }
            let fungus = tally.taxon.as_deref().map(|name| {
                *positions.entry(name).or_insert_with(|| {
                    fungi.push(Facts::named(pack, name).unwrap_or_else(|| Facts::unknown(name)));
                    fungi.len() - 1
                })
            });
            takes.extend(self.takes(tally, &amounts, fungus, today));
        }
        (fungi, takes)
    }

    /// What was weighed and what was not, apart: of the one the grams count, of the other the number.
    fn takes(
        &self,
        tally: &Tally,
        amounts: &Amounts,
        fungus: Option<usize>,
        today: Date,
    ) -> impl Iterator<Item = Take> {
        let visit = match (self.outing, tally.outing) {
            (Some(one), Some(other)) => one == other,
            (None, None) => tally.day == today,
            _ => false,
        };
        let take = Take {
            day: tally.day,
            fungus,
            visit,
            here: tally.patch.is_some_and(|patch| self.family.contains(&patch)),
            mine: tally.by.is_none(),
            count: amounts.taken.most,
            grams: (amounts.unweighed == 0).then(|| Grams::nearest(amounts.grams())),
            specimens: amounts.specimens,
        };
        let weighed = (amounts.unweighed > 0 && amounts.milligrams > 0).then(|| Take {
            count: Some(0),
            grams: Some(Grams::nearest(amounts.grams())),
            specimens: 0,
            ..take
        });
        std::iter::once(take).chain(weighed)
    }
}

/// Whether the find asked after is part of a tally.
fn is_of(tally: &Tally, question: &Question, today: Date) -> bool {
    let find = &question.find;
    tally.day == today
        && tally.outing == find.outing
        && tally.patch == find.patch
        && tally.by == find.by
        && tally.taxon == question.named_on_record
}

/// What is left of a sum without one of its finds.
fn without(sum: Amounts, one: &Amounts) -> Amounts {
    let less = |sum: Many, one: Many| Many {
        least: sum.least.saturating_sub(one.least),
        most: sum.most.zip(one.most).map(|(sum, one)| sum.saturating_sub(one)),
    };
    Amounts {
        finds: sum.finds.saturating_sub(one.finds),
        seen: less(sum.seen, one.seen),
        taken: less(sum.taken, one.taken),
        specimens: sum.specimens.saturating_sub(one.specimens),
        milligrams: sum.milligrams.saturating_sub(one.milligrams),
        unweighed: sum.unweighed.saturating_sub(one.unweighed),
    }
}

/// The number that counts by stage add up to.
fn counted(find: &Find) -> Option<Count> {
    let stages = find.stages.as_ref()?;
    Count::exactly(stages.values().fold(0_u32, |sum, count| sum.saturating_add(*count))).ok()
}

/// How old they are, by the signs, sizes and counts that were noted.
fn maturity(pack: &Pack, question: &Question) -> Result<Maturity, Error> {
    let find = &question.find;
    let stages = find.stages.clone().unwrap_or_default();
    let Some(taxon) = question.taxon.as_deref().and_then(|name| known_taxon(pack, name)) else {
        return Ok(if stages.is_empty() { Maturity::Unknown } else { Maturity::Mixed(stages) });
    };
    let observed = Observed {
        signs: find.signs.clone().unwrap_or_default(),
        width: find.width,
        height: question.height.or(find.height),
        stages,
    };
    let judged = condition::judge(pack, taxon, &observed)?;
    let parts: BTreeMap<_, _> = judged.parts.iter().map(|part| (part.stage, part.count)).collect();
    Ok(match (judged.stage, parts.is_empty()) {
        // Where signs speak against the counts, the stage to reckon with meanwhile is the cautious one.
        (Some(stage), _) if !judged.contradictions.is_empty() => Maturity::All(stage),
        (_, false) => Maturity::Mixed(parts),
        (Some(stage), true) => Maturity::All(stage),
        (None, true) => Maturity::Unknown,
    })
}

/// A taxon of the pack, or the first of a group: no look parts its members, so their signs are the same.
pub(super) fn known_taxon(pack: &Pack, name: &str) -> Option<TaxonIndex> {
    pack.taxon_by_name(name).or_else(|| {
        let of_group = |at: &TaxonIndex| {
            let group = pack.taxon(*at).and_then(|taxon| taxon.group).and_then(|group| pack.group(group));
            group.is_some_and(|group| {
                group.id == name || group.english.iter().any(|other| other.eq_ignore_ascii_case(name))
            })
        };
        pack.taxon_indices().find(of_group)
    })
}
