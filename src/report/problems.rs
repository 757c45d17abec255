//! The problems of a text, each with file, line, column, the line itself, what was expected and the nearest valid name.

use std::ops::Range;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Level, Origin, Patch, Renderer, Snippet};

use super::stderr;
use crate::scenario::problem::{Faults, Problem, line_column};

/// More than these on a screen help nobody.
const SHOWN: usize = 20;
/// Of a line that goes on longer than this behind a problem, in bytes, the end is not drawn.
const REST_OF_LINE: usize = 200;
/// A line that is longer than this before a problem is drawn from near the problem on.
const LONG_LINE: usize = 20_000;
/// Places that are farther away than this, in bytes, are named by their line instead of drawn.
const FAR: usize = 100_000;

/// Draws the first problems as text without colour.
pub fn plain(faults: &Faults) -> String {
    draw(faults, &Renderer::plain())
}

/// Draws the first problems to standard error; in colour only if that is a terminal that takes it.
pub fn print(faults: &Faults) {
    stderr::say_as_is(&draw(faults, &Renderer::styled()));
}

fn draw(faults: &Faults, renderer: &Renderer) -> String {
    let renderer = renderer.clone().decor_style(DecorStyle::Ascii);
    let mut text = String::new();
    for problem in faults.problems.iter().take(SHOWN) {
        text += one(faults, problem, &renderer).trim_end();
        text += "\n\n";
    }
    let left = faults.problems.len().saturating_sub(SHOWN) + faults.more;
    if left > 0 {
        text += &format!("and {left} more\n");
    }
    text
}

fn one(faults: &Faults, problem: &Problem, renderer: &Renderer) -> String {
    let (name, text, problem) = faults.told(problem);
    let problem = &problem;
    let window = Window::around(text, problem);
    let main = AnnotationKind::Primary
        .span(window.place(&problem.span))
        .label(&problem.label);
    let (near, far): (Vec<_>, Vec<_>) = problem
        .also
        .iter()
        .partition(|(span, _)| window.holds(span));
    let also = near.into_iter().map(|(span, label)| {
        AnnotationKind::Context
            .span(window.place(span))
            .label(label)
    });
    let title = Level::ERROR.primary_title(&problem.title);
    let mut error = if window.whole_lines {
        title.element(
            window
                .snippet()
                .path(name)
                .annotation(main)
                .annotations(also),
        )
    } else {
        // The column within a piece of a line would be wrong, so the place is given apart.
        let (line, column) = line_column(text, problem.span.start);
        let origin = Origin::path(name).line(line).char_column(column);
        title
            .element(origin)
            .element(window.snippet().annotation(main).annotations(also))
    };
    for (span, label) in far {
        let (line, column) = line_column(text, span.start);
        error =
            error.element(Level::NOTE.message(format!("{label}: line {line}, column {column}")));
    }
    for help in &problem.help {
        error = error.element(Level::HELP.message(help));
    }
    // A changed line is drawn in full, so a long one is not.
    let (drawn, told) = match &problem.suggestion {
        Some(change) if window.is_long() => (None, Some(change)),
        change => (change.as_ref(), None),
    };
    if let Some(change) = told {
        error = error.element(Level::HELP.message(&change.why));
    }
    let mut groups = vec![error];
    if let Some(change) = drawn {
        let patch = Patch::new(window.place(&change.span), change.text.as_str());
        groups.push(
            Level::HELP
                .secondary_title(&change.why)
                .element(window.snippet().patch(patch)),
        );
    }
    renderer.render(&groups)
}

/// The part of a text that is drawn for one problem.
struct Window<'a> {
    text: &'a str,
    start: usize,
    /// Number of its first line in the file.
    line: usize,
    /// Whether it is made of whole lines; else of a piece of one that is too long.
    whole_lines: bool,
}

impl<'a> Window<'a> {
    /// The lines of a problem and of the places near it that explain it.
    fn around(text: &'a str, problem: &Problem) -> Self {
        let at = text.floor_char_boundary(problem.span.start);
        // A mark of the encoding is no character of the first line.
        let first = if text.starts_with('\u{feff}') {
            '\u{feff}'.len_utf8()
        } else {
            0
        };
        let line_start = |at: usize| {
            text[..at]
                .rfind('\n')
                .map_or(first, |end| end + 1)
                .max(first)
        };
        let line_end = |at: usize| text[at..].find('\n').map_or(text.len(), |end| at + end);
        let (mut start, mut end) = (line_start(at), line_end(at));
        if start == text.len() && start > first {
            // At the end of the file the last line with something on it shows best what is not finished.
            start = line_start(text.trim_end().len().max(first));
        }
        let whole_lines = at.saturating_sub(start) <= LONG_LINE;
        if end > at + REST_OF_LINE {
            end = text.floor_char_boundary(at + REST_OF_LINE);
        }
        if whole_lines {
            for (span, _) in &problem.also {
                let there = text.floor_char_boundary(span.start);
                let (from, to) = (line_start(there), line_end(there));
                if from.abs_diff(start) < FAR && to - from <= LONG_LINE {
                    start = start.min(from);
                    // The cut end of the line stays cut.
                    end = if from > end { to } else { end };
                }
            }
        } else {
            start = text.ceil_char_boundary(at.saturating_sub(REST_OF_LINE / 2));
        }
        Self {
            text: &text[start..end],
            start,
            line: line_column(text, start).0,
            whole_lines,
        }
    }

    /// Whether a line in it goes on for longer than anybody reads.
    fn is_long(&self) -> bool {
        self.text.lines().any(|line| line.len() > REST_OF_LINE)
    }

    fn snippet<T: Clone>(&self) -> Snippet<'a, T> {
        Snippet::source(self.text).line_start(self.line).fold(true)
    }

    fn holds(&self, span: &Range<usize>) -> bool {
        span.start >= self.start && span.start <= self.start + self.text.len()
    }

    /// A span of the file in the window: not past its end, nor past the end of its first line, nor inside a character.
    fn place(&self, span: &Range<usize>) -> Range<usize> {
        let start = self
            .text
            .floor_char_boundary(span.start.saturating_sub(self.start));
        let end = self
            .text
            .ceil_char_boundary(span.end.saturating_sub(self.start))
            .max(start);
        let line_end = self.text[start..]
            .find(['\n', '\r'])
            .map_or(self.text.len(), |end| start + end);
        start..end.min(line_end).max(start)
    }
}
