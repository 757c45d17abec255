//! Text that users wrote, made safe to show on one line.

use crate::scenario::problem::turns_writing;

/// Replaces what could move the cursor, colour a terminal, break a line or turn the reading direction by a blank.
pub(super) fn one_line(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            c if c.is_control() || turns_writing(c) => ' ',
            c => c,
        })
        .collect()
}

/// With its first letter large.
pub(super) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
