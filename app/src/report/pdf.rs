//! Pages as PDF, written by `krilla`: fonts embedded, text selectable, and tagged, so that it can be read aloud.

use super::typeset::{Drawn, Paragraph, Role, Sheets};
use anyhow::{Context, anyhow};
use jiff::ZonedDateTime;
use krilla::Document;
use krilla::color::luma;
use krilla::geom::{PathBuilder, Point};
use krilla::metadata::{DateTime, Metadata};
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke};
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, SpanTag, TableHeaderScope, Tag, TagGroup, TagTree,
};
use krilla::text::{Font, GlyphId, KrillaGlyph};
use std::collections::HashMap;
use std::num::NonZeroU16;

/// What the file says of itself.
#[derive(Debug, Clone)]
pub struct About {
    /// Its title.
    pub title: String,
    /// Its language, as in BCP 47.
    pub language: &'static str,
    /// When it was made.
    pub made: ZonedDateTime,
}

/// Writes pages as PDF.
///
/// # Errors
/// When a font or the document cannot be written, which would be a fault of ours.
pub fn write(sheets: &Sheets, about: &About) -> anyhow::Result<Vec<u8>> {
    let (width, height) = sheets.paper.points();
    let mut document = Document::new();
    document.set_metadata(metadata(about));
    let (mut known, mut tree) = (HashMap::new(), Tree::default());
    for drawn in &sheets.pages {
        let settings = PageSettings::from_wh(width, height).context("a page needs a size")?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        for one in drawn {
            match one {
                Drawn::Text { x, y, role, paragraph } => {
                    let pieces = text(&mut surface, &mut known, (paragraph.as_ref(), *role), (*x, *y))?;
                    tree.take(*role, pieces);
                }
                Drawn::Rule { y, from, to, thickness } => rule(&mut surface, (*from, *y), *to, *thickness),
            }
        }
        surface.finish();
        page.finish();
    }
    document.set_tag_tree(tree.whole().with_lang(Some(about.language.to_owned())));
    document.finish().map_err(|error| anyhow!("the document could not be written: {error:?}"))
}

fn metadata(about: &About) -> Metadata {
    let small = |value: i8| u8::try_from(value).unwrap_or(0);
    let (made, minutes) = (&about.made, about.made.offset().seconds() / 60);
    let date = DateTime::new(u16::try_from(made.year()).unwrap_or(0))
        .month(small(made.month()))
        .day(small(made.day()))
        .hour(small(made.hour()))
        .minute(small(made.minute()))
        .second(small(made.second()))
        .utc_offset_hour(i8::try_from(minutes / 60).unwrap_or(0))
        .utc_offset_minute(u8::try_from(minutes.abs() % 60).unwrap_or(0));
    let program = format!("sparkout {}", env!("CARGO_PKG_VERSION"));
    Metadata::new()
        .title(about.title.clone())
        .language(about.language.to_owned())
        .creator(program.clone())
        .producer(program)
        .creation_date(date)
}

/// The tree of headings, paragraphs and tables, as the pieces of text come along.
#[derive(Default)]
struct Tree {
    tree: TagTree,
    table: Option<(usize, TagGroup)>,
    row: Option<(usize, TagGroup)>,
}

impl Tree {
    fn take(&mut self, role: Role, pieces: Vec<Identifier>) {
        match role {
            Role::Repeated => {}
            Role::Heading(level) => {
                self.end_table();
                let level = NonZeroU16::new(level).unwrap_or(NonZeroU16::MIN);
                self.tree.push(filled(TagGroup::new(Tag::Hn(level, None)), pieces));
            }
            Role::Paragraph => {
                self.end_table();
                self.tree.push(filled(TagGroup::new(Tag::P), pieces));
            }
            Role::Cell { table, row, header } => {
                if self.table.as_ref().is_none_or(|open| open.0 != table) {
                    self.end_table();
                }
                if self.row.as_ref().is_none_or(|open| open.0 != row) {
                    self.end_row(table);
                }
                let cell =
                    if header { TagGroup::new(Tag::TH(TableHeaderScope::Column)) } else { TagGroup::new(Tag::TD) };
                let (_, open) = self.row.get_or_insert_with(|| (row, TagGroup::new(Tag::TR)));
                open.push(filled(cell, pieces));
                self.table.get_or_insert_with(|| (table, TagGroup::new(Tag::Table)));
            }
        }
    }

    fn end_row(&mut self, table: usize) {
        if let Some((_, row)) = self.row.take() {
            self.table.get_or_insert_with(|| (table, TagGroup::new(Tag::Table))).1.push(row);
        }
    }

    fn end_table(&mut self) {
        let number = self.table.as_ref().map_or(0, |open| open.0);
        self.end_row(number);
        if let Some((_, table)) = self.table.take() {
            self.tree.push(table);
        }
    }

    fn whole(mut self) -> TagTree {
        self.end_table();
        self.tree
    }
}

fn filled(mut group: TagGroup, pieces: Vec<Identifier>) -> TagGroup {
    pieces.into_iter().for_each(|piece| group.push(piece));
    group
}

/// Draws a paragraph, and gives its lines as pieces of the tree.
fn text(
    surface: &mut Surface<'_>,
    known: &mut HashMap<u64, Font>,
    (paragraph, role): (&Paragraph, Role),
    (left, top): (f32, f32),
) -> anyhow::Result<Vec<Identifier>> {
    surface.set_stroke(None);
    surface.set_fill(Some(Fill {
        paint: luma::Color::new(0).into(),
        opacity: NormalizedF32::ONE,
        rule: Default::default(),
    }));
    let mut pieces = Vec::new();
    for line in paragraph.layout.lines() {
        let tag = match role {
            Role::Repeated => ContentTag::Artifact(Artifact::with_kind(ArtifactType::PaginationOther)),
            Role::Heading(_) | Role::Paragraph | Role::Cell { .. } => ContentTag::Span(SpanTag::empty()),
        };
        let piece = surface.start_tagged(tag);
        if role != Role::Repeated {
            pieces.push(piece);
        }
        let baseline = top + line.metrics().baseline;
        let mut x = left;
        for run in line.runs() {
            let font = font(known, &run)?;
            let begin = x;
            let glyphs = glyphs(&run, &mut x);
            surface.draw_glyphs(
                Point::from_xy(begin, baseline),
                &glyphs,
                font,
                &paragraph.text,
                run.font_size(),
                false,
            );
        }
        surface.end_tagged();
    }
    Ok(pieces)
}

fn font(known: &mut HashMap<u64, Font>, run: &parley::Run<'_, ()>) -> anyhow::Result<Font> {
    let (data, id) = run.font().data.clone().into_raw_parts();
    if let Some(font) = known.get(&id) {
        return Ok(font.clone());
    }
    let font = Font::new(data.into(), run.font().index).ok_or_else(|| anyhow!("a font is not usable"))?;
    known.insert(id, font.clone());
    Ok(font)
}

/// The glyphs of a run, each with the letters that it stands for, so that what is copied out is what was written.
fn glyphs(run: &parley::Run<'_, ()>, x: &mut f32) -> Vec<KrillaGlyph> {
    let points = run.font_size();
    let mut glyphs: Vec<KrillaGlyph> = Vec::new();
    for cluster in run.visual_clusters() {
        if cluster.is_ligature_continuation() {
            if let Some(glyph) = glyphs.last_mut() {
                glyph.text_range.end = cluster.text_range().end;
            }
            continue;
        }
        for glyph in cluster.glyphs() {
            let [advance, left, up] = [glyph.advance, glyph.x, glyph.y].map(|value| value / points);
            let number = GlyphId::new(glyph.id);
            glyphs.push(KrillaGlyph::new(number, advance, left, up, 0.0, cluster.text_range(), None));
            *x += glyph.advance;
        }
    }
    glyphs
}

fn rule(surface: &mut Surface<'_>, (from, y): (f32, f32), to: f32, thickness: f32) {
    let mut path = PathBuilder::new();
    path.move_to(from, y);
    path.line_to(to, y);
    let Some(path) = path.finish() else { return };
    let _layout = surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)));
    surface.set_fill(None);
    surface.set_stroke(Some(Stroke { paint: luma::Color::new(0).into(), width: thickness, ..Stroke::default() }));
    surface.draw_path(&path);
    surface.end_tagged();
}
