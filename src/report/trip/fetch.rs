//! Who fetches a stranded driver: what is shown of the answer.

use super::shown::{Asked, Shown};
use super::words;
use crate::plant::Rescue;
use crate::report::chart::panels::{self, Content, Panel, Panels};
use crate::report::csv_text::{Cell, Table};
use crate::report::number::Unit;
use crate::studies::trip::{FetchAnswer, Spanning, WayHome};
use crate::units::Millis;
use serde_json::{Value, json};

pub(super) fn shown(answer: &FetchAnswer, asked: &Asked<'_>) -> Shown {
    let decision = decision(answer, asked);
    Shown {
        sentences: sentences(answer, asked),
        headings: vec![
            "way home",
            "driver home",
            "helper back",
            "driver's day lost",
            "helper's",
            "cost more",
        ],
        rows: answer.ways.iter().map(|way| row(way, asked)).collect(),
        notes: vec![
            "Driver home: released at the home plant. Day lost: rest or weekly hours end too late for the next planned report."
                .into(),
            "Cost more: all plants, against the same trial in which the driver rests out beside the truck.".into(),
        ],
        charts: vec![("ways-home", "When all are home", chart(answer, asked))],
        csv: csv(answer, asked),
        json: json(answer, asked, &decision),
        decision,
    }
}

fn name(rescue: Rescue, asked: &Asked<'_>) -> String {
    match rescue {
        Rescue::RestOut => "rests out beside the truck".into(),
        Rescue::Helper(helper) => asked.scenario.helpers[helper as usize].name.clone(),
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
            "; {who} cannot work at {} in {} of trials",
            words::short(asked, report.minutes()),
            words::percent(&best.driver_day_lost)
        ),
        None => String::new(),
    };
    match best.rescue {
        Rescue::RestOut => format!(
            "Nobody brings {who} home from {} sooner than resting out: home at {}{tomorrow}.",
            answer.place,
            words::span_of_time(asked, best.home)
        ),
        rescue => format!(
            "{} fetches {who} from {}: {who} is home at {}, the helper back at {}{tomorrow}.",
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
        Rescue::RestOut => format!("{who} is home soonest after resting out, at {home}"),
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
            "Cannot go now (not on call long enough, out, short of hours or licence, or nobody to drive the car): {}.",
            answer.cannot.join(", ")
        ));
    }
    all.push(words::sureness(
        asked,
        answer.trials,
        answer.searched,
        answer.stopped,
    ));
    all
}

fn row(way: &WayHome, asked: &Asked<'_>) -> Vec<String> {
    vec![
        name(way.rescue, asked),
        words::narrow_times(asked, way.home),
        way.helper_back
            .map_or("–".into(), |span| words::short(asked, span.middle)),
        words::percent(&way.driver_day_lost),
        way.helper_day_lost
            .as_ref()
            .map_or("–".into(), words::percent),
        words::money(&way.cost_more),
    ]
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
        subtitle: "Median, and what 1 trial in 20 falls below and above".into(),
        axis: "who helps".into(),
        steps: answer
            .ways
            .iter()
            .map(|way| match way.rescue {
                Rescue::RestOut => "rests out".into(),
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

fn csv(answer: &FetchAnswer, asked: &Asked<'_>) -> Vec<u8> {
    let mut table = Table::new(&[
        "way_home",
        "home_min",
        "home_min_p05",
        "home_min_p95",
        "helper_back_min",
        "driver_day_lost",
        "reported_late_min",
        "helper_day_lost",
        "cost_more",
        "cost_more_low",
        "cost_more_high",
    ]);
    for way in &answer.ways {
        let name = name(way.rescue, asked);
        let middle = |span: Option<Spanning>| Cell::from(span.map(|span| span.middle));
        table.row([
            Cell::Text(&name),
            middle(way.home),
            way.home.map(|span| span.low).into(),
            way.home.map(|span| span.high).into(),
            middle(way.helper_back),
            way.driver_day_lost.share().into(),
            middle(way.reported_late),
            way.helper_day_lost
                .as_ref()
                .map(|chance| chance.share())
                .into(),
            way.cost_more.mean.into(),
            way.cost_more.interval.low.into(),
            way.cost_more.interval.high.into(),
        ]);
    }
    table.finish()
}

/// ```text
/// head …, "driver", "place", "next_report", "cannot": [name], "ways": [{"way", "home_min", "helper_back_min", "driver_day_lost",
/// "reported_late_min", "helper_day_lost", "cost_more"}], "trials", "searched", "stopped"
/// ```
fn json(answer: &FetchAnswer, asked: &Asked<'_>, decision: &str) -> Value {
    let mut map = words::head_json(asked, "retrieve", decision);
    let more = json!({
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
    });
    if let Value::Object(more) = more {
        map.extend(more);
    }
    Value::Object(map)
}
