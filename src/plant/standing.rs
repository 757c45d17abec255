//! How things stand: what a study asks a world that has come to a moment.

use super::fork::Moment;
use super::plan::Plan;
use super::state::{NOT_OFFERED, Phase, TruckNow};
use super::world::World;
use crate::concrete::Until;
use crate::hours::{Clock, Law, Left};
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
    /// Whether a load is what the driver may be given next: at work, neither promised to one that has not begun to load nor done for
    /// the day.
    pub open: bool,
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
        let wheel = |truck: &TruckNow| truck.driver == Some(id);
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
        let carries = truck.and_then(|truck| truck.promised());
        DriverNow {
            on_duty: driver.on_duty,
            away: driver.away,
            truck: at.map(TruckId::new),
            doing: match truck {
                Some(truck) => words(truck.phase),
                None if driver.on_duty => "waiting for a truck",
                None => "off duty",
            },
            place: at.map(|at| self.day.truck_views[at].place),
            order: carries.map(|load| load.order),
            free: truck.is_some_and(|truck| truck.slot != NOT_OFFERED),
            open: truck.is_some_and(|truck| driver.on_duty && !driver.away && is_open(truck)),
            reported: driver.on_duty.then_some(driver.reported),
            due,
            left,
        }
    }
}

fn is_open(truck: &TruckNow) -> bool {
    match truck.phase {
        Phase::PreTrip | Phase::Idle | Phase::ToPlant => !truck.is_promised() && !truck.is_full(),
        Phase::InBay | Phase::RackQueue | Phase::AtRack | Phase::Out => true,
        Phase::SiteQueue | Phase::AtOutlet | Phase::Discharging => true,
        Phase::ChuteWash => !truck.is_full(),
        _ => false,
    }
}

fn words(phase: Phase) -> &'static str {
    match phase {
        Phase::Off => "off duty",
        Phase::PreTrip => "free (checking the truck)",
        Phase::Idle => "free",
        Phase::ToPlant => "driving back",
        Phase::Repositioning => "driving back (empty, to a plant)",
        Phase::Waiting => "free (waiting to be sent)",
        Phase::BayQueue => "waiting to load",
        Phase::InBay => "loading",
        Phase::RackQueue => "loading (waiting for the slump rack)",
        Phase::AtRack => "loading (at the slump rack)",
        Phase::Out => "driving loaded",
        Phase::SiteQueue => "waiting on site",
        Phase::AtOutlet => "waiting on site (pulling up to unload)",
        Phase::Discharging => "unloading",
        Phase::ChuteWash => "unloading (washing the chute)",
        Phase::GoingHome => "driving back",
        Phase::ToParking => "driving back (to lawful parking)",
        Phase::Resting => "out of hours",
        Phase::Emptying => "free (emptying the drum)",
        Phase::OnBreak => "on a break",
        Phase::Helping => "picking up a stranded driver",
        Phase::ToTruck => "being driven out to the truck",
        Phase::BroughtBack => "bringing the truck back",
        Phase::Broken => "broken down",
        Phase::Towed => "waiting for a tow home",
        Phase::WashingOut => "free (washing out)",
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

    /// From batching to the end of discharge, at most, where these minutes are written, for all or for this order; else
    /// [`Millis::NEVER`]. By a table of ages the site itself sees to it: what it takes is within.
    #[inline]
    pub fn age_limit(&self, order: OrderId) -> Millis {
        let age = &self.orders[order.at()].age;
        age.of(self.age_limit, Until::Discharged).0
    }

    /// The driver's rule book in words: the clock's name and its source.
    pub fn law(&self, driver: DriverId, clock: Clock) -> Option<Law> {
        let book = self.drivers[driver.at()].rule_book;
        book.of(&self.rule_sets)?.law(clock).cloned()
    }

    /// Planned report times of a driver over the period.
    pub fn reports(&self, driver: DriverId) -> &[Millis] {
        &self.drivers[driver.at()].reports
    }
}
