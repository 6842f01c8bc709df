//! Reading a label's code back from its raster: what was drawn counts only when it reads as what was meant.

use super::bitmap::Bitmap;
use super::error::LabelError;

/// White added around the picture, dots: the search needs some around the code, and a label's edge may be the code's.
const BORDER: i32 = 16;
/// How often each dot is taken: some codes of few dots a module are found only enlarged.
const ENLARGEMENTS: [i32; 3] = [1, 2, 3];
/// Pictures above this many dots are not enlarged: a photograph would fill the memory.
const DOTS_ENLARGED_MOST: i64 = 4_000_000;

/// The text of the QR code in a picture, also where single dots are wrong, as in the picture of a worn label.
///
/// # Errors
/// [`LabelError::NoCode`] when none can be read.
pub fn read_back(bitmap: &Bitmap) -> Result<String, LabelError> {
    read_as_is(bitmap).or_else(|_| read_as_is(&despeckled(bitmap)))
}

/// Whether the code in a raster reads as what was meant. Nothing is smoothed for it: a printer gets the raster as it is.
///
/// # Errors
/// [`LabelError::NoCode`] or [`LabelError::ReadsDifferently`].
pub fn proof(bitmap: &Bitmap, meant: &str) -> Result<(), LabelError> {
    if read_as_is(bitmap)? == meant { Ok(()) } else { Err(LabelError::ReadsDifferently) }
}

/// The texts of all QR codes in a picture, as it is. A page may hold several.
///
/// # Errors
/// [`LabelError::NoCode`] when there is none, or one that cannot be read.
pub fn codes_in(bitmap: &Bitmap) -> Result<Vec<String>, LabelError> {
    let fits = |times: &&i32| **times == 1 || dots_of(bitmap) * i64::from(**times).pow(2) <= DOTS_ENLARGED_MOST;
    let read = |times: &i32| {
        let texts: Option<Vec<String>> = grids(bitmap, *times).into_iter().collect();
        texts.filter(|texts| !texts.is_empty())
    };
    ENLARGEMENTS.iter().filter(fits).find_map(read).ok_or(LabelError::NoCode)
}

fn dots_of(bitmap: &Bitmap) -> i64 {
    i64::from(bitmap.width()) * i64::from(bitmap.height())
}

fn read_as_is(bitmap: &Bitmap) -> Result<String, LabelError> {
    if dots_of(bitmap) == 0 {
        return Err(LabelError::NoCode);
    }
    let fits = |times: &&i32| **times == 1 || dots_of(bitmap) * i64::from(**times).pow(2) <= DOTS_ENLARGED_MOST;
    ENLARGEMENTS.iter().filter(fits).find_map(|times| searched(bitmap, *times)).ok_or(LabelError::NoCode)
}

/// Each dot as most of the nine around it: specks go, modules of three dots and more keep their middles.
fn despeckled(bitmap: &Bitmap) -> Bitmap {
    let mut smooth = Bitmap::blank(bitmap.width(), bitmap.height(), bitmap.dots_per_inch());
    for y in 0..bitmap.height() as i32 {
        for x in 0..bitmap.width() as i32 {
            let around = (-1..=1).flat_map(|down| (-1..=1).map(move |across| (x + across, y + down)));
            smooth.set(x, y, around.filter(|(x, y)| bitmap.is_dark(*x, *y)).count() >= 5);
        }
    }
    smooth
}

fn searched(bitmap: &Bitmap, times: i32) -> Option<String> {
    grids(bitmap, times).into_iter().flatten().next()
}

/// What looks like a code, and its text where it can be read.
fn grids(bitmap: &Bitmap, times: i32) -> Vec<Option<String>> {
    let (border, times, columns) = (BORDER as usize, times as usize, bitmap.width() as usize);
    let luma = bitmap.luma();
    let dot = |place: usize, dots: u32| {
        place.checked_sub(border).map(|inner| inner / times).filter(|dot| *dot < dots as usize)
    };
    let value = |x: usize, y: usize| match (dot(x, bitmap.width()), dot(y, bitmap.height())) {
        (Some(x), Some(y)) => luma[y * columns + x],
        (None, _) | (_, None) => 255,
    };
    let enlarged = |dots: u32| dots as usize * times + 2 * border;
    let (width, height) = (enlarged(bitmap.width()), enlarged(bitmap.height()));
    let mut picture = rqrr::PreparedImage::prepare_from_greyscale(width, height, value);
    picture.detect_grids().iter().map(|grid| grid.decode().ok().map(|(_, text)| text)).collect()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::super::code;
    use super::*;
    use sparkout_core::label::{LabelRefusal, decode_url};

    fn picture(text: &str, dots: i32) -> Bitmap {
        let qr = code::smallest(text).unwrap();
        let side = (code::modules_across(&qr) * dots) as u32;
        let mut bitmap = Bitmap::blank(side, side, 203);
        code::draw(&mut bitmap, &qr, 0, 0, dots);
        bitmap
    }

    #[test]
    fn any_code_is_read_and_only_a_label_is_taken() {
        for dots in 1..=8 {
            let read = read_back(&picture("HELLO", dots)).unwrap();
            assert_eq!(read, "HELLO", "{dots} dots");
            assert_eq!(decode_url(&read), Err(LabelRefusal::NotALabel));
        }
    }

    #[test]
    fn a_large_code_is_read_too() {
        let text = "HTTPS://HUB.EXAMPLE/L/".to_owned() + &"A7".repeat(300);
        assert_eq!(read_back(&picture(&text, 3)).unwrap(), text);
    }

    /// A small generator of its own (xorshift), so that a failure comes again.
    fn random(state: &mut u64) -> u64 {
        *state ^= *state << 13;
        *state ^= *state >> 7;
        *state ^= *state << 17;
        *state
    }

    #[test]
    fn pictures_of_anything_do_no_harm() {
        let mut state = 0x2545_f491_4f6c_dd1d;
        for _ in 0..300 {
            let (width, height) = (1 + random(&mut state) % 90, 1 + random(&mut state) % 90);
            let (share, coarse) = (random(&mut state) % 100, 1 + (random(&mut state) % 6) as i32);
            let mut bitmap = Bitmap::blank(width as u32, height as u32, 203);
            for (x, y) in (0..height as i32).flat_map(|y| (0..width as i32).map(move |x| (x, y))) {
                let cell = bitmap.is_dark(x - x % coarse, y - y % coarse);
                let corner = x % coarse == 0 && y % coarse == 0;
                bitmap.set(x, y, if corner { random(&mut state) % 100 < share } else { cell });
            }
            let _ = read_back(&bitmap);
        }
    }

    #[test]
    fn a_few_specks_do_not_matter() {
        let text = "HTTPS://HUB.EXAMPLE/L/".to_owned() + &"A7".repeat(75);
        let clean = picture(&text, 4);
        let mut state = 0x9e37_79b9_7f4a_7c15;
        let read = (0..20).filter(|_| {
            let mut specked = clean.clone();
            for place in 0..(clean.width() * clean.height()) as i32 {
                let (x, y) = (place % clean.width() as i32, place / clean.width() as i32);
                if random(&mut state) % 100 < 3 {
                    specked.set(x, y, !clean.is_dark(x, y));
                }
            }
            read_back(&specked).is_ok_and(|read| read == text)
        });
        let read = read.count();
        assert!(read >= 18, "{read} of 20");
    }
}
