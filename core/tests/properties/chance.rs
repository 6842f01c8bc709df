//! Chance from a seed: the same seed gives the same draws on every machine, so that a count over thousands of draws
//! is a fact and not a gamble.

use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

/// SplitMix64 (Steele, Lea and Flood, OOPSLA 2014; constants from memory).
pub struct Chance(u64);

impl Chance {
    pub fn of(seed: u64) -> Self {
        Self(seed)
    }

    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        bits ^ (bits >> 31)
    }

    /// Even between two values.
    pub fn between(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Normal about nothing (Box and Muller, Ann. Math. Stat. 29, 610, 1958).
    pub fn normal(&mut self, sd: f64) -> f64 {
        let (one, two) = (1.0 - self.between(0.0, 1.0), self.between(0.0, 1.0));
        sd * (-2.0 * one.ln()).sqrt() * (std::f64::consts::TAU * two).cos()
    }

    /// A whole number below `most`.
    pub fn below(&mut self, most: u64) -> u64 {
        self.bits() % most
    }
}

/// What a person reads who rounds to the nearest graduation; exact without one.
pub fn read_off(value: f64, graduation: f64) -> f64 {
    if graduation > 0.0 { (value / graduation).round() * graduation } else { value }
}

/// Draws the same cases every time, and shrinks the one that fails.
pub fn runner(cases: u32) -> TestRunner {
    let config = Config { cases, failure_persistence: None, max_global_rejects: cases, ..Config::default() };
    TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha))
}

/// Mean and standard deviation are those asked for, or every count below is worth nothing.
#[test]
fn draws_are_what_they_say() {
    let mut chance = Chance::of(1);
    let draws: Vec<f64> = (0..100_000).map(|_| chance.normal(2.0)).collect();
    let mean = draws.iter().sum::<f64>() / 1e5;
    let sd = (draws.iter().map(|draw| (draw - mean).powi(2)).sum::<f64>() / 1e5).sqrt();
    assert!(mean.abs() < 0.03 && (sd - 2.0).abs() < 0.02, "{mean} {sd}");
    let even: Vec<f64> = (0..100_000).map(|_| chance.between(-1.0, 3.0)).collect();
    assert!(even.iter().all(|draw| (-1.0..3.0).contains(draw)));
    assert!((even.iter().sum::<f64>() / 1e5 - 1.0).abs() < 0.02);
}
