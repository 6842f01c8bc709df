//! `sparkout calc`: each of the bench's calculations from the command line, JSON in and JSON out.
//!
//! Adding one takes a file with its [`Calculation`] and a row in [`ALL`].

mod answer;
mod fields;
mod json;
mod lines;
mod units;

mod centre;
mod chart;
mod clip;
mod dose;
mod due;
mod front;
mod height;
mod knife;
mod land;
mod lift;
mod master;
mod matched;
mod plan;
mod prove;
mod rear;
mod relief;
mod shims;
mod tape;
mod wear;
mod wheel;
mod yields;

#[cfg(test)]
mod checks;

use answer::Answer;
use clap::Args;
use fields::{Fields, Refusal};
use std::io::{Read, Write};
use std::process::ExitCode;

/// Exit code for input that was refused, as clap gives for a wrong command line.
const REFUSED: u8 = 2;

/// More than any input of a calculation; an endless pipe is cut there.
const INPUT_BYTES_MOST: u64 = 4 << 20;

/// A calculation as the command line knows it.
struct Calculation {
    /// The name on the command line.
    name: &'static str,
    /// One short line for the list.
    about: &'static str,
    /// A valid input.
    example: &'static str,
    /// A paragraph with the formula and where it comes from.
    explain: &'static str,
    /// Reads its fields, computes, and writes its answer; leftover fields are refused by the caller.
    compute: fn(&mut Fields) -> Result<Answer, Refusal>,
}

/// Every calculation, in the order in which the bench meets them.
const ALL: &[&Calculation] = &[
    &tape::TAPE,
    &front::FRONT,
    &rear::REAR,
    &shims::SHIMS,
    &centre::CENTRE,
    &plan::PLAN,
    &land::LAND,
    &relief::RELIEF,
    &wheel::WHEEL,
    &clip::CLIP,
    &knife::KNIFE,
    &height::HEIGHT,
    &prove::PROVE,
    &dose::DOSE,
    &lift::LIFT,
    &master::MASTER,
    &chart::CHART,
    &wear::WEAR,
    &matched::MATCH,
    &due::DUE,
    &yields::YIELD,
    &yields::SPRING,
];

/// One of the bench's calculations: reads one JSON object on standard input and writes one on standard output
///
/// Exit codes: 0 answered, 2 the input was refused, with one line on standard error that names field, value and range.
#[derive(Debug, Args)]
pub struct CalcCommand {
    /// Which one; without it their names are listed
    name: Option<String>,
    /// Print a valid input instead of reading one
    #[arg(long, requires = "name")]
    example: bool,
    /// Print what is computed, by which formula and from which source
    #[arg(long, requires = "name", conflicts_with = "example")]
    explain: bool,
    /// Read one JSON object a line and write one a line, as each comes; a refused line gives {"refused": "..."} in its
    /// place, and the exit code stays 0
    #[arg(long, requires = "name", conflicts_with_all = ["example", "explain"])]
    lines: bool,
}

impl CalcCommand {
    /// Lists, explains or computes. Exit code 2 with one line on standard error when the input is refused.
    pub fn run(self) -> ExitCode {
        let ran = match self.name.as_deref().filter(|_| self.lines) {
            Some(name) => each_line(name),
            None => self.text(std::io::stdin()).map(|text| write_out(&text)),
        };
        ran.unwrap_or_else(|refusal| {
            eprintln!("sparkout calc: {refusal}");
            ExitCode::from(REFUSED)
        })
    }

    fn text(&self, input: impl Read) -> Result<String, Refusal> {
        let Some(name) = &self.name else {
            return Ok(listing());
        };
        let calculation = find(name)?;
        if self.example {
            Ok(format!("{}\n", calculation.example))
        } else if self.explain {
            Ok(format!("{}\n", calculation.explain))
        } else {
            answer(calculation, &read_input(input)?).map(|answer| format!("{answer}\n"))
        }
    }
}

fn each_line(name: &str) -> Result<ExitCode, Refusal> {
    let (input, output) = (std::io::stdin().lock(), std::io::BufWriter::new(std::io::stdout().lock()));
    match lines::run(find(name)?, input, output) {
        Ok(()) => Ok(ExitCode::SUCCESS),
        // The reader went away; there is nobody left to tell.
        Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => Ok(ExitCode::FAILURE),
        Err(error) => Err(Refusal::new(format!("the lines could not be read or written: {error}"))),
    }
}

fn listing() -> String {
    let widest = ALL.iter().map(|calculation| calculation.name.len()).max().unwrap_or(0);
    ALL.iter().map(|calculation| format!("{:widest$}  {}\n", calculation.name, calculation.about)).collect()
}

fn find(name: &str) -> Result<&'static Calculation, Refusal> {
    let found = ALL.iter().copied().find(|calculation| calculation.name == name);
    found.ok_or_else(|| {
        let names: Vec<_> = ALL.iter().map(|calculation| calculation.name).collect();
        Refusal::new(format!("there is no calculation {name:?}; there are {}", names.join(", ")))
    })
}

fn read_input(input: impl Read) -> Result<String, Refusal> {
    let mut bytes = Vec::new();
    let read = input.take(INPUT_BYTES_MOST + 1).read_to_end(&mut bytes);
    read.map_err(|error| Refusal::new(format!("standard input could not be read: {error}")))?;
    if bytes.len() as u64 > INPUT_BYTES_MOST {
        return Err(Refusal::new(format!("standard input is longer than {INPUT_BYTES_MOST} bytes")));
    }
    String::from_utf8(bytes).map_err(|_| Refusal::new("standard input is not UTF-8 text".to_owned()))
}

/// The whole of a calculation, on text.
fn answer(calculation: &Calculation, input: &str) -> Result<String, Refusal> {
    let mut fields = Fields::parse(input)?;
    let answer = (calculation.compute)(&mut fields)?;
    fields.finish()?;
    answer.into_json()
}

fn write_out(text: &str) -> ExitCode {
    match std::io::stdout().write_all(text.as_bytes()) {
        Ok(()) => ExitCode::SUCCESS,
        // The reader went away; there is nobody left to tell.
        Err(_) => ExitCode::FAILURE,
    }
}
