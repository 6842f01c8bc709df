//! Paragraphs set by `parley` and put on pages. Black on white only: reports are copied. The PDF itself: [`super::pdf`].

use ab_glyph::{Font as _, FontRef};
use anyhow::Context;
use parley::fontique::{Collection, CollectionOptions};
use parley::{FontContext, FontFamily, FontWeight, Layout, LayoutContext, LineHeight, OverflowWrap, StyleProperty};
use sparkout_ui::fonts;

/// Points around the text.
pub const MARGIN: f32 = 48.0;
/// Points kept free above the lower margin for the footer.
const FOOT: f32 = 26.0;
const FAMILY: &str = "Atkinson Hyperlegible Next";

/// The paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, clap::ValueEnum)]
pub enum Paper {
    /// ISO 216 A4.
    #[default]
    A4,
    /// 8.5 × 11 inches.
    Letter,
}

impl Paper {
    /// Width and height in points.
    pub const fn points(self) -> (f32, f32) {
        match self {
            Self::A4 => (595.28, 841.89),
            Self::Letter => (612.0, 792.0),
        }
    }
}

/// How a paragraph is set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Style {
    /// Size in points.
    pub points: f32,
    /// Whether it is bold.
    pub bold: bool,
}

/// What a piece of text is, for whoever has the pages read aloud.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// A heading of this level, from 1.
    Heading(u16),
    /// A paragraph.
    Paragraph,
    /// A cell of a table.
    Cell {
        /// Which table of the document.
        table: usize,
        /// Which row of the document.
        row: usize,
        /// Whether it names its column.
        header: bool,
    },
    /// What stands on every page and is not read along: footers, headings of columns repeated.
    Repeated,
}

/// A paragraph that knows how high it is.
pub struct Paragraph {
    pub(super) text: String,
    pub(super) layout: Layout<()>,
}

impl Paragraph {
    /// Its height in points.
    pub fn height(&self) -> f32 {
        self.layout.height()
    }

    /// How wide its widest line is, in points.
    pub fn width(&self) -> f32 {
        self.layout.width()
    }
}

/// What stands on a page, in reading order.
pub(super) enum Drawn {
    Text { x: f32, y: f32, role: Role, paragraph: Box<Paragraph> },
    Rule { y: f32, from: f32, to: f32, thickness: f32 },
}

/// The typesetter: fonts, and the pages filled so far.
pub struct Sheets {
    fonts: FontContext,
    face: FontRef<'static>,
    scratch: LayoutContext<()>,
    pub(super) paper: Paper,
    pub(super) pages: Vec<Vec<Drawn>>,
}

impl Sheets {
    /// One empty page.
    ///
    /// # Errors
    /// When the embedded typefaces cannot be read, which would be a fault of ours.
    pub fn new(paper: Paper) -> anyhow::Result<Self> {
        // No font of the machine's: a record looks the same wherever it is made.
        let options = CollectionOptions { shared: false, system_fonts: false };
        let mut fonts = FontContext {
            collection: Collection::new(options),
            source_cache: parley::fontique::SourceCache::default(),
        };
        for bytes in [fonts::NEXT_REGULAR, fonts::NEXT_BOLD] {
            fonts.collection.register_fonts(bytes.to_vec().into(), None);
        }
        let face = FontRef::try_from_slice(fonts::NEXT_REGULAR).context("the embedded typeface cannot be read")?;
        Ok(Self { fonts, face, scratch: LayoutContext::new(), paper, pages: vec![Vec::new()] })
    }

    /// The width between the margins.
    pub const fn width(&self) -> f32 {
        self.paper.points().0 - 2.0 * MARGIN
    }

    /// The lowest place where text may end, from the top of the page.
    pub const fn bottom(&self) -> f32 {
        self.paper.points().1 - MARGIN - FOOT
    }

    /// How many pages there are.
    pub const fn count(&self) -> usize {
        self.pages.len()
    }

    /// Sets a paragraph in a column. A word that is wider than the column is broken, never cut off.
    pub fn set(&mut self, text: &str, style: Style, width: f32) -> Paragraph {
        let text: String = text.chars().flat_map(|letter| shown(&self.face, letter)).collect();
        let mut builder = self.scratch.ranged_builder(&mut self.fonts, &text, 1.0, false);
        builder.push_default(StyleProperty::FontFamily(FontFamily::from(FAMILY)));
        builder.push_default(StyleProperty::FontSize(style.points));
        builder.push_default(StyleProperty::LineHeight(LineHeight::FontSizeRelative(1.25)));
        builder.push_default(StyleProperty::OverflowWrap(OverflowWrap::Anywhere));
        let weight = if style.bold { FontWeight::BOLD } else { FontWeight::NORMAL };
        builder.push_default(StyleProperty::FontWeight(weight));
        let mut layout = builder.build(&text);
        layout.break_all_lines(Some(width));
        Paragraph { text, layout }
    }

    /// Puts a paragraph on the newest page, `y` from the top.
    pub fn put(&mut self, paragraph: Paragraph, role: Role, x: f32, y: f32) {
        self.on(self.pages.len() - 1, Drawn::Text { x, y, role, paragraph: Box::new(paragraph) });
    }

    /// Puts a paragraph on an older page: what is known only at the end.
    pub fn put_on(&mut self, page: usize, paragraph: Paragraph, x: f32, y: f32) {
        self.on(page, Drawn::Text { x, y, role: Role::Repeated, paragraph: Box::new(paragraph) });
    }

    /// Draws a line from margin to margin on the newest page.
    pub fn rule(&mut self, y: f32, thickness: f32) {
        self.rule_on(self.pages.len() - 1, y, thickness);
    }

    /// Draws a line from margin to margin.
    pub fn rule_on(&mut self, page: usize, y: f32, thickness: f32) {
        let to = MARGIN + self.width();
        self.on(page, Drawn::Rule { y, from: MARGIN, to, thickness });
    }

    /// Begins another page.
    pub fn turn(&mut self) {
        self.pages.push(Vec::new());
    }

    fn on(&mut self, page: usize, drawn: Drawn) {
        if let Some(page) = self.pages.get_mut(page) {
            page.push(drawn);
        }
    }
}

/// A letter as it is set. Control characters, marks that turn the direction, and letters that the typeface does not
/// have are shown by their number: a record that shows nothing, or less than the journal says, would be worse.
fn shown(face: &FontRef<'_>, letter: char) -> Vec<char> {
    let turns = matches!(letter, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}');
    if letter == '\n' {
        return vec![' '];
    }
    if letter.is_control() || turns || face.glyph_id(letter).0 == 0 {
        format!("<{:04X}>", u32::from(letter)).chars().collect()
    } else {
        vec![letter]
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;

    const BODY: Style = Style { points: 9.5, bold: false };

    #[test]
    fn nothing_is_wider_than_its_column() {
        let mut sheets = Sheets::new(Paper::A4).unwrap();
        for text in ["W".repeat(400), "no spaces, many—dashes".repeat(20), "ñandú ".repeat(50)] {
            let set = sheets.set(&text, BODY, 80.0);
            assert!(set.width() <= 80.5, "{} {text}", set.width());
            assert!(set.height() > 40.0);
        }
    }

    #[test]
    fn what_has_no_letter_is_shown_by_its_number() {
        let mut sheets = Sheets::new(Paper::Letter).unwrap();
        let set = sheets.set("a\u{202e}b\u{7}c\u{4e2d}é", BODY, 500.0);
        assert_eq!(set.text, "a<202E>b<0007>c<4E2D>é");
    }
}
