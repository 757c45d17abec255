//! Simulated time: whole milliseconds, read and shown as the trade writes it.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};

/// A moment (milliseconds since midnight before the first day) or a span of time, in whole milliseconds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Millis(pub i64);

impl Millis {
    /// Midnight before the first day, or no time at all.
    pub const ZERO: Self = Self(0);
    /// Later than anything that happens.
    pub const NEVER: Self = Self(i64::MAX / 4);
    /// One minute.
    pub const MINUTE: Self = Self(60_000);
    /// One hour.
    pub const HOUR: Self = Self(3_600_000);
    /// One day of 24 hours.
    pub const DAY: Self = Self(86_400_000);

    /// The nearest millisecond to a number of minutes.
    #[inline]
    pub fn from_minutes(minutes: f64) -> Self {
        // Adding a half and truncating is `round` for the spans that occur (never negative) and several times faster.
        Self((minutes * 60_000.0 + 0.5) as i64)
    }

    /// The nearest millisecond to a number of hours.
    pub fn from_hours(hours: f64) -> Self {
        Self::from_minutes(hours * 60.0)
    }

    /// In minutes.
    #[inline]
    pub fn minutes(self) -> f64 {
        self.0 as f64 / 60_000.0
    }

    /// In hours.
    #[inline]
    pub fn hours(self) -> f64 {
        self.0 as f64 / 3_600_000.0
    }

    /// The day that this moment belongs to, 0 for the first.
    #[inline]
    pub fn day(self) -> i64 {
        self.0.div_euclid(Self::DAY.0)
    }

    /// Midnight at the start of day `day`.
    #[inline]
    pub fn midnight(day: i64) -> Self {
        Self(day * Self::DAY.0)
    }
}

/// `06:30` on the first day, `06:30 +1` on the next; seconds only where there are some.
impl fmt::Display for Millis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (day, rest) = (self.day(), self.0.rem_euclid(Self::DAY.0));
        let (hour, minute, second) = (rest / 3_600_000, rest / 60_000 % 60, rest / 1000 % 60);
        write!(f, "{hour:02}:{minute:02}")?;
        if rest % 60_000 != 0 {
            write!(f, ":{second:02}")?;
        }
        if day != 0 {
            write!(f, " {day:+}")?;
        }
        Ok(())
    }
}

impl Add for Millis {
    type Output = Self;
    #[inline]
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Millis {
    #[inline]
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Millis {
    type Output = Self;
    #[inline]
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl SubAssign for Millis {
    #[inline]
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Mul<i64> for Millis {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0 * times)
    }
}

impl Millis {
    /// A share of it, to the nearest millisecond.
    #[inline]
    pub fn shared(self, share: f64) -> Self {
        Self((self.0 as f64 * share + 0.5).floor() as i64)
    }
}

impl Neg for Millis {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Sum for Millis {
    fn sum<I: Iterator<Item = Self>>(spans: I) -> Self {
        spans.fold(Self::ZERO, Add::add)
    }
}

/// A day of the week.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Weekday {
    /// Monday.
    Monday,
    /// Tuesday.
    Tuesday,
    /// Wednesday.
    Wednesday,
    /// Thursday.
    Thursday,
    /// Friday.
    Friday,
    /// Saturday.
    Saturday,
    /// Sunday.
    Sunday,
}

impl Weekday {
    /// All seven, Monday first.
    pub const ALL: [Self; 7] = [
        Self::Monday,
        Self::Tuesday,
        Self::Wednesday,
        Self::Thursday,
        Self::Friday,
        Self::Saturday,
        Self::Sunday,
    ];

    /// The weekday `days` later.
    pub fn after(self, days: i64) -> Self {
        Self::ALL[(self as i64 + days).rem_euclid(7) as usize]
    }
}
