//! The codes of `screen.rs` and `action.rs` as the screens name them, variant by variant.

use super::generated as g;
use crate::action;
use crate::screen;
use sparkout_core::reading;

/// One direction: from our code to the screens'.
macro_rules! to_screen {
    ($($path:ident :: $name:ident => $target:ident { $($variant:ident),* $(,)? })*) => { $(
        impl From<$path::$name> for g::$target {
            fn from(value: $path::$name) -> Self {
                match value { $($path::$name::$variant => Self::$variant),* }
            }
        }
    )* };
}

/// The other: from what the screens report to our code.
macro_rules! from_screen {
    ($($path:ident :: $name:ident => $target:ident { $($variant:ident),* $(,)? })*) => { $(
        impl From<g::$target> for $path::$name {
            fn from(value: g::$target) -> Self {
                match value { $(g::$target::$variant => Self::$variant),* }
            }
        }
    )* };
}

to_screen! {
    screen::Language => Language { English, Spanish }
    screen::Theme => ThemeName { Light, Dark, Contrast }
    reading::Units => Units { Inch, Thou, Metric }
    screen::Isolation => Isolation { Unknown, Acknowledged, Locked, Running, LockUntried, LockTried }
    screen::SwitchState => SwitchState { NotRead, GuardClosed, StopReleased, GuardOpen, StopPressed, Stale, Lost, StopStale, StopLost }
    screen::StopName => StopName { Receive, Tape, Front, Rear, Clearance, Grind, Prove, Label, Return, Finger, Relief, Knife, BackLap, Height, Plate, Check }
    screen::StopState => StopState { Done, Now, ToCome }
    screen::FrameName => FrameName { Adjustable, SidePlates, Welded, FloatingReel, FixedHead }
    screen::Condition => Condition { NotSeen, Good, Note, Bad }
    screen::KindName => KindName { Spin, ReliefAndSpin, Bedknife, BackLap, HeightOfCut, CheckOnly }
    screen::EndName => EndName { Leading, Trailing, Centre }
    screen::SideName => SideName { Left, Right, Middle }
    screen::TruePhase => TruePhase { First, Second, Adjust, TouchAgain, NotProven, Parallel, AcceptedNotProven }
    screen::Direction => Direction { Clockwise, Counterclockwise, Raise, Lower }
    screen::TurnUnit => TurnUnit { Turn, Degrees, Height }
    screen::Signal => Signal { Danger, Warning, Caution, Notice }
    screen::ProveName => ProveName { Leading, Trailing, Centre, Land, HeightOfCut }
    screen::BedknifeWork => BedknifeWork { NotSaid, Faced, Reground, New }
    screen::StatusName => StatusName { InService, Ready, Spare, Retired }
    screen::WearName => WearName { NoRecord, TooFew, NotWearing, Wearing, WornOut }
    screen::ProveVerdict => ProveVerdict { Open, Pass, Regrind, Repeat, AcceptedNotProven, Done, Fit, Due }
    screen::ReliefPhase => ReliefPhase { Finger, Rounds, RunDown, Lands }
    screen::Found => Found { Open, Within, NotProven, Accepted, Beyond }
    screen::Paper => Paper { NotTried, Cut, NotCut }
    screen::Remedy => Remedy { Turn, Square, Shim, Record, Replace }
    screen::TurningName => TurningName { Grind, Relief, BackLap }
    screen::Asked => Asked { Diameter, Dial, Indicator, Land, HeightOfCut, TypeField }
    screen::ChartSign => ChartSign { None, Outside, Run }
    screen::GrinderState => GrinderState { Unchecked, InTrue, NotProven, Overdue, OutOfTrue, Overridden }
    screen::PinAsks => PinAsks { Own, Choose, Again, LeadBadge, LeadPin, Locked }
    screen::BarPhase => BarPhase { Isolation, Reading, TurnBar, Complete }
    screen::WheelState => WheelState { None, Complete, Incomplete, Worn }
    screen::LockPhase => LockPhase { Free, Applied, Tried, Dead, Told, Off }
    screen::FormKind => FormKind { Mount, LockOn, ForceRelease, Scrap, Measure }
    screen::GateRemedy => GateRemedy { None, Wheel, Lockout }
}

from_screen! {
    screen::Language => Language { English, Spanish }
    screen::Theme => ThemeName { Light, Dark, Contrast }
    reading::Units => Units { Inch, Thou, Metric }
    action::Control => Control {
        Next, Back, PauseVisit, TakeUp, FindByMower, PickMower, PickPosition, PickType, NewType, PickField, SaveType,
        CycleCondition, PickKind, PickPlace, ZeroSet, Turned, OtherAdjuster, TouchAgain, AcceptNotProven, PassDone,
        PassRepeated, PickBedknife, PaperCuts, MeasureAgain, Regrind, Print, ConfirmPlace, Answer, About,
        DismissNotice, SignOut, EndVisit, UnitCard, FingerSet, Squared, Shimmed, RecordError, KnifeCheck, LetGoOn,
        Due, GrinderHealth, StartCheck, PickStation, BarTurned, FinishCheck,
        AbandonCheck, SpotCheck, OverrideCheck, PickReason, ClosureBy, PinForgotten, ChangePin, Why, Wheel, Lockout,
        PutLockOn, ForceRelease, MountWheel, ScrapWheel, TakeLockOff, MeasureWheel,
    }
    screen::WhyOf => WhyOf {
        Worn, GrindsLeft, Lifting, Cone, Barrel, Target, TipCircle, WearUsed, Tilt, FrontTurn, Rezero, TouchesNeeded,
        RearError, RearTurn, SurfaceSpeed, Margin, Dial, FinalDiameter, TimeLeft, LandAfter, ProvedCone, Removed,
        Misclosure, NextDue,
    }
    action::HeldControl => HeldControl {
        Isolation, ClearanceItem, StartGrind, StandStill, LockTried, ProvedDead, LockReleased, OwnerTold, WheelLookedOver,
        Form,
    }
}
