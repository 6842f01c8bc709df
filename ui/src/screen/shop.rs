//! The screens without a visit: home, find, enrol, a new type, what is wrong, and about.

use super::{DueLine, StopName};

/// The record cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Fault {
    /// What is wrong, in a few words.
    pub title: String,
    /// What happened to the data and where it is.
    pub detail: String,
    /// What to do next.
    pub advice: String,
}

/// No visit on the rails: scan a tag.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Home {
    /// The operator's name, or empty: scan a badge.
    pub operator: String,
    /// Visits that were paused or wait to go back, oldest first.
    pub waiting: Vec<Waiting>,
    /// The shop's name.
    pub shop: String,
    /// The grinder at this bench.
    pub grinder: String,
    /// When its check runs out, ready to show; empty when unknown.
    pub check_due: String,
    /// Units on record, as text.
    pub units: String,
    /// What is due, the most urgent first; a press opens the unit's card.
    pub due: Vec<DueLine>,
    /// How many of all units are due today or overdue.
    pub due_now: u32,
    /// What warns about the grinder, in the person's language; empty when nothing does.
    pub warning: String,
    /// The noise of the day for the operator, in the person's language, or empty.
    pub noise: String,
}

/// Lines of waiting visits and due units together that fit on Home.
const HOME_LINES_MOST: usize = 4;

impl Home {
    /// What of the due units is shown: they fill the lines that no waiting visit takes.
    #[must_use]
    pub fn due_shown(&self) -> &[super::DueLine] {
        let room = HOME_LINES_MOST.saturating_sub(self.waiting.len());
        self.due.get(..room).unwrap_or(&self.due)
    }
}

/// A visit that is open but not on the rails.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Waiting {
    /// The unit.
    pub tag: String,
    /// Its mower and position.
    pub place: String,
    /// Where the visit stands.
    pub stage: StopName,
    /// Since when, ready to show.
    pub since: String,
}

/// Find by mower, then position.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Find {
    /// The mowers.
    pub mowers: Vec<Choice>,
    /// The chosen mower's picture; each slot says which tag sits there.
    pub picture: Option<MowerPicture>,
}

/// A thing to pick from a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choice {
    /// Its name.
    pub name: String,
    /// One line about it, may be empty.
    pub detail: String,
    /// Whether it is picked now.
    pub chosen: bool,
}

/// Enrol an unknown tag in two presses.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Enrol {
    /// The tag as scanned.
    pub tag: String,
    /// The types on record; the last press offers a new one.
    pub types: Vec<Choice>,
    /// The mowers, once a type is chosen.
    pub mowers: Vec<Choice>,
    /// The chosen mower's positions.
    pub picture: Option<MowerPicture>,
}

/// A new unit type, field by field; the entry asks for the one that is `now`.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct NewType {
    /// What is asked before the values, or empty.
    pub asks: String,
    /// Its answers.
    pub choices: Vec<Choice>,
    /// What is taken for granted, and where that comes from.
    pub assumed: String,
    /// The fields, ready to show.
    pub fields: Vec<FieldRow>,
    /// Whether all that is needed is there.
    pub complete: bool,
}

/// A field of the new type.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FieldRow {
    /// What it is, in the person's language.
    pub label: String,
    /// Its value with unit, or empty.
    pub value: String,
    /// Whether the entry is about this one.
    pub now: bool,
}

/// A mower seen from above, its positions as rectangles in a unit square.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MowerPicture {
    /// The mower's name.
    pub name: String,
    /// Its positions.
    pub slots: Vec<Slot>,
}

/// A position on a mower.
#[derive(Debug, Clone, PartialEq)]
pub struct Slot {
    /// Its number.
    pub number: String,
    /// The unit there, or empty.
    pub tag: String,
    /// Centre across the mower, 0 left to 1 right.
    pub x: f32,
    /// Centre along the mower, 0 front to 1 rear.
    pub y: f32,
    /// Whether it is the one in hand.
    pub now: bool,
}

/// Settings, cautions and licences.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct About {
    /// The program's version.
    pub version: String,
    /// Where the journal lies.
    pub data_folder: String,
    /// The journal's short root, for the daily sheet.
    pub short_root: String,
    /// Somebody with a PIN is at the bench, and may choose another.
    pub change_pin: bool,
}
