//! A scanner that is a keyboard to Linux, taken exclusively: its keys reach neither the window nor anybody else, so that no
//! scan, whatever it says, presses anything.

use super::lines::Lines;
use super::{Heard, Source};
use evdev::{Device, EventSummary, InputEvent, KeyCode};
use std::io;
use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

/// Keys of one scan follow each other within a few milliseconds.
const SILENCE: Duration = Duration::from_millis(120);
/// Between two looks at a device that has nothing to say: shorter than a person notices.
const LOOK_EVERY: Duration = Duration::from_millis(10);
/// GS1's group separator, which a keyboard types as Control and `]`.
const GROUP_SEPARATOR: char = '\u{1d}';

/// An input device by a path that stays the same however it is plugged, such as those in `/dev/input/by-id`.
pub struct InputDevice {
    path: PathBuf,
}

impl InputDevice {
    /// The device at this path.
    pub const fn new(path: PathBuf) -> Self {
        Self { path }
    }

    fn open(&self) -> io::Result<Device> {
        let mut device = Device::open(&self.path)?;
        device.set_nonblocking(true)?;
        device.grab()?;
        Ok(device)
    }
}

impl Source for InputDevice {
    fn name(&self) -> String {
        self.path.display().to_string()
    }

    fn look(&mut self) -> io::Result<()> {
        self.open().map(drop)
    }

    fn read(&mut self, over: &AtomicBool, hear: &mut dyn FnMut(Heard)) -> io::Result<()> {
        let mut device = self.open()?;
        hear(Heard::There { source: self.name() });
        let (begun, mut typist, mut lines) = (Instant::now(), Typist::default(), Lines::new(SILENCE));
        while !over.load(Ordering::Relaxed) {
            match device.fetch_events() {
                Ok(events) => events
                    .filter_map(|event| typist.take(event))
                    .filter_map(|character| lines.take(character, begun.elapsed()))
                    .for_each(|scan| hear(Heard::Scan(scan))),
                Err(error) if error.kind() == io::ErrorKind::WouldBlock => std::thread::sleep(LOOK_EVERY),
                Err(error) => return Err(error),
            }
            if let Some(scan) = lines.silent(begun.elapsed()) {
                hear(Heard::Scan(scan));
            }
        }
        Ok(())
    }
}

/// What keys write under the layout of the United States, which scanners type for unless they are set otherwise.
#[derive(Debug, Default)]
pub struct Typist {
    shift: bool,
    control: bool,
    caps: bool,
}

/// Rows of keys as they lie, plain and with Shift; codes count up along each.
const ROWS: [(KeyCode, &str, &str); 4] = [
    (KeyCode::KEY_1, "1234567890-=", "!@#$%^&*()_+"),
    (KeyCode::KEY_Q, "qwertyuiop[]", "QWERTYUIOP{}"),
    (KeyCode::KEY_A, "asdfghjkl;'`", "ASDFGHJKL:\"~"),
    (KeyCode::KEY_BACKSLASH, "\\zxcvbnm,./", "|ZXCVBNM<>?"),
];

/// The pad of digits, which some scanners type numbers on.
const PAD: [(KeyCode, char); 15] = [
    (KeyCode::KEY_KP0, '0'),
    (KeyCode::KEY_KP1, '1'),
    (KeyCode::KEY_KP2, '2'),
    (KeyCode::KEY_KP3, '3'),
    (KeyCode::KEY_KP4, '4'),
    (KeyCode::KEY_KP5, '5'),
    (KeyCode::KEY_KP6, '6'),
    (KeyCode::KEY_KP7, '7'),
    (KeyCode::KEY_KP8, '8'),
    (KeyCode::KEY_KP9, '9'),
    (KeyCode::KEY_KPDOT, '.'),
    (KeyCode::KEY_KPMINUS, '-'),
    (KeyCode::KEY_KPPLUS, '+'),
    (KeyCode::KEY_KPSLASH, '/'),
    (KeyCode::KEY_KPASTERISK, '*'),
];

impl Typist {
    /// Takes an event, and gives the character that a pressed key writes. Keys that are held down write once.
    pub fn take(&mut self, event: InputEvent) -> Option<char> {
        let EventSummary::Key(_, key, value) = event.destructure() else { return None };
        let down = value != 0;
        match key {
            KeyCode::KEY_LEFTSHIFT | KeyCode::KEY_RIGHTSHIFT => self.shift = down,
            KeyCode::KEY_LEFTCTRL | KeyCode::KEY_RIGHTCTRL => self.control = down,
            KeyCode::KEY_CAPSLOCK if value == 1 => self.caps = !self.caps,
            key if value == 1 => return self.writes(key),
            _ => {}
        }
        None
    }

    fn writes(&self, key: KeyCode) -> Option<char> {
        match key {
            KeyCode::KEY_ENTER | KeyCode::KEY_KPENTER => return Some('\r'),
            KeyCode::KEY_TAB => return Some('\t'),
            KeyCode::KEY_SPACE => return Some(' '),
            KeyCode::KEY_RIGHTBRACE if self.control => return Some(GROUP_SEPARATOR),
            _ => {}
        }
        if self.control {
            return None;
        }
        let on_pad = PAD.iter().find(|(on_pad, _)| *on_pad == key).map(|(_, character)| *character);
        on_pad.or_else(|| {
            let of_row = |(first, plain, shifted): &(KeyCode, &str, &str)| {
                let place = usize::from(key.code().checked_sub(first.code())?);
                let letter = plain.chars().nth(place)?;
                let shift = self.shift != (self.caps && letter.is_ascii_alphabetic());
                if shift { shifted.chars().nth(place) } else { Some(letter) }
            };
            ROWS.iter().find_map(of_row)
        })
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;
    use evdev::EventType;
    use std::io::{Read, Write};

    const SYN: (u16, u16, i32) = (0, 0, 0);

    /// `struct input_event` of linux/input.h on a machine of 64 bits: two times of 8 bytes, type, code, value.
    fn recorded(events: &[(u16, u16, i32)]) -> Vec<u8> {
        let bytes = |(kind, code, value): &(u16, u16, i32)| {
            let mut bytes = [0_u8; 24];
            bytes[16..18].copy_from_slice(&kind.to_ne_bytes());
            bytes[18..20].copy_from_slice(&code.to_ne_bytes());
            bytes[20..24].copy_from_slice(&value.to_ne_bytes());
            bytes
        };
        events.iter().flat_map(bytes).collect()
    }

    /// Sends the bytes through a pipe in parts of an odd length, and gives what comes out at the other end as scans.
    fn through_a_pipe(bytes: Vec<u8>) -> Vec<String> {
        let (mut reader, mut writer) = std::io::pipe().unwrap();
        let sender = std::thread::spawn(move || {
            for part in bytes.chunks(17) {
                writer.write_all(part).unwrap();
            }
        });
        let (mut typist, mut lines, mut scans) = (Typist::default(), Lines::new(SILENCE), Vec::new());
        let mut event = [0_u8; 24];
        while reader.read_exact(&mut event).is_ok() {
            let number = |at: usize| u16::from_ne_bytes(event[at..at + 2].try_into().unwrap());
            let value = i32::from_ne_bytes(event[20..24].try_into().unwrap());
            let character = typist.take(InputEvent::new(number(16), number(18), value));
            scans.extend(character.and_then(|character| lines.take(character, Duration::ZERO)));
        }
        sender.join().unwrap();
        scans.extend(lines.silent(Duration::from_secs(1)));
        scans
    }

    fn key(code: KeyCode, value: i32) -> (u16, u16, i32) {
        (EventType::KEY.0, code.code(), value)
    }

    fn stroke(code: KeyCode) -> Vec<(u16, u16, i32)> {
        vec![key(code, 1), SYN, key(code, 0), SYN]
    }

    fn shifted(code: KeyCode) -> Vec<(u16, u16, i32)> {
        [vec![key(KeyCode::KEY_LEFTSHIFT, 1), SYN], stroke(code), vec![key(KeyCode::KEY_LEFTSHIFT, 0), SYN]].concat()
    }

    #[test]
    fn a_tag_as_a_scanner_types_it() {
        let events = [
            shifted(KeyCode::KEY_Q),
            stroke(KeyCode::KEY_MINUS),
            stroke(KeyCode::KEY_1),
            stroke(KeyCode::KEY_1),
            stroke(KeyCode::KEY_KP4),
            stroke(KeyCode::KEY_ENTER),
        ];
        assert_eq!(through_a_pipe(recorded(&events.concat())), ["Q-114"]);
    }

    #[test]
    fn separators_capitals_and_held_keys() {
        let separator =
            [vec![key(KeyCode::KEY_LEFTCTRL, 1)], stroke(KeyCode::KEY_RIGHTBRACE), vec![key(KeyCode::KEY_LEFTCTRL, 0)]];
        let held = vec![key(KeyCode::KEY_8, 1), key(KeyCode::KEY_8, 2), key(KeyCode::KEY_8, 2), key(KeyCode::KEY_8, 0)];
        let events = [
            separator.concat(),
            held,
            stroke(KeyCode::KEY_CAPSLOCK),
            stroke(KeyCode::KEY_Z),
            shifted(KeyCode::KEY_Z),
            stroke(KeyCode::KEY_0),
            shifted(KeyCode::KEY_SEMICOLON),
            stroke(KeyCode::KEY_SLASH),
        ];
        assert_eq!(through_a_pipe(recorded(&events.concat())), ["\u{1d}8Zz0:/"]);
    }

    /// Every key of the four rows, in the order of linux/input-event-codes.h.
    #[test]
    fn rows_lie_where_the_codes_say() {
        let typed = |code: KeyCode| Typist::default().take(InputEvent::new(EventType::KEY.0, code.code(), 1));
        let table = [
            (KeyCode::KEY_EQUAL, '='),
            (KeyCode::KEY_P, 'p'),
            (KeyCode::KEY_RIGHTBRACE, ']'),
            (KeyCode::KEY_APOSTROPHE, '\''),
            (KeyCode::KEY_GRAVE, '`'),
            (KeyCode::KEY_BACKSLASH, '\\'),
            (KeyCode::KEY_M, 'm'),
            (KeyCode::KEY_SLASH, '/'),
            (KeyCode::KEY_SPACE, ' '),
        ];
        for (code, character) in table {
            assert_eq!(typed(code), Some(character), "{code:?}");
        }
        // The power key of a scanner that can type any key does nothing here.
        assert_eq!(typed(KeyCode::KEY_POWER), None);
    }
}
