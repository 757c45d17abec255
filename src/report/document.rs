//! What every page of ours has: one file with its fonts and style, that loads nothing and runs no script.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use maud::{DOCTYPE, Markup, PreEscaped, html};

const STYLE: &str = include_str!("compare/page.css");
const REGULAR: &[u8] = include_bytes!("fonts/Inter-Regular.woff2");
const BOLD: &[u8] = include_bytes!("fonts/Inter-Bold.woff2");
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
                style { (PreEscaped(fonts())) (PreEscaped(STYLE)) }
            }
            body { main { (content) } }
        }
    };
    markup.into_string()
}

fn fonts() -> String {
    let face = |weight: u32, font: &[u8]| {
        format!(
            "@font-face{{font-family:Inter;font-weight:{weight};src:url(data:font/woff2;base64,{}) format('woff2')}}\n",
            STANDARD.encode(font)
        )
    };
    face(400, REGULAR) + &face(700, BOLD)
}
