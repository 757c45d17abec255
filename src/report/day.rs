//! One day of a replication, truck by truck, as a chart.

use super::chart::trucks::{self, Trucks};
use crate::observe::Timeline;
use crate::units::{Millis, TruckId};

/// More rows than this cannot be read.
const MOST_TRUCKS: usize = 60;

/// What is said above the chart.
pub(super) struct Day<'a> {
    /// What every truck did.
    pub(super) timeline: &'a Timeline,
    /// Names of the trucks, by id.
    pub(super) trucks: &'a [String],
    /// Which day of the replication, 0 for the first.
    pub(super) day: i64,
    /// Days in the replication.
    pub(super) days: u32,
    /// The number of the replication, and the seed.
    pub(super) replication: (u64, u64),
    /// The day and its rule, as the beginning of a sentence.
    pub(super) opening: String,
}

/// The chart as SVG text.
pub(super) fn svg(day: &Day<'_>) -> String {
    let midnight = Millis::midnight(day.day);
    let hour = |at: Millis| (at - midnight).hours();
    let inside = |at: Millis| (0.0..30.0).contains(&hour(at));
    let spans: Vec<_> = day
        .timeline
        .spans
        .iter()
        .filter(|span| span.to > midnight && hour(span.from) < 30.0)
        .collect();
    let mut rows: Vec<usize> = spans.iter().map(|span| span.truck.at()).collect();
    rows.sort_unstable();
    rows.dedup();
    rows.truncate(MOST_TRUCKS);
    let row = |truck: usize| rows.binary_search(&truck).ok();
    let marks = |marks: &[(Millis, TruckId)]| -> Vec<(usize, f64)> {
        marks
            .iter()
            .filter(|(at, _)| inside(*at))
            .filter_map(|(at, truck)| Some((row(truck.at())?, hour(*at))))
            .collect()
    };
    let (late, stranded) = (marks(&day.timeline.late), marks(&day.timeline.stranded));
    let first = spans
        .iter()
        .map(|span| hour(span.from))
        .fold(24.0, f64::min)
        .clamp(0.0, 23.0)
        .floor();
    let last = spans
        .iter()
        .map(|span| hour(span.to))
        .fold(first + 1.0, f64::max)
        .min(30.0)
        .ceil();
    let which = if day.days == 1 {
        String::new()
    } else {
        format!(", day {}", day.day + 1)
    };
    trucks::svg(&Trucks {
        title: format!(
            "{} {} loads came late and {} driver{} stranded",
            day.opening,
            late.len(),
            stranded.len(),
            if stranded.len() == 1 {
                " was"
            } else {
                "s were"
            }
        ),
        subtitle: format!(
            "Replication {}{which} (seed {}): what every truck did, by the clock{}",
            day.replication.0,
            day.replication.1,
            if rows.len() == MOST_TRUCKS {
                "; the first 60 trucks"
            } else {
                ""
            }
        ),
        trucks: rows
            .iter()
            .map(|truck| day.trucks[*truck].clone())
            .collect(),
        spans: spans
            .iter()
            .filter_map(|span| {
                Some((
                    row(span.truck.at())?,
                    span.activity,
                    hour(span.from),
                    hour(span.to),
                ))
            })
            .collect(),
        late,
        stranded,
        hours: (first as u32, last as u32),
    })
}
