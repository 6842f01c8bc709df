//! The QR code: one alphanumeric segment, the smallest version that holds it at level M, and the best correction
//! that this version still has room for (ISO/IEC 18004).

use super::bitmap::{Bitmap, DotRect};
use super::error::LabelError;
use super::layout::LabelLayout;
use qrcode::bits::Bits;
use qrcode::types::QrError;
use qrcode::{Color, EcLevel, QrCode, Version};
use sparkout_core::quantity::Length;

/// The light border on every side, in modules (ISO/IEC 18004, section 9.1 in the edition of 2015, from memory).
pub(super) const QUIET_MODULES: i32 = 4;
/// Below three dots a thermal head blurs modules into each other.
const DOTS_LEAST: i32 = 3;
/// Below this a phone and a greasy label do not go together.
const MODULE_LEAST: Length = Length::from_mm(0.33);
/// Above this a larger module helps no reader and takes the room of the text.
const MODULE_MOST: Length = Length::from_mm(0.65);

const LARGEST_VERSION: i16 = 40;
const ALPHANUMERIC: &str = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

/// The smallest code for an address.
pub(super) fn smallest(address: &str) -> Result<QrCode, LabelError> {
    if let Some(character) = address.chars().find(|character| !ALPHANUMERIC.contains(*character)) {
        return Err(LabelError::NotAlphanumeric { character });
    }
    let too_long = LabelError::AddressTooLong { characters: address.len() };
    for version in (1..=LARGEST_VERSION).map(Version::Normal) {
        let best = [EcLevel::H, EcLevel::Q, EcLevel::M]
            .into_iter()
            .find_map(|level| bits(address, version, level).ok().map(|bits| (bits, level)));
        if let Some((bits, level)) = best {
            return QrCode::with_bits(bits, level).map_err(|_| too_long);
        }
    }
    Err(too_long)
}

/// One alphanumeric segment and the terminator, or an error when this version has no room for it. The library's own choice of segments
/// would put long runs of digits into segments of their own and save next to nothing.
fn bits(address: &str, version: Version, level: EcLevel) -> Result<Bits, QrError> {
    let mut bits = Bits::new(version);
    bits.push_alphanumeric_data(address.as_bytes())?;
    bits.push_terminator(level)?;
    Ok(bits)
}

/// The modules across, quiet zone included.
pub(super) fn modules_across(code: &QrCode) -> i32 {
    i32::try_from(code.width()).unwrap_or(i32::MAX / 2) + 2 * QUIET_MODULES
}

/// Dots a module: as many as the room allows up to 0.65 mm, and never below three dots or 0.33 mm.
pub(super) fn dots_a_module(code: &QrCode, room_dots: i32, layout: &LabelLayout) -> Result<i32, LabelError> {
    dots_a_module_up_to(code, room_dots, layout, MODULE_MOST)
}

/// The same with another largest module.
pub(super) fn dots_a_module_up_to(
    code: &QrCode,
    room_dots: i32,
    layout: &LabelLayout,
    module_most: Length,
) -> Result<i32, LabelError> {
    let least = DOTS_LEAST.max(layout.exact_dots(MODULE_LEAST).ceil() as i32);
    let most = least.max(layout.exact_dots(module_most).floor() as i32);
    let across = modules_across(code);
    let dots = most.min(room_dots / across);
    if dots < least {
        let (needed, available) = (layout.length(across * least), layout.length(room_dots));
        return Err(LabelError::NoRoomForCode { needed, available });
    }
    Ok(dots)
}

/// Draws the code with its quiet zone and gives the rectangle of both.
pub(super) fn draw(bitmap: &mut Bitmap, code: &QrCode, left: i32, top: i32, dots: i32) -> DotRect {
    let side = modules_across(code) * dots;
    let area = DotRect { left, top, right: left + side, bottom: top + side };
    bitmap.fill(area, false);
    for (place, color) in code.to_colors().into_iter().enumerate() {
        if color == Color::Light {
            continue;
        }
        let module = |index: usize| i32::try_from(index).unwrap_or(0) + QUIET_MODULES;
        let (x, y) = (left + module(place % code.width()) * dots, top + module(place / code.width()) * dots);
        bitmap.fill(DotRect { left: x, top: y, right: x + dots, bottom: y + dots }, true);
    }
    area
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn version_of(characters: usize) -> (Version, EcLevel) {
        let code = smallest(&"A".repeat(characters)).unwrap();
        (code.version(), code.error_correction_level())
    }

    /// ISO/IEC 18004, table 7, alphanumeric capacity at M: 122 in version 5, 154 in 6, 178 in 7, 221 in 8, 262 in 9. In byte mode the same
    /// texts would need larger versions, so this also shows the mode.
    #[test]
    fn smallest_version_at_level_m() {
        let table =
            [(122, 5), (123, 6), (154, 6), (155, 7), (178, 7), (179, 8), (221, 8), (222, 9), (262, 9), (263, 10)];
        for (characters, version) in table {
            assert_eq!(version_of(characters).0, Version::Normal(version), "{characters}");
        }
    }

    /// ISO/IEC 18004, table 7: version 8 holds 157 at Q and 122 at H, version 7 holds 125 at Q.
    #[test]
    fn correction_is_raised_where_there_is_room() {
        // 10 characters are held by version 1 at H (table 7, from memory).
        assert_eq!(version_of(10), (Version::Normal(1), EcLevel::H));
        assert_eq!(version_of(14), (Version::Normal(1), EcLevel::Q));
        assert_eq!(version_of(20), (Version::Normal(1), EcLevel::M));
        assert_eq!(version_of(21), (Version::Normal(2), EcLevel::Q));
    }

    /// ISO/IEC 18004, table 2: mode indicator 0010 is alphanumeric.
    #[test]
    fn one_alphanumeric_segment() {
        let digits = "HTTPS://HUB/L/00000000000000000000";
        let bytes = bits(digits, Version::Normal(5), EcLevel::M).unwrap().into_bytes();
        assert_eq!(bytes[0] >> 4, 0b0010);
        // 9 bits of length after 4 of mode: 34 characters.
        assert_eq!((u16::from(bytes[0] & 0x0f) << 5) | u16::from(bytes[1] >> 3), 34);
    }

    #[test]
    fn what_the_mode_cannot_hold() {
        assert!(matches!(smallest("https"), Err(LabelError::NotAlphanumeric { character: 'h' })));
        assert!(matches!(smallest(&"A".repeat(5000)), Err(LabelError::AddressTooLong { characters: 5000 })));
    }

    /// Sizes in print as the makers of the symbology give and as computed from 25.4 mm (2026).
    #[test]
    fn whole_dots_and_never_too_small() {
        let version_8 = smallest(&"A".repeat(221)).unwrap();
        let dots = |dots_per_inch, room_mm| {
            let layout = LabelLayout { dots_per_inch, ..LabelLayout::default() };
            dots_a_module(&version_8, layout.exact_dots(Length::from_mm(room_mm)).floor() as i32, &layout)
        };
        assert_eq!(dots(203, 29.0).unwrap(), 4);
        assert_eq!(dots(203, 28.0).unwrap(), 3);
        assert_eq!(dots(203, 60.0).unwrap(), 5);
        assert!(matches!(dots(203, 21.0), Err(LabelError::NoRoomForCode { .. })));
        assert_eq!(dots(300, 29.0).unwrap(), 6);
        assert_eq!(dots(300, 20.0).unwrap(), 4);
        assert!(matches!(dots(300, 19.0), Err(LabelError::NoRoomForCode { .. })), "3 dots would be 0.254 mm");
        assert_eq!(dots(600, 29.0).unwrap(), 12);
        assert_eq!(dots(600, 20.0).unwrap(), 8);
        assert!(dots(600, 19.0).is_err());
    }
}
