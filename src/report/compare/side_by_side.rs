//! The rules side by side: means, and what each changes in the figure that they are ranked by.

use super::rules_shown::narrow;
use super::sentences;
use crate::observe::figure as place;
use crate::report::answer::{Answer, Bars, Block, Cell, Column, Form, Row, Table};
use crate::report::number::{level, number};
use crate::report::{figure, period, statement};
use crate::statistics::{Contrast, Interval, Statement};
use crate::studies::{Comparison, Figure, RuleResult};

/// The figures that a screen has room for; all are in the files.
const SHOWN: [usize; 13] = [
    place::COST,
    place::CASH_PAID,
    place::LOST_SALES,
    place::TROUBLE,
    place::MARGIN,
    place::PLACED_YD3,
    place::SERVED_SHARE,
    place::LATE_LOADS,
    place::UNDELIVERED,
    place::GAPS,
    place::STRANDED,
    place::MARGIN_MIN,
    place::OVERTIME_H,
];

/// Orders that did not go as they were asked for: shown where a rule has any.
const SHOWN_OF_ORDERS: [usize; 3] = [
    place::REFUSED_YD3,
    place::ORDERS_MOVED,
    place::VIOLATION_MIN,
];

/// What is shown besides where the scenario describes mixes.
const SHOWN_OF_CONCRETE: [usize; 2] = [place::WET_AT_RACK, place::BELOW_STRENGTH];

/// Of those what is shown where a rule has any.
const SHOWN_IF_ANY: [usize; 4] = [
    place::PSI_LOST,
    place::PARTS_DUMPED_YD3,
    place::HEAVY,
    place::FOUND_HEAVY,
];

/// Figures that a screen has no room for.
const ONLY_ON_PAGE: [usize; 18] = [
    place::CASH,
    place::TRUCK_HOURS_COST,
    place::COST_PER_YD3,
    place::FIRST_LATE,
    place::LATE_ON_FIRST_WISH,
    place::VIOLATION_MIN,
    place::POURS_LATE,
    place::POURS_BROKEN,
    place::CREW_WAIT_MIN,
    place::REJECTED,
    place::REBATCHED,
    place::DRY_UPS,
    place::OVERTIME_SHARE,
    place::YD3_PER_PAID_H,
    place::TRUCK_USE,
    place::BAY_WAIT_MIN,
    place::SITE_WAIT_MIN,
    place::LOADS,
];

/// Whether a rule has any of it.
fn any(found: &Comparison, position: usize) -> bool {
    let above = |rule: &RuleResult| {
        rule.figures[position]
            .summary
            .max()
            .is_some_and(|m| m > 0.0)
    };
    found.rules.iter().any(above)
}

/// The figures that the screen shows of this answer.
fn shown(found: &Comparison) -> Vec<usize> {
    let mut shown = SHOWN.to_vec();
    shown.extend(
        SHOWN_OF_ORDERS
            .into_iter()
            .filter(|place| any(found, *place)),
    );
    if !found.per_hundred.is_empty() {
        shown.extend(SHOWN_OF_CONCRETE);
        shown.extend(SHOWN_IF_ANY.into_iter().filter(|place| any(found, *place)));
    }
    if !shown.contains(&found.judge) {
        shown.insert(0, found.judge);
    }
    shown
}

/// The tables, with what is to be known beside them.
pub(super) fn add(found: &Comparison, answer: &mut Answer) {
    answer.screen.push(Block::Table(MEANS));
    let mut blocks = vec![Block::Table(MEANS)];
    if found
        .rules
        .iter()
        .any(|rule| rule.figures[place::MARGIN_MIN].summary.n() > 0)
    {
        blocks.push(Block::Note(
            "Least time left: the least that any driver has left at the end of a shift's last drive, on the hours limit that runs out \
             first; below zero the limit was passed by so many minutes."
                .into(),
        ));
    }
    let means = means(found);
    let judged = heading(found, found.judge);
    let row = means
        .rows
        .iter()
        .position(|row| row.cells[0].brief() == judged);
    answer.bars.extend(row.map(|row| Bars {
        heading: "What the rules are judged by".into(),
        table: MEANS,
        row,
    }));
    answer.tables.push(means);
    if found.rules.len() > 1 {
        answer.tables.push(differences(found));
        blocks.push(Block::Table(DIFFERENCES));
        blocks.push(Block::Note(format!(
            "Intervals hold for all comparisons at once. \"none\" means not once in {}, \"not looked at\" that this scenario cannot have \
             it. {}",
            period::simulated(found.replications(), found.days),
            statement::FEW
        )));
    }
    answer.section("The rules side by side", blocks);
    for (name, days, heading) in [
        (PER_DAY, 1, "The same, a day"),
        (PER_WEEK, 7, "The same, a week"),
    ] {
        if found.days > days && period::per(found.days) != period::per(days) {
            answer.section(heading, vec![Block::Table(name)]);
            answer.tables.push(per_days(found, name, days));
        }
    }
}

/// Figures that are sums over the days, so that a shorter time has its part of them.
const SUMS: [usize; 13] = [
    place::COST,
    place::CASH_PAID,
    place::LOST_SALES,
    place::TROUBLE,
    place::MARGIN,
    place::PLACED_YD3,
    place::LOADS_DUE,
    place::LATE_LOADS,
    place::UNDELIVERED,
    place::GAPS,
    place::STRANDED,
    place::PAID_H,
    place::OVERTIME_H,
];

/// Means of so many of the period's days, one column for each rule.
fn per_days(found: &Comparison, name: &'static str, days: u32) -> Table {
    let first = format!("average {}", period::per(days));
    let mut table = Table::new(name, by_rule(found, first));
    for position in SUMS {
        let column = &found.columns[position];
        if column.lacks.is_some() {
            continue;
        }
        let part = f64::from(days) / f64::from(found.days);
        let form = figure::form(column);
        let cells = found.rules.iter().map(|rule| {
            let mean = rule.figures[position].summary.mean();
            mean.map_or(Cell::unknown(), |mean| Cell::Number {
                value: mean * part,
                form,
            })
        });
        table.row(std::iter::once(figure::heading(column).into()).chain(cells));
    }
    table
}

const MEANS: &str = "side-by-side";
/// The tables of shorter times.
const PER_DAY: &str = "per-day";
const PER_WEEK: &str = "per-week";
/// The table of differences.
pub(super) const DIFFERENCES: &str = "differences";

/// A heading for each rule.
pub(super) fn by_rule(found: &Comparison, first: String) -> Vec<Column> {
    let rules = found.rules.iter().enumerate().map(|(rule, result)| {
        if rule == found.base && found.base_is_today {
            Column::new(format!("{} (today)", result.name))
        } else {
            Column::new(result.name.clone())
        }
    });
    // A screen of five rules has no room for the interval of a chance.
    std::iter::once(Column::new(first).left())
        .chain(rules.map(Column::without_interval))
        .collect()
}

/// Means, one column for each rule.
fn means(found: &Comparison) -> Table {
    let first = format!("average {}", period::per(found.days));
    let mut table = Table::new(MEANS, by_rule(found, first));
    table.narrow = Some(narrow(found));
    let on_screen = shown(found);
    let more = ONLY_ON_PAGE
        .into_iter()
        .chain(any(found, place::FOUND_HEAVY).then_some(place::FOUND_HEAVY));
    let more: Vec<usize> = more.filter(|place| !on_screen.contains(place)).collect();
    for position in on_screen.iter().chain(&more).copied() {
        let all = |quiet: &dyn Fn(&Figure) -> bool| {
            found
                .rules
                .iter()
                .all(|rule| quiet(&rule.figures[position]))
        };
        // No such figure in this scenario, such as a margin without a limit.
        if all(&|figure| figure.summary.n() == 0) {
            continue;
        }
        let cells = found
            .rules
            .iter()
            .map(|rule| mean(found, position, &rule.figures[position]));
        table
            .row(std::iter::once(heading(found, position).into()).chain(cells))
            .screen(on_screen.contains(&position));
        if position == found.judge && found.rules.len() > 1 {
            add_differences(found, &mut table);
        }
    }
    table
}

/// The figure's name; of loads that failed it says of how many, under the rule that the others are compared with.
fn heading(found: &Comparison, position: usize) -> String {
    let heading = figure::heading(&found.columns[position]);
    let due = found.rules[found.base].figures[place::LOADS_DUE].summary;
    match due.mean() {
        Some(due) if [place::LATE_LOADS, place::UNDELIVERED].contains(&position) => {
            format!("{heading}, of {}", number(due, 0))
        }
        _ => heading,
    }
}

fn mean(found: &Comparison, position: usize, figure: &Figure) -> Cell {
    let column = &found.columns[position];
    statement::cell(
        figure.said,
        found.days,
        false,
        statement::plain_mean(column),
    )
}

/// How a difference in the figure that rules are ranked by is written, to the digits that its interval warrants.
fn form(found: &Comparison, interval: Interval) -> Form {
    let unit = figure::unit(found.judged_by());
    Form::new(unit, unit.decimals(interval.half_width())).signed()
}

/// Two rows of the screen below the figure that rules are ranked by: its paired differences against the base, and how far their
/// simultaneous intervals reach.
fn add_differences(found: &Comparison, table: &mut Table) {
    let against = if found.base_is_today {
        "against today's".to_owned()
    } else {
        format!("against {}", sentences::base(found))
    };
    let mut rows = [
        vec![Cell::from(against)],
        vec![format!("  give or take, {}", level(found.level)).into()],
    ];
    for rule in 0..found.rules.len() {
        let Some(difference) = &found.judged(rule).difference else {
            rows.iter_mut().for_each(|row| row.push(Cell::Blank));
            continue;
        };
        let said = difference.said;
        let (value, reach) = match said {
            Contrast::Mean { mean, interval } => {
                let form = form(found, interval);
                let reach = if interval.is_bounded() {
                    Cell::number(interval.half_width(), form.unit, form.decimals)
                } else {
                    "two runs needed".into()
                };
                (Cell::Number { value: mean, form }, reach)
            }
            Contrast::Chance { .. } => (
                statement::difference_seen(said).into(),
                statement::difference_ends(said).into(),
            ),
            Contrast::NotLookedAt | Contrast::Blank => (Cell::unknown(), Cell::Blank),
        };
        rows[0].push(value);
        rows[1].push(reach);
    }
    for row in rows {
        only_on_screen(table.row(row));
    }
}

fn only_on_screen(row: &mut Row) {
    row.page(false).not_in_files();
}

/// `differences.csv`: what each rule changes in the figure that rules are ranked by.
fn differences(found: &Comparison) -> Table {
    let judged = &found.judged_by().label;
    let mut table = Table::new(
        DIFFERENCES,
        vec![
            Column::new(format!(
                "difference from {} in {judged}",
                sentences::base(found)
            ))
            .left()
            .key("rule"),
            Column::new(format!("average ({} interval)", level(found.level)))
                .with_ends("difference_from_base"),
            Column::new("could trail the best by up to").key("worse_than_best_by_at_most"),
        ],
    );
    for (rule, result) in found.rules.iter().enumerate() {
        let Some(difference) = &found.judged(rule).difference else {
            continue;
        };
        let interval = difference.said.mean().map(|(_, interval)| interval);
        let form = form(found, interval.unwrap_or(found.against_best_other[rule]));
        let worse = found.against_best_other[rule].high;
        table.row([
            result.name.as_str().into(),
            statement::difference(difference.said, form),
            match worse {
                0.0 => Cell::worded("best", Some(0.0)),
                worse if worse.is_finite() => Cell::number(worse, form.unit, form.decimals),
                _ => Cell::unknown(),
            },
        ]);
    }
    table
}

/// What "none" means.
pub(super) fn never(found: &Comparison) -> Option<String> {
    let shown = shown(found);
    let said = || {
        let rules = found.rules.iter();
        rules.flat_map(|rule| shown.iter().map(|position| rule.figures[*position].said))
    };
    let few = said().any(|said| matches!(said, Statement::Chance { times: 1.., .. }));
    let few = few.then(|| statement::FEW.to_owned());
    let Some(share) = said().find_map(Statement::at_most_if_never) else {
        return few;
    };
    let percent = 100.0 * share;
    // Two digits that say something, of however many runs.
    let decimals = (1.0 - percent.log10()).ceil().clamp(2.0, 9.0) as usize;
    let never = format!(
        "none = never in {}; at {} confidence in fewer than {}% of all {}s.",
        period::simulated(found.replications(), found.days),
        level(found.level),
        number(percent, decimals)
            .trim_end_matches('0')
            .trim_end_matches('.'),
        period::noun(found.days)
    );
    Some(match few {
        None => never,
        Some(few) => format!("{never} {few}"),
    })
}
