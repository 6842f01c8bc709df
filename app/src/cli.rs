//! The command line.

use crate::lists::{List, ListCommand};
use crate::{config, demo, desk, doctor, hub, label, link, rehearse, store};
use clap::{Args, Parser, Subcommand};
use config::Config;
use desk::Door;
use sparkout_core::reading::Units;
use sparkout_ui::screen::{Language, Settings, Theme};
use std::io::Write;
use std::path::PathBuf;
use std::process::ExitCode;

/// The kiosk beside the reel grinder: scan a cutting unit, true it, grind it behind guards, prove it, label it.
///
/// An aid to a trained person, not a safety device: it replaces no guard, no lockout, no instruction of the grinder's
/// or the wheel's maker, no local code and no competent person's judgement.
#[derive(Debug, Parser)]
#[command(name = "sparkout", version)]
struct CommandLine {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// An invented shop to try everything on; with --headless it walks one visit without a display
    Demo(demo::DemoCommand),
    /// The kiosk of this bench
    Kiosk(KioskCommand),
    /// The hub that a shop's benches share
    Hub(hub::HubCommand),
    /// Make this kiosk known to the shop's hub. Exit codes: 0 paired, 2 not
    Pair(link::PairCommand),
    /// Drive a real kiosk from a script. Exit codes: 0 all as expected, 1 a line failed, 2 it could not be run
    Rehearse(rehearse::RehearseCommand),
    /// One calculation: a JSON object in, a JSON object out; without a name, the list
    Calc(crate::calc::CalcCommand),
    /// Prove and export the journal
    Journal(store::JournalCommand),
    /// PINs of badges
    #[command(subcommand)]
    Pin(crate::kiosk::PinCommand),
    /// Draw labels, and read them
    #[command(subcommand)]
    Label(label::command::LabelCommand),
    /// Cutting units as a table, in and out: tag, type, mower, position, serial, status
    Units(ListCommand),
    /// Mowers as a table, in and out: code, name, positions
    Mowers(ListCommand),
    /// People as a table, in and out: badge, name, initials, trained, lead
    Operators(ListCommand),
    /// Try every configured device and service, a line each. Exit codes: 0 all fine, 1 something is wrong, 2 not looked
    Doctor(doctor::DoctorCommand),
    /// The configuration. Exit codes: 0 usable, 2 not
    Config(ConfigCommand),
    /// The part of a rehearsal that is killed and started again
    #[command(hide = true)]
    RehearseStage(rehearse::StageCommand),
}

/// The 10.1-inch panel that the screens are drawn for.
const DEFAULT_SIZE: (u32, u32) = (1280, 800);

/// What every command that opens a screen takes.
#[derive(Debug, Clone, Args)]
pub struct ScreenOptions {
    /// Pixels of the window; 1280x800 where it is not said
    #[arg(long, value_parser = size, value_name = "WxH")]
    pub size: Option<(u32, u32)>,
    /// en or es
    #[arg(long, value_parser = parsed(config::language), value_name = "LANGUAGE")]
    pub language: Option<Language>,
    /// inch, thou or metric
    #[arg(long, value_parser = parsed(config::units), value_name = "UNITS")]
    pub units: Option<Units>,
    /// light, dark or contrast
    #[arg(long, value_parser = parsed(config::theme), value_name = "THEME")]
    pub theme: Option<Theme>,
    /// A configuration file over the defaults
    #[arg(long, value_name = "FILE")]
    pub config: Option<PathBuf>,
}

impl ScreenOptions {
    /// Pixels of the window.
    pub fn size(&self) -> (u32, u32) {
        self.size.unwrap_or(DEFAULT_SIZE)
    }

    /// The configuration, and the settings with the command line's over them.
    ///
    /// # Errors
    /// When the configuration is not usable, in words.
    pub fn load(&self) -> anyhow::Result<(Config, Settings)> {
        let config = Config::load(self.config.as_deref())?;
        let base = config.settings()?;
        let settings = Settings {
            language: self.language.unwrap_or(base.language),
            units: self.units.unwrap_or(base.units),
            theme: self.theme.unwrap_or(base.theme),
            region: base.region,
        };
        Ok((config, settings))
    }

    /// The same options as arguments, for a process of our own.
    pub fn arguments(&self) -> Vec<String> {
        let (width, height) = self.size();
        let mut arguments = vec![format!("--size={width}x{height}")];
        let language = self.language.map(|language| match language {
            Language::English => "en",
            Language::Spanish => "es",
        });
        let units = self.units.map(|units| match units {
            Units::Inch => "inch",
            Units::Thou => "thou",
            Units::Metric => "metric",
        });
        let theme = self.theme.map(|theme| match theme {
            Theme::Light => "light",
            Theme::Dark => "dark",
            Theme::Contrast => "contrast",
        });
        let named = [("language", language), ("units", units), ("theme", theme)];
        arguments.extend(named.iter().filter_map(|(name, value)| value.map(|value| format!("--{name}={value}"))));
        arguments.extend(self.config.iter().map(|file| format!("--config={}", file.display())));
        arguments
    }
}

/// The kiosk of this bench, over the whole screen. Exit codes: 0 a lead left it, 2 it could not be started.
#[derive(Debug, Args)]
struct KioskCommand {
    /// The folder of the journal
    #[arg(long, value_name = "DIR")]
    data: PathBuf,
    /// A window and not the whole screen; so does --size
    #[arg(long)]
    windowed: bool,
    #[command(flatten)]
    screen: ScreenOptions,
}

#[derive(Debug, Args)]
struct ConfigCommand {
    /// Write out every default with its comment
    #[arg(long)]
    show: bool,
    /// Look through this file and say whether it is usable
    #[arg(long, value_name = "FILE", conflicts_with = "show", required_unless_present = "show")]
    check: Option<PathBuf>,
}

/// Runs what the command line asks for.
pub fn run() -> ExitCode {
    let command = CommandLine::parse().command;
    tracing_subscriber::fmt()
        .with_writer(std::io::stderr)
        .with_env_filter(
            tracing_subscriber::EnvFilter::try_from_env("SPARKOUT_LOG")
                .unwrap_or_else(|_| tracing_subscriber::EnvFilter::new("warn,sparkout=info")),
        )
        .with_target(false)
        .init();
    match command {
        Command::Demo(command) => told(command.run()),
        Command::Kiosk(command) => told(command.run()),
        Command::Hub(command) => told(command.run()),
        Command::Pair(command) => told(command.run()),
        Command::Rehearse(command) => command.run(),
        Command::Calc(command) => command.run(),
        Command::Journal(command) => command.run(),
        Command::Pin(command) => told(command.run()),
        Command::Label(command) => command.run(),
        Command::Units(command) => command.run(List::Units),
        Command::Mowers(command) => command.run(List::Mowers),
        Command::Operators(command) => command.run(List::Operators),
        Command::Doctor(command) => command.run(),
        Command::Config(command) => told(command.run()),
        Command::RehearseStage(command) => told(command.run()),
    }
}

/// Writes a line to standard output. Whoever stopped listening, as `head` does, wants no more: that is no failure of ours.
pub fn say(line: &str) {
    let _ = writeln!(std::io::stdout().lock(), "{line}");
}

/// What went wrong, on one line.
pub fn told(done: anyhow::Result<()>) -> ExitCode {
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("sparkout: {}", format!("{error:#}").replace('\n', " "));
            ExitCode::from(2)
        }
    }
}

impl KioskCommand {
    fn run(self) -> anyhow::Result<()> {
        let (config, settings) = self.screen.load()?;
        let place = desk::opening::Place::new(&self.data, &config);
        let door = Door { full_screen: !self.windowed && self.screen.size.is_none(), guarded: true };
        desk::run(place, config, settings, self.screen.size(), door)
    }
}

impl ConfigCommand {
    fn run(self) -> anyhow::Result<()> {
        if self.show {
            say(config::DEFAULTS.trim_end());
            return Ok(());
        }
        Config::load(self.check.as_deref()).map(|_| say("usable"))
    }
}

fn size(text: &str) -> Result<(u32, u32), String> {
    let number = |part: &str| part.parse::<u32>().ok().filter(|pixels| (480..=7680).contains(pixels));
    text.split_once('x')
        .and_then(|(width, height)| Some((number(width)?, number(height)?)))
        .ok_or_else(|| "pixels as 1280x800, 480 to 7680 either way".to_owned())
}

fn parsed<T: 'static>(
    parse: fn(&str) -> anyhow::Result<T>,
) -> impl Fn(&str) -> Result<T, String> + Clone + Send + Sync + 'static {
    move |word| parse(word).map_err(|error| error.to_string())
}
