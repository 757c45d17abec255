//! The charts of the answer, each with what it shows in one sentence.

use super::{causes, heading, sentences, site_wait, unit};
use crate::observe::{
    Better, CostPart, LATE_BIN, LATE_BINS, MARGIN_BIN, MARGIN_BINS, Profile, figure,
};
use crate::report::chart::differences::{self, Difference, Differences};
use crate::report::chart::lines::{self, Lines};
use crate::report::chart::stacked::{self, Stacked};
use crate::report::day::{self, Day};
use crate::report::number::{Unit, count, number};
use crate::studies::{Comparison, Decision};
use crate::units::Millis;

/// The chart under which the report tells how to replay the day.
pub(super) const WORST_DAY: &str = "worst-day";

/// The chart under which the report tells what shows the worth of a change.
pub(super) const CAUSES: &str = "causes";

/// One chart.
pub(super) struct Chart {
    /// Name of its files, without ending.
    pub(super) name: &'static str,
    /// Heading of its section in the report.
    pub(super) heading: &'static str,
    pub(super) svg: String,
}

/// All charts, in the order of the report.
pub(super) fn all(answer: &Comparison) -> Vec<Chart> {
    let chart = |name, heading, svg| Chart { name, heading, svg };
    let mut charts = Vec::new();
    if let Some(svg) = difference_chart(answer) {
        charts.push(chart("differences", "What the rules change", svg));
    }
    let judged = answer
        .rules
        .iter()
        .any(|rule| rule.profile.late.iter().sum::<u64>() + rule.profile.undelivered > 0);
    if judged {
        charts.push(chart("lateness", "How late loads come", lateness(answer)));
    }
    if let Some(svg) = causes::chart(answer) {
        charts.push(chart(CAUSES, "What made loads late", svg));
    }
    if answer
        .rules
        .iter()
        .any(|rule| rule.figures[figure::MARGIN_MIN].summary.n() > 0)
    {
        charts.push(chart(
            "strandings",
            "When drivers are stranded",
            strandings(answer),
        ));
        charts.push(chart(
            "margins",
            "How close to the limit drivers come home",
            margins(answer),
        ));
    }
    charts.push(chart(
        "bay-queue",
        "Queues at the bays over the day",
        bay_queue(answer),
    ));
    if let Some(svg) = site_wait::chart(answer) {
        charts.push(chart("site-wait", "Waiting on site", svg));
    }
    charts.push(chart(
        "truck-use",
        "Trucks at work over the day",
        truck_use(answer),
    ));
    charts.push(chart("money", "Where the money goes", money(answer)));
    charts.push(chart(
        WORST_DAY,
        "The worst day, truck by truck",
        worst_day(answer),
    ));
    charts
}

/// The rule that a reader looks at first: the best, else the first contender that is not the base.
pub(super) fn pick(answer: &Comparison) -> usize {
    match &answer.decision {
        Decision::Alone => answer.base,
        Decision::Best(rule) | Decision::Selected(rule) => *rule,
        Decision::NotToldApart(rules) => {
            let other = rules.iter().find(|rule| **rule != answer.base);
            *other.unwrap_or(&answer.base)
        }
    }
}

pub(super) fn same_days(answer: &Comparison) -> String {
    let n = count(answer.replications());
    if answer.days == 1 {
        format!("the same {n} days")
    } else {
        format!("the same {n} periods of {} days", answer.days)
    }
}

fn difference_chart(answer: &Comparison) -> Option<String> {
    let column = answer.judged_by();
    let rows: Vec<Difference> = answer
        .rules
        .iter()
        .filter_map(|rule| {
            let difference = rule.figures[answer.judge].difference.as_ref()?;
            Some(Difference {
                name: rule.name.clone(),
                mean: difference.mean,
                interval: difference.interval,
            })
        })
        .collect();
    if rows.is_empty() {
        return None;
    }
    Some(differences::svg(&Differences {
        title: sentences::decision(answer),
        subtitle: format!(
            "Mean difference on {}, with intervals that hold together at {:.0} %",
            same_days(answer),
            answer.level * 100.0
        ),
        baseline: answer.rules[answer.base].name.clone(),
        axis: format!(
            "difference in {} {}",
            heading(column),
            sentences::period(answer.days)
        ),
        unit: unit(column),
        better: if column.better == Better::More {
            differences::Better::Higher
        } else {
            differences::Better::Lower
        },
        rows,
    }))
}

/// Share of all judged loads that come at most so many bins late.
fn share_within(profile: &Profile, bins: usize) -> f64 {
    let came: u64 = profile.late.iter().sum();
    let within: u64 = profile.late[..=bins].iter().sum();
    let all = came + profile.undelivered;
    if all == 0 {
        0.0
    } else {
        within as f64 / all as f64
    }
}

fn lateness(answer: &Comparison) -> String {
    let quarter = (15 * Millis::MINUTE.0 / LATE_BIN.0) as usize;
    let share =
        |rule: usize| Unit::Share.show(share_within(&answer.rules[rule].profile, quarter), 0);
    let (picked, base) = (pick(answer), answer.base);
    let title = if picked == base {
        format!(
            "{} of loads come at most 15 min late under {}",
            share(base),
            sentences::base(answer)
        )
    } else {
        format!(
            "{} of loads come at most 15 min late under \"{}\", {} under {}",
            share(picked),
            answer.rules[picked].name,
            share(base),
            sentences::base(answer)
        )
    };
    let bins = LATE_BINS - 2;
    let minutes = LATE_BIN.minutes();
    lines::svg(&Lines {
        title,
        subtitle: format!(
            "Share of loads on site no later than so many minutes after the site was ready, on {}. Undelivered loads never come",
            same_days(answer)
        ),
        x_axis: "minutes late".into(),
        x_range: (0.0, bins as f64 * minutes),
        x_ticks: (0..=bins / 3)
            .map(|n| {
                (
                    n as f64 * 3.0 * minutes,
                    number(n as f64 * 3.0 * minutes, 0),
                )
            })
            .collect(),
        y_axis: "share of loads".into(),
        y_unit: Unit::Share,
        y_top: Some(1.0),
        series: answer
            .rules
            .iter()
            .map(|rule| {
                let points =
                    (0..=bins).map(|bin| (bin as f64 * minutes, share_within(&rule.profile, bin)));
                (rule.name.clone(), points.collect())
            })
            .collect(),
        steps: false,
    })
}

/// Share of the tours under a limit that end with at most so many bins left.
fn share_near(profile: &Profile, bins: usize) -> f64 {
    let all: u64 = profile.margin.iter().sum();
    let near: u64 = profile.margin[..=bins].iter().sum();
    near as f64 / all.max(1) as f64
}

fn margins(answer: &Comparison) -> String {
    let hour = (Millis::HOUR.0 / MARGIN_BIN.0) as usize;
    let share = |rule: usize| {
        let share = share_near(&answer.rules[rule].profile, hour);
        Unit::Share.show(share, usize::from(share < 0.1))
    };
    let (picked, base) = (pick(answer), answer.base);
    let mut title = format!(
        "{} of tours end with at most an hour left under {}",
        share(base),
        sentences::base(answer)
    );
    if picked != base {
        title += &format!(
            ", {} under \"{}\"",
            share(picked),
            answer.rules[picked].name
        );
    }
    let hours = |bin: usize| bin as f64 * MARGIN_BIN.hours();
    let bins = MARGIN_BINS - 2;
    lines::svg(&Lines {
        title,
        subtitle: format!(
            "Share of drivers' tours with at most so many hours left on the clock that binds, at the end of the last drive, on {}. \
             At 0: at or beyond the limit",
            same_days(answer)
        ),
        x_axis: "hours left".into(),
        x_range: (0.0, hours(bins)),
        x_ticks: (0..=bins / 4)
            .map(|n| (hours(4 * n), number(hours(4 * n), 0)))
            .collect(),
        y_axis: "share of tours".into(),
        y_unit: Unit::Share,
        y_top: Some(1.0),
        series: answer
            .rules
            .iter()
            .map(|rule| {
                let points = (0..=bins).map(|bin| (hours(bin), share_near(&rule.profile, bin)));
                (rule.name.clone(), points.collect())
            })
            .collect(),
        steps: false,
    })
}

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
    title: String,
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
        title,
        subtitle: format!("{subtitle}, mean of {}", same_days(answer)),
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

/// Per day of the period, on average.
fn days(answer: &Comparison, profile: &Profile) -> f64 {
    (profile.replications * u64::from(answer.days)).max(1) as f64
}

fn strandings(answer: &Comparison) -> String {
    let value = |profile: &Profile, hour: usize| {
        100.0 * profile.stranded[hour] as f64 / days(answer, profile)
    };
    let base = &answer.rules[answer.base].profile;
    let all: u64 = answer
        .rules
        .iter()
        .flat_map(|rule| rule.profile.stranded)
        .sum();
    let (hour, _) = busiest(|hour| value(base, hour));
    let title = if all == 0 {
        "No driver was stranded under any rule".into()
    } else if base.stranded.iter().sum::<u64>() == 0 {
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
    hour_chart(
        answer,
        title,
        "Drivers who may no longer legally drive home, by the hour at which they stop",
        "drivers per 100 days",
        Unit::Plain,
        value,
    )
}

fn bay_queue(answer: &Comparison) -> String {
    let value = |profile: &Profile, hour: usize| {
        profile.bay_queue[hour] as f64 / days(answer, profile) / Millis::HOUR.0 as f64
    };
    let (hour, most) = busiest(|hour| value(&answer.rules[answer.base].profile, hour));
    let title = if most > 0.0 {
        format!(
            "Under {} the queues for a bay are longest between {hour:02}:00 and {:02}:00: {} trucks on average",
            sentences::base(answer),
            hour + 1,
            number(most, if most < 0.05 { 3 } else { 1 })
        )
    } else {
        format!("Under {} no truck waits for a bay", sentences::base(answer))
    };
    hour_chart(
        answer,
        title,
        "Trucks in the queues for a bay, all plants together",
        "trucks",
        Unit::Plain,
        value,
    )
}

fn truck_use(answer: &Comparison) -> String {
    let value = |profile: &Profile, hour: usize| match profile.on_duty[hour] {
        0 => 0.0,
        on_duty => profile.working[hour] as f64 / on_duty as f64,
    };
    let used = |rule: usize| {
        let profile = &answer.rules[rule].profile;
        let (working, on_duty) = (
            profile.working.iter().sum::<u64>(),
            profile.on_duty.iter().sum::<u64>(),
        );
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
    hour_chart(
        answer,
        title,
        "Loading, driving with and after a load, discharging and washing, as a share of the hours on duty",
        "share of hours on duty",
        Unit::Share,
        value,
    )
}

fn money(answer: &Comparison) -> String {
    let per_period = |rule: usize, part: CostPart| {
        let profile = &answer.rules[rule].profile;
        profile.cost[part as usize] as f64 / 100.0 / profile.replications.max(1) as f64
    };
    let parts: Vec<CostPart> = CostPart::ALL
        .into_iter()
        .filter(|part| *part != CostPart::Material)
        .collect();
    let parts: Vec<CostPart> = parts
        .into_iter()
        .filter(|part| (0..answer.rules.len()).any(|rule| per_period(rule, *part) > 0.0))
        .collect();
    let total = |rule: usize| {
        parts
            .iter()
            .map(|part| per_period(rule, *part))
            .sum::<f64>()
    };
    let trouble = |rule: usize| {
        [
            CostPart::Late,
            CostPart::Undelivered,
            CostPart::Stranded,
            CostPart::Dumped,
        ]
        .iter()
        .map(|part| per_period(rule, *part))
        .sum::<f64>()
    };
    let title = format!(
        "{} of the {} that {} costs {} beside material is the price of late, lost and undelivered loads and stranded drivers",
        Unit::Money.show(trouble(answer.base), 0),
        Unit::Money.show(total(answer.base), 0),
        sentences::base(answer),
        sentences::period(answer.days)
    );
    stacked::svg(&Stacked {
        title,
        subtitle: format!(
            "Mean cost {} without material, on {}",
            sentences::period(answer.days),
            same_days(answer)
        ),
        axis: format!("cost {}", sentences::period(answer.days)),
        unit: Unit::Money,
        parts: parts.iter().map(|part| part.words().to_owned()).collect(),
        bars: (0..answer.rules.len())
            .map(|rule| {
                (
                    answer.rules[rule].name.clone(),
                    parts.iter().map(|part| per_period(rule, *part)).collect(),
                )
            })
            .collect(),
    })
}

fn worst_day(answer: &Comparison) -> String {
    let worst = &answer.worst;
    day::svg(&Day {
        timeline: &worst.timeline,
        trucks: &worst.trucks,
        day: worst.day,
        days: answer.days,
        replication: (worst.replication, answer.seed),
        opening: format!("On the worst day under {}", sentences::base(answer)),
    })
}
