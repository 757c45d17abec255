//! One day of a replication, truck by truck, as a chart.

use super::answer::{Column, Table};
use super::chart::trucks::{self, Trucks};
use crate::observe::Stint;
use crate::scenario::Scenario;
use crate::studies::Replay;
use crate::units::{Millis, TruckId};
use std::fmt::Write;

/// More rows than this cannot be read.
const MOST_TRUCKS: usize = 60;

/// A day of a replication, for a chart.
pub(super) struct Day<'a> {
    /// What every truck did in the replication.
    stints: &'a [Stint],
    /// Loads that came late: when, which truck.
    late: Vec<(Millis, TruckId)>,
    /// Drivers stranded: when, which truck.
    stranded: Vec<(Millis, TruckId)>,
    /// How many of both that day.
    trouble: (usize, usize),
    /// Names of the trucks, by id.
    trucks: Vec<&'a str>,
    /// Which day of the replication, 0 for the first.
    day: i64,
    /// Days in the replication.
    days: u32,
    /// The number of the replication, and the seed.
    replication: (u64, u64),
    /// The day and its rule, as the beginning of a sentence.
    opening: String,
}

impl<'a> Day<'a> {
    /// A day of a replication, 0 for the first.
    pub(super) fn of(
        replay: &'a Replay,
        day: i64,
        scenario: &'a Scenario,
        opening: String,
    ) -> Self {
        let stranded = replay.stranded.iter();
        Self {
            stints: &replay.stints,
            late: replay
                .late
                .iter()
                .map(|late| (late.at, late.truck))
                .collect(),
            stranded: stranded.map(|one| (one.at, one.truck)).collect(),
            trouble: replay.trouble_on(day),
            trucks: scenario
                .trucks
                .iter()
                .map(|truck| truck.name.as_str())
                .collect(),
            day,
            days: replay.days,
            replication: (replay.replication, replay.seed),
            opening,
        }
    }

    /// The chart as SVG text.
    pub(super) fn svg(&self) -> String {
        trucks::svg(&self.chart())
    }

    /// What is seen in it.
    pub(super) fn finding(&self) -> String {
        self.chart().title
    }

    /// What every truck that is drawn did from when to when, then late arrivals and strandings: the numbers of the chart.
    pub(super) fn table(&self, name: &'static str) -> Table {
        let columns = ["truck", "doing", "from_h", "to_h"].map(Column::file);
        let mut table = Table::new(name, columns.into());
        let chart = self.chart();
        let mut row = |truck: usize, doing: &str, from: f64, to: f64| {
            let truck = chart.trucks[truck].as_str();
            table.row([truck.into(), doing.into(), from.into(), to.into()]);
        };
        for (truck, doing, from, to) in &chart.spans {
            row(*truck, doing.words(), *from, *to);
        }
        for (truck, at) in &chart.late {
            row(*truck, "comes late", *at, *at);
        }
        for (truck, at) in &chart.stranded {
            row(*truck, "stranded", *at, *at);
        }
        table
    }

    fn chart(&self) -> Trucks {
        let midnight = Millis::midnight(self.day);
        let hour = |at: Millis| (at - midnight).hours();
        let inside = |at: Millis| (0.0..30.0).contains(&hour(at));
        let spans: Vec<_> = self
            .stints
            .iter()
            .filter(|span| span.to > midnight && hour(span.from) < 30.0)
            .collect();
        // The night after the day is shown of the trucks that were out on the day; of a single day it is a part.
        let over = if self.days == 1 { 30.0 } else { 24.0 };
        let of_the_day = spans.iter().filter(|span| hour(span.from) < over);
        let mut rows: Vec<usize> = of_the_day.map(|span| span.truck.at()).collect();
        rows.sort_unstable();
        rows.dedup();
        let driven = rows.len();
        rows.truncate(MOST_TRUCKS);
        let row = |truck: usize| rows.binary_search(&truck).ok();
        let marks = |marks: &[(Millis, TruckId)]| -> Vec<(usize, f64)> {
            marks
                .iter()
                .filter(|(at, _)| inside(*at))
                .filter_map(|(at, truck)| Some((row(truck.at())?, hour(*at))))
                .collect()
        };
        let (late, stranded) = (marks(&self.late), marks(&self.stranded));
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
        let which = if self.days == 1 {
            String::new()
        } else {
            format!(", day {}", self.day + 1)
        };
        Trucks {
            title: format!(
                "{} {} loads came late and {} driver{} stranded",
                self.opening,
                self.trouble.0,
                self.trouble.1,
                if self.trouble.1 == 1 {
                    " was"
                } else {
                    "s were"
                }
            ),
            subtitle: format!(
                "Replication {}{which} (random seed {}): what every truck did, by the clock; dot: comes late, cross: stranded{}",
                self.replication.0,
                self.replication.1,
                left_out(driven, self.trucks.len())
            ),
            trucks: rows
                .iter()
                .map(|truck| self.trucks[*truck].to_owned())
                .collect(),
            spans: spans
                .iter()
                .filter_map(|span| {
                    Some((
                        row(span.truck.at())?,
                        span.doing,
                        hour(span.from),
                        hour(span.to),
                    ))
                })
                .collect(),
            late,
            stranded,
            hours: (first as u32, last as u32),
        }
    }
}

/// Which trucks of all have no row: those beyond the most that can be read, and those that nobody drove.
fn left_out(driven: usize, all: usize) -> String {
    let mut text = String::new();
    if driven > MOST_TRUCKS {
        let _ = write!(text, "; the first {MOST_TRUCKS} of {driven} trucks");
    }
    match all - driven {
        0 => {}
        1 => text.push_str("; 1 more truck had no driver all day"),
        idle => {
            let _ = write!(text, "; {idle} more trucks had no driver all day");
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::observe::Doing;
    use crate::units::PlaceId;

    /// What the chart of a day with so many trucks says, of which so many are driven.
    fn chart(driven: usize, all: usize) -> String {
        let names: Vec<String> = (1..=all).map(|truck| format!("T{truck}")).collect();
        let stint = |truck| Stint {
            truck: TruckId::new(truck),
            doing: Doing::Free,
            from: Millis::HOUR,
            to: Millis(9 * Millis::HOUR.0),
            place: PlaceId(0),
            heading: PlaceId(0),
            load: None,
        };
        let stints: Vec<Stint> = (0..driven).map(stint).collect();
        let drawn = Day {
            stints: &stints,
            late: Vec::new(),
            stranded: Vec::new(),
            trouble: (0, 0),
            trucks: names.iter().map(String::as_str).collect(),
            day: 0,
            days: 1,
            replication: (0, 1),
            opening: "Under a rule".into(),
        };
        let drawn = drawn.svg();
        // The text between the tags, however it is broken into lines.
        let texts = drawn.split('<').filter_map(|tag| tag.split_once('>'));
        let words: Vec<&str> = texts
            .flat_map(|(_, text)| text.split_whitespace())
            .collect();
        words.join(" ")
    }

    #[test]
    fn trucks_without_a_row_are_counted() {
        let said = |driven, all, words: &str| chart(driven, all).contains(words);
        assert!(!said(4, 4, "no driver"));
        assert!(said(
            3,
            4,
            "cross: stranded; 1 more truck had no driver all day"
        ));
        assert!(said(
            2,
            4,
            "cross: stranded; 2 more trucks had no driver all day"
        ));
        assert!(!said(60, 60, "the first 60"));
        assert!(said(61, 64, "the first 60 of 61 trucks; 3 more trucks"));
    }
}
