//! Can we take this order: what is shown of the answer.

use super::shown::{Asked, Bar, Shown};
use super::words;
use crate::report::chart::panels::{self, Content, Panel, Panels};
use crate::report::csv_text::{Cell, Table};
use crate::report::number::{Unit, number};
use crate::studies::trip::{FirstLoad, OrderAnswer};
use serde_json::{Value, json};

pub(super) fn shown(answer: &OrderAnswer, asked: &Asked<'_>) -> Shown {
    let decision = decision(answer, asked);
    let rows = answer
        .times
        .iter()
        .enumerate()
        .filter(|(at, time)| time.is_final || *at < 3)
        .map(|(at, time)| row(at, time, answer, asked))
        .collect();
    Shown {
        sentences: sentences(answer, asked),
        headings: vec![
            "first load",
            "both hold",
            "it holds",
            "the rest holds",
            "late loads of others",
            "stranded",
            "cost more",
        ],
        rows,
        notes: vec![
            "It holds: every load on site within 15 min of when it could be taken, and finished on its day.".into(),
            format!(
                "The rest holds: at most {} loads of other orders are late and {} drivers stranded that day, from the moment on. Without \
                 the order 39 of 40 such days are no worse ({} further late loads are accepted). Day by day with and without it cannot \
                 be told: one truck sent elsewhere makes some loads late and saves others.",
                answer.limit.late, answer.limit.stranded, answer.asked.accepted
            ),
            "Late loads, strandings and cost: what the order brings, on the mean. Revenue is not in it.".into(),
        ],
        charts: vec![("first-load", "When it can be taken", chart(answer, asked))],
        csv: csv(answer, asked),
        json: json(answer, asked, &decision),
        decision,
    }
}

fn what(answer: &OrderAnswer, asked: &Asked<'_>) -> String {
    let new = &answer.asked.new;
    format!(
        "{} yd³ of {} at {}",
        number(new.volume.yd3(), usize::from(new.volume.0 % 1000 != 0)),
        new.mix,
        asked.scenario.place_name(new.site)
    )
}

fn decision(answer: &OrderAnswer, asked: &Asked<'_>) -> String {
    let what = what(answer, asked);
    let at = |time: &FirstLoad| words::short(asked, time.first.minutes());
    let wanted = Unit::Share.show(asked.question.probability, 0);
    let wish = &answer.times[0];
    match answer.first_that_holds {
        Some(0) => format!(
            "Yes: {what} can be taken for {}. It and the rest of the day hold in {} of trials.",
            at(wish),
            words::chance(&wish.both)
        ),
        Some(first) => format!(
            "Not for {}, where it and the rest of the day hold in {} of trials: {what} can be taken for {}, with {}.",
            at(wish),
            words::chance(&wish.both),
            at(&answer.times[first]),
            words::chance(&answer.times[first].both)
        ),
        None => {
            let best = best(answer);
            format!(
                "No: {what} cannot be taken that day with a chance of {wanted} that it and the rest of the day hold. Best is {}, with {}.",
                at(best),
                words::chance(&best.both)
            )
        }
    }
}

fn best(answer: &OrderAnswer) -> &FirstLoad {
    let mut best = &answer.times[0];
    for time in answer.times.iter().filter(|time| time.is_final) {
        if time.both.share() > best.both.share() {
            best = time;
        }
    }
    best
}

fn sentences(answer: &OrderAnswer, asked: &Asked<'_>) -> Vec<String> {
    let shown = answer
        .first_that_holds
        .map_or(best(answer), |at| &answer.times[at]);
    vec![
        format!(
            "With its first load at {} it is finished at {}. Without it {} loads of the others are late from now on, on the mean; the \
             rest of the day holds up to {} of them (39 of 40 days without it) and {} drivers stranded.",
            words::short(asked, shown.first.minutes()),
            words::span_of_time(asked, shown.finished),
            answer
                .late_without
                .mean
                .map_or("–".into(), |mean| number(mean, 1)),
            answer.limit.late,
            answer.limit.stranded
        ),
        words::sureness(asked, answer.trials, answer.searched, answer.stopped),
    ]
}

fn row(at: usize, time: &FirstLoad, answer: &OrderAnswer, asked: &Asked<'_>) -> Vec<String> {
    let mark = match (at, answer.first_that_holds == Some(at), time.is_final) {
        (0, true, _) => " ← asked, holds",
        (0, false, _) => " ← asked",
        (_, true, _) => " ← first that holds",
        (_, false, true) => "",
        (_, false, false) => " (search only)",
    };
    vec![
        format!("{}{mark}", words::short(asked, time.first.minutes())),
        words::narrow(&time.both),
        words::percent(&time.holds),
        words::percent(&time.rest_holds),
        words::estimate(&time.more_late, 1),
        words::estimate(&time.more_stranded, 2),
        words::money(&time.cost_more),
    ]
}

fn chart(answer: &OrderAnswer, asked: &Asked<'_>) -> String {
    let title = match answer.first_that_holds {
        Some(at) => format!(
            "From {} on {} can be taken",
            words::short(asked, answer.times[at].first.minutes()),
            what(answer, asked)
        ),
        None => format!("No time of the day holds for {}", what(answer, asked)),
    };
    let points = |value: &dyn Fn(&FirstLoad) -> Option<Bar>| {
        Content::Points(answer.times.iter().map(value).collect())
    };
    let lowest = answer
        .times
        .iter()
        .map(|time| time.more_late.interval.low)
        .filter(|low| low.is_finite())
        .fold(0.0, f64::min);
    panels::svg(&Panels {
        title,
        subtitle: format!(
            "It holds: all loads in time. The rest holds: at most {} late loads of others and {} drivers stranded. Bars: {:.0} % intervals",
            answer.limit.late,
            answer.limit.stranded,
            asked.question.level * 100.0
        ),
        axis: "first load".into(),
        steps: answer
            .times
            .iter()
            .map(|time| words::short(asked, time.first.minutes()))
            .collect(),
        marked: answer.first_that_holds,
        panels: vec![
            Panel {
                axis: "chance that it and the rest of the day hold".into(),
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
                content: points(&|time| {
                    Some((
                        time.both.share(),
                        time.both.interval.low,
                        time.both.interval.high,
                    ))
                }),
            },
            Panel {
                axis: "late loads of other orders that it brings".into(),
                unit: Unit::Plain,
                bottom: (lowest < 0.0).then_some(lowest),
                top: None,
                line: None,
                content: points(&|time| {
                    let late = &time.more_late;
                    Some((late.mean?, late.interval.low, late.interval.high))
                }),
            },
        ],
    })
}

fn csv(answer: &OrderAnswer, asked: &Asked<'_>) -> Vec<u8> {
    let mut table = Table::new(&[
        "first_load",
        "first_load_min",
        "final",
        "trials",
        "both",
        "both_low",
        "both_high",
        "both_at_least",
        "it_holds",
        "rest_holds",
        "more_late",
        "more_late_low",
        "more_late_high",
        "more_stranded",
        "cost_more",
        "cost_more_low",
        "cost_more_high",
        "finished_min",
    ]);
    for time in &answer.times {
        let first = words::clock(asked.scenario, time.first);
        table.row([
            Cell::Text(&first),
            time.first.minutes().into(),
            Cell::Text(if time.is_final { "yes" } else { "no" }),
            (time.trials as f64).into(),
            time.both.share().into(),
            time.both.interval.low.into(),
            time.both.interval.high.into(),
            time.both.at_least.into(),
            time.holds.share().into(),
            time.rest_holds.share().into(),
            time.more_late.mean.into(),
            time.more_late.interval.low.into(),
            time.more_late.interval.high.into(),
            time.more_stranded.mean.into(),
            time.cost_more.mean.into(),
            time.cost_more.interval.low.into(),
            time.cost_more.interval.high.into(),
            time.finished.map(|at| at.middle).into(),
        ]);
    }
    table.finish()
}

/// ```text
/// head …, "order": {"site", "volume_yd3", "mix", "spacing_min", "load_yd3", "rate_yd3_min"}, "accepted",
/// "limit": {"late_loads_of_others", "stranded"},
/// "first_that_holds": time | null, "times": [{"first_load", "final", "both", "it_holds", "rest_holds", "more_late",
/// "more_stranded", "cost_more", "finished_min"}], "late_without", "trials", "searched", "stopped"
/// ```
fn json(answer: &OrderAnswer, asked: &Asked<'_>, decision: &str) -> Value {
    let mut map = words::head_json(asked, "order", decision);
    let new = &answer.asked.new;
    let clock = |time: &FirstLoad| words::clock(asked.scenario, time.first);
    let more = json!({
        "order": {
            "site": asked.scenario.place_name(new.site),
            "volume_yd3": new.volume.yd3(),
            "mix": new.mix,
            "spacing_min": new.spacing.minutes(),
            "load_yd3": new.load.yd3(),
            "rate_yd3_min": new.rate_yd3_min,
        },
        "accepted": answer.asked.accepted,
        "limit": { "late_loads_of_others": answer.limit.late, "stranded": answer.limit.stranded },
        "first_that_holds": answer.first_that_holds.map(|at| clock(&answer.times[at])),
        "times": answer.times.iter().map(|time| json!({
            "first_load": clock(time),
            "trials": time.trials,
            "final": time.is_final,
            "both": words::chance_json(&time.both),
            "it_holds": words::chance_json(&time.holds),
            "rest_holds": words::chance_json(&time.rest_holds),
            "more_late": words::estimate_json(&time.more_late),
            "more_stranded": words::estimate_json(&time.more_stranded),
            "cost_more": words::estimate_json(&time.cost_more),
            "finished_min": words::span_json(time.finished),
        })).collect::<Vec<_>>(),
        "late_without": words::estimate_json(&answer.late_without),
        "trials": answer.trials,
        "searched": answer.searched,
        "stopped": answer.stopped,
    });
    if let Value::Object(more) = more {
        map.extend(more);
    }
    Value::Object(map)
}
