//! What is said of a figure or a difference, in words, cells and keys: one function each, for every table and file.

use super::answer::{Cell, Form};
use super::figure;
use super::number::{Unit, count, range};
use super::period;
use crate::observe::Column;
use crate::statistics::{Contrast, Interval, Statement};
use serde_json::{Value, json};

/// What a chance in a table of averages is.
pub(super) const FEW: &str = "\"in 3%\": so many have any at all, on the page with the exact interval; too few for an average.";

/// A share of periods, to the digits that its interval warrants.
fn share(value: f64, interval: Interval) -> String {
    Unit::Share.show(value, Unit::Share.decimals(interval.half_width()))
}

/// The mean for files: also that of what never was, which is no more than that.
pub(super) fn plain(said: Statement) -> Option<f64> {
    match said {
        Statement::Chance { times: 0, .. } => Some(0.0),
        said => said.mean().map(|(mean, _)| mean),
    }
}

/// The name in files of what is said.
pub(super) fn kind(said: Statement) -> Option<&'static str> {
    match said {
        Statement::NotLookedAt => Some("not looked at"),
        Statement::Blank => None,
        Statement::Mean { .. } => Some("mean"),
        Statement::Chance { .. } => Some("chance"),
    }
}

/// The name in files of what is said of a difference.
pub(super) fn kind_of_difference(said: Contrast) -> Option<&'static str> {
    match said {
        Contrast::NotLookedAt => Some("not looked at"),
        Contrast::Blank => None,
        Contrast::Mean { .. } => Some("mean"),
        Contrast::Chance { any: true, .. } => Some("chance of any"),
        Contrast::Chance { any: false, .. } => Some("chance of more"),
    }
}

/// What stands in a table of what people read; `mean` makes the cell of a mean. A chance has its interval, and so has what never was
/// where `bound`.
pub(super) fn cell(
    said: Statement,
    days: u32,
    bound: bool,
    mean: impl FnOnce(f64, Interval) -> Cell,
) -> Cell {
    match said {
        Statement::NotLookedAt => Cell::worded("not looked at", None),
        Statement::Blank => Cell::unknown(),
        Statement::Mean { mean: m, interval } => mean(m, interval),
        Statement::Chance {
            times: 0, interval, ..
        } if bound => Cell::worded(
            format!(
                "none (in at most {} of all {}s)",
                Unit::Share.show(interval.high, 2),
                period::noun(days)
            ),
            Some(0.0),
        ),
        Statement::Chance { times: 0, .. } => Cell::none(),
        Statement::Chance {
            times,
            of,
            interval,
        } => {
            let seen = share(times as f64 / of as f64, interval);
            let ends = range(interval, |end| share(end, interval));
            Cell::Seldom {
                words: format!("in {seen}"),
                ends,
            }
        }
    }
}

/// A mean in its own digits, with its interval.
pub(super) fn estimate(mean: f64, interval: Interval, form: Form) -> Cell {
    Cell::Estimate {
        value: Some(mean),
        interval,
        at_least: None,
        form,
    }
}

/// A difference with its interval: of the mean, or of the chance, in percentage points.
pub(super) fn difference(said: Contrast, form: Form) -> Cell {
    match said {
        Contrast::NotLookedAt => Cell::worded("not looked at", None),
        Contrast::Blank => Cell::unknown(),
        Contrast::Mean { mean, interval } => estimate(mean, interval, form),
        Contrast::Chance { .. } => Cell::worded(
            format!("{} ({})", difference_seen(said), difference_ends(said)),
            None,
        ),
    }
}

/// The difference of two chances as it was seen: `−0.7 pts`; `none seen`.
pub(super) fn difference_seen(said: Contrast) -> String {
    match said {
        Contrast::Chance {
            more,
            less,
            of,
            interval,
            ..
        } if more + less > 0 => {
            let seen = (more as f64 - less as f64) / of as f64;
            Unit::Share.show_difference(seen, Unit::Share.decimals(interval.half_width()))
        }
        _ => "none seen".to_owned(),
    }
}

/// How far the difference of two chances reaches: `−1.5 to +0.2 pts`; `at most 0.4 pts`.
pub(super) fn difference_ends(said: Contrast) -> String {
    let Contrast::Chance { interval, .. } = said else {
        return String::new();
    };
    let decimals = Unit::Share.decimals(interval.half_width());
    let show = |end: f64| Unit::Share.show_difference(end, decimals);
    if said.never() {
        let most = show(interval.high);
        return format!("at most {}", most.trim_start_matches('+'));
    }
    range(interval, show)
}

/// A difference of chances in words, to follow the rule's name: `has drivers stranded in 2 days in which today's "Nearest" has none, and
/// none in 9 in which that has some, of 100`. None if a mean is said.
pub(super) fn difference_words(
    said: Contrast,
    column: &Column,
    base: &str,
    days: u32,
) -> Option<String> {
    let Contrast::Chance {
        more,
        less,
        of,
        any,
        ..
    } = said
    else {
        return None;
    };
    let (label, noun, of) = (&column.label, period::noun(days), count(of));
    let so_many = |n: u64| match n {
        1 => format!("1 {noun}"),
        n => format!("{} {noun}s", count(n)),
    };
    Some(match (any, more, less) {
        (_, 0, 0) => {
            format!("was not seen to differ from {base} on {label} in any of {of} {noun}s")
        }
        (true, more, 0) => {
            format!(
                "has {label} in {} of {of} in which {base} has none",
                so_many(more)
            )
        }
        (true, 0, less) => {
            format!(
                "has no {label} in {} of {of} in which {base} has some",
                so_many(less)
            )
        }
        (true, more, less) => format!(
            "has {label} in {} of {of} in which {base} has none, and none in {} in which that has some",
            so_many(more),
            so_many(less)
        ),
        (false, more, less) => format!(
            "has more {label} than {base} in {} of {of} and less in {}, the same in all others",
            so_many(more),
            so_many(less)
        ),
    })
}

/// Keys of a statement in the JSON: what is said, and its numbers.
///
/// ```text
/// {"said": "mean" | "chance" | "not looked at" | null, "mean", "low", "high", "any": {"times", "of", "low", "high"} | null,
///  "at_most_if_never"}
/// ```
pub(super) fn json(said: Statement) -> Value {
    let mean = said.mean();
    let ends = mean.map(|(_, i)| i).filter(|i| i.is_bounded());
    let any = match said {
        Statement::Chance {
            times,
            of,
            interval,
        } => json!({ "times": times, "of": of, "low": interval.low, "high": interval.high }),
        _ => Value::Null,
    };
    json!({
        "said": kind(said),
        "mean": plain(said),
        "low": ends.map(|i| i.low),
        "high": ends.map(|i| i.high),
        "any": any,
        "at_most_if_never": said.at_most_if_never(),
    })
}

/// Keys of a difference in the JSON:
///
/// ```text
/// {"said": "mean" | "chance of any" | "chance of more" | "not looked at" | null, "mean", "low", "high",
///  "chance": {"more", "less", "of", "low", "high"} | null}
/// ```
pub(super) fn difference_json(said: Contrast) -> Value {
    let mean = said.mean();
    let ends = mean.map(|(_, i)| i).filter(|i| i.is_bounded());
    let chance = match said {
        Contrast::Chance {
            more,
            less,
            of,
            interval,
            ..
        } => {
            json!({ "more": more, "less": less, "of": of, "low": interval.low, "high": interval.high })
        }
        _ => Value::Null,
    };
    json!({
        "said": kind_of_difference(said),
        "mean": mean.map(|(mean, _)| mean),
        "low": ends.map(|i| i.low),
        "high": ends.map(|i| i.high),
        "chance": chance,
    })
}

/// How a mean of a figure is written, without its interval.
pub(super) fn plain_mean(column: &Column) -> impl FnOnce(f64, Interval) -> Cell {
    let form = figure::form(column);
    move |value, _| Cell::Number { value, form }
}
