//! Limits with their name and source, and the break rule.

use super::Date;
use super::as_minutes;
use crate::units::Millis;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;

/// The name of a limit and where it is written.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Law {
    /// A stable short name: `drive_11h`.
    pub rule: Cow<'static, str>,
    /// Where the law says it: `49 CFR 395.3(a)(3)(i)`.
    pub citation: Cow<'static, str>,
}

impl Law {
    pub(in crate::hours) const fn new(rule: &'static str, citation: &'static str) -> Self {
        Self {
            rule: Cow::Borrowed(rule),
            citation: Cow::Borrowed(citation),
        }
    }
}

/// A limit beyond which driving is barred.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limit {
    /// Driving up to and including this is legal.
    #[serde(with = "as_minutes")]
    pub length: Millis,
    /// Its name and source.
    pub law: Law,
}

/// What makes a break necessary.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum BreakTrigger {
    /// Driving since the last break or full rest, added up.
    DrivingTime,
    /// Time gone by since the end of the last break or the start of the shift.
    ElapsedTime,
}

/// The break rule.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Break {
    /// What is counted.
    pub trigger: BreakTrigger,
    /// No driving beyond this much of it.
    #[serde(with = "as_minutes")]
    pub after: Millis,
    /// An unbroken stretch this long is a break.
    #[serde(with = "as_minutes")]
    pub length: Millis,
    /// Work other than driving counts as a break, not only time off.
    pub work_counts: bool,
    /// Waiting with the truck without other work counts.
    pub waiting_counts: bool,
    /// Waiting counts from this date on only, where a log has dates.
    pub waiting_counts_from: Option<Date>,
    /// Its name and source.
    pub law: Law,
}
