//! Whole visits and their mishaps, played from the scripts in `rehearsals/` on the real window, thread and journal.
//! `restart` in a script kills the kiosk's process (SIGKILL) and starts it again on the same folder.
#![allow(clippy::expect_used)]

use crate::rehearsing::Stand;
use std::path::Path;

/// Every script is a test of its own, so that one that fails names itself.
macro_rules! rehearsals {
    ($($name:ident: $file:literal,)*) => {
        $(
            #[test]
            fn $name() {
                play($file);
            }
        )*

        #[test]
        fn every_script_is_a_test() {
            let listed = [$($file),*];
            let folder = std::fs::read_dir(folder()).expect("the scripts are there");
            let found: Vec<_> = folder.filter_map(|file| file.ok()?.path().file_stem()?.to_str().map(str::to_owned)).collect();
            assert_eq!(found.len(), listed.len(), "{found:?}");
            assert!(found.iter().all(|script| listed.contains(&script.as_str())), "{found:?}");
        }
    };
}

rehearsals! {
    a_question_outlives_a_kill: "questions-outlive",
    below_the_wear_limit_is_asked: "below-limit",
    codes_that_are_none_of_ours: "unreadable-scans",
    coned_reel: "coned-reel",
    dial_reading_taken_again: "dial-again",
    dial_readings_in_doubt: "dial-in-doubt",
    driven_by_cards: "by-cards",
    ends_swapped_are_asked: "ends-swapped",
    found_by_its_place: "greasy-tag",
    gate_by_hand_only: "gate-by-hand-only",
    gate_lapses_by_badge: "gate-lapses-by-badge",
    gate_lapses_by_leaving: "gate-lapses-by-leaving",
    gate_lapses_by_restart: "gate-lapses-by-restart",
    gate_lapses_by_time: "gate-lapses-by-time",
    held_for_repair: "held-for-repair",
    killed_and_resumed_everywhere: "resume",
    new_type: "new-type",
    not_proven_by_name: "not-proven",
    numbers_in_doubt: "numbers-in-doubt",
    other_unit_on_the_rails: "other-unit",
    return_by_place: "return-by-place",
    spanish_and_metric: "spanish-metric",
    straight: "straight",
    switched_live: "switched-live",
    touched_again: "touch-again",
    two_rounds_at_front: "two-rounds",
    unknown_tag: "unknown-tag",
    wrong_code: "wrong-code",
}

fn folder() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/rehearsals"))
}

fn play(name: &str) {
    let stand = Stand::new();
    stand.play_file(&folder().join(format!("{name}.rehearse")));
    let verified = stand.verify();
    assert_eq!(verified.code, Some(0), "{}{}", verified.out, verified.err);
}
