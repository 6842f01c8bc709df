//! `sparkout label`: labels from the command line.

use super::bitmap::Bitmap;
use super::layout::LabelLayout;
use super::print::{FolderPrinter, LabelJob, LabelPrinter};
use super::readback::read_back;
use super::render::render;
use anyhow::{Context, bail};
use clap::{Subcommand, ValueEnum};
use serde::Serialize;
use sparkout_core::label::{HubAddress, LabelContent, LabelLanguage, Seal, decode_url};
use sparkout_core::quantity::Length;
use sparkout_core::reading::Units;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// A record is below 2 kB; what is longer is another file.
const CONTENT_BYTES_MOST: u64 = 64 * 1024;

/// Draw labels, and read them.
#[derive(Debug, Subcommand)]
pub enum LabelCommand {
    /// Read the label in a picture (PNG) and print its record as JSON. Exit codes: 0 read, 2 not read.
    Read {
        /// The picture.
        file: PathBuf,
    },
    /// Draw a label from its content, one JSON object on standard input, as PNG. Exit codes: 0 written, 2 not written.
    Render {
        /// The picture to write; its folder must exist.
        file: PathBuf,
        /// The printer's dots per inch, 150 to 1200.
        #[arg(long, default_value_t = 203, value_name = "DPI")]
        dpi: u32,
        /// Width x height in millimetres.
        #[arg(long, default_value = "62x29", value_parser = size, value_name = "WxH")]
        size: (Length, Length),
        /// The language of the words.
        #[arg(long, value_enum, default_value_t = LanguageArgument::En)]
        language: LanguageArgument,
        /// The units of the figures.
        #[arg(long, value_enum, default_value_t = UnitsArgument::Inch)]
        units: UnitsArgument,
        /// The shop's hub, as its phones reach it.
        #[arg(long, default_value = "hub.local:8443", value_parser = HubAddress::parse, value_name = "HOST:PORT")]
        hub: HubAddress,
    },
}

/// A language by its ISO 639 code.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum LanguageArgument {
    /// English
    En,
    /// Spanish
    Es,
}

/// Units by the names that the program uses everywhere.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum UnitsArgument {
    /// Inches
    Inch,
    /// Thousandths of an inch for what is fine
    Thou,
    /// Millimetres
    Metric,
}

fn size(text: &str) -> Result<(Length, Length), String> {
    let number = |part: &str| part.trim().parse::<f64>().ok().filter(|mm| mm.is_finite()).map(Length::from_mm);
    text.split_once(['x', 'X', '×'])
        .and_then(|(width, height)| Some((number(width)?, number(height)?)))
        .ok_or_else(|| "width x height in millimetres, such as 62x29".to_owned())
}

/// A label as it is printed as JSON.
#[derive(Serialize)]
struct ReadLabel {
    hub: HubAddress,
    seal: &'static str,
    record: LabelContent,
}

impl LabelCommand {
    /// Runs it; what is wrong goes to standard error in one line.
    pub fn run(self) -> ExitCode {
        let done = match self {
            Self::Read { file } => read(&file),
            Self::Render { file, dpi, size: (width, height), language, units, hub } => {
                let language = match language {
                    LanguageArgument::En => LabelLanguage::English,
                    LanguageArgument::Es => LabelLanguage::Spanish,
                };
                let units = match units {
                    UnitsArgument::Inch => Units::Inch,
                    UnitsArgument::Thou => Units::Thou,
                    UnitsArgument::Metric => Units::Metric,
                };
                draw(
                    &file,
                    &hub,
                    &LabelLayout {
                        width,
                        height,
                        dots_per_inch: dpi,
                        language,
                        units,
                        practice: false,
                        decimal_comma: false,
                    },
                )
            }
        };
        match done {
            Ok(line) => {
                crate::cli::say(&line);
                ExitCode::SUCCESS
            }
            Err(error) => {
                eprintln!("sparkout label: {error:#}");
                ExitCode::from(2)
            }
        }
    }
}

fn read(file: &Path) -> anyhow::Result<String> {
    let bytes = std::fs::read(file).with_context(|| format!("cannot read {}", file.display()))?;
    let text = read_back(&Bitmap::from_png(&bytes)?)?;
    let shown: String = text.chars().take(80).flat_map(char::escape_default).collect();
    let label = decode_url(&text).with_context(|| format!("the picture holds the code \"{shown}\""))?;
    let seal = match label.seal {
        Seal::Digest => "digest",
    };
    Ok(serde_json::to_string_pretty(&ReadLabel { hub: label.hub, seal, record: label.content })?)
}

fn draw(file: &Path, hub: &HubAddress, layout: &LabelLayout) -> anyhow::Result<String> {
    let (Some(folder), Some(name)) = (file.parent(), file.file_stem().and_then(|name| name.to_str())) else {
        bail!("{} is not the name of a file", file.display());
    };
    if file.extension().is_none_or(|extension| extension != "png") {
        bail!("{} does not end in .png", file.display());
    }
    let mut json = String::new();
    std::io::stdin().take(CONTENT_BYTES_MOST).read_to_string(&mut json).context("cannot read standard input")?;
    let content: LabelContent = serde_json::from_str(&json).context("standard input is not a label's content")?;
    let drawn = render(&content, hub, layout)?;
    let (width, height, dpi) = (drawn.bitmap.width(), drawn.bitmap.height(), drawn.bitmap.dots_per_inch());
    let modules = drawn.module_dots;
    let job = LabelJob::proved(name, drawn.bitmap, &drawn.url)?;
    let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    let printed_to = FolderPrinter::new(folder.to_owned()).print(&job)?.printed_to;
    Ok(format!("{printed_to}: {width} x {height} dots at {dpi} dpi, {modules} dots a module, read back"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_as_typed() {
        assert_eq!(size("62x29"), Ok((Length::from_mm(62.0), Length::from_mm(29.0))));
        assert_eq!(size("54.5 X 25"), Ok((Length::from_mm(54.5), Length::from_mm(25.0))));
        for wrong in ["", "62", "x", "62x", "NaNx29", "infx1", "62x29x1"] {
            assert!(size(wrong).is_err(), "{wrong}");
        }
    }
}
