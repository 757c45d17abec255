//! Strandings, queues at the bays and trucks at work over the hours of the day.

use super::left_out;
use crate::observe::{Profile, figure};
use crate::report::answer::{Answer, Column, Table};
use crate::report::chart::lines::{self, Lines};
use crate::report::compare::{pick, same_days, sentences};
use crate::report::number::{Unit, number};
use crate::studies::{Comparison, RuleResult};
use crate::units::Millis;

/// A staircase over the hours of the day.
fn by_hour(value: impl Fn(usize) -> f64) -> Vec<(f64, f64)> {
    (0..=24)
        .map(|hour| (hour as f64, value(hour.min(23))))
        .collect()
}

fn busiest(value: impl Fn(usize) -> f64) -> (usize, f64) {
    (0..24)
        .map(|hour| (hour, value(hour)))
        .reduce(|best, next| if next.1 > best.1 { next } else { best })
        .unwrap_or((0, 0.0))
}

fn hour_chart(
    answer: &Comparison,
    title: &str,
    subtitle: &str,
    y_axis: &str,
    y_unit: Unit,
    value: impl Fn(&Profile, usize) -> f64,
) -> String {
    let series = answer.rules.iter().map(|rule| {
        (
            rule.name.clone(),
            by_hour(|hour| value(&rule.profile, hour)),
        )
    });
    lines::svg(&Lines {
        title: title.to_owned(),
        subtitle: format!("{subtitle}, average of {}", same_days(answer)),
        x_axis: "hour of the day".into(),
        x_range: (0.0, 24.0),
        x_ticks: lines::hours(),
        y_axis: y_axis.into(),
        y_unit,
        y_top: (y_unit == Unit::Share).then_some(1.0),
        series: series.collect(),
        steps: true,
    })
}

/// The table of all charts by the hour.
const NAME: &str = "by-hour";

/// `by-hour.csv`: one line for each rule and hour of the day.
pub(super) fn table(answer: &Comparison) -> Table {
    let columns = [
        "rule",
        "hour",
        "stranded_per_100_days",
        "trucks_in_bay_queues",
        "share_of_hours_at_work",
    ];
    let mut table = Table::new(NAME, columns.map(Column::file).into());
    for rule in &answer.rules {
        for hour in 0..24 {
            table.row([
                rule.name.as_str().into(),
                (hour as f64).into(),
                stranded(answer, &rule.profile, hour).into(),
                queued(answer, &rule.profile, hour).into(),
                at_work(&rule.profile, hour).into(),
            ]);
        }
    }
    table
}

/// Bays hardly queue, and no chart is drawn of it, where under every rule a load waits less than so many minutes for one on average,
/// and fewer than so many trucks wait on average in the busiest hour, all plants together. Common practice, no source: a minute is
/// within what drivers take to pull up, and half a truck means that in most moments none waits.
const WORTH_A_CHART: (f64, f64) = (1.0, 0.5);

/// Drivers stranded in that hour, per 100 days.
fn stranded(answer: &Comparison, profile: &Profile, hour: usize) -> f64 {
    100.0 * profile.stranded[hour] as f64 / days(answer, profile)
}

/// Trucks in the queues for a bay in that hour.
fn queued(answer: &Comparison, profile: &Profile, hour: usize) -> f64 {
    profile.bay_queue[hour] as f64 / days(answer, profile) / Millis::HOUR.0 as f64
}

/// Share of the hours on duty that go into loads.
fn at_work(profile: &Profile, hour: usize) -> f64 {
    match profile.on_duty.in_hour(hour) {
        0 => 0.0,
        on_duty => profile.working.in_hour(hour) as f64 / on_duty as f64,
    }
}

/// Per day of the period, on average.
fn days(answer: &Comparison, profile: &Profile) -> f64 {
    (profile.replications * u64::from(answer.days)).max(1) as f64
}

pub(super) fn add_strandings(answer: &Comparison, to: &mut Answer) {
    let value = |profile: &Profile, hour: usize| stranded(answer, profile, hour);
    let base = &answer.rules[answer.base].profile;
    let all: u64 = answer
        .rules
        .iter()
        .flat_map(|rule| rule.profile.stranded)
        .sum();
    if all == 0 {
        let why = format!(
            "no driver was stranded under any rule in {}",
            same_days(answer)
        );
        left_out(to, "When drivers are stranded", &why);
        return;
    }
    let (hour, _) = busiest(|hour| value(base, hour));
    let title: String = if base.stranded.iter().sum::<u64>() == 0 {
        format!(
            "No driver was stranded under {}, some under others",
            sentences::base(answer)
        )
    } else {
        format!(
            "Under {} most drivers are stranded between {hour:02}:00 and {:02}:00",
            sentences::base(answer),
            hour + 1
        )
    };
    let svg = hour_chart(
        answer,
        &title,
        "Drivers who may no longer legally drive home, by the hour at which they stop",
        "drivers per 100 days",
        Unit::Plain,
        value,
    );
    to.add_chart("strandings", "When drivers are stranded", title, svg, NAME);
}

/// With a digit after the point, rounded up, as nothing is more than it.
fn rounded_up(value: f64) -> String {
    number((10.0 * value).ceil() / 10.0, 1)
}

pub(super) fn add_bay_queue(answer: &Comparison, to: &mut Answer) {
    let value = |profile: &Profile, hour: usize| queued(answer, profile, hour);
    let longest = |rule: &RuleResult| busiest(|hour| value(&rule.profile, hour));
    let under_any = answer.rules.iter().map(|rule| longest(rule).1);
    let under_any = under_any.fold(0.0, f64::max);
    let waits = answer
        .rules
        .iter()
        .filter_map(|rule| rule.figures[figure::BAY_WAIT_MIN].summary.mean());
    let wait = waits.fold(0.0, f64::max);
    if wait < WORTH_A_CHART.0 && under_any < WORTH_A_CHART.1 {
        let why = if under_any == 0.0 {
            "no truck waits for a bay under any rule".to_owned()
        } else {
            format!(
                "bays hardly queue: under no rule does a load wait for one for more than {} min on average, and in no hour of the day \
                 do more than {} trucks wait, all plants together (by the hour in {NAME}.csv). A chart is drawn from {} min or {} \
                 trucks on",
                rounded_up(wait),
                rounded_up(under_any),
                number(WORTH_A_CHART.0, 0),
                number(WORTH_A_CHART.1, 1),
            )
        };
        left_out(to, "Queues at the bays", &why);
        return;
    }
    let (hour, most) = longest(&answer.rules[answer.base]);
    let title = format!(
        "Under {} the queues for a bay are longest between {hour:02}:00 and {:02}:00: {} trucks on average",
        sentences::base(answer),
        hour + 1,
        number(most, if most < 0.05 { 3 } else { 1 })
    );
    let svg = hour_chart(
        answer,
        &title,
        "Trucks in the queues for a bay, all plants together",
        "trucks",
        Unit::Plain,
        value,
    );
    to.add_chart(
        "bay-queue",
        "Queues at the bays over the day",
        title,
        svg,
        NAME,
    );
}

pub(super) fn add_truck_use(answer: &Comparison, to: &mut Answer) {
    let used = |rule: usize| {
        let profile = &answer.rules[rule].profile;
        let (working, on_duty) = (profile.working.sum(), profile.on_duty.sum());
        Unit::Share.show(
            if on_duty == 0 {
                0.0
            } else {
                working as f64 / on_duty as f64
            },
            0,
        )
    };
    let picked = pick(answer);
    let title = if picked == answer.base {
        format!(
            "{} of the hours on duty go into loads under {}",
            used(picked),
            sentences::base(answer)
        )
    } else {
        format!(
            "{} of the hours on duty go into loads under \"{}\", {} under {}",
            used(picked),
            answer.rules[picked].name,
            used(answer.base),
            sentences::base(answer)
        )
    };
    let svg = hour_chart(
        answer,
        &title,
        "Loading, driving with and after a load, unloading and washing, as a share of the hours on duty",
        "share of hours on duty",
        Unit::Share,
        at_work,
    );
    to.add_chart("truck-use", "Trucks at work over the day", title, svg, NAME);
}
