//! Scripts: one action a line.

use super::given::Given;
use anyhow::{Context, bail};
use sparkout_core::facts::{GuardInput, StopInput};
use sparkout_core::pin::Pin;
use std::time::Duration;

/// A rehearsal script.
#[derive(Debug, Clone, PartialEq)]
pub struct Script {
    /// Its name, for messages.
    pub name: String,
    /// Its actions.
    pub lines: Vec<Line>,
}

/// An action with the place it stands at.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Counted from one.
    pub number: usize,
    /// As it is written; what is told of it is [`Line::told`].
    pub text: String,
    /// What it asks for.
    pub step: Step,
}

impl Line {
    /// As it is told to people: without the PIN. `hidden` where a PIN was asked, so that numbers and letters are one.
    pub fn told(&self, hidden: bool) -> &str {
        match &self.step {
            Step::Pin(_) => "pin ····",
            Step::Enter(_) if hidden => "enter ····",
            Step::Type(_) if hidden => "type ····",
            _ => &self.text,
        }
    }
}

/// What a line asks for.
#[derive(Debug, Clone, PartialEq)]
pub enum Step {
    /// A scanner types this and Enter.
    Scan(String),
    /// The keypad is pressed for this number, then "Take reading".
    Enter(String),
    /// A person types a PIN on a keyboard, and Enter. It stands in no message and in no file of inputs.
    Pin(Pin),
    /// A person types on a keyboard, key after key.
    Type(Vec<Stroke>),
    /// A person walks by Tab until the ring stands on this control.
    Walk(String),
    /// A control is pressed, by its English name.
    Press(String),
    /// A pointer is held on a control.
    Hold(String, Duration),
    /// Something stands otherwise on record than in the invented shop; before all other lines.
    Given(Given),
    /// Some text on the screen contains this.
    Expect(String),
    /// The last action was refused, with this in the reason.
    Refused(String),
    /// A picture of the screen.
    Shot(String),
    /// The clock moves.
    Later(Duration),
    /// The process is killed and started again.
    Restart,
    /// The window manager asks the window to close.
    Close,
    /// The kiosk was left: its window is gone.
    Left,
    /// The clock on the wall is moved, and nothing else.
    Clock(i64),
    /// The guard's switch says this.
    Guard(GuardInput),
    /// The stop's switch says this.
    Stop(StopInput),
    /// The label folder is taken away, or put back.
    Labels(bool),
    /// The way to the hub is cut (false), or mended.
    Cable(bool),
}

/// A key of a keyboard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names stand on the keys")]
pub enum Stroke {
    Letter(char),
    Enter,
    Tab,
    Escape,
    Backspace,
    Delete,
    Up,
    Down,
    Left,
    Right,
    F1,
    Menu,
}

const NAMED_KEYS: [(&str, Stroke); 12] = [
    ("Enter", Stroke::Enter),
    ("Space", Stroke::Letter(' ')),
    ("Tab", Stroke::Tab),
    ("Escape", Stroke::Escape),
    ("Backspace", Stroke::Backspace),
    ("Delete", Stroke::Delete),
    ("Up", Stroke::Up),
    ("Down", Stroke::Down),
    ("Left", Stroke::Left),
    ("Right", Stroke::Right),
    ("F1", Stroke::F1),
    ("Menu", Stroke::Menu),
];

/// What a hold takes without a time of its own: the second that is asked, and a little.
const HOLD: Duration = Duration::from_millis(1100);

impl Script {
    /// Reads a script.
    ///
    /// # Errors
    /// Naming the first line that is no action.
    pub fn parse(name: &str, text: &str) -> anyhow::Result<Self> {
        let mut lines = Vec::new();
        for (index, text) in text.lines().enumerate() {
            let text = text.trim();
            if text.is_empty() || text.starts_with('#') {
                continue;
            }
            let number = index + 1;
            // What does not parse may be a PIN with a digit too many.
            let told = if text.starts_with("pin ") { "pin ····" } else { text };
            let step = Step::parse(text).with_context(|| format!("{name}, line {number}: {told}"))?;
            let is_first = lines.iter().all(|line: &Line| matches!(line.step, Step::Given(_)));
            if matches!(step, Step::Given(_)) && !is_first {
                bail!("{name}, line {number}: what is given stands before all else");
            }
            lines.push(Line { number, text: text.to_owned(), step });
        }
        Ok(Self { name: name.to_owned(), lines })
    }

    /// What stands otherwise on record when it begins.
    pub fn given(&self) -> impl Iterator<Item = &Given> {
        self.lines.iter().filter_map(|line| if let Step::Given(given) = &line.step { Some(given) } else { None })
    }
}

impl Step {
    /// Reads one action.
    ///
    /// # Errors
    /// In words, when it is none.
    pub fn parse(text: &str) -> anyhow::Result<Self> {
        let (verb, rest) = text.split_once(' ').map_or((text, ""), |(verb, rest)| (verb, rest.trim()));
        let needed = || if rest.is_empty() { bail!("{verb} needs something after it") } else { Ok(rest.to_owned()) };
        Ok(match verb {
            "scan" => Self::Scan(needed()?),
            "enter" => Self::Enter(needed()?),
            "pin" => Self::Pin(Pin::new(rest)?),
            "type" => Self::Type(strokes(&needed()?)?),
            "walk" => Self::Walk(needed()?),
            "press" => Self::Press(needed()?),
            "hold" => hold(&needed()?)?,
            "given" => Self::Given(Given::parse(&needed()?)?),
            "expect" => Self::Expect(needed()?),
            "refused" => Self::Refused(needed()?),
            "shot" => Self::Shot(needed()?),
            "later" => Self::Later(duration(&needed()?)?),
            "restart" => Self::Restart,
            "close" => Self::Close,
            "left" => Self::Left,
            "clock" => clock(&needed()?)?,
            "guard" => Self::Guard(match rest {
                "closed" => GuardInput::Closed,
                "open" => GuardInput::Open,
                "stale" => GuardInput::Stale,
                "lost" => GuardInput::Lost,
                other => bail!("guard {other:?}: closed, open, stale or lost"),
            }),
            "stop" => Self::Stop(match rest {
                "released" => StopInput::Released,
                "pressed" => StopInput::Pressed,
                "stale" => StopInput::Stale,
                "lost" => StopInput::Lost,
                other => bail!("stop {other:?}: released, pressed, stale or lost"),
            }),
            "printer" => match rest {
                "gone" => Self::Labels(false),
                "back" => Self::Labels(true),
                other => bail!("printer {other:?}: gone or back"),
            },
            "offline" => Self::Cable(false),
            "online" => Self::Cable(true),
            other => bail!("{other:?} is no action"),
        })
    }
}

/// Text with keys that have no letter as `<Name>`.
fn strokes(text: &str) -> anyhow::Result<Vec<Stroke>> {
    let mut strokes = Vec::new();
    let mut rest = text;
    while let Some(letter) = rest.chars().next() {
        let named = rest.strip_prefix('<').and_then(|rest| rest.split_once('>'));
        if let Some((name, after)) = named.filter(|(name, _)| !name.is_empty() && !name.contains('<')) {
            let key = NAMED_KEYS.iter().find(|(known, _)| *known == name).map(|(_, key)| *key);
            strokes.push(key.with_context(|| format!("<{name}> is no key"))?);
            rest = after;
        } else {
            strokes.push(Stroke::Letter(letter));
            rest = &rest[letter.len_utf8()..];
        }
    }
    Ok(strokes)
}

fn hold(rest: &str) -> anyhow::Result<Step> {
    if let Some((name, seconds)) = rest.rsplit_once(' ')
        && let Ok(seconds) = seconds.parse::<f64>()
    {
        let time = Duration::try_from_secs_f64(seconds).context("a hold lasts some seconds")?;
        return Ok(Step::Hold(name.trim().to_owned(), time));
    }
    Ok(Step::Hold(rest.to_owned(), HOLD))
}

/// `+3h` or `-10m`.
fn clock(text: &str) -> anyhow::Result<Step> {
    let (sign, text) = match text.strip_prefix('-') {
        Some(text) => (-1, text),
        None => (1, text.strip_prefix('+').unwrap_or(text)),
    };
    let seconds = i64::try_from(duration(text)?.as_secs())?;
    Ok(Step::Clock(sign * seconds))
}

fn duration(text: &str) -> anyhow::Result<Duration> {
    let split = text.find(|letter: char| !letter.is_ascii_digit()).unwrap_or(text.len());
    let (count, unit) = text.split_at(split);
    let count: u64 = count.parse().with_context(|| format!("{text:?} is no duration such as 90s, 10m or 2h"))?;
    let seconds = match unit.trim() {
        "s" => count,
        "m" | "min" => count * 60,
        "h" => count * 3600,
        _ => bail!("{text:?} is no duration such as 90s, 10m or 2h"),
    };
    Ok(Duration::from_secs(seconds))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use super::*;

    #[test]
    fn lines_are_read() {
        let script = Script::parse("x", "# a visit\n\nscan Q-114\nhold I have checked it 0.4\nlater 10m\n").unwrap();
        let steps: Vec<_> = script.lines.iter().map(|line| line.step.clone()).collect();
        assert_eq!(
            steps,
            [
                Step::Scan("Q-114".to_owned()),
                Step::Hold("I have checked it".to_owned(), Duration::from_millis(400)),
                Step::Later(Duration::from_secs(600)),
            ]
        );
        assert_eq!(script.lines[0].number, 3);
    }

    #[test]
    fn keys_are_read() {
        let step = Step::parse("type 5<Backspace><6.1<Enter>").unwrap();
        let letter = Stroke::Letter;
        let keys = [letter('5'), Stroke::Backspace, letter('<'), letter('6'), letter('.'), letter('1'), Stroke::Enter];
        assert_eq!(step, Step::Type(keys.to_vec()));
        assert!(Step::parse("type <Jump>").is_err());
    }

    #[test]
    fn a_bad_line_is_named() {
        let late = Script::parse("x", "scan A\ngiven no wheel\n").expect_err("too late");
        assert!(late.to_string().contains("before all else"), "{late}");
        assert!(Script::parse("x", "given a good wheel\n").is_err());
        let error = format!("{:#}", Script::parse("x", "scan A\njump up\n").expect_err("no action"));
        assert!(error.contains("line 2") && error.contains("jump"), "{error}");
    }
}
