//! The sheets of words: the answer, the assumptions, the doubts.

use super::Answer;
use super::grid::Grid;
use crate::report::summary::DOUBTFUL;

/// A line of the first sheet: what it is, where that is not the same as in the line above, and the text.
pub(super) type Said = (&'static str, String);

/// The first sheet: what the page says in words, and what the other sheets hold.
pub(super) fn front(answer: &Answer, sheets: &[(&str, &str)], left_out: &[String]) -> Vec<Said> {
    let mut lines: Vec<Said> = Vec::new();
    let mut part = |what: &'static str, texts: Vec<String>| {
        for (at, text) in texts.into_iter().enumerate() {
            lines.push((if at == 0 { what } else { "" }, text));
        }
    };
    let one = |text: &str| match text {
        "" => Vec::new(),
        text => vec![text.to_owned()],
    };
    let owned = |texts: Vec<&str>| texts.into_iter().map(str::to_owned).collect();
    part("Scenario", one(&answer.title));
    part("About", one(&answer.about));
    part("Decision", one(&answer.decision));
    part("Also", owned(answer.sentences()));
    let list = sheets
        .iter()
        .map(|(name, about)| format!("{name}: {about}"));
    part("Sheets", list.chain(left_out.iter().cloned()).collect());
    part("How to read it", answer.notes.clone());
    part("What is not modeled", answer.not_modeled.clone());
    part("Cautions", answer.cautions.clone());
    part("How to get it again", one(&answer.recipe));
    part(
        "By",
        vec![format!("plantday {}", env!("CARGO_PKG_VERSION"))],
    );
    lines
}

/// What was assumed.
pub(super) fn assumptions(answer: &Answer) -> Grid {
    let rows = answer.assumptions.iter();
    Grid::of_text(
        &["what", "here", "whose", "where the usual value comes from"],
        rows.map(|row| vec![row.what.as_str(), &row.here, row.whose, &row.source]),
    )
}

/// What is legal and may not be meant.
pub(super) fn doubts(answer: &Answer) -> Grid {
    Grid::of_text(
        &[DOUBTFUL],
        answer.doubts.iter().map(|doubt| vec![doubt.as_str()]),
    )
}
