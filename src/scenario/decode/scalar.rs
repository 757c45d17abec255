//! Single values: names, prose, flags and numbers.

use super::super::problem::{Problem, Problems, breaks_line, turns_writing};
use super::super::tree::{Kind, Node, Span};
use super::{Limits, cell, described, found_instead, quoted, wrong_kind};

/// Longest name, in characters.
const LONGEST_NAME: usize = 200;
/// Longest prose, in characters.
const LONGEST_PROSE: usize = 4_000;

/// A value and where it is written, for checks that come later.
#[derive(Clone, Debug, PartialEq)]
pub struct Spanned<T> {
    /// The value.
    pub value: T,
    /// Where it is written.
    pub span: Span,
}

/// What `reader` gives, with its place.
pub fn spanned<T>(
    reader: impl Fn(&Node, &Problems) -> Option<T>,
) -> impl Fn(&Node, &Problems) -> Option<Spanned<T>> {
    move |node, problems| {
        Some(Spanned {
            value: reader(node, problems)?,
            span: node.span.clone(),
        })
    }
}

/// A name: a text on one line, not empty, without the blanks around it.
pub fn name(node: &Node, problems: &Problems) -> Option<String> {
    let text = text(
        node,
        "a name in quotes",
        LONGEST_NAME,
        |c| !c.is_control() && !breaks_line(c) && !turns_writing(c),
        problems,
    )?;
    if text.is_empty() {
        return problems
            .add(Problem::new(node.span.clone(), "the name is empty").label("expected a name"));
    }
    Some(text)
}

/// Prose of any number of lines; may be empty.
pub fn prose(node: &Node, problems: &Problems) -> Option<String> {
    text(
        node,
        "a text in quotes",
        LONGEST_PROSE,
        |c| (!c.is_control() && !turns_writing(c)) || "\n\r\t".contains(c),
        problems,
    )
}

fn text(
    node: &Node,
    expected: &str,
    longest: usize,
    allowed: fn(char) -> bool,
    problems: &Problems,
) -> Option<String> {
    let Some(text) = node.text() else {
        return wrong_kind(node, expected, problems);
    };
    let text = text.trim();
    let length = text.chars().count();
    if length > longest {
        return problems.add(
            Problem::new(
                node.span.clone(),
                format!("a text of {length} characters is too long"),
            )
            .label(format!("expected at most {longest} characters")),
        );
    }
    if let Some(refused) = text.chars().find(|c| !allowed(*c)) {
        return problems.add(unprintable(refused, quoted(text), node.span.clone()));
    }
    Some(text.to_owned())
}

/// What is said of a character that shows nothing of itself, in a text as it is quoted.
pub(in crate::scenario) fn unprintable(refused: char, text: String, span: Span) -> Problem {
    let code = refused.escape_unicode();
    if turns_writing(refused) {
        let title = format!("a mark that turns the direction of writing, {code}, in {text}");
        return Problem::new(span, title)
            .label("expected the text without it: letters of every script keep their direction");
    }
    Problem::new(span, format!("the control character {code} in {text}"))
        .label("expected letters, digits and signs that can be printed")
}

/// `true` or `false`.
pub fn flag(node: &Node, problems: &Problems) -> Option<bool> {
    let value = match &node.kind {
        Kind::Bool(value) => Some(*value),
        Kind::Cell { text, .. } => cell::flag(text),
        _ => None,
    };
    value.or_else(|| wrong_kind(node, "`true` or `false`", problems))
}

/// A finite number within limits.
pub fn number(limits: Limits) -> impl Fn(&Node, &Problems) -> Option<f64> + Copy {
    move |node, problems| match cell::number(node) {
        Some(written) => {
            let value = limits.heard(written);
            if limits.hold(value) {
                return Some(value);
            }
            refuse(node, written, &limits, problems)
        }
        None => found_instead(node, "a number", &limits.to_string(), problems),
    }
}

/// A whole number within limits; their ends are whole and below 2^53.
pub fn whole(limits: Limits) -> impl Fn(&Node, &Problems) -> Option<u32> + Copy {
    move |node, problems| match cell::number(node) {
        None if node.is_asked() => {
            problems.outline().value(format_args!("{limits}, whole"));
            None
        }
        Some(value) if limits.hold(value) && value.fract() == 0.0 => Some(value as u32),
        Some(value) if limits.hold(value) => problems.add(
            Problem::new(node.span.clone(), format!("{value} is not a whole number"))
                .label(format!("expected {limits}")),
        ),
        Some(value) => refuse(node, value, &limits, problems),
        None => found_instead(node, "a whole number", &limits.to_string(), problems),
    }
}

fn refuse<T>(node: &Node, value: f64, limits: &Limits, problems: &Problems) -> Option<T> {
    let title = if value.is_nan() {
        "`NaN` is not a number".to_owned()
    } else if value.is_infinite() {
        "the number is infinite or too large to hold".to_owned()
    } else {
        format!("{} is out of range", described(node))
    };
    problems.add(Problem::new(node.span.clone(), title).label(format!("expected {limits}")))
}
