//! The configuration: one TOML file over the defaults written out in `default.toml`, which is also what
//! `sparkout config --show` prints. A bad value stops the start with its key, what it is and what is allowed.

mod inputs;
mod intake;
mod length;
mod load;
mod pins;
mod printer;
mod settings;
mod setup;
mod upkeep;
mod wheel;
mod witness;

use anyhow::{Context, bail};
pub use intake::IntakeWiring;
pub use printer::PrinterWiring;

use inputs::InputTexts;
use length::TextLength;
use serde::Deserialize;
use setup::{GaugeTexts, KnifeTexts, ReliefTexts, SetupTexts, ShimTexts};
use sparkout_core::facts::{GateItem, GateRules, Grinding, Instruments, Limits, Per};
use sparkout_core::quantity::Speed;
use sparkout_core::reading::{Reading, Units};
use sparkout_core::visit::kind::Turning;
use sparkout_ui::locale::{NotARegion, Region};
use sparkout_ui::present::{ItemWords, Wording};
use sparkout_ui::screen::{Language, Settings, Signal, Theme};
use std::path::Path;

/// The defaults, each with its comment.
pub const DEFAULTS: &str = include_str!("default.toml");

/// The whole configuration.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Config {
    /// The shop.
    pub shop: Shop,
    /// This bench.
    pub station: Station,
    /// The screen.
    pub screen: Screen,
    /// The keyboard-wedge scanner.
    pub scanner: Scanner,
    intake: intake::IntakeTexts,
    /// The label.
    pub label: Label,
    printer: printer::PrinterTexts,
    limits: LimitTexts,
    instruments: InstrumentTexts,
    grinding: GrindingTexts,
    upkeep: upkeep::UpkeepTexts,
    due: upkeep::DueTexts,
    setup: SetupTexts,
    gauges: GaugeTexts,
    relief: ReliefTexts,
    shims: ShimTexts,
    bedknife: KnifeTexts,
    gate: GateTexts,
    pin: pins::PinTexts,
    noise: load::NoiseTexts,
    lifting: load::LiftTexts,
    inputs: InputTexts,
    witness: witness::WitnessTexts,
    wheel: wheel::WheelTexts,
    lockout: wheel::LockoutTexts,
}

/// The shop.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shop {
    /// Its name, for people.
    pub name: String,
    /// The host in the codes on labels.
    pub hub: String,
    /// IANA name of its time zone; empty takes the machine's.
    pub time_zone: String,
    region: String,
}

/// This bench.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Station {
    /// Its name, for labels and the journal.
    pub name: String,
}

/// The screen.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Screen {
    /// Width of the panel's picture, millimetres.
    pub panel_width_mm: f32,
    language: String,
    units: String,
    theme: String,
    dim_after_minutes: u32,
    /// Nothing on the screen moves.
    pub reduced_motion: bool,
}

/// The keyboard-wedge scanner.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Scanner {
    /// Keys faster than this come from a scanner, milliseconds.
    pub key_gap_ms: u64,
    /// A burst without terminator ends after this silence, milliseconds.
    pub silence_ms: u64,
}

/// The label.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Label {
    /// Millimetres across.
    pub width_mm: f64,
    /// Millimetres down.
    pub height_mm: f64,
    /// Dots per inch.
    pub dpi: u32,
    /// Where labels are written; empty is the folder `labels` beside the journal.
    pub folder: String,
    known_keys: Vec<String>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct LimitTexts {
    tilt: TextLength,
    rear: TextLength,
    cone: TextLength,
    plausible_change: TextLength,
    swap_cone: TextLength,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct InstrumentTexts {
    tape_graduation: TextLength,
    indicator_graduation: TextLength,
    touch_sd: TextLength,
    tape: String,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct GrindingTexts {
    cleanup: TextLength,
    infeed: TextLength,
    sparkout_passes: u32,
    traverse_mm_per_second: f64,
    usual_removal: TextLength,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct GateTexts {
    hold_seconds: f64,
    lapse_minutes: u64,
    items: Vec<ItemTexts>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct ItemTexts {
    id: String,
    per: Per,
    #[serde(default)]
    work: Vec<Turning>,
    #[serde(default)]
    look_over: bool,
    signal: String,
    reference: String,
    en: WordTexts,
    es: WordTexts,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct WordTexts {
    short: String,
    title: String,
    text: String,
}

impl Config {
    /// The defaults, with a file's values over them.
    ///
    /// # Errors
    /// In words, naming the key, its value and what is allowed.
    pub fn load(file: Option<&Path>) -> anyhow::Result<Self> {
        let mut table: toml::Table = DEFAULTS.parse().context("the built-in defaults do not parse")?;
        if let Some(path) = file {
            let text = std::fs::read_to_string(path).with_context(|| format!("cannot read {}", path.display()))?;
            let own: toml::Table = text.parse().with_context(|| format!("{} is not TOML", path.display()))?;
            lay_over(&mut table, own);
        }
        let config: Self = table.try_into().context("the configuration is not as it must be")?;
        config.check()?;
        Ok(config)
    }

    fn check(&self) -> anyhow::Result<()> {
        within("screen.panel_width_mm", f64::from(self.screen.panel_width_mm), 100.0, 1000.0)?;
        within("label.width_mm", self.label.width_mm, 20.0, 150.0)?;
        within("label.height_mm", self.label.height_mm, 15.0, 200.0)?;
        within("label.dpi", f64::from(self.label.dpi), 150.0, 1200.0)?;
        within("scanner.key_gap_ms", self.scanner.key_gap_ms as f64, 5.0, 100.0)?;
        within("scanner.silence_ms", self.scanner.silence_ms as f64, 50.0, 1000.0)?;
        within("gate.hold_seconds", self.gate.hold_seconds, 1.0, 5.0)?;
        within("gate.lapse_minutes", self.gate.lapse_minutes as f64, 1.0, 60.0)?;
        within("grinding.traverse_mm_per_second", self.grinding.traverse_mm_per_second, 1.0, 1000.0)?;
        within("grinding.sparkout_passes", f64::from(self.grinding.sparkout_passes), 0.0, 50.0)?;
        for (key, length) in self.positive_lengths() {
            if length <= Reading::ZERO {
                bail!("{key} must be more than nothing");
            }
        }
        self.check_upkeep()?;
        self.check_wheel()?;
        self.check_setup()?;
        self.check_pins()?;
        self.check_load()?;
        if self.gate.items.is_empty() {
            bail!("gate.items is empty: a checklist without items clears nothing");
        }
        self.check_settings()?;
        self.inputs()?;
        self.check_witness()?;
        self.known_keys()?;
        self.printer()?;
        self.intake()?;
        self.settings()?;
        self.wording()?;
        self.time_zone()?;
        Ok(())
    }

    fn positive_lengths(&self) -> [(&'static str, Reading); 11] {
        let (limits, grinding, instruments) = (&self.limits, &self.grinding, &self.instruments);
        [
            ("limits.tilt", limits.tilt.0),
            ("limits.rear", limits.rear.0),
            ("limits.cone", limits.cone.0),
            ("limits.plausible_change", limits.plausible_change.0),
            ("limits.swap_cone", limits.swap_cone.0),
            ("grinding.cleanup", grinding.cleanup.0),
            ("grinding.infeed", grinding.infeed.0),
            ("grinding.usual_removal", grinding.usual_removal.0),
            ("instruments.tape_graduation", instruments.tape_graduation.0),
            ("instruments.indicator_graduation", instruments.indicator_graduation.0),
            ("instruments.touch_sd", instruments.touch_sd.0),
        ]
    }

    /// Language, units and theme at the start.
    ///
    /// # Errors
    /// When one of them is a word that is not known.
    pub fn settings(&self) -> anyhow::Result<Settings> {
        Ok(Settings {
            language: language(&self.screen.language)?,
            units: units(&self.screen.units)?,
            theme: theme(&self.screen.theme)?,
            region: region(&self.shop.region)?,
        })
    }

    /// The shop's time zone.
    ///
    /// # Errors
    /// When it is not in the machine's tables.
    pub fn time_zone(&self) -> anyhow::Result<jiff::tz::TimeZone> {
        match self.shop.time_zone.as_str() {
            "" => Ok(jiff::tz::TimeZone::system()),
            "UTC" => Ok(jiff::tz::TimeZone::UTC),
            name => {
                jiff::tz::TimeZone::get(name).with_context(|| format!("shop.time_zone: {name:?} is not known here"))
            }
        }
    }

    /// Tolerances.
    pub fn limits(&self) -> Limits {
        Limits {
            tilt: self.limits.tilt.0.length(),
            rear: self.limits.rear.0.length(),
            cone: self.limits.cone.0.length(),
            plausible_change: self.limits.plausible_change.0.length(),
            swap_cone: self.limits.swap_cone.0.length(),
            setup: self.setup_limits(),
        }
    }

    /// What the bench measures with.
    pub fn instruments(&self) -> Instruments {
        Instruments {
            tape_graduation: self.instruments.tape_graduation.0,
            indicator_graduation: self.instruments.indicator_graduation.0,
            touch_sd: self.instruments.touch_sd.0.length(),
            gauges: self.gauges(),
        }
    }

    /// How a spin is ground.
    pub fn grinding(&self) -> Grinding {
        Grinding {
            cleanup: self.grinding.cleanup.0.length(),
            infeed: self.grinding.infeed.0.length(),
            sparkout_passes: self.grinding.sparkout_passes,
            traverse: Speed::from_metres_per_second(self.grinding.traverse_mm_per_second / 1000.0),
            usual_removal: self.grinding.usual_removal.0.length(),
            relief: self.relief_grinding(),
        }
    }

    /// The gate's rules.
    pub fn gate_rules(&self) -> GateRules {
        let items = self.gate.items.iter().map(|item| GateItem {
            id: item.id.clone(),
            per: item.per,
            work: item.work.clone(),
            look_over: item.look_over,
        });
        GateRules {
            items: items.collect(),
            lapse_after_ms: self.gate.lapse_minutes * 60_000,
            hold_ms: (self.gate.hold_seconds * 1000.0) as u64,
            look_over: true,
        }
    }

    /// The words of the gate's items.
    ///
    /// # Errors
    /// When a signal word is none of ANSI Z535.
    pub fn wording(&self) -> anyhow::Result<Vec<Wording>> {
        let words = |texts: &WordTexts| ItemWords {
            short: texts.short.clone(),
            title: texts.title.clone(),
            text: texts.text.clone(),
        };
        self.gate
            .items
            .iter()
            .map(|item| {
                Ok(Wording {
                    id: item.id.clone(),
                    signal: signal(&item.signal)?,
                    reference: item.reference.clone(),
                    english: words(&item.en),
                    spanish: words(&item.es),
                })
            })
            .collect()
    }
}

/// `en` or `es`.
///
/// # Errors
/// For any other word.
pub fn language(word: &str) -> anyhow::Result<Language> {
    Ok(match word {
        "en" => Language::English,
        "es" => Language::Spanish,
        other => bail!("language: {other:?} is not known; en or es"),
    })
}

/// A region's code of two capital letters (ISO 3166-1).
///
/// # Errors
/// For anything else.
pub fn region(code: &str) -> anyhow::Result<Region> {
    match code.parse() {
        Ok(region) => Ok(region),
        Err(NotARegion) => bail!("shop.region: {code:?} is not a region; two capital letters, such as US, MX, AR, ES"),
    }
}

/// `inch`, `thou` or `metric`.
///
/// # Errors
/// For any other word.
pub fn units(word: &str) -> anyhow::Result<Units> {
    Ok(match word {
        "inch" => Units::Inch,
        "thou" => Units::Thou,
        "metric" => Units::Metric,
        other => bail!("units: {other:?} is not known; inch, thou or metric"),
    })
}

/// `light`, `dark` or `contrast`.
///
/// # Errors
/// For any other word.
pub fn theme(word: &str) -> anyhow::Result<Theme> {
    Ok(match word {
        "light" => Theme::Light,
        "dark" => Theme::Dark,
        "contrast" => Theme::Contrast,
        other => bail!("theme: {other:?} is not known; light, dark or contrast"),
    })
}

fn signal(word: &str) -> anyhow::Result<Signal> {
    Ok(match word {
        "danger" => Signal::Danger,
        "warning" => Signal::Warning,
        "caution" => Signal::Caution,
        "notice" => Signal::Notice,
        other => bail!("gate.items.signal: {other:?} is none of danger, warning, caution, notice"),
    })
}

fn within(key: &str, value: f64, least: f64, most: f64) -> anyhow::Result<()> {
    if (least..=most).contains(&value) {
        return Ok(());
    }
    bail!("{key} is {value}; between {least} and {most} is taken")
}

/// Puts a file's values over the defaults, table by table; a list replaces a list.
fn lay_over(under: &mut toml::Table, over: toml::Table) {
    for (key, value) in over {
        match (under.get_mut(&key), value) {
            (Some(toml::Value::Table(under)), toml::Value::Table(over)) => lay_over(under, over),
            (_, value) => {
                under.insert(key, value);
            }
        }
    }
}

/// A configuration over the defaults, for the tests of its parts.
#[cfg(test)]
fn own(text: &str) -> anyhow::Result<Config> {
    let folder = tempfile::tempdir()?;
    let file = folder.path().join("own.toml");
    std::fs::write(&file, text)?;
    Config::load(Some(&file))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;

    fn refused(text: &str, part: &str) {
        let error = format!("{:#}", own(text).expect_err(text));
        assert!(error.contains(part), "{error}");
    }

    #[test]
    fn the_defaults_stand() {
        let config = Config::load(None).unwrap();
        assert!((config.limits().tilt.inches() - 0.002).abs() < 1e-12);
        for work in [Turning::Grind, Turning::Relief, Turning::BackLap] {
            let asked = |item: &&GateItem| item.per == Per::Grind && item.concerns(work);
            assert_eq!(config.gate_rules().items.iter().filter(asked).count(), 5, "{work:?}");
        }
        assert_eq!(config.gate_rules().hold_ms, 1000);
    }

    #[test]
    fn an_own_file_changes_only_what_it_names() {
        let config = own("[limits]\ntilt = \"0.025 mm\"\n").unwrap();
        assert!((config.limits().tilt.mm() - 0.025).abs() < 1e-12);
        assert!((config.limits().cone.inches() - 0.002).abs() < 1e-12);
    }

    #[test]
    fn bad_values_are_named() {
        refused("[limits]\ntilt = \"0.002\"\n", "0.002");
        refused("[limits]\ntilt = \"-1 mm\"\n", "limits.tilt");
        refused("[gate]\nhold_seconds = 0.1\n", "gate.hold_seconds");
        refused("[screen]\nlanguage = \"xx\"\n", "en or es");
        refused("[shop]\nregion = \"mx\"\n", "shop.region");
        refused("[screan]\n", "screan");
        refused("[label]\ndpi = 20\n", "label.dpi");
        refused("[pin]\ndigits = 5\n", "4 or 6");
        refused("[pin]\ntries = 0\n", "pin.tries");
        refused("[pin]\nlock_minutes = 0\n", "pin.lock_minutes");
    }
}
