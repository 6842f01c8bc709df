//! A label's lines in words.

use super::content::{LabelContent, LabelVerdict};
use super::figures;
use crate::reading::{LengthKind, Units};
use serde::{Deserialize, Serialize};

/// The language of a label.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LabelLanguage {
    /// English.
    #[default]
    English,
    /// Spanish, in the words of a Latin-American workshop.
    Spanish,
}

struct Words {
    proven: &'static str,
    not_proven: &'static str,
    done: &'static str,
    fit: &'static str,
    work_due: &'static str,
    diameter: &'static str,
    cone: &'static str,
    land: &'static str,
    height_of_cut: &'static str,
    due: &'static str,
}

const ENGLISH: Words = Words {
    proven: "PROVEN",
    not_proven: "IN TOLERANCE, NOT PROVEN",
    done: "WORK DONE",
    fit: "CHECKED, NOTHING DUE",
    work_due: "CHECKED, WORK DUE",
    diameter: "Dia.",
    cone: "Cone",
    land: "Land",
    height_of_cut: "Cut",
    due: "Due",
};

const SPANISH: Words = Words {
    proven: "COMPROBADO",
    not_proven: "EN TOLERANCIA, SIN COMPROBAR",
    done: "TRABAJO HECHO",
    fit: "REVISADA, NADA PENDIENTE",
    work_due: "REVISADA, REQUIERE TRABAJO",
    diameter: "Diám.",
    cone: "Cono",
    land: "Faja",
    height_of_cut: "Corte",
    due: "Vence",
};

impl LabelLanguage {
    const fn words(self) -> &'static Words {
        match self {
            Self::English => &ENGLISH,
            Self::Spanish => &SPANISH,
        }
    }
}

/// What a label says, line by line; the figures carry their unit once a line. Dates are written year first (ISO 8601), which nobody reads
/// with day and month swapped.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LabelText {
    /// The unit's tag: the largest.
    pub tag: String,
    /// The verdict in words.
    pub verdict: &'static str,
    /// The verdict itself, which also decides the shape around the words.
    pub found: LabelVerdict,
    /// Mower and position.
    pub place: String,
    /// Leading / trailing diameter; empty where no reel was taped.
    pub diameters: String,
    /// Cone with sign and uncertainty; empty as well.
    pub cone: String,
    /// Land and height of cut; none when neither was taken.
    pub land_and_cut: Option<String>,
    /// Date, operator, station.
    pub done: String,
    /// When it is due next.
    pub due: Option<String>,
}

impl LabelText {
    /// The lines of a content.
    pub fn new(content: &LabelContent, language: LabelLanguage, units: Units) -> Self {
        let words = language.words();
        let size_unit = figures::unit_name(units, LengthKind::Size);
        let fine_unit = figures::unit_name(units, LengthKind::Fine);
        let size = |name: &str, reading| format!("{name} {} {size_unit}", figures::size(reading, units));
        let sizes: Vec<String> = [(words.land, content.land), (words.height_of_cut, content.height_of_cut)]
            .into_iter()
            .filter_map(|(name, reading)| reading.map(|reading| size(name, reading)))
            .collect();
        Self {
            tag: content.unit.clone(),
            verdict: match content.verdict {
                LabelVerdict::Proven => words.proven,
                LabelVerdict::WithinNotProven => words.not_proven,
                LabelVerdict::Done => words.done,
                LabelVerdict::Fit => words.fit,
                LabelVerdict::Due => words.work_due,
            },
            found: content.verdict,
            place: format!("{} · {}", content.mower, content.position),
            diameters: content.lead.zip(content.trail).map_or_else(String::new, |(lead, trail)| {
                let (lead, trail) = (figures::size(lead, units), figures::size(trail, units));
                format!("{} {lead} / {trail} {size_unit}", words.diameter)
            }),
            cone: content.cone.zip(content.cone_u95).map_or_else(String::new, |(cone, u95)| {
                let (cone, u95) = (figures::cone(cone, units), figures::uncertainty(u95, units));
                format!("{} {cone} ± {u95} {fine_unit}", words.cone)
            }),
            land_and_cut: (!sizes.is_empty()).then(|| sizes.join("  ")),
            done: format!("{}  {}  {}", content.date, content.operator, content.station),
            due: content.next_due.map(|due| format!("{} {due}", words.due)),
        }
    }
}

impl LabelText {
    /// The same with a comma for the point between the digits of its figures, as the label's language is written in the
    /// shop's region. Dates, names and the code stay as they are: machines and people of both languages read those.
    #[must_use]
    pub fn with_decimal_comma(self) -> Self {
        Self {
            diameters: comma_between_digits(&self.diameters),
            cone: comma_between_digits(&self.cone),
            land_and_cut: self.land_and_cut.as_deref().map(comma_between_digits),
            ..self
        }
    }
}

fn comma_between_digits(line: &str) -> String {
    let letters: Vec<char> = line.chars().collect();
    let is_digit = |index: Option<usize>| index.and_then(|at| letters.get(at)).is_some_and(char::is_ascii_digit);
    letters
        .iter()
        .enumerate()
        .map(|(at, letter)| match letter {
            '.' if is_digit(at.checked_sub(1)) && is_digit(at.checked_add(1)) => ',',
            other => *other,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::test_content;
    use super::*;

    #[test]
    fn in_english_and_inches() {
        let text = LabelText::new(&test_content(), LabelLanguage::English, Units::Inch);
        assert_eq!(text.tag, "Q-114");
        assert_eq!(text.verdict, "PROVEN");
        assert_eq!(text.place, "Greens 3 · front left");
        assert_eq!(text.diameters, "Dia. 4.998 / 4.9975 in");
        assert_eq!(text.cone, "Cone +0.0005 ± 0.0003 in");
        assert_eq!(text.land_and_cut.as_deref(), Some("Land 0.040 in  Cut 0.125 in"));
        assert_eq!(text.done, "2026-11-25  MS  Bench A");
        assert_eq!(text.due.as_deref(), Some("Due 2027-03-01"));
    }

    #[test]
    fn in_spanish_and_millimetres() {
        let content = LabelContent {
            verdict: LabelVerdict::WithinNotProven,
            land: None,
            height_of_cut: None,
            next_due: None,
            ..test_content()
        };
        let text = LabelText::new(&content, LabelLanguage::Spanish, Units::Metric);
        assert_eq!(text.verdict, "EN TOLERANCIA, SIN COMPROBAR");
        assert_eq!(text.diameters, "Diám. 126.9492 / 126.9365 mm");
        assert_eq!(text.cone, "Cono +0.013 ± 0.008 mm");
        assert_eq!((&text.land_and_cut, &text.due), (&None, &None));
        let text = text.with_decimal_comma();
        assert_eq!(text.diameters, "Diám. 126,9492 / 126,9365 mm");
        assert_eq!(text.cone, "Cono +0,013 ± 0,008 mm");
        assert!(text.done.starts_with("2026-11-25"), "{}", text.done);
    }

    #[test]
    fn thousandths_for_what_is_fine() {
        let text = LabelText::new(&test_content(), LabelLanguage::English, Units::Thou);
        assert_eq!(text.cone, "Cone +0.5 ± 0.3 thou");
        assert_eq!(text.diameters, "Dia. 4.998 / 4.9975 in");
    }
}
