//! What is drawn: texts with the place their letters take, filled or outlined plates, controls.

use super::Area;
use i_slint_core::accessibility::AccessibleStringProperty;
use i_slint_core::item_rendering::{PlainOrStyledText, RenderText};
use i_slint_core::item_tree::{ItemRc, ensure_item_tree_instantiated};
use i_slint_core::items::{
    AccessibleRole, BasicBorderRectangle, BorderRectangle, Clip, ComplexText, Rectangle, SimpleText,
    TextHorizontalAlignment, TextOverflow, TextVerticalAlignment, TextWrap, TouchArea,
};
use i_slint_core::lengths::LogicalLength;
use i_slint_core::window::{WindowAdapter, WindowInner};
use slint::Color;
use std::fmt;
use std::pin::Pin;
use std::rc::Rc;

/// A text that is drawn.
#[derive(Debug, Clone)]
pub struct Text {
    pub words: String,
    /// Its place in the layout.
    pub has: Area,
    /// Where its letters stand: no room above capitals when none is taller, none below the line when no letter hangs.
    pub ink: Area,
    /// Width and height that the whole text takes within its width.
    pub needs: (f32, f32),
    /// The longest word of a text that may be wrapped.
    pub longest_word: Option<f32>,
    /// Whether it is cut with three dots.
    pub elided: bool,
    /// Whether lines do not fit.
    pub lines_lost: bool,
    /// What cuts it off, if it leaves it.
    pub clip: Area,
    /// Index of the control it stands in.
    pub control: Option<usize>,
    /// The place in the order of drawing.
    pub order: usize,
    /// 0, or 1 above a veil that takes all presses.
    pub layer: usize,
}

/// Something filled or outlined.
#[derive(Debug, Clone)]
pub struct Plate {
    pub area: Area,
    pub radius: f32,
    pub fill: Color,
    pub opaque: bool,
    pub control: Option<usize>,
    pub order: usize,
    pub layer: usize,
}

/// Something that is pressed.
#[derive(Debug, Clone)]
pub struct Control {
    pub index: usize,
    pub id: String,
    pub label: String,
    pub area: Area,
    pub clip: Area,
    pub checkable: bool,
    pub enabled: bool,
    pub layer: usize,
}

/// Everything on the window, in the order of drawing.
#[derive(Debug)]
pub struct Seen {
    pub window: Area,
    pub texts: Vec<Text>,
    pub plates: Vec<Plate>,
    pub controls: Vec<Control>,
    order: usize,
    layer: usize,
}

/// What stands around an item.
#[derive(Clone, Copy)]
struct Around {
    origin: (f32, f32),
    clip: Area,
    control: Option<usize>,
}

/// Looks at what a window shows.
pub fn look(window: &slint::Window) -> Seen {
    let size = window.size().to_logical(window.scale_factor());
    let area = Area::new(0.0, 0.0, size.width, size.height);
    let inner = WindowInner::from_pub(window);
    let tree = inner.component();
    ensure_item_tree_instantiated(&tree);
    let mut seen =
        Seen { window: area, texts: Vec::new(), plates: Vec::new(), controls: Vec::new(), order: 0, layer: 0 };
    let everywhere = Area { left: f32::MIN / 4.0, top: f32::MIN / 4.0, right: f32::MAX / 4.0, bottom: f32::MAX / 4.0 };
    let around = Around { origin: (0.0, 0.0), clip: everywhere, control: None };
    seen.walk(&ItemRc::new_root(tree), around, &inner.window_adapter());
    seen
}

impl Seen {
    fn walk(&mut self, item: &ItemRc, mut around: Around, window: &Rc<dyn WindowAdapter>) {
        self.order += 1;
        let geometry = item.geometry();
        let (x, y) = (around.origin.0 + geometry.origin.x, around.origin.1 + geometry.origin.y);
        let area = Area::new(x, y, geometry.size.width, geometry.size.height);
        if item.accessible_role() == AccessibleRole::Button && area.width() > 0.0 && area.height() > 0.0 {
            around.control = Some(self.control(item, area, around));
        }
        if let Some(clip) = item.downcast::<Clip>()
            && clip.as_pin_ref().clip()
        {
            around.clip = around.clip.shared(&area);
            if around.clip.width() <= 0.0 || around.clip.height() <= 0.0 {
                return;
            }
        }
        if let Some(touch) = item.downcast::<TouchArea>()
            && touch.as_pin_ref().enabled()
            && area.holds(&self.window, 1.0)
        {
            // Whatever is drawn from here on lies above what can no longer be pressed.
            self.layer += 1;
        }
        if let Some(text) = item.downcast::<SimpleText>() {
            self.text(item, text.as_pin_ref(), area, around, window);
        } else if let Some(text) = item.downcast::<ComplexText>() {
            self.text(item, text.as_pin_ref(), area, around, window);
        }
        self.plate(item, area, around);
        let mut child = item.first_child();
        let around = Around { origin: (x, y), ..around };
        while let Some(now) = child {
            self.walk(&now, around, window);
            child = now.next_sibling();
        }
    }

    fn control(&mut self, item: &ItemRc, area: Area, around: Around) -> usize {
        let property = |what| item.accessible_string_property(what).unwrap_or_default().to_string();
        let index = self.controls.len();
        if area.holds(&self.window, 1.0) && index > 0 {
            // A dimmed screen is one control as large as the window, and lies above all others.
            self.layer += 1;
        }
        self.controls.push(Control {
            index,
            id: property(AccessibleStringProperty::Id),
            label: property(AccessibleStringProperty::Label),
            area,
            clip: around.clip,
            checkable: property(AccessibleStringProperty::Checkable) == "true",
            enabled: property(AccessibleStringProperty::Enabled) != "false",
            layer: self.layer,
        });
        index
    }

    fn plate(&mut self, item: &ItemRc, area: Area, around: Around) {
        let (fill, border, radius) = if let Some(plate) = item.downcast::<Rectangle>() {
            (plate.as_pin_ref().background().color(), Color::default(), 0.0)
        } else if let Some(plate) = item.downcast::<BasicBorderRectangle>() {
            let plate = plate.as_pin_ref();
            let border = if plate.border_width().get() > 0.0 { plate.border_color().color() } else { Color::default() };
            (plate.background().color(), border, plate.border_radius().get())
        } else if let Some(plate) = item.downcast::<BorderRectangle>() {
            let plate = plate.as_pin_ref();
            let border = if plate.border_width().get() > 0.0 { plate.border_color().color() } else { Color::default() };
            (plate.background().color(), border, 0.0)
        } else {
            return;
        };
        if (fill.alpha() == 0 && border.alpha() == 0) || area.width() <= 0.0 || area.height() <= 0.0 {
            return;
        }
        if fill.alpha() < 255 && fill.alpha() > 0 && area.holds(&self.window, 1.0) {
            // A veil: what lies below it is not read now.
            self.layer += 1;
        }
        self.plates.push(Plate {
            area,
            radius,
            fill,
            opaque: fill.alpha() > 127,
            control: around.control,
            order: self.order,
            layer: self.layer,
        });
    }

    fn text(
        &mut self,
        item: &ItemRc,
        text: Pin<&dyn RenderText>,
        has: Area,
        around: Around,
        window: &Rc<dyn WindowAdapter>,
    ) {
        let words = match text.text() {
            PlainOrStyledText::Plain(words) => words.to_string(),
            PlainOrStyledText::Styled(_) => return,
        };
        if words.trim().is_empty() || text.color().is_transparent() {
            return;
        }
        let renderer = window.renderer();
        let wraps = text.wrap() != TextWrap::NoWrap;
        let within = wraps.then(|| LogicalLength::new(has.width()));
        let mut size = renderer.text_size(text, item, within, text.wrap());
        if wraps {
            // A broken line ends in the space that stood between the words.
            size.width = size.width.min(has.width());
        }
        let line = renderer.text_size(text, item, None, TextWrap::NoWrap).height;
        let longest_word =
            (text.wrap() == TextWrap::WordWrap).then(|| renderer.text_content_widths(text, item)).flatten();
        let font = text.font_request(item);
        let size_of_type = font.pixel_size.map_or(line / 1.3, |size| size.get());
        let metrics = renderer.font_metrics(font);
        let (across, down) = text.alignment();
        let spare = |room: f32, part: f32| (room * part).max(0.0);
        let left = has.left
            + spare(
                has.width() - size.width,
                match across {
                    TextHorizontalAlignment::Start | TextHorizontalAlignment::Left => 0.0,
                    TextHorizontalAlignment::Center => 0.5,
                    TextHorizontalAlignment::End | TextHorizontalAlignment::Right => 1.0,
                    _ => panic!("an alignment that this test does not know"),
                },
            );
        let top = has.top
            + (has.height() - size.height)
                * match down {
                    TextVerticalAlignment::Top => 0.0,
                    TextVerticalAlignment::Center => 0.5,
                    TextVerticalAlignment::Bottom => 1.0,
                    _ => panic!("an alignment that this test does not know"),
                };
        let block = Area::new(left, top, size.width, size.height);
        let elided = text.overflow() == TextOverflow::Elide;
        let block = if elided { block.shared(&has) } else { block };
        self.texts.push(Text {
            ink: ink(&words, block, size_of_type, metrics.ascent, line),
            words,
            has,
            needs: (size.width, size.height),
            longest_word: longest_word.map(|widths| widths.min.get()),
            elided,
            lines_lost: wraps && size.height > has.height() + 1.0,
            clip: around.clip,
            control: around.control,
            order: self.order,
            layer: self.layer,
        });
    }
}

/// How far letters rise over the line and hang below it, in parts of the type's size: read off the outlines of the
/// embedded typefaces, the larger of their cuts.
const RISE: [(&str, f32); 4] = [("ÁÉÍÓÚÑÜ", 0.88), ("|", 0.84), ("ijíáéóúñü", 0.75), ("bdfhklt()[]/¿¡", 0.71)];
const RISE_OF_SMALL_LETTERS: f32 = 0.51;
const RISE_OF_CAPITALS_AND_FIGURES: f32 = 0.69;
const HANG: [(&str, f32); 5] = [("gç", 0.21), ("jpqy()[]|¿¡", 0.17), (",;", 0.16), ("/", 0.09), ("Q_", 0.06)];
const HANG_OF_ALL: f32 = 0.013;

fn most(words: &str, table: &[(&str, f32)], least: f32) -> f32 {
    let of = |letter: char| table.iter().find(|(letters, _)| letters.contains(letter)).map_or(least, |(_, part)| *part);
    words.chars().map(of).fold(least, f32::max)
}

/// The letters of a block of lines: without the room that a line has above and below them.
fn ink(words: &str, block: Area, size: f32, ascent: f32, line: f32) -> Area {
    let small = |letter: char| letter.is_whitespace() || "aceimnorsuvwxz.,–−·".contains(letter);
    let least = if words.chars().all(small) { RISE_OF_SMALL_LETTERS } else { RISE_OF_CAPITALS_AND_FIGURES };
    let mut ink = block;
    ink.top += ascent - most(words, &RISE, least) * size;
    ink.bottom -= line - ascent - most(words, &HANG, HANG_OF_ALL) * size;
    ink
}

impl Plate {
    /// Whether it holds the area, its rounded corners minded.
    pub fn holds(&self, area: &Area, slack: f32) -> bool {
        self.area.holds_rounded(area, self.radius, slack)
    }

    /// Whether it shares anything with the area, its rounded corners minded.
    pub fn meets(&self, area: &Area, slack: f32) -> bool {
        self.area.meets_rounded(area, self.radius, slack)
    }
}

impl fmt::Display for Text {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "text {:?} {}", self.words, self.ink)
    }
}

impl fmt::Display for Plate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [red, green, blue] = [self.fill.red(), self.fill.green(), self.fill.blue()];
        write!(f, "a plate #{red:02x}{green:02x}{blue:02x} {}", self.area)
    }
}

impl fmt::Display for Control {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "control {:?} {}", self.id, self.area)
    }
}
