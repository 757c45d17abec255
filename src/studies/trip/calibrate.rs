//! Whether what forks foretell comes true as often as they say: many moments of many days, a load and a driver taken at random
//! from those that could be asked about, forks on the one hand and the true future of the same forced choice on the other.

use super::TripQuestion;
use super::base::{Base, TRIP};
use super::fate::{self, column};
use crate::engine::{Entity, Luck};
use crate::montecarlo::{self, Progress, Rows, Trial};
use crate::observe::TripWatch;
use crate::plant::{Moment, Plan, World};
use crate::scenario::Scenario;
use crate::statistics::{Interval, wilson};
use crate::units::{DriverId, Millis, OrderId, Purpose};
use rand::RngExt;
use rand::seq::IndexedRandom;
use std::sync::atomic::AtomicBool;

/// What is foretold.
pub const FORETOLD: [(&str, usize); 4] = [
    ("on site in time", column::IN_TIME),
    ("discharged within its age", column::WITHIN_AGE),
    ("back within every clock", column::BACK_LEGAL),
    ("all three", column::ALL),
];

/// Figures of one thing foretold in a row: the share of the first half of the trials, that of the second, what came true.
const EACH: usize = 3;
/// Bins of equal width.
const BINS: usize = 10;
/// Looks for something to ask about, in a day.
const LOOKS: u32 = 40;

/// One thing foretold, over all moments.
#[derive(Clone, Debug, PartialEq)]
pub struct Reliability {
    /// What is foretold.
    pub what: &'static str,
    /// Moments.
    pub of: u64,
    /// Bins by what the first half of the trials foretold, those without a moment left out.
    pub bins: Vec<Bin>,
    /// Mean squared difference of what was foretold and what came.
    pub brier: f64,
    /// Its parts (A. H. Murphy, "A new vector partition of the probability score", 1973; from memory): the squared distance of
    /// the bins from what came true in them, how far the bins lie apart, and the spread of what comes at all. The score of the
    /// bins' means is reliability − resolution + uncertainty.
    pub reliability: f64,
    /// See above.
    pub resolution: f64,
    /// See above.
    pub uncertainty: f64,
    /// The sum of all differences between what came and what was foretold, over its standard deviation if the forks are right.
    pub z: f64,
}

/// Moments of which about the same was foretold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bin {
    /// Moments.
    pub of: u64,
    /// Times that it came true.
    pub came: u64,
    /// Mean of what the second half of the trials foretold, which had no part in the binning.
    pub foretold: f64,
    /// Standard deviation of the number of times that it comes true, less the number foretold, if the forks are right.
    pub sd: f64,
    /// Interval of the share that came true.
    pub interval: Interval,
}

impl Bin {
    /// Share that came true.
    pub fn share(&self) -> f64 {
        self.came as f64 / self.of as f64
    }

    /// How far what came is from what was foretold, in standard deviations; 0 where nothing can differ.
    pub fn z(&self) -> f64 {
        let off = self.came as f64 - self.foretold * self.of as f64;
        if self.sd > 0.0 { off / self.sd } else { 0.0 }
    }
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Calibration {
    /// Moments asked for.
    pub asked: u64,
    /// Moments at which there was something to ask.
    pub moments: u64,
    /// Trials of each moment.
    pub trials: u64,
    /// One for each of [`FORETOLD`].
    pub reliabilities: Vec<Reliability>,
    /// It was interrupted: fewer moments than asked for were looked at.
    pub stopped: bool,
}

struct Moments<'s> {
    plan: Plan,
    scenario: &'s Scenario,
    question: &'s TripQuestion,
}

impl<'t, 's: 't> Trial for &'t Moments<'s> {
    type Worker = (World<'t>, TripWatch);

    fn worker(&self) -> Self::Worker {
        (World::new(&self.plan), TripWatch::new(&self.plan))
    }

    fn cases(&self) -> usize {
        1
    }

    fn width(&self) -> usize {
        FORETOLD.len() * EACH
    }

    fn run(&self, (world, watch): &mut Self::Worker, _: usize, replication: u64, row: &mut [f32]) {
        row.fill(f32::NAN);
        let Some((base, driver, order)) = self.choice(replication) else {
            return;
        };
        let Some(load) = base.moment.next_load(order) else {
            return;
        };
        let makers = self.plan.makers(order);
        let plant = makers[(replication % makers.len() as u64) as usize];
        let mut play = |world: &mut World<'t>, cells: &mut [f32]| {
            watch.begin((order, load.number), driver, base.moment.wheel());
            world.force_take(driver, order, plant, watch);
            let mut until = base.account();
            world.go_on_to(until, watch);
            while !watch.is_home() && until < base.account() + Millis::DAY {
                until += Millis::HOUR;
                world.go_on_to(until, watch);
            }
            fate::write(watch.seen(), self.plan.age_limit(order), cells);
        };
        let trials = self.question.trials.max(2);
        let mut sums = [[0.0; 2]; FORETOLD.len()];
        let mut cells = [0.0; column::COUNT];
        for trial in 0..trials {
            world.fork(&base.moment, base.luck(1, trial));
            play(world, &mut cells);
            let half = usize::from(trial >= trials / 2);
            for (sum, (_, column)) in sums.iter_mut().zip(FORETOLD) {
                sum[half] += cells[column];
            }
        }
        world.resume(&base.moment);
        play(world, &mut cells);
        let halves = [trials / 2, trials - trials / 2];
        for (at, (sum, (_, column))) in sums.iter().zip(FORETOLD).enumerate() {
            row[EACH * at] = sum[0] / halves[0] as f32;
            row[EACH * at + 1] = sum[1] / halves[1] as f32;
            row[EACH * at + 2] = cells[column];
        }
    }
}

impl Moments<'_> {
    /// A moment of the day of this replication, and a driver and an order that could be asked about then.
    fn choice(&self, replication: u64) -> Option<(Base<'_>, DriverId, OrderId)> {
        let luck = Luck::new(self.question.seed, replication).fork([TRIP, 2, 0]);
        for look in 0..LOOKS {
            let mut luck = luck.stream(Purpose::Calibration, Entity(0), look);
            // Among the hours in which anybody works, more or less.
            let day = luck.random_range(0..self.scenario.period.days);
            let hour = luck.random_range(6.0..20.0);
            let at = Millis::midnight(day.into()) + Millis::from_hours(hour);
            let question = TripQuestion {
                at,
                replication,
                ..self.question.clone()
            };
            let base = Base::simulated(&self.plan, self.scenario, &question);
            let orders = (0..self.plan.orders.len()).map(OrderId::new);
            let open: Vec<OrderId> = orders
                .filter(|order| self.is_up(&base.moment, *order))
                .collect();
            let drivers = (0..self.plan.driver_count()).map(DriverId::new);
            let free: Vec<DriverId> = drivers
                .filter(|driver| {
                    let now = base.moment.driver(*driver);
                    now.on_duty && !now.away
                })
                .collect();
            if let (Some(order), Some(driver)) = (open.choose(&mut luck), free.choose(&mut luck)) {
                return Some((base, *driver, *order));
            }
        }
        None
    }

    /// Whether an order has a load that goes within an hour or so.
    fn is_up(&self, moment: &Moment<'_>, order: OrderId) -> bool {
        let soon = |due: Millis| due < moment.at() + Millis::HOUR * 2;
        !self.plan.orders[order.at()].endless
            && moment.next_load(order).is_some_and(|load| soon(load.due))
    }
}

/// Looks at so many moments, one of each replication from `question.replication` on. None if it was stopped before there was anything
/// to tell.
///
/// # Errors
/// In none of the replications there was anything to ask about.
pub fn calibrate(
    scenario: &Scenario,
    question: &TripQuestion,
    moments: u64,
    progress: &(dyn Fn(Progress) + Sync),
    stop: &AtomicBool,
) -> Result<Option<Calibration>, String> {
    let trial = Moments {
        plan: Plan::new(scenario),
        scenario,
        question,
    };
    let first = question.replication;
    let rows = montecarlo::run(
        &&trial,
        first..first + moments,
        question.threads,
        progress,
        stop,
    );
    let found = rows.values(0, 0).filter(|share| !share.is_nan()).count() as u64;
    let stopped = (rows.len() as u64) < moments;
    if found == 0 {
        return if stopped {
            Ok(None)
        } else {
            Err(format!(
                "nothing was found to ask about: at no moment looked at in {moments} simulated periods was a driver on duty while an \
                 order's next load was due within two hours (endless orders are not asked about)"
            ))
        };
    }
    Ok(Some(Calibration {
        asked: moments,
        moments: found,
        trials: question.trials.max(2),
        reliabilities: (0..FORETOLD.len())
            .map(|at| reliability(&rows, at, question))
            .collect(),
        stopped,
    }))
}

fn reliability(rows: &Rows, at: usize, question: &TripQuestion) -> Reliability {
    let triples: Vec<[f64; EACH]> = rows
        .values(0, EACH * at)
        .zip(rows.values(0, EACH * at + 1))
        .zip(rows.values(0, EACH * at + 2))
        .map(|((first, second), came)| [first, second, came])
        .filter(|triple| !triple[0].is_nan())
        .collect();
    let n = triples.len() as f64;
    let half = question.trials.max(2) as f64 / 2.0;
    // A chance of exactly 0 or 1 in a half of the trials is not certain: variances by the rule of succession (Laplace).
    let variance = |triple: &[f64; EACH]| {
        let p = (triple[1] * half + 1.0) / (half + 2.0);
        p * (1.0 - p) * (1.0 + 1.0 / half)
    };
    let mut bins = Vec::new();
    for bin in 0..BINS {
        let inside =
            |triple: &&[f64; EACH]| ((triple[0] * BINS as f64) as usize).min(BINS - 1) == bin;
        let members: Vec<&[f64; EACH]> = triples.iter().filter(inside).collect();
        if members.is_empty() {
            continue;
        }
        let of = members.len() as u64;
        let came = members.iter().filter(|triple| triple[2] > 0.5).count() as u64;
        bins.push(Bin {
            of,
            came,
            foretold: members.iter().map(|triple| triple[1]).sum::<f64>() / of as f64,
            sd: members
                .iter()
                .map(|triple| variance(triple))
                .sum::<f64>()
                .sqrt(),
            interval: wilson(came, of, question.level),
        });
    }
    let base_rate = triples.iter().map(|triple| triple[2]).sum::<f64>() / n;
    let weighted = |of: fn(&Bin, f64) -> f64| {
        bins.iter()
            .map(|bin| bin.of as f64 * of(bin, base_rate))
            .sum::<f64>()
            / n
    };
    let off: f64 = triples.iter().map(|triple| triple[2] - triple[1]).sum();
    let sd = triples.iter().map(variance).sum::<f64>().sqrt();
    Reliability {
        what: FORETOLD[at].0,
        of: triples.len() as u64,
        brier: triples
            .iter()
            .map(|triple| (triple[2] - triple[1]) * (triple[2] - triple[1]))
            .sum::<f64>()
            / n,
        reliability: weighted(|bin, _| (bin.foretold - bin.share()) * (bin.foretold - bin.share())),
        resolution: weighted(|bin, rate| (bin.share() - rate) * (bin.share() - rate)),
        uncertainty: base_rate * (1.0 - base_rate),
        z: off / sd,
        bins,
    }
}
