//! Tape: cone, barrel, target, tip circle, wear.

use super::sheet::{Line, Out, Sheet, Var};
use super::words::{self, Origin};
use crate::present::{dial_target, figures};
use crate::screen::Why;
use sparkout_core::bench::{End, LimitBasis};
use sparkout_core::calc::tape::Tape;
use sparkout_core::reading::{LengthKind, Reading};
use sparkout_core::visit::event::Place;

pub(super) fn taped(sheet: &Sheet<'_>) -> Option<Tape> {
    sheet.visit.taped()?.ok()
}

/// Both ends as read, in the order zero end, other end.
pub(super) fn zero_and_other(sheet: &Sheet<'_>) -> Option<[Var; 2]> {
    let (lead, trail) = sheet.visit.tape().ends()?;
    let (zero, other) = match sheet.visit.zero_end() {
        End::Lead => ((lead, End::Lead), (trail, End::Trail)),
        End::Trail => ((trail, End::Trail), (lead, End::Lead)),
    };
    Some([
        sheet.diameter("Dz", zero.0, words::ZERO_DIAMETER, Origin::Taped(zero.1)),
        sheet.diameter("Do", other.0, words::OTHER_DIAMETER, Origin::Taped(other.1)),
    ])
}

fn lead_and_trail(sheet: &Sheet<'_>) -> Option<[Var; 2]> {
    let (lead, trail) = sheet.visit.tape().ends()?;
    Some([
        sheet.diameter("D1", lead, words::LEAD, Origin::Taped(End::Lead)),
        sheet.diameter("D2", trail, words::TRAIL, Origin::Taped(End::Trail)),
    ])
}

/// What the dial shows for one unit of head travel.
pub(super) fn dial_factor(sheet: &Sheet<'_>) -> Var {
    let factor = sheet.beside.facts.grinder.dial.factor();
    sheet.other("k", factor, 0, "", words::DIAL_FACTOR, Origin::Grinder)
}

pub(super) fn cone(sheet: &Sheet<'_>) -> Option<Why> {
    let cone = taped(sheet)?.cone;
    let [lead, trail] = lead_and_trail(sheet)?;
    let vars = [&lead, &trail];
    let out = Out::nearest(figures::signed(cone, sheet.settings()), sheet.fine_sign());
    let formula = sheet.formula(&Line { left: "c", right: "{D1} − {D2}" }, &vars, out);
    let result = figures::signed_with_unit(cone, sheet.settings());
    Some(sheet.why(words::CONE_TITLE, result, vec![formula], &vars, words::DEFINITION))
}

pub(super) fn barrel(sheet: &Sheet<'_>) -> Option<Why> {
    let barrel = taped(sheet)?.barrel?;
    let [lead, trail] = lead_and_trail(sheet)?;
    let centre = sheet.visit.tape().reading(Place::Centre)?;
    let centre = sheet.diameter("D3", centre, words::CENTRE, Origin::TapedCentre);
    let vars = [&lead, &trail, &centre];
    let out = Out::nearest(figures::signed(barrel, sheet.settings()), sheet.fine_sign());
    let formula = sheet.formula(&Line { left: "b", right: "{D3} − ({D1} + {D2}) ÷ 2" }, &vars, out);
    let result = figures::signed_with_unit(barrel, sheet.settings());
    Some(sheet.why(words::BARREL_TITLE, result, vec![formula], &vars, words::DEFINITION))
}

pub(super) fn target(sheet: &Sheet<'_>) -> Option<Why> {
    let target = dial_target(taped(sheet)?.target, sheet.beside);
    let [zero, other] = zero_and_other(sheet)?;
    let factor = dial_factor(sheet);
    let vars = [&factor, &zero, &other];
    let out = Out::nearest(figures::signed(target, sheet.settings()), sheet.fine_sign());
    let formula = sheet.formula(&Line { left: "T", right: "{k} ÷ 2 × ({Dz} − {Do})" }, &vars, out);
    let result = figures::signed_with_unit(target, sheet.settings());
    Some(sheet.why(words::TARGET_TITLE, result, vec![formula], &vars, words::DIAL_MODEL))
}

/// The circle at the smaller end, which is the one that is shown.
pub(super) fn tip_circle(sheet: &Sheet<'_>) -> Option<Why> {
    let circles = taped(sheet)?.diameter;
    let (lead, trail) = sheet.visit.tape().ends()?;
    let (reading, end, circle) = if circles.lead <= circles.trail {
        (lead, End::Lead, circles.lead)
    } else {
        (trail, End::Trail, circles.trail)
    };
    let result = figures::with_unit(circle, LengthKind::Size, sheet.settings());
    let read = sheet.read("M", reading, LengthKind::Size, words::TAPE_READING, Origin::Taped(end));
    let blades = sheet.other("N", f64::from(sheet.unit_type().blades), 0, "", words::BLADES, Origin::Type);
    let last = sheet.visit.unit().last.as_ref();
    let Some((land, day)) = last.and_then(|work| Some((work.land?, work.date))) else {
        let vars = [&read, &blades];
        let line = Line { left: "D", right: "{M} × (π ÷ {N}) ÷ sin(π ÷ {N})" };
        let out = Out::nearest(figures::plain(circle, LengthKind::Size, sheet.settings()), sheet.size_sign());
        let formula = sheet.formula(&line, &vars, out);
        return Some(sheet.why(words::TIP_TITLE, result, vec![formula], &vars, words::POLYGON));
    };
    let land = sheet.read("w", land, LengthKind::Size, words::LAND, Origin::Record(day));
    let circle = sheet.computed("D", circle, LengthKind::Size, words::TIP, Origin::Computed);
    let vars = [&read, &blades, &land, &circle];
    // The unknown stands in the sine: the equation is shown solved, not the way to the solution.
    let formula = sheet.comparison("π × {M} = {N} × ({w} + {D} × sin(π ÷ {N} − {w} ÷ {D}))", &vars);
    Some(sheet.why(words::TIP_TITLE, result, vec![formula], &vars, words::POLYGON))
}

/// The smallest diameter on the basis that the wear limit was given in.
fn smallest(sheet: &Sheet<'_>) -> Option<Var> {
    let (lead, trail) = sheet.visit.tape().ends()?;
    let centre = sheet.visit.tape().reading(Place::Centre);
    match sheet.unit_type().limit_basis {
        LimitBasis::Tape => {
            let smallest: Reading = lead.min(trail).min(centre.unwrap_or(lead));
            let origin = if centre == Some(smallest) && smallest != lead.min(trail) {
                Origin::TapedCentre
            } else {
                Origin::Taped(if lead <= trail { End::Lead } else { End::Trail })
            };
            Some(sheet.diameter("D", smallest, words::SMALLEST, origin))
        }
        LimitBasis::Caliper => {
            let smallest = taped(sheet)?.diameter.smallest();
            Some(sheet.computed_diameter("D", smallest, words::TIP, Origin::Computed))
        }
    }
}

pub(super) fn wear_used(sheet: &Sheet<'_>) -> Option<Why> {
    let used = taped(sheet)?.wear_used?;
    let shown = figures::number(used.value() * 100.0, 0, sheet.settings());
    let new = sheet.diameter("Dn", sheet.unit_type().new_diameter, words::NEW, Origin::Type);
    let limit = sheet.diameter("Dw", sheet.unit_type().wear_limit, words::WEAR_LIMIT, Origin::Type);
    let now = smallest(sheet)?;
    let vars = [&new, &now, &limit];
    let line = Line { left: "w", right: "({Dn} − {D}) ÷ ({Dn} − {Dw}) × 100" };
    let formula = sheet.formula(&line, &vars, Out::nearest(shown.clone(), "%"));
    Some(sheet.why(words::WORN_TITLE, format!("{shown} %"), vec![formula], &vars, words::DEFINITION))
}
