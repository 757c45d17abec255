//! The moments that are asked about: a load and a driver taken at random from those that could be, and a driver who has little time left
//! for a load. Nothing of the true future goes into the choice.

use super::super::TripQuestion;
use super::super::base::TRIP;
use crate::engine::{Entity, Luck};
use crate::hours::DutyStatus;
use crate::plant::{Moment, Plan, Ready, World};
use crate::scenario::Scenario;
use crate::units::{DriverId, Millis, OrderId, PlantId, Purpose};
use rand::RngExt;
use rand::seq::IndexedRandom;

/// Looks for something to ask about, in a day.
const LOOKS: u32 = 40;
/// The same where nobody has little time left.
const LOOKS_NEAR: u32 = 12;
/// Hours of the day in which anybody works, more or less, and in which many are late in their tour.
const HOURS: (f64, f64) = (6.0, 20.0);
const LATE_HOURS: (f64, f64) = (11.0, 20.0);
/// What is left of the clock that binds after a load as reckoned beforehand, minutes: the chance of being stranded runs from near 1 to
/// near 0 between them.
const LEFT: (f64, f64) = (-30.0, 60.0);
/// Nobody is taken who is farther from what was aimed at.
const NEAR: Millis = Millis(15 * Millis::MINUTE.0);

/// The days that moments are taken from.
pub(super) struct Moments<'s> {
    pub(super) plan: Plan,
    pub(super) scenario: &'s Scenario,
    pub(super) question: &'s TripQuestion,
}

/// A moment, and what is asked about it.
pub(super) struct Asked<'p> {
    pub(super) replication: u64,
    pub(super) moment: Moment<'p>,
    pub(super) driver: DriverId,
    pub(super) order: OrderId,
    pub(super) plant: PlantId,
    pub(super) age_limit: Millis,
}

impl Moments<'_> {
    /// A moment of the period of this replication, and a driver and an order that could be asked about then.
    pub(super) fn any(&self, replication: u64) -> Option<Asked<'_>> {
        for look in 0..LOOKS {
            let mut luck = self
                .luck(replication)
                .stream(Purpose::Calibration, Entity(0), look);
            let moment = self.moment(replication, &mut luck, HOURS);
            let open: Vec<OrderId> = self.up(&moment).collect();
            let drivers: Vec<DriverId> = self.drivers(&moment).collect();
            let chosen = (open.choose(&mut luck), drivers.choose(&mut luck));
            if let (Some(order), Some(driver)) = chosen {
                let makers = self.plan.makers(*order);
                let plant = makers[(replication % makers.len() as u64) as usize];
                return Some(self.asked(replication, moment, (*driver, *order, plant)));
            }
        }
        None
    }

    /// A moment at which a driver has little left for a load, or a little too little for the way home; so much as is drawn, or as near
    /// to it as can be found.
    pub(super) fn near_a_limit<'t>(
        &'t self,
        replication: u64,
        world: &mut World<'t>,
    ) -> Option<Asked<'t>> {
        for look in 0..LOOKS_NEAR {
            let mut luck = self
                .luck(replication)
                .stream(Purpose::Calibration, Entity(1), look);
            let moment = self.moment(replication, &mut luck, LATE_HOURS);
            let aim = Millis::from_minutes(luck.random_range(LEFT.0..LEFT.1));
            // Reckoned with luck of its own: what is chosen knows nothing of what comes.
            world.fork(&moment, self.luck(replication).fork([TRIP, 3, look.into()]));
            let mut best: Option<(Millis, (DriverId, OrderId, PlantId))> = None;
            for driver in self.drivers(&moment) {
                let Some(ready) = world.ready_from(driver) else {
                    continue;
                };
                for order in self
                    .up(&moment)
                    .filter(|order| world.can_go(ready.plant, *order))
                {
                    let asked = (driver, order, self.plan.age_limit(order));
                    let Some(left) = left_after(world, &moment, asked, &ready) else {
                        continue;
                    };
                    let off = Millis((left - aim).0.abs());
                    if off <= NEAR && best.is_none_or(|(nearest, _)| off < nearest) {
                        best = Some((off, (driver, order, ready.plant)));
                    }
                }
            }
            if let Some((_, choice)) = best {
                return Some(self.asked(replication, moment, choice));
            }
        }
        None
    }

    fn asked<'t>(
        &'t self,
        replication: u64,
        moment: Moment<'t>,
        (driver, order, plant): (DriverId, OrderId, PlantId),
    ) -> Asked<'t> {
        Asked {
            replication,
            moment,
            driver,
            order,
            plant,
            age_limit: self.plan.age_limit(order),
        }
    }

    /// The luck of the choice.
    fn luck(&self, replication: u64) -> Luck {
        Luck::new(self.question.seed, replication).fork([TRIP, 2, 0])
    }

    /// A moment of the period, between two hours of the day.
    fn moment(&self, replication: u64, luck: &mut impl RngExt, hours: (f64, f64)) -> Moment<'_> {
        let day = luck.random_range(0..self.scenario.period.days);
        let hour = luck.random_range(hours.0..hours.1);
        let at = Millis::midnight(day.into()) + Millis::from_hours(hour);
        let mut world = World::new(&self.plan);
        let truth = Luck::new(self.question.seed, replication);
        world.run_to(self.question.rule, truth, at, &mut ());
        Moment::new(world)
    }

    /// Orders with a load that goes within an hour or so.
    fn up<'a>(&'a self, moment: &'a Moment<'_>) -> impl Iterator<Item = OrderId> + 'a {
        let soon = |due: Millis| due < moment.at() + Millis::HOUR * 2;
        (0..self.plan.orders.len())
            .map(OrderId::new)
            .filter(move |order| {
                !self.plan.orders[order.at()].endless
                    && moment.next_load(*order).is_some_and(|load| soon(load.due))
            })
    }

    /// Drivers who may be given a load next: who is promised to another already, or done for the day, is not asked about.
    fn drivers<'a>(&'a self, moment: &'a Moment<'_>) -> impl Iterator<Item = DriverId> + 'a {
        let drivers = (0..self.plan.driver_count()).map(DriverId::new);
        drivers.filter(|driver| moment.driver(*driver).open)
    }
}

/// What is left of the clock that binds a driver after the next load of an order, as reckoned in this world: below zero if the driver
/// comes to the site and not home. None without a rule book, or where the load itself does not fit.
fn left_after(
    world: &World<'_>,
    moment: &Moment<'_>,
    (driver, order, age_limit): (DriverId, OrderId, Millis),
    ready: &Ready,
) -> Option<Millis> {
    let (rules, clocks) = world.clocks_when_ready(driver, ready)?;
    let load = moment.next_load(order)?;
    let (spot, ..) = world.goes_to(order);
    let alone = |start| world.load_alone((ready.plant, spot), load.volume, start, 0);
    let early = alone(ready.from);
    let start = ready.from.max(load.due - early.at_plant - early.out);
    let [plant, out, site, back, _] = alone(start).plan();
    // What would be too old on site is refused, whatever hours are left.
    if plant.1 + out.1 + site.1 > age_limit {
        return None;
    }
    let wait = (DutyStatus::Waiting, start - ready.from);
    let to_site = [wait, plant, out, site];
    if !clocks.fits(rules, ready.from, &to_site).fits() {
        return None;
    }
    let home = clocks.fits(rules, ready.from, &[wait, plant, out, site, back]);
    home.binds.map(|_| home.slack)
}
