//! PNG from a chart's SVG, with the embedded font: no font of the system is looked at.

use resvg::{tiny_skia, usvg};

use super::text::{BOLD, REGULAR};

/// Why a chart could not be made into a PNG.
#[derive(Debug, thiserror::Error)]
#[error("the chart cannot be drawn as PNG: {0}")]
pub struct PngError(String);

/// The PNG of an SVG chart, `scale` times as large in each direction (2 for print and fine screens).
///
/// # Errors
/// If the SVG cannot be read, or the picture would be empty or too large for memory.
pub fn png(svg: &str, scale: f32) -> Result<Vec<u8>, PngError> {
    let mut options = usvg::Options::default();
    let fonts = options.fontdb_mut();
    fonts.load_font_data(REGULAR.to_vec());
    fonts.load_font_data(BOLD.to_vec());
    fonts.set_sans_serif_family("Inter");
    let tree = usvg::Tree::from_str(svg, &options).map_err(|error| PngError(error.to_string()))?;
    let mut picture = tree
        .size()
        .to_int_size()
        .scale_by(scale)
        .and_then(|size| tiny_skia::Pixmap::new(size.width(), size.height()))
        .ok_or_else(|| PngError(format!("no picture at scale {scale}")))?;
    let transform = tiny_skia::Transform::from_scale(scale, scale);
    resvg::render(&tree, transform, &mut picture.as_mut());
    picture
        .encode_png()
        .map_err(|error| PngError(error.to_string()))
}
