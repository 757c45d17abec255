//! Loads with which it goes otherwise under two rules: on the screen, in files and on the page.

use super::page::{jump, title};
use super::{late, sentences};
use crate::report::answer::{Cell, Column, Table};
use crate::report::number::count;
use crate::scenario::Scenario;
use crate::studies::{Against, Differing, Fate, Replay};
use crate::units::{Millis, TruckId};
use maud::{Markup, html};

/// Rows that a screen has room for.
pub(super) const SHOWN: usize = 10;

/// The two sides in the names of columns and files.
pub(super) const SIDES: [&str; 2] = ["first", "second"];

/// What became of a load under one rule, in words.
struct Told {
    /// `88 min late`, `on time`, `never came, 312 min late by the end of the day`.
    fate: String,
    /// When it came, or was first missing.
    at: Option<Millis>,
    /// The truck that brought it, or was to.
    truck: Option<TruckId>,
    /// `N4 from North`.
    with: Option<String>,
    because: String,
    mostly: String,
}

fn told(replay: &Replay, scenario: &Scenario, fate: &Fate) -> Told {
    let nothing = |fate: &str| Told {
        fate: fate.into(),
        at: None,
        truck: None,
        with: None,
        because: String::new(),
        mostly: String::new(),
    };
    match fate {
        Fate::Came(load) => {
            let late = |late: &&crate::observe::LateLoad| {
                (late.order, late.number) == (load.order, load.number)
            };
            let late = replay.late.iter().find(late);
            let minutes = sentences::minutes(load.late);
            Told {
                fate: match late {
                    Some(_) => format!("{minutes} late"),
                    None if load.late.minutes().round() < 1.0 => "on time".into(),
                    None => format!("{minutes} late, tolerated"),
                },
                at: Some(load.came),
                truck: Some(load.truck),
                with: Some(format!(
                    "{} from {}",
                    scenario.trucks[load.truck.at()].name,
                    scenario.plants[load.plant.at()].name
                )),
                because: late.map_or(String::new(), late::story),
                mostly: late.map_or(String::new(), late::mostly),
            }
        }
        Fate::Never { place, .. } => {
            let never = &replay.never[*place];
            Told {
                fate: format!(
                    "never came, {} late by the end of its day",
                    sentences::minutes(never.late)
                ),
                at: Some(never.missing_from()),
                truck: never.truck,
                with: None,
                because: late::missing_story(never),
                mostly: late::missing_mostly(never),
            }
        }
        Fate::TurnedDown => nothing("order turned down"),
        Fate::Absent => nothing("no such load"),
    }
}

/// Why it is later under the rule under which it is.
fn mostly(load: &Differing, sides: &[Told; 2]) -> String {
    let later = usize::from(load.difference() < Millis::ZERO);
    sides[later].mostly.clone()
}

fn both(found: &Against, scenario: &Scenario, load: &Differing) -> [Told; 2] {
    [0, 1].map(|side| told(&found.sides[side], scenario, &load.fates[side]))
}

/// `loads-that-differ.csv`, the greatest difference first; times in minutes since midnight before the first day.
pub(super) fn table(found: &Against, scenario: &Scenario) -> Table {
    let mut columns = vec![
        Column::new("load").left(),
        Column::file("order"),
        Column::file("load"),
        Column::new("due").left(),
        Column::file("due_min"),
        Column::file("difference_min"),
    ];
    for replay in &found.sides {
        columns.push(Column::new(format!("under {}", sentences::rule(replay))).left());
    }
    columns.push(Column::new("mostly because").left());
    for side in SIDES {
        let of_side = [
            "rule",
            "fate",
            "truck",
            "plant",
            "came_min",
            "placed_min",
            "late_min",
            "because",
        ];
        columns.extend(of_side.map(|key| Column::file(format!("{side}_{key}"))));
    }
    let mut table = Table::new("loads-that-differ", columns);
    for (at, load) in found.differing.iter().enumerate() {
        let sides = both(found, scenario, load);
        let mut cells: Vec<Cell> = vec![
            sentences::load(scenario, load.order, load.number).into(),
            scenario.order_name(load.order).into(),
            f64::from(load.number + 1).into(),
            sentences::clock(&found.sides[0], load.due()).into(),
            load.due().minutes().into(),
            load.difference().minutes().into(),
        ];
        cells.extend(sides.iter().map(|told| Cell::from(brief(found, told))));
        cells.push(mostly(load, &sides).into());
        for (side, told) in sides.into_iter().enumerate() {
            cells.extend(in_file(
                &found.sides[side],
                scenario,
                load.fates[side],
                told,
            ));
        }
        table.row(cells).screen(at < SHOWN);
    }
    table
}

/// `88 min late: N4 from North, 16:27`.
fn brief(found: &Against, told: &Told) -> String {
    match (&told.with, told.at) {
        (Some(with), Some(at)) => {
            let at = sentences::clock(&found.sides[0], at);
            format!("{}: {with}, {at}", told.fate)
        }
        _ => told.fate.clone(),
    }
}

/// What files have of a side, in the order of their columns.
fn in_file(replay: &Replay, scenario: &Scenario, fate: Fate, told: Told) -> [Cell; 8] {
    let kind = match fate {
        Fate::Came(load) if load.is_late => "late",
        Fate::Came(_) => "on time",
        Fate::Never { .. } => "never",
        Fate::TurnedDown => "turned down",
        Fate::Absent => "no such load",
    };
    let name = |truck: TruckId| Cell::from(scenario.trucks[truck.at()].name.as_str());
    let (plant, came, placed) = match fate {
        Fate::Came(load) => (
            scenario.plants[load.plant.at()].name.as_str().into(),
            load.came.minutes().into(),
            load.placed.map(Millis::minutes).into(),
        ),
        _ => (Cell::Blank, Cell::Blank, Cell::Blank),
    };
    [
        replay.rule.as_str().into(),
        kind.into(),
        told.truck.map_or(Cell::Blank, name),
        plant,
        came,
        placed,
        fate.late().map(Millis::minutes).into(),
        told.because.into(),
    ]
}

/// How it went with the loads that are not listed; nothing if there are none.
pub(super) fn others(found: &Against) -> Option<String> {
    let (otherwise, alike) = (found.otherwise as u64, found.alike as u64);
    if otherwise + alike == 0 {
        return None;
    }
    let which = match found.differing.is_empty() {
        true => "All".to_owned(),
        false => format!("The other {}", count(otherwise + alike)),
    };
    let other = "by another truck, from another plant or at another time";
    let how = match (otherwise, alike) {
        (0, _) => "all came by the same truck at the same time".to_owned(),
        (_, 0) => format!("all came {other}"),
        _ => format!("{} came {other}, {} alike", count(otherwise), count(alike)),
    };
    Some(format!(
        "{which} loads are late under neither rule, or equally late under both; {how}."
    ))
}

/// The list on the page: under each load what became of it under the first rule and under the second, as the maps stand.
pub(super) fn section(found: &Against, scenario: &Scenario) -> Markup {
    html! {
        section {
            h2 { "Loads that differ" }
            @if !found.differing.is_empty() {
                p.note {
                    "Greatest difference first: late, missing or turned down under one rule at least, and not alike under both. "
                    "A button goes to the moment at which the load came, or was first missing. What made a load late adds up to its minutes."
                }
                div.sides.heads {
                    @for replay in &found.sides { h3 { (title(replay)) } }
                }
                ol.differing {
                    @for load in &found.differing { (item(found, scenario, load)) }
                }
            }
            @if let Some(others) = others(found) { p { (others) } }
        }
    }
}

fn item(found: &Against, scenario: &Scenario, load: &Differing) -> Markup {
    let sides = both(found, scenario, load);
    html! {
        li {
            h3 {
                (sentences::load(scenario, load.order, load.number)) ", due "
                (sentences::clock(&found.sides[0], load.due()))
            }
            div.sides {
                @for (side, told) in sides.iter().enumerate() {
                    div {
                        p.under { (found.sides[side].rule) }
                        @if let Some(at) = told.at { (jump(&found.sides[side], scenario, at, told.truck)) }
                        p {
                            b { (told.fate) }
                            @if let Some(with) = &told.with { ", " (with) }
                            @if let Fate::Came(came) = load.fates[side] {
                                @if let Some(placed) = came.placed { ", placed " (sentences::clock(&found.sides[side], placed)) }
                            }
                            @if load.fates[side].due().is_some_and(|due| due != load.due()) {
                                ", due " (sentences::clock(&found.sides[side], load.fates[side].due().unwrap_or_default()))
                            }
                            @if !told.because.is_empty() { ": " (told.because) }
                            "."
                        }
                    }
                }
            }
        }
    }
}
