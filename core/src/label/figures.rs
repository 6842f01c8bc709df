//! Lengths as a label shows them.
//!
//! A size as read is shown exactly: no digit that was recorded is dropped. A cone and its uncertainty are shown to one
//! place beyond what the trade's limit needs; the uncertainty is rounded up, so that a label never claims more than was proved.

use crate::quantity::Length;
use crate::reading::{EntryUnit, LengthKind, Reading, Units};

/// The name of a unit on a label, the same in both languages: SI symbols and the symbol of the inch.
pub const fn unit_name(units: Units, kind: LengthKind) -> &'static str {
    match units.entry_unit(kind) {
        EntryUnit::Inch => "in",
        EntryUnit::Thou => "thou",
        EntryUnit::Millimetre => "mm",
    }
}

/// A size as read, without its unit: at least three decimals of an inch or two of a millimetre, and more where they were recorded.
pub fn size(reading: Reading, units: Units) -> String {
    let (least, most) = match units.entry_unit(LengthKind::Size) {
        EntryUnit::Inch => (3, 5),
        EntryUnit::Thou => (0, 2),
        EntryUnit::Millimetre => (2, 4),
    };
    let value = reading.length() / units.entry_unit(LengthKind::Size).length();
    let full = format!("{:.most$}", value.value());
    let spare = full.bytes().rev().take_while(|byte| *byte == b'0').count().min(most - least);
    full[..full.len() - spare].to_owned()
}

/// A cone with its sign, without its unit.
pub fn cone(cone: Length, units: Units) -> String {
    let decimals = fine_decimals(units);
    let figure = format!("{:.decimals$}", in_fine_unit(cone.abs(), units));
    if figure.bytes().all(|byte| matches!(byte, b'0' | b'.')) {
        return figure;
    }
    format!("{}{figure}", if cone < Length::ZERO { '−' } else { '+' })
}

/// An uncertainty, rounded up, without its unit.
pub fn uncertainty(u95: Length, units: Units) -> String {
    let decimals = fine_decimals(units);
    let steps = 10_f64.powi(decimals as i32);
    // A millionth of a step: what arithmetic adds to an exact decimal must not count as a further step.
    let up = (in_fine_unit(u95, units) * steps - 1e-6).ceil().abs() / steps;
    format!("{up:.decimals$}")
}

const fn fine_decimals(units: Units) -> usize {
    match units.entry_unit(LengthKind::Fine) {
        EntryUnit::Inch => 4,
        EntryUnit::Thou => 1,
        EntryUnit::Millimetre => 3,
    }
}

fn in_fine_unit(length: Length, units: Units) -> f64 {
    (length / units.entry_unit(LengthKind::Fine).length()).value()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_keep_every_recorded_digit() {
        let table = [
            (126_949_200, Units::Inch, "4.998"),
            (126_949_200, Units::Thou, "4.998"),
            (126_949_200, Units::Metric, "126.9492"),
            (127_000_000, Units::Inch, "5.000"),
            (127_000_000, Units::Metric, "127.00"),
            (127_010_000, Units::Metric, "127.01"),
            (126_951_740, Units::Inch, "4.9981"),
            (254, Units::Inch, "0.00001"),
            (1_016_000, Units::Inch, "0.040"),
        ];
        for (nanometres, units, shown) in table {
            assert_eq!(size(Reading::from_nanometres(nanometres), units), shown);
        }
    }

    #[test]
    fn cones_carry_their_sign() {
        assert_eq!(cone(Length::from_inches(0.0005), Units::Inch), "+0.0005");
        assert_eq!(cone(Length::from_inches(-0.0012), Units::Inch), "−0.0012");
        assert_eq!(cone(Length::from_inches(-0.0012), Units::Thou), "−1.2");
        assert_eq!(cone(Length::from_mm(0.0127), Units::Metric), "+0.013");
        assert_eq!(cone(Length::ZERO, Units::Inch), "0.0000");
        assert_eq!(cone(Length::from_inches(-0.000_01), Units::Inch), "0.0000");
    }

    #[test]
    fn uncertainties_round_up() {
        assert_eq!(uncertainty(Length::from_inches(0.000_31), Units::Inch), "0.0004");
        assert_eq!(uncertainty(Length::from_inches(0.0004), Units::Inch), "0.0004");
        assert_eq!(uncertainty(Length::from_inches(0.000_31), Units::Thou), "0.4");
        assert_eq!(uncertainty(Length::from_mm(0.0073), Units::Metric), "0.008");
        assert_eq!(uncertainty(Length::ZERO, Units::Metric), "0.000");
    }
}
