//! Numbers on the command line, each refused in words that say what may stand there.

use super::input::Error;
use crate::report::number::count;
use crate::studies::Block;
use std::num::NonZeroUsize;
use std::ops::RangeInclusive;

/// More threads than any machine has; each takes memory.
const MOST_THREADS: usize = 1_024;

/// A whole number from such to such.
pub(super) fn whole<T: TryFrom<u64>>(
    range: RangeInclusive<u64>,
) -> impl Fn(&str) -> Result<T, String> + Clone {
    move |text| {
        let number = text.trim().parse::<u64>().ok();
        let number = number.filter(|number| range.contains(number));
        let number = number.and_then(|number| T::try_from(number).ok());
        number.ok_or_else(|| {
            let (least, most) = (count(*range.start()), count(*range.end()));
            format!("expected a whole number from {least} to {most}, in digits")
        })
    }
}

/// A number, whose range is looked at with the others.
pub(super) fn real(text: &str) -> Result<f64, String> {
    let number = text.trim().parse::<f64>().ok();
    let number = number.filter(|number| number.is_finite());
    number.ok_or_else(|| "expected a number in digits, such as 0.15 or 12".into())
}

/// A random seed.
pub(super) fn seed(text: &str) -> Result<u64, String> {
    whole(0..=u64::MAX)(text)
}

/// A number of threads.
pub(super) fn threads(text: &str) -> Result<NonZeroUsize, String> {
    let number: usize = whole(1..=MOST_THREADS as u64)(text)?;
    Ok(NonZeroUsize::new(number).expect("it is 1 at least"))
}

/// The number of a replication.
pub(super) fn replication(text: &str) -> Result<u64, String> {
    whole(0..=Block::END - 1)(text)
}

/// A chance that is borne, like 0.001: from one in a million to a half.
pub(super) fn seldom(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(share) if (1e-6..=0.5).contains(&share) => Ok(share),
        _ => Err("expected a chance from 0.000001 to 0.5, such as 0.001".into()),
    }
}

/// A confidence: above one half (less would be a guess), below one.
pub(super) fn confidence(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(value) if (0.5..=0.999).contains(&value) => Ok(value),
        _ => Err("expected a confidence from 0.5 to 0.999, such as 0.95".into()),
    }
}

/// A finite number above zero.
pub(super) fn above_zero(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(value) if value > 0.0 && value.is_finite() => Ok(value),
        _ => Err("expected a number above zero".into()),
    }
}

/// A finite number within a longer argument.
pub(super) fn number(whole: &str, text: &str) -> Result<f64, Error> {
    match text.trim().parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(value),
        _ => Err(Error::Argument(format!(
            "\"{}\" in \"{whole}\" is no number",
            text.trim()
        ))),
    }
}
