//! Drivers' hours: from logs that are judged to an answer. First what governs each driver now, then violations, then the details.

mod details;
mod governs;
mod json;
mod times;

use super::answer::{Answer, Block, Cell, Column, Table};
use super::plain_text::one_line;
use super::rule_book::limit_name;
use crate::hours::{Clock, Refused, RuleSet};
use crate::studies::{DriverHours, HoursReview};
use crate::units::Millis;

use self::details::{clocks, notes, said, violations};
use self::governs::{goes_on, governs};
use self::times::{date, shown, whole_minutes};

/// Said with every answer.
pub const CAUTION: &str = "A planning aid, no permission: the rules in force at the place and the carrier's own record \
decide. A driver who is ill or tired does not drive, whatever is left.";

/// Violations that a screen shows, and drivers whose clocks it shows one by one.
const ON_SCREEN: (usize, usize) = (12, 4);

/// The answer; `recipe` is the command that gives it again.
pub fn answer(review: &HoursReview, recipe: String) -> Answer {
    let first: Vec<String> = review
        .drivers
        .iter()
        .map(|driver| line(review, driver))
        .collect();
    let decision = match first.as_slice() {
        [one] => one.clone(),
        _ => decision(review),
    };
    let mut answer = Answer::bare("hours", "Drivers' hours", decision, recipe);
    answer.page_title = "Drivers' hours".into();
    answer.about = book(review);
    answer.headline.push(book(review));
    answer.cautions = vec![CAUTION.to_owned()];
    answer.own_all(json::json(review));
    if first.len() > 1 {
        answer.screen.push(Block::List(first.clone()));
        answer.section("", vec![Block::List(first)]);
    }
    show_violations(&mut answer, review);
    let few = review.drivers.len() <= ON_SCREEN.1;
    for driver in &review.drivers {
        let name = format!("{}, {}", one_line(&driver.driver), shown(review, driver.at));
        let said: Vec<Block> = said(review, driver).into_iter().map(Block::Text).collect();
        let clocks = Block::List(clocks(review, driver));
        if few || !said.is_empty() {
            answer.screen.push(Block::Heading(name.clone()));
            answer.screen.extend(few.then(|| clocks.clone()));
            answer.screen.extend(said.iter().cloned());
        }
        let blocks = std::iter::once(clocks).chain(said).collect();
        answer.section(name, blocks);
    }
    answer.notes = notes(review);
    for note in &answer.notes {
        answer.screen.push(Block::Text(note.clone()));
    }
    if !few {
        answer.say_on_screen(
            "What is left on every clock of each driver: --out FOLDER, --json, or a log of fewer drivers.",
        );
    }
    answer.screen.push(Block::Text(CAUTION.to_owned()));
    answer.tables.push(table(review));
    answer.tables.push(violations_table(review));
    answer
}

/// A driver's first line: who, when, and what governs.
fn line(review: &HoursReview, driver: &DriverHours) -> String {
    let mut line = format!(
        "{}, {}: {}",
        one_line(&driver.driver),
        shown(review, driver.at),
        governs(review, driver)
    );
    if let Some(goes_on) = goes_on(review, driver) {
        line += &format!(" {goes_on}");
    }
    line
}

/// Who may drive.
fn decision(review: &HoursReview) -> String {
    let barred = review.drivers.iter().filter(|driver| driver.left.bars());
    let barred: Vec<String> = barred.map(|driver| one_line(&driver.driver)).collect();
    let all = review.drivers.len();
    match barred.as_slice() {
        [] if all == 2 => "Both drivers may drive.".into(),
        [] => format!("All {all} drivers may drive."),
        some => format!(
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

/// Below what governs: what was driven past a limit, or that nothing was.
fn show_violations(answer: &mut Answer, review: &HoursReview) {
    let several = review.drivers.len() > 1;
    let found = review.drivers.iter().flat_map(|driver| {
        let name = one_line(&driver.driver);
        let found = violations(review, driver).into_iter();
        found.map(move |violation| match several {
            true => format!("{name}: {violation}"),
            false => violation,
        })
    });
    let found: Vec<String> = found.collect();
    if found.is_empty() {
        let none = "No violation: nobody drove past a limit.";
        answer.screen.push(Block::Text(none.into()));
        answer.section("Violations", vec![Block::Text(none.into())]);
        return;
    }
    answer.screen.push(Block::Heading("Violations".into()));
    let shown = found.iter().take(ON_SCREEN.0).cloned().collect();
    answer.screen.push(Block::List(shown));
    if found.len() > ON_SCREEN.0 {
        let more = found.len() - ON_SCREEN.0;
        answer.say_on_screen(format!("{more} more; --json and --out FOLDER list all."));
    }
    answer.section("Violations", vec![Block::List(found)]);
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

/// `violations.csv`: a line for each violation.
fn violations_table(review: &HoursReview) -> Table {
    let keys = ["driver", "limit", "citation", "from", "to", "min"];
    let mut table = Table::new("violations", keys.map(Column::file).to_vec());
    for driver in &review.drivers {
        for violation in &driver.violations {
            let law = review.rules.law(violation.rule);
            let citation = law.map(|law| law.citation.to_string());
            table.row([
                Cell::from(driver.driver.as_str()),
                limit_name(&review.rules, violation.rule).into(),
                citation.map_or(Cell::Blank, Cell::from),
                shown(review, violation.from).into(),
                shown(review, violation.to).into(),
                (whole_minutes(violation.to - violation.from) as f64).into(),
            ]);
        }
        for day in &driver.short_days {
            let (_, citation) = daily_law(&review.rules);
            table.row([
                Cell::from(driver.driver.as_str()),
                "time off in a day".into(),
                citation.into(),
                shown(review, day.from).into(),
                shown(review, day.to).into(),
                Cell::Blank,
            ]);
        }
    }
    table
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

/// Hours of a limit: `10`, `9.5`.
fn hours(span: Millis) -> String {
    let hours = super::number::number(span.hours(), 1);
    hours.trim_end_matches(".0").to_owned()
}
