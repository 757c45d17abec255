//! One block `( field: value, … )`, field by field.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::fmt;

use super::super::defaults::{Usual, Value};
use super::super::outline::LeftOut;
use super::super::problem::{Problem, Problems, listed, nearest};
use super::super::tables::meant;
use super::super::tree::{ASKED, Field, Kind, Node, Span};
use super::{Shown, a, shortened, wrong_kind};
use crate::units::measure;

/// What defaults of the list are of.
pub trait Usable: Clone + Into<Value> + Sync + fmt::Debug + 'static {}

impl<T: Clone + Into<Value> + Sync + fmt::Debug + 'static> Usable for T {}

/// Reads the fields of one block. Every field that is asked for is a valid one; [`Fields::finish`] reports all others, and
/// those that were required and are not there.
#[derive(Debug)]
pub struct Fields<'a> {
    what: &'static str,
    opening: Span,
    /// By the program's own names: `volume_yd3` also where the scenario is in SI and has `volume_m3`.
    written: BTreeMap<Cow<'a, str>, (Span, &'a Node)>,
    /// Fields that are written in the other system of units, by the name that they would have here.
    foreign: BTreeMap<Cow<'a, str>, (Span, &'a str)>,
    asked: Vec<&'static str>,
    /// Names of which one is required and none is written.
    missing: Vec<Vec<&'static str>>,
    problems: &'a Problems,
    /// Whether nothing is written and the fields are only to be told.
    is_asked: bool,
    /// What is told to hold where a field is left out, if that is not the reader's own default.
    left_out_as: Option<&'static str>,
}

impl<'a> Fields<'a> {
    /// Opens a block; `what` says of what, in the singular: "plant".
    pub fn of(node: &'a Node, what: &'static str, problems: &'a Problems) -> Option<Self> {
        if node.is_asked() {
            return Some(Self::asked(what, problems));
        }
        let Kind::Fields(fields) = &node.kind else {
            return wrong_kind(node, &format!("{}: `( … )`", a(what)), problems);
        };
        Some(Self::new(
            what,
            node.span.start..node.span.start + 1,
            fields,
            problems,
        ))
    }

    /// A block whose fields are to be told.
    fn asked(what: &'static str, problems: &'a Problems) -> Self {
        Self {
            is_asked: true,
            ..Self::new(what, 0..0, &[], problems)
        }
    }

    /// A block that is left out: nothing is written in it.
    fn left_out(what: &'static str, opening: Span, problems: &'a Problems) -> Self {
        Self::new(what, opening, &[], problems)
    }

    /// The contents of a tag: named, or in the order of `names`.
    pub(super) fn inside(
        contents: &'a Node,
        tag: &Span,
        what: &'static str,
        names: &[&'static str],
        problems: &'a Problems,
    ) -> Option<Self> {
        let opening = tag.start..contents.span.start + 1;
        let items = match &contents.kind {
            Kind::Fields(fields) => return Some(Self::new(what, opening, fields, problems)),
            Kind::List(items) => items,
            Kind::Asked => return Some(Self::asked(what, problems)),
            _ => return wrong_kind(contents, &format!("({})", names.join(", ")), problems),
        };
        if let Some(extra) = items.get(names.len()) {
            return problems.add(
                Problem::new(
                    extra.span.clone(),
                    format!(
                        "{} values, {} are too many",
                        items.len(),
                        items.len() - names.len()
                    ),
                )
                .label(format!("expected ({})", names.join(", "))),
            );
        }
        let mut fields = Self::new(what, opening, &[], problems);
        fields.written = names
            .iter()
            .zip(items)
            .map(|(name, item)| (Cow::Borrowed(*name), (item.span.clone(), item)))
            .collect();
        Some(fields)
    }

    fn new(what: &'static str, opening: Span, fields: &'a [Field], problems: &'a Problems) -> Self {
        let mut written: BTreeMap<Cow<'a, str>, (Span, &Node)> = BTreeMap::new();
        let mut foreign = BTreeMap::new();
        for field in fields {
            let key = field.key.as_str();
            let name = match (measure::is_si(), problems.us_key(key)) {
                (true, Some(us)) => us,
                // Whether it is a field at all is known when all have been asked for.
                (false, Some(us)) => {
                    foreign.insert(us, (field.key_span.clone(), key));
                    Cow::Borrowed(key)
                }
                (true, None) if measure::key(key).1.is_some() => {
                    foreign.insert(Cow::Borrowed(key), (field.key_span.clone(), key));
                    continue;
                }
                (_, None) => Cow::Borrowed(key),
            };
            if let Some((first, _)) = written.get(&name) {
                problems.add::<()>(
                    Problem::new(
                        field.key_span.clone(),
                        format!("field `{}` stands twice in {}", shortened(key), a(what)),
                    )
                    .label("expected each field once: remove one of the two")
                    .also(first.clone(), "first here"),
                );
            } else {
                written.insert(name, (field.key_span.clone(), &field.value));
            }
        }
        Self {
            what,
            opening,
            written,
            foreign,
            asked: Vec::new(),
            missing: Vec::new(),
            problems,
            is_asked: false,
            left_out_as: None,
        }
    }

    /// Tells one field, if that is all that is asked for.
    fn tell<T>(
        &self,
        name: &'static str,
        left_out: LeftOut,
        or_none: bool,
        mut reader: impl FnMut(&'a Node, &'a Problems) -> Option<T>,
    ) -> bool {
        if self.is_asked {
            self.problems.outline().field(name, left_out, or_none, || {
                reader(&ASKED, self.problems);
            });
        }
        self.is_asked
    }

    /// What is told of a default that the reader holds.
    fn form(&self, default: &impl fmt::Debug) -> LeftOut {
        match self.left_out_as {
            Some(words) => LeftOut::Words(words),
            None => LeftOut::Form(format!("{default:?}")),
        }
    }

    /// Tells of a field that may be left out and is read by hand, by its node.
    pub fn by_hand<T>(
        &self,
        name: &'static str,
        reader: impl FnMut(&'a Node, &'a Problems) -> Option<T>,
    ) {
        let left_out = self.left_out_as.map_or(LeftOut::Nothing, LeftOut::Words);
        self.tell(name, left_out, false, reader);
    }

    /// The same of one with a default of the list.
    pub fn by_hand_usual<T, U: Usable>(
        &self,
        name: &'static str,
        usual: &'static Usual<U>,
        reader: impl FnMut(&'a Node, &'a Problems) -> Option<T>,
    ) {
        self.tell(name, LeftOut::Usual(usual), false, reader);
    }

    /// Whether the fields are only to be told: nothing is written.
    pub fn are_asked(&self) -> bool {
        self.is_asked
    }

    /// What holds where a field is left out, in words, if its reader's own default is only a stand-in.
    pub fn left_out_as(&mut self, words: Option<&'static str>) {
        self.left_out_as = words;
    }

    /// Where the problems go.
    pub fn problems(&self) -> &'a Problems {
        self.problems
    }

    /// Where the block begins, for problems of the block as a whole.
    pub fn opening(&self) -> Span {
        self.opening.clone()
    }

    /// The value of a field, if written; makes the name a valid one.
    pub fn node(&mut self, name: &'static str) -> Option<&'a Node> {
        if !self.asked.contains(&name) {
            self.asked.push(name);
        }
        self.written.get(name).map(|(_, node)| *node)
    }

    /// A field that must be there.
    pub fn required<T>(
        &mut self,
        name: &'static str,
        mut reader: impl FnMut(&'a Node, &'a Problems) -> Option<T>,
    ) -> Option<T> {
        if self.tell(name, LeftOut::Required, false, &mut reader) {
            return None;
        }
        match self.node(name) {
            Some(node) => reader(node, self.problems),
            None => {
                self.missing.push(vec![name]);
                None
            }
        }
    }

    /// A field that may be left out or be `None`, which is `Some(None)`; nothing if it is wrong.
    pub fn if_any<T>(
        &mut self,
        name: &'static str,
        mut reader: impl FnMut(&'a Node, &'a Problems) -> Option<T>,
    ) -> Option<Option<T>> {
        let mut wrong = false;
        let found = self.maybe(name, |node, problems| {
            let read = reader(node, problems);
            wrong = read.is_none();
            read
        });
        (!wrong).then_some(found)
    }

    /// A field that may be left out or be `None`. Nothing also if it is wrong.
    pub fn maybe<T>(
        &mut self,
        name: &'static str,
        mut reader: impl FnMut(&'a Node, &'a Problems) -> Option<T>,
    ) -> Option<T> {
        let left_out = self.left_out_as.map_or(LeftOut::Nothing, LeftOut::Words);
        if self.tell(name, left_out, false, &mut reader) {
            return None;
        }
        match self.node(name) {
            None
            | Some(Node {
                kind: Kind::Nothing,
                ..
            }) => None,
            Some(node) => reader(node, self.problems),
        }
    }

    /// A field with a default of the list of defaults, which also stands in for a value that is wrong. Whether the field is
    /// written is noted.
    pub fn usual<T: Usable>(
        &mut self,
        usual: &'static Usual<T>,
        mut reader: impl FnMut(&'a Node, &'a Problems) -> Option<T>,
    ) -> T {
        if self.tell(usual.about.key(), LeftOut::Usual(usual), false, &mut reader) {
            return usual.value.clone();
        }
        let path = usual.about.path;
        match self.node(usual.about.key()) {
            None => {
                let value = usual.value.clone();
                self.problems.marks().left_out(path, value.into());
            }
            Some(node) => {
                if let Some(value) = reader(node, self.problems) {
                    self.problems.marks().written(path, value.clone().into());
                    return value;
                }
            }
        }
        usual.value.clone()
    }

    /// The same of a field that means something only where another one `counts`: else it is noted only if it is written.
    pub fn usual_where<T: Usable>(
        &mut self,
        counts: bool,
        usual: &'static Usual<T>,
        reader: impl FnMut(&'a Node, &'a Problems) -> Option<T>,
    ) -> T {
        if !counts && !self.is_asked && self.node(usual.about.key()).is_none() {
            return usual.value.clone();
        }
        self.usual(usual, reader)
    }

    /// The default of a field whose whole block is left out.
    pub fn unwritten<T: Usable>(&mut self, usual: &'static Usual<T>) -> T {
        let value = usual.value.clone();
        let path = usual.about.path;
        self.problems.marks().left_out(path, value.clone().into());
        value
    }

    /// A field that must be there where its block is written, and has a default where it is not.
    pub fn needed<T: Usable>(
        &mut self,
        usual: &'static Usual<T>,
        mut reader: impl FnMut(&'a Node, &'a Problems) -> Option<T>,
    ) -> Option<T> {
        if self.tell(
            usual.about.key(),
            LeftOut::Needed(usual),
            false,
            &mut reader,
        ) {
            return None;
        }
        let value = self.required(usual.about.key(), reader)?;
        let path = usual.about.path;
        self.problems.marks().written(path, value.clone().into());
        Some(value)
    }

    /// The same of a field that `None` switches off.
    pub fn usual_or_none<T: Usable>(
        &mut self,
        usual: &'static Usual<T>,
        mut reader: impl FnMut(&'a Node, &'a Problems) -> Option<T>,
    ) -> Option<T> {
        if self.tell(usual.about.key(), LeftOut::Usual(usual), true, &mut reader) {
            return Some(usual.value.clone());
        }
        if matches!(
            self.node(usual.about.key()),
            Some(Node {
                kind: Kind::Nothing,
                ..
            })
        ) {
            let path = usual.about.path;
            self.problems.marks().written(path, Value::Nothing);
            return None;
        }
        Some(self.usual(usual, reader))
    }

    /// A field that holds nothing unless it is written, by the list of defaults. Nothing also if it is wrong.
    pub fn off<T: Shown>(
        &mut self,
        usual: &'static Usual<()>,
        mut reader: impl FnMut(&'a Node, &'a Problems) -> Option<T>,
    ) -> Option<T> {
        if self.tell(usual.about.key(), LeftOut::Usual(usual), false, &mut reader) {
            return None;
        }
        let value = self.maybe(usual.about.key(), reader);
        let path = usual.about.path;
        match &value {
            Some(value) => self.problems.marks().written(path, value.shown()),
            None if self.written.contains_key(usual.about.key()) => {}
            None => self.problems.marks().left_out(path, Value::Nothing),
        }
        value
    }

    /// A field whose default is reckoned from that of the list, and from other fields.
    pub fn usual_from<T: Usable>(
        &mut self,
        usual: &'static Usual<T>,
        mut reader: impl FnMut(&'a Node, &'a Problems) -> Option<T>,
        reckoned: T,
    ) -> T {
        if self.tell(usual.about.key(), LeftOut::Usual(usual), false, &mut reader) {
            return reckoned;
        }
        let path = usual.about.path;
        match self.node(usual.about.key()) {
            None => {
                let value = reckoned.clone().into();
                self.problems.marks().left_out(path, value);
            }
            Some(node) => {
                if let Some(value) = reader(node, self.problems) {
                    self.problems.marks().written(path, value.clone().into());
                    return value;
                }
            }
        }
        reckoned
    }

    /// A block that may be left out: its reader then finds nothing written in it and takes the defaults.
    pub fn block<T>(
        &mut self,
        name: &'static str,
        what: &'static str,
        reader: impl FnOnce(Self) -> T,
    ) -> T {
        if self.is_asked {
            let mut value = None;
            let asked = Self::asked(what, self.problems);
            self.problems
                .outline()
                .field(name, LeftOut::Words("its defaults"), false, || {
                    value = Some(reader(asked))
                });
            return value.expect("the reader has just been called");
        }
        let written = self.node(name);
        let fields = written.and_then(|node| Self::of(node, what, self.problems));
        reader(fields.unwrap_or_else(|| Self::left_out(what, self.opening(), self.problems)))
    }

    /// A field with a default, which also stands in for a value that is wrong.
    pub fn optional<T: fmt::Debug>(
        &mut self,
        name: &'static str,
        mut reader: impl FnMut(&'a Node, &'a Problems) -> Option<T>,
        default: T,
    ) -> T {
        if self.is_asked {
            self.tell(name, self.form(&default), false, &mut reader);
            return default;
        }
        self.node(name)
            .and_then(|node| reader(node, self.problems))
            .unwrap_or(default)
    }

    /// A field with a default, and another value to go on with if what is written is wrong.
    pub fn or_else<T: fmt::Debug>(
        &mut self,
        name: &'static str,
        mut reader: impl FnMut(&'a Node, &'a Problems) -> Option<T>,
        default: T,
        if_wrong: T,
    ) -> T {
        if self.is_asked {
            self.tell(name, self.form(&default), false, &mut reader);
            return default;
        }
        match self.node(name) {
            Some(node) => reader(node, self.problems).unwrap_or(if_wrong),
            None => default,
        }
    }

    /// A field with a default that `None` switches off. The default also stands in for a value that is wrong.
    pub fn or_none<T: fmt::Debug>(
        &mut self,
        name: &'static str,
        mut reader: impl FnMut(&'a Node, &'a Problems) -> Option<T>,
        default: T,
    ) -> Option<T> {
        if self.is_asked {
            self.tell(name, self.form(&default), true, &mut reader);
            return Some(default);
        }
        match self.node(name) {
            Some(Node {
                kind: Kind::Nothing,
                ..
            }) => None,
            Some(node) => Some(reader(node, self.problems).unwrap_or(default)),
            None => Some(default),
        }
    }

    /// Refuses a field by which something was written before: `now` is what says the same.
    pub fn former(&mut self, name: &'static str, now: &str) {
        if let Some((key, _)) = self.written.remove(name) {
            let title = format!("the field `{name}` of {} has another name", a(self.what));
            self.problems
                .add::<()>(Problem::new(key, title).label(format!("expected {now}")));
        }
    }

    /// Where the value of a field is written, if it is.
    pub fn place(&self, name: &str) -> Option<Span> {
        self.written.get(name).map(|(_, node)| node.span.clone())
    }

    /// That one of these fields must be there and none is.
    pub fn missing_one_of<T>(&mut self, names: [&'static str; 2]) -> Option<T> {
        self.missing.push(names.to_vec());
        None
    }

    /// The field of this block that goes by another word among people.
    fn called(&self, word: &str) -> Option<&'static str> {
        let list = match self.what {
            "block of prices" => "money",
            "list of drawn orders" | "order" => "orders",
            "driver" => "drivers",
            "truck" => "trucks",
            "plant" => "plants",
            "site" => "sites",
            _ => return None,
        };
        meant(list, word)
    }

    /// Reports fields that nobody asked for and required ones that are not there.
    pub fn finish(self) {
        // The words for what is wrong take longer to find than a block to read.
        let known = |key: &Cow<'_, str>| self.asked.contains(&key.as_ref());
        if self.foreign.is_empty() && self.missing.is_empty() && self.written.keys().all(known) {
            return;
        }
        let mut missing = self.missing.clone();
        let asked: Vec<Cow<'_, str>> = self.asked.iter().map(|name| measure::key(name).0).collect();
        let (foreign, strange): (BTreeMap<_, _>, BTreeMap<_, _>) = self
            .foreign
            .clone()
            .into_iter()
            .partition(|(us, _)| self.asked.contains(&us.as_ref()));
        for (us, (span, key)) in &foreign {
            missing.retain(|names| !names.contains(&us.as_ref()));
            self.problems
                .add::<()>(in_other_units(key, us, span.clone()));
        }
        let is_foreign = |key: &str| foreign.values().any(|(_, other)| *other == key);
        let written = self.written.iter();
        let unknown = written.filter(|(key, _)| !self.asked.contains(&key.as_ref()));
        let unknown = unknown.map(|(key, (span, _))| (measure::key(key).0, span.clone()));
        let strange = strange.values().filter(|_| measure::is_si());
        let strange = strange.map(|(span, key)| (Cow::Borrowed(*key), span.clone()));
        for (key, span) in unknown.chain(strange) {
            // A plant's table has columns of its own.
            if is_foreign(&key) || self.problems.ignore(&span) {
                continue;
            }
            let shown = shortened(&key);
            let mut problem = Problem::new(
                span.clone(),
                format!("unknown field `{shown}` in {}", a(self.what)),
            )
            .label(format!("expected a field of {}", a(self.what)));
            let names = asked.iter().zip(&self.asked);
            let free = names.filter(|(_, name)| !self.written.contains_key(**name));
            let free: Vec<(&str, &'static str)> =
                free.map(|(told, name)| (told.as_ref(), *name)).collect();
            let called = self.called(&key);
            let called = free.iter().find(|(_, name)| Some(*name) == called);
            let near = nearest(&key, free.iter().map(|(told, _)| *told));
            if let Some((told, name)) = called {
                problem = problem.help(format!("`{shown}` is called `{told}` here"));
                missing.retain(|names| !names.contains(name));
            } else if let Some(near) = near {
                if !span.is_empty() {
                    problem = problem.replace(
                        span.clone(),
                        near,
                        format!("a field with a similar name exists: `{near}`"),
                    );
                }
                // A required field that is misspelt is not missing besides.
                missing.retain(|names| names.iter().all(|name| measure::key(name).0 != near));
            }
            let names: Vec<&str> = asked.iter().map(AsRef::as_ref).collect();
            self.problems
                .add::<()>(problem.help(format!("the fields are {}", listed(&names))));
        }
        if !missing.is_empty() {
            let told = |name: &&'static str| measure::key(name).0;
            let names: Vec<String> = missing
                .iter()
                .map(|names| names.iter().map(told).collect::<Vec<_>>().join("` or `"))
                .map(|names| format!("`{names}`"))
                .collect();
            let (fields, verb) = if names.len() == 1 {
                ("field", "is")
            } else {
                ("fields", "are")
            };
            let names = names.join(", ");
            self.problems.add::<()>(
                Problem::new(
                    self.opening,
                    format!("{fields} {names} {verb} missing in {}", a(self.what)),
                )
                .label(format!("expected {names} in the block that begins here")),
            );
        }
    }

    /// The same where what is wrong leaves open which other fields there are: of fields that nobody has asked for only those are told that
    /// are a missing one, misspelt.
    pub fn finish_in_part(mut self) {
        let missing: Vec<&str> = self.missing.iter().flatten().copied().collect();
        let asked = &self.asked;
        self.written.retain(|key, _| {
            asked.contains(&key.as_ref()) || nearest(key, missing.iter().copied()).is_some()
        });
        self.foreign.clear();
        self.finish();
    }
}

/// That a field is written in the other system of units than the scenario.
fn in_other_units(key: &str, us: &str, span: Span) -> Problem {
    match measure::key(us) {
        (si, Some(quantity)) => Problem::new(
            span,
            format!("this scenario is in SI, and `{key}` is in US units"),
        )
        .label(format!("expected `{si}`, in {}", quantity.unit())),
        (us, None) => Problem::new(
            span,
            format!("this scenario is in US units, and `{key}` is in SI"),
        )
        .label(format!(
            "expected `{us}`, or `units: si` at the top of the scenario"
        )),
    }
}
