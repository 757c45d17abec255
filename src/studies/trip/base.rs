//! Where all trials begin: the world at the moment, and what has been paid by then.

use super::TripQuestion;
use crate::engine::Luck;
use crate::observe::Figures;
use crate::plant::{Moment, Plan, World};
use crate::scenario::Scenario;
use crate::scenario::day_state::{self, DayState, NoLonger, Simulated};
use crate::units::{Cents, Millis};

/// The first word of the address of luck in looks ahead of this study.
pub(super) const TRIP: u64 = 1;

/// Costs are counted up to this hour of the night, when hardly anybody is out.
const HOUR_OF_ACCOUNT: Millis = Millis(4 * Millis::HOUR.0);

/// The world at the moment.
#[derive(Debug)]
pub(super) struct Base<'p> {
    pub(super) plan: &'p Plan,
    pub(super) moment: Moment<'p>,
    pub(super) figures: Figures<'p>,
    luck: Luck,
}

impl<'p> Base<'p> {
    /// The simulated day up to the moment.
    pub(super) fn simulated(
        plan: &'p Plan,
        scenario: &'p Scenario,
        question: &TripQuestion,
    ) -> Self {
        let luck = Luck::new(question.seed, question.replication);
        let day = Luck::new(
            question.day_seed.unwrap_or(question.seed),
            question.replication,
        );
        let mut figures = Figures::new(plan, &scenario.money);
        figures.begin();
        let mut world = World::new(plan);
        world.run_to(question.rule, day, question.at, &mut figures);
        Self {
            plan,
            moment: Moment::new(world),
            figures,
            luck,
        }
    }

    /// As the question says.
    pub(super) fn start(
        plan: &'p Plan,
        scenario: &'p Scenario,
        question: &TripQuestion,
    ) -> Result<Self, String> {
        let Some(state) = &question.state else {
            return Ok(Self::simulated(plan, scenario, question));
        };
        let luck = Luck::new(question.seed, question.replication);
        let mut figures = Figures::new(plan, &scenario.money);
        figures.begin();
        let world = World::from_state(plan, question.rule, luck, state, &mut figures);
        Ok(Self {
            plan,
            moment: Moment::new(world),
            figures,
            luck,
        })
    }

    pub(super) fn at(&self) -> Millis {
        self.moment.at()
    }

    /// The luck of a trial of one of the study's questions.
    pub(super) fn luck(&self, ask: u64, trial: u64) -> Luck {
        self.luck.fork([TRIP, ask, trial])
    }

    /// Up to when costs are counted.
    pub(super) fn account(&self) -> Millis {
        account(self.at())
    }

    /// What has been paid by the moment.
    pub(super) fn paid(&self) -> Cents {
        cost(&self.figures)
    }
}

/// Worlds of the trials of one question: each trial's luck is forked once, and copied for each of its cases.
#[derive(Debug)]
pub(super) struct Forks<'p> {
    world: World<'p>,
    fork: World<'p>,
    luck: Option<Luck>,
}

impl<'p> Forks<'p> {
    pub(super) fn new(plan: &'p Plan) -> Self {
        Self {
            world: World::new(plan),
            fork: World::new(plan),
            luck: None,
        }
    }

    /// The world at the moment with this luck from there on.
    pub(super) fn with(&mut self, base: &Base<'p>, luck: Luck) -> &mut World<'p> {
        if self.luck != Some(luck) {
            self.fork.fork(&base.moment, luck);
            self.luck = Some(luck);
        }
        self.world.copy_from(&self.fork);
        &mut self.world
    }
}

/// How things stand at the moment of a simulated day, to be written to a file.
pub fn state_of(scenario: &Scenario, question: &TripQuestion) -> DayState {
    let plan = Plan::new(scenario);
    let seed = question.day_seed.unwrap_or(question.seed);
    DayState {
        simulated: Some(Simulated::new(
            scenario,
            question.rule,
            question.replication,
            seed,
        )),
        ..Base::simulated(&plan, scenario, question).moment.state()
    }
}

impl TripQuestion {
    /// A file that was written from a simulated day and not changed since stands for that day: the same question about the day
    /// itself. Of any other file the question remains, and why is told with it.
    pub fn about_the_day_itself(self, scenario: &Scenario) -> Self {
        let Some((state, simulated)) = self
            .state
            .as_ref()
            .and_then(|state| Some((state, state.simulated.clone()?)))
        else {
            return self;
        };
        let day = Self {
            at: state.at,
            state: None,
            replication: simulated.replication,
            day_seed: Some(simulated.seed),
            ..self.clone()
        };
        let stands_for_it = simulated.again(scenario, self.rule).and_then(|()| {
            let text = state_of(scenario, &day).to_text(scenario).ok();
            let written = text.and_then(|text| day_state::parse("", &text, scenario).ok());
            match written.is_some_and(|written| written.says_the_same(state)) {
                true => Ok(()),
                false => Err(NoLonger::Edited),
            }
        });
        match stands_for_it {
            Ok(()) => day,
            Err(why) => Self {
                no_longer: Some(why),
                ..self
            },
        }
    }
}

/// Up to when costs are counted from a moment on.
pub(super) fn account(at: Millis) -> Millis {
    Millis::midnight((at - HOUR_OF_ACCOUNT).day() + 1) + HOUR_OF_ACCOUNT
}

/// All costs so far.
pub(super) fn cost(figures: &Figures<'_>) -> Cents {
    figures.cost_parts().into_iter().sum()
}
