//! A rule as a scenario writes it: what differs from the usual, in the order and the words of the reader.

use super::{hours, loads, trucks, yard};
use crate::dispatch::{
    Additions, Fetch, Gate, Lend, Override, PlantHours, Plants, ReadAfter, Redirect, Retrieval,
    Rule, SendHome, Shift, YardPractice,
};
use crate::roads::Belief;
use crate::scenario::tree::quoted;
use crate::units::measure::{self, Quantity};

/// The rule as text to paste into the list of rules of a scenario: what it decides as usual is left out. Read again it is the same
/// rule, whether it is today's apart.
pub fn rule_text(rule: &Rule) -> String {
    let lines = as_written(rule);
    let mut text = format!("(\n    name: {},\n", quoted(&rule.name));
    if !rule.about.is_empty() {
        text += &format!("    about: {},\n", quoted(&rule.about));
    }
    for (field, value) in lines {
        text += &format!("    {}: {value},\n", measure::key(field).0);
    }
    text + "),\n"
}

/// What the rule decides otherwise than usual: fields and what is written behind them.
fn as_written(rule: &Rule) -> Vec<(&'static str, String)> {
    let usual = Rule::USUAL;
    let mut fields = Fields(Vec::new());
    fields.add("belief", belief(rule.belief), belief(usual.belief));
    fields.named("send", &loads::SENDS, rule.send, usual.send);
    fields.number("early_min", rule.early_min, usual.early_min);
    fields.number("bay_wait_min", rule.bay_wait_min, usual.bay_wait_min);
    fields.add(
        "bay_queue_seen",
        rule.bay_queue_seen.to_string(),
        usual.bay_queue_seen.to_string(),
    );
    fields.number("spacing_factor", rule.spacing_factor, usual.spacing_factor);
    fields.named("sequence", &loads::SEQUENCES, rule.sequence, usual.sequence);
    fields.named("choose", &trucks::CHOICES, rule.choose, usual.choose);
    fields.add("plants", plants(rule.plants), plants(usual.plants));
    fields.add("gates", gates(&rule.gates), gates(&usual.gates));
    let overrides = |value| match value {
        Override::Never => "Never".to_owned(),
        Override::IfLate { minutes } => format!("IfLate(minutes: {minutes})"),
        Override::Share { share } => format!("Share({share})"),
    };
    fields.add(
        "override_gates",
        overrides(rule.override_gates),
        overrides(usual.override_gates),
    );
    fields.named(
        "drivers_word",
        &hours::DRIVERS_WORDS,
        rule.drivers_word,
        usual.drivers_word,
    );
    let lend = |value| match value {
        Lend::Never => "Never".to_owned(),
        Lend::IfSaves { minutes } => format!("IfSaves(minutes: {minutes})"),
        Lend::Always => "Always".to_owned(),
    };
    fields.add("lend", lend(rule.lend), lend(usual.lend));
    fields.named(
        "after_discharge",
        &trucks::AFTER_DISCHARGES,
        rule.after_discharge,
        usual.after_discharge,
    );
    fields.named(
        "load_size",
        &loads::LOAD_SIZES,
        rule.load_size,
        usual.load_size,
    );
    let (room, margin) = (rule.room_kept_yd3, rule.weight_margin_lb);
    fields.measured(Quantity::Volume, "room_kept_yd3", room, usual.room_kept_yd3);
    fields.measured(
        Quantity::Weight,
        "weight_margin_lb",
        margin,
        usual.weight_margin_lb,
    );
    fields.add(
        "retrieval",
        retrieval(&rule.retrieval),
        retrieval(&usual.retrieval),
    );
    let yard = yard_practice(&rule.yard);
    if !yard.is_empty() {
        fields.0.push(("yard", format!("({})", yard.join(", "))));
    }
    fields.add(
        "long_day",
        rule.long_day.to_string(),
        usual.long_day.to_string(),
    );
    fields.add("shift", shift(rule.shift), shift(usual.shift));
    fields.add(
        "send_home",
        send_home(rule.send_home),
        send_home(usual.send_home),
    );
    let additions = |value| match value {
        Additions::TakeAll => "TakeAll".to_owned(),
        Additions::OnlyIfHolds => "OnlyIfHolds".to_owned(),
        Additions::FirstFreeTime { hours } => format!("FirstFreeTime(hours: {hours})"),
    };
    fields.add(
        "additions",
        additions(rule.additions),
        additions(usual.additions),
    );
    let plant_hours = |value| match value {
        PlantHours::AsPosted => "AsPosted".to_owned(),
        PlantHours::KeptOpen { hours } => format!("KeptOpen(hours: {hours})"),
    };
    fields.add(
        "plant_hours",
        plant_hours(rule.plant_hours),
        plant_hours(usual.plant_hours),
    );
    let redirect = |value| match value {
        Redirect::Wait => "Wait".to_owned(),
        Redirect::SameMix { wait_min } => format!("SameMix(wait_min: {wait_min})"),
    };
    fields.add(
        "redirect",
        redirect(rule.redirect),
        redirect(usual.redirect),
    );
    fields.0
}

/// Fields that are not as usual.
struct Fields(Vec<(&'static str, String)>);

impl Fields {
    fn add(&mut self, field: &'static str, written: String, usual: String) {
        if written != usual {
            self.0.push((field, written));
        }
    }

    fn number(&mut self, field: &'static str, value: f64, usual: f64) {
        self.add(field, value.to_string(), usual.to_string());
    }

    /// What is another number in SI.
    fn measured(&mut self, quantity: Quantity, field: &'static str, value: f64, usual: f64) {
        let told = |us| measure::rounded(quantity, us, 6).to_string();
        self.add(field, told(value), told(usual));
    }

    /// A choice by its name in the reader's table.
    fn named<T: PartialEq>(
        &mut self,
        field: &'static str,
        table: &[(&'static str, T)],
        value: T,
        usual: T,
    ) {
        self.add(
            field,
            name_of(table, &value).to_owned(),
            name_of(table, &usual).to_owned(),
        );
    }
}

/// # Panics
/// If the reader could not have read it either.
fn name_of<T: PartialEq>(table: &[(&'static str, T)], value: &T) -> &'static str {
    let row = table.iter().find(|(_, known)| known == value);
    row.expect("every choice can be read").0
}

fn belief(value: Belief) -> String {
    match value {
        Belief::TimeOfDay { quantile: None } => "TimeOfDay".to_owned(),
        Belief::TimeOfDay {
            quantile: Some(quantile),
        } => format!("TimeOfDay(quantile: {quantile})"),
        Belief::FreeFlow => "FreeFlow".to_owned(),
        Belief::StraightLine => "StraightLine".to_owned(),
        Belief::Live => "Live".to_owned(),
    }
}

fn plants(value: Plants) -> String {
    match value {
        Plants::Any => "Any".to_owned(),
        Plants::NearestFirst { late_min } => format!("NearestFirst(late_min: {late_min})"),
        Plants::UsualFirst { late_min } => format!("UsualFirst(late_min: {late_min})"),
    }
}

fn gates(gates: &[Gate]) -> String {
    let gates: Vec<String> = gates
        .iter()
        .map(|gate| match gate {
            Gate::LastLoadBy { hours } => format!("LastLoadBy(hours: {hours})"),
            Gate::HomeWithin { probability } => format!("HomeWithin(probability: {probability})"),
            Gate::KeepMinutes { minutes } => format!("KeepMinutes(minutes: {minutes})"),
            Gate::Reserve { hours } => format!("Reserve(hours: {hours})"),
        })
        .collect();
    format!("[{}]", gates.join(", "))
}

fn retrieval(value: &Retrieval) -> String {
    let with = |name: &str, fetch: &Fetch| {
        let mut fields = Vec::new();
        if let Some((from, to)) = fetch.not_between {
            fields.push(format!("not_between: (\"{from}\", \"{to}\")"));
        }
        let flags = [
            ("foreseen", fetch.foreseen),
            ("waits", fetch.waits),
            ("own_drivers", fetch.own_drivers),
        ];
        let flags = flags.iter().filter(|(_, set)| *set);
        fields.extend(flags.map(|(field, _)| format!("{field}: true")));
        if fields.is_empty() {
            name.to_owned()
        } else {
            format!("{name}({})", fields.join(", "))
        }
    };
    match value {
        Retrieval::RestOut => "RestOut".to_owned(),
        Retrieval::Fetch(fetch) => with("Fetch", fetch),
        Retrieval::FetchDriver(fetch) => with("FetchDriver", fetch),
    }
}

fn yard_practice(practice: &YardPractice) -> Vec<String> {
    let usual = YardPractice::USUAL;
    let mut fields = Fields(Vec::new());
    fields.named("warning", &yard::WARNINGS, practice.warning, usual.warning);
    match practice.read_after {
        None => {}
        Some(ReadAfter::Minutes(minutes)) => {
            fields.0.push(("read_after", format!("Minutes({minutes})")));
        }
        Some(ReadAfter::Revolutions(turns)) => {
            fields
                .0
                .push(("read_after", format!("Revolutions({turns})")));
        }
    }
    fields.named(
        "water_by",
        &yard::WATER_BY,
        practice.water_by,
        usual.water_by,
    );
    let most = practice.most_gal_yd3;
    fields.measured(Quantity::Dose, "most_gal_yd3", most, usual.most_gal_yd3);
    fields.add("probe", practice.probe.to_string(), usual.probe.to_string());
    fields.named("hrwr", &yard::HRWR, practice.hrwr, usual.hrwr);
    let fields = fields.0.into_iter();
    fields
        .map(|(field, value)| format!("{}: {value}", measure::key(field).0))
        .collect()
}

fn shift(value: Shift) -> String {
    match value {
        Shift::Rostered => "Rostered".to_owned(),
        Shift::Staggered { minutes: None } => "Staggered".to_owned(),
        Shift::Staggered {
            minutes: Some(minutes),
        } => format!("Staggered(minutes: {minutes})"),
        Shift::Matched { spare } => format!("Matched(spare: {spare})"),
    }
}

fn send_home(value: SendHome) -> String {
    match value {
        SendHome::ShiftEnd => "ShiftEnd".to_owned(),
        SendHome::FirstInFirstOut { hold } => format!("FirstInFirstOut(hold: {hold})"),
        SendHome::LongestDay { hold } => format!("LongestDay(hold: {hold})"),
        SendHome::Seniority { hold } => format!("Seniority(hold: {hold})"),
    }
}
