//! The exceptions of a rule book, and what it asks of a day and of a restart.
//!
//! ```text
//! short_haul_air_miles?: 150, short_haul_release_h?: 14, short_haul_mixer_release_h?: 14, ready_mix_vehicles?: true,
//! construction_restart_h?: 24, restart_nights?: 2, restart_apart_h?: 168,
//! adverse_driving_h?: 2, adverse_window_h?: 2, daily_off_h?: 10, per_day?: false
//! ```
//!
//! `None` in `short_haul_air_miles`, `construction_restart_h`, `adverse_driving_h` or `daily_off_h`: no such rule.

use std::borrow::Cow;

use super::super::super::decode::{Fields, Limits, flag, number, whole};
use super::super::super::problem::{Problem, Problems};
use super::{OWN, law};
use crate::hours::{AdverseExtension, Limit, RuleSet, ShortHaul};
use crate::units::Millis;

/// All of them.
pub(super) fn exceptions(fields: &mut Fields<'_>, set: &mut RuleSet, problems: &Problems) {
    set.ready_mix_vehicles = fields.optional("ready_mix_vehicles", flag, set.ready_mix_vehicles);
    set.limits_hold_per_day = fields.optional("per_day", flag, set.limits_hold_per_day);
    short_haul(fields, set, problems);
    adverse(fields, set, problems);
    let length = number(Limits::above("hours", 0.0, 168.0));
    match fields.or_none("construction_restart_h", length, f64::INFINITY) {
        None => set.construction_restart = None,
        Some(hours) if hours.is_finite() => {
            set.construction_restart = Some(Millis::from_hours(hours));
        }
        Some(_) => {}
    }
    let length = number(Limits::above("hours", 0.0, 24.0));
    match fields.or_none("daily_off_h", length, f64::INFINITY) {
        None => set.daily_off_duty = None,
        Some(hours) if hours.is_finite() => {
            let length = Millis::from_hours(hours);
            let before = set.daily_off_duty.take();
            let same = before.filter(|limit| limit.length == length);
            let law = same.map_or_else(|| law("daily_off"), |limit| limit.law);
            set.daily_off_duty = Some(Limit { length, law });
        }
        Some(_) => {}
    }
}

/// That a field stands alone which only another one gives a meaning.
fn alone(
    fields: &mut Fields<'_>,
    name: &'static str,
    needs: &str,
    removed: bool,
    problems: &Problems,
) {
    if fields.node(name).is_some()
        && !removed
        && let Some(span) = fields.place(name)
    {
        problems.add::<()>(
            Problem::new(span, format!("`{name}` without `{needs}`"))
                .label(format!("expected `{needs}` as well")),
        );
    }
}

fn short_haul(fields: &mut Fields<'_>, set: &mut RuleSet, problems: &Problems) {
    let releases = ["short_haul_release_h", "short_haul_mixer_release_h"];
    let miles = number(Limits::above("air miles", 0.0, 1000.0));
    let miles = fields.or_none("short_haul_air_miles", miles, f64::INFINITY);
    let before = set.short_haul.take();
    let mut exception = match (miles, &before) {
        (Some(miles), Some(before)) => ShortHaul {
            radius_air_miles: if miles.is_finite() {
                miles
            } else {
                before.radius_air_miles
            },
            ..before.clone()
        },
        (Some(miles), None) if miles.is_finite() => ShortHaul {
            radius_air_miles: miles,
            release_within: Millis::HOUR * 14,
            release_within_ready_mix: Millis::HOUR * 14,
            citation: Cow::Borrowed(OWN),
        },
        _ => {
            for name in releases {
                alone(
                    fields,
                    name,
                    "short_haul_air_miles",
                    miles.is_none(),
                    problems,
                );
            }
            return;
        }
    };
    let [usual, mixer] = releases.map(|name| {
        let within = number(Limits::above("hours", 0.0, 24.0));
        fields.maybe(name, within).map(Millis::from_hours)
    });
    exception.release_within = usual.unwrap_or(exception.release_within);
    exception.release_within_ready_mix = mixer.unwrap_or(exception.release_within_ready_mix);
    // What is written out unchanged keeps its source.
    if before.as_ref() != Some(&exception) {
        exception.citation = Cow::Borrowed(OWN);
    }
    set.short_haul = Some(exception);
}

fn adverse(fields: &mut Fields<'_>, set: &mut RuleSet, problems: &Problems) {
    let more = |name| number(Limits::between(name, 0.0, 24.0));
    let driving = fields.or_none("adverse_driving_h", more("hours"), f64::INFINITY);
    let before = set.adverse.take();
    let (driving, mut extension) = match (driving, before.clone()) {
        (Some(driving), Some(before)) => (driving, before),
        (Some(driving), None) if driving.is_finite() => {
            let citation = Cow::Borrowed(OWN);
            let (driving_more, window) = (Millis::ZERO, Millis::ZERO);
            let extension = AdverseExtension {
                driving: driving_more,
                window,
                citation,
            };
            (driving, extension)
        }
        _ => {
            let removed = driving.is_none();
            alone(
                fields,
                "adverse_window_h",
                "adverse_driving_h",
                removed,
                problems,
            );
            return;
        }
    };
    if driving.is_finite() {
        extension.driving = Millis::from_hours(driving);
    }
    if let Some(window) = fields.maybe("adverse_window_h", more("hours")) {
        extension.window = Millis::from_hours(window);
    }
    if before.as_ref() != Some(&extension) {
        extension.citation = Cow::Borrowed(OWN);
    }
    set.adverse = Some(extension);
}

/// `restart_h?: 34, restart_nights?: 2, restart_apart_h?: 168`, for the weekly hours and all that may be chosen instead.
pub(super) fn restart(fields: &mut Fields<'_>, set: &mut RuleSet, problems: &Problems) {
    let names = ["restart_h", "restart_nights", "restart_apart_h"];
    let Some(cycle) = &mut set.cycle else {
        let removed = fields.place("cycle").is_some();
        for name in names {
            alone(fields, name, "cycle", removed, problems);
        }
        return;
    };
    let before = cycle.restart;
    let length = number(Limits::above("hours", 0.0, 168.0));
    if let Some(hours) = fields.maybe(names[0], length) {
        cycle.restart.length = Millis::from_hours(hours);
    }
    if let Some(nights) = fields.maybe(names[1], whole(Limits::between("nights", 0.0, 7.0))) {
        cycle.restart.nights = u8::try_from(nights).expect("at most 7");
    }
    let apart = number(Limits::between("hours", 0.0, 336.0));
    if let Some(hours) = fields.maybe(names[2], apart) {
        cycle.restart.since_last_began = Millis::from_hours(hours);
    }
    let restart = cycle.restart;
    if restart != before {
        for offered in &mut set.cycles {
            offered.restart = restart;
        }
    }
}
