//! What was found as parts of a scenario, to be pasted: each with what it rests on.

use super::sentences::{how_well, period, rests_on, tickets};
use super::spread_text::{figures, spread};
use crate::scenario::past_tickets::PastTickets;
use crate::studies::tickets::{FittedLeg, Found, Leg, Parameter, Part, Shape, TicketFits};
use crate::units::Millis;
use crate::units::measure;
use std::collections::BTreeMap;
use std::fmt::Write;

/// The text.
pub(super) fn parts(found: &TicketFits, of: &PastTickets) -> String {
    let mut text = String::new();
    let period = period(found, of).unwrap_or_else(|| "days not told".into());
    let _ = writeln!(
        text,
        "// Parts of a scenario, found by \"plantday tickets\" in {}:\n// {}, {period}.\n\
         // Paste what you need; comments say on what the numbers rest. \"plantday check\" reads the result.",
        comment(&of.file),
        tickets(found.cleaned.kept.len())
    );
    text += "(\n";
    plants(found, &mut text);
    roads(found, &mut text);
    orders(found, &mut text);
    text += ")\n";
    text
}

/// A text of others within a comment.
fn comment(text: &str) -> String {
    super::super::plain_text::one_line(text)
}

/// The same as a name in a scenario.
fn name(text: &str) -> String {
    format!("{:?}", comment(text))
}

fn of_leg(found: &TicketFits, leg: Leg) -> impl Iterator<Item = (&FittedLeg, &Found)> {
    let legs = found.legs.iter().filter(move |one| one.leg == leg);
    legs.filter_map(|one| Some((one, one.found.as_ref()?)))
}

fn plants(found: &TicketFits, text: &mut String) {
    let mut plants: BTreeMap<Option<&str>, Vec<[String; 2]>> = BTreeMap::new();
    let lines = |leg, field: &dyn Fn(&Found) -> String| {
        let each = of_leg(found, leg);
        each.map(|(fitted, found)| {
            let comment = format!("// {}", rests_on(fitted));
            (fitted.plant.as_deref(), [comment, field(found)])
        })
        .collect::<Vec<_>>()
    };
    let loading = lines(Leg::Loading, &|found| format!("loading: {},", stage(found)));
    let rack = lines(Leg::Yard, &|found| {
        format!("rack: {},", spread(&found.spread))
    });
    for (plant, line) in loading.into_iter().chain(rack) {
        plants.entry(plant).or_default().push(line);
    }
    if plants.is_empty() {
        return;
    }
    *text += "    plants: [\n";
    for (plant, lines) in plants {
        let plant = plant.map_or("\"every plant\"".into(), name);
        let _ = writeln!(text, "        (\n            name: {plant},");
        for line in lines.into_iter().flatten() {
            let _ = writeln!(text, "            {line}");
        }
        *text += "        ),\n";
    }
    *text += "    ],\n";
}

/// Loading as a plant has it.
fn stage(found: &Found) -> String {
    if found.shape == Shape::Plain {
        return spread(&found.spread);
    }
    let value = |part: &Part| {
        let of = found.parameters.iter().find(|one| one.part == *part);
        figures(of.map_or(0.0, |one| one.value))
    };
    format!(
        "PerYard(fixed_min: {}, {}: {},\n                luck: {})",
        value(&Part::Fixed),
        measure::key("min_per_yd3").0,
        value(&Part::PerYard),
        spread(&found.spread)
    )
}

fn roads(found: &TicketFits, text: &mut String) {
    let Some((fitted, travel)) = of_leg(found, Leg::Travel).next() else {
        return;
    };
    let ways: BTreeMap<(&str, &str), &Parameter> = travel
        .parameters
        .iter()
        .filter_map(|one| match &one.part {
            Part::Way(from, to) => Some(((from.as_str(), to.as_str()), one)),
            _ => None,
        })
        .collect();
    // Who is a plant is known by being driven from with a load.
    let mut plants: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    let known: Vec<&str> = found
        .legs
        .iter()
        .filter_map(|leg| leg.plant.as_deref())
        .collect();
    for (from, to) in ways.keys() {
        let (plant, site) = match known.contains(from) {
            true => (*from, *to),
            false => (*to, *from),
        };
        let sites = plants.entry(plant).or_default();
        if !sites.contains(&site) {
            sites.push(site);
        }
    }
    let _ = writeln!(
        text,
        "    // In place of your minutes; out, or (out, back). Ways between plants,\n    // and to sites without tickets, are yours to add.\n    \
         roads: (\n        minutes: {{"
    );
    for (plant, sites) in plants {
        let _ = writeln!(text, "            {}: {{", name(plant));
        for site in sites {
            let (out, back) = (ways.get(&(plant, site)), ways.get(&(site, plant)));
            let (value, rests) = match (out, back) {
                (Some(out), Some(back)) => (
                    format!("({}, {})", figures(out.value), figures(back.value)),
                    format!("{} out, {} back", out.n, back.n),
                ),
                (Some(out), None) => (figures(out.value), format!("{} out", out.n)),
                (None, Some(back)) => (
                    figures(back.value),
                    format!(
                        "{} back, none out: the way out is taken to be as long",
                        back.n
                    ),
                ),
                (None, None) => continue,
            };
            let few = out.or(back).is_some_and(|one| one.n < found.question.least);
            let few = if few { ": FEW TRIPS" } else { "" };
            let _ = writeln!(
                text,
                "                {}: {value}, // {rests}{few}",
                name(site)
            );
        }
        *text += "            },\n";
    }
    let _ = writeln!(
        text,
        "        }},\n        // {} trips on {} days, {}\n        luck: {},",
        fitted.n,
        fitted.days,
        how_well(travel),
        spread(&travel.spread)
    );
    let hours: Vec<(Millis, &Parameter)> = travel
        .parameters
        .iter()
        .filter_map(|one| match one.part {
            Part::Hour(from) => Some((from, one)),
            _ => None,
        })
        .collect();
    if !hours.is_empty() {
        *text += "        traffic: [(factors: [ // times the quietest hour, on all days alike\n";
        for (from, factor) in hours {
            let _ = writeln!(
                text,
                "            (\"{from}\", {}), // {} trips",
                figures(factor.value),
                factor.n
            );
        }
        *text += "        ])],\n";
    }
    *text += "    ),\n";
}

fn orders(found: &TicketFits, text: &mut String) {
    let mut fields = Vec::new();
    for (leg, field) in [
        (Leg::Position, "position"),
        (Leg::Unloading, "discharge_luck"),
        (Leg::Wash, "chute_wash"),
    ] {
        if let Some((fitted, found)) = of_leg(found, leg).next() {
            let spread = spread(&found.spread);
            fields.push(format!("// {}", rests_on(fitted)));
            fields.push(format!("{field}: {spread},"));
        }
    }
    let rates: Vec<(&Vec<String>, &Parameter)> = of_leg(found, Leg::Unloading)
        .flat_map(|(_, found)| &found.parameters)
        .filter_map(|one| match &one.part {
            Part::Rate(group) => Some((group, one)),
            _ => None,
        })
        .collect();
    if fields.is_empty() {
        return;
    }
    *text += "    // Fields of orders: the first entry holds what all have, the others the rate of their\n    // outlet. \
              Tickets do not say how many trucks can stand at it (places).\n    orders: [\n        (\n            name: \"every order\",\n";
    for field in fields {
        let _ = writeln!(text, "            {field}");
    }
    *text += "        ),\n";
    for (group, rate) in rates {
        let site = group.first().map_or("", String::as_str);
        let order = group.get(1).map(|order| format!("name: {}, ", name(order)));
        let few = if rate.n < found.question.least {
            ": FEW TICKETS"
        } else {
            ""
        };
        let _ = writeln!(
            text,
            "        ({}site: {}, outlets: [({}: {})]), // {}{few}",
            order.unwrap_or_default(),
            name(site),
            measure::key("rate_yd3_min").0,
            figures(rate.value),
            tickets(rate.n)
        );
    }
    *text += "    ],\n";
}
