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
            let files = folder.filter_map(|file| Some(file.ok()?.path()));
            // What else stands there is a script's configuration.
            let scripts = files.filter(|file| file.extension().is_some_and(|kind| kind == "rehearse"));
            let found: Vec<_> = scripts.filter_map(|file| file.file_stem()?.to_str().map(str::to_owned)).collect();
            assert_eq!(found.len(), listed.len(), "{found:?}");
            assert!(found.iter().all(|script| listed.contains(&script.as_str())), "{found:?}");
        }
    };
}

rehearsals! {
    a_question_outlives_a_kill: "questions-outlive",
    below_the_wear_limit_is_asked: "below-limit",
    by_key_cards: "by-key-cards",
    by_key_cards_the_tour: "empty-tour-by-key-cards",
    by_key_cards_with_letters: "empty-key-cards",
    choices_by_cards: "choices-by-cards",
    codes_that_are_none_of_ours: "unreadable-scans",
    coned_reel: "coned-reel",
    check_with_a_master_bar: "master-bar",
    dims_and_wakes: "dim-and-wake",
    dial_reading_taken_again: "dial-again",
    dial_readings_in_doubt: "dial-in-doubt",
    drift_warns: "drift-warns",
    driven_by_cards: "by-cards",
    due_list: "due-list",
    ends_swapped_are_asked: "ends-swapped",
    first_start_of_a_real_shop: "empty-first-start",
    found_by_its_place: "greasy-tag",
    gate_by_hand_only: "gate-by-hand-only",
    gate_check_overdue: "gate-check-overdue",
    gate_check_runs_out_under_power: "gate-check-runs-out",
    gate_lapses_at_the_shifts_end: "gate-lapses-at-shift-end",
    gate_no_wheel: "gate-no-wheel",
    gate_nobody_at_the_bench: "gate-nobody",
    gate_not_trained: "gate-not-trained",
    gate_overspeed: "gate-overspeed",
    gate_wheel_not_inspected: "gate-wheel-not-inspected",
    gate_wheel_not_rated: "gate-wheel-not-rated",
    gate_wheel_not_rung: "gate-wheel-not-rung",
    gate_lapses_by_badge: "gate-lapses-by-badge",
    gate_lapses_by_guard: "gate-lapses-by-guard",
    gate_lapses_by_silence: "gate-lapses-by-silence",
    gate_lapses_by_stop: "gate-lapses-by-stop",
    guard_opened_under_power: "guard-opened-under-power",
    gate_lapses_by_leaving: "gate-lapses-by-leaving",
    gate_lapses_by_restart: "gate-lapses-by-restart",
    gate_lapses_by_time: "gate-lapses-by-time",
    held_for_repair: "held-for-repair",
    killed_and_resumed_everywhere: "resume",
    leaving_is_a_leads: "leaving",
    new_type: "new-type",
    not_proven_by_name: "not-proven",
    numbers_in_doubt: "numbers-in-doubt",
    out_of_true_blocks_until_a_lead_overrides: "out-of-true",
    other_unit_on_the_rails: "other-unit",
    practice_leaves_nothing: "practice",
    return_by_place: "return-by-place",
    settings_are_a_leads: "lead-settings",
    spanish_and_metric: "spanish-metric",
    round_by_cards: "round-by-cards",
    region_with_a_comma: "region-comma",
    straight: "straight",
    strip_tells_the_truth: "strip-tells-the-truth",
    switched_live: "switched-live",
    touched_again: "touch-again",
    tour_done_for_the_person: "empty-tour",
    tour_in_spanish_by_hand: "empty-tour-spanish",
    two_rounds_at_front: "two-rounds",
    unit_card_opens_no_visit: "unit-card",
    unknown_tag: "unknown-tag",
    why_hides_no_lapse: "why-hides-no-lapse",
    why_in_inches: "why-inch",
    why_in_spanish_and_metric: "why-spanish-metric",
    witness_away: "witness-away",
    wrong_code: "wrong-code",
    kind_relief_and_spin: "kind-relief",
    kind_bedknife: "kind-bedknife",
    kind_back_lap_in_spanish: "kind-back-lap",
    kind_height_of_cut: "kind-height",
    kind_check_only: "kind-check",
    frame_side_plates: "frame-side-plates",
    frame_welded: "frame-welded",
    frame_to_replace: "frame-replace",
    frame_floating_reel: "frame-floating-reel",
    frame_fixed_head: "frame-fixed-head",
    held_and_let_go_on: "held-let-go-on",
    new_type_of_fixed_head: "new-type-fixed-head",
    plate_read_again: "plate-again",
    play_measured: "play-measured",
    noise_warns_and_survives_a_restart: "noise",
    pin_asked_and_changed: "pin",
    pin_locks_and_a_lead_resets: "pin-locked",
    wheel_mounted_under_lockout: "wheel-under-lockout",
    wheel_record_not_complete: "wheel-incomplete",
    lockout_blocks_the_gate: "lockout-blocks",
    lockout_released_by_exception: "lockout-by-exception",
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
