//! Many inputs in one run: a JSON object a line in, a JSON object a line out, in the same order.

use super::fields::Refusal;
use super::{Calculation, INPUT_BYTES_MOST, answer};
use std::io::{self, BufRead, Read, Write};

/// Answers each line as it comes, so that a program at the other end of the pipe can wait for it. A refused line
/// gives `{"refused": "..."}` in its place and the rest goes on.
///
/// # Errors
/// When a line cannot be read or its answer not be written.
pub fn run(calculation: &Calculation, mut input: impl BufRead, mut output: impl Write) -> io::Result<()> {
    let mut line = Vec::new();
    loop {
        line.clear();
        let read = input.by_ref().take(INPUT_BYTES_MOST + 1).read_until(b'\n', &mut line)?;
        if read == 0 {
            return output.flush();
        }
        let whole = line.last() == Some(&b'\n') || line.len() as u64 <= INPUT_BYTES_MOST;
        if !whole {
            skip_line(&mut input)?;
        }
        let answered = if whole { one(calculation, &line) } else { Err(too_long()) };
        let text = answered.unwrap_or_else(|refusal| serde_json::json!({ "refused": refusal.to_string() }).to_string());
        writeln!(output, "{text}")?;
        // Whoever writes line by line and waits gets this answer now.
        output.flush()?;
    }
}

fn one(calculation: &Calculation, line: &[u8]) -> Result<String, Refusal> {
    let text = std::str::from_utf8(line).map_err(|_| Refusal::new("the line is not UTF-8 text".to_owned()))?;
    answer(calculation, text)
}

fn too_long() -> Refusal {
    Refusal::new(format!("the line is longer than {INPUT_BYTES_MOST} bytes"))
}

/// Reads on to the line's end without keeping it.
fn skip_line(input: &mut impl BufRead) -> io::Result<()> {
    loop {
        let waiting = input.fill_buf()?;
        let (used, ended) = match waiting.iter().position(|byte| *byte == b'\n') {
            Some(at) => (at + 1, true),
            None => (waiting.len(), waiting.is_empty()),
        };
        input.consume(used);
        if ended {
            return Ok(());
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use super::super::find;
    use super::*;
    use serde_json::Value;

    fn answers(name: &str, input: &[u8]) -> Vec<Value> {
        let mut output = Vec::new();
        run(find(name).unwrap(), input, &mut output).unwrap();
        String::from_utf8(output).unwrap().lines().map(|line| serde_json::from_str(line).unwrap()).collect()
    }

    #[test]
    fn each_line_has_its_answer_in_its_place() {
        let good = r#"{"diameter": 6, "spindle_rpm": 3450, "rated_rpm": 4140}"#;
        let input = format!("{good}\n{{\"diameter\": -6}}\r\n\nnothing\n{good}");
        let answers = answers("wheel", input.as_bytes());
        assert_eq!(answers.len(), 5);
        assert_eq!(answers[0]["verdict"], "within_rating");
        assert_eq!(answers[0], answers[4]);
        assert!(super::tests::answers("wheel", b"").is_empty());
        for (row, part) in [(1, "diameter is -6"), (2, "one JSON object"), (3, "one JSON object")] {
            let refused = answers[row]["refused"].as_str().expect("refused");
            assert!(refused.contains(part), "{refused}");
        }
    }

    #[test]
    fn what_is_no_text_or_no_end_of_line_is_refused_and_the_rest_goes_on() {
        let mut input = b"\xff\n".to_vec();
        input.resize(input.len() + INPUT_BYTES_MOST as usize + 7, b' ');
        input.extend(b"\n{\"diameter\": 6, \"spindle_rpm\": 3450, \"rated_rpm\": 4140}\n");
        let answers = answers("wheel", &input);
        assert_eq!(answers.len(), 3);
        assert!(answers[0]["refused"].as_str().unwrap().contains("UTF-8"));
        assert!(answers[1]["refused"].as_str().unwrap().contains("longer"));
        assert_eq!(answers[2]["verdict"], "within_rating");
    }
}
