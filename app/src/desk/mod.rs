//! The kiosk's desk: a window, its keys, and the kiosk's thread behind them.

mod keys;
pub mod opening;

pub use keys::Keys;

use crate::config::Config;
use crate::inputs::Watching;
use crate::intake::{Heard, Intake};
use crate::kiosk::thread::Kiosk;
use crate::link::{Link, Now};
use opening::{Place, open_bench};
use slint::ComponentHandle;
use sparkout_ui::screen::Settings;
use sparkout_ui::window::KioskWindow;
use std::sync::Arc;
use std::time::Instant;

/// How a window stands on the screen, and who may close it.
#[derive(Debug, Clone, Copy, Default)]
pub struct Door {
    /// Over the whole screen.
    pub full_screen: bool,
    /// Only the kiosk itself closes it, when a lead leaves.
    pub guarded: bool,
}

/// Opens the real window and stays until it is closed.
///
/// # Errors
/// When there is no display, or the kiosk cannot be started; in words.
pub fn run(place: Place, config: Config, settings: Settings, size: (u32, u32), door: Door) -> anyhow::Result<()> {
    let window = KioskWindow::new().map_err(|error| anyhow::anyhow!("no window can be opened here: {error}"))?;
    window.set_panel_width_mm(config.screen.panel_width_mm);
    window.set_hold_ms(config.gate_rules().hold_ms);
    window.set_size(size.0 as f32, size.1 as f32);
    let shown = slint::Weak::clone(&window.component().as_weak());
    let scanner = config.scanner;
    let wiring = config.inputs()?;
    let intake = config.intake()?;
    let clock: Arc<dyn crate::clock::Clock> = Arc::new(crate::clock::SystemClock::new());
    let screens = Screens::new(&window);
    let link = Now::default();
    let _link = Link::start(place.folder.clone(), Arc::clone(&clock), link.clone())?;
    let opened = move || open_bench(&place, &clock, config, settings).map(|bench| bench.with_link(link));
    let kiosk = Kiosk::start(opened, move |screen| screens.send(&shown, screen))?;
    let telling = kiosk.telling();
    let _watching = wiring.map(|wiring| Watching::start(wiring, move |seen| telling.say(seen))).transpose()?;
    let begun = Instant::now();
    let keys = Keys::connect(&window, kiosk.acts(), scanner, move || begun.elapsed());
    KEYS.with(|cell| *cell.borrow_mut() = Some(keys));
    let telling = kiosk.telling();
    let _intake = Intake::start(&intake, move |heard| match heard {
        Heard::Scan(text) => on_the_keys(text),
        news => telling.scanner(news),
    })?;
    if door.guarded {
        window.guard_closing();
    }
    window.component().show()?;
    window.set_full_screen(door.full_screen);
    slint::run_event_loop()?;
    Ok(())
}

fn leave() {
    if let Err(error) = slint::quit_event_loop() {
        tracing::error!(%error, "the window cannot be closed");
    }
}

/// Carries a scan to the window's thread, where the keys are.
fn on_the_keys(text: String) {
    let asked = slint::invoke_from_event_loop(move || {
        KEYS.with(|cell| {
            if let Some(keys) = cell.borrow().as_ref() {
                keys.hear(text);
            }
        });
    });
    if let Err(error) = asked {
        tracing::warn!(%error, "the window is gone");
    }
}

thread_local! {
    static KEYS: std::cell::RefCell<Option<std::rc::Rc<Keys>>> = const { std::cell::RefCell::new(None) };
    static WINDOW: std::cell::RefCell<Option<KioskWindow>> = const { std::cell::RefCell::new(None) };
}

/// Carries screens to the window's thread. Only the newest counts: a slow window skips pictures, never acts.
struct Screens {
    newest: Arc<std::sync::Mutex<Option<sparkout_ui::screen::Screen>>>,
}

impl Screens {
    fn new(window: &KioskWindow) -> Self {
        WINDOW.with(|cell| *cell.borrow_mut() = Some(window.clone()));
        Self { newest: Arc::default() }
    }

    fn send(&self, window: &slint::Weak<sparkout_ui::window::App>, screen: sparkout_ui::screen::Screen) {
        let Ok(mut newest) = self.newest.lock() else { return };
        let waiting = newest.replace(screen).is_some();
        drop(newest);
        if waiting {
            return;
        }
        let newest = Arc::clone(&self.newest);
        let asked = window.upgrade_in_event_loop(move |_| {
            let screen = newest.lock().ok().and_then(|mut newest| newest.take());
            if let Some(screen) = screen {
                WINDOW.with(|cell| {
                    if let Some(window) = cell.borrow().as_ref() {
                        window.show_screen(&screen);
                        if screen.manners.left {
                            leave();
                        }
                    }
                });
            }
        });
        if let Err(error) = asked {
            tracing::warn!(%error, "the window is gone");
        }
    }
}
