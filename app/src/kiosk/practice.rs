//! Practice: a second bench over a journal in memory, an invented shop, and a printer that writes nothing.

use super::bench::{Bench, Parts, View};
use super::tour::Tour;
use super::{Shop, write_records};
use crate::demo;
use crate::label::print::{PrintError, Printed};
use crate::label::{LabelJob, LabelPrinter};
use crate::store::{MemoryRecord, Pepper};
use sparkout_core::entry::Record;
use sparkout_core::scan::{self, BadgeId, CommandCard, MowerCode, Place, Scan};
use sparkout_core::visit::kind::StageName;
use sparkout_ui::action::{Action, Manner};
use sparkout_ui::screen::{PracticeCode, Screen};
use sparkout_ui::words::{self, Manners, Said};
use std::sync::Arc;

/// The host in practice's codes. RFC 2606 (1999), section 2: `.invalid` names that never resolve.
const NOWHERE: &str = "PRACTICE.INVALID";
/// What stands where the bench's name would, on the screen and on the label.
const NO_BENCH: &str = "PRACTICE";
/// Tags of the invented shop that the sheet offers, the tour's first, and one that nobody knows.
const TAGS: [&str; 4] = [demo::FIRST_TAG, "G-301", "F-201", "Z-900"];

/// Says that it printed, and prints nothing.
struct NoPrinter;

impl LabelPrinter for NoPrinter {
    fn print(&mut self, _: &LabelJob) -> Result<Printed, PrintError> {
        Ok(Printed::Out { printed_to: NO_BENCH.to_owned() })
    }

    fn ready(&self) -> bool {
        true
    }
}

/// Practice while it lasts. Dropping it is all there is to ending it.
pub(super) struct Practice {
    bench: Bench,
    sheet: bool,
    tour: Option<Tour>,
}

/// A thing on the sheet, and what a scanner would send for it.
struct OnSheet {
    shown: PracticeCode,
    code: String,
}

impl Practice {
    /// Beside a real bench: its clock and its rules, and nothing else of it.
    pub fn beside(real: &Bench, with_tour: bool) -> anyhow::Result<Self> {
        let at = real.clock.now();
        let mut disk = MemoryRecord::default();
        let mut records = demo::records_of(at.wall)?;
        for record in &mut records {
            if let Record::Grinder { grinder } = record {
                NO_BENCH.clone_into(&mut grinder.name);
            }
        }
        write_records(&mut disk, &mut Shop::default(), &at, records)?;
        let mut config = real.config.clone();
        NOWHERE.clone_into(&mut config.shop.hub);
        config.shop.name.clear();
        // Practice clears nothing real, and the real guard stands on the strip.
        config.without_inputs();
        config.without_pins();
        NO_BENCH.clone_into(&mut config.station.name);
        let parts = Parts {
            disk: Box::new(disk),
            clock: Arc::clone(&real.clock),
            printer: Box::new(NoPrinter),
            config,
            folder: NO_BENCH.to_owned(),
            pepper: Pepper::missing(),
        };
        let mut bench = Bench::new(parts)?.with_settings(real.settings).for_practice();
        bench.begin();
        let mut practice = Self { bench, sheet: false, tour: with_tour.then(Tour::default) };
        practice.follow();
        Ok(practice)
    }

    pub const fn bench(&self) -> &Bench {
        &self.bench
    }

    pub const fn bench_mut(&mut self) -> &mut Bench {
        &mut self.bench
    }

    pub fn tick(&mut self) {
        self.bench.tick();
        self.follow();
    }

    pub fn act(&mut self, action: Action) {
        self.bench.act(action);
        self.follow();
    }

    /// The tour looks where the visit stands.
    pub fn follow(&mut self) {
        if let Some(tour) = &mut self.tour {
            tour.follow(&self.bench.screen());
        }
    }

    /// A scanner sent this. What belongs to the real shop is not practised with.
    pub fn scanned(&mut self, text: String, real: &Bench) {
        match real.knows(&text) {
            Some(code) => self.bench.say(Said::Manners(Manners::ThisIsPractice { code })),
            None => self.act(Action::Scan(text)),
        }
    }

    pub fn manner(&mut self, manner: Manner, index: usize) {
        match manner {
            Manner::OpenSheet => self.sheet = true,
            Manner::ShutSheet => self.sheet = false,
            Manner::TakeCode => {
                let taken = self.sheet.then(|| self.on_sheet().into_iter().nth(index)).flatten();
                self.sheet = false;
                if let Some(thing) = taken {
                    self.act(Action::Scan(thing.code));
                }
            }
            Manner::TourDo => self.do_it(),
            Manner::TourLeave => {
                self.tour = None;
                self.bench.say(Said::Manners(Manners::TourOver));
            }
            Manner::TourShow => self.turn_card(false),
            Manner::TourCard => self.turn_card(true),
            _ => {}
        }
    }

    fn turn_card(&mut self, open: bool) {
        if let Some(tour) = &mut self.tour {
            tour.turn(open);
        }
    }

    fn do_it(&mut self) {
        let Some(mut tour) = self.tour.take() else { return };
        tour.do_step(&mut self.bench);
        tour.follow(&self.bench.screen());
        self.tour = Some(tour);
    }

    /// The bench's screen, marked.
    pub fn screen(&self, real: &Bench) -> Screen {
        let mut screen = self.bench.screen();
        let truth = real.strip();
        let strip = &mut screen.strip;
        // Printer, link and clock are the real ones: they are true of the kiosk, whatever is practised on it.
        strip.printer_ready = truth.printer_ready;
        strip.link = truth.link;
        strip.switches = truth.switches;
        strip.clock_changed = truth.clock_changed;
        strip.practice = true;
        strip.journal_entries.clear();
        screen.manners.coach =
            self.tour.as_ref().filter(|_| !self.sheet).and_then(|tour| tour.card(self.bench.settings()));
        let sheet = self.sheet.then(|| self.on_sheet().into_iter().map(|thing| thing.shown).collect());
        let tour_waits = self.tour.as_ref().is_some_and(Tour::waits);
        screen.manners.practice = Some(sparkout_ui::screen::Practice { sheet, tour_waits });
        screen
    }

    /// What a person could scan where the visit stands.
    fn on_sheet(&self) -> Vec<OnSheet> {
        let mut things = Vec::new();
        let mut put = |name: String, label: String, detail: &str, code: String| {
            things.push(OnSheet { shown: PracticeCode { name, label, detail: detail.to_owned() }, code });
        };
        let settings = self.bench.settings();
        let words = |english: &str, spanish: &str| words::either(settings, english, spanish);
        for operator in self.bench.shop.operators.values() {
            let code = BadgeId::new(&operator.id).map(|badge| badge.code()).unwrap_or_default();
            let role = if operator.lead {
                words("badge, lead", "credencial, encargado")
            } else {
                words("badge", "credencial")
            };
            put(format!("Badge {}", operator.name), operator.name.clone(), &role, code);
        }
        let Some(open) = self.bench.on_rails() else {
            for tag in TAGS {
                let known = self.bench.shop.units.get(tag).map(|unit| unit.mower.clone());
                let detail = known.unwrap_or_else(|| words("a tag that nobody knows", "una placa que nadie conoce"));
                put(format!("Tag {tag}"), tag.to_owned(), &detail, tag.to_owned());
            }
            return things;
        };
        let visit = &open.visit;
        if let Some(code) = visit.label().code() {
            put("Label".to_owned(), words("The label", "La etiqueta"), &visit.unit().tag, code.to_owned());
        }
        if visit.stage_name() == StageName::Return
            && let Some(code) = self.place_code(&visit.unit().mower, visit.unit().position)
        {
            let place = sparkout_ui::present::place(&visit.unit().mower, visit.unit().position);
            put("Place".to_owned(), words("Its place", "Su lugar"), &place, code);
        }
        let card = words("command card", "tarjeta de mando");
        for (command, name, label) in [
            (CommandCard::Next, "Card Next", words("Next", "Siguiente")),
            (CommandCard::Back, "Card Back", words("Back", "Atrás")),
            (CommandCard::Repeat, "Card Repeat", words("Repeat", "Repetir")),
            (CommandCard::PassDone, "Card Pass done", words("Pass done", "Pasada hecha")),
            (CommandCard::PauseVisit, "Card Pause visit", words("Pause visit", "Pausar")),
        ] {
            put(name.to_owned(), label, &card, command.code());
        }
        things
    }

    fn place_code(&self, mower: &str, position: u32) -> Option<String> {
        let mower = MowerCode::new(&self.bench.shop.mowers.get(mower)?.code).ok()?;
        Some(Place::new(mower, u8::try_from(position).ok()?).ok()?.code())
    }
}

impl Bench {
    /// Nothing on the rails, and Home is shown.
    pub(super) fn at_home(&self) -> bool {
        self.is_ready() && self.view == View::Bench && self.on_rails().is_none()
    }

    /// What a code names, when it is one of this shop's.
    pub(super) fn knows(&self, text: &str) -> Option<String> {
        match scan::parse(text, &self.codes).ok()? {
            Scan::Badge(badge) => self.shop.operators.get(badge.as_str()).map(|operator| operator.name.clone()),
            Scan::Asset(asset) => self.shop.units.get(&asset.tag()).map(|unit| unit.tag.clone()),
            Scan::OwnLabel(label) => self.shop.units.get(&label.content.unit).map(|unit| unit.tag.clone()),
            Scan::Place(place) => {
                let known = self.shop.mowers.values().find(|mower| mower.code == place.mower().as_str())?;
                Some(sparkout_ui::present::place(&known.name, u32::from(place.position())))
            }
            Scan::Command(_) | Scan::Key(_) => None,
        }
    }
}
