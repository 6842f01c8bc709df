//! Numbers as people at the bench read them. What comes out is for eyes only; nothing is computed from it.

use jiff::civil::Date;
use sparkout_core::quantity::Length;
use sparkout_core::reading::{EntryUnit, LengthKind, Reading, Units};

use crate::screen::Language;

/// Between groups of three digits, and between a figure and its unit.
const THIN_SPACE: char = '\u{2009}';
const MINUS: char = '−';

/// The unit's sign.
pub const fn unit_sign(unit: EntryUnit) -> &'static str {
    match unit {
        EntryUnit::Inch => "in",
        EntryUnit::Thou => "thou",
        EntryUnit::Millimetre => "mm",
    }
}

/// The sign of the unit that lengths of this kind are shown in.
pub const fn sign_of(kind: LengthKind, units: Units) -> &'static str {
    unit_sign(units.entry_unit(kind))
}

const fn decimals(kind: LengthKind, unit: EntryUnit) -> usize {
    match (kind, unit) {
        (LengthKind::Size, EntryUnit::Inch) | (LengthKind::Fine, EntryUnit::Millimetre) => 3,
        (LengthKind::Fine, EntryUnit::Inch) => 4,
        (_, EntryUnit::Thou) => 1,
        (LengthKind::Size, EntryUnit::Millimetre) => 2,
    }
}

fn value_in(length: Length, unit: EntryUnit) -> f64 {
    match unit {
        EntryUnit::Inch => length.inches(),
        EntryUnit::Thou => length.thou(),
        EntryUnit::Millimetre => length.mm(),
    }
}

fn minus(text: &str) -> String {
    text.replace('-', &MINUS.to_string())
}

/// A computed length without sign and unit.
pub fn plain(length: Length, kind: LengthKind, units: Units) -> String {
    let unit = units.entry_unit(kind);
    format!("{:.*}", decimals(kind, unit), value_in(length, unit).abs())
}

/// A difference: always with its sign, without unit. What rounds to nothing has none.
pub fn signed(length: Length, units: Units) -> String {
    let unit = units.entry_unit(LengthKind::Fine);
    let places = decimals(LengthKind::Fine, unit);
    let text = format!("{:+.places$}", value_in(length, unit));
    if text[1..].bytes().all(|byte| matches!(byte, b'0' | b'.')) {
        return text[1..].to_owned();
    }
    minus(&text)
}

/// A computed length with its unit, without sign.
pub fn with_unit(length: Length, kind: LengthKind, units: Units) -> String {
    format!("{} {}", plain(length, kind, units), sign_of(kind, units))
}

/// A difference with sign and unit.
pub fn signed_with_unit(length: Length, units: Units) -> String {
    format!("{} {}", signed(length, units), sign_of(LengthKind::Fine, units))
}

/// An uncertainty without unit, rounded up as on the label: neither claims more than was proved.
pub fn uncertainty(u95: Length, units: Units) -> String {
    sparkout_core::label::figures::uncertainty(u95, units)
}

/// A reading as it was taken: no decimal is lost, and no fewer are shown than the unit's usual ones.
pub fn reading(reading: Reading, kind: LengthKind, units: Units) -> String {
    let unit = units.entry_unit(kind);
    let usual = decimals(kind, unit);
    let mut text = format!("{:.6}", value_in(reading.length(), unit));
    while text.ends_with('0') && text.split('.').nth(1).is_some_and(|part| part.len() > usual) {
        text.pop();
    }
    minus(&text)
}

/// A reading with its unit.
pub fn reading_with_unit(value: Reading, kind: LengthKind, units: Units) -> String {
    format!("{} {}", reading(value, kind, units), sign_of(kind, units))
}

/// A reading of a dial or an indicator, with its sign.
pub fn signed_reading(value: Reading, units: Units) -> String {
    let text = reading(value, LengthKind::Fine, units);
    if value.nanometres() > 0 { format!("+{text}") } else { text }
}

/// A whole number in groups of three.
pub fn grouped(value: f64) -> String {
    let digits = format!("{:.0}", value.abs());
    let mut text = String::new();
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index).is_multiple_of(3) {
            text.push(THIN_SPACE);
        }
        text.push(digit);
    }
    if value < 0.0 { format!("{MINUS}{text}") } else { text }
}

/// Minutes and seconds.
pub fn minutes_seconds(seconds: u64) -> String {
    format!("{:02}:{:02}", seconds / 60, seconds % 60)
}

/// A date in the person's language, such as `14 May 2026`.
pub fn date(date: Date, language: Language) -> String {
    const ENGLISH: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    const SPANISH: [&str; 12] = ["ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sep", "oct", "nov", "dic"];
    let months = match language {
        Language::English => ENGLISH,
        Language::Spanish => SPANISH,
    };
    let month = usize::try_from(date.month()).ok().and_then(|month| months.get(month.wrapping_sub(1)));
    format!("{} {} {}", date.day(), month.unwrap_or(&"?"), date.year())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_units_and_groups() {
        let rezero = Length::from_inches(0.00078);
        assert_eq!(signed(rezero, Units::Thou), "+0.8");
        assert_eq!(signed(-rezero, Units::Inch), "−0.0008");
        assert_eq!(signed(Length::from_inches(0.000001), Units::Thou), "0.0");
        assert_eq!(with_unit(Length::from_inches(4.998), LengthKind::Size, Units::Thou), "4.998 in");
        assert_eq!(with_unit(Length::from_mm(126.95), LengthKind::Size, Units::Metric), "126.95 mm");
        assert_eq!(grouped(5419.2), "5\u{2009}419");
        assert_eq!(grouped(-12.0), "−12");
        assert_eq!(minutes_seconds(72), "01:12");
    }

    #[test]
    fn readings_keep_every_decimal() {
        let fine = Reading::from_nanometres(127_510_540);
        assert_eq!(reading(fine, LengthKind::Size, Units::Inch), "5.0201");
        assert_eq!(reading(fine, LengthKind::Size, Units::Metric), "127.51054");
        assert_eq!(signed_reading(Reading::from_nanometres(660_400), Units::Thou), "+26.0");
        assert_eq!(signed_reading(Reading::from_nanometres(-152_400), Units::Thou), "−6.0");
        assert_eq!(signed_reading(Reading::ZERO, Units::Inch), "0.0000");
    }
}
