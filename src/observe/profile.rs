//! Sums over many replications that a row has no room for: how late, at what hour, for what money. Whole numbers that are only
//! added, so that merging them in any order gives the same.

use super::cost_part::CostPart;
use super::half_hours::HalfHours;
use super::site_wait::{SiteWait, Waits};
use crate::dispatch::HALF_HOUR;
use crate::plant::{Event, Observer, Plan};
use crate::units::{Cents, Millis, TruckId, Weekday};
use serde::{Deserialize, Serialize};

/// Bins of lateness: on time or early, then five minutes each, the last open.
pub const LATE_BINS: usize = 26;
/// Width of a bin of lateness.
pub const LATE_BIN: Millis = Millis(5 * Millis::MINUTE.0);
/// Steps of [`Profile::margin`].
pub const MARGIN_BINS: usize = 18;
/// Width of each step but the first and the last.
pub const MARGIN_BIN: Millis = Millis(30 * Millis::MINUTE.0);

/// Sums over replications of one rule. Hours are hours of the day, all days together.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Profile {
    /// Replications that went in.
    pub replications: u64,
    /// Loads that came, by how late.
    pub late: [u64; LATE_BINS],
    /// Loads that did not come on their day.
    pub undelivered: u64,
    /// Tours under a limit, by the time left on the clock that binds at the end of their last drive: none or less, then in steps of
    /// [`MARGIN_BIN`], the last one open.
    pub margin: [u64; MARGIN_BINS],
    /// Drivers stranded, by the hour at which they were.
    pub stranded: [u64; 24],
    /// Trucks in the queues for a bay × milliseconds.
    pub bay_queue: [u64; 24],
    /// Trucks in a bay, at the rack, on the road with or after a load, discharging or washing × milliseconds.
    pub working: HalfHours,
    /// Drivers on duty × milliseconds.
    pub on_duty: HalfHours,
    /// Milliseconds that trucks wait on site for a place, by [`WaitCause`](super::WaitCause).
    pub site_wait: Waits,
    /// Cost by part.
    pub cost: [i64; CostPart::ALL.len()],
}

impl Profile {
    /// Adds the sums of other replications.
    pub fn merge(&mut self, other: &Self) {
        self.replications += other.replications;
        self.undelivered += other.undelivered;
        add(&mut self.late, &other.late);
        add(&mut self.margin, &other.margin);
        add(&mut self.stranded, &other.stranded);
        add(&mut self.bay_queue, &other.bay_queue);
        self.working.merge(&other.working);
        self.on_duty.merge(&other.on_duty);
        add(&mut self.site_wait, &other.site_wait);
        for (sum, more) in self.cost.iter_mut().zip(other.cost) {
            *sum += more;
        }
    }

    /// Adds the margins of the tours of one replication.
    pub fn add_margins(&mut self, margins: &[Millis]) {
        for margin in margins {
            let bin = (margin.0.max(0) + MARGIN_BIN.0 - 1) / MARGIN_BIN.0;
            self.margin[(bin as usize).min(MARGIN_BINS - 1)] += 1;
        }
    }

    /// A part of the cost in the mean replication, in the scenario's currency.
    pub fn mean_cost(&self, part: CostPart) -> f64 {
        Cents(self.cost[part as usize]).units() / self.replications.max(1) as f64
    }

    /// Adds the cost of one replication.
    pub fn add_cost(&mut self, parts: &[Cents; CostPart::ALL.len()]) {
        for (sum, part) in self.cost.iter_mut().zip(parts) {
            *sum += part.0;
        }
    }
}

pub(super) fn add<const N: usize>(sums: &mut [u64; N], more: &[u64; N]) {
    for (sum, more) in sums.iter_mut().zip(more) {
        *sum += more;
    }
}

/// A number of trucks or drivers over time, added up by steps of the day or week.
#[derive(Clone, Copy, Debug, Default)]
struct Level {
    level: u64,
    since: Millis,
    /// The step under way: its position among the sums, and when it ends.
    step: usize,
    ends: Millis,
}

impl Level {
    /// The level changes; what there was until now goes into the sums of the steps of this length. `position` tells where the step that
    /// begins then has its sum.
    #[inline]
    fn add(
        &mut self,
        at: Millis,
        change: i64,
        sums: &mut [u64],
        length: Millis,
        position: impl Fn(Millis) -> usize,
    ) {
        while at >= self.ends {
            sums[self.step] += self.level * (self.ends - self.since).0 as u64;
            // an empty stretch is passed over at once
            let begins = if self.level > 0 { self.ends } else { at };
            let begins = Millis(begins.0.div_euclid(length.0) * length.0);
            (self.step, self.since, self.ends) = (position(begins), begins, begins + length);
        }
        sums[self.step] += self.level * (at - self.since).0 as u64;
        self.since = at;
        self.level = self.level.saturating_add_signed(change);
    }

    #[inline]
    fn add_by_hour(&mut self, at: Millis, change: i64, sums: &mut [u64; 24]) {
        self.add(at, change, sums, Millis::HOUR, |begins| {
            begins.0.div_euclid(Millis::HOUR.0).rem_euclid(24) as usize
        });
    }

    #[inline]
    fn add_by_half_hour(
        &mut self,
        at: Millis,
        change: i64,
        sums: &mut HalfHours,
        period: (Weekday, u32),
    ) {
        self.add(at, change, sums.all_mut(), HALF_HOUR, |begins| {
            HalfHours::position(period, begins)
        });
    }
}

/// Adds replications to a [`Profile`].
#[derive(Clone, Debug)]
pub struct Profiler {
    /// The sums so far.
    pub profile: Profile,
    bay_queue: Level,
    working: Level,
    on_duty: Level,
    /// The first day, and how many there are.
    period: (Weekday, u32),
    /// By truck: whether it is at work.
    at_work: Vec<bool>,
    site_wait: SiteWait,
}

impl Profiler {
    /// For runs of this plan.
    pub fn new(plan: &Plan) -> Self {
        let trucks = plan.trucks.len();
        Self {
            period: (plan.first_day, plan.days),
            profile: Profile::default(),
            bay_queue: Level::default(),
            working: Level::default(),
            on_duty: Level::default(),
            at_work: vec![false; trucks],
            site_wait: SiteWait::new(trucks),
        }
    }

    fn work(&mut self, at: Millis, truck: TruckId, works: bool) {
        let before = std::mem::replace(&mut self.at_work[truck.at()], works);
        let change = i64::from(works) - i64::from(before);
        if change != 0 {
            let sums = &mut self.profile.working;
            self.working.add_by_half_hour(at, change, sums, self.period);
        }
    }

    /// Before each replication.
    pub fn begin(&mut self) {
        self.profile.replications += 1;
        self.bay_queue = Level::default();
        self.working = Level::default();
        self.on_duty = Level::default();
        self.at_work.fill(false);
    }
}

impl Observer for Profiler {
    const EACH_REFUSAL: bool = false;

    // Every call names its event: inlined, that arm is all that is left.
    #[inline(always)]
    fn event(&mut self, at: Millis, event: &Event) {
        let profile = &mut self.profile;
        self.site_wait.event(at, event, &mut profile.site_wait);
        match *event {
            Event::Reported { .. } => {
                let sums = &mut profile.on_duty;
                self.on_duty.add_by_half_hour(at, 1, sums, self.period)
            }
            Event::Released { .. } => {
                let sums = &mut profile.on_duty;
                self.on_duty.add_by_half_hour(at, -1, sums, self.period)
            }
            Event::BayJoined { .. } => self.bay_queue.add_by_hour(at, 1, &mut profile.bay_queue),
            Event::BayQuit { .. } => self.bay_queue.add_by_hour(at, -1, &mut profile.bay_queue),
            Event::BayEntered { truck, .. } => {
                self.bay_queue.add_by_hour(at, -1, &mut profile.bay_queue);
                self.work(at, truck, true);
            }
            Event::SiteReached { truck, .. } => self.work(at, truck, false),
            Event::Taken { lateness, .. } => {
                let bin = ((lateness.late().0 + LATE_BIN.0 - 1) / LATE_BIN.0) as usize;
                profile.late[bin.min(LATE_BINS - 1)] += 1;
            }
            // From the discharge on the truck washes its chute and drives back: work, until it is there.
            Event::Redirected { truck, .. } | Event::DischargeBegun { truck, .. } => {
                self.work(at, truck, true)
            }
            Event::Rejected {
                truck,
                spot: Some(_),
                ..
            } => self.work(at, truck, true),
            Event::Drove { truck, .. }
            | Event::LoadLost { truck, .. }
            | Event::Rejected { truck, .. } => {
                self.work(at, truck, false);
            }
            Event::Stranded { truck, .. } => {
                let hour = at.0.div_euclid(Millis::HOUR.0).rem_euclid(24);
                profile.stranded[hour as usize] += 1;
                self.work(at, truck, false);
            }
            Event::Undelivered { .. } => profile.undelivered += 1,
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn margins_fall_into_half_hours() {
        let mut profile = Profile::default();
        let minutes = [-5.0, 0.0, 0.1, 30.0, 31.0, 1_200.0];
        profile.add_margins(&minutes.map(Millis::from_minutes));
        let mut expected = [0; MARGIN_BINS];
        expected[..3].copy_from_slice(&[2, 2, 1]);
        expected[MARGIN_BINS - 1] = 1;
        assert_eq!(profile.margin, expected);
    }
}
