//! May this load go: what is shown of the answer.

use super::{Asked, Bar, unsaid, words};
use crate::hours::Clock;
use crate::report::answer::{Answer, Cell, Column, Part, Row, Table};
use crate::report::chart::panels::{self, Content, Panel, Panels};
use crate::report::number::{Unit, count, level};
use crate::studies::trip::{
    Candidate, Fate, Legal, LoadAnswer, LoadVerdict, Risk, Spanning, WouldDo,
};
use crate::units::measure::{self, Quantity};
use serde_json::{Value, json};

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
    answer.own_all(json(found, asked));
    answer.add_chart(
        "drivers",
        "Who could take it",
        title(found, asked),
        chart(found, asked),
        "trip",
    );
    answer.show("The numbers", table(found, asked));
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
        state += &format!(", {} left of the {limit}", words::length(left.minutes()));
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

/// `trip.csv`: one line for each driver who was tried.
fn table(answer: &LoadAnswer, asked: &Asked<'_>) -> Table {
    let share = |heading: &str, brief: &str, key: &str| {
        let column = Column::new(heading).brief(brief);
        column.without_interval().with_ends(key)
    };
    let columns = vec![
        Column::new("driver, plant").left(),
        Column::file("driver"),
        Column::file("plant"),
        Column::file("asked"),
        Column::file("final"),
        Column::file("trials"),
        Column::new("all OK"),
        Column::file("all")
            .part("all_low", Part::Low)
            .part("all_high", Part::High)
            .part("all_at_least", Part::AtLeast),
        share("on time", "on time", "in_time"),
        share("fresh enough", "fresh", "within_age"),
        share("legal", "legal", "back"),
        Column::file("stranded"),
        Column::file("loading_min"),
        Column::new("on site")
            .key("on_site_min")
            .part("on_site_min_p05", Part::Low)
            .part("on_site_min_p95", Part::High),
        Column::file("late_min"),
        Column::file("age_min"),
        Column::new("least hours left")
            .brief("hours left")
            .key("clock_left_min")
            .part("clock_left_min_p05", Part::Low)
            .part("clock_left_min_p95", Part::High),
        Column::file("back_min"),
        Column::file("home_min"),
        Column::file("cost"),
        Column::new("extra cost")
            .brief("costs")
            .without_interval()
            .with_ends("cost_more"),
        Column::file("refused"),
    ];
    let mut table = Table::new("trip", columns);
    for candidate in candidates(answer) {
        let is_asked = std::ptr::eq(candidate, &answer.asked);
        row(&mut table, candidate, answer, asked).marked(is_asked);
    }
    table
}

fn row<'a>(
    table: &'a mut Table,
    candidate: &Candidate,
    answer: &LoadAnswer,
    asked: &Asked<'_>,
) -> &'a mut Row {
    let fate = &candidate.fate;
    let (driver, plant) = (
        words::driver(asked, candidate.driver),
        plant(candidate, asked),
    );
    let is_asked = candidate.driver == answer.asked.driver;
    let mark = match is_asked && candidate.plant == answer.asked.plant {
        true => "→ ",
        false => "",
    };
    let after = match candidate.is_final {
        true => "",
        false => " (search only)",
    };
    let refused = fate.refused.first();
    let mostly = refused.filter(|(_, times)| 2 * times > fate.trials);
    let middle = |span: Option<Spanning>| Cell::from(span.map(|span| span.middle));
    let left =
        |span: Spanning| format!("{} ({})", words::h_min(span.middle), words::h_min(span.low));
    table.row([
        format!("{mark}{driver}, {plant}{after}").into(),
        driver.into(),
        plant.into(),
        Cell::yes(is_asked),
        Cell::yes(candidate.is_final),
        (fate.trials as f64).into(),
        match mostly {
            Some((why, _)) => format!("no: {}", why.words()).into(),
            None => Cell::chance(&fate.all, 0),
        },
        Cell::chance(&fate.all, 0),
        Cell::chance(&fate.in_time, 0),
        Cell::chance(&fate.within_age, 0),
        Cell::chance(&fate.back, 0),
        Cell::chance(&fate.stranded, 0),
        middle(fate.loading),
        words::time(asked, fate.on_site),
        middle(fate.late),
        middle(fate.age),
        words::spanning(fate.margin, left),
        middle(fate.back_at),
        middle(fate.home),
        match mostly {
            Some(_) => Cell::Blank,
            None => fate.cost.mean.into(),
        },
        match mostly {
            // What a load that does not go would cost is no price of sending it.
            Some(_) => Cell::Blank,
            None => words::more_cost(&candidate.cost_more),
        },
        refused.map_or(Cell::Blank, |(why, _)| why.words().into_owned().into()),
    ])
}

fn candidates(answer: &LoadAnswer) -> impl Iterator<Item = &Candidate> {
    std::iter::once(&answer.asked)
        .chain(&answer.others)
        .chain(&answer.first)
}

/// Those of the final answer, the asked one first.
fn final_ones(answer: &LoadAnswer) -> Vec<&Candidate> {
    std::iter::once(&answer.asked)
        .chain(&answer.others)
        .collect()
}

/// Place of the one with the best chance, if it is enough.
fn best(answer: &LoadAnswer, asked: &Asked<'_>) -> Option<usize> {
    let all = final_ones(answer);
    let best = (0..all.len()).max_by(|a, b| {
        let share = |at: &usize| all[*at].fate.all.share();
        share(a).total_cmp(&share(b)).then(b.cmp(a))
    });
    best.filter(|at| all[*at].fate.all.at_least >= asked.question.probability)
}

/// What the chart shows.
fn title(answer: &LoadAnswer, asked: &Asked<'_>) -> String {
    let what = what(answer, asked);
    match best(answer, asked) {
        Some(at) => {
            let best = final_ones(answer)[at];
            format!(
                "{} from {} brings {what} on time, fresh enough and legally in {} of runs",
                words::driver(asked, best.driver),
                plant(best, asked),
                words::percent(&best.fate.all)
            )
        }
        None => format!("Nobody brings {what} with the chance asked for"),
    }
}

fn chart(answer: &LoadAnswer, asked: &Asked<'_>) -> String {
    let all = final_ones(answer);
    let points = |value: &dyn Fn(&Candidate) -> Option<Bar>| {
        Content::Apart(all.iter().map(|candidate| value(candidate)).collect())
    };
    let chances = points(&|candidate| {
        let chance = &candidate.fate.all;
        Some((chance.share(), chance.interval.low, chance.interval.high))
    });
    let left = points(&|candidate| {
        let margin = candidate.fate.margin?;
        // Who never comes back has no hours left.
        let shown = |minutes: f64| {
            if minutes.is_finite() {
                minutes / 60.0
            } else {
                0.0
            }
        };
        Some((shown(margin.middle), shown(margin.low), shown(margin.high)))
    });
    let lowest = all
        .iter()
        .filter_map(|candidate| candidate.fate.margin)
        .map(|margin| margin.low / 60.0)
        .filter(|low| low.is_finite())
        .fold(0.0, f64::min);
    panels::svg(&Panels {
        title: title(answer, asked),
        subtitle: format!(
            "{}; → the driver asked for. Bars: {} intervals of chances; of hours, what 1 run in 20 falls below and above",
            words::clock(asked.scenario, asked.question.at),
            level(asked.question.level)
        ),
        axis: "driver".into(),
        steps: all
            .iter()
            .map(|candidate| {
                let is_asked = (candidate.driver, candidate.plant)
                    == (answer.asked.driver, answer.asked.plant);
                let mark = if is_asked { "→ " } else { "" };
                format!("{mark}{}", words::driver(asked, candidate.driver))
            })
            .collect(),
        marked: best(answer, asked),
        panels: vec![
            Panel {
                axis: "chance: on time, fresh enough, legal".into(),
                unit: Unit::Share,
                bottom: None,
                top: Some(1.0),
                line: Some((
                    asked.question.probability,
                    format!(
                        "- - asked for: {}",
                        Unit::Share.show(asked.question.probability, 0)
                    ),
                )),
                content: chances,
            },
            Panel {
                axis: "least hours left, when back".into(),
                unit: Unit::Plain,
                bottom: (lowest < 0.0).then_some(lowest),
                top: None,
                line: None,
                content: left,
            },
        ],
    })
}

/// ```text
/// head …, "order", "load": {"number", "volume_yd3", "due"}, "verdict": "yes" | "no" | "refused" | "not told" |
/// "too risky" | "risk not shown", "legal": {"runs", "past_a_limit": risk, "stranded": risk} | null,
/// "clock": {"rule", "citation"} | null, "asked": candidate, "without": fate, "without_taken_by", "others": [candidate],
/// "first": candidate | null, "trials", "searched", "stopped"
/// ```
fn json(answer: &LoadAnswer, asked: &Asked<'_>) -> Value {
    let driver = &asked.scenario.drivers[answer.asked.driver.at()];
    let book = driver.rule_book.of(&asked.scenario.rule_sets);
    let law = answer.clock.and_then(|clock| book?.law(clock).cloned());
    json!({
        "order": asked.scenario.orders[answer.order.at()].name,
        "load": {
            "number": answer.load.number + 1,
            "volume_yd3": measure::rounded(Quantity::Volume, answer.load.volume.yd3(), 6),
            "due": words::clock(asked.scenario, answer.load.due),
        },
        "verdict": match answer.verdict {
            LoadVerdict::Yes => "yes",
            LoadVerdict::Refused(_) => "refused",
            LoadVerdict::No => "no",
            LoadVerdict::NotTold => "not told",
            LoadVerdict::TooRisky => "too risky",
            LoadVerdict::RiskNotShown => "risk not shown",
        },
        "legal": answer.legal.map(|legal| json!({
            "runs": legal.runs,
            "past_a_limit": risk_json(&legal.passing),
            "stranded": risk_json(&legal.stranded),
        })),
        "clock": law.map(|law| json!({ "rule": law.rule, "citation": law.citation })),
        "asked": candidate_json(&answer.asked, asked),
        "without": fate_json(&answer.without),
        "without_taken_by": answer.without_taken_by.as_ref().map(|(driver, _)| words::driver(asked, *driver)),
        "others": answer.others.iter().map(|other| candidate_json(other, asked)).collect::<Vec<_>>(),
        "first": answer.first.as_ref().map(|first| candidate_json(first, asked)),
        "trials": answer.trials,
        "searched": answer.searched,
        "stopped": answer.stopped,
    })
}

fn risk_json(risk: &Risk) -> Value {
    json!({
        "times": risk.times,
        "at_least": risk.at_least,
        "at_most": risk.at_most,
        "accepted": risk.borne,
    })
}

fn candidate_json(candidate: &Candidate, asked: &Asked<'_>) -> Value {
    json!({
        "driver": words::driver(asked, candidate.driver),
        "plant": plant(candidate, asked),
        "now": candidate.now.doing,
        "final": candidate.is_final,
        "cost_more": words::estimate_json(&candidate.cost_more),
        "fate": fate_json(&candidate.fate),
    })
}

fn fate_json(fate: &Fate) -> Value {
    json!({
        "trials": fate.trials,
        "taken": words::chance_json(&fate.taken),
        "in_time": words::chance_json(&fate.in_time),
        "within_age": words::chance_json(&fate.within_age),
        "back_within_clocks": words::chance_json(&fate.back),
        "in_time_and_within_age": words::chance_json(&fate.good),
        "all": words::chance_json(&fate.all),
        "stranded": words::chance_json(&fate.stranded),
        "delivered_in_time": words::chance_json(&fate.delivered_in_time),
        "loading_min": words::span_json(fate.loading),
        "on_site_min": words::span_json(fate.on_site),
        "late_min": words::span_json(fate.late),
        "age_min": words::span_json(fate.age),
        "clock_left_min": words::span_json(fate.margin),
        "back_min": words::span_json(fate.back_at),
        "home_min": words::span_json(fate.home),
        "cost": words::estimate_json(&fate.cost),
        "refused": fate
            .refused
            .iter()
            .map(|(why, times)| json!({ "reason": why.words(), "clock": why.clock().map(Clock::key), "times": times }))
            .collect::<Vec<_>>(),
    })
}
