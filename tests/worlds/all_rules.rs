//! The figures of a scenario under all its rules, bit for bit: whether two scenarios give the same answer.

use plantday::engine::Luck;
use plantday::observe::Figures;
use plantday::plant::{Plan, World};
use plantday::scenario::Scenario;

/// So many replications of this seed.
pub(crate) fn figures(scenario: &Scenario, seed: u64, replications: u64) -> Vec<u32> {
    let plan = Plan::new(scenario);
    let mut world = World::new(&plan);
    let mut figures = Figures::new(&plan, &scenario.money);
    let mut row = vec![0.0; figures.width()];
    let mut all = Vec::new();
    for rule in 0..scenario.rules.len() {
        for replication in 0..replications {
            figures.begin();
            world.run(rule, Luck::new(seed, replication), &mut figures);
            figures.row(&mut row);
            all.extend(row.iter().map(|figure: &f32| figure.to_bits()));
        }
    }
    all
}
