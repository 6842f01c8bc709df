//! Lockout from hanging the lock to taking it off: situation, event, verdict. The order is that of 29 CFR 1910.147(d) to
//! (f), the exception that of (e)(3).
#![allow(clippy::unwrap_used, clippy::panic)]

use super::{Lockout, LockoutEvent, LockoutRefusal, Lockouts};
use crate::facts::BenchFacts;
use crate::visit::bench_for_tests as bench;
use crate::visit::gate::{Block, blocks};

const HELD: u64 = 1_000;

fn applied() -> LockoutEvent {
    LockoutEvent::LockApplied { to: "Main isolator".to_owned(), lock: " 7 ".to_owned(), held_ms: HELD }
}

const TRIED: LockoutEvent = LockoutEvent::LockTried { held_ms: HELD };
const DEAD: LockoutEvent = LockoutEvent::ProvedDead { held_ms: HELD };
const RELEASED: LockoutEvent = LockoutEvent::LockReleased { held_ms: HELD };
const TOLD: LockoutEvent = LockoutEvent::OwnerTold { held_ms: HELD };

fn forced() -> LockoutEvent {
    LockoutEvent::ForceReleased {
        reason: "Left the premises".to_owned(),
        attempts: vec!["Telephoned, no answer".to_owned()],
        held_ms: HELD,
    }
}

/// The bench with somebody at it, and the lockouts as they stand.
struct Stand {
    facts: BenchFacts,
    lockouts: Lockouts,
}

impl Stand {
    fn new() -> Self {
        Self { facts: bench::facts(), lockouts: Lockouts::default() }
    }

    fn who(&mut self, id: &str, initials: &str, lead: bool) -> &mut Self {
        self.facts.operator = Some(crate::record::Operator { lead, ..bench::operator(id, initials) });
        self.facts.untold = self.facts.operator.as_ref().and_then(|who| self.lockouts.to_tell(who).cloned());
        self
    }

    fn take(&mut self, event: &LockoutEvent) -> &mut Self {
        self.lockouts = self.lockouts.step(&self.facts, event, &bench::moment(1)).unwrap();
        self.facts.lockout = self.lockouts.open().cloned();
        let who = self.facts.operator.clone().unwrap();
        self.facts.untold = self.lockouts.to_tell(&who).cloned();
        self
    }

    #[track_caller]
    fn refuses(&mut self, event: &LockoutEvent, refusal: &LockoutRefusal) -> &mut Self {
        assert_eq!(self.lockouts.step(&self.facts, event, &bench::moment(1)).as_ref(), Err(refusal), "{event:?}");
        self
    }
}

#[test]
fn hung_tried_proved_dead_and_taken_off_in_that_order_only() {
    let mut stand = Stand::new();
    for early in [&TRIED, &DEAD, &RELEASED] {
        stand.refuses(early, &LockoutRefusal::NoLock);
    }
    stand.take(&applied());
    let padlock = stand.lockouts.open().unwrap().padlock();
    assert_eq!((padlock.number.as_str(), padlock.by.as_str()), ("7", "Operator AM"));
    assert!(!stand.facts.locked_dead(), "a lock that was not tried proves nothing");
    let on = LockoutRefusal::AlreadyOn { lock: "7".to_owned(), by: "Operator AM".to_owned() };
    stand.refuses(&applied(), &on).refuses(&DEAD, &LockoutRefusal::OutOfTurn);
    stand.take(&TRIED).refuses(&TRIED, &LockoutRefusal::OutOfTurn);
    assert!(!stand.facts.locked_dead());
    stand.take(&DEAD).refuses(&TRIED, &LockoutRefusal::OutOfTurn).refuses(&DEAD, &LockoutRefusal::OutOfTurn);
    assert!(stand.facts.locked_dead() && matches!(stand.lockouts.open(), Some(Lockout::Dead(_))));
    stand.take(&RELEASED).refuses(&RELEASED, &LockoutRefusal::NoLock);
    assert_eq!(stand.lockouts, Lockouts::default());
}

#[test]
fn a_lock_that_was_never_tried_is_taken_off_too() {
    assert_eq!(Stand::new().take(&applied()).take(&RELEASED).lockouts, Lockouts::default());
    assert_eq!(Stand::new().take(&applied()).take(&TRIED).take(&RELEASED).lockouts, Lockouts::default());
}

#[test]
fn an_open_lockout_blocks_the_gate_at_every_step_for_everybody() {
    let mut stand = Stand::new();
    let locked = [Block::LockedOut { lock: "7".to_owned(), by: "Operator AM".to_owned() }];
    for event in [applied(), TRIED, DEAD] {
        stand.take(&event);
        for (id, initials) in [("B-1", "AM"), ("B-2", "BN")] {
            stand.who(id, initials, false);
            assert_eq!(blocks(&stand.facts), locked, "{event:?} {id}");
        }
        stand.who("B-1", "AM", false);
    }
    stand.take(&RELEASED);
    assert_eq!(blocks(&stand.facts), []);
}

#[test]
fn only_the_owner_goes_on_with_it_and_takes_it_off() {
    let mut stand = Stand::new();
    stand.take(&applied()).who("B-2", "BN", true);
    let other = LockoutRefusal::NotTheOwner { lock: "7".to_owned(), by: "Operator AM".to_owned() };
    stand.refuses(&TRIED, &other).refuses(&DEAD, &other).refuses(&RELEASED, &other);
    stand.who("B-1", "AM", false).take(&TRIED).take(&DEAD).who("B-2", "BN", true).refuses(&RELEASED, &other);
    assert!(!stand.facts.locked_dead(), "another person's lock keeps nobody else's hands");
    // A badge decides, not a name.
    stand.who("B-1", "XX", false);
    assert!(stand.facts.locked_dead());
    stand.take(&RELEASED);
}

#[test]
fn a_lead_takes_it_off_by_exception_and_the_owner_is_told_before_anything_starts() {
    let mut stand = Stand::new();
    stand.take(&applied()).take(&TRIED).take(&DEAD);
    stand.who("B-1", "AM", true).refuses(&forced(), &LockoutRefusal::OwnLock);
    let not_lead = LockoutRefusal::NotALead { name: "Operator BN".to_owned() };
    stand.who("B-2", "BN", false).refuses(&forced(), &not_lead);
    stand.who("B-2", "BN", true);
    let open = LockoutRefusal::NotAccountedFor { most: 200 };
    for (reason, attempts) in
        [("", vec!["telephoned"]), ("gone", vec![]), ("gone", vec!["  "]), ("gone", vec!["telephoned", ""])]
    {
        let attempts = attempts.into_iter().map(str::to_owned).collect();
        stand.refuses(&LockoutEvent::ForceReleased { reason: reason.to_owned(), attempts, held_ms: HELD }, &open);
    }
    stand.take(&forced());
    assert_eq!(stand.lockouts.open(), None);
    // The lead may start; the owner may not, however long ago it was.
    assert_eq!(blocks(&stand.facts), []);
    stand.refuses(&TOLD, &LockoutRefusal::NothingToTell);
    stand.who("B-1", "AM", false);
    assert_eq!(blocks(&stand.facts), [Block::OwnerNotTold { lock: "7".to_owned(), by: "Operator BN".to_owned() }]);
    stand.take(&TOLD);
    assert_eq!(blocks(&stand.facts), []);
    stand.refuses(&TOLD, &LockoutRefusal::NothingToTell);
}

#[test]
fn two_locks_that_were_taken_off_are_told_one_by_one() {
    let mut stand = Stand::new();
    for _ in 0..2 {
        stand.who("B-1", "AM", false).take(&applied()).who("B-2", "BN", true).take(&forced());
    }
    stand.who("B-1", "AM", false).take(&TOLD);
    assert!(stand.facts.untold.is_some());
    stand.take(&TOLD);
    assert!(stand.facts.untold.is_none());
}

#[test]
fn nothing_is_taken_from_nobody_or_let_go_early_or_without_a_number() {
    let mut stand = Stand::new();
    stand.facts.operator = None;
    stand.refuses(&applied(), &LockoutRefusal::NoOperator);
    stand.who("B-1", "AM", false);
    stand.facts.operator.as_mut().unwrap().trained = false;
    stand.refuses(&applied(), &LockoutRefusal::NotTrained { name: "Operator AM".to_owned() });
    stand.facts.operator.as_mut().unwrap().trained = true;
    let with = |to: &str, lock: &str, held_ms| LockoutEvent::LockApplied { to: to.into(), lock: lock.into(), held_ms };
    stand.refuses(&with("x", "7", 999), &LockoutRefusal::HeldTooShort { held_ms: 999, wanted_ms: 1_000 });
    stand.refuses(&with("x", " ", HELD), &LockoutRefusal::Number { length: 0, most: 12 });
    stand.refuses(&with("x", "1234567890123", HELD), &LockoutRefusal::Number { length: 13, most: 12 });
    stand.refuses(&with(" ", "7", HELD), &LockoutRefusal::NothingNamed);
    stand.take(&with("x", "123456789012", HELD));
    for short in [
        LockoutEvent::LockTried { held_ms: 1 },
        LockoutEvent::ProvedDead { held_ms: 1 },
        LockoutEvent::LockReleased { held_ms: 1 },
        LockoutEvent::OwnerTold { held_ms: 1 },
        LockoutEvent::ForceReleased { reason: "x".into(), attempts: vec!["y".into()], held_ms: 1 },
    ] {
        stand.refuses(&short, &LockoutRefusal::HeldTooShort { held_ms: 1, wanted_ms: 1_000 });
    }
}
