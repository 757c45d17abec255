//! A rule book written out in full: every limit is a value that can be read, changed and used.

mod applied;
pub(super) mod as_minutes;
mod clock;
mod date;
mod exceptions;
mod limits;
mod weekly;

pub use clock::Clock;
pub use date::Date;
pub use exceptions::{AdverseExtension, ShortHaul};
pub use limits::{Break, BreakTrigger, Law, Limit};
pub use weekly::{Cycle, Restart};

use std::borrow::Cow;

use serde::{Deserialize, Serialize};

use crate::units::Millis;

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
    /// The short-haul exception; the drivers are taken to be under it unless an [`Allowance`](super::Allowance) says otherwise.
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

    /// A book with one limit: no driving later than `window` after coming on duty, until `rest` has been taken off duty.
    pub fn lone_window(window: Millis, rest: Millis) -> Self {
        let federal = (window, rest) == (Millis::HOUR * 14, Millis::HOUR * 10);
        let citation = if federal {
            "49 CFR 395.3(a)(1) and (2)"
        } else {
            "the scenario's own limit"
        };
        Self {
            name: Cow::Owned(format!("{}-hour window", window.hours())),
            about: Cow::Borrowed("the duty window that the scenario gives, and no other limit"),
            window: Some(Limit {
                length: window,
                law: Law::new("duty_window", citation),
            }),
            reset_rest: rest,
            ..Self::unlimited()
        }
    }

    /// The name and source of a limit, if the book has it.
    pub fn law(&self, clock: Clock) -> Option<&Law> {
        match clock {
            Clock::Driving => self.driving.as_ref().map(|limit| &limit.law),
            Clock::Window => self.window.as_ref().map(|limit| &limit.law),
            Clock::OnDuty => self.on_duty.as_ref().map(|limit| &limit.law),
            Clock::Break => self.break_rule.as_ref().map(|rule| &rule.law),
            Clock::Cycle => self.cycle.as_ref().map(|cycle| &cycle.law),
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
}
