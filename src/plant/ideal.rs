//! The ideal timeline of an order: when each load could be taken if every earlier one had come when it was ready. The same
//! under every rule, since only the site's own luck goes in.

use super::changes::paced;
use super::world::{World, lane};
use crate::units::{Millis, OrderId, Purpose, Volume};
use std::ops::Range;

impl World<'_> {
    /// When a load could be taken that has this volume of its order before it. Asked for in increasing order of `before`,
    /// or again for the same.
    #[inline]
    pub(super) fn ready(&mut self, id: OrderId, before: Volume) -> Millis {
        if self.plan.orders[id.at()].endless {
            self.day.now
        } else {
            self.ready_ideally(id, before)
        }
    }

    fn ready_ideally(&mut self, id: OrderId, before: Volume) -> Millis {
        let plan = &self.plan.orders[id.at()];
        let load = before.0 / plan.load.0;
        while self.day.orders[id.at()].ideal_done < load {
            self.pass_ideal_load(id);
        }
        self.due_after(id, before)
            .max(self.ideal_opening(id, before))
            .max(self.ideal_place_free(id))
    }

    /// From when the site takes a load with this volume before it: set up, and after its hold.
    fn ideal_opening(&self, id: OrderId, before: Volume) -> Millis {
        let order = &self.day.orders[id.at()];
        match order.ideal_hold {
            Some((from, until)) if before >= from => order.opens.max(until),
            _ => order.opens,
        }
    }

    /// Takes the next load of the ideal timeline through its stay.
    fn pass_ideal_load(&mut self, id: OrderId) {
        let plan = &self.plan.orders[id.at()];
        let number = self.day.orders[id.at()].ideal_done;
        let before = Volume(number * plan.load.0);
        let ready = self
            .due_after(id, before)
            .max(self.ideal_opening(id, before))
            .max(self.ideal_place_free(id));
        let spot_id = plan.spots.start as usize;
        let spot = &self.plan.spots[spot_id];
        let (outlet, place) = self.ideal_place_at(id, ready);
        let known = number < i64::from(self.day.orders[id.at()].known_loads);
        let luck = if known { self.day.past } else { self.day.luck };
        let luck = luck.block(Purpose::Load, plan.entity, number as u32, 0);
        let volume = plan.load.min(self.day.orders[id.at()].volume - before);
        let flow = &mut self.day.outlets[self.day.spots[spot_id].first_outlet as usize + outlet]
            .ideal_flow;
        let begins = (ready + spot.position.at(volume, luck.uniform(lane::POSITION))).max(*flow);
        let took = spot.rates[outlet].at(volume, luck.uniform(lane::DISCHARGE));
        let ends = begins + paced(took, self.day.orders[id.at()].pace);
        *flow = ends;
        self.day.ideal_places[place] = ends;
        let order = &mut self.day.orders[id.at()];
        order.ideal_done += 1;
        if let (Some((from, length)), None) = (order.hold_drawn, order.ideal_hold)
            && before + volume >= from
        {
            order.ideal_hold = Some((from, ends + length));
        }
    }

    /// The places of an order's spot, outlet by outlet: positions in the list of when each is free.
    pub(super) fn ideal_places_of(&self, id: OrderId) -> Range<usize> {
        let spot = self.plan.orders[id.at()].spots.start as usize;
        let first = self.day.spots[spot].first_place as usize;
        first..first + self.plan.spots[spot].places as usize
    }

    /// When the first place is free.
    fn ideal_place_free(&self, id: OrderId) -> Millis {
        let places = &self.day.ideal_places[self.ideal_places_of(id)];
        *places.iter().min().expect("every spot has a place")
    }

    /// The outlet and the place that a load takes at this moment, at which one is free. As on site: the outlet with a free
    /// place and the fewest trucks; among equals the first.
    fn ideal_place_at(&self, id: OrderId, at: Millis) -> (usize, usize) {
        let spot = &self.plan.spots[self.plan.orders[id.at()].spots.start as usize];
        let mut first = self.ideal_places_of(id).start;
        let mut best: Option<(usize, (usize, usize))> = None;
        for (outlet, places) in spot.outlet_places.iter().enumerate() {
            let of_outlet = first..first + *places as usize;
            first = of_outlet.end;
            let taken = |place: &usize| self.day.ideal_places[*place] > at;
            let occupied = of_outlet.clone().filter(taken).count();
            if let Some(place) = of_outlet.clone().find(|place| !taken(place))
                && best.is_none_or(|(fewest, _)| occupied < fewest)
            {
                best = Some((occupied, (outlet, place)));
            }
        }
        best.expect("a place is free at the ready time").1
    }
}
