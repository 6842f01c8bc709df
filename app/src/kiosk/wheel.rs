//! The wheel's record and the lockout at the kiosk: `core` decides, the journal keeps, then it is true.

use super::bench::{Bench, View, not_understood};
use super::journal::entry_of;
use super::shop::{Change, Shop};
use crate::store::{NewEntry, StoreError};
use sparkout_core::entry::EntryBody;
use sparkout_core::facts::BenchFacts;
use sparkout_core::lockout::{LockoutEvent, Lockouts};
use sparkout_core::moment::Moment;
use sparkout_core::wheel::{self, NewWheel, WheelEvent, WheelStepped};
use sparkout_ui::action::{Control, HeldControl};
use sparkout_ui::present;
use sparkout_ui::screen::{Body, FormKind};
use sparkout_ui::words::Said;

/// How the shop's records change by an event of the wheel's, now or when the journal is read again.
pub(super) fn wheel_changes(stepped: WheelStepped) -> Vec<Change> {
    let past = stepped.past.map(Change::WheelOff);
    past.into_iter().chain([Change::WheelNow(stepped.wheel)]).collect()
}

/// The wheel's record as an entry of the journal changes it.
pub(super) fn wheel_again(seq: u64, facts: Option<&BenchFacts>, event: &WheelEvent) -> Result<Vec<Change>, StoreError> {
    let facts = facts.ok_or_else(|| not_understood(seq, &"no facts were written down"))?;
    wheel::step(facts, event).map(wheel_changes).map_err(|error| not_understood(seq, &error))
}

/// The lockouts as an entry of the journal changes them.
pub(super) fn lockout_again(
    shop: &Shop,
    seq: u64,
    at: &Moment,
    facts: Option<&BenchFacts>,
    event: &LockoutEvent,
) -> Result<Vec<Change>, StoreError> {
    let facts = facts.ok_or_else(|| not_understood(seq, &"no facts were written down"))?;
    let next = shop.lockouts.step(facts, event, at).map_err(|error| not_understood(seq, &error))?;
    Ok(vec![Change::Lockouts(next)])
}

impl Bench {
    /// Takes one event of the wheel's record, and shows the record when it was taken.
    pub(super) fn submit_wheel(&mut self, event: WheelEvent) {
        let kept = self.keep_with_facts(|facts, _, _| {
            let stepped = wheel::step(facts, &event).map_err(Said::Wheel)?;
            Ok((EntryBody::Wheel { event: event.clone() }, wheel_changes(stepped)))
        });
        match kept {
            Ok(()) => {
                self.view = View::Wheel;
                self.said = Some(Said::WheelKept);
            }
            Err(said) => self.said = Some(said),
        }
    }

    /// Takes one event of the lockout, and shows how far it has come when it was taken.
    pub(super) fn submit_lockout(&mut self, event: LockoutEvent) {
        let before = self.shop.lockouts.open().map(|open| open.padlock().number.clone());
        let kept = self.keep_with_facts(|facts, lockouts: &Lockouts, at| {
            let next = lockouts.step(facts, &event, at).map_err(Said::Lockout)?;
            Ok((EntryBody::Lockout { event: event.clone() }, vec![Change::Lockouts(next)]))
        });
        match kept {
            Ok(()) => {
                self.view = View::Lockout { comes_off: false };
                self.said = before.filter(|_| self.shop.lockouts.open().is_none()).map(|lock| Said::LockOff { lock });
            }
            Err(said) => self.said = Some(said),
        }
    }

    /// Keeps an entry with the facts that it relied on.
    fn keep_with_facts(
        &mut self,
        make: impl FnOnce(&BenchFacts, &Lockouts, &Moment) -> Result<(EntryBody, Vec<Change>), Said>,
    ) -> Result<(), Said> {
        let facts = self.facts().ok_or(Said::NotSetUp)?;
        let at = self.clock.now();
        let (body, changes) = make(&facts, &self.shop.lockouts, &at)?;
        let bytes = entry_of(&at, Some(&facts), body).map_err(|error| self.not_kept(&error))?;
        self.append(NewEntry { visit: None, bytes }, &changes)
    }

    pub(super) fn mount(&mut self, wheel: NewWheel, held_ms: u64) {
        match self.disk.head() {
            Ok(head) => {
                let mounting = format!("W{:07}", head.size + 1);
                self.submit_wheel(WheelEvent::WheelMounted { mounting, wheel: Box::new(wheel), held_ms });
            }
            Err(error) => self.said = Some(self.not_kept(&error)),
        }
    }

    /// What a control of the wheel's and the lockout's screens means.
    pub(super) fn wheel_pressed(&mut self, control: Control) {
        match control {
            Control::Wheel => self.view = View::Wheel,
            Control::Lockout => self.view = View::Lockout { comes_off: false },
            Control::TakeLockOff => self.view = View::Lockout { comes_off: true },
            Control::PutLockOn => self.open_form(FormKind::LockOn),
            Control::ForceRelease => self.open_form(FormKind::ForceRelease),
            Control::MountWheel => self.open_under_lock(FormKind::Mount),
            Control::ScrapWheel => self.open_under_lock(FormKind::Scrap),
            Control::MeasureWheel => self.open_under_lock(FormKind::Measure),
            _ => {}
        }
    }

    /// Nobody fills in a form about a wheel that no hand may be on: the refusal comes before the work.
    fn open_under_lock(&mut self, kind: FormKind) {
        let Some(facts) = self.facts() else { return self.said = Some(Said::NotSetUp) };
        match wheel::hands_on(&facts) {
            Ok(_) => self.open_form(kind),
            Err(refusal) => self.said = Some(Said::Wheel(refusal)),
        }
    }

    /// What was held on these screens; tells whether it was one of theirs.
    pub(super) fn wheel_held(&mut self, control: HeldControl, held_ms: u64) -> bool {
        let lockout = match control {
            HeldControl::LockTried => LockoutEvent::LockTried { held_ms },
            HeldControl::ProvedDead => LockoutEvent::ProvedDead { held_ms },
            HeldControl::LockReleased => LockoutEvent::LockReleased { held_ms },
            HeldControl::OwnerTold => LockoutEvent::OwnerTold { held_ms },
            HeldControl::WheelLookedOver => {
                self.submit_wheel(WheelEvent::WheelLookedOver { held_ms });
                return true;
            }
            HeldControl::Form => {
                self.form_held(held_ms);
                return true;
            }
            HeldControl::Isolation | HeldControl::ClearanceItem | HeldControl::StartGrind | HeldControl::StandStill => {
                return false;
            }
        };
        self.submit_lockout(lockout);
        true
    }

    /// Whoever signs on and whose lock was taken off is told before anything else.
    pub(super) fn tell_owner(&mut self) {
        let untold = self.operator.as_ref().is_some_and(|operator| self.shop.lockouts.to_tell(operator).is_some());
        // Wheel and reel may still turn: then the run-down is looked at first, and the gate tells it.
        if untold && !self.turning() {
            self.view = View::Lockout { comes_off: false };
        }
    }

    pub(super) fn wheel_body(&self) -> Option<Body> {
        let facts = self.facts()?;
        let card = present::wheel_card(&facts, &self.shop.past_wheels, &self.config.wheel_rules(), self.settings);
        Some(Body::Wheel(Box::new(card)))
    }

    pub(super) fn lockout_body(&self, comes_off: bool) -> Option<Body> {
        let facts = self.facts()?;
        let time_of_day = |at| self.time_of_day(at);
        let card = present::lockout_card(&facts, &self.shop.lockouts, comes_off, &time_of_day, self.settings);
        Some(Body::Lockout(Box::new(card)))
    }
}
