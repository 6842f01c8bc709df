//! Labels: drawn, read back from their own raster, printed, and only then said to be printed.

use super::bench::Bench;
use super::label_fault;
use crate::label::readback::proof;
use crate::label::{LabelJob, LabelLayout, PrintError, render};
use sparkout_core::label::{LabelContent, LabelLanguage};
use sparkout_core::quantity::Length;
use sparkout_core::visit::event::Event;
use sparkout_core::visit::gate::Block;
use sparkout_core::visit::kind::StageName;
use sparkout_core::visit::refusal::Refusal;
use sparkout_ui::locale::Locale;
use sparkout_ui::screen::{Language, Raster};
use sparkout_ui::words::Said;

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
        let drawn = render(&content, &self.hub, &self.layout()).and_then(|drawn| {
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
        match self.try_print(content) {
            Ok((code, to)) => {
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

    fn try_print(&mut self, content: &LabelContent) -> Result<(String, String), PrintError> {
        let drawn = render(content, &self.hub, &self.layout())?;
        let name = format!("{}-{}", content.unit, content.grind);
        // A job can only be made from a raster that reads back as what was meant.
        let job = LabelJob::proved(&name, drawn.bitmap, &drawn.url)?;
        let printed = self.printer.print(&job)?;
        let short = std::path::Path::new(&printed.printed_to)
            .file_name()
            .map_or_else(|| printed.printed_to.clone(), |name| name.to_string_lossy().into_owned());
        Ok((drawn.url, short))
    }
}

/// A label names who stands for it: after a start nobody is signed on.
const fn nobody_signs() -> Said {
    Said::Refused(Refusal::Blocked(Block::NoOperator))
}
