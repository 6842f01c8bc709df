//! `yield` and `spring`: how much of the infeed arrives at the reel.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use sparkout_core::calc::limits;
use sparkout_core::calc::yields::{
    Grind, PASS_INFEED, RECORDS, REMOVED, SpringInput, WHOLE_INFEED, YieldInput, infeed_yield, spring,
};

pub const YIELD: Calculation = Calculation {
    name: "yield",
    about: "diameter removed for each infeed, and the infeed for a wanted removal",
    example: r#"{"grinds": [{"infeed": 0.010, "removed": 0.008}, {"infeed": 0.020, "removed": 0.017}], "wanted_removal": 0.010}"#,
    explain: "Least squares through the origin over the grinds: yield = sum(infeed*removed)/sum(infeed^2); \
        suggested_infeed = wanted_removal/yield, left out when the setup removes nothing.",
    compute: compute_yield,
};

pub const SPRING: Calculation = Calculation {
    name: "spring",
    about: "how much of the pending infeed a pass removes, and the passes without infeed that are needed",
    example: r#"{"infeed": [0.002, 0.002, 0.002], "removed": [0.0012, 0.00168, 0.001872], "tolerance": 0.0002}"#,
    explain: "The setup springs: pending = pending + infeed before a pass, which removes the fraction f of it. Pending is \
        known from what was fed and what came off, so f = sum(pending*removed)/sum(pending^2), least squares through \
        the origin; left is what is pending after the last pass. Without infeed it falls by (1 - f) a pass: \
        passes_without_infeed is the smallest n with left*(1 - f)^n within the tolerance.",
    compute: compute_spring,
};

fn compute_yield(fields: &mut Fields) -> Result<Answer, Refusal> {
    let grind = |grind: &mut Fields| {
        Ok(Grind { infeed: grind.number("infeed", &WHOLE_INFEED)?, removed: grind.number("removed", &REMOVED)? })
    };
    let input = YieldInput {
        grinds: fields.list("grinds", &RECORDS, grind)?,
        wanted_removal: fields.number_if_given("wanted_removal", &limits::GRIND)?,
    };
    let answer = infeed_yield(&input).map_err(|error| fields.refuse(&error))?;
    Ok(Answer::new(fields.units())
        .number("yield", answer.removed_per_infeed.value())
        .optional_length("suggested_infeed", answer.suggested_infeed))
}

fn compute_spring(fields: &mut Fields) -> Result<Answer, Refusal> {
    let input = SpringInput {
        infeed: fields.numbers("infeed", &RECORDS, &PASS_INFEED)?,
        removed: fields.numbers("removed", &RECORDS, &REMOVED)?,
        tolerance: fields.number("tolerance", &limits::TOLERANCE)?,
    };
    let spring = spring(&input).map_err(|error| fields.refuse(&error))?;
    Ok(Answer::new(fields.units())
        .number("fraction", spring.fraction.value())
        .length("left", spring.left)
        .value("passes_without_infeed", &spring.passes_without_infeed))
}
