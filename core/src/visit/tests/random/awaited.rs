//! What each stage waits for, so that random walks come far enough to meet turning work of every kind.

use super::{World, inch, pick};
use crate::angle::AngleReading;
use crate::calc::uncertainty::Decision;
use crate::label::{HubAddress, encode_url};
use crate::reading::Reading;
use crate::visit::event::{Answer, BedknifeWork, Condition, Event, KnifeCheck, Part, Place, Which};
use crate::visit::gate::Gate;
use crate::visit::{FrontPhase, RearRemedy, Stage, step};

impl World {
    /// What the stage in hand waits for.
    pub(super) fn awaited(&self, by: u32) -> Event {
        if self.visit.paused() {
            return Event::TakenUp;
        }
        if self.visit.question().is_some() {
            return Event::Answered { answer: pick(&[Answer::Again, Answer::Offered, Answer::Keep], by) };
        }
        if self.visit.asks_isolation(&self.facts) {
            return Event::IsolationHeld { held_ms: 1_500 };
        }
        if let Some(reason) = self.visit.lapse(&self.facts, &self.now) {
            return Event::Lapsed { reason };
        }
        match self.visit.stage() {
            Stage::Receive if self.visit.receive().held() => Event::Mended { part: self.bad_part() },
            Stage::Receive if self.visit.receive().looked() && !self.visit.receive().held() => Event::Next,
            Stage::Receive => Event::Looked { part: pick(&Part::ALL, by), condition: Condition::Good },
            Stage::Tape => match self.visit.tape().asked() {
                Some(Place::Lead) => Event::Read { reading: inch("5.020") },
                Some(_) => Event::Read { reading: inch("5.000") },
                None => Event::Next,
            },
            Stage::Front => match self.visit.front_phase(&self.facts) {
                Ok(FrontPhase::ZeroTouch) => Event::ZeroSet,
                Ok(FrontPhase::OtherTouch) => self.level_reading(by),
                Ok(FrontPhase::Judged(_)) if self.visit.front_done(&self.facts) && self.refuses_next() => Event::Back,
                Ok(FrontPhase::Judged(_)) if self.visit.front_done(&self.facts) => Event::Next,
                Ok(FrontPhase::Judged(_)) => Event::Turned { which: pick(&[Which::Other, Which::Zero], by) },
                Err(_) => Event::MeasuredAgain,
            },
            Stage::Rear if self.visit.rear().asked().is_some() => Event::Read { reading: Reading::ZERO },
            Stage::Rear if !self.visit.rear_done(&self.facts) => self.remedied(),
            // Nothing can be done here as long as the other end of the unit is not trued.
            Stage::Rear if self.refuses_next() => Event::Back,
            Stage::Rear => Event::Next,
            Stage::Clearance(_) if self.visit.only_runs_down(&self.facts) => Event::StandStill { held_ms: 1_500 },
            Stage::Clearance(_) if self.visit.require_trued(&self.facts).is_err() => Event::Back,
            Stage::Clearance(gate) => self.item(gate),
            Stage::Cleared(_) => Event::GrindStarted { held_ms: 1_500 },
            Stage::Grind(_) if self.visit.passes().done() < self.visit.passes_in_all(&self.facts) => Event::PassDone,
            Stage::Grind(_) => Event::StandStill { held_ms: 1_500 },
            Stage::Prove => self.proving(by),
            Stage::Finger | Stage::Relief(_) | Stage::ReliefLands => self.relieving(by),
            Stage::BackLap(_) => Event::StandStill { held_ms: 1_500 },
            Stage::BackLapped => self.lapping(by),
            Stage::Knife => self.facing(by),
            Stage::Height => self.setting(by),
            Stage::Plate => self.on_the_plate(by),
            Stage::Check => self.checking(by),
            Stage::Label => self.labelling(),
            Stage::Return | Stage::Closed => Event::PlaceConfirmed { scanned: true },
        }
    }

    /// What the dial reads at the other end of a level reel, give or take a graduation.
    fn level_reading(&self, by: u32) -> Event {
        let target = self.visit.taped().unwrap().map_or(0.0, |taped| taped.target.mm());
        let off = i64::from(by % 7 % 3) * 25_400;
        Event::Read { reading: Reading::from_nanometres((target * 1e6) as i64 + off) }
    }

    fn item(&self, gate: &Gate) -> Event {
        match gate.current(&self.facts) {
            Some(item) => Event::ItemHeld { item: item.to_owned(), wording: String::new(), held_ms: 1_500 },
            None => Event::GrindStarted { held_ms: 1_500 },
        }
    }

    fn proving(&self, by: u32) -> Event {
        let before = self.visit.tape().ends().unwrap_or_default();
        let reading = Reading::from_nanometres(before.0.min(before.1).nanometres() - 50_800);
        match self.visit.prove().asked() {
            Some(Place::Lead | Place::Trail | Place::Centre) => Event::Read { reading },
            Some(_) if by.is_multiple_of(2) => Event::Read { reading: inch("0.050") },
            _ if !self.visit.prove().paper_cut() => Event::PaperCut { whole_length: true },
            _ if self.visit.judgement(&self.facts).is_none() => Event::MeasuredAgain,
            _ if by.is_multiple_of(3) => Event::Regrind,
            _ => Event::Next,
        }
    }

    fn labelling(&self) -> Event {
        let label = self.visit.label();
        match (label.code(), label.scanned()) {
            (None, _) if self.visit.label_content(&self.facts).is_none() => Event::Back,
            (None, _) => self.printed(),
            (Some(code), false) => Event::LabelScanned { code: code.to_owned() },
            (Some(_), true) => Event::Next,
        }
    }

    pub(super) fn printed(&self) -> Event {
        let hub = HubAddress::parse("HUB.SHOP.EXAMPLE").unwrap();
        let code = self.visit.label_content(&self.facts).and_then(|content| encode_url(&content, &hub).ok());
        Event::Printed { code: code.unwrap_or_default(), to: "label.png".to_owned() }
    }

    fn refuses_next(&self) -> bool {
        step(&self.visit, &self.facts, &Event::Next, &self.now).is_err()
    }

    fn bad_part(&self) -> Part {
        let bad = |part: &Part| self.visit.receive().condition(*part) == Some(Condition::Bad);
        Part::ALL.into_iter().find(bad).unwrap()
    }

    fn remedied(&self) -> Event {
        match self.visit.rear_remedy(&self.facts) {
            Some(Ok(RearRemedy::Square)) => Event::Squared,
            Some(Ok(RearRemedy::Shim { .. })) => Event::Shimmed,
            Some(Ok(RearRemedy::Record)) => Event::ErrorRecorded,
            Some(Ok(RearRemedy::ReplaceFrame)) => Event::PlacePicked { place: Place::RearLeft },
            Some(Ok(RearRemedy::Turn) | Err(_)) | None => Event::Turned { which: Which::Other },
        }
    }

    fn relieving(&self, by: u32) -> Event {
        let relief = self.visit.relief();
        match self.visit.stage() {
            Stage::Relief(_) if !self.visit.relief_rounds_done(&self.facts) => Event::PassDone,
            Stage::Relief(_) => Event::StandStill { held_ms: 1_500 },
            Stage::ReliefLands if relief.asked_after().is_some() => Event::Read { reading: inch("0.020") },
            Stage::ReliefLands if relief.land_after() > Some(inch("0.080")) => Event::Regrind,
            Stage::ReliefLands => Event::Next,
            _ if relief.asked_before().is_some() => Event::Read { reading: inch("0.060") },
            _ if self.visit.relief_plan(&self.facts).is_err() => Event::PlacePicked { place: Place::LandLead },
            _ if !relief.finger_set() => Event::FingerSet,
            _ if by.is_multiple_of(9) => Event::Back,
            _ => Event::Next,
        }
    }

    fn lapping(&self, by: u32) -> Event {
        let lap = self.visit.back_lap();
        match lap.asked() {
            Some(_) => Event::CountRead { count: 60 + by % 60 },
            None if !lap.paper_cut() => Event::PaperCut { whole_length: true },
            None if by.is_multiple_of(5) => Event::Back,
            None => Event::Next,
        }
    }

    fn facing(&self, by: u32) -> Event {
        let knife = self.visit.knife();
        let angle = |hundredths| Event::AngleRead { angle: AngleReading::from_hundredths(hundredths) };
        match knife.asked() {
            Some(Place::TopAngle) => angle(500),
            Some(Place::FrontAngle) => angle(1_500),
            Some(_) => Event::Read { reading: inch("0.120") },
            None if knife.work().is_none() => Event::BedknifeSaid { work: BedknifeWork::New },
            None => match KnifeCheck::ALL.into_iter().find(|check| !knife.checked(*check)) {
                Some(check) => Event::KnifeChecked { check, done: true },
                None if !knife.paper_cut() => Event::PaperCut { whole_length: true },
                None if !self.refuses_next() => Event::Next,
                None => Event::PlacePicked { place: pick(&[Place::TopAngle, Place::FrontAngle, Place::Thickness], by) },
            },
        }
    }

    fn setting(&self, by: u32) -> Event {
        match self.visit.height_asked() {
            Some(Place::HeightWanted) => Event::Read { reading: inch("0.125") },
            Some(_) => {
                let wanted = self.visit.height_wanted().unwrap().nanometres();
                Event::Read { reading: Reading::from_nanometres(wanted + i64::from(by % 5) * 25_400) }
            }
            None if self.visit.height_done(&self.facts) => Event::Next,
            None => pick(&[Event::Turned { which: Which::Other }, Event::MeasuredAgain, Event::NotProvenAccepted], by),
        }
    }

    fn on_the_plate(&self, by: u32) -> Event {
        match self.visit.plate().asked() {
            Some(Place::EdgeLeft | Place::EdgeRight) => Event::Read { reading: inch("0.125") },
            Some(_) => Event::Read { reading: Reading::from_nanometres(i64::from(by % 4) * 12_700) },
            None => match self.visit.plate_outcome(&self.facts).map(|outcome| outcome.decision()) {
                Some(Decision::Unproven) if self.visit.plate().accepted_by().is_none() => Event::NotProvenAccepted,
                Some(Decision::Beyond) | None => Event::MeasuredAgain,
                Some(Decision::Proven | Decision::Unproven) => Event::Next,
            },
        }
    }

    fn checking(&self, by: u32) -> Event {
        match self.visit.check().asked() {
            Some(_) => Event::Read { reading: inch("0.060") },
            None if self.visit.check().paper().is_none() => Event::PaperCut { whole_length: by.is_multiple_of(2) },
            None => Event::Next,
        }
    }
}
