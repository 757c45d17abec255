//! What a scenario may say, told by the readers themselves.
//!
//! A reader that is shown [`Kind::Asked`](super::tree::Kind::Asked) in place of a value tells what it would take there instead of
//! reading it: a number its range, a choice its names, a block its fields. So what is explained and what is read cannot differ. Only
//! what a name means stands in a list of its own, [`meaning`](super::meaning), or in that of the defaults.

use std::cell::RefCell;
use std::fmt;
use std::ops::RangeInclusive;

use super::defaults::Entry;

/// What may stand at a place.
#[derive(Clone, Debug, Default)]
pub struct Takes {
    /// Single values, in words; several if there are several ways to write one.
    pub values: Vec<String>,
    /// The item of a list, and how many it may have.
    pub list: Option<(&'static str, RangeInclusive<usize>)>,
    /// Names of which one may stand here.
    pub choices: Vec<Choice>,
    /// Fields of a block.
    pub fields: Vec<Field>,
}

/// A name that may stand at a place, and what stands behind it.
#[derive(Clone, Debug)]
pub struct Choice {
    /// The name.
    pub name: &'static str,
    /// Whether it may stand without its brackets.
    pub may_be_bare: bool,
    /// What stands in them.
    pub inside: Takes,
}

/// One field of a block.
#[derive(Clone, Debug)]
pub struct Field {
    /// Its name.
    pub name: &'static str,
    /// The names of the blocks around it and its own: `orders.outlets.places`.
    pub path: String,
    /// What holds where it is left out.
    pub left_out: LeftOut,
    /// Whether `None` switches it off.
    pub or_none: bool,
    /// What may stand there.
    pub takes: Takes,
}

/// What holds where a field is left out.
#[derive(Clone, Debug)]
pub enum LeftOut {
    /// It must be written.
    Required,
    /// It must be written if its block is, and has a default if the block is left out.
    Needed(&'static dyn Entry),
    /// Nothing of the kind, or what other fields say.
    Nothing,
    /// A default of the list.
    Usual(&'static dyn Entry),
    /// A default that is mere form, as the reader holds it.
    Form(String),
    /// What holds, in words.
    Words(&'static str),
}

impl LeftOut {
    /// The entry in the list of defaults.
    pub fn entry(&self) -> Option<&'static dyn Entry> {
        match self {
            Self::Needed(entry) | Self::Usual(entry) => Some(*entry),
            _ => None,
        }
    }
}

/// Collects what readers tell: a stack of places, the innermost last.
#[derive(Debug, Default)]
pub(in crate::scenario) struct Outline {
    places: RefCell<Vec<Takes>>,
    path: RefCell<Vec<&'static str>>,
}

impl Outline {
    /// What `reader` tells of its place.
    pub(in crate::scenario) fn of(&self, reader: impl FnOnce()) -> Takes {
        self.places.borrow_mut().push(Takes::default());
        reader();
        self.places.borrow_mut().pop().unwrap_or_default()
    }

    fn here(&self, tell: impl FnOnce(&mut Takes)) {
        if let Some(place) = self.places.borrow_mut().last_mut() {
            tell(place);
        }
    }

    /// A single value may stand here.
    pub(in crate::scenario) fn value(&self, words: impl fmt::Display) {
        let words = words.to_string();
        self.here(|place| {
            if !place.values.contains(&words) {
                place.values.push(words);
            }
        });
    }

    /// A list may stand here.
    pub(in crate::scenario) fn list(&self, item: &'static str, many: RangeInclusive<usize>) {
        self.here(|place| place.list = Some((item, many)));
    }

    /// A name may stand here, with what `inside` tells behind it.
    pub(in crate::scenario) fn choice(&self, name: &'static str, inside: impl FnOnce()) {
        let inside = self.of(inside);
        self.here(|place| {
            place.choices.push(Choice {
                name,
                may_be_bare: false,
                inside,
            });
        });
    }

    /// The choice that is being told may stand without brackets.
    pub(in crate::scenario) fn may_be_bare(&self) {
        self.here(|place| place.values.push(BARE.to_owned()));
    }

    /// A field may stand here, with what `reader` tells. One that has been told before is told again in more detail.
    pub(in crate::scenario) fn field(
        &self,
        name: &'static str,
        left_out: LeftOut,
        or_none: bool,
        reader: impl FnOnce(),
    ) {
        self.path.borrow_mut().push(name);
        let path = self.path.borrow().join(".");
        let takes = self.of(reader);
        self.path.borrow_mut().pop();
        self.here(
            |place| match place.fields.iter_mut().find(|field| field.name == name) {
                Some(told) => told.takes = takes,
                None => place.fields.push(Field {
                    name,
                    path,
                    left_out,
                    or_none,
                    takes,
                }),
            },
        );
    }
}

/// Stands among the values of a choice while it is being told.
const BARE: &str = "\0bare";

impl Takes {
    /// With what was told of choices put where it belongs.
    pub(in crate::scenario) fn settled(mut self) -> Self {
        for choice in &mut self.choices {
            let told = choice.inside.values.len();
            choice.inside.values.retain(|value| value != BARE);
            choice.may_be_bare = choice.inside.values.len() < told;
            choice.inside = std::mem::take(&mut choice.inside).settled();
            choice.may_be_bare |= choice.inside.is_empty();
        }
        for field in &mut self.fields {
            field.takes = std::mem::take(&mut field.takes).settled();
        }
        self
    }

    /// Whether nothing may stand here.
    pub fn is_empty(&self) -> bool {
        self.values.is_empty() && self.choices.is_empty() && self.fields.is_empty()
    }

    /// Every field within, blocks before their own.
    pub fn all_fields(&self) -> Vec<&Field> {
        let mut all = Vec::new();
        for field in &self.fields {
            all.push(field);
            all.extend(field.takes.all_fields());
        }
        for choice in &self.choices {
            all.extend(choice.inside.all_fields());
        }
        all
    }

    /// The field at a path below this place: `outlets.places`; the name that is not found and those that there are, otherwise.
    ///
    /// # Errors
    /// If there is no such field.
    pub fn field<'a>(&'a self, path: &'a str) -> Result<&'a Field, (&'a str, Vec<&'static str>)> {
        let (name, rest) = match path.split_once('.') {
            Some((name, rest)) => (name, Some(rest)),
            None => (path, None),
        };
        let inside = self.choices.iter().flat_map(|choice| &choice.inside.fields);
        let fields: Vec<&Field> = self.fields.iter().chain(inside).collect();
        let Some(field) = fields.iter().find(|field| field.name == name) else {
            return Err((name, fields.iter().map(|field| field.name).collect()));
        };
        rest.map_or(Ok(*field), |rest| field.takes.field(rest))
    }
}
