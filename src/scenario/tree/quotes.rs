//! Curly quotes in place of straight ones, as word processors and messengers make them.

use super::pieces::{Piece, Pieces};
use super::{Problem, Span};
use crate::scenario::problem::visible;

const CURLY: [char; 8] = ['“', '”', '„', '‟', '‘', '’', '‚', '‛'];

/// Every pair of quotes of a broken text of which one is curly, with straight ones in their place. Curly quotes within a text in
/// straight ones are letters of it.
pub(super) fn problems(text: &str) -> Vec<Problem> {
    let mut found = Vec::new();
    let mut pieces = Pieces::of(text);
    while let Some((span, piece)) = pieces.next() {
        let pair = match piece {
            Piece::Letter(letter) if CURLY.contains(&letter) => {
                Some(opened(text, span.start, letter))
            }
            Piece::Text { .. } => closed_by_a_curly_one(text, &span),
            _ => None,
        };
        if let Some(pair) = pair {
            pieces.go_on_from(pair.end);
            found.push(problem(text, pair));
        }
    }
    found
}

/// From a curly quote to the next quote on its line, or itself alone.
fn opened(text: &str, start: usize, quote: char) -> Span {
    let inside = start + quote.len_utf8();
    let line = text[inside..].lines().next().unwrap_or_default();
    let double = ['“', '”', '„', '‟'].contains(&quote);
    let closes = |c: char| match double {
        true => c == '"' || ['“', '”', '‟'].contains(&c),
        false => c == '\'' || ['‘', '’', '‛'].contains(&c),
    };
    // An apostrophe closes nothing: a letter follows.
    let end = line.char_indices().find(|(at, c)| {
        let next = line[at + c.len_utf8()..].chars().next();
        closes(*c) && !next.is_some_and(char::is_alphanumeric)
    });
    end.map_or(start..inside, |(at, c)| start..inside + at + c.len_utf8())
}

/// Where a text that goes on over the end of its line most likely ends: at a curly quote behind which a value ends.
fn closed_by_a_curly_one(text: &str, span: &Span) -> Option<Span> {
    let whole = &text[span.clone()];
    let line = whole.lines().next().filter(|line| line.len() < whole.len());
    let line = line.unwrap_or(if whole[1..].contains('"') { "" } else { whole });
    let end = line.char_indices().find(|(at, c)| {
        let behind = line[at + c.len_utf8()..].trim_start();
        ['“', '”', '‟'].contains(c) && behind.starts_with([',', ')', ']', '}', ':'])
    });
    end.map(|(at, c)| span.start..span.start + at + c.len_utf8())
}

fn problem(text: &str, pair: Span) -> Problem {
    let written = &text[pair.clone()];
    let quote = |c: char| c == '"' || c == '\'' || CURLY.contains(&c);
    let inside = written.trim_matches(quote);
    let title = if inside.is_empty() {
        format!("`{}` is a curly quote", visible(written, 4))
    } else {
        format!("curly quotes around `{}`", visible(inside, 40))
    };
    let problem = Problem::new(pair.clone(), title).label("expected straight quotes: `\"`");
    if inside.is_empty() || inside.contains(['"', '\\']) {
        return problem;
    }
    problem.replace(pair, format!("\"{inside}\""), "with straight quotes")
}
