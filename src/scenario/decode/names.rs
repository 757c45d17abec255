//! Names that a file defines in one place and uses in others.

use std::collections::BTreeMap;

use super::super::problem::{Problem, Problems, listed, nearest, within};
use super::super::tree::{Node, Span};
use super::{Spanned, a, quoted, wrong_kind};

/// The names of one kind, in the order in which they are defined.
#[derive(Debug)]
pub struct Names {
    what: &'static str,
    defined: Vec<(String, Span)>,
    positions: BTreeMap<String, usize>,
    incomplete: bool,
}

impl Names {
    /// No names yet; `what` they are, in the singular: "plant".
    pub fn of(what: &'static str) -> Self {
        Self {
            what,
            defined: Vec::new(),
            positions: BTreeMap::new(),
            incomplete: false,
        }
    }

    /// Adds a name; a second use of it is a problem.
    pub fn define(&mut self, name: &Spanned<String>, problems: &Problems) {
        if let Some(first) = self.positions.get(&name.value) {
            problems.add::<()>(
                Problem::new(
                    name.span.clone(),
                    format!("the {} {} exists already", self.what, quoted(&name.value)),
                )
                .label("expected a name of its own")
                .also(self.defined[*first].1.clone(), "first here"),
            );
        }
        self.adopt(name);
    }

    /// Adds a name whose uniqueness another table watches.
    pub fn adopt(&mut self, name: &Spanned<String>) {
        self.positions
            .entry(name.value.clone())
            .or_insert(self.defined.len());
        self.defined.push((name.value.clone(), name.span.clone()));
    }

    /// Takes down that an entry has no name that can be read: a use that finds no name may be of that one.
    pub fn unread(&mut self) {
        self.incomplete = true;
    }

    /// Whether a name that is not found may still be defined, in a place that cannot be read.
    pub fn is_incomplete(&self) -> bool {
        self.incomplete || self.is_empty()
    }

    /// The position of a name that a node gives.
    pub fn find(&self, node: &Node, problems: &Problems) -> Option<usize> {
        let Some(text) = node.text() else {
            return wrong_kind(
                node,
                &format!("the name of {} in quotes", a(self.what)),
                problems,
            );
        };
        self.find_at(text, &node.span, problems)
    }

    /// The position of a name written at a place.
    pub fn find_at(&self, text: &str, span: &Span, problems: &Problems) -> Option<usize> {
        self.look_up(text, span, |near| format!("{near:?}"), problems)
    }

    /// The position of a name that a key gives, whose span leaves out its quotes.
    pub fn find_key(&self, text: &str, span: &Span, problems: &Problems) -> Option<usize> {
        let inside = |near: &str| {
            let quoted = format!("{near:?}");
            quoted[1..quoted.len() - 1].to_owned()
        };
        self.look_up(text, span, inside, problems)
    }

    fn look_up(
        &self,
        text: &str,
        span: &Span,
        written: impl Fn(&str) -> String,
        problems: &Problems,
    ) -> Option<usize> {
        if let Some(position) = self.position(text) {
            return Some(position);
        }
        let mut problem = Problem::new(
            span.clone(),
            format!("there is no {} {}", self.what, quoted(text.trim())),
        )
        .label(format!("expected the name of {}", a(self.what)));
        let names = || self.defined.iter().map(|(name, _)| name.as_str());
        let hints = problems.deserve_hints();
        let inside = hints.then(|| within(text, names())).flatten();
        let near = (hints && inside.is_none())
            .then(|| nearest(text.trim(), names()))
            .flatten();
        if let Some(inside) = inside {
            problem = problem
                .also(
                    self.defined[self.positions[inside]].1.clone(),
                    format!("this {} exists", self.what),
                )
                .replace(
                    span.clone(),
                    written(inside),
                    format!(
                        "the name of {} stands in it: {}",
                        a(self.what),
                        quoted(inside)
                    ),
                );
            if self.what == "site" && problems.in_table(span) {
                problem = problem.help(
                    "in a scenario's text, Table(file: \"…\", sites_within: true) takes the one known site in what is written",
                );
            }
        }
        if let Some(near) = near {
            problem = problem.also(
                self.defined[self.positions[near]].1.clone(),
                format!("this {} exists", self.what),
            );
            if !span.is_empty() {
                problem = problem.replace(
                    span.clone(),
                    written(near),
                    format!("a similar name exists: {}", quoted(near)),
                );
            }
        }
        if self.is_incomplete() {
            return problems.add_consequence(problem);
        }
        problems.add(problem.help(format!("the names are {}", listed(names()))))
    }

    /// The position of a name, if it exists.
    pub fn position(&self, name: &str) -> Option<usize> {
        self.positions.get(name.trim()).copied()
    }

    /// Where the name at a position is defined.
    pub fn span(&self, position: usize) -> Span {
        self.defined[position].1.clone()
    }

    /// The name at a position.
    pub fn name(&self, position: usize) -> &str {
        &self.defined[position].0
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.defined.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.defined.is_empty()
    }
}
