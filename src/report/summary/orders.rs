//! Orders as a table, with what a table has no room for below it.

use std::collections::BTreeMap;

use super::Page;
use super::words::{clock, counted, day, many, minutes, much, plain_1, share};
use crate::report::answer::{Cell, Column, Table};
use crate::report::number::number;
use crate::scenario::{Destination, DrawnOrders, Endless, Order, Routing, Scenario};
use crate::units::measure::{self, Quantity};
use crate::units::{Millis, Volume};

pub(super) fn orders(scenario: &Scenario, page: &mut Page) {
    if written(scenario).next().is_some() {
        page.table(table(scenario));
        totals(scenario, page);
        particulars(scenario, page);
        customers(scenario, page);
    }
    for drawn in &scenario.drawn {
        page.line(&drawn_orders(scenario, drawn));
    }
    for order in &scenario.endless {
        page.line(&endless(scenario, order));
    }
}

/// `orders.csv`; the customer stands in it where one is named.
fn table(scenario: &Scenario) -> Table {
    let named = written(scenario).any(|order| order.customer.is_some());
    let customer = Column::new("customer").left();
    let mut table = Table::new(
        "orders",
        vec![
            Column::new("order").left().key("order"),
            if named {
                customer.key("customer")
            } else {
                Column::file("customer")
            },
            Column::new("day").left().key("day"),
            Column::new("first load").left().key("first"),
            Column::new(Quantity::Volume.unit()).key("yd3"),
            Column::new("loads").key("loads"),
            Column::new("min apart").key("spacing_min"),
            Column::new("site").left().key("site"),
            Column::new("mix").left().key("mix"),
            Column::new(measure::said("pour rate, yd³/min (truck positions)"))
                .brief("pour rate")
                .left()
                .key("pour_rate"),
        ],
    );
    for order in written(scenario) {
        let number = |words: String, value: f64| Cell::worded(words, Some(value));
        let spacing = order.spacing.minutes();
        table.row([
            order.name.as_str().into(),
            order.customer.as_deref().map_or(Cell::Blank, Cell::from),
            short_day(order, scenario).into(),
            time_of_day(order.first, order).into(),
            number(
                many(Quantity::Volume, order.volume.yd3()),
                measure::rounded(Quantity::Volume, order.volume.yd3(), 6),
            ),
            Cell::count(loads(order)),
            number(plain_1(spacing), spacing),
            scenario.place_name(order.stay.site).into(),
            order.mix.as_str().into(),
            outlets(&order.stay).into(),
        ]);
    }
    table
}

/// The orders that are written one by one.
fn written(scenario: &Scenario) -> impl Iterator<Item = &Order> {
    scenario.orders.iter().filter(|order| order.slot.is_none())
}

/// What a list of drawn orders brings.
fn drawn_orders(scenario: &Scenario, drawn: &DrawnOrders) -> String {
    let group = scenario
        .drawn
        .iter()
        .position(|other| other.name == drawn.name);
    let of_list = |order: &&Order| order.slot.map(|slot| slot.group) == group;
    let slots = scenario.orders.iter().filter(of_list);
    let site = slots
        .clone()
        .next()
        .map_or("no site", |order| scenario.place_name(order.stay.site));
    format!(
        "Drawn each day, {:?}: about {} orders (room for {}) of about {} {} (at most {}) between {} and {}, to {site}; {} \
         in the period at most.",
        drawn.name,
        plain_1(drawn.per_day.mean()),
        drawn.at_most,
        plain_1(Quantity::Volume.told(drawn.volume.mean())),
        Quantity::Volume.unit(),
        many(Quantity::Volume, drawn.most.yd3()),
        drawn.first.0,
        drawn.first.1,
        slots.count()
    )
}

fn loads(order: &Order) -> u64 {
    order.volume.loads_of(order.load).max(0) as u64
}

/// `Tue`, with the number of the day where weekdays come twice.
fn short_day(order: &Order, scenario: &Scenario) -> String {
    let number = order.first.day();
    let weekday = format!("{:?}", scenario.period.first_day.after(number));
    if scenario.period.days > 7 {
        format!("{} {}", number + 1, &weekday[..3])
    } else {
        weekday[..3].to_owned()
    }
}

fn time_of_day(at: Millis, order: &Order) -> String {
    (at - Millis::midnight(order.first.day())).to_string()
}

/// `1.3 (2)`; several outlets one after the other.
fn outlets(stay: &Destination) -> String {
    if let Some(spread) = &stay.times.discharge {
        let places: u32 = stay.outlets.iter().map(|outlet| outlet.places).sum();
        return format!("{} min a load ({places})", plain_1(spread.mean()));
    }
    let each: Vec<String> = stay
        .outlets
        .iter()
        .map(|outlet| {
            format!(
                "{} ({})",
                many(Quantity::Volume, outlet.rate_yd3_min),
                outlet.places
            )
        })
        .collect();
    each.join(", ")
}

fn totals(scenario: &Scenario, page: &mut Page) {
    let mut total = (Volume::ZERO, 0);
    for number in 0..i64::from(scenario.period.days) {
        let of_day: Vec<&Order> = written(scenario)
            .filter(|order| order.first.day() == number)
            .collect();
        let volume: Volume = of_day.iter().map(|order| order.volume).sum();
        let loads: u64 = of_day.iter().map(|order| loads(order)).sum();
        total = (total.0 + volume, total.1 + loads);
        if scenario.period.days > 1 {
            page.line(&format!(
                "{}: {}",
                day(number, scenario.period.first_day),
                amount(of_day.len(), volume, loads)
            ));
        }
    }
    page.line(&format!(
        "In all: {}.",
        amount(written(scenario).count(), total.0, total.1)
    ));
}

/// Who ordered how much, the most first.
fn customers(scenario: &Scenario, page: &mut Page) {
    let mut customers: BTreeMap<&str, (usize, Volume)> = BTreeMap::new();
    for order in written(scenario) {
        if let Some(customer) = &order.customer {
            let of = customers.entry(customer).or_default();
            *of = (of.0 + 1, of.1 + order.volume);
        }
    }
    let mut customers: Vec<_> = customers.into_iter().collect();
    customers.sort_by_key(|(_, (_, volume))| std::cmp::Reverse(*volume));
    let told = customers.iter().map(|(name, (orders, volume))| {
        let orders = counted(*orders, "order", "orders");
        format!("{name} ({orders}, {})", whole(*volume))
    });
    let told: Vec<String> = told.collect();
    if !told.is_empty() {
        page.line(&format!("Customers: {}.", told.join("; ")));
    }
}

/// To the whole unit.
fn whole(volume: Volume) -> String {
    let told = Quantity::Volume.told(volume.yd3());
    format!("{} {}", number(told, 0), Quantity::Volume.unit())
}

fn amount(orders: usize, volume: Volume, loads: u64) -> String {
    format!(
        "{}, {} in {}",
        counted(orders, "order", "orders"),
        whole(volume),
        counted(loads as usize, "load", "loads")
    )
}

/// Up to so many orders are named of which the same holds.
const NAMED: usize = 2;

fn particulars(scenario: &Scenario, page: &mut Page) {
    let orders: Vec<&Order> = written(scenario).collect();
    let low_high = |value: fn(&Order) -> Millis| {
        let low = orders
            .iter()
            .map(|order| value(order))
            .min()
            .unwrap_or_default();
        let high = orders
            .iter()
            .map(|order| value(order))
            .max()
            .unwrap_or_default();
        if low == high {
            minutes(low)
        } else {
            format!("{} to {}", plain_1(low.minutes()), minutes(high))
        }
    };
    page.line(&measure::said(
        "Pour rate: yd³ a minute at each outlet, and in brackets its truck positions.",
    ));
    page.line(&format!(
        "A load is late beyond {}; a pause within a pour is a gap beyond {}.",
        low_high(|order| order.late),
        low_high(|order| order.gap)
    ));
    let mut list = |what: &str, about: &dyn Fn(&Order) -> Option<String>| {
        // By what holds, and where it holds for many, how many.
        let mut found: Vec<(String, Vec<&str>)> = Vec::new();
        for order in &orders {
            let Some(about) = about(order) else { continue };
            match found.iter_mut().find(|(other, _)| *other == about) {
                Some((_, names)) => names.push(&order.name),
                None => found.push((about, vec![&order.name])),
            }
        }
        let said = found.iter().map(|(about, names)| match names.len() {
            0..=NAMED => format!("{} {about}", names.join(" and ")),
            many => format!("{many} orders {about}"),
        });
        let said: Vec<String> = said.collect();
        if !said.is_empty() {
            page.line(&format!("{what}: {}.", said.join("; ")));
        }
    };
    list("Set-up before the first load", &|order| {
        (order.setup > Millis::ZERO).then(|| minutes(order.setup))
    });
    list("Agreed to be finished", &|order| {
        order
            .finish_by
            .map(|by| format!("by {}", time_of_day(by, order)))
    });
    list("Room for trucks that wait on site", &|order| {
        order.stay.waiting_room.map(|room| room.to_string())
    });
    list("Age of the concrete", &|order| {
        let limit = (order.age.limit).map(|limit| format!("at most {}", minutes(limit)));
        let kept = (order.age.stabilized > Millis::ZERO)
            .then(|| format!("{} more by a stabilizer", minutes(order.age.stabilized)));
        let waived = (order.age_waived)
            .map(|waived| format!("waived for {} of loads that need no water", share(waived)));
        let parts: Vec<String> = limit.into_iter().chain(kept).chain(waived).collect();
        (!parts.is_empty()).then(|| parts.join(", "))
    });
    list("Not known from the start", &|order| {
        let sometimes = (order.chance < 1.0).then(|| format!("in {}", share(order.chance)));
        let called = (order.called > Millis::ZERO)
            .then(|| format!("called at {}", time_of_day(order.called, order)));
        let parts: Vec<String> = sometimes.into_iter().chain(called).collect();
        (!parts.is_empty()).then(|| parts.join(", "))
    });
    let outdoor = orders.iter().filter(|order| order.outdoor).count();
    if outdoor > 0 {
        page.line(&format!("Canceled by rain: {outdoor} of them, outdoor."));
    }
}

fn endless(scenario: &Scenario, order: &Endless) -> String {
    let sites: Vec<&str> = order
        .destinations
        .iter()
        .map(|destination| scenario.place_name(destination.site))
        .collect();
    let when = order
        .arrivals
        .as_ref()
        .map_or("whenever a truck is free".into(), |spread| {
            format!("one about every {} min", plain_1(spread.mean()))
        });
    let to = match (sites.len(), order.routing) {
        (1, _) => "",
        (_, Routing::RoundRobin) => "in turn ",
        (_, Routing::Drawn) => "drawn by share ",
    };
    format!(
        "{}: endless, loads of {}, mix {}, {when}, {to}to {}",
        order.name,
        much(Quantity::Volume, order.load.yd3()),
        order.mix,
        sites.join(", ")
    )
}

/// The time of day that a doubt names, with the day where there are several.
pub(super) fn when(at: Millis, scenario: &Scenario) -> String {
    if scenario.period.days == 1 {
        clock(at)
    } else {
        super::words::moment(at, scenario.period.first_day, scenario.period.days)
    }
}
