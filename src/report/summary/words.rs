//! Numbers, times and weekdays as they stand in sentences.

use crate::engine::Spread;
use crate::report::number::{count, money, number};
use crate::units::measure::{self, Quantity};
use crate::units::{Millis, Rate, Weekday};

/// `10`, `9.5`, `0.45`: as many decimals as there are, at most two.
pub(in crate::report) fn plain(value: f64) -> String {
    let text = number(value, 2);
    match text.split_once('.') {
        Some((whole, "00")) => whole.to_owned(),
        Some(_) => text.trim_end_matches('0').to_owned(),
        None => text,
    }
}

/// A quantity of the program in the unit that is spoken: `9.5 yd³`, `7.26 m³`.
pub(in crate::report) fn much(quantity: Quantity, us: f64) -> String {
    format!("{} {}", many(quantity, us), quantity.unit())
}

/// The same without its unit.
pub(in crate::report) fn many(quantity: Quantity, us: f64) -> String {
    let decimals = match quantity {
        Quantity::Weight | Quantity::Density | Quantity::Slump => 0,
        Quantity::Strength | Quantity::Temperature | Quantity::Warmth => 1,
        _ => 2,
    };
    plain(measure::rounded(quantity, us, decimals))
}

/// A rate of money in the unit that is spoken: `$105 a yd³`.
pub(in crate::report) fn money_for(quantity: Quantity, rate: Rate) -> String {
    let units = measure::rounded(quantity, rate.units(), 2);
    format!("{} {}", money(units), quantity.unit())
}

/// `12.4 min`.
pub(super) fn minutes(span: Millis) -> String {
    format!("{} min", plain_1(span.minutes()))
}

/// At most one decimal.
pub(super) fn plain_1(value: f64) -> String {
    let text = number(value, 1);
    text.strip_suffix(".0").map(str::to_owned).unwrap_or(text)
}

/// `14 h`.
pub(super) fn hours(span: Millis) -> String {
    format!("{} h", plain(span.hours()))
}

/// `95%`.
pub(in crate::report) fn share(share: f64) -> String {
    format!("{}%", plain_1(share * 100.0))
}

/// `1 bay`, `3 bays`.
pub(in crate::report) fn counted(number: usize, one: &str, many: &str) -> String {
    let what = if number == 1 { one } else { many };
    format!("{} {what}", count(number as u64))
}

/// A time of day; midnight at the end of a day is 24:00.
pub(super) fn clock(time: Millis) -> String {
    if time == Millis::DAY {
        "24:00".into()
    } else {
        time.to_string()
    }
}

/// A moment of the period: the time of day, with the weekday if there are several days.
pub(in crate::report) fn moment(time: Millis, first_day: Weekday, days: u32) -> String {
    let time_of_day = time - Millis::midnight(time.day());
    if days == 1 {
        time.to_string()
    } else {
        format!("{time_of_day} on {}", day(time.day(), first_day))
    }
}

/// `Monday`, in the first week; later `Monday, day 8`.
pub(in crate::report) fn day(day: i64, first_day: Weekday) -> String {
    let weekday = first_day.after(day);
    if (0..7).contains(&day) {
        format!("{weekday:?}")
    } else {
        format!("{weekday:?}, day {}", day + 1)
    }
}

/// `every day`, `Monday to Friday`, `Monday, Wednesday`.
pub(super) fn weekdays(days: &[Weekday]) -> String {
    let mut days = days.to_vec();
    days.sort_unstable();
    match days[..] {
        _ if days.len() == Weekday::ALL.len() => "every day".into(),
        [first, .., last] if days.len() > 2 && last as usize - first as usize + 1 == days.len() => {
            format!("{first:?} to {last:?}")
        }
        _ => {
            let names: Vec<String> = days.iter().map(|day| format!("{day:?}")).collect();
            names.join(", ")
        }
    }
}

/// `N1 to N15`, or the only name.
pub(super) fn range(first: &str, last: &str) -> String {
    if first == last {
        first.to_owned()
    } else {
        format!("{first} to {last}")
    }
}

/// Standard deviation over mean, in per cent; none for a constant.
pub(super) fn variation(spread: &Spread) -> Option<String> {
    let cv = spread.cv();
    (cv > 0.0).then(|| share(cv))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_and_days() {
        assert_eq!(
            [10.0, 9.5, 0.45, 1200.0].map(plain),
            ["10", "9.5", "0.45", "1,200"]
        );
        assert_eq!(weekdays(&Weekday::ALL), "every day");
        assert_eq!(weekdays(&Weekday::ALL[..5]), "Monday to Friday");
        assert_eq!(
            weekdays(&[Weekday::Friday, Weekday::Monday]),
            "Monday, Friday"
        );
        assert_eq!(clock(Millis::DAY), "24:00");
        assert_eq!(day(7, Weekday::Monday), "Monday, day 8");
    }
}
