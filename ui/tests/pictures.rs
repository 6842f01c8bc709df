//! One stored picture of every sample screen: 1280×800, light, Spanish. A difference is written beside its picture
//! under `target/pictures`; `SPARKOUT_UPDATE_PICTURES=1` stores what is drawn now.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::bench::{Bench, pose};
use image::{Rgb, RgbImage, RgbaImage};
use sparkout_ui::screen::Language;
use sparkout_ui::window::ThemeName;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// How far one channel of a pixel may be off: edges are smoothed in floating point, which compilers may round apart.
const LEVELS: u8 = 16;

/// How many pixels may be further off, of a thousand.
const PER_MILLE: usize = 1;

fn stored_folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/pictures")
}

fn new_folder() -> PathBuf {
    PathBuf::from(env!("CARGO_TARGET_TMPDIR")).with_file_name("pictures")
}

/// Every sample as it is drawn now.
fn drawn() -> Vec<(String, RgbImage)> {
    let bench = Bench::new(1280.0, 800.0);
    bench.window.set_panel_width_mm(217.0);
    let mut pictures = Vec::new();
    for (name, screen) in crate::samples::all(Language::Spanish) {
        pose::show(&bench.window, name, &screen);
        pictures.push((name.to_owned(), opaque(&pose::picture(&bench.window))));
        if pose::open_kinds(&bench.window, name) {
            pictures.push((format!("{name}-kinds"), opaque(&pose::picture(&bench.window))));
        }
        pose::release(&bench.window, name);
    }
    let gallery = pose::widgets(ThemeName::Light);
    pictures.push(("widgets".to_owned(), opaque(&pose::widgets_picture(&gallery))));
    pictures
}

fn opaque(picture: &RgbaImage) -> RgbImage {
    image::DynamicImage::from(picture.clone()).to_rgb8()
}

fn differs(one: Rgb<u8>, other: Rgb<u8>) -> bool {
    one.0.iter().zip(other.0).any(|(one, other)| one.abs_diff(other) > LEVELS)
}

/// The pixels that are too far off.
fn difference(stored: &RgbImage, new: &RgbImage) -> usize {
    if stored.dimensions() != new.dimensions() {
        return usize::MAX;
    }
    stored.pixels().zip(new.pixels()).filter(|(one, other)| differs(**one, **other)).count()
}

/// The new picture in pale grey, what differs in red.
fn marked(stored: &RgbImage, new: &RgbImage) -> RgbImage {
    RgbImage::from_fn(new.width(), new.height(), |x, y| {
        let pixel = *new.get_pixel(x, y);
        if stored.get_pixel_checked(x, y).is_some_and(|stored| !differs(*stored, pixel)) {
            let grey = 200 + pixel.0[1] / 5;
            Rgb([grey, grey, grey])
        } else {
            Rgb([200, 0, 0])
        }
    })
}

/// Colours are told apart only so far when a picture is stored: its file is a third as large, and the error a quarter
/// of what the comparison allows.
fn coarse(picture: &RgbImage, bits: u32) -> RgbImage {
    let mut coarse = picture.clone();
    for value in coarse.pixels_mut().flat_map(|pixel| &mut pixel.0) {
        let most = (1_u16 << bits) - 1;
        let step = (u16::from(*value) * most + 127) / 255;
        *value = u8::try_from(step * 255 / most).unwrap();
    }
    coarse
}

/// Stores a picture with a palette of at most 256 colours, or as it is when it has more at the coarseness allowed.
fn store(path: &Path, picture: &RgbImage) {
    let few = (4..=6)
        .rev()
        .map(|bits| coarse(picture, bits))
        .map(|picture| (picture.pixels().map(|pixel| pixel.0).collect::<BTreeSet<_>>(), picture))
        .find(|(colours, _)| colours.len() <= 256);
    let Some((colours, picture)) = few else { return picture.save(path).unwrap() };
    let index: BTreeMap<_, _> = colours.iter().zip(0..=u8::MAX).collect();
    let dots: Vec<u8> = picture.pixels().map(|pixel| index[&pixel.0]).collect();
    let file = std::io::BufWriter::new(std::fs::File::create(path).unwrap());
    let mut encoder = png::Encoder::new(file, picture.width(), picture.height());
    encoder.set_color(png::ColorType::Indexed);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_palette(colours.iter().flatten().copied().collect::<Vec<u8>>());
    encoder.set_compression(png::Compression::High);
    encoder.set_filter(png::Filter::NoFilter);
    encoder.write_header().unwrap().write_image_data(&dots).unwrap();
}

fn update(pictures: &[(String, RgbImage)]) {
    let folder = stored_folder();
    std::fs::create_dir_all(&folder).unwrap();
    for path in files(&folder) {
        std::fs::remove_file(path).unwrap();
    }
    for (name, picture) in pictures {
        store(&folder.join(format!("{name}.png")), picture);
    }
}

fn files(folder: &Path) -> Vec<PathBuf> {
    std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "png"))
        .collect()
}

#[test]
fn every_screen_looks_as_stored() {
    let pictures = drawn();
    if std::env::var_os("SPARKOUT_UPDATE_PICTURES").is_some_and(|value| value == "1") {
        update(&pictures);
    }
    let mut off = Vec::new();
    let new_folder = new_folder();
    let mut kept: BTreeSet<_> = files(&stored_folder()).into_iter().collect();
    for (name, new) in &pictures {
        let path = stored_folder().join(format!("{name}.png"));
        kept.remove(&path);
        let stored = image::open(&path).map(|picture| picture.to_rgb8()).unwrap_or_default();
        let count = difference(&stored, new);
        if count > new.pixels().len() * PER_MILLE / 1000 {
            std::fs::create_dir_all(&new_folder).unwrap();
            let (new_path, marks) =
                (new_folder.join(format!("{name}.png")), new_folder.join(format!("{name}-difference.png")));
            new.save(&new_path).unwrap();
            marked(&stored, new).save(&marks).unwrap();
            off.push(format!("{name}: {count} pixels; {} and {}", new_path.display(), marks.display()));
        }
    }
    off.extend(kept.iter().map(|path| format!("no such screen any more: {}", path.display())));
    assert!(off.is_empty(), "store them with SPARKOUT_UPDATE_PICTURES=1 once they are looked at: {off:#?}");
}

#[test]
fn a_picture_is_the_same_whatever_was_shown_before() {
    let once = drawn();
    let bench = Bench::new(1280.0, 800.0);
    bench.window.set_panel_width_mm(217.0);
    for (name, screen) in crate::samples::all(Language::Spanish).into_iter().rev() {
        pose::show(&bench.window, name, &screen);
        let (_, first) = once.iter().find(|(drawn, _)| drawn == name).unwrap();
        assert!(*first == opaque(&pose::picture(&bench.window)), "{name}");
        pose::release(&bench.window, name);
    }
}

#[test]
fn a_small_change_is_found() {
    let stored = RgbImage::from_pixel(100, 100, Rgb([243, 239, 230]));
    let mut new = stored.clone();
    for x in 0..20 {
        new.put_pixel(x, 50, Rgb([226, 239, 230]));
    }
    assert_eq!(difference(&stored, &new), 20);
    assert_eq!(difference(&stored, &coarse(&stored, 5)), 0);
    assert_eq!(marked(&stored, &new).get_pixel(3, 50), &Rgb([200, 0, 0]));
    assert_eq!(difference(&RgbImage::default(), &new), usize::MAX);
}
