//! A unit's card: how it wears, what was done, where it sits, when it is due.

use super::{FrameName, MowerPicture};

/// How a unit stands, as its card says it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs, reason = "the names are the record's")]
pub enum StatusName {
    #[default]
    InService,
    Ready,
    Spare,
    Retired,
}

/// What can be said of a reel's wear.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum WearName {
    /// No diameter is on record.
    #[default]
    NoRecord,
    /// Too few grinds, or all of one day: no line.
    TooFew,
    /// The line does not fall: no forecast.
    NotWearing,
    /// It wears: the line meets the limit on a day.
    Wearing,
    /// It is at its limit, or below.
    WornOut,
}

/// A mark on an axis with its words.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Tick {
    /// Along the axis, 0 to 1: from the left, or from the top.
    pub at: f32,
    /// What stands there.
    pub text: String,
}

/// Diameter over time, scaled into a unit square (0,0 top left).
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WearPlot {
    /// What can be said of the wear.
    pub how: WearName,
    /// The leading end after every grind, oldest first.
    pub leads: Vec<(f32, f32)>,
    /// The trailing end, as `leads`.
    pub trails: Vec<(f32, f32)>,
    /// The line through the record, from the first grind to the newest; empty without a line.
    pub line: Vec<(f32, f32)>,
    /// Its continuation to the wear limit or the edge; empty without a forecast.
    pub forecast: Vec<(f32, f32)>,
    /// The 95 % interval round the continuation, as a closed outline; empty without an interval.
    pub band: Vec<(f32, f32)>,
    /// Height of the wear limit.
    pub limit_y: f32,
    /// Where today stands.
    pub today_x: f32,
    /// Days below the axis.
    pub days: Vec<Tick>,
    /// Diameters beside the axis, in the person's unit.
    pub diameters: Vec<Tick>,
    /// The wear limit with unit.
    pub limit: String,
    /// The newest smaller diameter with unit.
    pub newest: String,
    /// Loss a year with unit, or empty.
    pub per_year: String,
    /// When the line meets the limit, or empty.
    pub at_limit: String,
    /// The earliest such day (95 %), or empty.
    pub earliest: String,
    /// The latest, or empty.
    pub latest: String,
}

/// Land over time, scaled as [`WearPlot`].
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LandPlot {
    /// The lands measured, oldest first.
    pub points: Vec<(f32, f32)>,
    /// Height of the limit.
    pub limit_y: f32,
    /// First and last day.
    pub days: Vec<Tick>,
    /// Widths beside the axis, in the person's unit.
    pub widths: Vec<Tick>,
    /// The limit with unit.
    pub limit: String,
    /// The newest land with unit, or empty.
    pub newest: String,
    /// Whole grinds of the usual removal until relief is due, or empty when it cannot be told.
    pub grinds_to_relief: String,
    /// Whether relief is due now.
    pub due: bool,
}

/// A visit on the card.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct VisitLine {
    /// The day.
    pub date: String,
    /// Initials.
    pub who: String,
    /// Off the diameter, or empty.
    pub removed: String,
    /// Cone afterwards, signed.
    pub cone: String,
    /// Whether it was proven; else recorded by name as within tolerance.
    pub proven: bool,
    /// The land, or empty.
    pub land: String,
    /// The height of cut, or empty.
    pub height: String,
}

/// A unit's card.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct UnitCard {
    /// The unit's tag.
    pub tag: String,
    /// Its type's name.
    pub type_name: String,
    /// How many blades, or empty when the type is not on record.
    pub blades: String,
    /// Its kind of frame.
    pub frame: FrameName,
    /// The maker's serial number, or empty.
    pub serial: String,
    /// Its mower and position, or empty.
    pub place: String,
    /// How it stands.
    pub status: StatusName,
    /// When it is due, ready to show, or empty.
    pub next_due: String,
    /// Why, in the person's language.
    pub due_why: String,
    /// Whether that day is today or past.
    pub overdue: bool,
    /// Whole grinds left by the usual removal, or empty.
    pub grinds_left: String,
    /// Diameter over time.
    pub wear: WearPlot,
    /// Land over time.
    pub land: LandPlot,
    /// The last visits, newest first.
    pub visits: Vec<VisitLine>,
    /// The unit of removed, cone, land and height.
    pub unit: String,
    /// Its mower, with its place marked.
    pub mower: MowerPicture,
}
