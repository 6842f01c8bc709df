//! What counts beside the rails: frames that are not adjusted, gauges, relief, shims, bedknives.

use super::length::TextLength;
use super::{Config, within};
use anyhow::bail;
use serde::Deserialize;
use sparkout_core::facts::{Gauges, ReliefGrinding, SetupLimits, ShimStock};
use sparkout_core::quantity::Angle;
use sparkout_core::reading::Reading;
use sparkout_core::record::KnifeShape;

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SetupTexts {
    square: TextLength,
    frame: TextLength,
    height: TextLength,
    plate: TextLength,
    bearing_play: TextLength,
    roller_play: TextLength,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct GaugeTexts {
    height_graduation: TextLength,
    feeler_step: TextLength,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ReliefTexts {
    infeed: TextLength,
    land: TextLength,
    sparkout_rounds: u32,
    light_cleanup: TextLength,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ShimTexts {
    thicknesses: Vec<TextLength>,
    most: u32,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct KnifeTexts {
    top_angle_degrees: f64,
    front_angle_degrees: f64,
    angle_tolerance_degrees: f64,
    least_thickness: TextLength,
}

impl Config {
    pub(super) fn check_setup(&self) -> anyhow::Result<()> {
        within("relief.sparkout_rounds", f64::from(self.relief.sparkout_rounds), 0.0, 20.0)?;
        within("shims.most", f64::from(self.shims.most), 1.0, 50.0)?;
        within("shims.thicknesses: pieces in the list", self.shims.thicknesses.len() as f64, 1.0, 64.0)?;
        within("bedknife.top_angle_degrees", self.bedknife.top_angle_degrees, 0.0, 60.0)?;
        within("bedknife.front_angle_degrees", self.bedknife.front_angle_degrees, 0.0, 60.0)?;
        within("bedknife.angle_tolerance_degrees", self.bedknife.angle_tolerance_degrees, 0.1, 10.0)?;
        let lengths = [
            ("setup.square", self.setup.square.0),
            ("setup.frame", self.setup.frame.0),
            ("setup.height", self.setup.height.0),
            ("setup.plate", self.setup.plate.0),
            ("setup.bearing_play", self.setup.bearing_play.0),
            ("setup.roller_play", self.setup.roller_play.0),
            ("gauges.height_graduation", self.gauges.height_graduation.0),
            ("gauges.feeler_step", self.gauges.feeler_step.0),
            ("relief.infeed", self.relief.infeed.0),
            ("relief.land", self.relief.land.0),
            ("relief.light_cleanup", self.relief.light_cleanup.0),
            ("bedknife.least_thickness", self.bedknife.least_thickness.0),
        ];
        let shims = self.shims.thicknesses.iter().map(|thickness| ("shims.thicknesses", thickness.0));
        for (key, length) in lengths.into_iter().chain(shims) {
            if length <= Reading::ZERO {
                bail!("{key} must be more than nothing");
            }
        }
        Ok(())
    }

    pub(super) fn setup_limits(&self) -> SetupLimits {
        SetupLimits {
            square: self.setup.square.0.length(),
            frame: self.setup.frame.0.length(),
            height: self.setup.height.0.length(),
            plate: self.setup.plate.0.length(),
            bearing_play: self.setup.bearing_play.0.length(),
            roller_play: self.setup.roller_play.0.length(),
        }
    }

    pub(super) const fn gauges(&self) -> Gauges {
        Gauges { height_graduation: self.gauges.height_graduation.0, feeler_step: self.gauges.feeler_step.0 }
    }

    pub(super) fn relief_grinding(&self) -> ReliefGrinding {
        ReliefGrinding {
            infeed: self.relief.infeed.0.length(),
            land: self.relief.land.0.length(),
            sparkout_rounds: self.relief.sparkout_rounds,
            light_cleanup: self.relief.light_cleanup.0.length(),
        }
    }

    /// The shims on the shelf.
    pub fn shims(&self) -> ShimStock {
        ShimStock {
            thicknesses: self.shims.thicknesses.iter().map(|thickness| thickness.0).collect(),
            most: self.shims.most,
        }
    }

    /// How bedknives are ground where the type does not say it.
    pub const fn knife(&self) -> KnifeShape {
        KnifeShape {
            top_angle: Angle::from_degrees(self.bedknife.top_angle_degrees),
            front_angle: Angle::from_degrees(self.bedknife.front_angle_degrees),
            angle_tolerance: Angle::from_degrees(self.bedknife.angle_tolerance_degrees),
            least_thickness: self.bedknife.least_thickness.0,
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn the_defaults_are_those_that_older_entries_get() {
        let config = Config::load(None).unwrap();
        assert_eq!(config.shims(), ShimStock::default());
        assert_eq!(config.knife(), KnifeShape::default());
        assert_eq!(config.gauges(), Gauges::default());
        assert_eq!(config.setup_limits(), SetupLimits::default());
        assert_eq!(config.relief_grinding(), ReliefGrinding::default());
    }
}
