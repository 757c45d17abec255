//! Orders with a volume, endless orders, and how their sites take the loads.

mod age;
mod drawn;

use self::age::Aged;

use std::collections::BTreeSet;

use super::super::decode::{
    self, Fields, Limits, Names, call, factors, flag, list, minutes, moment, name, number, one_of,
    spanned, time_of_day, volumes, whole,
};
use super::super::defaults;
use super::super::problem::{Problem, Problems};
use super::super::tree::{Node, Span};
use super::super::{Destination, Endless, Material, Order, Outlet, Period, Routing, StayTimes};
use super::mix_names::Asked;
use super::places::Places;
use super::roads::Roads;
use super::setting::day_of;
use crate::engine::Spread;
use crate::units::{Millis, PlaceId, PlantId, Volume};

const USUAL_MIX: &str = "standard";

/// Reads orders, and keeps which sites they use.
pub(super) struct Book<'a> {
    period: &'a Period,
    places: &'a Places<'a>,
    largest: Option<Volume>,
    names: Names,
    sites: Vec<(PlaceId, Span)>,
    mixes: Asked,
    /// How many orders may be drawn, so far.
    slots: usize,
}

impl<'a> Book<'a> {
    pub(super) fn new(period: &'a Period, places: &'a Places<'a>, largest: Option<Volume>) -> Self {
        Self {
            period,
            places,
            largest,
            names: Names::of("order"),
            sites: Vec::new(),
            mixes: Asked::default(),
            slots: 0,
        }
    }

    /// One order with a volume; see [`Order`] for how it is written.
    pub(super) fn order(&mut self, node: &Node, problems: &Problems) -> Option<Order> {
        let mut fields = Fields::of(node, "order", problems)?;
        let name = self.name(&mut fields, problems);
        let customer = fields.maybe("customer", decode::name);
        let day = fields.optional("day", day_of(self.period), 1);
        let first = fields.required("first", time_of_day);
        let volume = fields.required("volume_yd3", number(Limits::between("yd³", 0.1, 20_000.0)));
        let load = self.load(&mut fields);
        let spacing = spacing(&mut fields, load, problems);
        let mix = self.mix(&mut fields);
        let usual_plant = self.usual_plant(&mut fields, &mix, problems);
        let wait = number(Limits::between("minutes", 0.0, 1_440.0));
        let late = fields.usual(&defaults::LATE_MIN, wait);
        let gap = gap(&mut fields, spacing);
        let setup = fields.usual(&defaults::SETUP_MIN, wait);
        let chance = fields.usual(
            &defaults::CHANCE,
            number(Limits::above("share of periods", 0.0, 1.0)),
        );
        let called = fields.off(&defaults::CALLED, call);
        let outdoor = fields.usual(&defaults::OUTDOOR, flag);
        let pump = fields.usual(&defaults::PUMP, flag);
        let balance_yd3 = fields.maybe("balance_yd3", volumes);
        let aged = Aged::read(&mut fields);
        let finish_by = fields.off(&defaults::FINISH_BY, spanned(moment));
        if let (Some(first), Some(finish)) = (first, &finish_by)
            && finish.value <= first
        {
            problems.add::<()>(
                Problem::new(
                    finish.span.clone(),
                    format!("the pour ends at {} and begins at {first}", finish.value),
                )
                .label(format!(
                    "expected a time after {first}; on the next day with \" +1\""
                )),
            );
        }
        let stay = self.stay(&mut fields, 1.0);
        fields.finish();
        let midnight = Millis::midnight(i64::from(day) - 1);
        let spacing = spacing?;
        Some(Order {
            name: name?,
            customer,
            first: midnight + first?,
            volume: Volume::from_yd3(volume?),
            load,
            spacing,
            mix,
            late: Millis::from_minutes(late),
            gap,
            setup: Millis::from_minutes(setup),
            chance,
            // Midnight stands for the beginning of the period.
            called: called
                .filter(|called| *called != Millis::ZERO)
                .map_or(Millis::ZERO, |called| (midnight + called).max(Millis::ZERO)),
            outdoor,
            pump,
            balance_yd3,
            age: aged.age,
            age_waived: aged.waived,
            stabilizer_per_yd3: aged.stabilizer_per_yd3,
            finish_by: finish_by.map(|finish| midnight + finish.value),
            usual_plant,
            plants: Vec::new(),
            stay: stay?,
            slot: None,
        })
    }

    /// One endless order; see [`Endless`] for how it is written.
    pub(super) fn endless(&mut self, node: &Node, problems: &Problems) -> Option<Endless> {
        let mut fields = Fields::of(node, "endless order", problems)?;
        let name = self.name(&mut fields, problems);
        let load = self.load(&mut fields);
        let mix = self.mix(&mut fields);
        let routing = fields.optional(
            "to",
            one_of("way to choose destinations", &ROUTINGS),
            Routing::RoundRobin,
        );
        let arrivals = fields.maybe("arrivals", interval);
        let destinations = fields.required("destinations", |node, problems| {
            list(1..=1_000, "destination", |node, problems| {
                self.destination(node, problems)
            })(node, problems)
        });
        fields.finish();
        Some(Endless {
            name: name?,
            mix,
            load,
            routing,
            arrivals,
            destinations: destinations?,
        })
    }

    fn destination(&mut self, node: &Node, problems: &Problems) -> Option<Destination> {
        let mut fields = Fields::of(node, "destination", problems)?;
        let share = fields.optional("share", number(Limits::above("share", 0.0, 1e6)), 1.0);
        let stay = self.stay(&mut fields, share);
        fields.finish();
        stay
    }

    fn name(&mut self, fields: &mut Fields<'_>, problems: &Problems) -> Option<String> {
        let name = fields.required("name", spanned(name))?;
        self.names.define(&name, problems);
        Some(name.value)
    }

    /// The size that loads ask with. It may be more than any truck holds: a load is cut when its truck is promised, and what
    /// was cut stays with the order.
    fn load(&self, fields: &mut Fields<'_>) -> Volume {
        let usual = defaults::LOAD.value;
        let usual = self.largest.map_or(usual, |largest| usual.min(largest));
        let written = |node: &Node, problems: &Problems| {
            number(Limits::between("yd³", 0.5, 20.0))(node, problems).map(Volume::from_yd3)
        };
        fields.usual_from(&defaults::LOAD, written, usual)
    }

    fn mix(&mut self, fields: &mut Fields<'_>) -> String {
        match fields.maybe("mix", spanned(name)) {
            Some(mix) => {
                self.mixes.written(&mix);
                mix.value
            }
            None => {
                // One that cannot be read is reported where it is written.
                if fields.place("mix").is_none() {
                    self.mixes.left_out(USUAL_MIX, fields.opening());
                }
                USUAL_MIX.to_owned()
            }
        }
    }

    /// The plant that usually serves an order of this mix.
    pub(super) fn usual_plant(
        &self,
        fields: &mut Fields<'_>,
        mix: &str,
        problems: &Problems,
    ) -> Option<PlantId> {
        let find = |node: &Node, problems: &Problems| self.places.find_plant(node, problems);
        let plant = fields.maybe("plant", spanned(find))?;
        if !self.places.mixes().makes(plant.value.at(), mix) {
            return problems.add(
                Problem::new(plant.span, format!("this plant does not make {mix:?}"))
                    .label("expected a plant that makes the order's mix"),
            );
        }
        Some(plant.value)
    }

    /// Plants and orders must agree about the names of mixes, and every mix asked for must be described where mixes are.
    pub(super) fn check_mixes(&self, material: Option<&Material>, problems: &Problems) {
        self.mixes.check(self.places.mixes(), material, problems);
    }

    /// The fields of a stay, which an order and a destination share.
    fn stay(&mut self, fields: &mut Fields<'_>, share: f64) -> Option<Destination> {
        let site = fields.required("site", |node, problems| {
            let site = self.places.find_site(node, problems)?;
            self.sites.push((site, node.span.clone()));
            Some(site)
        });
        fields.by_hand("outlets", list(1..=20, "outlet", outlet));
        let outlets = match fields.node("outlets") {
            Some(_) => fields.required("outlets", list(1..=20, "outlet", outlet)),
            None => Some(vec![usual_outlet(fields)]),
        };
        let room = whole(Limits::between("trucks", 0.0, 1_000.0));
        let waiting_room = fields.off(&defaults::WAITING_ROOM, room);
        let times = StayTimes {
            position: fields.usual(&defaults::POSITION, minutes),
            discharge: fields.off(&defaults::DISCHARGE, minutes),
            discharge_luck: fields.usual(&defaults::DISCHARGE_LUCK, factors),
            chute_wash: fields.usual(&defaults::CHUTE_WASH, minutes),
        };
        Some(Destination {
            site: site?,
            share,
            outlets: outlets?,
            waiting_room,
            times,
        })
    }

    /// Every plant needs minutes to every site that is used.
    pub(super) fn check_roads(&self, roads: &Roads, problems: &Problems) {
        let mut seen = BTreeSet::new();
        for (site, used) in self.sites.iter().filter(|(site, _)| seen.insert(*site)) {
            for plant in 0..self.places.plants() {
                if let Some(problem) = roads.gap(self.places, plant, *site) {
                    problems.add::<()>(problem.also(used.clone(), "the site is used here"));
                }
            }
        }
    }
}

/// `spacing_min: 15` or `pour_rate_yd3_h: 40`.
fn spacing(fields: &mut Fields<'_>, load: Volume, problems: &Problems) -> Option<Millis> {
    let places = [fields.place("spacing_min"), fields.place("pour_rate_yd3_h")];
    let spacing = fields.maybe(
        "spacing_min",
        number(Limits::between("minutes", 0.0, 1_440.0)),
    );
    let rate = fields.maybe(
        "pour_rate_yd3_h",
        number(Limits::between("yd³ an hour", 0.1, 2_000.0)),
    );
    match places {
        [None, None] => fields.missing_one_of(["spacing_min", "pour_rate_yd3_h"]),
        [Some(spacing), Some(rate)] => problems.add(
            Problem::new(rate, "both a spacing and a pour rate")
                .label("expected one of the two: the other follows from the load size")
                .also(spacing, "the spacing"),
        ),
        _ => spacing
            .map(Millis::from_minutes)
            .or(rate.map(|rate| Millis::from_hours(load.yd3() / rate))),
    }
}

/// The time between two arrivals: a spread of minutes whose mean is not zero, or the calendar would never get past it.
fn interval(node: &Node, problems: &Problems) -> Option<Spread> {
    let spread = minutes(node, problems)?;
    if spread.mean() > 0.0 {
        return Some(spread);
    }
    let problem = Problem::new(node.span.clone(), "no time passes between two arrivals");
    problems.add(problem.label("expected a spread of minutes with a mean above 0"))
}

const ROUTINGS: [(&str, Routing); 2] = [
    ("RoundRobin", Routing::RoundRobin),
    ("Drawn", Routing::Drawn),
];

/// `(rate_yd3_min: 1.0, places?: 1)`
fn outlet(node: &Node, problems: &Problems) -> Option<Outlet> {
    let mut fields = Fields::of(node, "outlet", problems)?;
    let rate = number(Limits::between("yd³ a minute", 0.01, 20.0));
    let rate = fields.needed(&defaults::OUTLET_YD3_MIN, rate);
    let places = fields.usual(
        &defaults::OUTLET_PLACES,
        whole(Limits::between("trucks", 1.0, 10.0)),
    );
    fields.finish();
    Some(Outlet {
        rate_yd3_min: rate?,
        places,
    })
}

/// The one outlet of a site that names none.
fn usual_outlet(fields: &mut Fields<'_>) -> Outlet {
    Outlet {
        rate_yd3_min: fields.unwritten(&defaults::OUTLET_YD3_MIN),
        places: fields.unwritten(&defaults::OUTLET_PLACES),
    }
}

/// The pause that a pour tolerates; left out: the usual one, or the spacing if that is longer.
fn gap(fields: &mut Fields<'_>, spacing: Option<Millis>) -> Millis {
    let usual = defaults::GAP_MIN.value;
    let reckoned = spacing.map_or(usual, |spacing| spacing.minutes().max(usual));
    let wait = number(Limits::between("minutes", 0.0, 1_440.0));
    Millis::from_minutes(fields.usual_from(&defaults::GAP_MIN, wait, reckoned))
}
