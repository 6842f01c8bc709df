//! `due`: when a unit comes to the bench next, and why.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use sparkout_core::calc::due::{DueInput, INTERVAL, RUN, RUN_INTERVAL, Season, due};
use sparkout_core::calc::limits;
use sparkout_core::calc::wear::DAY;

pub const DUE: Calculation = Calculation {
    name: "due",
    about: "when a unit comes to the bench next, and why",
    example: r#"{"last_grind": "2026-03-01", "interval_days": 60, "season": {"from": "04-01", "to": "10-31"}, "hours": 80, "hours_interval": 120, "land": 0.05, "land_limit": 0.06, "diameter": 5.0, "wear_limit": 4.9, "usual_removal": 0.01, "today": "2026-05-10"}"#,
    explain: "Four rules, of which the earliest day counts, and of those of one day the first: wear_limit (the next usual \
        removal would take the reel below its limit: today), land (wider than its limit: today), hours (run as many \
        as their interval: today), interval (the day on which interval_days open-season days have passed since \
        last_grind). not_due with a null date when no rule has what it needs. overdue_days is today less the due \
        day, never below 0 (from the definitions; no source).",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let input = DueInput {
        last_grind: fields.date_if_given("last_grind", &DAY)?,
        interval_days: fields.number_if_given("interval_days", &INTERVAL)?,
        season: fields.object_if_given("season", |season| {
            Ok(Season { from: season.month_day("from")?, to: season.month_day("to")? })
        })?,
        hours: fields.number_if_given("hours", &RUN)?,
        hours_interval: fields.number_if_given("hours_interval", &RUN_INTERVAL)?,
        land: fields.number_if_given("land", &limits::LAND)?,
        land_limit: fields.number_if_given("land_limit", &limits::LAND_LIMIT)?,
        diameter: fields.number_if_given("diameter", &limits::REEL_DIAMETER)?,
        wear_limit: fields.number_if_given("wear_limit", &limits::REEL_DIAMETER)?,
        usual_removal: fields.number_if_given("usual_removal", &limits::REMOVAL)?,
        today: fields.date("today", &DAY)?,
    };
    let due = due(&input).map_err(|error| fields.refuse(&error))?;
    Ok(Answer::new(fields.units())
        .value("due", &due.due)
        .value("reason", &due.reason)
        .value("overdue_days", &due.overdue_days))
}
