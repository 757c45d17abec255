//! One pour in one replication: whether it stopped, for how long, when it was finished, how its trucks waited, and how many
//! of them, and of the drivers called in for it, were at work hour by hour.

use crate::plant::{Event, Observer, Plan};
use crate::scenario::edit::fleet::{Duty, SHIFTS};
use crate::units::{DriverId, Millis, OrderId, TruckId};
use serde::{Deserialize, Serialize};

/// Positions of the figures of a pour behind the others in a row.
pub mod pour {
    /// 1 if discharge stopped for longer than the pour tolerates or the pour was not finished, else 0; blank if cancelled.
    pub const STOPPED: usize = 0;
    /// Minutes of the longest pause of discharge; a pour that is not finished pauses until its day is over.
    pub const WORST_PAUSE_MIN: usize = 1;
    /// Minutes since midnight before the first day at which the last load was empty; blank if not finished.
    pub const FINISHED_MIN: usize = 2;
    /// Minutes that a truck waited for a bay and for a place on site, per load; blank without a load.
    pub const WAIT_MIN: usize = 3;
    /// Minutes in all that unloading stood still between its first and its last; a pour that is not finished stands until its day is
    /// over.
    pub const STOOD_MIN: usize = 4;
    /// Minutes from the first of its trucks at the bay to the last that is back.
    pub const UNDER_WAY_MIN: usize = 5;
    /// Loads later than tolerated, undelivered ones included.
    pub const LATE_LOADS: usize = 6;
    /// Loads whose lateness is judged, undelivered ones included.
    pub const LOADS_DUE: usize = 7;
}
/// How many figures of a pour there are.
pub const POUR_FIGURES: usize = 8;
/// Hours since midnight before the first day that trucks at work are counted in; later ones are not.
pub const HOURS: usize = 72;
/// More trucks at work at once than this are counted as this many.
pub const PEAK_MOST: usize = 63;
/// Width of a bin of round trips.
pub const ROUND_BIN: Millis = Millis(2 * Millis::MINUTE.0);
/// Bins of round trips, the last open.
pub const ROUND_BINS: usize = 240;

/// Sums over replications: whole numbers that are only added.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PourSums {
    /// Replications.
    pub replications: u64,
    /// By hour: replications by the largest number of trucks at work at once.
    #[serde(with = "in_one")]
    pub peaks: Vec<[u64; PEAK_MOST + 1]>,
    /// Round trips by length.
    pub rounds: Vec<u64>,
    /// Milliseconds of all round trips.
    pub round_time: u64,
    /// Loads that left a bay, by plant.
    pub loads_at: Vec<u64>,
    /// By hour: drivers called in who were on duty in it, by shift.
    pub on_duty: Vec<[u64; SHIFTS]>,
    /// By hour: trucks handed over from driver to driver.
    pub handed_over: Vec<u64>,
}

/// Rows of numbers written one after the other: the library writes none so long.
mod in_one {
    use serde::de::Error;
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    pub(super) fn serialize<const N: usize, S: Serializer>(
        rows: &[[u64; N]],
        to: S,
    ) -> Result<S::Ok, S::Error> {
        rows.as_flattened().serialize(to)
    }

    pub(super) fn deserialize<'de, const N: usize, D: Deserializer<'de>>(
        from: D,
    ) -> Result<Vec<[u64; N]>, D::Error> {
        let all = Vec::<u64>::deserialize(from)?;
        match all.as_chunks() {
            (rows, []) => Ok(rows.to_vec()),
            _ => Err(D::Error::custom("the last row is not whole")),
        }
    }
}

impl Default for PourSums {
    fn default() -> Self {
        Self {
            replications: 0,
            peaks: vec![[0; PEAK_MOST + 1]; HOURS],
            rounds: vec![0; ROUND_BINS],
            round_time: 0,
            loads_at: Vec::new(),
            on_duty: vec![[0; SHIFTS]; HOURS],
            handed_over: vec![0; HOURS],
        }
    }
}

impl PourSums {
    /// Whether it has every hour and every length, as what was read may not.
    pub fn is_whole(&self) -> bool {
        let hours = [self.peaks.len(), self.on_duty.len(), self.handed_over.len()];
        hours == [HOURS; 3] && self.rounds.len() == ROUND_BINS
    }

    /// Adds others.
    pub fn merge(&mut self, other: &Self) {
        self.replications += other.replications;
        self.round_time += other.round_time;
        self.loads_at.resize(other.loads_at.len(), 0);
        for (sum, more) in self.loads_at.iter_mut().zip(&other.loads_at) {
            *sum += more;
        }
        for (sum, more) in self.rounds.iter_mut().zip(&other.rounds) {
            *sum += more;
        }
        for (sums, more) in self.on_duty.iter_mut().zip(&other.on_duty) {
            for (sum, more) in sums.iter_mut().zip(more) {
                *sum += more;
            }
        }
        for (sum, more) in self.handed_over.iter_mut().zip(&other.handed_over) {
            *sum += more;
        }
        for (sums, more) in self.peaks.iter_mut().zip(&other.peaks) {
            for (sum, more) in sums.iter_mut().zip(more) {
                *sum += more;
            }
        }
    }

    /// The number of trucks that this share of replications does not exceed in an hour.
    pub fn peak(&self, hour: usize, share: f64) -> usize {
        let mut left = (share * self.replications as f64).ceil() as u64;
        self.peaks[hour]
            .iter()
            .position(|count| {
                left = left.saturating_sub(*count);
                left == 0
            })
            .unwrap_or(PEAK_MOST)
    }

    /// Mean of the largest number of trucks at work at once in an hour.
    pub fn mean_peak(&self, hour: usize) -> f64 {
        let sum: u64 = (0..)
            .zip(&self.peaks[hour])
            .map(|(trucks, n): (u64, _)| trucks * n)
            .sum();
        sum as f64 / self.replications.max(1) as f64
    }

    /// Drivers called in who are on duty at some time in an hour, on average, by shift.
    pub fn mean_on_duty(&self, hour: usize) -> [f64; SHIFTS] {
        self.on_duty[hour].map(|sum| sum as f64 / self.replications.max(1) as f64)
    }

    /// Trucks handed over in an hour from driver to driver, on average.
    pub fn mean_handed_over(&self, hour: usize) -> f64 {
        self.handed_over[hour] as f64 / self.replications.max(1) as f64
    }

    /// Mean round trip, from joining the bay queue to being back, waits included; none without one.
    pub fn mean_round(&self) -> Option<Millis> {
        let trips: u64 = self.rounds.iter().sum();
        (trips > 0).then(|| Millis((self.round_time / trips) as i64))
    }

    /// The length that this share of round trips does not exceed, to the upper end of its bin; none without one.
    pub fn round(&self, share: f64) -> Option<Millis> {
        let trips: u64 = self.rounds.iter().sum();
        let mut left = (share * trips as f64).ceil() as u64;
        let bin = self.rounds.iter().position(|count| {
            left = left.saturating_sub(*count);
            left == 0
        })?;
        (trips > 0).then(|| ROUND_BIN * (bin as i64 + 1))
    }
}

/// Where a truck is on its way for the pour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Leg {
    /// Not for this pour.
    #[default]
    Elsewhere,
    /// From joining the bay queue until it leaves the site.
    Loaded(Millis),
    /// On the way back.
    Back(Millis),
}

/// Watches one pour. Kept warm: [`PourWatch::begin`] before each replication, [`PourWatch::end`] after.
#[derive(Clone, Debug)]
pub struct PourWatch {
    order: OrderId,
    tolerated: Millis,
    first: Millis,
    over: Millis,
    legs: Vec<Leg>,
    /// By truck: whether the load promised to it is one of this pour that has not joined a bay queue yet.
    promised: Vec<bool>,
    at_work: usize,
    since: Millis,
    peaks: [usize; HOURS],
    discharging: u32,
    begun: bool,
    last_end: Millis,
    worst: Millis,
    stood: Millis,
    finished: Option<Millis>,
    cancelled: bool,
    /// When the first of its trucks came to the bay, and when the last was back.
    under_way: Option<(Millis, Millis)>,
    late: u32,
    due: u32,
    waited: Millis,
    loads: u32,
    drivers: Vec<Duty>,
    on_duty: [[u32; SHIFTS]; HOURS],
    handed_over: [u32; HOURS],
    /// Sums over the replications ended so far.
    pub sums: PourSums,
}

impl PourWatch {
    /// For runs of this plan; what each of its drivers is to the pour, in their order.
    pub fn new(plan: &Plan, order: OrderId, drivers: Vec<Duty>) -> Self {
        let pour = &plan.orders[order.at()];
        Self {
            order,
            tolerated: pour.gap,
            first: pour.first,
            over: pour.day_over,
            legs: vec![Leg::Elsewhere; plan.trucks.len()],
            promised: vec![false; plan.trucks.len()],
            at_work: 0,
            since: Millis::ZERO,
            peaks: [0; HOURS],
            discharging: 0,
            begun: false,
            last_end: Millis::ZERO,
            worst: Millis::ZERO,
            stood: Millis::ZERO,
            finished: None,
            cancelled: false,
            under_way: None,
            late: 0,
            due: 0,
            waited: Millis::ZERO,
            loads: 0,
            drivers,
            on_duty: [[0; SHIFTS]; HOURS],
            handed_over: [0; HOURS],
            sums: PourSums {
                loads_at: vec![0; plan.plants.len()],
                ..PourSums::default()
            },
        }
    }

    /// Hands over the sums so far and begins new ones.
    pub fn take_sums(&mut self) -> PourSums {
        let none = PourSums {
            loads_at: vec![0; self.sums.loads_at.len()],
            ..PourSums::default()
        };
        std::mem::replace(&mut self.sums, none)
    }

    /// Forgets the last replication.
    pub fn begin(&mut self) {
        self.legs.fill(Leg::Elsewhere);
        self.promised.fill(false);
        self.peaks.fill(0);
        self.on_duty.fill([0; SHIFTS]);
        self.handed_over.fill(0);
        (self.at_work, self.since) = (0, Millis::ZERO);
        (self.discharging, self.begun, self.finished) = (0, false, None);
        (self.worst, self.stood, self.waited) = (Millis::ZERO, Millis::ZERO, Millis::ZERO);
        (self.loads, self.late, self.due) = (0, 0, 0);
        (self.cancelled, self.under_way) = (false, None);
    }

    /// Adds the replication to the sums and writes its figures, [`POUR_FIGURES`] of them.
    pub fn end(&mut self, row: &mut [f32]) {
        if self.cancelled {
            row.fill(f32::NAN);
            return;
        }
        let unfinished = match (self.finished, self.begun) {
            (Some(_), _) => Millis::ZERO,
            (None, true) => self.over - self.last_end,
            (None, false) => self.over - self.first,
        };
        let worst = self.worst.max(unfinished);
        let stopped = self.finished.is_none() || worst > self.tolerated;
        row[pour::STOPPED] = f32::from(u8::from(stopped));
        row[pour::WORST_PAUSE_MIN] = worst.minutes() as f32;
        row[pour::FINISHED_MIN] = self
            .finished
            .map_or(f32::NAN, |finished| finished.minutes() as f32);
        row[pour::WAIT_MIN] = if self.loads > 0 {
            (self.waited.minutes() / f64::from(self.loads)) as f32
        } else {
            f32::NAN
        };
        row[pour::STOOD_MIN] = (self.stood + unfinished).minutes() as f32;
        row[pour::UNDER_WAY_MIN] = self
            .under_way
            .map_or(0.0, |(from, to)| (to - from).minutes() as f32);
        row[pour::LATE_LOADS] = self.late as f32;
        row[pour::LOADS_DUE] = self.due as f32;
        self.sums.replications += 1;
        for (peaks, peak) in self.sums.peaks.iter_mut().zip(self.peaks) {
            peaks[peak.min(PEAK_MOST)] += 1;
        }
        for (sums, seen) in self.sums.on_duty.iter_mut().zip(self.on_duty) {
            for (sum, seen) in sums.iter_mut().zip(seen) {
                *sum += u64::from(seen);
            }
        }
        for (sum, seen) in self.sums.handed_over.iter_mut().zip(self.handed_over) {
            *sum += u64::from(seen);
        }
    }

    /// A driver's tour of this length is over.
    fn released(&mut self, driver: DriverId, tour: Millis, now: Millis) {
        let duty = self.drivers[driver.at()];
        if let Some(shift) = duty.called_in {
            // Who goes at the full hour was not there in the next.
            let last = hour_of((now - Millis(1)).max(now - tour));
            for seen in self
                .on_duty
                .iter_mut()
                .take(last + 1)
                .skip(hour_of(now - tour))
            {
                seen[shift.min(SHIFTS - 1)] += 1;
            }
        }
        if duty.relieved
            && let Some(seen) = self.handed_over.get_mut(hour_of(now))
        {
            *seen += 1;
        }
    }

    /// So many trucks have been at work up to now.
    fn settle(&mut self, now: Millis) {
        if self.at_work > 0 {
            for hour in hour_of(self.since)..=hour_of(now).min(HOURS - 1) {
                self.peaks[hour] = self.peaks[hour].max(self.at_work);
            }
        }
        self.since = now;
    }

    fn set_to_work(&mut self, truck: TruckId, now: Millis) {
        self.settle(now);
        self.under_way = self.under_way.or(Some((now, now)));
        self.at_work += 1;
        self.legs[truck.at()] = Leg::Loaded(now);
        // The moment itself counts, should the truck go again in the same one.
        self.settle(now);
    }

    fn take_off_work(&mut self, truck: TruckId, now: Millis) {
        if let Leg::Loaded(_) | Leg::Back(_) = self.legs[truck.at()] {
            self.settle(now);
            self.at_work -= 1;
            self.under_way = self.under_way.map(|(from, _)| (from, now));
        }
        self.legs[truck.at()] = Leg::Elsewhere;
    }

    fn carries(&self, truck: TruckId) -> bool {
        matches!(self.legs[truck.at()], Leg::Loaded(_))
    }
}

/// The hour since midnight before the first day.
fn hour_of(at: Millis) -> usize {
    (at.0 / Millis::HOUR.0) as usize
}

impl Observer for PourWatch {
    const EACH_REFUSAL: bool = false;

    #[inline]
    fn event(&mut self, at: Millis, event: &Event) {
        match *event {
            // A truck may be promised its next load while it is still on the way back from this pour.
            Event::Promised { order, truck, .. } => self.promised[truck.at()] = order == self.order,
            Event::PromiseBroken { truck, .. } => self.promised[truck.at()] = false,
            Event::BayQuit { truck, .. } => {
                self.promised[truck.at()] = false;
                self.take_off_work(truck, at);
            }
            Event::Emptied { truck, .. } => self.take_off_work(truck, at),
            Event::LoadLost { order, truck, .. } | Event::GivenUp { order, truck, .. }
                if order == self.order =>
            {
                self.take_off_work(truck, at)
            }
            Event::BayJoined { truck, .. } if self.promised[truck.at()] => {
                self.promised[truck.at()] = false;
                self.set_to_work(truck, at);
            }
            Event::BayLeft { order, plant, .. } if order == self.order => {
                self.sums.loads_at[plant.at()] += 1;
            }
            Event::BayEntered { truck, waited, .. } if self.carries(truck) => self.waited += waited,
            Event::PlaceTaken { truck, waited, .. } if self.carries(truck) => {
                self.waited += waited;
                self.loads += 1;
            }
            Event::DischargeBegun { order, .. } if order == self.order => {
                if self.begun && self.discharging == 0 {
                    let pause = at - self.last_end;
                    self.worst = self.worst.max(pause);
                    self.stood += pause;
                }
                self.begun = true;
                self.discharging += 1;
            }
            Event::DischargeEnded {
                order, complete, ..
            } if order == self.order => {
                self.discharging -= 1;
                self.last_end = at;
                if complete {
                    self.finished = Some(at);
                }
            }
            Event::Taken {
                order, lateness, ..
            } if order == self.order => {
                self.due += 1;
                self.late += u32::from(lateness.is_late());
            }
            Event::Undelivered { order, .. } if order == self.order => {
                self.due += 1;
                self.late += 1;
            }
            Event::SiteLeft { truck, .. } => {
                if let Leg::Loaded(from) = self.legs[truck.at()] {
                    self.legs[truck.at()] = Leg::Back(from);
                }
            }
            Event::Drove { truck, .. } => {
                if let Leg::Back(from) = self.legs[truck.at()] {
                    let round = at - from;
                    let bin = (round.0 / ROUND_BIN.0) as usize;
                    self.sums.rounds[bin.min(ROUND_BINS - 1)] += 1;
                    self.sums.round_time += round.0 as u64;
                    self.take_off_work(truck, at);
                }
            }
            Event::Released {
                driver,
                truck,
                tour,
            } => {
                self.released(driver, tour, at);
                self.take_off_work(truck, at);
            }
            Event::Cancelled { order, .. } if order == self.order => self.cancelled = true,
            _ => {}
        }
    }
}
