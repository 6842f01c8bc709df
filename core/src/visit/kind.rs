//! Kinds of visit and of frame, as data that decides the list of stages.

use crate::bench::{FrameKind, TruingOrder};
use crate::record::UnitType;
use serde::{Deserialize, Serialize};

/// What a unit came for (handbook, section 1).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs, reason = "the names are the trade's")]
pub enum VisitKind {
    Spin,
    ReliefAndSpin,
    Bedknife,
    BackLap,
    HeightOfCut,
    CheckOnly,
}

/// Work in which wheel or reel turn under power. None of it starts without a clearance of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Turning {
    /// The reel spun against the wheel.
    Grind,
    /// The wheel along the back of one blade after the other.
    Relief,
    /// The reel run backwards against the bedknife, with compound.
    BackLap,
}

/// One step of a unit's trip over the bench (handbook, section 1).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs, reason = "the names are the handbook's")]
pub enum StageName {
    Receive,
    Tape,
    Front,
    Rear,
    Clearance,
    Grind,
    Prove,
    Label,
    Return,
    /// Land before, blade and finger set for the relief.
    Finger,
    /// The relief ground, and the land afterwards.
    Relief,
    Knife,
    BackLap,
    Height,
    /// The unit on a surface plate.
    Plate,
    /// Looked at, nothing changed.
    Check,
}

impl StageName {
    /// Whether hands are in the machine from the beginning of the stage, so that isolation is asked for. Relief and
    /// back-lap begin with the machine turning and ask once it stands: see [`crate::visit::Visit::hands_in`].
    pub const fn hands_in(self) -> bool {
        matches!(
            self,
            Self::Tape
                | Self::Front
                | Self::Rear
                | Self::Prove
                | Self::Finger
                | Self::Knife
                | Self::Height
                | Self::Plate
                | Self::Check
        )
    }

    /// Whether the unit is trued on the rails in this stage.
    pub const fn is_on_rails(self) -> bool {
        matches!(self, Self::Front | Self::Rear)
    }

    /// The turning work that this stage is, if it is one. Clearance stands right before each of them in every list.
    pub const fn turning(self) -> Option<Turning> {
        match self {
            Self::Grind => Some(Turning::Grind),
            Self::Relief => Some(Turning::Relief),
            Self::BackLap => Some(Turning::BackLap),
            Self::Receive
            | Self::Tape
            | Self::Front
            | Self::Rear
            | Self::Clearance
            | Self::Prove
            | Self::Label
            | Self::Return
            | Self::Finger
            | Self::Knife
            | Self::Height
            | Self::Plate
            | Self::Check => None,
        }
    }
}

/// Every kind of visit, in the order they are offered.
pub const KINDS: [VisitKind; 6] = [
    VisitKind::Spin,
    VisitKind::ReliefAndSpin,
    VisitKind::Bedknife,
    VisitKind::BackLap,
    VisitKind::HeightOfCut,
    VisitKind::CheckOnly,
];

macro_rules! trip {
    ($($stage:ident)*) => { &[StageName::Receive, $(StageName::$stage,)* StageName::Return] };
}

/// The lists of one kind of visit. A relief has two clearances on purpose: between its end and the light spin hands
/// were in, the finger was taken away, and what was acknowledged for the one says nothing about the other.
struct Trips {
    kind: VisitKind,
    /// The reel first on the rails, or the roller first.
    usual: [&'static [StageName]; 2],
    /// The same for a unit that finishes on the surface plate.
    plated: [&'static [StageName]; 2],
}

const TRIPS: [Trips; 6] = [
    Trips {
        kind: VisitKind::Spin,
        usual: [trip!(Tape Front Rear Clearance Grind Prove Label), trip!(Tape Rear Front Clearance Grind Prove Label)],
        plated: [
            trip!(Tape Front Rear Clearance Grind Prove Plate Label),
            trip!(Tape Rear Front Clearance Grind Prove Plate Label),
        ],
    },
    Trips {
        kind: VisitKind::ReliefAndSpin,
        usual: [
            trip!(Tape Front Rear Finger Clearance Relief Clearance Grind Prove Label),
            trip!(Tape Rear Front Finger Clearance Relief Clearance Grind Prove Label),
        ],
        plated: [
            trip!(Tape Front Rear Finger Clearance Relief Clearance Grind Prove Plate Label),
            trip!(Tape Rear Front Finger Clearance Relief Clearance Grind Prove Plate Label),
        ],
    },
    Trips {
        kind: VisitKind::Bedknife,
        usual: [trip!(Knife Label), trip!(Knife Label)],
        plated: [trip!(Knife Plate Label), trip!(Knife Plate Label)],
    },
    Trips {
        kind: VisitKind::BackLap,
        usual: [trip!(Clearance BackLap), trip!(Clearance BackLap)],
        plated: [trip!(Clearance BackLap Plate), trip!(Clearance BackLap Plate)],
    },
    Trips {
        kind: VisitKind::HeightOfCut,
        usual: [trip!(Height Label), trip!(Height Label)],
        plated: [trip!(Height Plate Label), trip!(Height Plate Label)],
    },
    Trips {
        kind: VisitKind::CheckOnly,
        usual: [trip!(Tape Check Label), trip!(Tape Check Label)],
        plated: [trip!(Tape Check Plate Label), trip!(Tape Check Plate Label)],
    },
];

/// The stages of a kind of visit for units of a type. A floating reel finishes on the plate whatever it came for.
pub fn stages(kind: VisitKind, unit_type: &UnitType) -> &'static [StageName] {
    let order = match unit_type.setup.order {
        TruingOrder::FrontThenRear => 0,
        TruingOrder::RearThenFront => 1,
    };
    let plated = match unit_type.frame {
        FrameKind::FloatingReel => true,
        FrameKind::Adjustable | FrameKind::SidePlates | FrameKind::Welded | FrameKind::FixedHead => false,
    };
    let trips = TRIPS.iter().find(|trips| trips.kind == kind);
    trips.map_or(&[StageName::Receive, StageName::Return], |trips| {
        if plated { trips.plated[order] } else { trips.usual[order] }
    })
}
