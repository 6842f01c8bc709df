//! Numbers as people at the bench read them. What comes out is for eyes only; nothing is computed from it.

use jiff::civil::Date;
use sparkout_core::quantity::Length;
use sparkout_core::reading::{EntryUnit, LengthKind, Reading};

use crate::locale::{Locale, Manner};

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
pub fn sign_of(kind: LengthKind, manner: impl Into<Manner>) -> &'static str {
    unit_sign(manner.into().units.entry_unit(kind))
}

/// How many decimals a computed length is shown with.
pub(crate) const fn decimals(kind: LengthKind, unit: EntryUnit) -> usize {
    match (kind, unit) {
        (LengthKind::Size, EntryUnit::Inch) | (LengthKind::Fine, EntryUnit::Millimetre) => 3,
        (LengthKind::Fine, EntryUnit::Inch) => 4,
        (_, EntryUnit::Thou) => 1,
        (LengthKind::Size, EntryUnit::Millimetre) => 2,
    }
}

pub(crate) fn value_in(length: Length, unit: EntryUnit) -> f64 {
    match unit {
        EntryUnit::Inch => length.inches(),
        EntryUnit::Thou => length.thou(),
        EntryUnit::Millimetre => length.mm(),
    }
}

/// A number written with a point and a hyphen, as it is written here.
fn written(text: &str, locale: Locale) -> String {
    text.chars()
        .map(|letter| match letter {
            '-' => MINUS,
            '.' => locale.decimal(),
            other => other,
        })
        .collect()
}

/// A number as somebody typed it, with the decimal sign that is used here.
pub fn typed(text: &str, locale: impl Into<Locale>) -> String {
    let sign = locale.into().decimal();
    text.replace(['.', ','], &sign.to_string())
}

/// A number without unit, its integer part in groups of three.
pub fn number(value: f64, places: usize, locale: impl Into<Locale>) -> String {
    let text = format!("{value:.places$}");
    let (sign, size) = text.strip_prefix('-').map_or(("", text.as_str()), |size| ("-", size));
    let whole = size.find('.').unwrap_or(size.len());
    let mut out = sign.to_owned();
    for (index, letter) in size.chars().enumerate() {
        if index > 0 && index < whole && (whole - index).is_multiple_of(3) {
            out.push(THIN_SPACE);
        }
        out.push(letter);
    }
    written(&out, locale.into())
}

/// A computed length without sign and unit.
pub fn plain(length: Length, kind: LengthKind, manner: impl Into<Manner>) -> String {
    let Manner { units, locale } = manner.into();
    let unit = units.entry_unit(kind);
    written(&format!("{:.*}", decimals(kind, unit), value_in(length, unit).abs()), locale)
}

/// A difference: always with its sign, without unit. What rounds to nothing has none.
pub fn signed(length: Length, manner: impl Into<Manner>) -> String {
    let Manner { units, locale } = manner.into();
    let unit = units.entry_unit(LengthKind::Fine);
    let places = decimals(LengthKind::Fine, unit);
    let text = format!("{:+.places$}", value_in(length, unit));
    let is_nothing = text[1..].bytes().all(|byte| matches!(byte, b'0' | b'.'));
    written(if is_nothing { &text[1..] } else { &text }, locale)
}

/// A difference between two sizes: with its sign, without unit, to the size's decimals.
pub fn signed_size(length: Length, manner: impl Into<Manner>) -> String {
    let Manner { units, locale } = manner.into();
    let unit = units.entry_unit(LengthKind::Size);
    let places = decimals(LengthKind::Size, unit);
    let text = format!("{:+.places$}", value_in(length, unit));
    let is_nothing = text[1..].bytes().all(|byte| matches!(byte, b'0' | b'.'));
    written(if is_nothing { &text[1..] } else { &text }, locale)
}

/// A computed length with its unit, without sign.
pub fn with_unit(length: Length, kind: LengthKind, manner: impl Into<Manner>) -> String {
    let manner = manner.into();
    format!("{} {}", plain(length, kind, manner), sign_of(kind, manner))
}

/// A difference with sign and unit.
pub fn signed_with_unit(length: Length, manner: impl Into<Manner>) -> String {
    let manner = manner.into();
    format!("{} {}", signed(length, manner), sign_of(LengthKind::Fine, manner))
}

/// An uncertainty without unit, rounded up as on the label: neither claims more than was proved.
pub fn uncertainty(u95: Length, manner: impl Into<Manner>) -> String {
    let Manner { units, locale } = manner.into();
    written(&sparkout_core::label::figures::uncertainty(u95, units), locale)
}

/// A reading as it was taken: no decimal is lost, and no fewer are shown than the unit's usual ones.
pub fn reading(reading: Reading, kind: LengthKind, manner: impl Into<Manner>) -> String {
    let Manner { units, locale } = manner.into();
    let unit = units.entry_unit(kind);
    let usual = decimals(kind, unit);
    let mut text = format!("{:.6}", value_in(reading.length(), unit));
    while text.ends_with('0') && text.split('.').nth(1).is_some_and(|part| part.len() > usual) {
        text.pop();
    }
    written(&text, locale)
}

/// A reading with its unit.
pub fn reading_with_unit(value: Reading, kind: LengthKind, manner: impl Into<Manner>) -> String {
    let manner = manner.into();
    format!("{} {}", reading(value, kind, manner), sign_of(kind, manner))
}

/// A reading of a dial or an indicator, with its sign.
pub fn signed_reading(value: Reading, manner: impl Into<Manner>) -> String {
    let text = reading(value, LengthKind::Fine, manner);
    if value.nanometres() > 0 { format!("+{text}") } else { text }
}

/// A whole number in groups of three.
pub fn grouped(value: f64) -> String {
    number(value, 0, Locale::default())
}

/// Minutes and seconds.
pub fn minutes_seconds(seconds: u64) -> String {
    format!("{:02}:{:02}", seconds / 60, seconds % 60)
}

/// A date in the person's language, such as `14 May 2026`: the month in letters, so that nobody reads it for the day.
pub fn date(date: Date, locale: impl Into<Locale>) -> String {
    locale.into().date(date).unwrap_or_else(|| date.to_string())
}

/// A month of a year in the person's language, such as `May 2026`.
pub fn month(date: Date, locale: impl Into<Locale>) -> String {
    locale.into().month(date).unwrap_or_else(|| date.strftime("%Y-%m").to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screen::{Language, Settings};
    use sparkout_core::reading::Units;

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

    #[test]
    fn the_decimal_sign_is_the_locale_s() {
        let settings = |region: &str| Settings {
            language: Language::Spanish,
            units: Units::Metric,
            region: region.parse().unwrap_or_default(),
            ..Settings::default()
        };
        let length = Length::from_mm(-0.0762);
        assert_eq!(signed(length, settings("AR")), "−0,076");
        assert_eq!(signed(length, settings("MX")), "−0.076");
        assert_eq!(uncertainty(Length::from_mm(0.0073), settings("ES")), "0,008");
        assert_eq!(
            reading_with_unit(Reading::from_nanometres(127_510_540), LengthKind::Size, settings("AR")),
            "127,51054 mm"
        );
        assert_eq!(number(5020.0, 1, settings("AR")), "5\u{2009}020,0");
        assert_eq!(number(-123_456.7, 0, settings("AR")), "−123\u{2009}457");
        assert_eq!(typed("5.0", settings("AR")), "5,0");
    }

    #[test]
    fn dates_have_their_month_in_letters() {
        let day = jiff::civil::date(2026, 8, 17);
        assert_eq!(date(day, Language::English), "17 Aug 2026");
        assert_eq!(date(day, Language::Spanish), "17 ago 2026");
        assert_eq!(date(jiff::civil::date(2027, 1, 1), Language::Spanish), "1 ene 2027");
    }
}
