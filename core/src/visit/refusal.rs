//! Why an event was not taken, with the numbers. The words for the person at the bench are made where they are shown.

use crate::angle::AngleReading;
use crate::calc::error::CalcError;
use crate::quantity::{Angle, Length};
use crate::reading::Reading;
use crate::visit::event::{KnifeCheck, Place};
use crate::visit::gate::{Block, LapseReason};
use crate::visit::kind::{StageName, VisitKind};
use thiserror::Error;

/// A typed refusal of [`crate::visit::step`]; the visit stays as it was.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum Refusal {
    /// The event does not belong to this stage.
    #[error("this does not belong to the stage {stage:?}")]
    NotHere {
        /// Where the visit stands.
        stage: StageName,
    },
    /// The visit is not on the rails.
    #[error("the visit is paused")]
    Paused,
    /// The visit is already on the rails.
    #[error("the visit is not paused")]
    NotPaused,
    /// The visit is over.
    #[error("the visit is over")]
    Closed,
    /// A question must be answered first.
    #[error("a question is open")]
    QuestionOpen,
    /// Nothing was asked, or this is none of its answers.
    #[error("no question takes this answer")]
    NotAnAnswer,
    /// Hands are about to go in: isolation comes first.
    #[error("isolation was not acknowledged in the stage {stage:?}")]
    IsolationNeeded {
        /// Which stage asks.
        stage: StageName,
    },
    /// The pointer was let go too early.
    #[error("held {held_ms} ms of {wanted_ms} ms")]
    HeldTooShort {
        /// How long it was held, milliseconds.
        held_ms: u64,
        /// How long it must be, milliseconds.
        wanted_ms: u64,
    },
    /// The checklist was begun by somebody else.
    #[error("the checklist was begun by another operator")]
    AnotherOperator,
    /// Not the item in hand.
    #[error("this is not the item to acknowledge now")]
    NotThisItem,
    /// An item of the checklist is open.
    #[error("the checklist is not complete")]
    ItemsOpen,
    /// Something stands between the checklist and a clearance.
    #[error("blocked: {0:?}")]
    Blocked(Block),
    /// The clearance no longer holds.
    #[error("the clearance lapsed: {0:?}")]
    Lapsed(LapseReason),
    /// The condition that was said to have lapsed still holds.
    #[error("the clearance has not lapsed")]
    NotLapsed,
    /// No number of this kind can be true here.
    #[error("{reading:?} at {place:?} is outside {least:?} to {most:?}")]
    OutOfRange {
        /// Where, or nothing for the dial.
        place: Option<Place>,
        /// What was typed.
        reading: Reading,
        /// The least that is taken.
        least: Reading,
        /// The most that is taken.
        most: Reading,
    },
    /// A value is needed before the next stage.
    #[error("{place:?} is missing")]
    Missing {
        /// Which.
        place: Place,
    },
    /// A part was not looked at.
    #[error("a part was not looked at")]
    NotLooked,
    /// The look found something to mend first.
    #[error("the unit is held for repair")]
    HeldForRepair,
    /// Only a lead decides this.
    #[error("{name} is not a lead")]
    NotLead {
        /// Who asked.
        name: String,
    },
    /// A reason that says nothing, or a whole letter.
    #[error("a reason has 1 to {most} characters, not {length}")]
    ReasonLength {
        /// How many it has.
        length: usize,
        /// The most.
        most: usize,
    },
    /// Nothing of that name holds the visit.
    #[error("nothing holds the visit there")]
    NotHeld,
    /// Metal was taken off already: what the unit came for stands.
    #[error("work was begun as {kind:?}")]
    WorkBegun {
        /// As what.
        kind: VisitKind,
    },
    /// The frame cannot be adjusted and is too far out.
    #[error("the frame is to be replaced: {error:?} is beyond {limit:?}")]
    FrameToReplace {
        /// The rear roller's error.
        error: Length,
        /// Up to where it would be recorded.
        limit: Length,
    },
    /// The land is as narrow as relief would leave it.
    #[error("a land of {land:?} needs no relief down to {wanted:?}")]
    NothingToRelieve {
        /// The wider of both ends.
        land: Reading,
        /// What relief would leave.
        wanted: Length,
    },
    /// The land is still too wide.
    #[error("a land of {land:?} is above the limit of {limit:?}")]
    LandWide {
        /// The wider of both ends.
        land: Reading,
        /// The type's limit.
        limit: Reading,
    },
    /// An angle that cannot be, or is off what the type asks for.
    #[error("{angle:?} at {place:?} is outside {least:?} to {most:?}")]
    AngleOff {
        /// Of which face.
        place: Place,
        /// What was read.
        angle: AngleReading,
        /// The least that is taken.
        least: Angle,
        /// The most that is taken.
        most: Angle,
    },
    /// A whole number that cannot be true here.
    #[error("{count} at {place:?} is outside {least} to {most}")]
    CountOutOfRange {
        /// Of what.
        place: Place,
        /// What was typed.
        count: u32,
        /// The least that is taken.
        least: u32,
        /// The most that is taken.
        most: u32,
    },
    /// Too little of the bedknife is left.
    #[error("a thickness of {thickness:?} is below {least:?}")]
    KnifeThin {
        /// What was measured.
        thickness: Reading,
        /// The least.
        least: Reading,
    },
    /// What was done to the bedknife was not said.
    #[error("what was done to the bedknife was not said")]
    KnifeWorkNotSaid,
    /// A check of the bedknife is open.
    #[error("the bedknife's check {check:?} is open")]
    KnifeCheckOpen {
        /// Which.
        check: KnifeCheck,
    },
    /// Whether paper is cut was not said at all.
    #[error("whether paper is cut was not said")]
    PaperNotSaid,
    /// Where the leading end stands is not known.
    #[error("where the leading end stands is not known")]
    LeadingEndUnknown,
    /// Nothing asks for a number now.
    #[error("no number is asked for now")]
    NoNumberAsked,
    /// Not proven yet, and not recorded as such.
    #[error("not proven")]
    NotProven,
    /// What was trued on the rails does not stand: never trued, or the unit left the rails since.
    #[error("the unit is not trued at {stage:?} as it stands on the rails")]
    NotTrued {
        /// The stage that must be gone through again.
        stage: StageName,
    },
    /// Whether paper is cut was not recorded.
    #[error("paper was not cut along the whole length")]
    PaperNotCut,
    /// Passes are open.
    #[error("{open} passes are open")]
    PassesOpen {
        /// How many.
        open: u32,
    },
    /// All passes are done.
    #[error("all passes are done")]
    PassesDone,
    /// Nothing was printed yet.
    #[error("no label was printed")]
    NotPrinted,
    /// The label was not scanned on the unit.
    #[error("the label was not scanned")]
    LabelNotScanned,
    /// Another label than the one printed.
    #[error("this is not the label that was printed")]
    OtherLabel,
    /// A code was read back that does not say what was meant.
    #[error("the label's code does not say what was meant")]
    LabelWrong,
    /// The geometry or the numbers cannot be computed with.
    #[error(transparent)]
    Calculation(#[from] CalcError),
}
