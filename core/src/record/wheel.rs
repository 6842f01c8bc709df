//! The wheel on its spindle, as it was mounted, looked at and measured.

use crate::quantity::SpindleSpeed;
use crate::reading::Reading;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// A grinding wheel as mounted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Wheel {
    /// Which mounting this is: another mounting is another record.
    pub mounting: String,
    /// Its diameter.
    pub diameter: Reading,
    /// The speed read off the wheel itself.
    pub rated_speed: Option<SpindleSpeed>,
    /// Whether it was inspected before this mounting.
    pub inspected: bool,
    /// How it rang.
    pub ring_test: RingTest,
    /// What was written down when it was mounted; records from before mountings were written down have none of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mounted: Option<Box<Mounted>>,
    /// The last look over it at a shift's beginning.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub looked_over: Option<LookedOver>,
    /// When its diameter was last measured since it was mounted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured: Option<Measured>,
}

impl Wheel {
    /// Whether this person looked it over in this shift.
    pub fn looked_over_by(&self, badge: &str, shift: &str) -> bool {
        self.looked_over.as_ref().is_some_and(|look| look.badge == badge && look.shift == shift)
    }
}

/// What was written down when a wheel was mounted.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mounted {
    /// Grit, grade and shape as the shop calls them.
    pub description: String,
    /// Its diameter then.
    pub diameter: Reading,
    /// Who mounted it, initials.
    pub by: String,
    /// The day.
    pub on: Date,
    /// The number of the lock under which it was done.
    pub lock: String,
}

/// A look over the wheel at a shift's beginning.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LookedOver {
    /// The shift.
    pub shift: String,
    /// The badge of whoever looked.
    pub badge: String,
    /// Their initials.
    pub initials: String,
    /// The day.
    pub on: Date,
}

/// A measurement of the mounted wheel's diameter.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Measured {
    /// Who measured it, initials.
    pub by: String,
    /// The day.
    pub on: Date,
}

/// The ring test before mounting.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RingTest {
    /// Not done.
    Missing,
    /// Done, and it rang clear.
    Clear,
    /// This type does not ring; which type.
    NotApplicable(String),
}
