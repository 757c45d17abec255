//! The year by its seasons: sentences and tables.

use super::sentences::{dollars, drivers, less, share, staffing};
use super::tables;
use crate::report::answer::page::listed;
use crate::report::answer::{Answer, Block, Cell, Column, Form, Table};
use crate::report::number::{Unit, money, number};
use crate::report::period::per;
use crate::report::plain_text::capital;
use crate::scenario::season::{Season, YEAR_WEEKS};
use crate::studies::{Estimate, StaffAnswer, StaffResult, StaffedYear, Year};

/// The staffings over the year.
const YEAR: &str = "year";
/// The same season by season.
pub(super) const SEASONS: &str = "year-seasons";
/// Head counts over the year.
const HEADS: &str = "year-head-counts";

/// `in 52 weeks`, or `in the 40 weeks counted`.
pub(super) fn in_weeks(year: &Year) -> String {
    let weeks = number(year.weeks(), decimals(year.weeks()));
    match year.weeks() == YEAR_WEEKS {
        true => format!("in {weeks} weeks"),
        false => format!("in the {weeks} weeks counted"),
    }
}

/// One where it is not whole; what is computed need not be so to the last digit.
fn decimals(value: f64) -> usize {
    usize::from((value - value.round()).abs() > 1e-9)
}

fn at(season: &Season) -> String {
    let share = Unit::Share.show(season.orders, decimals(season.orders * 100.0));
    format!(
        "{} weeks at {share}",
        number(season.weeks, decimals(season.weeks))
    )
}

/// `winter`, or `the 12 weeks at 70%`.
fn season_words(season: &Season) -> String {
    match &season.name {
        Some(name) => name.clone(),
        None => format!("the {}", at(season)),
    }
}

/// The seasons in which a staffing is not shown to meet the targets, with what is late there.
fn missed(year: &Year, one: &StaffedYear) -> Vec<String> {
    let seasons = year.seasons.iter().zip(&one.seasons);
    let missed = seasons.filter(|(_, result)| !result.meets);
    missed
        .map(|(season, result)| {
            format!(
                "{} ({} late, {} undelivered)",
                season_words(season),
                share(&result.late_share),
                share(&result.undelivered)
            )
        })
        .collect()
}

/// `misses them in winter (…)`; where only the bounds are beyond a target, that they are not shown to be met.
fn falls_short(found: &StaffAnswer, year: &Year, one: &StaffedYear, verb: [&str; 2]) -> String {
    let asked = &found.question;
    let beyond = |estimate: &Estimate, most: f64| estimate.mean.is_some_and(|mean| mean > most);
    let misses = one.seasons.iter().any(|season| {
        beyond(&season.late_share, asked.late_share)
            || beyond(&season.undelivered, asked.undelivered)
            || asked
                .stranded
                .is_some_and(|most| beyond(&season.stranded, most))
    });
    let verb = if misses { verb[0] } else { verb[1] };
    format!("{verb} in {}", listed(&missed(year, one)))
}

const ONE: [&str; 2] = ["misses them", "is not shown to meet them"];
const ALONE: [&str; 2] = ["misses the targets", "is not shown to meet the targets"];
const SEVERAL: [&str; 2] = ["miss them", "are not shown to meet them"];

/// First of all that is said, where seasons were given.
pub(super) fn decision(found: &StaffAnswer, year: &Year) -> String {
    let today = &year.staffings[0];
    let hires = match found.question.hire_per_week {
        Some(_) => ", hires kept all year",
        None => "",
    };
    let Some(best) = year.best.map(|at| &year.staffings[at]) else {
        let kept = year.of_period.and_then(|staffing| year.of(staffing));
        let one = kept.unwrap_or(today);
        let what = match kept {
            Some(_) => "what the book's own days ask for",
            None => "today's",
        };
        return format!(
            "No staffing tried is shown to meet the service targets in every season: {what}, {}, {}.",
            staffing(one.staffing),
            falls_short(found, year, one, ONE)
        );
    };
    let against = match best.staffing == today.staffing {
        true => ", which is today's staffing".to_owned(),
        false => format!(
            ", {}{} than today's {}, which {}",
            less(&best.saving),
            match best.saving.interval.excludes_zero() {
                true => "",
                false => ", which is not shown yet (more runs may tell),",
            },
            drivers(today.staffing.drivers),
            match (today.meets(), today.staffing.drivers) {
                (true, 1) => "meets them too".to_owned(),
                (true, _) => "meet them too".to_owned(),
                (false, 1) => falls_short(found, year, today, ONE),
                (false, _) => falls_short(found, year, today, SEVERAL),
            }
        ),
    };
    format!(
        "Staff with {}: the cheapest tried that meets the service targets in every season, {} {}{hires}{against}.",
        staffing(best.staffing),
        dollars(&best.cost),
        in_weeks(year),
    )
}

/// What else is said of the year.
fn sentences(found: &StaffAnswer, year: &Year) -> Vec<String> {
    let mut all = heads_and_own(found, year);
    all.extend(hires(found, year));
    all
}

/// The best head counts, and what the book's own days alone ask for.
pub(super) fn heads_and_own(found: &StaffAnswer, year: &Year) -> Vec<String> {
    let own = own_days(found, year);
    own.into_iter().chain([heads(year)]).collect()
}

fn own_days(found: &StaffAnswer, year: &Year) -> Option<String> {
    let of_period = year.of_period.and_then(|staffing| year.of(staffing));
    let other = of_period.filter(|one| year.decided().is_some_and(|best| best != one.staffing));
    let kept = year.best.map(|at| &year.staffings[at]);
    let tried = &found.question.drivers;
    let tried = match (tried.first(), tried.last()) {
        (Some(least), Some(most)) if least < most => {
            format!(", {least} to {most} drivers tried first,")
        }
        _ => String::new(),
    };
    other.map(|one| {
        let dearer = kept.is_some_and(|kept| one.cost.mean > kept.cost.mean);
        let why = match one.meets() {
            true if dearer => "over the year that costs more".to_owned(),
            true => "over the year that changes more and saves too little to matter".to_owned(),
            false => format!("that {}", falls_short(found, year, one, ALONE)),
        };
        format!(
            "The book's own days alone{tried} ask for {}: {why}.",
            staffing(one.staffing)
        )
    })
}

/// What drivers more than today cost of it.
fn hires(found: &StaffAnswer, year: &Year) -> Option<String> {
    year.best.map(|at| &year.staffings[at]).and_then(|best| {
        let asked = found.question.hire_per_week?;
        let more = i64::from(best.staffing.drivers) - i64::from(found.today.drivers);
        (more != 0).then(|| {
            format!(
                "Hires: {} {} than today, all year, at {} a week: {} {}.",
                more.unsigned_abs(),
                if more > 0 { "more" } else { "fewer" },
                money(asked),
                money(best.hire.abs()),
                if more > 0 { "of that cost" } else { "off it" },
            )
        })
    })
}

/// The best head count of each season beside that of the year.
fn heads(year: &Year) -> String {
    let each: Vec<String> = year
        .seasons
        .iter()
        .zip(&year.alone)
        .map(|(season, best)| match best {
            Some(best) => format!(
                "{}{} in {}",
                best.drivers,
                if best.at_end { " or beyond" } else { "" },
                season_words(season)
            ),
            None => format!("none tried in {}", season_words(season)),
        })
        .collect();
    let kept = match year.decided() {
        Some(best) => format!("{} kept all year", drivers(best.drivers)),
        None => "none all year".into(),
    };
    format!(
        "Best head count of each season alone, by the search: {}; {kept}.",
        each.join(", ")
    )
}

/// Sentences, tables and a section of the page.
pub(super) fn add(found: &StaffAnswer, year: &Year, to: &mut Answer) {
    for sentence in sentences(found, year) {
        to.say(sentence);
    }
    to.section(
        "The year by season",
        vec![
            Block::Table(YEAR),
            Block::Note(format!(
                "{}: {}. Drivers stay all year; every season has its own days, on which all staffings run.",
                capital("the seasons"),
                seasons(year)
            )),
            Block::Table(SEASONS),
            Block::Note(format!(
                "With the recommended staffing, money {}. \"!\": above a target. The best head count of a season alone is the cheapest of \
                 the search that is within the targets, and would need drivers for that season only; it saves so much against the \
                 drivers who stay all year.",
                per(found.days)
            )),
            Block::Table(HEADS),
            Block::Note(
                "Head counts of the search, with the same start times and use of overtime; share of loads late in each season.".into(),
            ),
        ],
    );
    to.tables.push(staffings(found, year));
    to.tables.push(by_season(found, year));
    to.tables.push(head_counts(year));
}

/// The seasons as they were given, with the orders that this makes.
fn seasons(year: &Year) -> String {
    let (orders, book) = &year.orders;
    let each = year.seasons.iter().zip(orders).map(|(season, orders)| {
        let name = season.name.as_ref();
        let name = name.map_or(String::new(), |name| format!("{name}, "));
        let whole = match book {
            0 => String::new(),
            book => format!(" ({orders} of {book} written)"),
        };
        format!("{name}{} of the orders{whole}", at(season))
    });
    each.collect::<Vec<_>>().join("; ")
}

fn service(found: &StaffAnswer, year: &Year, one: &StaffedYear) -> String {
    match one.meets() {
        true => "met in every season".into(),
        false => falls_short(found, year, one, ["missed", "not shown to be met"]),
    }
}

/// One line for each staffing.
fn staffings(found: &StaffAnswer, year: &Year) -> Table {
    let mut table = Table::new(
        YEAR,
        vec![
            Column::new("staffing").left().key("staffing"),
            Column::file("drivers"),
            Column::file("starts"),
            Column::file("overtime_use"),
            Column::file("weeks"),
            Column::new(format!("cost {}", in_weeks(year))).with_ends("cost"),
            Column::new("less than today's").with_ends("saving"),
            hires_column(found).key("hires"),
            Column::new("service targets").left().key("service"),
            Column::file("meets_targets"),
        ],
    );
    for (at, one) in year.staffings.iter().enumerate() {
        let best = year.best == Some(at);
        let is_today = one.staffing == found.today;
        let of_period = year.of_period == Some(one.staffing);
        let mark = match (best, is_today, of_period) {
            (true, true, _) => " ← keep",
            (true, false, _) => " ← best",
            (false, true, _) => " (today)",
            (false, false, true) => " (the book's own days)",
            (false, false, false) => "",
        };
        table
            .row([
                format!("{}{mark}", staffing(one.staffing)).into(),
                f64::from(one.staffing.drivers).into(),
                one.staffing.starts.word().into(),
                one.staffing.overtime.word().into(),
                year.weeks().into(),
                Cell::estimate(&one.cost, Unit::Money, 0),
                match is_today {
                    true => Cell::Blank,
                    false => Cell::estimate(&one.saving, Unit::Money, 0),
                },
                Cell::number(one.hire, Unit::Money, 0),
                service(found, year, one).into(),
                Cell::yes(one.meets()),
            ])
            .marked(best);
    }
    table
}

/// Seen only where something was given for a hire.
fn hires_column(found: &StaffAnswer) -> Column {
    match found.question.hire_per_week {
        Some(_) => Column::new("of it hires"),
        None => Column::new("").only_in_files(),
    }
}

/// One line for each season and staffing; people see those of the recommended one.
fn by_season(found: &StaffAnswer, year: &Year) -> Table {
    let period = per(found.days);
    let mut table = Table::new(
        SEASONS,
        vec![
            Column::new("season").left().key("season"),
            Column::file("weeks"),
            Column::file("orders_share"),
            Column::file("staffing"),
            Column::new(format!("cost {period}")).with_ends("cost"),
            Column::file("cost_of_all_its_weeks"),
            Column::new("less than today's").with_ends("saving"),
            Column::new("loads late").with_ends("late_share"),
            Column::new("undelivered").with_ends("undelivered_share"),
            Column::file("meets_targets"),
            Column::new("best head count alone").key("best_alone"),
            Column::new(format!("it saves {period}")).with_ends("best_alone_saves"),
        ],
    );
    let seen = year.decided().or(year.of_period).unwrap_or(found.today);
    for (nth, season) in year.seasons.iter().enumerate() {
        for one in &year.staffings {
            let result = &one.seasons[nth];
            let periods = year.periods[nth];
            let alone = year.alone[nth];
            let saves = alone
                .and_then(|best| best.saves)
                .filter(|_| alone.is_some_and(|best| best.drivers != seen.drivers));
            let is_seen = one.staffing == seen;
            table
                .row([
                    match &season.name {
                        Some(name) => format!("{name}, {}", at(season)),
                        None => at(season),
                    }
                    .into(),
                    Cell::number(season.weeks, Unit::Plain, decimals(season.weeks)),
                    Cell::number(season.orders, Unit::Share, decimals(season.orders * 100.0)),
                    staffing(one.staffing).into(),
                    Cell::estimate(&result.cost, Unit::Money, 0),
                    result.cost.mean.map(|cost| periods * cost).into(),
                    match one.staffing == found.today {
                        true => Cell::Blank,
                        false => shown(&one.savings[nth]),
                    },
                    late(found, result),
                    tables::marked_share(
                        &result.undelivered,
                        found.question.undelivered,
                        result.meets,
                    ),
                    Cell::yes(result.meets),
                    alone.map_or(Cell::unknown(), |best| {
                        let beyond = if best.at_end { " or beyond" } else { "" };
                        let words = format!("{}{beyond}", best.drivers);
                        Cell::worded(words, Some(best.drivers.into()))
                    }),
                    saves.map_or(Cell::unknown(), |saves| shown(&saves)),
                ])
                .page(is_seen);
        }
    }
    table
}

/// An amount with its interval, or that it is not shown.
pub(super) fn shown(estimate: &Estimate) -> Cell {
    match estimate.interval.excludes_zero() {
        true => Cell::estimate(estimate, Unit::Money, 0),
        false => Cell::Worded {
            words: format!(
                "not shown ({})",
                crate::report::number::range(estimate.interval, |end| {
                    Form::new(Unit::Money, 0).show(end)
                })
            ),
            value: estimate.mean,
            low: Some(estimate.interval.low),
            high: Some(estimate.interval.high),
        },
    }
}

fn late(found: &StaffAnswer, result: &StaffResult) -> Cell {
    tables::marked_share(&result.late_share, found.question.late_share, result.meets)
}

/// One line for each head count of the search.
fn head_counts(year: &Year) -> Table {
    let mut columns = vec![
        Column::new("drivers").left().key("drivers"),
        Column::new(format!("cost {}", in_weeks(year))).with_ends("cost"),
    ];
    columns.extend(year.seasons.iter().zip(1..).map(|(season, nth)| {
        let heading = season.name.clone().unwrap_or_else(|| at(season));
        Column::new(format!("late, {heading}")).with_ends(&format!("late_share_{nth}"))
    }));
    let mut table = Table::new(HEADS, columns);
    for one in &year.ladder {
        let mut cells = vec![
            Cell::count(one.staffing.drivers.into()),
            Cell::estimate(&one.cost, Unit::Money, 0),
        ];
        let seasons = one.seasons.iter().zip(&one.seems);
        cells.extend(seasons.map(|(result, seems)| {
            let missed = if *seems { "" } else { " !" };
            Cell::Worded {
                words: format!("{}{missed}", share(&result.late_share)),
                value: result.late_share.mean,
                low: Some(result.late_share.interval.low),
                high: Some(result.late_share.interval.high),
            }
        }));
        let best = year.decided() == Some(one.staffing);
        table.row(cells).marked(best);
    }
    table
}
