//! `trug condition`: the signs of age there are, and what stage those seen make.

use std::fmt::Write;
use std::path::PathBuf;

use clap::{Args, Subcommand};
use serde_json::{Value, json};
use trug::condition::{
    By, Judgement, Observed, SizeVerdict, Stage, TaxonSign, all_signs, form_named, judge, leave_it, signs_of,
    signs_of_form,
};
use trug::find::Width;
use trug::pack::{Pack, Size, Sources, TaxonIndex};

use crate::Done;
use crate::answer::{Answer, Refusal};
use crate::fields;
use crate::knowledge;

#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Lists the signs of age: all, or those of a form or of a taxon.
    Signs {
        /// A form, as `gilled`, or a taxon: its id, or an exact Latin or English name.
        of: Option<String>,
        /// A pack's folder [default: the one that is built in].
        #[arg(long, value_name = "DIR")]
        pack: Option<PathBuf>,
    },
    /// Judges what was seen: button, young, prime or past, and why.
    Judge(Seen),
}

#[derive(Debug, Args)]
pub struct Seen {
    /// The taxon: its id, or an exact Latin or English name.
    taxon: String,
    /// How wide they are, in mm: 35, or 12-35.
    #[arg(long, value_name = "MM")]
    width: Option<Width>,
    /// How high they are, in mm: 80, or 60-90.
    #[arg(long, value_name = "MM")]
    height: Option<Width>,
    /// A sign seen, by its id. May be given more than once.
    #[arg(long, value_name = "SIGN", value_delimiter = ',')]
    sign: Vec<String>,
    /// How many of each stage, where they were mixed: button=2,young=5,prime=3,past=1.
    #[arg(long, value_name = "STAGE=COUNT", value_delimiter = ',', value_parser = fields::stage)]
    stages: Vec<(Stage, u32)>,
    /// A pack's folder [default: the one that is built in].
    #[arg(long, value_name = "DIR")]
    pack: Option<PathBuf>,
}

pub fn run(verb: Verb) -> Done {
    match verb {
        Verb::Signs { of, pack } => knowledge::with(pack.as_ref(), |pack| signs(pack, of.as_deref())),
        Verb::Judge(seen) => knowledge::with(seen.pack.as_ref(), |pack| judged(pack, &seen)),
    }
}

fn signs(pack: &Pack, of: Option<&str>) -> Done {
    let Some(of) = of else { return Ok(all(pack)) };
    // A taxon may be called what its form is: morel. It knows more.
    if let Some(taxon) = knowledge::taxon(pack, of) {
        let signs = signs_of(pack, taxon);
        let words = format!("{}{}", head(pack, taxon), told(&signs));
        return Ok(Answer::new(words, &listed(pack, &signs)));
    }
    let form = form_named(pack, of).ok_or_else(|| {
        let forms: Vec<&str> = pack.lives().iter().map(|life| pack.form_id(life.form)).collect();
        Refusal::new("not-found", format!("no such form or taxon: the forms are {}", forms.join(", ")))
    })?;
    let signs = signs_of_form(pack, form);
    Ok(Answer::new(told(&signs), &listed(pack, &signs)))
}

/// All there are; signs that only single taxa show have their general words here.
fn all(pack: &Pack) -> Answer {
    let signs = all_signs(pack);
    let hint = "Give a form or a taxon to see only what it shows, and what that means there.";
    Answer::new(format!("{}{hint}", told(&signs)), &listed(pack, &signs))
}

/// What a taxon is, and from what size it is taken.
fn head(pack: &Pack, at: TaxonIndex) -> String {
    let Some(taxon) = pack.taxon(at) else { return String::new() };
    let mut words = format!("{} ({}).\n", taxon.english.first().unwrap_or(&taxon.latin), taxon.latin);
    if let Some(leave) = leave_it(taxon.standing) {
        let _ = writeln!(words, "{leave}");
    }
    let sizes = taxon.maturity.as_ref().map(|it| [(&it.width, "across"), (&it.height, "high")]);
    for (size, how) in sizes.into_iter().flatten() {
        if let Some(Size { taken_from, note, sources, .. }) = size {
            let note = note.as_ref().map_or(String::new(), |note| format!(" {note}"));
            let _ =
                writeln!(words, "Taken from {taken_from} mm {how}.{note} Source: {}.", cited(pack, sources));
        }
    }
    words
}

fn cited(pack: &Pack, sources: &Sources) -> String {
    let all = sources.iter().filter_map(|at| pack.sources().get(at.get())).map(|it| it.citation.as_str());
    all.collect::<Vec<_>>().join("; ")
}

/// The signs in words, the youngest stage first.
fn told(signs: &[TaxonSign<'_>]) -> String {
    let mut signs: Vec<_> = signs.iter().collect();
    signs.sort_by_key(|sign| (sign.span.says.is_none(), sign.span.says, sign.handling, sign.at));
    let mut words = String::new();
    for sign in signs {
        let says = match sign.span.says {
            Some(stage) => stage.word().to_owned(),
            None if sign.span.says_nothing() => "any age".to_owned(),
            None => format!("{} to {}", sign.span.from, sign.span.to),
        };
        let _ = writeln!(words, "  {says:<15} {:<17} {}", sign.id, sign.text);
        if let Some(note) = sign.note {
            let _ = writeln!(words, "  {:<33} {note}", "");
        }
    }
    words
}

fn listed(pack: &Pack, signs: &[TaxonSign<'_>]) -> Value {
    let source = |at: &trug::pack::SourceIndex| pack.sources().get(at.get()).map(|it| it.id.as_str());
    let row = |sign: &TaxonSign<'_>| {
        json!({
            "id": sign.id, "text": sign.text, "stage": sign.span.says, "from": sign.span.from, "to": sign.span.to,
            "effort": sign.handling.word(), "note": sign.note,
            "source": sign.sources.iter().filter_map(source).collect::<Vec<_>>(),
        })
    };
    signs.iter().map(row).collect()
}

fn judged(pack: &Pack, seen: &Seen) -> Done {
    let taxon = knowledge::taxon(pack, &seen.taxon).ok_or_else(knowledge::unknown)?;
    let observed = Observed {
        signs: seen.sign.clone(),
        width: seen.width,
        height: seen.height,
        stages: seen.stages.iter().copied().collect(),
    };
    let judgement = judge(pack, taxon, &observed)?;
    let notes = judgement.notes.iter().map(|note| format!("\n  {note}"));
    let words = format!("{}{}", judgement.text, notes.collect::<String>());
    Ok(Answer::new(words, &in_json(pack, taxon, &judgement)))
}

fn in_json(pack: &Pack, taxon: TaxonIndex, judgement: &Judgement) -> Value {
    let by = |by: By| by_id(pack, by);
    let size = &judgement.size;
    let verdict = match size.verdict {
        SizeVerdict::NotKnown => "not known",
        SizeVerdict::NotMeasured => "not measured",
        SizeVerdict::Enough => "enough",
        SizeVerdict::Some => "some too small",
        SizeVerdict::TooSmall => "too small",
    };
    json!({
        "taxon": pack.taxon(taxon).map(|taxon| taxon.id.as_str()),
        "stage": judgement.stage,
        "mixed": judgement.is_mixed(),
        "parts": judgement.parts.iter().map(|part| (part.stage.word(), part.count)).collect::<std::collections::BTreeMap<_, _>>(),
        "size": {"verdict": verdict, "measure": size.measure.field(), "taken_from": size.taken_from},
        "decided_by": judgement.decided_by.iter().map(|it| by(*it)).collect::<Vec<_>>(),
        "contradictions": judgement.contradictions.iter().map(|it| [by(it.younger), by(it.older)]).collect::<Vec<_>>(),
        "would_change": judgement.would_change.iter().map(|it| json!({"by": by(it.by), "stage": it.stage})).collect::<Vec<_>>(),
        "text": judgement.text,
        "notes": judgement.notes,
    })
}

fn by_id(pack: &Pack, by: By) -> String {
    match by {
        By::Sign(at) => pack.sign(at).map(|sign| sign.id.clone()).unwrap_or_default(),
        By::Count(stage) => format!("count of {stage}"),
        By::Size(size) => size.field().to_owned(),
    }
}
