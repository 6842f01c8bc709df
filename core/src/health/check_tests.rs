//! The check, stepped as the kiosk steps it. Reversal takes the bar's own taper out (the toolmaker's reversal; common
//! practice); the tolerance is the handbook's common practice, half a thousandth.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use super::check::{Check, CheckEffect, CheckPhase, CheckRefusal, GrinderEvent, step};
use super::spot::SpotCheck;
use crate::calc::error::CalcError;
use crate::calc::master::MasterVerdict;
use crate::facts::{BenchFacts, CheckRules};
use crate::quantity::Length;
use crate::reading::{EntryUnit, Reading};
use crate::record::Grinder;
use crate::visit::bench_for_tests::{facts as bench_facts, locked, moment, operator};
use jiff::civil::date;

fn inch(text: &str) -> Reading {
    Reading::parse(text, EntryUnit::Inch).unwrap()
}

fn facts() -> BenchFacts {
    let mut facts = bench_facts();
    facts.upkeep.check = CheckRules {
        stations: ["1", "6", "11", "16", "21"].map(inch).to_vec(),
        tolerance: Length::from_inches(0.0005),
        every_months: 6,
        override_days: 7,
        spot_limit: Length::from_inches(0.001),
    };
    facts
}

fn lead() -> BenchFacts {
    let mut facts = facts();
    facts.operator = Some(crate::record::Operator { lead: true, ..operator("B-2", "IB") });
    facts
}

fn take(check: Option<&Check>, facts: &BenchFacts, event: &GrinderEvent) -> (Option<Check>, Vec<CheckEffect>) {
    let stepped = step(check, facts, event, &moment(1_000)).unwrap();
    (stepped.check, stepped.effects)
}

fn refused(check: Option<&Check>, facts: &BenchFacts, event: &GrinderEvent) -> CheckRefusal {
    step(check, facts, event, &moment(1_000)).unwrap_err()
}

fn read(thou: f64) -> GrinderEvent {
    GrinderEvent::Read { reading: Reading::from_nanometres((thou * 25_400.0).round() as i64) }
}

const HELD: GrinderEvent = GrinderEvent::IsolationHeld { held_ms: 1_000 };

/// Two runs over five stations, a thousandth of the dial each step: the grinder's rise and the bar's over a step.
fn whole(facts: &BenchFacts, rails: f64, bar: f64) -> Check {
    let (mut check, _) = take(None, facts, &GrinderEvent::Started);
    check = take(check.as_ref(), facts, &HELD).0;
    for way in [bar, -bar] {
        for station in 0..5 {
            check = take(check.as_ref(), facts, &read(f64::from(station) * (rails + way))).0;
        }
        if way.to_bits() == bar.to_bits() {
            check = take(check.as_ref(), facts, &GrinderEvent::BarTurned).0;
        }
    }
    check.unwrap()
}

fn grinder_of(effects: &[CheckEffect]) -> &Grinder {
    match &effects[0] {
        CheckEffect::GrinderChanged(grinder) => grinder,
        other => panic!("{other:?}"),
    }
}

/// The bar's taper, however large beside the tolerance, is not blamed on the rails; a true check counts half a year.
#[test]
fn a_tapered_bar_does_not_make_the_grinder_out_of_true() {
    let facts = facts();
    let check = whole(&facts, 0.0, 2.0);
    assert_eq!(check.phase(&facts), CheckPhase::Complete);
    let (open, effects) = take(Some(&check), &facts, &GrinderEvent::Finished);
    assert_eq!((open, effects.last()), (None, Some(&CheckEffect::Over)));
    let grinder = grinder_of(&effects);
    let found = grinder.last_check.as_deref().unwrap();
    assert_eq!((found.verdict, found.date), (MasterVerdict::True, facts.today));
    // Four steps of two thousandths on a dial in diameter are four thousandths of height.
    assert!((found.bar_error.abs().thou() - 4.0).abs() < 1e-9 && found.parallel_error.abs().thou() < 1e-9);
    assert_eq!(grinder.check_due, date(2031, 10, 14));
}

/// Rails out by 0.001 in over 20 in, twice what is accepted: out of true, the day stays, and it stands in the way.
#[test]
fn rails_that_rise_are_out_of_true() {
    let mut facts = facts();
    let check = whole(&facts, 0.5, 2.0);
    let (_, effects) = take(Some(&check), &facts, &GrinderEvent::Finished);
    let grinder = grinder_of(&effects).clone();
    let found = grinder.last_check.clone().unwrap();
    assert_eq!((found.verdict, found.proven), (MasterVerdict::OutOfTrue, false));
    assert!((found.parallel_error.thou() - 1.0).abs() < 1e-9);
    assert_eq!(grinder.check_due, facts.grinder.check_due);
    facts.grinder = grinder;
    assert_eq!(crate::visit::gate::blocks(&facts), [crate::visit::gate::Block::OutOfTrue { checked: facts.today }]);
}

/// U of the error over the span, from five stations 5 in apart, a graduation of 0.001 and touches of 0.0003 on a dial
/// in diameter: 2·√((0.001/√12)² + 0.0003²)/2 · 20/√(2·250), JCGM 100:2008, H.3 for the slope.
#[test]
fn the_error_has_its_uncertainty() {
    let facts = facts();
    let outcome = whole(&facts, 0.0, 0.0).outcome(&facts).unwrap().unwrap();
    let of_reading = (0.001_f64.powi(2) / 12.0 + 0.0003_f64.powi(2)).sqrt();
    let expected = of_reading * 20.0 / 500.0_f64.sqrt();
    assert!((outcome.parallel_u95.inches() - expected).abs() < 1e-12);
    assert!(outcome.proven);
    // 0.0003 is within half a thousandth, but not by its uncertainty of 0.00037.
    let near = whole(&facts, 0.15, 0.0).outcome(&facts).unwrap().unwrap();
    assert_eq!((near.master.verdict, near.proven), (MasterVerdict::True, false));
}

#[test]
fn hands_go_in_only_after_isolation() {
    let mut facts = facts();
    let (check, _) = take(None, &facts, &GrinderEvent::Started);
    assert_eq!(check.as_ref().unwrap().phase(&facts), CheckPhase::Isolation);
    assert_eq!(refused(check.as_ref(), &facts, &read(0.0)), CheckRefusal::IsolationNeeded);
    let short = GrinderEvent::IsolationHeld { held_ms: 999 };
    let too_short = CheckRefusal::HeldTooShort { held_ms: 999, wanted_ms: 1_000 };
    assert_eq!(refused(check.as_ref(), &facts, &short), too_short);
    // A lockout of one's own that was proved dead answers it.
    facts.lockout = Some(locked("B-1", "AM"));
    assert_eq!(check.unwrap().phase(&facts), CheckPhase::Reading { station: 0 });
}

#[test]
fn a_check_goes_in_order_and_a_reading_can_be_taken_again() {
    let facts = facts();
    let (check, _) = take(None, &facts, &GrinderEvent::Started);
    assert_eq!(refused(check.as_ref(), &facts, &GrinderEvent::Started), CheckRefusal::CheckOpen);
    let check = take(check.as_ref(), &facts, &HELD).0;
    assert_eq!(refused(check.as_ref(), &facts, &GrinderEvent::BarTurned), CheckRefusal::StationOpen { station: 1 });
    let mut check = take(check.as_ref(), &facts, &read(3.0)).0;
    check = take(check.as_ref(), &facts, &GrinderEvent::StationPicked { station: 0 }).0;
    assert_eq!(check.as_ref().unwrap().phase(&facts), CheckPhase::Reading { station: 0 });
    check = take(check.as_ref(), &facts, &read(4.0)).0;
    assert_eq!(check.as_ref().unwrap().first()[0], Some(inch("0.004")));
    assert_eq!(refused(check.as_ref(), &facts, &GrinderEvent::Finished), CheckRefusal::StationOpen { station: 2 });
    assert!(matches!(refused(check.as_ref(), &facts, &read(501.0)), CheckRefusal::OutOfRange { .. }));
    for _ in 1..5 {
        check = take(check.as_ref(), &facts, &read(0.0)).0;
    }
    assert_eq!(refused(check.as_ref(), &facts, &GrinderEvent::Finished), CheckRefusal::NotTurned);
    let (gone, effects) = take(check.as_ref(), &facts, &GrinderEvent::Abandoned);
    assert_eq!((gone, effects), (None, vec![CheckEffect::Over]));
    assert_eq!(refused(None, &facts, &GrinderEvent::Abandoned), CheckRefusal::NotHere);
}

#[test]
fn a_check_is_a_trained_person_s_and_needs_stations() {
    let mut facts = facts();
    facts.operator.as_mut().unwrap().trained = false;
    assert!(matches!(refused(None, &facts, &GrinderEvent::Started), CheckRefusal::NotTrained { .. }));
    facts.operator = None;
    assert_eq!(refused(None, &facts, &GrinderEvent::Started), CheckRefusal::NoOperator);
    let mut bare = self::facts();
    bare.upkeep.check.stations.truncate(1);
    let none = refused(None, &bare, &GrinderEvent::Started);
    assert!(matches!(none, CheckRefusal::Calculation(CalcError::OutOfRange { .. })), "{none:?}");
}

/// Only a lead, only with a reason, only where something is in the way, and only for the shop's days.
#[test]
fn a_lead_overrides_with_a_reason() {
    let why = |reason: &str| GrinderEvent::Overridden { reason: reason.to_owned() };
    let mut lead = lead();
    assert_eq!(refused(None, &lead, &why("tournament")), CheckRefusal::NothingToOverride);
    lead.today = date(2031, 9, 2);
    assert_eq!(refused(None, &lead, &why("  ")), CheckRefusal::NoReason);
    let mut other = facts();
    other.today = lead.today;
    assert!(matches!(refused(None, &other, &why("tournament")), CheckRefusal::NotALead { .. }));
    let (_, effects) = take(None, &lead, &why("tournament"));
    let grinder = grinder_of(&effects);
    assert_eq!(grinder.check_override, Some(("IB".to_owned(), "tournament".to_owned())));
    assert!(grinder.overridden(date(2031, 9, 8)) && !grinder.overridden(date(2031, 9, 9)));
    // The next check answers for itself.
    lead.grinder = grinder.clone();
    let (_, effects) = take(Some(&whole(&lead, 0.0, 0.0)), &lead, &GrinderEvent::Finished);
    assert_eq!(grinder_of(&effects).check_override, None);
}

#[test]
fn a_spot_check_is_kept_with_whoever_made_it() {
    let facts = facts();
    let event = |reading| GrinderEvent::SpotChecked { unit: "Q-114".to_owned(), reading };
    let (_, effects) = take(None, &facts, &event(inch("-0.0005")));
    let kept =
        SpotCheck { date: facts.today, operator: "AM".to_owned(), unit: "Q-114".to_owned(), reading: inch("-0.0005") };
    assert!(kept.within(facts.upkeep.check.spot_limit));
    assert_eq!(effects, [CheckEffect::SpotKept(kept)]);
    assert!(matches!(refused(None, &facts, &event(inch("0.05"))), CheckRefusal::OutOfRange { .. }));
}
