//! A scenario played under watch: what cannot be is refused, everybody comes home, and figures are held against a recount.

use super::watch::Watch;
use super::{Tape, recount};
use plantday::engine::Luck;
use plantday::observe::Figures;
use plantday::plant::{Plan, World};
use plantday::scenario::Scenario;

pub(crate) struct Watched<'s> {
    scenario: &'s Scenario,
    plan: &'s Plan,
    world: World<'s>,
    figures: Figures<'s>,
    row: Vec<f32>,
}

impl<'s> Watched<'s> {
    pub(crate) fn new(scenario: &'s Scenario, plan: &'s Plan) -> Self {
        let figures = Figures::new(plan, &scenario.money);
        Self {
            row: vec![0.0; figures.width()],
            world: World::new(plan),
            scenario,
            plan,
            figures,
        }
    }

    /// Plays one replication; what happened.
    pub(crate) fn play(&mut self, rule: usize, luck: Luck) -> Tape {
        let mut watch = Watch::new(self.scenario, self.plan);
        let mut tape = Tape::default();
        self.figures.begin();
        let mut observer = (&mut watch, &mut (&mut tape, &mut self.figures));
        self.world.run(rule, luck, &mut observer);
        watch.end();
        self.figures.row(&mut self.row);
        tape
    }

    /// The figures of what was played last.
    pub(crate) fn row(&self) -> &[f32] {
        &self.row
    }

    /// In what they differ from a recount of what happened.
    pub(crate) fn differences(&self, tape: &Tape) -> Vec<String> {
        recount::differences(self.scenario, self.plan, &tape.0, &self.row)
    }
}
