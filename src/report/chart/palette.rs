//! Colours. Okabe & Ito (2008), "Color Universal Design": told apart with every common kind of colour blindness.

use plotters::style::RGBColor;

/// Text and the lines that carry meaning.
pub(super) const INK: RGBColor = RGBColor(0x1f, 0x29, 0x37);
/// Text and lines of second rank.
pub(super) const SOFT: RGBColor = RGBColor(0x5b, 0x64, 0x72);
/// Grid lines.
pub(super) const GRID: RGBColor = RGBColor(0xe5, 0xe7, 0xeb);
/// Okabe & Ito's blue: the better side.
pub(super) const BLUE: RGBColor = RGBColor(0x00, 0x72, 0xb2);
/// Okabe & Ito's vermilion: the worse side.
pub(super) const VERMILION: RGBColor = RGBColor(0xd5, 0x5e, 0x00);
/// Neither side.
pub(super) const GREY: RGBColor = RGBColor(0x8a, 0x92, 0x9e);

/// The same hue dark enough for small text on white (contrast of 4.5 to 1, WCAG 2.2 criterion 1.4.3).
pub(super) fn for_text(colour: RGBColor) -> RGBColor {
    match colour {
        BLUE => RGBColor(0x00, 0x5f, 0x96),
        VERMILION => RGBColor(0xa8, 0x4a, 0x00),
        GREY => SOFT,
        other => other,
    }
}

/// A light tint of a colour, opaque so that grid lines do not shine through.
pub(super) fn tint(colour: RGBColor) -> RGBColor {
    let lighter = |part: u8| 255 - ((255 - u16::from(part)) * 3 / 10) as u8;
    RGBColor(lighter(colour.0), lighter(colour.1), lighter(colour.2))
}

/// For things of a kind, in order; Okabe & Ito without their yellow, which is too pale on white, between a grey and the ink.
pub(super) const KINDS: [RGBColor; 8] = [
    GREY,
    BLUE,
    VERMILION,
    RGBColor(0x00, 0x9e, 0x73),
    RGBColor(0xcc, 0x79, 0xa7),
    RGBColor(0x56, 0xb4, 0xe9),
    RGBColor(0xe6, 0x9f, 0x00),
    INK,
];

/// The colour of the `n`-th thing of a kind; begins again after eight.
pub(super) fn kind(n: usize) -> RGBColor {
    KINDS[n % KINDS.len()]
}
