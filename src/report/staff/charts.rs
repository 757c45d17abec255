//! The cost curve with its parts, and the service line under it.

use super::sentences;
use super::terminal::penalties;
use crate::observe::CostPart;
use crate::report::chart::panels::{self, Content, Panel, Panels};
use crate::report::number::Unit;
use crate::studies::{StaffAnswer, StaffResult, Staffing};

/// Name, heading and SVG of each chart.
pub(super) type Chart = (&'static str, &'static str, String);

pub(super) fn all(answer: &StaffAnswer) -> Vec<Chart> {
    vec![("staffing", "Head count, cost and service", curve(answer))]
}

/// Results with the starts and tours of the answer, by head count: the final ones where there are some.
fn line(answer: &StaffAnswer, like: Staffing) -> Vec<&StaffResult> {
    let neighbours = [&answer.less, &answer.more];
    let mut line: Vec<&StaffResult> = neighbours
        .into_iter()
        .flatten()
        .map(|one| &one.result)
        .chain(&answer.results)
        .filter(|result| {
            (result.staffing.starts, result.staffing.overtime) == (like.starts, like.overtime)
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
        (part(CostPart::Pay) - result.idle_pay).max(0.0),
        result.idle_pay,
        part(CostPart::Overtime),
        penalties(result),
        part(CostPart::Stranded),
    ]
}

fn curve(answer: &StaffAnswer) -> String {
    let like = answer
        .best
        .map_or(answer.today, |at| answer.results[at].staffing);
    let line = line(answer, like);
    let marked = answer
        .best
        .and_then(|_| line.iter().position(|result| result.staffing == like));
    let title = match answer.best.map(|at| &answer.results[at]) {
        Some(best) => format!(
            "{} drivers is the cheapest head count tried, all costs counted, that keeps late loads within {}",
            best.staffing.drivers,
            Unit::Share.show(answer.question.late_share, 0)
        ),
        None => "No head count tried meets the service targets".into(),
    };
    let words = sentences::staffing(like);
    let how = words.split_once(", ").map_or("", |(_, how)| how);
    panels::svg(&Panels {
        title,
        subtitle: format!(
            "Labour, penalties and retrievals {} by head count, {how}; means. Material, trucks and plant crews are left out. Bars: \
             {:.0} % intervals",
            sentences::period(answer.days),
            answer.question.level * 100.0
        ),
        axis: "regular drivers".into(),
        steps: line
            .iter()
            .map(|result| result.staffing.drivers.to_string())
            .collect(),
        marked,
        panels: vec![
            Panel {
                axis: format!("cost {}", sentences::period(answer.days)),
                unit: Unit::Money,
                bottom: None,
                top: None,
                line: None,
                content: Content::Columns {
                    parts: [
                        "regular pay, at work",
                        "regular pay, idle",
                        "overtime",
                        "late and undelivered",
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
    })
}
