//! `lift`: whether one person may lift a unit.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use sparkout_core::calc::lift::{ASYMMETRY, FREQUENCY, HORIZONTAL, LOAD, LiftInput, TRAVEL, VERTICAL, lift};

/// The words of `coupling`.
const COUPLINGS: [&str; 3] = ["good", "fair", "poor"];

pub const LIFT: Calculation = Calculation {
    name: "lift",
    about: "recommended weight and lifting index: one person, or help",
    example: r#"{"load": 44, "horizontal": 23, "vertical": 15, "travel": 49, "asymmetry": 0, "frequency_multiplier": 1, "coupling": "fair"}"#,
    explain: "The revised lifting equation, DHHS (NIOSH) 94-110, revised 2021, in pounds and inches whatever the units of \
        the input: RWL = 51*HM*VM*DM*AM*FM*CM with HM = 10/H (H at least 10), VM = 1 - 0.0075*|V - 30|, DM = 0.82 + \
        1.8/D (D at least 10), AM = 1 - 0.0032*A, FM from its table 5, CM good 1, fair 0.95 below 30 in and 1 from \
        there, poor 0.90; lifting_index = load/RWL, one person up to 1. Full precision: the manual's printed answers \
        use multipliers rounded to two places. Where a multiplier would be zero the input is refused. An aid only: \
        it does not replace a competent person's judgement.",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let input = LiftInput {
        load: fields.number("load", &LOAD)?,
        horizontal: fields.number("horizontal", &HORIZONTAL)?,
        vertical: fields.number("vertical", &VERTICAL)?,
        travel: fields.number("travel", &TRAVEL)?,
        asymmetry: fields.number("asymmetry", &ASYMMETRY)?,
        frequency_multiplier: fields.number("frequency_multiplier", &FREQUENCY)?,
        coupling: fields.word("coupling", &COUPLINGS)?,
    };
    let lift = lift(&input).map_err(|error| fields.refuse(&error))?;
    let units = fields.units();
    Ok(Answer::new(units)
        .number("hm", lift.hm.value())
        .number("vm", lift.vm.value())
        .number("dm", lift.dm.value())
        .number("am", lift.am.value())
        .number("fm", lift.fm.value())
        .number("cm", lift.cm.value())
        .number("recommended_weight", units.mass(lift.recommended_weight))
        .number("lifting_index", lift.lifting_index.value())
        .value("verdict", &lift.verdict))
}
