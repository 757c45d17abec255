//! Orders made ready, those with a volume and endless ones.

use super::length::Length;
use crate::concrete::OrderAge;
use crate::engine::{Entity, Sampler, Spread};
use crate::scenario::{Endless, Order, Routing, Scenario, Slot};
use crate::units::{Millis, PlantId, Rate, Volume};

/// An order made ready.
#[derive(Clone, Debug)]
pub struct OrderPlan {
    /// Volume ordered; [`Volume::ENDLESS`] for an endless order.
    pub volume: Volume,
    /// Nominal load.
    pub load: Volume,
    /// Whether loads are made on demand.
    pub endless: bool,
    /// How late counts as late.
    pub late: Millis,
    /// Pause tolerated.
    pub gap: Millis,
    /// When the pour was agreed to be finished; [`Millis::NEVER`] if it was not.
    pub finish_by: Millis,
    /// When the first load is due.
    pub first: Millis,
    /// End of the order's day: the midnight after its last load is due.
    pub day_over: Millis,
    /// Its spots: positions in the plan's list.
    pub spots: std::ops::Range<u32>,
    pub(in crate::plant) spacing: Millis,
    pub(in crate::plant) opens: Millis,
    pub(in crate::plant) entity: Entity,
    pub(in crate::plant) makers: Vec<PlantId>,
    /// The one that the order names as its usual one.
    pub(in crate::plant) usual: Option<PlantId>,
    pub(in crate::plant) mix: Entity,
    pub(in crate::plant) retarder: bool,
    pub(in crate::plant) age: OrderAge,
    /// Share of the loads beyond their age limit that the site takes.
    pub(in crate::plant) age_waived: f64,
    /// What the stabilizer costs for each yd³ batched.
    pub stabilizer_per_yd3: Rate,
    /// What a yd³ of its mix weighs, lb.
    pub(in crate::plant) lb_per_yd3: f64,
    pub(in crate::plant) drawn: bool,
    /// Time between two loads of a stream.
    pub(in crate::plant) arrivals: Option<Length>,
    /// Share of periods in which it is ordered.
    pub(in crate::plant) chance: f64,
    /// From when the desk knows of it.
    pub(in crate::plant) called: Millis,
    pub(in crate::plant) outdoor: bool,
    /// What its site calls in beyond the volume, yd³. None: as `changes` says.
    pub(in crate::plant) balance: Option<Sampler>,
    /// Whether a pump stands on site.
    pub pump: bool,
    /// What its customer pays for a yd³.
    pub price_per_yd3: Rate,
    /// Which of the drawn orders it is.
    pub(in crate::plant) slot: Option<Slot>,
}

impl OrderPlan {
    /// When a load is due that has this volume before it.
    #[inline]
    pub fn due(&self, before: Volume) -> Millis {
        if self.endless {
            return Millis::ZERO;
        }
        // Whole parts of a yd³ times whole ms: exact. The wide division is some ten times slower and almost never needed.
        let after = match before.0.checked_mul(self.spacing.0) {
            Some(product) => product / self.load.0,
            None => {
                let product = i128::from(before.0) * i128::from(self.spacing.0);
                (product / i128::from(self.load.0)) as i64
            }
        };
        self.first + Millis(after)
    }
}

pub(super) fn order_plan(
    scenario: &Scenario,
    order: &Order,
    spots: std::ops::Range<u32>,
) -> OrderPlan {
    let mut plan = OrderPlan {
        volume: order.volume,
        load: order.load,
        endless: false,
        late: order.late,
        gap: order.gap,
        finish_by: order.finish_by.unwrap_or(Millis::NEVER),
        first: order.first,
        day_over: Millis::ZERO,
        spots,
        spacing: order.spacing,
        opens: order.first + order.setup,
        entity: Entity::named(&order.name),
        makers: scenario.makers(&order.mix, &order.plants).collect(),
        usual: order.usual_plant,
        mix: Entity::named(&order.mix),
        retarder: scenario.concrete.retarder(&order.mix),
        age: order.age,
        age_waived: order.age_waived.unwrap_or_else(|| waived(scenario)),
        stabilizer_per_yd3: order.stabilizer_per_yd3,
        lb_per_yd3: scenario.concrete.lb_per_yd3(&order.mix),
        drawn: false,
        arrivals: None,
        chance: order.chance,
        called: order.called,
        outdoor: order.outdoor,
        balance: order.balance_yd3.as_ref().map(Spread::sampler),
        pump: order.pump,
        price_per_yd3: scenario.money.revenue.of_mix(&order.mix),
        slot: order.slot,
    };
    let last = Volume((order.volume.loads_of(order.load) - 1) * order.load.0);
    let window = order.slot.map_or(Millis::ZERO, |slot| {
        let (from, to) = scenario.drawn[slot.group].first;
        to - from
    });
    // Midnight is no cliff: an order of the late evening has the same time as one of the day.
    let last_due = plan.due(last) + window;
    let agreed = order.finish_by.unwrap_or(Millis::ZERO);
    plan.day_over = Millis::midnight(last_due.day() + 1)
        .max(last_due + scenario.company.order_open)
        .max(agreed);
    plan
}

/// The share of loads for which all waive the age limit.
fn waived(scenario: &Scenario) -> f64 {
    let all = (scenario.concrete.material.as_ref()).is_some_and(|material| material.waiver);
    if all { 1.0 } else { 0.0 }
}

pub(super) fn endless_plan(
    scenario: &Scenario,
    endless: &Endless,
    spots: std::ops::Range<u32>,
) -> OrderPlan {
    OrderPlan {
        volume: Volume::ENDLESS,
        load: endless.load,
        endless: true,
        late: Millis::NEVER,
        gap: Millis::NEVER,
        finish_by: Millis::NEVER,
        first: Millis::ZERO,
        day_over: Millis::NEVER,
        spots,
        spacing: Millis::ZERO,
        opens: Millis::ZERO,
        entity: Entity::named(&endless.name),
        makers: scenario.makers(&endless.mix, &[]).collect(),
        usual: None,
        mix: Entity::named(&endless.mix),
        retarder: scenario.concrete.retarder(&endless.mix),
        age: OrderAge::USUAL,
        age_waived: waived(scenario),
        stabilizer_per_yd3: Rate::ZERO,
        lb_per_yd3: scenario.concrete.lb_per_yd3(&endless.mix),
        drawn: endless.routing == Routing::Drawn,
        arrivals: endless.arrivals.as_ref().map(Length::minutes),
        chance: 1.0,
        called: Millis::ZERO,
        outdoor: false,
        balance: None,
        pump: false,
        price_per_yd3: scenario.money.revenue.of_mix(&endless.mix),
        slot: None,
    }
}
