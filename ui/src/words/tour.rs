//! The words of the first-run tour: one card a step.
//!
//! A card says what the screen is for, what to look at, and what to do now; nothing on it is a figure of real work.

mod english;
mod spanish;

use crate::screen::{Language, Settings};

/// A step of the tour, in the order of a visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[allow(missing_docs, reason = "the words beside each say it")]
pub enum TourStep {
    Badge,
    Unit,
    Receive,
    Isolation,
    TapeFirst,
    TapeSecond,
    TapeDone,
    IsolationAgain,
    FrontZero,
    FrontOther,
    FrontTurn,
    FrontZeroAgain,
    FrontOtherAgain,
    FrontParallel,
    RearLeft,
    RearRight,
    RearTurn,
    RearLeftAgain,
    RearRightAgain,
    RearParallel,
    Clearance,
    Start,
    Grind,
    SparkOut,
    RunDown,
    ProveLead,
    ProveTrail,
    ProveLand,
    ProveHeight,
    ProveBedknife,
    ProvePaper,
    ProveDone,
    LabelPrint,
    LabelScan,
    LabelDone,
    Return,
    Over,
}

/// What stands on a step's card.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TourWords {
    /// The step.
    pub title: &'static str,
    /// What this screen is for.
    pub purpose: &'static str,
    /// What to look at.
    pub look: &'static str,
    /// What to do now.
    pub act: &'static str,
}

const fn card(title: &'static str, purpose: &'static str, look: &'static str, act: &'static str) -> TourWords {
    TourWords { title, purpose, look, act }
}

impl TourStep {
    /// All of them, in order.
    pub const ALL: [Self; 37] = [
        Self::Badge,
        Self::Unit,
        Self::Receive,
        Self::Isolation,
        Self::TapeFirst,
        Self::TapeSecond,
        Self::TapeDone,
        Self::IsolationAgain,
        Self::FrontZero,
        Self::FrontOther,
        Self::FrontTurn,
        Self::FrontZeroAgain,
        Self::FrontOtherAgain,
        Self::FrontParallel,
        Self::RearLeft,
        Self::RearRight,
        Self::RearTurn,
        Self::RearLeftAgain,
        Self::RearRightAgain,
        Self::RearParallel,
        Self::Clearance,
        Self::Start,
        Self::Grind,
        Self::SparkOut,
        Self::RunDown,
        Self::ProveLead,
        Self::ProveTrail,
        Self::ProveLand,
        Self::ProveHeight,
        Self::ProveBedknife,
        Self::ProvePaper,
        Self::ProveDone,
        Self::LabelPrint,
        Self::LabelScan,
        Self::LabelDone,
        Self::Return,
        Self::Over,
    ];

    /// Which step, counted from 1.
    pub fn number(self) -> u32 {
        Self::ALL.iter().zip(1..).find(|(step, _)| **step == self).map_or(0, |(_, number)| number)
    }

    /// The words of its card.
    pub const fn words(self, settings: Settings) -> TourWords {
        match settings.language {
            Language::English => english::words(self),
            Language::Spanish => spanish::words(self),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn the_steps_are_numbered_in_order_and_none_is_left_out() {
        for (step, number) in TourStep::ALL.iter().zip(1..) {
            assert_eq!(step.number(), number);
        }
        assert!(TourStep::ALL.windows(2).all(|pair| pair[0] < pair[1]));
    }

    #[test]
    fn every_card_is_full_short_enough_to_read_standing_and_promises_nothing() {
        let mut titles = BTreeSet::new();
        for language in [Language::English, Language::Spanish] {
            for step in TourStep::ALL {
                let words = step.words(Settings { language, ..Settings::default() });
                for text in [words.title, words.purpose, words.look, words.act] {
                    assert!(!text.is_empty() && text.chars().count() <= 112, "{text}");
                    let lower = text.to_lowercase();
                    assert!(!["safe ", "safely", "success", "seguro para", "éxito"].iter().any(|w| lower.contains(w)));
                }
                assert!(titles.insert((language == Language::Spanish, words.title)), "twice: {}", words.title);
            }
        }
    }
}
