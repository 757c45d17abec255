//! The ideal timeline of an order: when each load could be taken if every earlier one had come when it was ready. The same
//! under every rule, since only the site's own luck goes in.

use super::world::{LOAD, World, lane};
use crate::units::{Millis, OrderId, Volume};

impl World<'_> {
    /// When a load could be taken that has this volume of its order before it. Asked for in increasing order of `before`,
    /// or again for the same.
    pub(super) fn ready(&mut self, id: OrderId, before: Volume) -> Millis {
        let plan = &self.plan.orders[id.at()];
        if plan.endless {
            return self.now;
        }
        let load = before.0 / plan.load.0;
        while self.orders[id.at()].ideal_done < load {
            self.pass_ideal_load(id);
        }
        plan.due(before)
            .max(self.orders[id.at()].opens)
            .max(self.ideal_places[self.earliest_ideal_place(id)])
    }

    /// Takes the next load of the ideal timeline through its stay.
    fn pass_ideal_load(&mut self, id: OrderId) {
        let plan = &self.plan.orders[id.at()];
        let number = self.orders[id.at()].ideal_done;
        let before = Volume(number * plan.load.0);
        let place = self.earliest_ideal_place(id);
        let ready = plan
            .due(before)
            .max(self.orders[id.at()].opens)
            .max(self.ideal_places[place]);
        let spot_id = plan.spots.start as usize;
        let spot = &self.plan.spots[spot_id];
        let outlet = outlet_of(
            &spot.outlet_places,
            place - self.spots[spot_id].first_place as usize,
        );
        let luck = self.luck.block(LOAD, plan.entity, number as u32, 0);
        let volume = plan.load.min(plan.volume - before);
        let flow = &mut self.outlets[self.spots[spot_id].first_outlet as usize + outlet].ideal_flow;
        let begins = (ready + spot.position.at(volume, luck.uniform(lane::POSITION))).max(*flow);
        let ends = begins + spot.rates[outlet].at(volume, luck.uniform(lane::DISCHARGE));
        *flow = ends;
        self.ideal_places[place] = ends;
        self.orders[id.at()].ideal_done += 1;
    }

    fn earliest_ideal_place(&self, id: OrderId) -> usize {
        let spot = self.plan.orders[id.at()].spots.start as usize;
        let first = self.spots[spot].first_place as usize;
        let places = self.plan.spots[spot].places as usize;
        (first..first + places)
            .min_by_key(|place| self.ideal_places[*place])
            .expect("every spot has a place")
    }
}

/// The outlet that the `place`-th place of a spot belongs to.
fn outlet_of(outlet_places: &[u32], mut place: usize) -> usize {
    for (outlet, places) in outlet_places.iter().enumerate() {
        match place.checked_sub(*places as usize) {
            None => return outlet,
            Some(rest) => place = rest,
        }
    }
    unreachable!("a place belongs to one of its spot's outlets")
}
