//! One-bit pictures at a printer's resolution.

use super::error::LabelError;
use sparkout_core::quantity::MM_PER_INCH;

/// A rectangle in dots; `right` and `bottom` are the first dots outside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DotRect {
    /// First column.
    pub left: i32,
    /// First row.
    pub top: i32,
    /// First column beyond.
    pub right: i32,
    /// First row beyond.
    pub bottom: i32,
}

impl DotRect {
    /// Its columns.
    pub const fn width(&self) -> i32 {
        self.right - self.left
    }

    /// Its rows.
    pub const fn height(&self) -> i32 {
        self.bottom - self.top
    }

    /// The smallest rectangle around both.
    pub fn around(self, other: Self) -> Self {
        Self {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }
}

/// A one-bit picture.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bitmap {
    width: u32,
    height: u32,
    dots_per_inch: u32,
    dark: Vec<bool>,
}

/// Larger pictures are not searched for a code: a page at 600 dpi stays below.
const DOTS_MOST_EACH_WAY: u32 = 8192;

impl Bitmap {
    /// A blank picture.
    pub fn blank(width: u32, height: u32, dots_per_inch: u32) -> Self {
        Self { width, height, dots_per_inch, dark: vec![false; width as usize * height as usize] }
    }

    /// Columns.
    pub const fn width(&self) -> u32 {
        self.width
    }

    /// Rows.
    pub const fn height(&self) -> u32 {
        self.height
    }

    /// The resolution it is drawn for.
    pub const fn dots_per_inch(&self) -> u32 {
        self.dots_per_inch
    }

    /// Whether a dot prints; dots outside do not.
    pub fn is_dark(&self, x: i32, y: i32) -> bool {
        self.place(x, y).is_some_and(|place| self.dark[place])
    }

    /// Sets a dot; one outside is left.
    pub fn set(&mut self, x: i32, y: i32, dark: bool) {
        if let Some(place) = self.place(x, y) {
            self.dark[place] = dark;
        }
    }

    /// Sets all dots of a rectangle.
    pub fn fill(&mut self, area: DotRect, dark: bool) {
        for y in area.top..area.bottom {
            for x in area.left..area.right {
                self.set(x, y, dark);
            }
        }
    }

    /// What lies in a rectangle, as a picture of its own; what of it lies outside is blank.
    pub fn cut(&self, area: DotRect) -> Self {
        let side = |length: i32| u32::try_from(length).unwrap_or(0);
        let mut part = Self::blank(side(area.width()), side(area.height()), self.dots_per_inch);
        for y in 0..area.height() {
            for x in 0..area.width() {
                part.set(x, y, self.is_dark(area.left + x, area.top + y));
            }
        }
        part
    }

    fn place(&self, x: i32, y: i32) -> Option<usize> {
        let (x, y) = (u32::try_from(x).ok()?, u32::try_from(y).ok()?);
        (x < self.width && y < self.height).then(|| y as usize * self.width as usize + x as usize)
    }

    /// One byte a dot, row by row: 0 where it prints, 255 where it does not.
    pub fn luma(&self) -> Vec<u8> {
        self.dark.iter().map(|dark| if *dark { 0 } else { 255 }).collect()
    }

    /// As a PNG of one bit a dot that carries its resolution, so that a print dialogue draws it at its true size.
    ///
    /// # Errors
    /// [`LabelError::Encoding`] when the encoder refuses.
    pub fn png(&self) -> Result<Vec<u8>, LabelError> {
        let refused = |error: png::EncodingError| LabelError::Encoding { reason: error.to_string() };
        let dots_per_metre = (f64::from(self.dots_per_inch) * 1000.0 / MM_PER_INCH).round() as u32;
        let mut bytes = Vec::new();
        let mut encoder = png::Encoder::new(&mut bytes, self.width, self.height);
        encoder.set_color(png::ColorType::Grayscale);
        encoder.set_depth(png::BitDepth::One);
        encoder.set_pixel_dims(Some(png::PixelDimensions {
            xppu: dots_per_metre,
            yppu: dots_per_metre,
            unit: png::Unit::Meter,
        }));
        let mut writer = encoder.write_header().map_err(refused)?;
        writer.write_image_data(&self.light_bits()).map_err(refused)?;
        writer.finish().map_err(refused)?;
        Ok(bytes)
    }

    /// Rows of bits, each row filled up to whole bytes with 0, 1 where it prints.
    pub fn dark_rows(&self) -> Vec<Vec<u8>> {
        let byte = |dots: &[bool]| {
            dots.iter().enumerate().fold(0_u8, |byte, (place, dark)| byte | (u8::from(*dark) << (7 - place)))
        };
        let rows = self.dark.chunks(self.width.max(1) as usize);
        rows.map(|row| row.chunks(8).map(byte).collect()).collect()
    }

    /// The same as one, 1 where nothing prints (PNG's white); what fills a row up is white as well.
    fn light_bits(&self) -> Vec<u8> {
        self.dark_rows().concat().into_iter().map(|byte| !byte).collect()
    }

    /// From a PNG of any depth and colour: what is darker than half prints, what is transparent does not.
    ///
    /// # Errors
    /// [`LabelError::Picture`] when it is no PNG, is damaged, or is larger than 8192 dots either way.
    pub fn from_png(bytes: &[u8]) -> Result<Self, LabelError> {
        Self::decoded(bytes, image::ImageFormat::Png)
    }

    /// From a picture that somebody took or saved: a PNG or a JPEG (ISO/IEC 10918-1), told by its first bytes and not by its name.
    ///
    /// # Errors
    /// [`LabelError::Picture`] when it is neither, is damaged, or is larger than 8192 dots either way.
    pub fn from_picture(bytes: &[u8]) -> Result<Self, LabelError> {
        let is_jpeg = bytes.starts_with(&[0xff, 0xd8, 0xff]);
        Self::decoded(bytes, if is_jpeg { image::ImageFormat::Jpeg } else { image::ImageFormat::Png })
    }

    fn decoded(bytes: &[u8], format: image::ImageFormat) -> Result<Self, LabelError> {
        let refused = |reason: String| LabelError::Picture { reason };
        let mut reader = image::ImageReader::with_format(std::io::Cursor::new(bytes), format);
        let mut limits = image::Limits::default();
        limits.max_image_width = Some(DOTS_MOST_EACH_WAY);
        limits.max_image_height = Some(DOTS_MOST_EACH_WAY);
        reader.limits(limits);
        let picture = reader.decode().map_err(|error| refused(error.to_string()))?.to_luma_alpha8();
        let dark = picture.pixels().map(|pixel| pixel.0[0] < 128 && pixel.0[1] >= 128).collect();
        Ok(Self { width: picture.width(), height: picture.height(), dots_per_inch: resolution_of(bytes), dark })
    }
}

/// The resolution that a PNG carries, or 0 when it carries none.
fn resolution_of(bytes: &[u8]) -> u32 {
    let reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info();
    let dimensions = reader.ok().and_then(|reader| reader.info().pixel_dims);
    dimensions.map_or(0, |dimensions| match dimensions.unit {
        png::Unit::Meter => (f64::from(dimensions.xppu) * MM_PER_INCH / 1000.0).round() as u32,
        png::Unit::Unspecified => 0,
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn png_and_back() {
        let mut bitmap = Bitmap::blank(19, 5, 203);
        bitmap.fill(DotRect { left: 3, top: 1, right: 12, bottom: 4 }, true);
        bitmap.set(18, 4, true);
        bitmap.set(19, 4, true);
        bitmap.set(-1, 0, true);
        assert_eq!(Bitmap::from_png(&bitmap.png().unwrap()).unwrap(), bitmap);
        // PNG (ISO/IEC 15948), 11.3.5.3 pHYs: dots per metre; 203 dpi are 7992.
        let png = bitmap.png().unwrap();
        let at = png.windows(4).position(|bytes| bytes == b"pHYs").unwrap();
        assert_eq!(png[at + 4..at + 13], [0, 0, 0x1f, 0x38, 0, 0, 0x1f, 0x38, 1]);
    }

    #[test]
    fn what_is_no_png_is_told() {
        for bytes in [&b""[..], b"GIF89a", b"\x89PNG\r\n\x1a\n"] {
            assert!(matches!(Bitmap::from_png(bytes), Err(LabelError::Picture { .. })));
        }
    }
}
