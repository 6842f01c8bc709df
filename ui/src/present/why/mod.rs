//! Why a figure is what it is: the formula with the numbers put in. Every number is one that the figure was computed
//! from, or the figure itself, written as it is written elsewhere; nothing is computed anew here.

mod clearance;
mod front;
mod grind;
mod prove;
mod rear;
mod receive;
mod returning;
mod sheet;
mod tape;
mod words;

use super::Beside;
use crate::screen::{Why, WhyOf};
use sheet::Sheet;
use sparkout_core::visit::Visit;
use sparkout_core::visit::kind::StageName;

/// Why a figure of the stage in hand is what it is; `None` when it is not on that stage's screen, or not computed yet.
pub fn why(of: WhyOf, visit: &Visit, beside: &Beside<'_>) -> Option<Why> {
    if visit.asks_isolation(beside.facts) {
        return None;
    }
    let sheet = Sheet { visit, beside };
    let mut why = match (visit.stage_name(), of) {
        (StageName::Receive, WhyOf::Worn) => receive::worn(&sheet),
        (StageName::Receive, WhyOf::GrindsLeft) => receive::grinds_left(&sheet),
        (StageName::Receive, WhyOf::Lifting) => receive::lifting(&sheet),
        (StageName::Tape, WhyOf::Cone) => tape::cone(&sheet),
        (StageName::Tape, WhyOf::Barrel) => tape::barrel(&sheet),
        (StageName::Tape | StageName::Front, WhyOf::Target) => tape::target(&sheet),
        (StageName::Tape, WhyOf::TipCircle) => tape::tip_circle(&sheet),
        (StageName::Tape, WhyOf::WearUsed) => tape::wear_used(&sheet),
        (StageName::Front, WhyOf::Tilt) => front::tilt(&sheet),
        (StageName::Front, WhyOf::FrontTurn) => front::turn(&sheet),
        (StageName::Front, WhyOf::Rezero) => front::rezero(&sheet),
        (StageName::Front, WhyOf::TouchesNeeded) => front::touches_needed(&sheet),
        (StageName::Rear, WhyOf::RearError) => rear::error(&sheet),
        (StageName::Rear, WhyOf::RearTurn) => rear::turn(&sheet),
        (StageName::Clearance, WhyOf::SurfaceSpeed) => clearance::surface_speed(&sheet),
        (StageName::Clearance, WhyOf::Margin) => clearance::margin(&sheet),
        (StageName::Grind, WhyOf::Dial) => grind::dial(&sheet),
        (StageName::Grind, WhyOf::FinalDiameter) => grind::final_diameter(&sheet),
        (StageName::Grind, WhyOf::TimeLeft) => grind::time_left(&sheet),
        (StageName::Grind, WhyOf::LandAfter) => grind::land_after(&sheet),
        (StageName::Prove, WhyOf::ProvedCone) => prove::cone(&sheet),
        (StageName::Prove, WhyOf::Removed) => prove::removed(&sheet),
        (StageName::Prove, WhyOf::Misclosure) => prove::misclosure(&sheet),
        (StageName::Return, WhyOf::NextDue) => returning::next_due(&sheet),
        _ => None,
    }?;
    (why.of, why.stop) = (of, Some(visit.stage_name()));
    Some(why)
}
