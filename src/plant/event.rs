//! What has happened: told once, at that moment, and never read back.

use crate::dispatch::Refusal;
use crate::units::{DriverId, Millis, OrderId, PlaceId, PlantId, SpotId, TruckId, Volume};

/// Something that has happened. Spans end at the moment of the event.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Event {
    /// A driver reports for duty.
    Reported {
        /// Who.
        driver: DriverId,
        /// The truck driven today.
        truck: TruckId,
    },
    /// A driver is released.
    Released {
        /// Who.
        driver: DriverId,
        /// With which truck.
        truck: TruckId,
        /// Time since report.
        tour: Millis,
    },
    /// A driver was not called: rest would have ended too late.
    DriverDayLost {
        /// Who.
        driver: DriverId,
    },
    /// A driver was not called for the next day: there is no work.
    NotCalled {
        /// Who.
        driver: DriverId,
    },
    /// A driver does not come to work.
    NoShow {
        /// Who.
        driver: DriverId,
    },
    /// A helper sets out for a stranded driver and truck; the helper is back when the truck is home.
    HelperSent {
        /// The driver to be fetched.
        driver: DriverId,
        /// The truck.
        truck: TruckId,
        /// The helper's time until the truck is home.
        takes: Millis,
    },
    /// An order does not take place: cancelled by the customer or by rain, or not ordered in this period at all.
    Cancelled {
        /// Which.
        order: OrderId,
        /// Its volume.
        volume: Volume,
        /// Whether it was ordered before.
        ordered: bool,
    },
    /// An order was refused when it was called in: the day would not hold.
    Declined {
        /// Which.
        order: OrderId,
        /// Its volume.
        volume: Volume,
    },
    /// An order was taken for a later time than asked for.
    Moved {
        /// Which.
        order: OrderId,
        /// How much later.
        by: Millis,
    },
    /// A plant stands still.
    PlantDown {
        /// Which.
        plant: PlantId,
    },
    /// A plant works again.
    PlantUp {
        /// Which.
        plant: PlantId,
    },
    /// A load asks for a truck, for the first time or again.
    Asked {
        /// Its order.
        order: OrderId,
    },
    /// A candidate was refused for a load.
    Refused {
        /// The load's order.
        order: OrderId,
        /// The truck refused.
        truck: TruckId,
        /// Why.
        reason: Refusal,
    },
    /// A truck was promised to a load.
    Promised {
        /// The load's order.
        order: OrderId,
        /// Number of the load in its order, from 0.
        number: u32,
        /// The truck.
        truck: TruckId,
        /// The plant where it loads.
        plant: PlantId,
        /// Whether that is not its home.
        lent: bool,
        /// The volume.
        volume: Volume,
        /// When it is due on site.
        due: Millis,
        /// What was planned for it.
        plan: LoadPlan,
    },
    /// A promise was broken before loading; the load asks again.
    PromiseBroken {
        /// The load's order.
        order: OrderId,
        /// The truck.
        truck: TruckId,
        /// Why.
        reason: Refusal,
    },
    /// A truck joins the bay queue.
    BayJoined {
        /// The truck.
        truck: TruckId,
        /// The plant.
        plant: PlantId,
    },
    /// A truck leaves the bay queue unloaded: its promise was broken.
    BayQuit {
        /// The truck.
        truck: TruckId,
        /// The plant.
        plant: PlantId,
    },
    /// A truck pulls into a bay.
    BayEntered {
        /// The truck.
        truck: TruckId,
        /// The plant.
        plant: PlantId,
        /// Wait in the queue.
        waited: Millis,
    },
    /// A loaded truck leaves the bay.
    BayLeft {
        /// The truck.
        truck: TruckId,
        /// The plant.
        plant: PlantId,
        /// Time in the bay.
        took: Millis,
        /// Volume batched.
        volume: Volume,
    },
    /// A truck takes a place at the rack.
    RackEntered {
        /// The truck.
        truck: TruckId,
        /// The plant.
        plant: PlantId,
        /// Wait for the place.
        waited: Millis,
    },
    /// A truck leaves the rack.
    RackLeft {
        /// The truck.
        truck: TruckId,
        /// The plant.
        plant: PlantId,
        /// Time at the rack.
        took: Millis,
    },
    /// A load was lost at the plant: the driver may no longer take it to the site.
    LoadLost {
        /// Its order.
        order: OrderId,
        /// The truck.
        truck: TruckId,
        /// The volume dumped.
        volume: Volume,
    },
    /// A load was found too wet at the rack and goes back to the bay for cement and fine aggregate.
    DryUp {
        /// Its order.
        order: OrderId,
        /// The truck.
        truck: TruckId,
        /// The plant.
        plant: PlantId,
    },
    /// A load that nobody takes: too wet beyond help at the rack, or rejected on site. It is made again.
    Rejected {
        /// Its order.
        order: OrderId,
        /// The truck.
        truck: TruckId,
        /// The volume lost.
        volume: Volume,
        /// Why.
        why: Reject,
        /// The spot that it leaves; none at the plant.
        spot: Option<SpotId>,
    },
    /// A truck has got rid of a rejected load.
    Emptied {
        /// The truck.
        truck: TruckId,
        /// How long it took.
        took: Millis,
    },
    /// A drive has ended, loaded or empty.
    Drove {
        /// The driver.
        driver: DriverId,
        /// The truck.
        truck: TruckId,
        /// How long.
        took: Millis,
        /// How far; 0 where miles cost nothing.
        miles: f64,
        /// How much of it the truck stood broken down.
        broken: Millis,
        /// How much of it the truck was held at a weigh station, found heavy.
        held: Millis,
        /// Whether with or after a load (not a reposition or a retrieval).
        for_load: bool,
        /// When driving became illegal; [`Millis::NEVER`] without a limit.
        barred_from: Millis,
    },
    /// A loaded truck comes on site.
    SiteReached {
        /// The load's order.
        order: OrderId,
        /// Where.
        spot: SpotId,
        /// Number of the load in its order, from 0.
        number: u32,
        /// The truck.
        truck: TruckId,
        /// When it was due.
        due: Millis,
        /// When the load could have been taken in the ideal timeline.
        ready: Millis,
        /// Whether its lateness counts (not for endless orders, nor once it has been counted as undelivered).
        judged: bool,
        /// Whether it has to wait outside the site for room.
        outside: bool,
    },
    /// A loaded truck that has come to a site which is not ready is sent on; what it is promised to now is told next.
    Redirected {
        /// The order that it was made for.
        order: OrderId,
        /// The truck.
        truck: TruckId,
        /// Its volume.
        volume: Volume,
    },
    /// A truck takes a place at an outlet.
    PlaceTaken {
        /// Where.
        spot: SpotId,
        /// The truck.
        truck: TruckId,
        /// Wait since arrival.
        waited: Millis,
    },
    /// Discharge begins.
    DischargeBegun {
        /// The load's order.
        order: OrderId,
        /// Where.
        spot: SpotId,
        /// The truck.
        truck: TruckId,
    },
    /// Discharge has ended.
    DischargeEnded {
        /// The load's order.
        order: OrderId,
        /// Where.
        spot: SpotId,
        /// The truck.
        truck: TruckId,
        /// How long it took.
        took: Millis,
        /// Volume placed.
        volume: Volume,
        /// Volume that is not needed and goes back with the truck.
        returned: Volume,
        /// Whether the order is complete.
        complete: bool,
    },
    /// A truck leaves the site after the chute wash.
    SiteLeft {
        /// Where.
        spot: SpotId,
        /// The truck.
        truck: TruckId,
        /// Time of the wash.
        washed: Millis,
    },
    /// A truck is washed out and parked for the night.
    WashedOut {
        /// The truck.
        truck: TruckId,
        /// Time of the washout and post-trip.
        took: Millis,
    },
    /// A driver may not legally drive the truck home.
    Stranded {
        /// Who.
        driver: DriverId,
        /// The truck.
        truck: TruckId,
        /// Where they stand.
        place: PlaceId,
        /// Whether a gate of the rule was overridden for the last load, or the driver overruled.
        overridden: bool,
    },
    /// A load was not on site by the end of its order's day.
    Undelivered {
        /// Its order.
        order: OrderId,
        /// Its volume.
        volume: Volume,
        /// Its number in the order; none if it was never promised.
        number: Option<u32>,
        /// The truck that is promised to it or carries it, if one does.
        carrier: Option<TruckId>,
        /// When it could have been taken in the ideal timeline.
        ready: Millis,
        /// How late it is by then, against the ideal timeline.
        late: Millis,
        /// Whether it was the order's first load.
        first: bool,
    },
    /// An order was given up at the end of its day: this volume is left over.
    LeftOver {
        /// Which.
        order: OrderId,
        /// The volume never promised.
        volume: Volume,
    },
    /// A plant is kept open beyond its posted hours.
    KeptOpen {
        /// The plant.
        plant: PlantId,
        /// For how long from now on.
        time: Millis,
    },
    /// The crew of a plant stayed after closing time to load trucks in the queue.
    CrewStayed {
        /// The plant.
        plant: PlantId,
        /// How much longer.
        time: Millis,
    },
}

/// What was planned for a load when its truck was promised. Lengths are means.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LoadPlan {
    /// When it could be taken in the ideal timeline; the desk does not know it.
    pub ready: Millis,
    /// When the rule has it join the bay queue.
    pub send: Millis,
    /// From when the plant is open for it.
    pub opens: Millis,
    /// The rule's allowance for the bay queue.
    pub bay_wait: Millis,
    /// Loading, pull-in included.
    pub loading: Millis,
    /// Rack.
    pub rack: Millis,
    /// The trip as the rule believes it.
    pub believed: Millis,
    /// The trip as it usually is at the hour.
    pub usual: Millis,
    /// The stay on site.
    pub stay: Millis,
}

/// Why a load is rejected.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reject {
    /// Too wet.
    TooWet,
    /// Its discharge could not end within the age limit.
    TooOld,
}

/// Hears what happens. A type parameter of the world, so that a run that needs no observer pays for none.
pub trait Observer {
    /// Something has happened at this moment.
    fn event(&mut self, at: Millis, event: &Event);
}

/// Hears nothing.
impl Observer for () {
    #[inline]
    fn event(&mut self, _: Millis, _: &Event) {}
}

/// Two observers of the same run.
impl<A: Observer, B: Observer> Observer for (A, B) {
    #[inline]
    fn event(&mut self, at: Millis, event: &Event) {
        self.0.event(at, event);
        self.1.event(at, event);
    }
}

impl<O: Observer> Observer for &mut O {
    #[inline]
    fn event(&mut self, at: Millis, event: &Event) {
        (**self).event(at, event);
    }
}
