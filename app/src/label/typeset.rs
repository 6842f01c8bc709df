//! Text in dots: measured and drawn with the embedded typefaces, thresholded to one bit.

use super::bitmap::{Bitmap, DotRect};
use super::error::LabelError;
use ab_glyph::{Font, FontRef, Glyph, PxScale, ScaleFont, point};
use sparkout_ui::fonts;

/// How much of a dot an outline must cover for the dot to print. Below one half, thin strokes hold together at 203 dpi.
const COVERAGE_LEAST: f32 = 0.45;

/// The typefaces of a label.
pub(super) struct Faces {
    /// For words.
    pub regular: FontRef<'static>,
    /// For what matters.
    pub bold: FontRef<'static>,
}

impl Faces {
    /// The embedded ones.
    pub fn embedded() -> Result<Self, LabelError> {
        let face = |bytes| FontRef::try_from_slice(bytes).map_err(|_| LabelError::Typeface);
        Ok(Self { regular: face(fonts::NEXT_REGULAR)?, bold: face(fonts::NEXT_BOLD)? })
    }
}

/// The size of type in dots an em. `ab_glyph` scales by ascent and descent together, which differs between typefaces.
fn scale(face: &FontRef<'_>, em_dots: f32) -> PxScale {
    PxScale::from(em_dots * face.height_unscaled() / face.units_per_em().unwrap_or(1000.0))
}

/// The first character that a typeface does not have.
pub(super) fn missing(face: &FontRef<'_>, text: &str) -> Option<char> {
    text.chars().find(|character| face.glyph_id(*character).0 == 0)
}

/// Height of capitals above the base line, in dots.
pub(super) fn cap_height(face: &FontRef<'_>, em_dots: f32) -> f32 {
    let bounds = glyphs(face, em_dots, "H", 0, 0).pop().and_then(|glyph| face.outline_glyph(glyph));
    bounds.map_or(em_dots * 0.7, |outlined| -outlined.px_bounds().min.y)
}

/// Columns that a text takes from the pen's start to its end.
pub(super) fn advance(face: &FontRef<'_>, em_dots: f32, text: &str) -> i32 {
    let scaled = face.as_scaled(scale(face, em_dots));
    text.chars().map(|character| scaled.h_advance(scaled.glyph_id(character)).round() as i32).sum()
}

/// Glyphs on whole dots, so that a letter looks the same wherever it stands.
fn glyphs(face: &FontRef<'_>, em_dots: f32, text: &str, left: i32, base: i32) -> Vec<Glyph> {
    let scale = scale(face, em_dots);
    let scaled = face.as_scaled(scale);
    let mut pen = left;
    let mut glyphs = Vec::new();
    for character in text.chars() {
        let id = scaled.glyph_id(character);
        glyphs.push(id.with_scale_and_position(scale, point(pen as f32, base as f32)));
        pen += scaled.h_advance(id).round() as i32;
    }
    glyphs
}

/// Draws a line of text, dark or light, and gives the rectangle of what was drawn, inside the picture or not.
pub(super) fn draw(
    bitmap: &mut Bitmap,
    face: &FontRef<'_>,
    em_dots: f32,
    text: &str,
    at: (i32, i32),
    dark: bool,
) -> Option<DotRect> {
    let mut ink: Option<DotRect> = None;
    for outlined in glyphs(face, em_dots, text, at.0, at.1).into_iter().filter_map(|glyph| face.outline_glyph(glyph)) {
        let origin = outlined.px_bounds().min;
        outlined.draw(|x, y, coverage| {
            if coverage < COVERAGE_LEAST {
                return;
            }
            let (x, y) = (origin.x as i32 + x as i32, origin.y as i32 + y as i32);
            bitmap.set(x, y, dark);
            let dot = DotRect { left: x, top: y, right: x + 1, bottom: y + 1 };
            ink = Some(ink.map_or(dot, |ink| ink.around(dot)));
        });
    }
    ink
}
