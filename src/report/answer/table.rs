//! Tables as data: the same cells for the screen, the page, CSV and JSON. Numbers stay numbers.

use crate::report::number::{Unit, range};
use crate::report::table::Align;
use crate::statistics::Interval;
use crate::studies::{Chance, Estimate};

/// One value of a table.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Nothing, and nothing is shown.
    Blank,
    /// Text.
    Text(String),
    /// A number, or `–` if it is not one.
    Number {
        /// The number.
        value: f64,
        /// How it is written.
        form: Form,
    },
    /// A number that is estimated, with its interval: `97% (89 to 99%)`. Without a value `–`.
    Estimate {
        /// The estimate.
        value: Option<f64>,
        /// Its interval; not shown where it is unbounded.
        interval: Interval,
        /// A one-sided lower bound, for files.
        at_least: Option<f64>,
        /// How it is written.
        form: Form,
    },
    /// A number that is told in words of its own, such as a time of day, or "none" for what never was.
    Worded {
        /// What people read.
        words: String,
        /// What programs read, and the ends of its interval.
        value: Option<f64>,
        /// Lower end.
        low: Option<f64>,
        /// Upper end.
        high: Option<f64>,
    },
    /// How often what is seldom was seen, in words, with its interval: `in 3% (1 to 6%)`. Files have columns of their own for it.
    Seldom {
        /// What people read.
        words: String,
        /// Its interval in words.
        ends: String,
    },
}

/// How a number is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Form {
    /// Its unit.
    pub unit: Unit,
    /// Its decimals.
    pub decimals: usize,
    /// Whether it is a difference, which has a plus sign.
    pub signed: bool,
}

impl Form {
    /// A figure of this unit, with so many decimals.
    pub fn new(unit: Unit, decimals: usize) -> Self {
        Self {
            unit,
            decimals,
            signed: false,
        }
    }

    /// The same as a difference.
    pub fn signed(self) -> Self {
        Self {
            signed: true,
            ..self
        }
    }

    /// The number as people read it.
    pub fn show(self, value: f64) -> String {
        if self.signed {
            self.unit.show_difference(value, self.decimals)
        } else {
            self.unit.show(value, self.decimals)
        }
    }
}

impl Cell {
    /// `yes` or `no`.
    pub fn yes(yes: bool) -> Self {
        if yes { "yes" } else { "no" }.into()
    }

    /// A number with its unit.
    pub fn number(value: f64, unit: Unit, decimals: usize) -> Self {
        let form = Form::new(unit, decimals);
        Self::Number { value, form }
    }

    /// A whole number.
    pub fn count(count: u64) -> Self {
        Self::number(count as f64, Unit::Plain, 0)
    }

    /// A mean with its interval.
    pub fn estimate(estimate: &Estimate, unit: Unit, decimals: usize) -> Self {
        Self::Estimate {
            value: estimate.mean,
            interval: estimate.interval,
            at_least: None,
            form: Form::new(unit, decimals),
        }
    }

    /// A chance with its interval and its lower bound; blank figures without a trial.
    pub fn chance(chance: &Chance, decimals: usize) -> Self {
        let seen = chance.of > 0;
        Self::Estimate {
            value: seen.then(|| chance.share()),
            interval: chance.interval,
            at_least: seen.then_some(chance.at_least),
            form: Form::new(Unit::Share, decimals),
        }
    }

    /// A number in words of its own.
    pub fn worded(words: impl Into<String>, value: Option<f64>) -> Self {
        Self::Worded {
            words: words.into(),
            value,
            low: None,
            high: None,
        }
    }

    /// What there is no figure for: `–`, blank in files.
    pub fn unknown() -> Self {
        Self::worded("–", None)
    }

    /// What never was, where it was looked for: `none`.
    pub fn none() -> Self {
        Self::worded("none", Some(0.0))
    }

    /// The same as a difference: with a plus sign, shares in percentage points.
    pub fn signed(self) -> Self {
        match self {
            Self::Number { value, form } => Self::Number {
                value,
                form: form.signed(),
            },
            Self::Estimate {
                value,
                interval,
                at_least,
                form,
            } => Self::Estimate {
                value,
                interval,
                at_least,
                form: form.signed(),
            },
            other => other,
        }
    }

    /// As people read it, with the interval if there is one.
    pub fn words(&self) -> String {
        let (mut words, interval) = self.parts();
        if let Some(interval) = interval {
            words += &format!(" ({interval})");
        }
        words
    }

    /// As people read it, without an interval.
    pub fn brief(&self) -> String {
        self.parts().0
    }

    /// What is read, and its interval apart.
    pub(super) fn parts(&self) -> (String, Option<String>) {
        match self {
            Self::Blank => (String::new(), None),
            Self::Text(text) => (text.clone(), None),
            Self::Worded { words, .. } => (words.clone(), None),
            Self::Seldom { words, ends } => (words.clone(), Some(ends.clone())),
            Self::Number { value, form } => (form.show(*value), None),
            Self::Estimate { value: None, .. } => ("–".into(), None),
            Self::Estimate {
                value: Some(value),
                interval,
                form,
                ..
            } => {
                let ends = interval
                    .is_bounded()
                    .then(|| range(*interval, |end| form.show(end)));
                (form.show(*value), ends)
            }
        }
    }

    /// What files get of it.
    pub(super) fn part(&self, part: Part) -> Value<'_> {
        let number = |value: Option<f64>| {
            let finite = value.filter(|value| value.is_finite());
            finite.map_or(Value::Blank, Value::Number)
        };
        match (self, part) {
            (Self::Text(text), Part::Value) => Value::Text(text),
            (Self::Number { value, .. }, Part::Value) => number(Some(*value)),
            (Self::Estimate { value, .. }, Part::Value)
            | (Self::Worded { value, .. }, Part::Value) => number(*value),
            (Self::Estimate { interval, .. }, Part::Low) => number(Some(interval.low)),
            (Self::Estimate { interval, .. }, Part::High) => number(Some(interval.high)),
            (Self::Estimate { at_least, .. }, Part::AtLeast) => number(*at_least),
            (Self::Worded { low, .. }, Part::Low) => number(*low),
            (Self::Worded { high, .. }, Part::High) => number(*high),
            _ => Value::Blank,
        }
    }
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<String> for Cell {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

/// A number that only files get, with all its digits.
impl From<f64> for Cell {
    fn from(value: f64) -> Self {
        Self::number(value, Unit::Plain, 0)
    }
}

impl From<Option<f64>> for Cell {
    fn from(value: Option<f64>) -> Self {
        value.map_or(Self::Blank, Self::from)
    }
}

/// Of a cell, what a column of a file holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Text or number.
    Value,
    /// Lower end of its interval.
    Low,
    /// Upper end.
    High,
    /// One-sided lower bound.
    AtLeast,
}

/// A value for a file.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Value<'a> {
    Text(&'a str),
    Number(f64),
    Blank,
}

/// What a column is for people and for programs.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// For people, with the unit where the numbers do not carry it.
    pub heading: String,
    /// The same for the narrow columns of a screen, if shorter.
    pub brief: Option<String>,
    /// Its columns in files: name, and what of each cell; none: only people read it.
    pub keys: Vec<(String, Part)>,
    /// To which side its cells go.
    pub align: Align,
    /// Whether the screen shows it.
    pub screen: bool,
    /// Whether the page shows it.
    pub page: bool,
    /// Whether the screen leaves the intervals out.
    pub without_interval: bool,
}

impl Column {
    /// A column of numbers on screen and page, in no file.
    pub fn new(heading: impl Into<String>) -> Self {
        Self {
            heading: heading.into(),
            brief: None,
            keys: Vec::new(),
            align: Align::Right,
            screen: true,
            page: true,
            without_interval: false,
        }
    }

    /// A column that only files have.
    pub fn file(key: impl Into<String>) -> Self {
        Self::new("").only_in_files().key(key)
    }

    /// Seen in files only.
    pub fn only_in_files(mut self) -> Self {
        (self.screen, self.page) = (false, false);
        self
    }

    /// Of text.
    pub fn left(mut self) -> Self {
        self.align = Align::Left;
        self
    }

    /// Its name in files, for the value of its cells.
    pub fn key(self, key: impl Into<String>) -> Self {
        self.part(key, Part::Value)
    }

    /// Names in files for values and both ends of their intervals: `key`, `key_low`, `key_high`.
    pub fn with_ends(self, key: &str) -> Self {
        self.key(key)
            .part(format!("{key}_low"), Part::Low)
            .part(format!("{key}_high"), Part::High)
    }

    /// Its name in files for a part of its cells.
    pub fn part(mut self, key: impl Into<String>, part: Part) -> Self {
        self.keys.push((key.into(), part));
        self
    }

    /// A shorter heading for the screen.
    pub fn brief(mut self, heading: impl Into<String>) -> Self {
        self.brief = Some(heading.into());
        self
    }

    /// The screen has no room for its intervals.
    pub fn without_interval(mut self) -> Self {
        self.without_interval = true;
        self
    }

    /// Not on the page.
    pub fn screen_only(mut self) -> Self {
        self.page = false;
        self
    }

    /// Not on the screen.
    pub fn page_only(mut self) -> Self {
        self.screen = false;
        self
    }
}

/// One row.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// One cell for each column.
    pub cells: Vec<Cell>,
    /// Whether it stands out: the one that the decision is about.
    pub marked: bool,
    /// Whether the screen shows it.
    pub screen: bool,
    /// Whether the page shows it.
    pub page: bool,
    /// Whether files have it.
    pub file: bool,
}

impl Row {
    /// It stands out.
    pub fn marked(&mut self, marked: bool) -> &mut Self {
        self.marked = marked;
        self
    }

    /// Whether the screen has room for it.
    pub fn screen(&mut self, shown: bool) -> &mut Self {
        self.screen = shown;
        self
    }

    /// Whether the page shows it.
    pub fn page(&mut self, shown: bool) -> &mut Self {
        self.page = shown;
        self
    }

    /// Only people read it.
    pub fn not_in_files(&mut self) -> &mut Self {
        self.file = false;
        self
    }
}

/// What a screen leaves out that has no room for all columns.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Narrow {
    /// Columns beside the first, the most important first.
    pub keep: Vec<usize>,
    /// So many fit whatever the width: their cells wrap.
    pub always: usize,
    /// What is said below the table then; `{shown}` stands for how many of them are shown.
    pub left_out: String,
}

/// A table.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Its name, that of its CSV file without ending, if any of its columns is in files.
    pub name: &'static str,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows.
    pub rows: Vec<Row>,
    /// What gives way on a narrow screen.
    pub narrow: Option<Narrow>,
    /// Whether the JSON has its rows; not if the study's own part of the JSON tells them all.
    pub json: bool,
}

impl Table {
    /// A table with these columns.
    pub fn new(name: &'static str, columns: Vec<Column>) -> Self {
        Self {
            name,
            columns,
            rows: Vec::new(),
            narrow: None,
            json: true,
        }
    }

    /// Adds a row, to be marked or kept from the screen.
    ///
    /// # Panics
    /// If it has not as many cells as there are columns.
    pub fn row(&mut self, cells: impl IntoIterator<Item = Cell>) -> &mut Row {
        let cells: Vec<Cell> = cells.into_iter().collect();
        assert_eq!(
            cells.len(),
            self.columns.len(),
            "a row of the table {}",
            self.name
        );
        self.rows.push(Row {
            cells,
            marked: false,
            screen: true,
            page: true,
            file: true,
        });
        self.rows.last_mut().expect("it has just been pushed")
    }

    /// Whether it is a file.
    pub fn is_filed(&self) -> bool {
        self.columns.iter().any(|column| !column.keys.is_empty())
    }

    /// Name of its file.
    pub fn file_name(&self) -> String {
        format!("{}.csv", self.name)
    }

    /// The names and parts of its columns in files, with the place of the cell.
    pub(in crate::report) fn keys(&self) -> impl Iterator<Item = (usize, &str, Part)> {
        self.columns.iter().enumerate().flat_map(|(at, column)| {
            let keys = column.keys.iter();
            keys.map(move |(key, part)| (at, key.as_str(), *part))
        })
    }
}
