//! What every page of ours has: one file with its fonts and style, that loads nothing and runs no script.

use super::fonts;
use super::wrap::words;
use maud::{DOCTYPE, Markup, PreEscaped, html};

const STYLE: &str = include_str!("page.css");
/// Nothing is loaded from anywhere, and no script runs.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:";

/// A page with this title and content, as HTML text.
pub(super) fn document(title: &str, content: &Markup) -> String {
    styled(title, "", content)
}

/// The same with some more style of its own.
pub(super) fn styled(title: &str, style: &str, content: &Markup) -> String {
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(POLICY);
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style { (PreEscaped(fonts::css())) (PreEscaped(STYLE)) (PreEscaped(style)) }
            }
            body { main { (content) } }
        }
    };
    markup.into_string()
}

/// A sentence in which no amount parts from its sign, and no number from its unit, at the end of a line.
pub(super) fn unbroken(sentence: &str) -> Markup {
    html! {
        @for (place, word) in words(sentence).into_iter().enumerate() {
            @if place > 0 { " " }
            @if word.contains(['−', ' ']) { span.amount { (word) } } @else { (word) }
        }
    }
}
