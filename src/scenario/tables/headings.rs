//! Which field a heading stands for: its name, or what people write over such a column.

use super::grid::Grid;
use crate::dispatch::Habit;
use crate::scenario::defaults;
use crate::units::measure;

/// Headings that stand for a field, by the list that they are found in; "" for any. Common practice, no source.
const CALLED: [(&str, &str, &[&str]); 85] = [
    (
        "orders",
        "name",
        &["order", "order no", "order number", "ticket group", "pour"],
    ),
    ("orders", "day", &["date", "delivery date"]),
    (
        "orders",
        "first",
        &[
            "first load",
            "start",
            "start time",
            "time",
            "on site",
            "first on site",
        ],
    ),
    (
        "orders",
        "volume_yd3",
        &[
            "yd3",
            "yd",
            "yds",
            "yards",
            "cy",
            "volume",
            "quantity",
            "cubic yards",
        ],
    ),
    (
        "orders",
        "load_yd3",
        &["load size", "load", "yd3 per load", "yards per load"],
    ),
    (
        "orders",
        "spacing_min",
        &["spacing", "interval", "minutes apart", "truck spacing"],
    ),
    ("orders", "customer", &["client", "contractor", "account"]),
    (
        "orders",
        "site",
        &["job", "jobsite", "job site", "delivery address"],
    ),
    ("orders", "mix", &["mix design", "product", "mix code"]),
    (
        "orders",
        "plant",
        &["usual plant", "home plant", "from plant", "batch plant"],
    ),
    ("orders", "called", &["called in", "call time"]),
    (
        "orders",
        "pour_rate_yd3_h",
        &["rate", "yd3 per hour", "yards per hour", "pour rate"],
    ),
    ("orders", "setup_min", &["setup", "set up"]),
    ("orders", "gap_min", &["gap", "longest gap"]),
    ("orders", "late_min", &["tolerance", "late"]),
    ("drivers", "name", &["driver"]),
    (
        "drivers",
        "trucks",
        &["truck", "truck no", "truck number", "unit"],
    ),
    (
        "drivers",
        "report",
        &["report time", "start", "start time", "clock in", "on duty"],
    ),
    ("drivers", "shift_h", &["shift", "shift hours"]),
    (
        "drivers",
        "guaranteed_h",
        &[
            "guaranteed",
            "guaranteed hours",
            "guarantee",
            "minimum hours",
        ],
    ),
    (
        "drivers",
        "class",
        &[
            "license",
            "licence",
            "cdl",
            "license class",
            "licence class",
            "cdl class",
        ],
    ),
    (
        "drivers",
        "pay_per_h",
        &[
            "pay",
            "pay rate",
            "wage",
            "wages",
            "hourly rate",
            "hourly wage",
            "hourly pay",
            "rate",
        ],
    ),
    (
        "drivers",
        "hauler_per_h",
        &["hauler", "hauler rate", "hired rate"],
    ),
    (
        "drivers",
        "hauler_least_h",
        &["hauler minimum", "minimum hire"],
    ),
    ("drivers", "endorsements", &["endorsement"]),
    ("drivers", "restrictions", &["restriction"]),
    ("drivers", "days", &["weekdays", "work days"]),
    ("drivers", "rule_book", &["rules", "hours rules"]),
    (
        "trucks",
        "name",
        &["truck", "truck no", "truck number", "unit"],
    ),
    ("trucks", "home", &["plant", "home plant", "yard"]),
    (
        "trucks",
        "capacity_yd3",
        &["capacity", "drum", "yd3", "yards"],
    ),
    ("trucks", "empty_lb", &["empty weight", "tare"]),
    (
        "trucks",
        "legal_gross_lb",
        &["legal gross", "gross weight", "gross limit"],
    ),
    ("plants", "name", &["plant"]),
    ("rules", "name", &["rule", "decision"]),
    ("sites", "name", &["site", "job", "jobsite", "job site"]),
    ("helpers", "name", &["helper"]),
    ("standing", "name", &["driver", "driver name"]),
    ("standing", "truck", &["truck no", "truck number", "unit"]),
    ("standing", "doing", &["status", "state", "what"]),
    ("standing", "since", &["time", "since when", "status time"]),
    ("standing", "at", &["where", "place", "location"]),
    ("standing", "order", &["order no", "order number", "pour"]),
    ("standing", "load", &["load no", "load number"]),
    (
        "standing",
        "yd3",
        &["yd", "yards", "cy", "cubic yards", "volume", "load size"],
    ),
    ("standing", "plant", &["loaded at", "plant name"]),
    (
        "standing",
        "batched",
        &["batch time", "ticket time", "loaded"],
    ),
    (
        "standing",
        "reported",
        &["report", "report time", "in", "clock in"],
    ),
    ("standing", "driven_h", &["driven", "hours driven"]),
    (
        "standing",
        "since_break_h",
        &["since break", "driven since break"],
    ),
    ("standing", "break_over", &["break", "last break"]),
    (
        "standing",
        "week_h",
        &["week", "hours this week", "week hours"],
    ),
    (
        "standing",
        "next_order",
        &["next", "next pour", "promised to"],
    ),
    ("standing", "next_load", &["next load no"]),
    ("standing", "next_yd3", &["next yards", "next cy"]),
    ("standing", "next_plant", &["loads next at"]),
    ("standing", "to", &["heading for", "going to"]),
    ("standing", "from", &["coming from"]),
    ("standing", "until", &["expected back", "back at", "eta"]),
    ("standing", "left", &["left at", "drive began"]),
    ("standing", "drum_turns", &["drum turning"]),
    ("standing", "resting", &["off duty there"]),
    ("standing", "day", &["day of period"]),
    (
        "tickets",
        "number",
        &["ticket", "ticket no", "ticket number"],
    ),
    ("tickets", "date", &["ticket date", "delivery date"]),
    ("tickets", "plant", &["plant no", "plant name", "loaded at"]),
    ("tickets", "order", &["order no", "order number", "pour"]),
    ("tickets", "load", &["load no", "load number"]),
    (
        "tickets",
        "site",
        &["job", "jobsite", "job site", "delivery address"],
    ),
    ("tickets", "mix", &["mix design", "product", "mix code"]),
    (
        "tickets",
        "yd3",
        &[
            "yd",
            "yds",
            "yards",
            "cy",
            "volume",
            "quantity",
            "qty",
            "cubic yards",
            "load size",
            "batched",
        ],
    ),
    ("tickets", "placed_yd3", &["yd3 placed", "delivered yd3"]),
    ("tickets", "truck", &["truck no", "truck number", "unit"]),
    ("tickets", "driver", &["driver name"]),
    (
        "tickets",
        "ticketed",
        &[
            "ticket time",
            "printed",
            "time printed",
            "start loading",
            "loading start",
            "batch time",
        ],
    ),
    (
        "tickets",
        "loaded",
        &["end loading", "loading end", "end of loading"],
    ),
    (
        "tickets",
        "left_plant",
        &[
            "leave plant",
            "departed plant",
            "departed",
            "to job",
            "to site",
        ],
    ),
    (
        "tickets",
        "on_site",
        &[
            "on job",
            "arrived",
            "arrival",
            "at job",
            "at site",
            "arrived on site",
        ],
    ),
    (
        "tickets",
        "unload_start",
        &[
            "start unloading",
            "begin unloading",
            "start pour",
            "unloading",
        ],
    ),
    (
        "tickets",
        "unload_end",
        &[
            "end unloading",
            "finish unloading",
            "end pour",
            "unloaded",
            "end of unloading",
        ],
    ),
    (
        "tickets",
        "left_site",
        &["leave site", "left job", "leave job", "departed site"],
    ),
    (
        "tickets",
        "back_at_plant",
        &["at plant", "back", "arrived plant", "returned", "in yard"],
    ),
    ("tickets", "back_at", &["returned to", "return plant"]),
    ("tickets", "day", &["day no", "day number"]),
    ("", "count", &["number"]),
];

/// What people write over a column of a scenario in SI besides. Common practice, no source.
const IN_SI: [(&str, &[&str]); 4] = [
    ("volume_yd3", &["m3", "cubic meters", "cubic metres", "cbm"]),
    ("load_yd3", &["m3 per load"]),
    ("pour_rate_yd3_h", &["m3 per hour", "m3 h"]),
    ("capacity_yd3", &["m3"]),
];

/// Whether a heading speaks of US units.
fn is_us(name: &str) -> bool {
    let us = ["yd3", "yd", "yds", "yards", "cy"];
    name.split(' ').any(|word| us.contains(&word))
}

/// The same of fields that no cell of a table holds.
const BLOCKS: [(&str, &str, &[&str]); 9] = [
    (
        "trucks",
        "needs",
        &["license", "licence", "class", "cdl", "endorsements"],
    ),
    ("plants", "at", &["location", "position", "place"]),
    ("plants", "hours", &["open", "opening hours"]),
    ("sites", "at", &["location", "position", "place"]),
    (
        "money",
        "pay_per_h",
        &[
            "wage",
            "wages",
            "pay",
            "hourly wage",
            "hourly pay",
            "driver",
        ],
    ),
    ("money", "overtime_factor", &["overtime", "overtime rate"]),
    (
        "money",
        "truck_per_driven_h",
        &["fuel", "driving", "truck cost"],
    ),
    ("money", "material_per_yd3", &["material", "materials"]),
    (
        "money",
        "late_per_load",
        &["penalty", "late penalty", "lateness"],
    ),
];

/// The field that a word stands for in a list or block, if it is not its name.
pub(in crate::scenario) fn meant(list: &str, word: &str) -> Option<&'static str> {
    let word = plain(word);
    let both = CALLED.iter().chain(&BLOCKS);
    let mut lines = both.filter(|(in_list, ..)| *in_list == list);
    let line = lines.find(|(_, _, names)| names.iter().any(|name| plain(name) == word));
    line.map(|(_, field, _)| *field)
}

/// Fields of lists that have no default.
const FORM: [(&str, &str); 42] = [
    ("orders", "name"),
    ("orders", "customer"),
    ("orders", "day"),
    ("orders", "first"),
    ("orders", "site"),
    ("orders", "volume_yd3"),
    ("orders", "spacing_min"),
    ("orders", "pour_rate_yd3_h"),
    ("orders", "mix"),
    ("orders", "plant"),
    ("drivers", "name"),
    ("drivers", "count"),
    ("drivers", "trucks"),
    ("drivers", "report"),
    ("drivers", "days"),
    ("drivers", "rule_book"),
    ("drivers", "seniority"),
    ("drivers", "pay_per_h"),
    ("drivers", "guaranteed_h"),
    ("drivers", "hauler_per_h"),
    ("trucks", "name"),
    ("trucks", "count"),
    ("trucks", "home"),
    ("plants", "name"),
    ("plants", "at"),
    ("plants", "mixes"),
    ("sites", "name"),
    ("sites", "at"),
    ("helpers", "name"),
    ("helpers", "at"),
    ("helpers", "from"),
    ("helpers", "to"),
    ("drawn", "name"),
    ("drawn", "per_day"),
    ("drawn", "first"),
    ("drawn", "site"),
    ("endless", "name"),
    ("worlds", "name"),
    ("rules", "name"),
    ("rules", "about"),
    ("rules", "today"),
    ("rules", "after_discharge"),
];

/// The field of each column; none for a column without a heading. A heading that stands for none is itself the key: no reader asks for it,
/// and it is told as ignored.
pub(super) fn fields(list: &str, grid: &Grid, columns: &[(String, String)]) -> Vec<Option<String>> {
    // What the scenario says of a column goes before what it is called.
    let given = |heading: &str| {
        columns
            .iter()
            .find(|(from, _)| plain(from) == plain(heading))
    };
    let headings = grid.headings();
    let mut taken: Vec<String> = headings
        .filter_map(|heading| Some(given(heading)?.1.clone()))
        .collect();
    let headings = grid.headings();
    headings
        .map(|heading| {
            if heading.is_empty() {
                return None;
            }
            if let Some((_, field)) = given(heading) {
                return Some(field.clone());
            }
            let field = called(list, heading);
            // The first of two columns for one field stands for it; the others are told as not read.
            let mut other = 1;
            let mut key = field.clone();
            while taken.contains(&key) {
                other += 1;
                key = format!("{heading} ({other})");
            }
            let field = key;
            taken.push(field.clone());
            Some(field)
        })
        .collect()
}

/// Whether a heading stands for a field of a list, as far as is known before it is read.
pub(super) fn is_known(list: &str, heading: &str) -> bool {
    let plain_heading = plain(heading);
    let field = plain_heading.replace(' ', "_");
    let usual = defaults::all().any(|entry| {
        let path = entry.about().path;
        path.strip_prefix(list)
            .and_then(|rest| rest.strip_prefix('.'))
            == Some(field.as_str())
    });
    usual
        || FORM.contains(&(list, field.as_str()))
        || list == "rules"
            && Habit::ALL
                .iter()
                .any(|habit| habit.key() == field || habit.key() == heading)
        || CALLED.iter().any(|(of, name, names)| {
            *of == list
                && (plain(name) == plain_heading
                    || names.iter().any(|name| plain(name) == plain_heading))
        })
}

fn called(list: &str, heading: &str) -> String {
    let plain_heading = plain(heading);
    let named = CALLED
        .iter()
        .filter(|(in_list, ..)| *in_list == list || in_list.is_empty());
    for (_, field, names) in named {
        let key = measure::key(field).0;
        // Where SI is spoken, nobody's yards are taken for cubic meters.
        let names = names
            .iter()
            .filter(|name| !measure::is_si() || !is_us(name));
        let in_si = IN_SI
            .iter()
            .filter(|(of, _)| measure::is_si() && of == field);
        let mut names = names.chain(in_si.flat_map(|(_, names)| *names));
        if plain(&key) == plain_heading || names.any(|name| plain(name) == plain_heading) {
            return key.into_owned();
        }
    }
    if heading.contains('.') && list == "rules" {
        return heading.to_lowercase().replace(' ', "_");
    }
    // `Spacing (min)`, `Setup min`: a field's name as people write it.
    plain_heading.replace(' ', "_")
}

/// Lower case letters and digits with single blanks between them: `Spacing (min)` is `spacing min`.
fn plain(heading: &str) -> String {
    let lower = heading
        .to_lowercase()
        .replace('³', "3")
        .replace("$/h", "pay per h");
    let words = lower.split(|c: char| !c.is_alphanumeric());
    let words: Vec<&str> = words.filter(|word| !word.is_empty()).collect();
    words.join(" ")
}
