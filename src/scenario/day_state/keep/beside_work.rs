//! Calls that are no stage of a load: a break, a breakdown, an empty truck sent off, a promise.

use super::told::words_of;
use super::{Desk, Said, order_state};
use crate::scenario::day_state::numbers::after_all;
use crate::scenario::day_state::{Doing, Drive, DriverState, Pause, Promised, Standstill};
use crate::units::measure::{self, Quantity};
use crate::units::{PlaceId, PlantId, Volume};

impl Desk<'_> {
    /// A break has begun, where the driver stands.
    pub(super) fn pause(&mut self, now: &DriverState, said: &Said) -> Result<(), String> {
        let pause = match now.doing {
            Doing::Free(plant) => Pause::Free(plant),
            Doing::AtRack(load) => Pause::Loaded(load),
            Doing::Washing(order) => Pause::OnSite(order),
            // What was on the truck is placed by then.
            Doing::Discharging(load) => {
                order_state(self.state, load.order).placed += load.volume;
                Pause::OnSite(load.order)
            }
            _ => {
                return Err(format!(
                    "{} is {}: a break begins where the driver is free, at the slump rack, or has unloaded",
                    self.name(),
                    words_of(&now.doing)
                ));
            }
        };
        self.put(DriverState {
            doing: Doing::OnBreak(pause),
            since: self.time,
            until: said.until,
            ..*now
        });
        Ok(())
    }

    /// The truck has broken down on its drive.
    pub(super) fn breaks_down(&mut self, now: &DriverState, said: &Said) -> Result<(), String> {
        let drive = match now.doing {
            Doing::Out(load) => Drive::Out(load),
            Doing::Returning(order) => Drive::Back(order),
            Doing::Repositioning(from, to) => Drive::To(from, to),
            _ => {
                return Err(format!(
                    "{} is {}: a truck breaks down on a drive; call out, back or sent first",
                    self.name(),
                    words_of(&now.doing)
                ));
            }
        };
        let driven = self.driven(now, false);
        self.put(DriverState {
            doing: Doing::BrokenDown(Standstill {
                drive,
                left: now.since,
                drum_turns: None,
            }),
            since: self.time,
            until: said.until,
            ..driven
        });
        Ok(())
    }

    /// The truck drives empty to a plant.
    pub(super) fn sent(&mut self, now: &DriverState, said: &Said) -> Result<(), String> {
        let Doing::Free(from) = now.doing else {
            return Err(format!(
                "{} is {}: only a free truck is sent to another plant",
                self.name(),
                words_of(&now.doing)
            ));
        };
        let to = said.place.ok_or("expected the plant after sent")?;
        if to.at() >= self.scenario.plants.len() {
            return Err("expected a plant, not a site".to_owned());
        }
        self.put(DriverState {
            doing: Doing::Repositioning(PlaceId::new(from.at()), PlantId::new(to.at())),
            since: self.time,
            ..*now
        });
        Ok(())
    }

    /// The load that is promised to the truck: the one that is, or the order's next.
    pub(super) fn promise(&mut self, now: &DriverState, said: &Said) -> Result<Promised, String> {
        let Some(order) = said.order.or(now.next.map(|next| next.order)) else {
            return Err("expected the order whose load is promised".to_owned());
        };
        if let Some(next) = now.next.filter(|next| next.order == order) {
            return Ok(next);
        }
        let asked = &self.scenario.orders[order.at()];
        let truck = &self.scenario.trucks[now.truck.at()];
        let done = self.state.orders.iter().find(|of| of.order == order);
        let ordered = done.and_then(|of| of.ordered).unwrap_or(asked.volume);
        let sent = done.map_or(Volume::ZERO, |of| of.sent);
        let others = self
            .state
            .drivers
            .iter()
            .filter(|of| of.driver != self.driver);
        let promised = others
            .filter_map(|of| of.next)
            .filter(|next| next.order == order);
        let left = ordered - sent - promised.map(|next| next.volume).sum();
        if left <= Volume::ZERO {
            return Err(format!(
                "nothing is left of order {:?}: {} are sent, the rest is promised",
                asked.name,
                measure::plainly(Quantity::Volume, sent.yd3(), 2)
            ));
        }
        let number = after_all(&self.state.orders, &self.state.drivers, order);
        Ok(Promised {
            order,
            number,
            volume: match said.number {
                Some(written) => Volume::from_yd3(Quantity::Volume.heard(written)),
                None => asked.load.min(truck.capacity).min(left),
            },
            plant: self.plant(said, now)?,
        })
    }
}
