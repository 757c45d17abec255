//! Decisions of a rule that most rules leave as they are: said only where they differ from the usual.

use super::words::{counted, plain, share};
use crate::dispatch::{
    Additions, AfterDischarge, DriversWord, Override, PlantHours, Redirect, Rule, SendHome, Shift,
};

pub(super) fn parts(rule: &Rule) -> Vec<String> {
    let parts = [
        shift(rule.shift),
        send_home(rule.send_home),
        after_discharge(rule.after_discharge),
        override_gates(rule.override_gates),
        drivers_word(rule.drivers_word),
        additions(rule.additions),
        plant_hours(rule.plant_hours),
        redirect(rule.redirect),
    ];
    parts.into_iter().flatten().collect()
}

fn shift(shift: Shift) -> Option<String> {
    match shift {
        Shift::Rostered => None,
        Shift::Staggered { minutes: None } => {
            Some("drivers report evenly between the first and the last rostered report".into())
        }
        Shift::Staggered {
            minutes: Some(minutes),
        } => Some(format!(
            "drivers report {} min apart from the first report on",
            plain(minutes)
        )),
        Shift::Matched { spare } => Some(format!(
            "drivers are called the day before as the known orders need them{}",
            besides(spare)
        )),
    }
}

fn besides(drivers: u32) -> String {
    if drivers == 0 {
        return String::new();
    }
    format!(
        ", and {} besides",
        counted(drivers as usize, "driver", "drivers")
    )
}

fn send_home(send_home: SendHome) -> Option<String> {
    let first = match send_home {
        SendHome::ShiftEnd => return None,
        SendHome::FirstInFirstOut { .. } => "longest idle first",
        SendHome::LongestDay { .. } => "earliest to report first",
        SendHome::Seniority { .. } => "the lowest seniority first",
    };
    let hold = match send_home.hold() {
        None | Some(0) => String::new(),
        Some(hold) => format!(", {hold} held until the plant closes"),
    };
    Some(format!(
        "drivers not needed any more go home, {first}{hold}"
    ))
}

fn after_discharge(after: AfterDischarge) -> Option<String> {
    let to = match after {
        AfterDischarge::HomePlant => return None,
        AfterDischarge::NearestPlant => "the nearest plant",
        AfterDischarge::MostWork => "the plant with the most waiting volume per truck",
    };
    Some(format!("empty trucks head for {to}"))
}

fn override_gates(when: Override) -> Option<String> {
    match when {
        Override::Never => None,
        Override::IfLate { minutes } => Some(format!(
            "dispatch skips the hours check for a load that would be {} min late",
            plain(minutes)
        )),
        Override::Share { share: part } => Some(format!(
            "dispatch skips the hours check for {} of loads",
            share(part)
        )),
    }
}

fn drivers_word(word: DriversWord) -> Option<String> {
    let said = match word {
        DriversWord::NotAsked => return None,
        DriversWord::Heard => "dispatch listens when a driver says the hours won't fit",
        DriversWord::Overruled => {
            "dispatch ignores a driver who says the hours won't fit (the driver stops where the law says)"
        }
    };
    Some(said.into())
}

fn additions(additions: Additions) -> Option<String> {
    match additions {
        Additions::TakeAll => None,
        Additions::OnlyIfHolds => {
            Some("added orders are refused if the trucks do not suffice".into())
        }
        Additions::FirstFreeTime { hours } => Some(format!(
            "added orders are moved by up to {} h until the trucks suffice, or refused",
            plain(hours)
        )),
    }
}

fn plant_hours(plant_hours: PlantHours) -> Option<String> {
    match plant_hours {
        PlantHours::AsPosted => None,
        PlantHours::KeptOpen { hours } => Some(format!(
            "plants are kept open by up to {} h while it saves more than it costs",
            plain(hours)
        )),
    }
}

fn redirect(redirect: Redirect) -> Option<String> {
    match redirect {
        Redirect::Wait => None,
        Redirect::SameMix { wait_min } => Some(format!(
            "a load whose site will not be ready for {} min goes to an order that waits for the same mix",
            plain(wait_min)
        )),
    }
}
