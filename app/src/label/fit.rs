//! Lines of text fitted into a column: as large as they may be, shrunk, then wrapped, then refused.

use super::error::{LabelError, LineName};
use super::typeset;
use ab_glyph::FontRef;

/// A line before it is fitted.
pub(super) struct Line<'a> {
    pub name: LineName,
    pub text: &'a str,
    pub face: &'a FontRef<'static>,
    /// The size of type wanted, dots an em.
    pub em_wanted: f32,
    /// The smallest that is still read at arm's length.
    pub em_least: f32,
    /// How many rows it may be wrapped to.
    pub rows_most: usize,
    /// Columns that a frame takes from the row on both sides together.
    pub frame_width: i32,
    /// Rows of dots that a frame takes above and below the text together.
    pub frame_height: i32,
    /// White below the line, dots.
    pub white_below: i32,
    /// From one base line to the next, in ems.
    pub row_pitch: f32,
}

/// A line with its size and its rows.
pub(super) struct Fitted {
    pub em: f32,
    pub rows: Vec<String>,
}

/// The steps by which type shrinks, dots.
const STEP: f32 = 0.5;

impl Line<'_> {
    /// The largest size at which it fits the column in one row; else in two rows broken between its parts; else broken at blanks.
    pub fn fitted(&self, column: i32, shrunk: f32) -> Result<Fitted, LabelError> {
        let width = column - self.frame_width;
        let one_row = |_: f32| Some(vec![self.text.to_owned()]);
        let by_parts = |_: f32| self.parts().filter(|_| self.rows_most > 1);
        let by_blanks = |em: f32| Some(self.wrapped(self.text, em, width)).filter(|rows| rows.len() <= self.rows_most);
        let ways: [&dyn Fn(f32) -> Option<Vec<String>>; 3] = [&one_row, &by_parts, &by_blanks];
        let fits = |em: f32, rows: &[String]| rows.iter().all(|row| self.advance(em, row) <= width);
        let whole = |way: &dyn Fn(f32) -> Option<Vec<String>>| {
            self.sizes(shrunk).find_map(|em| way(em).filter(|rows| fits(em, rows)).map(|rows| Fitted { em, rows }))
        };
        ways.into_iter().find_map(whole).ok_or_else(|| self.too_long(width))
    }

    /// The sizes to try, the largest first.
    fn sizes(&self, shrunk: f32) -> impl Iterator<Item = f32> {
        let (largest, least) = ((self.em_wanted * shrunk).max(self.em_least), self.em_least);
        std::iter::successors(Some(largest), move |em| (*em > least).then(|| (em - STEP).max(least)))
    }

    /// The two rows that say it best: mower and position, date and station, the halves of a sentence.
    fn parts(&self) -> Option<Vec<String>> {
        let halves = self.text.rsplit_once(" · ").or_else(|| self.text.rsplit_once("  "));
        let halves = halves.map(|(first, second)| vec![first.to_owned(), second.to_owned()]);
        halves
            .or_else(|| self.text.split_once(", ").map(|(first, second)| vec![format!("{first},"), second.to_owned()]))
    }

    /// How high it stands when fitted so.
    pub fn height(&self, fitted: &Fitted) -> f32 {
        fitted.em * self.row_pitch * fitted.rows.len() as f32 + (self.frame_height + self.white_below) as f32
    }

    fn advance(&self, em: f32, text: &str) -> i32 {
        typeset::advance(self.face, em, text)
    }

    /// Broken at blanks; a word longer than a row is broken where the row ends, since a tag may have no blank.
    fn wrapped(&self, text: &str, em: f32, width: i32) -> Vec<String> {
        let mut rows = vec![String::new()];
        for word in text.split_inclusive(' ') {
            let row = rows.last().map(String::as_str).unwrap_or_default();
            if row.is_empty() || self.advance(em, format!("{row}{word}").trim_end()) <= width {
                if let Some(row) = rows.last_mut() {
                    row.push_str(word);
                }
            } else {
                rows.push(word.to_owned());
            }
            self.break_last(&mut rows, em, width);
        }
        // A row that ends in the point between mower and position needs none: the break says it.
        rows.into_iter().map(|row| row.trim().trim_end_matches(" ·").to_owned()).filter(|row| !row.is_empty()).collect()
    }

    fn break_last(&self, rows: &mut Vec<String>, em: f32, width: i32) {
        while let Some(row) = rows.last_mut().filter(|row| self.advance(em, row.trim_end()) > width) {
            let fits =
                row.char_indices().skip(1).map(|(at, _)| at).take_while(|at| self.advance(em, &row[..*at]) <= width);
            // At least one character a row, or a column narrower than a letter would never end.
            let Some(at) = fits.last().or_else(|| row.char_indices().nth(1).map(|(at, _)| at)) else { return };
            let rest = row.split_off(at);
            rows.push(rest);
        }
    }

    fn too_long(&self, width: i32) -> LabelError {
        let characters = self.text.chars().count();
        let fits = |count: &usize| {
            let start: String = self.text.chars().take(*count).collect();
            self.wrapped(&start, self.em_least, width).len() <= self.rows_most
        };
        let most = (0..characters).rev().find(fits).unwrap_or(0);
        LabelError::TextTooLong { line: self.name, characters, most }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::panic, clippy::float_cmp)]
    use super::super::typeset::Faces;
    use super::*;

    const COLUMN: i32 = 250;

    fn fitted(text: &str) -> Result<Fitted, LabelError> {
        let faces = Faces::embedded().unwrap();
        let line = Line {
            name: LineName::Place,
            text,
            face: &faces.regular,
            em_wanted: 22.0,
            em_least: 16.0,
            rows_most: 2,
            frame_width: 0,
            frame_height: 0,
            white_below: 0,
            row_pitch: 1.14,
        };
        let fitted = line.fitted(COLUMN, 1.0)?;
        assert!(fitted.rows.iter().all(|row| line.advance(fitted.em, row) <= COLUMN), "{:?}", fitted.rows);
        Ok(fitted)
    }

    #[test]
    fn as_large_as_may_be_then_shrunk_then_wrapped() {
        let short = fitted("Greens 3 · front left").unwrap();
        assert_eq!((short.em, short.rows.len()), (22.0, 1));
        let shrunk = fitted("Greens 3 north shed · front left").unwrap();
        assert!(shrunk.em < 22.0 && shrunk.em >= 16.0 && shrunk.rows.len() == 1, "{} {:?}", shrunk.em, shrunk.rows);
        let wrapped = fitted("Greens 3 at the north shed · front left").unwrap();
        assert_eq!(wrapped.rows, ["Greens 3 at the north shed", "front left"]);
    }

    #[test]
    fn a_word_without_blanks_is_broken_where_the_row_ends() {
        let broken = fitted(&"W".repeat(20)).unwrap();
        assert_eq!(broken.rows.concat(), "W".repeat(20));
        assert_eq!(broken.rows.len(), 2);
    }

    #[test]
    fn refused_with_what_would_fit() {
        let text = "Ñ".repeat(80);
        match fitted(&text) {
            Err(LabelError::TextTooLong { line: LineName::Place, characters: 80, most }) => {
                assert!(fitted(&text.chars().take(most).collect::<String>()).is_ok());
                assert!(fitted(&text.chars().take(most + 1).collect::<String>()).is_err());
            }
            Err(other) => panic!("{other}"),
            Ok(fitted) => panic!("{:?}", fitted.rows),
        }
    }
}
