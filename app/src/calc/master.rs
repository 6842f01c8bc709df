//! `master`: the grinder checked with a master bar.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use super::front::DIALS;
use sparkout_core::calc::limits;
use sparkout_core::calc::master::{MasterInput, STATIONS, Station, master};

pub const MASTER: Calculation = Calculation {
    name: "master",
    about: "parallelism and straightness of the grinder from a master bar, turned end for end or not",
    example: r#"{"readings": [{"y": 0, "dial": 0}, {"y": 10, "dial": 0.0006}, {"y": 20, "dial": 0.0008}], "reversed": [{"y": 0, "dial": 0}, {"y": 10, "dial": 0}, {"y": 20, "dial": 0.0002}], "dial": "diameter", "span": 20, "tolerance": 0.0005}"#,
    explain: "Real height is dial/k, k = 2 for a dial in diameter and 1 in radius. slope is that of the least-squares line \
        over y, parallel_error = slope*span, straightness the range of the residuals. With the bar turned end for \
        end, read at the same stations in the same order, the half sum of the two runs is the grinder and the half \
        difference the bar: bar_error is its slope times span (reversal, as old as the surveyor's level). true needs \
        both errors within the tolerance; rails flat within 0.0005 in are common practice.",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let input = MasterInput {
        readings: fields.list("readings", &STATIONS, station)?,
        reversed: fields.list_if_given("reversed", &STATIONS, station)?,
        dial: fields.word("dial", &DIALS)?,
        span: fields.number("span", &limits::DISTANCE)?,
        tolerance: fields.number("tolerance", &limits::TOLERANCE)?,
    };
    let master = master(&input).map_err(|error| fields.refuse(&error))?;
    Ok(Answer::new(fields.units())
        .number("slope", master.slope.value())
        .length("parallel_error", master.parallel_error)
        .length("straightness", master.straightness)
        .optional_length("bar_error", master.bar_error)
        .value("verdict", &master.verdict))
}

fn station(fields: &mut Fields) -> Result<Station, Refusal> {
    Ok(Station { y: fields.number("y", &limits::PLACE)?, dial: fields.number("dial", &limits::DIAL)? })
}
