//! The sheet of key cards: what a keyboard has, as codes, for a wall without a keyboard.

use super::bitmap::{Bitmap, DotRect};
use super::error::{LabelError, LineName};
use super::layout::LabelLayout;
use super::template::{Card, PAGE_MARGIN, dots, lines, read_all};
use sparkout_core::label::LabelLanguage;
use sparkout_core::quantity::Length;
use sparkout_core::scan::KeyCard;

/// Cells beside each other; a code and its key's name in each.
const COLUMNS: i32 = 4;
/// The largest module: many codes share the page, and are read from near by.
const MODULE_MOST: Length = Length::from_mm(0.6);
/// The least size of a sheet: below it codes are too small for a hand scanner.
const LEAST: (Length, Length) = (Length::from_mm(180.0), Length::from_mm(250.0));

/// The sheet of key cards as a page.
///
/// # Errors
/// [`LabelError`]: a page too small, or a code that does not read back from what was drawn.
pub fn key_sheet(layout: &LabelLayout) -> Result<Bitmap, LabelError> {
    if layout.width < LEAST.0 || layout.height < LEAST.1 {
        let (width, height) = (layout.width, layout.height);
        return Err(LabelError::Size { width, height, least: LEAST.0, most: Length::from_mm(300.0) });
    }
    let mut bitmap = layout.blank()?;
    let margin = dots(layout, PAGE_MARGIN);
    let (width, height) = (bitmap.width() as i32, bitmap.height() as i32);
    let page = DotRect { left: margin, top: margin, right: width - margin, bottom: height - margin };
    let keys: Vec<KeyCard> = KeyCard::all().collect();
    let rows = (keys.len() as i32 + COLUMNS - 1) / COLUMNS;
    // One band more than there are rows of keys, for the head.
    let (cell_width, cell_height) = (page.width() / COLUMNS, page.height() / (rows + 1));
    let head = DotRect { bottom: page.top + cell_height, ..page };
    let words = head_words(layout.language);
    lines(&mut bitmap, head, &[(LineName::Tag, words.0, true, 7.0), (LineName::Verdict, words.1, true, 4.5)], layout)?;
    for (place, key) in (0_i32..).zip(keys) {
        let (column, row) = (place % COLUMNS, place / COLUMNS + 1);
        let (left, top) = (page.left + column * cell_width, page.top + row * cell_height);
        let cell = DotRect { left, top, right: left + cell_width, bottom: top + cell_height };
        let code = key.code();
        let card = Card { code: &code, title: &name(key, layout.language), below: "" };
        card.draw_into(&mut bitmap, cell, layout, MODULE_MOST)?;
        // A scanner is held to one card; so is this one.
        read_all(&bitmap.cut(cell), &[code.as_str()])?;
    }
    Ok(bitmap)
}

/// The head of the sheet, and the caution that it cannot be printed without.
const fn head_words(language: LabelLanguage) -> (&'static str, &'static str) {
    match language {
        LabelLanguage::English => {
            ("Key cards", "WARNING: these cards do not stop the grinder, and hold nothing. Use its own stop.")
        }
        LabelLanguage::Spanish => (
            "Tarjetas de teclas",
            "ADVERTENCIA: estas tarjetas no detienen la rectificadora ni mantienen nada. Use su propio paro.",
        ),
    }
}

fn name(key: KeyCard, language: LabelLanguage) -> String {
    let in_words = |english: &str, spanish: &str| match language {
        LabelLanguage::English => english.to_owned(),
        LabelLanguage::Spanish => spanish.to_owned(),
    };
    match key {
        KeyCard::Character(character) => char::from(character).to_string(),
        KeyCard::Point => ".".to_owned(),
        KeyCard::Minus => "−".to_owned(),
        KeyCard::Space => in_words("space", "espacio"),
        KeyCard::Erase => in_words("erase", "borrar"),
        KeyCard::Enter => in_words("enter", "entrar"),
        KeyCard::On => in_words("on", "sigue"),
        KeyCard::Before => in_words("back", "vuelve"),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;

    #[test]
    fn every_key_has_its_card_on_a_page_of_either_size() {
        // A4 (ISO 216) and US letter (ANSI Y14.1).
        for (width, height) in [(210.0, 297.0), (215.9, 279.4)] {
            for language in [LabelLanguage::English, LabelLanguage::Spanish] {
                let layout = LabelLayout {
                    width: Length::from_mm(width),
                    height: Length::from_mm(height),
                    dots_per_inch: 300,
                    language,
                    ..LabelLayout::default()
                };
                key_sheet(&layout).unwrap_or_else(|error| panic!("{width} {language:?}: {error}"));
            }
        }
        assert!(head_words(LabelLanguage::English).1.contains("do not stop the grinder"));
        assert!(matches!(key_sheet(&LabelLayout::default()), Err(LabelError::Size { .. })));
    }
}
