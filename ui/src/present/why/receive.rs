//! Receive: wear, grinds left, lifting.

use super::sheet::{Line, Out, Sheet, Var};
use super::words::{self, Origin};
use crate::present::figures;
use crate::present::receive::{receive, unit_lift};
use crate::screen::Why;
use sparkout_core::bench::LimitBasis;
use sparkout_core::calc::lift::LOAD_CONSTANT;
use sparkout_core::lifting::UnitLift;
use sparkout_core::outlook::forecast::smallest_on_limit_basis;
use sparkout_core::quantity::{Mass, Ratio};
use sparkout_core::reading::Units;

/// New diameter, smallest at the last grind, wear limit, all on the basis that the limit was given in.
fn diameters(sheet: &Sheet<'_>) -> Option<[Var; 3]> {
    let last = sheet.visit.unit().last.as_ref()?;
    let unit_type = sheet.unit_type();
    let now = match unit_type.limit_basis {
        LimitBasis::Tape => sheet.diameter("D", last.smallest(), words::SMALLEST, Origin::Record(last.date)),
        LimitBasis::Caliper => {
            let circle = smallest_on_limit_basis(last, unit_type).ok()?;
            sheet.computed_diameter("D", circle, words::TIP, Origin::Record(last.date))
        }
    };
    Some([
        sheet.diameter("Dn", unit_type.new_diameter, words::NEW, Origin::Type),
        now,
        sheet.diameter("Dw", unit_type.wear_limit, words::WEAR_LIMIT, Origin::Type),
    ])
}

pub(super) fn worn(sheet: &Sheet<'_>) -> Option<Why> {
    let shown = receive(sheet.visit, sheet.beside).used_percent;
    let [new, now, limit] = diameters(sheet)?;
    let vars = [&new, &now, &limit];
    let line = Line { left: "w", right: "({Dn} − {D}) ÷ ({Dn} − {Dw}) × 100" };
    let formula = sheet.formula(&line, &vars, Out::nearest(shown.clone(), "%"));
    Some(sheet.why(words::WORN_TITLE, format!("{shown} %"), vec![formula], &vars, words::DEFINITION))
}

pub(super) fn grinds_left(sheet: &Sheet<'_>) -> Option<Why> {
    let shown = receive(sheet.visit, sheet.beside).grinds_left;
    let [_, now, limit] = diameters(sheet)?;
    let removal = sheet.beside.facts.grinding.usual_removal;
    let removal = sheet.computed_diameter("r", removal, words::USUAL_REMOVAL, Origin::Assumed);
    let vars = [&now, &limit, &removal];
    let line = Line { left: "n", right: "max(0; floor(({D} − {Dw}) ÷ {r}))" };
    let formula = sheet.formula(&line, &vars, Out::nearest(shown.clone(), sheet.say(words::GRINDS_UNIT)));
    Some(sheet.why(words::GRINDS_TITLE, shown, vec![formula], &vars, words::ESTIMATE))
}

/// The revised lifting equation with the bench's heights. A turn of the body and many lifts stand in it only where they
/// take anything off.
pub(super) fn lifting(sheet: &Sheet<'_>) -> Option<Why> {
    let shown = receive(sheet.visit, sheet.beside);
    let UnitLift { input, lift } = unit_lift(sheet.visit, sheet.beside)?;
    let (unit, value): (&str, fn(Mass) -> f64) = match sheet.settings().units {
        Units::Inch | Units::Thou => ("lb", Mass::pounds),
        Units::Metric => ("kg", Mass::kilograms),
    };
    let load = sheet.other("m", value(input.load), 1, unit, words::WEIGHT, Origin::Type);
    let most = sheet.other("M", value(LOAD_CONSTANT), 2, unit, words::ONE_PERSON, Origin::Niosh);
    let multiplier = |letter, value: Ratio, name| sheet.other(letter, value.value(), 3, "", name, Origin::Configured);
    let mut factors = vec![
        multiplier("h", lift.hm, words::REACH_FACTOR),
        multiplier("v", lift.vm, words::HEIGHT_FACTOR),
        multiplier("d", lift.dm, words::TRAVEL_FACTOR),
        multiplier("c", lift.cm, words::GRIP_FACTOR),
    ];
    let mut right = "{M} × {h} × {v} × {d} × {c}".to_owned();
    if lift.am < Ratio::from_value(1.0) {
        factors.push(multiplier("a", lift.am, words::TURN_FACTOR));
        right.push_str(" × {a}");
    }
    if lift.fm < Ratio::from_value(1.0) {
        factors.push(multiplier("f", lift.fm, words::OFTEN_FACTOR));
        right.push_str(" × {f}");
    }
    let mut vars = vec![&load, &most];
    vars.extend(&factors);
    let recommended = sheet.other("R", value(lift.recommended_weight), 1, unit, words::RECOMMENDED, Origin::Niosh);
    let limit = sheet.formula(
        &Line { left: "R", right: &right },
        &vars,
        Out::nearest(figures::number(value(lift.recommended_weight), 1, sheet.settings()), unit),
    );
    let line = Line { left: "i", right: "{m} ÷ {R}" };
    let index = sheet.formula(&line, &[&load, &recommended], Out::nearest(shown.lift_index.clone(), ""));
    let mut why = sheet.why(words::LIFTING_TITLE, shown.lift_index, vec![limit, index], &vars, words::NIOSH);
    why.follows = sheet.say(if shown.needs_help { words::TWO_PEOPLE } else { words::ONE_LIFTS }).to_owned();
    why.estimate = true;
    Some(why)
}
