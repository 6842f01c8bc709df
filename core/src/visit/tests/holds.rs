//! What holds a visit at Receive. Play, a bent roller, a cracked blade and a loose spider hold it (handbook, section 1).

use super::{Condition, Event, Part, Refusal, StageName, Walk};
use crate::visit::event::Hold;
use crate::visit::gate::Block;

fn held_at(part: Part) -> Walk {
    let mut walk = Walk::new();
    walk.look().take(Event::Looked { part, condition: Condition::Bad });
    walk
}

fn let_go(part: Part, reason: &str) -> Event {
    Event::Overridden { hold: Hold::Part(part), reason: reason.to_owned() }
}

#[test]
fn only_a_lead_with_a_reason_lets_a_held_visit_go_on() {
    for part in Part::ALL {
        let mut walk = held_at(part);
        walk.check(&Event::Next, &Refusal::HeldForRepair);
        walk.check(&let_go(part, "spare is on order"), &Refusal::NotLead { name: "Operator AM".to_owned() });
        let operator = walk.facts.operator.take();
        walk.check(&let_go(part, "spare is on order"), &Refusal::Blocked(Block::NoOperator));
        walk.facts.operator = operator;
        if let Some(operator) = &mut walk.facts.operator {
            operator.lead = true;
        }
        walk.check(&let_go(part, " "), &Refusal::ReasonLength { length: 0, most: 200 });
        walk.check(&let_go(part, &"x".repeat(201)), &Refusal::ReasonLength { length: 201, most: 200 });
        walk.take(let_go(part, " spare is on order ")).take(Event::Next).stands(StageName::Tape);
        let given = walk.visit.overridden(Hold::Part(part)).unwrap();
        assert_eq!((given.by.as_str(), given.reason.as_str()), ("AM", "spare is on order"));
        assert_eq!(walk.replayed(), walk.visit);
    }
}

#[test]
fn one_override_covers_one_part() {
    let mut walk = held_at(Part::Blades);
    walk.take(Event::Looked { part: Part::Rollers, condition: Condition::Bad });
    if let Some(operator) = &mut walk.facts.operator {
        operator.lead = true;
    }
    walk.check(&let_go(Part::Bearings, "why not"), &Refusal::NotHeld);
    walk.take(let_go(Part::Blades, "known, watched")).check(&Event::Next, &Refusal::HeldForRepair);
    walk.take(Event::Mended { part: Part::Rollers }).take(Event::Next).stands(StageName::Tape);
}

#[test]
fn mended_is_said_by_name() {
    let mut walk = held_at(Part::Bearings);
    walk.check(&Event::Mended { part: Part::Blades }, &Refusal::NotHeld);
    let operator = walk.facts.operator.take();
    walk.check(&Event::Mended { part: Part::Bearings }, &Refusal::Blocked(Block::NoOperator));
    walk.facts.operator = operator;
    walk.take(Event::Mended { part: Part::Bearings });
    assert_eq!(walk.visit.receive().mended_by(Part::Bearings), Some("AM"));
    walk.check(&Event::Mended { part: Part::Bearings }, &Refusal::NotHeld);
    // What breaks again is held again, whatever was said about it before.
    walk.take(Event::Looked { part: Part::Bearings, condition: Condition::Bad })
        .check(&Event::Next, &Refusal::HeldForRepair);
}
