//! The window: it shows a [`Screen`] and reports [`Action`]s. It decides nothing.
//!
//! **Keys.** Every key press arrives at the root of the window and goes to the sink set by [`KioskWindow::on_key`],
//! and nowhere else, so that a scanner's Enter presses nothing. The sink is where a wedge scanner's bursts are told from
//! a person's typing; what turns out to be typing it hands back by [`KioskWindow::typed`]: only that edits the number,
//! walks to a control, or presses it. No key ever acts on a held control. Without a sink every key is typing.
//!
//! **The number being typed** lives here, so that a key shows at once; it is text until `core` parses it.

mod card_views;
mod draw;
pub mod entry;
pub mod guard;
#[allow(missing_docs, unused_qualifications, clippy::all, clippy::pedantic, clippy::restriction)]
mod generated {
    slint::include_modules!();
}
mod health;
mod manners;
mod mirror;
mod over_plate;
mod plots;
mod reach;
mod sections;
mod setting;
mod typing;
mod views;
mod wheel;

use crate::action::{Action, Control};
use crate::locale::Locale;
use crate::screen::{Body, Language, Screen, StopState, WhyOf};
use entry::EntryKey;
use guard::Meaning;
use slint::{ComponentHandle, LogicalSize, PlatformError, Timer, TimerMode};
use std::cell::RefCell;
use std::rc::{Rc, Weak};
use zeroize::{Zeroize, Zeroizing};

use generated::{Acts, BodyKind, Draw, House, PlotDraw, Reach, SectionDraw, Shown};
pub use generated::{App, Theme, ThemeName, WidgetGallery};

/// One key press, before anything has acted on it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeyPress {
    /// What the key types; control keys as Slint encodes them (`"\n"` Return, `"\t"` Tab, `"\u{8}"` Backspace).
    pub text: String,
    /// Whether Control, Alt or Meta was down.
    pub with_modifier: bool,
    /// Whether it comes from a key that is held down.
    pub repeat: bool,
}

/// Takes every key press of the window.
pub type KeySink = Box<dyn Fn(KeyPress)>;

/// The kiosk's window. Cheap to clone: clones are handles of one window.
#[derive(Clone)]
pub struct KioskWindow(Rc<Inner>);

/// A handle that does not keep the window alive, for closures that the window itself holds.
#[derive(Clone)]
pub struct WeakKioskWindow(Weak<Inner>);

type Act = Rc<dyn Fn(Action)>;
type Sink = Rc<dyn Fn(KeyPress)>;

struct Inner {
    component: App,
    typing: RefCell<Typing>,
    last: RefCell<Option<Screen>>,
    act: RefCell<Option<Act>>,
    key_sink: RefCell<Option<Sink>>,
    touched: RefCell<Option<Rc<dyn Fn()>>>,
    /// Runs while what can be pressed is deaf.
    deaf: Timer,
    /// Runs from an act until its screen comes, or until it is time to say that work goes on.
    waiting: slint::Timer,
}

/// The number being typed.
#[derive(Default)]
struct Typing {
    /// Wiped when it goes: it may be a PIN.
    buffer: Zeroizing<String>,
    /// The entry that is asked for, and whether it may be negative; `None` when no number is asked for.
    entry: Option<(u64, bool)>,
    /// Nobody reads along.
    secret: bool,
    /// The entry that the number was typed for, and its unit.
    typed_for: Option<(u64, String)>,
}

impl KioskWindow {
    /// Makes the window, still hidden.
    ///
    /// # Errors
    /// When the platform has no window to give.
    pub fn new() -> Result<Self, PlatformError> {
        let window = Self(Rc::new(Inner {
            component: App::new()?,
            typing: RefCell::default(),
            last: RefCell::default(),
            act: RefCell::default(),
            key_sink: RefCell::default(),
            touched: RefCell::default(),
            deaf: Timer::default(),
            waiting: slint::Timer::default(),
        }));
        draw::connect(&window.component().global::<Draw>());
        plots::connect(&window.component().global::<PlotDraw>());
        sections::connect(&window.component().global::<SectionDraw>());
        window.connect();
        window.connect_manners();
        let size = window.component().window().size().to_logical(window.component().window().scale_factor());
        if size.width > 0.0 && size.height > 0.0 {
            window.set_theme_size(size);
        }
        Ok(window)
    }

    /// The Slint component, for showing it, for tests and for pictures.
    #[must_use]
    pub fn component(&self) -> &App {
        &self.0.component
    }

    /// A handle for closures that the window holds.
    #[must_use]
    pub fn downgrade(&self) -> WeakKioskWindow {
        WeakKioskWindow(Rc::downgrade(&self.0))
    }

    /// Who hears what a person does. Setting it again replaces it.
    pub fn on_action(&self, act: impl Fn(Action) + 'static) {
        *self.0.act.borrow_mut() = Some(Rc::new(act));
    }

    /// Who takes the keys; see the module's words on keys.
    pub fn on_key(&self, sink: KeySink) {
        *self.0.key_sink.borrow_mut() = Some(sink.into());
    }

    /// The width of the panel's picture in millimetres: it decides how many pixels a target needs.
    pub fn set_panel_width_mm(&self, width_mm: f32) {
        if width_mm.is_finite() && width_mm > 0.0 {
            self.component().global::<Theme>().set_panel_width_mm(width_mm);
        }
    }

    /// How long a pointer is held to acknowledge, milliseconds.
    pub fn set_hold_ms(&self, hold_ms: u64) {
        self.component().global::<Theme>().set_hold(i64::try_from(hold_ms).unwrap_or(i64::MAX));
    }

    /// Nothing moves when `reduced`.
    pub fn set_reduced_motion(&self, reduced: bool) {
        self.component().global::<Theme>().set_reduced_motion(reduced);
    }

    /// The window's size in logical pixels.
    pub fn set_size(&self, width: f32, height: f32) {
        let size = LogicalSize::new(width, height);
        self.component().window().set_size(size);
        self.set_theme_size(size);
    }

    /// Shows this; only what differs from what is shown is set. The number being typed stays unless another is asked.
    pub fn show_screen(&self, screen: &Screen) {
        let reach = self.component().global::<Reach>();
        reach.set_wanted(slint::SharedString::default());
        self.no_longer_busy();
        let last = self.0.last.replace(Some(screen.clone()));
        let last = last.as_ref();
        if last.is_some_and(|last| Meaning::of(last) != Meaning::of(screen)) {
            self.go_deaf();
        }
        let shown = self.component().global::<Shown>();
        let differs = |same: fn(&Screen, &Screen) -> bool| last.is_none_or(|last| !same(last, screen));
        if differs(|a, b| a.settings == b.settings) {
            self.apply_settings(screen);
        }
        if differs(|a, b| a.strip == b.strip) {
            shown.set_strip(views::strip(&screen.strip));
        }
        if differs(|a, b| a.rail == b.rail) {
            apply_rail(&shown, screen);
        }
        if differs(|a, b| a.body == b.body) {
            apply_body(&shown, &self.component().global::<House>(), &screen.body);
        }
        let is_settings = |screen: &Screen| matches!(screen.body, Body::About(_) | Body::Why(_));
        if differs(|a, b| a.entry == b.entry) || last.is_some_and(|last| is_settings(last) != is_settings(screen)) {
            shown.set_entry(views::entry(screen.entry.as_ref()));
            self.ask(screen);
        }
        self.show_manners(last, screen);
        if differs(|a, b| a.notice == b.notice) {
            shown.set_notice(views::notice(screen.notice.as_ref()));
        }
        if differs(|a, b| a.question == b.question) {
            shown.set_question(views::question(screen.question.as_ref()));
        }
        reach.set_modal(screen.question.is_some() || screen.manners.stands_over());
        if differs(|a, b| a.spark == b.spark) {
            shown.set_spark(screen.spark.and_then(|row| i32::try_from(row).ok()).unwrap_or(-1));
        }
        // The control in hand may not be drawn any more; one below a question is out of reach.
        if reach.get_at().is_empty() {
            return;
        }
        if differs(|a, b| a.question.is_some() == b.question.is_some()) {
            self.let_go();
        } else {
            let same_body = |a: &Screen, b: &Screen| std::mem::discriminant(&a.body) == std::mem::discriminant(&b.body);
            self.keep_focus(!differs(same_body));
        }
    }

    fn connect(&self) {
        let acts = self.component().global::<Acts>();
        let weak = self.downgrade();
        let report = move |action| {
            if let Some(window) = weak.upgrade() {
                window.report(action);
            }
        };
        let weak = self.downgrade();
        let press = move |control, index| {
            if let Some(window) = weak.upgrade().filter(|window| !window.is_deaf()) {
                window.report(Action::Press { control, index });
            }
        };
        let to = press.clone();
        acts.on_press(move |control, index| to(control.into(), usize::try_from(index).unwrap_or_default()));
        acts.on_why(move |of| press(Control::Why, WhyOf::from(of).index()));
        let to = report.clone();
        acts.on_held(move |control, milliseconds| {
            let milliseconds = u64::try_from(milliseconds).unwrap_or_default();
            to(Action::Held { control: control.into(), milliseconds });
        });
        let to = report.clone();
        acts.on_set_language(move |language| to(Action::SetLanguage(language.into())));
        let to = report.clone();
        acts.on_set_units(move |units| to(Action::SetUnits(units.into())));
        acts.on_set_theme(move |theme| report(Action::SetTheme(theme.into())));
        let weak = self.downgrade();
        acts.on_key(move |name| {
            if let (Some(window), Some(key)) = (weak.upgrade(), EntryKey::named(&name)) {
                window.edit(key);
            }
        });
        let weak = self.downgrade();
        self.component().global::<Reach>().on_touched(move || {
            if let Some(window) = weak.upgrade() {
                window.let_go();
            }
        });
        let weak = self.downgrade();
        self.component().on_key_pressed(move |text, with_modifier, repeat| {
            if let Some(window) = weak.upgrade() {
                window.key(KeyPress { text: text.into(), with_modifier, repeat });
            }
        });
    }

    /// What can be pressed has come to mean something else: see [`guard`].
    fn go_deaf(&self) {
        self.0.deaf.start(TimerMode::SingleShot, guard::DEAF, || {});
    }

    fn is_deaf(&self) -> bool {
        self.0.deaf.running()
    }

    fn report(&self, action: Action) {
        let act = self.0.act.borrow().clone();
        if let Some(act) = act {
            self.soon_busy();
            act(action);
        }
    }

    fn ask(&self, screen: &Screen) {
        {
            let mut typing = self.0.typing.borrow_mut();
            typing.entry = screen.entry.as_ref().map(|entry| (entry.serial, entry.signed));
            let asked = screen.entry.as_ref().map(|entry| (entry.serial, entry.unit.clone()));
            // Settings ask for no number, and whoever comes back from there goes on typing. Not in another unit, though:
            // half a number of inches is no number of millimetres.
            let is_settings = matches!(screen.body, Body::About(_) | Body::Why(_));
            let secret = screen.entry.as_ref().is_some_and(|entry| entry.secret);
            // Digits of a PIN outlast nothing, settings neither.
            if asked != typing.typed_for && (!is_settings || typing.secret) {
                typing.buffer.zeroize();
                typing.typed_for = asked;
            }
            typing.secret = secret;
        }
        self.show_typed();
    }

    fn apply_settings(&self, screen: &Screen) {
        let shown = self.component().global::<Shown>();
        shown.set_language(screen.settings.language.into());
        shown.set_units(screen.settings.units.into());
        shown.set_decimal_sign(Locale::from(screen.settings).decimal().to_string().into());
        self.show_typed();
        self.component().global::<Theme>().set_name(screen.settings.theme.into());
        let language = match screen.settings.language {
            Language::English => "",
            Language::Spanish => "es",
        };
        // The languages are bundled: a failure could only mean that the file was not there when this was built,
        // and the test on the words would have said so; the screen then stays in English.
        let _ = slint::select_bundled_translation(language);
    }

    fn set_theme_size(&self, size: LogicalSize) {
        let theme = self.component().global::<Theme>();
        theme.set_window_width(size.width);
        theme.set_window_height(size.height);
    }
}

/// Every widget in every state, for looking at: it is no screen of the kiosk, and nothing on it does anything.
///
/// # Errors
/// When the platform has no window to give.
pub fn widget_gallery() -> Result<WidgetGallery, PlatformError> {
    let gallery = WidgetGallery::new()?;
    draw::connect(&gallery.global::<Draw>());
    Ok(gallery)
}

impl WeakKioskWindow {
    /// The window, if it is still there.
    #[must_use]
    pub fn upgrade(&self) -> Option<KioskWindow> {
        self.0.upgrade().map(KioskWindow)
    }
}

fn apply_rail(shown: &Shown<'_>, screen: &Screen) {
    shown.set_rail(views::list(&screen.rail, views::rail_stop));
    let now = screen.rail.iter().position(|stop| stop.state == StopState::Now);
    shown.set_rail_now(now.and_then(|index| i32::try_from(index).ok()).unwrap_or(-1));
    let next = now.and_then(|index| screen.rail.get(index + 1));
    shown.set_has_next(next.is_some());
    if let Some(next) = next {
        shown.set_next_stop(next.name.into());
    }
}

/// The body is set before its kind, so that a screen never starts on another visit's figures.
fn apply_body(shown: &Shown<'_>, house: &House<'_>, body: &Body) {
    macro_rules! show {
        ($kind:ident, $set:ident, $view:expr) => {{
            shown.$set($view);
            BodyKind::$kind
        }};
    }
    macro_rules! show_in_house {
        ($kind:ident, $set:ident, $view:expr) => {{
            house.$set($view);
            BodyKind::$kind
        }};
    }
    let kind = match body {
        Body::Starting => BodyKind::Starting,
        Body::Fault(body) => show!(Fault, set_fault, views::fault(body)),
        Body::Home(body) => show!(Home, set_home, views::home(body)),
        Body::Find(body) => show!(Find, set_find, views::find(body)),
        Body::Enrol(body) => show!(Enrol, set_enrol, views::enrol(body)),
        Body::NewType(body) => show!(NewType, set_new_type, views::new_type(body)),
        Body::IsolationAsked(stage) => show!(IsolationAsked, set_isolation_for, (*stage).into()),
        Body::Receive(body) => show!(Receive, set_receive, views::receive(body)),
        Body::Tape(body) => show!(Tape, set_tape, views::tape(body)),
        Body::Front(body) => show!(Front, set_front, views::front(body)),
        Body::Rear(body) => show!(Rear, set_rear, views::rear(body)),
        Body::Clearance(body) => show!(Clearance, set_clearance, views::clearance(body)),
        Body::Grind(body) => show!(Grind, set_grind, views::grind(body)),
        Body::Prove(body) => show!(Prove, set_prove, views::prove(body)),
        Body::Relief(body) => show!(Relief, set_relief, setting::relief(body)),
        Body::Knife(body) => show!(Knife, set_knife, setting::knife(body)),
        Body::BackLap(body) => show!(BackLap, set_back_lap, setting::back_lap(body)),
        Body::Height(body) => show!(Height, set_height, setting::height(body)),
        Body::Plate(body) => show!(Plate, set_plate, setting::plate(body)),
        Body::Check(body) => show!(Check, set_check, setting::check(body)),
        Body::Label(body) => show!(Label, set_label, views::label(body)),
        Body::Return(body) => show!(Return, set_return, views::returning(body)),
        Body::About(body) => show!(About, set_about, views::about(body)),
        Body::UnitCard(body) => show!(UnitCard, set_card, card_views::unit_card(body)),
        Body::Grinder(body) => show!(Grinder, set_grinder, health::grinder(body)),
        Body::GrinderCheck(body) => show!(GrinderCheck, set_grinder_check, health::check(body)),
        Body::SpotCheck(body) => show!(SpotCheck, set_spot_check, health::spot(body)),
        Body::CheckOverride(body) => show!(CheckOverride, set_check_override, health::overriding(body)),
        Body::Due(body) => show!(Due, set_due, health::due(body)),
        Body::ShopSettings(body) => {
            show_in_house!(ShopSettings, set_shop_settings, manners::shop_settings(body))
        }
        Body::Pages(body) => show_in_house!(Pages, set_pages, manners::pages(body)),
        Body::FirstStart(body) => show_in_house!(FirstStart, set_first_start, manners::first_start(body)),
        Body::Why(body) => show!(Why, set_why, views::why(body)),
        Body::Pin(body) => show_in_house!(Pin, set_pin, manners::pin(body)),
        Body::Wheel(body) => show!(Wheel, set_wheel, wheel::wheel(body)),
        Body::Lockout(body) => show!(Lockout, set_lockout, wheel::lockout(body)),
        Body::Form(body) => show_in_house!(Form, set_form, wheel::form(body)),
    };
    shown.set_kind(kind);
}
