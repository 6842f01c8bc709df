//! `chart`: individual values and moving ranges.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use sparkout_core::calc::chart::{VALUE, VALUES, chart};

pub const CHART: Calculation = Calculation {
    name: "chart",
    about: "control limits of single values, those outside, and runs on one side",
    example: r#"{"values": [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]}"#,
    explain: "Individuals and moving ranges (NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2): centre is the \
        mean, mean_range the mean of the ranges between neighbours, the limits centre -+ 3*mean_range/1.128, \
        range_upper 3.267*mean_range. outside lists the values beyond a limit and runs those that complete eight in \
        a row on one side of the centre, and each that follows there; counted from 0. A value on the centre ends a \
        run.",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let values = fields.numbers("values", &VALUES, &VALUE)?;
    let chart = chart(&values).map_err(|error| fields.refuse(&error))?;
    Ok(Answer::new(fields.units())
        .number("centre", chart.centre.value())
        .number("mean_range", chart.mean_range.value())
        .number("lower", chart.lower.value())
        .number("upper", chart.upper.value())
        .number("range_upper", chart.range_upper.value())
        .value("outside", &chart.outside)
        .value("runs", &chart.runs))
}
