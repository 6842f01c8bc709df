//! Receive: the look before it goes on the rails, and what it came for.

use super::event::{Condition, Effect, Event, Part, StopReason};
use super::kind::{VisitKind, stages};
use super::refusal::Refusal;
use super::{Stage, Visit};

/// What Receive found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct ReceiveState {
    conditions: [Option<Condition>; 3],
}

impl ReceiveState {
    /// What a look at a part found; `None` before the look.
    pub const fn condition(&self, part: Part) -> Option<Condition> {
        self.conditions[part as usize]
    }

    /// Whether something must be mended first.
    pub fn held(&self) -> bool {
        self.conditions.contains(&Some(Condition::Bad))
    }

    /// Whether every part was looked at.
    pub fn looked(&self) -> bool {
        self.conditions.iter().all(Option::is_some)
    }
}

impl Visit {
    pub(super) fn receive_event(&mut self, event: &Event) -> Result<Vec<Effect>, Refusal> {
        match event {
            Event::Looked { part, condition } => {
                self.receive.conditions[*part as usize] = Some(*condition);
                Ok(Vec::new())
            }
            Event::KindChosen { kind } => self.choose_kind(*kind),
            Event::Stopped { reason } => self.stop(*reason),
            Event::Next => self.leave_receive(),
            _ => Err(self.not_here()),
        }
    }

    fn choose_kind(&mut self, kind: VisitKind) -> Result<Vec<Effect>, Refusal> {
        stages(kind, self.unit.unit_type.frame).ok_or(Refusal::KindNotOffered { kind })?;
        self.kind = Some(kind);
        Ok(Vec::new())
    }

    fn leave_receive(&mut self) -> Result<Vec<Effect>, Refusal> {
        if !self.receive.looked() {
            return Err(Refusal::NotLooked);
        }
        if self.receive.held() {
            return Err(Refusal::HeldForRepair);
        }
        if self.kind.is_none() {
            return Err(Refusal::NoKind);
        }
        if self.unit.unit_type.leading_end_at.is_none() {
            return Err(Refusal::LeadingEndUnknown);
        }
        Ok(self.enter_next())
    }

    pub(super) fn stop(&mut self, reason: StopReason) -> Result<Vec<Effect>, Refusal> {
        self.question = None;
        self.stage = Stage::Closed;
        Ok(vec![Effect::ClosedUnfinished(reason)])
    }
}
