//! Who comes next, and how long one would have to watch real days before the difference shows.

use super::sentences::quoted;
use crate::observe::Better;
use crate::report::figure::unit;
use crate::report::number::{Unit, count};
use crate::report::period::{noun, per};
use crate::statistics::{Contrast, Summary, normal_quantile};
use crate::studies::Comparison;

/// A difference of real days is to be seen with this confidence.
const SEEN_AT: f64 = 0.95;

/// The next best of the other rules, and how far behind it is; none where there is no other but the one compared with.
pub(super) fn sentence(found: &Comparison, pick: usize) -> Option<String> {
    let next = found.best_other_than(pick)?;
    if next == found.base || found.barred[next].is_some() {
        return None;
    }
    let values = |rule: usize| -> Vec<f64> { found.rows.values(rule, found.judge).collect() };
    let comparisons = found.rules.len() - 1;
    let said = Contrast::simultaneous(&values(next), &values(pick), found.level, comparisons);
    let (mean, interval) = said.mean()?;
    if !interval.is_bounded() {
        return None;
    }
    let column = found.judged_by();
    let unit = unit(column);
    let decimals = unit.decimals(interval.half_width());
    let show = |value: f64| match unit {
        Unit::Share => format!("{} points", Unit::Plain.show(value * 100.0, decimals)),
        unit => unit.show(value, decimals),
    };
    let worse = if column.better == Better::More {
        mean < 0.0
    } else {
        mean > 0.0
    };
    let ends = [interval.low.abs(), interval.high.abs()];
    let behind = if !interval.excludes_zero() {
        "not told apart from it".to_owned()
    } else {
        format!(
            "{} {} {} ({} to {})",
            show(mean.abs()),
            per(found.days),
            if worse { "behind" } else { "ahead" },
            show(ends[0].min(ends[1])),
            show(ends[0].max(ends[1]))
        )
    };
    Some(format!("Next best: {}, {behind}.", quoted(found, next)))
}

/// How many real days or weeks under each of two rules it takes until their difference shows above the noise, since no two weeks of the
/// real world are the same: n = (z s ÷ d)², s² the sum of both variances, for the whole interval to lie beyond zero half of the time.
/// None where nothing differs.
pub(super) fn real_periods(found: &Comparison, pick: usize) -> Option<String> {
    let (mean, interval) = found.judged(pick).difference?.said.mean()?;
    if pick == found.base || !interval.excludes_zero() {
        return None;
    }
    let variance = |rule: usize| {
        let values = found.rows.values(rule, found.judge);
        Summary::of(values).variance()
    };
    let noise = variance(pick)? + variance(found.base)?;
    let z = normal_quantile(0.5 + SEEN_AT / 2.0);
    let needed = libm::ceil(z * z * noise / (mean * mean)).max(2.0);
    Some(format!(
        "In real {0}s, no two alike, it takes about {1} under each rule until this shows above their noise.",
        noun(found.days),
        count(needed as u64)
    ))
}
