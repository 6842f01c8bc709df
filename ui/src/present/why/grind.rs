//! Grind: the dial, the end, the time, the land.

use super::sheet::{Line, Out, Sheet, Var};
use super::tape::{dial_factor, taped};
use super::words::{self, Origin, Pair};
use crate::present::{figures, grind};
use crate::screen::Why;
use sparkout_core::bench::{End, LimitBasis};
use sparkout_core::calc::land::uncovered;
use sparkout_core::calc::plan::Plan;
use sparkout_core::quantity::Length;
use sparkout_core::reading::{LengthKind, Reading, Units};
use sparkout_core::visit::Stage;
use sparkout_core::visit::event::Place;

/// The plan of the grind that runs, while there is a pass left.
fn plan<'a>(sheet: &Sheet<'a>) -> Option<&'a Plan> {
    match sheet.visit.stage() {
        Stage::Grind(grind) if sheet.visit.passes().done() < grind.passes(sheet.beside.facts) => Some(grind.plan()),
        Stage::Receive
        | Stage::Tape
        | Stage::Front
        | Stage::Rear
        | Stage::Clearance(_)
        | Stage::Cleared(_)
        | Stage::Grind(_)
        | Stage::Prove
        | Stage::Finger
        | Stage::Relief(_)
        | Stage::ReliefLands
        | Stage::Knife
        | Stage::BackLap(_)
        | Stage::BackLapped
        | Stage::Height
        | Stage::Plate
        | Stage::Check
        | Stage::Label
        | Stage::Return
        | Stage::Closed => None,
    }
}

/// A diameter on the basis of the wear limit, with where it came from.
type Taped = (Length, Option<Reading>, Origin);

/// Leading, trailing and middle as the plan took them.
fn diameters(sheet: &Sheet<'_>) -> Option<Vec<Taped>> {
    let circles = taped(sheet)?.diameter;
    let places = [
        (Place::Lead, Some(circles.lead), Origin::Taped(End::Lead)),
        (Place::Trail, Some(circles.trail), Origin::Taped(End::Trail)),
        (Place::Centre, circles.centre, Origin::TapedCentre),
    ];
    let on_tape = sheet.unit_type().limit_basis == LimitBasis::Tape;
    let taken = places.into_iter().filter_map(|(place, circle, origin)| {
        let reading = sheet.visit.tape().reading(place)?;
        if on_tape { Some((reading.length(), Some(reading), origin)) } else { Some((circle?, None, Origin::Computed)) }
    });
    Some(taken.collect())
}

fn smallest(sheet: &Sheet<'_>) -> Option<Taped> {
    diameters(sheet)?.into_iter().min_by(|one, other| one.0.mm().total_cmp(&other.0.mm()))
}

fn largest(sheet: &Sheet<'_>) -> Option<Taped> {
    diameters(sheet)?.into_iter().max_by(|one, other| one.0.mm().total_cmp(&other.0.mm()))
}

fn fine(sheet: &Sheet<'_>, letter: &'static str, (length, reading, origin): Taped, name: Pair) -> Var {
    match reading {
        Some(reading) => sheet.diameter(letter, reading, name, origin),
        None => sheet.computed_diameter(letter, length, name, origin),
    }
}

fn size(sheet: &Sheet<'_>, letter: &'static str, (length, reading, origin): Taped, name: Pair) -> Var {
    match reading {
        Some(reading) => sheet.read(letter, reading, LengthKind::Size, name, origin),
        None => sheet.computed(letter, length, LengthKind::Size, name, origin),
    }
}

pub(super) fn dial(sheet: &Sheet<'_>) -> Option<Why> {
    let (plan, facts) = (plan(sheet)?, sheet.beside.facts);
    let done = sheet.visit.passes().done();
    let now = *plan.schedule.get(done as usize)?;
    let shown = grind::dial(now, sheet.settings());
    let (factor, sign) = (dial_factor(sheet), sheet.fine_sign());
    let pass = sheet.other("i", f64::from(done + 1), 0, "", words::PASS, Origin::Counted);
    let infeed = sheet.computed("f", facts.grinding.infeed, LengthKind::Fine, words::INFEED, Origin::Configured);
    let cleanup = sheet.computed("c", facts.grinding.cleanup, LengthKind::Fine, words::CLEANUP, Origin::Configured);
    let stock = sheet.computed("S", plan.stock, LengthKind::Fine, words::STOCK, Origin::Computed);
    let most = fine(sheet, "Dx", largest(sheet)?, words::LARGEST);
    let least = fine(sheet, "Dm", smallest(sheet)?, words::SMALLEST);
    let last = done + 1 == plan.passes;
    let mut vars = vec![&factor, &pass, &infeed, &most, &least, &cleanup];
    if last {
        vars.retain(|var| !std::ptr::eq(*var, &pass));
    }
    // The last pass with infeed takes what is left.
    let right = if last { "{S} × {k} ÷ 2" } else { "{i} × {f} × {k} ÷ 2" };
    let passes = plan.passes.to_string();
    let with_stock = [&factor, &pass, &infeed, &stock];
    let formulas = vec![
        sheet.formula(&Line { left: "d", right }, &with_stock, Out::nearest(shown.clone(), sign)),
        sheet.formula(
            &Line { left: "S", right: "{Dx} − ({Dm} − {c})" },
            &vars,
            Out::nearest(sheet.length_text(plan.stock, LengthKind::Fine, 0), sign),
        ),
        sheet.formula(
            &Line { left: "n", right: "ceil({S} ÷ {f})" },
            &[&stock, &infeed],
            Out::nearest(passes, sheet.say(words::PASSES_UNIT)),
        ),
    ];
    Some(sheet.why(words::DIAL_TITLE, format!("{shown} {sign}"), formulas, &vars, words::SCHEDULE))
}

pub(super) fn final_diameter(sheet: &Sheet<'_>) -> Option<Why> {
    let plan = plan(sheet)?;
    let cleanup = sheet.beside.facts.grinding.cleanup;
    let least = size(sheet, "Dm", smallest(sheet)?, words::SMALLEST);
    let cleanup = sheet.computed("c", cleanup, LengthKind::Size, words::CLEANUP, Origin::Configured);
    let vars = [&least, &cleanup];
    let shown = figures::plain(plan.final_diameter, LengthKind::Size, sheet.settings());
    let out = Out::nearest(shown.clone(), sheet.size_sign());
    let formula = sheet.formula(&Line { left: "F", right: "{Dm} − {c}" }, &vars, out);
    let result = format!("{shown} {}", sheet.size_sign());
    let mut why = sheet.why(words::FINAL_TITLE, result, vec![formula], &vars, words::SCHEDULE);
    why.estimate = true;
    Some(why)
}

pub(super) fn time_left(sheet: &Sheet<'_>) -> Option<Why> {
    plan(sheet)?;
    let Stage::Grind(running) = sheet.visit.stage() else { return None };
    let facts = sheet.beside.facts;
    let left = running.passes(facts).saturating_sub(sheet.visit.passes().done());
    let seconds = grind::seconds_left(sheet.visit, running, sheet.beside);
    let (unit, traverse) = match sheet.settings().units {
        Units::Inch | Units::Thou => ("in/s", facts.grinding.traverse.metres_per_second() / 0.0254),
        Units::Metric => ("mm/s", facts.grinding.traverse.metres_per_second() * 1000.0),
    };
    let length = sheet.read("l", sheet.unit_type().reel_length, LengthKind::Size, words::STROKE, Origin::Type);
    let left = sheet.other("n", f64::from(left), 0, "", words::PASSES_LEFT, Origin::Counted);
    let traverse = sheet.other("v", traverse, 3, unit, words::TRAVERSE, Origin::Configured);
    let vars = [&length, &left, &traverse];
    let out = Out::nearest(figures::number(seconds.round(), 0, sheet.settings()), "s");
    let formula = sheet.formula(&Line { left: "t", right: "{l} × {n} ÷ {v}" }, &vars, out);
    let shown = figures::minutes_seconds(seconds.round() as u64);
    let mut why = sheet.why(words::TIME_TITLE, shown, vec![formula], &vars, words::SCHEDULE);
    why.estimate = true;
    Some(why)
}

/// At the end where the land comes out wider.
pub(super) fn land_after(sheet: &Sheet<'_>) -> Option<Why> {
    let (plan, unit_type) = (plan(sheet)?, sheet.unit_type());
    let after = plan.land_after?;
    let index = usize::from(after.trail > after.lead);
    let before = diameters(sheet)?.into_iter().nth(index)?;
    let last = sheet.visit.unit().last.as_ref()?;
    let (land, removed) = (last.land?, before.0 - plan.final_diameter);
    let face = uncovered(land.length(), before.0, removed, unit_type.relief_angle)?;
    let size_unit = sheet.size_sign();
    let diameter = size(sheet, "D", before, words::DIAMETER_BEFORE);
    let end = sheet.computed("F", plan.final_diameter, LengthKind::Size, words::AT_THE_END, Origin::Computed);
    let number = sheet.length_text(removed, LengthKind::Size, 2);
    let removed = sheet.text("e", number, words::REMOVED, Origin::Computed).with_unit(size_unit);
    let width = sheet.read("w", land, LengthKind::Size, words::LAND, Origin::Record(last.date));
    let angle = sheet.degrees("a", unit_type.relief_angle.degrees(), 1, words::RELIEF_ANGLE, Origin::Type);
    let along = sheet.length_text(face.along, LengthKind::Size, 2);
    let along_face = sheet.text("s", along.clone(), words::ALONG_FACE, Origin::Computed).with_unit(size_unit);
    let vars = [&diameter, &end, &removed, &width, &angle, &along_face];
    let uncovered =
        Line { left: "s", right: "{D} ÷ 2 × sin({a}) − √(({D} ÷ 2 × sin({a}))² − {e} × ({D} + {F}) ÷ 4)" };
    let wider = Line {
        left: "b",
        right: "{F} ÷ {D} × {w} + {F} ÷ 2 × arctan({s} × cos({a}) ÷ ({D} ÷ 2 − {s} × sin({a})))",
    };
    let shown = figures::plain(after.lead.max(after.trail), LengthKind::Size, sheet.settings());
    let formulas = vec![
        sheet.formula(&uncovered, &vars, Out::nearest(along, size_unit)),
        sheet.formula(&wider, &vars, Out::nearest(shown.clone(), size_unit)),
    ];
    let mut why = sheet.why(words::LAND_TITLE, format!("{shown} {size_unit}"), formulas, &vars, words::RELIEF_FACE);
    why.estimate = true;
    Some(why)
}
