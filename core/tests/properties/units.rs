//! Units there and back. Conversions are exact by definition (international inch and pound, 1959); only the last
//! place of a double may differ.

use proptest::prelude::*;
use sparkout_core::quantity::{Length, Mass, Speed, Turns};
use sparkout_core::reading::{EntryUnit, Reading};

/// Two roundings of a double, relatively.
const LAST_PLACE: f64 = 2.0 * f64::EPSILON;

fn same(one: f64, two: f64) -> bool {
    (one - two).abs() <= LAST_PLACE * one.abs()
}

fn any_entry_unit() -> impl Strategy<Value = (EntryUnit, i64)> {
    // Nanometres of the finest step that is typed in each: 0.00001 in, 0.01 thousandths, 0.0001 mm.
    prop_oneof![Just((EntryUnit::Inch, 254)), Just((EntryUnit::Thou, 254)), Just((EntryUnit::Millimetre, 100))]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    #[test]
    fn quantities(value in -1e6..1e6_f64) {
        let length = Length::from_inches(value);
        prop_assert!(same(value, length.inches()));
        prop_assert!(same(value, length.thou() / 1000.0));
        prop_assert!(same(value, Length::from_mm(length.mm()).inches()));
        prop_assert!(same(length.mm() / 25.4, value));
        let speed = Speed::from_feet_per_minute(value);
        prop_assert!(same(value, speed.feet_per_minute()));
        prop_assert!(same(speed.metres_per_second(), value * 0.00508));
        let mass = Mass::from_pounds(value);
        prop_assert!(same(value, mass.pounds()));
        prop_assert!(same(mass.kilograms(), value * 0.453_592_37));
        prop_assert!(same(Turns::from_turns(value).flats() / 6.0, value));
    }

    /// A reading keeps every digit, typed again in its own unit; and a length told in inches is the same in metric.
    #[test]
    fn readings(steps in -999_999_i64..=999_999, (unit, step) in any_entry_unit()) {
        let reading = Reading::from_nanometres(steps * step);
        let typed = reading.typed_in(unit);
        prop_assert_eq!(Reading::parse(&typed, unit), Ok(reading), "{}", typed);
        prop_assert!(same(reading.length().mm() * 1e6, reading.nanometres() as f64));
        prop_assert!(same(reading.length().inches(), reading.nanometres() as f64 / 25_400_000.0));
    }

    /// What is typed in inches to five decimals is a whole number of 0.0001 mm only by chance, but always one of
    /// nanometres: nothing is rounded on the way in.
    #[test]
    fn inches_are_whole_nanometres(whole in 0_i64..=99, decimals in 0_i64..=99_999) {
        let reading = Reading::parse(&format!("{whole}.{decimals:05}"), EntryUnit::Inch).unwrap();
        prop_assert_eq!(reading.nanometres(), (whole * 100_000 + decimals) * 254);
    }
}
