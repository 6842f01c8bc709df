//! `sparkout label`: labels from the command line.

use super::bitmap::Bitmap;
use super::key_sheet::key_sheet;
use super::layout::LabelLayout;
use super::print::{FolderPrinter, LabelJob, LabelPrinter, Printed};
use super::readback::read_back;
use super::render::render;
use super::template::{Card, command_sheet};
use super::vouched::{Distrust, KnownKeys, Vouched};
use anyhow::{Context, bail};
use clap::{Args, Subcommand, ValueEnum};
use serde::Serialize;
use sparkout_core::label::{HubAddress, LabelContent, LabelLanguage, Seal, decode_url};
use sparkout_core::quantity::Length;
use sparkout_core::reading::Units;
use sparkout_core::scan::BadgeId;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// A record is below 2 kB; what is longer is another file.
const CONTENT_BYTES_MOST: u64 = 64 * 1024;

/// Draw labels, and read them.
#[derive(Debug, Subcommand)]
pub enum LabelCommand {
    /// Read the label in a picture (PNG or JPEG) and print its record as JSON. Exit codes: 0 read and nothing speaks against it, 1
    /// signed with another key than those that were given, 2 not read, or altered.
    Read {
        /// The picture.
        file: PathBuf,
        /// The key line of a bench of the shop, as `sparkout journal verify` prints it; as often as there are benches.
        #[arg(long = "key", value_name = "NAME+KEYID+BASE64")]
        keys: Vec<String>,
    },
    /// Draw a unit's tag as PNG. Exit codes: 0 written, 2 not written.
    Tag {
        /// What its code says: capital letters, digits and - . / + are held.
        code: String,
        /// The picture to write.
        file: PathBuf,
        /// What stands below, such as mower and position.
        #[arg(long, default_value = "")]
        below: String,
        /// What it is printed on.
        #[command(flatten)]
        paper: Paper,
    },
    /// Draw a badge as PNG. Exit codes: 0 written, 2 not written.
    Badge {
        /// The badge's id: letters and digits, 12 at most.
        id: String,
        /// The person's name.
        name: String,
        /// The picture to write.
        file: PathBuf,
        /// What it is printed on.
        #[command(flatten)]
        paper: Paper,
    },
    /// Draw the sheet of command cards as a page, PNG, to be pinned to the wall; with --keys that of the keyboard's keys. Exit codes: 0 written, 2 not written.
    Cards {
        /// The picture to write.
        file: PathBuf,
        /// A card for every key, for a bench without a keyboard
        #[arg(long)]
        keys: bool,
        /// Width x height of the page in millimetres.
        #[arg(long, default_value = "210x297", value_parser = size, value_name = "WxH")]
        size: (Length, Length),
        /// The printer's dots per inch, 150 to 600.
        #[arg(long, default_value_t = 300, value_name = "DPI", value_parser = clap::value_parser!(u32).range(150..=600))]
        dpi: u32,
        /// The language of the words.
        #[arg(long, value_enum, default_value_t = LanguageArgument::En)]
        language: LanguageArgument,
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

/// What a tag or a badge is printed on.
#[derive(Debug, Clone, Copy, Args)]
pub struct Paper {
    /// The printer's dots per inch, 150 to 1200.
    #[arg(long, default_value_t = 203, value_name = "DPI")]
    dpi: u32,
    /// Width x height in millimetres.
    #[arg(long, default_value = "62x29", value_parser = size, value_name = "WxH")]
    size: (Length, Length),
}

impl Paper {
    fn layout(self) -> LabelLayout {
        let (width, height) = self.size;
        LabelLayout { width, height, dots_per_inch: self.dpi, ..LabelLayout::default() }
    }
}

/// A language by its ISO 639 code.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum LanguageArgument {
    /// English
    En,
    /// Spanish
    Es,
}

impl LanguageArgument {
    const fn language(self) -> LabelLanguage {
        match self {
            Self::En => LabelLanguage::English,
            Self::Es => LabelLanguage::Spanish,
        }
    }
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
    #[serde(skip_serializing_if = "Option::is_none")]
    key: Option<String>,
    vouched_for: &'static str,
    record: LabelContent,
}

impl LabelCommand {
    /// Runs it; what is wrong goes to standard error in one line.
    pub fn run(self) -> ExitCode {
        let done = match self {
            Self::Read { file, keys } => return told(read(&file, &keys)),
            Self::Tag { code, file, below, paper } => {
                let card = Card { code: &code, title: &code, below: &below };
                card.draw(&paper.layout()).map_err(Into::into).and_then(|bitmap| write(&file, &bitmap))
            }
            Self::Badge { id, name, file, paper } => badge(&id, &name, &file, &paper.layout()),
            Self::Cards { file, keys, size: (width, height), dpi, language } => {
                let language = language.language();
                let layout = LabelLayout { width, height, dots_per_inch: dpi, language, ..LabelLayout::default() };
                let sheet = if keys { key_sheet(&layout) } else { command_sheet(&layout) };
                sheet.map_err(Into::into).and_then(|bitmap| write(&file, &bitmap))
            }
            Self::Render { file, dpi, size: (width, height), language, units, hub } => {
                let language = language.language();
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
        told(done.map(|line| (line, ExitCode::SUCCESS)))
    }
}

fn told(done: anyhow::Result<(String, ExitCode)>) -> ExitCode {
    match done {
        Ok((line, code)) => {
            crate::cli::say(&line);
            code
        }
        Err(error) => {
            eprintln!("sparkout label: {error:#}");
            ExitCode::from(2)
        }
    }
}

fn read(file: &Path, keys: &[String]) -> anyhow::Result<(String, ExitCode)> {
    let known = KnownKeys::parse(keys)?;
    let bytes = std::fs::read(file).with_context(|| format!("cannot read {}", file.display()))?;
    let text = read_back(&Bitmap::from_picture(&bytes)?)?;
    let shown: String = text.chars().take(80).flat_map(char::escape_default).collect();
    let holds = || format!("the picture holds the code \"{shown}\"");
    let label = decode_url(&text).with_context(holds)?;
    let (seal, key) = match &label.seal {
        Seal::Digest => ("digest", None),
        Seal::Signature(signature) => ("signature", Some(signature.key().to_string())),
    };
    let (vouched_for, code) = match known.judge(&label.seal) {
        Ok(Vouched::Signed { .. }) => ("signed with a key that was given", 0),
        Ok(Vouched::Digest) => ("nobody signed it: undamaged, and anybody could have written it", 0),
        Err(Distrust::UnknownKey { .. }) if keys.is_empty() => ("signed, and no key was given to check it with", 0),
        Err(Distrust::UnknownKey { .. }) => ("signed with a key that was not given: neither trusted nor false", 1),
        Err(altered @ Distrust::Altered) => return Err(altered).with_context(holds),
    };
    let told = ReadLabel { hub: label.hub, seal, key, vouched_for, record: label.content };
    Ok((serde_json::to_string_pretty(&told)?, ExitCode::from(code)))
}

fn badge(id: &str, name: &str, file: &Path, layout: &LabelLayout) -> anyhow::Result<String> {
    let code = BadgeId::new(id)?.code();
    write(file, &Card { code: &code, title: name, below: id }.draw(layout)?)
}

/// Writes a picture whose codes were read back when it was drawn.
fn write(file: &Path, bitmap: &Bitmap) -> anyhow::Result<String> {
    std::fs::write(file, bitmap.png()?).with_context(|| format!("cannot write {}", file.display()))?;
    let (width, height, dpi) = (bitmap.width(), bitmap.height(), bitmap.dots_per_inch());
    Ok(format!("{}: {width} x {height} dots at {dpi} dpi, read back", file.display()))
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
    let Printed::Out { printed_to } = FolderPrinter::new(folder.to_owned()).print(&job)? else {
        bail!("the label waits in a queue");
    };
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
