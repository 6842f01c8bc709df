//! What each act of a person does.

use super::bench::{Bench, Readiness, TooFine, View};
use super::entered::Entered;
use sparkout_core::health::check::CheckRefusal;
use sparkout_core::reading::{EntryError, EntryUnit, Reading};
use sparkout_core::visit::event::{BedknifeWork, Condition, Event, KnifeCheck, Part, Place, StopReason, Which};
use sparkout_core::visit::gate::Gate;
use sparkout_core::visit::kind::{KINDS, StageName};
use sparkout_core::visit::{Stage, Visit};
use sparkout_ui::action::{Action, Control, HeldControl};
use sparkout_ui::present::{self, type_question, why};
use sparkout_ui::screen::WhyOf;
use sparkout_ui::words::Said;

impl Bench {
    /// Does what a person asked for, and says on the screen what came of it.
    pub fn act(&mut self, action: Action) {
        match (&self.ready, &action) {
            (_, Action::SetLanguage(_) | Action::SetUnits(_) | Action::SetTheme(_)) | (Readiness::Ready, _) => {}
            (Readiness::Checking, _) => return self.said = Some(Said::StillChecking),
            (Readiness::Broken(_), _) => return,
        }
        if self.ready == Readiness::Ready {
            self.tick();
        }
        self.said_at_ms = self.clock.now().monotonic_ms;
        let doubted = self.too_fine.take();
        if !matches!(action, Action::Scan(_)) {
            // A hand has done something: what the cards stood on is no longer meant.
            self.in_hand = None;
            self.looked_at = None;
        }
        let overriding = self.overriding.take();
        if let Action::Press { control: Control::Answer, .. } = &action {
            self.overriding = overriding;
        }
        match action {
            Action::SetLanguage(language) => self.settings.language = language,
            Action::SetUnits(units) => self.settings.units = units,
            Action::SetTheme(theme) => self.settings.theme = theme,
            Action::Press { control: Control::Answer, index } if doubted.is_some() => {
                self.said = None;
                self.answer_too_fine(doubted, index);
            }
            Action::Scan(text) if matches!(self.view, View::FirstStart(_)) => {
                self.said = None;
                self.first_scan(&text);
            }
            Action::Pin(typed) => {
                self.said = None;
                self.pin_typed(typed);
            }
            Action::Letters(key) => {
                self.said = None;
                self.letters(&key);
            }
            // The station round the bench does these.
            Action::Manner { .. } | Action::Touched | Action::CloseAsked => {}
            Action::Scan(text) => {
                self.said = None;
                self.scanned(&text);
            }
            Action::Enter(text) => {
                self.said = None;
                self.entered(&text);
            }
            Action::Press { control, index } => {
                self.said = None;
                self.pressed(control, index);
            }
            Action::Held { control, milliseconds } => {
                self.said = None;
                self.held(control, milliseconds);
            }
        }
        if self.ready == Readiness::Ready {
            // A badge may just have changed the operator: a checklist that was another's no longer counts.
            self.tick();
        }
        self.draw_label_where_shown();
    }

    fn entered(&mut self, text: &str) {
        if matches!(self.view, View::NewType(..)) {
            return self.type_value(text);
        }
        if matches!(self.view, View::Grinder(_)) {
            return self.grinder_value(text);
        }
        if matches!(self.view, View::FirstStart(_)) {
            return self.first_number(text);
        }
        if matches!(self.view, View::Form(_)) {
            return self.form_number(text);
        }
        let Some(open) = self.on_rails() else { return };
        let id = open.visit.id().to_owned();
        let asked = present::asked(&open.visit);
        match Entered::parse(text, asked, self.settings.units) {
            Ok(entered) => {
                self.submit(&id, entered.event());
            }
            Err((unit, error)) => match unit.and_then(|unit| too_fine(text, unit, &error)) {
                Some(doubt) => self.too_fine = Some(doubt),
                None => self.said = Some(Said::Entry(error)),
            },
        }
        self.entry_serial += 1;
    }

    fn held(&mut self, control: HeldControl, held_ms: u64) {
        if control == HeldControl::Isolation && self.check.is_some() {
            return self.isolation_at_grinder(held_ms);
        }
        if self.held_through_fault(control, held_ms) || self.wheel_held(control, held_ms) {
            return;
        }
        let Some(open) = self.on_rails() else { return };
        let id = open.visit.id().to_owned();
        let event = match control {
            HeldControl::Isolation => Event::IsolationHeld { held_ms },
            HeldControl::StartGrind => Event::GrindStarted { held_ms },
            HeldControl::StandStill => Event::StandStill { held_ms },
            HeldControl::ClearanceItem => match self.item_held(held_ms) {
                Some(event) => event,
                None => return,
            },
            // They are no part of a visit.
            HeldControl::LockTried
            | HeldControl::ProvedDead
            | HeldControl::LockReleased
            | HeldControl::OwnerTold
            | HeldControl::WheelLookedOver
            | HeldControl::Form => return,
        };
        self.submit(&id, event);
    }

    /// The item that stands on the screen, with the words it stood there with.
    fn item_held(&self, held_ms: u64) -> Option<Event> {
        let facts = self.facts()?;
        let Stage::Clearance(gate) = self.on_rails()?.visit.stage() else { return None };
        let item = Gate::current(gate, &facts)?.to_owned();
        let words = self.wording.iter().find(|wording| wording.id == item)?;
        let wording = words.in_language(self.settings.language).title.clone();
        Some(Event::ItemHeld { item, wording, held_ms })
    }

    /// Does what a pressed control means here.
    pub(super) fn pressed(&mut self, control: Control, index: usize) {
        match control {
            Control::About => self.view = View::About,
            Control::DismissNotice => {}
            Control::SignOut => self.sign_off(),
            Control::UnitCard => self.card_asked(index),
            Control::FindByMower => self.view = View::Find { mower: None },
            Control::PickMower | Control::PickPosition | Control::PickType | Control::NewType => {
                self.enrolment_pressed(control, index);
            }
            Control::PickField | Control::SaveType => self.type_pressed(control, index),
            Control::TakeUp => self.take_up(index),
            Control::Due
            | Control::GrinderHealth
            | Control::StartCheck
            | Control::PickStation
            | Control::BarTurned
            | Control::FinishCheck
            | Control::AbandonCheck
            | Control::SpotCheck
            | Control::OverrideCheck
            | Control::PickReason
            | Control::ClosureBy => self.grinder_pressed(control, index),
            Control::Wheel
            | Control::Lockout
            | Control::TakeLockOff
            | Control::PutLockOn
            | Control::ForceRelease
            | Control::MountWheel
            | Control::MeasureWheel
            | Control::ScrapWheel => self.wheel_pressed(control),
            Control::Back if matches!(self.view, View::Grinder(_) | View::Due) => self.back_from_grinder(),
            Control::PinForgotten => self.pin_forgotten(),
            Control::ChangePin => self.change_pin(),
            Control::Back if self.view != View::Bench => self.view_back(),
            Control::Answer if self.overriding.is_some() => self.let_go_on(index),
            Control::Answer => self.answered(index),
            Control::Why => self.ask_why(index),
            Control::LetGoOn => self.overriding = self.held_by(),
            Control::FingerSet
            | Control::Squared
            | Control::Shimmed
            | Control::RecordError
            | Control::KnifeCheck
            | Control::Back
            | Control::Next
            | Control::PauseVisit
            | Control::CycleCondition
            | Control::PickKind
            | Control::PickPlace
            | Control::ZeroSet
            | Control::Turned
            | Control::OtherAdjuster
            | Control::TouchAgain
            | Control::AcceptNotProven
            | Control::PassDone
            | Control::PassRepeated
            | Control::PickBedknife
            | Control::PaperCuts
            | Control::MeasureAgain
            | Control::Regrind
            | Control::Print
            | Control::EndVisit
            | Control::ConfirmPlace => self.visit_pressed(control, index),
        }
    }

    /// Only what is on the screen can be asked about; what is not computed opens nothing.
    fn ask_why(&mut self, index: usize) {
        let Some(of) = WhyOf::ALL.get(index).copied().filter(|_| self.view == View::Bench) else { return };
        if self.with_beside(|visit, beside| why(of, visit, beside)).flatten().is_some() {
            self.view = View::Why(of);
        }
    }

    fn take_up(&mut self, index: usize) {
        if self.check.is_some() {
            return self.said = Some(Said::Check(CheckRefusal::CheckOpen));
        }
        let waiting: Vec<String> =
            self.visits.iter().filter(|open| open.visit.paused()).map(|open| open.visit.id().to_owned()).collect();
        if let Some(id) = waiting.get(index) {
            self.submit(id, Event::TakenUp);
        }
    }

    fn visit_pressed(&mut self, control: Control, index: usize) {
        let Some(open) = self.on_rails() else { return };
        let (id, tag) = (open.visit.id().to_owned(), open.visit.unit().tag.clone());
        let Some(event) = self.event_of(control, index) else { return };
        if !self.submit(&id, event) {
            return;
        }
        match control {
            Control::PauseVisit => self.said = Some(Said::Waiting { tag }),
            Control::ConfirmPlace => self.said = Some(Said::Back { tag }),
            Control::EndVisit => self.said = Some(Said::Ended { tag }),
            _ => {}
        }
    }

    fn event_of(&self, control: Control, index: usize) -> Option<Event> {
        let visit = &self.on_rails()?.visit;
        Some(match control {
            Control::Next => Event::Next,
            Control::Back => Event::Back,
            Control::PauseVisit => Event::Paused,
            Control::CycleCondition => {
                let part = *Part::ALL.get(index)?;
                if visit.receive().condition(part) == Some(Condition::Bad) {
                    return Some(Event::Mended { part });
                }
                Event::Looked { part, condition: next_condition(visit.receive().condition(part)) }
            }
            Control::PickKind => Event::KindChosen { kind: *KINDS.get(index)? },
            Control::EndVisit if visit.stage_name() == StageName::Rear => {
                Event::Stopped { reason: StopReason::FrameToReplace }
            }
            Control::EndVisit => Event::Stopped { reason: StopReason::HeldForRepair },
            Control::FingerSet => Event::FingerSet,
            Control::Squared => Event::Squared,
            Control::Shimmed => Event::Shimmed,
            Control::RecordError => Event::ErrorRecorded,
            Control::KnifeCheck => {
                let check = *KnifeCheck::ALL.get(index)?;
                Event::KnifeChecked { check, done: !visit.knife().checked(check) }
            }
            Control::PickPlace => Event::PlacePicked { place: place_at(visit, index)? },
            Control::ZeroSet => Event::ZeroSet,
            Control::Turned => Event::Turned { which: visit.front().which() },
            Control::OtherAdjuster => Event::CurePicked {
                which: match visit.front().which() {
                    Which::Other => Which::Zero,
                    Which::Zero => Which::Other,
                },
            },
            Control::TouchAgain => Event::TouchAgain,
            Control::AcceptNotProven => Event::NotProvenAccepted,
            Control::PassDone => Event::PassDone,
            Control::PassRepeated => Event::PassRepeated,
            Control::PickBedknife => Event::BedknifeSaid {
                work: *[BedknifeWork::Faced, BedknifeWork::Reground, BedknifeWork::New].get(index)?,
            },
            Control::PaperCuts => Event::PaperCut {
                whole_length: match visit.stage_name() {
                    StageName::Knife => !visit.knife().paper_cut(),
                    StageName::BackLap => !visit.back_lap().paper_cut(),
                    StageName::Check => index == 0,
                    _ => !visit.prove().paper_cut(),
                },
            },
            Control::MeasureAgain => Event::MeasuredAgain,
            Control::Regrind => Event::Regrind,
            Control::Print => Event::PrintAsked,
            Control::ConfirmPlace => Event::PlaceConfirmed { scanned: false },
            _ => return None,
        })
    }

    fn answered(&mut self, index: usize) {
        let Some(open) = self.on_rails() else { return };
        let id = open.visit.id().to_owned();
        if let Some(question) = open.visit.question() {
            if let Some(answer) = question.answers().get(index) {
                let (answer, stop) = (*answer, *answer == sparkout_core::visit::event::Answer::Stop);
                let tag = open.visit.unit().tag.clone();
                if self.submit(&id, Event::Answered { answer }) && stop {
                    self.said = Some(Said::Ended { tag });
                }
            }
            return;
        }
        let Some(asked) = self.with_beside(type_question).flatten() else { return };
        match asked.tells.get(index) {
            Some(Some(fact)) => {
                self.submit(&id, Event::TypeTold { fact: *fact });
            }
            Some(None) => self.direction_not_known = true,
            None => {}
        }
    }

    /// The first answer takes what was offered; the other one has the number typed again.
    fn answer_too_fine(&mut self, doubted: Option<TooFine>, index: usize) {
        let id = self.on_rails().map(|open| open.visit.id().to_owned());
        if let (0, Some(id), Some(TooFine { offered, .. })) = (index, id, doubted) {
            self.submit(&id, Event::Read { reading: offered });
        }
    }
}

/// Inches typed where thousandths are asked have a decimal too many to be recorded, so that no visit can ask about them.
fn too_fine(text: &str, unit: EntryUnit, error: &EntryError) -> Option<TooFine> {
    if unit != EntryUnit::Thou || !matches!(error, EntryError::TooFine { .. }) {
        return None;
    }
    let offered = Reading::parse(text, EntryUnit::Inch).ok()?;
    Some(TooFine { typed: text.trim().to_owned(), offered })
}

const fn next_condition(now: Option<Condition>) -> Condition {
    match now {
        None | Some(Condition::Bad) => Condition::Good,
        Some(Condition::Good) => Condition::Note,
        Some(Condition::Note) => Condition::Bad,
    }
}

fn place_at(visit: &Visit, index: usize) -> Option<Place> {
    let places: &[Place] = match visit.stage_name() {
        StageName::Receive => &[Place::BearingPlay, Place::RollerPlay],
        StageName::Tape => &[Place::Lead, Place::Trail, Place::Centre],
        StageName::Rear => &[Place::RearLeft, Place::RearRight],
        StageName::Prove => &[Place::Lead, Place::Trail, Place::Centre, Place::Land, Place::HeightOfCut],
        _ => present::setting_places(visit),
    };
    places.get(index).copied()
}
