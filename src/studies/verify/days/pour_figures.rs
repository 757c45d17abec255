//! What of a pour's answer is held against paper.

use super::super::check::{Expected, Found};
use crate::observe::CostPart;
use crate::studies::{FleetAnswer, FleetSize};
use crate::units::Millis;

/// A figure of the answer for a pour, and what it is on paper.
#[derive(Clone, Copy, Debug)]
pub(super) enum Figure {
    /// Trucks of the cheapest fleet that does what is asked.
    Cheapest(u32),
    /// Trucks of the smallest; none: no fleet does it.
    Fewest(Option<u32>),
    /// Trucks by the formula by hand.
    ByHand(u32),
    /// Minutes between loads by that formula.
    EveryMin(f64),
    /// Loads by that formula.
    Loads(u32),
    /// With so many trucks: when it is done.
    Done(u32, &'static str),
    /// With so many trucks: minutes behind its plan.
    Behind(u32, f64),
    /// With so many trucks: minutes of its longest pause.
    Pause(u32, f64),
    /// With so many trucks: share of late loads.
    Late(u32, f64),
    /// With so many trucks: drivers.
    Drivers(u32, u32),
    /// Who is called in, shift by shift.
    Calls(&'static str),
    /// In the hour from then on: trucks needed.
    Needed(&'static str, u32),
    /// In the hour from then on: minutes of a round trip.
    RoundTrip(&'static str, f64),
    /// Dollars of a part of the cost of the cheapest fleet.
    Dollars(CostPart, f64),
    /// Dollars a yd³ of the cheapest fleet.
    PerYd3(f64),
}

/// A figure in words, what it is on paper, and what is found.
pub(super) type Line = (String, Expected, Found);

impl Figure {
    pub(super) fn line(self, answer: &FleetAnswer) -> Line {
        let hand = &answer.shown().hand;
        match self {
            Self::Cheapest(trucks) => {
                let found = answer.recommended().map(|(_, size)| size.trucks);
                count("trucks of the cheapest fleet", found, Some(trucks))
            }
            Self::Fewest(trucks) => {
                let found = answer.recommended().and_then(|(plan, _)| {
                    let smallest = plan.smallest?;
                    Some(plan.sizes[smallest].trucks)
                });
                count("trucks of the smallest fleet that does it", found, trucks)
            }
            Self::ByHand(trucks) => {
                let found = f64::from(hand.trucks());
                number("trucks by hand", found, trucks.into(), 0.0)
            }
            Self::EveryMin(minutes) => {
                let found = hand.every().minutes();
                number("a load every, min", found, minutes, 0.0)
            }
            Self::Loads(loads) => number("loads", hand.loads as f64, loads.into(), 0.0),
            Self::Done(trucks, clock) => {
                let found = finished(answer, trucks).map(|at| (at - answer.midnight).to_string());
                let figure = format!("done with {trucks} trucks at");
                words(figure, found.unwrap_or("never".into()), clock)
            }
            Self::Behind(trucks, minutes) => {
                let behind = of(answer, trucks).and_then(|size| size.behind(answer.shown()));
                let figure = format!("behind its plan with {trucks} trucks, min");
                number(
                    figure,
                    behind.map_or(f64::NAN, Millis::minutes),
                    minutes,
                    0.0,
                )
            }
            Self::Pause(trucks, minutes) => {
                let pause = of(answer, trucks).and_then(|size| size.worst_pause_min.mean);
                let figure = format!("longest pause with {trucks} trucks, min");
                number(figure, pause.unwrap_or(f64::NAN), minutes, 0.0)
            }
            Self::Late(trucks, share) => {
                let late = of(answer, trucks).and_then(|size| size.late_share.mean);
                let figure = format!("share of late loads with {trucks} trucks");
                number(figure, late.unwrap_or(f64::NAN), share, 1e-6)
            }
            Self::Drivers(trucks, drivers) => {
                let found = of(answer, trucks).map(|size| size.drivers);
                count(&format!("drivers of {trucks} trucks"), found, Some(drivers))
            }
            Self::Calls(expected) => words("drivers called in".into(), calls(answer), expected),
            Self::Needed(clock, trucks) => {
                let found = hour(answer, clock, |hour| f64::from(hour.needed));
                let figure = format!("trucks needed from {clock}");
                number(figure, found, trucks.into(), 0.0)
            }
            Self::RoundTrip(clock, minutes) => {
                let found = hour(answer, clock, |hour| {
                    hour.round_trip.map_or(f64::NAN, Millis::minutes)
                });
                let figure = format!("round trip from {clock}, min");
                number(figure, found, minutes, 0.0)
            }
            Self::Dollars(part, dollars) => {
                let cheapest = answer.recommended();
                let parts = cheapest.map(|(_, size)| size.parts.iter());
                let found = parts.into_iter().flatten().find(|(of, _)| *of == part);
                let found = found.map_or(f64::NAN, |(_, cost)| cost * answer.volume_yd3);
                number(format!("{}, $", part.words()), found, dollars, 0.01)
            }
            Self::PerYd3(dollars) => {
                let cheapest = answer.recommended();
                let found = cheapest.and_then(|(_, size)| size.cost_per_yd3.mean);
                number("cost a yd³, $", found.unwrap_or(f64::NAN), dollars, 1e-5)
            }
        }
    }
}

fn number(figure: impl Into<String>, found: f64, value: f64, within: f64) -> Line {
    let expected = Expected::Number { value, within };
    (figure.into(), expected, Found::Number(found))
}

fn words(figure: String, found: String, expected: &str) -> Line {
    (
        figure,
        Expected::Words(expected.to_owned()),
        Found::Words(found),
    )
}

/// A count, or that there is none.
fn count(figure: &str, found: Option<u32>, expected: Option<u32>) -> Line {
    match (found, expected) {
        (Some(found), Some(expected)) => number(figure, found.into(), expected.into(), 0.0),
        _ => {
            let told = |count: Option<u32>| count.map_or("none".into(), |count| count.to_string());
            let expected = told(expected);
            words(figure.to_owned(), told(found), &expected)
        }
    }
}

fn of(answer: &FleetAnswer, trucks: u32) -> Option<&FleetSize> {
    let mut sizes = answer.shown().sizes.iter();
    sizes.find(|size| size.trucks == trucks)
}

fn finished(answer: &FleetAnswer, trucks: u32) -> Option<Millis> {
    let minutes = of(answer, trucks)?.finished_min.mean?;
    Some(Millis::from_minutes(minutes))
}

fn calls(answer: &FleetAnswer) -> String {
    let clock = |at: Millis| (at - answer.midnight).to_string();
    let calls = answer.shown().calls.iter();
    let calls: Vec<String> = calls
        .map(|call| {
            let (first, last) = (clock(call.first), clock(call.last));
            format!("{} from {first} to {last}", call.drivers)
        })
        .collect();
    match calls.is_empty() {
        true => "nobody".into(),
        false => calls.join(", "),
    }
}

fn hour(answer: &FleetAnswer, clock: &str, take: impl Fn(&crate::studies::PourHour) -> f64) -> f64 {
    let mut hours = answer.shown().hours.iter();
    let found = hours.find(|hour| (hour.from - answer.midnight).to_string() == clock);
    found.map_or(f64::NAN, take)
}
