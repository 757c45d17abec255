//! The answer on one screen.

use super::{sentences, sheet};
use crate::observe::CostPart;
use crate::report::number::{Unit, money, number};
use crate::report::plain_text::one_line;
use crate::report::table::{Align, Table};
use crate::report::wrap::wrap;
use crate::studies::{CallSheet, StaffAnswer, StaffResult};
use std::fmt::Write;

/// The answer for a terminal of this width. To be printed through `anstream`.
pub fn terminal(answer: &StaffAnswer, call_in: Option<&CallSheet>, width: u16) -> String {
    let mut text = String::new();
    let bold = anstyle::Style::new().bold();
    let _ = writeln!(text, "{}\n", one_line(&answer.scenario));
    let lines = |sentence: &str| wrap("", &one_line(sentence), usize::from(width));
    for line in lines(&sentences::decision(answer)) {
        let _ = writeln!(text, "{bold}{line}{bold:#}");
    }
    text.push('\n');
    let mut table = Table::new(&SHORT.map(|heading| {
        (
            heading,
            if heading == SHORT[0] {
                Align::Left
            } else {
                Align::Right
            },
        )
    }));
    for result in shown(answer).into_iter().take(ROWS) {
        table.row(short(answer, result));
    }
    text.push_str(&table.render(width));
    text.push('\n');
    let mut all = sentences::one_more(answer);
    all.extend(sentences::hire(answer));
    all.extend(sentences::growth(answer));
    all.extend(sentences::written(answer));
    all.push(sentences::MATCHED.into());
    all.push(sentences::sureness(answer));
    for sentence in all {
        for line in lines(&sentence) {
            let _ = writeln!(text, "{line}");
        }
    }
    if let Some(call_in) = call_in {
        text.push('\n');
        text.push_str(&sheet::text(call_in, width));
    }
    text
}

/// Staffings that a screen has room for.
const ROWS: usize = 9;

/// As [`cells`], with money in thousands.
fn short(answer: &StaffAnswer, result: &StaffResult) -> Vec<String> {
    let thousands = |units: f64| format!("{}k", Unit::Money.show(units / 1000.0, 1));
    let mut cells = cells(answer, result);
    let values = [
        result.cost.mean.unwrap_or(f64::NAN),
        result.parts[CostPart::Pay as usize],
        result.idle_pay,
        result.parts[CostPart::Overtime as usize],
        penalties(result),
    ];
    for (cell, value) in cells[1..].iter_mut().zip(values) {
        *cell = thousands(value);
    }
    cells
}

pub(super) const HEADINGS: [&str; 9] = [
    "drivers, starts, overtime",
    "cost",
    "regular pay",
    "of it idle",
    "overtime",
    "penalties",
    "late",
    "undelivered",
    "stranded",
];

/// The same, for narrow columns.
const SHORT: [&str; 9] = [
    "drivers, starts, overtime",
    "cost",
    "pay",
    "idle",
    "over",
    "penal.",
    "late",
    "undel.",
    "strand",
];

/// What is paid for late and undelivered loads.
pub(super) fn penalties(result: &StaffResult) -> f64 {
    result.parts[CostPart::Late as usize] + result.parts[CostPart::Undelivered as usize]
}

/// Those of the final answer, the cheapest that meet the targets first, then one driver less and more.
pub(super) fn shown(answer: &StaffAnswer) -> Vec<&StaffResult> {
    let mut shown: Vec<&StaffResult> = answer
        .results
        .iter()
        .filter(|result| result.is_final)
        .collect();
    let neighbours = [&answer.less, &answer.more];
    for one in neighbours.into_iter().flatten() {
        if shown
            .iter()
            .all(|other| other.staffing != one.result.staffing)
        {
            shown.push(&one.result);
        }
    }
    let cost = |result: &StaffResult| result.cost.mean.unwrap_or(f64::INFINITY);
    shown.sort_by(|a, b| b.meets.cmp(&a.meets).then(cost(a).total_cmp(&cost(b))));
    shown
}

pub(super) fn cells(answer: &StaffAnswer, result: &StaffResult) -> Vec<String> {
    let staffing = result.staffing;
    let best = answer
        .best
        .is_some_and(|at| answer.results[at].staffing == staffing);
    let mark = match (best, staffing == answer.today) {
        (true, true) => " ← keep",
        (true, false) => " ← best",
        (false, true) => " (today)",
        (false, false) => "",
    };
    let missed = |missed: bool, text: String| if missed { format!("{text} !") } else { text };
    let asked = &answer.question;
    let above = |estimate: &crate::studies::Estimate, most: f64| {
        estimate.interval.high > most
            && !result.meets
            && estimate.mean.is_some_and(|mean| mean > 0.0)
    };
    vec![
        format!(
            "{} {}, {}{mark}",
            staffing.drivers,
            staffing.starts.word(),
            staffing.overtime.word()
        ),
        sentences::dollars(&result.cost),
        money(result.parts[CostPart::Pay as usize]),
        money(result.idle_pay),
        money(result.parts[CostPart::Overtime as usize]),
        money(penalties(result)),
        missed(
            above(&result.late_share, asked.late_share),
            sentences::share(&result.late_share),
        ),
        missed(
            above(&result.undelivered, asked.undelivered),
            sentences::share(&result.undelivered),
        ),
        result
            .stranded
            .mean
            .map_or("–".into(), |mean| number(mean, 2)),
    ]
}

/// `12 min`, for the page.
pub(super) fn margin(result: &StaffResult) -> String {
    result.margin_min.mean.map_or("–".into(), |mean| {
        format!("{} min", Unit::Plain.show(mean, 0))
    })
}
