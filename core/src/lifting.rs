//! The lift of a unit from where it is brought to the rails, judged by the revised NIOSH lifting equation with the
//! heights and the reach that the shop has entered. It is an estimate: the equation knows no wet floor and no bad back.

use crate::calc::error::CalcError;
use crate::calc::lift::{Coupling, Lift, LiftInput, lift};
use crate::quantity::{Angle, Length, Mass, Ratio};

/// How a unit is lifted at this bench.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BenchLift {
    /// Hands in front of the ankles.
    pub reach: Length,
    /// Height of the hands where the unit is picked up.
    pub from: Length,
    /// Height of the hands where it is set down on the rails.
    pub to: Length,
    /// Turn of the body between the two.
    pub turn: Angle,
    /// How well the hands hold it.
    pub grip: Coupling,
    /// From table 5 of the manual, by lifts a minute and duration.
    pub frequency_multiplier: Ratio,
}

/// A unit's lift at the end that is the harder of the two.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UnitLift {
    /// What went into the equation.
    pub input: LiftInput,
    /// What came out.
    pub lift: Lift,
}

impl BenchLift {
    /// The lift of this weight. Both ends are judged and the harder one counts, since a unit is set down on the rails with
    /// control (NIOSH 94-110, 1.3.2 and 3.1: significant control at the destination; from memory).
    ///
    /// # Errors
    /// [`CalcError`] where a length or the weight is out of the equation's range.
    pub fn of(&self, load: Mass) -> Result<UnitLift, CalcError> {
        let travel = (self.to - self.from).abs();
        let at = |vertical| {
            let input = LiftInput {
                load,
                horizontal: self.reach,
                vertical,
                travel,
                asymmetry: self.turn,
                frequency_multiplier: self.frequency_multiplier,
                coupling: self.grip,
            };
            lift(&input).map(|lift| UnitLift { input, lift })
        };
        let (origin, destination) = (at(self.from)?, at(self.to)?);
        Ok(if destination.lift.lifting_index > origin.lift.lifting_index { destination } else { origin })
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use super::*;
    use crate::calc::lift::LiftVerdict;

    fn bench(from: f64, to: f64) -> BenchLift {
        BenchLift {
            reach: Length::from_inches(20.0),
            from: Length::from_inches(from),
            to: Length::from_inches(to),
            turn: Angle::from_degrees(0.0),
            grip: Coupling::Poor,
            frequency_multiplier: Ratio::from_value(1.0),
        }
    }

    /// NIOSH 94-110, example 2, supply rolls (from memory, computed again): hands 20 in out, from 27 to 10 in, 35 lb;
    /// full precision 1.685 at the origin and 1.938 at the destination, where it is harder.
    #[test]
    fn the_harder_end_counts() {
        let lift = bench(27.0, 10.0).of(Mass::from_pounds(35.0)).unwrap();
        assert!((lift.lift.lifting_index.value() - 1.938).abs() < 5e-4, "{lift:?}");
        assert!((lift.input.vertical.inches() - 10.0).abs() < 1e-9);
        let lift = bench(10.0, 27.0).of(Mass::from_pounds(35.0)).unwrap();
        assert!((lift.lift.lifting_index.value() - 1.938).abs() < 5e-4, "{lift:?}");
        assert_eq!(lift.lift.verdict, LiftVerdict::Assist);
    }

    #[test]
    fn the_manuals_best_lift_is_one_persons_up_to_its_constant() {
        let best = BenchLift { reach: Length::from_inches(10.0), grip: Coupling::Good, ..bench(30.0, 30.0) };
        assert_eq!(best.of(Mass::from_pounds(51.0)).unwrap().lift.verdict, LiftVerdict::OnePerson);
        assert_eq!(best.of(Mass::from_pounds(51.1)).unwrap().lift.verdict, LiftVerdict::Assist);
    }

    #[test]
    fn what_the_equation_does_not_cover_is_refused() {
        let far = BenchLift { reach: Length::from_inches(26.0), ..bench(30.0, 36.0) };
        assert!(far.of(Mass::from_pounds(40.0)).is_err());
    }
}
