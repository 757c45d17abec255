//! What was found, in sentences.

use crate::report::habit_words::label;
use crate::report::number::{Unit, level, range};
use crate::report::period::{per, the_same};
use crate::studies::{Change, HabitResult, Habits, Valued};

/// Decisions that the first sentence names.
const NAMED: usize = 3;

/// First of all: which decisions bring it.
pub(super) fn decision(found: &Habits) -> String {
    let whole = found.whole(Valued::Cost);
    let money = |value: f64| money(value.abs(), whole);
    let saving: Vec<&HabitResult> = of_sign(found, -1.0);
    if !(whole.interval.excludes_zero() || whole.mean == 0.0) && found.replications > 1 {
        return format!(
            "\"{}\" and \"{}\" are not told apart in cost: {} {} either way. {}",
            found.from.name,
            found.to.name,
            range(whole.interval, |end| Unit::Money
                .show_difference(end, decimals(whole))),
            per(found.days),
            parts(found, &saving)
        );
    }
    let does = if whole.mean <= 0.0 { "saves" } else { "costs" };
    format!(
        "\"{}\" {does} {} {} against {}\"{}\". {}",
        found.to.name,
        money(whole.mean),
        per(found.days),
        if found.from_is_today { "today's " } else { "" },
        found.from.name,
        parts(found, &saving)
    )
}

/// Which decisions save most, and which cost.
fn parts(found: &Habits, saving: &[&HabitResult]) -> String {
    let whole = found.whole(Valued::Cost);
    let named = |results: &[&HabitResult], joined: &str| -> String {
        let each: Vec<String> = results
            .iter()
            .map(|result| {
                let share = result.of(Valued::Cost).share.mean;
                format!(
                    "{} {joined} {}",
                    money(share.abs(), whole),
                    label(result.habit)
                )
            })
            .collect();
        match each.split_last() {
            Some((last, before)) if !before.is_empty() => {
                format!("{} and {last}", before.join(", "))
            }
            _ => each.join(""),
        }
    };
    if saving.is_empty() {
        return "No single decision is shown to save anything.".into();
    }
    let saved = |results: &[&HabitResult]| -> f64 {
        let shares = results
            .iter()
            .map(|result| result.of(Valued::Cost).share.mean);
        shares.sum()
    };
    let first = saving.len().min(NAMED);
    let mut text = format!("Of this come {}", named(&saving[..first], "from"));
    if first < saving.len() {
        let rest = saved(&saving[first..]).abs();
        text += &format!("; {} from the rest", money(rest, whole));
    }
    let costing = of_sign(found, 1.0);
    if !costing.is_empty() {
        let costing = &costing[..costing.len().min(NAMED)];
        text += &format!(". More is spent: {}", named(costing, "on"));
    }
    text + "."
}

/// The decisions whose share is shown to be below (−1) or above (+1) zero, the largest first.
fn of_sign(found: &Habits, sign: f64) -> Vec<&HabitResult> {
    let share = |result: &HabitResult| result.of(Valued::Cost).share;
    let mut results: Vec<&HabitResult> = found
        .habits
        .iter()
        .filter(|result| {
            let share = share(result);
            share.mean * sign > 0.0 && (share.interval.excludes_zero() || found.replications == 1)
        })
        .collect();
    results.sort_by(|a, b| share(b).mean.abs().total_cmp(&share(a).mean.abs()));
    results
}

/// On what it rests.
pub(super) fn notes(found: &Habits) -> Vec<String> {
    let mut notes = Vec::new();
    let small: Vec<&str> = found
        .habits
        .iter()
        .filter(|result| {
            let share = result.of(Valued::Cost).share;
            share.interval.is_bounded() && !share.interval.excludes_zero()
        })
        .map(|result| label(result.habit))
        .collect();
    if !small.is_empty() {
        notes.push(format!(
            "Not told apart from nothing: {}.",
            small.join(", ")
        ));
    }
    let decisions = found.habits.len();
    let orders = match found.orders {
        None => format!("every order of adding {decisions} decisions"),
        Some(orders) => format!(
            "{} drawn orders of adding {decisions} decisions and their reverses; the intervals hold the luck of the draw too",
            orders / 2
        ),
    };
    notes.push(format!(
        "{} rules on {} (random seed {}): {orders}. Intervals hold for all decisions at once, {}.",
        found.rules_run,
        the_same(found.replications, found.days),
        found.asked.seed,
        level(found.asked.level)
    ));
    notes
}

/// Money to the decimals that the whole difference warrants.
pub(super) fn money(value: f64, whole: Change) -> String {
    Unit::Money.show(value, decimals(whole))
}

pub(super) fn decimals(whole: Change) -> usize {
    Unit::Money.decimals(whole.interval.half_width())
}
