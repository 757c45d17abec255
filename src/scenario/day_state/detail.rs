//! What goes with what a driver does: where, with which load, promised to which, until when.

use super::numbers::NO_NUMBER;
use super::read::{Reader, once};
use super::{Carried, Doing, Drive, OrderState, Pause, Promised, Standstill};
use crate::scenario::decode::{Fields, Limits, Spanned, flag, number, spanned, whole};
use crate::scenario::problem::{Problem, Problems, listed, visible};
use crate::scenario::tree::Span;
use crate::units::{Millis, OrderId, PlaceId, PlantId, TruckId, Volume};

/// What `doing` may be, without what belongs to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Word {
    Off,
    CheckingTruck,
    Free,
    WaitingToLoad,
    Loading,
    AtRack,
    DrivingLoaded,
    WaitingOnSite,
    Unloading,
    WashingChute,
    DrivingBack,
    DrivingEmpty,
    OnBreak,
    BrokenDown,
    OutOfHours,
    GoingHome,
    WashingOut,
}

pub(super) const WORDS: [(&str, Word); 17] = [
    ("Off", Word::Off),
    ("CheckingTruck", Word::CheckingTruck),
    ("Free", Word::Free),
    ("WaitingToLoad", Word::WaitingToLoad),
    ("Loading", Word::Loading),
    ("AtRack", Word::AtRack),
    ("DrivingLoaded", Word::DrivingLoaded),
    ("WaitingOnSite", Word::WaitingOnSite),
    ("Unloading", Word::Unloading),
    ("WashingChute", Word::WashingChute),
    ("DrivingBack", Word::DrivingBack),
    ("DrivingEmpty", Word::DrivingEmpty),
    ("OnBreak", Word::OnBreak),
    ("BrokenDown", Word::BrokenDown),
    ("OutOfHours", Word::OutOfHours),
    ("GoingHome", Word::GoingHome),
    ("WashingOut", Word::WashingOut),
];

impl Word {
    /// Whether the driver is at the wheel; standing beside the road is part of a drive.
    pub(super) fn drives(self) -> bool {
        matches!(
            self,
            Self::DrivingLoaded
                | Self::DrivingBack
                | Self::DrivingEmpty
                | Self::BrokenDown
                | Self::GoingHome
        )
    }
}

/// What has been read of a driver before the detail.
pub(super) struct Standing {
    pub(super) word: Word,
    /// With which truck; none if that is not known.
    pub(super) truck: Option<TruckId>,
    /// Whether it is the driver's own.
    pub(super) own: bool,
    pub(super) since: Option<Option<Millis>>,
    pub(super) reported: Option<Option<Millis>>,
}

/// What is done, until when, and which load comes next.
pub(super) type Detail = (Doing, Option<Millis>, Option<Promised>);

impl Reader<'_> {
    /// What goes with what a driver does.
    pub(super) fn detail(
        &mut self,
        of: &Standing,
        fields: &mut Fields<'_>,
        orders: &[OrderState],
        problems: &Problems,
    ) -> Option<Detail> {
        let mut until = Some(None);
        let doing = match of.word {
            Word::Off => Some(Doing::Off),
            Word::CheckingTruck => Some(Doing::Checking),
            Word::WashingOut => Some(Doing::WashingOut),
            Word::Free => self.plant_in(fields, "at").map(Doing::Free),
            Word::WaitingToLoad => {
                let next = self.promised(of, fields, ["order", "load", "yd3", "plant"], problems);
                let next = next??;
                return Some((Doing::Queueing(next.plant), None, Some(next)));
            }
            Word::Loading => self.load(of, fields, orders, problems).map(Doing::Loading),
            Word::AtRack => self.load(of, fields, orders, problems).map(Doing::AtRack),
            Word::DrivingLoaded => self.load(of, fields, orders, problems).map(Doing::Out),
            Word::WaitingOnSite => self.load(of, fields, orders, problems).map(Doing::OnSite),
            Word::Unloading => {
                let load = self.load(of, fields, orders, problems);
                load.map(Doing::Discharging)
            }
            Word::WashingChute => self.order_in(fields).map(Doing::Washing),
            Word::DrivingBack => self.order_in(fields).map(Doing::Returning),
            Word::DrivingEmpty => {
                let from = self.left_from(of, fields);
                let to = self.plant_in(fields, "to");
                to.and_then(|to| Some(Doing::Repositioning(from?, to)))
            }
            Word::GoingHome => self.left_from(of, fields).map(Doing::GoingHome),
            Word::OnBreak => {
                until = self.to_come(fields, "until");
                self.pause(of, fields, orders, problems).map(Doing::OnBreak)
            }
            Word::BrokenDown => {
                until = self.to_come(fields, "until");
                let standstill = self.standstill(of, fields, orders, problems);
                standstill.map(Doing::BrokenDown)
            }
            Word::OutOfHours => {
                let rests = fields.optional("resting", flag, false);
                let at = self.place_in(fields, "at");
                at.map(|at| match rests {
                    true => Doing::Resting(at),
                    false => Doing::Stranded(at),
                })
            }
        };
        let may_be_promised = match of.word {
            Word::Free | Word::DrivingBack | Word::DrivingEmpty => true,
            Word::BrokenDown => !matches!(
                doing,
                Some(Doing::BrokenDown(Standstill {
                    drive: Drive::Out(_),
                    ..
                }))
            ),
            _ => false,
        };
        let next = match may_be_promised {
            true => {
                let keys = ["next_order", "next_load", "next_yd3", "next_plant"];
                self.promised(of, fields, keys, problems)
            }
            false => Some(None),
        };
        Some((doing?, until?, next?))
    }

    fn plant_in(&self, fields: &mut Fields<'_>, field: &'static str) -> Option<PlantId> {
        let plants = self.scenario.plants.iter().map(|plant| plant.name.as_str());
        let found = fields.required(field, self.find("plant", plants));
        found.map(|(at, _)| PlantId::new(at))
    }

    fn place_in(&self, fields: &mut Fields<'_>, field: &'static str) -> Option<PlaceId> {
        let plants = self.scenario.plants.iter().map(|plant| plant.name.as_str());
        let sites = self.scenario.sites.iter().map(|site| site.name.as_str());
        let found = fields.required(field, self.find("place", plants.chain(sites)));
        found.map(|(at, _)| PlaceId::new(at))
    }

    fn order_in(&self, fields: &mut Fields<'_>) -> Option<OrderId> {
        let orders = self.scenario.orders.iter().map(|order| order.name.as_str());
        let found = fields.required("order", self.find("order", orders));
        found.map(|(at, _)| OrderId::new(at))
    }

    /// Where an empty drive began: at the home plant if that is not written.
    fn left_from(&self, of: &Standing, fields: &mut Fields<'_>) -> Option<PlaceId> {
        if fields.node("from").is_some() {
            return self.place_in(fields, "from");
        }
        let home = of.truck.map(|truck| self.scenario.trucks[truck.at()].home);
        Some(PlaceId::new(home?.at()))
    }

    fn pause(
        &mut self,
        of: &Standing,
        fields: &mut Fields<'_>,
        orders: &[OrderState],
        problems: &Problems,
    ) -> Option<Pause> {
        if fields.node("load").is_some() || fields.node("batched").is_some() {
            return self.load(of, fields, orders, problems).map(Pause::Loaded);
        }
        if fields.node("order").is_some() {
            return self.order_in(fields).map(Pause::OnSite);
        }
        self.plant_in(fields, "at").map(Pause::Free)
    }

    fn standstill(
        &mut self,
        of: &Standing,
        fields: &mut Fields<'_>,
        orders: &[OrderState],
        problems: &Problems,
    ) -> Option<Standstill> {
        let left = self.past(fields, "left");
        let stopped = of.since.flatten().unwrap_or(self.at);
        if let (Some(Some(left)), Some(place)) = (left, fields.place("left"))
            && left > stopped
        {
            problems.add::<()>(
                Problem::new(place, "this drive began after the truck broke down on it")
                    .label("expected a time before `since`"),
            );
        }
        let mut drum_turns = None;
        let drive = if fields.node("load").is_some() || fields.node("batched").is_some() {
            drum_turns = fields.maybe("drum_turns", flag);
            self.load(of, fields, orders, problems).map(Drive::Out)
        } else if fields.node("to").is_some() {
            let from = self.left_from(of, fields);
            let to = self.plant_in(fields, "to");
            to.and_then(|to| Some(Drive::To(from?, to)))
        } else {
            self.order_in(fields).map(Drive::Back)
        };
        let drive = drive?;
        // Unless it is written: off the plant after the means; of an empty drive all is taken to be ahead.
        let usual = match &drive {
            Drive::Out(load) => {
                let plant = &self.scenario.plants[load.plant.at()];
                let rack = Millis::from_minutes(plant.rack.mean());
                (load.batched + plant.mean_loading().mean(load.volume) + rack).min(stopped)
            }
            Drive::Back(_) | Drive::To(..) => stopped,
        };
        Some(Standstill {
            drive,
            left: left?.unwrap_or(usual),
            drum_turns,
        })
    }

    /// The load that a truck is promised to, by these fields; none if there is none.
    fn promised(
        &mut self,
        of: &Standing,
        fields: &mut Fields<'_>,
        [order, load, yd3, plant]: [&'static str; 4],
        problems: &Problems,
    ) -> Option<Option<Promised>> {
        let scenario = self.scenario;
        let names = scenario.orders.iter().map(|order| order.name.as_str());
        let found = match order {
            "order" => fields.required(order, self.find("order", names)).map(Some),
            _ => fields.if_any(order, self.find("order", names)),
        };
        let number_of = spanned(whole(Limits::between("number of a load", 1.0, 100_000.0)));
        let number_of = fields.maybe(load, number_of);
        let volume = fields.maybe(yd3, number(Limits::above("yd³", 0.0, 20.0)));
        let plants = scenario.plants.iter().map(|plant| plant.name.as_str());
        let plant_of = fields.maybe(plant, self.find("plant", plants));
        let Some(Some((at, span))) = found else {
            let lonely = [load, yd3, plant]
                .into_iter()
                .find_map(|key| fields.place(key));
            if let (Some(None), Some(place)) = (&found, lonely) {
                problems.add::<()>(
                    Problem::new(place, "of which order this load is, is not known")
                        .label("expected `next_order`, too"),
                );
            }
            return found.map(|_| None);
        };
        let id = OrderId::new(at);
        let truck = of.truck.map(|truck| &scenario.trucks[truck.at()]);
        let home = truck.map_or(PlantId(0), |truck| truck.home);
        let asked = &scenario.orders[at];
        let usual = truck.map_or(asked.load, |truck| asked.load.min(truck.capacity));
        let plant = plant_of
            .as_ref()
            .map_or(home, |(plant, _)| PlantId::new(*plant));
        let place = plant_of.map_or(span.clone(), |(_, span)| span);
        self.makes(id, (plant, place), span.clone(), problems);
        let number = number_of.map_or(NO_NUMBER, |number| {
            self.once_loaded(id, &number, problems);
            number.value - 1
        });
        Some(Some(Promised {
            order: id,
            number,
            volume: volume.map_or(usual, Volume::from_yd3),
            plant,
        }))
    }

    fn once_loaded(&mut self, order: OrderId, number: &Spanned<u32>, problems: &Problems) {
        let what = "load of its order";
        once(
            &mut self.loads,
            (order, number.value),
            &number.span,
            what,
            problems,
        );
    }

    /// Whether the plant makes the order's mix.
    fn makes(
        &self,
        order: OrderId,
        (plant, place): (PlantId, Span),
        span: Span,
        problems: &Problems,
    ) {
        let mix = &self.scenario.orders[order.at()].mix;
        if self.scenario.plants[plant.at()].makes(mix) {
            return;
        }
        let title = format!(
            "this plant does not make the order's mix \"{}\"",
            visible(mix, 60)
        );
        let makers = self.scenario.plants.iter().filter(|plant| plant.makes(mix));
        let names = listed(makers.map(|plant| plant.name.as_str()));
        problems.add::<()>(
            Problem::new(place, title)
                .label("expected a plant that makes it")
                .help(format!("the plants that do are {names}"))
                .also(span, "its order"),
        );
    }

    /// The load on a truck. A table need not say its number, volume and plant.
    fn load(
        &mut self,
        of: &Standing,
        fields: &mut Fields<'_>,
        orders: &[OrderState],
        problems: &Problems,
    ) -> Option<Carried> {
        let scenario = self.scenario;
        let names = scenario.orders.iter().map(|order| order.name.as_str());
        let order = fields.required("order", self.find("order", names));
        let number_of = spanned(whole(Limits::between("number of a load", 1.0, 100_000.0)));
        let yards = number(Limits::above("yd³", 0.0, 20.0));
        let plants = scenario.plants.iter().map(|plant| plant.name.as_str());
        let plant_of = self.find("plant", plants);
        let (load, yd3, plant) = match (self.is_table, &order) {
            (true, Some((at, span))) => {
                let home = of
                    .truck
                    .map_or(PlantId(0), |truck| scenario.trucks[truck.at()].home);
                let unsaid = Spanned {
                    value: NO_NUMBER,
                    span: span.clone(),
                };
                (
                    Some(fields.optional("load", number_of, unsaid)),
                    Some(fields.optional("yd3", yards, scenario.orders[*at].load.yd3())),
                    Some(fields.optional("plant", plant_of, (home.at(), span.clone()))),
                )
            }
            _ => (
                fields.required("load", number_of),
                fields.required("yd3", yards),
                fields.required("plant", plant_of),
            ),
        };
        let batched = self.past(fields, "batched");
        if let (Some(Some(batched)), Some(Some(since))) = (batched, of.since)
            && let Some(place) = fields.place("since")
            && since < batched
            && of.word != Word::Loading
        {
            problems.add::<()>(
                Problem::new(place, "this began before the load was batched")
                    .label("expected a time after `batched`"),
            );
        }
        // A load in a truck that is not one's own may have been taken over.
        if let (Some(Some(batched)), Some(Some(reported))) = (batched, of.reported)
            && let Some(place) = fields.place("batched")
            && batched < reported
            && of.own
        {
            problems.add::<()>(
                Problem::new(place, "this load was batched before its driver reported")
                    .label("expected a time after `reported`"),
            );
        }
        let (order, span) = order?;
        let (load, yd3, (plant, plant_span), batched) = (load?, yd3?, plant?, batched?);
        let id = OrderId::new(order);
        if load.value != NO_NUMBER {
            self.once_loaded(id, &load, problems);
        }
        self.makes(
            id,
            (PlantId::new(plant), plant_span),
            span.clone(),
            problems,
        );
        let sent = orders.iter().find(|state| state.order == id);
        if !self.is_table && sent.is_none_or(|state| load.value > state.loads) {
            problems.add::<()>(
                Problem::new(load.span.clone(), "this load has not been sent by `orders`")
                    .label("expected at most the `loads` of its order")
                    .also(span, "its order"),
            );
        }
        if batched.is_none() && of.word != Word::Loading {
            problems.add::<()>(
                Problem::new(load.span.clone(), "when this load was batched is not known")
                    .label("expected `batched`, the time that its ticket shows"),
            );
        }
        Some(Carried {
            order: id,
            number: match load.value {
                NO_NUMBER => NO_NUMBER,
                number => number - 1,
            },
            volume: Volume::from_yd3(yd3),
            plant: PlantId::new(plant),
            batched: batched.unwrap_or(self.at),
        })
    }
}
