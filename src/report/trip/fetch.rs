//! Who picks up a stranded driver: what is shown of the answer.

use super::{Asked, unsaid, words};
use crate::plant::Rescue;
use crate::report::answer::{Answer, Cell, Column, Part, Table};
use crate::report::chart::panels::{self, Content, Panel, Panels};
use crate::report::number::Unit;
use crate::studies::trip::{FetchAnswer, Spanning, WayHome};
use crate::units::Millis;
use serde_json::{Value, json};

/// What the numbers mean.
const NOTES: [&str; 3] = [
    "By car: only the driver is brought home. Bringing the truck home is part of the costs only where its next driver does it within \
     the period.",
    "Driver home: off duty at the home plant. Day lost: rest or weekly hours end too late for the next planned report.",
    "Extra cost: all plants, against the same run in which the driver stays overnight with the truck.",
];

pub(super) fn answer(found: &FetchAnswer, asked: &Asked<'_>) -> Answer {
    let mut answer = words::answer(asked, "retrieve", decision(found, asked), &NOTES);
    answer.own_all(json(found, asked));
    answer.add_chart(
        "ways-home",
        "When all are home",
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

fn name(rescue: Rescue, asked: &Asked<'_>) -> String {
    match rescue {
        Rescue::RestOut => "stays overnight with the truck".into(),
        Rescue::Helper(helper) => asked.scenario.helpers[helper as usize].name.clone(),
        Rescue::DriverOnly(helper) => format!(
            "{}, by car; the truck stays",
            asked.scenario.helpers[helper as usize].name
        ),
        Rescue::Later => "whoever can go later".into(),
        Rescue::Driver(driver) => words::driver(asked, driver),
    }
}

fn decision(answer: &FetchAnswer, asked: &Asked<'_>) -> String {
    let who = words::driver(asked, answer.driver);
    let best = &answer.ways[0];
    let tomorrow = match answer.next_report {
        Some(report) if best.driver_day_lost.share() < 0.005 => format!(
            "; {who} can work from {} on",
            words::short(asked, report.minutes())
        ),
        Some(report) => format!(
            "; {who} cannot work at {} in {} of runs",
            words::short(asked, report.minutes()),
            words::percent(&best.driver_day_lost)
        ),
        None => String::new(),
    };
    match best.rescue {
        Rescue::RestOut => format!(
            "Nobody brings {who} home from {} sooner than staying overnight with the truck (legal rest): home at {}{tomorrow}.",
            answer.place,
            words::span_of_time(asked, best.home)
        ),
        Rescue::Later => format!(
            "{who} waits at {} for whoever can go later: home at {}{tomorrow}.",
            answer.place,
            words::span_of_time(asked, best.home)
        ),
        Rescue::DriverOnly(helper) => format!(
            "{} drives {who} home from {} by car and the truck stays there: {who} is home at {}{tomorrow}. Somebody has to bring the \
             truck home by the time it is needed.",
            asked.scenario.helpers[helper as usize].name,
            answer.place,
            words::span_of_time(asked, best.home)
        ),
        rescue => format!(
            "{} picks up {who} from {}: {who} is home at {}, the helper back at {}{tomorrow}.",
            name(rescue, asked),
            answer.place,
            words::span_of_time(asked, best.home),
            words::span_of_time(asked, best.helper_back)
        ),
    }
}

fn title(answer: &FetchAnswer, asked: &Asked<'_>) -> String {
    let best = &answer.ways[0];
    let home = best
        .home
        .map_or("–".into(), |at| words::short(asked, at.middle));
    let who = words::driver(asked, answer.driver);
    match best.rescue {
        Rescue::RestOut => {
            format!("{who} is home soonest after staying overnight with the truck, at {home}")
        }
        rescue => format!(
            "{who} is home soonest with {}, at {home}",
            name(rescue, asked)
        ),
    }
}

fn sentences(answer: &FetchAnswer, asked: &Asked<'_>) -> Vec<String> {
    let mut all = Vec::new();
    if !answer.cannot.is_empty() {
        all.push(format!(
            "Cannot go now (not on call long enough, out, short of hours or license, or nobody to drive the car): {}.",
            answer.cannot.join(", ")
        ));
    }
    all.extend(unsaid::all(asked));
    all.push(words::sureness(
        asked,
        answer.trials,
        answer.searched,
        answer.stopped,
    ));
    all
}

/// `trip.csv`: one line for each way home.
fn table(answer: &FetchAnswer, asked: &Asked<'_>) -> Table {
    let mut table = Table::new(
        "trip",
        vec![
            Column::new("way home").left().key("way_home"),
            Column::new("driver home")
                .key("home_min")
                .part("home_min_p05", Part::Low)
                .part("home_min_p95", Part::High),
            Column::new("helper back").key("helper_back_min"),
            Column::new("driver's day lost")
                .without_interval()
                .with_ends("driver_day_lost"),
            Column::file("reported_late_min"),
            Column::new("helper's")
                .without_interval()
                .with_ends("helper_day_lost"),
            Column::new("extra cost")
                .without_interval()
                .with_ends("cost_more"),
        ],
    );
    for way in &answer.ways {
        let lost = way.helper_day_lost.as_ref();
        table.row([
            name(way.rescue, asked).into(),
            words::times(asked, way.home),
            words::time(asked, way.helper_back),
            Cell::chance(&way.driver_day_lost, 0),
            way.reported_late.map(|span| span.middle).into(),
            lost.map_or_else(Cell::unknown, |lost| Cell::chance(lost, 0)),
            words::more_cost(&way.cost_more),
        ]);
    }
    table
}

fn chart(answer: &FetchAnswer, asked: &Asked<'_>) -> String {
    let midnight = Millis::midnight(asked.question.at.day()).minutes();
    let hours = |span: Option<Spanning>| {
        let hour = |minutes: f64| (minutes - midnight) / 60.0;
        span.map(|span| (hour(span.middle), hour(span.low), hour(span.high)))
    };
    let home = |way: &WayHome| hours(way.home);
    let first = answer
        .ways
        .iter()
        .filter_map(home)
        .fold(f64::INFINITY, |first, (_, low, _)| first.min(low));
    panels::svg(&Panels {
        title: title(answer, asked),
        subtitle: "Median, and what 1 run in 20 falls below and above".into(),
        axis: "who helps".into(),
        steps: answer
            .ways
            .iter()
            .map(|way| match way.rescue {
                Rescue::RestOut => "stays overnight".into(),
                rescue => name(rescue, asked),
            })
            .collect(),
        marked: Some(0),
        panels: vec![
            Panel {
                axis: "hour of the day at which the driver is home (24 and more: the next day)"
                    .into(),
                unit: Unit::Plain,
                bottom: first.is_finite().then(|| (first - 1.0).floor()),
                top: None,
                line: None,
                content: Content::Apart(answer.ways.iter().map(home).collect()),
            },
            Panel {
                axis: "chance that the driver cannot work at the next planned report".into(),
                unit: Unit::Share,
                bottom: None,
                top: Some(1.0),
                line: None,
                content: Content::Apart(
                    answer
                        .ways
                        .iter()
                        .map(|way| {
                            let lost = &way.driver_day_lost;
                            Some((lost.share(), lost.interval.low, lost.interval.high))
                        })
                        .collect(),
                ),
            },
        ],
    })
}

/// ```text
/// head …, "driver", "place", "next_report", "cannot": [name], "ways": [{"way", "home_min", "helper_back_min", "driver_day_lost",
/// "reported_late_min", "helper_day_lost", "cost_more"}], "trials", "searched", "stopped"
/// ```
fn json(answer: &FetchAnswer, asked: &Asked<'_>) -> Value {
    json!({
        "driver": words::driver(asked, answer.driver),
        "place": answer.place,
        "next_report": answer.next_report.map(|at| words::clock(asked.scenario, at)),
        "cannot": answer.cannot,
        "ways": answer.ways.iter().map(|way| json!({
            "way": name(way.rescue, asked),
            "home_min": words::span_json(way.home),
            "helper_back_min": words::span_json(way.helper_back),
            "driver_day_lost": words::chance_json(&way.driver_day_lost),
            "reported_late_min": words::span_json(way.reported_late),
            "helper_day_lost": way.helper_day_lost.as_ref().map(words::chance_json),
            "cost_more": words::estimate_json(&way.cost_more),
        })).collect::<Vec<_>>(),
        "trials": answer.trials,
        "searched": answer.searched,
        "stopped": answer.stopped,
    })
}
