//! Whether the recommendation stands in changed worlds: a sentence and a table.

use super::sentences::{drivers, less, share};
use super::year::shown;
use crate::report::answer::{Answer, Block, Cell, Column, Table};
use crate::report::period::{per, the_same};
use crate::scenario::Scenario;
use crate::studies::{Sensitive, StaffAnswer, StaffedWorld, Stands};

/// One line for each world.
pub(super) const WORLDS: &str = "worlds";

/// Worlds that a sentence names.
const NAMED: usize = 3;
/// Lines of a sheet for seasons and worlds together.
const ON_SHEET: usize = 12;

fn words(stands: Stands) -> &'static str {
    match stands {
        Stands::Stands => "stands",
        Stands::TooClose => "too close to call",
        Stands::OtherCheaper => "turns: the other is cheaper",
        Stands::MissesAlone => "turns: misses the targets",
        Stands::BothMiss => "neither meets the targets",
    }
}

/// In which it stands, and in which it does not.
pub(super) fn sentence(found: &StaffAnswer, sensitive: &Sensitive, scenario: &Scenario) -> String {
    let all = sensitive.worlds.len();
    if all == 0 {
        return "Nothing can be changed here: the decision was tried in no other world.".into();
    }
    let lost: Vec<&StaffedWorld> = sensitive.worlds.iter().filter(|w| !w.holds()).collect();
    let close = sensitive.worlds.iter();
    let close = close
        .filter(|world| world.stands == Stands::TooClose)
        .count();
    let close = match close {
        0 => String::new(),
        n => format!(" (too close to call in {n} of them)"),
    };
    let against = match sensitive.against == found.today {
        true => format!("today's {}", drivers(found.today.drivers)),
        false => format!("the runner-up's {}", drivers(sensitive.against.drivers)),
    };
    let start = format!(
        "Against {against} the decision stands in {} of {all} changed worlds{close}",
        sensitive.held()
    );
    if lost.is_empty() {
        return format!("{start}.");
    }
    let named: Vec<String> = lost
        .iter()
        .take(NAMED)
        .map(|world| {
            let why = match world.stands {
                Stands::OtherCheaper => format!("{} then", less(&world.saving)),
                Stands::BothMiss => "neither meets the targets".into(),
                _ => format!("{} late then", share(&world.best.late_share)),
            };
            format!("{} ({why})", world.otherwise.clause(scenario))
        })
        .collect();
    let more = match lost.len().saturating_sub(NAMED) {
        0 => String::new(),
        more => format!(", nor in {more} more"),
    };
    format!("{start}; not if {}{more}.", named.join(", nor if "))
}

/// Sentence, table and a section of the page.
pub(super) fn add(
    found: &StaffAnswer,
    sensitive: &Sensitive,
    scenario: &Scenario,
    to: &mut Answer,
) {
    to.say(sentence(found, sensitive, scenario));
    let mut note = format!(
        "Saving {} against {}; one thing is otherwise at a time, on {} in each world. \
         How likely such a world is, nobody has computed: that is for you to judge.",
        per(found.days),
        super::sentences::staffing(sensitive.against),
        the_same(sensitive.replications, found.days)
    );
    if !sensitive.not_applying.is_empty() {
        let each = sensitive.not_applying.iter();
        let each = each.map(|(otherwise, why)| format!("{} ({why})", otherwise.words(scenario)));
        note += &format!(" Does not apply: {}.", each.collect::<Vec<_>>().join("; "));
    }
    if sensitive.left > 0 {
        note += &format!(" Stopped before {} more were tried.", sensitive.left);
    }
    to.section(
        "Does it hold if the world is not as assumed",
        vec![Block::Table(WORLDS), Block::Note(note)],
    );
    to.tables.push(table(found, sensitive, scenario));
}

/// One line for each world, the world as assumed first.
fn table(found: &StaffAnswer, sensitive: &Sensitive, scenario: &Scenario) -> Table {
    let mut table = Table::new(
        WORLDS,
        vec![
            Column::new("if").left().key("words"),
            Column::file("world"),
            Column::new(format!("saves {}", per(found.days))).with_ends("saving"),
            Column::new("loads late").with_ends("late_share"),
            Column::file("undelivered_share"),
            Column::file("late_share_other"),
            Column::file("undelivered_share_other"),
            Column::new("the decision").left().key("standing"),
            Column::file("yours"),
            Column::file("changes"),
        ],
    );
    for world in std::iter::once(&sensitive.as_assumed).chain(&sensitive.worlds) {
        let otherwise = &world.otherwise;
        table.row([
            otherwise.words(scenario).into(),
            otherwise.key(scenario).into(),
            shown(&world.saving),
            super::tables::marked_share(
                &world.best.late_share,
                found.question.late_share,
                world.best.meets,
            ),
            world.best.undelivered.mean.into(),
            world.other.late_share.mean.into(),
            world.other.undelivered.mean.into(),
            words(world.stands).into(),
            Cell::yes(otherwise.is_own()),
            otherwise.changes(scenario).join("; ").into(),
        ]);
    }
    table
}

/// The same with as many lines as a sheet has room for: what is the user's own or does not stand, then the smallest savings.
pub(super) fn on_sheet(table: &Table, seasons: usize) -> (Table, usize) {
    let mut short = table.clone();
    let room = ON_SHEET.saturating_sub(seasons).max(4);
    let left = short.rows.len().saturating_sub(room);
    short.rows.truncate(room);
    (short, left)
}
