//! Which field a heading stands for: its name, or what people write over such a column.

use super::grid::Grid;

/// Headings that stand for a field, by the list that they are found in; "" for any. Common practice, no source.
const CALLED: [(&str, &str, &[&str]); 51] = [
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
    ("drivers", "licence", &["license", "class", "cdl"]),
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
    ("sites", "name", &["site", "job", "jobsite", "job site"]),
    ("helpers", "name", &["helper"]),
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
            // The first of two columns for one field stands for it.
            let field = if taken.contains(&field) {
                heading.to_owned()
            } else {
                field
            };
            taken.push(field.clone());
            Some(field)
        })
        .collect()
}

fn called(list: &str, heading: &str) -> String {
    let plain_heading = plain(heading);
    let named = CALLED
        .iter()
        .filter(|(in_list, ..)| *in_list == list || in_list.is_empty());
    for (_, field, names) in named {
        if plain(field) == plain_heading || names.iter().any(|name| plain(name) == plain_heading) {
            return (*field).to_owned();
        }
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
