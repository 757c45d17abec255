//! The tables: families, and the checks of each.

use super::heading;
use crate::report::answer::{Cell, Column, Narrow, Row, Table};
use crate::report::number::Unit;
use crate::report::plain_text::capital;
use crate::studies::verify::{Basis, Check, Expected, Family, Found, Verified};

/// How many expected values are of each kind, in the order of [`Basis::ALL`].
pub(super) fn by_basis<'a>(checks: impl Iterator<Item = &'a Check> + Clone) -> [usize; 4] {
    Basis::ALL.map(|basis| checks.clone().filter(|check| check.basis == basis).count())
}

/// A line for each family.
pub(super) fn families(found: &Verified, asked: &[Family]) -> Table {
    let mut table = Table::new(
        "families",
        vec![
            Column::new("family").left().key("family"),
            Column::new("what is checked").left().key("what"),
            Column::new("checks").key("checks"),
            Column::new("agree").key("agree"),
            Column::file("printed"),
            Column::file("computed"),
            Column::file("on_paper"),
            Column::file("from_memory"),
        ],
    );
    table.narrow = Some(Narrow {
        keep: vec![2, 3, 1],
        always: 0,
        left_out: "What each family checks: plantday verify --family NAME.".into(),
    });
    for family in asked.iter().copied() {
        let checks = found.of(family);
        let all = checks.clone().count();
        let agree = checks.clone().filter(|check| check.agrees()).count();
        let number = |count: usize| Cell::count(count as u64);
        let [printed, computed, paper, memory] = by_basis(checks).map(number);
        let row = table.row([
            family.name().into(),
            heading(family).into(),
            number(all),
            number(agree),
            printed,
            computed,
            paper,
            memory,
        ]);
        row.marked(agree < all);
    }
    table
}

/// The checks of a family, and the sources that its cases name by number.
pub(super) struct Listed {
    /// The table.
    pub(super) table: Table,
    /// The sources, and whether the screen shows a check of each.
    pub(super) sources: Vec<(String, bool)>,
}

/// Where people read which check it is.
const CHECK: usize = 2;

/// The checks of a family; `whole`: the screen shows all of them, else those that disagree.
pub(super) fn checks(found: &Verified, family: Family, whole: bool) -> Listed {
    // Words go to the left, numbers to the right.
    let of_words = matches!(family, Family::Hours | Family::Days);
    let side = |column: Column| if of_words { column.left() } else { column };
    let mut table = Table::new(
        family.name(),
        vec![
            Column::file("case"),
            Column::file("figure"),
            Column::new("check").left(),
            side(Column::new("expected")).key("expected"),
            side(Column::new("got")).with_ends("got"),
            Column::new("").left().key("verdict"),
            Column::file("source"),
            Column::file("basis"),
            Column::file("within"),
            Column::file("expected_from"),
            Column::file("expected_to"),
        ],
    );
    table.narrow = Some(Narrow {
        keep: vec![4, 3, 5],
        always: CHECK,
        left_out: "A wider window says of each line whether it agrees.".into(),
    });
    let mut sources: Vec<(String, bool)> = Vec::new();
    let mut case = None;
    for check in found.of(family) {
        let shown = whole || !check.agrees();
        let named = source(check);
        let known = sources.iter().position(|(source, _)| *source == named);
        let number = known.unwrap_or(sources.len());
        if number == sources.len() {
            sources.push((named, false));
        }
        sources[number].1 |= shown;
        if case != Some((&check.about, number)) {
            case = Some((&check.about, number));
            // A case stands above its checks, on the screen above the first that is shown.
            let mut of_case = found.of(family).filter(|other| other.about == check.about);
            let some_shown = whole || of_case.any(|check| !check.agrees());
            let mut heads = vec![Cell::Blank; table.columns.len()];
            heads[CHECK] = format!("{} [{}]", check.about, number + 1).into();
            table.row(heads).not_in_files().screen(some_shown);
        }
        row(&mut table, check).marked(!check.agrees()).screen(shown);
    }
    Listed { table, sources }
}

/// A check, beneath its case.
fn row<'t>(table: &'t mut Table, check: &Check) -> &'t mut Row {
    let (expected, got) = cells(check);
    let (within, from, to) = match &check.expected {
        Expected::Number { within, .. } => (Some(*within), None, None),
        Expected::Between { low, high } => (None, Some(*low), Some(*high)),
        Expected::Words(_) => (None, None, None),
    };
    table.row([
        check.about.as_ref().into(),
        check.figure.as_ref().into(),
        format!("· {}", check.figure).into(),
        expected,
        got,
        verdict(check.agrees()).into(),
        source(check).into(),
        check.basis.words().into(),
        within.into(),
        from.into(),
        to.into(),
    ])
}

fn verdict(agrees: bool) -> &'static str {
    if agrees { "agrees" } else { "DISAGREES" }
}

/// The source, and how its digits come from it where they are not printed there.
fn source(check: &Check) -> String {
    match check.basis {
        Basis::Memory if !check.source.contains("from memory") => {
            format!("{} (from memory)", capital(&check.source))
        }
        _ => capital(&check.source),
    }
}

/// What is expected and what is found, to the digits that decide.
fn cells(check: &Check) -> (Cell, Cell) {
    let number = |value: f64, decimals: usize| Cell::number(value, Unit::Plain, decimals);
    match (&check.expected, &check.found) {
        (Expected::Number { value, within }, Found::Mean(found)) => {
            let precision = found.interval.half_width().min(*within);
            let decimals = Unit::Plain.decimals(precision);
            let got = Cell::estimate(found, Unit::Plain, decimals);
            (number(*value, decimals), got)
        }
        (Expected::Number { value, within }, Found::Number(found)) => {
            let decimals = decimals(*value, *within);
            // A miss is shown by as many digits as tell it.
            let miss = (found - value).abs();
            let shown = match check.agrees() {
                true => decimals,
                false => decimals.max(Unit::Plain.decimals(miss)),
            };
            (number(*value, decimals), number(*found, shown))
        }
        (Expected::Between { low, high }, Found::Number(found)) => {
            let decimals = Unit::Plain.decimals((high - low) / 20.0);
            let show = |value: f64| Unit::Plain.show(value, decimals);
            let range = Cell::worded(format!("{} to {}", show(*low), show(*high)), None);
            (range, number(*found, decimals))
        }
        (expected, found) => (text(expected).into(), found_text(found).into()),
    }
}

fn text(expected: &Expected) -> String {
    match expected {
        Expected::Words(words) => words.clone(),
        Expected::Number { value, .. } => value.to_string(),
        Expected::Between { low, high } => format!("{low} to {high}"),
    }
}

fn found_text(found: &Found) -> String {
    match found {
        Found::Words(words) => words.clone(),
        Found::Number(value) => value.to_string(),
        Found::Mean(estimate) => estimate.mean.map_or("–".into(), |mean| mean.to_string()),
    }
}

/// Decimals that show a number known to ± `within`; of one that must be met exactly as many as it has, up to six.
fn decimals(value: f64, within: f64) -> usize {
    let exact = (0..6).find(|decimals| {
        let scaled = value * 10_f64.powi(*decimals);
        (scaled - scaled.round()).abs() < 1e-9 * scaled.abs().max(1.0)
    });
    let exact = exact.unwrap_or(6) as usize;
    match within > 0.0 {
        true => exact
            .min(Unit::Plain.decimals(within))
            .max(usize::from(exact > 0)),
        false => exact,
    }
}
