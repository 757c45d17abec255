//! Spans of time that come back every week: when a bridge is up, a street is closed to trucks, a weigh station is open.

use crate::units::{Millis, Weekday};

const WEEK: i64 = 7 * Millis::DAY.0;

/// Spans within a week, repeated.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Weekly {
    /// Start and end since Monday 00:00, ms; in order, apart from each other.
    spans: Vec<(i64, i64)>,
    /// Added to simulated time to get time since a Monday 00:00.
    offset: i64,
}

impl Weekly {
    /// From weekdays with the start and end of a span since midnight, at most 24:00. `first_day` is the weekday on which
    /// simulated time begins.
    pub fn new<'a>(
        first_day: Weekday,
        spans: impl Iterator<Item = (&'a [Weekday], Millis, Millis)>,
    ) -> Self {
        let all: Vec<(i64, i64)> = spans
            .flat_map(|(days, from, to)| {
                days.iter().map(move |day| {
                    let midnight = *day as i64 * Millis::DAY.0;
                    (midnight + from.0, midnight + to.0)
                })
            })
            .filter(|(from, to)| from < to)
            .collect();
        Self {
            spans: joined(all),
            offset: first_day as i64 * Millis::DAY.0,
        }
    }

    /// The spans of both. An empty one may come from any first day.
    pub fn and(&self, other: &Self) -> Self {
        let with = if self.spans.is_empty() { other } else { self };
        debug_assert!(other.spans.is_empty() || other.offset == with.offset);
        Self {
            spans: joined([&self.spans[..], &other.spans].concat()),
            offset: with.offset,
        }
    }

    /// Whether there is no span.
    pub fn is_empty(&self) -> bool {
        self.spans.is_empty()
    }

    /// Whether the whole week is one span.
    pub fn is_always(&self) -> bool {
        self.spans == [(0, WEEK)]
    }

    /// The end of the span that `at` lies in, or `at` itself outside of all. Not to be asked of a span that never ends.
    #[inline]
    pub fn after(&self, at: Millis) -> Millis {
        if self.spans.is_empty() {
            return at;
        }
        debug_assert!(!self.is_always(), "a span that never ends");
        let since = (at.0 + self.offset).rem_euclid(WEEK);
        let (inside, end) = self.last_before(since);
        if !inside {
            return at;
        }
        // A span to the end of Sunday goes on where one begins with Monday.
        let turned = if end == WEEK && self.spans[0].0 == 0 {
            end + self.spans[0].1
        } else {
            end
        };
        Millis(at.0 + turned - since)
    }

    /// Whether `at` lies in a span, and if not, how long ago the last one ended.
    #[inline]
    pub fn since_last(&self, at: Millis) -> Option<Millis> {
        let since = (at.0 + self.offset).rem_euclid(WEEK);
        let (inside, end) = self.last_before(since);
        (!inside).then_some(Millis(since - end))
    }

    /// Whether `at` lies in a span; for how long that has been so, and for how long it surely stays so. At least one span.
    pub fn around(&self, at: Millis) -> (bool, Millis, Millis) {
        let since = (at.0 + self.offset).rem_euclid(WEEK);
        let after = self.spans.partition_point(|(start, _)| *start <= since);
        let (inside, last_end) = self.last_before(since);
        if inside {
            let (start, end) = self.spans[after - 1];
            return (true, Millis(since - start), Millis(end - since));
        }
        let next = match self.spans.get(after) {
            Some((start, _)) => *start,
            None => self.spans[0].0 + WEEK,
        };
        (false, Millis(since - last_end), Millis(next - since))
    }

    /// Whether this time of the week lies in a span; the end of that span or of the last one before, which may lie in the
    /// week before. At least one span.
    fn last_before(&self, since: i64) -> (bool, i64) {
        match self.spans.partition_point(|(start, _)| *start <= since) {
            0 => (false, self.spans[self.spans.len() - 1].1 - WEEK),
            after => {
                let end = self.spans[after - 1].1;
                (since < end, end)
            }
        }
    }
}

/// In order, those that touch made one.
fn joined(mut spans: Vec<(i64, i64)>) -> Vec<(i64, i64)> {
    spans.sort_unstable();
    let mut joined: Vec<(i64, i64)> = Vec::with_capacity(spans.len());
    for (from, to) in spans {
        match joined.last_mut() {
            Some(last) if last.1 >= from => last.1 = last.1.max(to),
            _ => joined.push((from, to)),
        }
    }
    joined
}

#[cfg(test)]
mod tests {
    use super::*;

    fn clock(hour: i64, minute: i64) -> Millis {
        Millis((hour * 60 + minute) * 60_000)
    }

    #[test]
    fn a_span_over_the_corner_of_the_week_is_one() {
        let spans = [
            (&[Weekday::Sunday][..], clock(23, 0), clock(24, 0)),
            (&[Weekday::Monday][..], clock(0, 0), clock(1, 30)),
        ];
        let weekly = Weekly::new(Weekday::Sunday, spans.into_iter());
        assert_eq!(weekly.after(clock(22, 59)), clock(22, 59));
        assert_eq!(weekly.after(clock(23, 0)), clock(25, 30));
        assert_eq!(weekly.after(clock(25, 0)), clock(25, 30));
        assert_eq!(weekly.after(clock(25, 30)), clock(25, 30));
        assert_eq!(weekly.since_last(clock(25, 0)), None);
        assert_eq!(weekly.since_last(clock(26, 0)), Some(clock(0, 30)));
        assert_eq!(weekly.since_last(clock(0, 0)), Some(clock(6 * 24 - 2, 30)));
    }
}
