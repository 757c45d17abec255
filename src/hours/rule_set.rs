//! A rule book written out in full: every limit is a value that can be read, changed and used.

use std::borrow::Cow;
use std::fmt;

use serde::{Deserialize, Serialize};

use super::exceptions::Allowance;
use super::rule_book::RuleBook;
use super::status::DutyStatus;
use crate::units::Millis;

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
    pub(super) const fn new(rule: &'static str, citation: &'static str) -> Self {
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

/// Hours on duty within so many carrier days.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cycle {
    /// Today and the days before it, 1 to 14 in all.
    pub days: u8,
    /// No driving beyond this much time on duty.
    #[serde(with = "as_minutes")]
    pub limit: Millis,
    /// Its name and source.
    pub law: Law,
    /// Unbroken time off after which the count starts again.
    pub restart: Restart,
}

impl Cycle {
    /// As people write it: `60/7`.
    pub fn name(&self) -> String {
        format!("{}/{}", self.limit.0 / Millis::HOUR.0, self.days)
    }
}

/// What starts the weekly count again.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Restart {
    /// Unbroken time off.
    #[serde(with = "as_minutes")]
    pub length: Millis,
    /// So many whole periods from 01:00 to 05:00 must lie in it.
    pub nights: u8,
    /// At least this long after the last restart began.
    #[serde(with = "as_minutes")]
    pub since_last_began: Millis,
}

impl Restart {
    /// When a rest that began at `from` starts the count again if it lasts; never if the last restart began too recently.
    pub(super) fn complete_at(&self, from: Millis, last_began: Option<Millis>) -> Millis {
        if last_began.is_some_and(|last| from < last + self.since_last_began) {
            return Millis::NEVER;
        }
        let by_length = from + self.length;
        if self.nights == 0 {
            return by_length;
        }
        let first_night = if from <= Millis::midnight(from.day()) + Millis::HOUR {
            from.day()
        } else {
            from.day() + 1
        };
        let last_night = first_night + i64::from(self.nights) - 1;
        by_length.max(Millis::midnight(last_night) + Millis::HOUR * 5)
    }
}

/// The short-haul exception.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShortHaul {
    /// Straight line from the normal work reporting location, in air (nautical) miles.
    pub radius_air_miles: f64,
    /// Back and released within this of coming on duty.
    #[serde(with = "as_minutes")]
    pub release_within: Millis,
    /// The same for a ready-mixed concrete delivery vehicle.
    #[serde(with = "as_minutes")]
    pub release_within_ready_mix: Millis,
    /// Where it is written.
    pub citation: Cow<'static, str>,
}

/// By how much adverse driving conditions extend the limits.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AdverseExtension {
    /// Added to the driving limit.
    #[serde(with = "as_minutes")]
    pub driving: Millis,
    /// Added to the window.
    #[serde(with = "as_minutes")]
    pub window: Millis,
    /// Where it is written.
    pub citation: Cow<'static, str>,
}

/// A calendar date; the order of dates is the order of time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Date {
    /// Year.
    pub year: i16,
    /// Month, 1 to 12.
    pub month: i8,
    /// Day of the month, from 1.
    pub day: i8,
}

impl Date {
    /// A date.
    pub const fn new(year: i16, month: i8, day: i8) -> Self {
        Self { year, month, day }
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

/// A rule book written out in full. None in a limit: the book has no such limit. Limits bar driving, never other work.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RuleSet {
    /// Its name: `us_property_2020`.
    pub name: Cow<'static, str>,
    /// For whom it is, in words.
    pub about: Cow<'static, str>,
    /// First date in force, if known.
    pub valid_from: Option<Date>,
    /// Last date in force, if it has ended.
    pub valid_to: Option<Date>,
    /// Driving between full rests.
    pub driving: Option<Limit>,
    /// Time gone by since the first duty after a full rest, breaks included.
    pub window: Option<Limit>,
    /// Time on duty between full rests.
    pub on_duty: Option<Limit>,
    /// The driving and on-duty limits hold in each carrier day as well.
    pub limits_hold_per_day: bool,
    /// An unbroken rest this long starts driving, window and on-duty time again.
    #[serde(with = "as_minutes")]
    pub reset_rest: Millis,
    /// The break rule.
    pub break_rule: Option<Break>,
    /// The weekly hours.
    pub cycle: Option<Cycle>,
    /// Weekly hours that a carrier may choose instead, by their [`name`](Cycle::name).
    pub cycles: Vec<Cycle>,
    /// When the carrier's day starts, after midnight; the same for all drivers of a terminal.
    #[serde(with = "as_minutes")]
    pub day_start: Millis,
    /// The shorter restart for construction materials within 75 air miles, if the law knows one.
    #[serde(with = "as_minutes::optional")]
    pub construction_restart: Option<Millis>,
    /// The drivers are under it.
    pub construction_materials: bool,
    /// The short-haul exception; the drivers are taken to be under it unless an [`Allowance`] says otherwise.
    pub short_haul: Option<ShortHaul>,
    /// The trucks are ready-mixed concrete delivery vehicles.
    pub ready_mix_vehicles: bool,
    /// The window of the once-a-week long day.
    #[serde(with = "as_minutes::optional")]
    pub long_day_window: Option<Millis>,
    /// Adverse driving conditions.
    pub adverse: Option<AdverseExtension>,
    /// Off duty that every carrier day must hold, in stretches of at least 30 minutes.
    pub daily_off_duty: Option<Limit>,
    /// What the law asks besides and the book leaves out, in words; empty if nothing is known of.
    pub left_out: Cow<'static, str>,
    /// Riding home as a passenger is duty.
    pub riding_is_duty: bool,
    /// Waiting while someone else watches the truck is duty.
    pub relieved_waiting_is_duty: bool,
}

/// Which clock bars driving.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// Driving time.
    Driving,
    /// The window of elapsed time.
    Window,
    /// Time on duty.
    OnDuty,
    /// The break.
    Break,
    /// The weekly hours.
    Cycle,
}

impl Rule {
    /// All, in the order in which ties are told.
    pub const ALL: [Self; 5] = [
        Self::Driving,
        Self::Window,
        Self::OnDuty,
        Self::Break,
        Self::Cycle,
    ];

    /// A name for machines.
    pub fn key(self) -> &'static str {
        match self {
            Self::Driving => "driving",
            Self::Window => "window",
            Self::OnDuty => "on_duty",
            Self::Break => "break",
            Self::Cycle => "cycle",
        }
    }
}

impl RuleSet {
    /// A rule book without any limit.
    pub const fn unlimited() -> Self {
        Self {
            name: Cow::Borrowed("none"),
            about: Cow::Borrowed("no limit"),
            valid_from: None,
            valid_to: None,
            driving: None,
            window: None,
            on_duty: None,
            limits_hold_per_day: false,
            reset_rest: Millis::ZERO,
            break_rule: None,
            cycle: None,
            cycles: Vec::new(),
            day_start: Millis::ZERO,
            construction_restart: None,
            construction_materials: false,
            short_haul: None,
            ready_mix_vehicles: true,
            long_day_window: None,
            adverse: None,
            daily_off_duty: None,
            left_out: Cow::Borrowed(""),
            riding_is_duty: true,
            relieved_waiting_is_duty: true,
        }
    }

    /// The name and source of a limit, if the book has it.
    pub fn law(&self, rule: Rule) -> Option<&Law> {
        match rule {
            Rule::Driving => self.driving.as_ref().map(|limit| &limit.law),
            Rule::Window => self.window.as_ref().map(|limit| &limit.law),
            Rule::OnDuty => self.on_duty.as_ref().map(|limit| &limit.law),
            Rule::Break => self.break_rule.as_ref().map(|rule| &rule.law),
            Rule::Cycle => self.cycle.as_ref().map(|cycle| &cycle.law),
        }
    }

    /// Whether the book was in force on a date, as far as its dates are known.
    pub fn in_force_on(&self, date: Date) -> bool {
        self.valid_from.is_none_or(|from| date >= from) && self.valid_to.is_none_or(|to| date <= to)
    }

    /// With the weekly hours of that name, such as `70/8`; None if the book offers no such choice.
    #[must_use]
    pub fn with_cycle(mut self, name: &str) -> Option<Self> {
        let cycle = self.cycles.iter().find(|cycle| cycle.name() == name)?;
        self.cycle = Some(cycle.clone());
        Some(self)
    }

    /// Whether a status is duty; what is not duty is rest.
    #[inline]
    pub fn is_duty(&self, status: DutyStatus) -> bool {
        match status {
            DutyStatus::OffDuty | DutyStatus::Sleeper => false,
            DutyStatus::OnDuty | DutyStatus::Driving | DutyStatus::Waiting => true,
            DutyStatus::RelievedWaiting => self.relieved_waiting_is_duty,
            DutyStatus::Riding => self.riding_is_duty,
        }
    }

    /// Whether a status can be part of a break.
    #[inline]
    pub(super) fn is_break(&self, status: DutyStatus) -> bool {
        self.break_rule.as_ref().is_some_and(|rule| match status {
            DutyStatus::Driving => false,
            DutyStatus::Waiting => rule.waiting_counts || rule.work_counts,
            _ => rule.work_counts || !self.is_duty(status),
        })
    }

    /// The carrier day that a moment belongs to.
    #[inline]
    pub fn carrier_day(&self, at: Millis) -> i64 {
        (at - self.day_start).day()
    }

    /// When a carrier day starts.
    #[inline]
    pub fn day_begins(&self, day: i64) -> Millis {
        Millis::midnight(day) + self.day_start
    }

    /// The driving limit under an allowance.
    pub(super) fn driving_limit(&self, allowance: &Allowance) -> Option<Millis> {
        let limit = self.driving.as_ref()?.length;
        Some(match (&self.adverse, allowance.adverse) {
            (Some(extension), Some(_)) => limit + extension.driving,
            _ => limit,
        })
    }

    /// The window under an allowance. A long day and adverse conditions do not add up: no text gives their sum.
    pub(super) fn window_limit(&self, allowance: &Allowance) -> Option<Millis> {
        let mut window = self.window.as_ref()?.length;
        let usual = window;
        if let (Some(extension), Some(_)) = (&self.adverse, allowance.adverse) {
            window = usual + extension.window;
        }
        if let (Some(long), true) = (self.long_day_window, allowance.long_day) {
            window = window.max(long);
        }
        Some(window)
    }

    /// Within what a driver must be released to stay short-haul, if the exception is in use.
    pub(super) fn short_haul_release(&self, allowance: &Allowance) -> Option<Millis> {
        let exception = self.short_haul.as_ref()?;
        let within = if self.ready_mix_vehicles {
            exception.release_within_ready_mix
        } else {
            exception.release_within
        };
        (!allowance.outside_short_haul).then_some(within)
    }

    /// The restart in use, if there are weekly hours.
    pub fn restart(&self) -> Option<Restart> {
        let restart = self.cycle.as_ref()?.restart;
        Some(match self.construction_restart {
            Some(length) if self.construction_materials => Restart {
                length,
                nights: 0,
                since_last_began: Millis::ZERO,
            },
            _ => restart,
        })
    }
}

impl RuleBook {
    /// Written out; `sets` are the rule books that [`RuleBook::Set`] counts.
    pub fn written_out(self, sets: &[RuleSet]) -> RuleSet {
        let mut rules = RuleSet::unlimited();
        if let Self::Set(at) = self {
            return sets[at as usize].clone();
        }
        if let Self::DutyWindow { window, rest } = self {
            rules.name = Cow::Borrowed("duty window");
            rules.about = Cow::Borrowed("the duty window that the scenario gives");
            rules.window = Some(Limit {
                length: window,
                law: Law::new("duty_window", "the scenario's rule book"),
            });
            rules.reset_rest = rest;
        }
        rules
    }
}

/// Spans of time written as minutes.
pub(super) mod as_minutes {
    use crate::units::Millis;
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    pub(crate) fn serialize<S: Serializer>(span: &Millis, to: S) -> Result<S::Ok, S::Error> {
        span.minutes().serialize(to)
    }

    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<Millis, D::Error> {
        let minutes = f64::deserialize(from)?;
        if !(0.0..=1e6).contains(&minutes) {
            return Err(serde::de::Error::custom(
                "expected minutes from 0 to 1,000,000",
            ));
        }
        Ok(Millis::from_minutes(minutes))
    }

    pub(crate) mod optional {
        use super::Millis;
        use serde::{Deserialize, Deserializer, Serialize, Serializer};

        pub(crate) fn serialize<S: Serializer>(
            span: &Option<Millis>,
            to: S,
        ) -> Result<S::Ok, S::Error> {
            span.map(Millis::minutes).serialize(to)
        }

        pub(crate) fn deserialize<'de, D: Deserializer<'de>>(
            from: D,
        ) -> Result<Option<Millis>, D::Error> {
            #[derive(Deserialize)]
            struct Minutes(#[serde(with = "super")] Millis);
            Ok(Option::<Minutes>::deserialize(from)?.map(|minutes| minutes.0))
        }
    }
}
