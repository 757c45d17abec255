//! What every page of ours has: one file with its fonts and style, that loads nothing and runs no script.

use super::fonts;
use maud::{DOCTYPE, Markup, PreEscaped, html};

const STYLE: &str = include_str!("compare/page.css");
/// Nothing is loaded from anywhere, and no script runs.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:";

/// A page with this title and content, as HTML text.
pub(super) fn document(title: &str, content: &Markup) -> String {
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(POLICY);
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style { (PreEscaped(fonts::css())) (PreEscaped(STYLE)) }
            }
            body { main { (content) } }
        }
    };
    markup.into_string()
}
