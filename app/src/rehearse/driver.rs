//! Fingers, scanner and eyes of a rehearsal, on the real window without a display.

use super::inputs::Inputs;
use super::script::{Step, Stroke};
use crate::cli::ScreenOptions;
use crate::clock::{Clock, SimulatedClock};
use crate::desk::Keys;
use crate::desk::opening::{Place, open_bench};
use crate::inputs::Watching;
use crate::intake::{Heard, Intake};
use crate::kiosk::thread::Kiosk;
use crate::label;
use crate::link::{Link, Now, State};
use anyhow::{Context, bail};
use i_slint_backend_testing::{ElementHandle, ElementQuery, TestingBackend, TestingBackendOptions, mock_elapsed_time};
use slint::platform::{Key, PointerEventButton, WindowEvent};
use slint::{ComponentHandle, LogicalPosition, SharedString};
use sparkout_core::inputs::Switches;
use sparkout_ui::screen::Screen;
use sparkout_ui::window::KioskWindow;
use std::path::{Path, PathBuf};
use std::rc::Rc;
use std::sync::Arc;
use std::sync::mpsc::{self, Receiver};
use std::time::{Duration, Instant};

/// A kiosk with its window, driven.
pub struct Driver {
    window: KioskWindow,
    kiosk: Kiosk,
    screens: Receiver<Screen>,
    shown: Screen,
    clock: SimulatedClock,
    shots: PathBuf,
    labels: PathBuf,
    inputs: Inputs,
    switches: Switches,
    watching: Option<Watching>,
    keys: Rc<Keys>,
    scans: Receiver<String>,
    _intake: Intake,
    link: Link,
}

/// In a script, the code that stands on the newest label, read from its picture.
const NEWEST_LABEL: &str = "@label";
/// A scanner's keys follow each other this fast.
const SCANNER_KEY: Duration = Duration::from_millis(5);
/// A person's keys follow each other no faster than this.
const PERSON_KEY: Duration = Duration::from_millis(90);
/// More stops than any screen has.
const STOPS_MOST: usize = 60;
/// A finger rests on a key about so long.
const FINGER: Duration = Duration::from_millis(60);
/// A hub that can be reached is heard within this time.
const CABLE_MOST: Duration = Duration::from_secs(20);
/// After an act everything on the screen has come to rest.
const REST: Duration = Duration::from_millis(400);
/// The picture's clock moves in steps of a frame, so that animations and held rings run as they do on a screen.
const FRAME: Duration = Duration::from_millis(16);

impl Driver {
    /// A kiosk on a folder, with its clock at `begins`.
    ///
    /// # Errors
    /// When the window or the kiosk cannot be made.
    pub fn start(
        folder: &Path,
        shots: PathBuf,
        begins: jiff::Timestamp,
        options: &ScreenOptions,
        inputs: Inputs,
    ) -> anyhow::Result<Self> {
        let platform = TestingBackend::new(TestingBackendOptions {
            mock_time: true,
            threading: false,
            renderer_name: Some("software".into()),
        });
        slint::platform::set_platform(Box::new(platform))
            .map_err(|error| anyhow::anyhow!("no platform without a display: {error}"))?;
        let (mut config, settings) = options.load()?;
        if config.shop.time_zone.is_empty() {
            // A rehearsal leaves the same pictures on every machine.
            "UTC".clone_into(&mut config.shop.time_zone);
        }
        let window = KioskWindow::new()?;
        window.set_panel_width_mm(config.screen.panel_width_mm);
        window.set_hold_ms(config.gate_rules().hold_ms);
        window.set_size(options.size().0 as f32, options.size().1 as f32);
        let clock = SimulatedClock::starting_at(begins);
        let place = Place::new(folder, &config);
        let labels = place.labels.clone();
        let scanner = config.scanner;
        let wiring = config.inputs()?;
        let sources = config.intake()?;
        let (send, screens) = mpsc::channel();
        let shared: Arc<dyn Clock> = Arc::new(clock.clone());
        // Like the switches' module, the hub is talked to in real time.
        let now = Now::default();
        let link = Link::start(place.folder.clone(), Arc::clone(&shared), now.clone())?;
        let kiosk = Kiosk::start(
            move || open_bench(&place, &shared, config, settings).map(|bench| bench.with_link(now)),
            move |screen| {
                // An error means that the rehearsal is over.
                let _ = send.send(screen);
            },
        )?;
        let telling = kiosk.telling();
        // A module is read in real time, whatever the script's clock does: only what the switches say enters the kiosk.
        let watching = wiring.map(|wiring| Watching::start(wiring, move |seen| telling.say(seen))).transpose()?;
        let time = clock.clone();
        window.guard_closing();
        let keys = Keys::connect(&window, kiosk.acts(), scanner, move || Duration::from_millis(time.milliseconds()));
        let telling = kiosk.telling();
        let (read, scans) = mpsc::channel();
        let intake = Intake::start(&sources, move |heard| match heard {
            // An error means that the rehearsal is over.
            Heard::Scan(text) => drop(read.send(text)),
            news => telling.scanner(news),
        })?;
        window.component().show()?;
        let mut driver = Self {
            window,
            kiosk,
            screens,
            shown: Screen::default(),
            clock,
            shots,
            labels,
            inputs,
            switches: Switches::default(),
            watching,
            keys,
            scans,
            _intake: intake,
            link,
        };
        driver.rest();
        Ok(driver)
    }

    /// How far the clock was moved.
    pub fn milliseconds(&self) -> u64 {
        self.clock.milliseconds()
    }

    /// Whether a PIN is asked for.
    pub fn asks_pin(&self) -> bool {
        self.shown.entry.as_ref().is_some_and(|entry| entry.secret)
    }

    /// Does one line.
    ///
    /// # Errors
    /// When it does not go as the line says, with what was on the screen.
    pub fn take(&mut self, step: &Step) -> anyhow::Result<()> {
        match step {
            Step::Scan(text) if text == NEWEST_LABEL => {
                self.inputs.scan(text)?;
                let code = self.newest_label()?;
                self.scan(&code);
                self.inputs.kept(&self.shown.strip.journal_entries)?;
            }
            Step::Scan(text) => {
                self.inputs.scan(text)?;
                self.scan(text);
                self.inputs.kept(&self.shown.strip.journal_entries)?;
            }
            Step::Enter(value) => self.enter(value)?,
            Step::Pin(pin) => {
                let digits = pin.digits().chars().map(Stroke::Letter);
                self.type_keys(&digits.chain([Stroke::Enter]).collect::<Vec<_>>());
            }
            Step::Type(strokes) => self.type_keys(strokes),
            Step::Walk(name) => self.walk(name)?,
            Step::Press(name) => self.press(name, FINGER)?,
            Step::Hold(name, time) => self.press(name, *time)?,
            Step::Expect(text) => self.expect(text)?,
            Step::Refused(text) => self.refused(text)?,
            Step::Shot(name) => self.shot(name)?,
            Step::Later(time) => self.later(*time),
            Step::Restart => bail!("a kiosk cannot restart itself"),
            Step::Given(_) => bail!("nothing is given to a kiosk that runs"),
            Step::Close => {
                self.window.component().window().dispatch_event(WindowEvent::CloseRequested);
                self.rest();
            }
            Step::Left if self.shown.manners.left => {}
            Step::Left => bail!("the kiosk is still open; {}", self.seen()),
            Step::Clock(seconds) => {
                self.clock.move_wall(*seconds);
                self.rest();
            }
            Step::Labels(back) => self.label_folder(*back)?,
            Step::Cable(plugged) => self.cable(*plugged)?,
            Step::Guard(guard) => self.switch(Switches { guard: *guard, ..self.switches })?,
            Step::Stop(stop) => self.switch(Switches { stop: *stop, ..self.switches })?,
        }
        Ok(())
    }

    /// The switches say something, where no module is read.
    fn switch(&mut self, switches: Switches) -> anyhow::Result<()> {
        if self.watching.is_some() {
            bail!("the switches are read from the configured module");
        }
        self.switches = switches;
        self.kiosk.telling().say(switches);
        self.rest();
        Ok(())
    }

    /// The way to the hub is cut, and the kiosk has noticed; or it is mended, and everything was sent.
    fn cable(&mut self, plugged: bool) -> anyhow::Result<()> {
        if self.link.state() == State::NotPaired {
            bail!("this kiosk is not paired with a hub, so it cannot be cut off from one");
        }
        self.link.cut(!plugged);
        let begun = Instant::now();
        let is_so = || match plugged {
            true => self.link.is_caught_up(),
            false => matches!(self.link.state(), State::Away { .. }),
        };
        while !is_so() {
            if begun.elapsed() > CABLE_MOST {
                bail!("the hub does not answer; {}", self.seen());
            }
            std::thread::sleep(FRAME);
        }
        self.rest();
        Ok(())
    }

    /// A folder printer goes away when its folder does.
    fn label_folder(&mut self, back: bool) -> anyhow::Result<()> {
        let away = self.labels.with_extension("away");
        let (from, to) = if back { (&away, &self.labels) } else { (&self.labels, &away) };
        std::fs::rename(from, to).with_context(|| format!("{} cannot be moved", from.display()))?;
        self.later(Duration::from_secs(1));
        Ok(())
    }

    fn newest_label(&self) -> anyhow::Result<String> {
        let path = crate::demo::newest_label(&self.labels)?;
        let bytes = std::fs::read(&path).with_context(|| format!("{} cannot be read", path.display()))?;
        Ok(label::readback::read_back(&label::bitmap::Bitmap::from_png(&bytes)?)?)
    }

    fn scan(&mut self, text: &str) {
        for letter in text.chars() {
            self.key(letter.into());
        }
        self.key(Key::Return.into());
        self.rest();
    }

    fn type_keys(&mut self, strokes: &[Stroke]) {
        for stroke in strokes {
            self.key(match stroke {
                Stroke::Letter(letter) => (*letter).into(),
                Stroke::Enter => Key::Return.into(),
                Stroke::Tab => Key::Tab.into(),
                Stroke::Escape => Key::Escape.into(),
                Stroke::Backspace => Key::Backspace.into(),
                Stroke::Delete => Key::Delete.into(),
                Stroke::Up => Key::UpArrow.into(),
                Stroke::Down => Key::DownArrow.into(),
                Stroke::Left => Key::LeftArrow.into(),
                Stroke::Right => Key::RightArrow.into(),
                Stroke::F1 => Key::F1.into(),
                Stroke::Menu => Key::Menu.into(),
            });
            self.advance(PERSON_KEY);
        }
        self.rest();
    }

    fn walk(&mut self, name: &str) -> anyhow::Result<()> {
        for _ in 0..STOPS_MOST {
            self.type_keys(&[Stroke::Tab]);
            if self.window.reached().as_deref() == Some(name) {
                return Ok(());
            }
        }
        bail!("{name:?} is not on the keyboard's way; {}", self.seen())
    }

    fn key(&mut self, text: SharedString) {
        let window = self.window.component().window();
        window.dispatch_event(WindowEvent::KeyPressed { text: text.clone() });
        window.dispatch_event(WindowEvent::KeyReleased { text });
        self.advance(SCANNER_KEY);
    }

    fn enter(&mut self, value: &str) -> anyhow::Result<()> {
        for letter in value.chars() {
            match letter {
                '-' | '−' => self.press("±", FINGER)?,
                '+' => {}
                ',' => self.press(".", FINGER)?,
                letter => self.press(&letter.to_string(), FINGER)?,
            }
        }
        self.press("Take reading", FINGER)
    }

    fn press(&mut self, name: &str, time: Duration) -> anyhow::Result<()> {
        let element = self.control(name)?;
        if element.accessible_enabled() == Some(false) {
            bail!("{name:?} cannot be pressed now; {}", self.seen());
        }
        let (place, size) = (element.absolute_position(), element.size());
        let position = LogicalPosition::new(place.x + size.width / 2.0, place.y + size.height / 2.0);
        // Where a finger pressed would tell a PIN.
        if !self.asks_pin() {
            self.inputs.press(position, time)?;
        }
        let dispatch = |event| self.window.component().window().dispatch_event(event);
        dispatch(WindowEvent::PointerMoved { position });
        dispatch(WindowEvent::PointerPressed { position, button: PointerEventButton::Left });
        self.advance(time);
        let dispatch = |event| self.window.component().window().dispatch_event(event);
        dispatch(WindowEvent::PointerReleased { position, button: PointerEventButton::Left });
        dispatch(WindowEvent::PointerExited);
        self.rest();
        self.inputs.kept(&self.shown.strip.journal_entries)
    }

    fn control(&self, name: &str) -> anyhow::Result<ElementHandle> {
        let wanted = SharedString::from(name);
        let named = move |element: &ElementHandle| {
            let is = |text: Option<SharedString>| text.as_ref() == Some(&wanted);
            let size = element.size();
            (is(element.accessible_id()) || is(element.accessible_label()))
                && element.accessible_role() == Some(slint::language::AccessibleRole::Button)
                && size.width > 0.0
                && size.height > 0.0
        };
        let found =
            ElementQuery::from_root(self.window.component()).match_descendants().match_predicate(named).find_all();
        // What stands on top comes last in the tree.
        found.into_iter().last().with_context(|| format!("no control {name:?}; {}", self.seen()))
    }

    fn expect(&self, text: &str) -> anyhow::Result<()> {
        if self.texts().iter().any(|shown| shown.contains(text)) {
            return Ok(());
        }
        bail!("{text:?} is not on the screen; {}", self.seen())
    }

    fn refused(&self, text: &str) -> anyhow::Result<()> {
        match &self.shown.notice {
            Some(notice) if notice.refused && notice.text.contains(text) => self.expect(text),
            Some(notice) => bail!("not refused so, but told: {:?}", notice.text),
            None => bail!("nothing was refused; {}", self.seen()),
        }
    }

    fn shot(&self, name: &str) -> anyhow::Result<()> {
        let picture = self.window.component().window().take_snapshot().map_err(|error| anyhow::anyhow!("{error}"))?;
        let path = self.shots.join(format!("{name}.png"));
        let (width, height) = (picture.width(), picture.height());
        image::save_buffer(&path, picture.as_bytes(), width, height, image::ColorType::Rgba8)
            .with_context(|| format!("{} cannot be written", path.display()))
    }

    fn later(&mut self, time: Duration) {
        self.clock.advance(time.as_millis() as u64);
        mock_elapsed_time(time);
        self.rest();
    }

    fn advance(&self, time: Duration) {
        let mut left = time;
        while !left.is_zero() {
            let step = left.min(FRAME);
            self.clock.advance(step.as_millis() as u64);
            mock_elapsed_time(step);
            left -= step;
        }
    }

    /// Everything that was begun comes to its end, and is shown.
    fn rest(&mut self) {
        self.advance(REST);
        // A scanner that is a device of its own reads in real time, as the module does.
        while let Ok(text) = self.scans.try_recv() {
            self.keys.hear(text);
        }
        self.kiosk.settle();
        while let Ok(screen) = self.screens.try_recv() {
            self.window.show_screen(&screen);
            self.shown = screen;
        }
        self.advance(REST);
    }

    fn texts(&self) -> Vec<String> {
        let mut texts = Vec::new();
        let elements = ElementQuery::from_root(self.window.component()).match_descendants().find_all();
        for element in elements {
            for text in [element.accessible_label(), element.accessible_value()].into_iter().flatten() {
                if !text.is_empty() && !texts.iter().any(|known| *known == text.as_str()) {
                    texts.push(text.to_string());
                }
            }
        }
        texts
    }

    fn seen(&self) -> String {
        format!("on the screen: {}", self.texts().join(" | "))
    }
}
