//! Whether what forks foretell comes true as often as they say: many moments of many days, forks on the one hand and the true future
//! of the same forced choice on the other.
//!
//! Of every period one moment is taken for the load and one near a limit for the driver's hours. Each is foretold twice: from the
//! simulated moment as it is, and from what a file says of it, read like one that a dispatcher has written: what it does not hold is
//! drawn.

mod moments;
mod reliability;

use super::TripQuestion;
use super::base::TRIP;
use super::fate::{self, column};
use super::legal;
use crate::engine::Luck;
use crate::montecarlo::{self, Trial, Watch};
use crate::observe::TripWatch;
use crate::plant::{Moment, Plan, World};
use crate::scenario::{Scenario, day_state};
use crate::units::Millis;
use moments::{Asked, Moments};
pub use reliability::{Bin, Reliability};
use std::ops::Range;

/// What is foretold: of a load, each with its figure in a row of a trial, and of the driver's hours.
pub const FORETOLD: [&str; 6] = [
    "on site in time",
    "discharged within its age",
    "back within every clock",
    ALL_THREE,
    PASSED,
    STUCK,
];
/// The three before it together.
pub const ALL_THREE: &str = "all three";
/// What may befall a driver's hours.
pub const PASSED: &str = "drove past a limit";
/// See above.
pub const STUCK: &str = "was stranded";

const OF_A_LOAD: [usize; 4] = [
    column::IN_TIME,
    column::WITHIN_AGE,
    column::BACK_LEGAL,
    column::ALL,
];
/// Where those of a load and those of the hours stand in [`FORETOLD`].
const LOAD: Range<usize> = 0..OF_A_LOAD.len();
const HOURS: Range<usize> = OF_A_LOAD.len()..FORETOLD.len();

/// What the forks know of the moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known {
    /// All that has been revealed of it.
    Simulated,
    /// What a file says of it.
    Written,
}

impl Known {
    /// Both, in the order in which they are told.
    pub const ALL: [Self; 2] = [Self::Simulated, Self::Written];
}

/// Figures of one thing foretold in a row: the share of the first half of the trials, that of the second, what came true.
const EACH: usize = 3;

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Calibration {
    /// Moments asked for.
    pub asked: u64,
    /// Moments at which there was something to ask.
    pub moments: u64,
    /// Moments near a limit, at which the hours were asked about.
    pub near_a_limit: u64,
    /// Trials of each moment.
    pub trials: u64,
    /// One for each of [`FORETOLD`] from the simulated moments, then from what is written of them.
    pub reliabilities: Vec<Reliability>,
    /// It was interrupted: fewer moments than asked for were looked at.
    pub stopped: bool,
}

/// The worlds of one thread: of the truth, and of the desk that reads files.
struct Bench<'t> {
    world: World<'t>,
    watch: TripWatch,
    desk: World<'t>,
    desk_watch: TripWatch,
}

struct Calibrated<'s> {
    moments: Moments<'s>,
    desk: &'s Scenario,
    desk_plan: Plan,
}

impl<'t, 's: 't> Trial for &'t Calibrated<'s> {
    type Worker = Bench<'t>;

    fn worker(&self) -> Self::Worker {
        Bench {
            world: World::new(&self.moments.plan),
            watch: TripWatch::new(&self.moments.plan),
            desk: World::new(&self.desk_plan),
            desk_watch: TripWatch::new(&self.desk_plan),
        }
    }

    fn cases(&self) -> usize {
        1
    }

    fn width(&self) -> usize {
        Known::ALL.len() * FORETOLD.len() * EACH
    }

    fn run(&self, bench: &mut Self::Worker, _: usize, replication: u64, row: &mut [f32]) {
        row.fill(f32::NAN);
        if let Some(asked) = self.moments.any(replication) {
            self.look(bench, &asked, LOAD, row);
        }
        if let Some(asked) = self.moments.near_a_limit(replication, &mut bench.world) {
            self.look(bench, &asked, HOURS, row);
        }
    }
}

impl<'t, 's: 't> Calibrated<'s> {
    /// What is foretold of a moment, both ways, and what came.
    fn look(&'t self, bench: &mut Bench<'t>, asked: &Asked<'t>, of: Range<usize>, row: &mut [f32]) {
        let luck = Luck::new(self.moments.question.seed, asked.replication);
        bench.world.resume(&asked.moment);
        let mut came = [0.0; FORETOLD.len()];
        if !play(
            &mut bench.world,
            &mut bench.watch,
            &asked.moment,
            asked,
            &of,
            &mut came,
        ) {
            return;
        }
        for known in Known::ALL {
            let written = match known {
                Known::Simulated => None,
                Known::Written => match self.as_written(asked, luck) {
                    Some(moment) => Some(moment),
                    None => continue,
                },
            };
            let (world, watch, moment) = match &written {
                None => (&mut bench.world, &mut bench.watch, &asked.moment),
                Some(moment) => (&mut bench.desk, &mut bench.desk_watch, moment),
            };
            let trials = self.moments.question.trials.max(2);
            let halves = [trials / 2, trials - trials / 2];
            let mut sums = [[0.0; 2]; FORETOLD.len()];
            let mut seen = [0.0; FORETOLD.len()];
            // The hours' trials are others than the load's, those from a file others than those of the moment itself.
            let ask = match (known, of.start == LOAD.start) {
                (Known::Simulated, true) => 1,
                (Known::Simulated, false) => 11,
                (Known::Written, true) => 12,
                (Known::Written, false) => 13,
            };
            let mut asked_of_all = true;
            for trial in 0..trials {
                world.fork(moment, luck.fork([TRIP, ask, trial]));
                asked_of_all &= play(world, watch, moment, asked, &of, &mut seen);
                let half = usize::from(trial >= halves[0]);
                for (sum, seen) in sums.iter_mut().zip(seen) {
                    sum[half] += seen;
                }
            }
            if !asked_of_all {
                continue;
            }
            for at in of.clone() {
                let place = EACH * (known as usize * FORETOLD.len() + at);
                row[place] = sums[at][0] / halves[0] as f32;
                row[place + 1] = sums[at][1] / halves[1] as f32;
                row[place + 2] = came[at];
            }
        }
    }

    /// The moment as its file has it, read like one of a dispatcher: with luck of its own. None where it cannot be written or read, or
    /// the order's next load is another there: a file does not say which loads are promised and have not begun to load.
    fn as_written(&'t self, asked: &Asked<'t>, luck: Luck) -> Option<Moment<'t>> {
        let text = asked.moment.state().to_text(self.moments.scenario).ok()?;
        let state = day_state::parse("state", &text, self.desk).ok()?;
        let luck = luck.fork([TRIP, 14, 0]);
        let rule = self.moments.question.rule;
        let world = World::from_state(&self.desk_plan, rule, luck, &state, &mut ());
        let moment = Moment::new(world);
        let load = |moment: &Moment<'_>| {
            moment
                .next_load(asked.order)
                .map(|load| (load.due, load.volume))
        };
        (load(&moment) == load(&asked.moment)).then_some(moment)
    }
}

/// Goes on until nothing more can come of the choice. Whether there was anything to choose.
fn play<'t>(
    world: &mut World<'t>,
    watch: &mut TripWatch,
    moment: &Moment<'t>,
    asked: &Asked<'_>,
    of: &Range<usize>,
    seen: &mut [f32; FORETOLD.len()],
) -> bool {
    let (driver, order) = (asked.driver, asked.order);
    let Some(number) = world.next_load(order) else {
        return false;
    };
    watch.begin((order, number), driver, moment.wheel());
    watch.only_at(asked.plant);
    world.force_take(driver, order, asked.plant, watch);
    if *of == HOURS {
        legal::go_on_until_done(world, watch, moment.at());
        let yes = |yes: bool| f32::from(u8::from(yes));
        (seen[HOURS.start], seen[HOURS.start + 1]) =
            (yes(watch.seen().passed), yes(watch.seen().stuck));
        return true;
    }
    let account = super::base::account(moment.at());
    let mut until = moment.at();
    while until < account && !watch.is_settled()
        || !watch.is_home() && until < account + Millis::DAY
    {
        until += LOOK;
        world.go_on_to(until, watch);
    }
    let mut cells = [0.0; column::COUNT];
    fate::write(watch.seen(), asked.age_limit, &mut cells);
    for (seen, column) in seen.iter_mut().zip(OF_A_LOAD) {
        *seen = cells[column];
    }
    true
}

/// A run goes on for so long before it is looked at whether anything more can come of it.
const LOOK: Millis = Millis(10 * Millis::MINUTE.0);

/// Looks at so many moments, of each replication from `question.replication` on one for the load and one for the hours. None if it
/// was stopped before there was anything to tell.
///
/// # Errors
/// In none of the replications there was anything to ask about.
pub fn calibrate(
    scenario: &Scenario,
    question: &TripQuestion,
    moments: u64,
    watch: Watch<'_>,
) -> Result<Option<Calibration>, String> {
    calibrate_desk(scenario, scenario, question, moments, watch)
}

/// The same where the desk that reads what is written of a moment goes by a scenario of its own, with the same orders, drivers, trucks
/// and places: how a forecast does that takes the world for another than it is.
///
/// # Errors
/// As [`calibrate`].
pub fn calibrate_desk(
    scenario: &Scenario,
    desk: &Scenario,
    question: &TripQuestion,
    moments: u64,
    watch: Watch<'_>,
) -> Result<Option<Calibration>, String> {
    let trial = Calibrated {
        moments: Moments {
            plan: Plan::new(scenario),
            scenario,
            question,
        },
        desk,
        desk_plan: Plan::new(desk),
    };
    let first = question.replication;
    let rows = montecarlo::run(&&trial, first..first + moments, question.threads, watch);
    let found = |at: usize| {
        rows.values(0, EACH * at)
            .filter(|share| !share.is_nan())
            .count() as u64
    };
    let (of_loads, of_hours) = (found(LOAD.start), found(HOURS.start));
    let stopped = (rows.len() as u64) < moments;
    if of_loads == 0 {
        return if stopped {
            Ok(None)
        } else {
            Err(format!(
                "nothing was found to ask about: at no moment looked at in {moments} simulated periods was a driver on duty while an \
                 order's next load was due within two hours (endless orders are not asked about)"
            ))
        };
    }
    let reliabilities = Known::ALL.into_iter().flat_map(|known| {
        let rows = &rows;
        (0..FORETOLD.len())
            .filter_map(move |at| reliability::reliability(rows, (known, at), question))
    });
    Ok(Some(Calibration {
        asked: moments,
        moments: of_loads,
        near_a_limit: of_hours,
        trials: question.trials.max(2),
        reliabilities: reliabilities.collect(),
        stopped,
    }))
}
