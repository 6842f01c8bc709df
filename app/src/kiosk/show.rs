//! The screen as it stands, made from the bench's state.

use super::bench::{Bench, OpenVisit, Readiness, View};
use super::enrolment::TypeDraft;
use crate::link::State;
use sparkout_core::bench::FrameKind;
use sparkout_core::moment::Moment;
use sparkout_core::reading::LengthKind;
use sparkout_core::visit::Visit;
use sparkout_ui::present::{self, Beside, figures, type_question};
use sparkout_ui::screen::{
    About, Asked, Body, Choice, Entry, FieldRow, Home, LinkState, MowerPicture, NewType, Notice, Screen, Strip,
    SwitchState, WhyOf,
};
use sparkout_ui::words::{self, TypeField};

impl Bench {
    /// The whole picture at this moment.
    pub fn screen(&self) -> Screen {
        let mut screen = Screen { settings: self.settings, strip: self.strip(), ..Screen::default() };
        match &self.ready {
            Readiness::Checking => return screen,
            Readiness::Broken(fault) => {
                screen.body = Body::Fault(words::fault(fault, &self.folder, self.settings));
                return screen;
            }
            Readiness::Ready => {}
        }
        screen.notice = self
            .said
            .as_ref()
            .map(|said| Notice { text: words::said(said, self.settings), refused: words::is_refusal(said) });
        self.fill_body(&mut screen);
        self.show_in_hand(&mut screen);
        screen
    }

    fn fill_body(&self, screen: &mut Screen) {
        let types = self.types();
        let mowers = self.mowers();
        let units = self.shop.units.values();
        match &self.view {
            View::About => screen.body = Body::About(self.about()),
            View::ShopSettings(draft) => screen.body = Body::ShopSettings(self.shop_settings(*draft)),
            View::Pages(page) => screen.body = Body::Pages(self.pages(*page)),
            View::FirstStart(draft) => {
                screen.body = Body::FirstStart(self.first_start(draft));
                screen.entry = self.first_entry(draft);
            }
            View::Pin(draft) => {
                screen.body = Body::Pin(self.pin_asked(draft));
                screen.entry = self.pin_entry(draft);
            }
            View::Find { mower } => screen.body = Body::Find(present::find(&mowers, *mower, units)),
            View::Enrol(enrolment) => {
                screen.body = Body::Enrol(present::enrol(
                    &enrolment.tag,
                    &types,
                    enrolment.type_chosen,
                    &mowers,
                    enrolment.mower,
                    units,
                    self.settings,
                ));
            }
            View::NewType(_, draft) => {
                screen.body = Body::NewType(self.new_type(draft));
                screen.entry = draft.adjusters.is_some().then(|| self.type_entry(draft));
            }
            View::UnitCard { tag, .. } => screen.body = Body::UnitCard(self.unit_card(tag)),
            View::Grinder(page) => self.fill_grinder(screen, page),
            View::Due => screen.body = self.due(),
            View::Why(of) => self.fill_why(screen, *of),
            View::Wheel => screen.body = self.wheel_body().unwrap_or_else(|| self.home()),
            View::Lockout { comes_off } => {
                screen.body = self.lockout_body(*comes_off).unwrap_or_else(|| self.home());
            }
            View::Form(form) => {
                screen.body = Body::Form(self.form(form));
                screen.entry = self.form_entry(form);
            }
            View::Bench => self.fill_bench(screen),
        }
    }

    fn fill_bench(&self, screen: &mut Screen) {
        match self.on_rails() {
            Some(open) => self.fill_visit(screen, open),
            None => screen.body = self.home(),
        }
    }

    /// The explanation; the bench itself when there is nothing to explain any more. The rail stays: one has not left.
    fn fill_why(&self, screen: &mut Screen, of: WhyOf) {
        match self.with_beside(|visit, beside| present::why(of, visit, beside)).flatten() {
            Some(why) => {
                screen.rail = self.on_rails().map(|open| present::rail(&open.visit)).unwrap_or_default();
                screen.body = Body::Why(Box::new(why));
            }
            None => self.fill_bench(screen),
        }
    }

    fn fill_visit(&self, screen: &mut Screen, open: &OpenVisit) {
        screen.rail = present::rail(&open.visit);
        let filled = self.with_beside(|visit, beside| {
            let asked = type_question(visit, beside).filter(|_| !self.direction_not_known);
            let doubted = self.too_fine.as_ref();
            let question = visit
                .question()
                .map(|question| words::question(question, self.settings))
                .or_else(|| doubted.map(|doubt| words::too_fine(&doubt.typed, doubt.offered, self.settings)));
            (
                present::body(visit, beside),
                present::entry(visit, beside),
                self.override_asked().or(question).or(asked.map(|asked| asked.question)),
            )
        });
        if let Some((body, entry, question)) = filled {
            screen.body = body;
            // Every number that was sent, taken or not, empties the field for the next.
            screen.entry = entry.map(|entry| Entry { serial: entry.serial * 100_000 + self.entry_serial, ..entry });
            screen.question = question;
        }
    }

    /// Calls with the visit on the rails and what its screen needs besides.
    pub(super) fn with_beside<T>(&self, make: impl FnOnce(&Visit, &Beside<'_>) -> T) -> Option<T> {
        let visit = &self.on_rails()?.visit;
        let facts = self.facts()?;
        let now = self.clock.now();
        let unit = self.shop.units.get(&visit.unit().tag);
        let mower = self.shop.mowers.get(&visit.unit().mower);
        let time_of_day = |moment: &Moment| self.time_of_day(moment.wall);
        let beside = Beside {
            settings: self.settings,
            facts: &facts,
            now: &now,
            unit,
            mower: mower.map_or_else(MowerPicture::default, |mower| {
                present::mower_picture(mower, self.shop.units.values(), Some(visit.unit().position))
            }),
            wording: &self.wording,
            label: self.label.clone(),
            time_of_day: &time_of_day,
            noise: self.noise().map_or_else(String::new, |noise| words::noise_short(&noise, self.settings)),
            lifting: self.config.lifting(),
        };
        Some(make(visit, &beside))
    }

    pub(super) fn time_of_day(&self, wall: jiff::Timestamp) -> String {
        let time = wall.to_zoned_datetime(self.zone.clone());
        format!("{:02}:{:02}", time.hour(), time.minute())
    }

    /// What waits to be sent is counted from the journal as it stands now, not as it stood when the link looked.
    fn link_state(&self) -> LinkState {
        match self.link.state() {
            State::NotPaired => LinkState::NoHub,
            State::Heard { .. } => LinkState::Online,
            State::Away { stored } => {
                let size = self.disk.head().map_or(stored, |head| head.size);
                LinkState::Offline { unsent: size.saturating_sub(stored) }
            }
        }
    }

    pub(super) fn strip(&self) -> Strip {
        let open = if self.ready == Readiness::Ready { self.on_rails() } else { None };
        let visit = open.map(|open| &open.visit);
        let (isolation, lock) = self.facts().map_or_else(Default::default, |facts| present::isolation(visit, &facts));
        Strip {
            tag: visit.map_or_else(String::new, |visit| visit.unit().tag.clone()),
            place: visit.map_or_else(String::new, |visit| present::place(&visit.unit().mower, visit.unit().position)),
            isolation,
            lock,
            printer_ready: self.watch.printer_ready(),
            operator: self.operator.as_ref().map_or_else(String::new, |operator| operator.initials.clone()),
            clock: self.time_of_day(self.clock.now().wall),
            journal_entries: self.disk.head().map_or_else(|_| String::new(), |head| figures::grouped(head.size as f64)),
            link: self.link_state(),
            clock_changed: self.watch.clock_changed(&self.clock.now()),
            practice: false,
            switches: SwitchState::of(self.heard.seen()),
        }
    }

    fn home(&self) -> Body {
        let Some(grinder) = &self.shop.grinder else {
            // Nothing can be ground here yet, and the screen says which bench that is.
            return Body::Home(Home {
                shop: self.config.shop.name.clone(),
                grinder: self.config.station.name.clone(),
                units: self.shop.units.len().to_string(),
                ..Home::default()
            });
        };
        let waiting = self
            .visits
            .iter()
            .filter(|open| open.visit.paused())
            .map(|open| (&open.visit, self.time_of_day(open.opened)));
        let mut home = present::home(
            &self.config.shop.name,
            grinder,
            self.operator.as_ref(),
            waiting,
            self.shop.units.len(),
            self.settings,
        );
        let due = self.due_at_home();
        home.due_now = due.iter().filter(|unit| unit.due.is_some_and(|day| day <= self.today())).count() as u32;
        home.due = present::due_lines(&due, self.settings);
        home.warning = match self.shop.lockouts.open() {
            Some(open) => words::lock_on(open, self.settings),
            None => self.facts().map_or_else(String::new, |facts| {
                present::grinder_warning(&facts, self.check.is_some(), self.settings)
            }),
        };
        if home.warning.is_empty() {
            home.warning = self.witness_warning().unwrap_or_default();
        }
        // Beside what warns about the grinder there is room for few words.
        let say = if home.warning.is_empty() { words::noise } else { words::noise_short };
        home.noise = self.noise().map_or_else(String::new, |noise| say(&noise, self.settings));
        Body::Home(home)
    }

    fn about(&self) -> About {
        let root = self.disk.head().map(|head| head.root.short()).unwrap_or_default();
        About {
            version: env!("CARGO_PKG_VERSION").to_owned(),
            data_folder: self.folder.clone(),
            short_root: root,
            change_pin: self.config.asks_pin() && self.operator.is_some(),
        }
    }

    fn new_type(&self, draft: &TypeDraft) -> NewType {
        let units = self.settings;
        let (Some(frame), Some(_)) = (draft.frame, draft.adjusters) else {
            let choices = draft.choices(units).into_iter();
            let choices = choices.map(|(name, detail)| Choice { name, detail, chosen: false });
            let asks = words::type_asks(draft.frame, units);
            return NewType { asks, choices: choices.collect(), ..NewType::default() };
        };
        let fields = draft.fields().into_iter().map(|field| FieldRow {
            label: words::type_field(field, frame, units),
            value: match field {
                TypeField::Blades => draft.blades.map_or_else(String::new, |blades| blades.to_string()),
                TypeField::Resting => {
                    draft.resting.map_or_else(String::new, |angle| format!("{}°", angle.angle().degrees()))
                }
                _ => draft
                    .length(field)
                    .map_or_else(String::new, |length| figures::reading_with_unit(length, LengthKind::Size, units)),
            },
            now: field == draft.asked(),
        });
        let setup = self.config.limits().setup;
        let limit = |length| figures::with_unit(length, LengthKind::Size, units);
        let assumed = words::type_assumed(frame, &limit(setup.square), &limit(setup.frame), units);
        NewType { fields: fields.collect(), assumed, complete: draft.complete(), ..NewType::default() }
    }

    fn type_entry(&self, draft: &TypeDraft) -> Entry {
        let field = draft.asked();
        let unit = match field {
            TypeField::Blades => "",
            TypeField::Resting => "°",
            _ => figures::sign_of(LengthKind::Size, self.settings),
        };
        Entry {
            serial: field as u64 * 100_000 + self.entry_serial,
            asked: Asked::TypeField,
            unit: unit.to_owned(),
            field: words::type_field(field, draft.frame.unwrap_or(FrameKind::Adjustable), self.settings),
            signed: true,
            ..Entry::default()
        }
    }
}
