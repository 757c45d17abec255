//! Choices written as a bare name, `Nearest`, or as a name with contents, `IfSaves(minutes: 10)`.

use super::super::problem::{Problem, Problems, listed, nearest};
use super::super::tree::{ASKED, Kind, Node, Span};
use super::{Fields, a, found_instead, quoted, shortened};

/// What follows the name of a choice.
#[derive(Debug)]
pub struct Contents<'a> {
    name: &'static str,
    tag: Span,
    inside: Option<&'a Node>,
    problems: &'a Problems,
}

impl<'a> Contents<'a> {
    /// For a choice that is a bare name.
    pub fn bare<T>(self, value: T) -> Option<T> {
        match self.inside {
            None => Some(value),
            Some(inside) if inside.is_asked() => None,
            Some(inside) => self.problems.add(
                Problem::new(
                    inside.span.clone(),
                    format!("`{}` takes no values", self.name),
                )
                .label(format!("expected `{}` alone", self.name)),
            ),
        }
    }

    /// The values, named or in the order of `names`.
    pub fn fields(&self, names: &[&'static str]) -> Option<Fields<'a>> {
        match self.inside {
            Some(inside) => Fields::inside(inside, &self.tag, self.name, names, self.problems),
            None => self.problems.add(
                Problem::new(
                    self.tag.clone(),
                    format!("`{}` without its values", self.name),
                )
                .label(format!("expected `{}({})`", self.name, names.join(", "))),
            ),
        }
    }

    /// Whether values are written at all.
    pub fn is_bare(&self) -> bool {
        if self.inside.is_some_and(Node::is_asked) {
            self.problems.outline().may_be_bare();
        }
        self.inside.is_none()
    }

    /// The one value in the brackets, whatever it is.
    pub fn only(&self) -> Option<&'a Node> {
        match self.inside.map(|inside| &inside.kind) {
            Some(Kind::List(items)) if items.len() == 1 => items.first(),
            Some(Kind::Asked) => self.inside,
            _ => self.problems.add(
                Problem::new(
                    self.inside.map_or(&self.tag, |inside| &inside.span).clone(),
                    format!("`{}` takes one value", self.name),
                )
                .label(format!("expected `{}( … )` with one value", self.name)),
            ),
        }
    }

    /// Where the problems go.
    pub fn problems(&self) -> &'a Problems {
        self.problems
    }
}

/// A bare name out of a table; `what` says what is chosen: "bay queue".
pub fn one_of<T: Copy>(
    what: &'static str,
    table: &'static [(&'static str, T)],
) -> impl Fn(&Node, &Problems) -> Option<T> + Copy {
    move |node, problems| {
        if node.is_asked() {
            for (name, _) in table {
                problems.outline().choice(name, || ());
            }
            return None;
        }
        let (row, contents) = pick(node, what, table, problems)?;
        contents.bare(*row)
    }
}

/// Reads what stands behind a name.
type ReadContents<T> = fn(Contents<'_>) -> Option<T>;

/// A name out of a table, whose contents are read as the table says.
pub fn variant<T>(
    what: &'static str,
    table: &'static [(&'static str, ReadContents<T>)],
) -> impl Fn(&Node, &Problems) -> Option<T> + Copy {
    move |node, problems| {
        if node.is_asked() {
            for (name, read) in table {
                problems.outline().choice(name, || {
                    read(Contents {
                        name,
                        tag: node.span.clone(),
                        inside: Some(&ASKED),
                        problems,
                    });
                });
            }
            return None;
        }
        let (read, contents) = pick(node, what, table, problems)?;
        read(contents)
    }
}

/// A name with contents out of a table, or whatever else `other` reads.
pub fn variant_or<T>(
    what: &'static str,
    table: &'static [(&'static str, ReadContents<T>)],
    other: impl Fn(&Node, &Problems) -> Option<T> + Copy,
) -> impl Fn(&Node, &Problems) -> Option<T> + Copy {
    move |node, problems| {
        let named = |tag: &str| table.iter().any(|(name, _)| *name == tag);
        match &node.kind {
            Kind::Asked => {
                variant(what, table)(node, problems);
                other(node, problems)
            }
            Kind::Tagged(tag, _) if named(&tag.name) => variant(what, table)(node, problems),
            _ => other(node, problems),
        }
    }
}

fn pick<'a, R>(
    node: &'a Node,
    what: &'static str,
    table: &'static [(&'static str, R)],
    problems: &'a Problems,
) -> Option<(&'static R, Contents<'a>)> {
    let names = || table.iter().map(|(name, _)| *name);
    let (written, tag, inside) = match &node.kind {
        Kind::Tag(name) => (name, node.span.clone(), None),
        Kind::Tagged(tag, inside) => (&tag.name, tag.span.clone(), Some(&**inside)),
        Kind::Cell { text, .. } => (text, node.span.clone(), None),
        Kind::Text(text) if names().any(|name| name == text) => {
            return problems.add(
                Problem::new(node.span.clone(), format!("{} in quotes", quoted(text)))
                    .label("expected the name without quotes")
                    .replace(node.span.clone(), text.as_str(), "write it without quotes"),
            );
        }
        _ => {
            return found_instead(
                node,
                &a(what),
                &format!("one of {}", listed(names())),
                problems,
            );
        }
    };
    let in_cell = matches!(node.kind, Kind::Cell { .. });
    // A cell may have blanks between the words of a name: "driving loaded".
    let bare: String = written.split([' ', '_', '-']).collect();
    let same = |name: &str| name == written || in_cell && name.eq_ignore_ascii_case(&bare);
    if let Some((name, row)) = table.iter().find(|(name, _)| same(name)) {
        return Some((
            row,
            Contents {
                name,
                tag,
                inside,
                problems,
            },
        ));
    }
    let mut problem = Problem::new(
        tag.clone(),
        format!("unknown {what} `{}`", shortened(written)),
    )
    .label(format!("expected one of {}", listed(names())));
    if let Some(near) = nearest(written, names()) {
        problem = problem.replace(tag, near, format!("a similar one exists: `{near}`"));
    }
    problems.add(problem)
}
