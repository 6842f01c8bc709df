//! A lead lets a held visit go on: what holds it, the reasons to choose from, and the event.

use super::bench::Bench;
use sparkout_core::visit::RearRemedy;
use sparkout_core::visit::event::{Event, Hold, Part};
use sparkout_core::visit::kind::StageName;
use sparkout_ui::screen::{Answer, Question, Settings};
use sparkout_ui::words;

impl Bench {
    /// What holds the visit on the rails.
    pub(super) fn held_by(&self) -> Option<Hold> {
        let (visit, facts) = (&self.on_rails()?.visit, self.facts()?);
        match visit.stage_name() {
            StageName::Receive => Part::ALL.into_iter().find(|part| visit.receive().holds(*part)).map(Hold::Part),
            StageName::Rear => {
                matches!(visit.rear_remedy(&facts), Some(Ok(RearRemedy::ReplaceFrame))).then_some(Hold::Frame)
            }
            _ => None,
        }
    }

    /// What is asked before a visit goes on although something holds it. The last answer leaves it held.
    pub(super) fn override_asked(&self) -> Option<Question> {
        self.overriding?;
        let (english, settings) = (Settings::default(), self.settings);
        let (text, detail, leave) = words::override_question(settings);
        let (_, _, leave_name) = words::override_question(english);
        let reasons = words::override_reasons(english).into_iter().zip(words::override_reasons(settings));
        let mut answers: Vec<Answer> = reasons.map(|(name, label)| Answer { name, label }).collect();
        answers.push(Answer { name: leave_name, label: leave });
        Some(Question { text, detail, answers })
    }

    /// The reason is kept in the words that stood on the screen.
    pub(super) fn let_go_on(&mut self, index: usize) {
        let Some(hold) = self.overriding.take() else { return };
        let id = self.on_rails().map(|open| open.visit.id().to_owned());
        let reason = words::override_reasons(self.settings).into_iter().nth(index);
        if let (Some(id), Some(reason)) = (id, reason) {
            self.submit(&id, Event::Overridden { hold, reason });
        }
    }
}
