//! What gets worse under the rule that is recommended, and where to see which of its decisions bring what.

use super::sentences::quoted;
use crate::observe::{Better, figure};
use crate::report::answer::{Answer, Block};
use crate::report::number::{Unit, number};
use crate::report::{figure as written, period, shell};
use crate::scenario::Scenario;
use crate::statistics::Contrast;
use crate::studies::Comparison;
use std::cmp::Ordering;

/// So many are named.
const NAMED: usize = 5;

/// Figures that are parts of others: what they tell is told by those.
const PARTS: [usize; 14] = [
    figure::CASH,
    figure::COST_PER_YD3,
    figure::DRY_UP_COST,
    figure::LATE_ON_FIRST_WISH,
    figure::VIOLATION_DRIVING_MIN,
    figure::VIOLATION_WINDOW_MIN,
    figure::VIOLATION_ON_DUTY_MIN,
    figure::VIOLATION_BREAK_MIN,
    figure::VIOLATION_WEEK_MIN,
    figure::STRANDED_LOADED_LATE,
    figure::STRANDED_LENT,
    figure::STRANDED_TRAFFIC,
    figure::STRANDED_SITE,
    figure::STRANDED_SHORT,
];

/// What is shown to get worse against the rule that the others are compared with, the share of what there was largest first; that
/// nothing is, where nothing is.
pub(super) fn sentence(found: &Comparison, pick: usize) -> String {
    let mut worse: Vec<(f64, String)> = (0..figure::COUNT)
        .filter(|position| !PARTS.contains(position) && *position != found.judge)
        .filter_map(|position| told_worse(found, pick, position))
        .collect();
    worse.sort_by(|a, b| b.0.total_cmp(&a.0));
    let more = worse.len().saturating_sub(NAMED);
    let named = worse.into_iter().take(NAMED).map(|(_, words)| words);
    let named: Vec<String> = named.collect();
    if named.is_empty() {
        return format!(
            "No figure is shown to get worse under {}.",
            quoted(found, pick)
        );
    }
    let more = match more {
        0 => String::new(),
        more => format!("; and {more} more in summary.csv"),
    };
    format!(
        "What gets worse under {}, {}: {}{more}.",
        quoted(found, pick),
        period::per(found.days),
        named.join("; ")
    )
}

/// How much worse in proportion, and in words; none if it is not told to be worse.
fn told_worse(found: &Comparison, pick: usize, position: usize) -> Option<(f64, String)> {
    let column = &found.columns[position];
    let of = |rule: usize| &found.rules[rule].figures[position];
    let said = of(pick).difference?.said;
    let worse = match column.better {
        Better::Less => Ordering::Greater,
        Better::More => Ordering::Less,
        Better::Neither => return None,
    };
    let Contrast::Mean { mean, .. } = said else {
        return None;
    };
    if said.told() != Some(worse) {
        return None;
    }
    let before = of(found.base).summary.mean()?;
    let form = written::form(column);
    let amount = match form.unit {
        Unit::Plain => {
            let sign = if mean > 0.0 { "+" } else { "−" };
            format!("{sign}{}", number(mean.abs(), form.decimals))
        }
        unit => unit.show_difference(mean, form.decimals),
    };
    let share = mean.abs() / before.abs().max(1e-9);
    Some((share, format!("{} {amount}", written::heading(column))))
}

/// Which command tells which decisions of the rule bring what, and which puts a better one together.
pub(super) fn add_commands(found: &Comparison, pick: usize, scenario: &Scenario, to: &mut Answer) {
    if scenario.rules.len() < 2 || pick == found.base {
        return;
    }
    let names = (&*found.rules[found.base].name, &*found.rules[pick].name);
    let replications = found.replications().min(100);
    to.section(
        "",
        vec![
            Block::Text(
                "Which of its decisions bring that, and which could stay as they are:".into(),
            ),
            Block::Code(shell::habits(scenario, names, replications, found.seed)),
            Block::Text(
                "The best rule that can be put together from the decisions of all these rules:"
                    .into(),
            ),
            Block::Code(format!(
                "{} --seed {}",
                shell::command("best", scenario),
                found.seed
            )),
        ],
    );
}
