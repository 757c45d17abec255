//! What was found, in sentences.

use crate::observe::Loss;
use crate::report::compare;
use crate::report::number::{Unit, level, number, range};
use crate::report::period::{per, runs, simulated, the_same};
use crate::report::plain_text::capital;
use crate::report::statement;
use crate::scenario::WhatIf;
use crate::statistics::Interval;
use crate::studies::{Counterfactual, Counterfactuals, Gone};

/// Causes of strandings and waste that a sentence names.
const LOSSES_NAMED: usize = 2;

/// The finding, first of all that is said: what the change that is worth most does.
pub(super) fn finding(answer: &Counterfactuals) -> String {
    let Some(first) = answer.changes.first() else {
        return "Nothing can be changed in this scenario.".into();
    };
    if !first.worth.interval.is_bounded() {
        return format!(
            "{} would be worth {} {}; to say how sure takes two runs.",
            capital(first.change.words()),
            money(first.worth.mean, first.worth.interval),
            per(answer.days)
        );
    }
    if !(first.worth.told_apart() && first.worth.mean > 0.0) {
        return format!(
            "None of the {} changes is shown to be worth anything in {}; more may tell.",
            answer.changes.len(),
            simulated(answer.replications(), answer.days)
        );
    }
    let worth = format!(
        "worth {} {} ({}), {}",
        money(first.worth.mean, first.worth.interval),
        per(answer.days),
        sure(answer, first.worth),
        before(first)
    );
    let (there, gone) = (answer.as_it_is.late_loads, first.late_loads);
    if gone.told_apart() && gone.mean > 0.0 {
        format!(
            "Of {} late loads {} {} would be avoided with {}: {worth}.",
            amount(there),
            per(answer.days),
            amount(gone.mean),
            first.change.words()
        )
    } else {
        format!("{} would be {worth}.", capital(first.change.words()))
    }
}

/// `before what it costs`: what of the change's own cost is in its worth, or what is left after its price.
fn before(change: &Counterfactual) -> String {
    // Not the plant's to decide alone.
    if change.change == WhatIf::AgeAgreed {
        return "if purchasers agree to it".into();
    }
    if let Some(left) = change.left_over() {
        return format!(
            "{} of it left after its price",
            money(left.mean, left.interval)
        );
    }
    if let Some((after, _)) = change.pays_back_after() {
        return format!("and pays its price back after {} such", periods(after));
    }
    match change.change.paid() {
        Some(paid) => format!("{paid} paid, before what else it costs"),
        None => "before what it costs".into(),
    }
}

/// How many periods, as a number that people read.
pub(super) fn periods(after: f64) -> String {
    Unit::Plain.show(after, if after < 9.95 { 1 } else { 0 })
}

/// `95% interval $900 to $1,500, for all changes at once`.
fn sure(answer: &Counterfactuals, gone: Gone) -> String {
    let decimals = Unit::Money.decimals(gone.interval.half_width());
    format!(
        "{} interval {}, for all changes at once",
        level(answer.level),
        range(gone.interval, |end| Unit::Money.show(end, decimals))
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
            " Stopped after {done} of {}: the answer is that of so many.",
            runs(answer.asked)
        )
    } else {
        String::new()
    };
    let rule = if answer.rule_is_today {
        format!("today's \"{}\"", answer.rule)
    } else {
        format!("\"{}\"", answer.rule)
    };
    let same = the_same(done, answer.days);
    format!(
        "{}, as they are and with one thing changed, under {rule} (random seed {}).{short}",
        capital(&same),
        answer.seed
    )
}

/// What the worth holds of the changes' own cost.
pub(super) fn paid(answer: &Counterfactuals) -> String {
    let mut paid: Vec<&str> = answer
        .changes
        .iter()
        .filter_map(|change| change.change.paid())
        .collect();
    paid.dedup();
    if paid.is_empty() {
        return "Worth is before what a change costs.".into();
    }
    format!(
        "Worth is before what a change costs, but for {}.",
        paid.join(", ")
    )
}

/// Which changes do not apply, and why; none if all do.
pub(super) fn not_applying(answer: &Counterfactuals) -> Option<String> {
    if answer.not_applying.is_empty() {
        return None;
    }
    let each: Vec<String> = answer
        .not_applying
        .iter()
        .map(|(change, why)| format!("{} ({why})", change.words()))
        .collect();
    Some(format!("Does not apply: {}.", each.join("; ")))
}

/// What mishaps cost that nobody can buy off; none where none is shown to cost anything. The table of a screen has no room for them.
pub(super) fn mishaps(answer: &Counterfactuals) -> Option<String> {
    let named: Vec<String> = answer
        .changes
        .iter()
        .filter(|change| !change.change.can_be_decided())
        .filter(|change| change.worth.told_apart() && change.worth.mean > 0.0)
        .map(|change| {
            let worth = money(change.worth.mean, change.worth.interval);
            format!("{} {worth}", change.change.words())
        })
        .collect();
    (!named.is_empty()).then(|| {
        format!(
            "What nobody can buy would be worth {}: {}.",
            per(answer.days),
            named.join(", ")
        )
    })
}

/// The main causes of strandings and of dumped concrete, with how often they happen; none where there are none.
pub(super) fn losses(answer: &Counterfactuals) -> Option<String> {
    let counted = |loss: &Loss| answer.ledger.loss(0, *loss).size();
    let mut seen: Vec<Loss> = compare::known_losses(&answer.ledger)
        .filter(|loss| !loss.is_place() && counted(loss) > 0.0)
        .collect();
    seen.sort_by(|a, b| counted(b).total_cmp(&counted(a)));
    let named: Vec<String> = seen
        .iter()
        .take(LOSSES_NAMED)
        .map(|loss| {
            let said = answer.ledger.loss(0, *loss);
            let often = statement::cell(said, answer.ledger.days, false, |mean, interval| {
                let sure = if interval.is_bounded() {
                    format!(" ({})", range(interval, |end| number(end.max(0.0), 1)))
                } else {
                    String::new()
                };
                format!("{}{sure}", number(mean, 1)).into()
            });
            format!("{} {}", loss.words(), often.words())
        })
        .collect();
    (!named.is_empty()).then(|| {
        format!(
            "Most frequent losses {}: {}.",
            per(answer.days),
            named.join("; ")
        )
    })
}
