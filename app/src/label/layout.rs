//! How large a label is, and how finely it prints.

use super::bitmap::Bitmap;
use super::error::LabelError;
use sparkout_core::label::LabelLanguage;
use sparkout_core::quantity::{Length, MM_PER_INCH};
use sparkout_core::reading::Units;

/// The least size of a label either way.
const LEAST: Length = Length::from_mm(12.0);
/// The most: a sheet of A4 is 297 mm long.
const MOST: Length = Length::from_mm(300.0);
const DOTS_PER_INCH_LEAST: u32 = 150;
const DOTS_PER_INCH_MOST: u32 = 1200;

/// A label's size, resolution, language and units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LabelLayout {
    /// Across.
    pub width: Length,
    /// Down.
    pub height: Length,
    /// The printer's own resolution, 150 to 1200.
    pub dots_per_inch: u32,
    /// The language of its words.
    pub language: LabelLanguage,
    /// The units of its figures.
    pub units: Units,
    /// Made in practice: it says so where the verdict would stand.
    pub practice: bool,
    /// Whether its figures are written with a decimal comma.
    pub decimal_comma: bool,
}

impl Default for LabelLayout {
    /// 62 x 29 mm at 203 dpi, English, inches.
    fn default() -> Self {
        Self {
            width: Length::from_mm(62.0),
            height: Length::from_mm(29.0),
            dots_per_inch: 203,
            language: LabelLanguage::English,
            units: Units::Inch,
            practice: false,
            decimal_comma: false,
        }
    }
}

impl LabelLayout {
    /// Columns and rows: whole dots that lie within the label.
    ///
    /// # Errors
    /// [`LabelError::Size`] or [`LabelError::Resolution`] when they are out of range.
    pub(super) fn dots(&self) -> Result<(i32, i32), LabelError> {
        if !(DOTS_PER_INCH_LEAST..=DOTS_PER_INCH_MOST).contains(&self.dots_per_inch) {
            let dots_per_inch = self.dots_per_inch;
            return Err(LabelError::Resolution { dots_per_inch, least: DOTS_PER_INCH_LEAST, most: DOTS_PER_INCH_MOST });
        }
        let fits = |length: Length| length >= LEAST && length <= MOST;
        if !fits(self.width) || !fits(self.height) {
            return Err(LabelError::Size { width: self.width, height: self.height, least: LEAST, most: MOST });
        }
        Ok((self.exact_dots(self.width).floor() as i32, self.exact_dots(self.height).floor() as i32))
    }

    /// A blank raster of this size.
    ///
    /// # Errors
    /// As [`LabelLayout::dots`].
    pub fn blank(&self) -> Result<Bitmap, LabelError> {
        let (width, height) = self.dots()?;
        Ok(Bitmap::blank(width as u32, height as u32, self.dots_per_inch))
    }

    /// A length in dots, not rounded.
    pub(super) fn exact_dots(&self, length: Length) -> f64 {
        length.mm() / MM_PER_INCH * f64::from(self.dots_per_inch)
    }

    /// A number of dots as a length.
    pub(super) fn length(&self, dots: i32) -> Length {
        Length::from_inches(f64::from(dots) / f64::from(self.dots_per_inch))
    }
}
