//! What figures are counted in.

use crate::units::measure::{self, Quantity, System};
use std::borrow::Cow;

/// What a figure is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FigureUnit {
    /// Whole things: loads, drivers, orders.
    Count,
    /// Currency units.
    Money,
    /// Currency units per yd³.
    MoneyPerYd3,
    /// A share of one, 0 to 1.
    Share,
    /// Minutes.
    Minutes,
    /// Hours.
    Hours,
    /// Cubic yards.
    Yd3,
    /// Pounds.
    Lb,
    /// Pounds per square inch.
    Psi,
    /// So many an hour.
    PerHour,
}

impl FigureUnit {
    /// As files and headings write it; empty for a count.
    pub fn text(self) -> Cow<'static, str> {
        let money = || measure::here().currency.sign().to_owned();
        match self {
            Self::Count => "".into(),
            Self::Money => money().into(),
            Self::MoneyPerYd3 => format!("{}/{}", money(), Quantity::Volume.unit()).into(),
            Self::Share => "share".into(),
            Self::Minutes => "min".into(),
            Self::Hours => "h".into(),
            Self::Yd3 => Quantity::Volume.unit().into(),
            Self::Lb => Quantity::Weight.unit().into(),
            Self::Psi => Quantity::Strength.unit().into(),
            Self::PerHour => "/h".into(),
        }
    }

    /// The least and the most that such a figure can be.
    pub fn range(self) -> (f64, f64) {
        match self {
            Self::Money | Self::MoneyPerYd3 => (f64::NEG_INFINITY, f64::INFINITY),
            Self::Share => (0.0, 1.0),
            Self::Count
            | Self::Minutes
            | Self::Hours
            | Self::Yd3
            | Self::Lb
            | Self::Psi
            | Self::PerHour => (0.0, f64::INFINITY),
        }
    }

    /// What is measured, if it is another number in SI.
    pub fn quantity(self) -> Option<Quantity> {
        match self {
            Self::MoneyPerYd3 => Some(Quantity::PerVolume),
            Self::Yd3 => Some(Quantity::Volume),
            Self::Lb => Some(Quantity::Weight),
            Self::Psi => Some(Quantity::Strength),
            Self::Count
            | Self::Money
            | Self::Share
            | Self::Minutes
            | Self::Hours
            | Self::PerHour => None,
        }
    }

    /// A figure of the program, as rows have it: in the units of the scenario.
    pub fn told_in(self, system: System, us: f64) -> f64 {
        self.quantity()
            .map_or(us, |quantity| quantity.told_in(system, us))
    }
}
