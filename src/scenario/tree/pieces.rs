//! A text in RON as a row of comments, texts in quotes and single letters. Only to explain a text that is broken anyway: the grammar
//! is the `ron` crate's.

use super::Span;

/// What stands at a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Piece {
    /// A character outside of comments and texts.
    Letter(char),
    /// A text with its quotes.
    Text {
        /// Whether it ends.
        closed: bool,
    },
    /// A comment.
    Comment {
        /// Whether it ends.
        closed: bool,
    },
}

/// The pieces of a text, in order.
#[derive(Clone, Debug)]
pub(super) struct Pieces<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Pieces<'a> {
    /// From the start of a text on.
    pub(super) fn of(text: &'a str) -> Self {
        Self { text, at: 0 }
    }

    /// Goes on from this byte.
    pub(super) fn go_on_from(&mut self, at: usize) {
        self.at = at;
    }
}

impl Iterator for Pieces<'_> {
    type Item = (Span, Piece);

    fn next(&mut self) -> Option<Self::Item> {
        let rest = &self.text[self.at..];
        let letter = rest.chars().next()?;
        let (length, piece) = if letter == '"' {
            let end = end_of_text(rest);
            let closed = end.is_some();
            (end.unwrap_or(rest.len()), Piece::Text { closed })
        } else if rest.starts_with("//") {
            let end = rest.find('\n').map_or(rest.len(), |end| end + 1);
            (end, Piece::Comment { closed: true })
        } else if let Some(inside) = rest.strip_prefix("/*") {
            let end = inside.find("*/").map(|end| end + 4);
            let closed = end.is_some();
            (end.unwrap_or(rest.len()), Piece::Comment { closed })
        } else {
            (letter.len_utf8(), Piece::Letter(letter))
        };
        let start = self.at;
        self.at += length;
        Some((start..self.at, piece))
    }
}

/// Bytes from an opening quote to behind the closing one.
fn end_of_text(rest: &str) -> Option<usize> {
    let mut letters = rest.char_indices().skip(1);
    while let Some((at, letter)) = letters.next() {
        match letter {
            '\\' => _ = letters.next(),
            '"' => return Some(at + 1),
            _ => {}
        }
    }
    None
}
