//! Charts of a pour's fleet: chance of a gap and cost by fleet size; trucks at work by hour.

use super::sentences;
use crate::report::chart::panels::{self, Content, Panel, Panels};
use crate::report::number::{Unit, count, level, number};
use crate::studies::{Estimate, FleetAnswer, FleetSize, PourPlan};
use crate::units::measure::{self, Quantity};

fn points(plan: &PourPlan, value: impl Fn(&FleetSize) -> Option<(f64, f64, f64)>) -> Content {
    Content::Banded {
        points: plan.sizes.iter().map(value).collect(),
        hollow: plan.sizes.iter().map(|size| !size.is_final).collect(),
    }
}

fn estimated(estimate: &Estimate) -> Option<(f64, f64, f64)> {
    Some((
        estimate.mean?,
        estimate.interval.low,
        estimate.interval.high,
    ))
}

/// What is seen in the chart of sizes, and the chart.
pub(super) fn sizes(answer: &FleetAnswer) -> (String, String) {
    let plan = answer.shown();
    let allowed = 1.0 - answer.target;
    let title = match plan.cheapest {
        Some(at) => {
            let size = &plan.sizes[at];
            format!(
                "{} from {} do it for the least: the chance of a gap is {}, within the {} that is allowed",
                sentences::trucks(size.trucks),
                answer.plant,
                Unit::Share.show(1.0 - size.no_gap.share(), 1),
                Unit::Share.show(allowed, 0),
            )
        }
        None => format!(
            "No fleet of up to {} from {} keeps gaps within the {} that is allowed",
            sentences::trucks(plan.sizes.last().map_or(0, |size| size.trucks)),
            answer.plant,
            Unit::Share.show(allowed, 0)
        ),
    };
    let costs = || {
        plan.sizes
            .iter()
            .filter_map(|size| sentences::per_volume(&size.cost_per_yd3).mean)
    };
    let (low, high) = costs().fold((f64::INFINITY, 0.0_f64), |(low, high), cost| {
        (low.min(cost), high.max(cost))
    });
    // One truck alone may cost many times what the rest does: the axis is for sizes that could be chosen.
    let top = (high > 1.6 * low).then_some(1.6 * low);
    let cost = points(plan, |size| {
        estimated(&sentences::per_volume(&size.cost_per_yd3))
            .filter(|(cost, _, _)| top.is_none_or(|top| *cost <= top))
    });
    let gap = points(plan, |size| {
        let chance = &size.no_gap;
        (chance.of > 0).then(|| {
            (
                1.0 - chance.share(),
                1.0 - chance.interval.high,
                1.0 - chance.interval.low,
            )
        })
    });
    let svg = panels::svg(&Panels {
        title: title.clone(),
        subtitle: format!(
            "\"{}\", {} {}, {}; a gap is more than {} min without unloading. Bars and band: {} intervals{}",
            answer.order,
            number(Quantity::Volume.told(answer.volume_yd3), 0),
            Quantity::Volume.unit(),
            sentences::plan_words(answer, plan),
            sentences::minutes(answer.tolerated),
            level(answer.level),
            match plan.sizes.iter().all(|size| size.is_final) {
                true => "",
                false => "; hollow: sizes of the search only, other and fewer runs",
            },
        ),
        axis: "trucks".into(),
        steps: plan
            .sizes
            .iter()
            .map(|size| size.trucks.to_string())
            .collect(),
        marked: plan.cheapest,
        panels: vec![
            Panel {
                axis: "chance of a gap".into(),
                unit: Unit::Share,
                bottom: None,
                top: Some(1.0),
                line: Some((
                    allowed,
                    format!("- - allowed: {}", Unit::Share.show(allowed, 0)),
                )),
                content: gap,
            },
            Panel {
                axis: if answer.alone {
                    measure::said("cost per yd³ of the pour alone (the axis does not begin at zero; sizes without a point cost more)").into_owned()
                } else {
                    measure::said("what the day costs more with it, per yd³ (the axis does not begin at zero; sizes without a point cost more)").into_owned()
                },
                unit: Unit::Money,
                bottom: low.is_finite().then_some(0.9 * low),
                top,
                line: None,
                content: cost,
            },
        ],
    });
    (title, svg)
}

/// The same of trucks and drivers by hour.
pub(super) fn hours(answer: &FleetAnswer) -> (String, String) {
    let plan = answer.shown();
    let hours = &plan.hours;
    let most = hours.iter().map(|hour| hour.enough).max().unwrap_or(0);
    let busiest: Vec<String> = hours
        .iter()
        .filter(|hour| hour.enough == most)
        .map(|hour| sentences::clock(answer, hour.from))
        .collect();
    let when = match (busiest.first(), busiest.len()) {
        (Some(from), 1) => format!(", in the hour from {from}"),
        (Some(from), _) => format!(", first in the hour from {from}"),
        (None, _) => String::new(),
    };
    let needed = hours.iter().map(|hour| hour.needed).max().unwrap_or(0);
    let title = format!(
        "The pour has at most {} at work at once in 9 runs of 10{when}; the plan needs {needed}",
        sentences::trucks(most as u32),
    );
    let mut panels = vec![
        Panel {
            axis: "trucks that the plan needs".into(),
            unit: Unit::Plain,
            bottom: None,
            top: Some(1.05 * most.max(needed as usize) as f64),
            line: None,
            content: Content::Points(
                hours
                    .iter()
                    .map(|hour| Some([f64::from(hour.needed); 3].into()))
                    .collect(),
            ),
        },
        Panel {
            axis: "trucks at work: average (dot) to enough for 9 in 10 (end of the bar)".into(),
            unit: Unit::Plain,
            bottom: None,
            top: Some(1.05 * most.max(needed as usize) as f64),
            line: None,
            content: Content::Points(
                hours
                    .iter()
                    .map(|hour| {
                        let mean = hour.at_work;
                        Some((mean, mean, (hour.enough as f64).max(mean)))
                    })
                    .collect(),
            ),
        },
    ];
    if !plan.calls.is_empty() {
        let shifts = 1 + usize::from(plan.calls.iter().any(|call| call.later));
        panels.push(Panel {
            axis: "drivers called in for it and on duty, average".into(),
            unit: Unit::Plain,
            bottom: None,
            top: None,
            line: None,
            content: Content::Columns {
                parts: ["first shift", "later shift"][..shifts]
                    .iter()
                    .map(|shift| (*shift).to_owned())
                    .collect(),
                values: hours
                    .iter()
                    .map(|hour| hour.on_duty[..shifts].to_vec())
                    .collect(),
            },
        });
    }
    let svg = panels::svg(&Panels {
        title: title.clone(),
        subtitle: format!(
            "Largest number of trucks between joining the bay queue and being back, of a fleet of {}; average of {} runs, and what 9 in \
             10 do not exceed",
            plan.spoken_of().trucks,
            count(plan.spoken_of().replications)
        ),
        axis: "hour of the day, from".into(),
        steps: hours
            .iter()
            .map(|hour| sentences::clock(answer, hour.from))
            .collect(),
        marked: None,
        panels,
    });
    (title, svg)
}
