//! Rules that count and weigh: shares, numbers, grams, specimens.

use super::Case;
use super::ruling::{Effect, Head, Missing, Ruling};
use super::words;
use crate::code::{
    CountLimit, KeepLimit, Names, Over, Per, PresentLimit, Round, ShareLimit, Single, StudyLimit, WeightLimit,
};
use crate::find::Growth;
use crate::units::Grams;

const NOT_COUNTED: &str = "How many there are is not known.";

impl Case<'_> {
    /// The floor of a half, say, of all that were there at arrival, less what anybody took of them on this visit.
    pub(super) fn share(&self, limit: &ShareLimit) -> Ruling {
        let Some(present) = self.asked.there.least() else {
            return Ruling::unknown(Missing::Count, NOT_COUNTED);
        };
        let before = self.ledger.here_on_this_visit();
        if before.uncounted > 0 {
            return taken_uncounted();
        }
        let (whole, rest) = limit.most.of(present);
        let broken = rest > 0;
        let most = match limit.round {
            Round::Up if broken => whole + 1,
            Round::Nearest if rest.saturating_mul(2) >= limit.most.denominator() && broken => whole + 1,
            _ => whole,
        };
        let left = most.saturating_sub(before.count);
        let share = limit.most.in_words();
        let rounded = if broken { words::rounded(limit.round) } else { "" };
        let seen = self.asked.there.seen.map_or(String::new(), words::low_end);
        let already = words::less(before.count, left);
        let text =
            format!("{} of the {present} present{seen} is {most}{rounded}{already}.", words::capital(&share));
        let head = match (left, most) {
            (0, 0) => (Head::TooFew, words::too_few(present, &share)),
            (0, _) => (Head::UsedUp, format!("{} of them is taken already.", words::capital(&share))),
            _ => (Head::Share, format!("{} of those present{rounded}", words::capital(&share))),
        };
        Ruling::holds(text)
            .effect(Effect::AtMost(left))
            .head(head.0, head.1)
            .number("present", present)
            .number("taken", before.count)
            .number("most", most)
    }

    /// So many stay.
    pub(super) fn keep(&self, limit: &KeepLimit) -> Ruling {
        let Some(present) = self.asked.there.least() else {
            return Ruling::unknown(Missing::Count, NOT_COUNTED);
        };
        let before = self.ledger.here_on_this_visit();
        if before.uncounted > 0 {
            return taken_uncounted();
        }
        let gone = before.count.saturating_add(before.specimens);
        let left = present.saturating_sub(gone).saturating_sub(limit.least);
        let first = match (left, gone) {
            (0, 0) => words::too_few_to_keep(present, limit.least),
            (0, _) => "What is left stays.".to_owned(),
            _ => format!("{} must stay", limit.least),
        };
        Ruling::holds(format!(
            "Of these {present}, at least {} must stay{}.",
            limit.least,
            words::less(gone, left)
        ))
        .effect(Effect::AtMost(left))
        .head(Head::TooFew, first)
        .number("present", present)
        .number("taken", gone)
        .number("keep", limit.least)
    }

    /// None of too few. What was taken since arrival changes nothing about how many were there then.
    pub(super) fn present(&self, limit: &PresentLimit) -> Ruling {
        let Some(present) = self.asked.there.least() else {
            return Ruling::unknown(Missing::Count, NOT_COUNTED);
        };
        let seen = self.asked.there.seen.map_or(String::new(), words::low_end);
        let asked = format!("at least {} must be present before any is taken", limit.least);
        let ruling = if present >= limit.least {
            Ruling::not(format!("There are {present}{seen}: {asked}."))
        } else {
            Ruling::holds(format!("There are only {present}{seen}: {asked}."))
                .leave(Head::TooFew, format!("There are fewer than {}.", limit.least))
        };
        ruling.number("present", present).number("least", limit.least)
    }

    /// So many over a span of time.
    pub(super) fn count(&self, limit: &CountLimit, names: &Names) -> Ruling {
        let before = self.ledger.over(limit.over, limit.per, names);
        if before.uncounted > 0 {
            return taken_uncounted();
        }
        let left = limit.most.saturating_sub(before.count);
        let (of, per) = (words::over(limit.over), words::per(limit.per));
        let text = format!("No more than {} {of}{per}{}.", limit.most, words::less(before.count, left));
        let first = if left == 0 {
            (Head::UsedUp, format!("The {} {of}{per} are taken.", limit.most))
        } else {
            (Head::Share, format!("No more than {} {of}{per}", limit.most))
        };
        Ruling::holds(text)
            .effect(Effect::AtMost(left))
            .head(first.0, first.1)
            .number("most", limit.most)
            .number("taken", before.count)
    }

    /// So many grams a person. A weight that is not known is a warning, and then no grams are promised.
    pub(super) fn weight(&self, limit: &WeightLimit, names: &Names) -> Ruling {
        let most = limit.grams.get();
        let before = self.ledger.over(Over::Person, limit.per, names);
        let each = self.asked.there.each.map(Grams::get).filter(|each| *each > 0.0);
        let heavy = each.is_some_and(|each| each > most);
        let one_heavy_is_taken = limit.single == Some(Single::Besides) && before.heaviest_single > most;
        let used = if one_heavy_is_taken { before.grams - before.heaviest_single } else { before.grams };
        // What nobody weighed is taken to weigh as much as these do, if that is known.
        let guessed = each.map_or(0.0, |each| f64::from(before.unweighed_count) * each);
        let left = (most - used - guessed).max(0.0);
        let of = words::spoken_of(names);
        let per = words::per(limit.per);
        let rule = format!("No more than {}{of}{per}", words::weight(most));
        let numbers =
            |ruling: Ruling| ruling.number("grams", most).number("used", used).number("left_grams", left);

        if !before.is_something() && limit.clump && self.asked.there.growth == Some(Growth::Tuft) {
            return numbers(Ruling::holds(format!(
                "{rule}, but one clump counts as a single fruitbody and may weigh more."
            )));
        }
        let may_exceed = match limit.single {
            Some(Single::Alone) => !before.is_something(),
            Some(Single::Besides) => !one_heavy_is_taken && before.unweighed == 0,
            None => false,
        };
        if heavy && may_exceed {
            let text = format!("{rule}, but one fruitbody may weigh more: one of these, and no other.");
            return numbers(
                Ruling::holds(text)
                    .effect(Effect::AtMost(1))
                    .head(Head::Share, "One that is heavier than the limit"),
            );
        }
        let used_up = format!("{}{of}{per} are used up.", words::weight(most));
        if left <= 0.0 {
            let text = format!("{rule}; {} are taken already.", words::weight(used + guessed));
            return numbers(Ruling::holds(text).leave(Head::UsedUp, used_up));
        }
        let number = each.map(|each| words::whole(left / each));
        let effect = number.map_or(Effect::Grams(left), Effect::AtMost);
        let first = if number == Some(0) {
            (
                Head::UsedUp,
                format!("One of these weighs more than the {} that are left.", words::weight(left)),
            )
        } else {
            (Head::Share, rule.clone())
        };
        if before.unweighed > 0 {
            let text =
                format!("{rule}. What you have taken was not all weighed: weigh it, or stop well before.");
            let warning = Ruling::unknown(Missing::Grams, text).head(first.0, first.1);
            // What is known already limits the number; the grams that are left cannot be told.
            return numbers(if number.is_some() { warning.effect(effect) } else { warning });
        }
        let already = if used > 0.0 {
            format!("; {} are taken, {} left", words::weight(used), words::weight(left))
        } else {
            String::new()
        };
        numbers(Ruling::holds(format!("{rule}{already}.")).effect(effect).head(first.0, first.1))
    }

    /// So many specimens of a species for study.
    pub(super) fn study(&self, limit: &StudyLimit) -> Ruling {
        let before = self.ledger.over(Over::Species, limit.per, &Names::default()).specimens;
        let text = format!("No more than {} of a species for study{}.", limit.most, words::per(limit.per));
        let ruling = Ruling::holds(text).number("most", limit.most).number("taken", before);
        if before >= limit.most { ruling.and_no_specimen() } else { ruling }
    }

    /// Whether the owner's own specimens of this visit are all that a print needs.
    pub(super) fn has_a_specimen(&self) -> bool {
        self.ledger.here_on_this_visit().specimens > 0
            || self.ledger.over(Over::Species, Per::Visit, &Names::default()).specimens > 0
    }
}

pub(super) fn taken_uncounted() -> Ruling {
    Ruling::unknown(Missing::Taken, "How many were taken already is not known.")
        .leave(Head::NotCounted, "Still to count: what was taken already.")
}
