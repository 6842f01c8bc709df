//! Cutting units, the mowers they sit on, and the people who work on them.

use super::work::{Service, Work};
use serde::{Deserialize, Serialize};

/// Whether a unit may be worked on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum UnitStatus {
    /// On its mower, or meant to be.
    #[default]
    InService,
    /// Ground and labelled, not yet back on its mower.
    Ready,
    /// On no mower: another unit has its place.
    Spare,
    /// Taken out for good.
    Retired,
}

/// A cutting unit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Unit {
    /// The code on its tag, upper case.
    pub tag: String,
    /// The name of its type.
    pub type_name: String,
    /// The maker's serial number, where known.
    pub serial: Option<String>,
    /// The mower it belongs to.
    pub mower: String,
    /// Its position there, counted from one.
    pub position: u32,
    /// How it stands.
    pub status: UnitStatus,
    /// Finished work, oldest first.
    pub history: Vec<Work>,
    /// Finished work that took nothing off the diameter, oldest first.
    #[serde(default)]
    pub services: Vec<Service>,
}

/// A mower and where its units sit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mower {
    /// The code in its places' tags.
    pub code: String,
    /// The shop's name for it.
    pub name: String,
    /// How many cutting units it carries.
    pub positions: u32,
}

/// Somebody who works at the bench.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Operator {
    /// What the badge says.
    pub id: String,
    /// Name for people.
    pub name: String,
    /// Initials for labels and the strip.
    pub initials: String,
    /// Whether they are trained to grind.
    pub trained: bool,
    /// Whether they may decide what a lead decides.
    pub lead: bool,
}
