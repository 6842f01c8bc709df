//! IPP printers (RFC 8010 and 8011), over the network or as a queue of CUPS: the printer is asked what it can, a job is validated, created
//! and filled, and watched to its end.

mod ask;
mod offer;

use super::{Page, Phase, Printer, Stopped, Ticket};
use ask::{Asker, Failed};
use ipp::attribute::{IppAttribute, IppAttributeGroup};
use ipp::model::{DelimiterTag, JobState, Operation, StatusCode};
use ipp::request::IppRequestResponse;
use ipp::value::IppValue;
use offer::Offer;
use sparkout_ui::words::PrinterTrouble;

/// A printer by its URI.
pub struct IppPrinter {
    ask: Asker,
}

/// A job as the printer tells of it.
#[derive(Debug, Clone, PartialEq, Eq)]
struct JobNow {
    state: Option<JobState>,
    reasons: Vec<String>,
    /// How many pages' documents have arrived, where it says so.
    documents: Option<i32>,
    /// Its name, where it says so.
    name: Option<String>,
}

impl IppPrinter {
    /// A printer at `ipp://HOST:PORT/PATH`.
    pub fn new(uri: ipp::prelude::Uri) -> Self {
        Self { ask: Asker::new(uri) }
    }

    fn offer(&self) -> Result<Offer, PrinterTrouble> {
        let mut request = self.ask.request(Operation::GetPrinterAttributes)?;
        let wanted = offer::WANTED.iter().filter_map(|name| IppValue::new_keyword(*name).ok()).collect();
        ask::operation(&mut request, "requested-attributes", IppValue::Array(wanted));
        let answer = self.ask.send(request, Vec::new()).map_err(|failed| self.told(&failed))?;
        let printer = answer.attributes().first_of(DelimiterTag::PrinterAttributes);
        printer.map(Offer::read).ok_or_else(|| PrinterTrouble::NotAPrinter { at: self.ask.at() })
    }

    fn told(&self, failed: &Failed) -> PrinterTrouble {
        let at = self.ask.at();
        match failed {
            Failed::NotConnected => PrinterTrouble::Unreachable { at },
            Failed::Silent => PrinterTrouble::Silent { at },
            Failed::NotIpp => PrinterTrouble::NotAPrinter { at },
            Failed::Status(status) => match status {
                StatusCode::ServerErrorNotAcceptingJobs => PrinterTrouble::NotAccepting,
                StatusCode::ServerErrorBusy | StatusCode::ServerErrorServiceUnavailable => PrinterTrouble::Offline,
                other => PrinterTrouble::Refused { status: other.to_string() },
            },
        }
    }

    /// What a refusal of a whole job means: busy passes, the rest does not.
    fn refused(&self, failed: &Failed) -> Stopped {
        match (failed, self.told(failed)) {
            (Failed::Status(_), trouble @ PrinterTrouble::Refused { .. }) => Stopped::GivenUp(trouble),
            (_, trouble) => Stopped::Wait(trouble),
        }
    }

    fn about_page(&self, operation: Operation, page: &Page, offer: &Offer) -> Result<IppRequestResponse, Stopped> {
        let mut request = self.ask.request(operation).map_err(Stopped::Wait)?;
        ask::name(&mut request, "requesting-user-name", "sparkout");
        ask::name(&mut request, "job-name", &page.name);
        if operation == Operation::ValidateJob {
            ask::operation(&mut request, "document-format", offer.format_value());
        }
        for attribute in offer.job_attributes(page) {
            request.attributes_mut().add(DelimiterTag::JobAttributes, attribute);
        }
        Ok(request)
    }

    fn begin(&self, page: &Page) -> Result<i32, Stopped> {
        let offer = self.offer().map_err(Stopped::Wait)?;
        offer.takes(page).map_err(|trouble| match trouble {
            // It never will as it is drawn: what is drawn and loaded must be put right, and the label asked for again.
            PrinterTrouble::Size { .. } | PrinterTrouble::Resolution { .. } | PrinterTrouble::Format => {
                Stopped::GivenUp(trouble)
            }
            other => Stopped::Wait(other),
        })?;
        let validated = self.ask.send(self.about_page(Operation::ValidateJob, page, &offer)?, Vec::new());
        validated.map_err(|failed| self.refused(&failed))?;
        // An answer that is lost leaves a job without a page at the printer, which prints nothing and goes by itself.
        let created = self.ask.send(self.about_page(Operation::CreateJob, page, &offer)?, Vec::new());
        let created = created.map_err(|failed| self.refused(&failed))?;
        let job = created.attributes().first_of(DelimiterTag::JobAttributes).and_then(|group| integer(group, "job-id"));
        job.filter(|job| *job > 0).ok_or_else(|| Stopped::Wait(PrinterTrouble::NotAPrinter { at: self.ask.at() }))
    }

    fn about_job(&self, operation: Operation, job: i32) -> Result<IppRequestResponse, PrinterTrouble> {
        let mut request = self.ask.request(operation)?;
        ask::operation(&mut request, "job-id", IppValue::Integer(job));
        ask::name(&mut request, "requesting-user-name", "sparkout");
        Ok(request)
    }

    fn send_page(&self, page: &Page, job: i32) -> Result<(), Stopped> {
        let offer = self.offer().map_err(Stopped::Wait)?;
        let mut request = self.about_job(Operation::SendDocument, job).map_err(Stopped::Wait)?;
        ask::operation(&mut request, "document-format", offer.format_value());
        ask::operation(&mut request, "last-document", IppValue::Boolean(true));
        let document = offer.document(page).map_err(Stopped::GivenUp)?;
        self.ask.send(request, document).map(drop).map_err(|failed| Stopped::Wait(self.told(&failed)))
    }

    /// The job as it stands; nothing when the printer knows of none. A job of this number and another name is another's: the
    /// printer was switched off and counts anew.
    fn job(&self, job: i32, page: &Page) -> Result<Option<JobNow>, PrinterTrouble> {
        let mut request = self.about_job(Operation::GetJobAttributes, job)?;
        let wanted = ["job-state", "job-state-reasons", "number-of-documents", "job-name"];
        let wanted = wanted.iter().filter_map(|name| IppValue::new_keyword(*name).ok()).collect();
        ask::operation(&mut request, "requested-attributes", IppValue::Array(wanted));
        match self.ask.send(request, Vec::new()) {
            Ok(answer) => {
                let now = answer.attributes().first_of(DelimiterTag::JobAttributes).map(JobNow::read);
                Ok(now.filter(|now| now.name.as_ref().is_none_or(|name| *name == page.name)))
            }
            Err(Failed::Status(
                StatusCode::ClientErrorNotFound | StatusCode::ClientErrorGone | StatusCode::ClientErrorNotPossible,
            )) => Ok(None),
            Err(failed) => Err(self.told(&failed)),
        }
    }

    /// The page was on its way when something ended it: asks whether it arrived.
    fn arrived(&self, job: i32, page: &Page) -> Result<Phase, Stopped> {
        let Some(now) = self.job(job, page).map_err(Stopped::Wait)? else { return Err(Stopped::InDoubt) };
        let waits = matches!(now.state, Some(JobState::Pending | JobState::PendingHeld));
        let empty = now.documents == Some(0) && waits;
        if !empty {
            return Ok(Phase::Sent(job));
        }
        // It waits for a page that has not come: it is filled again, for a job prints its page once.
        Ok(Phase::Created(job))
    }

    /// Watches a job that has its page, to its end.
    fn watch(&self, job: i32, page: &Page, ticket: &mut dyn Ticket) -> Result<(), Stopped> {
        loop {
            let Some(now) = self.job(job, page).map_err(Stopped::Wait)? else { return Err(Stopped::InDoubt) };
            match now.state {
                Some(JobState::Completed) => return ticket.keep(Phase::Printed),
                Some(JobState::Aborted) => return Err(Stopped::GivenUp(PrinterTrouble::Aborted)),
                Some(JobState::Canceled) => return Err(Stopped::GivenUp(PrinterTrouble::Cancelled)),
                Some(
                    JobState::Pending | JobState::PendingHeld | JobState::Processing | JobState::ProcessingStopped,
                )
                | None => {}
            }
            let reasons = self.offer().map_err(Stopped::Wait)?;
            ticket.tell(reasons.trouble().or_else(|| offer::trouble_of(now.reasons.iter().map(String::as_str))));
            ticket.pause()?;
        }
    }
}

impl Printer for IppPrinter {
    fn name(&self) -> String {
        self.ask.at()
    }

    fn look(&mut self, page: Option<&Page>) -> Result<(), PrinterTrouble> {
        let offer = self.offer()?;
        if let Some(page) = page {
            offer.takes(page)?;
        }
        offer.trouble().map_or(Ok(()), Err)
    }

    fn print(&mut self, page: &Page, ticket: &mut dyn Ticket) -> Result<(), Stopped> {
        loop {
            match ticket.phase() {
                Phase::Waiting => {
                    let job = self.begin(page)?;
                    ticket.keep(Phase::Created(job))?;
                }
                Phase::Created(job) => {
                    if self.job(job, page).map_err(Stopped::Wait)?.is_none_or(|now| now.is_over()) {
                        // It never had its page, and the printer has given it up: a new one cannot be the second.
                        ticket.keep(Phase::Waiting)?;
                        continue;
                    }
                    ticket.keep(Phase::Sending(job))?;
                    self.send_page(page, job)?;
                    ticket.keep(Phase::Sent(job))?;
                }
                Phase::Sending(job) => ticket.keep(self.arrived(job, page)?)?,
                Phase::Sent(job) => return self.watch(job, page, ticket),
                Phase::Printed => return Ok(()),
                Phase::InDoubt | Phase::GivenUp => return Err(Stopped::InDoubt),
            }
        }
    }
}

impl JobNow {
    fn read(group: &IppAttributeGroup) -> Self {
        let state = group.get("job-state").and_then(|attribute| match attribute.value() {
            IppValue::Enum(state) => JOB_STATES.iter().find(|known| **known as i32 == *state).copied(),
            _ => None,
        });
        let name = group.get("job-name").and_then(|attribute| match attribute.value() {
            IppValue::NameWithoutLanguage(name) | IppValue::NameWithLanguage { name, .. } => {
                Some(name.as_str().to_owned())
            }
            _ => None,
        });
        let reasons = words(group.get("job-state-reasons"));
        Self { state, reasons, documents: integer(group, "number-of-documents"), name }
    }

    fn is_over(&self) -> bool {
        matches!(self.state, Some(JobState::Canceled | JobState::Aborted | JobState::Completed))
    }
}

const JOB_STATES: [JobState; 7] = [
    JobState::Pending,
    JobState::PendingHeld,
    JobState::Processing,
    JobState::ProcessingStopped,
    JobState::Canceled,
    JobState::Aborted,
    JobState::Completed,
];

fn integer(group: &IppAttributeGroup, name: &str) -> Option<i32> {
    match group.get(name)?.value() {
        IppValue::Integer(value) | IppValue::Enum(value) => Some(*value),
        _ => None,
    }
}

fn words(attribute: Option<&IppAttribute>) -> Vec<String> {
    let word = |value: &IppValue| match value {
        IppValue::Keyword(word) => Some(word.as_str().to_owned()),
        IppValue::MimeMediaType(word) => Some(word.as_str().to_owned()),
        _ => None,
    };
    attribute.map(|attribute| attribute.value().into_iter().filter_map(word).collect()).unwrap_or_default()
}

#[cfg(test)]
mod tests;
