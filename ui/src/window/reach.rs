//! The keyboard's way to the controls.
//!
//! Only what a person typed comes here ([`KioskWindow::typed`]); a scan never does. Tab, Shift and Tab, and the arrows
//! walk; Enter and space press the control that the ring stands on; Escape takes the number typed away, then the
//! notice, then goes back. A held control may be walked to, and no key does anything to it.
//!
//! The focus is Slint's own, so that accessibility tools follow it. When the control in hand is no longer drawn Slint
//! drops the focus, and keys would arrive nowhere, scans among them: after everything that may have drawn anew a key
//! that nobody types is sent, and when it does not arrive the window's root takes the focus back.

use super::KioskWindow;
use super::generated::Reach;
use crate::action::{Action, Control};
use crate::screen::Body;
use slint::platform::{Key, WindowEvent};
use slint::{ComponentHandle, SharedString, TimerMode};
use std::time::Duration;

/// What a key means on the way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Walk {
    On,
    Back,
    Press(char),
    Leave,
}

impl Walk {
    fn named(text: &str) -> Option<Self> {
        let is = |key: Key| SharedString::from(key) == text;
        match text {
            "\n" | "\r" => Some(Self::Press('\n')),
            " " => Some(Self::Press(' ')),
            _ if [Key::Tab, Key::DownArrow, Key::RightArrow].into_iter().any(is) => Some(Self::On),
            _ if [Key::Backtab, Key::UpArrow, Key::LeftArrow].into_iter().any(is) => Some(Self::Back),
            _ if is(Key::Escape) => Some(Self::Leave),
            _ => None,
        }
    }
}

impl KioskWindow {
    /// The keyboard stands on no control any more: a scan or a finger came, and what was in hand before is not
    /// pressed by an Enter that comes later.
    pub fn let_go(&self) {
        let reach = self.component().global::<Reach>();
        reach.set_wanted(SharedString::default());
        if !reach.get_at().is_empty() {
            self.component().invoke_let_go();
        }
    }

    /// The name of the control that the keyboard stands on.
    #[must_use]
    pub fn reached(&self) -> Option<String> {
        Some(self.component().global::<Reach>().get_at().to_string()).filter(|name| !name.is_empty())
    }

    /// Whether a key gets about where letters are typed: it moves the ring, or presses what the ring is on.
    pub(super) fn walks(&self, text: &str) -> bool {
        match Walk::named(text) {
            Some(Walk::On | Walk::Back | Walk::Leave) => true,
            Some(Walk::Press(_)) => self.reached().is_some(),
            None => false,
        }
    }

    pub(super) fn walk(&self, text: &str) {
        let typed = self.has_typed();
        match Walk::named(text) {
            Some(Walk::On) => self.pass(Key::Tab.into()),
            Some(Walk::Back) => self.pass(Key::Backtab.into()),
            // Half a number is no occasion to press something else.
            Some(Walk::Press(key)) if !typed => self.pass(key.into()),
            Some(Walk::Press(_)) | None => {}
            Some(Walk::Leave) => self.leave(),
        }
    }

    fn leave(&self) {
        let control = {
            let last = self.0.last.borrow();
            let Some(screen) = last.as_ref() else { return };
            match screen.body {
                // A question goes by being answered, and nothing else does before.
                _ if screen.question.is_some() => return,
                _ if self.has_typed() => None,
                _ if screen.notice.is_some() => Some(Control::DismissNotice),
                Body::Starting | Body::Fault(_) | Body::Home(_) => return,
                _ => Some(Control::Back),
            }
        };
        match control {
            Some(control) => self.report(Action::Press { control, index: 0 }),
            None => self.clear_typed(),
        }
    }

    /// Lets a key through to the control in hand.
    fn pass(&self, key: SharedString) {
        let reach = self.component().global::<Reach>();
        let window = self.component().window();
        reach.set_passing(true);
        window.dispatch_event(WindowEvent::KeyPressed { text: key.clone() });
        window.dispatch_event(WindowEvent::KeyReleased { text: key });
        reach.set_passing(false);
        self.keep_focus(true);
    }

    /// Whether keys still arrive; if not, the root takes them. With `again` the control that was in hand takes the
    /// keyboard up when it is drawn anew under its name.
    pub(super) fn keep_focus(&self, again: bool) {
        let reach = self.component().global::<Reach>();
        let at = reach.get_at();
        reach.set_answered(false);
        self.component().window().dispatch_event(WindowEvent::KeyPressed { text: reach.get_probe() });
        if reach.get_answered() {
            return;
        }
        self.component().invoke_let_go();
        if again {
            reach.set_wanted(at);
        }
    }

    /// An act was handed over: when no screen has come back by then, main actions show that work goes on and take no
    /// second press. The kiosk answers every act with a screen.
    pub(super) fn soon_busy(&self) {
        const PATIENCE: Duration = Duration::from_millis(300);
        let weak = self.downgrade();
        self.0.waiting.start(TimerMode::SingleShot, PATIENCE, move || {
            if let Some(window) = weak.upgrade() {
                window.component().global::<Reach>().set_busy(true);
            }
        });
    }

    pub(super) fn no_longer_busy(&self) {
        self.0.waiting.stop();
        self.component().global::<Reach>().set_busy(false);
    }
}
