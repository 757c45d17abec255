//! What has happened: told once, at that moment, and never read back.

mod broken_drum;
mod errand;
mod full_drum;
mod lateness;
mod load_plan;
mod observer;
mod reject;
mod strand_cause;

pub use broken_drum::BrokenDrum;
pub use errand::Errand;
pub use full_drum::FullDrum;
pub use lateness::Lateness;
pub use load_plan::LoadPlan;
pub use observer::Observer;
pub use reject::Reject;
pub use strand_cause::StrandCause;

use super::material::MaterialStep;
use crate::concrete::ReturnedFate;
use crate::dispatch::Refusal;
use crate::hours::{Drivable, DutyStatus};
use crate::roads::Delays;
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
    /// A driver does something else from now on; told of drivers whose clocks are carried along. A drive of the driver's own is
    /// told by [`Event::Drove`] when it ends.
    Duty {
        /// Who.
        driver: DriverId,
        /// What.
        status: DutyStatus,
    },
    /// A driver may use the once-a-week longer window in the tour that begins.
    LongDayAllowed {
        /// Who.
        driver: DriverId,
    },
    /// A driver has driven beyond the ordinary window in the tour that ends.
    LongDay {
        /// Who.
        driver: DriverId,
        /// Nothing if the tour ends at home within the longer window; else that window was not the driver's to use (49 CFR
        /// 395.1(o)), and this was driven past the ordinary one and within the longer.
        past: Millis,
    },
    /// A driver reports later than planned, for want of rest or of weekly hours.
    ReportedLate {
        /// Who.
        driver: DriverId,
        /// By how much.
        late: Millis,
    },
    /// A stranded driver is released where the truck stands, to rest there.
    RestsOut {
        /// Who.
        driver: DriverId,
    },
    /// A driver was not called: rest would have ended too late, the weekly hours are spent, or too many days in a row.
    DriverDayLost {
        /// Who.
        driver: DriverId,
    },
    /// A driver was not called for the next day: there is no work.
    NotCalled {
        /// Who.
        driver: DriverId,
    },
    /// A driver who was called for the day is told not to come: the work is canceled.
    CalledOff {
        /// Who.
        driver: DriverId,
    },
    /// A driver is off on a day of the roster, as planned; told when the period begins.
    DayOff {
        /// Who.
        driver: DriverId,
        /// The day, 0 for the first.
        day: i64,
    },
    /// A driver does not come to work.
    NoShow {
        /// The day on the roster: the call may be for the evening before.
        day: i64,
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
        /// Since when the helper is on the way: before now where the stranding was foreseen.
        since: Millis,
    },
    /// A driver of the own fleet sets out for a stranded driver and truck.
    OwnDriverSent {
        /// Who helps.
        helper: DriverId,
        /// The driver to be fetched.
        driver: DriverId,
        /// The truck.
        truck: TruckId,
        /// Since when the helper is on the way: before now where the stranding was foreseen.
        since: Millis,
    },
    /// A second person comes along who drives the car home, or somebody drives a driver out to a truck.
    CarDriven {
        /// The truck.
        truck: TruckId,
        /// That person's time.
        takes: Millis,
    },
    /// A helper had set out for a driver who could drive home after all.
    HelperInVain {
        /// The truck.
        truck: TruckId,
        /// The helper's time.
        takes: Millis,
    },
    /// A stranding had been foreseen: the helper is there by so much earlier.
    Foreseen {
        /// The truck.
        truck: TruckId,
        /// How much.
        gained: Millis,
    },
    /// A stranded driver is home.
    StrandedHome {
        /// Who.
        driver: DriverId,
        /// Time since being stranded.
        after: Millis,
    },
    /// A driver out of hours with a full drum.
    OutOfHoursFull {
        /// The truck.
        truck: TruckId,
        /// What becomes of it.
        how: FullDrum,
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
    /// The day has one of the orders that are drawn.
    Drawn {
        /// Which.
        order: OrderId,
        /// Its volume.
        volume: Volume,
        /// How much smaller than the largest that is.
        below_largest: Volume,
        /// How much later than the earliest its first load is due.
        later: Millis,
    },
    /// A site calls in more than was ordered, to finish its pour.
    BalanceCalled {
        /// Which order.
        order: OrderId,
        /// How much more.
        volume: Volume,
    },
    /// A site that is to take loads says that it takes none for some time: it is not ready for its first, or the pour stops.
    SiteWaits {
        /// Which order's.
        order: OrderId,
    },
    /// A site telephones that it will be ready later: its order, with all its due times, is moved.
    SitePhones {
        /// Which order's.
        order: OrderId,
        /// By how much.
        by: Millis,
    },
    /// A site that took none takes loads from now on.
    SiteGoesOn {
        /// Which order's.
        order: OrderId,
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
        /// Number of the load in its order, from 0.
        number: u32,
        /// The truck refused.
        truck: TruckId,
        /// The plant where it would have loaded.
        plant: PlantId,
        /// Why.
        reason: Refusal,
    },
    /// Trucks were refused for a load, all of them for the same reason that has nothing to do with the truck: told instead of
    /// [`Refused`](Self::Refused) where nobody asks for each ([`Observer::EACH_REFUSAL`]).
    RefusedTogether {
        /// The load's order.
        order: OrderId,
        /// How many.
        trucks: u32,
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
        /// What was planned for it; all zero for an observer that does not look at it ([`Observer::PLANS`]).
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
        /// The order.
        order: OrderId,
        /// The plant.
        plant: PlantId,
        /// Time in the bay.
        took: Millis,
        /// How much of it was loading: without pulling in and waiting for the batcher.
        loading: Millis,
        /// Volume batched: without what is reused under it.
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
    /// A truck stops on its drive, broken down.
    BrokeDown {
        /// Which.
        truck: TruckId,
        /// On its way out: the load's order, and its number there, from 0.
        load: Option<(OrderId, u32)>,
        /// How long it has driven since it set out.
        driven: Millis,
    },
    /// The desk hears of a breakdown.
    BreakdownHeard {
        /// The truck.
        truck: TruckId,
        /// How much longer the repair is believed to take.
        repair: Millis,
    },
    /// A load is given up on the way, as its truck has broken down: it is made again for another.
    GivenUp {
        /// Its order.
        order: OrderId,
        /// Its number in the order, from 0.
        number: u32,
        /// The truck.
        truck: TruckId,
        /// The volume lost.
        volume: Volume,
    },
    /// What becomes of the concrete of a load that has been given up on the way.
    BrokenDrum {
        /// The truck.
        truck: TruckId,
        /// What.
        how: BrokenDrum,
    },
    /// A truck that has broken down is repaired.
    Repaired {
        /// Which.
        truck: TruckId,
        /// How long it has stood.
        stood: Millis,
    },
    /// A truck in whose drum a load has set is towed home; its driver is released.
    TowedHome {
        /// Who drove it.
        driver: DriverId,
        /// The truck.
        truck: TruckId,
        /// From when it can be driven again.
        until: Millis,
    },
    /// A driver is not called: a load has set in the drum of the driver's truck.
    TruckOut {
        /// Who.
        driver: DriverId,
        /// The truck.
        truck: TruckId,
    },
    /// Something was done to the concrete in a drum whose contents are computed.
    Material {
        /// The load's order.
        order: OrderId,
        /// The truck.
        truck: TruckId,
        /// What.
        step: MaterialStep,
    },
    /// What became of concrete that had come back, where returned concrete is reused: told when the truck's next load is begun,
    /// or when there is none.
    Returned {
        /// The order that it was made for.
        order: OrderId,
        /// The truck.
        truck: TruckId,
        /// How much.
        volume: Volume,
        /// Time since its batching began, of the oldest of it.
        age: Millis,
        /// What became of it.
        fate: ReturnedFate,
    },
    /// A truck has got rid of a rejected load.
    Emptied {
        /// The truck.
        truck: TruckId,
        /// How long it took.
        took: Millis,
    },
    /// A drive begins with a load, back from a site or empty to a plant to load there: how it will differ from what is planned. Told to
    /// observers that look at plans only ([`Observer::PLANS`]).
    Departed {
        /// The truck.
        truck: TruckId,
        /// Where to.
        errand: Errand,
        /// How long the drive takes.
        takes: Millis,
        /// How long it usually takes, without standing before bridges or in weigh stations and without incidents. Of a drive out
        /// or home: nothing, as the load's [`LoadPlan`] says it.
        usual: Millis,
        /// What holds it up on the road. Of a trip round a weigh station: what else would have held it up on its quickest way. Nothing
        /// of a load that is redirected.
        delays: Delays,
        /// How much of it the truck stands broken down.
        broken: Millis,
        /// How much of it the truck is held at a weigh station, found heavy.
        held: Millis,
        /// How much longer the way round a weigh station takes, as [`Event::Drove`] tells it; nothing on the quickest way.
        round: Millis,
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
        /// That it went round a weigh station, and how much longer this took than the quickest way would have taken with the same
        /// luck, the minutes in the station left out; below zero if that way was held up otherwise.
        round: Option<Millis>,
        /// Whether with or after a load (not a reposition or a retrieval).
        for_load: bool,
        /// Until when driving was legal, and by which clock.
        limit: Drivable,
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
        /// How late it comes; none where that is not judged: of endless orders, and once it has been counted as undelivered.
        lateness: Option<Lateness>,
        /// Whether it has to wait outside the site for room.
        outside: bool,
    },
    /// A load that is judged by its lateness is taken by its site, which is known when its discharge begins: it counts, as late as
    /// it came. A load that is turned away has not come, and one that does not come in time is told as [`Event::Undelivered`]; of
    /// every load that is judged one of the two is told, once.
    Taken {
        /// The load's order.
        order: OrderId,
        /// Its number in the order, from 0.
        number: u32,
        /// The truck.
        truck: TruckId,
        /// When it came on site.
        came: Millis,
        /// How late that was.
        lateness: Lateness,
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
        /// When the site was set up for the order's first load.
        opened: Millis,
        /// The order's last hold, from and until; empty without one.
        hold: (Millis, Millis),
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
        /// Time since its batching began.
        age: Millis,
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
        /// Why.
        cause: StrandCause,
    },
    /// A load was not on site by the end of its order's day: it counts as late, whatever the order tolerates.
    Undelivered {
        /// Its order.
        order: OrderId,
        /// Its volume.
        volume: Volume,
        /// Its number in the order; none if it was never promised.
        number: Option<u32>,
        /// The truck that is promised to it or carries it, if one does.
        carrier: Option<TruckId>,
        /// When it was due.
        due: Millis,
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

impl Event {
    /// The truck that it is about, if it is about one.
    pub fn truck(&self) -> Option<TruckId> {
        match *self {
            Self::Reported { truck, .. }
            | Self::Released { truck, .. }
            | Self::HelperSent { truck, .. }
            | Self::OwnDriverSent { truck, .. }
            | Self::CarDriven { truck, .. }
            | Self::HelperInVain { truck, .. }
            | Self::Foreseen { truck, .. }
            | Self::OutOfHoursFull { truck, .. }
            | Self::Refused { truck, .. }
            | Self::Promised { truck, .. }
            | Self::PromiseBroken { truck, .. }
            | Self::BayJoined { truck, .. }
            | Self::BayQuit { truck, .. }
            | Self::BayEntered { truck, .. }
            | Self::BayLeft { truck, .. }
            | Self::RackEntered { truck, .. }
            | Self::RackLeft { truck, .. }
            | Self::LoadLost { truck, .. }
            | Self::DryUp { truck, .. }
            | Self::Rejected { truck, .. }
            | Self::BrokeDown { truck, .. }
            | Self::BreakdownHeard { truck, .. }
            | Self::GivenUp { truck, .. }
            | Self::BrokenDrum { truck, .. }
            | Self::Repaired { truck, .. }
            | Self::TowedHome { truck, .. }
            | Self::Material { truck, .. }
            | Self::Returned { truck, .. }
            | Self::Emptied { truck, .. }
            | Self::Departed { truck, .. }
            | Self::Drove { truck, .. }
            | Self::SiteReached { truck, .. }
            | Self::Taken { truck, .. }
            | Self::Redirected { truck, .. }
            | Self::PlaceTaken { truck, .. }
            | Self::DischargeBegun { truck, .. }
            | Self::DischargeEnded { truck, .. }
            | Self::SiteLeft { truck, .. }
            | Self::WashedOut { truck, .. }
            | Self::Stranded { truck, .. } => Some(truck),
            Self::Duty { .. }
            | Self::LongDayAllowed { .. }
            | Self::LongDay { .. }
            | Self::ReportedLate { .. }
            | Self::DriverDayLost { .. }
            | Self::Drawn { .. }
            | Self::BalanceCalled { .. }
            | Self::SiteWaits { .. }
            | Self::SiteGoesOn { .. }
            | Self::SitePhones { .. }
            | Self::RestsOut { .. }
            | Self::NotCalled { .. }
            | Self::CalledOff { .. }
            | Self::DayOff { .. }
            | Self::NoShow { .. }
            | Self::TruckOut { .. }
            | Self::StrandedHome { .. }
            | Self::Cancelled { .. }
            | Self::Declined { .. }
            | Self::Moved { .. }
            | Self::PlantDown { .. }
            | Self::PlantUp { .. }
            | Self::Asked { .. }
            | Self::RefusedTogether { .. }
            | Self::Undelivered { .. }
            | Self::LeftOver { .. }
            | Self::KeptOpen { .. }
            | Self::CrewStayed { .. } => None,
        }
    }
}
