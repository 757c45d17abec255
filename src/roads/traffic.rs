//! Traffic by weekday and hour: how many times longer than on the empty road.

use crate::units::{Millis, Weekday};

/// Piecewise constant factors over a week, repeated. A trip is driven through the pieces it crosses, so that who departs
/// later never arrives earlier (FIFO).
#[derive(Clone, Debug)]
pub struct Traffic {
    /// Start of each piece since Monday 00:00, ms, the first 0.
    starts: Vec<i64>,
    factors: Vec<f64>,
    /// The least of them.
    least: f64,
    /// For each hour of the week, the piece that holds at its start.
    piece_at_hour: Vec<u32>,
    /// Added to simulated time to get time since a Monday 00:00.
    offset: i64,
}

const WEEK: i64 = 7 * Millis::DAY.0;
const HOUR: i64 = Millis::HOUR.0;

impl Traffic {
    /// From profiles: weekdays, and factors from times of the day on (increasing; 1 before the first). A weekday that no
    /// profile names has no traffic. `first_day` is the weekday on which simulated time begins.
    pub fn new<'a>(
        first_day: Weekday,
        profiles: impl Iterator<Item = (&'a [Weekday], &'a [(Millis, f64)])>,
    ) -> Self {
        let mut days: [&[(Millis, f64)]; 7] = [&[]; 7];
        for (weekdays, factors) in profiles {
            for weekday in weekdays {
                days[*weekday as usize] = factors;
            }
        }
        let mut starts = Vec::new();
        let mut factors = Vec::new();
        let mut push = |start: i64, factor: f64| {
            if factors.last() != Some(&factor) {
                starts.push(start);
                factors.push(factor);
            }
        };
        for (day, pieces) in days.iter().enumerate() {
            let midnight = day as i64 * Millis::DAY.0;
            if pieces.first().is_none_or(|(from, _)| *from > Millis::ZERO) {
                push(midnight, 1.0);
            }
            for (from, factor) in *pieces {
                push(midnight + from.0, *factor);
            }
        }
        let piece_at_hour = (0..168)
            .map(|hour| starts.partition_point(|start| *start <= hour * HOUR) as u32 - 1)
            .collect();
        Self {
            starts,
            least: factors.iter().copied().fold(f64::INFINITY, f64::min),
            factors,
            piece_at_hour,
            offset: first_day as i64 * Millis::DAY.0,
        }
    }

    /// Whether the factor is the same at every hour.
    pub fn is_constant(&self) -> bool {
        self.factors.len() == 1
    }

    /// The factor of the hour at which drives are the quickest.
    #[inline]
    pub fn least(&self) -> f64 {
        self.least
    }

    /// The factor that holds at a moment, and until when.
    #[inline]
    pub fn piece(&self, at: Millis) -> (f64, Millis) {
        if self.factors.len() == 1 {
            return (self.factors[0], Millis::NEVER);
        }
        let since = (at.0 + self.offset).rem_euclid(WEEK);
        let piece = self.piece_of(since);
        let end = self.starts.get(piece + 1).copied().unwrap_or(WEEK);
        (self.factors[piece], Millis(at.0 + end - since))
    }

    /// For how long the factor that holds at a moment has held, the factor, and for how long it surely holds.
    #[inline]
    pub fn around(&self, at: Millis) -> (Millis, f64, Millis) {
        if self.factors.len() == 1 {
            return (Millis::NEVER, self.factors[0], Millis::NEVER);
        }
        let since = (at.0 + self.offset).rem_euclid(WEEK);
        let piece = self.piece_of(since);
        let end = self.starts.get(piece + 1).copied().unwrap_or(WEEK);
        (
            Millis(since - self.starts[piece]),
            self.factors[piece],
            Millis(end - since),
        )
    }

    /// The piece that a time of the week lies in.
    #[inline]
    fn piece_of(&self, since: i64) -> usize {
        let mut piece = self.piece_at_hour[(since / HOUR) as usize] as usize;
        while piece + 1 < self.starts.len() && self.starts[piece + 1] <= since {
            piece += 1;
        }
        piece
    }

    /// How long it takes, departing at `depart`, to drive what takes `free` on the empty road.
    #[inline]
    pub fn drive(&self, depart: Millis, free: Millis) -> Millis {
        if self.starts.len() == 1 {
            return if self.factors[0] == 1.0 {
                free
            } else {
                Millis((free.0 as f64 * self.factors[0] + 0.5) as i64)
            };
        }
        self.drive_through(depart, free)
    }

    fn drive_through(&self, depart: Millis, free: Millis) -> Millis {
        let since = (depart.0 + self.offset).rem_euclid(WEEK);
        let mut piece = self.piece_of(since);
        let mut at = since as f64;
        let mut left = free.0 as f64;
        loop {
            let end = self.starts.get(piece + 1).copied().unwrap_or(WEEK) as f64;
            let factor = self.factors[piece];
            let slowed = left * factor;
            let whole = || (end - at) / factor;
            if ends_well_before(slowed, end - at) || left <= whole() {
                return Millis((at + slowed - since as f64 + 0.5) as i64);
            }
            let whole = whole();
            left -= whole;
            piece += 1;
            at = end;
            if piece == self.starts.len() {
                // Round the corner of the week: the rest is driven from Monday 00:00 on.
                let turn = self.drive_through(Millis(-self.offset), Millis((left + 0.5) as i64));
                return Millis((end - since as f64 + 0.5) as i64) + turn;
            }
        }
    }
}

/// Whether what takes so long ends before `end` by more than rounding can hide: nearly every drive does, and needs no division to
/// know it.
#[inline]
pub(super) fn ends_well_before(takes: f64, end: f64) -> bool {
    takes < end * (1.0 - 1e-9)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn clock(hour: i64, minute: i64) -> Millis {
        Millis((hour * 60 + minute) * 60_000)
    }

    /// 30 km at 60 km/h to 07:00, 30 km/h to 09:00, 60 km/h after: arithmetic by integrating speed along the trip (computed).
    #[test]
    fn speed_is_integrated_along_the_trip() {
        let rush: &[(Millis, f64)] = &[(clock(7, 0), 2.0), (clock(9, 0), 1.0)];
        let traffic = Traffic::new(Weekday::Monday, [(&Weekday::ALL[..], rush)].into_iter());
        let arrive = |depart: i64| {
            depart as f64
                + traffic
                    .drive(Millis(depart * 60_000), Millis(30 * 60_000))
                    .minutes()
        };
        let expected = [
            (360, 390.0),
            (400, 440.0),
            (405, 450.0),
            (420, 480.0),
            (450, 510.0),
            (500, 550.0),
            (530, 565.0),
            (540, 570.0),
        ];
        for (depart, arrival) in expected {
            assert!(
                (arrive(depart) - arrival).abs() < 1e-4,
                "depart {depart}: {} for {arrival}",
                arrive(depart)
            );
        }
    }

    #[test]
    fn the_week_turns_over() {
        let sunday: &[(Millis, f64)] = &[(clock(23, 0), 3.0)];
        let traffic = Traffic::new(
            Weekday::Sunday,
            [(&[Weekday::Sunday][..], sunday)].into_iter(),
        );
        // 23:30 on Sunday: 10 free minutes fit into the half hour at a third of the speed, the other 10 are on Monday.
        assert_eq!(
            traffic.drive(clock(23, 30), Millis(20 * 60_000)),
            Millis(40 * 60_000)
        );
        // The second Sunday is like the first.
        assert_eq!(
            traffic.drive(clock(23, 30) + Millis(WEEK), Millis(20 * 60_000)),
            Millis(40 * 60_000)
        );
    }

    #[test]
    fn who_departs_later_arrives_later() {
        let rush: &[(Millis, f64)] = &[
            (clock(6, 30), 1.7),
            (clock(7, 45), 4.0),
            (clock(8, 10), 0.6),
            (clock(16, 0), 2.5),
        ];
        let traffic = Traffic::new(Weekday::Wednesday, [(&Weekday::ALL[..4], rush)].into_iter());
        let mut last = Millis::ZERO;
        for depart in (0..9 * 24 * 60).map(|minute| Millis(minute * 60_000)) {
            let arrive = depart + traffic.drive(depart, Millis(25 * 60_000));
            assert!(
                arrive >= last,
                "departing {depart} arrives {arrive}, before {last}"
            );
            last = arrive;
        }
    }
}
