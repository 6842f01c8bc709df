//! What a typed number means at the place it was asked for: a length, an angle, or a whole number.

use sparkout_core::angle::AngleReading;
use sparkout_core::reading::{EntryError, EntryUnit, Reading, Units};
use sparkout_core::visit::event::{Event, Place};
use sparkout_ui::words::kind_of;

/// A typed number, parsed.
pub(super) enum Entered {
    Length(Reading),
    Angle(AngleReading),
    Count(u32),
}

impl Entered {
    /// Parses what was typed for a place; nothing means the dial. With the refusal goes the unit of length that was
    /// asked for, if it was one.
    pub fn parse(text: &str, place: Option<Place>, units: Units) -> Result<Self, (Option<EntryUnit>, EntryError)> {
        match place {
            Some(Place::TopAngle | Place::FrontAngle) => {
                AngleReading::parse(text).map(Self::Angle).map_err(|error| (None, error))
            }
            Some(Place::Minutes | Place::Grit) => whole(text).map(Self::Count).map_err(|error| (None, error)),
            place => {
                let unit = units.entry_unit(kind_of(place));
                Reading::parse(text, unit).map(Self::Length).map_err(|error| (Some(unit), error))
            }
        }
    }

    /// The event that it makes.
    pub const fn event(self) -> Event {
        match self {
            Self::Length(reading) => Event::Read { reading },
            Self::Angle(angle) => Event::AngleRead { angle },
            Self::Count(count) => Event::CountRead { count },
        }
    }
}

/// A whole number, refused in the words that a length would be.
fn whole(text: &str) -> Result<u32, EntryError> {
    let typed = text.trim();
    if typed.is_empty() {
        return Err(EntryError::Empty);
    }
    typed.parse().map_err(|_| EntryError::NotANumber { text: typed.chars().take(24).collect() })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn by_what_is_asked() {
        let parse = |text, place| Entered::parse(text, place, Units::Thou).map(Entered::event).ok();
        let inch = Reading::from_nanometres(25_400_000);
        assert_eq!(parse("1", Some(Place::LandLead)), Some(Event::Read { reading: inch }));
        assert_eq!(parse("1000", Some(Place::GapLeft)), Some(Event::Read { reading: inch }));
        assert_eq!(parse("1000", None), Some(Event::Read { reading: inch }));
        let angle = AngleReading::from_hundredths(525);
        assert_eq!(parse("5.25", Some(Place::TopAngle)), Some(Event::AngleRead { angle }));
        assert_eq!(parse("120", Some(Place::Grit)), Some(Event::CountRead { count: 120 }));
        assert_eq!(parse("12.5", Some(Place::Minutes)), None);
        assert_eq!(parse("-3", Some(Place::Minutes)), None);
    }
}
