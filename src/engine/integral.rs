//! A level added up over time: mean number present, share of time busy.

use crate::units::Millis;

/// The integral over time of a level that jumps (number present, servers busy), clipped to a window.
///
/// Kept in whole level × milliseconds, so it is exact and does not depend on how often it was touched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TimeIntegral {
    from: Millis,
    to: Millis,
    level: u32,
    since: Millis,
    total: u64,
}

impl TimeIntegral {
    /// Level 0 at time zero, to be added up over `from` ≤ t < `to`.
    pub fn new(from: Millis, to: Millis) -> Self {
        Self {
            from,
            to: to.max(from),
            level: 0,
            since: from,
            total: 0,
        }
    }

    /// The level is `level` from `at` on. Times must not go back.
    #[inline]
    pub fn set(&mut self, at: Millis, level: u32) {
        self.total = self.exact(at);
        self.since = at.clamp(self.from, self.to);
        self.level = level;
    }

    /// The level changes by `delta` at `at`.
    #[inline]
    pub fn add(&mut self, at: Millis, delta: i32) {
        let level = self.level.checked_add_signed(delta);
        debug_assert!(level.is_some(), "a level went below zero at {at}");
        self.set(at, level.unwrap_or(0));
    }

    /// The level now.
    #[inline]
    pub fn level(&self) -> u32 {
        self.level
    }

    /// Level × milliseconds inside the window up to `end`, which must not lie before the last change.
    pub fn total(&self, end: Millis) -> f64 {
        self.exact(end) as f64
    }

    /// The mean level over the part of the window before `end`; 0 where that part is empty.
    pub fn mean(&self, end: Millis) -> f64 {
        let length = end.clamp(self.from, self.to) - self.from;
        if length == Millis::ZERO {
            0.0
        } else {
            self.total(end) / length.0 as f64
        }
    }

    #[inline]
    fn exact(&self, at: Millis) -> u64 {
        let span = at.clamp(self.from, self.to) - self.since;
        debug_assert!(span >= Millis::ZERO, "time went back to {at}");
        self.total + u64::from(self.level) * span.0 as u64
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn adds_up_a_staircase_by_hand() {
        // 2 present over [1, 4), 3 over [4, 9), 1 over [9, 10): 6 + 15 + 1 = 22
        let mut present = TimeIntegral::new(Millis(0), Millis(100));
        present.set(Millis(1), 2);
        present.add(Millis(4), 1);
        present.add(Millis(9), -2);
        assert_eq!(present.total(Millis(10)), 22.0);
        assert_eq!((present.mean(Millis(10)), present.level()), (2.2, 1));
    }

    #[test]
    fn nothing_counts_outside_the_window() {
        let mut present = TimeIntegral::new(Millis(10), Millis(20));
        present.set(Millis(5), 3);
        present.set(Millis(12), 1);
        present.set(Millis(25), 7);
        assert_eq!(present.total(Millis(40)), 3.0 * 2.0 + 8.0);
        assert_eq!(present.mean(Millis(40)), 1.4);
        assert_eq!(TimeIntegral::new(Millis(5), Millis(5)).mean(Millis(9)), 0.0);
    }
}
