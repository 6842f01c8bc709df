//! What a person does at the kiosk, as the window reports it. The window decides nothing.

use crate::screen::{Language, Theme};
use sparkout_core::pin::{NotAPin, Pin};
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
    /// Something about the kiosk itself and not about a visit.
    Manner {
        /// What.
        manner: Manner,
        /// Which one of a list.
        index: usize,
    },
    /// Digits were typed where a PIN is asked; what is none is told as such.
    Pin(Result<Pin, NotAPin>),
    /// Letters were typed and confirmed, where letters are asked.
    Letters(String),
    /// Somebody is there: a finger or a key, whatever it did.
    Touched,
    /// The window was asked to close.
    CloseAsked,
}

/// What is pressed about the kiosk itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Manner {
    /// Home: practise.
    Practice,
    /// Back to the real bench; what was practised is dropped.
    EndPractice,
    /// Practice: the sheet of things to scan.
    OpenSheet,
    /// Practice: put the sheet away.
    ShutSheet,
    /// Practice: scan this thing (index).
    TakeCode,
    /// Home: be shown round.
    Tour,
    /// Tour: put the card away, and do it oneself.
    TourShow,
    /// Tour: have it done.
    TourDo,
    /// Tour: no more cards.
    TourLeave,
    /// Tour: the card again.
    TourCard,
    /// A dimmed screen was touched.
    Wake,
    /// Settings: the shop's settings.
    ShopSettings,
    /// Shop settings: this one (index).
    PickSetting,
    /// Shop settings: less.
    Less,
    /// Shop settings: more.
    More,
    /// Shop settings: as the configuration says.
    Default,
    /// Shop settings: keep it.
    KeepSetting,
    /// Settings: cautions and licences.
    Cautions,
    /// The page before.
    PageUp,
    /// The page after.
    PageDown,
    /// Settings: leave the kiosk.
    Leave,
    /// Home: set up a new bench.
    SetUp,
    /// First start: this value (index).
    PickValue,
    /// First start: this choice (index).
    PickChoice,
    /// First start: keep everything.
    KeepBench,
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
    /// Receive and Rear: end the visit of a unit that is held for repair.
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
    /// Prove, Knife, Back-lap: paper is cut along the whole length. Check: whether it is (index: it is, it is not).
    PaperCuts,
    /// Prove: measure again.
    MeasureAgain,
    /// Prove: back to the rails for another grind.
    Regrind,
    /// Relief: blade and finger stand as told.
    FingerSet,
    /// Rear: the side plates are squared.
    Squared,
    /// Rear: the shims are in.
    Shimmed,
    /// Rear: write the error down.
    RecordError,
    /// Knife: a check is made, or open again (index: screws, burr, adjusted).
    KnifeCheck,
    /// Receive and Rear: a lead lets the visit go on.
    LetGoOn,
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
    /// The card of a unit: of the visit on the rails, or of a line of Home's list of what is due (index).
    UnitCard,
    /// Home: what is due.
    Due,
    /// Home: the grinder's own health.
    GrinderHealth,
    /// Grinder: begin the check with the master bar.
    StartCheck,
    /// Check: read this station again (index).
    PickStation,
    /// Check: the bar lies turned end for end.
    BarTurned,
    /// Check: judge.
    FinishCheck,
    /// Check: end it without a verdict.
    AbandonCheck,
    /// Grinder: a unit stands on the surface plate.
    SpotCheck,
    /// Grinder: a lead lets it be used although its check says or asks otherwise.
    OverrideCheck,
    /// Override: the reason (index).
    PickReason,
    /// Grinder: chart other closures.
    ClosureBy,
    /// PIN: it was forgotten, or the badge is locked; a lead takes it away.
    PinForgotten,
    /// Settings: choose another PIN.
    ChangePin,
    /// Why a figure is what it is (index into [`crate::screen::WhyOf::ALL`]).
    Why,
    /// Grinder and Clearance: the wheel's record.
    Wheel,
    /// Grinder, Wheel, isolation and Clearance: the lockout.
    Lockout,
    /// Lockout: write down a lock that was put on.
    PutLockOn,
    /// Lockout: a lead takes another person's lock off.
    ForceRelease,
    /// Wheel: write down a mounting.
    MountWheel,
    /// Wheel: it does not come back.
    ScrapWheel,
    /// Lockout: the lock comes off although it was not proved dead.
    TakeLockOff,
    /// Wheel: the diameter that it has worn down to.
    MeasureWheel,
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
    /// Start was pressed under the lock, and nothing moved.
    LockTried,
    /// The machine is dead.
    ProvedDead,
    /// One's own lock is off.
    LockReleased,
    /// One's own lock was taken off, and one was told.
    OwnerTold,
    /// The wheel was looked over in this shift.
    WheelLookedOver,
    /// What a form says is so.
    Form,
}
