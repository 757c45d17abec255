//! What figures are counted in.

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
    pub fn text(self) -> &'static str {
        match self {
            Self::Count => "",
            Self::Money => "$",
            Self::MoneyPerYd3 => "$/yd³",
            Self::Share => "share",
            Self::Minutes => "min",
            Self::Hours => "h",
            Self::Yd3 => "yd³",
            Self::Lb => "lb",
            Self::Psi => "psi",
            Self::PerHour => "/h",
        }
    }
}
