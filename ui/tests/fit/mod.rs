//! Whether a window's picture can be read and pressed: no text cut, no text on another or over an edge, no control on
//! another, none too small, nothing off the window. [`faults`] says what is wrong, and where.
//!
//! It looks at the items that are drawn, not at the accessible tree: only they tell what a text needs and what it has.

mod area;
mod planted;
mod seen;

use area::Area;
pub use seen::{Control, look};
use seen::{Seen, Text};

use slint::Color;

/// What a target must measure.
#[derive(Debug, Clone, Copy)]
pub struct Rules {
    /// The least side of an action or a key of the keypad, pixels.
    pub action: f32,
    /// The least side of everything else that is pressed, pixels.
    pub target: f32,
    /// The fill by which an action is known.
    pub action_fill: Color,
    /// The sheet between strip and rail.
    pub sheet: Sheet,
}

/// Where the sheet lies on the window, and how far from the window's sides everything on it stays, pixels.
#[derive(Debug, Clone, Copy)]
pub struct Sheet {
    pub top: f32,
    pub bottom: f32,
    pub margin: f32,
}

impl Sheet {
    /// No window is so high that this lies on it.
    pub const NONE: Self = Self { top: f32::MAX, bottom: f32::MAX, margin: 0.0 };

    fn holds(&self, area: &Area) -> bool {
        area.top >= self.top - SLACK && area.bottom <= self.bottom + SLACK
    }

    fn height(&self) -> f32 {
        self.bottom - self.top
    }
}

impl Rules {
    /// Actions and keys 20 mm, other targets 15 mm; on a panel below 10 inches (254 mm across its corners) 15 mm all.
    pub fn of_panel(width: f32, height: f32, panel_mm: f32, action_fill: Color) -> Self {
        let px_per_mm = width / panel_mm;
        let corners_mm = width.hypot(height) / px_per_mm;
        // Less a pixel, which the layout may round away.
        let least = |mm: f32| mm * px_per_mm - 1.0;
        let action = least(if corners_mm < 254.0 { 15.0 } else { 20.0 });
        Self { action, target: least(15.0), action_fill, sheet: Sheet::NONE }
    }

    /// With a sheet whose margin is kept.
    pub const fn with_sheet(self, sheet: Sheet) -> Self {
        Self { sheet, ..self }
    }
}

/// Less than this is rounding.
const SLACK: f32 = 1.0;

/// Controls of the keypad, which have an action's size whatever their fill.
const KEYS: [&str; 13] = ["0", "1", "2", "3", "4", "5", "6", "7", "8", "9", ".", "±", "Erase"];

/// Everything that is wrong with what the window shows, one sentence each.
pub fn faults(window: &slint::Window, rules: &Rules) -> Vec<String> {
    let seen = look(window);
    let mut faults = Vec::new();
    for text in &seen.texts {
        faults.extend(text_faults(text, &seen));
    }
    for (index, text) in seen.texts.iter().enumerate() {
        for other in &seen.texts[..index] {
            if text.layer == other.layer && text.ink.overlaps(&other.ink, SLACK) {
                faults.push(format!("on each other: {other} and {text}"));
            }
        }
    }
    for (index, control) in seen.controls.iter().enumerate() {
        faults.extend(control_faults(control, &seen, rules));
        for other in &seen.controls[..index] {
            if control.layer == other.layer && control.area.overlaps(&other.area, SLACK) {
                faults.push(format!("on each other: {other} and {control}"));
            }
            if control.layer == other.layer && control.id == other.id {
                faults.push(format!("one name for two: {other} and {control}"));
            }
        }
    }
    faults.extend(margin_faults(&seen, &rules.sheet));
    faults.sort();
    faults.dedup();
    faults
}

/// Everything on the sheet keeps its margin from the window's sides; a column that does not fit runs into it long before
/// it leaves the window. What lies above a veil is no part of the sheet, and what is as wide as the window or as high as
/// the sheet is its ground or its furniture.
fn margin_faults(seen: &Seen, sheet: &Sheet) -> Vec<String> {
    let within = |area: &Area| {
        area.left >= seen.window.left + sheet.margin - SLACK && area.right <= seen.window.right - sheet.margin + SLACK
    };
    // The window's own touch area lies below everything and is a layer too: the sheet is the lowest that has words.
    let lowest = seen.texts.iter().map(|text| text.layer).min().unwrap_or_default();
    let wrong = |layer: usize, area: &Area| layer == lowest && sheet.holds(area) && !within(area);
    let furniture =
        |area: &Area| area.width() >= seen.window.width() - SLACK || area.height() >= sheet.height() - SLACK;
    let texts = seen.texts.iter().filter(|text| wrong(text.layer, &text.ink)).map(ToString::to_string);
    let controls = seen.controls.iter().filter(|control| wrong(control.layer, &control.area)).map(ToString::to_string);
    let plates = seen.plates.iter().filter(|plate| wrong(plate.layer, &plate.area) && !furniture(&plate.area));
    texts
        .chain(controls)
        .chain(plates.map(ToString::to_string))
        .map(|what| format!("in the margin, {:.0} of the window's sides: {what}", sheet.margin))
        .collect()
}

fn text_faults(text: &Text, seen: &Seen) -> Vec<String> {
    let mut faults = Vec::new();
    let mut fault = |what: String| faults.push(format!("{what}: {text}"));
    if text.needs.0 > text.has.width() + SLACK {
        let what = if text.elided { "elided" } else { "cut" };
        fault(format!("{what}, {:.0} wide and needs {:.0}", text.has.width(), text.needs.0));
    } else if text.elided && text.lines_lost {
        fault(format!("elided, {:.0} high and needs {:.0}", text.has.height(), text.needs.1));
    } else if !text.has.holds(&text.ink, SLACK) {
        fault(format!("cut, {} and needs {}", text.has, text.ink));
    }
    if let Some(word) = text.longest_word.filter(|word| *word > text.has.width() + SLACK) {
        fault(format!("a word is broken, {:.0} wide and needs {word:.0}", text.has.width()));
    }
    if !seen.window.holds(&text.ink, SLACK) {
        fault("off the window".to_owned());
    } else if !text.clip.holds(&text.ink, SLACK) {
        fault(format!("cut by what holds it, {}", text.clip));
    }
    if let Some(control) = text.control.and_then(|index| seen.controls.get(index))
        && !control.area.holds(&text.ink, SLACK)
    {
        fault(format!("over the edge of its own {control}"));
    }
    faults.extend(plate_faults(text, seen));
    faults
}

/// A text stands on one plate, within it, and nothing is drawn over it.
fn plate_faults(text: &Text, seen: &Seen) -> Vec<String> {
    let mut faults = Vec::new();
    let same_layer = || seen.plates.iter().filter(|plate| plate.layer == text.layer);
    if let Some(over) =
        same_layer().find(|plate| plate.order > text.order && plate.opaque && plate.area.overlaps(&text.ink, SLACK))
    {
        faults.push(format!("covered by {over}: {text}"));
    }
    for plate in same_layer().rev().filter(|plate| plate.order < text.order) {
        if !plate.meets(&text.ink, SLACK) {
            continue;
        }
        if !plate.holds(&text.ink, SLACK) {
            faults.push(format!("over the edge of {plate}: {text}"));
            break;
        }
        if plate.opaque {
            break;
        }
    }
    faults
}

fn control_faults(control: &Control, seen: &Seen, rules: &Rules) -> Vec<String> {
    let mut faults = Vec::new();
    if control.id.is_empty() || control.label.is_empty() {
        faults.push(format!("without a name or a label: {control}"));
    }
    let (width, height) = (control.area.width(), control.area.height());
    // The keypad has a sign; the digits among a name's letters are targets like the letters.
    let keypad = seen.controls.iter().any(|other| other.id == "±");
    let action = (keypad && KEYS.contains(&control.id.as_str()))
        || (!control.checkable
            && seen.plates.iter().any(|plate| {
                // A mark within the control has the same fill.
                let most = plate.area.width() * plate.area.height() * 2.0 > width * height;
                plate.control == Some(control.index) && plate.fill == rules.action_fill && most
            }));
    let least = if action { rules.action } else { rules.target };
    if width < least || height < least {
        let what = if action { "an action" } else { "a target" };
        faults.push(format!("too small for {what}, needs {least:.0}: {control}"));
    }
    if !seen.window.holds(&control.area, SLACK) {
        faults.push(format!("off the window: {control}"));
    } else if !control.clip.holds(&control.area, SLACK) {
        faults.push(format!("cut by what holds it, {}: {control}", control.clip));
    }
    faults
}
