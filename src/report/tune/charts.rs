//! The surface as a picture: one parameter as a curve; of more, the first two as a grid, the others as chosen.

use super::sentences::decision;
use crate::observe::Better;
use crate::report::chart::{curve, grid};
use crate::report::figure::unit;
use crate::report::final_round::{decimals, shown};
use crate::report::number::count;
use crate::studies::{Setting, Tuned, Vary};

/// The chart as SVG text.
pub(super) fn surface(answer: &Tuned) -> String {
    let vary = &answer.asked.vary;
    let chosen = answer
        .last
        .chosen
        .map(|chosen| answer.last.finalists[chosen].setting);
    let axis = |n: usize| format!("{} ({})", vary[n].label(), vary[n].name());
    let on = format!(
        "average {} of the search, {} runs of each setting",
        answer.judge.label,
        count(answer.searched)
    );
    if let [one] = &vary[..] {
        let point = |n: usize| curve::Point {
            name: one.written(n),
            mean: answer.settings[n].seen.judged.mean(),
            interval: answer.settings[n].seen.judged.interval(answer.asked.level),
            meets: answer.settings[n].seen.seems_to_meet,
            chosen: chosen == Some(n),
        };
        return curve::svg(&curve::Curve {
            title: decision(answer),
            subtitle: format!("Points: {on}; bars: intervals of each alone"),
            x_axis: axis(0),
            y_axis: answer.judge.label.clone(),
            unit: unit(&answer.judge),
            points: (0..one.count()).map(point).collect(),
            targets: !answer.targets.is_empty(),
        });
    }
    // The parameters after the first two stay as chosen; where nothing is, at their first value.
    let (rows, columns) = (vary[0].count(), vary[1].count());
    let inner: usize = vary[2..].iter().map(Vary::count).product();
    let rest = chosen
        .filter(|s| answer.settings[*s].places.is_some())
        .map_or(0, |s| s % inner);
    let place = |cell: usize| cell * inner + rest;
    let sign = if answer.judge.better == Better::More {
        -1.0
    } else {
        1.0
    };
    let value = |setting: &Setting| setting.seen.judged.mean().map(|mean| sign * mean);
    let all = || (0..rows * columns).filter_map(|cell| value(&answer.settings[place(cell)]));
    let (best, worst) = (
        all().fold(f64::INFINITY, f64::min),
        all().fold(f64::NEG_INFINITY, f64::max),
    );
    let cells = (0..rows * columns).map(|cell| {
        let setting = &answer.settings[place(cell)];
        grid::Cell {
            text: setting.seen.judged.mean().map_or("–".into(), |mean| {
                shown(&answer.judge, mean, decimals(&answer.judge))
            }),
            place: value(setting).map(|v| {
                if worst > best {
                    (v - best) / (worst - best)
                } else {
                    0.0
                }
            }),
            meets: setting.seen.seems_to_meet,
            chosen: chosen == Some(place(cell)),
        }
    });
    let rest: Vec<String> = (2..vary.len())
        .map(|n| {
            let places = answer.settings[place(0)].places.as_ref();
            places.map_or_else(String::new, |places| vary[n].named(places[n]))
        })
        .collect();
    let rest = if rest.is_empty() {
        String::new()
    } else {
        format!("; {}", rest.join(", "))
    };
    let texts = |n: usize| (0..vary[n].count()).map(|at| vary[n].written(at)).collect();
    grid::svg(&grid::Grid {
        title: decision(answer),
        subtitle: format!("Cells: {on}{rest}"),
        across: (axis(1), texts(1)),
        down: (axis(0), texts(0)),
        cells: cells.collect(),
    })
}
