//! PINs at the bench: a scanned badge asks for one where the shop wants it, its first use chooses one, and five wrong ones
//! lock it for a while.
//!
//! Whoever stood at the bench stands there no longer once another badge is scanned: while a PIN is asked nobody does, so
//! nothing that needs an operator can go on meanwhile, and the time that a check takes on this thread holds up no grind.

use super::bench::{Bench, View};
use super::journal::entry_of;
use super::shop::Change;
use crate::store::pepper::PinError;
use crate::store::{NewEntry, PinHash};
use sparkout_core::entry::EntryBody;
use sparkout_core::pin::{NotAPin, Pin, PinEvent, PinGuard};
use sparkout_core::record::Operator;
use sparkout_ui::screen::{Asked, Entry, PinAsked, PinAsks};
use sparkout_ui::words::{self, PinSaid, Said};
use std::time::Duration;

/// A PIN that is being asked.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct PinDraft {
    /// Whose badge it is about.
    badge: String,
    step: PinStep,
    /// They are at the bench already and choose another.
    changing: bool,
    /// What was shown before.
    from: Box<View>,
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum PinStep {
    /// The PIN that the badge has.
    Own,
    /// A new one.
    Choose,
    /// The new one once more.
    Again(Pin),
    /// Forgotten or locked: a lead's badge.
    LeadBadge,
    /// The lead's own PIN.
    LeadPin {
        /// The lead's badge.
        lead: String,
    },
}

impl PinDraft {
    /// Where one step back leads.
    pub(super) fn before(self) -> View {
        match self.step {
            PinStep::LeadBadge | PinStep::LeadPin { .. } => View::Pin(Self { step: PinStep::Own, ..self }),
            PinStep::Own | PinStep::Choose | PinStep::Again(_) => *self.from,
        }
    }
}

/// Serials of its entry, which no visit's come near.
const SERIALS: u64 = 1 << 60;

impl Bench {
    /// A badge was scanned where PINs are asked.
    pub(super) fn ask_pin(&mut self, operator: &Operator) {
        let lead_asked = match &self.view {
            View::Pin(draft) if draft.step == PinStep::LeadBadge => Some(draft.clone()),
            _ => None,
        };
        if let Some(draft) = lead_asked {
            return self.lead_badge(operator, draft);
        }
        let there = self.operator.as_ref().map(|there| there.id.clone());
        if there.as_deref() == Some(&operator.id) {
            return self.said = Some(Said::SignedOn { name: operator.name.clone() });
        }
        if there.is_some() {
            self.sign_off();
            if self.operator.is_some() {
                return;
            }
            self.said = None;
        }
        self.ask(operator, false);
    }

    /// The person at the bench wants another PIN.
    pub(super) fn change_pin(&mut self) {
        let Some(operator) = self.operator.clone().filter(|_| self.config.asks_pin()) else { return };
        if self.turning() {
            return self.said = Some(Said::Pin(PinSaid::NotWhileTurning));
        }
        self.ask(&operator, true);
    }

    fn ask(&mut self, operator: &Operator, changing: bool) {
        if !self.pepper.is_there() {
            return self.said = Some(Said::Pin(PinSaid::PepperMissing { folder: self.folder.clone() }));
        }
        let step = match self.disk.pin_hash(&operator.id) {
            Ok(Some(_)) => PinStep::Own,
            Ok(None) => PinStep::Choose,
            Err(error) => return self.said = Some(self.not_kept(&error)),
        };
        let from = match std::mem::replace(&mut self.view, View::Bench) {
            View::Pin(draft) => draft.from,
            other => Box::new(other),
        };
        self.show_pin(PinDraft { badge: operator.id.clone(), step, changing, from });
    }

    fn show_pin(&mut self, draft: PinDraft) {
        self.entry_serial += 1;
        self.view = View::Pin(draft);
    }

    /// The PIN was forgotten, or the badge is locked: a lead is asked.
    pub(super) fn pin_forgotten(&mut self) {
        if let View::Pin(draft) = self.view.clone()
            && draft.step == PinStep::Own
            && !draft.changing
        {
            self.show_pin(PinDraft { step: PinStep::LeadBadge, ..draft });
        }
    }

    fn lead_badge(&mut self, lead: &Operator, draft: PinDraft) {
        if !lead.lead || lead.id == draft.badge {
            return self.said = Some(Said::Pin(PinSaid::AnotherLead));
        }
        match self.disk.pin_hash(&lead.id) {
            Ok(Some(_)) => self.show_pin(PinDraft { step: PinStep::LeadPin { lead: lead.id.clone() }, ..draft }),
            Ok(None) => self.said = Some(Said::Pin(PinSaid::LeadHasNone { name: lead.name.clone() })),
            Err(error) => self.said = Some(self.not_kept(&error)),
        }
    }

    /// Digits were typed where a PIN is asked.
    pub(super) fn pin_typed(&mut self, typed: Result<Pin, NotAPin>) {
        let View::Pin(draft) = self.view.clone() else { return };
        self.entry_serial += 1;
        let Ok(pin) = typed else {
            return self.said = Some(Said::Pin(PinSaid::Digits { digits: self.config.pin_rules().digits }));
        };
        match draft.step.clone() {
            PinStep::Own if self.is_pin_of(&draft.badge, &pin) => {
                if draft.changing {
                    self.show_pin(PinDraft { step: PinStep::Choose, ..draft });
                } else {
                    self.pin_sign_on(draft);
                }
            }
            PinStep::LeadPin { lead } if self.is_pin_of(&lead, &pin) => self.reset_pin(lead, draft),
            PinStep::Choose => self.choose_pin(pin, draft),
            PinStep::Again(first) => self.choose_again(&first, &pin, draft),
            PinStep::Own | PinStep::LeadPin { .. } | PinStep::LeadBadge => {}
        }
    }

    fn choose_pin(&mut self, pin: Pin, draft: PinDraft) {
        let digits = self.config.pin_rules().digits;
        if pin.length() != digits {
            self.said = Some(Said::Pin(PinSaid::Digits { digits }));
        } else if pin.is_easy() {
            self.said = Some(Said::Pin(PinSaid::Easy));
        } else {
            self.show_pin(PinDraft { step: PinStep::Again(pin), ..draft });
        }
    }

    fn choose_again(&mut self, first: &Pin, pin: &Pin, draft: PinDraft) {
        if first != pin {
            self.said = Some(Said::Pin(PinSaid::NotTheSame));
            return self.show_pin(PinDraft { step: PinStep::Choose, ..draft });
        }
        let hash = match self.pepper.hash(&draft.badge, pin) {
            Ok(hash) => hash,
            Err(error) => return self.said = Some(self.pin_fault(&error)),
        };
        let what = if draft.changing { PinEvent::Changed } else { PinEvent::Set };
        if let Err(said) = self.keep_pin(&draft.badge, None, &[what], Some(Some(hash))) {
            return self.said = Some(said);
        }
        if draft.changing {
            self.view = *draft.from;
        } else {
            self.pin_sign_on(draft);
        }
        self.said = Some(Said::Pin(PinSaid::Kept));
    }

    /// A lead takes it away. The lead does not choose the new one: then two would know it.
    fn reset_pin(&mut self, lead: String, draft: PinDraft) {
        match self.keep_pin(&draft.badge, Some(lead), &[PinEvent::Reset], Some(None)) {
            Ok(()) => {
                self.said = Some(Said::Pin(PinSaid::Reset { name: self.name_of(&draft.badge) }));
                self.show_pin(PinDraft { step: PinStep::Choose, ..draft });
            }
            Err(said) => self.said = Some(said),
        }
    }

    fn pin_sign_on(&mut self, draft: PinDraft) {
        if let Some(operator) = self.shop.operators.get(&draft.badge).cloned() {
            self.sign_on(operator);
        }
        // Where that could not be kept, the right PIN is answered as a wrong one is.
        if self.operator.is_some() {
            self.view = *draft.from;
        }
    }

    /// Whether this is the badge's PIN. Says so where it is not, or cannot be known; a wrong one is on record and counts.
    fn is_pin_of(&mut self, badge: &str, pin: &Pin) -> bool {
        if let Some(left) = self.locked_for(badge) {
            self.said = Some(Said::Pin(PinSaid::Locked { name: self.name_of(badge), minutes: minutes_up(left) }));
            return false;
        }
        let hash = match self.disk.pin_hash(badge) {
            Ok(Some(hash)) => hash,
            Ok(None) => return false,
            Err(error) => {
                self.said = Some(self.not_kept(&error));
                return false;
            }
        };
        match self.pepper.is_right(badge, pin, &hash) {
            Ok(true) => return true,
            Ok(false) => self.wrong_pin(badge),
            Err(error) => self.said = Some(self.pin_fault(&error)),
        }
        false
    }

    /// Try and lock are one transaction: no power cut between them gives another try.
    fn wrong_pin(&mut self, badge: &str) {
        let rules = self.config.pin_rules();
        let in_a_row = self.shop.pin_guards.get(badge).map_or(0, |guard| guard.wrong).saturating_add(1);
        let minutes = rules.lock_minutes;
        let events = [PinEvent::Wrong { in_a_row }, PinEvent::Locked { minutes }];
        let locks = in_a_row >= rules.tries;
        let name = self.name_of(badge);
        self.said = Some(match self.keep_pin(badge, None, &events[..1 + usize::from(locks)], None) {
            Ok(()) if locks => Said::Pin(PinSaid::Locked { name, minutes }),
            Ok(()) => Said::Pin(PinSaid::Wrong { name, left: rules.tries - in_a_row }),
            Err(said) => said,
        });
    }

    fn pin_fault(&self, error: &PinError) -> Said {
        tracing::error!(%error, "a PIN cannot be checked");
        match error {
            PinError::NoPepper => Said::Pin(PinSaid::PepperMissing { folder: self.folder.clone() }),
            PinError::Hash(_) | PinError::System(_) => Said::Pin(PinSaid::NotChecked),
        }
    }

    /// Keeps what happened to a badge's PIN, and the hash where it changed, in one transaction.
    fn keep_pin(
        &mut self,
        badge: &str,
        by: Option<String>,
        events: &[PinEvent],
        hash: Option<Option<PinHash>>,
    ) -> Result<(), Said> {
        let at = self.clock.now();
        let mut guard = self.shop.pin_guards.get(badge).cloned().unwrap_or_default();
        let mut entries = Vec::new();
        for what in events {
            guard = guard.after(*what, &at);
            let body = EntryBody::Pin { badge: badge.to_owned(), by: by.clone(), what: *what };
            let bytes = entry_of(&at, None, body).map_err(|error| self.not_kept(&error))?;
            entries.push(NewEntry { visit: None, bytes });
        }
        tracing::info!(badge, ?events, "about a PIN");
        let mut changes = vec![Change::PinGuard(badge.to_owned(), guard)];
        changes.extend(hash.map(|hash| Change::PinHash(badge.to_owned(), hash)));
        self.append_all(&entries, &changes)
    }

    fn locked_for(&self, badge: &str) -> Option<Duration> {
        self.shop.pin_guards.get(badge)?.locked_for(&self.clock.now(), &self.run_began)
    }

    fn name_of(&self, badge: &str) -> String {
        self.shop.operators.get(badge).map_or_else(|| badge.to_owned(), |operator| operator.name.clone())
    }

    pub(super) fn pin_asked(&self, draft: &PinDraft) -> PinAsked {
        let locked = self.pin_locked(draft);
        let asks = match &draft.step {
            PinStep::Own | PinStep::LeadPin { .. } if locked.is_some() => PinAsks::Locked,
            PinStep::Own => PinAsks::Own,
            PinStep::Choose => PinAsks::Choose,
            PinStep::Again(_) => PinAsks::Again,
            PinStep::LeadBadge => PinAsks::LeadBadge,
            PinStep::LeadPin { .. } => PinAsks::LeadPin,
        };
        PinAsked {
            asks,
            name: self.name_of(&draft.badge),
            lead: match &draft.step {
                PinStep::LeadPin { lead } => self.name_of(lead),
                _ => String::new(),
            },
            digits: self.config.pin_rules().digits,
            locked_minutes: locked.map_or(0, minutes_up),
            may_forget: draft.step == PinStep::Own && !draft.changing,
            turning: self.turning(),
        }
    }

    fn pin_locked(&self, draft: &PinDraft) -> Option<Duration> {
        match &draft.step {
            PinStep::Own => self.locked_for(&draft.badge),
            PinStep::LeadPin { lead } => self.locked_for(lead),
            PinStep::Choose | PinStep::Again(_) | PinStep::LeadBadge => None,
        }
    }

    pub(super) fn pin_entry(&self, draft: &PinDraft) -> Option<Entry> {
        if draft.step == PinStep::LeadBadge || self.pin_locked(draft).is_some() {
            return None;
        }
        Some(Entry {
            serial: SERIALS + self.entry_serial,
            asked: Asked::TypeField,
            field: words::pin_field(self.config.pin_rules().digits, self.settings),
            secret: true,
            ..Entry::default()
        })
    }
}

/// Whole minutes, rounded up: a lock never ends before it says.
const fn minutes_up(left: Duration) -> u32 {
    left.as_secs().saturating_add((left.subsec_nanos() > 0) as u64).div_ceil(60) as u32
}

/// What an entry of the journal makes of a badge's guard, when it is read again.
pub(super) fn pin_changes(
    guards: &std::collections::BTreeMap<String, PinGuard>,
    badge: String,
    what: PinEvent,
    at: &sparkout_core::moment::Moment,
) -> Vec<Change> {
    let guard = guards.get(&badge).cloned().unwrap_or_default().after(what, at);
    vec![Change::PinGuard(badge, guard)]
}

/// Who signs on has nothing against the badge any more.
pub(super) fn signed_on_changes(guards: &std::collections::BTreeMap<String, PinGuard>, badge: &str) -> Vec<Change> {
    guards.get(badge).map(|_| Change::PinGuard(badge.to_owned(), PinGuard::default())).into_iter().collect()
}
