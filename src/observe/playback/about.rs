//! Whom and what place an event is about.

use super::Playback;
use crate::plant::Event;
use crate::units::{DriverId, OrderId, PlaceId, TruckId};

impl Playback<'_> {
    pub(super) fn about(
        &self,
        event: &Event,
    ) -> (Option<TruckId>, Option<DriverId>, Option<PlaceId>) {
        let of_truck = |truck: TruckId| {
            (
                Some(truck),
                self.wheel[truck.at()],
                Some(self.place[truck.at()]),
            )
        };
        let of_order = |order: OrderId| {
            let spots = &self.plan.orders[order.at()].spots;
            let one = spots.len() == 1;
            let place = one.then(|| self.plan.spots[spots.start as usize].place);
            (None, None, place)
        };
        match *event {
            Event::Reported { driver, truck }
            | Event::Released { driver, truck, .. }
            | Event::HelperSent { driver, truck, .. }
            | Event::Stranded { driver, truck, .. } => {
                (Some(truck), Some(driver), Some(self.place[truck.at()]))
            }
            Event::DriverDayLost { driver }
            | Event::RestsOut { driver }
            | Event::NotCalled { driver }
            | Event::CalledOff { driver }
            | Event::DayOff { driver, .. }
            | Event::NoShow { driver, .. }
            | Event::Duty { driver, .. }
            | Event::LongDayAllowed { driver }
            | Event::LongDay { driver, .. }
            | Event::ReportedLate { driver, .. }
            | Event::StrandedHome { driver, .. } => (None, Some(driver), None),
            Event::OwnDriverSent { driver, truck, .. } => {
                (Some(truck), Some(driver), Some(self.place[truck.at()]))
            }
            Event::Cancelled { order, .. }
            | Event::Drawn { order, .. }
            | Event::BalanceCalled { order, .. }
            | Event::SiteWaits { order }
            | Event::SiteGoesOn { order }
            | Event::SitePhones { order, .. }
            | Event::Declined { order, .. }
            | Event::Moved { order, .. }
            | Event::Undelivered { order, .. }
            | Event::LeftOver { order, .. }
            | Event::Asked { order } => of_order(order),
            Event::PlantDown { plant }
            | Event::PlantUp { plant }
            | Event::KeptOpen { plant, .. }
            | Event::CrewStayed { plant, .. } => (None, None, Some(self.plant(plant))),
            _ => event.truck().map_or((None, None, None), of_truck),
        }
    }
}
