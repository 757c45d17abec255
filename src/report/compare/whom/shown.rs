//! What the page shows of who gains and who loses.

use super::{Change, changes, key};
use crate::observe;
use crate::report::answer::{Cell, Column, Form, Table};
use crate::report::compare::sentences;
use crate::report::number::Unit;
use crate::report::{figure, statement};
use crate::statistics::{Contrast, Statement};
use crate::studies::{At, Comparison, Who};

/// What "gains" means.
pub(super) const GAINS: &str = "\"gains\": a figure gets better for sure and none worse; \"loses\": the other way round; \"both\": one better and one worse.";

/// What a difference of chances is.
pub(super) const POINTS: &str = "\"pts\", where too few runs differ for an average: how much more often there is any, in points of a \
     hundred; of what most runs have, more rather than less.";

/// A difference to the digits that its interval warrants.
pub(super) fn difference(column: &observe::Column, said: Contrast) -> Cell {
    let unit = figure::unit(column);
    let form = match said.mean() {
        Some((_, interval)) if interval.is_bounded() => {
            Form::new(unit, unit.decimals(interval.half_width()).min(2))
        }
        _ => figure::form(column),
    };
    match said {
        said if said.never() => Cell::worded("same", Some(0.0)),
        // The same words as of any difference of chances, whose interval may have a line of its own.
        Contrast::Chance {
            more,
            less,
            of,
            interval,
            ..
        } => {
            let decimals = Unit::Share.decimals(interval.half_width());
            let seen = (more as f64 - less as f64) / of as f64;
            statement::estimate(seen, interval, Form::new(Unit::Share, decimals).signed())
        }
        said => statement::difference(said, form.signed()),
    }
}

/// How much there is of it, without its interval.
pub(super) fn amount(found: &Comparison, column: &observe::Column, said: Statement) -> Cell {
    statement::cell(said, found.days, false, statement::plain_mean(column))
}

/// Heading of a figure under the base.
pub(super) fn under_base(found: &Comparison, column: &observe::Column) -> Column {
    let base = if found.base_is_today {
        "today".to_owned()
    } else {
        sentences::base(found)
    };
    Column::new(format!("{}: {base}", figure::heading(column)))
}

/// Heading of what changes in a figure.
pub(super) fn change_in(column: &observe::Column) -> Column {
    Column::new(format!("change in {}", figure::heading(column)))
}

/// One line for each of them, and what the rule changes; none where nothing is ever other than zero.
pub(super) fn table(found: &Comparison, who: Who, rule: usize) -> Option<Table> {
    let whom = &found.whom;
    let all = whom.columns(who).iter().enumerate();
    let columns: Vec<(usize, &observe::Column)> =
        all.filter(|(figure, _)| whom.any(who, *figure)).collect();
    if columns.is_empty() {
        return None;
    }
    let name = match who {
        Who::Order => "orders-shown",
        Who::Customer => "customers-shown",
        Who::Plant => "plants-shown",
        Who::Weekday => "weekdays-shown",
        Who::Driver => "drivers-shown",
    };
    let first = [Column::new(key(who)).left(), Column::new("").left()];
    let base = under_base(found, columns[0].1);
    let figures = columns.iter().map(|(_, column)| change_in(column));
    let headings = first.into_iter().chain([base]).chain(figures);
    let mut table = Table::new(name, headings.collect());
    for (line, name) in whom.names(who).iter().enumerate() {
        let change = Change::of_line(changes(found, who, rule, line));
        let mut cells = vec![name.as_str().into(), verdict(change)];
        let at = |rule: usize, figure: usize| At {
            rule,
            who,
            line,
            figure,
        };
        let (figure, column) = columns[0];
        let base = whom.said(at(found.base, figure));
        cells.push(amount(found, column, base));
        for (figure, column) in &columns {
            cells.push(difference(column, whom.difference(at(rule, *figure))));
        }
        table.row(cells);
    }
    Some(table)
}

fn verdict(change: Change) -> Cell {
    match change {
        Change::None => "same".into(),
        Change::NotTold => Cell::Blank,
        change => change.key().into(),
    }
}
