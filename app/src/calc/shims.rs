//! `shims`: the stack nearest to a height.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use sparkout_core::calc::shims::{PIECES, STOCK, ShimsInput, TARGET, THICKNESS, shims};

pub const SHIMS: Calculation = Calculation {
    name: "shims",
    about: "the stack of stock thicknesses that comes nearest to a height",
    example: r#"{"target": 0.0135, "stock": [0.001, 0.0015, 0.002, 0.003, 0.005, 0.010], "most": 4}"#,
    explain: "Each thickness any number of times, up to the most pieces, the empty stack allowed. The best stack has the \
        smallest |total - target|, then the fewest pieces, then the thinner total; lengths within a picometre count \
        as equal. Found by reaching every height piece by piece, each height once (a search, no formula).",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let input = ShimsInput {
        target: fields.number("target", &TARGET)?,
        stock: fields.numbers("stock", &STOCK, &THICKNESS)?,
        most: fields.number("most", &PIECES)?,
    };
    let shims = shims(&input).map_err(|error| fields.refuse(&error))?;
    Ok(Answer::new(fields.units())
        .lengths("stack", &shims.stack)
        .length("total", shims.total)
        .length("error", shims.error))
}
