//! Explanations, each from a real visit.

use super::bench::{Case, USUAL, cases, stands};
use super::{Sample, visit};
use sparkout_core::reading::Units;
use sparkout_ui::screen::*;

/// One explanation of each kind that the usual samples show, in thousandths in English, in millimetres with a comma in
/// Spanish.
pub fn all(language: Language) -> Vec<Sample> {
    let wanted = [
        ("95-why-tip-circle", WhyOf::TipCircle, 0),
        ("95-why-tilt", WhyOf::Tilt, 0),
        ("95-why-turn", WhyOf::FrontTurn, 1),
        ("95-why-touches", WhyOf::TouchesNeeded, 2),
        ("95-why-dial", WhyOf::Dial, 0),
        ("95-why-land", WhyOf::LandAfter, 0),
        ("95-why-cone", WhyOf::ProvedCone, 0),
        ("95-why-next-due", WhyOf::NextDue, 0),
    ];
    let cases = cases();
    wanted.into_iter().filter_map(|(name, of, case)| Some((name, shown(of, cases[case], language)?))).collect()
}

/// All the others.
pub fn others(language: Language) -> Vec<Sample> {
    let named = [
        ("95-why-worn", WhyOf::Worn),
        ("95-why-grinds-left", WhyOf::GrindsLeft),
        ("95-why-lifting", WhyOf::Lifting),
        ("95-why-taped-cone", WhyOf::Cone),
        ("95-why-barrel", WhyOf::Barrel),
        ("95-why-target", WhyOf::Target),
        ("95-why-wear", WhyOf::WearUsed),
        ("95-why-screw", WhyOf::FrontTurn),
        ("95-why-re-zero", WhyOf::Rezero),
        ("95-why-error", WhyOf::RearError),
        ("95-why-rear-turn", WhyOf::RearTurn),
        ("95-why-surface-speed", WhyOf::SurfaceSpeed),
        ("95-why-margin", WhyOf::Margin),
        ("95-why-final-diameter", WhyOf::FinalDiameter),
        ("95-why-time-left", WhyOf::TimeLeft),
        ("95-why-removed", WhyOf::Removed),
        ("95-why-misclosure", WhyOf::Misclosure),
    ];
    named.into_iter().filter_map(|(name, of)| Some((name, shown(of, USUAL, language)?))).collect()
}

fn shown(of: WhyOf, case: Case, language: Language) -> Option<Screen> {
    let settings = match language {
        Language::English => Settings { language, ..Settings::default() },
        Language::Spanish => {
            Settings { language, units: Units::Metric, region: "AR".parse().unwrap_or_default(), ..Settings::default() }
        }
    };
    let walk = stands(case).into_iter().find(|walk| walk.why(of, settings).is_some())?;
    let why = walk.why(of, settings)?;
    let mut screen = visit(language, why.stop?, Body::Starting);
    screen.settings = settings;
    Some(walk.screen(why, screen))
}
