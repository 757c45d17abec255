//! May this load go: what is shown of the answer.

use super::{Asked, Bar, words};
use crate::hours::Clock;
use crate::report::answer::{Answer, Cell, Column, Part, Row, Table};
use crate::report::chart::panels::{self, Content, Panel, Panels};
use crate::report::number::{Unit, level};
use crate::studies::trip::{Candidate, Fate, LoadAnswer, LoadVerdict, Spanning};
use crate::units::measure::{self, Quantity};
use serde_json::{Value, json};

/// What the numbers mean.
const NOTES: [&str; 4] = [
    "On time: on site no later than the order tolerates after it could be taken. Fresh enough: unloaded within the scenario's age \
     limit. Legal: back at a plant after this load within every hours limit, not stranded.",
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
    let all = words::of_runs(&fate.all);
    let wanted = Unit::Share.show(asked.question.probability, 0);
    match answer.verdict {
        LoadVerdict::Yes => format!(
            "Yes: {who} can take {what} from {from}. On site on time, unloaded before the age limit and back within every hours limit in \
             {all}."
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
            "No: {who} with {what} from {from} is on time, fresh enough and legal in only {all}; you asked for {wanted}. {}.{}",
            weakest(fate, limit(answer, asked)),
            instead(answer, asked)
        ),
        LoadVerdict::NotTold => format!(
            "Too close to call: {who} with {what} from {from} is on time, fresh enough and legal in {all}, against the {wanted} you asked \
             for. {}.{}",
            weakest(fate, limit(answer, asked)),
            instead(answer, asked)
        ),
    }
}

fn weakest(fate: &Fate, limit: Option<String>) -> String {
    let parts = [
        ("on site on time", &fate.in_time),
        ("unloading before the age limit", &fate.within_age),
        ("back within every hours limit", &fate.back),
    ];
    let least = parts
        .iter()
        .min_by(|a, b| a.1.share().total_cmp(&b.1.share()));
    least.map_or(String::new(), |(name, chance)| {
        let limit = match limit {
            Some(limit) if std::ptr::eq(*chance, &fate.back) => format!(", by the {limit}"),
            _ => String::new(),
        };
        format!("Weakest point: {name}, {}{limit}", words::percent(chance))
    })
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
            " {} from {} can: {}.",
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
        fate.cost.mean.into(),
        words::more_cost(&candidate.cost_more),
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
        Some((margin.middle / 60.0, margin.low / 60.0, margin.high / 60.0))
    });
    let lowest = all
        .iter()
        .filter_map(|candidate| candidate.fate.margin)
        .map(|margin| margin.low / 60.0)
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
/// head …, "order", "load": {"number", "volume_yd3", "due"}, "verdict": "yes" | "no" | "refused" | "not told",
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
        },
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
