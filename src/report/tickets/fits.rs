//! The answer of `tickets`: what was found of a yard's own tickets.

use super::here;
use super::spread_text::{brief, figures, spread};
use super::{charts, parts, sentences};
use crate::engine::Spread;
use crate::report::answer::{Answer, Block, Cell, Column, Form, Table};
use crate::report::number::Unit;
use crate::scenario::past_tickets::PastTickets;
use crate::scenario::{Scenario, Stage as PlantStage};
use crate::studies::tickets::{
    FittedLeg, Found, Leg, Parameter, Part, Shape, TicketFits, Unit as Told,
};
use crate::units::measure::{self, Quantity};
use serde_json::json;

/// The answer; with a scenario its own numbers stand beside what was found. `recipe` is the command that gives it again.
pub fn answer(
    found: &TicketFits,
    of: &PastTickets,
    scenario: Option<&Scenario>,
    recipe: String,
) -> Answer {
    let _spoken = measure::speak(of.measures);
    let found = &here::fits(found);
    let mut answer = Answer::bare(
        "tickets",
        "Past tickets",
        sentences::decision(found, of),
        recipe,
    );
    answer.page = "tickets.html";
    answer.page_title = format!("Past tickets: {}", of.file);
    let period = sentences::period(found, of).map_or(String::new(), |days| format!(", {days}"));
    answer.about = format!("{}{period}", of.file);
    answer.headline.push(answer.about.clone());
    answer.say(sentences::left_out(&found.cleaned));
    answer.show("What was found", legs(found, scenario));
    for warning in sentences::warnings(found, of) {
        answer.say(warning);
    }
    answer.say_on_screen(
        "parts.ron holds it as parts of a scenario, numbers.csv every number with its interval.",
    );
    charts::add(found, &mut answer);
    answer.section(
        "Parts of a scenario",
        vec![
            Block::Link {
                words: "parts.ron".into(),
                file: "parts.ron".into(),
                after: ": the same as a file, to be pasted.".into(),
            },
            Block::Lines(parts::parts(found, of).lines().map(str::to_owned).collect()),
        ],
    );
    let numbers = numbers(found);
    answer.section(
        "Every number, with its interval",
        vec![Block::Table(numbers.name)],
    );
    answer.tables.push(numbers);
    let stages = stages(found);
    answer.section("How long stages lasted", vec![Block::Table(stages.name)]);
    answer.tables.push(stages);
    answer.notes = sentences::NOTES
        .map(|note| measure::said(note).into_owned())
        .into();
    answer.beside.push((
        "parts.ron".into(),
        parts::parts(found, of).into_bytes().into(),
    ));
    answer.own_all(own(found, of));
    answer
}

fn legs(found: &TicketFits, scenario: Option<&Scenario>) -> Table {
    let mut columns = vec![
        Column::new("leg").left().key("leg"),
        Column::file("plant"),
        Column::new("tickets").key("tickets"),
        Column::file("days"),
        Column::new("usual minutes").left().key("usual"),
        Column::new("spread").left().screen_only(),
        Column::new("spread").left().key("spread").page_only(),
        Column::new("largest gap").brief("gap").key("largest_gap"),
        Column::file("anderson_darling"),
        Column::new("as far by chance").page_only().key("as_far"),
        Column::new("next best family")
            .left()
            .page_only()
            .key("next_family"),
        Column::file("next_behind"),
        Column::file("ln_likelihood"),
        Column::new("fit").left().key("fit"),
    ];
    if scenario.is_some() {
        columns.push(Column::new("in the scenario").left().key("scenario"));
    }
    let mut table = Table::new("legs", columns);
    for leg in &found.legs {
        let name = match &leg.plant {
            Some(plant) => Cell::Text(format!("{}, {plant}", sentences::leg(leg.leg))),
            None => sentences::leg(leg.leg).into(),
        };
        let plant = Cell::Text(leg.plant.clone().unwrap_or_default());
        let mut row = vec![
            name,
            plant,
            Cell::count(leg.n as u64),
            (leg.days as f64).into(),
        ];
        match &leg.found {
            None => {
                row.extend([Cell::from("too few tickets"), Cell::Blank, Cell::Blank]);
                row.extend(vec![Cell::Blank; 6]);
                row.push(Cell::Blank);
            }
            Some(found) => {
                let points = |share: f64| Cell::number(share, Unit::Share, 1);
                let next = found.nearest.map(|next| next.family.name());
                row.extend([
                    Cell::Text(usual(found)),
                    Cell::Text(brief(&found.spread)),
                    Cell::Text(spread(&found.spread)),
                    points(found.gap),
                    found.distance.into(),
                    points(found.as_far),
                    Cell::Text(next.unwrap_or_default().into()),
                    found.nearest.map(|next| next.behind).into(),
                    found.ln_likelihood.into(),
                    sentences::how_well(found).into(),
                ]);
            }
        }
        if let Some(scenario) = scenario {
            row.push(Cell::Text(in_scenario(leg, scenario)));
        }
        table.row(row);
    }
    table
}

/// The usual lengths in short.
fn usual(found: &Found) -> String {
    let values = |of: &dyn Fn(&Part) -> bool| -> Vec<f64> {
        let those = found.parameters.iter().filter(|one| of(&one.part));
        those.map(|one| one.value).collect()
    };
    let ends = |values: &[f64]| {
        let low = values.iter().copied().fold(f64::INFINITY, f64::min);
        let high = values.iter().copied().fold(0.0, f64::max);
        match values.len() {
            1 => figures(low),
            _ => format!("{} to {}", figures(low), figures(high)),
        }
    };
    match found.shape {
        Shape::Plain => figures(found.spread.mean()),
        Shape::PerYard => {
            let all = values(&|part| matches!(part, Part::Fixed | Part::PerYard));
            format!(
                "{} + {} × {}",
                figures(all[0]),
                figures(all[1]),
                Quantity::Volume.unit()
            )
        }
        Shape::Rate => {
            let rates = values(&|part| matches!(part, Part::Rate(_)));
            format!("{} ÷ {}", Quantity::Volume.unit(), ends(&rates))
        }
        Shape::Travel => {
            let ways = values(&|part| matches!(part, Part::Way(..)));
            let hours = values(&|part| matches!(part, Part::Hour(_)));
            match hours.is_empty() {
                true => ends(&ways),
                false => format!("{}, × {}", ends(&ways), ends(&hours)),
            }
        }
    }
}

/// What a scenario has for the leg.
fn in_scenario(leg: &FittedLeg, scenario: &Scenario) -> String {
    let plant = leg.plant.as_ref();
    let plant = scenario.plants.iter().find(|one| Some(&one.name) == plant);
    let of_orders = |of: &dyn Fn(&crate::scenario::StayTimes) -> Spread| {
        let mut all: Vec<String> = Vec::new();
        for order in &scenario.orders {
            let text = brief(&of(&order.stay.times));
            if !all.contains(&text) {
                all.push(text);
            }
        }
        match all.as_slice() {
            [one] => one.clone(),
            many => format!("{} different ones", many.len()),
        }
    };
    match leg.leg {
        Leg::Loading => plant.map_or("no such plant".into(), |plant| match &plant.loading {
            PlantStage::Minutes(minutes) => brief(minutes),
            PlantStage::PerYard {
                fixed_min,
                min_per_yd3,
                luck,
            } => format!(
                "{} + {} × {}, {}",
                figures(*fixed_min),
                figures(Quantity::PerVolume.told(*min_per_yd3)),
                Quantity::Volume.unit(),
                brief(luck)
            ),
        }),
        Leg::Yard => plant.map_or("no such plant".into(), |plant| brief(&plant.rack)),
        Leg::Travel => brief(&scenario.roads.luck),
        Leg::Position => of_orders(&|times| times.position.clone()),
        Leg::Unloading => of_orders(&|times| {
            times
                .discharge
                .clone()
                .unwrap_or(times.discharge_luck.clone())
        }),
        Leg::Wash => of_orders(&|times| times.chute_wash.clone()),
    }
}

/// Every number.
fn numbers(found: &TicketFits) -> Table {
    let mut table = Table::new(
        "numbers",
        vec![
            Column::new("leg").left().key("leg"),
            Column::new("of").left().key("of"),
            Column::new("number").left().key("number"),
            Column::new("value").with_ends("value"),
            Column::file("standard_error"),
            Column::new("unit").left().key("unit"),
            Column::new("tickets").key("tickets"),
        ],
    );
    for leg in &found.legs {
        for parameter in leg.found.iter().flat_map(|found| &found.parameters) {
            let (of, number) = whose(leg, parameter);
            let interval = parameter.interval(found.question.level);
            let decimals = Unit::Plain.decimals(interval.half_width()).max(2);
            table.row([
                sentences::leg(leg.leg).into(),
                Cell::Text(of),
                Cell::Text(number),
                Cell::Estimate {
                    value: Some(parameter.value),
                    interval,
                    at_least: None,
                    form: Form::new(Unit::Plain, decimals),
                },
                parameter.error.into(),
                unit(parameter.unit).into(),
                Cell::count(parameter.n as u64),
            ]);
        }
    }
    table
}

fn unit(unit: Told) -> String {
    match unit {
        Told::Minutes => "min".into(),
        Told::MinutesPerYard => format!("min per {}", Quantity::Volume.unit()),
        Told::YardsPerMinute => format!("{} a minute", Quantity::Volume.unit()),
        Told::Plain => String::new(),
    }
}

fn whose(leg: &FittedLeg, parameter: &Parameter) -> (String, String) {
    let plant = leg.plant.clone().unwrap_or_default();
    match &parameter.part {
        Part::Fixed => (plant, "fixed".into()),
        Part::PerYard => (plant, format!("per {}", Quantity::Volume.unit())),
        Part::Rate(group) => {
            let named = group
                .iter()
                .map(String::as_str)
                .filter(|name| !name.is_empty());
            let named: Vec<&str> = named.collect();
            (named.join(", "), "rate".into())
        }
        Part::Way(from, to) => (format!("{from} to {to}"), "quietest hour".into()),
        Part::Hour(from) => (format!("from {from}"), "factor".into()),
        Part::Spread(name) => (plant, (*name).into()),
    }
}

fn stages(found: &TicketFits) -> Table {
    let minutes = |heading: &str, key: &str| Column::new(heading).key(key);
    let mut table = Table::new(
        "stages",
        vec![
            Column::new("minutes").left().key("stage"),
            Column::new("tickets").key("tickets"),
            minutes("10% took at most", "low_min"),
            minutes("half", "median_min"),
            minutes("90%", "high_min"),
        ],
    );
    for told in &found.stages {
        let point = |at: usize| match told.points {
            Some(points) => Cell::number(points[at], Unit::Plain, 1),
            None => Cell::unknown(),
        };
        table.row([
            sentences::stage(told.stage).into(),
            Cell::count(told.n as u64),
            point(0),
            point(1),
            point(2),
        ]);
    }
    table
}

fn own(found: &TicketFits, of: &PastTickets) -> serde_json::Value {
    let cleaned = &found.cleaned;
    let hours = found.legs.iter().find_map(|leg| leg.found.as_ref()?.hours);
    json!({
        "file": of.file,
        "tickets_read": cleaned.all(),
        "tickets_used": cleaned.kept.len(),
        "left_out": {
            "no_time": cleaned.left_out[0],
            "twice": cleaned.left_out[1],
            "backward": cleaned.left_out[2],
            "too_long": cleaned.left_out[3],
        },
        "whole_minutes": of.whole_minutes,
        "traffic": hours.map(|hours| json!({ "by_the_hour": hours.kept, "criterion_gained": hours.gain })),
    })
}
