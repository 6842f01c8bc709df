//! The grinder's own health, and what is due.

/// Why a charted value stands out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs, reason = "the names say it")]
pub enum ChartSign {
    #[default]
    None,
    Outside,
    Run,
}

/// An individuals chart, in a unit square: x to the right, y downwards.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ControlChart {
    /// What is charted, in the person's language.
    pub title: String,
    /// What it tells, in the person's language.
    pub note: String,
    /// Whether something stands out that warns.
    pub warns: bool,
    /// Whether there are values enough for limits.
    pub enough: bool,
    /// The values, oldest first: where they are drawn, and why they stand out.
    pub points: Vec<(f32, f32, ChartSign)>,
    /// Where centre, upper and lower limit are drawn.
    pub lines_y: [f32; 3],
    /// Centre, upper and lower limit, ready to show.
    pub lines: [String; 3],
}

/// How the grinder stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum GrinderState {
    /// No check is on record; the last one counts until its day.
    #[default]
    Unchecked,
    /// True, and proven so.
    InTrue,
    /// True as measured, not proven.
    NotProven,
    /// The check ran out.
    Overdue,
    /// The last check found it out of true.
    OutOfTrue,
    /// A lead lets it be used all the same.
    Overridden,
}

/// The grinder's own health.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Grinder {
    /// Its name.
    pub name: String,
    /// How it stands.
    pub state: GrinderState,
    /// More about that, in the person's language.
    pub state_detail: String,
    /// When and by whom it was checked, or empty.
    pub checked: String,
    /// Until when that counts.
    pub due: String,
    /// Error of parallelism ± uncertainty, or empty.
    pub parallel: String,
    /// Straightness, or empty.
    pub straightness: String,
    /// The bar's own taper, or empty.
    pub bar: String,
    /// Unit of these.
    pub unit: String,
    /// What is accepted.
    pub limit: String,
    /// Whether something is there for a lead to override.
    pub can_override: bool,
    /// Closures.
    pub closures: ControlChart,
    /// Spot checks.
    pub spots: ControlChart,
}

/// Where a check stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum BarPhase {
    /// Power off and tried, first.
    #[default]
    Isolation,
    /// Read the dial at a station.
    Reading,
    /// Turn the bar end for end.
    TurnBar,
    /// Every reading is there.
    Complete,
}

/// A station along the bar.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StationLine {
    /// Where, with unit.
    pub place: String,
    /// Read in the first run, signed, or empty.
    pub first: String,
    /// Read with the bar turned.
    pub reversed: String,
    /// Whether the entry is about this one.
    pub now: bool,
}

/// The check with the master bar.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct GrinderCheck {
    /// Where it stands.
    pub phase: BarPhase,
    /// Whether the bar lies turned.
    pub turned: bool,
    /// The station that is asked for, from one.
    pub station: u32,
    /// All of them.
    pub stations: Vec<StationLine>,
    /// Unit of the readings.
    pub unit: String,
    /// Error of parallelism ± uncertainty, once complete.
    pub parallel: String,
    /// Straightness, once complete.
    pub straightness: String,
    /// The bar's own taper, once complete.
    pub bar: String,
    /// What is accepted, with unit.
    pub limit: String,
    /// What the readings say, once complete.
    pub state: GrinderState,
}

/// A unit on the surface plate.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct SpotCheck {
    /// Its tag; empty: scan it.
    pub unit: String,
    /// What is accepted, with unit.
    pub limit: String,
}

/// A lead's reason to use the grinder all the same.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct CheckOverride {
    /// What stands in the way, in the person's language.
    pub why: String,
    /// The reasons to choose from, in the person's language.
    pub reasons: Vec<String>,
    /// The last day that it would count.
    pub until: String,
    /// Whether whoever stands at the bench may decide it.
    pub lead: bool,
}

/// A unit that is due.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DueLine {
    /// Its tag.
    pub tag: String,
    /// Its mower and position.
    pub place: String,
    /// Why, in the person's language.
    pub reason: String,
    /// When, ready to show, or empty.
    pub day: String,
    /// Whether that day is over.
    pub overdue: bool,
    /// Whether it cannot be put off: the wear limit or the land.
    pub pressing: bool,
}

/// The reels of one mower.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SetLine {
    /// The mower.
    pub mower: String,
    /// How they match, in the person's language.
    pub text: String,
    /// Whether none is odd.
    pub matched: bool,
}

/// What is due, the most pressing first, and how the mowers' reels match.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Due {
    /// The units.
    pub lines: Vec<DueLine>,
    /// The mowers.
    pub sets: Vec<SetLine>,
}
