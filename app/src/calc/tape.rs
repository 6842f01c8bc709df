//! `tape`: cone, barrel, tip circle and wear from the tape's readings.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use sparkout_core::calc::limits;
use sparkout_core::calc::tape::{TapeInput, tape};
use sparkout_core::quantity::Ratio;

/// The words of `limit_basis`.
const BASES: [&str; 2] = ["tape", "caliper"];

pub const TAPE: Calculation = Calculation {
    name: "tape",
    about: "cone, zero end, dial target, tip diameter and wear from a diameter tape",
    example: r#"{"blades": 11, "lead": 5.020, "trail": 5.000, "land": 0.040, "wear_limit": 4.9, "new_diameter": 5.25}"#,
    explain: "A tape round N blade tips goes straight from tip to tip. With lands of width w it reads M where pi*M = N*(w \
        + D*sin(pi/N - w/D)), solved for the tip circle D between the closed circle and the regular polygon \
        (elementary geometry). The cone is lead - trail and the dial, graduated in diameter and zeroed on the larger \
        end, reads the cone at the other end when the axis is level; both use the readings as read. With a reel \
        temperature D20 = D*(1 + a*(T_tape - 20))/(1 + a*(T_reel - 20)), a = 11.5e-6 per kelvin for steel (Swyt, J. \
        Res. NIST 99, 31, 1994; reference temperature after ISO 1). Wear used is (new - smallest)/(new - limit), all \
        on the basis of the limit.",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let input = TapeInput {
        blades: fields.number("blades", &limits::BLADES)?,
        lead: fields.number("lead", &limits::REEL_DIAMETER)?,
        trail: fields.number("trail", &limits::REEL_DIAMETER)?,
        centre: fields.number_if_given("centre", &limits::REEL_DIAMETER)?,
        land: fields.number_if_given("land", &limits::LAND)?,
        reel_temperature: fields.number_if_given("reel_temperature", &limits::TEMPERATURE)?,
        tape_temperature: fields.number_if_given("tape_temperature", &limits::TEMPERATURE)?,
        wear_limit: fields.number_if_given("wear_limit", &limits::REEL_DIAMETER)?,
        limit_basis: fields.word_if_given("limit_basis", &BASES)?.unwrap_or_default(),
        new_diameter: fields.number_if_given("new_diameter", &limits::REEL_DIAMETER)?,
    };
    let tape = tape(&input).map_err(|error| fields.refuse(&error))?;
    let answer = Answer::new(fields.units())
        .length("cone", tape.cone)
        .optional_length("barrel", tape.barrel)
        .value("zero_end", &tape.zero_end)
        .length("target", tape.target)
        .object("diameter", |inner| {
            let ends = inner.length("lead", tape.diameter.lead).length("trail", tape.diameter.trail);
            ends.optional_length("centre", tape.diameter.centre)
        })
        .optional("wear_used", tape.wear_used.map(Ratio::value));
    Ok(answer)
}
