//! Days without luck that were worked out on paper: what made loads late, what trucks waited for on site, and fleets for a pour. Each is
//! a plain day with changes, told with its arithmetic.

mod late_loads;
mod pour_figures;
mod pours;
mod site_waits;

use super::check::{Check, Sheet};
use super::{Family, Work};
use crate::scenario::{Scenario, parse};

/// The day behind late loads: one plant, one bay, two trucks, a round trip of 63 min.
pub const TWO_TRUCKS: &str = include_str!("days/two_trucks.ron");

/// The day behind pours: a tower, a round trip of 65 min, a load every 15 min.
pub const TOWER: &str = include_str!("days/tower.ron");

/// What stands in a day's text, and what shall stand there.
type Change = (&'static str, &'static str);

/// How many cases there are.
pub(super) fn cases() -> u64 {
    1 + pours::cases()
}

pub(super) fn checks(work: &Work<'_>) -> Option<Vec<Check>> {
    let mut sheet = Sheet::new(Family::Days);
    late_loads::check(&mut sheet);
    site_waits::check(&mut sheet);
    work.done(1)?;
    pours::check(work, &mut sheet)?;
    Some(sheet.into_checks())
}

/// A day with changes, all of which must be there.
fn day(text: &str, changes: &[Change]) -> Scenario {
    let text = changes.iter().fold(text.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "the day has {from:?}");
        text.replace(from, to)
    });
    parse("check", &text).unwrap_or_else(|faults| panic!("a day of the program's own: {faults}"))
}

/// Minutes of each of some causes in words.
fn told<'a>(parts: impl Iterator<Item = (&'a str, f64)>) -> String {
    let some = parts.filter(|(_, minutes)| *minutes > 0.0);
    let parts: Vec<String> = some
        .map(|(words, minutes)| format!("{words} {minutes} min"))
        .collect();
    match parts.is_empty() {
        true => "none".into(),
        false => parts.join(", "),
    }
}
