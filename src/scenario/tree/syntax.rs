//! What the `ron` crate says about broken syntax, in words for people who write scenarios.

use std::ops::Range;

use ron::error::{Position, SpannedError};

use super::super::problem::{Problem, visible};
use super::pieces::{Piece, Pieces};

/// The one problem of a text that is not RON. `base` is where the part that was read starts in the text.
pub(super) fn problem(text: &str, base: usize, error: &SpannedError) -> Problem {
    use ron::Error as E;
    let part = &text[base..];
    let at = base + place(part, &error.span.end);
    // The parser often stops at the blank before what is wrong.
    let at = at + text[at..].len() - text[at..].trim_start().len();
    let word = word_at(text, at);
    let found = if word.is_empty() {
        "the end of the file".to_owned()
    } else {
        format!("`{}`", visible(word, 40))
    };
    let here = at..at + word.len();
    let expected = |what: &str| {
        (
            format!("expected {what}, found {found}"),
            format!("expected {what}"),
        )
    };
    let empty = text.trim_start_matches('\u{feff}').trim().is_empty();
    let (title, label) = match &error.code {
        _ if empty => (
            "the file is empty".to_owned(),
            "expected a scenario: `( … )`".to_owned(),
        ),
        E::ExceededRecursionLimit => (
            "brackets stand inside each other too deeply".to_owned(),
            format!("expected at most {} levels", super::DEEPEST),
        ),
        E::ExpectedComma => expected("a comma or the end of the list"),
        E::ExpectedArrayEnd => expected("`]`"),
        E::ExpectedMapEnd => expected("`}`"),
        E::ExpectedStructLikeEnd | E::ExpectedOptionEnd => expected("`)`"),
        E::ExpectedMapColon => expected("`:` after the name"),
        E::ExpectedIdentifier | E::InvalidIdentifier(_) | E::SuggestRawIdentifier(_) => {
            expected("a field's name")
        }
        E::ExpectedStringEnd => (
            "a text does not end".to_owned(),
            "expected a closing `\"`".to_owned(),
        ),
        E::UnclosedBlockComment => (
            "a comment does not end".to_owned(),
            "expected `*/`".to_owned(),
        ),
        E::TrailingCharacters => (
            format!("{found} after the end of the scenario"),
            "expected nothing more".to_owned(),
        ),
        E::Eof => expected("more: something is not closed"),
        E::UnexpectedChar(_) => expected("a value"),
        code => (
            format!("{found} cannot be read"),
            lower_first(&code.to_string()),
        ),
    };
    let scan = Scan::of(text, at);
    let here = match (&error.code, scan.text, scan.comment) {
        _ if empty => 0..0,
        (E::ExceededRecursionLimit, ..) => scan.bracket.map_or(here, |open| open..open + 1),
        (E::ExpectedStringEnd, Some(start), _) => start..start + 1,
        (E::UnclosedBlockComment, _, Some(start)) => start..start + 2,
        _ => here,
    };
    let mut problem = Problem::new(here.clone(), title).label(label);
    if let Some(open) = scan.bracket.filter(|open| *open != here.start) {
        problem = problem.also(open..open + 1, "inside the bracket that opens here");
    }
    if let Some(start) = scan.long_text.filter(|start| *start != here.start) {
        let label = "this text goes on over the end of its line: is its closing `\"` missing?";
        problem = problem.also(start..start + 1, label);
    }
    problem
}

/// The byte of a line and a column (in characters), both from 1.
fn place(text: &str, position: &Position) -> usize {
    let start = match position.line {
        0 | 1 => 0,
        line => text
            .match_indices('\n')
            .nth(line - 2)
            .map_or(text.len(), |(end, _)| end + 1),
    };
    text[start..]
        .char_indices()
        .nth(position.col.saturating_sub(1))
        .map_or(text.len(), |(at, _)| start + at)
}

/// The letters and digits that start here, or else one character.
fn word_at(text: &str, at: usize) -> &str {
    let rest = &text[at..];
    let end = rest
        .find(|c: char| !c.is_alphanumeric() && c != '_')
        .unwrap_or(rest.len());
    let end = if end == 0 {
        rest.chars().next().map_or(0, char::len_utf8)
    } else {
        end
    };
    &rest[..end]
}

fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_lowercase().chain(letters).collect()
    })
}

/// What is open at a place. Only hints for a text that is broken anyway: the grammar is `ron`'s.
#[derive(Default)]
struct Scan {
    /// The innermost bracket that is not closed.
    bracket: Option<usize>,
    /// A text in quotes that is not closed.
    text: Option<usize>,
    /// A comment that is not closed.
    comment: Option<usize>,
    /// The last text, if it is closed on a later line than it begins.
    long_text: Option<usize>,
}

impl Scan {
    fn of(text: &str, until: usize) -> Self {
        let mut scan = Self::default();
        let mut open = Vec::new();
        for (Range { start, end }, piece) in Pieces::of(&text[..until]) {
            match piece {
                Piece::Letter('(' | '[' | '{') => open.push(start),
                Piece::Letter(')' | ']' | '}') => _ = open.pop(),
                Piece::Letter(_) => {}
                Piece::Text { closed: true } => {
                    scan.long_text = text[start..end].contains('\n').then_some(start);
                }
                Piece::Text { closed: false } => scan.text = Some(start),
                Piece::Comment { closed } => scan.comment = (!closed).then_some(start),
            }
        }
        scan.bracket = open.pop();
        scan
    }
}
