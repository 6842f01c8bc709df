//! What can happen to a visit, and what is to be done about it.

use crate::angle::AngleReading;
use crate::facts::TypeFact;
use crate::label::LabelContent;
use crate::reading::Reading;
use crate::record::{Service, UnitType, Work};
use crate::visit::gate::LapseReason;
use crate::visit::kind::{StageName, VisitKind};
pub use crate::visit::question::{Answer, Question};
use serde::{Deserialize, Serialize};

/// What is known of a unit when its visit opens, kept with the visit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UnitFacts {
    /// The code on its tag.
    pub tag: String,
    /// Its type as it was then.
    pub unit_type: UnitType,
    /// Its mower.
    pub mower: String,
    /// Its position there.
    pub position: u32,
    /// The last finished work, if any.
    pub last: Option<Work>,
}

/// Everything that can happen to a visit. Each is written to the journal before it is shown as done.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "event", rename_all = "snake_case", deny_unknown_fields)]
pub enum Event {
    /// The unit was scanned and nothing was open for it.
    Opened {
        /// What is known of it.
        unit: Box<UnitFacts>,
    },
    /// The unit leaves the rails; the visit waits.
    Paused,
    /// The unit is on the rails again.
    TakenUp,
    /// The kiosk's process started again while the visit was open.
    Restarted,
    /// On to the next stage.
    Next,
    /// Back to the stage before.
    Back,
    /// What a look at one part found.
    Looked {
        /// At what.
        part: Part,
        /// What it found.
        condition: Condition,
    },
    /// What held the visit was mended, by the operator at the bench.
    Mended {
        /// Which part.
        part: Part,
    },
    /// A lead lets the visit go on although something holds it.
    Overridden {
        /// What holds it.
        hold: Hold,
        /// Why, in words.
        reason: String,
    },
    /// The kind of visit was chosen.
    KindChosen {
        /// Which.
        kind: VisitKind,
    },
    /// Something about the type that is asked once.
    TypeTold {
        /// What.
        fact: TypeFact,
    },
    /// Power is off and was tried: a pointer was held.
    IsolationHeld {
        /// For how long, milliseconds.
        held_ms: u64,
    },
    /// The number that the stage asked for.
    Read {
        /// The number.
        reading: Reading,
    },
    /// The angle that the stage asked for.
    AngleRead {
        /// The angle.
        angle: AngleReading,
    },
    /// The whole number that the stage asked for.
    CountRead {
        /// The number.
        count: u32,
    },
    /// This place is to be measured now, again if it was before.
    PlacePicked {
        /// Which.
        place: Place,
    },
    /// The dial stands at zero, touching, at the zero end.
    ZeroSet,
    /// The same cure at the other adjuster is to be shown.
    CurePicked {
        /// Which of the two.
        which: Which,
    },
    /// The adjuster was turned as told.
    Turned {
        /// Which of the two cures was used.
        which: Which,
    },
    /// The side plates' bolts were loosened, the unit settled square on the rails, and the bolts tightened.
    Squared,
    /// The stack of shims that was told lies under the roller's bracket.
    Shimmed,
    /// The rear roller's error was written down: this frame has nothing to adjust.
    ErrorRecorded,
    /// Blade and finger stand where they were told for the relief.
    FingerSet,
    /// One of the bedknife's checks was made, or is open again.
    KnifeChecked {
        /// Which.
        check: KnifeCheck,
        /// Whether it is made.
        done: bool,
    },
    /// More touches at both ends, to prove what one cannot.
    TouchAgain,
    /// Within tolerance, not proven: recorded so, by name.
    NotProvenAccepted,
    /// One item of the gate: a pointer was held on it.
    ItemHeld {
        /// The item.
        item: String,
        /// The words that stood on the screen.
        wording: String,
        /// For how long, milliseconds.
        held_ms: u64,
    },
    /// A condition of the clearance no longer holds.
    Lapsed {
        /// Which.
        reason: LapseReason,
    },
    /// Turning work was started, a grind, a relief or a back-lap: a pointer was held.
    GrindStarted {
        /// For how long, milliseconds.
        held_ms: u64,
    },
    /// A pass is done.
    PassDone,
    /// The pass in hand is done once more at the same dial.
    PassRepeated,
    /// Wheel and reel have come to rest: a pointer was held.
    StandStill {
        /// For how long, milliseconds.
        held_ms: u64,
    },
    /// What was done to the bedknife.
    BedknifeSaid {
        /// What.
        work: BedknifeWork,
    },
    /// Whether paper is cut along the whole length.
    PaperCut {
        /// Whether it is.
        whole_length: bool,
    },
    /// The values of Prove are measured again.
    MeasuredAgain,
    /// Back to the rails: the cone is out of tolerance.
    Regrind,
    /// The answer to the open question.
    Answered {
        /// Which.
        answer: Answer,
    },
    /// A label is wanted, the first time or again.
    PrintAsked,
    /// A label was rendered, read back from its own raster and written or printed.
    Printed {
        /// What its code says, as read back.
        code: String,
        /// Where it went.
        to: String,
    },
    /// The label was scanned on the unit.
    LabelScanned {
        /// What the code said.
        code: String,
    },
    /// The unit is back in its place.
    PlaceConfirmed {
        /// Whether the place's own code was scanned (else it was confirmed on the screen).
        scanned: bool,
    },
    /// The visit ends without a grind; why.
    Stopped {
        /// In words.
        reason: StopReason,
    },
}

/// A part that is looked at when a unit is received.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs, reason = "the names are the trade's")]
pub enum Part {
    Bearings,
    Rollers,
    Blades,
}

impl Part {
    /// All of them, in the order they are shown.
    pub const ALL: [Self; 3] = [Self::Bearings, Self::Rollers, Self::Blades];
}

/// What a look found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Condition {
    /// Nothing.
    Good,
    /// Something worth a note; the visit goes on.
    Note,
    /// Play beyond the limit, a bent roller, a cracked blade, a loose spider: the visit is held.
    Bad,
}

/// What holds a visit until it is mended or a lead lets it go on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Hold {
    /// What the look at a part found.
    Part(Part),
    /// A frame that is to be replaced.
    Frame,
}

/// A check of the bedknife that is told, not measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum KnifeCheck {
    /// Its screws are tightened to the maker's torque.
    ScrewsTorqued,
    /// The burr is off the edge.
    BurrRemoved,
    /// It is adjusted to the reel.
    AdjustedToReel,
}

impl KnifeCheck {
    /// All of them, in the order they are made.
    pub const ALL: [Self; 3] = [Self::ScrewsTorqued, Self::BurrRemoved, Self::AdjustedToReel];
}

/// A value that a stage asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs, reason = "the names say it")]
pub enum Place {
    Lead,
    Trail,
    Centre,
    Land,
    HeightOfCut,
    RearLeft,
    RearRight,
    LandLead,
    LandTrail,
    TopAngle,
    FrontAngle,
    Thickness,
    HeightWanted,
    HeightLeft,
    HeightRight,
    EdgeLeft,
    EdgeRight,
    GapLeft,
    GapRight,
    Minutes,
    Grit,
    BearingPlay,
    RollerPlay,
}

/// Which adjuster a cure uses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Which {
    /// The one at the end away from the zero.
    #[default]
    Other,
    /// The one at the zero end.
    Zero,
}

/// What was done to the bedknife.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs, reason = "the names are the trade's")]
pub enum BedknifeWork {
    Faced,
    Reground,
    New,
}

/// Why a visit ended without its label.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum StopReason {
    /// A grind would take the reel below its wear limit.
    BelowLimit,
    /// The look at Receive found something to mend first.
    HeldForRepair,
    /// The rear roller sits too far out in a frame that cannot be adjusted.
    FrameToReplace,
}

/// What is to be done because of an event, by whoever has hands.
#[derive(Debug, Clone, PartialEq)]
pub enum Effect {
    /// Write what was told about a type into the shop's record of it.
    TypeTold {
        /// Which type.
        type_name: String,
        /// What was told.
        fact: TypeFact,
    },
    /// Render, read back and print this label, then report [`Event::Printed`].
    PrintLabel(Box<LabelContent>),
    /// The work is finished: put it on the unit's card; it is ready to go back.
    WorkDone(Box<Work>),
    /// Work that took nothing off the diameter is finished: put it on the unit's card.
    ServiceDone {
        /// The work.
        service: Box<Service>,
        /// Whether the unit is ready to go back.
        ready: bool,
    },
    /// The visit is over; the unit is back in service.
    Closed,
    /// The visit is over without a label.
    ClosedUnfinished(StopReason),
    /// The picture changes stage.
    StageEntered(StageName),
}
