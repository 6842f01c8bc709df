//! What stands around the bench: practice beside it, the dimmed screen over it, and the door out of it.
//!
//! The bench knows none of it. While somebody practises, the real bench goes on ticking, and not one entry of what is
//! practised reaches its journal: practice is a second bench over a journal in memory.

use super::bench::Bench;
use super::practice::Practice;
use crate::intake::Heard;
use sparkout_core::inputs::Switches;
use sparkout_ui::action::{Action, Manner};
use sparkout_ui::screen::{Body, Offers, Screen, Veil};
use sparkout_ui::words::{Manners, Said, ScannerNews};
use std::time::Duration;

/// A bench with its manners.
pub struct Station {
    bench: Bench,
    practice: Option<Practice>,
    asleep: bool,
    touched_ms: u64,
    left: bool,
    /// Scanners that are not there.
    gone: Vec<String>,
}

impl Station {
    /// Around a bench that has not begun.
    pub fn over(bench: Bench) -> Self {
        Self { bench, practice: None, asleep: false, touched_ms: 0, left: false, gone: Vec::new() }
    }

    /// Takes up what was open; see [`Bench::begin`].
    pub fn begin(&mut self) {
        self.bench.begin();
        self.touched();
    }

    /// Whether a lead has left the kiosk.
    pub const fn left(&self) -> bool {
        self.left
    }

    /// Time has passed.
    pub fn tick(&mut self) {
        self.bench.tick();
        if let Some(practice) = &mut self.practice {
            practice.tick();
        }
        let idle_ms = self.bench.now_ms().saturating_sub(self.touched_ms);
        let dims = self.bench.dim_after_ms().is_some_and(|after_ms| idle_ms >= after_ms);
        let may_dim = self.practice.as_ref().map_or(&self.bench, Practice::bench).may_dim();
        self.asleep = may_dim && (self.asleep || dims);
    }

    /// The guard's or the stop's switch says something else.
    pub fn heard(&mut self, seen: Switches) {
        self.bench.heard(seen);
    }

    /// A scanner that is a device of its own came or went. One that was there from the beginning is not spoken of.
    pub fn scanner(&mut self, heard: Heard) {
        let news = match heard {
            Heard::Scan(text) => return self.act(Action::Scan(text)),
            Heard::There { source } => {
                let before = self.gone.len();
                self.gone.retain(|gone| *gone != source);
                if self.gone.len() == before {
                    return;
                }
                ScannerNews::Back
            }
            Heard::Gone { source } => {
                self.gone.push(source.clone());
                ScannerNews::Gone { source }
            }
            Heard::NoCode { file } => ScannerNews::NoCode { file },
        };
        self.shown().say(Said::Scanner(news));
    }

    /// Does what a person asked for a while ago.
    pub fn act_after(&mut self, action: Action, waited: Duration) {
        self.bench.waited(waited);
        self.act(action);
        self.bench.waited(Duration::ZERO);
    }

    /// Does what a person asked for.
    pub fn act(&mut self, action: Action) {
        if action == Action::Touched {
            // A finger on the dimmed screen wakes it when it lifts, not while it lies there.
            if !self.asleep {
                self.touched();
            }
            return;
        }
        self.touched();
        // What wakes the screen was meant for what lay under it a while ago: only a scan says itself what it means.
        if std::mem::take(&mut self.asleep) && !matches!(action, Action::Scan(_) | Action::CloseAsked) {
            return;
        }
        match action {
            Action::CloseAsked => self.leave(),
            Action::Manner { manner, index } => self.manner(manner, index),
            Action::Scan(text) => match &mut self.practice {
                Some(practice) => practice.scanned(text, &self.bench),
                None => self.bench.act(Action::Scan(text)),
            },
            other => match &mut self.practice {
                Some(practice) => practice.act(other),
                None => self.bench.act(other),
            },
        }
        // A command card may ask for what the station does.
        if let Some(wish) = self.shown().take_wish() {
            self.manner(wish, 0);
        }
    }

    fn touched(&mut self) {
        self.touched_ms = self.bench.now_ms();
    }

    fn shown(&mut self) -> &mut Bench {
        self.practice.as_mut().map_or(&mut self.bench, Practice::bench_mut)
    }

    fn leave(&mut self) {
        match self.bench.may_leave() {
            Ok(()) => self.left = true,
            Err(said) => self.shown().say(said),
        }
    }

    fn manner(&mut self, manner: Manner, index: usize) {
        match manner {
            Manner::Wake => {}
            Manner::Leave => self.leave(),
            Manner::Practice => self.practise(false),
            Manner::Tour => self.practise(true),
            Manner::EndPractice => self.end_practice(),
            Manner::OpenSheet
            | Manner::ShutSheet
            | Manner::TakeCode
            | Manner::TourShow
            | Manner::TourDo
            | Manner::TourLeave
            | Manner::TourCard => {
                if let Some(practice) = &mut self.practice {
                    practice.manner(manner, index);
                }
            }
            Manner::ShopSettings
            | Manner::PickSetting
            | Manner::Less
            | Manner::More
            | Manner::Default
            | Manner::KeepSetting
            | Manner::Cautions
            | Manner::PageUp
            | Manner::PageDown
            | Manner::SetUp
            | Manner::PickValue
            | Manner::PickChoice
            | Manner::KeepBench => {
                self.shown().manner(manner, index);
                if let Some(practice) = &mut self.practice {
                    practice.follow();
                }
            }
        }
    }

    fn practise(&mut self, with_tour: bool) {
        if self.practice.is_some() {
            return;
        }
        if !self.bench.at_home() {
            return self.bench.say(Said::Manners(Manners::PracticeFromHome));
        }
        match Practice::beside(&self.bench, with_tour) {
            Ok(practice) => {
                self.bench.hush();
                self.practice = Some(practice);
            }
            Err(error) => {
                tracing::error!(error = format!("{error:#}"), "practice cannot be set up");
                self.bench.say(Said::Manners(Manners::NoPractice));
            }
        }
    }

    /// Everything that was practised goes; the language that a person chose there stays.
    fn end_practice(&mut self) {
        if let Some(practice) = self.practice.take() {
            self.bench.put_settings(practice.bench().settings());
            self.bench.say(Said::Manners(Manners::PracticeOver));
        }
    }

    /// The whole picture at this moment.
    pub fn screen(&self) -> Screen {
        let mut screen = match &self.practice {
            Some(practice) => practice.screen(&self.bench),
            None => self.bench.screen(),
        };
        let manners = &mut screen.manners;
        manners.look = Some(self.bench.look());
        manners.left = self.left;
        manners.may_leave = self.bench.may_leave().is_ok();
        if matches!(screen.body, Body::Home(_)) {
            let practises = self.practice.is_some();
            manners.offers = Offers {
                practice: !practises,
                tour: !practises && self.bench.nothing_on_record(),
                set_up: !practises && self.bench.nothing_on_record(),
                end_practice: practises,
            };
        }
        if self.asleep {
            manners.veil =
                Some(Veil { clock: screen.strip.clock.clone(), station: self.bench.station_name().to_owned() });
        }
        screen
    }
}

#[cfg(test)]
mod tests;
