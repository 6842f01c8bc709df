//! `wear`: how fast a reel wears, and when it reaches its limit.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use sparkout_core::calc::limits;
use sparkout_core::calc::wear::{DAY, HISTORY, Measured, wear};

pub const WEAR: Calculation = Calculation {
    name: "wear",
    about: "wear in a year, and the day on which the reel reaches its limit",
    example: r#"{"history": [{"date": "2024-03-01", "diameter": 5.06}, {"date": "2024-09-10", "diameter": 5.04}, {"date": "2025-03-05", "diameter": 5.031}, {"date": "2025-09-12", "diameter": 5.01}, {"date": "2026-03-02", "diameter": 5.0}], "wear_limit": 4.9}"#,
    explain: "The Theil-Sen line: per_year is the median slope of all pairs, over days/365.25, negative when wearing; \
        intercept = median diameter - slope*median day. at_limit is the day on which the line meets wear_limit, \
        earliest and latest the same for the ends of the 95 % interval of the slope (Sen, J. Am. Stat. Assoc. 63, \
        1379, 1968; normal approximation with ties), from four records on. null where a slope is not negative.",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let history = fields.list("history", &HISTORY, |record| {
        Ok(Measured { date: record.date("date", &DAY)?, diameter: record.number("diameter", &limits::REEL_DIAMETER)? })
    })?;
    let limit = fields.number("wear_limit", &limits::REEL_DIAMETER)?;
    let wear = wear(&history, limit).map_err(|error| fields.refuse(&error))?;
    Ok(Answer::new(fields.units())
        .length("per_year", wear.per_year)
        .value("at_limit", &wear.at_limit)
        .value("earliest", &wear.earliest)
        .value("latest", &wear.latest))
}
