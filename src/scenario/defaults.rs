//! What stands where a scenario leaves a field out: every default once, with its value, its name in plain words and its source.
//!
//! The readers take their defaults from here and note for each field whether the scenario wrote it ([`Marks`]), so that what is
//! listed, what is read and what an answer says of it cannot differ. What is merely form has no entry: names, groups of one, the
//! first day, all weekdays, places on the map, the decisions of a rule.

mod company;
mod concrete;
mod fleet;
mod marks;
mod money;
mod orders;
mod plants;
mod roads;

use std::fmt;

pub use marks::{Mark, Marks, Whose};

pub(super) use {company::*, concrete::*, fleet::*, money::*, orders::*, plants::*, roads::*};

use crate::engine::Spread;
use crate::units::{Cents, Millis, Rate, Volume, Weekday};

/// A default that readers take.
#[derive(Debug)]
pub struct Usual<T> {
    /// What it is and where it comes from.
    pub about: About,
    /// The value.
    pub value: T,
}

/// What a default is about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct About {
    /// Where a scenario writes it: blocks and field, `money.pay_per_h`.
    pub path: &'static str,
    /// Unit, empty if there is none.
    pub unit: &'static str,
    /// Its name in plain words.
    pub name: &'static str,
    /// Where the value comes from.
    pub source: Source,
}

impl About {
    /// The name of the field in its block.
    pub fn key(&self) -> &'static str {
        self.path.rsplit('.').next().unwrap_or(self.path)
    }
}

/// Where a default comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// A text that can be looked up.
    Published(&'static str),
    /// Common practice; what is known of it, if anything.
    Practice(&'static str),
    /// A text that was not at hand when the value was written down.
    Memory(&'static str),
    /// What the field is about does not happen, or is not looked at, unless the scenario says so.
    Off,
}

impl Source {
    /// Whether a text can be looked up for it.
    pub fn is_published(self) -> bool {
        matches!(self, Self::Published(_))
    }

    /// Whether it is an estimate that stands for something that happens.
    pub fn is_estimate(self) -> bool {
        matches!(self, Self::Practice(_) | Self::Memory(_))
    }
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Published(text) => write!(f, "{text}"),
            Self::Practice("") => write!(f, "estimate, no source; use your own"),
            Self::Practice(known) => write!(f, "estimate, no source; use your own ({known})"),
            Self::Memory(text) => write!(f, "estimate, from memory of {text}; use your own"),
            Self::Off => write!(f, "not counted unless you write it"),
        }
    }
}

/// A value as an answer shows it; rounding is the answer's.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A number in the unit of its entry.
    Number(f64),
    /// An amount of money.
    Money(f64),
    /// Yes or no.
    Yes(bool),
    /// A spread in the unit of its entry.
    Spread(Spread),
    /// A choice, in words.
    Words(String),
    /// None, off.
    Nothing,
    /// Written by the scenario, too long to be shown.
    Written,
}

impl From<f64> for Value {
    fn from(value: f64) -> Self {
        Self::Number(value)
    }
}

impl From<u32> for Value {
    fn from(value: u32) -> Self {
        Self::Number(f64::from(value))
    }
}

impl From<bool> for Value {
    fn from(value: bool) -> Self {
        Self::Yes(value)
    }
}

impl From<Cents> for Value {
    fn from(value: Cents) -> Self {
        Self::Money(value.units())
    }
}

impl From<Rate> for Value {
    fn from(value: Rate) -> Self {
        Self::Money(value.units())
    }
}

impl From<Volume> for Value {
    fn from(value: Volume) -> Self {
        Self::Number(value.yd3())
    }
}

impl From<Spread> for Value {
    fn from(value: Spread) -> Self {
        Self::Spread(value)
    }
}

/// A time of day.
impl From<Millis> for Value {
    fn from(value: Millis) -> Self {
        Self::Words(value.to_string())
    }
}

impl From<Weekday> for Value {
    fn from(value: Weekday) -> Self {
        Self::Words(format!("{value:?}"))
    }
}

/// What a field says that holds nothing unless it is written.
impl From<()> for Value {
    fn from((): ()) -> Self {
        Self::Nothing
    }
}

/// An entry of the list.
pub trait Entry: Sync + fmt::Debug {
    /// What it is about.
    fn about(&self) -> &About;
    /// The default.
    fn value(&self) -> Value;
}

impl<T: Clone + Into<Value> + Sync + fmt::Debug> Entry for Usual<T> {
    fn about(&self) -> &About {
        &self.about
    }

    fn value(&self) -> Value {
        self.value.clone().into()
    }
}

/// All defaults, in the order in which a scenario is written.
pub fn all() -> impl Iterator<Item = &'static dyn Entry> {
    [
        company::LIST,
        plants::LIST,
        roads::LIST,
        fleet::LIST,
        orders::LIST,
        concrete::LIST,
        money::LIST,
    ]
    .into_iter()
    .flatten()
    .copied()
}

/// Entries of one subject, each a static of its name, and their list.
///
/// `NAME: type = value, "block.field", "unit", "name in plain words", source;`
macro_rules! defaults {
    ($($name:ident: $kind:ty = $value:expr, $path:literal, $unit:literal, $said:literal, $source:expr;)*) => {
        $(
            #[doc = $said]
            pub(in crate::scenario) static $name: $crate::scenario::defaults::Usual<$kind> =
                $crate::scenario::defaults::Usual {
                    about: $crate::scenario::defaults::About {
                        path: $path,
                        unit: $unit,
                        name: $said,
                        source: $source,
                    },
                    value: $value,
                };
        )*
        pub(super) static LIST: &[&dyn $crate::scenario::defaults::Entry] = &[$(&$name),*];
    };
}
pub(crate) use defaults;

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn each_entry_has_a_path_of_its_own_and_says_what_it_is() {
        let mut paths = BTreeSet::new();
        let mut names = BTreeSet::new();
        for entry in all() {
            let about = entry.about();
            assert!(paths.insert(about.path), "{} stands twice", about.path);
            assert!(names.insert(about.name), "{} stands twice", about.name);
            assert!(about.path.contains('.'), "{}", about.path);
            if let Source::Published(text) | Source::Memory(text) = about.source {
                assert!(!text.is_empty(), "{}", about.path);
            }
        }
    }

    /// Nothing that happens in silence may call itself off.
    #[test]
    fn what_is_off_is_zero_or_none() {
        for entry in all().filter(|entry| entry.about().source == Source::Off) {
            let value = entry.value();
            let off = match &value {
                Value::Number(value) => *value == 0.0 || *value == 1.0,
                Value::Money(value) => *value == 0.0,
                Value::Yes(yes) => !yes,
                Value::Spread(spread) => *spread == Spread::Constant(1.0),
                Value::Nothing => true,
                Value::Words(_) | Value::Written => false,
            };
            assert!(off, "{}: {value:?}", entry.about().path);
        }
    }
}
