//! Longer days: when plants close and drivers report.

use crate::scenario::{OpenHours, Scenario};
use crate::units::{Millis, Weekday};

const LONGER: Millis = Millis(2 * Millis::HOUR.0);
const EARLIER: Millis = Millis::HOUR;

pub(super) fn longer(scenario: &Scenario) -> Result<Scenario, &'static str> {
    let mut edited = scenario.clone();
    for plant in &mut edited.plants {
        plant.hours = close_later(&plant.hours);
    }
    (edited.plants != scenario.plants)
        .then_some(edited)
        .ok_or("the plants are always open")
}

/// Every span of the week that is closed by itself, two hours longer; spans that meet are joined, and cut at midnight.
fn close_later(hours: &[OpenHours]) -> Vec<OpenHours> {
    let mut spans: Vec<(Millis, Millis)> = Vec::new();
    for (day, weekday) in Weekday::ALL.into_iter().enumerate() {
        let midnight = Millis::midnight(day as i64);
        let today = hours.iter().filter(|span| span.days.contains(&weekday));
        spans.extend(today.map(|span| (midnight + span.open, midnight + span.close)));
    }
    let spans = join(spans).into_iter();
    let week = Millis::midnight(7);
    let longer = spans.flat_map(|(open, close)| {
        let close = close + LONGER;
        // What runs beyond Sunday is open on Monday.
        let over = (close > week).then(|| (Millis::ZERO, close - week));
        [Some((open, close.min(week))), over]
    });
    let mut cut = Vec::new();
    for (open, close) in join(longer.flatten().collect()) {
        let mut from = open;
        while from < close {
            let midnight = Millis::midnight(from.day());
            let to = close.min(midnight + Millis::DAY);
            cut.push(OpenHours {
                days: vec![Weekday::ALL[from.day() as usize]],
                open: from - midnight,
                close: to - midnight,
            });
            from = to;
        }
    }
    cut
}

fn join(mut spans: Vec<(Millis, Millis)>) -> Vec<(Millis, Millis)> {
    spans.sort_unstable();
    let mut joined: Vec<(Millis, Millis)> = Vec::new();
    for (open, close) in spans {
        match joined.last_mut() {
            Some(last) if last.1 >= open => last.1 = last.1.max(close),
            _ => joined.push((open, close)),
        }
    }
    joined
}

/// Nobody reports the day before: who reports in the first hour of a day, at its midnight.
pub(super) fn report_earlier(scenario: &Scenario) -> Result<Scenario, &'static str> {
    let mut edited = scenario.clone();
    for driver in &mut edited.drivers {
        driver.report = (driver.report - EARLIER).max(Millis::ZERO);
    }
    (edited.drivers != scenario.drivers)
        .then_some(edited)
        .ok_or("everyone reports at midnight")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn span(days: &[Weekday], open: f64, close: f64) -> OpenHours {
        OpenHours {
            days: days.to_vec(),
            open: Millis::from_hours(open),
            close: Millis::from_hours(close),
        }
    }

    /// Tuesday through the night until 03:00 becomes until 05:00; a night that ends before the morning opens stays a night.
    #[test]
    fn a_night_is_longer_at_its_end_only() {
        let [_, tuesday, wednesday, ..] = Weekday::ALL;
        let hours = [
            span(&[tuesday], 4.5, 24.0),
            span(&[wednesday], 0.0, 3.0),
            span(&[wednesday], 4.5, 19.0),
        ];
        let longer = close_later(&hours);
        assert_eq!(
            longer,
            [span(&[tuesday], 4.5, 24.0), span(&[wednesday], 0.0, 21.0),],
            "until 05:00 it meets the morning"
        );
    }

    #[test]
    fn sunday_night_runs_into_monday() {
        let (monday, sunday) = (Weekday::ALL[0], Weekday::ALL[6]);
        assert_eq!(
            close_later(&[span(&[sunday], 20.0, 23.5)]),
            [span(&[monday], 0.0, 1.5), span(&[sunday], 20.0, 24.0)]
        );
        assert_eq!(close_later(&[]), [], "always open stays so");
    }
}
