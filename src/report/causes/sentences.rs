//! What was found, in sentences.

use crate::observe::Loss;
use crate::report::compare;
use crate::report::number::{Unit, count, number};
use crate::statistics::Interval;
use crate::studies::{Counterfactual, Counterfactuals, Gone};

/// Causes of strandings and waste that a sentence names.
const LOSSES_NAMED: usize = 3;

/// The finding, first of all that is said: what the change that is worth most does.
pub fn finding(answer: &Counterfactuals) -> String {
    let Some(first) = answer.changes.first() else {
        return "Nothing can be changed in this scenario.".into();
    };
    if !first.worth.interval.is_bounded() {
        return format!(
            "{} would be worth {} {}; to say how sure takes two replications.",
            capital(first.change.words()),
            money(first.worth.mean, first.worth.interval),
            period(answer.days)
        );
    }
    if !(first.worth.told_apart() && first.worth.mean > 0.0) {
        return format!(
            "None of the {} changes is shown to be worth anything in {}; more may tell.",
            answer.changes.len(),
            replications(answer.replications())
        );
    }
    let worth = format!(
        "worth {} {} ({}), {}",
        money(first.worth.mean, first.worth.interval),
        period(answer.days),
        sure(answer, first.worth),
        before(first)
    );
    let (there, gone) = (answer.as_it_is.late_loads, first.late_loads);
    if gone.told_apart() && gone.mean > 0.0 {
        format!(
            "Of {} late loads {} {} would not be late with {}: {worth}.",
            amount(there),
            in_days(answer.days),
            amount(gone.mean),
            first.change.words()
        )
    } else {
        format!("{} would be {worth}.", capital(first.change.words()))
    }
}

/// `before what it costs`: what of the change's own cost is in its worth.
fn before(change: &Counterfactual) -> String {
    match change.change.paid() {
        Some(paid) => format!("{paid} paid, before what else it costs"),
        None => "before what it costs".into(),
    }
}

/// `95 % interval $900 to $1,500, for all changes at once`.
fn sure(answer: &Counterfactuals, gone: Gone) -> String {
    let decimals = Unit::Money.decimals(gone.interval.half_width());
    format!(
        "{} interval {} to {}, for all changes at once",
        level(answer),
        Unit::Money.show(gone.interval.low, decimals),
        Unit::Money.show(gone.interval.high, decimals)
    )
}

/// Money to the decimals that its interval warrants.
pub(super) fn money(value: f64, interval: Interval) -> String {
    Unit::Money.show(value, Unit::Money.decimals(interval.half_width()))
}

/// Loads or yd³ in a sentence: whole from 10 on.
pub(super) fn amount(value: f64) -> String {
    let decimals = if value >= 9.95 || value.fract() == 0.0 {
        0
    } else {
        1
    };
    Unit::Plain.show(value, decimals)
}

/// On what the answer rests.
pub(super) fn sureness(answer: &Counterfactuals) -> String {
    let done = answer.replications();
    let short = if done < answer.asked {
        format!(
            " Stopped after {done} of {}: the answer is that of a run of so many.",
            replications(answer.asked)
        )
    } else {
        String::new()
    };
    let rule = if answer.rule_is_today {
        format!("today's \"{}\"", answer.rule)
    } else {
        format!("\"{}\"", answer.rule)
    };
    format!(
        "The same {} {}, as they are and with one thing changed, under {rule} (seed {}).{short}",
        count(done),
        match (answer.days, done) {
            (1, 1) => "day".to_owned(),
            (1, _) => "days".to_owned(),
            (days, 1) => format!("time {days} days"),
            (days, _) => format!("times {days} days"),
        },
        answer.seed
    )
}

/// What the worth holds of the changes' own cost.
pub(super) fn paid(answer: &Counterfactuals) -> String {
    let paid: Vec<String> = answer
        .changes
        .iter()
        .filter_map(|change| {
            let paid = change.change.paid()?;
            Some(format!("{} ({})", paid, change.change.words()))
        })
        .collect();
    if paid.is_empty() {
        return "Worth is before what a change costs.".into();
    }
    format!(
        "Worth is before what a change costs, but for what the simulation pays: {}.",
        paid.join("; ")
    )
}

/// Which changes do not apply, and why; empty if all do.
pub(super) fn not_applying(answer: &Counterfactuals) -> String {
    if answer.not_applying.is_empty() {
        return String::new();
    }
    let each: Vec<String> = answer
        .not_applying
        .iter()
        .map(|(change, why)| format!("{} ({why})", change.words()))
        .collect();
    format!("Does not apply: {}.", each.join("; "))
}

/// The main causes of strandings and waste, with how often they happen; empty where there are none.
pub(super) fn losses(answer: &Counterfactuals) -> String {
    let counted = |loss: &Loss| answer.ledger.loss(0, *loss).0;
    let mut seen: Vec<Loss> = compare::known_losses(&answer.ledger)
        .filter(|loss| !loss.is_place() && counted(loss) > 0.0)
        .collect();
    seen.sort_by(|a, b| counted(b).total_cmp(&counted(a)));
    let named: Vec<String> = seen
        .iter()
        .take(LOSSES_NAMED)
        .map(|loss| {
            let (mean, interval) = answer.ledger.loss(0, *loss);
            let sure = if interval.is_bounded() {
                format!(" ± {}", number(interval.half_width(), 2))
            } else {
                String::new()
            };
            format!("{} {}{sure}", loss.words(), number(mean, 2))
        })
        .collect();
    if named.is_empty() {
        String::new()
    } else {
        format!(
            "Most strandings and waste {}: {}.",
            in_days(answer.days),
            named.join("; ")
        )
    }
}

/// `95 %`.
pub(super) fn level(answer: &Counterfactuals) -> String {
    format!("{:.0} %", answer.level * 100.0)
}

/// `a day`, `a week`, `in 12 days`: the period of a replication.
pub(super) fn period(days: u32) -> String {
    match days {
        1 => "a day".into(),
        5..=7 => "a week".into(),
        days => format!("in {days} days"),
    }
}

fn in_days(days: u32) -> String {
    match days {
        1 => "a day".into(),
        days => format!("in {days} days"),
    }
}

fn replications(n: u64) -> String {
    format!("{} replication{}", count(n), if n == 1 { "" } else { "s" })
}

pub(super) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
