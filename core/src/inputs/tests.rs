#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
use super::*;
use proptest::prelude::*;

const DEBOUNCE: u64 = 300;
const STALE: u64 = 500;

const fn ms(milliseconds: u64) -> Duration {
    Duration::from_millis(milliseconds)
}

fn judge() -> Judge {
    Judge::new(InputRules::new(true, true, ms(DEBOUNCE), ms(STALE)).unwrap())
}

const fn answer(guard_closed: bool) -> Sample {
    Sample::Answer { guard_closed, stop_released: true }
}

fn guard_after(samples: &[(u64, Sample)], at: u64) -> GuardInput {
    let mut judge = judge();
    for (at, sample) in samples {
        judge.take(*sample, ms(*at));
    }
    judge.seen(ms(at)).guard
}

#[test]
fn an_unheard_switch_is_lost_and_a_closed_one_settles() {
    assert_eq!(guard_after(&[], 10), GuardInput::Lost);
    let closed: Vec<_> = [0, 100, 200, 300].map(|at| (at, answer(true))).to_vec();
    assert_eq!(guard_after(&closed[..3], 299), GuardInput::Stale, "not for long enough");
    assert_eq!(guard_after(&closed, 300), GuardInput::Closed);
    assert_eq!(guard_after(&closed, 300 + STALE), GuardInput::Closed);
    assert_eq!(guard_after(&closed, 301 + STALE), GuardInput::Stale);
}

#[test]
fn one_sample_opens_and_one_sample_does_not_close() {
    let mut samples: Vec<_> = [0, 100, 200, 300].map(|at| (at, answer(true))).to_vec();
    samples.push((400, answer(false)));
    assert_eq!(guard_after(&samples, 400), GuardInput::Open);
    samples.push((500, answer(true)));
    assert_eq!(guard_after(&samples, 500), GuardInput::Open);
    samples.extend([600, 700, 800].map(|at| (at, answer(true))));
    assert_eq!(guard_after(&samples[..7], 750), GuardInput::Open);
    assert_eq!(guard_after(&samples, 800), GuardInput::Closed);
}

#[test]
fn a_broken_connection_is_lost_at_once_and_what_follows_settles_anew() {
    let mut samples: Vec<_> = [0, 100, 200, 300].map(|at| (at, answer(true))).to_vec();
    samples.push((310, Sample::Disconnected));
    assert_eq!(guard_after(&samples, 310), GuardInput::Lost);
    samples.push((320, answer(true)));
    assert_eq!(guard_after(&samples, 320), GuardInput::Stale);
    samples.extend([420, 520, 620].map(|at| (at, answer(true))));
    assert_eq!(guard_after(&samples, 620), GuardInput::Closed);
}

#[test]
fn what_is_not_read_is_not_fitted_whatever_is_heard() {
    let mut judge = Judge::new(InputRules::new(false, true, ms(DEBOUNCE), ms(STALE)).unwrap());
    judge.take(Sample::Answer { guard_closed: false, stop_released: false }, ms(0));
    let seen = judge.seen(ms(0));
    assert_eq!((seen.guard, seen.stop), (GuardInput::NotFitted, StopInput::Pressed));
    assert_eq!(seen.fault(), Some(Block::StopPressed));
}

#[test]
fn rules_out_of_range_are_refused_with_their_number() {
    let rules = |debounce, stale| InputRules::new(true, false, ms(debounce), ms(stale)).unwrap_err();
    assert_eq!(rules(99, 500), InputRulesError::Debounce(ms(99)));
    assert_eq!(rules(5_001, 500), InputRulesError::Debounce(ms(5_001)));
    assert_eq!(rules(300, 299), InputRulesError::Stale(ms(299)));
    assert!(rules(300, 2_001).to_string().contains("2001"));
    assert_eq!(InputRules::new(false, false, ms(300), ms(500)), Err(InputRulesError::NothingFitted));
}

#[test]
fn a_hold_that_began_before_the_fault_had_cleared_is_dropped() {
    let mut quiet = Quiet::default();
    assert!(quiet.covers(1_000, 400), "no fault was ever seen");
    quiet.cleared(5_000);
    assert!(!quiet.covers(1_000, 5_900));
    assert!(!quiet.covers(1_000, 6_000));
    assert!(quiet.covers(1_000, 6_001));
    assert!(!quiet.covers(u64::MAX, 9_000), "a hold longer than the process");
}

/// What a history of samples says of the guard, told from the whole history and not step by step.
fn told(history: &[(u64, Sample)], at: u64) -> GuardInput {
    let broken = history.iter().rposition(|(_, sample)| *sample == Sample::Disconnected).map_or(0, |index| index + 1);
    let heard: Vec<(u64, bool)> = history[broken..]
        .iter()
        .map(|(at, sample)| match sample {
            Sample::Answer { guard_closed, .. } => (*at, *guard_closed),
            Sample::Disconnected => panic!("left out above"),
        })
        .collect();
    let Some((last, closed)) = heard.last().copied() else { return GuardInput::Lost };
    if at - last > STALE {
        return GuardInput::Stale;
    }
    // Backwards over answers that followed each other closely enough.
    let gap = heard.windows(2).rposition(|pair| pair[1].0 - pair[0].0 > STALE).map_or(0, |index| index + 1);
    let seen = &heard[gap..];
    let opened = seen.iter().rposition(|(_, closed)| !closed);
    let run = &seen[opened.map_or(0, |index| index + 1)..];
    match run.first() {
        Some((since, _)) if closed && last - since >= DEBOUNCE => GuardInput::Closed,
        _ if opened.is_some() => GuardInput::Open,
        _ => GuardInput::Stale,
    }
}

fn histories() -> impl Strategy<Value = Vec<(u64, Sample)>> {
    let sample = prop_oneof![
        8 => Just(answer(true)),
        2 => Just(answer(false)),
        1 => Just(Sample::Disconnected),
    ];
    let pause = prop_oneof![8 => 40_u64..160, 1 => 400_u64..700];
    proptest::collection::vec((pause, sample), 0..40).prop_map(|steps| {
        let mut at = 0;
        steps
            .into_iter()
            .map(|(pause, sample)| {
                at += pause;
                (at, sample)
            })
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4_000))]

    /// Step by step and from the whole history come to the same.
    #[test]
    fn the_judge_says_what_the_history_says(history in histories(), later in 0_u64..900) {
        let at = history.last().map_or(0, |(at, _)| *at) + later;
        prop_assert_eq!(guard_after(&history, at), told(&history, at));
    }

    /// Nothing is closed on an answer that is not there, says open, or is younger than the debounce time.
    #[test]
    fn closed_needs_only_closed_answers_for_the_whole_debounce(history in histories(), later in 0_u64..900) {
        let at = history.last().map_or(0, |(at, _)| *at) + later;
        if guard_after(&history, at) == GuardInput::Closed {
            let last = history.last().unwrap().0;
            prop_assert!(at - last <= STALE);
            let lately: Vec<_> = history.iter().filter(|(at, _)| *at + DEBOUNCE >= last).collect();
            prop_assert!(lately.iter().all(|(_, sample)| *sample == answer(true)));
            prop_assert!(history[0].0 + DEBOUNCE <= last);
        }
    }

    /// A clock that runs backwards keeps nothing in force.
    #[test]
    fn a_clock_that_runs_backwards_closes_nothing(history in histories(), back in 1_u64..2_000) {
        if let Some((last, Sample::Answer { .. })) = history.last() {
            prop_assert_ne!(guard_after(&history, last.saturating_sub(back)), GuardInput::Closed);
        }
    }

    /// The stop is judged as the guard is.
    #[test]
    fn the_stop_is_judged_as_the_guard_is(history in histories()) {
        let mut judge = judge();
        for (at, sample) in &history {
            let sample = match *sample {
                Sample::Answer { guard_closed, .. } => Sample::Answer { guard_closed, stop_released: guard_closed },
                Sample::Disconnected => Sample::Disconnected,
            };
            judge.take(sample, ms(*at));
            let seen = judge.seen(ms(*at));
            let same = match seen.guard {
                GuardInput::NotFitted => StopInput::NotFitted,
                GuardInput::Closed => StopInput::Released,
                GuardInput::Open => StopInput::Pressed,
                GuardInput::Stale => StopInput::Stale,
                GuardInput::Lost => StopInput::Lost,
            };
            prop_assert_eq!(seen.stop, same);
        }
    }
}
