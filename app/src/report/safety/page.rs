//! Putting paragraphs, sections and tables on sheets, one below the other.

use crate::report::lines::Line;
use crate::report::typeset::{MARGIN, Paper, Paragraph, Role, Sheets, Style};
use crate::report::words::pick;
use jiff::tz::TimeZone;
use sparkout_core::journal::Hash;
use sparkout_ui::present::figures;
use sparkout_ui::screen::{Language, Settings};

const TITLE: Style = Style { points: 19.0, bold: true };
const SECTION: Style = Style { points: 13.0, bold: true };
const BODY: Style = Style { points: 9.5, bold: false };
const STRONG: Style = Style { points: 9.5, bold: true };
const SMALL: Style = Style { points: 8.0, bold: false };
const GAP: f32 = 6.0;
/// A heading is not left alone at the foot of a page: room for this much below it.
const TOGETHER: f32 = 64.0;

/// Which columns a table has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Columns {
    /// All of them.
    All,
    /// Without the unit, which stands in the heading.
    WithoutUnit,
}

impl Columns {
    /// Widths of the columns before the last, in points: entry, time, who, unit.
    const fn widths(self) -> &'static [f32] {
        match self {
            Self::All => &[46.0, 50.0, 84.0, 64.0],
            Self::WithoutUnit => &[46.0, 50.0, 84.0],
        }
    }

    fn names(self, language: Language) -> Vec<String> {
        let unit = (self == Self::All).then_some(("Unit", "Unidad"));
        let before = [("Entry", "Asiento"), ("Time", "Hora"), ("Who", "Quién")];
        let all = before.into_iter().chain(unit).chain([("What", "Qué")]);
        all.map(|(english, spanish)| pick(language, english, spanish).to_owned()).collect()
    }

    fn cells(self, line: &Line, time: String) -> Vec<String> {
        let mark = if line.exception { "! " } else { "" };
        let unit = (self == Self::All).then(|| line.unit.clone());
        let before = [line.seq.to_string(), time, line.who.clone()];
        before.into_iter().chain(unit).chain([format!("{mark}{}", line.what)]).collect()
    }
}

/// A row in as many as it takes for each to fit on a page, whatever somebody wrote into a name or a reason.
fn pieces(cells: &[String]) -> Vec<Vec<String>> {
    let split = |(place, cell): (usize, &String)| -> Vec<String> {
        let most = if place + 1 == cells.len() { 1200 } else { 300 };
        let letters: Vec<char> = cell.chars().collect();
        letters.chunks(most).map(|piece| piece.iter().collect()).collect()
    };
    let columns: Vec<Vec<String>> = cells.iter().enumerate().map(split).collect();
    let rows = columns.iter().map(Vec::len).max().unwrap_or(1).max(1);
    let cell = |column: &Vec<String>, row: usize| column.get(row).cloned().unwrap_or_default();
    (0..rows).map(|row| columns.iter().map(|column| cell(column, row)).collect()).collect()
}

/// Sheets that are being filled from the top.
pub(super) struct Writer {
    sheets: Sheets,
    zone: TimeZone,
    settings: Settings,
    y: f32,
    table: usize,
    row: usize,
}

impl Writer {
    pub fn new(paper: Paper, zone: TimeZone, settings: Settings) -> anyhow::Result<Self> {
        Ok(Self { sheets: Sheets::new(paper)?, zone, settings, y: MARGIN, table: 0, row: 0 })
    }

    pub const fn language(&self) -> Language {
        self.settings.language
    }

    pub const fn sheets(&self) -> &Sheets {
        &self.sheets
    }

    pub fn title(&mut self, text: &str) {
        self.block(text, TITLE, Role::Heading(1));
    }

    pub fn strong(&mut self, text: &str) {
        self.block(text, STRONG, Role::Paragraph);
    }

    pub fn paragraph(&mut self, text: &str) {
        self.block(text, BODY, Role::Paragraph);
    }

    pub fn small(&mut self, text: &str) {
        self.y += 2.0;
        self.block(text, SMALL, Role::Paragraph);
    }

    pub fn section(&mut self, text: &str) {
        self.y += 14.0;
        self.room(TOGETHER);
        self.block(text, SECTION, Role::Heading(2));
        self.sheets.rule(self.y, 1.2);
        self.y += 5.0;
    }

    pub fn heading(&mut self, text: &str) {
        self.y += 8.0;
        self.room(TOGETHER);
        self.block(text, STRONG, Role::Heading(3));
    }

    /// A word that signals, and what it is about, between two thick lines.
    pub fn boxed(&mut self, signal: &str, text: &str) {
        self.y += 5.0;
        self.room(TOGETHER);
        self.sheets.rule(self.y, 1.2);
        self.y += 4.0;
        self.block(signal, STRONG, Role::Paragraph);
        self.block(text, BODY, Role::Paragraph);
        self.sheets.rule(self.y, 1.2);
        self.y += 6.0;
    }

    /// Numbers by person.
    pub fn counts(&mut self, head: &[String; 4], rows: Vec<[String; 4]>) {
        let widths = [self.sheets.width() - 3.0 * 100.0, 100.0, 100.0, 100.0];
        self.table += 1;
        self.y += 4.0;
        self.cells(head, &widths, STRONG, Some(true));
        for row in &rows {
            self.cells(row, &widths, BODY, Some(false));
        }
    }

    /// Entries one below the other, with their days between them.
    pub fn table(&mut self, lines: &[&Line], columns: Columns) {
        let last = self.sheets.width() - columns.widths().iter().sum::<f32>();
        let widths: Vec<f32> = columns.widths().iter().copied().chain([last]).collect();
        let names = columns.names(self.language());
        self.table += 1;
        self.cells(&names, &widths, STRONG, Some(true));
        let mut day = None;
        for line in lines {
            let at = line.at.map(|at| at.to_zoned_datetime(self.zone.clone()));
            let here = at.as_ref().map(|at| (at.date(), at.offset()));
            if here.is_some() && here != day {
                day = here;
                let text = here.map_or_else(String::new, |(date, offset)| {
                    format!("{} (UTC{offset})", figures::date(date, self.settings))
                });
                self.room_below(34.0, &names, &widths);
                self.cells(&[text], &[self.sheets.width()], STRONG, Some(false));
            }
            let time = at.map_or_else(|| "–".to_owned(), |at| at.strftime("%H:%M:%S").to_string());
            let style = if line.exception { STRONG } else { BODY };
            for cells in pieces(&columns.cells(line, time)) {
                let height = self.height(&cells, &widths, style);
                self.room_below(height, &names, &widths);
                self.cells(&cells, &widths, style, Some(false));
            }
        }
    }

    /// Turns the page where a row does not fit any more, and names the columns again.
    fn room_below(&mut self, height: f32, names: &[String], widths: &[f32]) {
        let page = self.sheets.count();
        self.room(height + 4.0);
        if self.sheets.count() != page {
            self.cells(names, widths, STRONG, None);
        }
    }

    fn height(&mut self, cells: &[String], widths: &[f32], style: Style) -> f32 {
        let set = cells.iter().zip(widths).map(|(cell, width)| self.sheets.set(cell, style, width - GAP).height());
        set.fold(0.0, f32::max)
    }

    /// A row: heading of columns, or cells, or a heading that is only repeated.
    fn cells(&mut self, cells: &[String], widths: &[f32], style: Style, header: Option<bool>) {
        self.row += 1;
        let (table, row) = (self.table, self.row);
        let role = header.map_or(Role::Repeated, |header| Role::Cell { table, row, header });
        let set: Vec<Paragraph> =
            cells.iter().zip(widths).map(|(cell, width)| self.sheets.set(cell, style, width - GAP)).collect();
        let height = set.iter().map(Paragraph::height).fold(0.0, f32::max);
        self.room(height + 4.0);
        let (mut x, y) = (MARGIN, self.y);
        for (cell, width) in set.into_iter().zip(widths) {
            self.sheets.put(cell, role, x, y);
            x += width;
        }
        self.y += height + 1.5;
        self.sheets.rule(self.y, 0.25);
        self.y += 2.0;
    }

    fn block(&mut self, text: &str, style: Style, role: Role) {
        let width = self.sheets.width();
        let set = self.sheets.set(text, style, width);
        let height = set.height();
        self.room(height);
        self.sheets.put(set, role, MARGIN, self.y);
        self.y += height + 3.0;
    }

    fn room(&mut self, height: f32) {
        if self.y + height > self.sheets.bottom() && self.y > MARGIN {
            self.sheets.turn();
            self.y = MARGIN;
        }
    }

    /// At the foot of every page, once it is known how many there are.
    pub fn feet(&mut self, span: &str, root: Hash) {
        let (count, width, y) = (self.sheets.count(), self.sheets.width(), self.sheets.bottom() + 8.0);
        let language = self.language();
        let (root_word, page_word, of) =
            (pick(language, "root", "raíz"), pick(language, "page", "página"), pick(language, "of", "de"));
        for page in 0..count {
            self.sheets.rule_on(page, y, 0.6);
            let left = format!(
                "{} · {span} · {root_word} {}",
                pick(language, "Safety record", "Registro de seguridad"),
                root.short()
            );
            let set = self.sheets.set(&left, SMALL, width - 80.0);
            self.sheets.put_on(page, set, MARGIN, y + 4.0);
            let number = self.sheets.set(&format!("{page_word} {} {of} {count}", page + 1), SMALL, 80.0);
            let x = MARGIN + width - number.width();
            self.sheets.put_on(page, number, x, y + 4.0);
        }
    }
}
