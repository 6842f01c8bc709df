//! How quick the kiosk is, each figure beside an empty Slint window's in the same run: `cargo bench -p sparkout --bench
//! kiosk`. It prints; it fails nothing. The aims are those of the product: a full redraw within 16 ms at 1280×800, a
//! changed picture within 50 ms of an input, below 1 % of a core when idle, a first frame within 500 ms with a million
//! journal entries, below 150 MB.

#![allow(missing_docs, clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::cast_precision_loss)]

#[path = "kiosk/drawing.rs"]
mod drawing;
#[path = "kiosk/process.rs"]
mod process;
#[path = "../../ui/tests/samples/mod.rs"]
mod samples;

/// A window with nothing in it: what Slint itself costs.
mod empty {
    #![allow(unused_qualifications, clippy::all, clippy::pedantic, clippy::restriction)]
    slint::slint! {
        export component Empty inherits Window {
            preferred-width: 1280px;
            preferred-height: 800px;
            background: #f3efe6;
        }
    }
}

/// One line of the table; without an aim it is only told.
pub fn report(what: &str, ours: f64, empty: f64, unit: &str, aim: Option<f64>) {
    let ratio = if empty >= 0.01 { format!("{:.1}", ours / empty) } else { "–".to_owned() };
    let aim = match aim {
        Some(aim) if ours <= aim => format!("aim {aim} {unit}, within"),
        Some(aim) => format!("aim {aim} {unit}, MISSED"),
        None => String::new(),
    };
    println!("{what:<52} {ours:>8.2} {unit:<2}  empty window {empty:>6.2} {unit:<2}  ratio {ratio:>5}  {aim}");
}

/// The middle one.
pub fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(f64::NAN)
}

fn main() {
    let mut arguments = std::env::args().skip(1);
    match arguments.next().as_deref() {
        // Processes that this program starts of itself.
        Some("empty-window") => process::run_empty_window(),
        Some("first-frame") => process::first_frame(&arguments.next().expect("a folder")),
        Some("empty-first-frame") => process::empty_first_frame(),
        _ => {
            println!(
                "renderer: software; medians; profile: {}",
                if cfg!(debug_assertions) { "dev" } else { "release" }
            );
            drawing::measure();
            process::measure_first_frame();
            process::measure_idle();
        }
    }
}
