//! Words that the bench's people, its records and its calculations share.

use serde::{Deserialize, Serialize};

/// An end of the reel, as the reel turns in its cutting direction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum End {
    /// Where a blade first meets the bedknife.
    Lead,
    /// The other.
    Trail,
}

impl End {
    /// The end across the reel.
    pub const fn other(self) -> Self {
        match self {
            Self::Lead => Self::Trail,
            Self::Trail => Self::Lead,
        }
    }
}

/// What the graduation of an infeed dial stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DialKind {
    /// Reel diameter: 10 on the dial raises the wheel head by 5 (common practice).
    #[default]
    Diameter,
    /// Real head travel, which is reel radius.
    Radius,
}

impl DialKind {
    /// What the dial shows for one unit of head travel.
    pub const fn factor(self) -> f64 {
        match self {
            Self::Diameter => 2.0,
            Self::Radius => 1.0,
        }
    }
}

/// How a cutting unit's frame can be trued.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FrameKind {
    /// Front roller on eccentrics, rear roller on screw adjusters.
    Adjustable,
    /// Front adjustable, rear by shim or eccentric, side plates bolted.
    SidePlates,
    /// Front adjustable, rear fixed in the frame.
    Welded,
    /// The reel is moved to a fixed bedknife; always finishes on a surface plate.
    FloatingReel,
    /// A walking mower whose drum is in the same frame and is the datum.
    FixedHead,
}

/// How the wear limit of a unit type was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LimitBasis {
    /// As a diameter tape reads it over the blade tips.
    Tape,
    /// As the circle through the blade tips.
    #[default]
    Caliper,
}

/// In which order a unit is trued on the rails, as the stages are named.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TruingOrder {
    /// The reel first, then the other roller; on a fixed head the front roller comes last (from memory of the trade).
    #[default]
    FrontThenRear,
    /// The roller first.
    RearThenFront,
}
