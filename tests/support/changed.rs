//! A text with something else in it.

/// The text with each of the changes, from and to. What is changed must be there.
pub(crate) fn changed(text: &str, changes: &[(&str, &str)]) -> String {
    changes.iter().fold(text.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "the text has {from:?}");
        text.replace(from, to)
    })
}
