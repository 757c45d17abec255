//! A scenario held against the days that were: its periods are simulated under one rule, their tickets read as those of the yard are, and
//! both compared stage by stage and choice by choice.
//!
//! The sample is the period. If the scenario were the yard, the recorded periods would be some more of the simulated ones, so their means
//! would lie apart by chance as far as the simulated ones vary: s × √(1/recorded + 1/simulated), in Student's t of the simulated ones, for
//! all comparisons at once (Bonferroni).

mod choices;
mod measure;

pub use choices::{Chosen, Desk};
pub use measure::Measure;

use super::book::days_apart;
use super::clean::{Cleaned, clean};
use crate::engine::Luck;
use crate::montecarlo::{self, Besides, Trial, Watch};
use crate::observe::TicketBook;
use crate::plant::{Plan, World};
use crate::scenario::Scenario;
use crate::scenario::decode::{days_between, weekday_of};
use crate::scenario::past_tickets::{PastTickets, Ticket};
use crate::statistics::{Interval, Summary, t_critical};
use crate::studies::Block;
use crate::units::Millis;
use choices::{Choices, Names};
use std::collections::BTreeMap;
use std::num::NonZeroUsize;
use std::sync::{Mutex, PoisonError};

/// What is asked.
#[derive(Clone, Debug)]
pub struct CheckQuestion {
    /// Position of the rule by which the yard was run.
    pub rule: usize,
    /// Periods to simulate, at least 2.
    pub replications: u64,
    /// Confidence of all comparisons at once.
    pub level: f64,
    /// Seed of all luck.
    pub seed: u64,
    /// Threads; none: all there are. Does not change the answer.
    pub threads: Option<NonZeroUsize>,
}

/// How a stage of the simulated days stands to that of the recorded ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// No difference is shown, and one that would matter would have been.
    Agrees,
    /// A difference is shown that does not matter.
    Nearly,
    /// No difference is shown, and too few days are recorded to show one that would matter.
    TooFewDays,
    /// A difference is shown that matters.
    Off,
}

/// One thing compared.
#[derive(Clone, Debug)]
pub struct Compared {
    /// What.
    pub measure: Measure,
    /// Recorded tickets that tell it.
    pub tickets: usize,
    /// Means over the recorded periods of their 10, 50 and 90% points.
    pub recorded: [f64; 3],
    /// The same of the simulated periods.
    pub simulated: [f64; 3],
    /// Recorded less simulated, of the middle.
    pub difference: f64,
    /// Its interval.
    pub interval: Interval,
    /// The same of the width from the 10 to the 90% point.
    pub width: (f64, Interval),
    /// How the middles stand.
    pub middle: Standing,
    /// How the widths stand; none of what has none.
    pub spread: Option<Standing>,
}

impl Compared {
    /// The worse of both.
    pub fn standing(&self) -> Standing {
        self.spread
            .map_or(self.middle, |spread| spread.max(self.middle))
    }
}

/// A scenario held against recorded days.
#[derive(Clone, Debug)]
pub struct Check {
    /// What was asked.
    pub question: CheckQuestion,
    /// Name of the rule.
    pub rule: String,
    /// Whether it is today's.
    pub today: bool,
    /// Periods that were simulated.
    pub simulated: u64,
    /// Periods that are recorded.
    pub recorded: usize,
    /// Recorded tickets after cleaning.
    pub cleaned: Cleaned,
    /// Recorded tickets of orders that the scenario does not have, which are left out.
    pub strange: usize,
    /// Of how many of the scenario's orders there are tickets.
    pub orders: usize,
    /// What was compared, in the order of a load.
    pub compared: Vec<Compared>,
    /// What cannot be compared: no recorded ticket tells it.
    pub untold: Vec<Measure>,
    /// How often the rule chooses as the tickets show; none where no load can be found again.
    pub desk: Option<Desk>,
}

impl Check {
    /// Whether nothing that matters is off, and the rule picks plants as the tickets show.
    pub fn is_believable(&self) -> bool {
        let plant = self.desk.as_ref().and_then(|desk| desk.plant);
        !plant.is_some_and(|plant| plant.differ())
            && !self.compared.is_empty()
            && self
                .compared
                .iter()
                .all(|one| one.standing() != Standing::Off)
    }
}

/// Holds a scenario against recorded tickets; none if it was stopped before two periods were simulated, or if no ticket is of its
/// orders.
pub fn check(
    scenario: &Scenario,
    tickets: &PastTickets,
    question: &CheckQuestion,
    watch: Watch<'_>,
) -> Option<Check> {
    let cleaned = clean(&tickets.tickets);
    let (ours, strange) = of_scenario(&cleaned.kept, scenario);
    let periods = periods(&ours, tickets, scenario);
    if periods.is_empty() {
        return None;
    }
    let names = Names::of(&ours);
    let trial = Days {
        plan: Plan::new(scenario),
        scenario,
        question,
        names: &names,
        choices: Mutex::new(BTreeMap::new()),
    };
    let block = Block::Compared.first(question.replications);
    let rows = montecarlo::run(&&trial, block, question.threads, watch);
    if rows.len() < 2 {
        return None;
    }
    let measured: Vec<Vec<f64>> = periods
        .values()
        .map(|tickets| measure::row(tickets, scenario))
        .collect();
    let (mut compared, mut untold) = (Vec::new(), Vec::new());
    let told = |measure: Measure| {
        ours.iter()
            .filter(|one| measure.tells(one, scenario))
            .count()
    };
    let several = 2 * Measure::ALL.len();
    for (nth, measure) in Measure::ALL.into_iter().enumerate() {
        let column = |at: usize| {
            let recorded = measured.iter().map(move |row| row[3 * nth + at]);
            (recorded, rows.values(0, 3 * nth + at))
        };
        let sides = [0, 1, 2].map(|at| {
            let (recorded, simulated) = column(at);
            (Summary::of(recorded), Summary::of(simulated))
        });
        let means = sides.map(|(recorded, simulated)| recorded.mean().zip(simulated.mean()));
        let [Some(low), Some(middle), Some(high)] = means else {
            untold.push(measure);
            continue;
        };
        let level = 1.0 - (1.0 - question.level) / several as f64;
        let difference = Apart::of(&sides[1], level);
        let widths = measured.iter().map(|row| row[3 * nth + 2] - row[3 * nth]);
        let simulated = rows.values(0, 3 * nth + 2).zip(rows.values(0, 3 * nth));
        let widths = (
            Summary::of(widths),
            Summary::of(simulated.map(|(high, low)| high - low)),
        );
        let width = Apart::of(&widths, level);
        let matters = measure.matters(middle.1);
        compared.push(Compared {
            measure,
            tickets: told(measure),
            recorded: [low.0, middle.0, high.0],
            simulated: [low.1, middle.1, high.1],
            difference: difference.by,
            interval: difference.interval,
            width: (width.by, width.interval),
            middle: difference.standing(matters),
            // A width is known less well, and matters less.
            spread: measure
                .has_width()
                .then(|| width.standing((2.0 * matters).max(0.25 * (high.1 - low.1)))),
        });
    }
    let simulated = trial
        .choices
        .into_inner()
        .unwrap_or_else(PoisonError::into_inner);
    let simulated: Vec<Choices> = simulated.into_values().collect();
    let recorded: Vec<Choices> = periods
        .values()
        .map(|tickets| names.choices(tickets))
        .collect();
    let known = scenario.orders.iter().map(|order| order.name.as_str());
    let told: std::collections::BTreeSet<&str> = ours
        .iter()
        .filter_map(|ticket| ticket.order.as_deref())
        .collect();
    Some(Check {
        rule: scenario.rules[question.rule].name.clone(),
        today: question.rule == scenario.todays_rule(),
        simulated: rows.len() as u64,
        recorded: periods.len(),
        orders: known.filter(|name| told.contains(name)).count(),
        strange,
        compared,
        untold,
        desk: Desk::of(&recorded, &simulated, question.level),
        question: question.clone(),
        cleaned,
    })
}

/// How far the means of recorded and simulated periods lie apart.
struct Apart {
    by: f64,
    interval: Interval,
}

impl Apart {
    fn of((recorded, simulated): &(Summary, Summary), level: f64) -> Self {
        let by = recorded.mean().unwrap_or(f64::NAN) - simulated.mean().unwrap_or(f64::NAN);
        let (m, n) = (recorded.n() as f64, simulated.n() as f64);
        let half = match simulated.sd() {
            Some(sd) => t_critical(level, n - 1.0) * sd * (1.0 / m + 1.0 / n).sqrt(),
            None => f64::INFINITY,
        };
        Self {
            by,
            interval: Interval::around(by, half),
        }
    }

    fn standing(&self, matters: f64) -> Standing {
        let shown = self.interval.excludes_zero() && self.interval.half_width() > 0.0
            || self.interval.half_width() == 0.0 && self.by != 0.0;
        match (shown, self.by.abs() > matters) {
            (true, true) => Standing::Off,
            (true, false) => Standing::Nearly,
            (false, _) if self.interval.half_width() > matters => Standing::TooFewDays,
            (false, _) => Standing::Agrees,
        }
    }
}

/// The tickets of the scenario's own orders, and how many are not; all, if tickets name no order.
fn of_scenario<'t>(tickets: &'t [Ticket], scenario: &Scenario) -> (Vec<&'t Ticket>, usize) {
    if tickets.iter().all(|ticket| ticket.order.is_none()) {
        return (tickets.iter().collect(), 0);
    }
    let orders = scenario.orders.iter().map(|order| order.name.as_str());
    let endless = scenario.endless.iter().map(|order| order.name.as_str());
    let known: std::collections::BTreeSet<&str> = orders.chain(endless).collect();
    let ours: Vec<&Ticket> = tickets
        .iter()
        .filter(|ticket| {
            ticket
                .order
                .as_deref()
                .is_some_and(|name| known.contains(name))
        })
        .collect();
    let strange = tickets.len() - ours.len();
    (ours, strange)
}

/// The recorded periods, their tickets as if each began on the scenario's first day.
fn periods(
    tickets: &[&Ticket],
    of: &PastTickets,
    scenario: &Scenario,
) -> BTreeMap<i64, Vec<Ticket>> {
    let days = i64::from(scenario.period.days);
    let apart = if days == 1 { 1 } else { days_apart(scenario) };
    let first = tickets.iter().filter_map(|ticket| ticket.first()).min();
    let offset = match (scenario.period.first_date, of.first_date) {
        (Some(ours), Some(theirs)) => days_between(ours, theirs),
        // A week goes by its weekdays, if those of the tickets are known.
        (None, Some(theirs)) if days > 1 => {
            let ours = scenario.period.first_day as i64;
            (weekday_of(theirs) as i64 - ours).rem_euclid(7)
        }
        // Else the first day that was is the first of a period.
        _ => -first.map_or(0, Millis::day),
    };
    let mut periods: BTreeMap<i64, Vec<Ticket>> = BTreeMap::new();
    for ticket in tickets {
        let Some(day) = ticket.first().map(Millis::day) else {
            continue;
        };
        let period = (day + offset).div_euclid(apart);
        let ticket = (*ticket).clone().later(offset - period * apart);
        periods.entry(period).or_default().push(ticket);
    }
    periods
}

/// The scenario's periods under one rule, measured by their tickets.
struct Days<'s> {
    plan: Plan,
    scenario: &'s Scenario,
    question: &'s CheckQuestion,
    names: &'s Names,
    choices: Mutex<BTreeMap<u64, Choices>>,
}

/// A warm world, and the choices of its periods.
struct Worker<'p> {
    world: World<'p>,
    choices: Vec<(u64, Choices)>,
}

impl<'t> Trial for &'t Days<'_> {
    type Worker = Worker<'t>;

    fn worker(&self) -> Worker<'t> {
        Worker {
            world: World::new(&self.plan),
            choices: Vec::new(),
        }
    }

    fn cases(&self) -> usize {
        1
    }

    fn width(&self) -> usize {
        3 * Measure::ALL.len()
    }

    fn run(&self, worker: &mut Worker<'t>, _: usize, replication: u64, row: &mut [f32]) {
        let mut book = TicketBook::new(self.scenario, &self.plan);
        let luck = Luck::new(self.question.seed, replication);
        worker.world.run(self.question.rule, luck, &mut book);
        // Read as the recorded ones are.
        let kept = clean(&book.tickets).kept;
        let values = measure::row(&kept, self.scenario);
        for (cell, value) in row.iter_mut().zip(values) {
            *cell = value as f32;
        }
        worker
            .choices
            .push((replication, self.names.choices(&kept)));
    }

    fn besides(&self) -> Option<&dyn Besides<Worker<'t>>> {
        Some(self)
    }
}

impl<'t> Besides<Worker<'t>> for &'t Days<'_> {
    fn take_over(&self, worker: &mut Worker<'t>) {
        let mut choices = self.choices.lock().unwrap_or_else(PoisonError::into_inner);
        choices.extend(worker.choices.drain(..));
    }

    fn sums(&self) -> Vec<u8> {
        let choices = self.choices.lock().unwrap_or_else(PoisonError::into_inner);
        postcard::to_stdvec(&*choices).expect("numbers can be written")
    }

    fn add_sums(&self, bytes: &[u8], replications: u64) -> Option<()> {
        let more = postcard::take_from_bytes::<BTreeMap<u64, Choices>>(bytes);
        let (more, []) = more.ok()? else {
            return None;
        };
        if more.len() as u64 != replications {
            return None;
        }
        let mut choices = self.choices.lock().unwrap_or_else(PoisonError::into_inner);
        choices.extend(more);
        Some(())
    }
}
