//! What was found, in sentences.

use crate::report::number::{Unit, level, number, range};
use crate::report::period::runs;
use crate::report::plain_text::capital;
use crate::report::summary::words::{counted, day, share};
use crate::statistics::share_at_most;
use crate::studies::{Board, Estimate, OrderAhead, TriedChange};

/// Orders that a sentence names.
const NAMED: usize = 3;
/// Orders of which more is said.
const TOLD: usize = 2;

/// The name of an order.
pub(super) fn name<'a>(found: &'a Board, order: &OrderAhead) -> &'a str {
    &found.scenario.orders[order.order.at()].name
}

/// The decision, first of all.
pub(super) fn decision(found: &Board) -> String {
    let troubled = found.troubled();
    let Some(first) = troubled.first() else {
        return nothing_breaks(found);
    };
    let names = named(found, troubled);
    let (orders, be) = match troubled.len() {
        1 => ("1 order".to_owned(), "is"),
        many => (counted(many, "order", "orders"), "are"),
    };
    let them = match troubled.len() {
        1 => "it",
        _ => "any of them",
    };
    let holds = match found.best() {
        Some(best) => format!(
            "{} {}",
            best.change.words(&found.scenario),
            holds(found, best)
        ),
        None if found.changes.is_empty() => "no change was tried".into(),
        None => {
            let nearest = found.nearest().map(|nearest| {
                let fewer = nearest.broken.mean.unwrap_or(0.0).abs();
                format!(
                    "; the nearest is {}, with {} fewer that break in a run ({})",
                    nearest.change.words(&found.scenario),
                    number(fewer, 1),
                    priced(nearest)
                )
            });
            let nearest = nearest.unwrap_or_default();
            format!("no single change that was tried holds {them}{nearest}")
        }
    };
    if first.is_likely() {
        format!("{orders} {be} likely to break tomorrow: {names}; {holds}.")
    } else {
        format!(
            "No order is likely to break tomorrow, and {orders} {be} at risk: {names}; {holds}."
        )
    }
}

fn nothing_breaks(found: &Board) -> String {
    match found.orders.first() {
        None => "No order takes place tomorrow.".into(),
        Some(weakest) if weakest.breaks.times > 0 => format!(
            "No order is likely to break tomorrow: the weakest, \"{}\", breaks in {} of the runs.",
            name(found, weakest),
            share(weakest.breaks.share())
        ),
        Some(weakest) => format!(
            "No order breaks tomorrow in {}; any one of them does in at most {} of days, {} sure.",
            runs(found.replications),
            share(share_at_most(0, weakest.breaks.of, found.level)),
            level(found.level)
        ),
    }
}

/// `A, B and C`; `A, B, C and 2 more`.
fn named(found: &Board, orders: &[OrderAhead]) -> String {
    let quoted = |order: &OrderAhead| format!("\"{}\"", name(found, order));
    let names: Vec<String> = orders.iter().map(quoted).collect();
    let (shown, more) = match names.len() {
        many if many > NAMED + 1 => (&names[..NAMED], many - NAMED),
        _ => (&names[..], 0),
    };
    match (shown, more) {
        (shown, more) if more > 0 => format!("{} and {more} more", shown.join(", ")),
        ([rest @ .., last], _) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        (shown, _) => shown.join(", "),
    }
}

/// `holds 2 of them ($212)`.
fn holds(found: &Board, best: &TriedChange) -> String {
    let of = match (best.holds, found.troubled) {
        (1, 1) => "it".to_owned(),
        (all, troubled) if all == troubled => "all of them".to_owned(),
        (some, _) => format!("{some} of them"),
    };
    format!("holds {of} ({})", priced(best))
}

/// `$212`, `saves $40`, `no price in the scenario`.
fn priced(tried: &TriedChange) -> String {
    let Some(Estimate {
        mean: Some(mean),
        interval,
    }) = tried.price
    else {
        return "the scenario has no price of it".into();
    };
    let decimals = Unit::Money.decimals(interval.half_width());
    let amount = Unit::Money.show(mean.abs(), decimals);
    match mean < 0.0 {
        true => format!("saves {amount}"),
        false => amount,
    }
}

/// The day and the rule.
pub(super) fn asked(found: &Board) -> String {
    let which = match found.scenario.period.days {
        1 => "Tomorrow's book".to_owned(),
        _ => format!(
            "Tomorrow is day {} of the scenario, {},",
            found.day + 1,
            day(found.day, found.scenario.period.first_day)
        ),
    };
    let today = if found.today { " (today's rule)" } else { "" };
    format!(
        "{which} under \"{}\"{today}: {} in {}.",
        found.rule,
        counted(found.orders.len(), "order", "orders"),
        runs(found.replications)
    )
}

/// More of the worst orders.
pub(super) fn worst(found: &Board) -> Vec<String> {
    let told = found.troubled().iter().enumerate().take(TOLD);
    told.map(|(nth, order)| {
        let breaks = Unit::Share.show(order.breaks.share(), 0);
        let ends = range(order.breaks.interval, |end| Unit::Share.show(end, 0));
        let kinds = [
            (&order.late, "late"),
            (&order.undelivered, "not delivered"),
            (&order.gap, "with a gap"),
        ];
        let kinds: Vec<String> = kinds
            .into_iter()
            .filter(|(chance, _)| chance.times > 0)
            .map(|(chance, words)| format!("{words} in {}", Unit::Share.show(chance.share(), 0)))
            .collect();
        let because = match order.causes.first() {
            Some((cause, _)) => format!("; mostly {}", cause.words()),
            None => String::new(),
        };
        format!(
            "\"{}\" breaks in {breaks} of the runs ({ends}): {}{because}.{}",
            name(found, order),
            kinds.join(", "),
            least(found, nth)
        )
    })
    .collect()
}

/// How sure that is.
pub(super) fn sureness(found: &Board) -> String {
    let mut text = format!(
        "{} as planned, seed {}; intervals {} sure.",
        capital(&runs(found.replications)),
        found.seed,
        level(found.level)
    );
    if found.tried > 0 {
        text += &format!(
            " {} tried one at a time on the same days, all together as sure.",
            capital(&counted(found.changes.len(), "change was", "changes were"))
        );
    }
    if found.replications < found.asked || (!found.changes.is_empty() && found.tried < found.asked)
    {
        text += " Stopped early.";
    }
    text
}

/// Changes that cannot be.
pub(super) fn not_applying(found: &Board) -> Option<String> {
    let each: Vec<String> = found
        .not_applying
        .iter()
        .map(|(change, why)| format!("{} ({why})", change.words(&found.scenario)))
        .collect();
    (!each.is_empty()).then(|| format!("Not tried: {}.", each.join("; ")))
}

/// The change with which an order breaks least, if that is no luck.
fn least(found: &Board, nth: usize) -> String {
    let helps = found
        .changes
        .iter()
        .filter(|tried| tried.orders[nth].difference.high < 0.0);
    let share = |tried: &&TriedChange| tried.orders[nth].breaks.share();
    let least = helps.min_by(|a, b| share(a).total_cmp(&share(b)));
    least.map_or(String::new(), |least| {
        format!(
            " With {} it breaks in {}.",
            least.change.words(&found.scenario),
            Unit::Share.show(share(&least), 0)
        )
    })
}
