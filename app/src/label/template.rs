//! What a shop prints beside labels of results: tags of units, badges, and the sheet of command cards.

use super::bitmap::{Bitmap, DotRect};
use super::code;
use super::error::{LabelError, LineName};
use super::fit::Line;
use super::layout::LabelLayout;
use super::readback::codes_in;
use super::typeset::{self, Faces};
use sparkout_core::label::LabelLanguage;
use sparkout_core::quantity::Length;
use sparkout_core::scan::CommandCard;

/// White kept at the edges.
const MARGIN: Length = Length::from_mm(1.5);
/// The edge that office printers cannot print on.
pub(super) const PAGE_MARGIN: Length = Length::from_mm(12.0);
/// Below this, type is not read at arm's length.
const EM_LEAST: Length = Length::from_mm(2.0);
/// The largest module of a card: pinned to a wall, it is read from as far as a scanner's cable goes.
const CARD_MODULE_MOST: Length = Length::from_mm(1.2);
/// The least size of a sheet either way: five cards below each other, each as large as a hand finds.
const SHEET_LEAST: Length = Length::from_mm(130.0);

/// A code with a name: a unit's tag, a badge, a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Card<'a> {
    /// What its code says; characters of the alphanumeric mode of QR.
    pub code: &'a str,
    /// What a person reads first.
    pub title: &'a str,
    /// What stands below; nothing when empty.
    pub below: &'a str,
}

impl Card<'_> {
    /// Draws it, with the code at the left.
    ///
    /// # Errors
    /// [`LabelError`]: what does not fit, or a code that does not read back from what was drawn.
    pub fn draw(&self, layout: &LabelLayout) -> Result<Bitmap, LabelError> {
        let mut bitmap = layout.blank()?;
        let margin = dots(layout, MARGIN);
        let (width, height) = (bitmap.width() as i32, bitmap.height() as i32);
        let area = DotRect { left: margin, top: margin, right: width - margin, bottom: height - margin };
        self.draw_into(&mut bitmap, area, layout, Length::from_mm(0.65))?;
        read_all(&bitmap, &[self.code])?;
        Ok(bitmap)
    }

    pub(super) fn draw_into(
        &self,
        bitmap: &mut Bitmap,
        area: DotRect,
        layout: &LabelLayout,
        module_most: Length,
    ) -> Result<(), LabelError> {
        let qr = code::smallest(self.code)?;
        let room = area.height().min(area.width() / 2);
        let module = code::dots_a_module_up_to(&qr, room, layout, module_most)?;
        let side = code::modules_across(&qr) * module;
        let drawn = code::draw(bitmap, &qr, area.left, area.top + (area.height() - side) / 2, module);
        let column = DotRect { left: drawn.right + dots(layout, MARGIN), ..area };
        let parts = [(LineName::Tag, self.title, true, 9.0), (LineName::Place, self.below, false, 4.0)];
        let parts: Vec<_> = parts.into_iter().filter(|part| !part.1.is_empty()).collect();
        lines(bitmap, column, &parts, layout)
    }
}

/// The sheet of command cards as a page, to be pinned to the wall.
///
/// # Errors
/// [`LabelError`]: a page too small, or a code that does not read back from what was drawn.
pub fn command_sheet(layout: &LabelLayout) -> Result<Bitmap, LabelError> {
    let mut bitmap = layout.blank()?;
    if layout.width < SHEET_LEAST || layout.height < SHEET_LEAST {
        let (width, height) = (layout.width, layout.height);
        return Err(LabelError::Size { width, height, least: SHEET_LEAST, most: Length::from_mm(300.0) });
    }
    let margin = dots(layout, PAGE_MARGIN);
    let (width, height) = (bitmap.width() as i32, bitmap.height() as i32);
    let page = DotRect { left: margin, top: margin, right: width - margin, bottom: height - margin };
    let band = page.height() / (CommandCard::ALL.len() as i32 + 1);
    let head = DotRect { bottom: page.top + band - margin / 2, ..page };
    let words = sheet_words(layout.language);
    lines(&mut bitmap, head, &[(LineName::Tag, words.0, true, 8.0), (LineName::Verdict, words.1, true, 6.0)], layout)?;
    let mut codes = Vec::new();
    for (place, command) in (1_i32..).zip(CommandCard::ALL) {
        let top = page.top + band * place;
        let rule = DotRect { top, bottom: top + dots(layout, Length::from_mm(0.4)), ..page };
        bitmap.fill(rule, true);
        let row = DotRect { top: top + margin / 4, bottom: top + band - margin / 4, ..page };
        let (title, below) = card_words(command, layout.language);
        let code = command.code();
        Card { code: &code, title, below }.draw_into(&mut bitmap, row, layout, CARD_MODULE_MOST)?;
        codes.push(code);
    }
    read_all(&bitmap, &codes.iter().map(String::as_str).collect::<Vec<_>>())?;
    Ok(bitmap)
}

/// The head of the sheet, and the caution that it cannot be printed without.
const fn sheet_words(language: LabelLanguage) -> (&'static str, &'static str) {
    match language {
        LabelLanguage::English => ("Command cards", "WARNING: these cards do not stop the grinder. Use its own stop."),
        LabelLanguage::Spanish => {
            ("Tarjetas de mando", "ADVERTENCIA: estas tarjetas no detienen la rectificadora. Use su propio paro.")
        }
    }
}

const fn card_words(card: CommandCard, language: LabelLanguage) -> (&'static str, &'static str) {
    match (language, card) {
        (LabelLanguage::English, CommandCard::Next) => ("NEXT", "On to the next step"),
        (LabelLanguage::English, CommandCard::Back) => ("BACK", "One step back"),
        (LabelLanguage::English, CommandCard::Repeat) => ("REPEAT", "Once more"),
        (LabelLanguage::English, CommandCard::PassDone) => ("PASS DONE", "A pass of the wheel is done"),
        (LabelLanguage::English, CommandCard::PauseVisit) => ("PAUSE VISIT", "The unit leaves the rails and waits"),
        (LabelLanguage::Spanish, CommandCard::Next) => ("SIGUIENTE", "Al paso siguiente"),
        (LabelLanguage::Spanish, CommandCard::Back) => ("ATRÁS", "Un paso atrás"),
        (LabelLanguage::Spanish, CommandCard::Repeat) => ("REPETIR", "Una vez más"),
        (LabelLanguage::Spanish, CommandCard::PassDone) => ("PASADA HECHA", "Terminó una pasada de la piedra"),
        (LabelLanguage::Spanish, CommandCard::PauseVisit) => ("PAUSA", "La unidad sale de los rieles y espera"),
    }
}

pub(super) fn dots(layout: &LabelLayout, length: Length) -> i32 {
    layout.exact_dots(length).ceil() as i32
}

/// Lines below each other in the middle of an area's height, as large as they may be: name, text, bold, millimetres an em.
pub(super) fn lines(
    bitmap: &mut Bitmap,
    area: DotRect,
    parts: &[(LineName, &str, bool, f64)],
    layout: &LabelLayout,
) -> Result<(), LabelError> {
    let faces = Faces::embedded()?;
    let em = |mm: f64| layout.exact_dots(Length::from_mm(mm)) as f32;
    let lines: Vec<Line<'_>> = parts
        .iter()
        .map(|(name, text, bold, em_mm)| Line {
            name: *name,
            text,
            face: if *bold { &faces.bold } else { &faces.regular },
            em_wanted: em(*em_mm),
            em_least: em(EM_LEAST.mm()),
            rows_most: 2,
            frame_width: 0,
            frame_height: 0,
            white_below: 0,
            row_pitch: 1.2,
        })
        .collect();
    for line in &lines {
        if let Some(character) = typeset::missing(line.face, line.text) {
            return Err(LabelError::NoGlyph { line: line.name, character });
        }
    }
    let fitted = super::render::fitted(&lines, area, layout)?;
    let needed: f32 = lines.iter().zip(&fitted).map(|(line, fitted)| line.height(fitted)).sum();
    let mut top = area.top as f32 + (area.height() as f32 - needed) / 2.0;
    for (line, fitted) in lines.iter().zip(&fitted) {
        let pitch = fitted.em * line.row_pitch;
        let cap = typeset::cap_height(line.face, fitted.em);
        for (row, text) in fitted.rows.iter().enumerate() {
            let base = (top + pitch * row as f32 + (pitch + cap) / 2.0).round() as i32;
            let ink = typeset::draw(bitmap, line.face, fitted.em, text, (area.left, base), true);
            if ink.is_some_and(|ink| ink.right > area.right || ink.bottom > area.bottom || ink.top < area.top) {
                return Err(LabelError::Clipped { line: line.name });
            }
        }
        top += line.height(fitted);
    }
    Ok(())
}

/// Whether every code that was meant reads back from what was drawn, and no other.
pub(super) fn read_all(bitmap: &Bitmap, meant: &[&str]) -> Result<(), LabelError> {
    let mut read = codes_in(bitmap)?;
    let mut meant: Vec<String> = meant.iter().map(|code| (*code).to_owned()).collect();
    read.sort();
    meant.sort();
    if read == meant { Ok(()) } else { Err(LabelError::ReadsDifferently) }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;
    use sparkout_core::scan::BadgeId;

    const BOTH: [LabelLanguage; 2] = [LabelLanguage::English, LabelLanguage::Spanish];

    #[test]
    fn tags_and_badges_read_back_at_every_resolution() {
        let badge = BadgeId::new("1042").unwrap().code();
        let cards = [
            Card { code: "Q-114", title: "Q-114", below: "Greens 3 · 2" },
            Card { code: &badge, title: "María Sáenz", below: "1042" },
            Card { code: "T", title: "T", below: "" },
        ];
        for dots_per_inch in [203, 300, 600] {
            for card in cards {
                let layout = LabelLayout { dots_per_inch, ..LabelLayout::default() };
                card.draw(&layout).unwrap_or_else(|error| panic!("{card:?} at {dots_per_inch}: {error}"));
            }
        }
    }

    #[test]
    fn the_sheet_reads_back_as_a_page_and_says_what_it_does_not_do() {
        // A4 (ISO 216) and US letter (ANSI Y14.1).
        for (width, height) in [(210.0, 297.0), (215.9, 279.4)] {
            for language in BOTH {
                let layout = LabelLayout {
                    width: Length::from_mm(width),
                    height: Length::from_mm(height),
                    dots_per_inch: 300,
                    language,
                    ..LabelLayout::default()
                };
                let page = command_sheet(&layout).unwrap_or_else(|error| panic!("{width} {language:?}: {error}"));
                assert_eq!(codes_in(&page).unwrap().len(), CommandCard::ALL.len());
            }
        }
        assert!(sheet_words(LabelLanguage::English).1.contains("do not stop the grinder"));
        assert!(matches!(command_sheet(&LabelLayout::default()), Err(LabelError::Size { .. })));
    }

    #[test]
    fn names_that_do_not_fit_are_refused_with_what_fits() {
        let long = "Ñandú ".repeat(40);
        let card = Card { code: "Q-114", title: &long, below: "" };
        let refused = card.draw(&LabelLayout::default()).unwrap_err();
        assert!(matches!(refused, LabelError::TextTooLong { .. } | LabelError::NoRoomForText { .. }), "{refused}");
        let foreign = Card { code: "Q-114", title: "漢", below: "" };
        assert!(matches!(foreign.draw(&LabelLayout::default()), Err(LabelError::NoGlyph { .. })));
        let lower = Card { code: "q_114", title: "q", below: "" };
        assert!(matches!(lower.draw(&LabelLayout::default()), Err(LabelError::NotAlphanumeric { .. })));
    }
}
