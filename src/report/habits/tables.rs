//! Tables: what each decision brings, in every figure.

use super::sentences;
use crate::observe::Column as FigureColumn;
use crate::observe::columns;
use crate::report::answer::{Cell, Column, Form, Part, Table};
use crate::report::habit_words::{choice, label};
use crate::report::number::{Unit, level, number};
use crate::report::period::per;
use crate::scenario::Scenario;
use crate::statistics::Interval;
use crate::studies::{Change, Habits, Valued};
use crate::units::measure;

/// The name of the table of kinds of money.
pub(super) const MONEY: &str = "money";

/// `habits.csv`: one line for each decision and figure, and for the whole.
pub(super) fn all(found: &Habits, scenario: &Scenario) -> Table {
    let figures = columns(scenario);
    let change = |key: &str, low: &str, high: &str| {
        Column::file(key)
            .part(low, Part::Low)
            .part(high, Part::High)
    };
    let mut table = Table::new(
        "habits",
        vec![
            Column::file("decision"),
            Column::file("words"),
            Column::file("from"),
            Column::file("to"),
            Column::file("figure"),
            change("added_alone", "added_alone_low", "added_alone_high"),
            change("taken_last", "taken_last_low", "taken_last_high"),
            change("share", "share_low", "share_high"),
        ],
    );
    let key = |valued: Valued| key(&figures, valued);
    for result in &found.habits {
        for valued in Valued::ALL {
            let value = result.of(valued);
            table.row([
                measure::key(result.habit.key()).0.into_owned().into(),
                label(result.habit).into(),
                choice(result.habit, &found.from, scenario).into(),
                choice(result.habit, &found.to, scenario).into(),
                key(valued).into(),
                cell(value.alone),
                cell(value.last),
                cell(value.share),
            ]);
        }
    }
    for valued in Valued::ALL {
        let whole = found.whole(valued);
        table.row([
            "all".into(),
            "all together".into(),
            found.from.name.as_str().into(),
            found.to.name.as_str().into(),
            key(valued).into(),
            cell(whole),
            cell(whole),
            cell(whole),
        ]);
    }
    table
}

/// The name of a figure in files.
pub(super) fn key(figures: &[FigureColumn], valued: Valued) -> String {
    figures[valued.column()].key.clone()
}

fn cell(change: Change) -> Cell {
    Cell::Estimate {
        value: Some(change.mean),
        interval: change.interval,
        at_least: None,
        form: Form::new(Unit::Plain, 2),
    }
}

/// Of each decision's share of the change in cost, and of what it may be off by.
pub(in crate::report) fn share_columns(found: &Habits) -> [Column; 2] {
    [
        Column::new(format!("share of the change {}", per(found.days))),
        Column::new(format!("give or take, {}", level(found.asked.level))),
    ]
}

/// The same, a pair for each decision in their order; the shares add up to the whole.
pub(in crate::report) fn share_cells(found: &Habits) -> Vec<[Cell; 2]> {
    let whole = found.whole(Valued::Cost);
    let decimals = sentences::decimals(whole);
    let shares = found.habits.iter().map(|r| r.of(Valued::Cost).share);
    let means = shares.clone().map(|share| share.mean).collect();
    let shown = adding_up(means, whole.mean, decimals).into_iter();
    let cells = shown.zip(shares).map(|(shown, share)| {
        [
            Cell::number(shown, Unit::Money, decimals).signed(),
            give_or_take(share.interval, decimals),
        ]
    });
    cells.collect()
}

/// What each decision brings: on the screen.
pub(super) fn decisions(found: &Habits) -> Table {
    let [share, give_or_take_column] = share_columns(found);
    let mut table = Table::new(
        "decisions",
        vec![
            Column::new("decision").left(),
            share,
            give_or_take_column,
            Column::new("added alone"),
            Column::new("taken away last"),
            Column::new("late loads"),
            Column::new("drivers stranded"),
        ],
    );
    let whole = found.whole(Valued::Cost);
    let decimals = sentences::decimals(whole);
    let money = |value: f64| Cell::number(value, Unit::Money, decimals).signed();
    for (result, [share, give_or_take]) in found.habits.iter().zip(share_cells(found)) {
        let cost = result.of(Valued::Cost);
        table.row([
            label(result.habit).into(),
            share,
            give_or_take,
            money(cost.alone.mean),
            money(cost.last.mean),
            count(result.of(Valued::LateLoads).share),
            count(result.of(Valued::Stranded).share),
        ]);
    }
    table.row([
        "all together".into(),
        money(whole.mean),
        give_or_take(whole.interval, decimals),
        Cell::Blank,
        Cell::Blank,
        count(found.whole(Valued::LateLoads)),
        count(found.whole(Valued::Stranded)),
    ]);
    table
}

/// In cash, lost sales and trouble.
pub(super) fn money(found: &Habits) -> Table {
    let kinds = [Valued::CashPaid, Valued::LostSales, Valued::Trouble];
    let mut table = Table::new(
        MONEY,
        vec![
            Column::new(format!("share of the change {}", per(found.days))).left(),
            Column::new("cash paid"),
            Column::new("lost sales"),
            Column::new("priced trouble"),
            Column::new("undelivered loads"),
        ],
    );
    let shown: Vec<Vec<f64>> = kinds
        .iter()
        .map(|kind| {
            let shares = found.habits.iter().map(|r| r.of(*kind).share.mean);
            adding_up(shares.collect(), found.whole(*kind).mean, 0)
        })
        .collect();
    let cell = |value: f64| Cell::number(value, Unit::Money, 0).signed();
    for (at, result) in found.habits.iter().enumerate() {
        table.row([
            label(result.habit).into(),
            cell(shown[0][at]),
            cell(shown[1][at]),
            cell(shown[2][at]),
            count(result.of(Valued::Undelivered).share),
        ]);
    }
    let [cash, sales, trouble] = kinds.map(|kind| cell(found.whole(kind).mean));
    let undelivered = count(found.whole(Valued::Undelivered));
    table.row(["all together".into(), cash, sales, trouble, undelivered]);
    table
}

/// What the two rules decide.
pub(super) fn choices(found: &Habits, scenario: &Scenario) -> Table {
    let mut table = Table::new(
        "choices",
        vec![
            Column::new("decision").left(),
            Column::new(format!("\"{}\"", found.from.name)).left(),
            Column::new(format!("\"{}\"", found.to.name)).left(),
        ],
    );
    for result in &found.habits {
        table.row([
            label(result.habit).into(),
            choice(result.habit, &found.from, scenario).into(),
            choice(result.habit, &found.to, scenario).into(),
        ]);
    }
    table
}

/// Rounded so that they add up to the rounded sum: what rounding leaves goes to those that lose most by it (largest remainder).
fn adding_up(mut values: Vec<f64>, sum: f64, decimals: usize) -> Vec<f64> {
    let step = libm::pow(10.0, -(decimals as f64));
    let mut units: Vec<f64> = values
        .iter()
        .map(|value| libm::floor(value / step))
        .collect();
    let whole = libm::round(sum / step);
    let missing = (whole - units.iter().sum::<f64>()).max(0.0) as usize;
    let mut order: Vec<usize> = (0..values.len()).collect();
    let rest = |at: &usize| values[*at] / step - units[*at];
    order.sort_by(|a, b| rest(b).total_cmp(&rest(a)));
    for at in order.into_iter().take(missing) {
        units[at] += 1.0;
    }
    for (value, units) in values.iter_mut().zip(units) {
        *value = units * step;
    }
    values
}

fn give_or_take(interval: Interval, decimals: usize) -> Cell {
    if !interval.is_bounded() {
        return "two runs needed".into();
    }
    let half = interval.half_width();
    let apart = if interval.excludes_zero() { "" } else { " ·" };
    Cell::worded(
        format!("{}{apart}", Unit::Money.show(half, decimals)),
        Some(half),
    )
}

/// A change of a count; `·` where it is not told apart from none.
pub(in crate::report) fn count(change: Change) -> Cell {
    let words = if change.interval.is_bounded() && !change.interval.excludes_zero() {
        "·".into()
    } else {
        let decimals = Unit::Plain.decimals(change.interval.half_width()).min(2);
        let sign = if change.mean > 0.0 { "+" } else { "" };
        format!("{sign}{}", number(change.mean, decimals))
    };
    Cell::Worded {
        words,
        value: Some(change.mean),
        low: Some(change.interval.low),
        high: Some(change.interval.high),
    }
}

#[cfg(test)]
mod tests {
    use super::adding_up;

    /// Thirds of a hundred: one of them takes the cent that is left.
    #[test]
    fn rounded_parts_add_up_to_the_rounded_whole() {
        let third = 100.0 / 3.0;
        assert_eq!(adding_up(vec![third; 3], 100.0, 0), [34.0, 33.0, 33.0]);
        assert_eq!(
            adding_up(vec![-10.6, 3.3, -5.2], -12.5, 0)
                .iter()
                .sum::<f64>(),
            -13.0
        );
    }
}
