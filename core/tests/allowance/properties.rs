//! What must hold whatever the case: adding a limit never allows more, and neither does seeing fewer, taking some and asking
//! again, or knowing less; and the order of limits never matters.

use std::sync::LazyLock;

use proptest::prelude::*;
use trug::allowance::{Advice, Answer, Asked, Facts, Maturity, Naming, Past, Site, Take, There, advise};
use trug::code::{Code, Limit, Rule};
use trug::find::{Count, Growth, Hazard, Host, How, Sure, Width};
use trug::moment::Moment;
use trug::outing::Permission;
use trug::place::Position;
use trug::stage::Stage;
use trug::units::{Grams, Millimetres};

use super::codes;
use super::situation::known;

/// Every rule of every code, and some that no code has.
static RULES: LazyLock<Vec<Rule>> = LazyLock::new(|| {
    let all = codes::all();
    // Told apart, as the rules of one code are.
    let named =
        |code: &Code, rule: &Rule| Rule { id: format!("{}-{}", code.about.id, rule.id), ..rule.clone() };
    let mut rules: Vec<Rule> =
        all.iter().flat_map(|code| code.rules.iter().map(|rule| named(code, rule))).collect();
    let own = |id: &str, limit: &str| {
        let rule = format!("id = \"{id}\"\nwords = \"Invented.\"\nlimit = {limit}");
        toml::from_str::<Rule>(&rule).unwrap()
    };
    rules.extend([
        own("third-up", "{ share = { most = \"1/3\", round = \"up\" } }"),
        own("third-nearest", "{ share = { most = \"2/5\", round = \"nearest\" } }"),
        own("six-present", "{ present = { least = 6 } }"),
        own("keep-three", "{ keep = { least = 3 } }"),
        own("five-a-day", "{ count = { most = 5, per = \"day\", over = \"person\" } }"),
        own("four-a-season", "{ count = { most = 4, per = \"season\", over = \"patch\" } }"),
        own("six-of-a-kind", "{ count = { most = 6, per = \"year\", over = \"species\" } }"),
        own("rest", "{ rest = { days = 14 } }"),
        own("light", "{ weight = { grams = 300, per = \"visit\", single = \"besides\" } }"),
        own("winter", "{ closed-season = { from = \"12-15\", to = \"01-31\" } }"),
    ]);
    rules
});

static FUNGI: LazyLock<Vec<Facts>> = LazyLock::new(|| {
    let ids = [
        "velvet-shank",
        "elf-cups",
        "cep",
        "morel",
        "beefsteak-fungus",
        "royal-bolete",
        "funeral-bell",
        "chanterelle",
    ];
    // Sizes that lie in the fungus are judged by eye where nobody measured, and then hold nothing back.
    ids.iter().map(|id| Facts { taken_from: Vec::new(), ..known(id) }).collect()
});

/// A case that owns what it is made of.
#[derive(Debug, Clone)]
struct Made {
    fungus: Option<usize>,
    settled: bool,
    there: There,
    land: Permission,
    hazards: Vec<Hazard>,
    host: Option<Host>,
    position: Option<Position>,
    now: Moment,
    takes: Vec<Take>,
    rules: Vec<usize>,
}

impl Made {
    fn advice(&self) -> Advice {
        self.by(std::slice::from_ref(&self.rules))
    }

    /// The rules given as so many codes.
    fn by(&self, codes: &[Vec<usize>]) -> Advice {
        let of = |rules: &Vec<usize>| Code::own(rules.iter().map(|at| RULES[*at].clone()).collect());
        let codes: Vec<Code> = codes.iter().map(of).collect();
        let codes: Vec<&Code> = codes.iter().collect();
        let fungi: Vec<&Facts> = FUNGI.iter().collect();
        advise(&Asked {
            fungus: self.fungus.map(|at| &FUNGI[at]),
            naming: if self.settled { Naming::By(How::Key) } else { Naming::NotSettled },
            or: &[],
            there: self.there.clone(),
            site: Site {
                land: self.land,
                areas: &[],
                hazards: &self.hazards,
                host: self.host.as_ref(),
                position: self.position,
            },
            now: self.now,
            past: Past { takes: &self.takes, fungi: &fungi, rest_until: None },
            codes: &codes,
            unread: &[],
        })
    }
}

/// How much an answer allows: whether at all, how many, a specimen, grams where both say so.
fn allows_no_more(less: &Advice, more: &Advice) -> bool {
    let grams = match (less.grams_left, more.grams_left) {
        (Some(less), Some(more)) => less <= more,
        _ => true,
    };
    less.answer <= more.answer && less.up_to <= more.up_to && less.specimen <= more.specimen && grams
}

fn stage() -> impl Strategy<Value = Stage> {
    proptest::sample::select(Stage::ALL)
}

fn maturity() -> impl Strategy<Value = Maturity> {
    prop_oneof![
        5 => stage().prop_map(Maturity::All),
        4 => proptest::collection::btree_map(stage(), 0_u32..8, 1..4).prop_map(Maturity::Mixed),
        1 => Just(Maturity::Unknown),
        1 => Just(Maturity::Uncounted),
    ]
}

fn width() -> impl Strategy<Value = Option<Width>> {
    let mm = |n: u32| Millimetres::new(f64::from(n)).unwrap();
    proptest::option::of(
        (5_u32..80, 0_u32..60)
            .prop_map(move |(least, more)| Width::new(mm(least), None, mm(least + more)).unwrap()),
    )
}

fn there() -> impl Strategy<Value = There> {
    let seen = proptest::option::weighted(
        0.95,
        (0_u32..30, 0_u32..6).prop_map(|(n, more)| Count::between(n, n + more).unwrap()),
    );
    let each = proptest::option::of((1_u32..4000).prop_map(|g| Grams::new(f64::from(g)).unwrap()));
    let growth = proptest::option::of(proptest::sample::select(Growth::ALL));
    (seen, maturity(), width(), width(), each, growth).prop_map(
        |(seen, maturity, width, height, each, growth)| There { seen, maturity, width, height, each, growth },
    )
}

fn moment() -> impl Strategy<Value = Moment> {
    // All of 2026, at two offsets, to the second.
    (1_767_225_600_i64..1_798_761_600, 0_i8..2).prop_map(|(second, hour)| {
        Moment::new(jiff::Timestamp::from_second(second).unwrap(), jiff::tz::offset(hour))
    })
}

fn take() -> impl Strategy<Value = Take> {
    let grams = proptest::option::of((1_u32..2500).prop_map(|g| Grams::new(f64::from(g)).unwrap()));
    let fungus = proptest::option::weighted(0.9, 0..FUNGI.len());
    let flags = (any::<bool>(), any::<bool>(), any::<bool>());
    (moment(), fungus, flags, proptest::option::weighted(0.9, 0_u32..6), grams, 0_u32..2).prop_map(
        |(at, fungus, (visit, here, mine), count, grams, specimens)| Take {
            day: at.day(),
            fungus,
            visit,
            here,
            mine,
            count,
            grams,
            specimens,
        },
    )
}

fn host() -> impl Strategy<Value = Option<Host>> {
    let tree = proptest::sample::select(&["oak", "yew", "elder"][..]);
    let host =
        (tree, proptest::sample::select(Sure::ALL)).prop_map(|(tree, sure)| Host { tree: tree.into(), sure });
    proptest::option::weighted(0.9, host)
}

fn rules() -> impl Strategy<Value = Vec<usize>> {
    proptest::sample::subsequence((0..RULES.len()).collect::<Vec<_>>(), 0..7)
}

fn made() -> impl Strategy<Value = Made> {
    let place = (45_i32..58, -5_i32..15);
    let position = proptest::option::weighted(
        0.9,
        place.prop_map(|(n, e)| Position::new(f64::from(n), f64::from(e)).unwrap()),
    );
    let hazards = proptest::sample::subsequence(Hazard::ALL, 0..=1);
    let what = (proptest::option::weighted(0.95, 0..FUNGI.len()), proptest::bool::weighted(0.8));
    let where_ = (proptest::sample::select(Permission::ALL), hazards, host(), position);
    (what, there(), where_, moment(), proptest::collection::vec(take(), 0..5), rules()).prop_map(
        |((fungus, settled), there, (land, hazards, host, position), now, takes, rules)| Made {
            fungus,
            settled,
            there,
            land,
            hazards,
            host,
            position,
            now,
            takes,
            rules,
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn adding_a_limit_never_allows_more(made in made(), added in 0..RULES.len()) {
        let before = made.advice();
        let mut with = made.clone();
        with.rules.push(added);
        let after = with.advice();
        prop_assert!(allows_no_more(&after, &before), "{} added: {before:?} became {after:?}", RULES[added].id);
    }

    #[test]
    fn fewer_never_allow_more(made in made(), fewer in 1_u32..10) {
        let Some(seen) = made.there.seen else { return Ok(()) };
        let mut with = made.clone();
        let less = |n: u32| n.saturating_sub(fewer);
        with.there.seen = Some(Count::between(less(seen.least()), less(seen.most())).unwrap());
        prop_assert!(allows_no_more(&with.advice(), &made.advice()));
    }

    #[test]
    fn taking_and_asking_again_never_allows_more_in_total(made in made(), wanted in 0_u32..20, weighed in proptest::option::of(1_u32..2000)) {
        let first = made.advice();
        let count = wanted.min(first.up_to);
        // Where one is known to weigh so much, that is what those weigh that are taken.
        let weighed = weighed.map(|g| made.there.each.map_or(f64::from(g), |each| each.get() * f64::from(count)));
        let grams = weighed.map(Grams::nearest);
        let mut with = made.clone();
        with.takes.push(Take {
            day: made.now.day(), fungus: made.fungus, visit: true, here: true, mine: true, count: Some(count),
            grams: if count == 0 { None } else { grams }, specimens: 0,
        });
        let again = with.advice();
        prop_assert!(again.up_to + count <= first.up_to, "{count} of {} taken, then {}", first.up_to, again.up_to);
        prop_assert!(again.answer <= first.answer && again.specimen <= first.specimen);
        if let (Some(before), Some(after), Some(grams)) = (first.grams_left, again.grams_left, grams.filter(|_| count > 0)) {
            // One heavy fruitbody may stand besides a weight, and is not taken off it.
            let besides = made.rules.iter().any(|at| matches!(&RULES[*at].limit, Limit::Weight(weight) if weight.single.is_some()));
            prop_assert!(besides || after.get() <= (before.get() - grams.get()).max(0.0) + 1e-9);
        }
    }

    #[test]
    fn taking_against_advice_is_never_made_right_by_asking_again(made in made(), beyond in 1_u32..5) {
        let first = made.advice();
        prop_assert!(!first.is_followed_by(first.up_to + beyond, 0));
        let mut with = made.clone();
        with.takes.push(Take {
            day: made.now.day(), fungus: made.fungus, visit: true, here: true, mine: true, count: Some(first.up_to + beyond),
            grams: None, specimens: 0,
        });
        prop_assert_eq!(with.advice().answer, Answer::Leave);
    }

    /// Weights aside, of which an unknown one is a warning.
    #[test]
    fn knowing_less_never_allows_more(made in made(), what in 0_usize..9) {
        let mut with = made.clone();
        match what {
            0 => with.there.seen = None,
            1 => with.there.maturity = Maturity::Unknown,
            2 => with.there.width = None,
            3 => with.there.height = None,
            4 => with.host = None,
            5 => with.position = None,
            6 => with.land = Permission::Unknown,
            7 => with.fungus = None,
            _ => with.takes.iter_mut().for_each(|take| {
                take.fungus = None;
                take.count = if take.grams.is_some() { None } else { take.count };
            }),
        }
        let (less, more) = (with.advice(), made.advice());
        prop_assert!(less.answer <= more.answer && less.up_to <= more.up_to && less.specimen <= more.specimen, "{less:?} {more:?}");
    }

    #[test]
    fn the_order_of_limits_never_matters(made in made(), cut in 0_usize..7) {
        let one = made.advice();
        let mut other = made.clone();
        other.rules.reverse();
        other.takes.reverse();
        prop_assert_eq!(&one, &other.advice());
        let (front, back) = made.rules.split_at(cut.min(made.rules.len()));
        prop_assert_eq!(&one, &made.by(&[back.to_vec(), front.to_vec()]));
    }
}
