//! What a printer says of itself: its state, and which labels it takes.

use super::words;
use crate::print::{Page, pwg};
use ipp::attribute::{IppAttribute, IppAttributeGroup};
use ipp::value::{IppName, IppValue};
use sparkout_ui::words::PrinterTrouble;
use std::collections::BTreeMap;

/// What is asked of a printer.
pub(super) const WANTED: [&str; 10] = [
    "printer-state",
    "printer-state-reasons",
    "printer-is-accepting-jobs",
    "document-format-supported",
    "media-size-supported",
    "printer-resolution-supported",
    "pwg-raster-document-resolution-supported",
    "pwg-raster-document-type-supported",
    "job-creation-attributes-supported",
    "media-col-supported",
];

const PWG_RASTER: &str = "image/pwg-raster";
const PNG: &str = "image/png";
/// A label and what a printer calls its size may differ by half a millimetre: rolls are cut so.
const SIZE_SLACK_HUNDREDTHS: i32 = 50;
/// RFC 8011, 5.1.16: 3 is dots per inch, 4 is dots per centimetre.
const PER_INCH: i8 = 3;
const PER_CENTIMETRE: i8 = 4;

/// What the page is sent as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Format {
    PwgRaster,
    Png,
}

/// A printer's own description.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Offer {
    reasons: Vec<String>,
    stopped: bool,
    accepting: bool,
    format: Option<Format>,
    /// Sizes in hundredths of a millimetre, each way from least to most.
    sizes: Vec<[(i32, i32); 2]>,
    resolutions: Vec<u32>,
    takes_media_col: bool,
    takes_resolution: bool,
}

impl Offer {
    pub fn read(group: &IppAttributeGroup) -> Self {
        let formats = words(group.get("document-format-supported"));
        let types = words(group.get("pwg-raster-document-type-supported"));
        let has = |format: &str| formats.iter().any(|has| has == format);
        let format = if has(PWG_RASTER) && (types.is_empty() || types.iter().any(|kind| kind == "black_1")) {
            Some(Format::PwgRaster)
        } else {
            has(PNG).then_some(Format::Png)
        };
        let resolutions = match format {
            Some(Format::PwgRaster) => resolutions(group.get("pwg-raster-document-resolution-supported")),
            Some(Format::Png) | None => Vec::new(),
        };
        let creation = words(group.get("job-creation-attributes-supported"));
        let takes = |name: &str| creation.is_empty() || creation.iter().any(|has| has == name);
        Self {
            reasons: words(group.get("printer-state-reasons")),
            stopped: matches!(group.get("printer-state").map(IppAttribute::value), Some(IppValue::Enum(5))),
            accepting: !matches!(
                group.get("printer-is-accepting-jobs").map(IppAttribute::value),
                Some(IppValue::Boolean(false))
            ),
            format,
            sizes: group.get("media-size-supported").map(sizes).unwrap_or_default(),
            resolutions: if resolutions.is_empty() {
                self::resolutions(group.get("printer-resolution-supported"))
            } else {
                resolutions
            },
            takes_media_col: takes("media-col"),
            takes_resolution: takes("printer-resolution"),
        }
    }

    /// Whether it takes the page at all.
    pub fn takes(&self, page: &Page) -> Result<(), PrinterTrouble> {
        if !self.accepting {
            return Err(PrinterTrouble::NotAccepting);
        }
        if self.format.is_none() {
            return Err(PrinterTrouble::Format);
        }
        let drawn = page.bitmap.dots_per_inch();
        if !self.resolutions.is_empty() && !self.resolutions.contains(&drawn) {
            return Err(PrinterTrouble::Resolution { drawn, prints: self.resolutions.clone() });
        }
        let (width, height) = (page.width_hundredths(), page.height_hundredths());
        let within = |(least, most): (i32, i32), size: i32| {
            (least - SIZE_SLACK_HUNDREDTHS..=most + SIZE_SLACK_HUNDREDTHS).contains(&size)
        };
        let fits = |sizes: &[(i32, i32); 2]| within(sizes[0], width) && within(sizes[1], height);
        if self.sizes.is_empty() || self.sizes.iter().any(fits) {
            return Ok(());
        }
        let millimetres = |hundredths: i32| (f64::from(hundredths) / 100.0).to_string();
        Err(PrinterTrouble::Size { width_mm: millimetres(width), height_mm: millimetres(height) })
    }

    /// What keeps it from printing now.
    pub fn trouble(&self) -> Option<PrinterTrouble> {
        let told = trouble_of(self.reasons.iter().map(String::as_str));
        told.or_else(|| self.stopped.then_some(PrinterTrouble::Paused))
            .or_else(|| (!self.accepting).then_some(PrinterTrouble::NotAccepting))
    }

    pub fn format_value(&self) -> IppValue {
        let name = match self.format {
            Some(Format::Png) => PNG,
            Some(Format::PwgRaster) | None => PWG_RASTER,
        };
        IppValue::new_mime_media_type(name).unwrap_or(IppValue::NoValue)
    }

    /// The page in the format that the printer takes.
    pub fn document(&self, page: &Page) -> Result<Vec<u8>, PrinterTrouble> {
        match self.format {
            Some(Format::PwgRaster) => Ok(pwg::black_1(page)),
            Some(Format::Png) => page.bitmap.png().map_err(|_| PrinterTrouble::Format),
            None => Err(PrinterTrouble::Format),
        }
    }

    /// The job's attributes: the label's own size as `media-col`, and then never `media` beside it.
    pub fn job_attributes(&self, page: &Page) -> Vec<IppAttribute> {
        let mut attributes = Vec::new();
        let mut add = |name: &str, value: IppValue| attributes.extend(IppAttribute::with_name(name, value).ok());
        add("copies", IppValue::Integer(1));
        if self.takes_media_col {
            let size = collection(&[
                ("x-dimension", IppValue::Integer(page.width_hundredths())),
                ("y-dimension", IppValue::Integer(page.height_hundredths())),
            ]);
            let none = || IppValue::Integer(0);
            // The label's own white lies in the raster.
            add(
                "media-col",
                collection(&[
                    ("media-size", size),
                    ("media-top-margin", none()),
                    ("media-bottom-margin", none()),
                    ("media-left-margin", none()),
                    ("media-right-margin", none()),
                ]),
            );
        }
        if self.takes_resolution {
            let dpi = page.bitmap.dots_per_inch() as i32;
            add("printer-resolution", IppValue::new_resolution(dpi, dpi, PER_INCH));
        }
        attributes
    }
}

/// What one of the reasons means: those that people can mend first. A report keeps nothing from printing, nor does a warning of what is not known here.
pub(super) fn trouble_of<'a>(reasons: impl Iterator<Item = &'a str>) -> Option<PrinterTrouble> {
    let mut others = None;
    for reason in reasons {
        if reason.ends_with("-report") {
            continue;
        }
        // A printer with one roll that is empty, or with its cover open, prints nothing, even where it calls that a warning.
        let plain = reason.trim_end_matches("-error").trim_end_matches("-warning");
        match plain {
            "media-empty" | "media-needed" => return Some(PrinterTrouble::OutOfMedia),
            "cover-open" | "door-open" | "interlock-open" => return Some(PrinterTrouble::DoorOpen),
            "media-jam" => return Some(PrinterTrouble::Jammed),
            "marker-supply-empty" => return Some(PrinterTrouble::OutOfRibbon),
            "paused" | "moving-to-paused" => return Some(PrinterTrouble::Paused),
            "shutdown" | "timed-out" | "offline" | "connecting-to-device" => return Some(PrinterTrouble::Offline),
            _ if reason.ends_with("-error") => others = Some(PrinterTrouble::Attention { keyword: plain.to_owned() }),
            _ => {}
        }
    }
    others
}

fn collection(members: &[(&'static str, IppValue)]) -> IppValue {
    let named = members.iter().filter_map(|(name, value)| Some((IppName::new(*name).ok()?, value.clone())));
    IppValue::Collection(named.collect::<BTreeMap<_, _>>())
}

fn resolutions(attribute: Option<&IppAttribute>) -> Vec<u32> {
    let dpi = |value: &IppValue| match value {
        IppValue::Resolution { cross_feed, feed, units } if cross_feed == feed => match *units {
            PER_INCH => u32::try_from(*feed).ok(),
            PER_CENTIMETRE => u32::try_from((f64::from(*feed) * 2.54).round() as i64).ok(),
            _ => None,
        },
        _ => None,
    };
    attribute.map(|attribute| attribute.value().into_iter().filter_map(dpi).collect()).unwrap_or_default()
}

fn sizes(attribute: &IppAttribute) -> Vec<[(i32, i32); 2]> {
    let each = |value: &IppValue| {
        let IppValue::Collection(members) = value else { return None };
        let range = |name: &str| match members.iter().find(|(key, _)| key.as_str() == name)?.1 {
            IppValue::Integer(size) => Some((*size, *size)),
            IppValue::RangeOfInteger { min, max } => Some((*min, *max)),
            _ => None,
        };
        Some([range("x-dimension")?, range("y-dimension")?])
    };
    match attribute.value() {
        IppValue::Array(values) => values.iter().filter_map(each).collect(),
        one => each(one).into_iter().collect(),
    }
}

/// A size as a printer tells it, for tests.
#[cfg(test)]
pub(super) fn tests_size(width: i32, height: i32) -> IppValue {
    collection(&[("x-dimension", IppValue::Integer(width)), ("y-dimension", IppValue::Integer(height))])
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 8011, section 5.4.12 and PWG 5100.13: reasons with their severity behind them.
    #[test]
    fn reasons_in_our_words() {
        let of = |reasons: &[&str]| trouble_of(reasons.iter().copied());
        assert_eq!(of(&["none"]), None);
        assert_eq!(of(&["media-low-warning", "media-empty-report", "cleaner-life-almost-over-warning"]), None);
        assert_eq!(of(&["media-empty-warning"]), Some(PrinterTrouble::OutOfMedia));
        assert_eq!(of(&["media-low-warning", "media-empty-error"]), Some(PrinterTrouble::OutOfMedia));
        assert_eq!(of(&["cover-open"]), Some(PrinterTrouble::DoorOpen));
        assert_eq!(of(&["media-jam-error"]), Some(PrinterTrouble::Jammed));
        assert_eq!(
            of(&["cutter-failure-error"]),
            Some(PrinterTrouble::Attention { keyword: "cutter-failure".to_owned() })
        );
    }
}
