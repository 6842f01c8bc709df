//! A technician who does what `front` says, on units that are all different.

use crate::chance::{Chance, runner};
use crate::unit::{Unit, any_unit};
use proptest::prelude::*;
use proptest::test_runner::{TestCaseError, TestCaseResult};
use sparkout_core::calc::front::{Front, FrontInput, FrontUncertainty, FrontVerdict, TOUCHES_MOST, front};
use sparkout_core::quantity::Length;
use std::cell::Cell;

/// Cases of each kind; a second or two in the dev profile.
const CASES: u32 = 10_000;

/// How the work is done.
#[derive(Clone, Copy)]
struct Hand {
    /// How touches are read.
    reads: Reads,
    /// A move comes out wrong by up to this share of it.
    slop: f64,
}

/// How touches are read.
#[derive(Clone, Copy)]
enum Reads {
    /// As they are.
    Exactly,
    /// With the hand's scatter.
    Scattered,
    /// With it, and rounded to the graduation.
    Rounded,
}

/// How the work ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ended {
    /// Proven parallel.
    Parallel,
    /// Within the tolerance, not proven, and no touch could help.
    Unproven,
}

/// Touches pooled at both ends since the unit was last moved.
#[derive(Default)]
struct Touches {
    count: u32,
    zero: f64,
    other: f64,
}

impl Touches {
    fn add(&mut self, (zero, other): (f64, f64)) {
        self.count += 1;
        self.zero += zero;
        self.other += other;
    }

    fn asked(&self, unit: &Unit) -> Front {
        let worth = unit.input.uncertainty.unwrap();
        let uncertainty = FrontUncertainty { touches_zero: self.count, touches_other: self.count, ..worth };
        let reading = Length::from_mm((self.other - self.zero) / f64::from(self.count));
        front(&FrontInput { reading, uncertainty: Some(uncertainty), ..unit.input }).unwrap()
    }
}

/// One round: touches, more touches as long as they are said to help, and what is said then.
fn round(unit: &Unit, hand: Hand, chance: &mut Chance) -> Result<Front, TestCaseError> {
    let mut touches = Touches::default();
    let mut wanted = 1;
    loop {
        while touches.count < wanted {
            touches.add(match hand.reads {
                Reads::Exactly => unit.dial(),
                Reads::Scattered => unit.touch(chance),
                Reads::Rounded => unit.rounded(unit.touch(chance)),
            });
        }
        let answer = touches.asked(unit);
        match (answer.verdict, answer.touches_needed) {
            (FrontVerdict::Repeat, Some(needed)) => {
                // Else the screen would ask for the same touches for ever.
                prop_assert!(
                    needed > wanted && needed <= TOUCHES_MOST,
                    "asked for {needed} after {wanted}: {answer:?}"
                );
                wanted = needed;
            }
            (FrontVerdict::Repeat, None) | (FrontVerdict::Parallel | FrontVerdict::Adjust, _) => return Ok(answer),
        }
    }
}

/// Makes one of the moves; without slop, the zero end must then read what was told beforehand.
///
/// A sloppy hand turns one adjuster. Near the jack the two heights of `move_both` are many times their difference,
/// which alone levels the reel, and a tenth of either can be more than the tilt.
fn make_move(unit: &mut Unit, hand: Hand, answer: &Front, chance: &mut Chance) -> TestCaseResult {
    let choices = if hand.slop > 0.0 { 2 } else { 3 };
    let (zero, other, rezero) = match chance.below(choices) {
        0 => (0.0, answer.move_other.height.mm(), answer.move_other.rezero.mm()),
        1 => (answer.move_zero.height.mm(), 0.0, answer.move_zero.rezero.mm()),
        _ => (answer.move_both.zero.mm(), answer.move_both.other.mm(), 0.0),
    };
    let before = unit.dial().0;
    let mut done = |height: f64| height * (1.0 + chance.between(-hand.slop, hand.slop));
    let (zero, other) = (done(zero), done(other));
    unit.raise(zero, other);
    if hand.slop <= 0.0 {
        let reads = unit.dial().0 - before;
        prop_assert!((reads - rezero).abs() < 1e-8, "the zero end reads {reads} instead of {rezero}");
    }
    Ok(())
}

/// Works until nothing is left to do; the round in which that was, or a failure after `most`.
fn work(unit: &mut Unit, hand: Hand, most: u32, chance: &mut Chance) -> Result<(Ended, u32), TestCaseError> {
    for at in 1..=most {
        let answer = round(unit, hand, chance)?;
        match answer.verdict {
            FrontVerdict::Parallel => return Ok((Ended::Parallel, at)),
            FrontVerdict::Repeat => return Ok((Ended::Unproven, at)),
            FrontVerdict::Adjust => make_move(unit, hand, &answer, chance)?,
        }
    }
    Err(TestCaseError::fail(format!("still at it after {most} rounds, tilted by {} mm", unit.tilt())))
}

/// Exact touches and moves: two rounds.
#[test]
fn exact_moves_take_two_rounds() {
    let moved = Cell::new(0);
    let case = |(mut unit, seed): (Unit, u64)| {
        let hand = Hand { reads: Reads::Exactly, slop: 0.0 };
        let (ended, rounds) = work(&mut unit, hand, 2, &mut Chance::of(seed))?;
        if rounds == 2 {
            // Nothing but the tape's own error is left after an exact move.
            prop_assert_eq!(ended, Ended::Parallel);
            moved.set(moved.get() + 1);
        }
        Ok(())
    };
    runner(CASES).run(&(any_unit(), any::<u64>()), case).unwrap();
    assert!(moved.get() > CASES / 2, "only {} units had to be moved", moved.get());
}

/// What came of many units.
#[derive(Default)]
struct Tally {
    parallel: Cell<u32>,
    falsely: Cell<u32>,
    beyond_four: Cell<u32>,
}

impl Tally {
    fn of(hand: Hand, most: u32) -> Self {
        let tally = Self::default();
        let add = |cell: &Cell<u32>, this: bool| cell.set(cell.get() + u32::from(this));
        let case = |(mut unit, seed): (Unit, u64)| {
            let (ended, rounds) = work(&mut unit, hand, most, &mut Chance::of(seed))?;
            let parallel = ended == Ended::Parallel;
            add(&tally.parallel, parallel);
            add(&tally.falsely, parallel && unit.tilt().abs() > unit.input.tolerance.mm());
            add(&tally.beyond_four, rounds > 4);
            Ok(())
        };
        runner(CASES).run(&(any_unit(), any::<u64>()), case).unwrap();
        tally
    }

    /// What is called parallel is so, but for the share that a guard band of U allows (JCGM 106:2012, 8.3.2: at most
    /// 2.5 % at the limit itself).
    fn check(&self) {
        let (parallel, falsely) = (self.parallel.get(), self.falsely.get());
        assert!(parallel > CASES * 9 / 10, "only {parallel} came out parallel");
        assert!(falsely * 40 <= parallel, "{falsely} of {parallel} are not parallel");
    }
}

/// Moves that come out wrong by up to a tenth, and touches that scatter: four rounds.
#[test]
fn sloppy_moves_take_four_rounds() {
    Tally::of(Hand { reads: Reads::Scattered, slop: 0.1 }, 4).check();
}

/// A dial read to whole graduations can show a tilt of two of them on a unit that is level, and at U just below T/2
/// that is beyond the tolerance. So a few in ten thousand take a round more, and none many.
#[test]
fn read_to_the_graduation_few_take_more() {
    let tally = Tally::of(Hand { reads: Reads::Rounded, slop: 0.1 }, 8);
    tally.check();
    assert!(tally.beyond_four.get() * 1000 <= CASES, "{} took more than four rounds", tally.beyond_four.get());
}
