//! What an accessibility tool is told, and what is left when colours cannot be told apart.
//!
//! Simulation of colour vision: Machado, Oliveira, Fernandes, "A Physiologically-based Model for Simulation of Color
//! Vision Deficiency" (IEEE TVCG 15, 2009), table of matrices for severity 1.0, applied to linear RGB; the numbers are
//! from memory. Colour difference: CIE 1976 L*a*b* (CIE 15), white D65; numbers from memory.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::bench::{Bench, pose, wait};
use i_slint_backend_testing::{AccessibleRole, ElementHandle, ElementQuery};
use image::RgbaImage;
use slint::{Color, ComponentHandle as _};
use sparkout_ui::screen::{Body, Language, ProveVerdict, Screen, Settings, Theme as ThemeChoice};
use sparkout_ui::window::Theme;
use std::collections::BTreeSet;

fn elements(bench: &Bench, wanted: impl Fn(&ElementHandle) -> bool + 'static) -> Vec<ElementHandle> {
    ElementQuery::from_root(bench.window.component()).match_descendants().match_predicate(wanted).find_all()
}

fn shown(element: &ElementHandle) -> bool {
    let size = element.size();
    size.width >= 1.0 && size.height >= 1.0
}

#[test]
fn everything_with_a_role_has_a_label() {
    let bench = Bench::new(1280.0, 800.0);
    let mut nameless = BTreeSet::new();
    let mut seen = 0;
    for language in [Language::English, Language::Spanish] {
        for (name, screen) in crate::samples::all(language) {
            bench.show(&screen);
            let with_role = |element: &ElementHandle| {
                element.accessible_role().is_some_and(|role| role != AccessibleRole::None) && shown(element)
            };
            for element in elements(&bench, with_role) {
                seen += 1;
                // A text is its own label; one without words is only room.
                let words = element.accessible_role() == Some(AccessibleRole::Text);
                if !words && element.accessible_label().unwrap_or_default().trim().is_empty() {
                    nameless.insert(format!("{name}: {:?} {:?}", element.accessible_role(), element.type_name()));
                }
            }
        }
    }
    assert!(seen > 1000, "only {seen} elements: the tree is not there");
    assert!(nameless.is_empty(), "{nameless:#?}");
}

#[test]
fn whatever_reacts_to_a_finger_is_in_the_tree_as_a_button() {
    let bench = Bench::new(1280.0, 800.0);
    for (name, screen) in crate::samples::all(Language::English) {
        bench.show(&screen);
        // The veil of a question takes presses so that nothing below does: it is no control.
        if screen.question.is_some() {
            continue;
        }
        let buttons = bench.controls();
        let touched = elements(&bench, |element| {
            element.bases().is_some_and(|mut bases| bases.any(|base| base == "TouchArea"))
                || element.type_name().is_some_and(|name| name == "TouchArea")
        });
        assert!(touched.len() >= buttons.len() || buttons.is_empty(), "{name}: touch areas are not found");
        // So does the veil over a card of practice or of the tour; and the watch under everything only notes that
        // somebody is there.
        let covers = |area: &ElementHandle| area.size().width >= 1279.0 && area.size().height >= 799.0;
        let veiled = screen.manners.coach.is_some();
        for area in touched.iter().filter(|area| shown(area) && !covers(area) && !veiled) {
            let (at, size) = (area.absolute_position(), area.size());
            let (x, y) = (at.x + size.width / 2.0, at.y + size.height / 2.0);
            let named = buttons.iter().any(|button| {
                let (at, size) = (button.absolute_position(), button.size());
                let inside = x >= at.x && y >= at.y && x <= at.x + size.width && y <= at.y + size.height;
                inside && button.accessible_id().is_some_and(|id| !id.is_empty())
            });
            assert!(named, "{name}: something at {at:?} {size:?} reacts and has no name");
        }
    }
}

// Colour.

type Matrix = [[f64; 3]; 3];

const DEFICIENCIES: [(&str, Matrix); 3] = [
    (
        "protanopia",
        [[0.152_286, 1.052_583, -0.204_868], [0.114_503, 0.786_281, 0.099_216], [-0.003_882, -0.048_116, 1.051_998]],
    ),
    (
        "deuteranopia",
        [[0.367_322, 0.860_646, -0.227_968], [0.280_085, 0.672_501, 0.047_413], [-0.011_820, 0.042_940, 0.968_881]],
    ),
    (
        "tritanopia",
        [[1.255_528, -0.076_749, -0.178_779], [-0.078_411, 0.930_809, 0.147_602], [0.004_733, 0.691_367, 0.303_900]],
    ),
];

/// The least difference that is seen at a glance between two areas; common practice, from memory (1 is just seen).
const TOLD_APART: f64 = 10.0;

fn multiplied(matrix: &Matrix, [x, y, z]: [f64; 3]) -> [f64; 3] {
    matrix.map(|[a, b, c]| a * x + b * y + c * z)
}

fn linear(colour: Color) -> [f64; 3] {
    [colour.red(), colour.green(), colour.blue()].map(|value| {
        let value = f64::from(value) / 255.0;
        if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
    })
}

/// L*, a*, b* of linear sRGB (IEC 61966-2-1).
fn lab(rgb: [f64; 3]) -> [f64; 3] {
    const TO_XYZ: Matrix = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]];
    let [x, y, z] = multiplied(&TO_XYZ, rgb.map(|part| part.clamp(0.0, 1.0)));
    let f = |t: f64| if t > 0.008_856 { t.cbrt() } else { 7.787 * t + 16.0 / 116.0 };
    let (fx, fy, fz) = (f(x / 0.9505), f(y), f(z / 1.089));
    [116.0 * fy - 16.0, 500.0 * (fx - fy), 200.0 * (fy - fz)]
}

fn apart(one: Color, other: Color, seen_by: &Matrix) -> f64 {
    let [one, other] = [one, other].map(|colour| lab(multiplied(seen_by, linear(colour))));
    one.iter().zip(other).map(|(one, other)| (one - other).powi(2)).sum::<f64>().sqrt()
}

/// What stands beside each other on a screen and means different things.
fn pairs(t: &Theme<'_>) -> Vec<(&'static str, Color, Color)> {
    vec![
        ("done and now", t.get_action(), t.get_spark()),
        ("done and now, on the furniture", t.get_furniture_done(), t.get_spark()),
        ("done and to come, on the furniture", t.get_furniture_done(), t.get_furniture_edge()),
        ("measured and estimated", t.get_action(), t.get_brass()),
        ("now and estimated", t.get_spark(), t.get_brass()),
        ("action and off", t.get_action(), t.get_ground()),
        ("key and key pressed", t.get_panel(), t.get_key_down()),
        ("DANGER and WARNING", t.get_danger(), t.get_warning()),
        ("WARNING and CAUTION", t.get_warning(), t.get_caution()),
        ("DANGER and NOTICE", t.get_danger(), t.get_notice()),
        ("CAUTION and NOTICE", t.get_caution(), t.get_notice()),
    ]
}

#[test]
fn the_simulation_leaves_grey_as_it_is() {
    for (name, matrix) in &DEFICIENCIES {
        for row in matrix {
            assert!((row.iter().sum::<f64>() - 1.0).abs() < 1e-5, "{name}: {row:?}");
        }
    }
    let [lightness, a, b] = lab([1.0, 1.0, 1.0]);
    assert!((lightness - 100.0).abs() < 0.01 && a.abs() < 0.1 && b.abs() < 0.1);
}

#[test]
fn roles_that_mean_different_things_can_be_told_apart_without_full_colour_vision() {
    let bench = Bench::new(1280.0, 800.0);
    let mut close = Vec::new();
    for choice in [ThemeChoice::Light, ThemeChoice::Dark, ThemeChoice::Contrast] {
        bench.show(&Screen { settings: Settings { theme: choice, ..Settings::default() }, ..Screen::default() });
        for (pair, one, other) in pairs(&bench.window.component().global::<Theme>()) {
            for (deficiency, matrix) in &DEFICIENCIES {
                let difference = apart(one, other, matrix);
                if difference < TOLD_APART {
                    close.push(format!("{choice:?}, {deficiency}: {pair} {difference:.1}"));
                }
            }
        }
    }
    assert!(close.is_empty(), "{close:#?}");
}

// Shape and word.

/// The largest mark on the screen as dots that are its ground or not.
fn silhouette(bench: &Bench, screen: &Screen) -> Vec<bool> {
    pose::show(&bench.window, "", screen);
    let mark = ElementHandle::find_by_element_type_name(bench.window.component(), "Mark")
        .max_by(|one, other| one.size().width.total_cmp(&other.size().width))
        .expect("a mark");
    outline(&pose::picture(&bench.window), &mark)
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "positions on the picture")]
fn outline(picture: &RgbaImage, mark: &ElementHandle) -> Vec<bool> {
    let (at, size) = (mark.absolute_position(), mark.size());
    let (left, top) = (at.x.floor() as u32, at.y.floor() as u32);
    let side = size.width.max(size.height).ceil() as u32;
    let ground = *picture.get_pixel(left.saturating_sub(2), top.saturating_sub(2));
    (0..side)
        .flat_map(|y| (0..side).map(move |x| (left + x, top + y)))
        .map(|(x, y)| picture.get_pixel(x, y).0.iter().zip(ground.0).any(|(one, other)| one.abs_diff(other) > 40))
        .collect()
}

/// Every pair of shapes differs in a tenth of its dots at least.
fn assert_distinct(shapes: &[(String, Vec<bool>)]) {
    for (index, (name, shape)) in shapes.iter().enumerate() {
        assert!(shape.iter().any(|dot| *dot), "{name}: nothing is drawn");
        for (other_name, other) in &shapes[..index] {
            let differing = shape.iter().zip(other).filter(|(one, other)| one != other).count();
            assert!(differing * 10 >= shape.len(), "{name} and {other_name} differ in {differing} of {}", shape.len());
        }
    }
}

#[test]
fn a_verdict_is_told_by_its_shape_and_its_word() {
    let bench = Bench::new(1280.0, 800.0);
    let mut shapes = Vec::new();
    let mut words = BTreeSet::new();
    let verdicts = [ProveVerdict::Pass, ProveVerdict::Regrind, ProveVerdict::Repeat, ProveVerdict::AcceptedNotProven];
    for verdict in verdicts {
        let (_, mut screen) =
            crate::samples::all(Language::English).into_iter().find(|(name, _)| *name == "61-prove-pass").unwrap();
        let Body::Prove(prove) = &mut screen.body else { panic!("the sample is another") };
        prove.verdict = verdict;
        shapes.push((format!("{verdict:?}"), silhouette(&bench, &screen)));
        let largest = |text: &ElementHandle| text.size().height;
        let word = bench.texts().into_iter().max_by(|one, other| largest(one).total_cmp(&largest(other))).unwrap();
        words.insert(word.accessible_label().unwrap_or_default());
    }
    assert_distinct(&shapes);
    assert_eq!(words.len(), verdicts.len(), "{words:?}");
}

#[test]
fn what_was_found_at_the_look_is_told_by_its_shape_and_its_word() {
    let bench = Bench::new(1280.0, 800.0);
    let mut shapes: Vec<(String, Vec<bool>)> = Vec::new();
    for sample in ["10-receive", "11-receive-held"] {
        bench.show_sample(sample);
        wait(1200);
        let picture = pose::picture(&bench.window);
        let rows = bench.controls().into_iter().filter(|control| {
            ["Reel bearings", "Rollers", "Blades and spiders"]
                .iter()
                .any(|name| control.accessible_id().is_some_and(|id| id == *name))
        });
        for row in rows {
            let word = row.accessible_value().unwrap_or_default().to_string();
            let mark = row
                .query_descendants()
                .match_type_name("Mark")
                .find_first()
                .unwrap_or_else(|| panic!("{word}: no mark on the row"));
            if !shapes.iter().any(|(known, _)| *known == word) {
                shapes.push((word, outline(&picture, &mark)));
            }
        }
    }
    assert_eq!(shapes.len(), 4, "good, note, bad, not seen");
    assert_distinct(&shapes);
}
