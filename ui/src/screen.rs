//! What one screen shows, as plain data that can cross threads.
//!
//! The kiosk's thread makes a [`Screen`] from a visit ([`crate::present`]); the window's thread sets it
//! ([`crate::window`]). Figures arrive here already in the person's unit, with sign and thin spaces;
//! fixed words stay codes and are put into the person's language by the screens themselves.

mod card;
mod drawn;
mod grinding;
mod health;
mod inputs;
mod manners;
mod pin;
mod proving;
mod receiving;
mod setting;
mod shop;
mod truing;
mod wheel;
mod why;

pub use card::*;
pub use drawn::*;
pub use grinding::*;
pub use health::*;
pub use inputs::*;
pub use manners::*;
pub use pin::*;
pub use proving::*;
pub use receiving::*;
pub use setting::*;
pub use shop::*;
pub use truing::*;
pub use wheel::*;
pub use why::*;

/// The whole picture at one moment.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Screen {
    /// Language, units and theme in force.
    pub settings: Settings,
    /// The strip along the top.
    pub strip: Strip,
    /// The stops of the visit along the foot; empty when no visit is on the rails.
    pub rail: Vec<RailStop>,
    /// What fills the sheet.
    pub body: Body,
    /// The number that is asked for now, if any: the screen shows the reading field and the keypad.
    pub entry: Option<Entry>,
    /// One sentence for the person at the bench: the last refusal, or what just happened.
    pub notice: Option<Notice>,
    /// A question that must be answered before anything else.
    pub question: Option<Question>,
    /// The row of the screen's list that the next command card acts on.
    pub spark: Option<usize>,
    /// Practice, tour, dimmed screen and what else is so whatever is on the rails.
    pub manners: Manners,
}

/// The language of the words on the screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs, reason = "the names say it")]
pub enum Language {
    #[default]
    English,
    Spanish,
}

/// The theme in force.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs, reason = "the names say it")]
pub enum Theme {
    #[default]
    Light,
    Dark,
    Contrast,
}

/// What a person may switch live.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Settings {
    /// The language of words, numbers and dates.
    pub language: Language,
    /// The unit of lengths.
    pub units: sparkout_core::reading::Units,
    /// The colours.
    pub theme: Theme,
    /// Where the shop is: with the language it decides how numbers are written.
    pub region: crate::locale::Region,
}

/// The strip along the top: always visible, always true.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Strip {
    /// The unit's tag, or empty.
    pub tag: String,
    /// The mower and position, such as `Fairway 3 · 2`, or empty.
    pub place: String,
    /// How the power stands.
    pub isolation: Isolation,
    /// The number and the owner of the lock that is on, or empty.
    pub lock: String,
    /// Where labels go and whether that works.
    pub printer_ready: bool,
    /// The operator's initials, or empty when nobody has scanned a badge.
    pub operator: String,
    /// The time of day, `09:42`.
    pub clock: String,
    /// How many events are on this kiosk (the journal's size), as text.
    pub journal_entries: String,
    /// The hub.
    pub link: LinkState,
    /// The wall clock was moved a short while ago.
    pub clock_changed: bool,
    /// In practice nothing is recorded, and the strip says so instead of the record's size.
    pub practice: bool,
    /// What the guard's and the stop's switches say.
    pub switches: SwitchState,
}

/// How the power stands, as far as the record knows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Isolation {
    /// Nothing was said in this stage.
    #[default]
    Unknown,
    /// Somebody acknowledged that it is off and was tried.
    Acknowledged,
    /// A lockout was tried and proved dead.
    Locked,
    /// A grind is running: power is on.
    Running,
    /// A lock is on, and what it is on was not tried yet: it may be live.
    LockUntried,
    /// A lock is on and was tried; the machine is not proved dead.
    LockTried,
}

/// The stops of the rail are the stages themselves.
pub use sparkout_core::visit::kind::StageName as StopName;

/// How far a stop is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names say it")]
pub enum StopState {
    Done,
    Now,
    ToCome,
}

/// One stop on the rail.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names say it")]
pub struct RailStop {
    pub name: StopName,
    pub state: StopState,
}

/// What fills the sheet between strip and rail.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Body {
    /// The journal is being checked; nothing is accepted yet.
    #[default]
    Starting,
    /// The record cannot be used: words, ready in the person's language.
    Fault(Fault),
    /// No visit on the rails.
    Home(Home),
    /// Finding a unit whose tag cannot be read: by mower, then position.
    Find(Find),
    /// A tag that nobody knows: choose its type, then its place.
    Enrol(Enrol),
    /// A unit type that does not exist yet, value by value.
    NewType(NewType),
    /// Hands are about to go into the machine: hold to acknowledge isolation.
    IsolationAsked(StopName),
    /// The stages.
    Receive(Receive),
    /// Diameters by tape.
    Tape(Tape),
    /// The reel axis trued to the rails.
    Front(Front),
    /// The rear roller trued to the rails.
    Rear(Rear),
    /// The safety gate.
    Clearance(Clearance),
    /// Passes.
    Grind(Grind),
    /// What came out.
    Prove(Prove),
    /// Land made narrow again.
    Relief(Relief),
    /// The bedknife.
    Knife(Knife),
    /// The reel run backwards.
    BackLap(BackLap),
    /// The height of cut.
    Height(Height),
    /// On the surface plate.
    Plate(Plate),
    /// Looked at.
    Check(Check),
    /// The printed result.
    Label(Label),
    /// Back to its mower.
    Return(Return),
    /// Language, units, theme; cautions and licences.
    About(About),
    /// A unit's card.
    UnitCard(UnitCard),
    /// The grinder's own health.
    Grinder(Box<Grinder>),
    /// Its check with the master bar.
    GrinderCheck(GrinderCheck),
    /// A unit on the surface plate.
    SpotCheck(SpotCheck),
    /// A lead's reason to use it all the same.
    CheckOverride(CheckOverride),
    /// What is due.
    Due(Due),
    /// The shop's settings, for a lead.
    ShopSettings(ShopSettings),
    /// Cautions and licences, page by page.
    Pages(Pages),
    /// A new bench's first start.
    FirstStart(FirstStart),
    /// Why a figure is what it is.
    Why(Box<Why>),
    /// A PIN is asked.
    Pin(PinAsked),
    /// The wheel's record.
    Wheel(Box<WheelCard>),
    /// The lockout.
    Lockout(Box<LockoutCard>),
    /// A form of either.
    Form(Form),
}

/// An end of the reel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs, reason = "the names are the handbook's")]
pub enum EndName {
    #[default]
    Leading,
    Trailing,
    Centre,
}

/// A side as it stands before the operator.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs, reason = "the names say it")]
pub enum SideName {
    #[default]
    Left,
    Right,
    Middle,
}

/// What number is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs, reason = "the names say it")]
pub enum Asked {
    #[default]
    Diameter,
    Dial,
    Indicator,
    Land,
    HeightOfCut,
    TypeField,
}

/// The reading field and the keypad.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Entry {
    /// Changes when another number is asked for: the field is then emptied.
    pub serial: u64,
    /// What is asked.
    pub asked: Asked,
    /// At which end, where that matters.
    pub end: EndName,
    /// Where that is for the operator.
    pub side: SideName,
    /// The unit, `in`, `thou` or `mm`.
    pub unit: String,
    /// A value to compare with while typing: the target, or the last reading; signed, or empty.
    pub hint: String,
    /// What is asked when [`Asked::TypeField`], in the person's language.
    pub field: String,
    /// Whether it may be negative (the ± key is alive).
    pub signed: bool,
    /// Whole digits that nobody reads along: dots stand in the field, and what is typed goes as a PIN.
    pub secret: bool,
}

/// One sentence, in the person's language.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Notice {
    /// The sentence.
    pub text: String,
    /// Whether something was refused (else it only informs).
    pub refused: bool,
}

/// A question that stands over the screen, in the person's language.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Question {
    /// What is asked.
    pub text: String,
    /// Why, with the numbers.
    pub detail: String,
    /// The answers, up to three, the likeliest first.
    pub answers: Vec<Answer>,
}

/// An answer to choose.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answer {
    /// Its name in English, by which scripts press it.
    pub name: String,
    /// What stands on it, in the person's language.
    pub label: String,
}
