//! Who could take the load, drawn.

use super::{plant, what};
use crate::report::chart::panels::{self, Content, Panel, Panels};
use crate::report::number::{Unit, level};
use crate::report::trip::{Asked, Bar, words};
use crate::studies::trip::{Candidate, LoadAnswer};

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
pub(super) fn title(answer: &LoadAnswer, asked: &Asked<'_>) -> String {
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

pub(super) fn chart(answer: &LoadAnswer, asked: &Asked<'_>) -> String {
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
                line: Some(words::asked_for(asked)),
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
