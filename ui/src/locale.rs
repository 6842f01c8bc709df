//! Where the shop is: the decimal sign and the names of months follow language and region, by the Unicode CLDR.
//!
//! The region is the shop's, not the person's: numbers on one bench are written one way in each language. Thousands are
//! parted by a thin space everywhere (ISO 80000-1, 7.3.1): comma and point would mean opposite things across a border.

use crate::screen::{Language, Settings};
use icu_datetime::DateTimeFormatter;
use icu_datetime::fieldsets::{YM, YMD};
use icu_datetime::input::Date as IcuDate;
use icu_decimal::input::Decimal;
use icu_decimal::options::DecimalFormatterOptions;
use icu_decimal::{DecimalFormatter, DecimalFormatterPreferences};
use icu_locale_core::Locale as IcuLocale;
use sparkout_core::reading::Units;
use std::cell::Cell;
use std::fmt;
use std::str::FromStr;

/// A region by its ISO 3166-1 code of two letters, such as `US`, `MX`, `AR`, `ES`.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct Region([u8; 2]);

/// Not a region's code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotARegion;

impl Default for Region {
    fn default() -> Self {
        Self(*b"US")
    }
}

impl FromStr for Region {
    type Err = NotARegion;

    fn from_str(code: &str) -> Result<Self, NotARegion> {
        let letters = <[u8; 2]>::try_from(code.as_bytes()).map_err(|_| NotARegion)?;
        if letters.iter().all(u8::is_ascii_uppercase) { Ok(Self(letters)) } else { Err(NotARegion) }
    }
}

impl fmt::Display for Region {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|letter| write!(out, "{}", char::from(*letter)))
    }
}

impl fmt::Debug for Region {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, out)
    }
}

/// A language as it is written in a region.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Locale {
    /// The language of the words.
    pub language: Language,
    /// The region.
    pub region: Region,
}

thread_local! {
    /// The sign asked for last: a screen asks for the same one some fifty times.
    static LAST: Cell<Option<(Locale, char)>> = const { Cell::new(None) };
}

impl Locale {
    /// The decimal sign, a point or a comma.
    pub fn decimal(self) -> char {
        if let Some((_, sign)) = LAST.get().filter(|(locale, _)| *locale == self) {
            return sign;
        }
        let sign = self.looked_up().unwrap_or('.');
        LAST.set(Some((self, sign)));
        sign
    }

    /// The sign that stands between the digits of one and a half. Built-in data: nothing in it can be missing.
    fn looked_up(self) -> Option<char> {
        let formatter = DecimalFormatter::try_new(
            DecimalFormatterPreferences::from(&self.tag()?),
            DecimalFormatterOptions::default(),
        );
        let written = formatter.ok()?.format(&Decimal::from_str("1.5").ok()?).to_string();
        written.chars().find(|letter| !letter.is_ascii_digit())
    }

    /// A date with its month in letters. Day, month, year in every region: one order for one shop, whatever language a
    /// colleague works in. `None` beyond the calendar.
    pub(crate) fn date(self, date: jiff::civil::Date) -> Option<String> {
        let formatter = DateTimeFormatter::try_new((&self.of_dates()?).into(), YMD::medium()).ok()?;
        let (month, day) = (u8::try_from(date.month()).ok()?, u8::try_from(date.day()).ok()?);
        let date = IcuDate::try_new_iso(i32::from(date.year()), month, day).ok()?;
        Some(formatter.format(&date).to_string())
    }

    /// A month in letters with its year. `None` beyond the calendar.
    pub(crate) fn month(self, date: jiff::civil::Date) -> Option<String> {
        let formatter = DateTimeFormatter::try_new((&self.of_dates()?).into(), YM::medium()).ok()?;
        let first = IcuDate::try_new_iso(i32::from(date.year()), u8::try_from(date.month()).ok()?, 1).ok()?;
        Some(formatter.format(&first).to_string())
    }

    /// Of the English locales a British one puts the day first; the Spanish ones all do.
    fn of_dates(self) -> Option<IcuLocale> {
        let locale = match self.language {
            Language::English => "en-GB",
            Language::Spanish => "es",
        };
        IcuLocale::from_str(locale).ok()
    }

    fn tag(self) -> Option<IcuLocale> {
        let language = match self.language {
            Language::English => "en",
            Language::Spanish => "es",
        };
        IcuLocale::from_str(&format!("{language}-{}", self.region)).ok()
    }
}

impl From<Settings> for Locale {
    fn from(settings: Settings) -> Self {
        Self { language: settings.language, region: settings.region }
    }
}

impl From<Language> for Locale {
    fn from(language: Language) -> Self {
        Self { language, ..Self::default() }
    }
}

/// How lengths are written: in which unit, and with which signs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Manner {
    /// The unit of lengths.
    pub units: Units,
    /// The signs.
    pub locale: Locale,
}

impl From<Settings> for Manner {
    fn from(settings: Settings) -> Self {
        Self { units: settings.units, locale: settings.into() }
    }
}

#[cfg(test)]
impl From<Units> for Manner {
    /// With a decimal point, whatever the language. For tests alone: a screen must not forget its person's region.
    fn from(units: Units) -> Self {
        Self { units, locale: Locale::default() }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[track_caller]
    fn check(language: Language, region: &str, sign: char) {
        assert_eq!(Locale { language, region: region.parse().unwrap() }.decimal(), sign, "{region}");
    }

    /// Unicode CLDR 48, `numbers/symbols/decimal`: es-MX, es-US and es-GT write a point, es, es-419 and es-AR a comma.
    #[test]
    fn the_decimal_sign_follows_language_and_region() {
        check(Language::English, "US", '.');
        check(Language::English, "MX", '.');
        check(Language::Spanish, "MX", '.');
        check(Language::Spanish, "US", '.');
        check(Language::Spanish, "GT", '.');
        check(Language::Spanish, "AR", ',');
        check(Language::Spanish, "CL", ',');
        check(Language::Spanish, "ES", ',');
        // Not by the language alone: `common/main/en_ZA.xml` writes a comma.
        check(Language::English, "ZA", ',');
    }

    #[test]
    fn what_is_no_region_is_refused() {
        for code in ["", "us", "USA", "U1", "ÑA", "U "] {
            assert_eq!(code.parse::<Region>(), Err(NotARegion), "{code:?}");
        }
        assert_eq!("MX".parse::<Region>().unwrap().to_string(), "MX");
    }
}
