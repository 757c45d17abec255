//! Licences, what trucks ask of them, and what drivers did before the period.

use crate::hours::{
    Clocks, DutyLog, DutyStatus, Entry, RuleSet, TourRecord, WallClock, clocks_of, with_history,
};
use crate::units::Millis;

/// Class of a licence; each covers those before it (49 CFR 383.91).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Class {
    /// No commercial licence.
    Ordinary,
    /// Small commercial vehicles.
    C,
    /// Heavy straight vehicles, such as most mixers.
    B,
    /// Heavy combinations.
    A,
}

/// `class: B, endorsements?: ["…"], restrictions?: ["…"]`
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Licence {
    /// Its class.
    pub class: Class,
    /// What it allows beyond its class.
    pub endorsements: Vec<String>,
    /// What it does not allow within its class, such as a gearbox shifted by hand.
    pub restrictions: Vec<String>,
}

/// `(class?: Ordinary | C | B | A, endorsements?: ["…"], bars?: ["…"])`: what the driver of a truck needs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Need {
    /// At least this class.
    pub class: Class,
    /// All of these endorsements.
    pub endorsements: Vec<String>,
    /// None of these restrictions.
    pub bars: Vec<String>,
}

impl Need {
    /// The first endorsement that a licence lacks.
    fn missing(&self, licence: &Licence) -> Option<&String> {
        let mut needed = self.endorsements.iter();
        needed.find(|name| !licence.endorsements.contains(name))
    }

    /// The first restriction of a licence that bars it.
    fn barred(&self, licence: &Licence) -> Option<&String> {
        let mut bars = self.bars.iter();
        bars.find(|name| licence.restrictions.contains(name))
    }

    /// What a licence lacks, in words; None if it allows to drive the truck.
    pub fn lacking(&self, licence: &Licence) -> Option<String> {
        if licence.class < self.class {
            return Some(format!("class {:?}", self.class));
        }
        if let Some(missing) = self.missing(licence) {
            return Some(format!("the endorsement {missing:?}"));
        }
        let barred = self.barred(licence)?;
        Some(format!("a licence without the restriction {barred:?}"))
    }

    /// Whether somebody with this licence, the right one if None, may drive the truck. Allocates nothing.
    pub fn allows(&self, licence: Option<&Licence>) -> bool {
        licence.is_none_or(|licence| {
            licence.class >= self.class
                && self.missing(licence).is_none()
                && self.barred(licence).is_none()
        })
    }
}

/// `(hours?: [9, 10.5, 0, …], released_h_before?: 11, last_long_day?: 3, tours_ended_home?: [true, …])`: the days before the
/// period, the latest first. Left out: rested for a week, every tour ended at the home plant, no long day.
#[derive(Clone, Debug, PartialEq)]
pub struct History {
    /// Hours on duty on each day before the first, yesterday first; at most 13 days.
    pub hours: Vec<f64>,
    /// Released so long before the first midnight.
    pub released_before: Millis,
    /// Days before the first day (1 is yesterday) of the last use of the once-a-week longer window.
    pub last_long_day: Option<u32>,
    /// Whether the last five tours ended at the home plant, the latest first.
    pub tours_ended_home: [bool; 5],
}

impl Default for History {
    fn default() -> Self {
        Self {
            hours: Vec::new(),
            released_before: Millis::DAY * 7,
            last_long_day: None,
            tours_ended_home: [true; 5],
        }
    }
}

impl History {
    /// The clocks at the first midnight.
    pub fn clocks(&self, rules: &RuleSet) -> Clocks {
        clocks_of(&self.log(rules), rules, Millis::ZERO)
    }

    /// The days before the period as a duty log. The hours of the last day with hours end at the release; of the days before it,
    /// the same is taken as of the history of a duty log.
    pub fn log(&self, rules: &RuleSet) -> DutyLog {
        let released = -self.released_before;
        let Some(last) = self.hours.iter().position(|hours| *hours > 0.0) else {
            return DutyLog {
                rested_since: released,
                ..DutyLog::default()
            };
        };
        let days = self.hours.iter().enumerate().skip(last + 1).rev();
        let days = days.map(|(ago, hours)| (-1 - ago as i64, Millis::from_hours(*hours)));
        let on = Entry {
            status: DutyStatus::OnDuty,
            from: released - Millis::from_hours(self.hours[last]),
            to: released,
        };
        with_history(rules, vec![on], days, WallClock::default()).log
    }

    /// The last tours, for the once-a-week longer window.
    pub fn tours(&self) -> TourRecord {
        TourRecord {
            last_five_at_home: self.tours_ended_home,
            last_used: self.last_long_day.map(|ago| -i64::from(ago)),
        }
    }

    /// Days in a row that were worked up to yesterday.
    pub fn days_in_row(&self) -> u32 {
        self.hours.iter().take_while(|hours| **hours > 0.0).count() as u32
    }
}
