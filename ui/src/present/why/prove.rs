//! Prove: the cone and what it is worth, what was taken off, the closure with Front.

use super::sheet::{Line, Out, Sheet};
use super::words::{self, Origin};
use crate::present::figures;
use crate::screen::Why;
use sparkout_core::bench::End;
use sparkout_core::calc::prove::{Prove, ProveVerdict};
use sparkout_core::reading::LengthKind;
use sparkout_core::visit::event::Place;

fn outcome(sheet: &Sheet<'_>) -> Option<Prove> {
    sheet.visit.proved(sheet.beside.facts)?.ok()
}

pub(super) fn cone(sheet: &Sheet<'_>) -> Option<Why> {
    let (outcome, settings) = (outcome(sheet)?, sheet.settings());
    let state = sheet.visit.prove();
    let lead = sheet.diameter("D1", state.reading(Place::Lead)?, words::LEAD, Origin::TapedAfter(End::Lead));
    let trail = sheet.diameter("D2", state.reading(Place::Trail)?, words::TRAIL, Origin::TapedAfter(End::Trail));
    let step = sheet.beside.facts.instruments.tape_graduation;
    let step = sheet.read("p", step, LengthKind::Fine, words::TAPE_STEP, Origin::Configured);
    let cone = sheet.finer("c", outcome.cone, words::CONE_IN, Origin::Computed);
    let guard = sheet.finer("U", outcome.cone_u95, words::UNCERTAINTY, Origin::Computed);
    let limit = sheet.finer("L", sheet.beside.facts.limits.cone, words::LIMIT, Origin::Configured);
    let (relation, follows) = match outcome.verdict {
        ProveVerdict::Pass => ("|{c}| + {U} ≤ {L}", words::PROVEN),
        ProveVerdict::Regrind => ("|{c}| > {L}", words::REGRIND),
        ProveVerdict::Repeat => ("|{c}| + {U} > {L}", words::REPEAT),
    };
    let vars = [&lead, &trail, &step, &limit];
    let sign = sheet.fine_sign();
    let (signed, worth) = (figures::signed(outcome.cone, settings), figures::uncertainty(outcome.cone_u95, settings));
    let formulas = vec![
        sheet.formula(&Line { left: "c", right: "{D1} − {D2}" }, &vars, Out::nearest(signed.clone(), sign)),
        sheet.formula(&Line { left: "U", right: "2 × √({p}² ÷ 6)" }, &vars, Out::up(worth.clone(), sign)),
        sheet.comparison(relation, &[&cone, &guard, &limit]),
    ];
    let mut why = sheet.why(words::PROVED_TITLE, format!("{signed} ± {worth} {sign}"), formulas, &vars, words::GUM);
    why.follows = sheet.say(follows).to_owned();
    Some(why)
}

/// At the end that was the larger one.
pub(super) fn removed(sheet: &Sheet<'_>) -> Option<Why> {
    let removed = outcome(sheet)?.removed?;
    let (lead, trail) = sheet.visit.tape().ends()?;
    let (before, end, place) =
        if lead >= trail { (lead, End::Lead, Place::Lead) } else { (trail, End::Trail, Place::Trail) };
    let after = sheet.visit.prove().reading(place)?;
    let before = sheet.diameter("Db", before, words::DIAMETER_BEFORE, Origin::Taped(end));
    let after = sheet.diameter("Da", after, words::DIAMETER_AFTER, Origin::TapedAfter(end));
    let vars = [&before, &after];
    let sign = sheet.fine_sign();
    let shown = figures::plain(removed, LengthKind::Fine, sheet.settings());
    // Its size is shown; a reel that grew would be a tape held wrong, and the formula then says so.
    let line = Line { left: "e", right: "|{Db} − {Da}|" };
    let formula = sheet.formula(&line, &vars, Out::nearest(shown.clone(), sign));
    Some(sheet.why(words::REMOVED_TITLE, format!("{shown} {sign}"), vec![formula], &vars, words::DEFINITION))
}

pub(super) fn misclosure(sheet: &Sheet<'_>) -> Option<Why> {
    let (outcome, settings) = (outcome(sheet)?, sheet.settings());
    let misclosure = outcome.misclosure?;
    let front = sheet.visit.front_outcome(sheet.beside.facts)?.ok()?;
    let state = sheet.visit.prove();
    let zero_end = sheet.visit.zero_end();
    let at = |end| state.reading(if end == End::Lead { Place::Lead } else { Place::Trail });
    let other_end = zero_end.other();
    let zero = sheet.diameter("Dz", at(zero_end)?, words::ZERO_DIAMETER, Origin::TapedAfter(zero_end));
    let other = sheet.diameter("Do", at(other_end)?, words::OTHER_DIAMETER, Origin::TapedAfter(other_end));
    let tilt = sheet.finer("t", front.tilt, words::TILT, Origin::FromFront);
    let sign = sheet.fine_sign();
    let signed = figures::signed(misclosure, settings);
    let line = Line { left: "m", right: "{Dz} − {Do} + 2 × {t}" };
    let mut formulas = vec![sheet.formula(&line, &[&zero, &other, &tilt], Out::nearest(signed.clone(), sign))];
    let Some(u95) = outcome.misclosure_u95 else {
        let vars = [&zero, &other, &tilt];
        let result = figures::signed_with_unit(misclosure, settings);
        return Some(sheet.why(words::MISCLOSURE_TITLE, result, formulas, &vars, words::CLOSURE));
    };
    let cone_u95 = sheet.finer("Uc", outcome.cone_u95, words::CONE_U, Origin::Computed);
    let tilt_u95 = sheet.finer("Ut", front.tilt_u95?, words::TILT_U, Origin::FromFront);
    let worth = figures::uncertainty(u95, settings);
    let line = Line { left: "U", right: "√({Uc}² + (2 × {Ut})²)" };
    formulas.push(sheet.formula(&line, &[&cone_u95, &tilt_u95], Out::up(worth.clone(), sign)));
    let vars = [&zero, &other, &tilt, &cone_u95, &tilt_u95];
    let result = format!("{signed} ± {worth} {sign}");
    Some(sheet.why(words::MISCLOSURE_TITLE, result, formulas, &vars, words::CLOSURE))
}
