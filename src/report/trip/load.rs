//! May this load go: what is shown of the answer.

mod chart;
mod json;
mod table;

use super::{Asked, unsaid, words};
use crate::hours::Clock;
use crate::report::answer::Answer;
use crate::report::number::{Unit, count};
use crate::studies::trip::{Candidate, Fate, Legal, LoadAnswer, LoadVerdict, Risk, WouldDo};
use crate::units::measure::{self, Quantity};

/// What the numbers mean.
const NOTES: [&str; 5] = [
    "On time: on site no later than the order tolerates after it could be taken. Fresh enough: unloaded within the scenario's age \
     limit. Legal: back at a plant after this load within every hours limit, not stranded; only of the driver asked for is it \
     looked at long enough to be said for sure.",
    "Driving past a limit is a violation, being stranded is lawful and costs: both have their own highest chance, which no \
     punctuality makes up for. They are looked at until the driver is home, or is sent with another load.",
    "Least hours left: hours and minutes of the limit that runs out first, when the driver is back; the median, and what 1 run in \
     20 falls below.",
    "Extra cost: all plants, from the moment until 4:00 a.m., against the same run in which the asked driver does not take the load \
     and dispatch goes on as usual.",
    "The rule's own hours checks and its loaning are left aside for the driver who is tried, so that they can be weighed; law, \
     company limits, weight and age are not.",
];

pub(super) fn answer(found: &LoadAnswer, asked: &Asked<'_>) -> Answer {
    let mut answer = words::answer(asked, "load", decision(found, asked), &NOTES);
    answer.own_all(json::json(found, asked));
    answer.add_chart(
        "drivers",
        "Who could take it",
        chart::title(found, asked),
        chart::chart(found, asked),
        "trip",
    );
    answer.show("The numbers", table::table(found, asked));
    for sentence in sentences(found, asked) {
        answer.say(sentence);
    }
    answer
}

fn what(answer: &LoadAnswer, asked: &Asked<'_>) -> String {
    format!(
        "load {} of \"{}\"",
        answer.load.number + 1,
        asked.scenario.orders[answer.order.at()].name
    )
}

fn plant(candidate: &Candidate, asked: &Asked<'_>) -> String {
    asked.scenario.plants[candidate.plant.at()].name.clone()
}

fn decision(answer: &LoadAnswer, asked: &Asked<'_>) -> String {
    let who = words::driver(asked, answer.asked.driver);
    let what = what(answer, asked);
    let from = plant(&answer.asked, asked);
    let fate = &answer.asked.fate;
    let good = words::of_runs(&fate.good);
    let wanted = Unit::Share.show(asked.question.probability, 0);
    let hours = answer
        .legal
        .as_ref()
        .map_or(String::new(), |legal| hours(legal, &who));
    match answer.verdict {
        LoadVerdict::Yes => format!(
            "Yes: {who} can take {what} from {from}. On site on time and unloaded before the age limit in {good}. {hours}"
        ),
        LoadVerdict::Refused(why) => {
            let reason = match limit(answer, asked) {
                Some(limit) if why.law().is_some() => {
                    format!("the {limit} would run out before lawful parking is reached")
                }
                _ => why.words().into_owned(),
            };
            format!(
                "No: {who} may not take {what}: {reason}.{}",
                instead(answer, asked)
            )
        }
        LoadVerdict::No => format!(
            "No: {who} with {what} from {from} is on time and fresh enough in only {good}; you asked for {wanted}. {}. {hours}{}",
            weakest(fate),
            instead(answer, asked)
        ),
        LoadVerdict::NotTold => format!(
            "Too close to call: {who} with {what} from {from} is on time and fresh enough in {good}, against the {wanted} you asked for. \
             {}. {hours}{}",
            weakest(fate),
            instead(answer, asked)
        ),
        LoadVerdict::TooRisky => format!(
            "No: {who} should not take {what} from {from}. {hours}{}",
            instead(answer, asked)
        ),
        LoadVerdict::RiskNotShown => format!(
            "No: it is not shown that {who} can take {what} from {from} and keep the limits. {hours}{}{}",
            match asked.question.sure {
                true => "",
                false => " --sure looks longer.",
            },
            instead(answer, asked)
        ),
    }
}

/// How often a limit is passed, and how often the driver is stranded.
fn hours(legal: &Legal, who: &str) -> String {
    let part = |risk: &Risk, never: &str, did: &str| {
        let most = words::seldom(risk.at_most);
        match risk.times {
            0 if risk.is_shown() => format!("{never} (at most {most})"),
            0 => format!(
                "{never} (at most {most}; you accept {})",
                words::seldom(risk.borne)
            ),
            times => format!(
                "{did} in {} ({}, at most {most}; you accept {})",
                count(times),
                words::seldom(times as f64 / legal.runs as f64),
                words::seldom(risk.borne)
            ),
        }
    };
    format!(
        "In {} runs {who} {} and {}.",
        count(legal.runs),
        part(
            &legal.passing,
            "never drove past a limit",
            "drove past a limit"
        ),
        part(&legal.stranded, "was never stranded", "was stranded")
    )
}

fn weakest(fate: &Fate) -> String {
    let (what, chance) = match fate.within_age.share() < fate.in_time.share() {
        true => ("unloading before the age limit", &fate.within_age),
        false => ("on site on time", &fate.in_time),
    };
    format!("Weakest point: {what}, {}", words::percent(chance))
}

/// The next best choice.
fn instead(answer: &LoadAnswer, asked: &Asked<'_>) -> String {
    let wanted = Unit::Share.show(asked.question.probability, 0);
    let able = answer
        .others
        .iter()
        .find(|other| other.fate.all.at_least >= asked.question.probability);
    if let Some(other) = able {
        return format!(
            " {} from {} is on time, fresh enough and legal in {}: ask for that driver.",
            words::driver(asked, other.driver),
            plant(other, asked),
            words::of_runs(&other.fate.all)
        );
    }
    match &answer.first {
        Some(first) => format!(
            " No other driver clears {wanted} either; the first who is fresh enough and legal is {} from {}, loading at {}, on site at {}, \
             {} late.",
            words::driver(asked, first.driver),
            plant(first, asked),
            first
                .fate
                .loading
                .map_or("–".into(), |at| words::short(asked, at.middle)),
            first
                .fate
                .on_site
                .map_or("–".into(), |at| words::short(asked, at.middle)),
            first
                .fate
                .late
                .map_or("–".into(), |late| words::length(late.middle.max(0.0)))
        ),
        None => format!(" No other driver clears {wanted} either."),
    }
}

/// The limit that runs out first.
fn limit(answer: &LoadAnswer, asked: &Asked<'_>) -> Option<String> {
    words::limit(asked, answer.asked.driver, answer.clock?)
}

fn sentences(answer: &LoadAnswer, asked: &Asked<'_>) -> Vec<String> {
    let mut all = Vec::new();
    let now = &answer.asked.now;
    let who = words::driver(asked, answer.asked.driver);
    let mut state = format!("{who}: {}", now.doing);
    if let Some(reported) = now.reported {
        state += &format!(", reported {}", words::short(asked, reported.minutes()));
    } else if let Some(due) = now.due {
        state += &format!(", due {}", words::short(asked, due.minutes()));
    }
    if let Some((rule, left)) = now.left.and_then(|left| left.least()) {
        let limit = words::limit_words(asked, answer.asked.driver, rule);
        // What is left until a break is due is no part of it.
        let of = if rule == Clock::Break { "before" } else { "of" };
        state += &format!(", {} left {of} the {limit}", words::length(left.minutes()));
    }
    all.push(format!(
        "{state}. The load: {}, due {}.",
        measure::plainly(Quantity::Volume, answer.load.volume.yd3(), 2),
        words::short(asked, answer.load.due.minutes())
    ));
    all.extend(unsaid(answer, asked));
    let usually_back = answer.asked.fate.back.share() > 0.5;
    let margin = answer.asked.fate.margin.filter(|_| usually_back);
    if let (Some(margin), Some(limit)) = (margin, limit(answer, asked)) {
        all.push(format!(
            "First limit to run out: the {limit}, {} left when the driver is back ({} to {}).",
            words::length(margin.middle),
            words::length(margin.low),
            words::length(margin.high)
        ));
    }
    if let Some(legal) = answer.legal.filter(|_| answer.loads_a_month > 0.0) {
        all.push(format!(
            "If all {} loads of a month went at this risk, at most {} would end beyond a limit and {} with a stranded driver.",
            count(answer.loads_a_month.round() as u64),
            Unit::Plain.show(answer.loads_a_month * legal.passing.at_most, 1),
            Unit::Plain.show(answer.loads_a_month * legal.stranded.at_most, 1)
        ));
    }
    let taker = answer.without_taken_by.as_ref().map_or(
        "nobody takes it".to_owned(),
        |(driver, chance)| {
            format!(
                "{} takes it most often ({})",
                words::driver(asked, *driver),
                words::percent(chance)
            )
        },
    );
    all.push(format!(
        "Without {who} the load is on site on time in {}; {taker}. Letting {who} take it changes the cost by {} against that.",
        words::of_runs(&answer.without.delivered_in_time),
        words::more_cost(&answer.asked.cost_more).words()
    ));
    let cost = |fate: &Fate| {
        fate.cost
            .mean
            .map_or("–".into(), |mean| Unit::Money.show(mean, 0))
    };
    all.push(format!(
        "Cost of all plants until 4:00 a.m.: {} with the load on this truck, {} without.",
        cost(&answer.asked.fate),
        cost(&answer.without)
    ));
    all.push(words::sureness(
        asked,
        answer.trials,
        answer.searched,
        answer.stopped,
    ));
    all
}

/// What the file leaves out, how it is taken, and what would change the answer.
fn unsaid(answer: &LoadAnswer, asked: &Asked<'_>) -> Option<String> {
    let driver = answer.asked.driver;
    let would = answer.would_do.map(|would| match would {
        WouldDo::Driven(most) => format!(
            "With at most {} driven the answer would be yes: write driven_h.",
            words::length(most.minutes())
        ),
        WouldDo::Break(over) => format!(
            "With a break over by {} it would be yes: write break_over.",
            words::short(asked, over.minutes())
        ),
    });
    unsaid::joined([
        unsaid::own(asked, driver),
        would,
        unsaid::others(asked, driver),
        unsaid::orders(asked),
    ])
}
