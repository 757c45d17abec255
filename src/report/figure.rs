//! How a figure is named, rounded and given its unit, wherever it is shown.

use super::answer::Form;
use super::number::{Unit, number};
use crate::observe::{Column, FigureUnit};

/// How the figures of a column are written.
pub(super) fn unit(column: &Column) -> Unit {
    match column.unit {
        FigureUnit::Money | FigureUnit::MoneyPerYd3 => Unit::Money,
        FigureUnit::Share => Unit::Share,
        _ => Unit::Plain,
    }
}

/// The figure's name with its unit, where the numbers do not carry it: `wait for a bay, min`.
pub(super) fn heading(column: &Column) -> String {
    match (unit(column), column.unit.text()) {
        (Unit::Plain, unit) if !unit.is_empty() => format!("{}, {unit}", column.label),
        _ => column.label.clone(),
    }
}

/// How its mean is written.
pub(super) fn form(column: &Column) -> Form {
    let unit = unit(column);
    let decimals = match unit {
        Unit::Share => column.decimals.max(1),
        _ => column.decimals,
    };
    Form::new(unit, decimals)
}

/// How a value of one replication is written, where a count is a whole number.
pub(super) fn form_of_one(column: &Column) -> Form {
    let decimals = match (unit(column), column.unit) {
        (Unit::Money, _) | (_, FigureUnit::Count) => 0,
        _ => column.decimals.min(1),
    };
    Form::new(unit(column), decimals)
}

/// An amount with its unit: `12`, `23.5 yd³`, `$1,200`.
pub(super) fn amount(column: &Column, value: f64) -> String {
    let decimals = usize::from(value.fract() != 0.0);
    match unit(column) {
        Unit::Plain if column.unit != FigureUnit::Count => {
            format!("{} {}", number(value, decimals), column.unit.text())
        }
        unit => unit.show(value, decimals),
    }
}
