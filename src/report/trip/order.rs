//! Can we take this order: what is shown of the answer.

use super::{Asked, Bar, unsaid, words};
use crate::report::answer::{Answer, Cell, Column, Part, Table};
use crate::report::chart::panels::{self, Content, Panel, Panels};
use crate::report::number::{Unit, level, number};
use crate::studies::trip::{Change, FirstLoad, OrderAnswer};
use crate::units::measure::{self, Quantity};
use serde_json::{Value, json};

pub(super) fn answer(found: &OrderAnswer, asked: &Asked<'_>) -> Answer {
    let others = format!(
        "Others no worse off: at most {} loads of other orders are late and {} drivers stranded that day, from the moment on. Without \
         the order 39 of 40 such days are no worse ({} further late loads are accepted). Day by day with and without it cannot be \
         told: one truck sent elsewhere makes some loads late and saves others.",
        found.limit.late, found.limit.stranded, found.asked.accepted
    );
    let notes = [
        "On time: every load on site within 15 min of when it could be taken, and finished on its day.",
        &others,
        "Late loads, stranded drivers and cost: what the order brings, on average. Revenue is not in it.",
    ];
    let mut answer = words::answer(asked, "order", decision(found, asked), &notes);
    answer.own_all(json(found, asked));
    answer.add_chart(
        "first-load",
        "When it can be taken",
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

fn what(answer: &OrderAnswer, asked: &Asked<'_>) -> String {
    let new = &answer.asked.new;
    let told = measure::rounded(Quantity::Volume, new.volume.yd3(), 2);
    format!(
        "{} {} of {} at {}",
        number(told, usize::from(told.fract() != 0.0)),
        Quantity::Volume.unit(),
        new.mix,
        &asked.scenario.sites[new.site].name
    )
}

fn decision(answer: &OrderAnswer, asked: &Asked<'_>) -> String {
    let what = what(answer, asked);
    let at = |time: &FirstLoad| words::short(asked, time.first.minutes());
    let wanted = Unit::Share.show(asked.question.probability, 0);
    let wish = &answer.times[0];
    match answer.first_that_holds {
        Some(0) => format!(
            "Yes: {what} can be taken for {}. In {} this order is on time and the other orders are no worse off.",
            at(wish),
            words::of_runs(&wish.both)
        ),
        Some(first) => format!(
            "Not for {}, when only in {} this order is on time and the other orders are no worse off: {what} can be taken for {}, with {}.",
            at(wish),
            words::of_runs(&wish.both),
            at(&answer.times[first]),
            words::chance(&answer.times[first].both)
        ),
        None => {
            let best = best(answer);
            format!(
                "No: {what} cannot be taken that day with a chance of {wanted} that it is on time and the other orders are no worse off. \
                 Best is {}, with {}.",
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
    let mut all = Vec::new();
    if !answer.instead.is_empty() {
        all.push(why(answer, asked));
        all.push(instead(answer, asked));
    }
    all.push(format!(
        "With its first load at {} it is finished at {}. Without it {} loads of the others are late from now on, on average; they are \
         no worse off with up to {} late loads (39 of 40 days without it) and {} drivers stranded.",
        words::short(asked, shown.first.minutes()),
        words::span_of_time(asked, shown.finished),
        answer
            .late_without
            .mean
            .map_or("–".into(), |mean| number(mean, 1)),
        answer.limit.late,
        answer.limit.stranded
    ));
    all.extend(unsaid::all(asked));
    all.push(words::sureness(
        asked,
        answer.trials,
        answer.searched,
        answer.stopped,
    ));
    all
}

/// Why not for the time asked for.
fn why(answer: &OrderAnswer, asked: &Asked<'_>) -> String {
    let wish = &answer.times[0];
    let at = words::short(asked, wish.first.minutes());
    let (own, others) = (
        words::percent(&wish.holds),
        words::percent(&wish.rest_holds),
    );
    match wish.holds.share() < wish.rest_holds.share() {
        true => format!(
            "Why not {at}: the order itself is on time and finished in only {own} of runs; the others are no worse off in {others}."
        ),
        false => format!(
            "Why not {at}: it makes others late, who are no worse off in only {others} of runs ({} more of their loads late on average); the \
             order itself is on time in {own}.",
            wish.more_late
                .mean
                .map_or("–".into(), |mean| number(mean, 1))
        ),
    }
}

/// What would do for the time asked for, and what would not.
fn instead(answer: &OrderAnswer, asked: &Asked<'_>) -> String {
    let wanted = asked.question.probability;
    let told = |change: &Change| match change {
        Change::Volume(volume) => measure::plainly(Quantity::Volume, volume.yd3(), 2),
        Change::Spacing(spacing) => format!("a load every {}", words::length(spacing.minutes())),
        Change::Plant(plant) => format!("{} alone", asked.scenario.plants[plant.at()].name),
    };
    let at = words::short(asked, answer.times[0].first.minutes());
    let listed = |does: bool| {
        let of = answer.instead.iter();
        let of = of.filter(|(_, found)| (found.both.at_least >= wanted) == does);
        let of: Vec<String> = of
            .map(|(change, found)| format!("{} ({})", told(change), words::percent(&found.both)))
            .collect();
        of.join(", ")
    };
    match (listed(true), listed(false)) {
        (does, not) if does.is_empty() => format!("Nor would this do at {at}: {not}."),
        (does, not) if not.is_empty() => format!("For {at} this would do: {does}."),
        (does, not) => format!("For {at} this would do: {does}. This would not: {not}."),
    }
}

/// `trip.csv`: one line for each time of the first load.
fn table(answer: &OrderAnswer, asked: &Asked<'_>) -> Table {
    let mut table = Table::new(
        "trip",
        vec![
            Column::new("first load").left(),
            Column::file("first_load"),
            Column::file("first_load_min"),
            Column::file("final"),
            Column::file("trials"),
            Column::new("both")
                .with_ends("both")
                .part("both_at_least", Part::AtLeast),
            Column::new("it is on time")
                .without_interval()
                .with_ends("it_holds"),
            Column::new("others no worse off")
                .without_interval()
                .with_ends("rest_holds"),
            Column::new("late loads of others")
                .without_interval()
                .with_ends("more_late"),
            Column::new("drivers stranded")
                .without_interval()
                .with_ends("more_stranded"),
            Column::new("extra cost")
                .without_interval()
                .with_ends("cost_more"),
            Column::file("finished_min"),
        ],
    );
    for (at, time) in answer.times.iter().enumerate() {
        let chosen = answer.first_that_holds == Some(at);
        let mark = match (at, chosen, time.is_final) {
            (0, true, _) => " ← asked, works",
            (0, false, _) => " ← asked",
            (_, true, _) => " ← first that works",
            (_, false, true) => "",
            (_, false, false) => " (search only)",
        };
        let more = |estimate, decimals| Cell::estimate(estimate, Unit::Plain, decimals).signed();
        table
            .row([
                format!("{}{mark}", words::short(asked, time.first.minutes())).into(),
                words::clock(asked.scenario, time.first).into(),
                time.first.minutes().into(),
                Cell::yes(time.is_final),
                (time.trials as f64).into(),
                Cell::chance(&time.both, 0),
                Cell::chance(&time.holds, 0),
                Cell::chance(&time.rest_holds, 0),
                more(&time.more_late, 1),
                more(&time.more_stranded, 2),
                words::more_cost(&time.cost_more),
                time.finished.map(|at| at.middle).into(),
            ])
            .marked(chosen)
            .screen(time.is_final || at < 3);
    }
    table
}

/// What the chart shows.
fn title(answer: &OrderAnswer, asked: &Asked<'_>) -> String {
    match answer.first_that_holds {
        Some(at) => format!(
            "From {} on {} can be taken",
            words::short(asked, answer.times[at].first.minutes()),
            what(answer, asked)
        ),
        None => format!("No time of the day works for {}", what(answer, asked)),
    }
}

fn chart(answer: &OrderAnswer, asked: &Asked<'_>) -> String {
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
        title: title(answer, asked),
        subtitle: format!(
            "It is on time: all its loads. Others no worse off: at most {} of their loads late and {} drivers stranded. Bars: {} intervals",
            answer.limit.late,
            answer.limit.stranded,
            level(asked.question.level)
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
                axis: "chance that it is on time, others no worse off".into(),
                unit: Unit::Share,
                bottom: None,
                top: Some(1.0),
                line: Some(words::asked_for(asked)),
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

/// ```text
/// head …, "order": {"site", "volume_yd3", "mix", "spacing_min", "load_yd3", "rate_yd3_min"}, "accepted",
/// "limit": {"late_loads_of_others", "stranded"},
/// "first_that_holds": time | null, "times": [{"first_load", "final", "both", "it_holds", "rest_holds", "more_late",
/// "more_stranded", "cost_more", "finished_min"}], "late_without", "trials", "searched", "stopped"
/// ```
fn json(answer: &OrderAnswer, asked: &Asked<'_>) -> Value {
    let new = &answer.asked.new;
    let clock = |time: &FirstLoad| words::clock(asked.scenario, time.first);
    json!({
        "order": {
            "site": asked.scenario.sites[new.site].name,
            "volume_yd3": measure::rounded(Quantity::Volume, new.volume.yd3(), 6),
            "mix": new.mix,
            "spacing_min": new.spacing.minutes(),
            "load_yd3": measure::rounded(Quantity::Volume, new.load.yd3(), 6),
            "rate_yd3_min": measure::rounded(Quantity::Volume, new.rate_yd3_min, 6),
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
        "instead": answer.instead.iter().map(|(change, found)| json!({
            "volume_yd3": match change {
                Change::Volume(volume) => Some(measure::rounded(Quantity::Volume, volume.yd3(), 6)),
                _ => None,
            },
            "spacing_min": match change {
                Change::Spacing(spacing) => Some(spacing.minutes()),
                _ => None,
            },
            "plant": match change {
                Change::Plant(plant) => Some(&asked.scenario.plants[plant.at()].name),
                _ => None,
            },
            "both": words::chance_json(&found.both),
        })).collect::<Vec<_>>(),
        "late_without": words::estimate_json(&answer.late_without),
        "trials": answer.trials,
        "searched": answer.searched,
        "stopped": answer.stopped,
    })
}
