//! What a reader must know that no figure says: assumptions with their sources, limits, cautions.

use super::sources;
use crate::concrete::{CONCRETE_LB_PER_YD3, HotWeather, hot_weather};
use crate::engine::Spread;
use crate::hours::{Clock, RuleBook};
use crate::report::number::{count, number};
use crate::report::rule_book::limits;
use crate::scenario::defaults::{About, Mark, Source, Value, Whose};
use crate::scenario::{Scenario, Truck};
use crate::units::measure::Quantity;

/// One assumption.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assumption {
    /// What is assumed.
    pub what: String,
    /// Its value in this scenario.
    pub here: String,
    /// Whose value that is: `yours`, `default`, `partly yours`, or `built in`.
    pub whose: &'static str,
    /// Where the usual value comes from.
    pub source: String,
}

/// The assumptions of a scenario: what the program is built on, then every value that the scenario or the list of defaults gives,
/// and last what nothing is written of.
pub(super) fn of(scenario: &Scenario) -> Vec<Assumption> {
    let mut rows = built_in(scenario);
    let mut off = Vec::new();
    for (entry, mark) in scenario.marks.used() {
        let about = entry.about();
        if about.source == Source::Off && mark.whose() == Whose::Default {
            off.push(sources::told(about.name));
        } else if mark.values != [Value::Written] {
            rows.push(listed(about, mark));
        }
    }
    if !off.is_empty() {
        rows.push(Assumption {
            what: "not counted, as nothing is written".to_owned(),
            here: off.join("; "),
            whose: sources::whose(Whose::Default),
            source: Source::Off.to_string(),
        });
    }
    rows
}

/// Those of the list of defaults at these paths that are used, in the order of the list; what is off is left out.
pub(super) fn at(scenario: &Scenario, paths: &[&str]) -> Vec<Assumption> {
    let used = scenario
        .marks
        .used()
        .map(|(entry, mark)| (entry.about(), mark));
    let asked = used.filter(|(about, mark)| {
        let off = about.source == Source::Off && mark.whose() == Whose::Default;
        paths.contains(&about.path) && !off && mark.values != [Value::Written]
    });
    asked.map(|(about, mark)| listed(about, mark)).collect()
}

fn listed(about: &About, mark: &Mark) -> Assumption {
    Assumption {
        what: sources::told(about.name),
        here: sources::here(about, mark),
        whose: sources::whose(mark.whose()),
        source: sources::told(&about.source.to_string()),
    }
}

const BUILT_IN: &str = "built in";

fn row(what: &str, here: String, whose: &'static str, source: &str) -> Assumption {
    Assumption {
        what: what.to_owned(),
        here,
        whose,
        source: sources::told(source),
    }
}

/// What no field of the list of defaults says.
fn built_in(scenario: &Scenario) -> Vec<Assumption> {
    let yours = sources::whose(Whose::Yours);
    let book = match scenario.marks.of("scenario.rule_book") {
        Some(mark) => sources::whose(mark.whose()),
        None => yours,
    };
    let network = scenario.roads.network.is_some();
    let mut rows = vec![
        row(
            "hours of service",
            rule_books(scenario),
            book,
            &hours_source(scenario),
        ),
        row(
            "trip times",
            format!(
                "{} of the scenario",
                if network { "network" } else { "table" }
            ),
            yours,
            "lognormal fits trips best in several published studies; 20% to 35% is usual",
        ),
    ];
    let by_hour = !scenario.roads.by_hour.is_empty();
    if network || by_hour || !scenario.roads.traffic.is_empty() {
        let here = match (network, by_hour) {
            (true, _) => {
                "by link, weekday and hour; day factors and incidents as the scenario says"
            }
            (_, true) => "minutes of each way by time of day, driven through along the trip",
            _ => "by weekday and hour, driven through along the trip",
        };
        rows.push(row(
            "traffic",
            here.into(),
            yours,
            "peaks 06–10 and 15–19 h: urban congestion reports",
        ));
    }
    rows.extend(standstills(scenario));
    rows.push(match scenario.concrete.material {
        Some(_) => row(
            "weight of concrete",
            weight(scenario),
            yours,
            "masses of the mixes as the scenario describes them; each load is cut to its own legal weight",
        ),
        None => row(
            "weight of concrete",
            weight(scenario),
            BUILT_IN,
            "150 lb a cubic foot: handbook value of normal concrete",
        ),
    });
    if scenario.concrete.material.is_some() {
        rows.extend(concrete());
    }
    rows
}

/// What goes down, by the scenario.
fn standstills(scenario: &Scenario) -> Option<Assumption> {
    let said = |what: &str, outages: Vec<(f64, &Spread)>| {
        (!outages.is_empty()).then(|| {
            let hours = spread_over(outages.iter().map(|(between, _)| *between));
            let minutes = spread_over(outages.iter().map(|(_, minutes)| minutes.mean()));
            format!("{what} every {hours} h for {minutes} min")
        })
    };
    let plants = scenario.plants.iter();
    let plants = plants.filter_map(|plant| plant.outages.as_ref());
    let plants = plants.map(|outages| (outages.mean_h_between, &outages.minutes));
    let trucks = scenario.trucks.iter();
    let trucks = trucks.filter_map(|truck| truck.breakdowns.as_ref());
    let trucks = trucks.map(|breakdowns| (breakdowns.mean_h_between, &breakdowns.minutes));
    let networks = scenario.roads.network.iter();
    let links = networks.flat_map(|network| &network.links);
    let incidents = links.filter(|link| link.incidents.is_some()).count();
    let parts: Vec<String> = [
        said("a plant goes down", plants.collect()),
        said("a driven truck breaks down", trucks.collect()),
        (incidents > 0).then(|| format!("incidents on {} links", count(incidents as u64))),
    ]
    .into_iter()
    .flatten()
    .collect();
    let here = (!parts.is_empty()).then(|| parts.join("; "))?;
    Some(row(
        "outages, breakdowns, incidents",
        here,
        sources::whose(Whose::Yours),
        "how often: no source; 26 min for an incident is published for roads with a response program",
    ))
}

/// What the concrete in the drum is reckoned with where it is computed.
fn concrete() -> [Assumption; 3] {
    [
        row(
            "slump and water",
            sources::told("1.5 gal a yd³ for an inch up to 3.5 in, 0.8 up to 7 in, more above"),
            BUILT_IN,
            "mixing-water table of ACI 211.1; a gallon for an inch in \"Adjusting slump in the field\", Concrete Construction",
        ),
        row(
            "slump loss",
            sources::told(
                "a gallon a yd³ in half an hour of agitation at 70 °F, faster when mixing and when warm",
            ),
            BUILT_IN,
            "estimate; PCA tests in \"Long time mixing\", Concrete Construction",
        ),
        row(
            "strength",
            "from w/c at 28 days, less what air beyond the mix's and concrete warmer than the mix is made for take".into(),
            BUILT_IN,
            "curves of ACI 211.1, or Abrams' law where the scenario writes it",
        ),
    ]
}

/// What a yd³ or a m³ weighs.
fn weight(scenario: &Scenario) -> String {
    let unit = Quantity::Density.unit();
    let whole = |lb: f64| count(Quantity::Density.told(lb).round() as u64);
    let Some(material) = &scenario.concrete.material else {
        return format!("{} {unit}", whole(CONCRETE_LB_PER_YD3));
    };
    let weights = material
        .mixes
        .iter()
        .map(|described| described.mix.lb_per_yd3());
    let (light, heavy) = weights.fold((f64::INFINITY, 0.0_f64), |(light, heavy), lb| {
        (light.min(lb), heavy.max(lb))
    });
    let (light, heavy) = (whole(light), whole(heavy));
    if light == heavy {
        format!("{light} {unit}, by the mix")
    } else {
        format!("{light} to {heavy} {unit}, by the mix")
    }
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
    let breaks_down = |truck: &Truck| truck.breakdowns.is_some();
    let broken = match scenario.trucks.iter().any(breaks_down) {
        true => ON_THE_ROAD,
        false => TOWING,
    };
    [concrete]
        .into_iter()
        .chain(reused)
        .chain([broken])
        .chain(NOT_MODELED)
        .collect()
}

const CONCRETE_BY_SHARES: &str = "Slump, strength and temperature: at the rack a load is fine or too wet by a share of loads; age has one limit.";
const CONCRETE_COMPUTED: &str = "Concrete: strength follows from w/c alone, not from air, age or curing; a load of another mix is turned away and not \
     computed.";

const REUSED: &str = "Returned concrete under a load: that blends set faster (tests of the NRMCA, The Concrete Producer), stabilizers, testing it; \
     loads turned away are never reused.";

const TOWING: &str = "Roadside towing: a truck that breaks down is repaired where it stands.";
const ON_THE_ROAD: &str = "Loads moved from truck to truck on the road, and relief for the driver of a truck that stands there: it is repaired \
     where it stands, or towed home with its driver if a load has set in its drum.";

const NOT_MODELED: [&str; 2] = [
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
