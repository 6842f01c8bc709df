//! `dose`: a shift's noise.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use sparkout_core::calc::dose::{HOURS, LEVEL, SEGMENTS, Segment, dose};
use sparkout_core::quantity::Ratio;

pub const DOSE: Calculation = Calculation {
    name: "dose",
    about: "noise dose and time-weighted average of a shift",
    example: r#"{"segments": [{"level": 90, "hours": 4}, {"level": 95, "hours": 2}, {"level": 85, "hours": 2}]}"#,
    explain: "After 29 CFR 1910.95, Appendix A: a level of L dBA may last T = 8/2^((L - 90)/5) hours; the dose is \
        100*sum(C/T) percent over the hours C spent at each level, levels below 80 dBA counting nothing; twa = \
        16.61*log10(dose/100) + 90, with the exact 5/log10(2) for 16.61. action_level from 50 %, over_limit above \
        100 %. An estimate only: it does not replace a dosimeter or a competent person.",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let segments = fields.list("segments", &SEGMENTS, |segment| {
        Ok(Segment { level: segment.number("level", &LEVEL)?, hours: segment.number("hours", &HOURS)? })
    })?;
    let dose = dose(&segments).map_err(|error| fields.refuse(&error))?;
    Ok(Answer::new(fields.units())
        .number("dose_percent", dose.dose_percent.value())
        .value("twa", &dose.twa.map(Ratio::value))
        .value("action_level", &dose.action_level)
        .value("over_limit", &dose.over_limit))
}
