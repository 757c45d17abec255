//! How many trucks the order book needs on paper over the week: every load keeps one truck from loading to loading, from the plant
//! nearest to its site, stages at their means, roads empty, nothing waited for, every load when it was ordered for.
//!
//! An order that is asked for in a share of periods counts with that share. Drawn orders count with the mean of what a day has.
//! Loads made on demand are in no book.

use super::{LoadOnPaper, Order, Period, Scenario, Slot};
use crate::dispatch::{HALF_HOUR, HALF_HOURS};
use crate::roads::Roads;
use crate::units::{Millis, Volume, Weekday};

/// Mean number of trucks by weekday (Monday first) and half hour of the day.
#[derive(Clone, Debug, PartialEq)]
pub struct Needed([[f64; HALF_HOURS]; 7]);

/// So many equally likely draws stand for a spread.
const DRAWS: u32 = 400;

impl Needed {
    /// What the book of a scenario needs. What is before or after the period counts in the same half hour of its first or last day.
    pub fn of(scenario: &Scenario, roads: &Roads) -> Self {
        let mut needed = Self([[0.0; HALF_HOURS]; 7]);
        for order in &scenario.orders {
            // The first of a day's drawn orders stands for all of them.
            if order.slot.is_some_and(|slot| slot.number > 0) {
                continue;
            }
            if let Some(load) = LoadOnPaper::nearest(scenario, roads, order) {
                match order.slot {
                    None => needed.add_written(scenario, order, &load),
                    Some(slot) => needed.add_drawn(scenario, order, slot, &load),
                }
            }
        }
        for weekday in Weekday::ALL {
            let days = scenario.period.how_many(weekday).max(1);
            let whole = HALF_HOUR.0 as f64 * f64::from(days);
            for trucks in &mut needed.0[weekday as usize] {
                *trucks /= whole;
            }
        }
        needed
    }

    /// Trucks in a half hour of a weekday, 0 to 47.
    pub fn trucks(&self, weekday: Weekday, half_hour: usize) -> f64 {
        self.0[weekday as usize][half_hour]
    }

    fn add_written(&mut self, scenario: &Scenario, order: &Order, load: &LoadOnPaper) {
        for number in 0..load.loads {
            let due = order.first + order.spacing * number;
            self.add(&scenario.period, due, load, order.chance);
        }
    }

    fn add_drawn(&mut self, scenario: &Scenario, order: &Order, slot: Slot, load: &LoadOnPaper) {
        let drawn = &scenario.drawn[slot.group];
        let middle = |draw: u32| (f64::from(draw) + 0.5) / f64::from(DRAWS);
        let counter = drawn.per_day.counter();
        let orders = (0..DRAWS).map(|draw| f64::from(counter.at(middle(draw)).min(drawn.at_most)));
        let orders = orders.sum::<f64>() / f64::from(DRAWS);
        let volume = drawn.volume.sampler();
        // By number of the load: in how many of the draws an order has it.
        let mut has = vec![0_u32; load.loads.max(0) as usize];
        for draw in 0..DRAWS {
            let halves = (volume.at(middle(draw)) * drawn.growth * 2.0 + 0.5) as i64;
            let volume = Volume::thousandths(halves.max(1) * 500).min(order.volume);
            let loads = volume.loads_of(order.load) as usize;
            for count in has.iter_mut().take(loads) {
                *count += 1;
            }
        }
        let minutes = (drawn.first.1 - drawn.first.0).0 / Millis::MINUTE.0;
        for (number, has) in (0..).zip(has) {
            let share = f64::from(has) / f64::from(DRAWS) / (minutes + 1) as f64;
            for later in 0..=minutes {
                let due = order.first + Millis::MINUTE * later + order.spacing * number;
                self.add(&scenario.period, due, load, orders * share);
            }
        }
    }

    /// A load keeps a truck from the beginning of its loading until it is back.
    fn add(&mut self, period: &Period, due: Millis, load: &LoadOnPaper, share: f64) {
        let (mut from, to) = (due - load.lead(), due + load.on_site + load.back);
        while from < to {
            let until = Millis((from.0.div_euclid(HALF_HOUR.0) + 1) * HALF_HOUR.0).min(to);
            let (weekday, half_hour) = Period::half_hour(period.first_day, period.days, from);
            self.0[weekday as usize][half_hour] += (until - from).0 as f64 * share;
            from = until;
        }
    }
}
