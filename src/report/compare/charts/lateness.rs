//! How late loads come.

use crate::observe::{LATE_BIN, LATE_BINS, Profile};
use crate::report::answer::{Answer, Column, Table};
use crate::report::chart::lines::{self, Lines};
use crate::report::compare::{pick, same_days, sentences};
use crate::report::number::{Unit, number};
use crate::studies::Comparison;
use crate::units::Millis;

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

pub(super) fn add(answer: &Comparison, to: &mut Answer) {
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
    let series: Vec<(String, Vec<(f64, f64)>)> = answer
        .rules
        .iter()
        .map(|rule| {
            let points =
                (0..=bins).map(|bin| (bin as f64 * minutes, share_within(&rule.profile, bin)));
            (rule.name.clone(), points.collect())
        })
        .collect();
    let columns = ["rule", "at_most_min_late", "share_of_loads"];
    let mut table = Table::new("lateness", columns.map(Column::file).into());
    for (rule, points) in &series {
        for (late, share) in points {
            table.row([rule.as_str().into(), (*late).into(), (*share).into()]);
        }
    }
    to.tables.push(table);
    let svg = lines::svg(&Lines {
        title: title.clone(),
        subtitle: format!(
            "Share of loads on site no later than so many minutes after the site was ready, over {}. Undelivered loads never come",
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
        series,
        steps: false,
    });
    to.add_chart("lateness", "How late loads come", title, svg, "lateness");
}
