//! What a person types: a key's way from the window's root to the number that is asked for, or to the walk.

use super::entry::{self, EntryKey};
use super::generated::Shown;
use super::{KeyPress, KioskWindow};
use crate::action::{Action, Manner};
use slint::ComponentHandle;
use sparkout_core::pin::Pin;
use zeroize::{Zeroize, Zeroizing};

impl KioskWindow {
    /// A key that a person typed: it edits or confirms the number that is asked for, walks to a control, or presses it.
    pub fn typed(&self, key: &KeyPress) {
        if key.with_modifier {
            return;
        }
        if self.dimmed() {
            return self.report(Action::Manner { manner: Manner::Wake, index: 0 });
        }
        if self.asks_letters() && !self.walks(&key.text) {
            return self.report(Action::Letters(key.text.clone()));
        }
        match EntryKey::named(&key.text) {
            // A Return that is held down would confirm the next number too, or press again.
            Some(EntryKey::Take) if key.repeat => {}
            Some(EntryKey::Take) if !self.has_typed() => self.walk(&key.text),
            Some(key) => self.edit(key),
            None if key.repeat => {}
            None => self.walk(&key.text),
        }
    }

    pub(super) fn has_typed(&self) -> bool {
        let typing = self.0.typing.borrow();
        typing.entry.is_some() && !typing.buffer.is_empty()
    }

    pub(super) fn clear_typed(&self) {
        self.0.typing.borrow_mut().buffer.zeroize();
        self.show_typed();
    }

    pub(super) fn key(&self, key: KeyPress) {
        self.touched();
        // Cloned out of the cell: the sink calls back into the window.
        let sink = self.0.key_sink.borrow().clone();
        match sink {
            Some(sink) => sink(key),
            None => self.typed(&key),
        }
    }

    /// A question stands over the screen: the number waits.
    pub(super) fn edit(&self, key: EntryKey) {
        let questioned = self.0.last.borrow().as_ref().is_some_and(|screen| screen.question.is_some());
        let taken = {
            let mut typing = self.0.typing.borrow_mut();
            let Some((_, signed)) = typing.entry.filter(|_| !questioned) else { return };
            match key {
                EntryKey::Take if typing.secret => {
                    let pin = entry::can_take(&typing.buffer).then(|| Action::Pin(Pin::new(&typing.buffer)));
                    typing.buffer.zeroize();
                    pin
                }
                EntryKey::Point if typing.secret => return,
                EntryKey::Take => entry::can_take(&typing.buffer).then(|| Action::Enter(typing.buffer.to_string())),
                EntryKey::Digit(_) | EntryKey::Point | EntryKey::Sign | EntryKey::Plus | EntryKey::Erase => {
                    typing.buffer = Zeroizing::new(entry::edit(&typing.buffer, key, signed));
                    None
                }
            }
        };
        self.show_typed();
        if key == EntryKey::Erase && self.0.typing.borrow().buffer.is_empty() {
            // With nothing typed the confirming key may go on to the next stage.
            self.go_deaf();
        }
        if let Some(action) = taken {
            self.report(action);
        }
    }

    pub(super) fn show_typed(&self) {
        let typing = self.0.typing.borrow();
        let signed = typing.entry.is_some_and(|(_, signed)| signed);
        let shown = self.component().global::<Shown>();
        let sign = shown.get_decimal_sign();
        let text = if typing.secret { entry::dots(&typing.buffer) } else { entry::shown(&typing.buffer, signed) };
        shown.set_typed(text.replace('.', &sign).into());
    }
}
