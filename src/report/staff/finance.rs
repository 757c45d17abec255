//! The sheet for who signs: one page, decision first, the money, what would turn it round, on what it rests and what is left out.

use super::{people, sentences, worlds, year};
use crate::report::answer::{Answer, Block, Cell, Column, Section, Table, page};
use crate::report::assumptions;
use crate::report::document::{styled, unbroken};
use crate::report::made_from;
use crate::report::number::{Unit, level, money, number};
use crate::report::period::{per, runs};
use crate::scenario::Scenario;
use crate::statistics::Interval;
use crate::studies::{Estimate, StaffAnswer, StaffResult, Staffing};
use maud::{Markup, html};

/// Every amount of the sheet.
pub(super) const FINANCE: &str = "finance";
/// The sheet's file.
const FILE: &str = "finance.html";
const STYLE: &str = include_str!("finance.css");
/// With more seasons than this the letters are smaller, so that it stays one page.
const ROOMY: usize = 6;
const SMALLER: &str = "@media print { body { font-size: 9.2px; line-height: 1.26; } table, .small { font-size: 8.4px; line-height: 1.2; } }";

/// Prices and pay that staffing moves.
const PATHS: [&str; 22] = [
    "changes.no_show",
    "money.pay_per_h",
    "money.overtime_after_h",
    "money.overtime_factor",
    "money.overtime_after_week_h",
    "money.second_overtime",
    "money.call_out_min_h",
    "money.guaranteed_day_h",
    "money.guaranteed_week_h",
    "money.show_up",
    "money.night",
    "money.weekend",
    "money.truck_per_duty_h",
    "money.truck_per_driven_h",
    "money.payroll_tax",
    "money.late_per_load",
    "money.late_per_min",
    "money.first_late_per_min",
    "money.gap_per_min",
    "money.undelivered_per_yd3",
    "money.stranded",
    "money.revenue.per_yd3",
];

/// What staffing changes in a company and no amount here has.
const NOT_COUNTED: [&str; 5] = [
    "finding and choosing people, notice and severance",
    "accidents, injuries, tired drivers, morale, people who leave",
    "trucks of added drivers beyond their hours: capital, insurance, room to park, unless they are in what is asked for a hire",
    "interest, income taxes, prices and wages that rise",
    "customers who stay away for good, but for the price of goodwill",
];

/// What one more driver may cost a week, and what follows at the price asked.
struct Hire {
    most: Estimate,
    verdict: &'static str,
}

impl Hire {
    fn of(found: &StaffAnswer) -> Option<Self> {
        let (most, interval) = found.break_even()?;
        let asked = found.question.hire_per_week;
        let verdict = match (interval.low > asked.unwrap_or(0.0), interval.high, asked) {
            (true, ..) => "it pays",
            (_, high, asked) if high < asked.unwrap_or(0.0) => "it does not pay",
            _ => "that is too close to call",
        };
        let most = Estimate {
            mean: Some(most),
            interval,
        };
        Some(Self { most, verdict })
    }

    /// Estimate and interval in one sign.
    fn sentence(&self, found: &StaffAnswer) -> String {
        let most = self.most.mean.unwrap_or_default();
        let Interval { low, high } = self.most.interval;
        let at = match found.question.hire_per_week {
            Some(asked) => format!("at your {} {}", money(asked), self.verdict),
            None => format!(
                "before benefits, insurance and training, which were not given, {}",
                self.verdict
            ),
        };
        if most > 0.0 {
            let low = match low < 0.0 {
                true => "nothing".to_owned(),
                false => money(low),
            };
            let high = money(high);
            format!(
                "One hire more pays up to {} a week beyond the hours paid ({low} to {high}); {at}.",
                money(most)
            )
        } else {
            let ends = match high > 0.0 {
                true => format!("{} less to {} more", money(high), money(-low)),
                false => format!("{} to {}", money(-high), money(-low)),
            };
            format!(
                "One hire more costs {} a week more than it brings ({ends}), its price not yet counted; {at}.",
                money(-most)
            )
        }
    }
}

/// Adds the table, the section that stands first, and the sheet; nothing where nothing is recommended.
pub(super) fn add(found: &StaffAnswer, scenario: &Scenario, to: &mut Answer) {
    let Some(best) = found.best.map(|at| &found.results[at]) else {
        return;
    };
    let table = table(found, best);
    let link = Block::Link {
        words: "The same on one page to print and sign".into(),
        file: FILE.into(),
        after: ", with what would turn it round, what it rests on, and what is not counted.".into(),
    };
    let first = Section::new("For who signs", vec![Block::Table(FINANCE), link]);
    to.sections.insert(0, first);
    to.tables.push(table);
    let sheet = sheet(found, scenario, to);
    to.beside.push((FILE.into(), sheet.into_bytes().into()));
}

/// Amounts, each with its interval, for the book's own days and for the year.
fn table(found: &StaffAnswer, best: &StaffResult) -> Table {
    let year = found.year.as_ref();
    let of_year = |column: Column| match year {
        Some(_) => column,
        None => column.only_in_files(),
    };
    let weeks = year.map_or(String::new(), year::in_weeks);
    let mut table = Table::new(
        FINANCE,
        vec![
            Column::new("money").left().key("what"),
            Column::new(per(found.days)).with_ends("amount"),
            of_year(Column::new(weeks)).with_ends("amount_of_year"),
            Column::new("").left().key("said"),
        ],
    );
    let whole = |estimate: &Estimate| Cell::estimate(estimate, Unit::Money, 0);
    let mut row = |what: String, amount: Cell, of_year: Cell, said: &str| {
        let marked = what == SAVING;
        let cells = [what.into(), amount, of_year, said.into()];
        table.row(cells).marked(marked);
    };
    let kept = year.and_then(|year| year.of(best.staffing));
    let shown = |week: &Estimate, year: Option<&Estimate>| {
        let is = |one: &Estimate| one.interval.excludes_zero();
        match (is(week), year.is_none_or(is)) {
            (true, true) => "",
            (false, true) if year.is_some() => "by the book's own days not shown",
            (true, false) => "over the year not shown",
            _ => "not shown",
        }
    };
    let of = |word: &str, staffing: Staffing| format!("cost with {word} {}", people::who(staffing));
    let today = found
        .todays()
        .filter(|today| today.staffing != best.staffing);
    if let Some(today) = today {
        let then = year.map(|year| whole(&year.staffings[0].cost));
        row(
            of("today's", today.staffing),
            whole(&today.cost),
            then.unwrap_or(Cell::Blank),
            "",
        );
    }
    row(
        of("the recommended", best.staffing),
        whole(&best.cost),
        kept.map_or(Cell::Blank, |kept| whole(&kept.cost)),
        "",
    );
    if found.question.hire_per_week.is_some() {
        row(
            "in that, for drivers more than today".into(),
            Cell::number(best.hire, Unit::Money, 0),
            kept.map_or(Cell::Blank, |kept| Cell::number(kept.hire, Unit::Money, 0)),
            "",
        );
    }
    if let Some(saving) = &found.saving {
        let kept = kept.map(|kept| &kept.saving);
        row(
            SAVING.into(),
            whole(&saving.whole),
            kept.map_or(Cell::Blank, whole),
            shown(&saving.whole, kept),
        );
        if saving.parts.len() > 1 {
            for (part, share) in &saving.parts {
                let what = format!("of it {}", sentences::part_words(*part));
                row(what, whole(share), Cell::Blank, shown(share, None));
            }
        }
    }
    if let Some(hire) = Hire::of(found) {
        let what = "most that one hire more may cost a week";
        row(what.into(), whole(&hire.most), Cell::Blank, hire.verdict);
    }
    if let Some(asked) = found.question.hire_per_week {
        let cell = Cell::number(asked, Unit::Money, 0);
        row("asked for it a week".into(), cell, Cell::Blank, "yours");
    }
    table
}

/// The row of what is saved.
const SAVING: &str = "saving";

/// The sheet as HTML text.
fn sheet(found: &StaffAnswer, scenario: &Scenario, answer: &Answer) -> String {
    let shown = |name: &str| page::table(answer.table(name));
    let style = match found.question.seasons.len() > ROOMY {
        true => format!("{STYLE}{SMALLER}"),
        false => STYLE.to_owned(),
    };
    let content = html! {
        h1 { "Staffing decision: " (answer.title) }
        p.about { (basis(found)) }
        div.decision { p { (unbroken(&answer.decision)) } }
        h2 { "The money" }
        (shown(FINANCE))
        @if let Some(hire) = Hire::of(found) { p { (unbroken(&hire.sentence(found))) } }
        @if let Some(year) = &found.year {
            h2 { "Season by season, with the recommended staffing" }
            (shown(year::SEASONS))
            @for sentence in year::heads_and_own(found, year) { p { (unbroken(&sentence)) } }
        }
        h2 { "What would turn it round" }
        @if let Some(sensitive) = &found.sensitive {
            p { (unbroken(&worlds::sentence(found, sensitive, scenario))) }
        }
        // A table of worlds is as wide as it is; a sentence in its place leaves room for what stands beside it.
        div.sides.worlds[found.sensitive.is_some()] {
            div { (changed_worlds(found, answer)) }
            div.small {
                (prices(found))
                @for line in sentences::grown(found) { p { (unbroken(&line)) } }
            }
        }
        div.sides {
            div { h2 { "On what it rests" } (rests(scenario, answer)) }
            div { h2 { "Not counted" } (not_counted(found)) }
        }
        div.sign { span { "Decided by" } span { "Date" } span { "Remarks" } }
        div.small {
            (made_from::markup(&answer.title, answer.origin.as_ref()))
            p { code { (answer.recipe) } }
        }
    };
    styled(
        &format!("Staffing decision: {}", answer.title),
        &style,
        &content,
    )
}

fn basis(found: &StaffAnswer) -> String {
    format!(
        "Rule \"{}\". {} of the final answer, {} intervals, all staffings on the same days. A plan, not a permission: local codes, \
         hours-of-service rules and the carrier's own records decide who may drive.",
        found.rule,
        runs(found.question.replications),
        level(found.question.level)
    )
}

fn changed_worlds(found: &StaffAnswer, answer: &Answer) -> Markup {
    let seasons = found.question.seasons.len();
    html! {
        @if found.sensitive.is_some() {
            @let (table, left) = worlds::on_sheet(answer.table(worlds::WORLDS), seasons);
            (page::table(&table))
            @if left > 0 { p.note { (left) " more worlds are in report.html." } }
        } @else {
            p { "Changed worlds (orders, prices, pay, absences otherwise than assumed) were not tried: --holds tries them." }
        }
    }
}

fn prices(found: &StaffAnswer) -> Markup {
    let points = found.turning_points();
    let prices = points.iter().take(3);
    let prices: Vec<String> = prices
        .map(|(part, _, times)| format!("{} {} times its price", part.words(), number(*times, 2)))
        .collect();
    html! {
        @if !prices.is_empty() {
            p { (unbroken(&format!(
                "By prices alone, all else left as it is, the two cost the same at {}.",
                prices.join(" or at ")
            ))) }
        }
    }
}

/// Prices and pay, the user's own apart from defaults.
fn rests(scenario: &Scenario, answer: &Answer) -> Markup {
    let used = assumptions::at(scenario, &PATHS);
    let of = |whose: &str| -> String {
        let rows = used.iter().filter(|row| row.whose == whose);
        let each = rows.map(|row| format!("{} {}", row.what, row.here));
        each.collect::<Vec<_>>().join("; ")
    };
    html! {
        div.small {
            @for (heading, whose) in [("Yours", "yours"), ("Partly yours", "partly yours"), ("Defaults, for you to replace", "default")] {
                @let text = of(whose);
                @if !text.is_empty() { p { b { (heading) ": " } (unbroken(&text)) "." } }
            }
            p { "All " (answer.assumptions.len()) " assumptions with their sources are in report.html." }
        }
    }
}

fn not_counted(found: &StaffAnswer) -> Markup {
    let hire = match found.question.hire_per_week {
        Some(_) => None,
        None => Some(
            "what a hire costs beyond the hours paid: benefits, insurance, training, a truck (nothing was given)",
        ),
    };
    html! {
        div.small { ul { @for item in hire.into_iter().chain(NOT_COUNTED) { li { (item) } } } }
    }
}
