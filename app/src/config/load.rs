//! What the bench asks of a person's ears and back: the sound level beside the grinder, and how a unit is lifted onto the
//! rails. Both are the shop's own numbers, and whatever is worked out from them is an estimate.

use super::length::TextLength;
use super::{Config, within};
use anyhow::Context;
use serde::Deserialize;
use sparkout_core::calc::lift::Coupling;
use sparkout_core::lifting::BenchLift;
use sparkout_core::quantity::{Angle, Mass, Ratio};

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct NoiseTexts {
    level_dba: f64,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LiftTexts {
    reach: TextLength,
    from: TextLength,
    to: TextLength,
    turn_degrees: f64,
    grip: Coupling,
    frequency_multiplier: f64,
}

impl Config {
    pub(super) fn check_load(&self) -> anyhow::Result<()> {
        if self.noise.level_dba > 0.0 {
            within("noise.level_dba", self.noise.level_dba, 60.0, 130.0)?;
        } else {
            within("noise.level_dba", self.noise.level_dba, 0.0, 130.0)?;
        }
        // Any weight will do: what the equation does not cover is a length or an angle then.
        let tried = self.lifting().of(Mass::from_kilograms(1.0));
        tried.map(drop).context("[lifting] is beyond what the lifting equation covers")
    }

    /// The sound level at the operator's ear while it grinds, dBA, if the shop has entered one.
    pub fn sound_level(&self) -> Option<Ratio> {
        (self.noise.level_dba > 0.0).then(|| Ratio::from_value(self.noise.level_dba))
    }

    /// How a unit is lifted onto the rails.
    pub fn lifting(&self) -> BenchLift {
        let lifting = &self.lifting;
        BenchLift {
            reach: lifting.reach.0.length(),
            from: lifting.from.0.length(),
            to: lifting.to.0.length(),
            turn: Angle::from_degrees(lifting.turn_degrees),
            grip: lifting.grip,
            frequency_multiplier: Ratio::from_value(lifting.frequency_multiplier),
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use super::super::own as load;
    use super::*;

    #[test]
    fn no_level_stands_in_the_defaults_and_an_entered_one_counts() {
        assert_eq!(Config::load(None).unwrap().sound_level(), None);
        let level = load("[noise]\nlevel_dba = 96.0\n").unwrap().sound_level().unwrap();
        assert!((level.value() - 96.0).abs() < 1e-12);
    }

    #[test]
    fn bad_values_are_named() {
        for (text, part) in [
            ("[noise]\nlevel_dba = 20.0\n", "noise.level_dba"),
            ("[noise]\nlevel_dba = -1.0\n", "noise.level_dba"),
            ("[lifting]\nreach = \"30 in\"\n", "[lifting]"),
            ("[lifting]\ngrip = \"firm\"\n", "firm"),
            ("[lifting]\nfrequency_multiplier = 0.0\n", "[lifting]"),
        ] {
            let error = format!("{:#}", load(text).expect_err(text));
            assert!(error.contains(part), "{error}");
        }
    }
}
