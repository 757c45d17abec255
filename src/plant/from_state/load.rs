//! A load that is under way: what is on the truck, and what observers are told of the stages behind it.

use super::super::event::{Event, LoadPlan, Observer};
use super::super::state::{Cargo, Hold, PromisedLoad};
use super::super::world::World;
use crate::scenario::day_state::{Carried, Doing};
use crate::units::{Millis, SpotId, TruckId};

impl<'p> World<'p> {
    /// A load on a truck, with what observers have to know of it.
    pub(super) fn carry<O: Observer>(
        &mut self,
        truck_id: TruckId,
        load: &Carried,
        observer: &mut O,
    ) {
        let order = load.order;
        let plan = &self.plan.orders[order.at()];
        let before = self.volume_before(order, load.number, load.volume);
        let spot = SpotId(plan.spots.start);
        let due = self.due_after(order, before);
        let truck = &mut self.day.trucks[truck_id.at()];
        truck.arrived = self.day.now;
        truck.cargo = Cargo::Load(
            Hold::Promised,
            PromisedLoad {
                order,
                spot,
                plant: load.plant,
                number: load.number,
                attempt: 0,
                volume: load.volume,
                before,
                due,
                ready: due,
                send: self.day.now,
                batched: load.batched,
                ..PromisedLoad::none(&self.day.luck)
            },
        );
        self.day.orders[order.at()].ahead += 1;
        self.day.truck_views[truck_id.at()].place = self.plan.spots[spot.at()].place;
        let now = std::mem::replace(&mut self.day.now, load.batched);
        self.fill_drum(truck_id, &mut ());
        self.leave_loaded(truck_id, &mut ());
        self.day.now = now;
        let lent = self.plan.trucks[truck_id.at()].home != load.plant;
        let promised = Event::Promised {
            order,
            number: load.number,
            truck: truck_id,
            plant: load.plant,
            lent,
            volume: load.volume,
            due,
            plan: LoadPlan::default(),
        };
        self.tell(observer, promised);
        self.tell(
            observer,
            Event::BayJoined {
                truck: truck_id,
                plant: load.plant,
            },
        );
        self.tell(
            observer,
            Event::BayEntered {
                truck: truck_id,
                plant: load.plant,
                waited: Millis::ZERO,
            },
        );
    }

    /// Tells what has been gone through after loading, up to the stage that a truck is in.
    pub(super) fn tell_gone_through<O: Observer>(
        &self,
        truck: TruckId,
        doing: &Doing,
        observer: &mut O,
    ) {
        let Some(load) = self.day.trucks[truck.at()].promised() else {
            return;
        };
        let (plant, spot, order) = (load.plant, load.spot, load.order);
        let (took, waited) = (Millis::ZERO, Millis::ZERO);
        let left_bay = Event::BayLeft {
            truck,
            order,
            plant,
            took,
            loading: Millis::ZERO,
            volume: load.volume,
        };
        let on_site = Event::SiteReached {
            order,
            spot,
            number: load.number,
            truck,
            due: load.due,
            ready: load.ready,
            lateness: None,
            outside: false,
        };
        let stages = [
            left_bay,
            Event::RackEntered {
                truck,
                plant,
                waited,
            },
            Event::RackLeft { truck, plant, took },
            on_site,
            Event::PlaceTaken {
                spot,
                truck,
                waited,
                opened: Millis::ZERO,
                hold: (Millis::ZERO, Millis::ZERO),
            },
            Event::DischargeBegun { order, spot, truck },
        ];
        let gone_through = match doing {
            Doing::AtRack(_) => 2,
            Doing::Out(_) => 3,
            Doing::OnSite(_) => 4,
            Doing::Discharging(_) => 6,
            Doing::OnBreak(_) => 2,
            Doing::BrokenDown(_) => 3,
            _ => 0,
        };
        for event in &stages[..gone_through] {
            self.tell(observer, *event);
        }
    }
}
