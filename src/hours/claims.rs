//! Exceptions that are claimed in a log: judged where log and history show their conditions, then used.

use super::exceptions::{Adverse, Allowance, DelayCause, TourRecord, window_of_tour};
use super::log::DutyLog;
use super::review::{Violation, restarts, shifts};
use super::rule_set::{Clock, RuleSet};
use super::status::DutyStatus;
use crate::units::Millis;

/// An exception that a log can claim.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exception {
    /// The once-a-week longer window (49 CFR 395.1(o)). The claim says that the last five tours ended at the normal work
    /// reporting location and that this one did.
    LongDay,
    /// Adverse driving conditions (49 CFR 395.1(b)(1)). The claim says that weather or an unusual condition of road or
    /// traffic came up that nobody could know of, on a run that would have fitted without it.
    Adverse,
}

impl Exception {
    /// All.
    pub const ALL: [Self; 2] = [Self::LongDay, Self::Adverse];

    /// A name for machines and for the column of a log.
    pub fn key(self) -> &'static str {
        match self {
            Self::LongDay => "long_day",
            Self::Adverse => "adverse",
        }
    }
}

/// A claim, from a moment of a tour on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Claim {
    /// What is claimed.
    pub what: Exception,
    /// From when on.
    pub from: Millis,
}

/// Why a claim does not hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refused {
    /// The rule book has no such exception.
    NotInBook,
    /// The driver was not on a tour then.
    NoTour,
    /// The driver was released too late for a long day; the ordinary window held all day.
    ReleasedLate,
    /// The longer window was used within the six carrier days before, on this one.
    UsedOn(i64),
}

/// A claim and whether it holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct JudgedClaim {
    /// The claim.
    pub claim: Claim,
    /// Why it does not hold, if it does not.
    pub refused: Option<Refused>,
}

/// The claims of a log, each judged, and which exceptions that are not claimed a violation may fall under.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Claims {
    /// In order of time.
    pub judged: Vec<JudgedClaim>,
    /// Tours, as first duty and end of duty, in which a long day is not claimed and its conditions, as far as a log shows
    /// them, are met.
    long_day_open: Vec<(Millis, Millis)>,
    /// All tours.
    tours: Vec<(Millis, Millis)>,
    /// Tours for which adverse conditions are claimed.
    adverse_in: Vec<(Millis, Millis)>,
}

/// Judges the claims of a log and adds the exceptions that hold to it. `used_before` is the last carrier day before the log on
/// which the longer window was used; None also if a restart has come since.
pub fn use_claims(
    log: &mut DutyLog,
    rules: &RuleSet,
    claims: &[Claim],
    used_before: Option<i64>,
) -> Claims {
    let mut found = Claims::default();
    let ends = log.ends();
    let tours = shifts(log, rules, ends);
    let restarts = restarts(log, rules, ends);
    let mut claimed_in: Vec<Vec<&Claim>> = vec![Vec::new(); tours.len()];
    for claim in claims {
        match tour_of(&tours, claim.from) {
            Some(tour) => claimed_in[tour].push(claim),
            None => found.judged.push(JudgedClaim {
                claim: *claim,
                refused: Some(Refused::NoTour),
            }),
        }
    }
    let mut record = TourRecord::SETTLED;
    let mut used_until = -Millis::NEVER;
    if let Some(day) = used_before {
        record.released(true, Some(day));
        used_until = log.wall.day_begins(rules, day + 1);
    }
    for (at, tour) in tours.iter().enumerate() {
        let so_far = restarts.partition_point(|rest| rest.1 <= tour.0);
        let last = so_far.checked_sub(1).map(|last| restarts[last]);
        if last.is_some_and(|rest| rest.0 >= used_until) {
            record.restarted();
        }
        let day = log.wall.carrier_day(rules, tour.0);
        let may = record.may_use_long_day(day);
        let window = window_of_tour(rules, may, true, tour.0, tour.1);
        let usual = rules.window.as_ref().map(|limit| limit.length);
        let holds = window > usual;
        let claimed = |what| {
            let mut claims = claimed_in[at].iter();
            claims.any(|claim| claim.what == what)
        };
        let long_day = claimed(Exception::LongDay) && holds;
        if long_day {
            let allowance = Allowance {
                long_day,
                ..Allowance::default()
            };
            log.allowances.push((tour.0, allowance));
        } else if holds {
            found.long_day_open.push(*tour);
        }
        for claim in &claimed_in[at] {
            let refused = match claim.what {
                Exception::LongDay if long_day => None,
                Exception::LongDay if usual.is_none() || rules.long_day_window.is_none() => {
                    Some(Refused::NotInBook)
                }
                Exception::LongDay => Some(match record.last_used {
                    Some(used) if !may => Refused::UsedOn(used),
                    _ => Refused::ReleasedLate,
                }),
                Exception::Adverse if rules.adverse.is_none() => Some(Refused::NotInBook),
                Exception::Adverse => {
                    // What makes a claim valid is what whoever writes it down says of the day.
                    let adverse = Adverse::claim(DelayCause::Weather, false, true);
                    let allowance = Allowance {
                        adverse,
                        long_day,
                        ..Allowance::default()
                    };
                    log.allowances.push((claim.from, allowance));
                    found.adverse_in.push(*tour);
                    None
                }
            };
            found.judged.push(JudgedClaim {
                claim: **claim,
                refused,
            });
        }
        let used = usual.is_some_and(|usual| {
            let past = log
                .entries
                .partition_point(|entry| entry.to <= tour.0 + usual);
            let past = log.entries[past..].iter();
            let mut past = past.take_while(|entry| entry.from < tour.1);
            past.any(|entry| entry.status == DutyStatus::Driving)
        });
        record.released(true, (long_day && used).then_some(day));
        if long_day && used {
            used_until = tour.1;
        }
    }
    found.judged.sort_by_key(|judged| judged.claim.from);
    log.allowances.sort_by_key(|(from, _)| *from);
    found.tours = tours;
    found
}

/// The tour that a moment is in, by its place.
fn tour_of(tours: &[(Millis, Millis)], at: Millis) -> Option<usize> {
    let begun = tours.partition_point(|tour| tour.0 <= at);
    begun.checked_sub(1).filter(|tour| at < tours[*tour].1)
}

impl Claims {
    /// Whether an exception that is not claimed would cover one of the violations, as far as a log shows: a long day the
    /// window, adverse conditions the window or the driving limit.
    pub fn may_cover(&self, what: Exception, rules: &RuleSet, violations: &[Violation]) -> bool {
        let tour_of = |violation: &Violation| {
            tour_of(&self.tours, violation.from).map(|tour| &self.tours[tour])
        };
        violations.iter().any(|violation| {
            let Some(tour) = tour_of(violation) else {
                return false;
            };
            match (what, &rules.adverse, violation.rule) {
                (Exception::LongDay, _, Clock::Window) => self.long_day_open.contains(tour),
                (Exception::Adverse, Some(extension), rule) if !self.adverse_in.contains(tour) => {
                    match rule {
                        Clock::Window => rules.window.as_ref().is_some_and(|usual| {
                            violation.to <= tour.0 + usual.length + extension.window
                        }),
                        Clock::Driving => {
                            let first = violations.partition_point(|other| other.from < tour.0);
                            let same = violations[first..].iter();
                            let same = same.take_while(|other| other.from < tour.1);
                            let same = same.filter(|other| other.rule == Clock::Driving);
                            let beyond: Millis = same.map(|other| other.to - other.from).sum();
                            beyond <= extension.driving
                        }
                        _ => false,
                    }
                }
                _ => false,
            }
        })
    }
}
