//! What was found, in sentences.

use crate::report::number::{count, level};
use crate::report::period::the_same;
use crate::report::plain_text::capital;
use crate::report::shell;
use crate::scenario::Scenario;
use crate::studies::{Holds, Standing, TriedWorld};

/// Worlds that a sentence names.
const NAMED: usize = 3;

/// First of all: where it does not hold.
pub(super) fn decision(found: &Holds, scenario: &Scenario) -> String {
    let name = name(found);
    if found.worlds.is_empty() {
        return format!("{name} was tried in no changed world: nothing can be changed here.");
    }
    let what = if found.asked_for {
        name
    } else {
        format!("The decision for {name}")
    };
    format!(
        "{what} {}",
        in_short(found, scenario).replacen("It h", "h", 1)
    )
}

/// `It holds in 17 of 19 changed worlds; not if South mole is down for a morning ("X" is better).`
pub(super) fn in_short(found: &Holds, scenario: &Scenario) -> String {
    let lost: Vec<String> = found
        .worlds
        .iter()
        .filter(|world| !world.holds())
        .map(|world| lost(found, world, scenario))
        .collect();
    let all = found.worlds.len();
    let own = found.own();
    let lost_own = |world: &&TriedWorld| world.otherwise.is_own() && !world.holds();
    let yours = match own.as_slice() {
        [] => String::new(),
        // Those are named below.
        _ if found.worlds.iter().any(|world| lost_own(&world)) => String::new(),
        [name] => format!(", also in your \"{name}\""),
        all => format!(", also in your own {}", all.len()),
    };
    let untold = (found.worlds.iter())
        .filter(|world| world.standing == Standing::NotToldApart)
        .count();
    let as_good = match untold {
        0 => String::new(),
        untold if untold == found.held() => {
            "; in none of them is it shown to be the best: more runs would tell".into()
        }
        untold => format!("; in {} another rule may be as good", count(untold as u64)),
    };
    if lost.is_empty() {
        return format!("It holds in all {all} changed worlds that were tried{yours}{as_good}.");
    }
    let named = lost[..lost.len().min(NAMED)].join(", nor if ");
    let more = match lost.len().saturating_sub(NAMED) {
        0 => String::new(),
        more => format!(", nor in {more} more"),
    };
    format!(
        "It holds in {} of {all} changed worlds{yours}; not if {named}{more}{as_good}.",
        found.held()
    )
}

fn lost(found: &Holds, world: &TriedWorld, scenario: &Scenario) -> String {
    let what = world.otherwise.clause(scenario);
    match &world.standing {
        Standing::Loses { to, .. } => {
            format!("{what} (\"{}\" is better)", found.assumed.rules[*to].name)
        }
        _ => format!("{what} (it could not be recommended)"),
    }
}

fn name(found: &Holds) -> String {
    format!("\"{}\"", found.assumed.rules[found.rule].name)
}

/// How the tries were made.
pub(super) fn tried(found: &Holds) -> Vec<String> {
    let assumed = &found.assumed;
    let mut sentences = vec![format!(
        "Each changed world: {}, {} intervals (random seed {}).",
        the_same(assumed.replications(), assumed.days),
        level(assumed.level),
        assumed.seed
    )];
    if found.left > 0 {
        sentences.push(format!(
            "Stopped before {} more changed worlds were tried.",
            count(found.left as u64)
        ));
    }
    if let Some(drawn) = &found.under_assumptions
        && drawn.worlds.len() < drawn.asked as usize
    {
        sentences.push(format!(
            "Stopped after {} of {} drawn worlds.",
            drawn.worlds.len(),
            drawn.asked
        ));
    }
    sentences
}

/// On what it rests.
pub(super) fn notes(found: &Holds, scenario: &Scenario) -> Vec<String> {
    let mut notes = tried(found);
    if !found.not_applying.is_empty() {
        let each: Vec<String> = found
            .not_applying
            .iter()
            .map(|(otherwise, why)| format!("{} ({why})", otherwise.words(scenario)))
            .collect();
        notes.push(format!(
            "{}: {}.",
            capital("does not apply"),
            each.join("; ")
        ));
    }
    notes
}

/// The options that give the answer again.
pub(super) fn options(found: &Holds) -> String {
    let assumed = &found.assumed;
    let rule = if found.asked_for {
        format!(" --rule {}", shell::quoted(&assumed.rules[found.rule].name))
    } else {
        String::new()
    };
    let assume = found
        .under_assumptions
        .as_ref()
        .map_or_else(String::new, |drawn| {
            let each = drawn.assumptions.iter().map(|one| {
                let text = format!("{}={}", one.input.name(), one.text);
                format!(" --assume {}", shell::quoted(&text))
            });
            format!("{} --outer {}", each.collect::<String>(), drawn.asked)
        });
    format!(
        "{rule}{assume} --judge {} --replications {} --seed {}",
        assumed.judged_by().key,
        assumed.replications(),
        assumed.seed
    )
}
