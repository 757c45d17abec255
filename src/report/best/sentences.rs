//! What was found, in sentences.

use crate::dispatch::{Habit, Rule};
use crate::observe::{self, Better};
use crate::report::barred;
use crate::report::figure::unit;
use crate::report::final_round::{asked_for, decimals, short_of, shown, shown_exact};
use crate::report::habit_words::{choice, label};
use crate::report::number::{Unit, count, level, range};
use crate::report::period::{per, runs};
use crate::report::plain_text::capital;
use crate::scenario::Scenario;
use crate::studies::{Best, Block, Combination, Valued, kept_though_no_recommendation};

/// What a combination decides otherwise than today.
pub(super) fn changed(found: &Best, combination: &Combination) -> Vec<Habit> {
    let changed = combination.changed();
    changed.map(|at| found.decisions[at].habit).collect()
}

/// Whether a finalist is today's rule.
pub(super) fn is_todays(found: &Best, place: usize) -> bool {
    combination(found, place).changes() == 0
}

pub(super) fn combination(found: &Best, place: usize) -> &Combination {
    &found.tried[found.last.finalists[place].setting].combination
}

/// `today's rule`, the name of a rule as written, or how many decisions are changed, told apart by a letter: `3 changes (b)`.
pub(super) fn named(found: &Best, place: usize, scenario: &Scenario) -> String {
    let setting = found.last.finalists[place].setting;
    let changes = combination(found, place).changes();
    let alike = |other: &usize| {
        let setting = found.last.finalists[*other].setting;
        let unwritten = written(found, setting, scenario).is_none();
        unwritten && combination(found, *other).changes() == changes
    };
    if changes == 0 || written(found, setting, scenario).is_some() {
        return named_setting(found, setting, scenario);
    }
    let plural = if changes == 1 { "" } else { "s" };
    let before = (0..place).filter(alike).count();
    let all = (0..found.last.finalists.len()).filter(alike).count();
    let letter = char::from(b'a' + (before % 26) as u8);
    let letter = if all > 1 {
        format!(" ({letter})")
    } else {
        String::new()
    };
    format!("{changes} change{plural}{letter}")
}

/// The rule of the scenario that decides so.
fn written<'s>(found: &Best, setting: usize, scenario: &'s Scenario) -> Option<&'s Rule> {
    let rule = found.tried[setting]
        .combination
        .rule(scenario, &found.decisions);
    let mut rules = scenario.rules.iter();
    rules.find(|written| Habit::differing(written, &rule).is_empty())
}

/// What is changed, one after the other.
pub(super) fn changes(found: &Best, place: usize) -> String {
    let words: Vec<&str> = changed(found, combination(found, place))
        .into_iter()
        .map(label)
        .collect();
    words.join(", ")
}

/// `today's rule`, the name of a rule as written, or what is changed: `today's but for: expected drive times, warning on the ticket`.
pub(super) fn named_setting(found: &Best, setting: usize, scenario: &Scenario) -> String {
    let combination = &found.tried[setting].combination;
    if combination.changes() == 0 {
        return "today's rule".into();
    }
    if let Some(written) = written(found, setting, scenario) {
        return format!("\"{}\"", written.name);
    }
    let words: Vec<&str> = changed(found, combination).into_iter().map(label).collect();
    format!("today's but for: {}", words.join(", "))
}

/// First of all.
pub(super) fn decision(found: &Best) -> String {
    let tried = found.tried.len();
    if found.last.finalists.is_empty() {
        return "Stopped before fresh runs could decide: what is here is the search alone, and no recommendation.".into();
    }
    let Some(chosen) = found.last.chosen else {
        return format!(
            "None of {} rules put together from the decisions written here can be shown to meet {}.",
            count(tried as u64),
            asked_for(&found.asked.targets, &found.targets)
        );
    };
    let meets = if found.asked.targets.is_empty() {
        String::new()
    } else {
        format!(
            " that can be shown to meet {}",
            asked_for(&found.asked.targets, &found.targets)
        )
    };
    if found.decisions.is_empty() {
        return "The scenario has one rule only, or rules that decide alike: there is nothing to put together.".into();
    }
    if is_todays(found, chosen) {
        return format!(
            "Leave today's rule as it stands: of {} rules put together from the decisions written here none does better on {}{meets}.",
            count(tried as u64),
            found.judge.label
        );
    }
    let rule = found.rule.as_ref().map_or("", |rule| &rule.name);
    let finalist = &found.last.finalists[chosen];
    let changes = combination(found, chosen).changes();
    let decisions = if changes == 1 {
        "decision"
    } else {
        "decisions"
    };
    let worse = found.last.worse_by_at_most;
    let all = format!(
        "of {} rules put together from the decisions written here{meets}",
        count(tried as u64)
    );
    let best = if worse <= 0.0 {
        format!("the best {all}")
    } else if worse <= found.asked.indifference {
        format!("as good as the best {all}")
    } else {
        format!("{all}, none is shown to be better")
    };
    let mean = finalist.judged.mean().map_or("–".into(), |mean| {
        shown(&found.judge, mean, decimals(&found.judge))
    });
    format!(
        "Run \"{rule}\": {best}. {changes} {decisions} otherwise than today; {} {mean} {}{}.",
        found.judge.label,
        per(found.days),
        against_today(found, chosen)
    )
}

/// `; −$60,000 against today's (−$62,000 to −$58,000)`.
fn against_today(found: &Best, place: usize) -> String {
    let finalist = &found.last.finalists[place];
    match (finalist.saves, finalist.against_written) {
        (Some(saves), Some(interval)) if interval.is_bounded() => {
            let places = unit(&found.judge).decimals(interval.half_width());
            let show = |value| unit(&found.judge).show_difference(value, places);
            format!(
                "; {} against today's rule ({})",
                show(saves),
                range(interval, show)
            )
        }
        _ => String::new(),
    }
}

/// The rule with fewer changes that brings most of it, if there is one.
pub(super) fn smaller_rule(found: &Best, scenario: &Scenario) -> Option<Rule> {
    let smallest = combination(found, found.smallest?);
    Some(smallest.named(scenario, &found.decisions))
}

/// Right after the decision.
pub(super) fn more(found: &Best, scenario: &Scenario) -> Vec<String> {
    let mut sentences = Vec::new();
    if let (Some(chosen), Some(smallest)) = (found.last.chosen, found.smallest) {
        let saves = |place: usize| found.last.finalists[place].saves;
        if let (Some(all), Some(some)) = (saves(chosen), saves(smallest)) {
            let habits = changed(found, combination(found, smallest));
            let words: Vec<&str> = habits.iter().copied().map(label).collect();
            let number = match words.len() {
                1 => "One decision brings".to_owned(),
                more => format!("{more} decisions bring"),
            };
            sentences.push(format!(
                "{number} {} of it: {}{} (smaller_rule.ron).",
                Unit::Share.show(some / all, 0),
                words.join(", "),
                against_today(found, smallest)
            ));
        }
    }
    if let Some(shares) = &found.shares {
        let counted = [
            (Valued::LateLoads, "late loads"),
            (Valued::Undelivered, "undelivered loads"),
            (Valued::Stranded, "drivers stranded"),
        ];
        let told = counted.iter().filter_map(|(valued, words)| {
            let whole = shares.whole(*valued);
            let decimals = Unit::Plain.decimals(whole.interval.half_width()).min(2);
            let told = whole.interval.excludes_zero();
            told.then(|| {
                format!(
                    "{words} {}",
                    Unit::Plain.show_difference(whole.mean, decimals)
                )
            })
        });
        let told: Vec<String> = told.collect();
        if !told.is_empty() {
            sentences.push(format!(
                "With all of it, {}: {}.",
                per(found.days),
                told.join(", ")
            ));
        }
    }
    let kept = found.rule.as_ref().map(kept_though_no_recommendation);
    let kept: Vec<String> = kept
        .unwrap_or_default()
        .into_iter()
        .filter_map(|habit| Some(choice(habit, found.rule.as_ref()?, scenario)))
        .collect();
    if !kept.is_empty() {
        sentences.push(format!(
            "It keeps of today's rule what is no recommendation: {}. Change that first.",
            kept.join("; ")
        ));
    }
    let (targets, columns) = (&found.asked.targets[..], &found.targets[..]);
    let name = |setting: usize| named_setting(found, setting, scenario);
    sentences.extend(short_of(
        &found.last,
        &found.reach,
        (targets, columns),
        name,
    ));
    let figures = observe::columns(scenario);
    for (place, finalist) in found.last.finalists.iter().enumerate() {
        let better = found.last.chosen.is_none_or(|chosen| {
            let worth = |place: usize| found.last.finalists[place].saves.unwrap_or(0.0);
            match found.judge.better {
                Better::More => worth(place) > worth(chosen),
                _ => worth(place) < worth(chosen),
            }
        });
        if let Some(why) = finalist.barred.filter(|_| better) {
            let why = barred::words(why, &figures, "today's rule", found.days);
            let name = capital(&named(found, place, scenario));
            sentences.push(format!("{name} comes out better, {why}."));
        }
    }
    sentences
}

/// On what it rests.
pub(super) fn notes(found: &Best) -> Vec<String> {
    let figure = &found.judge;
    let mut notes = Vec::new();
    if found.last.chosen.is_some() && found.last.worse_by_at_most > found.asked.indifference {
        let worse = found.last.worse_by_at_most;
        let delta = shown_exact(figure, found.asked.indifference);
        notes.push(if worse.is_finite() {
            format!(
                "Too close to call against the next best of the shortlist, which may be better by up to {} ({delta} would not matter); more --replications may tell.",
                shown(figure, worse, unit(figure).decimals(worse))
            )
        } else {
            "Too close to call against the next best of the shortlist: too few runs differ; more --replications may tell.".into()
        });
    }
    notes.push(format!(
        "{} decisions, {} rules tried in {} of each ({}); {} on the shortlist, decided on in {} that are fresh ({}; random seed {}). All that \
         is said of the shortlist holds at once with {} confidence, half of the error for the targets and half for the choice.",
        found.decisions.len(),
        count(found.tried.len() as u64),
        runs(found.searched),
        Block::Search.words(found.searched),
        found.last.finalists.len(),
        runs(found.last.decided_on),
        Block::Final.words(found.last.decided_on),
        found.asked.seed,
        level(found.asked.level)
    ));
    notes
}
