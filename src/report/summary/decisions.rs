//! Decisions of a rule that most rules leave as they are: said only where they differ from the usual.

use super::words::{counted, plain};
use crate::dispatch::{AfterDischarge, Rule, SendHome, Shift};

pub(super) fn parts(rule: &Rule) -> Vec<String> {
    let parts = [
        shift(rule.shift),
        send_home(rule.send_home),
        after_discharge(rule.after_discharge),
    ];
    parts.into_iter()
        .flatten()
        .collect()
}

fn shift(shift: Shift) -> Option<String> {
    match shift {
        Shift::Rostered => None,
        Shift::Staggered { minutes } => Some(format!(
            "drivers report {} min apart from the first report on",
            plain(minutes)
        )),
        Shift::Matched { spare } => Some(format!(
            "drivers are called the evening before as the known orders need them{}",
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
        SendHome::FirstInFirstOut { .. } => "who has stood longest first",
        SendHome::LongestDay { .. } => "who reported first first",
        SendHome::Seniority { .. } => "the lowest seniority first",
    };
    let hold = match send_home.hold() {
        None | Some(0) => String::new(),
        Some(hold) => format!(", {hold} held until the plant closes"),
    };
    Some(format!(
        "who is not needed any more goes home, {first}{hold}"
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
