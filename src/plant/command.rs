//! What must happen later: the content of the calendar. Private to the world.

use crate::engine::Class;
use crate::units::{DriverId, OrderId, PlantId, TruckId};

/// A command in the calendar; eight bytes, since the calendar moves them about.
#[derive(Clone, Copy, Debug)]
pub(super) enum Command {
    /// Loading is done: the truck leaves the bay.
    LeaveBay(TruckId),
    /// The truck stands in the bay: it asks for the batcher.
    InBay(TruckId),
    /// Check and rinse are done.
    LeaveRack(TruckId),
    /// The truck stands at an outlet.
    Positioned(TruckId),
    /// Water or HRWR is mixed in on site: the load is looked at again.
    Turned(TruckId),
    /// The load is discharged.
    Discharged(TruckId),
    /// The chute is washed: the truck leaves the site.
    LeaveSite(TruckId),
    /// Pre-trip checks are done: the driver can take a load.
    PreTripDone(TruckId),
    /// Washout and post-trip are done: the driver is released.
    Release(TruckId),
    /// A truck has got rid of a load that nobody takes.
    Emptied(TruckId),
    /// A helper is with a stranded truck and drives it home.
    Fetched(TruckId),
    /// A helper may set out for a stranded truck: the rush is over, or somebody comes on call.
    SetOut(TruckId),
    /// A helper has brought a stranded driver home; the truck stays.
    DriverHome(TruckId),
    /// A driver has been driven out to a truck that was left.
    AtTruck(TruckId),
    /// A driver's break is long enough.
    BreakOver(TruckId),
    /// A stranded driver has rested and may drive on.
    Rested(TruckId),
    /// A truck stops on its drive, broken down.
    BreaksDown(TruckId),
    /// The desk hears that a truck has broken down, or looks at its load again.
    Heard(TruckId),
    /// A truck that has broken down is repaired.
    Repaired(TruckId),
    /// A truck in whose drum a load has set is home, with its driver.
    TowedHome(TruckId),

    /// The loaded truck comes on site.
    ArriveSite(TruckId),
    /// The empty truck comes to the plant (or the parking) that it was heading for.
    ArrivePlace(TruckId),
    /// A promised truck's send time has come.
    Send(TruckId),

    /// A driver's planned report time, which of its reports in the period.
    Report(DriverId, u16),
    /// An order is called in, and the desk decides on it.
    Decide(OrderId),
    /// The drivers of a day are called.
    CallIn(u16),
    /// The day begins for which drivers were called: those without work are called off.
    CallOff(u16),
    /// A plant opens.
    Open(PlantId),
    /// The posted hours of a plant, or an hour for which it is kept open, are over.
    Closing(PlantId),
    /// A plant stands still; whether that was planned, and which of its outages it is.
    Down(PlantId, bool),
    /// A plant works again after an outage; whether that was planned.
    Up(PlantId, bool),
    /// The next load of a stream arrives.
    Arrival(OrderId),

    /// A truck that stands idle away from home must start for home, or its driver's hours do not allow the way any more.
    HomeWhileLegal(TruckId),
    /// A truck on its way back comes near enough to be promised.
    Near(TruckId),
    /// An order's next load asks for a truck.
    Ask(OrderId),
    /// Further plants may serve an order's waiting load.
    LookAgain(OrderId),
    /// A site is set up for its first load, goes on after a hold, or is to take its first load and says that it cannot.
    SiteReady(OrderId),
    /// A site telephones that it is ready later.
    SitePhones(OrderId),
    /// The customer of an order cancels it, or does not call it in.
    Cancel(OrderId),
    /// A driver's planned tour is over.
    ShiftOver(DriverId),
    /// A plant has closed: nobody is held in reserve any more.
    HoldOver(PlantId),
    /// The day of an order is over.
    DayOver(OrderId),
    /// The period is over: nothing is sent any more.
    PeriodOver,
}

/// Ties at one moment: finish before arrive before report before ask.
pub(super) const FINISH: Class = Class(0);
pub(super) const ARRIVE: Class = Class(1);
pub(super) const REPORT: Class = Class(2);
pub(super) const ASK: Class = Class(3);

impl Command {
    /// The class that breaks ties at one moment.
    #[inline]
    pub(super) fn class(self) -> Class {
        match self {
            Self::LeaveBay(_)
            | Self::InBay(_)
            | Self::LeaveRack(_)
            | Self::Positioned(_)
            | Self::Turned(_)
            | Self::Discharged(_)
            | Self::LeaveSite(_)
            | Self::PreTripDone(_)
            | Self::Release(_)
            | Self::Emptied(_)
            | Self::Fetched(_)
            | Self::Rested(_)
            | Self::BreaksDown(_)
            | Self::Heard(_)
            | Self::Repaired(_)
            | Self::TowedHome(_)
            | Self::SetOut(_)
            | Self::DriverHome(_)
            | Self::AtTruck(_)
            | Self::BreakOver(_)
            | Self::SiteReady(_)
            | Self::SitePhones(_)
            | Self::Cancel(_) => FINISH,
            Self::ArriveSite(_) | Self::ArrivePlace(_) | Self::Send(_) => ARRIVE,
            Self::Report(..)
            | Self::CallIn(_)
            | Self::CallOff(_)
            | Self::Decide(_)
            | Self::Closing(_)
            | Self::Open(_)
            | Self::Arrival(_)
            | Self::Down(..)
            | Self::Up(..) => REPORT,
            Self::HomeWhileLegal(_)
            | Self::Near(_)
            | Self::Ask(_)
            | Self::LookAgain(_)
            | Self::ShiftOver(_)
            | Self::HoldOver(_)
            | Self::DayOver(_)
            | Self::PeriodOver => ASK,
        }
    }
}

const _: () = assert!(size_of::<Command>() == 8);
