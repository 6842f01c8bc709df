//! What a person does at the kiosk, as the window reports it. The window decides nothing.

use crate::screen::{Language, Theme};
use sparkout_core::reading::Units;

/// One act at the kiosk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Action {
    /// A scanner sent this.
    Scan(String),
    /// This was typed and confirmed ("Take reading"), as text: it is parsed in `core`.
    Enter(String),
    /// A control was pressed; `index` counts from 0 where the control is one of a list.
    Press {
        /// Which.
        control: Control,
        /// Which one of a list.
        index: usize,
    },
    /// A pointer was held on a held control for its whole time without leaving it.
    Held {
        /// Which.
        control: HeldControl,
        /// How long, milliseconds.
        milliseconds: u64,
    },
    /// Another language.
    SetLanguage(Language),
    /// Another unit.
    SetUnits(Units),
    /// Other colours.
    SetTheme(Theme),
}

/// The controls that are pressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Control {
    /// The main action: on to the next stage, or the next step of this one.
    Next,
    /// One step back.
    Back,
    /// Leave the visit as it stands and free the rails.
    PauseVisit,
    /// Home: take up a waiting visit (index).
    TakeUp,
    /// Home: find a unit by mower.
    FindByMower,
    /// Find and Enrol: a mower (index).
    PickMower,
    /// Find and Enrol: a position (index).
    PickPosition,
    /// Enrol: a type (index).
    PickType,
    /// Enrol: no type fits.
    NewType,
    /// New type: a field (index).
    PickField,
    /// New type: keep it.
    SaveType,
    /// Receive: go on to the next condition of the look (index: bearings, rollers, blades).
    CycleCondition,
    /// Receive: a kind of visit (index into the kinds shown).
    PickKind,
    /// Receive: end the visit of a unit that is held for repair.
    EndVisit,
    /// Tape, Rear and Prove: take this place again (index into the places).
    PickPlace,
    /// Front: the dial is set to zero at the zero end.
    ZeroSet,
    /// Front and Rear: the adjuster was turned as shown.
    Turned,
    /// Front: turn the other adjuster instead.
    OtherAdjuster,
    /// Front: touch again at both ends, to prove it.
    TouchAgain,
    /// Front and Prove: within tolerance, not proven: record it so.
    AcceptNotProven,
    /// Grind: a pass is done.
    PassDone,
    /// Grind: the pass is done once more before the dial moves on.
    PassRepeated,
    /// Prove: what was done to the bedknife (index: faced, reground, new).
    PickBedknife,
    /// Prove: paper is cut along the whole length.
    PaperCuts,
    /// Prove: measure again.
    MeasureAgain,
    /// Prove: back to the rails for another grind.
    Regrind,
    /// Label: print it.
    Print,
    /// Return: it is back on its mower.
    ConfirmPlace,
    /// A question's answer (index).
    Answer,
    /// Settings, cautions and licences.
    About,
    /// Take the notice away.
    DismissNotice,
    /// Sign the operator out.
    SignOut,
}

/// The controls that must be held by a pointer for a second.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum HeldControl {
    /// Power is off and was tried.
    Isolation,
    /// The current item of the gate was checked.
    ClearanceItem,
    /// Start the grind.
    StartGrind,
    /// Wheel and reel have come to rest.
    StandStill,
}
