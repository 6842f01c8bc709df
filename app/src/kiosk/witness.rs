//! The head that is kept elsewhere, as the bench sees it: when it is offered, and what is told when it does not fit.

use super::bench::{Bench, Readiness};
use crate::store::vouching::Vouching;
use crate::store::witness::NotVouched;
use jiff::civil::Date;
use sparkout_core::entry::EntryBody;
use sparkout_core::journal::witness::Alarm;
use sparkout_ui::words::{self, Said, Witness};
use std::mem::discriminant;
use std::time::Duration;

/// At the start the answer is waited for, behind the first screen: whoever puts an old card back is told before the
/// first scan. A stick that hangs costs these seconds once a start, and never anything at work.
const AT_START: Duration = Duration::from_secs(2);

/// What the bench knows of its witness.
#[derive(Debug, Default)]
pub(super) struct Witnessing {
    desk: Option<Vouching>,
    stands: Witness,
    /// Up to which entry it was offered, and when, milliseconds.
    offered: (u64, u64),
    turn: Turn,
}

/// What ends a shift, or a part of it, when it changes: who is there, which day it is, how many visits are open.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct Turn {
    operator: Option<String>,
    day: Option<Date>,
    visits: usize,
}

impl Bench {
    /// With a witness, where there is one.
    #[must_use]
    pub fn with_witness(mut self, desk: Option<Vouching>) -> Self {
        self.witness.stands = if desk.is_some() { Witness::Asked } else { Witness::None };
        self.witness.desk = desk;
        self
    }

    /// Offers what the journal holds at the start, and waits a little for what comes of it.
    pub(super) fn begin_witness(&mut self) {
        self.witness.turn = self.turn();
        self.offer();
        let answer = self.witness.desk.as_ref().and_then(|desk| desk.answer_within(AT_START));
        if let Some(answer) = answer {
            self.answered_by_witness(answer);
        }
    }

    /// Takes what the witness has answered, and offers the newest head where a shift ends or time has passed.
    pub(super) fn follow_witness(&mut self) {
        while let Some(answer) = self.witness.desk.as_ref().and_then(Vouching::answer) {
            self.answered_by_witness(answer);
        }
        if self.witness.desk.is_none() || self.ready != Readiness::Ready {
            return;
        }
        let turn = self.turn();
        let ends = turn != self.witness.turn;
        self.witness.turn = turn;
        let (size, at_ms) = self.witness.offered;
        let every_ms = u64::try_from(self.config.witness_every().as_millis()).unwrap_or(u64::MAX);
        let due = ends || self.now_ms().saturating_sub(at_ms) >= every_ms;
        if due && self.disk.head().is_ok_and(|head| head.size > size) {
            self.offer();
        }
    }

    fn turn(&self) -> Turn {
        Turn {
            operator: self.operator.as_ref().map(|operator| operator.id.clone()),
            day: Some(self.today()),
            visits: self.visits.len(),
        }
    }

    fn offer(&mut self) {
        let Some(desk) = &self.witness.desk else { return };
        desk.ask();
        self.witness.offered = (self.disk.head().map_or(0, |head| head.size), self.now_ms());
    }

    fn answered_by_witness(&mut self, answer: Result<u64, NotVouched>) {
        let stands = match answer {
            Ok(size) => Witness::Vouched(size),
            Err(NotVouched::Alarm(alarm)) => return self.alarmed(alarm),
            Err(error @ NotVouched::Away { .. }) => {
                tracing::warn!(%error, "the witness is away");
                Witness::Away
            }
            // The journal's own trouble is told where it is written; nothing is known of the witness.
            Err(error) => return tracing::warn!(%error, "no head could be offered to the witness"),
        };
        let is_news = stands == Witness::Away && self.witness.stands != Witness::Away;
        self.witness.stands = stands;
        if is_news && self.said.is_none() {
            self.say(Said::Witness(Witness::Away));
        }
    }

    /// Told and written down once, for as long as it stays the same alarm: the entry itself makes the journal grow.
    fn alarmed(&mut self, alarm: Alarm) {
        tracing::error!(%alarm, "the head kept elsewhere does not go with this journal");
        let known =
            matches!(&self.witness.stands, Witness::Alarm(known) if discriminant(known) == discriminant(&alarm));
        self.witness.stands = Witness::Alarm(alarm.clone());
        if known {
            return;
        }
        let said = match self.keep(EntryBody::Witness { alarm: alarm.clone() }, &[]) {
            Ok(()) => Said::Witness(Witness::Alarm(alarm)),
            Err(said) => said,
        };
        // What ended a clearance is not covered up; Home goes on telling this.
        if !matches!(self.said, Some(Said::Lapsed(_))) {
            self.say(said);
        }
    }

    /// How it stands, in words, for the pages about the program.
    pub(super) fn witness_told(&self) -> String {
        words::witness(&self.witness.stands, self.settings)
    }

    /// What Home warns of, where it is something to act on.
    pub(super) fn witness_warning(&self) -> Option<String> {
        let stands = &self.witness.stands;
        matches!(stands, Witness::Alarm(_) | Witness::Away).then(|| words::witness(stands, self.settings))
    }
}
