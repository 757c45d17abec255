//! Times, chances and names as all answers say them.

use super::Asked;
use crate::hours::Law;
use crate::report::number::{Unit, number};
use crate::scenario::Scenario;
use crate::studies::trip::Spanning;
use crate::studies::{Chance, Estimate};
use crate::units::{DriverId, Millis};
use serde_json::{Value, json};

/// What holds for every answer.
pub(super) const NOTES: [&str; 4] = [
    "Every trial goes on from the moment without knowing the true future: what is under way is drawn again, given how long it has \
     lasted, everything else anew.",
    "Search and final answer stand on different trials; choices are compared on the same luck.",
    "What is in the drums is taken as it is; a site's pace counts as known once its first load is discharged.",
    "A plan within the law. A driver whom a clock bars is refused in every trial. The driver's own log, the carrier and the \
     local rules decide.",
];

/// `Wed 15:40`.
pub(super) fn clock(scenario: &Scenario, at: Millis) -> String {
    let minutes = Millis::from_minutes(at.minutes().round());
    let day = minutes.day();
    let time = minutes - Millis::midnight(day);
    if scenario.period.days == 1 && day == 0 {
        return time.to_string();
    }
    let weekday = format!("{:?}", scenario.period.first_day.after(day));
    format!("{} {time}", &weekday[..3])
}

/// `15:40`, with the weekday if it is not that of the moment.
pub(super) fn short(asked: &Asked<'_>, minutes: f64) -> String {
    let at = Millis::from_minutes(minutes.max(0.0).round());
    if at.day() == asked.question.at.day() {
        (at - Millis::midnight(at.day())).to_string()
    } else {
        clock(asked.scenario, at)
    }
}

/// `15:40 (15:31 to 15:58)`.
pub(super) fn span_of_time(asked: &Asked<'_>, span: Option<Spanning>) -> String {
    span.map_or("–".into(), |span| {
        format!(
            "{} ({} to {})",
            short(asked, span.middle),
            short(asked, span.low),
            short(asked, span.high)
        )
    })
}

/// `2 h 10 min`.
pub(super) fn length(minutes: f64) -> String {
    let whole = minutes.round();
    let sign = if whole < 0.0 { "−" } else { "" };
    let (h, min) = ((whole.abs() / 60.0).floor(), whole.abs() % 60.0);
    if h > 0.0 {
        format!("{sign}{h:.0} h {min:02.0} min")
    } else {
        format!("{sign}{min:.0} min")
    }
}

/// `96 % (93 to 98)`.
pub(super) fn chance(chance: &Chance) -> String {
    format!(
        "{} ({} to {})",
        Unit::Share.show(chance.share(), 0),
        number(100.0 * chance.interval.low, 0),
        number(100.0 * chance.interval.high, 0)
    )
}

/// `96 % (93–98)`, for tables.
pub(super) fn narrow(chance: &Chance) -> String {
    format!(
        "{} ({}–{})",
        Unit::Share.show(chance.share(), 0),
        number(100.0 * chance.interval.low, 0),
        number(100.0 * chance.interval.high, 0)
    )
}

/// `2:10`, hours and minutes, for tables.
pub(super) fn h_min(minutes: f64) -> String {
    let whole = minutes.round();
    let sign = if whole < 0.0 { "−" } else { "" };
    format!(
        "{sign}{:.0}:{:02.0}",
        (whole.abs() / 60.0).floor(),
        whole.abs() % 60.0
    )
}

/// `15:40 (15:31–15:58)`, for tables.
pub(super) fn narrow_times(asked: &Asked<'_>, span: Option<Spanning>) -> String {
    span.map_or("–".into(), |span| {
        format!(
            "{} ({}–{})",
            short(asked, span.middle),
            short(asked, span.low)
                .rsplit(' ')
                .next()
                .unwrap_or_default(),
            short(asked, span.high)
                .rsplit(' ')
                .next()
                .unwrap_or_default()
        )
    })
}

pub(super) fn percent(chance: &Chance) -> String {
    Unit::Share.show(chance.share(), 0)
}

/// `+$120 ± 80`.
pub(super) fn money(estimate: &Estimate) -> String {
    let Some(mean) = estimate.mean else {
        return "–".into();
    };
    let half = estimate.interval.half_width();
    let shown = Unit::Money.show_difference(mean, 0);
    if half.is_finite() {
        format!("{shown}\u{a0}±\u{a0}{}", number(half, 0))
    } else {
        shown
    }
}

/// A mean and how far its interval reaches.
pub(super) fn estimate(estimate: &Estimate, decimals: usize) -> String {
    let Some(mean) = estimate.mean else {
        return "–".into();
    };
    let half = estimate.interval.half_width();
    let shown = Unit::Plain.show_difference(mean, decimals);
    if half.is_finite() {
        format!("{shown}\u{a0}±\u{a0}{}", number(half, decimals))
    } else {
        shown
    }
}

/// The clock's name and its source.
pub(super) fn law(law: &Law) -> String {
    format!("{} ({})", law.rule.replace('_', " "), law.citation)
}

pub(super) fn driver(asked: &Asked<'_>, driver: DriverId) -> String {
    asked.scenario.drivers[driver.at()].name.clone()
}

/// What is asked about, in one line.
pub(super) fn moment(asked: &Asked<'_>) -> String {
    let (scenario, question) = (asked.scenario, asked.question);
    format!(
        "{}, {}, rule \"{}\"",
        scenario.name,
        clock(scenario, question.at),
        scenario.rules[question.rule].name
    )
}

/// How sure it is.
pub(super) fn sureness(asked: &Asked<'_>, trials: u64, searched: u64, stopped: bool) -> String {
    let stop = if stopped {
        " It was interrupted: fewer trials than asked for."
    } else {
        ""
    };
    format!(
        "{trials} trials of the final answer, {searched} others of the search, seed {}. In brackets: {:.0} % intervals of chances, of \
         times what 1 trial in 20 falls below and above. \
         A plan is no permission: the driver's log and the carrier decide.{stop}",
        asked.question.seed,
        asked.question.level * 100.0
    )
}

pub(super) fn chance_json(chance: &Chance) -> Value {
    json!({
        "times": chance.times,
        "of": chance.of,
        "share": (chance.of > 0).then(|| chance.share()),
        "low": chance.interval.low,
        "high": chance.interval.high,
        "at_least": chance.at_least,
    })
}

pub(super) fn span_json(span: Option<Spanning>) -> Value {
    span.map_or(
        Value::Null,
        |span| json!({ "p05": span.low, "median": span.middle, "p95": span.high }),
    )
}

pub(super) fn estimate_json(estimate: &Estimate) -> Value {
    let bounded = estimate.interval.is_bounded();
    json!({
        "mean": estimate.mean,
        "low": bounded.then_some(estimate.interval.low),
        "high": bounded.then_some(estimate.interval.high),
    })
}

/// What every JSON answer begins with.
pub(super) fn head_json(
    asked: &Asked<'_>,
    kind: &str,
    decision: &str,
) -> serde_json::Map<String, Value> {
    let question = asked.question;
    let head = json!({
        "study": "trip",
        "question": kind,
        "scenario": asked.scenario.name,
        "at": clock(asked.scenario, question.at),
        "rule": asked.scenario.rules[question.rule].name,
        "replication": question.replication,
        "seed": question.seed,
        "probability": question.probability,
        "level": question.level,
        "decision": decision,
    });
    match head {
        Value::Object(map) => map,
        _ => serde_json::Map::new(),
    }
}
