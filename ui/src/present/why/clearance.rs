//! Clearance: the wheel's speed and its rating.

use super::sheet::{Line, Out, Sheet, Var};
use super::words::{self, Origin};
use crate::present::clearance::wheel_speed;
use crate::present::figures;
use crate::screen::Why;
use sparkout_core::calc::wheel::WheelVerdict;
use sparkout_core::reading::{LengthKind, Units};

fn speeds(sheet: &Sheet<'_>) -> Option<[Var; 2]> {
    let rated = sheet.beside.facts.wheel.as_ref()?.rated_speed?;
    let spindle = sheet.beside.facts.grinder.spindle_speed;
    Some([
        sheet.other("n", spindle.rpm(), 0, "rpm", words::SPINDLE, Origin::Grinder),
        sheet.other("m", rated.rpm(), 0, "rpm", words::RATED, Origin::Wheel),
    ])
}

pub(super) fn surface_speed(sheet: &Sheet<'_>) -> Option<Why> {
    let speed = wheel_speed(sheet.beside)?.surface_speed;
    let [spindle, _] = speeds(sheet)?;
    let diameter = sheet.beside.facts.wheel.as_ref()?.diameter;
    let diameter = sheet.read("d", diameter, LengthKind::Size, words::WHEEL_DIAMETER, Origin::Wheel);
    let (right, shown, unit) = match sheet.settings().units {
        Units::Inch | Units::Thou => ("π × {d} ÷ 12 × {n}", figures::grouped(speed.feet_per_minute()), "ft/min"),
        Units::Metric => {
            ("π × {d} ÷ 1000 × {n} ÷ 60", figures::number(speed.metres_per_second(), 1, sheet.settings()), "m/s")
        }
    };
    let vars = [&diameter, &spindle];
    let formula = sheet.formula(&Line { left: "v", right }, &vars, Out::nearest(shown.clone(), unit));
    Some(sheet.why(words::SPEED_TITLE, format!("{shown} {unit}"), vec![formula], &vars, words::WHEEL_SPEED))
}

pub(super) fn margin(sheet: &Sheet<'_>) -> Option<Why> {
    let wheel = wheel_speed(sheet.beside)?;
    let [spindle, rated] = speeds(sheet)?;
    let vars = [&spindle, &rated];
    let shown = figures::grouped(wheel.margin.value() * 100.0);
    let (relation, follows) = match wheel.verdict {
        WheelVerdict::WithinRating => ("{n} ≤ {m}", words::WITHIN_RATING),
        WheelVerdict::Overspeed => ("{n} > {m}", words::ABOVE_RATING),
    };
    let line = Line { left: "g", right: "(1 − {n} ÷ {m}) × 100" };
    let formulas =
        vec![sheet.formula(&line, &vars, Out::nearest(shown.clone(), "%")), sheet.comparison(relation, &vars)];
    let mut why = sheet.why(words::MARGIN_TITLE, format!("{shown} %"), formulas, &vars, words::WHEEL_SPEED);
    why.follows = sheet.say(follows).to_owned();
    Some(why)
}
