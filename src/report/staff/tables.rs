//! The tables of staffing.

use super::sentences;
use crate::observe::{CostPart, MoneyKind};
use crate::report::answer::{Cell, Column, Part, Table};
use crate::report::number::{Unit, number};
use crate::studies::{Estimate, Saving, Shown, StaffAnswer, StaffResult, Staffing};

/// Every staffing.
pub(super) const STAFF: &str = "staff";
/// Which prices would turn it round.
pub(super) const TURNS: &str = "turns-round";
/// What saves it.
pub(super) const SPLIT: &str = "saving";
/// The growing order book as people read it.
pub(super) const GROWN: &str = "growth-shown";

/// Staffings that a screen has room for.
const ROWS: usize = 9;

/// Lost sales and priced trouble, stranded drivers left out.
pub(super) fn penalties(result: &StaffResult) -> f64 {
    let service = |part: &CostPart| {
        matches!(part.kind(), MoneyKind::LostSales | MoneyKind::Trouble)
            && *part != CostPart::Stranded
    };
    let parts = CostPart::ALL.into_iter().filter(service);
    parts.map(|part| result.parts[part as usize]).sum()
}

/// What hours at the plain rate earn, those included that are paid and not worked.
pub(super) fn regular_pay(result: &StaffResult) -> f64 {
    result.parts[CostPart::Pay as usize] + result.parts[CostPart::Unworked as usize]
}

/// What stranded drivers cost, those who fetch them included.
pub(super) fn stranded(result: &StaffResult) -> f64 {
    result.parts[CostPart::Stranded as usize] + result.parts[CostPart::Helpers as usize]
}

/// Those of the final answer, the cheapest that meet the targets first, then one driver less and more.
fn shown(answer: &StaffAnswer) -> Vec<&StaffResult> {
    let mut shown: Vec<&StaffResult> = answer
        .results
        .iter()
        .filter(|result| result.is_final)
        .collect();
    for one in [&answer.less, &answer.more].into_iter().flatten() {
        if shown
            .iter()
            .all(|other| other.staffing != one.result.staffing)
        {
            shown.push(&one.result);
        }
    }
    let cost = |result: &StaffResult| result.cost.mean.unwrap_or(f64::INFINITY);
    shown.sort_by(|a, b| b.meets.cmp(&a.meets).then(cost(a).total_cmp(&cost(b))));
    shown
}

/// A column of money: whole on the page and in files, in thousands on the screen.
fn money(heading: &str, brief: &str, key: &str) -> [Column; 2] {
    [
        Column::new(heading).page_only().key(key),
        Column::new(brief).screen_only(),
    ]
}

/// The saving against today's staffing by its changes.
pub(super) fn split(saving: &Saving) -> Table {
    let mut table = Table::new(
        SPLIT,
        vec![
            Column::new("change").left().key("change"),
            Column::new("saves").with_ends("saves"),
        ],
    );
    for (part, share) in &saving.parts {
        table.row([
            sentences::part_words(*part).into(),
            Cell::estimate(share, Unit::Money, 0),
        ]);
    }
    table
        .row([
            "all together".into(),
            Cell::estimate(&saving.whole, Unit::Money, 0),
        ])
        .marked(true);
    table
}

/// Which prices would turn it round.
pub(super) fn turns(answer: &StaffAnswer) -> Table {
    let mut table = Table::new(
        TURNS,
        vec![
            Column::new("part of the cost").left().key("part"),
            Column::new("saved in it").key("saved"),
            Column::new("the two cost the same at so many times its price").key("times"),
        ],
    );
    for (part, saved, times) in answer.turning_points() {
        table.row([
            part.words().into(),
            Cell::number(saved, Unit::Money, 0),
            Cell::number(times, Unit::Plain, 2),
        ]);
    }
    table
}

/// Whether any staffing has it.
fn any(answer: &StaffAnswer, has: impl Fn(&StaffResult) -> bool) -> bool {
    answer.results.iter().any(has)
}

fn columns(answer: &StaffAnswer) -> Vec<Column> {
    let hired = any(answer, |result| result.staffing.hired.haulers > 0);
    let part_time = any(answer, |result| result.staffing.part_time.drivers > 0);
    let people = match (hired, part_time) {
        (false, false) => "drivers",
        (true, false) => "drivers + hired",
        (false, true) => "drivers (short shift)",
        (true, true) => "drivers (short) + hired",
    };
    let mut columns = vec![
        Column::new(people).left().key("drivers"),
        Column::file("starts"),
        Column::new("start times").left(),
        Column::file("overtime_use"),
        Column::new("overtime").left(),
        Column::file("final"),
        Column::file("meets_targets"),
        Column::new("cost").page_only().with_ends("cost"),
        Column::new("cost").screen_only(),
    ];
    columns.extend(money("regular pay", "pay", "regular_pay"));
    columns.push(Column::new("of it idle").page_only().key("idle_pay"));
    // On the page only where there is something to tell.
    let unworked = any(answer, |result| {
        result.unworked_h.mean.is_some_and(|hours| hours > 0.0)
    });
    columns.push(match unworked {
        true => Column::new("hours paid, not worked")
            .page_only()
            .key("unworked_h"),
        false => Column::file("unworked_h"),
    });
    columns.extend(money("overtime pay", "over", "overtime_pay"));
    if part_time {
        columns.push(Column::file("part_time"));
        columns.push(Column::file("part_time_h"));
    }
    if hired {
        columns.push(Column::file("haulers"));
        columns.push(
            Column::new("hired haulers' bill")
                .page_only()
                .key("haulers_bill"),
        );
        columns.push(Column::new("their hours").page_only().key("haulers_h"));
        columns.push(Column::file("haulers_days"));
    }
    columns.extend([
        Column::new("late, lost sales").page_only().key("penalties"),
        Column::file("stranded_cost"),
        Column::new("loads late")
            .brief("late")
            .with_ends("late_share"),
        Column::new("undelivered")
            .brief("undel.")
            .key("undelivered_share")
            .part("undelivered_share_high", Part::High),
        Column::new("drivers stranded")
            .brief("strand")
            .key("stranded"),
        Column::new("least legal time left")
            .page_only()
            .key("margin_min"),
        Column::file("overtime_h"),
    ]);
    columns
}

fn cells(answer: &StaffAnswer, result: &StaffResult) -> Vec<Cell> {
    let staffing = result.staffing;
    let best = answer
        .best
        .is_some_and(|at| answer.results[at].staffing == staffing);
    let equal = answer
        .equal
        .iter()
        .any(|at| answer.results[*at].staffing == staffing);
    let not_yet = matches!(answer.shown(), Some(Shown::NotYet { .. }));
    let mark = match (best, staffing == answer.today, equal) {
        (true, true, _) => " ← keep",
        (true, false, _) if not_yet => " cheapest",
        (false, true, _) if not_yet => " ← keep",
        (true, false, _) => " ← best",
        (false, true, true) => " = (today)",
        (false, true, false) => " (today)",
        (false, false, true) => " =",
        (false, false, false) => "",
    };
    let asked = &answer.question;
    let share = |estimate: &Estimate, most: f64| marked_share(estimate, most, result.meets);
    let thousands = |units: Option<f64>| {
        units.map_or(Cell::unknown(), |units| {
            Cell::Text(format!("{}k", Unit::Money.show(units / 1000.0, 1)))
        })
    };
    let money = |units: f64| [Cell::number(units, Unit::Money, 0), thousands(Some(units))];
    let mut cells = vec![
        Cell::worded(
            format!("{}{mark}", head_count(staffing)),
            Some(staffing.drivers.into()),
        ),
        staffing.starts.word().into(),
        sentences::starts(staffing.starts).into(),
        staffing.overtime.word().into(),
        sentences::overtime(staffing.overtime).into(),
        Cell::yes(result.is_final),
        Cell::yes(result.is_final && result.meets),
        Cell::estimate(&result.cost, Unit::Money, 0),
        thousands(result.cost.mean),
    ];
    cells.extend(money(regular_pay(result)));
    cells.push(Cell::number(result.idle_pay, Unit::Money, 0));
    cells.push(
        result
            .unworked_h
            .mean
            .map_or(Cell::unknown(), |hours| Cell::number(hours, Unit::Plain, 1)),
    );
    cells.extend(money(result.parts[CostPart::Overtime as usize]));
    if any(answer, |result| result.staffing.part_time.drivers > 0) {
        let part_time = staffing.part_time;
        cells.push(f64::from(part_time.drivers).into());
        cells.push(part_time.shift.hours().into());
    }
    if any(answer, |result| result.staffing.hired.haulers > 0) {
        cells.push(f64::from(staffing.hired.haulers).into());
        let bill = result.parts[CostPart::Haulers as usize];
        cells.push(Cell::number(bill, Unit::Money, 0));
        cells.push(Cell::number(result.hired_h, Unit::Plain, 1));
        cells.push(result.hired_days.into());
    }
    cells.extend([
        Cell::number(penalties(result), Unit::Money, 0),
        stranded(result).into(),
        share(&result.late_share, asked.late_share),
        share(&result.undelivered, asked.undelivered),
        result
            .stranded
            .mean
            .map_or(Cell::unknown(), |mean| Cell::number(mean, Unit::Plain, 2)),
        result
            .margin_min
            .mean
            .map_or(Cell::unknown(), |mean| Cell::worded(left(mean), Some(mean))),
        result.overtime_h.mean.into(),
    ]);
    cells
}

/// `34`, `34 + 2` with two haulers, `34 (4)` with four on short shifts.
fn head_count(staffing: Staffing) -> String {
    let mut text = staffing.drivers.to_string();
    let (hired, part_time) = (staffing.hired.haulers, staffing.part_time);
    if part_time.drivers > 0 {
        text += &format!(" ({})", part_time.drivers);
    }
    if hired > 0 {
        text += &format!(" + {hired}");
    }
    text
}

/// A share, marked where it is what misses the target.
pub(super) fn marked_share(estimate: &Estimate, most: f64, meets: bool) -> Cell {
    let missed =
        estimate.interval.high > most && !meets && estimate.mean.is_some_and(|mean| mean > 0.0);
    Cell::Worded {
        words: format!(
            "{}{}",
            sentences::share(estimate),
            if missed { " !" } else { "" }
        ),
        value: estimate.mean,
        low: Some(estimate.interval.low),
        high: Some(estimate.interval.high),
    }
}

/// `12 min`, or `2 min over`.
fn left(minutes: f64) -> String {
    let whole = number(minutes.abs(), 0);
    if minutes < 0.0 && whole != "0" {
        format!("{whole} min over")
    } else {
        format!("{whole} min")
    }
}

/// People see those of the final answer, in order of merit; files have every staffing, then one driver less and more than the
/// answer's.
pub(super) fn staffings(answer: &StaffAnswer) -> Table {
    let mut table = Table::new(STAFF, columns(answer));
    // The study's own part of the JSON tells all of it.
    table.json = false;
    // A year needs room too.
    let rows = if answer.year.is_some() {
        ROWS / 2
    } else {
        ROWS
    };
    for (place, result) in shown(answer).into_iter().enumerate() {
        let best = answer.best.map(|at| answer.results[at].staffing);
        table
            .row(cells(answer, result))
            .marked(best == Some(result.staffing))
            .screen(place < rows)
            .not_in_files();
    }
    let neighbours = [&answer.less, &answer.more].into_iter().flatten();
    let neighbours = neighbours.map(|one| &one.result).filter(|one| {
        let same = |other: &StaffResult| other.staffing == one.staffing && other.is_final;
        !answer.results.iter().any(same)
    });
    for result in answer.results.iter().chain(neighbours) {
        table.row(cells(answer, result)).screen(false).page(false);
    }
    table
}

/// For each growth the drivers of the answer, and the fewest that meet the targets.
pub(super) fn growth(answer: &StaffAnswer) -> Table {
    let mut all = vec![Column::file("growth_per_cent"), Column::file("which")];
    all.extend(columns(answer));
    let mut table = Table::new("growth", all);
    table.json = false;
    for grown in &answer.grown {
        let mut row = |which: &str, result: &StaffResult| {
            let first = [grown.per_cent.into(), which.into()];
            table.row(first.into_iter().chain(cells(answer, result)));
        };
        row("as now", &grown.as_now);
        if let Some(fewest) = &grown.fewest {
            row("fewest that meet the targets", fewest);
        }
    }
    table
}

/// The same, one line for each growth, as people read it.
pub(super) fn grown(answer: &StaffAnswer) -> Table {
    let mut table = Table::new(
        GROWN,
        vec![
            Column::new("orders"),
            Column::new("late with as many drivers"),
            Column::new("undelivered"),
            Column::new("fewest drivers that meet the targets"),
            Column::new("their cost"),
        ],
    );
    for grown in &answer.grown {
        let fewest = grown.fewest.as_ref();
        table.row([
            format!("{}%", number(grown.per_cent, 0)).into(),
            sentences::share(&grown.as_now.late_share).into(),
            sentences::share(&grown.as_now.undelivered).into(),
            fewest.map_or("more than were tried".into(), |result| {
                Cell::count(result.staffing.drivers.into())
            }),
            fewest.map_or(Cell::unknown(), |result| {
                sentences::dollars(&result.cost).into()
            }),
        ]);
    }
    table
}
