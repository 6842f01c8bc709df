//! PWG raster (PWG 5102.4-2012), one bit a dot, black: one page, one copy.

use super::Page;

/// "RaS2": what a stream begins with, big-endian.
const SYNC: &[u8; 4] = b"RaS2";
const HEADER_BYTES: usize = 1796;
/// Colour space 3: black, where a 1 is ink.
const BLACK: u32 = 3;
const POINTS_PER_INCH: u32 = 72;
/// The most times a row, and a byte in it, is repeated by one count (4.4 of the standard).
const ROW_REPEATS_MOST: usize = 256;
const RUN_MOST: usize = 128;

/// The page as a PWG raster stream of type `black_1`.
pub fn black_1(page: &Page) -> Vec<u8> {
    let rows = page.bitmap.dark_rows();
    let mut out = Vec::from(SYNC);
    out.extend_from_slice(&header(page));
    let mut at = 0;
    while at < rows.len() {
        let same = rows[at..].iter().take(ROW_REPEATS_MOST).take_while(|row| **row == rows[at]).count();
        // 0 is once.
        out.push((same - 1) as u8);
        pack(&rows[at], &mut out);
        at += same;
    }
    out
}

/// Runs of one byte as count less one and the byte; bytes that differ as 257 less their number and the bytes.
fn pack(row: &[u8], out: &mut Vec<u8>) {
    let mut at = 0;
    while at < row.len() {
        let run = row[at..].iter().take(RUN_MOST).take_while(|byte| **byte == row[at]).count();
        if run > 1 {
            out.extend([(run - 1) as u8, row[at]]);
            at += run;
            continue;
        }
        let pairs = row[at..].windows(2).take(RUN_MOST);
        let mut differ = pairs.take_while(|pair| pair[0] != pair[1]).count();
        if at + differ + 1 == row.len() {
            // The last byte has no neighbour to differ from.
            differ = (differ + 1).min(RUN_MOST);
        }
        let differ = differ.max(1);
        if differ == 1 {
            out.extend([0, row[at]]);
        } else {
            out.push((257 - differ) as u8);
            out.extend_from_slice(&row[at..at + differ]);
        }
        at += differ;
    }
}

fn header(page: &Page) -> [u8; HEADER_BYTES] {
    let (width, height, dpi) = (page.bitmap.width(), page.bitmap.height(), page.bitmap.dots_per_inch());
    let mut header = [0_u8; HEADER_BYTES];
    header[..9].copy_from_slice(b"PwgRaster");
    let points = |dots: u32| (dots * POINTS_PER_INCH).div_ceil(dpi.max(1));
    let fields = [
        (276, dpi),
        (280, dpi),
        // One copy, of one page.
        (340, 1),
        (352, points(width)),
        (356, points(height)),
        (372, width),
        (376, height),
        (384, 1),
        (388, 1),
        (392, width.div_ceil(8)),
        (400, BLACK),
        (420, 1),
        (452, 1),
        // Neither mirrored nor turned.
        (456, 1),
        (460, 1),
        // The whole raster is the image.
        (472, width),
        (476, height),
        (480, 0x00ff_ffff),
    ];
    for (at, value) in fields {
        header[at..at + 4].copy_from_slice(&value.to_be_bytes());
    }
    let size = format!(
        "custom_label_{}x{}mm",
        f64::from(page.width_hundredths()) / 100.0,
        f64::from(page.height_hundredths()) / 100.0
    );
    header[1732..1732 + size.len()].copy_from_slice(size.as_bytes());
    header
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::super::tests::page;
    use super::*;
    use crate::label::bitmap::Bitmap;
    use proptest::prelude::*;

    /// Takes a stream apart by the standard's text; nothing of the encoder is used.
    fn decoded(stream: &[u8]) -> Vec<Vec<u8>> {
        let number = |at: usize| u32::from_be_bytes(stream[4 + at..8 + at].try_into().unwrap()) as usize;
        let (height, bytes) = (number(376), number(392));
        let mut rest = &stream[4 + HEADER_BYTES..];
        let mut rows = Vec::new();
        let mut next = || {
            let byte = rest[0];
            rest = &rest[1..];
            byte
        };
        while rows.len() < height {
            let times = usize::from(next()) + 1;
            let mut row = Vec::new();
            while row.len() < bytes {
                match next() {
                    count @ 0..=127 => {
                        let byte = next();
                        row.extend(std::iter::repeat_n(byte, usize::from(count) + 1));
                    }
                    count => row.extend((0..257 - usize::from(count)).map(|_| next()).collect::<Vec<u8>>()),
                }
            }
            assert_eq!(row.len(), bytes);
            rows.extend(std::iter::repeat_n(row, times));
        }
        assert!(rest.is_empty());
        rows
    }

    #[test]
    fn every_row_comes_back() {
        let page = page();
        assert_eq!(decoded(&black_1(&page)), page.bitmap.dark_rows());
        let blank = Page { name: String::new(), bitmap: Bitmap::blank(495, 600, 203) };
        let stream = black_1(&blank);
        assert_eq!(decoded(&stream), blank.bitmap.dark_rows());
        assert!(stream.len() < HEADER_BYTES + 30, "{} bytes for a blank page", stream.len());
    }

    /// PWG 5102.4-2012, table 1: where its fields stand.
    #[test]
    fn fields_of_the_header() {
        let stream = black_1(&page());
        let number = |at: usize| u32::from_be_bytes(stream[4 + at..8 + at].try_into().unwrap());
        assert_eq!(&stream[..13], b"RaS2PwgRaster");
        assert_eq!((number(276), number(372), number(376), number(392)), (203, 495, 231, 62));
        assert_eq!((number(384), number(388), number(400), number(420)), (1, 1, 3, 1));
        assert!(stream[4 + 1732..].starts_with(b"custom_label_62x29mm\0"));
    }

    proptest! {
        #[test]
        fn any_raster_comes_back(width in 1_u32..300, height in 1_u32..40, dots in proptest::collection::vec(any::<bool>(), 1..4000)) {
            let mut bitmap = Bitmap::blank(width, height, 203);
            for place in 0..(width * height) as usize {
                bitmap.set((place as u32 % width) as i32, (place as u32 / width) as i32, dots[place % dots.len()]);
            }
            let page = Page { name: String::new(), bitmap };
            prop_assert_eq!(decoded(&black_1(&page)), page.bitmap.dark_rows());
        }
    }
}
