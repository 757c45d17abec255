//! What a load does to the driver's hours, apart from punctuality: how often a limit is passed, which is a violation, and how often
//! the driver is stranded, which is lawful and costs. Each has a threshold of its own, and a yes rests on enough clean runs.

use super::TripQuestion;
use super::base::Base;
use crate::montecarlo::{self, Trial, Watch};
use crate::observe::TripWatch;
use crate::plant::World;
use crate::statistics::{share_at_least, share_at_most, trials_without_event};
use crate::units::{DriverId, Millis, OrderId, PlantId};

/// Runs of the looks before the last.
const LOOKS: [u64; 2] = [200, 1_000];
/// With [`TripQuestion::sure`] so many times the runs without an event that a threshold takes, which leaves room for a few.
const SURE: u64 = 4;
/// A run goes on for so long before it is looked at whether it still concerns the driver.
const LOOK: Millis = Millis(2 * Millis::MINUTE.0);
/// A driver who is out longer than this is not waited for.
const LONGEST: Millis = Millis(30 * Millis::HOUR.0);

/// What can befall the driver, in so many runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Risk {
    /// Runs in which it did.
    pub times: u64,
    /// Its one-sided exact bounds (Clopper & Pearson 1934).
    pub at_least: f64,
    /// See above.
    pub at_most: f64,
    /// The chance that is borne.
    pub borne: f64,
}

impl Risk {
    /// Whether the runs show that it is no more frequent than is borne.
    pub fn is_shown(&self) -> bool {
        self.at_most <= self.borne
    }

    /// Whether the runs show that it is more frequent.
    pub fn is_too_much(&self) -> bool {
        self.at_least > self.borne
    }
}

/// The hours of one driver with one load, until the driver is home or sent with another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Legal {
    /// Runs, those of the search and of the other figures apart.
    pub runs: u64,
    /// Driving past a limit.
    pub passing: Risk,
    /// Being stranded.
    pub stranded: Risk,
}

impl Legal {
    /// Whether both are shown to be borne.
    pub fn is_shown(&self) -> bool {
        self.passing.is_shown() && self.stranded.is_shown()
    }

    /// Whether one of them is shown to be too frequent.
    pub fn is_too_much(&self) -> bool {
        self.passing.is_too_much() || self.stranded.is_too_much()
    }
}

struct LegalTrial<'b, 'p> {
    base: &'b Base<'p>,
    driver: DriverId,
    load: (OrderId, u32),
    plant: PlantId,
}

const PASSED: usize = 0;
const STUCK: usize = 1;

impl<'p> Trial for LegalTrial<'_, 'p> {
    type Worker = (World<'p>, TripWatch);

    fn worker(&self) -> Self::Worker {
        (World::new(self.base.plan), TripWatch::new(self.base.plan))
    }

    fn cases(&self) -> usize {
        1
    }

    fn width(&self) -> usize {
        2
    }

    fn run(&self, (world, watch): &mut Self::Worker, _: usize, trial: u64, row: &mut [f32]) {
        let base = self.base;
        world.fork(&base.moment, base.luck(5, trial));
        watch.begin(self.load, self.driver, base.moment.wheel());
        watch.only_at(self.plant);
        world.force_take(self.driver, self.load.0, self.plant, watch);
        go_on_until_done(world, watch, base.at());
        row[PASSED] = f32::from(u8::from(watch.seen().passed));
        row[STUCK] = f32::from(u8::from(watch.seen().stuck));
    }
}

/// Goes on from a moment until the load and what it leads to concern the driver no more.
pub(super) fn go_on_until_done(world: &mut World<'_>, watch: &mut TripWatch, from: Millis) {
    let mut until = from;
    while (watch.concerns() || world.keeps_a_load()) && until < from + LONGEST {
        until += LOOK;
        world.go_on_to(until, watch);
    }
}

/// Looks until the risks are shown to be borne or not, at most so many runs as a clean answer takes.
pub(super) fn legal(
    base: &Base<'_>,
    question: &TripQuestion,
    (driver, load, plant): (DriverId, (OrderId, u32), PlantId),
    watch: Watch<'_>,
) -> Legal {
    let trial = LegalTrial {
        base,
        driver,
        load,
        plant,
    };
    let wanted = |borne| trials_without_event(borne, question.level).unwrap_or(u64::MAX);
    let clean = wanted(question.passing).max(wanted(question.stranded));
    let last = match question.sure {
        true => clean.saturating_mul(SURE),
        false => clean,
    }
    .min(question.most_runs);
    let mut looks: Vec<u64> = LOOKS.into_iter().filter(|runs| *runs < last).collect();
    looks.push(last);
    let (mut runs, mut passed, mut stuck) = (0, 0, 0);
    let mut found = told(question, (0, 0, 0), 1.0);
    for (look, until) in looks.iter().enumerate() {
        let rows = montecarlo::run(&trial, runs..*until, question.threads, watch);
        let times = |column| rows.values(0, column).filter(|yes| *yes > 0.5).count() as u64;
        (passed, stuck) = (passed + times(PASSED), stuck + times(STUCK));
        runs += rows.len() as u64;
        // Several looks: that it is too much is said at each with a share of what may go wrong, that it is borne at the last.
        found = told(question, (runs, passed, stuck), looks.len() as f64);
        let is_last = look + 1 == looks.len();
        if found.is_too_much() || runs < *until {
            break;
        }
        if is_last {
            found = told(question, (runs, passed, stuck), 1.0);
        }
    }
    found
}

fn told(question: &TripQuestion, (runs, passed, stuck): (u64, u64, u64), looks: f64) -> Legal {
    let level = 1.0 - (1.0 - question.level) / looks;
    let risk = |times, borne| Risk {
        times,
        at_least: share_at_least(times, runs, level),
        at_most: share_at_most(times, runs, level),
        borne,
    };
    Legal {
        runs,
        passing: risk(passed, question.passing),
        stranded: risk(stuck, question.stranded),
    }
}
