#![allow(clippy::unwrap_used, clippy::panic)]
use super::super::readback::{proof, read_back};
use super::*;
use jiff::civil::date;
use sparkout_core::label::LabelLanguage;
use sparkout_core::reading::{Reading, Units};

/// A result from an invented shop.
pub(crate) fn content() -> LabelContent {
    LabelContent {
        unit: "Q-114".to_owned(),
        mower: "Greens 3".to_owned(),
        position: "front left".to_owned(),
        date: date(2026, 11, 25),
        lead: Some(Reading::from_nanometres(126_949_200)),
        trail: Some(Reading::from_nanometres(126_936_500)),
        cone: Some(Length::from_mm(0.0127)),
        cone_u95: Some(Length::from_mm(0.0073)),
        land: Some(Reading::from_nanometres(1_016_000)),
        height_of_cut: Some(Reading::from_nanometres(3_175_000)),
        operator: "MS".to_owned(),
        station: "Bench A".to_owned(),
        verdict: LabelVerdict::Proven,
        next_due: Some(date(2027, 3, 1)),
        grind: "A7-000412".to_owned(),
    }
}

fn hub() -> HubAddress {
    HubAddress::parse("hub.example:8443").unwrap()
}

fn layouts() -> Vec<LabelLayout> {
    let mut layouts = Vec::new();
    for dots_per_inch in [203, 300, 600] {
        for language in [LabelLanguage::English, LabelLanguage::Spanish] {
            for units in [Units::Inch, Units::Thou, Units::Metric] {
                layouts.push(LabelLayout { dots_per_inch, language, units, ..LabelLayout::default() });
            }
        }
    }
    layouts
}

fn overlap(one: &DotRect, other: &DotRect) -> bool {
    one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom
}

/// Nothing clipped, nothing on anything else, the quiet zone white, and every dark dot accounted for.
fn check_drawn(drawn: &Drawn) {
    let (width, height) = (drawn.bitmap.width() as i32, drawn.bitmap.height() as i32);
    for (place, (name, area)) in drawn.boxes.iter().enumerate() {
        assert!(area.left >= 0 && area.top >= 0 && area.right <= width && area.bottom <= height, "{name:?} {area:?}");
        assert!(area.right <= drawn.code.left, "{name:?} {area:?} reaches the quiet zone at {}", drawn.code.left);
        for (other, other_area) in &drawn.boxes[place + 1..] {
            assert!(!overlap(area, other_area), "{name:?} {area:?} on {other:?} {other_area:?}");
        }
    }
    let quiet = code::QUIET_MODULES * drawn.module_dots;
    let symbol = DotRect {
        left: drawn.code.left + quiet,
        top: drawn.code.top + quiet,
        right: drawn.code.right - quiet,
        bottom: drawn.code.bottom - quiet,
    };
    let inside = |area: &DotRect, x, y| (area.left..area.right).contains(&x) && (area.top..area.bottom).contains(&y);
    for y in 0..height {
        for x in 0..width {
            let explained = inside(&symbol, x, y) || drawn.boxes.iter().any(|(_, area)| inside(area, x, y));
            assert!(explained || !drawn.bitmap.is_dark(x, y), "dot at {x}, {y}");
        }
    }
    assert!(drawn.bitmap.is_dark(symbol.left, symbol.top) && drawn.bitmap.is_dark(symbol.right - 1, symbol.top));
}

#[test]
fn every_resolution_language_and_unit_reads_back() {
    for layout in layouts() {
        for verdict in [LabelVerdict::Proven, LabelVerdict::WithinNotProven] {
            let content = LabelContent { verdict, ..content() };
            let drawn = render(&content, &hub(), &layout).unwrap();
            check_drawn(&drawn);
            assert_eq!(read_back(&drawn.bitmap).unwrap(), drawn.url, "{layout:?}");
            assert!(proof(&drawn.bitmap, &drawn.url).is_ok());
            let least = if layout.dots_per_inch == 203 { 4 } else { 5 };
            assert!(drawn.module_dots >= least, "{} dots at {}", drawn.module_dots, layout.dots_per_inch);
            assert!(drawn.boxes.len() == 8, "{:?}", drawn.boxes);
        }
    }
}

#[test]
fn the_raster_lies_within_the_label() {
    // 62 mm and 29 mm at 203 dpi are 495.5 and 231.8 dots.
    let drawn = render(&content(), &hub(), &LabelLayout::default()).unwrap();
    assert_eq!((drawn.bitmap.width(), drawn.bitmap.height()), (495, 231));
}

#[test]
fn the_tag_is_the_largest() {
    for layout in layouts() {
        let drawn = render(&content(), &hub(), &layout).unwrap();
        let height = |wanted: LineName| drawn.boxes.iter().find(|(name, _)| *name == wanted).unwrap().1.height();
        for (name, area) in &drawn.boxes {
            assert!(*name == LineName::Tag || area.height() < height(LineName::Tag), "{name:?} {area:?}");
        }
    }
}

#[test]
fn long_names_stay_whole_and_readable() {
    for mower in
        ["Greens 3 at the north shed", "Segadora de calles grandes n.º 12, norte", "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWW"]
    {
        let content = LabelContent { mower: mower.to_owned(), ..content() };
        let drawn = render(&content, &hub(), &LabelLayout::default()).unwrap();
        check_drawn(&drawn);
        assert_eq!(read_back(&drawn.bitmap).unwrap(), drawn.url, "{mower}");
        assert!(drawn.module_dots >= 3);
    }
}

#[test]
fn accents_are_drawn() {
    let accented = LabelContent {
        mower: "Güines Ñandú Ålö".to_owned(),
        position: "atrás derecha".to_owned(),
        station: "Banco Çé".to_owned(),
        ..content()
    };
    let drawn = render(&accented, &hub(), &LabelLayout { language: LabelLanguage::Spanish, ..LabelLayout::default() });
    check_drawn(&drawn.unwrap());
    let foreign = LabelContent { mower: "鋤 3".to_owned(), ..content() };
    let refused = render(&foreign, &hub(), &LabelLayout::default());
    assert!(matches!(refused, Err(LabelError::NoGlyph { line: LineName::Place, character: '鋤' })));
}

#[test]
fn too_long_is_refused_with_the_limit() {
    let small = LabelLayout { width: Length::from_mm(45.0), height: Length::from_mm(25.0), ..LabelLayout::default() };
    let long = LabelContent { unit: "W".repeat(34), ..content() };
    match render(&long, &hub(), &small) {
        Err(LabelError::TextTooLong { line: LineName::Tag, characters: 34, most }) => {
            let fits = LabelContent { unit: "W".repeat(most), ..content() };
            assert!(most > 4 && most < 34, "{most}");
            let refused = render(&fits, &hub(), &LabelLayout { height: Length::from_mm(60.0), ..small });
            assert!(!matches!(refused, Err(LabelError::TextTooLong { line: LineName::Tag, .. })), "{refused:?}");
        }
        other => panic!("{other:?}"),
    }
    let longer = LabelContent { unit: "W".repeat(35), ..content() };
    assert!(matches!(render(&longer, &hub(), &LabelLayout::default()), Err(LabelError::Content(_))));
}

#[test]
fn labels_that_cannot_be() {
    let with = |width, height, dots_per_inch| {
        let layout = LabelLayout {
            width: Length::from_mm(width),
            height: Length::from_mm(height),
            dots_per_inch,
            ..LabelLayout::default()
        };
        render(&content(), &hub(), &layout)
    };
    assert!(matches!(with(62.0, 12.0, 203), Err(LabelError::NoRoomForCode { .. })));
    assert!(matches!(with(f64::NAN, 29.0, 203), Err(LabelError::Size { .. })));
    assert!(matches!(with(62.0, 1e9, 203), Err(LabelError::Size { .. })));
    assert!(matches!(with(62.0, 29.0, 0), Err(LabelError::Resolution { .. })));
    for (width, height) in [(100.0, 50.0), (54.0, 25.0), (100.0, 150.0), (70.0, 36.0)] {
        let drawn = with(width, height, 203).unwrap();
        check_drawn(&drawn);
        assert_eq!(read_back(&drawn.bitmap).unwrap(), drawn.url, "{width} x {height}");
    }
}

#[test]
fn a_damaged_raster_is_not_proved() {
    let drawn = render(&content(), &hub(), &LabelLayout::default()).unwrap();
    assert!(matches!(proof(&drawn.bitmap, "HTTPS://HUB/L/OTHER"), Err(LabelError::ReadsDifferently)));
    let mut wiped = drawn.bitmap.clone();
    let half = DotRect { right: drawn.code.left + drawn.code.width() / 2, ..drawn.code };
    wiped.fill(half, true);
    assert!(proof(&wiped, &drawn.url).is_err());
    assert!(matches!(read_back(&Bitmap::blank(495, 231, 203)), Err(LabelError::NoCode)));
    assert!(matches!(read_back(&Bitmap::blank(0, 0, 203)), Err(LabelError::NoCode)));
}
