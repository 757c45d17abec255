//! What a file of how things stand leaves out is taken on the careful side. Where that makes a no, what would make a yes.

use super::TripQuestion;
use super::base::Base;
use super::load::{Case, LoadAnswer, LoadVerdict, refused, run};
use crate::montecarlo::Watch;
use crate::plant::Plan;
use crate::scenario::Scenario;
use crate::scenario::day_state::{DayState, DriverState, Unsaid};
use crate::units::Millis;
use std::ops::Range;

/// Runs of each look, apart from those of the answer.
const RUNS: Range<u64> = 1_000_000..1_000_040;
/// Hours driven are looked for in these steps.
const STEP: Millis = Millis(6 * Millis::MINUTE.0);

/// What would make a yes of a no.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WouldDo {
    /// The driver has driven no more than this.
    Driven(Millis),
    /// The driver has had a break that was over by then.
    Break(Millis),
}

/// What would do, if the file says too little of the driver asked for and that is why the answer is no.
pub(super) fn what_would_do(
    plan: &Plan,
    scenario: &Scenario,
    question: &TripQuestion,
    answer: &LoadAnswer,
    watch: Watch<'_>,
) -> Option<WouldDo> {
    let state = question.state.as_ref()?;
    if answer.verdict == LoadVerdict::Yes {
        return None;
    }
    let driver = answer.asked.driver;
    let unsaid = |what| state.unsaid.contains(&(driver, what));
    let standing = *state.drivers.iter().find(|of| of.driver == driver)?;
    let yes = |standing: DriverState| {
        let changed = TripQuestion {
            state: Some(with(state, standing)),
            ..question.clone()
        };
        let base = Base::start(plan, scenario, &changed).ok()?;
        let load = (answer.order, answer.load.number);
        let case = Case::Take(driver, answer.asked.plant);
        let fates = run(&base, load, &[case], RUNS, &changed, watch);
        let fate = fates.into_iter().next()?;
        let good = refused(&fate).is_none() && fate.all.share() >= question.probability;
        (good && fate.back.times == fate.taken.times).then_some(())
    };
    if unsaid(Unsaid::Driven) || unsaid(Unsaid::Anything) {
        let driven = |steps: i64| DriverState {
            driven: STEP * steps,
            ..standing
        };
        yes(driven(0))?;
        let (mut does, mut does_not) = (0, standing.driven.0 / STEP.0 + 1);
        while does + 1 < does_not {
            let middle = (does + does_not) / 2;
            match yes(driven(middle)) {
                Some(()) => does = middle,
                None => does_not = middle,
            }
        }
        return Some(WouldDo::Driven(STEP * does));
    }
    if unsaid(Unsaid::Break) {
        let over = standing.since;
        yes(DriverState {
            break_over: Some(over),
            ..standing
        })?;
        return Some(WouldDo::Break(over));
    }
    None
}

fn with(state: &DayState, standing: DriverState) -> DayState {
    let mut state = state.clone();
    for of in &mut state.drivers {
        if of.driver == standing.driver {
            *of = standing;
        }
    }
    state
}
