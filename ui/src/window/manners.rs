//! What the kiosk shows about itself, set on the window; and what is reported of it.

use super::generated as g;
use super::views::text;
use super::{KioskWindow, views};
use crate::action::{Action, Manner};
use crate::screen::{self, Body, LinkState, Manners, Screen};
use slint::{CloseRequestResponse, ComponentHandle, ModelRc, SharedString};
use std::fmt::Write as _;

impl KioskWindow {
    /// Who hears that somebody is there: any pointer and any key, whatever it does.
    pub fn on_touched(&self, touched: impl Fn() + 'static) {
        *self.0.touched.borrow_mut() = Some(std::rc::Rc::new(touched));
    }

    /// Keeps the window when it is asked to close, and reports that it was asked.
    pub fn guard_closing(&self) {
        let weak = self.downgrade();
        self.component().window().on_close_requested(move || {
            if let Some(window) = weak.upgrade() {
                window.report(Action::CloseAsked);
            }
            CloseRequestResponse::KeepWindowShown
        });
    }

    /// Covers the whole screen, or is a window again.
    pub fn set_full_screen(&self, full: bool) {
        self.component().window().set_fullscreen(full);
    }

    pub(super) fn touched(&self) {
        let touched = self.0.touched.borrow().clone();
        if let Some(touched) = touched {
            touched();
        }
    }

    /// Whether the screen is dimmed: a key then wakes it and types nothing.
    pub(super) fn dimmed(&self) -> bool {
        self.0.last.borrow().as_ref().is_some_and(|screen| screen.manners.veil.is_some())
    }

    /// Whether letters are asked, so that a keyboard types a name and no number.
    pub(super) fn asks_letters(&self) -> bool {
        self.0.last.borrow().as_ref().is_some_and(|screen| match &screen.body {
            Body::FirstStart(start) => start.letters.is_some(),
            Body::Form(form) => form.letters.is_some(),
            _ => false,
        })
    }

    pub(super) fn connect_manners(&self) {
        let house = self.component().global::<g::House>();
        let weak = self.downgrade();
        house.on_act(move |manner, index| {
            if let Some(window) = weak.upgrade() {
                let index = usize::try_from(index).unwrap_or_default();
                window.report(Action::Manner { manner: manner.into(), index });
            }
        });
        let weak = self.downgrade();
        house.on_letter(move |key| {
            if let Some(window) = weak.upgrade() {
                window.report(Action::Letters(key.into()));
            }
        });
        let weak = self.downgrade();
        house.on_touched(move || {
            if let Some(window) = weak.upgrade() {
                window.touched();
            }
        });
        house.on_hatch(hatch);
    }

    pub(super) fn show_manners(&self, last: Option<&Screen>, screen: &Screen) {
        let house = self.component().global::<g::House>();
        let now = &screen.manners;
        let differs = |same: fn(&Manners, &Manners) -> bool| last.is_none_or(|last| !same(&last.manners, now));
        if last.is_none_or(|last| last.strip != screen.strip) {
            let unsent = match screen.strip.link {
                LinkState::Offline { unsent } => crate::present::figures::grouped(unsent as f64),
                LinkState::NoHub | LinkState::Online => String::new(),
            };
            house.set_link(screen.strip.link.into());
            house.set_unsent(unsent.into());
            house.set_clock_changed(screen.strip.clock_changed);
        }
        if differs(|a, b| a.practice == b.practice) {
            house.set_practice(practice(now.practice.as_ref()));
        }
        if differs(|a, b| a.coach == b.coach) {
            house.set_coach(coach(now.coach.as_ref()));
        }
        if differs(|a, b| a.veil == b.veil) {
            house.set_veil(now.veil.as_ref().map_or_else(g::VeilView::default, |veil| g::VeilView {
                shown: true,
                clock: text(&veil.clock),
                station: text(&veil.station),
            }));
        }
        if differs(|a, b| a.offers == b.offers) {
            let offers = now.offers;
            house.set_offers(g::OffersView {
                practice: offers.practice,
                tour: offers.tour,
                set_up: offers.set_up,
                end_practice: offers.end_practice,
            });
        }
        house.set_may_leave(now.may_leave);
        if let Some(look) = now.look.filter(|_| differs(|a, b| a.look == b.look)) {
            self.set_panel_width_mm(look.panel_width_mm);
            self.set_reduced_motion(look.reduced_motion);
        }
    }
}

impl From<LinkState> for g::LinkState {
    fn from(link: LinkState) -> Self {
        match link {
            LinkState::NoHub => Self::NoHub,
            LinkState::Online => Self::Online,
            LinkState::Offline { .. } => Self::Offline,
        }
    }
}

macro_rules! manner {
    ($($variant:ident),* $(,)?) => {
        impl From<g::Manner> for Manner {
            fn from(manner: g::Manner) -> Self {
                match manner { $(g::Manner::$variant => Self::$variant),* }
            }
        }
    };
}

manner! {
    Practice, EndPractice, OpenSheet, ShutSheet, TakeCode, Tour, TourShow, TourDo, TourLeave, TourCard, Wake,
    ShopSettings, PickSetting, Less, More, Default, KeepSetting, Cautions, PageUp, PageDown, Leave, SetUp,
    PickValue, PickChoice, KeepBench,
}

pub(super) fn texts(texts: &[String]) -> ModelRc<SharedString> {
    views::list(texts, |line| text(line))
}

fn count(number: u32) -> i32 {
    i32::try_from(number).unwrap_or(i32::MAX)
}

fn practice(practice: Option<&screen::Practice>) -> g::PracticeView {
    practice.map_or_else(g::PracticeView::default, |practice| g::PracticeView {
        on: true,
        sheet_open: practice.sheet.is_some(),
        codes: views::list(practice.sheet.as_deref().unwrap_or_default(), |code| g::PracticeCode {
            name: text(&code.name),
            label: text(&code.label),
            detail: text(&code.detail),
        }),
        tour_waits: practice.tour_waits,
    })
}

fn coach(coach: Option<&screen::Coach>) -> g::CoachView {
    coach.map_or_else(g::CoachView::default, |coach| g::CoachView {
        shown: true,
        number: count(coach.number),
        count: count(coach.count),
        title: text(&coach.title),
        purpose: text(&coach.purpose),
        look: text(&coach.look),
        act: text(&coach.act),
        can_do: coach.can_do,
        last: coach.last,
    })
}

pub(super) fn rows(rows: &[screen::SettingRow]) -> ModelRc<g::SettingRow> {
    views::list(rows, |row| g::SettingRow {
        name: text(&row.name),
        label: text(&row.label),
        value: text(&row.value),
        now: row.now,
    })
}

pub(super) fn shop_settings(body: &screen::ShopSettings) -> g::ShopSettingsView {
    let picked = &body.picked;
    g::ShopSettingsView {
        rows: rows(&body.rows),
        picked: g::PickedSetting {
            label: text(&picked.label),
            value: text(&picked.value),
            range: text(&picked.range),
            default: text(&picked.default),
            changed: picked.changed,
            less: picked.less,
            more: picked.more,
        },
        may_change: body.may_change,
    }
}

pub(super) fn pages(body: &screen::Pages) -> g::PagesView {
    g::PagesView {
        title: text(&body.title),
        paragraphs: texts(&body.paragraphs),
        caution: body.caution,
        page: count(body.page),
        pages: count(body.pages),
    }
}

pub(super) fn first_start(body: &screen::FirstStart) -> g::FirstStartView {
    g::FirstStartView {
        rows: rows(&body.rows),
        asked: text(&body.asked),
        explained: text(&body.explained),
        choices: texts(&body.choices),
        has_letters: body.letters.is_some(),
        letters: text(body.letters.as_deref().unwrap_or_default()),
        complete: body.complete,
    }
}

pub(super) fn pin(body: &screen::PinAsked) -> g::PinView {
    g::PinView {
        asks: body.asks.into(),
        name: text(&body.name),
        lead: text(&body.lead),
        digits: count(body.digits),
        locked_minutes: count(body.locked_minutes),
        may_forget: body.may_forget,
        turning: body.turning,
    }
}

/// Stripes at 45 degrees over a rectangle, each half as wide as their distance, as one path.
fn hatch(width: f32, height: f32, pitch: f32) -> SharedString {
    // A window that is not laid out yet has no size, and a path must end.
    const STRIPES_MOST: usize = 400;
    let mut path = String::new();
    if !(width > 0.0 && height > 0.0 && pitch >= 2.0) {
        return path.into();
    }
    let mut left = -height;
    for _ in 0..STRIPES_MOST {
        if left >= width {
            break;
        }
        let right = left + pitch / 2.0;
        // Writing to a String cannot fail.
        let _ = write!(
            path,
            "M {left:.1} {height:.1} L {:.1} 0 L {:.1} 0 L {right:.1} {height:.1} Z ",
            left + height,
            right + height
        );
        left += pitch;
    }
    path.into()
}
