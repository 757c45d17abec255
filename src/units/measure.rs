//! What people of a scenario measure in: US units or SI, and their currency.
//!
//! Inside the program everything is in US units (yd³, lb, miles, °F …). Figures change where people write or read them: in
//! the readers of fields and numbers on the way in, and on the way out where a number gets its unit. The measures are those of the
//! thread ([`here`]), as a language would be: whatever makes or writes an answer begins with [`speak`]. In US units nothing is
//! multiplied, so that no figure changes its last digit.
//!
//! Factors: NIST SP 811 (2008), appendix B, exact ones where it has them: 1 yd = 0.9144 m, 1 lb = 0.45359237 kg, 1 mi = 1.609344 km,
//! 1 in = 25.4 mm, 1 US gal = 3.785411784 L (231 in³), 1 psi = 6.894757 kPa, 1 hp (550 ft·lbf/s) = 745.6999 W.

mod keys;
mod words;

use std::cell::Cell;

pub use keys::{in_si, key, us_key};
pub use words::said;

/// A system of units.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum System {
    /// yd³, lb, miles, inches, °F.
    Us,
    /// m³, kg, km, mm, °C.
    Si,
}

/// Longest sign of a currency, in bytes.
const LONGEST_SIGN: usize = 12;

/// The sign of a currency: `$`, `€`, `CHF`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Currency {
    sign: [u8; LONGEST_SIGN],
    length: usize,
}

impl Currency {
    /// `$`.
    pub const DOLLAR: Self = {
        let mut sign = [0; LONGEST_SIGN];
        sign[0] = b'$';
        Self { sign, length: 1 }
    };

    /// A sign of one to four characters, letters or signs; none if it is anything else.
    pub fn of(sign: &str) -> Option<Self> {
        let refused = |c: char| {
            c.is_control() || c.is_whitespace() || c.is_numeric() || ".,-−+=@'\"<>&%".contains(c)
        };
        let length = sign.len();
        if !(1..=4).contains(&sign.chars().count())
            || length > LONGEST_SIGN
            || sign.chars().any(refused)
        {
            return None;
        }
        let mut bytes = [0; LONGEST_SIGN];
        bytes[..length].copy_from_slice(sign.as_bytes());
        Some(Self {
            sign: bytes,
            length,
        })
    }

    /// The sign.
    pub fn sign(&self) -> &str {
        std::str::from_utf8(&self.sign[..self.length]).expect("it was made of text")
    }

    /// What goes before an amount: the sign, apart from the number if it ends with a letter.
    pub fn before(&self) -> String {
        let sign = self.sign();
        let apart = if sign.ends_with(char::is_alphabetic) {
            "\u{a0}"
        } else {
            ""
        };
        format!("{sign}{apart}")
    }
}

/// What a scenario is written and told in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Measures {
    /// Its units.
    pub system: System,
    /// Its currency.
    pub currency: Currency,
}

impl Measures {
    /// US units and dollars.
    pub const US: Self = Self {
        system: System::Us,
        currency: Currency::DOLLAR,
    };
}

thread_local! {
    static HERE: Cell<Measures> = const { Cell::new(Measures::US) };
}

/// What is spoken on this thread.
pub fn here() -> Measures {
    HERE.get()
}

/// Whether SI is spoken here.
pub fn is_si() -> bool {
    here().system == System::Si
}

/// From here on these, until what is given back goes out of use; then what was spoken before.
#[must_use = "they are spoken as long as this lives"]
pub fn speak(measures: Measures) -> Spoken {
    Spoken(HERE.replace(measures))
}

/// From here on these, for a program that has but one scenario.
pub fn settle(measures: Measures) {
    HERE.set(measures);
}

/// An amount with its unit: `9.5 yd³`, where SI is spoken `7.3 m³`.
pub fn amount(quantity: Quantity, us: f64, decimals: usize) -> String {
    let decimals = quantity.decimals(decimals);
    format!("{:.decimals$} {}", quantity.told(us), quantity.unit())
}

/// The same with no more decimals than there are, at most so many: `10 yd³`. In US units with all its digits.
pub fn plainly(quantity: Quantity, us: f64, most_decimals: usize) -> String {
    format!(
        "{} {}",
        rounded(quantity, us, most_decimals),
        quantity.unit()
    )
}

/// What is told here, where SI is spoken to so many decimals.
pub fn rounded(quantity: Quantity, us: f64, decimals: usize) -> f64 {
    if !is_si() {
        return us;
    }
    let ten = libm::pow(10.0, decimals as f64);
    libm::round(quantity.told(us) * ten) / ten
}

/// What was spoken before.
#[derive(Debug)]
pub struct Spoken(Measures);

impl Drop for Spoken {
    fn drop(&mut self) {
        HERE.set(self.0);
    }
}

/// What can be measured in either system.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// yd³, m³; also by the minute or hour.
    Volume,
    /// Something for each yd³, each m³: money, minutes.
    PerVolume,
    /// lb, kg.
    Weight,
    /// Money for a lb, a kg.
    PerWeight,
    /// lb/yd³, kg/m³.
    Density,
    /// Miles, km.
    Distance,
    /// Money for a mile, a km.
    PerDistance,
    /// Miles an hour, km/h.
    Speed,
    /// Air miles (nautical miles, 1852 m), km.
    AirMiles,
    /// Feet, m.
    Length,
    /// Slump: in, mm.
    Slump,
    /// °F, °C.
    Temperature,
    /// A difference of temperatures: °F, °C.
    Warmth,
    /// Strength: psi, MPa.
    Strength,
    /// hp, kW.
    Power,
    /// gal, L.
    Water,
    /// Water in concrete: gal/yd³, L/m³.
    Dose,
    /// Something for each gal/yd³, each L/m³.
    PerDose,
    /// Something that is the same number in both, such as °F for each °F.
    Ratio,
}

const M3: f64 = 0.9144 * 0.9144 * 0.9144;
const KG: f64 = 0.453_592_37;
const KM: f64 = 1.609_344;
const LITER: f64 = 3.785_411_784;
const MPA: f64 = 0.006_894_757_293_168_36;
const KW: f64 = 0.745_699_871_582_270_2;

impl Quantity {
    /// SI for one of US; a temperature has another zero besides.
    fn factor(self) -> f64 {
        match self {
            Self::Volume => M3,
            Self::PerVolume => 1.0 / M3,
            Self::Weight => KG,
            Self::PerWeight => 1.0 / KG,
            Self::Density => KG / M3,
            Self::Distance | Self::Speed => KM,
            Self::PerDistance => 1.0 / KM,
            Self::AirMiles => 1.852,
            Self::Length => 0.3048,
            Self::Slump => 25.4,
            Self::Temperature | Self::Warmth => 5.0 / 9.0,
            Self::Strength => MPA,
            Self::Power => KW,
            Self::Water => LITER,
            Self::Dose => LITER / M3,
            Self::PerDose => M3 / LITER,
            Self::Ratio => 1.0,
        }
    }

    /// What the program has, as it is told here.
    pub fn told(self, us: f64) -> f64 {
        self.told_in(here().system, us)
    }

    /// What the program has, as it is told in a system.
    pub fn told_in(self, system: System, us: f64) -> f64 {
        match (system, self) {
            (System::Us, _) => us,
            (System::Si, Self::Temperature) => (us - 32.0) * self.factor(),
            (System::Si, _) => us * self.factor(),
        }
    }

    /// What is written here, as the program has it.
    pub fn heard(self, written: f64) -> f64 {
        match (here().system, self) {
            (System::Us, _) => written,
            (System::Si, Self::Temperature) => written / self.factor() + 32.0,
            (System::Si, _) => written / self.factor(),
        }
    }

    /// The unit as it is told here.
    pub fn unit(self) -> &'static str {
        let (us, si) = match self {
            Self::Volume => ("yd³", "m³"),
            Self::PerVolume => ("a yd³", "a m³"),
            Self::Weight => ("lb", "kg"),
            Self::PerWeight => ("a pound", "a kg"),
            Self::Density => ("lb a yd³", "kg a m³"),
            Self::Distance | Self::AirMiles => ("miles", "km"),
            Self::PerDistance => ("a mile", "a km"),
            Self::Speed => ("mph", "km/h"),
            Self::Length => ("feet", "m"),
            Self::Slump => ("in", "mm"),
            Self::Temperature | Self::Warmth => ("°F", "°C"),
            Self::Strength => ("psi", "MPa"),
            Self::Power => ("hp", "kW"),
            Self::Water => ("gal", "L"),
            Self::Dose => ("gal a yd³", "L a m³"),
            Self::PerDose => ("a gallon a yd³", "a liter a m³"),
            Self::Ratio => ("", ""),
        };
        if is_si() { si } else { us }
    }

    /// How many decimals more or fewer than in US units it takes here to say as much.
    pub fn decimals(self, us: usize) -> usize {
        match self {
            Self::Strength if is_si() => us + 1,
            Self::Slump if is_si() => us.saturating_sub(1),
            _ => us,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SI: Measures = Measures {
        system: System::Si,
        currency: Currency::DOLLAR,
    };

    /// NIST SP 811 (2008), appendix B.8: yd³ to m³ 7.645549 E−01, lb 4.535924 E−01 kg, mi 1.609344 km, mi/h 1.609344 km/h, in 25.4 mm,
    /// gal 3.785412 L, psi 6.894757 kPa, hp (550 ft·lbf/s) 7.456999 E+02 W, lb/yd³ 5.932764 E−01 kg/m³, ft 3.048 E−01 m.
    #[test]
    fn factors_are_those_of_nist() {
        let _si = speak(SI);
        for (quantity, one) in [
            (Quantity::Volume, 0.7645549),
            (Quantity::Weight, 0.4535924),
            (Quantity::Distance, 1.609344),
            (Quantity::Speed, 1.609344),
            (Quantity::Slump, 25.4),
            (Quantity::Water, 3.785412),
            (Quantity::Strength, 0.006894757),
            (Quantity::Power, 0.7456999),
            (Quantity::Density, 0.5932764),
            (Quantity::Length, 0.3048),
            (Quantity::Warmth, 5.0 / 9.0),
        ] {
            let told = quantity.told(1.0);
            assert!((told / one - 1.0).abs() < 1e-6, "{quantity:?} {told}");
            assert!((quantity.heard(told) - 1.0).abs() < 1e-12);
        }
        assert_eq!(Quantity::Volume.told(1.0), 0.764554857984);
        assert_eq!(Quantity::Temperature.told(212.0), 100.0);
        assert_eq!(Quantity::Temperature.heard(0.0), 32.0);
    }

    #[test]
    fn what_was_spoken_before_is_spoken_again() {
        {
            let _si = speak(SI);
            assert!(is_si());
        }
        assert_eq!(here(), Measures::US);
        assert_eq!(Quantity::Volume.told(0.1), 0.1);
    }

    #[test]
    fn signs_of_currencies() {
        for (sign, before) in [
            ("$", "$"),
            ("€", "€"),
            ("CHF", "CHF\u{a0}"),
            ("kr", "kr\u{a0}"),
        ] {
            assert_eq!(
                Currency::of(sign).map(|c| c.before()).as_deref(),
                Some(before)
            );
        }
        for wrong in ["", "=", "1", "dollars", "a b", "<b>"] {
            assert_eq!(Currency::of(wrong), None, "{wrong}");
        }
    }
}
