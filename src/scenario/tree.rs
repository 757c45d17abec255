//! Text in RON to a tree in which every value, key and tag knows its place.
//!
//! The grammar is the `ron` crate's alone. Each value is first read as a raw slice that borrows from the text, so its
//! address gives its offset; the slice is then opened one level. Tags such as `Nearest`, which a reader of any type
//! never sees, are the letters at the start of the slice.

use std::cell::Cell;
use std::fmt;
use std::ops::Range;

use ron::Options;
use ron::extensions::Extensions;
use ron::value::RawValue;
use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};

use super::problem::Problem;

mod pieces;
mod quotes;
mod syntax;
mod written;

pub use written::{quoted, written};

/// A range of bytes in the text.
pub type Span = Range<usize>;

/// How deep values may stand inside each other; what people write stays below ten.
const DEEPEST: usize = 24;

/// How many values a text may hold: a scenario of 100,000 orders has a million.
const MOST_VALUES: usize = 4_000_000;

/// A value and where it is written.
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// From its first to its last character, tag included, blanks and comments around it not.
    pub span: Span,
    /// What it is.
    pub kind: Kind,
}

/// The node that readers are shown to tell what they take.
pub(super) static ASKED: Node = Node {
    span: 0..0,
    kind: Kind::Asked,
};

impl Node {
    /// Whether the reader is to tell what it takes.
    pub fn is_asked(&self) -> bool {
        self.kind == Kind::Asked
    }

    /// A text in quotes or in a cell.
    pub fn text(&self) -> Option<&str> {
        match &self.kind {
            Kind::Text(text) | Kind::Cell { text, .. } => Some(text),
            _ => None,
        }
    }
}

/// What is written at a place.
#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// `None`.
    Nothing,
    /// `true` or `false`.
    Bool(bool),
    /// A number. `whole` if written without a fraction and held exactly.
    Number {
        /// The nearest double; infinite or not a number if so written, or too large.
        value: f64,
        /// Exact, if written as a whole number.
        whole: Option<i128>,
    },
    /// `"text"`.
    Text(String),
    /// A cell of a table, whatever it is: the reader knows what it wants.
    Cell {
        /// What stands in it, without the blanks around it; not empty.
        text: String,
        /// Whether numbers in its table have a decimal comma.
        comma: bool,
    },
    /// A bare name: `Nearest`.
    Tag(String),
    /// A name with contents: `Uniform(2, 5)`; the contents are [`Kind::Fields`] or [`Kind::List`].
    Tagged(Tag, Box<Node>),
    /// `(name: value)` or `{"name": value}`; also `()`.
    Fields(Vec<Field>),
    /// `[1, 2]` or `(1, 2)`.
    List(Vec<Node>),
    /// A table that could not be read.
    Unread,
    /// Nothing is written: the reader is to tell what it takes (`Outline`).
    Asked,
    /// Something that RON knows and no scenario uses (a range, bytes), by its name.
    Other(&'static str),
}

/// A name before a bracket.
#[derive(Clone, Debug, PartialEq)]
pub struct Tag {
    /// The name.
    pub name: String,
    /// Where it stands.
    pub span: Span,
}

/// A key and its value.
#[derive(Clone, Debug, PartialEq)]
pub struct Field {
    /// The key, without quotes.
    pub key: String,
    /// Where the key stands, without quotes; empty if that is not known.
    pub key_span: Span,
    /// The value.
    pub value: Node,
}

/// Reads a whole text as one value.
///
/// # Errors
/// One syntax problem: after the first, nothing that follows can be trusted. Only curly quotes come all at once, and the first
/// problem with them if it stands before them.
pub fn parse(text: &str) -> Result<Node, Vec<Problem>> {
    whole(text).map_err(|first| {
        let mut found = quotes::problems(text);
        let before = |quotes: &Problem| first.span.start < quotes.span.start;
        if found.first().is_none_or(before) {
            found.insert(0, *first);
        }
        found
    })
}

fn whole(text: &str) -> Result<Node, Box<Problem>> {
    let body = text.strip_prefix('\u{feff}').unwrap_or(text);
    let reader = Reader {
        text,
        values: Cell::new(0),
    };
    reader.refuse_attributes(body)?;
    let failed = |error| Box::new(syntax::problem(text, reader.offset(body), &error));
    let mut ron = ron::Deserializer::from_str_with_options(body, &options()).map_err(failed)?;
    let raw = <&RawValue>::deserialize(&mut ron)
        .and_then(|raw| ron.end().map(|()| raw))
        .map_err(|code| failed(ron.span_error(code)))?;
    reader.node(raw)
}

fn options() -> Options {
    Options::default()
        .with_default_extension(Extensions::IMPLICIT_SOME)
        // The crate counts a bracket and what is inside it as two.
        .with_recursion_limit(2 * DEEPEST)
}

struct Reader<'a> {
    text: &'a str,
    /// Values counted so far.
    values: Cell<usize>,
}

impl<'a> Reader<'a> {
    /// Where a slice of the text starts.
    fn offset(&self, slice: &str) -> usize {
        (slice.as_ptr() as usize).saturating_sub(self.text.as_ptr() as usize)
    }

    fn span(&self, slice: &str) -> Span {
        let start = self.offset(slice);
        start..start + slice.len()
    }

    /// Counts values that stand in one: a small text can hold more of them than memory does.
    fn count(&self, values: usize, span: &Span) -> Result<(), Box<Problem>> {
        self.values.set(self.values.get() + values);
        if self.values.get() <= MOST_VALUES {
            return Ok(());
        }
        let title =
            format!("more than {MOST_VALUES} values are written up to the end of this list");
        let label = "expected fewer (plantday help limits)";
        Err(Box::new(
            Problem::new(span.start..span.start + 1, title).label(label),
        ))
    }

    /// Attributes would change the meaning of what follows; there is one form, so there are none.
    fn refuse_attributes(&self, body: &str) -> Result<(), Box<Problem>> {
        let first = body.trim_start();
        if !first.starts_with("#!") {
            return Ok(());
        }
        let line = first.lines().next().unwrap_or(first);
        Err(Box::new(
            Problem::new(self.span(line), "an attribute is not used here")
                .label("expected `(`: remove this line"),
        ))
    }

    /// A raw value without the blanks and comments around it. Nothing to do for most: only a slash can begin a comment.
    fn trimmed(raw: &'a RawValue) -> &'a str {
        let slice = raw.get_ron();
        if slice.contains('/') {
            raw.trim().get_ron()
        } else {
            slice.trim()
        }
    }

    fn node(&self, raw: &'a RawValue) -> Result<Node, Box<Problem>> {
        let slice = Self::trimmed(raw);
        let span = self.span(slice);
        // Brackets first: nearly every long slice begins with one, and is not searched to its end at every level.
        if !slice.contains(['(', '[', '{', '"', '\'']) && slice.contains("..") {
            return Ok(Node {
                span,
                kind: Kind::Other("a range"),
            });
        }
        let level = options()
            .from_str::<Level>(slice)
            .map_err(|error| Box::new(syntax::problem(self.text, span.start, &error)))?;
        let kind = match level {
            Level::Leaf(kind) => kind,
            Level::Some(inner) => return self.node(inner),
            Level::Unit if slice.starts_with('(') => Kind::Fields(Vec::new()),
            Level::Unit => Kind::Tag(self.tag(slice).name),
            Level::List(items) => {
                self.count(items.len(), &span)?;
                let items = items
                    .into_iter()
                    .map(|item| self.node(item))
                    .collect::<Result<_, _>>()?;
                self.behind_tag(slice, Kind::List(items))
            }
            Level::Fields(fields) => {
                self.count(fields.len(), &span)?;
                let fields = fields
                    .into_iter()
                    .map(|(key, value)| self.field(key, value))
                    .collect::<Result<_, _>>()?;
                self.behind_tag(slice, Kind::Fields(fields))
            }
        };
        Ok(Node { span, kind })
    }

    fn field(&self, key: Key<'a>, value: &'a RawValue) -> Result<Field, Box<Problem>> {
        let value = self.node(value)?;
        Ok(match key {
            Key::Slice(key) => Field {
                key: key.to_owned(),
                key_span: self.span(key),
                value,
            },
            // Escapes in a quoted key: its letters are not those of the text, so it is looked for before its value.
            Key::Letters(key) => Field {
                key_span: self.quoted_before(&key, value.span.start),
                key,
                value,
            },
        })
    }

    /// The inside of the quotes of a key that stands before a value; empty and at the value if it is not found there, as
    /// when a comment stands between them.
    fn quoted_before(&self, key: &str, value: usize) -> Span {
        let before = self.text[..value].trim_end();
        let written = before
            .strip_suffix(':')
            .and_then(|before| before.trim_end().strip_suffix('"'))
            .and_then(|before| {
                // A quote behind an odd number of backslashes is a letter of the key.
                let quote = before.rmatch_indices('"').map(|(at, _)| at).find(|at| {
                    let bare = before[..*at].trim_end_matches('\\').len();
                    (at - bare).is_multiple_of(2)
                })?;
                Some(quote + 1..before.len())
            });
        written
            .filter(|inside| {
                let quoted = &self.text[inside.start - 1..inside.end + 1];
                options()
                    .from_str::<String>(quoted)
                    .is_ok_and(|read| read == key)
            })
            .unwrap_or(value..value)
    }

    /// The name at the start of a slice; empty if it starts with a bracket.
    fn tag(&self, slice: &str) -> Tag {
        let end = slice
            .find(|c: char| "([{/".contains(c) || c.is_whitespace())
            .unwrap_or(slice.len());
        let written = &slice[..end];
        Tag {
            name: written.strip_prefix("r#").unwrap_or(written).to_owned(),
            span: self.span(written),
        }
    }

    /// The contents themselves, or the contents behind the tag that the slice starts with.
    fn behind_tag(&self, slice: &str, contents: Kind) -> Kind {
        let tag = self.tag(slice);
        if tag.name.is_empty() {
            return contents;
        }
        let whole = self.span(slice);
        // A comment may stand between the two; the contents are then taken to begin behind the tag.
        let open = slice.find('(').map_or(tag.span.end, |at| whole.start + at);
        Kind::Tagged(
            tag,
            Box::new(Node {
                span: open..whole.end,
                kind: contents,
            }),
        )
    }
}

/// One level of a value; what is inside it is still raw.
enum Level<'de> {
    Leaf(Kind),
    Unit,
    Some(&'de RawValue),
    List(Vec<&'de RawValue>),
    Fields(Vec<(Key<'de>, &'de RawValue)>),
}

/// A key, as a slice of the text where its letters stand there as they are.
enum Key<'de> {
    Slice(&'de str),
    Letters(String),
}

impl<'de> Deserialize<'de> for Key<'de> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(KeyVisitor)
    }
}

struct KeyVisitor;

impl<'de> Visitor<'de> for KeyVisitor {
    type Value = Key<'de>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a name or a quoted text as key")
    }

    fn visit_borrowed_str<E>(self, key: &'de str) -> Result<Key<'de>, E> {
        Ok(Key::Slice(key))
    }

    fn visit_str<E>(self, key: &str) -> Result<Key<'de>, E> {
        Ok(Key::Letters(key.to_owned()))
    }
}

impl<'de> Deserialize<'de> for Level<'de> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(LevelVisitor)
    }
}

struct LevelVisitor;

impl<'de> Visitor<'de> for LevelVisitor {
    type Value = Level<'de>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value")
    }

    fn visit_bool<E>(self, value: bool) -> Result<Level<'de>, E> {
        Ok(Level::Leaf(Kind::Bool(value)))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Level<'de>, E> {
        Ok(Level::Leaf(Kind::Number {
            value: value as f64,
            whole: Some(value.into()),
        }))
    }

    fn visit_u64<E>(self, value: u64) -> Result<Level<'de>, E> {
        Ok(Level::Leaf(Kind::Number {
            value: value as f64,
            whole: Some(value.into()),
        }))
    }

    fn visit_f64<E>(self, value: f64) -> Result<Level<'de>, E> {
        Ok(Level::Leaf(Kind::Number { value, whole: None }))
    }

    fn visit_str<E>(self, value: &str) -> Result<Level<'de>, E> {
        Ok(Level::Leaf(Kind::Text(value.to_owned())))
    }

    fn visit_bytes<E>(self, _: &[u8]) -> Result<Level<'de>, E> {
        Ok(Level::Leaf(Kind::Other("bytes")))
    }

    fn visit_unit<E>(self) -> Result<Level<'de>, E> {
        Ok(Level::Unit)
    }

    fn visit_none<E>(self) -> Result<Level<'de>, E> {
        Ok(Level::Leaf(Kind::Nothing))
    }

    fn visit_some<D: Deserializer<'de>>(self, inner: D) -> Result<Level<'de>, D::Error> {
        <&RawValue>::deserialize(inner).map(Level::Some)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Level<'de>, A::Error> {
        let mut list = Vec::new();
        while let Some(item) = items.next_element()? {
            list.push(item);
        }
        Ok(Level::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<Level<'de>, A::Error> {
        let mut fields = Vec::new();
        while let Some(entry) = entries.next_entry()? {
            fields.push(entry);
        }
        Ok(Level::Fields(fields))
    }
}
