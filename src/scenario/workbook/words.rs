//! What stands at the heads of columns, and what may be chosen in them.

use crate::scenario::defaults::{self, Source, Value};
use crate::scenario::meaning;

/// Columns that a sheet has whether they are used or not: list, field, heading, note.
pub(super) const COLUMNS: [(&str, &str, &str, &str); 37] = [
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
pub(super) const CHOICES: [(&str, &[&str]); 19] = [
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
pub(super) const MORE_DECISIONS: [&str; 6] = [
    "early_min",
    "bay_wait_min",
    "retrieval",
    "after_discharge",
    "send_home",
    "additions",
];

/// What stands over a column, and the note at it.
pub(super) fn head(list: &str, key: &str) -> (String, String) {
    let column = COLUMNS
        .iter()
        .find(|(of, field, ..)| *of == list && *field == key);
    let heading = match key.contains('.') {
        true => key.to_owned(),
        false => capital(&key.replace('_', " ")),
    };
    let (heading, said) = match column {
        Some((_, _, heading, note)) => ((*heading).to_owned(), (*note).to_owned()),
        None => (heading, String::new()),
    };
    let path = format!("{list}.{key}");
    let Some(entry) = defaults::all().find(|entry| entry.about().path == path) else {
        let said = match meaning(&path) {
            Some(what) if said.is_empty() => format!("{}.", capital(what)),
            _ => said,
        };
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
    let mut note = format!("{}{unit}.{usual}{source}", capital(about.name));
    if !said.is_empty() {
        note = format!("{said}\n{note}");
    }
    (heading, note)
}

/// With a capital at its beginning.
fn capital(text: &str) -> String {
    let mut text = text.to_owned();
    if let Some(first) = text.get_mut(0..1) {
        first.make_ascii_uppercase();
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::{decided, outline};

    /// Every choice that a reader knows of such a decision is offered.
    #[test]
    fn no_choice_is_left_out() {
        let scenario = outline();
        let mut told = 0;
        for field in scenario.all_fields() {
            let offered = CHOICES
                .iter()
                .find(|(of, _)| field.path == format!("rules.{of}"));
            for choice in offered.iter().flat_map(|_| &field.takes.choices) {
                let names = offered.map_or(&[][..], |(_, choices)| choices);
                let is_it = |text: &&str| text.split('(').next() == Some(choice.name);
                assert!(names.iter().any(is_it), "{} of {}", choice.name, field.path);
                told += 1;
            }
        }
        assert!(told > 40, "{told}");
    }

    /// What is offered for a decision can be read behind it.
    #[test]
    fn choices_are_those_of_rules() {
        for (field, choices) in CHOICES.iter().filter(|(field, _)| *field != "today") {
            for choice in *choices {
                let value = match *field {
                    "gates" => format!("[{choice}]"),
                    "long_day" => (*choice == "yes").to_string(),
                    // Elsewhere only where trucks are lent.
                    "after_discharge" => format!("{choice}, lend: Always"),
                    _ => (*choice).to_owned(),
                };
                if let Err(faults) = decided("test", field, &value) {
                    panic!("{field} {choice}: {faults}");
                }
            }
        }
    }
}
