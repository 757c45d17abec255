//! More loads than trucks can carry, by the hand formula: trucks = round trip ÷ spacing.

use super::{Pour, Tours};
use crate::report::number::{count, number};
use crate::report::summary::orders::when;
use crate::report::summary::words::{counted, day};
use crate::scenario::Scenario;
use crate::units::Millis;

/// At most one line a day for the worst moment, one for the hours of the whole day.
pub(super) fn fleet(
    pours: &[Pour<'_>],
    scenario: &Scenario,
    tours: &Tours,
    doubts: &mut Vec<String>,
) {
    if !scenario.endless.is_empty() {
        return; // loads made on demand take whatever is left
    }
    let worst = worst_moments(pours, scenario, tours);
    for (number, worst) in (0..).zip(worst) {
        if let Some(moment) = worst {
            doubts.push(format!(
                "at {} the orders under way keep about {} trucks busy (round trip ÷ spacing, empty road), and {} on shift",
                when(Millis(moment.at.0.div_euclid(60_000) * 60_000), scenario),
                count(moment.needed.ceil() as u64),
                counted(moment.on_duty.max(0) as usize, "driver is", "drivers are")
            ));
        }
        hours(number, pours, scenario, tours, doubts);
    }
}

fn hours(
    number_of_day: i64,
    pours: &[Pour<'_>],
    scenario: &Scenario,
    tours: &Tours,
    doubts: &mut Vec<String>,
) {
    let needed: f64 = pours
        .iter()
        .filter(|pour| pour.order.first.day() == number_of_day)
        .map(|pour| pour.load.loads as f64 * pour.load.round_trip().hours() * pour.order.chance)
        .sum();
    let there: f64 = tours
        .all
        .iter()
        .filter(|tour| tour.report.day() == number_of_day)
        .map(|tour| (tour.end - tour.ready).hours())
        .sum();
    if needed > there {
        doubts.push(format!(
            "{}: round trips of {} h in all on the empty road, and shifts of {} h",
            day(number_of_day, scenario.period.first_day),
            number(needed, 0),
            number(there, 0)
        ));
    }
}

struct Moment {
    at: Millis,
    needed: f64,
    on_duty: i64,
}

/// For each day, when the trucks that are needed exceed those on duty by most; none where they never do.
fn worst_moments(pours: &[Pour<'_>], scenario: &Scenario, tours: &Tours) -> Vec<Option<Moment>> {
    let mut changes: Vec<(Millis, f64, i64)> = Vec::new();
    for pour in pours {
        let trip = pour.load.round_trip();
        // The span is such that it holds all round trips.
        let trucks = pour.load.trucks_busy();
        if trucks <= 0.0 {
            continue;
        }
        let begins = pour.order.first - pour.load.lead();
        let lasts = Millis::from_minutes(pour.load.loads as f64 * trip.minutes() / trucks);
        let needed = trucks * pour.order.chance;
        changes.push((begins, needed, 0));
        changes.push((begins + lasts, -needed, 0));
    }
    for tour in tours.all.iter().filter(|tour| tour.end > tour.ready) {
        changes.push((tour.ready, 0.0, 1));
        changes.push((tour.end, 0.0, -1));
    }
    changes.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)));
    let mut worst: Vec<Option<Moment>> = (0..scenario.period.days).map(|_| None).collect();
    let (mut needed, mut on_duty) = (0.0_f64, 0);
    for at_once in changes.chunk_by(|a, b| a.0 == b.0) {
        for (_, more_needed, more_on_duty) in at_once {
            needed += more_needed;
            on_duty += more_on_duty;
        }
        let at = at_once[0].0;
        let short = needed - on_duty as f64;
        let of_day = usize::try_from(at.day())
            .ok()
            .and_then(|day| worst.get_mut(day));
        // Sums of fractions are not exact: a shortage of less than a hundredth of a truck is none.
        if let Some(of_day) = of_day
            && short > 0.01
            && of_day
                .as_ref()
                .is_none_or(|other| short > other.needed - other.on_duty as f64)
        {
            *of_day = Some(Moment {
                at,
                needed,
                on_duty,
            });
        }
    }
    worst
}
