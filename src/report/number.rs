//! Numbers as they are shown to people: in tables, in sentences and on charts alike.

use crate::statistics::Interval;
use crate::units::measure;

/// What kind of figure a number is, which decides its sign of currency or percent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// A plain number; its unit stands in the heading of the column or on the axis.
    Plain,
    /// Whole currency units with the scenario's currency sign: `$1,234`.
    Money,
    /// A share of one, shown in percent: 0.125 is `12.5%`.
    Share,
}

impl Unit {
    /// The number of decimals at which a figure that is known to ± `precision` should be shown: one digit of the
    /// uncertainty, two where that digit would be small (below 3). Money has none or two.
    pub fn decimals(self, precision: f64) -> usize {
        let shown = match self {
            Self::Share => precision * 100.0,
            _ => precision,
        };
        if !(shown.is_finite() && shown > 0.0) {
            return 0;
        }
        let decimals = (-libm::floor(libm::log10(shown / 3.0))).clamp(0.0, 6.0) as usize;
        match self {
            Self::Money if decimals > 0 => 2,
            _ => decimals,
        }
    }

    /// The figure with this many decimals: `−1,234.5`, `−$1,234`, `12.5%`. Not a number: `–`.
    pub fn show(self, value: f64, decimals: usize) -> String {
        self.compose(value, decimals, "", "%")
    }

    /// A difference of two figures: as [`show`](Self::show), with a plus before what is above zero, and a difference of
    /// shares in percentage points (`+2.5 pts`), since "+2.5%" could also mean 2.5% more.
    pub fn show_difference(self, value: f64, decimals: usize) -> String {
        self.compose(value, decimals, "+", " pts")
    }

    fn compose(self, value: f64, decimals: usize, plus: &str, after_share: &str) -> String {
        if value.is_nan() {
            return "–".into();
        }
        let (value, before, after) = match self {
            Self::Plain => (value, String::new(), ""),
            Self::Money => (value, measure::here().currency.before(), ""),
            Self::Share => (value * 100.0, String::new(), after_share),
        };
        let digits = grouped(value.abs(), decimals);
        let is_zero = digits.chars().all(|c| matches!(c, '0' | '.'));
        let sign = match value {
            _ if is_zero => "",
            v if v < 0.0 => "−",
            _ => plus,
        };
        format!("{sign}{before}{digits}{after}")
    }
}

/// Both ends of an interval, the unit once where it comes behind: `$1,952 to $3,550`, `89 to 99%`, `+1.0 to +4.0 pts`.
pub fn range(interval: Interval, show: impl Fn(f64) -> String) -> String {
    let (low, high) = (show(interval.low), show(interval.high));
    let low = [" pts", "%"]
        .iter()
        .find_map(|unit| low.strip_suffix(unit))
        .unwrap_or(&low);
    format!("{low} to {high}")
}

/// A confidence as people read it: 0.95 is `95%`, 0.999 is `99.9%`.
pub fn level(level: f64) -> String {
    let text = format!("{:.1}", level * 100.0);
    format!("{}%", text.trim_end_matches(".0"))
}

/// A number with this many decimals, thousands separated: `−1,234.5`. Not a number: `–`.
pub fn number(value: f64, decimals: usize) -> String {
    Unit::Plain.show(value, decimals)
}

/// Currency units: whole from 100 on, with cents below: `$1,234`, `$9.50`.
pub fn money(units: f64) -> String {
    Unit::Money.show(units, if units.abs() < 99.995 { 2 } else { 0 })
}

/// A count, thousands separated.
pub fn count(count: u64) -> String {
    separated(&count.to_string())
}

fn grouped(value: f64, decimals: usize) -> String {
    if value.is_infinite() {
        return "∞".into();
    }
    let text = format!("{value:.decimals$}");
    match text.split_once('.') {
        Some((whole, part)) => format!("{}.{part}", separated(whole)),
        None => separated(&text),
    }
}

fn separated(digits: &str) -> String {
    let mut text = String::with_capacity(digits.len() + digits.len() / 3);
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_and_separators() {
        assert_eq!(number(-1234567.891, 1), "−1,234,567.9");
        assert_eq!(number(-0.04, 1), "0.0");
        assert_eq!(number(999.96, 1), "1,000.0");
        assert_eq!(number(f64::NAN, 1), "–");
        assert_eq!(number(f64::NEG_INFINITY, 1), "−∞");
        assert_eq!(Unit::Plain.show_difference(2.46, 1), "+2.5");
        assert_eq!(Unit::Plain.show_difference(0.0, 1), "0.0");
        assert_eq!(count(1_234_567), "1,234,567");
        assert_eq!(count(0), "0");
    }

    #[test]
    fn money_and_shares() {
        assert_eq!(money(1234.4), "$1,234");
        assert_eq!(money(-9.5), "−$9.50");
        assert_eq!(money(99.996), "$100");
        assert_eq!(Unit::Share.show(0.1254, 1), "12.5%");
        assert_eq!(Unit::Share.show_difference(0.02, 0), "+2 pts");
        let ends = Interval {
            low: 0.887,
            high: 0.99,
        };
        assert_eq!(range(ends, |end| Unit::Share.show(end, 0)), "89 to 99%");
        assert_eq!(
            range(ends, |end| Unit::Money.show(end, 2)),
            "$0.89 to $0.99"
        );
        assert_eq!((level(0.95), level(0.999)), ("95%".into(), "99.9%".into()));
    }

    /// One digit of the uncertainty, two if it begins with 1 or 2: a usual laboratory rule, no single source.
    #[test]
    fn decimals_follow_the_uncertainty() {
        for (precision, decimals) in [
            (210.0, 0),
            (5.0, 0),
            (2.0, 1),
            (0.6, 1),
            (0.25, 2),
            (0.0, 0),
            (f64::INFINITY, 0),
        ] {
            assert_eq!(Unit::Plain.decimals(precision), decimals, "{precision}");
        }
        assert_eq!(Unit::Money.decimals(0.6), 2);
        assert_eq!(Unit::Share.decimals(0.006), 1);
    }
}
