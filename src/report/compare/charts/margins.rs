//! How close to the limit drivers come home.

use crate::observe::{MARGIN_BIN, MARGIN_BINS, Profile};
use crate::report::answer::{Answer, Column, Table};
use crate::report::chart::lines::{self, Lines};
use crate::report::compare::{pick, same_days, sentences};
use crate::report::number::{Unit, number};
use crate::studies::Comparison;
use crate::units::Millis;

/// Share of the shifts under a limit that end with at most so many bins left.
fn share_near(profile: &Profile, bins: usize) -> f64 {
    let all: u64 = profile.margin.iter().sum();
    let near: u64 = profile.margin[..=bins].iter().sum();
    near as f64 / all.max(1) as f64
}

pub(super) fn add(answer: &Comparison, to: &mut Answer) {
    let hour = (Millis::HOUR.0 / MARGIN_BIN.0) as usize;
    let share = |rule: usize| {
        let share = share_near(&answer.rules[rule].profile, hour);
        Unit::Share.show(share, usize::from(share < 0.1))
    };
    let (picked, base) = (pick(answer), answer.base);
    let mut title = format!(
        "{} of shifts end with at most an hour left under {}",
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
    let series: Vec<(String, Vec<(f64, f64)>)> = answer
        .rules
        .iter()
        .map(|rule| {
            let points = (0..=bins).map(|bin| (hours(bin), share_near(&rule.profile, bin)));
            (rule.name.clone(), points.collect())
        })
        .collect();
    let columns = ["rule", "at_most_hours_left", "share_of_shifts"];
    let mut table = Table::new("margins", columns.map(Column::file).into());
    for (rule, points) in &series {
        for (left, share) in points {
            table.row([rule.as_str().into(), (*left).into(), (*share).into()]);
        }
    }
    to.tables.push(table);
    let svg = lines::svg(&Lines {
        title: title.clone(),
        subtitle: format!(
            "Share of drivers' shifts with at most so many hours left of the limit that runs out first, at the end of the last drive, \
             over {}. At 0: at or beyond the limit",
            same_days(answer)
        ),
        x_axis: "hours left".into(),
        x_range: (0.0, hours(bins)),
        x_ticks: (0..=bins / 4)
            .map(|n| (hours(4 * n), number(hours(4 * n), 0)))
            .collect(),
        y_axis: "share of shifts".into(),
        y_unit: Unit::Share,
        y_top: Some(1.0),
        series,
        steps: false,
    });
    to.add_chart(
        "margins",
        "How close to the limit drivers come home",
        title,
        svg,
        "margins",
    );
}
