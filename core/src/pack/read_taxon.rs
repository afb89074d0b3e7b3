//! Reading one file of `taxa/`.

use super::fields::{Fields, Value};
use super::model::{
    Abundance, Cell, Character, CharacterIndex, GroupIndex, LookAlike, Stage, Standing, Statement, Taxon,
    TaxonIndex,
};
use super::read::{Known, named, own_id, resolve, sources_of, statement};
use super::read_characters::flag;
use super::signs::Sign;
use super::{read_cells, read_signs};

const STANDINGS: [(&str, Standing); 4] = [
    ("food", Standing::Food),
    ("inedible", Standing::Inedible),
    ("harmful", Standing::Harmful),
    ("deadly", Standing::Deadly),
];

const ABUNDANCES: [(&str, Abundance); 5] = [
    ("very common", Abundance::VeryCommon),
    ("common", Abundance::Common),
    ("occasional", Abundance::Occasional),
    ("uncommon", Abundance::Uncommon),
    ("rare", Abundance::Rare),
];

/// Reads a taxon and its row of cells.
pub(super) fn read(
    fields: &mut Fields<'_, '_>,
    known: &Known,
    (characters, signs): (&[Character], &[Sign]),
    stem: &str,
) -> (Taxon, Vec<Cell>) {
    let (standing, standing_statement) = graded(fields, "standing", &STANDINGS, known);
    let (abundance, abundance_statement) = graded(fields, "frequency", &ABUNDANCES, known);
    let cells = fields.required("cells").and_then(Value::fields).map(Fields::named).unwrap_or_default();
    let (cells, notes) = read_cells::row(cells, known, characters);
    let taxon = Taxon {
        id: own_id(fields, Some(stem)),
        latin: fields.text("latin"),
        synonyms: fields.texts("synonyms"),
        english: fields.texts("english"),
        standing: standing.unwrap_or(Standing::Deadly),
        standing_statement,
        abundance: abundance.unwrap_or(Abundance::Occasional),
        abundance_sources: abundance_statement.sources,
        key_may_name: flag(fields, "key_may_name", false),
        key_may_not_because: fields.optional_text("key_may_not_because"),
        lookalikes_complete: flag(fields, "lookalikes_complete", false),
        group: named(fields.optional("group"), &known.groups, "group").map(GroupIndex),
        stage: stage(fields, known),
        demands: listed(fields, "demands", known),
        cautions: statements(fields, "cautions", known),
        disputed: statements(fields, "disputed", known),
        notes,
        lookalikes: fields
            .tables("lookalikes")
            .into_iter()
            .filter_map(|table| lookalike(table, known))
            .collect(),
        maturity: fields
            .optional("condition")
            .and_then(Value::fields)
            .map(|table| read_signs::maturity(table, known, signs)),
    };
    (taxon, cells)
}

/// `{ is, source, note? }`: one of a few grades, with what is said of it.
fn graded<T: Copy>(
    fields: &mut Fields<'_, '_>,
    key: &'static str,
    words: &[(&'static str, T)],
    known: &Known,
) -> (Option<T>, Statement) {
    let Some(mut table) = fields.required(key).and_then(Value::fields) else {
        return (None, Statement::default());
    };
    let grade = table.required("is").and_then(|word| word.word(words));
    let text = table.optional_text("note").unwrap_or_default();
    let sources = sources_of(&mut table, known);
    table.finish();
    (grade, Statement { about: String::new(), text, sources })
}

fn stage(fields: &mut Fields<'_, '_>, known: &Known) -> Option<Stage> {
    let of = named(fields.optional("stage_of"), &known.taxa, "taxon");
    match (of, fields.optional_text("stage")) {
        (Some(of), Some(name)) => Some(Stage { of: TaxonIndex(of), name }),
        (Some(_), None) => {
            fields
                .problem("missing-field", "`stage` is missing: what this stage of the other taxon is called");
            None
        }
        (None, Some(_)) => {
            fields.problem("missing-field", "`stage_of` is missing: the taxon that this is a stage of");
            None
        }
        (None, None) => None,
    }
}

fn statements(fields: &mut Fields<'_, '_>, key: &'static str, known: &Known) -> Vec<Statement> {
    fields.tables(key).into_iter().map(|table| statement(table, known)).collect()
}

/// `None` if it names no taxon of this pack.
fn lookalike(mut fields: Fields<'_, '_>, known: &Known) -> Option<LookAlike> {
    let taxon = named(fields.required("taxon"), &known.taxa, "taxon");
    let apart = fields.text("apart");
    let (by, decisive) = (listed(&mut fields, "by", known), listed(&mut fields, "decisive", known));
    let sources = sources_of(&mut fields, known);
    fields.finish();
    Some(LookAlike { taxon: TaxonIndex(taxon?), apart, by, decisive, sources })
}

/// A list of characters, empty if left out.
fn listed(fields: &mut Fields<'_, '_>, key: &'static str, known: &Known) -> Vec<CharacterIndex> {
    let ids = fields.optional(key).map(Value::texts).unwrap_or_default();
    resolve(ids, &known.characters, "character").into_iter().map(CharacterIndex).collect()
}
