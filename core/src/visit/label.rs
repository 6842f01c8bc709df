//! Label and Return: the printed result, and the unit back on its mower.

use super::event::{Effect, Event, Place};
use super::gate::Block;
use super::prove::Judgement;
use super::refusal::Refusal;
use super::{Stage, Visit};
use crate::facts::BenchFacts;
use crate::label::{LabelContent, LabelVerdict, decode_url};
use jiff::ToSpan;

/// What became of the label.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct LabelState {
    code: Option<String>,
    to: String,
    prints: u32,
    scanned: bool,
}

/// A unit is looked at again after so many days when nothing else says when it is due (common practice; a default).
const DUE_AFTER_DAYS: i64 = 42;

impl LabelState {
    /// What the printed code says.
    pub fn code(&self) -> Option<&str> {
        self.code.as_deref()
    }

    /// Where the label went.
    pub fn printed_to(&self) -> &str {
        &self.to
    }

    /// How often it was printed.
    pub const fn prints(&self) -> u32 {
        self.prints
    }

    /// What it says is no longer so: another must be printed and scanned.
    pub(super) fn void(&mut self) {
        (self.code, self.scanned) = (None, false);
        self.to.clear();
    }

    /// Whether it was scanned on the unit.
    pub const fn scanned(&self) -> bool {
        self.scanned
    }
}

impl Visit {
    /// What the label says.
    pub fn label_content(&self, facts: &BenchFacts) -> Option<LabelContent> {
        let outcome = self.proved(facts)?.ok()?;
        let verdict = match self.judgement(facts)? {
            Judgement::Proven => LabelVerdict::Proven,
            Judgement::WithinNotProven => LabelVerdict::WithinNotProven,
        };
        Some(LabelContent {
            unit: self.unit.tag.clone(),
            mower: self.unit.mower.clone(),
            position: self.unit.position.to_string(),
            date: facts.today,
            lead: self.prove.reading(Place::Lead)?,
            trail: self.prove.reading(Place::Trail)?,
            cone: outcome.cone,
            cone_u95: outcome.cone_u95,
            land: self.prove.reading(Place::Land),
            height_of_cut: self.prove.reading(Place::HeightOfCut),
            operator: self.prove.proved_by()?.to_owned(),
            station: facts.grinder.name.clone(),
            verdict,
            next_due: facts.today.checked_add(DUE_AFTER_DAYS.days()).ok(),
            grind: self.id.clone(),
        })
    }

    pub(super) fn label_event(&mut self, facts: &BenchFacts, event: &Event) -> Result<Vec<Effect>, Refusal> {
        match event {
            Event::PrintAsked => {
                // A label speaks for somebody.
                facts.operator.as_ref().ok_or(Refusal::Blocked(Block::NoOperator))?;
                let content = self.label_content(facts).ok_or(Refusal::NotProven)?;
                Ok(vec![Effect::PrintLabel(Box::new(content))])
            }
            Event::Printed { code, to } => {
                self.says_what_was_meant(facts, code)?;
                self.label.code = Some(code.clone());
                self.label.to.clone_from(to);
                self.label.prints += 1;
                self.label.scanned = false;
                Ok(Vec::new())
            }
            Event::LabelScanned { code } => self.label_scanned(code),
            Event::Next if self.label.code.is_none() => Err(Refusal::NotPrinted),
            Event::Next if !self.label.scanned => Err(Refusal::LabelNotScanned),
            Event::Next => Ok(self.enter_next()),
            _ => Err(self.not_here()),
        }
    }

    /// The code as it was read back, against what this visit found. Day and operator may have changed since it was asked for.
    fn says_what_was_meant(&self, facts: &BenchFacts, code: &str) -> Result<(), Refusal> {
        let meant = self.label_content(facts).ok_or(Refusal::NotProven)?;
        let read = decode_url(code).map_err(|_| Refusal::LabelWrong)?.content;
        let same = (&read.unit, &read.grind, read.lead, read.trail, read.verdict)
            == (&meant.unit, &meant.grind, meant.lead, meant.trail, meant.verdict);
        same.then_some(()).ok_or(Refusal::LabelWrong)
    }

    fn label_scanned(&mut self, code: &str) -> Result<Vec<Effect>, Refusal> {
        let printed = self.label.code.as_deref().ok_or(Refusal::NotPrinted)?;
        if !printed.eq_ignore_ascii_case(code) {
            return Err(Refusal::OtherLabel);
        }
        self.label.scanned = true;
        Ok(Vec::new())
    }

    pub(super) fn return_event(&mut self, event: &Event) -> Result<Vec<Effect>, Refusal> {
        match event {
            Event::PlaceConfirmed { .. } => {
                self.stage = Stage::Closed;
                Ok(vec![Effect::Closed])
            }
            _ => Err(self.not_here()),
        }
    }
}
