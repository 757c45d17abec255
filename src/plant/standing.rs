//! How things stand: what a study asks a world that has come to a moment.

use super::state::{NOT_OFFERED, Phase};
use super::world::World;
use super::{Plan, fork::Moment};
use crate::hours::{Law, Left, Rule};
use crate::units::{DriverId, Millis, OrderId, PlaceId, PlantId, TruckId, Volume};

/// A driver at a moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DriverNow {
    /// On duty.
    pub on_duty: bool,
    /// Stranded and not yet home.
    pub away: bool,
    /// The truck at whose wheel the driver is.
    pub truck: Option<TruckId>,
    /// What the truck is doing, in a few words.
    pub doing: &'static str,
    /// Where it stands or is heading.
    pub place: Option<PlaceId>,
    /// The order whose load it is promised to or carries.
    pub order: Option<OrderId>,
    /// Whether it can be promised at once.
    pub free: bool,
    /// When the driver reported, if on duty.
    pub reported: Option<Millis>,
    /// When the driver is next to report, if that is not now.
    pub due: Option<Millis>,
    /// What is left on the clocks, if on duty under a rule book.
    pub left: Option<Left>,
}

/// The load of an order that asks next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NextLoad {
    /// Its number in the order, from 0.
    pub number: u32,
    /// Its volume.
    pub volume: Volume,
    /// When it is due on site.
    pub due: Millis,
}

impl<'p> Moment<'p> {
    /// A driver.
    pub fn driver(&self, id: DriverId) -> DriverNow {
        self.world().driver_now(id)
    }

    /// Who is at the wheel of each truck.
    pub fn wheel(&self) -> impl Iterator<Item = Option<DriverId>> + '_ {
        self.world().day.trucks.iter().map(|truck| truck.driver)
    }

    /// The load of an order that asks next; none if nothing is left to ask for, or the order is not known yet.
    pub fn next_load(&self, order: OrderId) -> Option<NextLoad> {
        let world = self.world();
        let number = world.next_load(order)?;
        let (volume, due) = world.next_wish(order)?;
        (world.plan.orders[order.at()].called <= world.day.now).then_some(NextLoad {
            number,
            volume,
            due,
        })
    }
}

impl World<'_> {
    fn driver_now(&self, id: DriverId) -> DriverNow {
        let driver = &self.day.drivers[id.at()];
        let wheel = |truck: &super::state::Truck| truck.driver == Some(id);
        let at = self.day.trucks.iter().position(wheel);
        let truck = at.map(|at| &self.day.trucks[at]);
        let reports = self.plan.drivers[id.at()].reports.len() as u16;
        let due = (0..reports)
            .filter_map(|nth| self.report_time(id, nth))
            .find(|report| *report > self.day.now && *report < Millis::NEVER);
        let left = driver
            .on_duty
            .then(|| self.book(id))
            .flatten()
            .map(|rules| {
                let mut clocks = self.day.clocks[id.at()];
                clocks.advance(rules, self.day.now);
                clocks.left(rules)
            });
        let carries = truck.filter(|truck| truck.promised);
        DriverNow {
            on_duty: driver.on_duty,
            away: driver.away,
            truck: at.map(TruckId::new),
            doing: match truck {
                Some(truck) => words(truck.phase),
                None if driver.on_duty => "waits for a truck",
                None => "off duty",
            },
            place: at.map(|at| self.day.truck_views[at].place),
            order: carries.map(|truck| truck.load.order),
            free: truck.is_some_and(|truck| truck.slot != NOT_OFFERED),
            reported: driver.on_duty.then_some(driver.reported),
            due,
            left,
        }
    }
}

fn words(phase: Phase) -> &'static str {
    match phase {
        Phase::Off => "off duty",
        Phase::PreTrip => "checks the truck",
        Phase::Idle => "stands free",
        Phase::ToPlant => "on the way back",
        Phase::Repositioning => "drives empty to a plant",
        Phase::Waiting => "waits for the send time",
        Phase::BayQueue => "waits for a bay",
        Phase::InBay => "loads",
        Phase::RackQueue => "waits for the rack",
        Phase::AtRack => "at the rack",
        Phase::Out => "on the way with a load",
        Phase::SiteQueue => "waits on site",
        Phase::AtOutlet => "takes a place on site",
        Phase::Discharging => "discharges",
        Phase::ChuteWash => "washes the chute",
        Phase::GoingHome => "on the way home",
        Phase::ToParking => "drives to lawful parking",
        Phase::Resting => "stranded",
        Phase::Emptying => "empties the drum",
        Phase::OnBreak => "has a break",
        Phase::Helping => "fetches a stranded driver",
        Phase::ToTruck => "is driven out to the truck",
        Phase::BroughtBack => "brings the truck back",
        Phase::WashingOut => "washes out",
    }
}

impl Plan {
    /// The plants that make an order's mix and may serve it.
    pub fn makers(&self, order: OrderId) -> &[PlantId] {
        &self.orders[order.at()].makers
    }

    /// Whether a plant makes the order's mix and has a way to its site.
    pub fn can_serve(&self, order: OrderId) -> bool {
        let spot = self.orders[order.at()].spots.start as usize;
        let site = self.spots[spot].place;
        self.makers(order).iter().any(|plant| {
            let from = self.plants[plant.at()].place;
            self.free_flow(from, site).is_some()
        })
    }

    /// From batching to the end of discharge, at most, where these minutes are written; else [`Millis::NEVER`]. By a table of
    /// ages the site itself sees to it: what it takes is within.
    pub fn age_limit(&self) -> Millis {
        self.age_limit
    }

    /// The driver's rule book in words: the clock's name and its source.
    pub fn law(&self, driver: DriverId, rule: Rule) -> Option<Law> {
        let book = self.drivers[driver.at()].rule_book;
        book.of(&self.rule_sets)?.law(rule).cloned()
    }

    /// Planned report times of a driver over the period.
    pub fn reports(&self, driver: DriverId) -> &[Millis] {
        &self.drivers[driver.at()].reports
    }
}
