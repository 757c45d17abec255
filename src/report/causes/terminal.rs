//! The answer on one screen.

use super::sentences::{self, amount, level, money, period};
use crate::report::compare;
use crate::report::number::{Unit, number};
use crate::report::plain_text::one_line;
use crate::report::table::{Align, Table};
use crate::report::wrap::wrap;
use crate::studies::{Counterfactuals, Gone};
use std::fmt::Write;

/// The answer for a terminal of this width: the finding, the changes by worth, on what it rests. To be printed through
/// `anstream`.
pub fn terminal(answer: &Counterfactuals, width: u16) -> String {
    let mut text = String::new();
    let bold = anstyle::Style::new().bold();
    let _ = writeln!(text, "{}\n", one_line(&answer.scenario));
    for line in wrap("", &sentences::finding(answer), usize::from(width)) {
        let _ = writeln!(text, "{bold}{line}{bold:#}");
    }
    text.push('\n');
    let headings = headings(answer);
    let mut columns = vec![(headings[0].as_str(), Align::Left)];
    columns.extend(
        headings[1..]
            .iter()
            .map(|name| (name.as_str(), Align::Right)),
    );
    let mut table = Table::new(&columns);
    table.row(as_it_is(answer));
    for row in rows(answer) {
        table.row(row);
    }
    text.push_str(&table.render(width));
    text.push('\n');
    let ledger = compare::lateness_sentences(&answer.ledger);
    for sentence in ledger.into_iter().chain([
        sentences::losses(answer),
        legend(answer),
        sentences::paid(answer),
        sentences::not_applying(answer),
        sentences::sureness(answer),
    ]) {
        if !sentence.is_empty() {
            for line in wrap("", &one_line(&sentence), usize::from(width)) {
                let _ = writeln!(text, "{line}");
            }
        }
    }
    text
}

/// Headings of the table, on the screen and on the page.
pub(super) fn headings(answer: &Counterfactuals) -> [String; 6] {
    [
        "what disappears with".into(),
        format!("worth {}", period(answer.days)),
        format!("± ({})", level(answer)),
        "late loads".into(),
        "strandings".into(),
        "yd³ dumped".into(),
    ]
}

/// What there is.
pub(super) fn as_it_is(answer: &Counterfactuals) -> [String; 6] {
    let there = answer.as_it_is;
    [
        "(there is, as it is)".into(),
        Unit::Money.show(there.cost, 0),
        String::new(),
        amount(there.late_loads),
        number(there.stranded, 2),
        amount(there.dumped_yd3),
    ]
}

/// One row for each change.
pub(super) fn rows(answer: &Counterfactuals) -> impl Iterator<Item = [String; 6]> {
    answer.changes.iter().map(|change| {
        let worth = change.worth;
        let sure = if !worth.interval.is_bounded() {
            "two needed".into()
        } else if worth.told_apart() {
            money(worth.interval.half_width(), worth.interval)
        } else {
            format!("{} ·", money(worth.interval.half_width(), worth.interval))
        };
        [
            change.change.words().into(),
            money(worth.mean, worth.interval),
            sure,
            gone(change.late_loads),
            gone(change.stranded),
            gone(change.dumped_yd3),
        ]
    })
}

/// `58 (42 %)`, `·` where nothing is shown to disappear.
fn gone(gone: Gone) -> String {
    if gone.interval.is_bounded() && !gone.told_apart() {
        return "·".into();
    }
    let decimals = Unit::Plain.decimals(gone.interval.half_width()).min(2);
    let mean = number(gone.mean, decimals);
    match gone.share {
        Some(share) => format!("{mean} ({})", Unit::Share.show(share, 0)),
        None => mean,
    }
}

/// What the signs mean.
pub(super) fn legend(answer: &Counterfactuals) -> String {
    format!(
        "In brackets the share of what there is; below zero: more of it. · not told apart from nothing ({} intervals, for all {} changes at once).",
        level(answer),
        answer.changes.len()
    )
}
