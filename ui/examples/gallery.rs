//! Draws every sample screen to a PNG, without a display: `gallery OUTDIR [--size 1280x800] [--language en|es]
//! [--theme light|dark|contrast] [--panel-mm 217] [--only TEXT] [--full] [--long]`.
//!
//! With `--widgets`, every widget in every state instead, in each theme.
//!
//! With `--all`, every language, theme and size, each in a folder of its own, beside a contact sheet of each. The
//! single pictures lie there at half their size unless `--full` is given. With `--long`, the screens with the longest
//! words instead of the usual ones.

#![allow(missing_docs, clippy::expect_used, clippy::panic)]

#[path = "../tests/bench/pose.rs"]
mod pose;
#[path = "../tests/samples/mod.rs"]
mod samples;

use i_slint_backend_testing::{TestingBackend, TestingBackendOptions};
use image::RgbaImage;
use slint::ComponentHandle as _;
use sparkout_ui::screen::{Language, Theme};
use sparkout_ui::window::{KioskWindow, ThemeName};
use std::path::{Path, PathBuf};

/// Panels that are sold: pixels across and down, and the width of the picture in millimetres.
const PANELS: [(u32, u32, f32); 3] = [(1024, 600, 223.0), (1280, 800, 217.0), (1920, 1080, 345.0)];

/// Pictures beside each other on a contact sheet, the width of one, and the gap between.
const ACROSS: u32 = 5;
const SMALL_WIDTH: u32 = 480;
const GAP: u32 = 8;

/// One way to draw the samples.
#[derive(Clone, Copy)]
struct Way {
    size: (u32, u32),
    panel_mm: f32,
    language: Language,
    theme: Theme,
}

impl Way {
    fn name(self) -> String {
        let language = if self.language == Language::Spanish { "es" } else { "en" };
        let theme = format!("{:?}", self.theme).to_lowercase();
        format!("{}x{}-{language}-{theme}", self.size.0, self.size.1)
    }
}

struct Wanted {
    folder: PathBuf,
    way: Way,
    all: bool,
    full: bool,
    long: bool,
    widgets: bool,
    only: String,
}

fn wanted() -> Wanted {
    let way = Way { size: (1280, 800), panel_mm: 217.0, language: Language::English, theme: Theme::Light };
    let mut wanted = Wanted {
        folder: PathBuf::from("gallery"),
        way,
        all: false,
        full: false,
        long: false,
        widgets: false,
        only: String::new(),
    };
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        let mut value = || words.next().expect("the option needs a value");
        match word.as_str() {
            "--size" => {
                let text = value();
                let (width, height) = text.split_once('x').expect("a size such as 1280x800");
                wanted.way.size = (width.parse().expect("width"), height.parse().expect("height"));
            }
            "--language" => {
                wanted.way.language = if value() == "es" { Language::Spanish } else { Language::English };
            }
            "--theme" => {
                wanted.way.theme = match value().as_str() {
                    "dark" => Theme::Dark,
                    "contrast" => Theme::Contrast,
                    _ => Theme::Light,
                }
            }
            "--panel-mm" => wanted.way.panel_mm = value().parse().expect("millimetres"),
            "--only" => wanted.only = value(),
            "--all" => wanted.all = true,
            "--full" => wanted.full = true,
            "--long" => wanted.long = true,
            "--widgets" => wanted.widgets = true,
            // A mistyped option would be taken for a folder of that name.
            other if other.starts_with('-') => panic!("{other} is no option of the gallery: see the head of this file"),
            folder => wanted.folder = PathBuf::from(folder),
        }
    }
    wanted
}

fn every_way() -> Vec<Way> {
    let mut ways = Vec::new();
    for (width, height, panel_mm) in PANELS {
        for language in [Language::English, Language::Spanish] {
            for theme in [Theme::Light, Theme::Dark, Theme::Contrast] {
                ways.push(Way { size: (width, height), panel_mm, language, theme });
            }
        }
    }
    ways
}

fn main() {
    let wanted = wanted();
    slint::platform::set_platform(Box::new(TestingBackend::new(TestingBackendOptions {
        mock_time: true,
        threading: false,
        renderer_name: Some("software".into()),
    })))
    .expect("the first platform of this process");
    let window = KioskWindow::new().expect("a window without a display");
    window.component().show().expect("shown");
    if wanted.widgets {
        for (name, theme) in [("light", ThemeName::Light), ("dark", ThemeName::Dark), ("contrast", ThemeName::Contrast)]
        {
            let gallery = pose::widgets(theme);
            save(&wanted.folder.join(format!("widgets-{name}.png")), &pose::widgets_picture(&gallery));
        }
        return;
    }
    if !wanted.all {
        for (name, picture) in draw(&window, wanted.way, &wanted) {
            save(&wanted.folder.join(format!("{name}.png")), &picture);
        }
        return;
    }
    for way in every_way() {
        let pictures = draw(&window, way, &wanted);
        save(&wanted.folder.join(format!("{}.png", way.name())), &contact_sheet(&pictures));
        for (name, picture) in pictures {
            let path = wanted.folder.join(way.name()).join(format!("{name}.png"));
            if wanted.full {
                save(&path, &picture);
            } else {
                save(&path, &smaller(&picture, picture.width() / 2));
            }
        }
        println!("{}", way.name());
    }
}

/// The samples drawn in one way, under their names.
#[allow(clippy::cast_precision_loss, reason = "window sizes are small")]
fn draw(window: &KioskWindow, way: Way, wanted: &Wanted) -> Vec<(String, RgbaImage)> {
    window.set_panel_width_mm(way.panel_mm);
    window.set_size(way.size.0 as f32, way.size.1 as f32);
    let mut pictures = Vec::new();
    let samples = if wanted.long { samples::long(way.language) } else { samples::all(way.language) };
    for (name, mut screen) in samples {
        if !name.contains(&wanted.only) {
            continue;
        }
        screen.settings.theme = way.theme;
        pose::show(window, name, &screen);
        pictures.push((name.to_owned(), pose::picture(window)));
        if pose::open_kinds(window, name) {
            pictures.push((format!("{name}-kinds"), pose::picture(window)));
        }
        pose::release(window, name);
    }
    pictures
}

fn smaller(picture: &RgbaImage, width: u32) -> RgbaImage {
    let height = picture.height() * width / picture.width();
    image::imageops::resize(picture, width, height, image::imageops::FilterType::Triangle)
}

fn contact_sheet(pictures: &[(String, RgbaImage)]) -> RgbaImage {
    let small: Vec<_> = pictures.iter().map(|(_, picture)| smaller(picture, SMALL_WIDTH)).collect();
    let height = small.first().map_or(0, RgbaImage::height);
    let down = u32::try_from(small.len()).unwrap_or(0).div_ceil(ACROSS);
    let mut sheet = RgbaImage::from_pixel(
        ACROSS * (SMALL_WIDTH + GAP) + GAP,
        down * (height + GAP) + GAP,
        image::Rgba([120, 120, 120, 255]),
    );
    for (index, picture) in (0_u32..).zip(&small) {
        let x = GAP + index % ACROSS * (SMALL_WIDTH + GAP);
        let y = GAP + index / ACROSS * (height + GAP);
        image::imageops::replace(&mut sheet, picture, x.into(), y.into());
    }
    sheet
}

fn save(path: &Path, picture: &RgbaImage) {
    std::fs::create_dir_all(path.parent().expect("a folder")).expect("the folder for the pictures");
    picture.save(path).expect("written");
}
