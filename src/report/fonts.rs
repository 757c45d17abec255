//! The font of pages, inside the page itself (Inter, SIL Open Font License, `fonts/OFL.txt`).

use base64::Engine;
use base64::engine::general_purpose::STANDARD;

const REGULAR: &[u8] = include_bytes!("fonts/Inter-Regular.woff2");
const BOLD: &[u8] = include_bytes!("fonts/Inter-Bold.woff2");

/// Style rules that define it.
pub(super) fn css() -> String {
    let face = |weight: u32, font: &[u8]| {
        format!(
            "@font-face{{font-family:Inter;font-weight:{weight};src:url(data:font/woff2;base64,{}) format('woff2')}}\n",
            STANDARD.encode(font)
        )
    };
    face(400, REGULAR) + &face(700, BOLD)
}
