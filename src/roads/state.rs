//! The roads in one replication: how bad each day is in each area, and which incidents happen when.

use super::network::{Incidents, Network};
use crate::engine::Luck;
use crate::units::{Millis, Purpose};

/// What the luck of a replication makes of a network; nothing for a table. Kept warm: see
/// [`Roads::refresh`](super::Roads::refresh).
#[derive(Debug, Default)]
pub struct RoadState {
    /// The luck it was made from.
    luck: Option<Luck>,
    days: usize,
    /// A day of which the desk has been told how many times as long as usual drives take.
    told: Option<(i64, f64)>,
    /// By area, then day.
    factors: Vec<f64>,
    /// Incidents by link, in order and apart from each other: start and end.
    incidents: Vec<(Millis, Millis)>,
    /// For each link the position of its first incident, and one more for the end.
    first: Vec<u32>,
}

impl Clone for RoadState {
    fn clone(&self) -> Self {
        Self {
            factors: self.factors.clone(),
            incidents: self.incidents.clone(),
            first: self.first.clone(),
            ..*self
        }
    }

    /// Copies into the lists that this one already has.
    fn clone_from(&mut self, source: &Self) {
        let Self {
            luck,
            days,
            told,
            factors,
            incidents,
            first,
        } = source;
        (self.luck, self.days, self.told) = (*luck, *days, *told);
        self.factors.clone_from(factors);
        self.incidents.clone_from(incidents);
        self.first.clone_from(first);
    }
}

impl RoadState {
    /// Makes it the state of this luck over so many days.
    pub(super) fn refresh(&mut self, network: &Network, luck: Luck, days: usize) {
        if self.luck == Some(luck) && self.days == days {
            return; // another rule on the same days
        }
        self.luck = Some(luck);
        self.days = days;
        self.told = None;
        self.factors.clear();
        for area in &network.areas {
            for day in 0..days {
                let u = luck
                    .block(Purpose::RoadDay, *area, day as u32, 0)
                    .uniform(0);
                self.factors.push(network.day_luck.at(u));
            }
        }
        self.incidents.clear();
        self.first.clear();
        for link in &network.links {
            let first = self.incidents.len();
            self.first.push(first as u32);
            if let Some(kind) = &link.incidents {
                self.draw_incidents(kind, luck, None);
                self.join_incidents(first);
            }
        }
        self.first.push(self.incidents.len() as u32);
    }

    /// Makes it a state that agrees with `base` in all that has happened by `now`, under luck of its own after that. How bad
    /// today is in each area counts as known from midnight on; an incident under way has lasted so long, and not longer is
    /// known of it.
    pub(super) fn fork(
        &mut self,
        network: &Network,
        base: &Self,
        luck: Luck,
        (now, known): (Millis, bool),
    ) {
        self.luck = None; // of no replication
        self.days = base.days;
        self.told = base.told;
        let told = self.told.map_or(-1, |(day, _)| day);
        self.factors.clear();
        for (area, entity) in network.areas.iter().enumerate() {
            for day in 0..self.days {
                self.factors.push(if day as i64 == told {
                    network.usual_day
                } else if known && day as i64 <= now.day() {
                    base.factors[area * self.days + day]
                } else {
                    let u = luck
                        .block(Purpose::RoadDay, *entity, day as u32, 0)
                        .uniform(0);
                    network.day_luck.at(u)
                });
            }
        }
        self.incidents.clear();
        self.first.clear();
        for (position, link) in network.links.iter().enumerate() {
            let first = self.incidents.len();
            self.first.push(first as u32);
            let Some(kind) = &link.incidents else {
                continue;
            };
            let so_far = if known { base.incidents(position) } else { &[] };
            for (start, end) in so_far {
                if *end > now && *start <= now {
                    let u = luck
                        .block(Purpose::Incidents, kind.entity, now.day() as u32, u32::MAX)
                        .uniform(0);
                    let lasted = (now - *start).minutes();
                    let minutes = kind.minutes.beyond(lasted, u);
                    let end = (*start + Millis::from_minutes(minutes)).max(now);
                    self.incidents.push((*start, end));
                } else if *start <= now {
                    self.incidents.push((*start, *end));
                }
            }
            self.draw_incidents(kind, luck, Some(now));
            self.join_incidents(first);
        }
        self.first.push(self.incidents.len() as u32);
    }

    /// Draws the incidents of a link; with `after`, only those that begin later.
    fn draw_incidents(&mut self, kind: &Incidents, luck: Luck, after: Option<Millis>) {
        let from = after.map_or(0, |after| after.day().max(0) as usize);
        for day in from..self.days {
            let u = luck
                .block(Purpose::Incidents, kind.entity, day as u32, 0)
                .uniform(0);
            for k in 0..poisson(kind.per_day, u) {
                let block = luck.block(Purpose::Incidents, kind.entity, day as u32, 1 + k);
                let start = Millis::midnight(day as i64)
                    + Millis((block.wide(0) * Millis::DAY.0 as f64) as i64);
                let end = start + Millis::from_minutes(kind.minutes.at(block.uniform(2)));
                if after.is_none_or(|after| start > after) {
                    self.incidents.push((start, end));
                }
            }
        }
    }

    /// Puts the incidents of the last link, from this position on, in order.
    fn join_incidents(&mut self, first: usize) {
        self.incidents[first..].sort_unstable();
        // What overlaps is one: a road that is blocked already is not blocked twice.
        let mut kept = first;
        for next in first..self.incidents.len() {
            let (start, end) = self.incidents[next];
            if kept > first && self.incidents[kept - 1].1 >= start {
                self.incidents[kept - 1].1 = self.incidents[kept - 1].1.max(end);
            } else {
                self.incidents[kept] = (start, end);
                kept += 1;
            }
        }
        self.incidents.truncate(kept);
    }

    /// From now on drives of this day take so many times as long as usual.
    pub(super) fn tell(&mut self, day: i64, times: f64) {
        self.luck = None; // of no replication
        self.told = Some((day, times));
    }

    /// How long a drive takes that begins at `depart` and took so long without what has been told of its day.
    #[inline]
    pub(super) fn as_told(&self, depart: Millis, trip: Millis) -> Millis {
        match self.told {
            Some((day, times)) if day == depart.day() => trip.shared(times),
            _ => trip,
        }
    }

    /// How many times as long as usual drives take on the day of `at`, over all areas; none without any.
    pub(super) fn today(&self, network: &Network, at: Millis) -> Option<f64> {
        if network.areas.is_empty() {
            return None;
        }
        let areas = 0..network.areas.len() as u32;
        let sum: f64 = areas.map(|area| self.day_factor(area, at)).sum();
        Some(sum / network.areas.len() as f64 / network.usual_day)
    }

    /// The factor of an area on the day of `at`; after the last day, that of the last.
    #[inline]
    pub(super) fn day_factor(&self, area: u32, at: Millis) -> f64 {
        let day = (at.day().max(0) as usize).min(self.days - 1);
        self.factors[area as usize * self.days + day]
    }

    /// The first incident of a link that is not over at `at`.
    #[inline]
    pub(super) fn next_incident(&self, link: usize, at: Millis) -> Option<(Millis, Millis)> {
        let of_link = &self.incidents[self.first[link] as usize..self.first[link + 1] as usize];
        of_link
            .get(of_link.partition_point(|(_, end)| *end <= at))
            .copied()
    }

    /// The incidents of a link, named by its position: start and end, in order.
    pub fn incidents(&self, link: usize) -> &[(Millis, Millis)] {
        &self.incidents[self.first[link] as usize..self.first[link + 1] as usize]
    }
}

/// The number of events at the quantile `u` of a Poisson distribution, by adding up its terms. `mean` is at most 50.
fn poisson(mean: f64, u: f64) -> u32 {
    let mut term = libm::exp(-mean);
    let mut sum = term;
    let mut count = 0;
    while u >= sum && count < 1_000 {
        count += 1;
        term *= mean / f64::from(count);
        sum += term;
    }
    count
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Poisson distribution function, mean 2: P(0) = 0.1353, P(≤1) = 0.4060, P(≤2) = 0.6767, P(≤3) = 0.8571 (tables in any
    /// textbook of statistics, computed).
    #[test]
    fn counts_of_incidents_are_poisson() {
        for (u, count) in [
            (0.1353, 0),
            (0.1354, 1),
            (0.4060, 1),
            (0.4061, 2),
            (0.6766, 2),
            (0.6767, 3),
            (0.8571, 3),
            (0.8572, 4),
        ] {
            assert_eq!(poisson(2.0, u), count, "{u}");
        }
        assert_eq!(poisson(0.0, 0.999_999), 0);
    }
}
