//! Drivers on duty and trucks at work over the day, against what the order book needs on paper.

use super::left_out;
use crate::dispatch::{HALF_HOUR, HALF_HOURS};
use crate::observe::{HalfHours, Profile};
use crate::report::answer::{Answer, Block, Column, Table};
use crate::report::chart::lines::{self, Lines};
use crate::report::compare::{same_days, sentences, whom};
use crate::report::number::{Unit, number};
use crate::scenario::Scenario;
use crate::studies::Comparison;
use crate::units::{Millis, Weekday};

/// Table and file.
const NAME: &str = "on_duty";

/// Days whose half hours are averaged.
struct Days {
    name: String,
    weekdays: Vec<Weekday>,
}

impl Days {
    /// Each weekday of the period.
    fn each(found: &Comparison) -> Vec<Self> {
        let in_period = Weekday::ALL.into_iter();
        let in_period = in_period.filter(|weekday| found.period.how_many(*weekday) > 0);
        in_period
            .map(|weekday| Self {
                name: format!("{weekday:?}"),
                weekdays: vec![weekday],
            })
            .collect()
    }

    /// The day that is drawn: the average of the days from Monday to Friday, or of all if there is none of them.
    fn average(found: &Comparison) -> Self {
        let mut each = Self::each(found);
        if each.len() == 1 {
            return each.remove(0);
        }
        let all: Vec<Weekday> = each.iter().map(|day| day.weekdays[0]).collect();
        let working = |day: &Weekday| !matches!(day, Weekday::Saturday | Weekday::Sunday);
        let weekdays: Vec<Weekday> = all.iter().copied().filter(working).collect();
        if weekdays.is_empty() {
            return Self {
                name: "average day".into(),
                weekdays: all,
            };
        }
        Self {
            name: "average weekday".into(),
            weekdays,
        }
    }

    fn count(&self, found: &Comparison) -> f64 {
        let each = self.weekdays.iter();
        let days: u32 = each.map(|day| found.period.how_many(*day)).sum();
        f64::from(days)
    }

    /// Trucks or drivers in a half hour.
    fn seen(
        &self,
        found: &Comparison,
        profile: &Profile,
        sums: &HalfHours,
        half_hour: usize,
    ) -> f64 {
        let each = self.weekdays.iter();
        let sum: u64 = each.map(|day| sums.of(*day, half_hour)).sum();
        let days = self.count(found) * profile.replications.max(1) as f64;
        sum as f64 / HALF_HOUR.0 as f64 / days
    }

    fn on_duty(&self, found: &Comparison, rule: usize, half_hour: usize) -> f64 {
        let profile = &found.rules[rule].profile;
        self.seen(found, profile, &profile.on_duty, half_hour)
    }

    fn at_work(&self, found: &Comparison, rule: usize, half_hour: usize) -> f64 {
        let profile = &found.rules[rule].profile;
        self.seen(found, profile, &profile.working, half_hour)
    }

    /// Trucks that the book needs.
    fn needed(&self, found: &Comparison, half_hour: usize) -> f64 {
        let each = self.weekdays.iter().map(|day| {
            found.needed.trucks(*day, half_hour) * f64::from(found.period.how_many(*day))
        });
        each.sum::<f64>() / self.count(found)
    }
}

/// `04:30`
fn clock(half_hour: usize) -> String {
    Millis(HALF_HOUR.0 * half_hour as i64).to_string()
}

/// The half hour in which `value` is largest, if that is more than nothing.
fn largest(value: impl Fn(usize) -> f64) -> Option<usize> {
    let best = (0..HALF_HOURS).max_by(|a, b| value(*a).total_cmp(&value(*b)).then(b.cmp(a)))?;
    // Sums of fractions are not exact.
    (value(best) > 0.01).then_some(best)
}

/// `on_duty.csv`: one line for each rule, day and half hour.
fn table(found: &Comparison) -> Table {
    let columns = [
        "rule",
        "day",
        "from",
        "drivers_on_duty",
        "trucks_at_work",
        "trucks_needed",
    ];
    let mut table = Table::new(NAME, columns.map(Column::file).into());
    let mut all = Days::each(found);
    if all.len() > 1 {
        all.insert(0, Days::average(found));
    }
    for (rule, result) in found.rules.iter().enumerate() {
        for days in &all {
            for half_hour in 0..HALF_HOURS {
                table.row([
                    result.name.as_str().into(),
                    days.name.as_str().into(),
                    clock(half_hour).into(),
                    days.on_duty(found, rule, half_hour).into(),
                    days.at_work(found, rule, half_hour).into(),
                    days.needed(found, half_hour).into(),
                ]);
            }
        }
    }
    table
}

/// The largest surplus and the largest shortage of drivers, in one sentence.
fn sentence(found: &Comparison, days: &Days, rule: usize, name: &str) -> String {
    let on_duty = |half_hour: usize| days.on_duty(found, rule, half_hour);
    let needed = |half_hour: usize| days.needed(found, half_hour);
    let both = |half_hour: usize| {
        let (there, needed) = (on_duty(half_hour), needed(half_hour));
        let decimals = usize::from(number(there, 0) == number(needed, 0));
        (number(there, decimals), number(needed, decimals))
    };
    let span = |half_hour: usize| {
        format!(
            "from {} to {}",
            clock(half_hour),
            clock((half_hour + 1) % HALF_HOURS)
        )
    };
    let surplus = largest(|half_hour| on_duty(half_hour) - needed(half_hour));
    let shortage = largest(|half_hour| needed(half_hour) - on_duty(half_hour));
    let surplus = match surplus {
        None => format!("under {name} at no time are more drivers on duty than the book needs"),
        Some(at) => {
            let (there, needed) = both(at);
            format!(
                "under {name} {there} drivers are on duty {} and the book needs {needed} trucks",
                span(at)
            )
        }
    };
    let shortage = match shortage {
        None => "at no time does it need more than are on duty".to_owned(),
        Some(at) => {
            let (there, needed) = both(at);
            format!("{} it needs {needed} and {there} are on duty", span(at))
        }
    };
    format!("{surplus}; {shortage}")
}

/// Chart and table; no chart where the book needs nothing.
pub(super) fn add(found: &Comparison, scenario: &Scenario, to: &mut Answer) {
    let heading = "Drivers on duty against what the order book needs";
    to.tables.push(table(found));
    let days = Days::average(found);
    let needed = |half_hour: usize| days.needed(found, half_hour);
    if largest(needed).is_none() {
        left_out(to, heading, "every load of this scenario is made on demand");
        return;
    }
    let points = |value: &dyn Fn(usize) -> f64| -> Vec<(f64, f64)> {
        let halves = 0..=HALF_HOURS;
        halves
            .map(|at| (at as f64 / 2.0, value(at.min(HALF_HOURS - 1))))
            .collect()
    };
    let base = found.base;
    let other = whom::against_base(found);
    let mut series = vec![("the order book needs, on paper".to_owned(), points(&needed))];
    for rule in [Some(base), other].into_iter().flatten() {
        let name = &found.rules[rule].name;
        let on_duty = |at: usize| days.on_duty(found, rule, at);
        let at_work = |at: usize| days.at_work(found, rule, at);
        series.push((format!("on duty, {name}"), points(&on_duty)));
        series.push((format!("at work, {name}"), points(&at_work)));
    }
    let of_base = sentence(found, &days, base, &sentences::base(found));
    let title = format!("On {}, {of_base}", day_words(&days));
    let svg = lines::svg(&Lines {
        title: title.clone(),
        subtitle: format!(
            "Drivers on duty and trucks with or after a load, by half hour, average of {}; needed: trucks that the ordered loads take, \
             roads empty, nobody waiting",
            same_days(found)
        ),
        x_axis: "time of day".into(),
        x_range: (0.0, 24.0),
        x_ticks: lines::hours(),
        y_axis: "drivers, trucks".into(),
        y_unit: Unit::Plain,
        y_top: None,
        series,
        steps: true,
    });
    to.add_chart("on-duty", heading, title, svg, NAME);
    let mut blocks = Vec::new();
    if let Some(rule) = other {
        let name = sentences::quoted(found, rule);
        let text = format!(
            "On {}, {}.",
            day_words(&days),
            sentence(found, &days, rule, &name)
        );
        blocks.push(Block::Text(text));
    }
    let mut note = "On paper each ordered load takes one truck from the beginning of its loading at the nearest plant until it is back. \
                    Checking and washing the truck, traffic, waits and changes on the day come on top: a book that needs as many trucks as \
                    there are drivers needs more."
        .to_owned();
    if !scenario.endless.is_empty() {
        note += " Loads made on demand are in no book.";
    }
    note += &format!(" Every rule and weekday is in {NAME}.csv.");
    blocks.push(Block::Note(note));
    to.section("", blocks);
}

fn day_words(days: &Days) -> String {
    match days.weekdays.len() {
        1 => days.name.clone(),
        _ => format!("an {}", days.name),
    }
}
