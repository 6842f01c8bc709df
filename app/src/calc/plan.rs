//! `plan`: passes, dial schedule, time and the reel afterwards.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use super::front::DIALS;
use sparkout_core::calc::limits;
use sparkout_core::calc::plan::{PlanInput, plan};

pub const PLAN: Calculation = Calculation {
    name: "plan",
    about: "passes, dial schedule, time, end diameter and land of a grind",
    example: r#"{"lead": 5.020, "trail": 5.000, "wear_limit": 4.900, "cleanup": 0.002, "infeed": 0.002, "sparkout": 2, "stroke": 24, "traverse": 96, "usual_removal": 0.010, "land": 0.040, "relief_angle": 25, "land_limit": 0.070}"#,
    explain: "final_diameter = smallest - cleanup; stock = largest - final_diameter; passes = ceil(stock/(infeed*yield)), \
        where a quotient within 1e-9 of a whole number counts as it; the last pass takes the rest. The schedule is \
        what the dial shows after each pass with infeed, counted from first touch on the largest place, halved on a \
        dial in radius. minutes = (passes + sparkout)*stroke/traverse. grinds_left = whole part of (final_diameter - \
        wear_limit)/usual_removal. land_after as in the calculation land, at each end. All from the definitions of \
        the trade (common practice).",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let input = PlanInput {
        lead: fields.number("lead", &limits::REEL_DIAMETER)?,
        trail: fields.number("trail", &limits::REEL_DIAMETER)?,
        centre: fields.number_if_given("centre", &limits::REEL_DIAMETER)?,
        wear_limit: fields.number("wear_limit", &limits::REEL_DIAMETER)?,
        cleanup: fields.number("cleanup", &limits::CLEANUP)?,
        infeed: fields.number("infeed", &limits::INFEED)?,
        sparkout: fields.number("sparkout", &limits::SPARKOUT)?,
        stroke: fields.number("stroke", &limits::DISTANCE)?,
        traverse: fields.number("traverse", &limits::TRAVERSE)?,
        usual_removal: fields.number("usual_removal", &limits::REMOVAL)?,
        dial: fields.word_if_given("dial", &DIALS)?.unwrap_or_default(),
        infeed_yield: fields.number_if_given("yield", &limits::YIELD)?,
        land: fields.number_if_given("land", &limits::LAND)?,
        relief_angle: fields.number_if_given("relief_angle", &limits::RELIEF_ANGLE)?,
        land_limit: fields.number_if_given("land_limit", &limits::LAND_LIMIT)?,
    };
    let plan = plan(&input).map_err(|error| fields.refuse(&error))?;
    let answer = Answer::new(fields.units())
        .length("final_diameter", plan.final_diameter)
        .length("stock", plan.stock)
        .value("passes", &plan.passes)
        .lengths("schedule", &plan.schedule)
        .number("minutes", plan.minutes.minutes())
        .value("grinds_left", &plan.grinds_left)
        .value("verdict", &plan.verdict);
    let answer = match plan.land_after {
        Some(land) => answer.object("land_after", |ends| ends.length("lead", land.lead).length("trail", land.trail)),
        None => answer,
    };
    Ok(answer.value_if("relief_due", plan.relief_due))
}
