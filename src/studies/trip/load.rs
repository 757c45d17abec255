//! May this load go with this driver?

mod search;
mod tried;

pub(super) use search::refused;
pub(super) use tried::{Case, run};

use super::super::{Chance, Estimate};
use super::TripQuestion;
use super::base::Base;
use super::fate::Fate;
use super::legal::Legal;
use super::unsaid::{WouldDo, what_would_do};
use crate::dispatch::Refusal;
use crate::hours::Clock;
use crate::montecarlo::Watch;
use crate::plant::{DriverNow, NextLoad, Plan};
use crate::scenario::Scenario;
use crate::units::{DriverId, OrderId, PlantId};
use search::Search;

/// Working days in a month. Common practice, no source.
const WORKING_DAYS: f64 = 21.0;

/// What is said of the load and the driver asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LoadVerdict {
    /// It may go: the bound meets the chance asked for.
    Yes,
    /// The driver may not take it; the reason, and whether it is the law's, the company's or of the thing itself.
    Refused(Refusal),
    /// The load would be late or too old too often.
    No,
    /// The chance is about what is asked for; the trials do not tell which.
    NotTold,
    /// The driver would pass a limit, or be stranded, more often than is borne.
    TooRisky,
    /// It is not shown that the driver passes a limit, and is stranded, no more often than is borne.
    RiskNotShown,
}

/// A driver with a plant for the load.
#[derive(Clone, Debug)]
pub struct Candidate {
    /// Who.
    pub driver: DriverId,
    /// Where it would load.
    pub plant: PlantId,
    /// What the driver is doing now.
    pub now: DriverNow,
    /// What becomes of it.
    pub fate: Fate,
    /// What it costs more than if the desk goes on without the asked driver, on the same luck.
    pub cost_more: Estimate,
    /// Whether the numbers are those of the final answer; else of the search.
    pub is_final: bool,
}

/// The answer.
#[derive(Clone, Debug)]
pub struct LoadAnswer {
    /// The order.
    pub order: OrderId,
    /// Its load that asks next.
    pub load: NextLoad,
    /// The driver asked for, with the best plant.
    pub asked: Candidate,
    /// What is said of it.
    pub verdict: LoadVerdict,
    /// What it does to the driver's hours; none where the driver is refused.
    pub legal: Option<Legal>,
    /// What would make a yes of a no, where the file says too little of the driver.
    pub would_do: Option<WouldDo>,
    /// Loads that the desk sends in a month, those of drawn orders left out.
    pub loads_a_month: f64,
    /// The clock that binds most often, with its margin behind it or as the reason.
    pub clock: Option<Clock>,
    /// What becomes of load and driver if this driver does not take it and the desk goes on as usual.
    pub without: Fate,
    /// Who takes it then most often, and how often.
    pub without_taken_by: Option<(DriverId, Chance)>,
    /// The others, best first.
    pub others: Vec<Candidate>,
    /// If nobody meets the chance: who is on site first within age and clocks, though late.
    pub first: Option<Candidate>,
    /// Trials of the final answer that were run.
    pub trials: u64,
    /// Trials of the search, all candidates together.
    pub searched: u64,
    /// Whether it was interrupted.
    pub stopped: bool,
}

/// Answers whether the next load of an order may go with a driver. None if nothing was finished before it was stopped.
///
/// # Errors
/// In words, if the order has no load to ask for, or the driver is neither on duty nor due before the order's day is over.
pub fn may_load_go(
    scenario: &Scenario,
    question: &TripQuestion,
    (driver, order): (DriverId, OrderId),
    watch: Watch<'_>,
) -> Result<Option<LoadAnswer>, String> {
    let plan = Plan::new(scenario);
    let base = Base::start(&plan, scenario, question)?;
    let found = answer(&base, scenario, question, (driver, order), watch)?;
    Ok(found.map(|found| LoadAnswer {
        would_do: what_would_do(&plan, scenario, question, &found, watch),
        ..found
    }))
}

/// Answers who should take the next load of an order: the best of all who could, the others after.
///
/// # Errors
/// In words, if the order has no load to ask for, or nobody is on duty or due before its day is over.
pub fn who_takes(
    scenario: &Scenario,
    question: &TripQuestion,
    order: OrderId,
    watch: Watch<'_>,
) -> Result<Option<LoadAnswer>, String> {
    let plan = Plan::new(scenario);
    let base = Base::start(&plan, scenario, question)?;
    let mut drivers = (0..plan.driver_count()).map(DriverId::new);
    if !drivers.any(|driver| serves(&base, driver, order)) {
        return Err(format!(
            "nobody is on duty at that time or due before the day of order \"{}\" is over",
            scenario.orders[order.at()].name
        ));
    }
    let load = next_load(&base, scenario, order)?;
    let search = Search {
        base: &base,
        question,
        order,
        load,
        loads_a_month: loads_a_month(scenario),
        watch,
    };
    Ok(search.answer(None))
}

/// Loads that a desk sends in a month like the scenario's period, of orders with a volume.
fn loads_a_month(scenario: &Scenario) -> f64 {
    let loads = scenario.orders.iter().map(|order| {
        let chance = if order.slot.is_some() { 0.0 } else { 1.0 };
        chance * (order.volume.yd3() / order.load.yd3()).ceil()
    });
    WORKING_DAYS * loads.sum::<f64>() / f64::from(scenario.period.days)
}

/// The same from a world at the moment.
pub(super) fn answer(
    base: &Base<'_>,
    scenario: &Scenario,
    question: &TripQuestion,
    (driver, order): (DriverId, OrderId),
    watch: Watch<'_>,
) -> Result<Option<LoadAnswer>, String> {
    let load = next_load(base, scenario, order)?;
    if !serves(base, driver, order) {
        return Err(format!(
            "driver \"{}\" is not on duty at that time and not due before the day of order \"{}\" is over",
            scenario.drivers[driver.at()].name,
            scenario.orders[order.at()].name
        ));
    }
    let search = Search {
        base,
        question,
        order,
        load,
        loads_a_month: loads_a_month(scenario),
        watch,
    };
    Ok(search.answer(Some(driver)))
}

fn next_load(base: &Base<'_>, scenario: &Scenario, order: OrderId) -> Result<NextLoad, String> {
    base.moment.next_load(order).ok_or_else(|| {
        format!(
            "order \"{}\" has no load that could go at that time: all are promised or placed, it is cancelled or not called in yet, \
             or its day is over",
            scenario.orders[order.at()].name
        )
    })
}

/// Whether a driver is at work, or will be before the order's day is over.
fn serves(base: &Base<'_>, driver: DriverId, order: OrderId) -> bool {
    let now = base.moment.driver(driver);
    let over = base.plan.orders[order.at()].day_over;
    (now.on_duty && !now.away) || now.due.is_some_and(|due| due < over)
}
