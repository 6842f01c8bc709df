//! Why an event was not taken, with the numbers. The words for the person at the bench are made where they are shown.

use crate::calc::error::CalcError;
use crate::reading::Reading;
use crate::visit::event::Place;
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
    /// No kind of visit was chosen.
    #[error("no kind of visit was chosen")]
    NoKind,
    /// This bench cannot walk that kind of visit on that kind of frame.
    #[error("{kind:?} is not offered for this unit")]
    KindNotOffered {
        /// Which.
        kind: VisitKind,
    },
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
