//! Moments and lengths of an answer about drivers' hours.

use crate::scenario::local_time::offset_text;
use crate::studies::HoursReview;
use crate::units::Millis;

pub(super) fn whole_minutes(span: Millis) -> i64 {
    span.0.div_euclid(Millis::MINUTE.0)
}

/// `9 h 05 min`
pub(super) fn hours_minutes(span: Millis) -> String {
    let minutes = whole_minutes(span);
    format!("{} h {:02} min", minutes / 60, minutes % 60)
}

/// `2026-03-02`, a day counted from the first date.
pub(super) fn date(review: &HoursReview, day: i64) -> String {
    review.time.date(day).to_string()
}

/// `Mon 2026-03-02 05:30`; with the offset where the clock shows it twice.
pub(super) fn shown(review: &HoursReview, at: Millis) -> String {
    written(review, at, "%a %Y-%m-%d %H:%M")
}

/// The time alone if it is of the same day as `now`, else with its date.
pub(super) fn near(review: &HoursReview, now: Millis, at: Millis) -> String {
    if review.time.civil(at).date() == review.time.civil(now).date() {
        written(review, at, "%H:%M")
    } else {
        shown(review, at)
    }
}

fn written(review: &HoursReview, at: Millis, format: &str) -> String {
    let mut text = review.time.civil(at).strftime(format).to_string();
    if review.time.is_shown_twice(at) {
        text.extend(review.time.offset(at).map(offset_text));
    }
    text
}

/// `2026-03-02T05:30`, in a zone with the offset from UTC.
pub(super) fn iso(review: &HoursReview, at: Millis) -> String {
    let with_seconds = at.0 % Millis::MINUTE.0 != 0;
    let format = if with_seconds {
        "%Y-%m-%dT%H:%M:%S"
    } else {
        "%Y-%m-%dT%H:%M"
    };
    let mut text = review.time.civil(at).strftime(format).to_string();
    text.extend(review.time.offset(at).map(offset_text));
    text
}
