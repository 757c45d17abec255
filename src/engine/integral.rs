//! A level added up over time: mean number present, share of time busy.

use crate::units::Millis;

/// The integral over time of a level that jumps (number present, servers busy), clipped to a window; or of several levels that change
/// at the same moments.
///
/// Kept in whole level × milliseconds, so it is exact and does not depend on how often it was touched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TimeIntegral<const LEVELS: usize = 1> {
    from: Millis,
    to: Millis,
    since: Millis,
    levels: [u32; LEVELS],
    totals: [u64; LEVELS],
}

impl<const LEVELS: usize> TimeIntegral<LEVELS> {
    /// Levels 0 at time zero, to be added up over `from` ≤ t < `to`.
    pub fn together(from: Millis, to: Millis) -> Self {
        Self {
            from,
            to: to.max(from),
            since: from,
            levels: [0; LEVELS],
            totals: [0; LEVELS],
        }
    }

    /// The levels change by so much at `at`. Times must not go back, and levels not below zero.
    #[inline]
    pub fn change(&mut self, at: Millis, by: [i32; LEVELS]) {
        self.pass(at);
        for (level, by) in self.levels.iter_mut().zip(by) {
            debug_assert!(
                level.checked_add_signed(by).is_some(),
                "a level went below zero at {at}"
            );
            *level = level.saturating_add_signed(by);
        }
    }

    /// The mean levels over the part of the window before `end`; 0 where that part is empty.
    pub fn means(&self, end: Millis) -> [f64; LEVELS] {
        let length = end.clamp(self.from, self.to) - self.from;
        let mut passed = *self;
        passed.pass(end);
        passed.totals.map(|total| match length {
            Millis::ZERO => 0.0,
            _ => total as f64 / length.0 as f64,
        })
    }

    /// Adds up to `at`.
    #[inline]
    fn pass(&mut self, at: Millis) {
        let at = at.max(self.from).min(self.to);
        debug_assert!(at >= self.since, "time went back to {at}");
        let span = (at - self.since).0 as u64;
        for (total, level) in self.totals.iter_mut().zip(self.levels) {
            *total += u64::from(level) * span;
        }
        self.since = at;
    }
}

impl TimeIntegral {
    /// Level 0 at time zero, to be added up over `from` ≤ t < `to`.
    pub fn new(from: Millis, to: Millis) -> Self {
        Self::together(from, to)
    }

    /// The level is `level` from `at` on. Times must not go back.
    #[inline]
    pub fn set(&mut self, at: Millis, level: u32) {
        self.pass(at);
        self.levels = [level];
    }

    /// The level changes by `delta` at `at`.
    #[inline]
    pub fn add(&mut self, at: Millis, delta: i32) {
        self.change(at, [delta]);
    }

    /// The level now.
    #[inline]
    pub fn level(&self) -> u32 {
        self.levels[0]
    }

    /// Level × milliseconds inside the window up to `end`, which must not lie before the last change.
    pub fn total(&self, end: Millis) -> f64 {
        let mut passed = *self;
        passed.pass(end);
        passed.totals[0] as f64
    }

    /// The mean level over the part of the window before `end`; 0 where that part is empty.
    pub fn mean(&self, end: Millis) -> f64 {
        self.means(end)[0]
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
