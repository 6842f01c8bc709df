//! Pictures in this process: windows of the software renderer without a display, on a clock that is moved by hand.

use super::empty::Empty;
use super::{median, report, samples};
use slint::platform::software_renderer::{MinimalSoftwareWindow, PremultipliedRgbaColor, RepaintBufferType};
use slint::platform::{Platform, WindowAdapter, WindowEvent};
use slint::{ComponentHandle, PhysicalSize, PlatformError};
use sparkout_ui::screen::Language;
use sparkout_ui::window::KioskWindow;
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use std::time::{Duration, Instant};

const SIZE: (u32, u32) = (1280, 800);
const REDRAWS: usize = 25;
const KEYS: usize = 40;

thread_local! {
    static WINDOWS: RefCell<Vec<Rc<MinimalSoftwareWindow>>> = const { RefCell::new(Vec::new()) };
    static CLOCK: Cell<Duration> = const { Cell::new(Duration::ZERO) };
}

struct Bare;

impl Platform for Bare {
    fn create_window_adapter(&self) -> Result<Rc<dyn WindowAdapter>, PlatformError> {
        let window = MinimalSoftwareWindow::new(RepaintBufferType::ReusedBuffer);
        WINDOWS.with_borrow_mut(|windows| windows.push(Rc::clone(&window)));
        Ok(window)
    }

    fn duration_since_start(&self) -> Duration {
        CLOCK.get()
    }
}

/// Windows of this thread are drawn into memory from now on.
pub fn without_display() {
    slint::platform::set_platform(Box::new(Bare)).expect("the first platform of this process");
}

/// A window's memory.
pub struct Picture {
    window: Rc<MinimalSoftwareWindow>,
    dots: Vec<PremultipliedRgbaColor>,
}

impl Picture {
    /// Of the window made last on this thread.
    pub fn of_newest() -> Self {
        let window = WINDOWS.with_borrow(|windows| windows.last().cloned()).expect("a window");
        window.set_size(PhysicalSize::new(SIZE.0, SIZE.1));
        window.dispatch_event(WindowEvent::WindowActiveChanged(true));
        Self { window, dots: vec![PremultipliedRgbaColor::default(); (SIZE.0 * SIZE.1) as usize] }
    }

    /// Draws what has changed since the last time.
    pub fn draw(&mut self) {
        self.render(RepaintBufferType::ReusedBuffer);
    }

    /// Draws everything, as on a screen whose memory is lost at each frame.
    fn draw_all(&mut self) -> f64 {
        let begun = Instant::now();
        self.render(RepaintBufferType::NewBuffer);
        milliseconds(begun)
    }

    fn render(&mut self, kind: RepaintBufferType) {
        slint::platform::update_timers_and_animations();
        self.window.request_redraw();
        self.window.draw_if_needed(|renderer| {
            renderer.set_repaint_buffer_type(kind);
            renderer.render(&mut self.dots, SIZE.0 as usize);
        });
    }

    fn rest(&mut self) {
        for _ in 0..3 {
            CLOCK.set(CLOCK.get() + Duration::from_millis(500));
            self.draw();
        }
    }
}

fn milliseconds(since: Instant) -> f64 {
    since.elapsed().as_secs_f64() * 1000.0
}

pub fn measure() {
    without_display();
    let empty = Empty::new().expect("a window");
    empty.show().expect("shown");
    let mut nothing = Picture::of_newest();
    nothing.rest();
    let blank = median((0..REDRAWS).map(|_| nothing.draw_all()).collect());
    let window = KioskWindow::new().expect("a window");
    window.component().show().expect("shown");
    let mut picture = Picture::of_newest();
    window.set_size(SIZE.0 as f32, SIZE.1 as f32);
    let mut worst: f64 = 0.0;
    let mut changes = Vec::new();
    for (name, screen) in samples::all(Language::Spanish) {
        let begun = Instant::now();
        window.show_screen(&screen);
        picture.draw();
        changes.push((milliseconds(begun), name));
        picture.rest();
        let taken = median((0..REDRAWS).map(|_| picture.draw_all()).collect());
        worst = worst.max(taken);
        report(&format!("full redraw, {name}"), taken, blank, "ms", Some(16.0));
    }
    report("full redraw, worst screen", worst, blank, "ms", Some(16.0));
    let key_blank = keys(&mut nothing, &empty.clone_strong());
    screen_changes(changes, key_blank);
    let (_, typing) =
        samples::all(Language::Spanish).into_iter().find(|(name, _)| *name == "22-front-second").expect("a sample");
    window.show_screen(&typing);
    picture.rest();
    report("key pressed to changed picture", keys(&mut picture, window.component()), key_blank, "ms", Some(50.0));
}

fn screen_changes(mut changes: Vec<(f64, &str)>, blank: f64) {
    // The first screen also loads the typefaces.
    let (first, _) = changes.remove(0);
    report("first screen of a process, shown and drawn", first, blank, "ms", Some(500.0));
    let slowest = changes.iter().copied().max_by(|one, other| one.0.total_cmp(&other.0)).expect("screens");
    report(
        "another screen, shown and drawn",
        median(changes.iter().map(|(time, _)| *time).collect()),
        blank,
        "ms",
        Some(50.0),
    );
    report(&format!("the slowest of them, {}", slowest.1), slowest.0, blank, "ms", Some(50.0));
}

/// Each key is a digit or takes it away again.
fn keys(picture: &mut Picture, component: &impl ComponentHandle) -> f64 {
    let times = (0..KEYS).map(|count| {
        let text = if count % 2 == 0 { "7".into() } else { slint::platform::Key::Backspace.into() };
        let begun = Instant::now();
        component.window().dispatch_event(WindowEvent::KeyPressed { text });
        picture.draw();
        milliseconds(begun)
    });
    median(times.collect())
}
