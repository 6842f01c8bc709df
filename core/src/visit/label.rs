//! Label and Return: the printed result, and the unit back on its mower.

use super::event::{Effect, Event, Place};
use super::gate::Block;
use super::kind::VisitKind;
use super::prove::Judgement;
use super::refusal::Refusal;
use super::{Stage, Visit};
use crate::facts::BenchFacts;
use crate::label::{LabelContent, LabelVerdict, decode_url};
use crate::quantity::Length;
use crate::reading::Reading;
use jiff::ToSpan;
use jiff::civil::Date;

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

/// What a visit found, as far as a label tells it.
struct Found {
    reel: Option<Reel>,
    land: Option<Reading>,
    height_of_cut: Option<Reading>,
    verdict: LabelVerdict,
    next_due: Option<Date>,
}

impl Found {
    const fn nothing() -> Self {
        Self { reel: None, land: None, height_of_cut: None, verdict: LabelVerdict::Done, next_due: None }
    }
}

/// The reel as it was taped.
#[derive(Clone, Copy)]
struct Reel {
    lead: Reading,
    trail: Reading,
    cone: Length,
    cone_u95: Length,
}

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
        if !self.plate_passed(facts) {
            return None;
        }
        let found = self.found(facts)?;
        Some(LabelContent {
            unit: self.unit.tag.clone(),
            mower: self.unit.mower.clone(),
            position: self.unit.position.to_string(),
            date: facts.today,
            lead: found.reel.map(|reel| reel.lead),
            trail: found.reel.map(|reel| reel.trail),
            cone: found.reel.map(|reel| reel.cone),
            cone_u95: found.reel.map(|reel| reel.cone_u95),
            land: found.land,
            height_of_cut: found.height_of_cut,
            operator: self.done_by.clone()?,
            station: facts.grinder.name.clone(),
            verdict: found.verdict,
            next_due: found.next_due,
            grind: self.id.clone(),
        })
    }

    /// What this kind of visit has to say; nothing while its work is not done.
    fn found(&self, facts: &BenchFacts) -> Option<Found> {
        let again = facts.today.checked_add(DUE_AFTER_DAYS.days()).ok();
        match self.kind {
            VisitKind::Spin | VisitKind::ReliefAndSpin => self.found_by_prove(facts, again),
            VisitKind::CheckOnly => self.found_by_check(facts, again),
            VisitKind::Bedknife => {
                let verdict = self.not_proven_by_plate(LabelVerdict::Done);
                Some(Found { verdict, ..Found::nothing() })
            }
            VisitKind::HeightOfCut => {
                self.height_done(facts).then_some(())?;
                let height = |place| self.height.reading(place);
                let accepted = self.height.accepted_by().is_some();
                let verdict = if accepted { LabelVerdict::WithinNotProven } else { LabelVerdict::Proven };
                let height_of_cut = height(Place::HeightLeft).min(height(Place::HeightRight));
                Some(Found { height_of_cut, verdict: self.not_proven_by_plate(verdict), ..Found::nothing() })
            }
            VisitKind::BackLap => None,
        }
    }

    fn found_by_prove(&self, facts: &BenchFacts, again: Option<Date>) -> Option<Found> {
        let outcome = self.proved(facts)?.ok()?;
        let verdict = match self.judgement(facts)? {
            Judgement::Proven => LabelVerdict::Proven,
            Judgement::WithinNotProven => LabelVerdict::WithinNotProven,
        };
        let reel = Reel {
            lead: self.prove.reading(Place::Lead)?,
            trail: self.prove.reading(Place::Trail)?,
            cone: outcome.cone,
            cone_u95: outcome.cone_u95,
        };
        Some(Found {
            reel: Some(reel),
            land: self.prove.reading(Place::Land),
            height_of_cut: self.prove.reading(Place::HeightOfCut),
            verdict: self.not_proven_by_plate(verdict),
            next_due: again,
        })
    }

    fn found_by_check(&self, facts: &BenchFacts, again: Option<Date>) -> Option<Found> {
        let outcome = self.check_outcome(facts)?.ok()?;
        let (lead, trail) = self.tape.ends()?;
        let fit = outcome.due.is_empty();
        let read = |place| self.check.reading(place);
        Some(Found {
            reel: Some(Reel { lead, trail, cone: outcome.cone, cone_u95: outcome.cone_u95 }),
            land: read(Place::LandLead).max(read(Place::LandTrail)),
            height_of_cut: read(Place::HeightLeft).min(read(Place::HeightRight)),
            verdict: if fit { LabelVerdict::Fit } else { LabelVerdict::Due },
            next_due: if fit { again } else { Some(facts.today) },
        })
    }

    /// Within tolerance on the plate, not proven, is within tolerance, not proven, on the label.
    fn not_proven_by_plate(&self, verdict: LabelVerdict) -> LabelVerdict {
        if self.plate.accepted_by().is_some() { LabelVerdict::WithinNotProven } else { verdict }
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
            // Nothing was done to a unit that was only looked at: its label is for whoever wants one.
            Event::Next if self.kind == VisitKind::CheckOnly && self.label.code.is_none() => Ok(self.enter_next()),
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
