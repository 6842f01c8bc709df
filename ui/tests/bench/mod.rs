//! A window under test, on simulated time and without a display.

#![allow(dead_code, reason = "each test binary uses its part")]

pub mod pose;

use super::samples;
use i_slint_backend_testing::{
    AccessibleRole, ElementHandle, ElementQuery, TestingBackend, TestingBackendOptions, mock_elapsed_time,
};
use slint::platform::{PointerEventButton, WindowEvent};
use slint::{ComponentHandle as _, LogicalPosition, SharedString};
use sparkout_ui::action::Action;
use sparkout_ui::screen::{Language, Screen};
use sparkout_ui::window::KioskWindow;
use std::cell::RefCell;
use std::rc::Rc;
use std::time::Duration;

/// A window and what it has reported.
pub struct Bench {
    pub window: KioskWindow,
    actions: Rc<RefCell<Vec<Action>>>,
}

impl Bench {
    pub fn new(width: f32, height: f32) -> Self {
        // Each test runs on a thread of its own, and a platform belongs to a thread.
        let _ = slint::platform::set_platform(Box::new(TestingBackend::new(TestingBackendOptions {
            mock_time: true,
            threading: false,
            renderer_name: Some("software".into()),
        })));
        let window = KioskWindow::new().unwrap();
        window.set_size(width, height);
        window.component().show().unwrap();
        let actions = Rc::new(RefCell::new(Vec::new()));
        let log = actions.clone();
        window.on_action(move |action| log.borrow_mut().push(action));
        Self { window, actions }
    }

    pub fn show(&self, screen: &Screen) {
        self.window.show_screen(screen);
        wait(1);
    }

    pub fn show_sample(&self, name: &str) {
        let (_, screen) =
            samples::all(Language::English).into_iter().find(|(sample, _)| *sample == name).expect("a sample");
        self.show(&screen);
    }

    pub fn taken(&self) -> Vec<Action> {
        self.actions.take()
    }

    pub fn controls(&self) -> Vec<ElementHandle> {
        ElementQuery::from_root(self.window.component())
            .match_descendants()
            .match_accessible_role(AccessibleRole::Button)
            .find_all()
    }

    /// Every piece of text that is drawn.
    pub fn texts(&self) -> Vec<ElementHandle> {
        ElementQuery::from_root(self.window.component())
            .match_descendants()
            .match_accessible_role(AccessibleRole::Text)
            .find_all()
    }

    pub fn control(&self, name: &str) -> ElementHandle {
        self.controls()
            .into_iter()
            .find(|control| control.accessible_id().is_some_and(|id| id == name))
            .unwrap_or_else(|| panic!("no control {name:?}"))
    }

    pub fn event(&self, event: WindowEvent) {
        self.window.component().window().dispatch_event(event);
    }

    pub fn down(&self, at: LogicalPosition) {
        self.event(WindowEvent::PointerPressed { position: at, button: PointerEventButton::Left });
    }

    pub fn up(&self, at: LogicalPosition) {
        self.event(WindowEvent::PointerReleased { position: at, button: PointerEventButton::Left });
    }

    pub fn press(&self, name: &str) {
        let at = middle(&self.control(name));
        self.down(at);
        self.up(at);
        wait(1);
    }

    pub fn key(&self, text: impl Into<SharedString>) {
        let text = text.into();
        self.event(WindowEvent::KeyPressed { text: text.clone() });
        self.event(WindowEvent::KeyReleased { text });
        wait(1);
    }

    pub fn reading(&self) -> String {
        let field = ElementQuery::from_root(self.window.component())
            .match_descendants()
            .match_accessible_role(AccessibleRole::TextInput)
            .find_first()
            .expect("a reading field");
        field.accessible_value().unwrap_or_default().into()
    }
}

pub fn wait(milliseconds: u64) {
    mock_elapsed_time(Duration::from_millis(milliseconds));
}

pub fn middle(control: &ElementHandle) -> LogicalPosition {
    let (at, size) = (control.absolute_position(), control.size());
    LogicalPosition::new(at.x + size.width / 2.0, at.y + size.height / 2.0)
}
