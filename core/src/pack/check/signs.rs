//! Rules for signs of age and sizes: every form can be judged at every age, and nothing stands idle.

use super::Findings;
use crate::pack::model::{Standing, StateIndex, Taxon, TaxonIndex};
use crate::pack::read::SIGNS;
use crate::pack::signs::{Maturity, OwnSign, SignIndex, Size, Span};
use crate::pack::{Cell, Pack};
use crate::stage::Stage;

pub(super) fn check(found: &mut Findings<'_>) {
    for (at, taxon) in found.sound_taxa() {
        match &taxon.maturity {
            Some(maturity) => of_taxon(found, at, taxon, maturity),
            None if taxon.standing == Standing::Food && !found.pack.signs.is_empty() => {
                let message =
                    "a food says when it is in condition: add [condition], if only to say nothing special"
                        .into();
                found.note_taxon(taxon, "", "food-without-condition", message);
            }
            None => {}
        }
    }
    if found.pack.signs.is_empty() || found.broken.contains(&SIGNS) {
        return;
    }
    forms(found);
    for (at, sign) in found.pack.sign_indices().zip(&found.pack.signs) {
        let path = format!("sign[{}]", at.0);
        past_is_past(found, SIGNS, &path, sign.span);
        // Whether a taxon names it can only be told of a pack that was read in full.
        let named = sign.forms.is_empty() && found.broken.is_empty() && !is_named(found.pack, at);
        if named {
            let message = format!("`{}` is seen on no form, and no taxon names it", sign.id);
            found.note(SIGNS, &path, "unused-sign", message);
        }
        for form in &sign.forms {
            let lives = found.pack.lives.iter().find(|life| life.form == *form);
            let missing = sign.span.says.filter(|says| lives.is_some_and(|life| !life.stages.contains(says)));
            if let Some(says) = missing {
                let message = format!(
                    "`{}` never goes through the stage {says}: see [stages]",
                    found.pack.form_id(*form)
                );
                found.note(SIGNS, &format!("{path}.forms"), "stage-not-of-form", message);
            }
        }
    }
}

fn is_named(pack: &Pack, sign: SignIndex) -> bool {
    let own = |taxon: &Taxon| taxon.maturity.iter().any(|it| it.signs.iter().any(|own| own.sign == sign));
    pack.taxa.iter().any(own)
}

/// Each form is told of, and each of its stages has a sign that points to it.
fn forms(found: &mut Findings<'_>) {
    let pack = found.pack;
    let Some(character) = pack.form_character().and_then(|at| pack.character(at)) else { return };
    for (form, state) in (0..).map(StateIndex).zip(&character.states) {
        let Some(life) = pack.lives.iter().find(|life| life.form == form) else {
            let message = format!("`{}` is missing: say which stages it goes through", state.id);
            found.note(SIGNS, "stages", "form-without-stages", message);
            continue;
        };
        for stage in &life.stages {
            let says =
                |sign: &&crate::pack::Sign| sign.forms.contains(&form) && sign.span.says == Some(*stage);
            if !pack.signs.iter().any(|sign| says(&sign)) {
                let message = format!("no sign tells that `{}` is {stage}", state.id);
                found.note(SIGNS, &format!("stages.{}", state.id), "form-without-signs", message);
            }
        }
    }
}

/// What points to past is seen in nothing younger, so that one such sign is enough.
fn past_is_past(found: &mut Findings<'_>, file: &str, path: &str, span: Span) {
    if span.says == Some(Stage::Past) && span.from < Stage::Past {
        let message = "a sign of being past is seen on nothing younger: leave out `from`, or `stage`".into();
        found.note(file, path, "past-too-early", message);
    }
}

fn of_taxon(found: &mut Findings<'_>, at: TaxonIndex, taxon: &Taxon, maturity: &Maturity) {
    if taxon.standing != Standing::Food {
        let message = "only food is gathered: nothing is said of when to take anything else".into();
        found.note_taxon(taxon, "condition", "condition-of-no-food", message);
    }
    for (field, size, character) in
        [("width", &maturity.width, "cap-width"), ("height", &maturity.height, "stem-height")]
    {
        if let Some(size) = size {
            within_reach(found, (at, taxon), &format!("condition.{field}"), size, character);
        }
    }
    for own in &maturity.signs {
        of_own_sign(found, (at, taxon), own);
    }
}

/// A size that no specimen reaches is a slip: of the unit, or of the taxon.
fn within_reach(
    found: &mut Findings<'_>,
    (at, taxon): (TaxonIndex, &Taxon),
    path: &str,
    size: &Size,
    character: &str,
) {
    let pack = found.pack;
    let Some(Cell::Number(range, _)) =
        pack.character_by_id(character).map(|character| pack.cell(at, character))
    else {
        return;
    };
    let usual = f64::from(range.high);
    if size.taken_from > usual {
        let message = format!("{} mm is above what it usually reaches: {range} mm", size.taken_from);
        found.note_taxon(taxon, path, "size-out-of-reach", message);
    }
}

fn of_own_sign(found: &mut Findings<'_>, (at, taxon): (TaxonIndex, &Taxon), own: &OwnSign) {
    let Some(sign) = found.pack.sign(own.sign) else { return };
    let path = format!("condition.signs.{}", sign.id);
    if own.span != sign.span {
        past_is_past(found, &super::taxon_file(taxon), &path, own.span);
    }
    let shown_anyway = found.pack.shows(at, sign);
    let adds_words = own.text.is_some() || own.note.is_some() || own.sources != sign.sources;
    if shown_anyway && own.span == sign.span && !adds_words {
        let message = format!("this says no more than `{}` does anyway: leave it out", sign.id);
        found.note_taxon(taxon, &path, "idle-sign", message);
    }
}
