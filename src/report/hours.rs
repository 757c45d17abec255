//! Drivers' hours: from logs that are judged to an answer.

mod json;

use jiff::ToSpan;
use jiff::civil::DateTime;

use super::answer::{Answer, Block, Cell, Column, Table};
use super::plain_text::one_line;
use super::rule_book::limit_name;
use crate::hours::{Clock, Exception, Refused, RuleSet};
use crate::studies::{DriverHours, HoursReview};
use crate::units::Millis;

/// Said with every answer.
pub const CAUTION: &str = "A planning aid, no permission: the rules in force at the place and the carrier's own record \
decide. A driver who is ill or tired does not drive, whatever is left.";

/// The answer; `recipe` is the command that gives it again.
pub fn answer(review: &HoursReview, recipe: String) -> Answer {
    let mut answer = Answer::bare("hours", "Drivers' hours", decision(review), recipe);
    answer.about = book(review);
    answer.headline.push(book(review));
    answer.cautions = vec![CAUTION.to_owned()];
    answer.own_all(json::json(review));
    for driver in &review.drivers {
        let name = format!("{}, {}", one_line(&driver.driver), shown(review, driver.at));
        let mut blocks = vec![Block::Text(may_drive(review, driver))];
        blocks.push(Block::List(clocks(review, driver)));
        blocks.extend(said(review, driver).into_iter().map(Block::Text));
        answer.screen.push(Block::Heading(name.clone()));
        answer.screen.extend(blocks.iter().cloned());
        answer.section(name, blocks);
    }
    answer.notes = notes(review);
    for note in &answer.notes {
        answer.screen.push(Block::Text(note.clone()));
    }
    answer.screen.push(Block::Text(CAUTION.to_owned()));
    answer.tables.push(table(review));
    answer
}

/// Who may drive.
fn decision(review: &HoursReview) -> String {
    let barred = review.drivers.iter().filter(|driver| driver.left.bars());
    let barred: Vec<String> = barred.map(|driver| one_line(&driver.driver)).collect();
    match (barred.as_slice(), review.drivers.len()) {
        ([], 1) => format!("{} may drive.", one_line(&review.drivers[0].driver)),
        ([], all) => format!("All {all} drivers may drive."),
        ([one], 1) => format!("{one} MAY NOT DRIVE."),
        (some, all) => format!(
            "{} of {all} drivers MAY NOT DRIVE: {}.",
            some.len(),
            some.join(", ")
        ),
    }
}

fn book(review: &HoursReview) -> String {
    let rules = &review.rules;
    let week = match &rules.cycle {
        Some(cycle) => format!(", weekly hours {}", cycle.name()),
        None => String::new(),
    };
    format!("Rule book {}: {}{week}", rules.name, rules.about)
}

/// Whether the driver may drive, until when or from when again, and what says so.
fn may_drive(review: &HoursReview, driver: &DriverHours) -> String {
    let rules = &review.rules;
    let time = |at: Millis| shown(review, at);
    if !driver.left.bars() {
        return match (driver.barred_from, driver.binds) {
            (Some(until), Some(rule)) => format!(
                "May drive now. Must stop driving by {}: {}.",
                time(until),
                limit(rules, rule)
            ),
            _ => "May drive: no limit ends driving.".into(),
        };
    }
    // All of them: who reads of a break alone would think that half an hour is enough.
    let why: Vec<String> = driver
        .barred
        .iter()
        .map(|(clock, since)| {
            let over = match clock {
                Clock::Window => "ended",
                Clock::Break => "was due",
                Clock::Driving | Clock::OnDuty | Clock::Cycle => "were used up",
            };
            format!(" The {} {over} {}.", limit(rules, *clock), time(*since))
        })
        .collect();
    let why = why.concat();
    let again = match driver.may_drive_again_at {
        Some(again) => format!(
            "May drive again from {} if off duty until then.",
            time(again)
        ),
        None => "No rest within the next weeks makes driving legal again.".into(),
    };
    format!("MAY NOT DRIVE.{why} {again}")
}

/// `14-hour window (49 CFR 395.3(a)(2))`.
fn limit(rules: &RuleSet, rule: Clock) -> String {
    let name = limit_name(rules, rule);
    match rules.law(rule) {
        Some(law) => format!("{name} ({})", law.citation),
        None => name,
    }
}

const CLOCKS: [(Clock, &str); 5] = [
    (Clock::Driving, "driving"),
    (Clock::Window, "window"),
    (Clock::OnDuty, "on duty"),
    (Clock::Break, "before a break"),
    (Clock::Cycle, "weekly hours"),
];

/// What is left on every clock that the book has.
fn clocks(review: &HoursReview, driver: &DriverHours) -> Vec<String> {
    let left = CLOCKS.into_iter().filter_map(|(rule, what)| {
        let left = driver.left.of(rule)?;
        Some(format!(
            "{what}: {} left; {}",
            hours_minutes(left),
            limit(&review.rules, rule)
        ))
    });
    left.collect()
}

/// `hours.csv`: a line for each clock of each driver.
fn table(review: &HoursReview) -> Table {
    let keys = [
        "driver",
        "at",
        "clock",
        "left_min",
        "limit",
        "citation",
        "may_drive",
    ];
    let mut table = Table::new("hours", keys.map(Column::file).to_vec());
    for driver in &review.drivers {
        for (rule, what) in CLOCKS {
            let Some(left) = driver.left.of(rule) else {
                continue;
            };
            let citation = review.rules.law(rule).map(|law| law.citation.to_string());
            table.row([
                Cell::from(driver.driver.as_str()),
                shown(review, driver.at).into(),
                what.into(),
                (whole_minutes(left) as f64).into(),
                limit_name(&review.rules, rule).into(),
                citation.map_or(Cell::Blank, Cell::from),
                Cell::yes(!driver.left.bars()),
            ]);
        }
    }
    table
}

/// What was driven beyond a limit, what was claimed, and what the log and the history leave open.
fn said(review: &HoursReview, driver: &DriverHours) -> Vec<String> {
    let rules = &review.rules;
    let time = |at: Millis| shown(review, at);
    let mut said = Vec::new();
    for violation in &driver.violations {
        let past = match violation.rule {
            Clock::Break => "Drove without the",
            _ => "Drove past the",
        };
        said.push(format!(
            "{past} {}: {} to {}, {}.",
            limit(rules, violation.rule),
            time(violation.from),
            time(violation.to),
            hours_minutes(violation.to - violation.from)
        ));
    }
    for day in &driver.short_days {
        let (_, citation) = daily_law(rules);
        let needed = rules.daily_off_duty.as_ref();
        said.push(format!(
            "Too little time off ({citation}): {} in the day from {}, {} needed.",
            hours_minutes(day.off_duty),
            time(day.from),
            hours_minutes(needed.map_or(Millis::ZERO, |needed| needed.length))
        ));
    }
    said.extend(exceptions(review, driver));
    if driver.violations.is_empty() {
        said.push("Never drove past a limit.".into());
    }
    if !driver.log_required {
        said.push("Short-haul: no record of duty status is needed for the last shift.".into());
    }
    if driver.no_rest_before {
        said.push(
            "The history leaves no room for a full rest before the log: its last day counts as the same shift.".into(),
        );
    }
    if !driver.missing.is_empty() {
        let days = driver.missing.iter().map(|day| date(review, *day));
        said.push(format!(
            "The history says nothing of {}: taken as no hours on duty, so that less may be left of the weekly hours than shown. \
             A day off is written as 0 hours.",
            days.collect::<Vec<_>>().join(", ")
        ));
    }
    said
}

/// Exceptions that are claimed, and those that may apply.
fn exceptions(review: &HoursReview, driver: &DriverHours) -> Vec<String> {
    let adverse = review.rules.adverse.as_ref();
    let adverse = adverse.map_or("", |adverse| &adverse.citation);
    let claimed = driver.claims.iter().map(|judged| {
        let from = shown(review, judged.claim.from);
        let what = match judged.claim.what {
            Exception::LongDay => "The longer window once a week (49 CFR 395.1(o))",
            Exception::Adverse => "Adverse driving conditions",
        };
        let says = match (judged.refused, judged.claim.what) {
            (Some(why), _) => format!("does not hold: {}", why_not(review, why)),
            (None, Exception::LongDay) => {
                "taken as said: this shift and the last five ended at the normal work reporting location".into()
            }
            (None, Exception::Adverse) => format!(
                "taken as said ({adverse}): nobody could know of them, and the run would have fitted without. A late pour, waiting to \
                 load or unload, rush hour and one's own breakdown are none"
            ),
        };
        format!("{what}, claimed {from}: {says}.")
    });
    let possible = driver.may_apply.iter().map(|what| match what {
        Exception::LongDay => format!(
            "49 CFR 395.1(o) may apply: a window of {} once a week, if the last five shifts and this one ended at the normal work \
             reporting location. If so, write long_day in the column exception.",
            hours_minutes(review.rules.long_day_window.unwrap_or(Millis::ZERO))
        ),
        Exception::Adverse => format!(
            "Weather or an unusual condition of road or traffic that nobody could know of may extend the limit ({adverse}); a late pour, \
             waiting to load or unload and rush hour never do. If so, write adverse in the column exception."
        ),
    });
    claimed.chain(possible).collect()
}

/// What holds for all drivers.
fn notes(review: &HoursReview) -> Vec<String> {
    let rules = &review.rules;
    let mut notes = Vec::new();
    if let Some((first, last)) = review.out_of_force {
        let from = rules.valid_from.map(|date| format!(" from {date}"));
        let to = rules.valid_to.map(|date| format!(" to {date}"));
        notes.push(format!(
            "Not in force on every date from {first} to {last}: this rule book holds{}{}.",
            from.unwrap_or_default(),
            to.unwrap_or_default()
        ));
    }
    if !review.not_yet.is_empty() {
        let names: Vec<String> = review.not_yet.iter().map(|name| one_line(name)).collect();
        let (log, begins) = match names.len() {
            1 => ("log", "begins"),
            _ => ("logs", "begin"),
        };
        notes.push(format!(
            "Not judged: the {log} of {} {begins} after that moment.",
            names.join(", ")
        ));
    }
    if !rules.left_out.is_empty() {
        notes.push(format!("Not in this rule book: {}.", rules.left_out));
    }
    if rules.short_haul.is_some() {
        notes.push(
            "Short-haul: a log holds no distances; every truck is taken to stay within the radius."
                .into(),
        );
    }
    let without = review.drivers.iter().filter(|driver| !driver.has_history);
    let without: Vec<String> = without.map(|driver| one_line(&driver.driver)).collect();
    if rules.cycle.is_some() && !without.is_empty() {
        notes.push(format!(
            "No history before the log of {}: their weekly hours count from the log alone.",
            without.join(", ")
        ));
    }
    notes
}

fn why_not(review: &HoursReview, why: Refused) -> String {
    match why {
        Refused::NotInBook => "the rule book has no such exception".into(),
        Refused::NoTour => "the driver was not on a shift then".into(),
        Refused::ReleasedLate => "released too late, so the ordinary window held all day".into(),
        Refused::UsedOn(day) => format!(
            "used on {} already, within the six days before",
            date(review, day)
        ),
    }
}

fn daily_law(rules: &RuleSet) -> (&str, &str) {
    let limit = rules.daily_off_duty.as_ref();
    limit.map_or(("", ""), |limit| (&limit.law.rule, &limit.law.citation))
}

fn whole_minutes(span: Millis) -> i64 {
    span.0.div_euclid(Millis::MINUTE.0)
}

/// `9 h 05 min`
fn hours_minutes(span: Millis) -> String {
    let minutes = whole_minutes(span);
    format!("{} h {:02} min", minutes / 60, minutes % 60)
}

fn civil(review: &HoursReview, at: Millis) -> DateTime {
    let midnight = review.first_date.at(0, 0, 0, 0);
    midnight.saturating_add(at.0.milliseconds())
}

/// `2026-03-02`, a day counted from the first date.
fn date(review: &HoursReview, day: i64) -> String {
    civil(review, Millis::midnight(day)).date().to_string()
}

/// `Mon 2026-03-02 05:30`
fn shown(review: &HoursReview, at: Millis) -> String {
    civil(review, at).strftime("%a %Y-%m-%d %H:%M").to_string()
}
