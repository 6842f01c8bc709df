//! One bench as it stands: what is open, who is there, what is shown.

use super::enrolment::{Enrolment, TypeDraft};
use super::first_start::FirstDraft;
use super::forms::FormDraft;
use super::health::{GrinderPage, OpenCheck, replay_check};
use super::learnt::Kept;
use super::pins::PinDraft;
use super::settings::SettingDraft;
use super::shop::Shop;
use super::switches::Heard;
use super::watch::Watch;
use super::witness::Witnessing;
use crate::clock::Clock;
use crate::config::Config;
use crate::label::LabelPrinter;
use crate::label::vouched::KnownKeys;
use crate::link::Now;
use crate::store::{Pepper, Record as Disk, StoreError};
use sparkout_core::entry::{Entry, EntryBody};
use sparkout_core::facts::BenchFacts;
use sparkout_core::inputs::Switches;
use sparkout_core::label::HubAddress;
use sparkout_core::moment::Moment;
use sparkout_core::reading::Reading;
use sparkout_core::record::Operator;
use sparkout_core::scan::ShopCodes;
use sparkout_core::visit::event::{Effect, Event, Hold};
use sparkout_core::visit::{self, Visit};
use sparkout_ui::present::Wording;
use sparkout_ui::screen::{Raster, Settings, WhyOf};
use sparkout_ui::words::{RecordFault, Said, is_refusal};
use std::sync::Arc;

/// What a bench is made of. Time, disk and printer are seams.
pub struct Parts {
    /// The journal.
    pub disk: Box<dyn Disk>,
    /// The time.
    pub clock: Arc<dyn Clock>,
    /// Where labels go.
    pub printer: Box<dyn LabelPrinter + Send>,
    /// The configuration.
    pub config: Config,
    /// Where the journal lies, for people.
    pub folder: String,
    /// What goes into every PIN's hash, and lies beside the journal.
    pub pepper: Pepper,
}

/// One bench.
pub struct Bench {
    pub(super) disk: Box<dyn Disk>,
    pub(super) clock: Arc<dyn Clock>,
    pub(super) printer: Box<dyn LabelPrinter + Send>,
    /// The file's configuration, and the one in force: a lead's settings over the file's.
    pub(super) base: Config,
    pub(super) config: Config,
    pub(super) folder: String,
    pub(super) pepper: Pepper,
    /// When this run of the process began.
    pub(super) run_began: Moment,
    pub(super) hub: HubAddress,
    pub(super) codes: ShopCodes,
    /// Public keys of the shop's other benches.
    pub(super) keys: KnownKeys,
    pub(super) wording: Vec<Wording>,
    pub(super) zone: jiff::tz::TimeZone,
    pub(super) settings: Settings,
    pub(super) shop: Shop,
    pub(super) visits: Vec<OpenVisit>,
    pub(super) operator: Option<Operator>,
    pub(super) view: View,
    pub(super) said: Option<Said>,
    pub(super) said_at_ms: u64,
    pub(super) ready: Readiness,
    pub(super) label: Option<Raster>,
    pub(super) entry_serial: u64,
    pub(super) direction_not_known: bool,
    pub(super) too_fine: Option<TooFine>,
    pub(super) check: Option<OpenCheck>,
    pub(super) learnt: Kept,
    pub(super) in_hand: Option<super::cards::InHand>,
    pub(super) wish: Option<sparkout_ui::action::Manner>,
    pub(super) looked_at: Option<super::cards::LookedAt>,
    pub(super) watch: Watch,
    /// Nothing of this bench is real.
    pub(super) practice: bool,
    pub(super) overriding: Option<Hold>,
    /// The guard's and the stop's switches.
    pub(super) heard: Heard,
    pub(super) witness: Witnessing,
    /// The link to the hub.
    pub(super) link: Now,
}

/// A number finer than can be recorded, which makes sense in inches.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct TooFine {
    /// As it was typed.
    pub typed: String,
    /// What it says in inches.
    pub offered: Reading,
}

/// An open visit, and the facts its last entry with facts wrote down.
pub(super) struct OpenVisit {
    pub visit: Visit,
    pub facts: Option<BenchFacts>,
    pub opened: jiff::Timestamp,
}

/// Whether events are taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Readiness {
    /// The file is being looked through.
    Checking,
    /// Yes.
    Ready,
    /// The record cannot be used.
    Broken(RecordFault),
}

/// What is shown when it is not the visit on the rails.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum View {
    /// The visit on the rails, or home.
    Bench,
    /// Find by mower.
    Find {
        /// Which mower was picked.
        mower: Option<usize>,
    },
    /// Enrolling an unknown tag.
    Enrol(Enrolment),
    /// A new type for the tag that is being enrolled.
    NewType(Enrolment, TypeDraft),
    /// Settings, cautions and licences.
    About,
    /// A unit's card.
    UnitCard {
        /// Whose.
        tag: String,
        /// What was shown before: there the way back leads.
        from: Box<View>,
    },
    /// The grinder's own health.
    Grinder(GrinderPage),
    /// What is due.
    Due,
    /// The shop's settings.
    ShopSettings(SettingDraft),
    /// Cautions and licences, from page 0.
    Pages(usize),
    /// A new bench with nothing on record.
    FirstStart(Box<FirstDraft>),
    /// A PIN is asked.
    Pin(PinDraft),
    /// Why a figure of the visit on the rails is what it is. Whatever the visit does ends it.
    Why(WhyOf),
    /// The wheel's record.
    Wheel,
    /// The lockout.
    Lockout {
        /// It comes off although it was not proved dead.
        comes_off: bool,
    },
    /// A form of either.
    Form(FormDraft),
}

/// What only informs is taken away after this long; a refusal stays until the next act.
const INFORMED_AFTER_MS: u64 = 8_000;

impl Bench {
    /// A bench over its parts, with nothing read yet: [`Bench::begin`] reads.
    ///
    /// # Errors
    /// When the configuration is not usable, in words.
    pub fn new(parts: Parts) -> anyhow::Result<Self> {
        let Parts { disk, clock, printer, config, folder, pepper } = parts;
        let unheard = config.inputs()?.map_or_else(Switches::default, |wiring| wiring.unheard());
        Ok(Self {
            disk,
            run_began: clock.now(),
            clock,
            printer,
            hub: HubAddress::parse(&config.shop.hub)?,
            codes: ShopCodes::default(),
            keys: config.known_keys()?,
            wording: config.wording()?,
            zone: config.time_zone()?,
            settings: config.settings()?,
            base: config.clone(),
            config,
            folder,
            pepper,
            shop: Shop::default(),
            visits: Vec::new(),
            operator: None,
            view: View::Bench,
            said: None,
            said_at_ms: 0,
            ready: Readiness::Checking,
            label: None,
            entry_serial: 0,
            direction_not_known: false,
            too_fine: None,
            check: None,
            learnt: Kept::default(),
            in_hand: None,
            wish: None,
            looked_at: None,
            watch: Watch::default(),
            practice: false,
            overriding: None,
            heard: Heard::unheard(unheard),
            witness: Witnessing::default(),
            link: Now::default(),
        })
    }

    /// Other settings than the configuration's, from the command line.
    pub fn with_settings(mut self, settings: Settings) -> Self {
        self.settings = settings;
        self
    }

    /// What the link to the hub is like; without it this kiosk stands alone, and says so.
    pub fn with_link(mut self, link: Now) -> Self {
        self.link = link;
        self
    }

    /// Takes up what was open. No event is accepted before it ends.
    pub fn begin(&mut self) {
        self.ready = match self.read_back() {
            Ok(()) => Readiness::Ready,
            Err(error) => {
                tracing::error!(%error, detail = error.detail(), "the record cannot be used");
                Readiness::Broken(fault_of(&error))
            }
        };
        if self.ready == Readiness::Ready {
            self.restarted();
            self.look_round();
            self.begin_witness();
        }
    }

    fn read_back(&mut self) -> Result<(), StoreError> {
        self.shop = Shop::load(self.disk.as_ref())?;
        self.put_in_force();
        self.visits = Vec::new();
        for card in self.shop.open_visits.clone() {
            if let Some(open) = replay(self.disk.as_ref(), &card.visit)? {
                self.visits.push(open);
            }
        }
        self.learnt = Kept::default();
        self.check = match self.shop.open_check.clone() {
            Some(id) => replay_check(self.disk.as_ref(), &id)?,
            None => None,
        };
        if self.check.is_some() {
            self.view = View::Grinder(GrinderPage::default());
        }
        Ok(())
    }

    /// Reads everything again from the disk, when what is in memory may not be what was kept.
    pub(super) fn reload(&mut self) {
        if let Err(error) = self.read_back() {
            tracing::error!(%error, detail = error.detail(), "the record cannot be read again");
            self.ready = Readiness::Broken(fault_of(&error));
        }
    }

    /// Writes down that the process started, and takes every visit on the rails off what needs a clearance. While that
    /// cannot be kept nothing is taken: a grind of the process before would stand on the screen as if it went on.
    fn restarted(&mut self) {
        let started = EntryBody::Started { version: env!("CARGO_PKG_VERSION").to_owned() };
        let open: Vec<String> =
            self.visits.iter().filter(|open| !open.visit.paused()).map(|open| open.visit.id().to_owned()).collect();
        let mut kept = self.keep(started, &[]);
        for visit in open {
            kept = kept.and_then(|()| self.try_submit(&visit, Event::Restarted).map(drop));
        }
        match kept {
            Ok(()) => self.draw_label_where_shown(),
            Err(Said::NotKept { fault }) => self.ready = Readiness::Broken(fault),
            Err(said) => self.said = Some(said),
        }
    }

    /// The visit on the rails.
    pub(super) fn on_rails(&self) -> Option<&OpenVisit> {
        self.visits.iter().find(|open| !open.visit.paused() && !open.visit.closed())
    }

    /// The bench's facts at this moment.
    pub(super) fn facts(&self) -> Option<BenchFacts> {
        let grinder = self.shop.grinder.clone()?;
        let today = self.today();
        let learnt = self.learnt(&grinder);
        let switches = self.heard.in_force();
        Some(BenchFacts {
            operator: self.operator.clone(),
            grinder,
            wheel: self.shop.wheel.clone(),
            lockout: self.shop.lockouts.open().cloned(),
            guard: switches.guard,
            stop: switches.stop,
            today,
            shift: today.to_string(),
            instruments: learnt.instruments,
            limits: self.config.limits(),
            grinding: self.config.grinding(),
            gate: self.config.gate_rules(),
            acknowledged: self.shop.acknowledged.clone(),
            upkeep: learnt.upkeep,
            shims: self.config.shims(),
            knife: self.config.knife(),
            untold: self.operator.as_ref().and_then(|operator| self.shop.lockouts.to_tell(operator)).cloned(),
        })
    }

    /// The day in the shop's own time zone.
    pub(super) fn today(&self) -> jiff::civil::Date {
        self.clock.now().wall.to_zoned_datetime(self.zone.clone()).date()
    }

    /// Time has passed: a clearance may have lapsed, and what only informs has been read.
    pub fn tick(&mut self) {
        if self.ready != Readiness::Ready {
            return;
        }
        self.look_round();
        self.follow_witness();
        let age_ms = self.clock.now().monotonic_ms.saturating_sub(self.said_at_ms);
        if age_ms > INFORMED_AFTER_MS && self.said.as_ref().is_some_and(|said| !is_refusal(said)) {
            self.said = None;
        }
        self.lapse_where_due();
        self.follow_switches();
        self.follow_printer();
    }

    fn lapse_where_due(&mut self) {
        let (Some(facts), now) = (self.facts(), self.clock.now()) else { return };
        let Some(open) = self.on_rails() else { return };
        if let Some(reason) = open.visit.lapse(&facts, &now) {
            let visit = open.visit.id().to_owned();
            if self.submit(&visit, Event::Lapsed { reason: reason.clone() }) {
                self.said = Some(Said::Lapsed(reason));
            }
        }
    }
}

/// A visit as the journal tells it: every entry taken again, with the facts that were written down then.
fn replay(disk: &dyn Disk, id: &str) -> Result<Option<OpenVisit>, StoreError> {
    let mut open: Option<OpenVisit> = None;
    for (seq, bytes) in disk.entries_of_visit(id)? {
        let Entry { at, facts, body } = entry_from(seq, &bytes)?;
        let EntryBody::Visit { event, .. } = body else { continue };
        match &mut open {
            Some(open) => {
                open.take_again(seq, &at, facts.map(|facts| *facts), &event)?;
            }
            None => open = OpenVisit::opened(id, &at, facts.map(|facts| *facts), event),
        }
    }
    Ok(open.filter(|open| !open.visit.closed()))
}

/// Reads an entry's bytes.
pub(super) fn entry_from(seq: u64, bytes: &[u8]) -> Result<Entry, StoreError> {
    serde_json::from_slice(bytes).map_err(|error| not_understood(seq, &error))
}

impl OpenVisit {
    /// The visit that an entry opened, if it is one that opens.
    pub(super) fn opened(id: &str, at: &Moment, facts: Option<BenchFacts>, event: Event) -> Option<Self> {
        let Event::Opened { unit } = event else { return None };
        Some(Self { visit: visit::open(id, *unit, at), facts, opened: at.wall })
    }

    /// Takes an entry of the journal again, and gives what was to be done because of it.
    pub(super) fn take_again(
        &mut self,
        seq: u64,
        at: &Moment,
        facts: Option<BenchFacts>,
        event: &Event,
    ) -> Result<Vec<Effect>, StoreError> {
        self.facts = facts.or(self.facts.take());
        let known = self.facts.as_ref().ok_or_else(|| not_understood(seq, &"no facts were written down"))?;
        let stepped = visit::step(&self.visit, known, event, at).map_err(|error| not_understood(seq, &error))?;
        self.visit = stepped.visit;
        Ok(stepped.effects)
    }
}

pub(super) fn not_understood(seq: u64, error: &dyn std::fmt::Display) -> StoreError {
    StoreError::Corrupt { detail: format!("entry {seq} cannot be taken again: {error}") }
}

/// What the person at the bench must know of a disk error.
pub(super) fn fault_of(error: &StoreError) -> RecordFault {
    match error {
        StoreError::Full { .. } => RecordFault::Full,
        StoreError::Unwritable { .. } => RecordFault::Unwritable,
        StoreError::Corrupt { .. } => RecordFault::Damaged { set_aside: None },
        StoreError::Reload { .. } | StoreError::Other { .. } => RecordFault::Other,
    }
}
