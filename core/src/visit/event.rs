//! What can happen to a visit, and what is to be done about it.

use crate::facts::TypeFact;
use crate::label::LabelContent;
use crate::reading::Reading;
use crate::record::{UnitType, Work};
use crate::visit::gate::LapseReason;
use crate::visit::kind::{StageName, VisitKind};
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
    /// The grind was started: a pointer was held.
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
}

/// What the visit asks before it goes on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "question", rename_all = "snake_case", deny_unknown_fields)]
pub enum Question {
    /// A diameter far from the one before.
    FarFromLast {
        /// Where.
        place: Place,
        /// What was typed.
        reading: Reading,
        /// What it was the last time.
        last: Reading,
    },
    /// A diameter larger than the reel was when new.
    LargerThanNew {
        /// Where.
        place: Place,
        /// What was typed.
        reading: Reading,
        /// The diameter when new.
        new: Reading,
    },
    /// The cone is the last one, turned round.
    EndsSwapped {
        /// Leading minus trailing end now.
        cone: Reading,
        /// Leading minus trailing end before the last grind.
        last: Reading,
    },
    /// The dial can be read as so much short of zero.
    DialShort {
        /// What was typed.
        reading: Reading,
        /// What it means when the dial is short of zero.
        offered: Reading,
    },
    /// Finer than the dial can be read, as when inches are typed for thousandths.
    TooFine {
        /// What was typed.
        reading: Reading,
        /// A thousand times that.
        offered: Reading,
    },
    /// Grinding true would end below the wear limit.
    BelowLimit {
        /// Where it would end, in nanometres, on the limit's basis.
        ends_at: Reading,
        /// The limit.
        limit: Reading,
    },
}

/// An answer to a [`Question`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Answer {
    /// What was typed is right.
    Keep,
    /// Type it again.
    Again,
    /// Take what was offered instead (the other sign, a thousand times, the ends exchanged).
    Offered,
    /// End the visit.
    Stop,
}

impl Question {
    /// The answers it takes, the likeliest first.
    pub const fn answers(&self) -> &'static [Answer] {
        match self {
            Self::FarFromLast { .. } | Self::LargerThanNew { .. } => &[Answer::Again, Answer::Keep],
            Self::EndsSwapped { .. } | Self::DialShort { .. } | Self::TooFine { .. } => {
                &[Answer::Offered, Answer::Keep, Answer::Again]
            }
            Self::BelowLimit { .. } => &[Answer::Stop, Answer::Again, Answer::Keep],
        }
    }
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
    /// The visit is over; the unit is back in service.
    Closed,
    /// The visit is over without a label.
    ClosedUnfinished(StopReason),
    /// The picture changes stage.
    StageEntered(StageName),
}
