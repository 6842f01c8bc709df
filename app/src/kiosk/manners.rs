//! What the station round the bench asks of it, and the presses that are about the kiosk and not about a visit.

use super::bench::{Bench, Readiness, View};
use sparkout_core::visit::Stage;
use sparkout_core::visit::kind::StageName;
use sparkout_ui::action::Manner;
use sparkout_ui::screen::Settings;
use sparkout_ui::words::{Manners, Said};

impl Bench {
    /// A bench that nothing of is real.
    pub(super) const fn for_practice(mut self) -> Self {
        self.practice = true;
        self
    }

    pub(super) fn is_ready(&self) -> bool {
        self.ready == Readiness::Ready
    }

    pub(super) fn now_ms(&self) -> u64 {
        self.clock.now().monotonic_ms
    }

    /// Language, units and theme in force.
    pub(super) const fn settings(&self) -> Settings {
        self.settings
    }

    pub(super) const fn put_settings(&mut self, settings: Settings) {
        self.settings = settings;
    }

    pub(super) fn station_name(&self) -> &str {
        &self.config.station.name
    }

    /// A journal in which no shop stands yet.
    pub(super) fn nothing_on_record(&self) -> bool {
        let shop = &self.shop;
        self.is_ready()
            && shop.grinder.is_none()
            && shop.wheel.is_none()
            && shop.operators.is_empty()
            && shop.mowers.is_empty()
            && shop.units.is_empty()
            && shop.types.is_empty()
    }

    /// Says one sentence to the person at the bench.
    pub(super) fn say(&mut self, said: Said) {
        self.said = Some(said);
        self.said_at_ms = self.now_ms();
    }

    /// Takes the last sentence away.
    pub(super) fn hush(&mut self) {
        self.said = None;
    }

    /// Whether wheel and reel may turn: a grind runs, or nobody has seen both stand still.
    pub(super) fn turning(&self) -> bool {
        let Some((open, facts)) = self.on_rails().zip(self.facts()) else { return false };
        let stage = open.visit.stage();
        let at_the_gate = matches!(stage, Stage::Clearance(_) | Stage::Cleared(_));
        stage.running().is_some() || (at_the_gate && open.visit.all_passes_done(&facts))
    }

    /// Whether the screen may dim: never while a clearance is made, a grind runs, or the run-down warning stands.
    pub(super) fn may_dim(&self) -> bool {
        let at_the_gate = self
            .on_rails()
            .is_some_and(|open| matches!(open.visit.stage_name(), StageName::Clearance | StageName::Grind));
        self.is_ready() && !at_the_gate && !self.turning()
    }

    /// Whether the kiosk may be left: by a lead, and not while anything turns. One whose record cannot be used may be
    /// left by anybody: somebody has to mend it, and no badge can be scanned.
    pub(super) fn may_leave(&self) -> Result<(), Said> {
        match self.ready {
            Readiness::Broken(_) => return Ok(()),
            Readiness::Checking => return Err(Said::StillChecking),
            Readiness::Ready => {}
        }
        if self.turning() {
            return Err(Said::Manners(Manners::NotWhileTurning));
        }
        // Nobody can be a lead where nobody is on record.
        if self.nothing_on_record() || self.operator.as_ref().is_some_and(|operator| operator.lead) {
            return Ok(());
        }
        Err(Said::Manners(Manners::LeadToLeave))
    }

    /// Does what a press about the kiosk itself means at this bench.
    pub(super) fn manner(&mut self, manner: Manner, index: usize) {
        if !self.is_ready() {
            return;
        }
        self.tick();
        self.said = None;
        self.said_at_ms = self.now_ms();
        self.too_fine = None;
        match manner {
            Manner::ShopSettings
            | Manner::PickSetting
            | Manner::Less
            | Manner::More
            | Manner::Default
            | Manner::KeepSetting => self.setting_pressed(manner, index),
            Manner::Cautions => self.view = View::Pages(0),
            Manner::PageUp => self.turn_page(false),
            Manner::PageDown => self.turn_page(true),
            Manner::PickValue | Manner::PickChoice if matches!(self.view, View::Form(_)) => {
                self.form_pressed(manner, index);
            }
            Manner::SetUp | Manner::PickValue | Manner::PickChoice | Manner::KeepBench => {
                self.first_start_pressed(manner, index);
            }
            Manner::Practice
            | Manner::EndPractice
            | Manner::OpenSheet
            | Manner::ShutSheet
            | Manner::TakeCode
            | Manner::Tour
            | Manner::TourShow
            | Manner::TourDo
            | Manner::TourLeave
            | Manner::TourCard
            | Manner::Wake
            | Manner::Leave => {}
        }
    }
}
