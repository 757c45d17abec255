//! Until when may each driver load for where: what is shown of the answer.

use super::{Asked, sheet, unsaid, words};
use crate::report::answer::{Answer, Block, Cell, Column, Table};
use crate::report::number::{Unit, count, level};
use crate::studies::trip::{DriverLasts, Ends, LastLoad, LastLoads, PlantSites};
use crate::units::{Millis, PlaceId};
use serde_json::{Value, json};

/// What the numbers mean.
const NOTES: [&str; 4] = [
    "Loaded by: the latest minute at which the truck may pull into the bay. Off the plant by: the latest minute at which it leaves with \
     the load. After it the driver would be back, and released where the short-haul exception asks for it, beyond a limit too often.",
    "Each load is taken by itself: the driver does nothing else before it and waits for no bay and no place on site. Make the table \
     anew after every load; with a line at the bay or on site the load has to begin earlier by that wait.",
    "Near, middle and far are the nearest site from the driver's own plant, the one in the middle, and the farthest, of the orders of \
     the driver's day: of the next one for who is due then.",
    "Out of hours: from when the driver may not drive a truck, if nothing is driven until then. Work that is not driving may go on.",
];

/// Drivers on the screen; the others are on the page and in the files.
const ON_SCREEN: usize = 16;

pub(super) fn answer(found: &LastLoads, asked: &Asked<'_>) -> Answer {
    let mut answer = words::answer(asked, "last-loads", decision(found, asked), &NOTES);
    answer.own_all(json(found, asked));
    if let [only] = &found.drivers[..] {
        answer.show("Until when, for where", pairs(found, asked));
        if let Some(sentence) = unsaid::own(asked, only.driver) {
            answer.say(sentence);
        }
        answer.say(sureness(found, asked));
        return answer;
    }
    answer.show("Until when, for where", board(found, asked));
    answer.section("Every driver and site", vec![Block::Table("last_loads")]);
    answer.tables.push(pairs(found, asked));
    sheet::add(found, asked, &mut answer);
    for sentence in sites(found, asked) {
        answer.say(sentence);
    }
    if let Some(sentence) = unsaid::all(asked) {
        answer.say(sentence);
    }
    if found.drivers.len() > ON_SCREEN {
        answer.say_on_screen(format!(
            "{} drivers more, and every site, are in drivers.csv, last_loads.csv and the report.",
            found.drivers.len() - ON_SCREEN
        ));
    }
    answer.say(sureness(found, asked));
    answer
}

/// How sure it is.
fn sureness(found: &LastLoads, asked: &Asked<'_>) -> String {
    let stop = match found.stopped {
        true => " It was interrupted: fewer runs than planned.",
        false => "",
    };
    format!(
        "Each time is early enough in {} of runs at least, shown at {} by {} runs, random seed {}. A plan is no permission: the driver's \
         log and the carrier decide.{stop}",
        Unit::Share.show(found.chance, 0),
        level(asked.question.level),
        count(found.runs),
        asked.question.seed
    )
}

pub(super) fn site_name(site: PlaceId, asked: &Asked<'_>) -> String {
    asked.scenario.place_name(site).to_owned()
}

fn site(load: &LastLoad, asked: &Asked<'_>) -> String {
    site_name(load.site, asked)
}

fn time(asked: &Asked<'_>, at: Option<Millis>) -> String {
    at.map_or("too late".into(), |at| words::short(asked, at.minutes()))
}

/// Whether the concrete would be too old on site too often.
pub(super) fn is_too_old(load: &LastLoad, asked: &Asked<'_>) -> bool {
    load.fresh < asked.question.probability
}

/// `too late`, `too old`, or the time.
fn by(load: &LastLoad, asked: &Asked<'_>) -> String {
    match load.load_by {
        Some(_) if is_too_old(load, asked) => "too old".into(),
        by => time(asked, by),
    }
}

pub(super) fn ends(load: &LastLoad, lasts: &DriverLasts, asked: &Asked<'_>) -> String {
    match load.ends {
        Ends::Clock(clock) => words::limit_words(asked, lasts.driver, clock),
        Ends::ShortHaul => "short-haul release".into(),
        Ends::PlantCloses => "plant closes".into(),
        Ends::DayOver => "order's day is over".into(),
        Ends::Company => "company limit".into(),
        Ends::Nothing => "nothing within 16 h".into(),
    }
}

fn out_of_hours(lasts: &DriverLasts, asked: &Asked<'_>) -> Option<String> {
    let (at, clock) = lasts.out_of_hours?;
    Some(format!(
        "{} ({})",
        words::short(asked, at.minutes()),
        words::limit_words(asked, lasts.driver, clock)
    ))
}

/// One line for a phone.
fn line(load: &LastLoad, asked: &Asked<'_>) -> String {
    match by(load, asked).as_str() {
        "too late" => format!("{}: too late", site(load, asked)),
        "too old" => format!(
            "{}: too far, the concrete would be too old",
            site(load, asked)
        ),
        by => format!(
            "last load to {}: loaded by {by}, off the plant by {}",
            site(load, asked),
            time(asked, load.leave_by)
        ),
    }
}

/// The loads that a short line tells of: the sites with loads to come, else all.
fn told(lasts: &DriverLasts) -> Vec<&LastLoad> {
    let to_come: Vec<&LastLoad> = lasts.loads.iter().filter(|load| load.to_come).collect();
    match to_come.is_empty() {
        true => lasts.loads.iter().collect(),
        false => to_come,
    }
}

fn decision(found: &LastLoads, asked: &Asked<'_>) -> String {
    if let [only] = &found.drivers[..] {
        let lines: Vec<String> = told(only)
            .iter()
            .take(3)
            .map(|load| line(load, asked))
            .collect();
        let more = told(only).len().saturating_sub(3);
        let more = match more {
            0 => String::new(),
            _ => format!("; {more} more sites below"),
        };
        let hours =
            out_of_hours(only, asked).map_or(String::new(), |at| format!("; out of hours {at}"));
        return format!(
            "{}: {}{more}{hours}.",
            words::driver(asked, only.driver),
            lines.join("; ")
        );
    }
    let farthest = |lasts: &DriverLasts| told(lasts).last().copied().copied();
    let cannot = found
        .drivers
        .iter()
        .filter(|lasts| farthest(lasts).is_some_and(|load| load.load_by.is_none()));
    let first = found
        .drivers
        .iter()
        .find_map(|lasts| Some((lasts, out_of_hours(lasts, asked)?)));
    let first = first.map_or("No driver has an hours limit".to_owned(), |(lasts, at)| {
        format!(
            "First out of hours: {} at {at}",
            words::driver(asked, lasts.driver)
        )
    });
    format!(
        "{first}. {} of {} drivers can no longer take a load to the farthest site with loads to come.",
        cannot.count(),
        found.drivers.len()
    )
}

/// What the three sites of a plant are called.
pub(super) const SPREAD: [&str; 3] = ["near", "middle", "far"];

/// Near, middle and far of a driver's plant.
fn spread<'a>(found: &LastLoads, lasts: &'a DriverLasts) -> [Option<&'a LastLoad>; 3] {
    let mut plants = found.plants.iter();
    let plant = plants.find(|plant| plant.plant == lasts.plant);
    let sites = plant.map_or([None; 3], PlantSites::spread);
    sites.map(|site| lasts.load(site?.0))
}

/// Which sites these are, by plant.
fn sites(found: &LastLoads, asked: &Asked<'_>) -> Vec<String> {
    let sentence = |plant: &PlantSites| {
        let named = SPREAD.iter().zip(plant.spread());
        let named: Vec<String> = named
            .filter_map(|(word, site)| {
                let (site, out_min) = site?;
                let site = site_name(site, asked);
                Some(format!("{word} {site} ({})", words::length(out_min)))
            })
            .collect();
        let name = &asked.scenario.plants[plant.plant.at()].name;
        format!("From {name}: {}.", named.join(", "))
    };
    found.plants.iter().map(sentence).collect()
}

/// `drivers.csv`: one line a driver.
fn board(found: &LastLoads, asked: &Asked<'_>) -> Table {
    let mut table = Table::new(
        "drivers",
        vec![
            Column::new("driver").left().key("driver"),
            Column::new("plant").left().key("plant"),
            Column::new("ready").key("ready_min"),
            Column::new("near: loaded by").brief("near").key("near_min"),
            Column::new("middle: loaded by")
                .brief("middle")
                .key("middle_min"),
            Column::new("far: loaded by").brief("far").key("far_min"),
            Column::new("out of hours").left().key("out_of_hours_min"),
            Column::file("limit"),
        ],
    );
    for (at, lasts) in found.drivers.iter().enumerate() {
        let cell = |load: Option<&LastLoad>| match load {
            None => Cell::Blank,
            Some(load) => worded(by(load, asked), load.load_by),
        };
        let [near, middle, far] = spread(found, lasts);
        let row = table.row([
            words::driver(asked, lasts.driver).into(),
            asked.scenario.plants[lasts.plant.at()].name.clone().into(),
            worded(time(asked, Some(lasts.ready)), Some(lasts.ready)),
            cell(near),
            cell(middle),
            cell(far),
            match out_of_hours(lasts, asked) {
                None => "no limit".into(),
                Some(at) => worded(at, lasts.out_of_hours.map(|(at, _)| at)),
            },
            lasts.out_of_hours.map_or(Cell::Blank, |(_, clock)| {
                words::limit_words(asked, lasts.driver, clock).into()
            }),
        ]);
        row.screen(at < ON_SCREEN);
    }
    table
}

pub(super) fn worded(words: String, at: Option<Millis>) -> Cell {
    Cell::Worded {
        words,
        value: at.map(Millis::minutes),
        low: None,
        high: None,
    }
}

/// From the moment, or from when the driver is ready, whichever is later.
pub(super) fn minutes_left(load_by: Millis, lasts: &DriverLasts, asked: &Asked<'_>) -> f64 {
    let from = lasts.ready.max(asked.question.at);
    (load_by - from).max(Millis::ZERO).minutes()
}

/// `last_loads.csv`: one line for each driver and site.
fn pairs(found: &LastLoads, asked: &Asked<'_>) -> Table {
    let mut table = Table::new(
        "last_loads",
        vec![
            Column::file("driver"),
            Column::file("plant"),
            Column::new("site").left().key("site"),
            Column::new("loads to come").brief("to come").key("to_come"),
            Column::new("trip out, min").brief("trip").key("out_min"),
            Column::new("loaded by").key("load_by_min"),
            Column::new("off the plant by")
                .brief("off the plant")
                .key("leave_by_min"),
            Column::new("minutes left")
                .brief("left")
                .key("minutes_left"),
            Column::new("what ends it").left().key("ends"),
            Column::file("fresh"),
        ],
    );
    for lasts in &found.drivers {
        for load in &lasts.loads {
            let left = load.load_by.map(|at| minutes_left(at, lasts, asked));
            table.row([
                words::driver(asked, lasts.driver).into(),
                asked.scenario.plants[lasts.plant.at()].name.clone().into(),
                site(load, asked).into(),
                Cell::yes(load.to_come),
                Cell::number(load.out_min, Unit::Plain, 0),
                worded(by(load, asked), load.load_by),
                worded(time(asked, load.leave_by), load.leave_by),
                left.map_or(Cell::Blank, |left| Cell::number(left, Unit::Plain, 0)),
                ends(load, lasts, asked).into(),
                Cell::number(load.fresh, Unit::Share, 0),
            ]);
        }
    }
    table
}

/// ```text
/// head …, "chance", "runs", "stopped", "plants": [{"plant", "near": {"site", "out_min"} | null, "middle", "far"}],
/// "drivers": [{"driver", "plant", "ready", "out_of_hours": {"at", "limit"} | null, "loads": [{"site", "order", "to_come", "out_min", "load_by", "leave_by", "ends", "fresh"}]}]
/// ```
fn json(found: &LastLoads, asked: &Asked<'_>) -> Value {
    let clock = |at: Option<Millis>| at.map(|at| words::clock(asked.scenario, at));
    let plants = found.plants.iter().map(|plant| {
        let [near, middle, far] = plant.spread().map(|site| {
            site.map(
                |(site, out_min)| json!({ "site": site_name(site, asked), "out_min": out_min }),
            )
        });
        let name = &asked.scenario.plants[plant.plant.at()].name;
        json!({ "plant": name, "near": near, "middle": middle, "far": far })
    });
    json!({
        "chance": found.chance,
        "runs": found.runs,
        "stopped": found.stopped,
        "plants": plants.collect::<Vec<_>>(),
        "drivers": found.drivers.iter().map(|lasts| json!({
            "driver": words::driver(asked, lasts.driver),
            "plant": asked.scenario.plants[lasts.plant.at()].name,
            "ready": clock(Some(lasts.ready)),
            "out_of_hours": lasts.out_of_hours.map(|(at, limit)| json!({
                "at": clock(Some(at)),
                "limit": words::limit_words(asked, lasts.driver, limit),
            })),
            "loads": lasts.loads.iter().map(|load| json!({
                "site": site(load, asked),
                "order": asked.scenario.orders[load.order.at()].name,
                "to_come": load.to_come,
                "out_min": load.out_min,
                "load_by": clock(load.load_by),
                "leave_by": clock(load.leave_by),
                "ends": ends(load, lasts, asked),
                "fresh": load.fresh,
            })).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
    })
}
