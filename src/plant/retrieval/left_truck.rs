//! A truck that was left where its driver was stranded: its next driver is driven out and brings it home.

use super::super::command::Command;
use super::super::event::{Event, Observer};
use super::super::state::Phase;
use super::super::world::World;
use crate::hours::DutyStatus;
use crate::roads::Haul;
use crate::units::TruckId;

impl<'p> World<'p> {
    /// A driver who has reported is driven out to the truck that was left where its driver was stranded.
    pub(in crate::plant) fn go_to_truck<O: Observer>(
        &mut self,
        truck_id: TruckId,
        observer: &mut O,
    ) {
        let u = self.car_luck(truck_id);
        let here = self.day.truck_views[truck_id.at()].place;
        let home = self.home_place(truck_id);
        let out = self.roads().trip(home, here, Haul::Empty, self.day.now, u);
        self.day.trucks[truck_id.at()].phase = Phase::ToTruck;
        self.day.trucks[truck_id.at()].begun = self.day.now;
        self.truck_duty(truck_id, DutyStatus::Riding, observer);
        let driven = Event::CarDriven {
            truck: truck_id,
            takes: out + out,
        };
        self.tell(observer, driven);
        self.schedule(self.day.now + out, Command::AtTruck(truck_id));
    }

    /// At the truck: it is driven home.
    pub(in crate::plant) fn at_truck<O: Observer>(&mut self, truck_id: TruckId, observer: &mut O) {
        self.truck_duty(truck_id, DutyStatus::OnDuty, observer);
        let here = self.day.truck_views[truck_id.at()].place;
        let home = self.home_place(truck_id);
        if self.may_drive(truck_id, here, home) {
            self.move_empty(truck_id, home, Phase::BroughtBack);
        } else {
            self.strand(truck_id, observer);
        }
    }
}
