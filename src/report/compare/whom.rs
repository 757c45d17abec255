//! For whom: who gains and who loses, by order, customer, plant, weekday and driver.

mod changed;
mod files;
mod shown;

use super::{pick, sentences};
use crate::observe::{Better, of_driver};
use crate::report::answer::{Answer, Block};
use crate::report::number::{count, level};
use crate::report::{period, statement};
use crate::scenario::Scenario;
use crate::statistics::Contrast;
use crate::studies::{At, Comparison, Who};
use std::cmp::Ordering;
use std::sync::Arc;

/// Files, and what the page shows of them.
pub(super) fn add(found: &Arc<Comparison>, scenario: &Arc<Scenario>, answer: &mut Answer) {
    for who in Who::ALL {
        match who {
            Who::Order => answer.beside.push(files::orders(found, scenario)),
            _ => answer.tables.push(files::all(found, scenario, who)),
        }
    }
    let Some(rule) = against_base(found) else {
        return;
    };
    let instead = format!(
        "{} instead of {}",
        sentences::quoted(found, rule),
        sentences::base(found)
    );
    let mut blocks = vec![
        Block::Text(balance(found, rule, &instead)),
        Block::Text(drivers(found, rule)),
    ];
    for who in [Who::Customer, Who::Plant, Who::Weekday] {
        if found.whom.names(who).len() > 1
            && let Some(table) = shown::table(found, who, rule)
        {
            blocks.push(Block::Heading(format!("By {}", key(who))));
            blocks.push(Block::Table(table.name));
            answer.tables.push(table);
        }
    }
    blocks.push(Block::Note(format!(
        "{} each, {} interval in brackets, for all rules and all lines of a table at once. {} {} {} An order counts on the weekday of its \
         first load; a load at the plant that made it or was to. Minutes that are tolerated count in the lateness of a late load; a load \
         that does not come is late until the end of its order's day. A gap belongs to the plant whose load ends it. Every rule, order and driver \
         is in by_order.csv, by_customer.csv, by_plant.csv, by_weekday.csv and by_driver.csv.",
        average(found),
        level(found.level),
        shown::GAINS,
        statement::FEW,
        shown::POINTS,
    )));
    let next_best = if rule == pick(found) {
        ""
    } else {
        ", of the others the best"
    };
    answer.section(format!("For whom: {instead}{next_best}"), blocks);
    changed::add(found, scenario, rule, answer);
}

/// The rule whose change from the base is told: the one to look at first, else the best of the others.
pub(super) fn against_base(found: &Comparison) -> Option<usize> {
    match pick(found) {
        rule if rule == found.base => found.best_other_than(found.base),
        rule => Some(rule),
    }
}

/// The name of the lines' column, in files and in words.
fn key(who: Who) -> &'static str {
    match who {
        Who::Order => "order",
        Who::Customer => "customer",
        Who::Plant => "plant",
        Who::Weekday => "weekday",
        Who::Driver => "driver",
    }
}

/// `Average a week`.
fn average(found: &Comparison) -> String {
    format!("Average {}", period::per(found.days))
}

/// What a change is for whom it is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Change {
    /// No replication differs.
    None,
    /// Not told apart from none.
    NotTold,
    Better,
    Worse,
    More,
    Less,
    /// Of a line: one figure gets better and another worse.
    Both,
}

impl Change {
    fn of(better: Better, said: Contrast) -> Self {
        if said.never() {
            return Self::None;
        }
        match (said.told(), better) {
            (None, _) | (Some(Ordering::Equal), _) => Self::NotTold,
            (Some(Ordering::Less), Better::Less) | (Some(Ordering::Greater), Better::More) => {
                Self::Better
            }
            (Some(Ordering::Less), Better::More) | (Some(Ordering::Greater), Better::Less) => {
                Self::Worse
            }
            (Some(Ordering::Less), Better::Neither) => Self::Less,
            (Some(Ordering::Greater), Better::Neither) => Self::More,
        }
    }

    /// The name in files.
    fn key(self) -> &'static str {
        match self {
            Self::None => "no change",
            Self::NotTold => "not told apart",
            Self::Better => "gains",
            Self::Worse => "loses",
            Self::More => "more",
            Self::Less => "less",
            Self::Both => "both",
        }
    }

    /// Of a line with these changes: it gains where nothing gets worse, and loses where nothing gets better; else it may have both.
    fn of_line(changes: impl Iterator<Item = Self> + Clone) -> Self {
        let any = |change: Self| changes.clone().any(|other| other == change);
        match (any(Self::Better), any(Self::Worse)) {
            (true, false) => Self::Better,
            (false, true) => Self::Worse,
            (true, true) => Self::Both,
            (false, false) if changes.clone().all(|change| change == Self::None) => Self::None,
            _ => Self::NotTold,
        }
    }
}

/// The changes of a line's figures under a rule.
fn changes(
    found: &Comparison,
    who: Who,
    rule: usize,
    line: usize,
) -> impl Iterator<Item = Change> + Clone {
    let columns = found.whom.columns(who);
    columns.iter().enumerate().map(move |(figure, column)| {
        let at = At {
            rule,
            who,
            line,
            figure,
        };
        Change::of(column.better, found.whom.difference(at))
    })
}

/// Who gains and who loses in one sentence, by customer, or by order where no customers are named.
fn balance(found: &Comparison, rule: usize, instead: &str) -> String {
    let who = if found.whom.names(Who::Customer).len() > 1 {
        Who::Customer
    } else {
        Who::Order
    };
    let names = found.whom.names(who);
    let with = |change: Change| -> Vec<String> {
        let lines = names.iter().enumerate();
        let lines =
            lines.filter(|(line, _)| Change::of_line(changes(found, who, rule, *line)) == change);
        lines.map(|(_, name)| name.clone()).collect()
    };
    let [gain, lose, both, same] =
        [Change::Better, Change::Worse, Change::Both, Change::None].map(with);
    let some = |names: &[String], verb: &str, verb_of_one: &str| {
        /// More are counted, not named.
        const NAMED: usize = 4;
        match names.len() {
            0 => format!("none {verb_of_one}"),
            1 => format!("1 {verb_of_one} ({})", names[0]),
            2..=NAMED => format!("{} {verb} ({})", names.len(), names.join("; ")),
            many => format!("{} {verb}", count(many as u64)),
        }
    };
    let mut parts = vec![some(&gain, "gain", "gains"), some(&lose, "lose", "loses")];
    if !both.is_empty() {
        let (verb, verb_of_one) = (
            "gain in one figure and lose in another",
            "gains in one figure and loses in another",
        );
        parts.push(some(&both, verb, verb_of_one));
    }
    if !same.is_empty() {
        parts.push(format!("nothing changes for {}", count(same.len() as u64)));
    }
    let rest = names.len() - gain.len() - lose.len() - both.len() - same.len();
    if rest > 0 {
        parts.push(format!(
            "for {} it is too close to call",
            count(rest as u64)
        ));
    }
    format!(
        "With {instead}, of {} {}s {}.",
        count(names.len() as u64),
        key(who),
        sentences::listed(&parts, "and")
    )
}

/// For how many drivers the time on duty rises and falls.
fn drivers(found: &Comparison, rule: usize) -> String {
    let told = |change: Change| {
        let lines = 0..found.whom.names(Who::Driver).len();
        let figure = of_driver::DUTY;
        let more = lines
            .filter(|line| changes(found, Who::Driver, rule, *line).nth(figure) == Some(change));
        match more.count() {
            0 => "none".to_owned(),
            some => count(some as u64),
        }
    };
    format!(
        "Of {} drivers {} are on duty for less time and {} for more.",
        count(found.whom.names(Who::Driver).len() as u64),
        told(Change::Less),
        told(Change::More)
    )
}
