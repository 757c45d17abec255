//! The cost curve with its parts, and the service line under it.

use super::sentences;
use super::tables::{penalties, regular_pay, stranded};
use crate::observe::CostPart;
use crate::report::chart::panels::{self, Content, Panel, Panels};
use crate::report::number::{Unit, level};
use crate::report::period::per;
use crate::studies::{StaffAnswer, StaffResult, Staffing};

/// Results with the starts and tours of the answer, by head count: the final ones where there are some.
fn line(answer: &StaffAnswer, like: Staffing) -> Vec<&StaffResult> {
    let neighbours = [&answer.less, &answer.more];
    let mut line: Vec<&StaffResult> = neighbours
        .into_iter()
        .flatten()
        .map(|one| &one.result)
        .chain(&answer.results)
        .filter(|result| {
            let same = Staffing {
                drivers: like.drivers,
                ..result.staffing
            };
            same == like
        })
        .collect();
    line.sort_by_key(|result| (result.staffing.drivers, !result.is_final));
    line.dedup_by_key(|result| result.staffing.drivers);
    line
}

/// Parts that staffing changes; material and crews are left out.
fn parts(result: &StaffResult) -> Vec<f64> {
    let part = |part: CostPart| result.parts[part as usize];
    vec![
        (regular_pay(result) - result.idle_pay).max(0.0) + part(CostPart::PayrollTax),
        result.idle_pay,
        part(CostPart::Overtime),
        part(CostPart::Haulers),
        penalties(result),
        stranded(result),
    ]
}

/// What is seen in the chart, and the chart.
pub(super) fn curve(answer: &StaffAnswer) -> (String, String) {
    let like = answer
        .best
        .map_or(answer.today, |at| answer.results[at].staffing);
    let line = line(answer, like);
    let marked = answer
        .best
        .and_then(|_| line.iter().position(|result| result.staffing == like));
    let title = match answer.best.map(|at| &answer.results[at]) {
        Some(best) if answer.year.is_some() => format!(
            "{} drivers is the head count decided on for the year, here in the book's own days",
            best.staffing.drivers
        ),
        Some(best) => format!(
            "{} drivers is the cheapest head count tried, all costs counted, that keeps late loads within {}",
            best.staffing.drivers,
            Unit::Share.show(answer.question.late_share, 0)
        ),
        None => "No head count tried meets the service targets".into(),
    };
    let words = sentences::staffing(like);
    let how = words.split_once(", ").map_or("", |(_, how)| how);
    let svg = panels::svg(&Panels {
        title: title.clone(),
        subtitle: format!(
            "Labor, penalties and pickups {} by head count, {how}; averages. Material, trucks and plant crews are left out. Bars: {} \
             intervals",
            per(answer.days),
            level(answer.question.level)
        ),
        axis: "regular drivers".into(),
        steps: line
            .iter()
            .map(|result| result.staffing.drivers.to_string())
            .collect(),
        marked,
        panels: vec![
            Panel {
                axis: format!("cost {}", per(answer.days)),
                unit: Unit::Money,
                bottom: None,
                top: None,
                line: None,
                content: Content::Columns {
                    parts: [
                        "regular pay at work, payroll taxes",
                        "regular pay, idle",
                        "overtime",
                        "hired haulers",
                        "late, undelivered, lost sales",
                        "stranded drivers",
                    ]
                    .map(str::to_owned)
                    .to_vec(),
                    values: line.iter().map(|result| parts(result)).collect(),
                },
            },
            Panel {
                axis: "share of loads late".into(),
                unit: Unit::Share,
                bottom: None,
                top: None,
                line: Some((
                    answer.question.late_share,
                    format!(
                        "- - at most {}",
                        Unit::Share.show(answer.question.late_share, 0)
                    ),
                )),
                content: Content::Points(
                    line.iter()
                        .map(|result| {
                            let late = &result.late_share;
                            Some((late.mean?, late.interval.low, late.interval.high))
                        })
                        .collect(),
                ),
            },
        ],
    });
    (title, svg)
}
