//! The screen as it stands, made from the bench's state.

use super::bench::{Bench, OpenVisit, Readiness, View};
use super::enrolment::TypeDraft;
use sparkout_core::moment::Moment;
use sparkout_core::reading::LengthKind;
use sparkout_core::visit::Visit;
use sparkout_ui::present::{self, Beside, figures, type_question};
use sparkout_ui::screen::{About, Asked, Body, Entry, FieldRow, Home, MowerPicture, NewType, Notice, Screen, Strip};
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
        screen
    }

    fn fill_body(&self, screen: &mut Screen) {
        let types = self.types();
        let mowers = self.mowers();
        let units = self.shop.units.values();
        match &self.view {
            View::About => screen.body = Body::About(self.about()),
            View::Find { mower } => screen.body = Body::Find(present::find(&mowers, *mower, units)),
            View::Enrol(enrolment) => {
                screen.body = Body::Enrol(present::enrol(
                    &enrolment.tag,
                    &types,
                    enrolment.type_chosen,
                    &mowers,
                    enrolment.mower,
                    units,
                ));
            }
            View::NewType(_, draft) => {
                screen.body = Body::NewType(self.new_type(draft));
                screen.entry = Some(self.type_entry(draft));
            }
            View::Bench => match self.on_rails() {
                Some(open) => self.fill_visit(screen, open),
                None => screen.body = self.home(),
            },
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
                question.or(asked.map(|asked| asked.question)),
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
        };
        Some(make(visit, &beside))
    }

    fn time_of_day(&self, wall: jiff::Timestamp) -> String {
        let time = wall.to_zoned_datetime(self.zone.clone());
        format!("{:02}:{:02}", time.hour(), time.minute())
    }

    fn strip(&self) -> Strip {
        let open = if self.ready == Readiness::Ready { self.on_rails() } else { None };
        let visit = open.map(|open| &open.visit);
        let (isolation, lock) = self.facts().map_or_else(Default::default, |facts| present::isolation(visit, &facts));
        Strip {
            tag: visit.map_or_else(String::new, |visit| visit.unit().tag.clone()),
            place: visit.map_or_else(String::new, |visit| present::place(&visit.unit().mower, visit.unit().position)),
            isolation,
            lock,
            printer_ready: self.printer.ready(),
            operator: self.operator.as_ref().map_or_else(String::new, |operator| operator.initials.clone()),
            clock: self.time_of_day(self.clock.now().wall),
            journal_entries: self.disk.head().map_or_else(|_| String::new(), |head| figures::grouped(head.size as f64)),
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
        Body::Home(present::home(
            &self.config.shop.name,
            grinder,
            self.operator.as_ref(),
            waiting,
            self.shop.units.len(),
            self.settings,
        ))
    }

    fn about(&self) -> About {
        let root = self.disk.head().map(|head| head.root.short()).unwrap_or_default();
        About { version: env!("CARGO_PKG_VERSION").to_owned(), data_folder: self.folder.clone(), short_root: root }
    }

    fn new_type(&self, draft: &TypeDraft) -> NewType {
        let units = self.settings.units;
        let fields = TypeField::ALL.iter().zip(&draft.lengths).map(|(field, length)| FieldRow {
            label: words::type_field(*field, self.settings),
            value: match field {
                TypeField::Blades => draft.blades.map_or_else(String::new, |blades| blades.to_string()),
                _ => length
                    .map_or_else(String::new, |length| figures::reading_with_unit(length, LengthKind::Size, units)),
            },
            now: *field == draft.asked(),
        });
        NewType { fields: fields.collect(), complete: draft.complete() }
    }

    fn type_entry(&self, draft: &TypeDraft) -> Entry {
        let field = draft.asked();
        let unit = match field {
            TypeField::Blades => "",
            _ => figures::sign_of(LengthKind::Size, self.settings.units),
        };
        Entry {
            serial: draft.field as u64 * 100_000 + self.entry_serial,
            asked: Asked::TypeField,
            unit: unit.to_owned(),
            field: words::type_field(field, self.settings),
            signed: true,
            ..Entry::default()
        }
    }
}
