//! The first-run tour: which step a screen stands at, and what is done for a person who asks for it.
//!
//! The tour keeps no script's place: it looks at the screen, so that whoever goes back, or does something else, is
//! told about where they are. What is held is never done for anybody, also here.

use super::bench::Bench;
use crate::demo;
use sparkout_core::reading::{EntryUnit, LengthKind, Reading};
use sparkout_core::scan::BadgeId;
use sparkout_ui::action::{Action, Control};
use sparkout_ui::screen::{Body, Coach, ProveName, Screen, Settings, StopName, StopState, TruePhase};
use sparkout_ui::words::tour::TourStep;

/// What is done for a person at a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Does {
    /// The badge of the invented shop's lead is scanned.
    ScanBadge,
    /// The invented shop's first unit is scanned.
    ScanUnit,
    /// The label just made is scanned.
    ScanLabel,
    /// A control is pressed.
    Press(Control, usize),
    /// A control is pressed until the step is over.
    PressOn(Control),
    /// A number is typed: as it is written in inches, or in thousandths of one.
    Type(&'static str, EntryUnit),
}

const INCH: EntryUnit = EntryUnit::Inch;
const THOU: EntryUnit = EntryUnit::Thou;
/// The lead of the invented shop.
const BADGE: &str = "1042";
/// More passes than any schedule of the invented shop has.
const PRESSES_MOST: usize = 60;

/// What is done at each step; a step that is missing here is a hand's alone.
const DOES: [(TourStep, &[Does]); 30] = [
    (TourStep::Badge, &[Does::ScanBadge]),
    (TourStep::Unit, &[Does::ScanUnit]),
    (
        TourStep::Receive,
        &[
            Does::Press(Control::CycleCondition, 0),
            Does::Press(Control::CycleCondition, 1),
            Does::Press(Control::CycleCondition, 2),
            Does::Press(Control::Next, 0),
        ],
    ),
    (TourStep::TapeFirst, &[Does::Type("5.020", INCH)]),
    (TourStep::TapeSecond, &[Does::Type("5.000", INCH)]),
    (TourStep::TapeDone, &[Does::Press(Control::Next, 0)]),
    (TourStep::FrontZero, &[Does::Press(Control::ZeroSet, 0)]),
    (TourStep::FrontOther, &[Does::Type("26.0", THOU)]),
    (TourStep::FrontTurn, &[Does::Press(Control::Turned, 0)]),
    (TourStep::FrontZeroAgain, &[Does::Press(Control::ZeroSet, 0)]),
    (TourStep::FrontOtherAgain, &[Does::Type("20.0", THOU)]),
    (TourStep::FrontParallel, &[Does::Press(Control::Next, 0)]),
    (TourStep::RearLeft, &[Does::Type("0", THOU)]),
    (TourStep::RearRight, &[Does::Type("4.0", THOU)]),
    (TourStep::RearTurn, &[Does::Press(Control::Turned, 0)]),
    (TourStep::RearLeftAgain, &[Does::Type("0", THOU)]),
    (TourStep::RearRightAgain, &[Does::Type("0.5", THOU)]),
    (TourStep::RearParallel, &[Does::Press(Control::Next, 0)]),
    (TourStep::Grind, &[Does::PressOn(Control::PassDone)]),
    (TourStep::SparkOut, &[Does::PressOn(Control::PassDone)]),
    (TourStep::ProveLead, &[Does::Type("4.998", INCH)]),
    (TourStep::ProveTrail, &[Does::Type("4.998", INCH)]),
    (TourStep::ProveLand, &[Does::Type("0.064", INCH)]),
    (TourStep::ProveHeight, &[Does::Type("0.400", INCH)]),
    (TourStep::ProveBedknife, &[Does::Press(Control::PickBedknife, 0)]),
    (TourStep::ProvePaper, &[Does::Press(Control::PaperCuts, 0)]),
    (TourStep::ProveDone, &[Does::Press(Control::Next, 0)]),
    (TourStep::LabelPrint, &[Does::Press(Control::Print, 0)]),
    (TourStep::LabelScan, &[Does::ScanLabel]),
    (TourStep::LabelDone, &[Does::Press(Control::Next, 0)]),
];

/// The step after the label, which is no different from a press at the lower right.
const RETURN: &[Does] = &[Does::Press(Control::ConfirmPlace, 0)];

fn does(step: TourStep) -> &'static [Does] {
    if step == TourStep::Return {
        return RETURN;
    }
    DOES.iter().find(|(known, _)| *known == step).map_or(&[], |(_, does)| does)
}

/// A tour while it lasts.
#[derive(Debug, Default)]
pub(super) struct Tour {
    step: Option<TourStep>,
    /// Which stage, so that a step that comes at several of them is told at each.
    stage: Option<StopName>,
    open: bool,
    returned: bool,
}

impl Tour {
    /// Looks where the visit stands, and opens the card of a step that is new.
    pub fn follow(&mut self, screen: &Screen) {
        let step = step_at(screen, self.returned);
        let stage = screen.rail.iter().find(|stop| stop.state == StopState::Now).map(|stop| stop.name);
        if step == Some(TourStep::Return) {
            self.returned = true;
        }
        if (step, stage) != (self.step, self.stage) {
            self.open = step.is_some();
            (self.step, self.stage) = (step, stage);
        }
    }

    /// Puts the card away, or takes it out again.
    pub const fn turn(&mut self, open: bool) {
        self.open = open && self.step.is_some();
    }

    /// Whether there is a card that was put away.
    pub const fn waits(&self) -> bool {
        self.step.is_some() && !self.open
    }

    /// The card, when it is open.
    pub fn card(&self, settings: Settings) -> Option<Coach> {
        let step = self.step.filter(|_| self.open)?;
        let words = step.words(settings);
        Some(Coach {
            number: step.number(),
            count: TourStep::ALL.len() as u32,
            title: words.title.to_owned(),
            purpose: words.purpose.to_owned(),
            look: words.look.to_owned(),
            act: words.act.to_owned(),
            can_do: !does(step).is_empty(),
            last: step == TourStep::Over,
        })
    }

    /// Does what the step in hand asks for, as a person would.
    pub fn do_step(&self, bench: &mut Bench) {
        let Some(step) = self.step else { return };
        for act in does(step) {
            match act {
                Does::PressOn(control) => {
                    for _ in 0..PRESSES_MOST {
                        if step_at(&bench.screen(), self.returned) != Some(step) {
                            break;
                        }
                        bench.act(Action::Press { control: *control, index: 0 });
                    }
                }
                Does::Press(control, index) => bench.act(Action::Press { control: *control, index: *index }),
                Does::ScanBadge => {
                    let code = BadgeId::new(BADGE).map(|badge| badge.code()).unwrap_or_default();
                    bench.act(Action::Scan(code));
                }
                Does::ScanUnit => bench.act(Action::Scan(demo::FIRST_TAG.to_owned())),
                Does::ScanLabel => {
                    let code = bench.on_rails().and_then(|open| open.visit.label().code().map(str::to_owned));
                    bench.act(Action::Scan(code.unwrap_or_default()));
                }
                Does::Type(number, unit) => bench.act(Action::Enter(typed(number, *unit, bench.settings()))),
            }
        }
    }
}

/// A number of the tour as a person of these units would type it.
fn typed(number: &str, unit: EntryUnit, settings: Settings) -> String {
    let kind = if unit == EntryUnit::Thou { LengthKind::Fine } else { LengthKind::Size };
    Reading::parse(number, unit)
        .map_or_else(|_| number.to_owned(), |reading| reading.typed_in(settings.units.entry_unit(kind)))
}

/// Where a screen stands on the tour; nothing where the tour has nothing to say.
fn step_at(screen: &Screen, returned: bool) -> Option<TourStep> {
    if screen.question.is_some() {
        return None;
    }
    match &screen.body {
        Body::Home(_) if returned => Some(TourStep::Over),
        Body::Home(home) => Some(if home.operator.is_empty() { TourStep::Badge } else { TourStep::Unit }),
        Body::Receive(_) => Some(TourStep::Receive),
        Body::IsolationAsked(StopName::Tape) => Some(TourStep::Isolation),
        Body::IsolationAsked(_) => Some(TourStep::IsolationAgain),
        Body::Tape(tape) if tape.can_go => Some(TourStep::TapeDone),
        Body::Tape(tape) => {
            let first = tape.places.first().is_some_and(|place| place.now);
            Some(if first { TourStep::TapeFirst } else { TourStep::TapeSecond })
        }
        Body::Front(front) => match (front.phase, front.round > 1) {
            (TruePhase::First, false) => Some(TourStep::FrontZero),
            (TruePhase::First, true) => Some(TourStep::FrontZeroAgain),
            (TruePhase::Second, false) => Some(TourStep::FrontOther),
            (TruePhase::Second, true) => Some(TourStep::FrontOtherAgain),
            (TruePhase::Adjust, _) => Some(TourStep::FrontTurn),
            (TruePhase::Parallel, _) => Some(TourStep::FrontParallel),
            (TruePhase::TouchAgain | TruePhase::NotProven | TruePhase::AcceptedNotProven, _) => None,
        },
        Body::Rear(rear) => match (rear.phase, rear.round > 1) {
            (TruePhase::First, false) => Some(TourStep::RearLeft),
            (TruePhase::First, true) => Some(TourStep::RearLeftAgain),
            (TruePhase::Second, false) => Some(TourStep::RearRight),
            (TruePhase::Second, true) => Some(TourStep::RearRightAgain),
            (TruePhase::Adjust, _) => Some(TourStep::RearTurn),
            (TruePhase::Parallel, _) => Some(TourStep::RearParallel),
            (TruePhase::TouchAgain | TruePhase::NotProven | TruePhase::AcceptedNotProven, _) => None,
        },
        Body::Clearance(clearance) if clearance.complete => Some(TourStep::Start),
        Body::Clearance(_) => Some(TourStep::Clearance),
        Body::Grind(grind) if grind.run_down => Some(TourStep::RunDown),
        Body::Grind(grind) => {
            let sparks_out = grind.strip.iter().any(|cell| cell.state == StopState::Now && cell.spark_out);
            Some(if sparks_out { TourStep::SparkOut } else { TourStep::Grind })
        }
        Body::Prove(prove) => prove_step(prove),
        Body::Label(label) if label.can_go => Some(TourStep::LabelDone),
        Body::Label(label) => Some(if label.printed { TourStep::LabelScan } else { TourStep::LabelPrint }),
        Body::Return(_) => Some(TourStep::Return),
        Body::Starting
        | Body::Fault(_)
        | Body::Find(_)
        | Body::Relief(_)
        | Body::Knife(_)
        | Body::BackLap(_)
        | Body::Height(_)
        | Body::Plate(_)
        | Body::Check(_)
        | Body::Grinder(_)
        | Body::GrinderCheck(_)
        | Body::SpotCheck(_)
        | Body::CheckOverride(_)
        | Body::Due(_)
        | Body::Why(_)
        | Body::Enrol(_)
        | Body::NewType(_)
        | Body::About(_)
        | Body::UnitCard(_)
        | Body::ShopSettings(_)
        | Body::Pages(_)
        | Body::Pin(_)
        | Body::FirstStart(_)
        | Body::Wheel(_)
        | Body::Lockout(_)
        | Body::Form(_) => None,
    }
}

fn prove_step(prove: &sparkout_ui::screen::Prove) -> Option<TourStep> {
    use sparkout_ui::screen::BedknifeWork;
    let missing = |what: ProveName| prove.places.iter().any(|place| place.what == what && place.value.is_empty());
    let steps = [
        (ProveName::Leading, TourStep::ProveLead),
        (ProveName::Trailing, TourStep::ProveTrail),
        (ProveName::Land, TourStep::ProveLand),
        (ProveName::HeightOfCut, TourStep::ProveHeight),
    ];
    if let Some((_, step)) = steps.into_iter().find(|(what, _)| missing(*what)) {
        return Some(step);
    }
    if prove.bedknife == BedknifeWork::NotSaid {
        return Some(TourStep::ProveBedknife);
    }
    if !prove.paper_cuts {
        return Some(TourStep::ProvePaper);
    }
    prove.can_go.then_some(TourStep::ProveDone)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_a_hand_must_hold_is_left_to_the_person() {
        let by_hand: Vec<TourStep> = TourStep::ALL.into_iter().filter(|step| does(*step).is_empty()).collect();
        let held = [TourStep::Isolation, TourStep::IsolationAgain, TourStep::Clearance, TourStep::Start];
        let expected: Vec<TourStep> = held.into_iter().chain([TourStep::RunDown, TourStep::Over]).collect();
        assert_eq!(by_hand, expected);
    }

    #[test]
    fn numbers_are_typed_in_the_person_s_unit() {
        use sparkout_core::reading::Units;
        let in_units = |number, unit, units| typed(number, unit, Settings { units, ..Settings::default() });
        assert_eq!(in_units("5.020", INCH, Units::Metric), "127.508");
        assert_eq!(in_units("26.0", THOU, Units::Inch), "0.026");
        assert_eq!(in_units("26.0", THOU, Units::Thou), "26");
    }
}
