use super::*;
use WedgeKey::{Backspace, Char, Enter, Escape, Other, Tab};
use proptest::prelude::*;

const fn ms(milliseconds: u64) -> Duration {
    Duration::from_millis(milliseconds)
}

/// Sends keys at their times, ticks whenever it was asked for, and gives what came out with the time at which it did.
fn play(timing: WedgeTiming, keys: &[(u64, WedgeKey)]) -> Vec<(u64, WedgeEvent)> {
    let mut wedge = Wedge::new(timing);
    let mut seen = Vec::new();
    let mut next_tick: Option<Duration> = None;
    for (at, key) in keys {
        while let Some(tick) = next_tick.filter(|tick| *tick < ms(*at)) {
            let outcome = wedge.tick(tick);
            seen.extend(outcome.events.into_iter().map(|event| (tick.as_millis() as u64, event)));
            next_tick = outcome.next_tick;
        }
        let outcome = wedge.key(*key, ms(*at));
        seen.extend(outcome.events.into_iter().map(|event| (*at, event)));
        next_tick = outcome.next_tick;
    }
    while let Some(tick) = next_tick {
        let outcome = wedge.tick(tick);
        seen.extend(outcome.events.into_iter().map(|event| (tick.as_millis() as u64, event)));
        next_tick = outcome.next_tick;
    }
    seen
}

/// Text with `⏎ ⇥ ⌫ ⎋ ◆` for the keys, each `gap` after the one before, the first at `from`.
fn keys(from: u64, gap: u64, text: &str) -> Vec<(u64, WedgeKey)> {
    let key = |character| match character {
        '⏎' => Enter,
        '⇥' => Tab,
        '⌫' => Backspace,
        '⎋' => Escape,
        '◆' => Other,
        '↔' => WedgeKey::Walk(WedgeWalk::Down),
        other => Char(other),
    };
    text.chars().enumerate().map(|(place, character)| (from + gap * place as u64, key(character))).collect()
}

/// What came out as one line: typed keys as they are, scans in angle brackets.
fn line(seen: &[(u64, WedgeEvent)]) -> String {
    let mut line = String::new();
    for (_, event) in seen {
        match event {
            WedgeEvent::Typed(Char(character)) => line.push(*character),
            WedgeEvent::Typed(Enter) => line.push('⏎'),
            WedgeEvent::Typed(Tab) => line.push('⇥'),
            WedgeEvent::Typed(Backspace) => line.push('⌫'),
            WedgeEvent::Typed(Escape) => line.push('⎋'),
            WedgeEvent::Typed(WedgeKey::Walk(_)) => line.push('↔'),
            WedgeEvent::Typed(Other) => line.push('◆'),
            WedgeEvent::Scan(text) => line.push_str(&format!("<{text}>")),
            WedgeEvent::ScanTooLong { characters, most } => line.push_str(&format!("<{characters} above {most}>")),
        }
    }
    line
}

/// From when, how far apart, which keys.
type Run = (u64, u64, &'static str);

fn check(runs: &[Run], expected: &str) {
    let all: Vec<_> = runs.iter().flat_map(|(from, gap, text)| keys(*from, *gap, text)).collect();
    assert_eq!(line(&play(WedgeTiming::default(), &all)), expected, "{runs:?}");
}

#[test]
fn told_apart() {
    let table: &[(&[Run], &str)] = &[
        (&[(0, 8, "Q-114⏎")], "<Q-114>"),
        (&[(0, 34, "Q-114⇥")], "<Q-114>"),
        (&[(0, 8, "Q-114")], "<Q-114>"),
        (&[(0, 0, "Q-114⏎")], "<Q-114>"),
        // typing: a number, corrected, confirmed
        (&[(0, 150, "5.02⌫1⏎")], "5.02⌫1⏎"),
        (&[(0, 40, "5.020⏎")], "5.020⏎"),
        (&[(0, 500, "⏎")], "⏎"),
        (&[(0, 500, "⇥⎋◆")], "⇥⎋◆"),
        // two keys rolled together are still a person's
        (&[(0, 20, "5."), (200, 20, "02")], "5.02"),
        (&[(0, 20, "5⏎")], "5⏎"),
        // two scans in a row, the second right behind the first
        (&[(0, 8, "Q-114⏎"), (48, 8, "Q-115⏎")], "<Q-114><Q-115>"),
        (&[(0, 8, "Q-114⏎"), (400, 8, "Q-115⏎")], "<Q-114><Q-115>"),
        // a scan during number entry: what was typed stays, what follows goes on
        (&[(0, 180, "5.0"), (600, 8, "Q-114⏎"), (1000, 180, "2⏎")], "5.0<Q-114>2⏎"),
        (&[(0, 180, "5.0"), (400, 8, "Q-114⏎")], "5.0<Q-114>"),
        // closer than a scanner's gap before a scan, a typed key cannot be told from it: it damages the scan, and is not entered
        (&[(0, 180, "5.0"), (380, 8, "Q-114⏎")], "5.<0Q-114>"),
        // terminator late, doubled, or of both kinds
        (&[(0, 8, "Q-114"), (130, 8, "⏎")], "<Q-114>"),
        (&[(0, 8, "Q-114⏎⏎")], "<Q-114>"),
        (&[(0, 8, "Q-114⏎⇥")], "<Q-114>"),
        // a person's Enter well after a scan is a person's
        (&[(0, 8, "Q-114⏎"), (300, 8, "⏎")], "<Q-114>⏎"),
        // a hiccup inside a scan
        (&[(0, 8, "Q-1"), (110, 8, "14⏎")], "<Q-114>"),
        // preamble, modifiers, a key that does not belong
        (&[(0, 8, "⏎Q-114⏎")], "<Q-114>"),
        (&[(0, 8, "◆Q◆-114⏎")], "<Q-114>"),
        (&[(0, 8, "Q-⌫114⏎")], "<Q-\u{8}114>"),
        // cut to two characters: still no Enter
        (&[(0, 8, "Q-⏎")], "<Q->"),
    ];
    for (runs, expected) in table {
        check(runs, expected);
    }
}

#[test]
fn typed_keys_come_out_within_50_ms() {
    let seen = play(WedgeTiming::default(), &keys(0, 150, "5.02⏎"));
    for ((at, event), pressed) in seen.iter().zip([0, 150, 300, 450, 600]) {
        assert!(*at - pressed <= 50, "{event:?} pressed at {pressed} came at {at}");
    }
    assert_eq!(seen.len(), 5);
}

#[test]
fn late_ticks_change_nothing() {
    let mut wedge = Wedge::default();
    let mut events = Vec::new();
    for (at, key) in keys(0, 60, "5.02⏎") {
        events.extend(wedge.key(key, ms(at)).events);
    }
    events.extend(wedge.tick(ms(10_000)).events);
    assert_eq!(events, [Char('5'), Char('.'), Char('0'), Char('2'), Enter].map(WedgeEvent::Typed));
}

#[test]
fn slow_scanner_by_configuration() {
    let timing = WedgeTiming { fast_gap: ms(80), silence: ms(200), ..WedgeTiming::default() };
    assert_eq!(line(&play(timing, &keys(0, 75, "Q-114⏎"))), "<Q-114>");
    assert_eq!(line(&play(timing, &keys(0, 100, "5.02⏎"))), "5.02⏎");
}

#[test]
fn too_long_is_told() {
    let text = format!("{}⏎", "x".repeat(5000));
    assert_eq!(line(&play(WedgeTiming::default(), &keys(0, 1, &text))), "<5000 above 4096>");
    let exact = format!("{}⏎", "x".repeat(4096));
    assert_eq!(line(&play(WedgeTiming::default(), &keys(0, 1, &exact))), format!("<{}>", &exact[..4096]));
}

#[test]
fn time_that_runs_backwards_does_no_harm() {
    assert_eq!(line(&play(WedgeTiming::default(), &[(100, Char('5')), (40, Char('.')), (300, Enter)])), "5.⏎");
}

/// Scans of three characters or more at a scanner's pace, each with a terminator, at any distance.
fn scans() -> impl Strategy<Value = Vec<(u64, WedgeKey)>> {
    let scan = (0_u64..400, proptest::collection::vec(0_u64..=35, 4..12), any::<bool>());
    proptest::collection::vec(scan, 1..4).prop_map(|scans| {
        let mut at = 0;
        let mut keys = Vec::new();
        for (pause, gaps, enter) in scans {
            at += pause;
            for (place, gap) in gaps.iter().enumerate() {
                at += gap;
                let last = place + 1 == gaps.len();
                let terminator = if enter { Enter } else { Tab };
                keys.push((at, if last { terminator } else { Char('S') }));
            }
        }
        keys
    })
}

fn typing(least_gap: u64) -> impl Strategy<Value = Vec<(u64, WedgeKey)>> {
    let key = prop_oneof![Just(Char('5')), Just(Char('.')), Just(Backspace), Just(Escape), Just(Other), Just(Enter)];
    proptest::collection::vec((least_gap..400, key), 0..12).prop_map(|keys| {
        let mut at = 0;
        keys.into_iter()
            .map(|(gap, key)| {
                at += gap;
                (at, key)
            })
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(3000))]

    /// However a person's keys fall between a scanner's, no more Enters and Tabs come out than the person pressed.
    #[test]
    fn no_scan_terminator_is_ever_typed(scans in scans(), typed in typing(0)) {
        let pressed = typed.iter().filter(|(_, key)| *key == Enter).count();
        let mut all: Vec<_> = scans.into_iter().chain(typed).collect();
        all.sort_by_key(|(at, _)| *at);
        let seen = play(WedgeTiming::default(), &all);
        let entered = seen.iter().filter(|(_, event)| *event == WedgeEvent::Typed(Enter)).count();
        prop_assert!(entered <= pressed, "{}", line(&seen));
        prop_assert!(!seen.iter().any(|(_, event)| *event == WedgeEvent::Typed(Tab)), "{}", line(&seen));
    }

    /// Keys further apart than a scanner's come out as they went in, in order.
    #[test]
    fn slow_typing_passes_unchanged(typed in typing(36)) {
        let seen: Vec<_> = play(WedgeTiming::default(), &typed).into_iter().map(|(_, event)| event).collect();
        let expected: Vec<_> = typed.into_iter().map(|(_, key)| WedgeEvent::Typed(key)).collect();
        prop_assert_eq!(seen, expected);
    }
}
