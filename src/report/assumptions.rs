//! What a reader must know that no figure says: assumptions with their sources, limits, cautions.

mod luck;

use crate::concrete::{CONCRETE_LB_PER_YD3, HotWeather, hot_weather};
use crate::engine::Spread;
use crate::hours::{Clock, RuleBook};
use crate::report::number::{count, number};
use crate::report::rule_book::limits;
use crate::scenario::{Material, Plant, Scenario};
use std::borrow::Cow;

/// One assumption.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assumption {
    /// What is assumed.
    pub what: &'static str,
    /// Its value in this scenario.
    pub here: String,
    /// Where the usual value comes from.
    pub source: Cow<'static, str>,
}

/// The assumptions of a scenario.
pub(super) fn of(scenario: &Scenario) -> Vec<Assumption> {
    let row = |what, here, source: &'static str| Assumption {
        what,
        here,
        source: source.into(),
    };
    let plants = |value: &dyn Fn(&Plant) -> f64| spread_over(scenario.plants.iter().map(value));
    let mut rows = vec![
        row(
            "loading 10 yd³",
            format!("{} min", plants(&Plant::loading_10_yd3_min)),
            "5 to 10 min from start to finish: trade handbooks on ready-mixed plants",
        ),
        row(
            "check and rinse at the slump rack",
            format!("{} min", plants(&|plant| plant.rack.mean())),
            "3 to 10 min: estimate, no source; use your own",
        ),
        row(
            "trip times",
            format!(
                "{} of the scenario; one trip varies by {}%",
                if scenario.roads.network.is_some() {
                    "network"
                } else {
                    "table"
                },
                percent(&scenario.roads.luck)
            ),
            "lognormal fits trips best in several published studies; 20 to 35% is usual",
        ),
        row(
            "traffic",
            if scenario.roads.network.is_some() {
                "by link, weekday and hour; day factors and incidents as the scenario says".into()
            } else if scenario.roads.traffic.is_empty() {
                "none".into()
            } else {
                "by weekday and hour, driven through along the trip".into()
            },
            "peaks 06–10 and 15–19 h: urban congestion reports",
        ),
        Assumption {
            what: "hours of service",
            here: rule_books(scenario),
            source: hours_source(scenario).into(),
        },
        row(
            "when a load is late",
            format!(
                "{} min after the site was ready",
                spread_over(scenario.orders.iter().map(|order| order.late.minutes()))
            ),
            "± 15 min of schedule: a producer's published terms",
        ),
        row(
            "drivers' paid hour",
            format!(
                "{}; {} after {} h",
                crate::report::number::money(scenario.money.pay_per_h.units()),
                overtime(scenario.money.overtime_factor),
                number(scenario.money.overtime_after.hours(), 1).trim_end_matches(".0")
            ),
            "about $27 an hour for drivers of heavy trucks: estimate, no source; use your own",
        ),
        row(
            "weight of concrete",
            weight(scenario),
            match scenario.concrete.material {
                Some(_) => {
                    "masses of the mixes as the scenario describes them; each load is cut to its own legal weight"
                }
                None => "150 lb a cubic foot: handbook value of normal concrete",
            },
        ),
    ];
    rows.extend(luck::rows(scenario));
    if let Some(material) = &scenario.concrete.material {
        rows.extend(concrete(material));
    }
    if let Some(reuse) = &scenario.concrete.reuse {
        rows.push(row(
            "returned concrete reused",
            format!(
                "under the truck's next load of the same mix, up to {} min old and {}% of that load",
                number(reuse.age_limit.minutes(), 0),
                number(100.0 * reuse.share, 0)
            ),
            "ASTM C1798, which leaves the permission to the purchaser; minutes and share: estimate, no source; use your own",
        ));
    }
    rows
}

/// What the concrete in the drum is reckoned with.
fn concrete(material: &Material) -> Vec<Assumption> {
    let row = |what, here, source: &'static str| Assumption {
        what,
        here,
        source: source.into(),
    };
    vec![
        row(
            "slump and water",
            "an inch for a gallon a yd³ up to 6 in, less above".into(),
            "\"Adjusting slump in the field\", Concrete Construction; ACI 211.1 has 1.5 gal an inch at low and 0.8 at high slump",
        ),
        row(
            "slump meter",
            format!(
                "off by {} in; sees HRWR after {} revolutions or {} min",
                number(material.meter.sd_in, 2),
                number(material.meter.revolutions, 0),
                number(material.meter.minutes, 1)
            ),
            "70 to 100 revolutions or about 5 min mix a load: NRMCA; the rest: estimate, no source; use your own",
        ),
        row(
            "slump loss",
            "an inch in half an hour of agitation at 70 °F, faster when mixing and when warm"
                .into(),
            "estimate; PCA tests in \"Long time mixing\", Concrete Construction",
        ),
        row(
            "strength",
            "from w/c alone, at 28 days".into(),
            "curves of ACI 211.1, or Abrams' law where the scenario writes it",
        ),
        row(
            "aggregates' water",
            format!(
                "fine aggregate off by {}%, with a probe {} of that",
                number(100.0 * material.moisture.fine_sd, 2),
                number(material.moisture.probe_share, 2)
            ),
            "estimate, no source; use your own",
        ),
        row(
            "tickets and second looks",
            format!(
                "{}% read; {}% of watered loads read again",
                number(100.0 * material.tickets.read, 0),
                number(100.0 * material.corrections.looks_again, 0)
            ),
            "estimate, no source; use your own: the plant's habit decides what a warning saves",
        ),
        row(
            "age",
            match material.age_limit {
                Some(limit) => format!("{} min", number(limit.minutes(), 0)),
                None => format!("table {:?}", material.age.name()),
            },
            material.age.source(),
        ),
    ]
}

/// What a yd³ weighs.
fn weight(scenario: &Scenario) -> String {
    let Some(material) = &scenario.concrete.material else {
        return format!("{} lb a yd³", count(CONCRETE_LB_PER_YD3.round() as u64));
    };
    let weights = material
        .mixes
        .iter()
        .map(|described| described.mix.lb_per_yd3());
    let (light, heavy) = weights.fold((f64::INFINITY, 0.0_f64), |(light, heavy), lb| {
        (light.min(lb), heavy.max(lb))
    });
    let (light, heavy) = (count(light.round() as u64), count(heavy.round() as u64));
    if light == heavy {
        format!("{light} lb a yd³, by the mix")
    } else {
        format!("{light} to {heavy} lb a yd³, by the mix")
    }
}

/// `time and a half`, `2.25 times the pay`.
fn overtime(factor: f64) -> String {
    match factor {
        1.5 => "time and a half".into(),
        2.0 => "double time".into(),
        other => format!("{} times the pay", number(other, 2)),
    }
}

fn percent(luck: &Spread) -> String {
    number(100.0 * luck.cv(), 0)
}

/// `6.0`, or `6.0 to 7.5` where it differs.
fn spread_over(values: impl Iterator<Item = f64>) -> String {
    let (low, high) = values.fold((f64::INFINITY, 0.0_f64), |(low, high), value| {
        (low.min(value), high.max(value))
    });
    if low > high {
        "–".into()
    } else if high - low < 0.05 {
        number(low, 1)
    } else {
        format!("{} to {}", number(low, 1), number(high, 1))
    }
}

/// The rule books of drivers, each once.
fn books(scenario: &Scenario) -> Vec<RuleBook> {
    let mut books = Vec::new();
    for driver in &scenario.drivers {
        if !books.contains(&driver.rule_book) {
            books.push(driver.rule_book);
        }
    }
    books
}

fn rule_books(scenario: &Scenario) -> String {
    let words: Vec<String> = books(scenario)
        .into_iter()
        .map(|book| rule_book(book, scenario))
        .collect();
    words.join("; ")
}

/// Where the limits of those books are written, each source once.
fn hours_source(scenario: &Scenario) -> String {
    let mut sources: Vec<&str> = Vec::new();
    for book in books(scenario) {
        let RuleBook::Set(at) = book else { continue };
        let rules = &scenario.rule_sets[at as usize];
        let laws = Clock::ALL.into_iter().filter_map(|rule| rules.law(rule));
        for law in laws {
            if !sources.contains(&&*law.citation) {
                sources.push(&law.citation);
            }
        }
    }
    if sources.is_empty() {
        sources.push("the scenario's own limit");
    }
    format!(
        "{}; local rules and the carrier's decide",
        sources.join(", ")
    )
}

fn rule_book(book: RuleBook, scenario: &Scenario) -> String {
    match book {
        RuleBook::Set(at) => limits(&scenario.rule_sets[at as usize]),
        RuleBook::Unlimited => "no limit".into(),
    }
}

/// What a reader might take for granted and is not there.
pub(super) fn not_modeled(scenario: &Scenario) -> Vec<&'static str> {
    let concrete = match scenario.concrete.material {
        Some(_) => CONCRETE_COMPUTED,
        None => CONCRETE_BY_SHARES,
    };
    let reused = scenario.concrete.reuse.map(|_| REUSED);
    [concrete]
        .into_iter()
        .chain(reused)
        .chain(NOT_MODELED)
        .collect()
}

const CONCRETE_BY_SHARES: &str = "Slump, strength and temperature: at the rack a load is fine or too wet by a share of loads; age has one limit.";
const CONCRETE_COMPUTED: &str = "Concrete: strength follows from w/c alone, not from air, age or curing; a load of another mix is turned away and not \
     computed.";

const REUSED: &str = "Returned concrete under a load: that blends set faster (tests of the NRMCA, The Concrete Producer), stabilizers, testing it; \
     loads turned away are never reused.";

const NOT_MODELED: [&str; 3] = [
    "Roadside towing: a truck that breaks down is repaired where it stands.",
    "Sleeper berths, adverse conditions claimed on the road, breaks taken between two places, trucks left out at the end of the period.",
    "What dispatchers do beyond the rule: every rule, its overrides included, is followed to the letter.",
];

/// Where the work can hurt someone, in this scenario.
pub(super) fn cautions(scenario: &Scenario) -> Vec<&'static str> {
    let round = scenario
        .weighing
        .as_ref()
        .is_some_and(|weighing| weighing.goes_round > 0.0);
    let material = scenario.concrete.material.as_ref();
    let hot = material.and_then(
        |material| match hot_weather(material.warmest_concrete_f()) {
            HotWeather::Usual => None,
            HotWeather::Caution => Some(HOT_WEATHER),
            HotWeather::TooHot => Some(TOO_HOT),
        },
    );
    CAUTIONS
        .into_iter()
        .chain(hot)
        .chain(round.then_some(GOING_ROUND))
        .collect()
}

const HOT_WEATHER: &str = "Hot weather here: the concrete gets warmer than usual, stiffens and dries faster. Look at the contract's limits \
     on its temperature; crews need water, shade and breaks.";

const TOO_HOT: &str = "Hot weather here: the concrete gets warmer than 95 °F, which is not placed without the engineer's word. Look at \
     the contract's limits; crews need water, shade and breaks.";

const GOING_ROUND: &str = "Some loads here go round weigh stations, as the scenario says. That is shown for what it costs and is no \
     advice: it may be against the law, and a doubtful weight calls for a smaller load or a truck scale.";

/// Where the work can hurt someone.
pub(super) const CAUTIONS: [&str; 5] = [
    "This is a plan, not a permission: local codes, hours-of-service rules and the carrier's own records decide who may drive.",
    "A simulated legal day is not a safe day. Tired drivers stop before any limit is reached; no load is worth a crash.",
    "Keep to legal gross, axle and bridge weights. A smaller load is the only answer to a doubtful weight.",
    "Wet concrete burns skin and eyes, cement and silica dust harm lungs: gloves, boots, eye and breathing protection, rinse water.",
    "Water is added only with authority and within the mix's limits. Time limits belong to the contract, not to this program.",
];
