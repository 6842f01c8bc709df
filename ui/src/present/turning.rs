//! What to turn, how far and which way; and the question that must be answered before a way is told.

use super::{Beside, figures, side_name};
use crate::screen::{Answer, Direction, Question, Turn, TurnUnit};
use crate::words::say_type;
use sparkout_core::bench::FrameKind;
use sparkout_core::calc::front::{FrontMove, FrontVerdict};
use sparkout_core::calc::uncertainty::Decision;
use sparkout_core::facts::TypeFact;
use sparkout_core::quantity::{Angle, Length, Turns};
use sparkout_core::reading::LengthKind;
use sparkout_core::record::{Adjuster, SeenFrom, Side};
use sparkout_core::visit::kind::StageName;
use sparkout_core::visit::{FrontPhase, RearRemedy, Visit};

/// Something about a type that is asked once, with what each answer means. The last answer tells nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct TypeQuestion {
    /// As it is shown.
    pub question: Question,
    /// What each answer tells, in order; `None` where it is not known.
    pub tells: Vec<Option<TypeFact>>,
}

/// What must be asked about the type at this point, if anything.
pub fn type_question(visit: &Visit, beside: &Beside<'_>) -> Option<TypeQuestion> {
    if visit.asks_isolation(beside.facts) {
        return None;
    }
    let unit_type = &visit.unit().unit_type;
    match visit.stage_name() {
        StageName::Receive if unit_type.leading_end_at.is_none() => Some(leading_end(beside)),
        StageName::Front => {
            let side = front_side(visit, beside)?;
            let adjuster = unit_type.front.at(side);
            adjuster
                .clockwise_raises
                .is_none()
                .then(|| direction(beside, side, adjuster, |raises| TypeFact::FrontClockwiseRaises(side, raises)))
        }
        StageName::Rear => {
            let remedy = visit.rear_remedy(beside.facts)?.ok()?;
            let adjuster = unit_type.rear.at(Side::Right);
            (remedy == RearRemedy::Turn && adjuster.clockwise_raises.is_none()).then(|| {
                direction(beside, Side::Right, adjuster, |raises| TypeFact::RearClockwiseRaises(Side::Right, raises))
            })
        }
        StageName::Height => {
            let outcome = visit.height_outcome(beside.facts)?.ok()?;
            if outcome.decision != Decision::Beyond {
                return None;
            }
            let fixed_head = unit_type.frame == FrameKind::FixedHead;
            let side = [Side::Left, Side::Right]
                .into_iter()
                .find(|side| visit.height_adjusters().at(*side).clockwise_raises.is_none())?;
            Some(direction(beside, side, visit.height_adjusters().at(side), |raises| {
                if fixed_head {
                    TypeFact::RearClockwiseRaises(side, raises)
                } else {
                    TypeFact::FrontClockwiseRaises(side, raises)
                }
            }))
        }
        _ => None,
    }
}

/// The side whose adjuster Front is about to tell, when it asks for a turn.
fn front_side(visit: &Visit, beside: &Beside<'_>) -> Option<Side> {
    let Ok(FrontPhase::Judged(outcome)) = visit.front_phase(beside.facts) else { return None };
    let asks = outcome.verdict == FrontVerdict::Adjust && !visit.front_done(beside.facts);
    asks.then(|| visit.front_side(visit.front().which()).ok()).flatten()
}

fn leading_end(beside: &Beside<'_>) -> TypeQuestion {
    let answer = |name: &str, label: String| Answer { name: name.to_owned(), label };
    let settings = beside.settings;
    TypeQuestion {
        question: Question {
            text: say_type::leading_end(settings),
            detail: say_type::leading_end_why(settings),
            answers: vec![
                answer("Your left", say_type::your_left(settings)),
                answer("Your right", say_type::your_right(settings)),
            ],
        },
        tells: vec![Some(TypeFact::LeadingEndAt(Side::Left)), Some(TypeFact::LeadingEndAt(Side::Right))],
    }
}

fn direction(beside: &Beside<'_>, side: Side, adjuster: &Adjuster, fact: impl Fn(bool) -> TypeFact) -> TypeQuestion {
    let answer = |name: &str, label: String| Answer { name: name.to_owned(), label };
    let settings = beside.settings;
    TypeQuestion {
        question: Question {
            text: say_type::clockwise(side, settings),
            detail: say_type::clockwise_why(adjuster.seen_from, settings),
            answers: vec![
                answer("It raises", say_type::raises(settings)),
                answer("It lowers", say_type::lowers(settings)),
                answer("Not known", say_type::not_known(settings)),
            ],
        },
        tells: vec![Some(fact(true)), Some(fact(false)), None],
    }
}

/// A cure at a front adjuster, ready to show.
pub(super) fn front_turn(cure: &FrontMove, side: Side, adjuster: &Adjuster, beside: &Beside<'_>) -> Turn {
    let mut turn = turn(cure.height, cure.turns, cure.degrees, side, adjuster, beside);
    turn.rezero = figures::signed(cure.rezero, beside.settings);
    turn
}

/// A move at an adjuster, ready to show. `height` + raises what the adjuster carries.
pub(super) fn turn(
    height: Length,
    turns: Option<Turns>,
    degrees: Option<Angle>,
    side: Side,
    adjuster: &Adjuster,
    beside: &Beside<'_>,
) -> Turn {
    let units = beside.settings;
    let (amount, unit) = match (turns, degrees) {
        (Some(turns), _) => (figures::number(turns.turns().abs(), 2, beside.settings), TurnUnit::Turn),
        (None, Some(degrees)) => (format!("{:.0}", degrees.degrees().abs()), TurnUnit::Degrees),
        (None, None) => (figures::plain(height, LengthKind::Fine, units), TurnUnit::Height),
    };
    let raise = height > Length::ZERO;
    let direction = match adjuster.clockwise_raises {
        Some(clockwise_raises) if unit != TurnUnit::Height && clockwise_raises == raise => Direction::Clockwise,
        Some(_) if unit != TurnUnit::Height => Direction::Counterclockwise,
        Some(_) | None if raise => Direction::Raise,
        Some(_) | None => Direction::Lower,
    };
    Turn {
        amount,
        unit,
        height_unit: figures::sign_of(LengthKind::Fine, units).to_owned(),
        direction,
        side: side_name(Some(side)),
        from_above: adjuster.seen_from == SeenFrom::Above,
        height: figures::signed_with_unit(height, units),
        flats: turns.map_or_else(String::new, |turns| figures::number(turns.flats().abs(), 1, beside.settings)),
        rezero: String::new(),
    }
}
