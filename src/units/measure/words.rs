//! Texts of the program's own that tell US units and figures in them: names of figures, of defaults, their sources.

use super::{Quantity, here, is_si};
use crate::units::measure::Currency;
use std::borrow::Cow;

/// Units as texts write them, longer ones first; the last column says whether it is a unit only behind a number.
const WORDS: [(&str, &str, Quantity, bool); 24] = [
    ("miles an hour", "km/h", Quantity::Speed, false),
    ("air miles", "km", Quantity::AirMiles, false),
    ("lb a cubic foot", "kg a m³", Quantity::Density, false),
    ("yd³ a minute", "m³ a minute", Quantity::Volume, false),
    ("gal a yd³", "L a m³", Quantity::Dose, false),
    ("gal/yd³", "L/m³", Quantity::Dose, false),
    ("lb a yd³", "kg a m³", Quantity::Density, false),
    ("lb/yd³", "kg/m³", Quantity::Density, false),
    ("min a yd³", "min a m³", Quantity::PerVolume, false),
    ("yd³", "m³", Quantity::Volume, false),
    ("ft³", "m³", Quantity::Volume, false),
    ("horsepower", "kW", Quantity::Power, false),
    ("pounds", "kg", Quantity::Weight, false),
    ("pound", "kg", Quantity::Weight, false),
    ("gallon", "liter", Quantity::Water, false),
    ("miles", "km", Quantity::Distance, false),
    ("mile", "km", Quantity::Distance, false),
    ("feet", "m", Quantity::Length, false),
    ("mph", "km/h", Quantity::Speed, false),
    ("psi", "MPa", Quantity::Strength, false),
    ("lb", "kg", Quantity::Weight, false),
    ("°F", "°C", Quantity::Temperature, false),
    ("hp", "kW", Quantity::Power, true),
    ("in", "mm", Quantity::Slump, true),
];

/// Texts that cannot be turned unit by unit.
const WHOLE: [(&str, &str); 7] = [
    (
        "ASTM C94, nominal slumps: ± 1/2 in up to 2, ± 1 up to 4, ± 1 1/2 above",
        "ASTM C94M, nominal slumps: ± 15 mm up to 50, ± 25 up to 100, ± 40 above",
    ),
    (
        "1.5 gal a yd³ for an inch up to 3.5 in, 0.8 up to 7 in, more above",
        "2.9 L a m³ for 10 mm up to 90 mm, 1.6 up to 180 mm, more above",
    ),
    (
        "mixing-water table of ACI 211.1; a gallon for an inch in \"Adjusting slump in the field\", Concrete Construction",
        "mixing-water table of ACI 211.1; 5 L a m³ for 25 mm in \"Adjusting slump in the field\", Concrete Construction",
    ),
    (
        "a gallon a yd³ in half an hour of agitation at 70 °F, faster when mixing and when warm",
        "5 L a m³ in half an hour of agitation at 21 °C, faster when mixing and when warm",
    ),
    (
        "150 lb a cubic foot: handbook value of normal concrete",
        "2,400 kg a m³: handbook value of normal concrete",
    ),
    ("share for each 18 °F", "share for each 10 °C"),
    ("°F for each °F", "°C for each °C"),
];

/// A text of the program's own, in US units and dollars, as it is told here. Not for what users write.
pub fn said(text: &str) -> Cow<'_, str> {
    let dollars = here().currency == Currency::DOLLAR;
    if !is_si() && dollars {
        return Cow::Borrowed(text);
    }
    let text = if dollars {
        text.to_owned()
    } else {
        text.replace('$', "USD ")
    };
    Cow::Owned(if is_si() { in_si(&text) } else { text })
}

fn in_si(text: &str) -> String {
    if let Some((_, si)) = WHOLE.iter().find(|(us, _)| *us == text) {
        return (*si).to_owned();
    }
    let mut told = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(next) = rest.chars().next() {
        let begins = told.chars().last().is_none_or(|c| !c.is_alphanumeric());
        let unit = WORDS.iter().find(|(us, _, _, behind)| {
            let ends = |rest: &str| !rest.starts_with(char::is_alphanumeric);
            let numbered = || {
                told.trim_end_matches([' ', '\u{a0}'])
                    .ends_with(|c: char| c.is_ascii_digit())
            };
            begins && rest.strip_prefix(us).is_some_and(ends) && (!behind || numbered())
        });
        match unit {
            Some((us, si, quantity, _)) => {
                turn_numbers(&mut told, *quantity);
                told += si;
                rest = &rest[us.len()..];
            }
            None => {
                told.push(next);
                rest = &rest[next.len_utf8()..];
            }
        }
    }
    told
}

/// Turns the numbers at the end of a text: one, or several joined by "to", "and", "or".
fn turn_numbers(told: &mut String, quantity: Quantity) {
    const JOINED: [&str; 4] = [" to ", " and ", " or ", "–"];
    let mut kept = told.len();
    let mut pieces: Vec<(String, String)> = Vec::new();
    let mut after = " ".to_owned();
    let Some(trimmed) = told[..kept].strip_suffix(' ') else {
        return;
    };
    kept = trimmed.len();
    loop {
        let head = &told[..kept];
        let digits = head.trim_end_matches(|c: char| c.is_ascii_digit() || ".,/".contains(c));
        let number = &head[digits.len()..];
        let Some(value) = value(number) else { break };
        pieces.push((turned(number, quantity.told(value)), after.clone()));
        kept = digits.len();
        match JOINED.iter().find(|joint| told[..kept].ends_with(**joint)) {
            Some(joint) => {
                let before = &told[..kept - joint.len()];
                if !before.ends_with(|c: char| c.is_ascii_digit()) {
                    break;
                }
                after = (*joint).to_owned();
                kept -= joint.len();
            }
            None => break,
        }
    }
    if pieces.is_empty() {
        return;
    }
    told.truncate(kept);
    for (number, after) in pieces.into_iter().rev() {
        *told += &number;
        *told += &after;
    }
}

fn value(number: &str) -> Option<f64> {
    let digits = number.replace(',', "");
    match digits.split_once('/') {
        Some((above, below)) => Some(above.parse::<f64>().ok()? / below.parse::<f64>().ok()?),
        None => digits.parse().ok(),
    }
}

/// As many digits as the number had that was turned, two at least.
fn turned(number: &str, value: f64) -> String {
    let bare: String = number.chars().filter(char::is_ascii_digit).collect();
    let digits = match number.contains('.') {
        true => bare.trim_start_matches('0').len(),
        false => bare.trim_matches('0').len(),
    };
    let digits = digits.max(2) as i32;
    let size = if value == 0.0 {
        0
    } else {
        libm::floor(libm::log10(value.abs())) as i32
    };
    let decimals = digits - 1 - size;
    let ten = libm::pow(10.0, f64::from(decimals));
    let rounded = libm::round(value * ten) / ten;
    let text = format!("{rounded:.*}", decimals.max(0) as usize);
    let (whole, part) = text
        .split_once('.')
        .map_or((text.as_str(), ""), |(whole, part)| (whole, part));
    let mut grouped = String::new();
    for (at, digit) in whole.chars().enumerate() {
        let left = whole.len() - at;
        if at > 0
            && left % 3 == 0
            && digit.is_ascii_digit()
            && whole.trim_start_matches('-').len() > 3
        {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    match part.trim_end_matches('0') {
        "" => grouped,
        part => format!("{grouped}.{part}"),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Measures, System, speak};
    use super::*;

    #[test]
    fn texts_are_told_in_si() {
        let euro = Currency::of("€").expect("a sign");
        let _si = speak(Measures {
            system: System::Si,
            currency: euro,
        });
        for (us, si) in [
            (
                "9 to 11 yd³ is typical: NRMCA",
                "6.9 to 8.4 m³ is typical: NRMCA",
            ),
            (
                "26,000 to 30,000 lb are usual",
                "12,000 to 14,000 kg are usual",
            ),
            ("cost per yd³", "cost per m³"),
            (
                "10 yd³ at 4,050 lb on 26,000 lb",
                "7.6 m³ at 1,840 kg on 12,000 kg",
            ),
            ("33 lb/yd³ from 50 to 100 °F", "20 kg/m³ from 10 to 38 °C"),
            (
                "usual hauls run at 30 to 34 miles an hour",
                "usual hauls run at 48 to 55 km/h",
            ),
            (
                "entrapped air at 3/4 in stone",
                "entrapped air at 19 mm stone",
            ),
            (
                "with the driven hour below, under the $91 an hour",
                "with the driven hour below, under the USD 91 an hour",
            ),
            ("in place of a mile", "in place of a km"),
            (
                "loads in all, 20% in the bay",
                "loads in all, 20% in the bay",
            ),
            ("concrete of 95 °F", "concrete of 35 °C"),
        ] {
            assert_eq!(said(us), si);
        }
    }

    #[test]
    fn us_texts_stay() {
        assert!(matches!(said("$5 for 10 yd³"), Cow::Borrowed(_)));
    }
}
