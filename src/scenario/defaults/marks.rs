//! Which defaults stood when a scenario was read, and what it wrote itself.

use std::collections::BTreeMap;

use super::{Entry, Value, all};

/// Different values that one field keeps, if it is written many times.
const KEPT: usize = 6;

/// What reading noted of each default, by its path.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Marks(BTreeMap<&'static str, Mark>);

/// What reading noted of one default.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// How often the scenario wrote the field.
    pub written: usize,
    /// How often it was left out and the default stood.
    pub left_out: usize,
    /// The different values that hold, the default where it stood; a few of them.
    pub values: Vec<Value>,
    /// Whether there are more than these.
    pub more: bool,
    /// Lowest and highest, if they are numbers or spreads (then of their means).
    pub range: Option<(f64, f64)>,
}

/// Whose value holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose {
    /// The scenario wrote it wherever it counts.
    Yours,
    /// The default stood.
    Default,
    /// The scenario wrote it in some of the places, plants or orders, say.
    Both,
}

impl Mark {
    /// Whose value holds.
    pub fn whose(&self) -> Whose {
        match (self.written, self.left_out) {
            (_, 0) => Whose::Yours,
            (0, _) => Whose::Default,
            _ => Whose::Both,
        }
    }
}

impl Marks {
    /// The defaults that this scenario had a use for, with what holds, in the order of the list.
    pub fn used(&self) -> impl Iterator<Item = (&'static dyn Entry, &Mark)> {
        all().filter_map(|entry| Some((entry, self.0.get(entry.about().path)?)))
    }

    /// What reading noted of one path.
    pub fn of(&self, path: &str) -> Option<&Mark> {
        self.0.get(path)
    }

    /// The scenario wrote it.
    pub(in crate::scenario) fn written(&mut self, path: &'static str, value: Value) {
        self.note(path, value).written += 1;
    }

    /// The default stood.
    pub(in crate::scenario) fn left_out(&mut self, path: &'static str, value: Value) {
        self.note(path, value).left_out += 1;
    }

    /// Defaults of which the scenario turns out to have no use, unless it wrote them.
    pub(in crate::scenario) fn without(&mut self, paths: &[&'static str]) {
        self.0
            .retain(|path, mark| mark.written > 0 || !paths.contains(path));
    }

    fn note(&mut self, path: &'static str, value: Value) -> &mut Mark {
        let mark = self.0.entry(path).or_insert_with(|| Mark {
            written: 0,
            left_out: 0,
            values: Vec::new(),
            more: false,
            range: None,
        });
        let number = match &value {
            Value::Number(number) | Value::Money(number) => Some(*number),
            Value::Spread(spread) => Some(spread.mean()),
            _ => None,
        };
        if let Some(number) = number {
            let (low, high) = mark.range.unwrap_or((number, number));
            mark.range = Some((low.min(number), high.max(number)));
        }
        if !mark.values.contains(&value) {
            if mark.values.len() < KEPT {
                mark.values.push(value);
            } else {
                mark.more = true;
            }
        }
        mark
    }
}
