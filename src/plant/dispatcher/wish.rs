//! What an order's next load asks with, and when it asks.

use super::super::known_leads::{KnownLeads, LeadsOf};
use super::super::world::World;
use crate::dispatch::{
    Ask, Lead, Leads, LoadSize, Pace, PlantView, Plants, Send, last_call, lead, rank, target,
    unasked_leads,
};
use crate::roads::Believed;
use crate::units::{Millis, OrderId, PlantId, SpotId, Volume};
use std::cell::Cell;

/// What an order's next load asks with.
#[derive(Clone, Copy)]
pub(in crate::plant) struct Wish {
    pub(in crate::plant) volume: Volume,
    pub(in crate::plant) before: Volume,
    pub(in crate::plant) due: Millis,
    pub(in crate::plant) again: bool,
}

impl World<'_> {
    /// What the next load of an order asks with; none if nothing is left to ask for.
    #[inline]
    pub(in crate::plant) fn wish(&self, id: OrderId) -> Option<Wish> {
        let order = &self.day.orders[id.at()];
        let plan = &self.plan.orders[id.at()];
        if order.closed || self.day.period_over {
            return None;
        }
        if let Some(again) = order.again.first() {
            return Some(Wish {
                volume: again.volume,
                before: again.before,
                due: again.due,
                again: true,
            });
        }
        if plan.arrivals.is_some() && order.arrived.is_empty() {
            return None;
        }
        let open = order.volume - order.promised;
        if open <= Volume::ZERO {
            return None;
        }
        let size = match self.day.policy.load_size {
            LoadSize::Equal if !plan.endless => {
                let loads = order.booked.loads_of(plan.load);
                order.booked.in_loads(loads)
            }
            _ => plan.load,
        };
        let due = self.due(id);
        Some(Wish {
            volume: size.min(open),
            before: order.promised,
            due,
            again: false,
        })
    }

    /// When the next new load of an order is due.
    #[inline]
    fn due(&self, id: OrderId) -> Millis {
        let order = &self.day.orders[id.at()];
        let plan = &self.plan.orders[id.at()];
        match order.arrived.front() {
            Some(arrived) => *arrived,
            None if plan.endless => self.day.now,
            None => self.due_after(id, order.promised),
        }
    }

    /// When a load is due that has this volume of its order before it.
    #[inline]
    pub(in crate::plant) fn due_after(&self, id: OrderId, before: Volume) -> Millis {
        self.plan.orders[id.at()].due(before) + self.day.orders[id.at()].moved
    }

    /// The ask of a wish, for the destination whose turn it is.
    #[inline(always)]
    pub(super) fn ask_of(&self, id: OrderId, spot: SpotId, wish: &Wish) -> Ask<'_> {
        let plan = &self.plan.orders[id.at()];
        let spot_plan = &self.plan.spots[spot.at()];
        let pace = || Pace {
            ahead: self.day.orders[id.at()].ahead,
            outlets: spot_plan.outlet_places.len() as u32,
            opens: self.known_opening(id),
            discharge: spot_plan.discharge.mean(wish.volume),
        };
        let aim = self.aim(id, wish);
        Ask {
            load: None,
            site: spot_plan.place,
            target: match self.day.policy.send {
                Send::AsOrdered => aim,
                send => target(send, self.day.now, aim, &pace()),
            },
            late: plan.late,
            volume: wish.volume,
            lb_per_yd3: plan.lb_per_yd3,
            makers: &plan.makers,
            usual: plan.usual,
            stay: spot_plan.stay(self.day.policy),
            parking: spot_plan.parking,
            retarder: plan.retarder,
            age: plan.age,
            overrides: false,
        }
    }

    /// When a load that is promised to a truck is to be loaded at a plant.
    pub(in crate::plant) fn send_time(
        &self,
        id: OrderId,
        plant: PlantId,
        (volume, before): (Volume, Volume),
    ) -> Millis {
        let wish = Wish {
            volume,
            before,
            due: self.due_after(id, before),
            again: false,
        };
        let ask = self.ask_of(id, SpotId(self.plan.orders[id.at()].spots.start), &wish);
        let view = &self.day.plant_views[plant.at()];
        let lead = lead(self.day.policy, &self.roads(), view, &ask);
        let send = if lead < Millis::NEVER {
            ask.target - lead
        } else {
            self.day.now
        };
        send.max(view.opens)
    }

    /// When the next load of an order asks, by what is known now.
    pub(super) fn ask_time(&mut self, id: OrderId, wish: &Wish) -> Millis {
        if self.plan.orders[id.at()].endless || wish.again {
            return self.day.now;
        }
        let spot = SpotId(self.plan.orders[id.at()].spots.start);
        let mut known = self.known_leads(id, spot, wish);
        let ask = self.ask_of(id, spot, wish);
        let at = self.asks_with(id, &self.leads(&ask, known.cells()));
        self.scratch.leads = known;
        at
    }

    /// The leads of a load, of which so much is known.
    #[inline]
    pub(super) fn leads<'a>(&'a self, ask: &'a Ask<'a>, known: &'a [Cell<Lead>]) -> Leads<'a> {
        Leads {
            policy: self.day.policy,
            roads: self.roads(),
            plants: &self.day.plant_views,
            ask,
            known,
        }
    }

    /// What is known of the leads of a load at the plants that make its mix; to be put back when they have been looked at.
    pub(super) fn known_leads(&mut self, id: OrderId, spot: SpotId, wish: &Wish) -> KnownLeads {
        let mut known = std::mem::take(&mut self.scratch.leads);
        let ask = self.ask_of(id, spot, wish);
        let of = LeadsOf {
            rule: self.day.rule,
            order: id,
            spot,
            target: ask.target,
            volume: ask.volume,
            now: match self.day.policy.belief {
                Believed::Live => self.day.now,
                _ => Millis::ZERO,
            },
        };
        if known.of != Some(of) {
            let (policy, roads) = (self.day.policy, self.roads());
            unasked_leads(
                policy,
                &roads,
                &self.day.plant_views,
                &ask,
                &mut known.leads,
            );
            known.of = Some(of);
        }
        known
    }

    fn asks_with(&self, id: OrderId, leads: &Leads<'_>) -> Millis {
        let (policy, ask, now) = (leads.policy, leads.ask, self.day.now);
        let sent = |lead| ask.target - lead;
        let lead = match policy.plants {
            Plants::Any => {
                let leads = leads.each().map(|(_, lead)| lead);
                leads.filter(|lead| *lead < Millis::NEVER).max()
            }
            Plants::NearestFirst { .. } | Plants::UsualFirst { .. } => {
                let usual = match policy.plants {
                    Plants::UsualFirst { .. } => ask.usual,
                    _ => None,
                };
                let open = |lead: Millis, plant| {
                    lead < Millis::NEVER && self.open_at(plant, now.max(sent(lead)))
                };
                let of_usual = usual.and_then(|usual| {
                    let position = ask.makers.iter().position(|plant| *plant == usual)?;
                    Some(leads.at(position)).filter(|lead| open(*lead, usual))
                });
                of_usual.or_else(|| {
                    let nearest = leads.shortest(open);
                    let nearest = nearest.or_else(|| leads.shortest(|_, _| true));
                    nearest.map(|(lead, _)| lead)
                })
            }
        };
        let first = lead.map(sent);
        let first = if self.any_closed(leads) {
            self.last_call(leads).or(first)
        } else {
            first
        };
        let called = self.plan.orders[id.at()].called;
        first.map_or(now, |send| send.max(called).max(now))
    }

    /// Whether a plant that makes the mix is closed when it would begin to load.
    fn any_closed(&self, leads: &Leads<'_>) -> bool {
        let (now, wait) = (self.day.now, leads.policy.bay_wait);
        let begins = |lead| now.max(leads.ask.target - lead) + wait;
        (leads.ask.makers.iter().enumerate()).any(|(position, plant)| {
            let least = leads.at_least(position);
            // It begins no later than by the shortest that its lead may be.
            if least == Millis::NEVER || self.open_between(*plant, now + wait, begins(least)) {
                return false;
            }
            let lead = leads.at(position);
            lead < Millis::NEVER && !self.open_at(*plant, begins(lead))
        })
    }

    /// When a load asks that no plant would be open for at its send time, if one can load it as it closes.
    fn last_call(&self, leads: &Leads<'_>) -> Option<Millis> {
        last_call(&self.view(&[]), leads, |plant, lead| {
            self.in_its_hours(plant, self.day.now.max(leads.ask.target - lead))
        })
    }

    /// A plant in the hours that hold at a moment, or that were the last before.
    fn in_its_hours(&self, plant: PlantId, at: Millis) -> PlantView {
        let spans = &self.plan.plants[plant.at()].open;
        let hours = spans.iter().rfind(|(open, _)| *open <= at);
        let (opens, closes) = hours.copied().unwrap_or((Millis::NEVER, Millis::NEVER));
        PlantView {
            opens,
            closes: closes.max(self.day.plants[plant.at()].kept_until),
            ..self.day.plant_views[plant.at()]
        }
    }

    /// When the next load of an order asks, as far as is known: one that may still be called in counts as if it will be.
    pub(in crate::plant) fn asks_at(&self, id: OrderId) -> Millis {
        let plan = &self.plan.orders[id.at()];
        if plan.called <= self.day.now {
            return self.day.orders[id.at()].ask_at;
        }
        let lead = self
            .plan
            .nearest(id)
            .map_or(Millis::ZERO, |ahead| ahead.lead);
        plan.called.max(plan.first - lead)
    }

    /// Whether the plant's hours hold from one moment to another.
    fn open_between(&self, plant: PlantId, from: Millis, to: Millis) -> bool {
        let spans = &self.plan.plants[plant.at()].open;
        spans
            .iter()
            .any(|(open, close)| *open <= from && to <= *close)
    }

    /// Whether the plant's hours hold at that moment.
    fn open_at(&self, plant: PlantId, at: Millis) -> bool {
        let spans = &self.plan.plants[plant.at()].open;
        spans
            .iter()
            .any(|(open, close)| *open <= at && at <= *close)
            || self.day.now <= at && at <= self.day.plants[plant.at()].kept_until
    }

    /// Whether anything of an order is left to ask for.
    pub(in crate::plant) fn asks_for_more(&self, id: OrderId) -> bool {
        self.wish(id).is_some()
    }

    /// What an order's next load asks with, and when it is due.
    pub(in crate::plant) fn next_wish(&self, id: OrderId) -> Option<(Volume, Millis)> {
        self.wish(id).map(|wish| (wish.volume, wish.due))
    }

    pub(in crate::plant) fn rank_of(&self, id: OrderId) -> (i64, i64) {
        let order = &self.day.orders[id.at()];
        let (due, again) = match order.again.first() {
            Some(again) => (again.due, true),
            None => (self.due(id), false),
        };
        rank(
            self.day.policy.sequence,
            due,
            order.booked,
            order.begun,
            again,
        )
    }
}
