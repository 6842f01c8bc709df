//! Labels: drawn, read back from their own raster, printed, and only then said to be printed.

use super::bench::Bench;
use super::bench::OpenVisit;
use super::label_fault;
use crate::label::error::LabelError;
use crate::label::print::{LabelProgress, Outcome, Printed};
use crate::label::readback::proof;
use crate::label::render::Drawn;
use crate::label::{LabelJob, LabelLayout, PrintError, render, render_signed};
use sparkout_core::label::{LabelContent, LabelLanguage};
use sparkout_core::quantity::Length;
use sparkout_core::visit::event::Event;
use sparkout_core::visit::gate::Block;
use sparkout_core::visit::kind::StageName;
use sparkout_core::visit::refusal::Refusal;
use sparkout_ui::locale::Locale;
use sparkout_ui::screen::{Language, Raster};
use sparkout_ui::words::{PrinterTrouble, Said};

impl Bench {
    fn layout(&self) -> LabelLayout {
        let label = &self.config.label;
        LabelLayout {
            width: Length::from_mm(label.width_mm),
            height: Length::from_mm(label.height_mm),
            dots_per_inch: label.dpi,
            language: match self.settings.language {
                Language::English => LabelLanguage::English,
                Language::Spanish => LabelLanguage::Spanish,
            },
            units: self.settings.units,
            practice: self.practice,
            decimal_comma: Locale::from(self.settings).decimal() == ',',
        }
    }

    /// A label as it will be printed: signed by the station, where there is one.
    fn drawn(&self, content: &LabelContent) -> Result<Drawn, LabelError> {
        match self.disk.signer() {
            Some(key) => render_signed(content, &self.hub, &self.layout(), key),
            None => render(content, &self.hub, &self.layout()),
        }
    }

    /// Draws the label when the stage that shows it is on the rails.
    pub(super) fn draw_label_where_shown(&mut self) {
        if self.on_rails().is_some_and(|open| open.visit.stage_name() == StageName::Label) {
            self.draw_label();
        }
    }

    /// Draws the label for the screen, before it is printed.
    fn draw_label(&mut self) {
        let Some(facts) = self.facts() else { return };
        let Some(content) = self.on_rails().and_then(|open| open.visit.label_content(&facts)) else {
            return self.label = None;
        };
        if content.operator.is_empty() {
            self.said = Some(nobody_signs());
            return self.label = None;
        }
        let drawn = self.drawn(&content).and_then(|drawn| {
            proof(&drawn.bitmap, &drawn.url)?;
            Ok(drawn.bitmap)
        });
        match drawn {
            Ok(bitmap) => {
                let (width, height, pixels) = (bitmap.width(), bitmap.height(), bitmap.luma());
                self.label = Some(Raster { width, height, pixels });
            }
            Err(error) => {
                tracing::warn!(%error, "the label cannot be drawn");
                self.said = Some(Said::LabelFailed { fault: label_fault::of_label(&error) });
                self.label = None;
            }
        }
    }

    /// Prints a label for a visit and reports it, or says why not.
    pub(super) fn print(&mut self, id: &str, content: &LabelContent) {
        if content.operator.is_empty() {
            return self.said = Some(nobody_signs());
        }
        match self.try_print(id, content) {
            Ok((_, None)) => self.said = Some(Said::LabelQueued),
            Ok((code, Some(to))) => {
                if self.submit(id, Event::Printed { code, to: to.clone() }) {
                    self.said = Some(Said::Printed { to });
                }
            }
            Err(error) => {
                tracing::warn!(%error, "a label was not printed");
                self.said = Some(Said::LabelFailed { fault: label_fault::of_printer(&error) });
            }
        }
    }

    /// What the code says, and where the label is, if it is out.
    fn try_print(&mut self, id: &str, content: &LabelContent) -> Result<(String, Option<String>), PrintError> {
        let drawn = self.drawn(content)?;
        let name = format!("{}-{}", content.unit, content.grind);
        // A job can only be made from a raster that reads back as what was meant.
        let job = LabelJob::proved(&name, drawn.bitmap, &drawn.url)?.of_visit(id);
        let Printed::Out { printed_to } = self.printer.print(&job)? else { return Ok((drawn.url, None)) };
        let short = std::path::Path::new(&printed_to)
            .file_name()
            .map_or_else(|| printed_to.clone(), |name| name.to_string_lossy().into_owned());
        Ok((drawn.url, Some(short)))
    }

    /// Takes note of what came of the labels in the printer's queue, and says what the one on the rails waits for.
    pub(super) fn follow_printer(&mut self) {
        let at_label = |open: &&OpenVisit| open.visit.stage_name() == StageName::Label;
        let waiting: Vec<String> = self.visits.iter().filter(at_label).map(|open| open.visit.id().to_owned()).collect();
        for id in waiting {
            let Some(LabelProgress { code, to, outcome }) = self.printer.progress(&id) else { continue };
            let shown = self.on_rails().is_some_and(|open| open.visit.id() == id);
            match outcome {
                Outcome::Out => self.label_out(&id, code, to),
                Outcome::GivenUp { trouble } => {
                    self.said = Some(Said::Printer { trouble });
                    self.printer.settled(&id);
                }
                Outcome::InDoubt if shown => self.printer_says(Some(PrinterTrouble::InDoubt)),
                Outcome::Waits { trouble } if shown => self.printer_says(trouble),
                Outcome::InDoubt | Outcome::Waits { .. } => {}
            }
        }
    }

    /// The printer says that a label is out: that is kept, and the printer's queue may forget it.
    fn label_out(&mut self, id: &str, code: String, to: String) {
        match self.try_submit(id, Event::Printed { code, to: to.clone() }) {
            Ok(_) => self.said = Some(Said::Printed { to }),
            // Asked for again when the journal can be written.
            Err(said @ Said::NotKept { .. }) => return self.said = Some(said),
            Err(said) => self.said = Some(said),
        }
        self.printer.settled(id);
    }

    /// Says it anew when it is something else, and takes it away when it is over; what else was said is not talked over.
    fn printer_says(&mut self, trouble: Option<PrinterTrouble>) {
        match (&self.said, trouble) {
            (None | Some(Said::Printer { .. } | Said::LabelQueued), Some(trouble)) => {
                self.said = Some(Said::Printer { trouble });
            }
            (Some(Said::Printer { .. }), None) => self.said = None,
            (Some(_), _) | (None, None) => {}
        }
    }

    /// A label that is on the unit has come out, whatever its printer says of it.
    pub(super) fn scanned_before_told(&mut self, id: &str, code: &str) {
        let Some(LabelProgress { code: asked, to, .. }) = self.printer.progress(id) else { return };
        if asked.eq_ignore_ascii_case(code) && self.submit(id, Event::Printed { code: asked, to }) {
            self.printer.settled(id);
        }
    }
}

/// A label names who stands for it: after a start nobody is signed on.
const fn nobody_signs() -> Said {
    Said::Refused(Refusal::Blocked(Block::NoOperator))
}
