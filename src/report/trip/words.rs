//! Times, chances and names as all answers say them.

use super::{Asked, unsaid};
use crate::hours::Clock;
use crate::report::answer::{Answer, Cell};
use crate::report::number::{Unit, count, level, range};
use crate::report::rule_book::limit_name;
use crate::scenario::Scenario;
use crate::scenario::day_state::NoLonger;
use crate::studies::trip::Spanning;
use crate::studies::{Chance, Estimate};
use crate::units::{DriverId, Millis};
use serde_json::{Value, json};

/// What holds for every answer.
const NOTES: [&str; 4] = [
    "Every run goes on from the moment without knowing the true future: what is under way is drawn again, given how long it has \
     lasted, everything else anew.",
    "Search and final answer stand on different runs; choices are compared with the same chance events.",
    "What is in the drums is taken as it is; a site's pace counts as known once its first load is unloaded.",
    "A plan within the law. A driver whose hours do not allow it is refused in every run. The driver's own log, the carrier and \
     the local rules decide.",
];

/// An answer to a question of this kind: `asked` in its headline, and what every answer has.
pub(super) fn answer(asked: &Asked<'_>, kind: &str, decision: String, notes: &[&str]) -> Answer {
    let scenario = asked.scenario;
    let mut answer = Answer::new("trip", scenario, decision, asked.recipe.clone());
    answer.page_title = format!("{}: {}", answer.decision, scenario.name);
    answer.headline = vec![moment(asked)];
    answer.about = moment(asked);
    answer.notes = notes
        .iter()
        .chain(&NOTES)
        .map(|note| (*note).to_owned())
        .collect();
    answer.own_all(head_json(asked, kind));
    answer
}

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
    if minutes.is_infinite() {
        return "never".into();
    }
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
    if minutes.is_infinite() {
        return "none".into();
    }
    let whole = minutes.round();
    let sign = if whole < 0.0 { "−" } else { "" };
    let (h, min) = ((whole.abs() / 60.0).floor(), whole.abs() % 60.0);
    if h > 0.0 {
        format!("{sign}{h:.0} h {min:02.0} min")
    } else {
        format!("{sign}{min:.0} min")
    }
}

/// `96% (93 to 98%)`.
pub(super) fn chance(chance: &Chance) -> String {
    Cell::chance(chance, 0).words()
}

/// `96% of runs (93 to 98%)`.
pub(super) fn of_runs(chance: &Chance) -> String {
    let ends = range(chance.interval, |end| Unit::Share.show(end, 0));
    format!("{} of runs ({ends})", percent(chance))
}

/// `2:10`, hours and minutes, for tables.
pub(super) fn h_min(minutes: f64) -> String {
    if minutes.is_infinite() {
        return "none".into();
    }
    let whole = minutes.round();
    let sign = if whole < 0.0 { "−" } else { "" };
    format!(
        "{sign}{:.0}:{:02.0}",
        (whole.abs() / 60.0).floor(),
        whole.abs() % 60.0
    )
}

/// A time of day with what 1 run in 20 falls below and above; files have minutes.
pub(super) fn times(asked: &Asked<'_>, span: Option<Spanning>) -> Cell {
    spanning(span, |span| span_of_time(asked, Some(span)))
}

/// The median of a time of day.
pub(super) fn time(asked: &Asked<'_>, span: Option<Spanning>) -> Cell {
    spanning(span, |span| short(asked, span.middle))
}

/// A median told in these words, with its ends for files.
pub(super) fn spanning(span: Option<Spanning>, words: impl Fn(Spanning) -> String) -> Cell {
    Cell::Worded {
        words: span.map_or("–".into(), words),
        value: span.map(|span| span.middle).filter(|at| at.is_finite()),
        low: span.map(|span| span.low).filter(|at| at.is_finite()),
        high: span.map(|span| span.high).filter(|at| at.is_finite()),
    }
}

/// A small chance with its first digit that is not zero: `0.1%`, `0.03%`, `2%`.
pub(super) fn seldom(share: f64) -> String {
    let digits = [0.01, 0.001, 0.0001]
        .iter()
        .filter(|step| share < **step * 0.995)
        .count();
    Unit::Share.show(share, digits)
}

pub(super) fn percent(chance: &Chance) -> String {
    Unit::Share.show(chance.share(), 0)
}

/// What it costs more: `+$120 (+$40 to +$200)`.
pub(super) fn more_cost(estimate: &Estimate) -> Cell {
    Cell::estimate(estimate, Unit::Money, 0).signed()
}

/// The limit's name and its source: `14-hour window (49 CFR 395.3(a)(2))`.
pub(super) fn limit(asked: &Asked<'_>, driver: DriverId, clock: Clock) -> Option<String> {
    let book = asked.scenario.drivers[driver.at()].rule_book;
    let book = book.of(&asked.scenario.rule_sets)?;
    let law = book.law(clock)?;
    Some(format!("{} ({})", limit_name(book, clock), law.citation))
}

/// The limit's name alone: `14-hour window`.
pub(super) fn limit_words(asked: &Asked<'_>, driver: DriverId, clock: Clock) -> String {
    let book = asked.scenario.drivers[driver.at()].rule_book;
    let book = book.of(&asked.scenario.rule_sets);
    book.map_or(String::new(), |book| limit_name(book, clock))
}

pub(super) fn driver(asked: &Asked<'_>, driver: DriverId) -> String {
    asked.scenario.drivers[driver.at()].name.clone()
}

/// What is asked about, in one line.
pub(super) fn moment(asked: &Asked<'_>) -> String {
    let (scenario, question) = (asked.scenario, asked.question);
    format!(
        "{}, {}, under the rule \"{}\"",
        scenario.name,
        clock(scenario, question.at),
        scenario.rules[question.rule].name
    )
}

/// Why a file of how things stand is taken as one written by hand.
pub(super) fn no_longer(asked: &Asked<'_>, why: NoLonger) -> String {
    let state = asked.question.state.as_ref();
    let rule = state.and_then(|state| Some(state.simulated.as_ref()?.rule.as_str()));
    let why = match why {
        NoLonger::Edited => "was changed after it was written".to_owned(),
        NoLonger::OtherScenario => "was written from another text of the scenario".to_owned(),
        NoLonger::OtherVersion => "was written by another version of plantday".to_owned(),
        NoLonger::OtherRule => format!("was written under the rule \"{}\"", rule.unwrap_or("")),
    };
    format!("The file of how things stand {why}: what it does not hold is drawn.")
}

/// How sure it is.
pub(super) fn sureness(asked: &Asked<'_>, trials: u64, searched: u64, stopped: bool) -> String {
    let stop = if stopped {
        " It was interrupted: fewer runs than asked for."
    } else {
        ""
    };
    format!(
        "{} runs for the final answer, {} others for the search, random seed {}. In brackets: {} intervals of chances and costs; \
         of times what 1 run in 20 falls below and above. A plan is no permission: the driver's log and the carrier decide.{stop}",
        count(trials),
        count(searched),
        asked.question.seed,
        level(asked.question.level)
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
fn head_json(asked: &Asked<'_>, kind: &str) -> Value {
    let question = asked.question;
    json!({
        "question": kind,
        "at": clock(asked.scenario, question.at),
        "rule": asked.scenario.rules[question.rule].name,
        "replication": question.replication,
        "seed": question.seed,
        "probability": question.probability,
        "level": question.level,
        "unsaid": unsaid::json(asked),
    })
}

/// The line in a chart at the chance that is asked for.
pub(super) fn asked_for(asked: &Asked<'_>) -> (f64, String) {
    let chance = asked.question.probability;
    (
        chance,
        format!("- - asked for: {}", Unit::Share.show(chance, 0)),
    )
}
