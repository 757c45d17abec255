//! Rule books: built in, written in the scenario, or one duty window, which is a book with a window alone.
//!
//! ```text
//! rule_books: [(name: "…", like: "us_property_2020", about?: "…",
//!     driving_h?: 11, window_h?: 14, on_duty_h?: None, rest_h?: 10,                        // None: no such limit
//!     break_after_h?: 8, break_min?: 30, break_by?: Driving | Elapsed, work_is_break?: true, waiting_is_break?: true,
//!     waiting_is_break_from?: None,                                                        // "2015-04-02": from then on
//!     cycle?: "70/8", restart_h?: 34, day_start?: "00:00", long_day_h?: 16, …              // see `exceptions`
//!     construction_materials?: false, riding_is_duty?: true, relieved_waiting_is_duty?: true,
//!     valid_from?: "2020-09-29", valid_to?: None)]                                         // left out: not known
//! ```
//!
//! What is left out is as in the book that it is like (`"none"`: no limit at all).

mod books;
mod exceptions;

use std::borrow::Cow;

use super::super::decode::{
    Fields, Limits, Names, date, flag, name, number, one_of, prose, spanned, time_of_day,
    wrong_kind,
};
use super::super::problem::{Problem, Problems, listed, nearest};
use super::super::tree::{Kind, Node};
pub(super) use books::Books;

use crate::hours::{
    Break, BreakTrigger, Cycle, Date, Law, Limit, NAMES, Restart, RuleSet, built_in,
};
use crate::units::Millis;

fn unknown<T>(text: &str, node: &Node, names: Vec<&str>, problems: &Problems) -> Option<T> {
    let near = nearest(text, names.iter().copied()).map(str::to_owned);
    let expected = format!(
        "expected DutyWindow(hours: 14) or one of {}",
        listed(names.iter().map(|name| format!("{name:?}")))
    );
    let problem = Problem::new(node.span.clone(), format!("unknown rule book {text:?}"));
    let problem = problem.label(expected);
    problems.add(match near {
        Some(near) => problem.replace(
            node.span.clone(),
            format!("{near:?}"),
            format!("a similar one exists: {near:?}"),
        ),
        None => problem,
    })
}

/// Where a limit comes from that is not the built-in book's.
const OWN: &str = "a rule book of one's own";

fn law(rule: &'static str) -> Law {
    Law {
        rule: Cow::Borrowed(rule),
        citation: Cow::Borrowed(OWN),
    }
}

/// A limit that is changed, removed by `None`, or stays.
fn changed(
    fields: &mut Fields<'_>,
    name: &'static str,
    rule: &'static str,
    limit: &mut Option<Limit>,
) {
    match fields.or_none(
        name,
        number(Limits::above("hours", 0.0, 240.0)),
        f64::INFINITY,
    ) {
        None => *limit = None,
        Some(hours) if hours.is_finite() => {
            let length = Millis::from_hours(hours);
            // What is written out unchanged keeps its source.
            if limit.as_ref().is_none_or(|limit| limit.length != length) {
                let law = law(rule);
                *limit = Some(Limit { length, law });
            }
        }
        Some(_) => {}
    }
}

/// A date, not known where it is `None` or left out.
fn day_of(fields: &mut Fields<'_>, name: &'static str) -> Option<Date> {
    fields.or_none(name, |node, problems| date(node, problems).map(Some), None)?
}

/// One rule book.
pub(super) fn written(node: &Node, names: &mut Names, problems: &Problems) -> Option<RuleSet> {
    let mut fields = Fields::of(node, "rule book", problems)?;
    let name = fields.required("name", spanned(name));
    if let Some(name) = &name {
        let taken = name.value == "none" || NAMES.contains(&name.value.as_str());
        if taken {
            problems.add::<()>(
                Problem::new(
                    name.span.clone(),
                    format!("{:?} is a rule book of the program", name.value),
                )
                .label("expected a name of its own"),
            );
        } else {
            names.define(name, problems);
        }
    }
    let like = fields.required("like", |node, problems| match &node.kind {
        Kind::Text(text) | Kind::Cell { text, .. } if text == "none" => Some(RuleSet::unlimited()),
        Kind::Text(text) | Kind::Cell { text, .. } => built_in(text).or_else(|| {
            let names = ["none"].into_iter().chain(NAMES).collect();
            unknown(text, node, names, problems)
        }),
        _ => wrong_kind(node, "the name of a built-in rule book", problems),
    });
    fields.left_out_as(Some("as in `like`"));
    let complete = like.is_some();
    // Where it is not known, one with every limit stands in, so that nothing seems to be missing.
    let stand_in = || built_in("us_short_haul_2020").expect("a built-in name");
    let mut set = like.unwrap_or_else(stand_in);
    // A book of one's own is in force as long as it does not say otherwise.
    let span = fields.place("valid_to");
    (set.valid_from, set.valid_to) = (
        day_of(&mut fields, "valid_from"),
        day_of(&mut fields, "valid_to"),
    );
    if set.valid_from > set.valid_to
        && set.valid_to.is_some()
        && let Some(span) = span
    {
        problems.add::<()>(
            Problem::new(span, "the book ends before it begins")
                .label("expected a date not before `valid_from`"),
        );
    }
    set.about = Cow::Owned(fields.optional("about", prose, set.about.clone().into_owned()));
    changed(&mut fields, "driving_h", "driving", &mut set.driving);
    changed(&mut fields, "window_h", "window", &mut set.window);
    changed(&mut fields, "on_duty_h", "on_duty", &mut set.on_duty);
    let rest = number(Limits::above("hours", 0.0, 48.0));
    if let Some(rest) = fields.maybe("rest_h", rest) {
        set.reset_rest = Millis::from_hours(rest);
    }
    break_rule(&mut fields, &mut set);
    week(&mut fields, &mut set, problems);
    if let Some(start) = fields.maybe("day_start", time_of_day) {
        set.day_start = start;
    }
    let long = number(Limits::above("hours", 0.0, 24.0));
    set.long_day_window = match fields.or_none("long_day_h", long, f64::INFINITY) {
        Some(hours) if hours.is_finite() => Some(Millis::from_hours(hours)),
        Some(_) => set.long_day_window,
        None => None,
    };
    exceptions::exceptions(&mut fields, &mut set, problems);
    let construction = set.construction_materials;
    set.construction_materials = fields.optional("construction_materials", flag, construction);
    set.riding_is_duty = fields.optional("riding_is_duty", flag, set.riding_is_duty);
    set.relieved_waiting_is_duty = fields.optional(
        "relieved_waiting_is_duty",
        flag,
        set.relieved_waiting_is_duty,
    );
    let limits = set.driving.is_some() || set.window.is_some() || set.on_duty.is_some();
    if limits && set.reset_rest == Millis::ZERO {
        let span = fields.place("like").unwrap_or(fields.opening());
        problems.add::<()>(
            Problem::new(span, "the book has limits and no rest that resets them")
                .label("expected `rest_h` as well"),
        );
    }
    fields.finish();
    set.name = Cow::Owned(name?.value);
    complete.then_some(set)
}

const TRIGGERS: [(&str, BreakTrigger); 2] = [
    ("Driving", BreakTrigger::DrivingTime),
    ("Elapsed", BreakTrigger::ElapsedTime),
];

fn break_rule(fields: &mut Fields<'_>, set: &mut RuleSet) {
    let after = number(Limits::above("hours", 0.0, 24.0));
    let Some(after) = fields.or_none("break_after_h", after, f64::INFINITY) else {
        set.break_rule = None;
        for name in [
            "break_min",
            "break_by",
            "work_is_break",
            "waiting_is_break",
            "waiting_is_break_from",
        ] {
            fields.node(name);
        }
        return;
    };
    let mut rule = set.break_rule.clone().unwrap_or(Break {
        trigger: BreakTrigger::DrivingTime,
        after: Millis::NEVER,
        length: Millis::MINUTE * 30,
        work_counts: false,
        waiting_counts: false,
        waiting_counts_from: None,
        law: law("break"),
    });
    if after.is_finite() {
        let after = Millis::from_hours(after);
        if rule.after != after {
            rule.law = law("break");
        }
        rule.after = after;
    }
    let length = number(Limits::above("minutes", 0.0, 240.0));
    if let Some(minutes) = fields.maybe("break_min", length) {
        rule.length = Millis::from_minutes(minutes);
    }
    rule.trigger = fields.optional("break_by", one_of("kind of time", &TRIGGERS), rule.trigger);
    rule.work_counts = fields.optional("work_is_break", flag, rule.work_counts);
    rule.waiting_counts = fields.optional("waiting_is_break", flag, rule.waiting_counts);
    fields.by_hand("waiting_is_break_from", date);
    if fields.place("waiting_is_break_from").is_some() {
        rule.waiting_counts_from = day_of(fields, "waiting_is_break_from");
    }
    set.break_rule = (rule.after < Millis::NEVER).then_some(rule);
}

/// `cycle?: "70/8"`, `restart_h?: 34`
fn week(fields: &mut Fields<'_>, set: &mut RuleSet, problems: &Problems) {
    let mut removed = false;
    fields.by_hand("cycle", hours_in_days);
    let cycle = match fields.node("cycle") {
        None => None,
        Some(Node {
            kind: Kind::Nothing,
            ..
        }) => {
            removed = true;
            None
        }
        Some(node) => hours_in_days(node, problems),
    };
    if removed {
        set.cycle = None;
    }
    let same = |book: &&Cycle| cycle == Some((book.limit.0 / Millis::HOUR.0, book.days));
    let offered = set.cycle.iter().chain(&set.cycles).find(same);
    if let Some(offered) = offered.cloned() {
        set.cycle = Some(offered);
    } else if let Some((hours, days)) = cycle {
        let restart = set.cycle.as_ref().map(|cycle| cycle.restart);
        set.cycle = Some(Cycle {
            days,
            limit: Millis::HOUR * hours,
            law: law("cycle"),
            restart: restart.unwrap_or(Restart {
                length: Millis::HOUR * 34,
                nights: 0,
                since_last_began: Millis::ZERO,
            }),
        });
    }
    exceptions::restart(fields, set, problems);
}

fn hours_in_days(node: &Node, problems: &Problems) -> Option<(i64, u8)> {
    let (Kind::Text(text) | Kind::Cell { text, .. }) = &node.kind else {
        return wrong_kind(node, "weekly hours such as \"70/8\"", problems);
    };
    let parts = text.split_once('/').and_then(|(hours, days)| {
        let (hours, days) = (hours.parse::<u16>().ok()?, days.parse::<u8>().ok()?);
        ((1..=336).contains(&hours) && (1..=14).contains(&days)).then_some((hours.into(), days))
    });
    parts.or_else(|| {
        problems.add(
            Problem::new(node.span.clone(), format!("no weekly hours: {text:?}"))
                .label("expected hours on duty in so many days, 1 to 14, such as \"70/8\""),
        )
    })
}
