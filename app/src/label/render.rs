//! A label drawn as a one-bit raster: the text in a column on the left, the code at the right edge.

use super::bitmap::{Bitmap, DotRect};
use super::code;
use super::error::{LabelError, LineName};
use super::fit::{Fitted, Line};
use super::layout::LabelLayout;
use super::typeset::{self, Faces};
use crate::store::keys::StationKey;
use ab_glyph::FontRef;
use sparkout_core::label::{
    HubAddress, LabelContent, LabelLanguage, LabelText, LabelVerdict, encode_signed_url, encode_url,
};
use sparkout_core::quantity::Length;

/// White kept at the label's edges: a roll wanders by about this much.
const MARGIN: Length = Length::from_mm(1.3);
/// The height that the sizes of type below are meant for; larger labels have larger type.
const DESIGN_HEIGHT: Length = Length::from_mm(29.0);
/// The share of the width that the code may take.
const CODE_SHARE_MOST: f64 = 0.55;
/// The most white between two lines, ems of the smallest line.
const LEADING_MOST: Length = Length::from_mm(1.1);

/// A drawn label.
#[derive(Debug, Clone)]
pub struct Drawn {
    /// The raster.
    pub bitmap: Bitmap,
    /// The address that its code holds.
    pub url: String,
    /// What each line covers, frame included.
    pub boxes: Vec<(LineName, DotRect)>,
    /// The code with its quiet zone.
    pub code: DotRect,
    /// Dots across one module.
    pub module_dots: i32,
}

/// Draws a label that nobody signs.
///
/// # Errors
/// [`LabelError`] when the content cannot stand on a label, or not on one of this size: with what is too long and how much fits.
pub fn render(content: &LabelContent, hub: &HubAddress, layout: &LabelLayout) -> Result<Drawn, LabelError> {
    drawn(content, encode_url(content, hub)?, layout)
}

/// Draws a label whose record a station signs.
///
/// # Errors
/// As [`render`].
pub fn render_signed(
    content: &LabelContent,
    hub: &HubAddress,
    layout: &LabelLayout,
    key: &StationKey,
) -> Result<Drawn, LabelError> {
    let url = encode_signed_url(content, hub, &key.public_key(), |text| key.sign(text))?;
    drawn(content, url, layout)
}

fn drawn(content: &LabelContent, url: String, layout: &LabelLayout) -> Result<Drawn, LabelError> {
    let (width, height) = layout.dots()?;
    let qr = code::smallest(&url)?;
    let room = height.min((f64::from(width) * CODE_SHARE_MOST) as i32);
    let module_dots = code::dots_a_module(&qr, room, layout)?;
    let side = code::modules_across(&qr) * module_dots;

    let mut bitmap = Bitmap::blank(width as u32, height as u32, layout.dots_per_inch);
    let code = code::draw(&mut bitmap, &qr, width - side, (height - side) / 2, module_dots);
    let margin = layout.exact_dots(MARGIN).ceil() as i32;
    let column = DotRect { left: margin, top: margin, right: code.left, bottom: height - margin };
    let text = LabelText::new(content, layout.language, layout.units);
    let mut text = if layout.decimal_comma { text.with_decimal_comma() } else { text };
    if layout.practice {
        // An open frame, and a word that no verdict is: nobody takes it for a grind's.
        text.found = LabelVerdict::WithinNotProven;
        text.verdict = match layout.language {
            LabelLanguage::English => "PRACTICE",
            LabelLanguage::Spanish => "PRÁCTICA",
        };
    }
    let boxes = draw_text(&mut bitmap, &text, column, layout)?;
    let drawn = Drawn { bitmap, url, boxes, code, module_dots };
    drawn.check()?;
    Ok(drawn)
}

impl Drawn {
    /// Lines are fitted by the pen's advance, and a slanted or accented letter may reach beyond it: what was really drawn decides.
    fn check(&self) -> Result<(), LabelError> {
        let (right, bottom) = (self.code.left, self.bitmap.height() as i32);
        let whole = |area: &DotRect| area.left >= 0 && area.top >= 0 && area.right <= right && area.bottom <= bottom;
        match self.boxes.iter().find(|(_, area)| !whole(area)) {
            Some((line, _)) => Err(LabelError::Clipped { line: *line }),
            None => Ok(()),
        }
    }
}

/// How a line is set: sizes of type in millimetres an em on the design height.
struct Style {
    name: LineName,
    bold: bool,
    em_mm: f64,
    em_least_mm: f64,
    rows_most: usize,
}

const fn style(name: LineName, bold: bool, em_mm: f64, em_least_mm: f64, rows_most: usize) -> Style {
    Style { name, bold, em_mm, em_least_mm, rows_most }
}

const TAG: Style = style(LineName::Tag, true, 7.6, 3.4, 2);
const VERDICT: Style = style(LineName::Verdict, true, 3.4, 2.1, 2);
const PLACE: Style = style(LineName::Place, true, 2.8, 2.0, 2);
const DIAMETERS: Style = style(LineName::Diameters, false, 2.8, 1.9, 1);
const CONE: Style = style(LineName::Cone, true, 2.8, 1.9, 1);
const LAND_AND_CUT: Style = style(LineName::LandAndCut, false, 2.8, 1.9, 2);
const DONE: Style = style(LineName::Done, false, 2.5, 1.9, 2);
const DUE: Style = style(LineName::Due, true, 2.8, 1.9, 1);

fn lines<'a>(text: &'a LabelText, faces: &'a Faces, layout: &LabelLayout) -> Vec<Line<'a>> {
    let enlarged = (layout.height / DESIGN_HEIGHT).value().max(1.0);
    let line = |style: Style, text: &'a str| {
        let dots = |mm: f64| layout.exact_dots(Length::from_mm(mm)) as f32;
        let framed = style.name == LineName::Verdict;
        Line {
            name: style.name,
            text,
            face: if style.bold { &faces.bold } else { &faces.regular },
            em_wanted: dots(style.em_mm * enlarged),
            em_least: dots(style.em_least_mm),
            rows_most: style.rows_most,
            frame_width: if framed { dots(2.6).ceil() as i32 } else { 0 },
            frame_height: if framed { dots(0.8).ceil() as i32 } else { 0 },
            white_below: if framed { dots(0.4).ceil() as i32 } else { 0 },
            // A tag is capitals and figures: it needs less air than words with descenders.
            row_pitch: if style.name == LineName::Tag { 0.95 } else { 1.14 },
        }
    };
    let mut lines = vec![line(TAG, &text.tag), line(VERDICT, text.verdict), line(PLACE, &text.place)];
    // Where no reel was taped there is neither.
    let taped = [line(CONE, &text.cone), line(DIAMETERS, &text.diameters)];
    lines.extend(taped.into_iter().filter(|line| !line.text.is_empty()));
    lines.extend(text.land_and_cut.as_ref().map(|text| line(LAND_AND_CUT, text)));
    lines.push(line(DONE, &text.done));
    lines.extend(text.due.as_ref().map(|text| line(DUE, text)));
    lines
}

fn draw_text(
    bitmap: &mut Bitmap,
    text: &LabelText,
    column: DotRect,
    layout: &LabelLayout,
) -> Result<Vec<(LineName, DotRect)>, LabelError> {
    let faces = Faces::embedded()?;
    let lines = lines(text, &faces, layout);
    for line in &lines {
        if let Some(character) = typeset::missing(line.face, line.text) {
            return Err(LabelError::NoGlyph { line: line.name, character });
        }
    }
    let fitted = fitted(&lines, column, layout)?;
    let taken: f32 = lines.iter().zip(&fitted).map(|(line, fitted)| line.height(fitted)).sum();
    let gaps = (lines.len() - 1).max(1) as f32;
    let leading = ((column.height() as f32 - taken) / gaps).min(layout.exact_dots(LEADING_MOST) as f32).max(0.0);
    let mut top = column.top as f32 + (column.height() as f32 - taken - leading * gaps).max(0.0) / 2.0;
    let mut boxes = Vec::new();
    for (line, fitted) in lines.iter().zip(&fitted) {
        let area = DotRect { top: top.round() as i32, bottom: (top + line.height(fitted)).round() as i32, ..column };
        boxes.extend(draw_line(bitmap, line, fitted, area, text.found, layout).map(|drawn| (line.name, drawn)));
        top += line.height(fitted) + leading;
    }
    Ok(boxes)
}

/// All lines at the largest common shrinking at which they fit the column's height.
pub(super) fn fitted(lines: &[Line<'_>], column: DotRect, layout: &LabelLayout) -> Result<Vec<Fitted>, LabelError> {
    let mut needed = 0.0;
    for percent in (40..=100).rev().step_by(4) {
        let shrunk = percent as f32 / 100.0;
        let fitted = lines.iter().map(|line| line.fitted(column.width(), shrunk)).collect::<Result<Vec<_>, _>>()?;
        needed = lines.iter().zip(&fitted).map(|(line, fitted)| line.height(fitted)).sum::<f32>();
        if needed <= column.height() as f32 {
            return Ok(fitted);
        }
    }
    let (needed, available) = (layout.length(needed.ceil() as i32), layout.length(column.height()));
    Err(LabelError::NoRoomForText { needed, available })
}

fn draw_line(
    bitmap: &mut Bitmap,
    line: &Line<'_>,
    fitted: &Fitted,
    area: DotRect,
    found: LabelVerdict,
    layout: &LabelLayout,
) -> Option<DotRect> {
    let framed = line.name == LineName::Verdict;
    let filled = framed && found == LabelVerdict::Proven;
    let area = DotRect { bottom: area.bottom - line.white_below, ..area };
    let mut drawn = framed.then(|| draw_frame(bitmap, area, filled, layout));
    let cap = typeset::cap_height(line.face, fitted.em);
    let pitch = fitted.em * line.row_pitch;
    let first_base = area.top as f32 + line.frame_height as f32 / 2.0 + (pitch + cap) / 2.0;
    for (row, text) in fitted.rows.iter().enumerate() {
        let base = (first_base + pitch * row as f32).round() as i32;
        let left = area.left + if framed { line.frame_width * 2 / 5 } else { -bearing(line.face, fitted.em, text) };
        let ink = typeset::draw(bitmap, line.face, fitted.em, text, (left, base), !filled);
        drawn = match (drawn, ink) {
            (Some(drawn), Some(ink)) => Some(drawn.around(ink)),
            (drawn, ink) => drawn.or(ink),
        };
    }
    drawn
}

/// Proven is a filled bar, not proven an open one: the shape tells it where the words are too small.
fn draw_frame(bitmap: &mut Bitmap, area: DotRect, filled: bool, layout: &LabelLayout) -> DotRect {
    // The frame ends two thirds of a millimetre before the code's quiet zone, or a reader may take it for a part of the code.
    let frame = DotRect { right: area.right - layout.exact_dots(Length::from_mm(0.6)).ceil() as i32, ..area };
    bitmap.fill(frame, true);
    if !filled {
        let stroke = layout.exact_dots(Length::from_mm(0.3)).ceil() as i32;
        let inside = DotRect {
            left: frame.left + stroke,
            top: frame.top + stroke,
            right: frame.right - stroke,
            bottom: frame.bottom - stroke,
        };
        bitmap.fill(inside, false);
    }
    frame
}

/// White before the first letter, so that large and small lines begin at the same column.
fn bearing(face: &FontRef<'static>, em: f32, text: &str) -> i32 {
    let first: String = text.chars().take(1).collect();
    typeset::draw(&mut Bitmap::blank(1, 1, 1), face, em, &first, (0, 0), true).map_or(0, |ink| ink.left.max(0))
}

#[cfg(test)]
pub(crate) use tests::content as tests_content;
#[cfg(test)]
mod tests;
