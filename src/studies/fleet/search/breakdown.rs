//! What it does to a pour if one of its trucks breaks down, once, with a full drum on its way.

use super::super::own_cost::OwnCost;
use super::super::size;
use super::super::timetable::Trips;
use super::super::{OneBreakdown, PourPlan, WithOrWithout};
use super::Study;
use crate::observe::pour;
use crate::plant::Plan;
use crate::scenario::Scenario;
use crate::scenario::edit::one_breakdown::one_breakdown;
use crate::statistics::{Estimate, Summary};
use crate::studies::edited::Edited;
use crate::units::Millis;

impl Study<'_> {
    /// With the fleet that is spoken of, and with a truck more: the days of the final answer as they are, and with a breakdown on each
    /// of them.
    pub(super) fn one_breakdown(
        &self,
        scenario: &Scenario,
        plan: &PourPlan,
        searched: u64,
    ) -> Vec<OneBreakdown> {
        let first = plan.first + Millis::midnight(self.days.0);
        let (base, pour) = self.edited(scenario, first, plan.spacing);
        let trucks = plan.spoken_of().trucks;
        let made = Plan::new(&base);
        let made = (&made, &Trips::new(&made));
        let fleets = [trucks, trucks + 1];
        let scenarios = fleets.iter().flat_map(|trucks| {
            let as_is = self.with_fleet((&base, pour), made, &plan.hand, *trucks);
            let broken = one_breakdown(&as_is, pour);
            [as_is, broken]
        });
        let question = self.question;
        let trial = Edited::new(
            scenarios.collect(),
            question.rule,
            question.seed,
            Some(pour),
        );
        let rows = self.run(&trial, searched..searched + question.replications);
        if rows.is_empty() {
            return Vec::new();
        }
        let volume = base.orders[pour.at()].volume;
        let cost = match question.alone {
            true => OwnCost::alone(&base, volume),
            false => OwnCost::whole(volume),
        };
        let costs = |case| -> Vec<f64> {
            let parts = cost.of(&trial, &rows, case);
            parts.iter().map(|parts| parts.iter().sum()).collect()
        };
        let side = |case| {
            let estimate = |figure: usize| {
                let values = rows.values(case, trial.pour_figures() + figure);
                Estimate::of(&Summary::of(values), question.level)
            };
            WithOrWithout {
                no_gap: size::no_gap(&trial, &rows, case, question.level),
                worst_pause_min: estimate(pour::WORST_PAUSE_MIN),
                finished_min: estimate(pour::FINISHED_MIN),
            }
        };
        let of_fleet = |(nth, trucks): (usize, u32)| {
            let pairs = costs(2 * nth + 1).into_iter().zip(costs(2 * nth));
            let more: Vec<f64> = pairs.map(|(with, without)| with - without).collect();
            OneBreakdown {
                trucks,
                without: side(2 * nth),
                with: side(2 * nth + 1),
                dearer_per_yd3: Estimate::of_values(&more, question.level),
            }
        };
        fleets.into_iter().enumerate().map(of_fleet).collect()
    }
}
