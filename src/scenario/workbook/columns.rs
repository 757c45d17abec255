//! The sheets of lists: which columns each has, what stands at their heads, what may be chosen.

use super::sheet::{Cell, Choices, Sheet};
use crate::scenario::decode::{date_in, number_in_cell, time_in_cell};
use crate::scenario::defaults::{self, Source, Value};
use crate::scenario::tree::{Field, Kind, Node, written};

/// How many there are of what other sheets name.
#[derive(Clone, Copy)]
pub(super) struct Places {
    pub(super) plants: u32,
    pub(super) sites: u32,
}

/// Columns that a sheet has whether they are used or not: list, field, heading, note.
const COLUMNS: [(&str, &str, &str, &str); 37] = [
    ("plants", "name", "Plant", "Each plant once."),
    (
        "plants",
        "hours",
        "Hours",
        "05:00-18:00, every day the same; blank: always open.",
    ),
    ("plants", "bays", "Bays", ""),
    ("plants", "loading", "Loading", ""),
    ("plants", "rack", "Rack", ""),
    (
        "sites",
        "name",
        "Site",
        "Each place where concrete is delivered, once.",
    ),
    ("sites", "parking", "Parking", ""),
    (
        "trucks",
        "name",
        "Truck",
        "A truck, or with a count a group: R and 7 are R1 to R7.",
    ),
    ("trucks", "count", "Count", "Blank: one truck."),
    (
        "trucks",
        "home",
        "Home plant",
        "A plant of the sheet Plants.",
    ),
    ("trucks", "capacity_yd3", "Capacity (yd3)", ""),
    (
        "drivers",
        "name",
        "Driver",
        "A driver, or with a group of trucks as many as it has.",
    ),
    (
        "drivers",
        "trucks",
        "Truck",
        "A truck or group of the sheet Trucks.",
    ),
    (
        "drivers",
        "report",
        "Report time",
        "When the driver reports: 05:15 or 5:15 AM.",
    ),
    ("drivers", "stagger_min", "Stagger (min)", ""),
    ("drivers", "shift_h", "Shift (h)", ""),
    (
        "drivers",
        "class",
        "Class",
        "License: A, B, C or Ordinary; blank: the right one for the truck.",
    ),
    (
        "drivers",
        "pay_per_h",
        "Pay per h",
        "Dollars an hour; blank: money.pay_per_h of the settings.",
    ),
    ("orders", "name", "Order", "Each order once."),
    ("orders", "customer", "Customer", ""),
    ("orders", "site", "Site", "A site of the sheet Sites."),
    (
        "orders",
        "day",
        "Day",
        "Day of the period, the first is 1; or a date, if period.first_day of the settings is one. Blank: the first day.",
    ),
    (
        "orders",
        "first",
        "First load",
        "When the first load is due on site: 07:00 or 7:00 AM.",
    ),
    ("orders", "volume_yd3", "Yd3", "Cubic yards ordered."),
    (
        "orders",
        "spacing_min",
        "Spacing (min)",
        "Minutes between loads on site.",
    ),
    ("orders", "mix", "Mix", "Blank: the same for all."),
    (
        "orders",
        "plant",
        "Usual plant",
        "The plant that usually serves it; only UsualFirst goes by it.",
    ),
    (
        "rules",
        "name",
        "Rule",
        "Each rule once; answers call it so.",
    ),
    ("rules", "about", "About", "One plain sentence."),
    (
        "rules",
        "today",
        "Today",
        "yes for the rule that you follow today; all others are set against it.",
    ),
    (
        "rules",
        "belief",
        "Belief",
        "What a trip is taken to last: by the hour (a quantile is what so many of 10 trips stay within), on empty roads, on the map, as it is now.",
    ),
    (
        "rules",
        "choose",
        "Choose",
        "Which plant and truck take a load.",
    ),
    (
        "rules",
        "plants",
        "Plants",
        "Which plants may serve a load: UsualFirst goes by the order's usual plant.",
    ),
    (
        "rules",
        "gates",
        "Gates",
        "Checks of the driver's hours, several with ; between them.",
    ),
    (
        "rules",
        "lend",
        "Lend",
        "May a truck load at another plant than its own?",
    ),
    (
        "rules",
        "send",
        "Send",
        "As ordered, or not before the site can take the load.",
    ),
    (
        "rules",
        "sequence",
        "Sequence",
        "Which waiting load goes first.",
    ),
];

/// The words that are offered for a decision; numbers in them may be changed.
pub(in crate::scenario) const CHOICES: [(&str, &[&str]); 19] = [
    ("today", &["yes", "no"]),
    (
        "belief",
        &[
            "TimeOfDay",
            "TimeOfDay(quantile: 0.7)",
            "FreeFlow",
            "StraightLine",
            "Live",
        ],
    ),
    ("send", &["AsOrdered", "Paced"]),
    (
        "sequence",
        &["EarliestDue", "RunningPoursFirst", "BiggestFirst"],
    ),
    (
        "choose",
        &[
            "Nearest",
            "LongestIdle",
            "SoonestOnSite",
            "FewestHours",
            "Seniority",
            "Cheapest",
        ],
    ),
    (
        "plants",
        &[
            "Any",
            "NearestFirst(late_min: 20)",
            "UsualFirst(late_min: 20)",
        ],
    ),
    (
        "gates",
        &[
            "LastLoadBy(hours: 11)",
            "HomeWithin(probability: 0.95)",
            "KeepMinutes(minutes: 30)",
            "Reserve(hours: 3)",
        ],
    ),
    ("lend", &["Never", "IfSaves(minutes: 10)", "Always"]),
    ("load_size", &["FullThenRemainder", "Equal"]),
    ("retrieval", &["RestOut", "Fetch", "FetchDriver"]),
    ("long_day", &["no", "yes"]),
    ("shift", &["Rostered", "Staggered", "Matched"]),
    (
        "send_home",
        &[
            "ShiftEnd",
            "FirstInFirstOut(hold: 0)",
            "LongestDay(hold: 0)",
            "Seniority(hold: 0)",
        ],
    ),
    (
        "after_discharge",
        &["HomePlant", "NearestPlant", "MostWork"],
    ),
    ("drivers_word", &["NotAsked", "Heard", "Overruled"]),
    (
        "additions",
        &["TakeAll", "OnlyIfHolds", "FirstFreeTime(hours: 3)"],
    ),
    ("plant_hours", &["AsPosted", "KeptOpen(hours: 2)"]),
    ("redirect", &["Wait", "SameMix(wait_min: 30)"]),
    ("yard.warning", &["Never", "OnAdmixture", "OnEverything"]),
];

/// Decisions that a sheet of rules has besides, used or not.
const MORE_DECISIONS: [&str; 6] = [
    "early_min",
    "bay_wait_min",
    "retrieval",
    "after_discharge",
    "send_home",
    "additions",
];

/// The sheet of a list; none if there is nothing to write.
pub(super) fn list(list: &str, node: &Node, places: Places) -> Option<Sheet> {
    let Kind::List(items) = &node.kind else {
        return None;
    };
    let usual = COLUMNS.iter().filter(|(of, ..)| *of == list);
    let mut keys: Vec<String> = usual.map(|(_, key, ..)| (*key).to_owned()).collect();
    if list == "rules" {
        keys.extend(MORE_DECISIONS.map(str::to_owned));
    }
    let rows: Vec<Vec<(String, Cell)>> = items
        .iter()
        .map(|item| match &item.kind {
            Kind::Fields(fields) => cells(list, fields, ""),
            _ => Vec::new(),
        })
        .collect();
    for (key, _) in rows.iter().flatten() {
        if !keys.contains(key) {
            keys.push(key.clone());
        }
    }
    let heads: Vec<(String, String)> = keys.iter().map(|key| head(list, key)).collect();
    let widths = keys.iter().enumerate().map(|(column, key)| {
        let longest = rows.iter().flatten().filter(|(of, _)| of == key);
        let longest = longest.map(|(_, cell)| length(cell)).max().unwrap_or(0);
        (longest.max(heads[column].0.len()) as f64 + 2.0).clamp(10.0, 44.0)
    });
    let widths: Vec<f64> = widths.collect();
    let heads: Vec<(&str, &str, f64)> = heads
        .iter()
        .zip(widths)
        .map(|((heading, note), width)| (heading.as_str(), note.as_str(), width))
        .collect();
    let mut sheet = Sheet::new(&heads);
    for row in rows {
        let cell = |key: &String| row.iter().find(|(of, _)| of == key);
        let cells = keys
            .iter()
            .map(|key| cell(key).map_or(Cell::Blank, |(_, cell)| cell.clone()));
        sheet.row(cells.collect());
    }
    for (column, key) in keys.iter().enumerate() {
        let range = |sheet: &str, many: u32| {
            Choices::Range(format!("={sheet}!$A$2:$A${}", many.max(1) + 1))
        };
        let offered = CHOICES.iter().find(|(of, _)| list == "rules" && of == key);
        match (list, key.as_str()) {
            _ if offered.is_some() => {
                let offered = offered.map_or(&[][..], |(_, choices)| choices);
                sheet.offer(column, Choices::Written(offered.to_vec()));
            }
            ("orders", "site") => sheet.offer(column, range("Sites", places.sites)),
            ("orders", "plant") | ("trucks", "home") | ("helpers", "at") => {
                sheet.offer(column, range("Plants", places.plants));
            }
            ("drivers" | "helpers", "class") => {
                sheet.offer(column, Choices::Written(vec!["A", "B", "C", "Ordinary"]));
            }
            ("sites", "parking") | ("orders", "outdoor" | "pump") => {
                sheet.offer(column, Choices::Written(vec!["yes", "no"]));
            }
            _ => {}
        }
    }
    Some(sheet)
}

/// What stands over a column, and the note at it.
fn head(list: &str, key: &str) -> (String, String) {
    let column = COLUMNS
        .iter()
        .find(|(of, field, ..)| *of == list && *field == key);
    let mut heading = key.replace('_', " ");
    if let Some(first) = heading.get_mut(0..1) {
        first.make_ascii_uppercase();
    }
    if key.contains('.') {
        heading = key.to_owned();
    }
    let (heading, said) = match column {
        Some((_, _, heading, note)) => ((*heading).to_owned(), (*note).to_owned()),
        None => (heading, String::new()),
    };
    let path = format!("{list}.{key}");
    let Some(entry) = defaults::all().find(|entry| entry.about().path == path) else {
        return (heading, said);
    };
    let about = entry.about();
    let unit = match about.unit {
        "" => String::new(),
        unit => format!(" ({unit})"),
    };
    let usual = match entry.value() {
        Value::Number(number) => format!(" Blank: {number}."),
        Value::Yes(yes) => format!(" Blank: {}.", if yes { "yes" } else { "no" }),
        Value::Words(words) => format!(" Blank: {words}."),
        Value::Spread(spread) => format!(" Blank: about {} on average.", spread.mean()),
        Value::Money(_) | Value::Nothing | Value::Written => String::new(),
    };
    let source = match about.source {
        Source::Off => String::new(),
        source => format!(" {source}."),
    };
    let mut what = about.name.to_owned();
    if let Some(first) = what.get_mut(0..1) {
        first.make_ascii_uppercase();
    }
    let mut note = format!("{what}{unit}.{usual}{source}");
    if !said.is_empty() {
        note = format!("{said}\n{note}");
    }
    (heading, note)
}

/// The fields of an entry as cells; blocks of a rule with dots.
fn cells(list: &str, fields: &[Field], before: &str) -> Vec<(String, Cell)> {
    let mut cells_found = Vec::new();
    for field in fields {
        let key = format!("{before}{}", field.key);
        match &field.value.kind {
            Kind::Fields(inside) if list == "rules" && !inside.is_empty() => {
                cells_found.extend(cells(list, inside, &format!("{key}.")));
            }
            _ => cells_found.push((key, cell(list, &field.key, &field.value))),
        }
    }
    cells_found
}

fn cell(list: &str, key: &str, node: &Node) -> Cell {
    let is_time = matches!(
        key,
        "first" | "report" | "called" | "finish_by" | "from" | "to"
    );
    match &node.kind {
        Kind::Number { value, .. } => Cell::Number(*value),
        Kind::Bool(yes) => Cell::Yes(*yes),
        Kind::Text(text) | Kind::Cell { text, .. } if is_time => match minutes_of(text) {
            Some(minutes) => Cell::Time(minutes),
            None => Cell::Text(text.clone()),
        },
        Kind::Text(text) | Kind::Cell { text, .. } if key == "day" => match date_in(text) {
            Some(date) => Cell::Date(date.year as u16, date.month as u8, date.day as u8),
            None => number_or_text(text),
        },
        // A decimal comma is one in its own table only.
        Kind::Cell { text, comma: true } if !NAMES.contains(&key) && text.contains([',', '.']) => {
            match number_in_cell(node) {
                Some(number) => Cell::Number(number),
                None => Cell::Text(text.clone()),
            }
        }
        Kind::Cell { text, .. } => number_or_text(text),
        Kind::Text(text) => Cell::Text(text.clone()),
        Kind::List(spans) if list == "plants" && key == "hours" => {
            Cell::Text(hours(spans).unwrap_or_else(|| written(node)))
        }
        // Several names in one cell.
        Kind::List(items) if items.iter().all(|item| item.text().is_some()) && items.len() > 1 => {
            let names: Vec<&str> = items.iter().filter_map(Node::text).collect();
            match names.iter().any(|name| name.contains([';', '(', '['])) {
                true => Cell::Text(written(node)),
                false => Cell::Text(names.join("; ")),
            }
        }
        _ => Cell::Text(written(node)),
    }
}

/// Fields that hold names, which may look like numbers.
const NAMES: [&str; 7] = ["name", "customer", "site", "mix", "trucks", "home", "plant"];

/// A number only if it is written as numbers are: `007` is a name.
fn number_or_text(text: &str) -> Cell {
    match text.parse::<f64>() {
        Ok(number) if number.to_string() == text => Cell::Number(number),
        _ => Cell::Text(text.to_owned()),
    }
}

fn minutes_of(text: &str) -> Option<u32> {
    let clock = time_in_cell(text)?;
    let (hour, minute) = clock.split_once(':')?;
    let minutes = hour.parse::<u32>().ok()? * 60 + minute.parse::<u32>().ok()?;
    (minutes <= 1_440).then_some(minutes)
}

/// One span, every day the same: `05:00-18:00`.
fn hours(spans: &[Node]) -> Option<String> {
    let [span] = spans else { return None };
    let Kind::Fields(fields) = &span.kind else {
        return None;
    };
    let [open, close] = &fields[..] else {
        return None;
    };
    (open.key == "open" && close.key == "close")
        .then(|| Some(format!("{}-{}", open.value.text()?, close.value.text()?)))
        .flatten()
}

/// The minutes between places: places down, plants across, a column for each band of the day where all ways of a plant have the same.
pub(super) fn minutes(node: &Node) -> Option<Sheet> {
    let Kind::Fields(plants) = &node.kind else {
        return None;
    };
    let mut places: Vec<&str> = Vec::new();
    let mut columns: Vec<(String, Vec<(&str, Cell)>)> = Vec::new();
    for plant in plants {
        let Kind::Fields(ways) = &plant.value.kind else {
            return None;
        };
        for way in ways {
            if !places.contains(&way.key.as_str()) {
                places.push(&way.key);
            }
        }
        let banded: Vec<(&str, Vec<(u32, f64)>)> = ways
            .iter()
            .filter_map(|way| Some((way.key.as_str(), steps(&way.value)?)))
            .collect();
        let times = |steps: &[(u32, f64)]| steps.iter().map(|step| step.0).collect::<Vec<_>>();
        let same = banded
            .windows(2)
            .all(|two| times(&two[0].1) == times(&two[1].1));
        let all_day = |way: &&Field| !same || steps(&way.value).is_none();
        let whole: Vec<(&str, Cell)> = ways
            .iter()
            .filter(all_day)
            .map(|way| (way.key.as_str(), cell("minutes", "", &way.value)))
            .collect();
        if !whole.is_empty() || banded.is_empty() {
            columns.push((plant.key.clone(), whole));
        }
        let Some((_, first)) = banded.first().filter(|_| same) else {
            continue;
        };
        let last = first.len() - 1;
        for (at, (from, _)) in first.iter().enumerate() {
            // Outside of all bands the quickest hold anyway.
            let quickest = |steps: &[(u32, f64)]| {
                let least = steps.iter().map(|step| step.1);
                steps[at].1 == least.fold(f64::INFINITY, f64::min)
            };
            if (at == 0 || at == last)
                && last > 0
                && banded.iter().all(|(_, steps)| quickest(steps))
            {
                continue;
            }
            let to = first.get(at + 1).map_or(1_440, |next| next.0);
            let clock = |minutes: u32| format!("{:02}:{:02}", minutes / 60, minutes % 60);
            let values = banded.iter();
            columns.push((
                format!("{} {}-{}", plant.key, clock(*from), clock(to)),
                values
                    .map(|(place, steps)| (*place, Cell::Number(steps[at].1)))
                    .collect(),
            ));
        }
    }
    let note = "Minutes from this plant to the place of the row on the empty road; (18, 22) for out and back. A heading may carry a band of \
                the day, \"North 05:00-07:00\": outside of all bands the quickest hold.";
    let mut heads: Vec<(&str, &str, f64)> = vec![(
        "Place",
        "Sites, and plants for the way between plants, each pair once.",
        24.0,
    )];
    heads.extend(
        columns
            .iter()
            .map(|(heading, _)| (heading.as_str(), note, 14.0_f64.max(heading.len() as f64))),
    );
    let mut sheet = Sheet::new(&heads);
    for place in places {
        let mut row = vec![Cell::Text(place.to_owned())];
        row.extend(columns.iter().map(|(_, ways)| {
            let way = ways.iter().find(|(to, _)| *to == place);
            way.map_or(Cell::Blank, |(_, cell)| cell.clone())
        }));
        sheet.row(row);
    }
    Some(sheet)
}

/// `[("05:00", 12), ("07:00", 17)]`, minutes since midnight.
fn steps(node: &Node) -> Option<Vec<(u32, f64)>> {
    let Kind::List(items) = &node.kind else {
        return None;
    };
    let step = |item: &Node| {
        let Kind::List(parts) = &item.kind else {
            return None;
        };
        let [time, minutes] = &parts[..] else {
            return None;
        };
        let minutes = number_in_cell(minutes)?;
        Some((minutes_of(time.text()?)?, minutes))
    };
    items.iter().map(step).collect()
}

fn length(cell: &Cell) -> usize {
    match cell {
        Cell::Text(text) => text.chars().count(),
        Cell::Date(..) => 10,
        _ => 6,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::decided;

    /// What is offered for a decision can be read behind it.
    #[test]
    fn choices_are_those_of_rules() {
        for (field, choices) in CHOICES.iter().filter(|(field, _)| *field != "today") {
            for choice in *choices {
                let value = match *field {
                    "gates" => format!("[{choice}]"),
                    "long_day" => (*choice == "yes").to_string(),
                    _ => (*choice).to_owned(),
                };
                if let Err(faults) = decided("test", field, &value) {
                    panic!("{field} {choice}: {faults}");
                }
            }
        }
    }
}
