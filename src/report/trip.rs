//! The answers of `trip`: one file for each question.

mod calibration;
mod fetch;
mod last_loads;
mod load;
mod order;
mod sheet;
mod unsaid;
mod words;

use super::answer::Answer;
use crate::scenario::Scenario;
use crate::studies::TripQuestion;
use crate::studies::trip::{Calibration, FetchAnswer, LastLoads, LoadAnswer, OrderAnswer};
use crate::units::measure;

/// What was asked, for whatever is said about it.
#[derive(Clone, Debug)]
pub struct Asked<'a> {
    /// The scenario.
    pub scenario: &'a Scenario,
    /// The moment.
    pub question: &'a TripQuestion,
    /// The command that gives the answer again.
    pub recipe: String,
}

/// A value and the ends of its bar.
type Bar = (f64, f64, f64);

/// An answer to one of the questions.
#[derive(Clone, Debug)]
pub enum TripAnswer {
    /// May this load go?
    Load(Box<LoadAnswer>),
    /// Can we take this order?
    Order(OrderAnswer),
    /// Who picks up a stranded driver?
    Fetch(FetchAnswer),
    /// Until when may each driver load for where?
    LastLoads(LastLoads),
    /// Does the forecast come true?
    Calibration(Calibration),
}

impl TripAnswer {
    /// Whether what was asked is possible with the chance asked for.
    pub fn is_yes(&self) -> bool {
        use crate::studies::trip::LoadVerdict;
        match self {
            Self::Load(load) => load.verdict == LoadVerdict::Yes,
            Self::Order(order) => order.first_that_holds.is_some(),
            Self::Fetch(_) | Self::Calibration(_) | Self::LastLoads(_) => true,
        }
    }

    /// Whether it was interrupted.
    pub fn stopped(&self) -> bool {
        match self {
            Self::Load(load) => load.stopped,
            Self::Order(order) => order.stopped,
            Self::Fetch(fetch) => fetch.stopped,
            Self::LastLoads(lasts) => lasts.stopped,
            Self::Calibration(found) => found.stopped,
        }
    }

    /// What is shown of it.
    pub fn answer(&self, asked: &Asked<'_>) -> Answer {
        let _spoken = measure::speak(asked.scenario.measures);
        let mut answer = match self {
            Self::Load(load) => load::answer(load, asked),
            Self::Order(order) => order::answer(order, asked),
            Self::Fetch(fetch) => fetch::answer(fetch, asked),
            Self::LastLoads(lasts) => last_loads::answer(lasts, asked),
            Self::Calibration(found) => calibration::answer(found, asked),
        };
        if let Some(why) = asked.question.no_longer {
            answer.say(words::no_longer(asked, why));
        }
        answer
    }
}
