//! What one screen shows, as plain data that can cross threads.
//!
//! The kiosk's thread makes a [`Screen`] from a visit ([`crate::present`]); the window's thread sets it
//! ([`crate::window`]). Figures arrive here already in the person's unit, with sign and thin spaces;
//! fixed words stay codes and are put into the person's language by the screens themselves.

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
    /// The lock's number when [`Isolation::Locked`].
    pub lock: String,
    /// Where labels go and whether that works.
    pub printer_ready: bool,
    /// The operator's initials, or empty when nobody has scanned a badge.
    pub operator: String,
    /// The time of day, `09:42`.
    pub clock: String,
    /// How many events are on this kiosk (the journal's size), as text.
    pub journal_entries: String,
}

/// How the power stands, as far as the record knows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Isolation {
    /// Nothing was said in this stage.
    #[default]
    Unknown,
    /// Somebody acknowledged that it is off and was tried.
    Acknowledged,
    /// A lockout record is open.
    Locked,
    /// A grind is running: power is on.
    Running,
}

/// The stages, in the order of a spin visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names are the handbook's")]
pub enum StopName {
    Receive,
    Tape,
    Front,
    Rear,
    Clearance,
    Grind,
    Prove,
    Label,
    Return,
}

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
    /// The printed result.
    Label(Label),
    /// Back to its mower.
    Return(Return),
    /// Language, units, theme; cautions and licences.
    About(About),
}

/// The record cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Fault {
    /// What is wrong, in a few words.
    pub title: String,
    /// What happened to the data and where it is.
    pub detail: String,
    /// What to do next.
    pub advice: String,
}

/// No visit on the rails: scan a tag.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Home {
    /// The operator's name, or empty: scan a badge.
    pub operator: String,
    /// Visits that were paused or wait to go back, oldest first.
    pub waiting: Vec<Waiting>,
    /// The shop's name.
    pub shop: String,
    /// The grinder at this bench.
    pub grinder: String,
    /// When its check runs out, ready to show; empty when unknown.
    pub check_due: String,
    /// Units on record, as text.
    pub units: String,
}

/// A visit that is open but not on the rails.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Waiting {
    /// The unit.
    pub tag: String,
    /// Its mower and position.
    pub place: String,
    /// Where the visit stands.
    pub stage: StopName,
    /// Since when, ready to show.
    pub since: String,
}

/// Find by mower, then position.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Find {
    /// The mowers.
    pub mowers: Vec<Choice>,
    /// The chosen mower's picture; each slot says which tag sits there.
    pub picture: Option<MowerPicture>,
}

/// A thing to pick from a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choice {
    /// Its name.
    pub name: String,
    /// One line about it, may be empty.
    pub detail: String,
    /// Whether it is picked now.
    pub chosen: bool,
}

/// Enrol an unknown tag in two presses.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Enrol {
    /// The tag as scanned.
    pub tag: String,
    /// The types on record; the last press offers a new one.
    pub types: Vec<Choice>,
    /// The mowers, once a type is chosen.
    pub mowers: Vec<Choice>,
    /// The chosen mower's positions.
    pub picture: Option<MowerPicture>,
}

/// A new unit type, field by field; the entry asks for the one that is `now`.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct NewType {
    /// The fields, ready to show.
    pub fields: Vec<FieldRow>,
    /// Whether all that is needed is there.
    pub complete: bool,
}

/// A field of the new type.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FieldRow {
    /// What it is, in the person's language.
    pub label: String,
    /// Its value with unit, or empty.
    pub value: String,
    /// Whether the entry is about this one.
    pub now: bool,
}

/// A mower seen from above, its positions as rectangles in a unit square.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MowerPicture {
    /// The mower's name.
    pub name: String,
    /// Its positions.
    pub slots: Vec<Slot>,
}

/// A position on a mower.
#[derive(Debug, Clone, PartialEq)]
pub struct Slot {
    /// Its number.
    pub number: String,
    /// The unit there, or empty.
    pub tag: String,
    /// Centre across the mower, 0 left to 1 right.
    pub x: f32,
    /// Centre along the mower, 0 front to 1 rear.
    pub y: f32,
    /// Whether it is the one in hand.
    pub now: bool,
}

/// A unit's card and the look before it goes on the rails.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Receive {
    /// The unit's tag.
    pub tag: String,
    /// Its type's name.
    pub type_name: String,
    /// How many blades.
    pub blades: String,
    /// Its kind of frame.
    pub frame: FrameName,
    /// Date of the last grind, or empty.
    pub last_date: String,
    /// Who ground it, or empty.
    pub last_operator: String,
    /// The land then, with unit, or empty.
    pub last_land: String,
    /// Whole grinds left by the usual removal, or empty.
    pub grinds_left: String,
    /// Wear used in percent, or empty; over 100 when worn out.
    pub used_percent: String,
    /// The diameters over time.
    pub plot: Plot,
    /// Where it sits.
    pub mower: MowerPicture,
    /// Its weight with unit, or empty.
    pub weight: String,
    /// Whether the weight asks for a second person or a hoist (an estimate).
    pub needs_help: bool,
    /// Reel bearings, rollers, blades and spiders.
    pub conditions: [Condition; 3],
    /// The kinds of visit that can be chosen.
    pub kinds: Vec<KindChoice>,
    /// Whether the visit is held for repair.
    pub held: bool,
    /// Whether everything needed for the next stage is there.
    pub can_go: bool,
}

/// The kinds of frame of the handbook.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs, reason = "the names are the handbook's")]
pub enum FrameName {
    #[default]
    Adjustable,
    SidePlates,
    Welded,
    FloatingReel,
    FixedHead,
}

/// What a look found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Condition {
    /// Not looked at yet.
    #[default]
    NotSeen,
    /// Nothing found.
    Good,
    /// Worth a note; goes on.
    Note,
    /// Holds the visit for repair.
    Bad,
}

/// The kinds of visit of the handbook.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names are the handbook's")]
pub enum KindName {
    Spin,
    ReliefAndSpin,
    Bedknife,
    BackLap,
    HeightOfCut,
    CheckOnly,
}

/// A kind of visit to choose.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names say it")]
pub struct KindChoice {
    pub kind: KindName,
    pub chosen: bool,
    pub offered: bool,
}

/// Diameter over time, scaled into a unit square (0,0 top left).
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Plot {
    /// The points, oldest first.
    pub points: Vec<(f32, f32)>,
    /// Height of the wear limit.
    pub limit_y: f32,
    /// The wear limit with unit.
    pub limit: String,
    /// The newest diameter with unit.
    pub newest: String,
    /// First and last date below the axis.
    pub from: String,
    /// See `from`.
    pub to: String,
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

/// A reading that is wanted or there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// Which end.
    pub end: EndName,
    /// Where that is for the operator.
    pub side: SideName,
    /// The value with unit, or empty.
    pub value: String,
    /// Whether the entry is about this one.
    pub now: bool,
    /// Whether it may be left out.
    pub optional: bool,
}

/// Diameters by tape.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Tape {
    /// The places, in the order they are asked.
    pub places: Vec<Place>,
    /// The reel's outline: radius excess at your left, middle, your right, −1 to 1, exaggerated.
    pub profile: [f32; 3],
    /// Whether both ends are there, so that what follows is filled.
    pub computed: bool,
    /// The cone, signed, with unit.
    pub cone: String,
    /// The barrel, signed, with unit, or empty.
    pub barrel: String,
    /// Where the dial is zeroed.
    pub zero_end: EndName,
    /// Its side.
    pub zero_side: SideName,
    /// The dial target at the other end, signed.
    pub target: String,
    /// The unit of the target.
    pub unit: String,
    /// The tip-circle diameter at the smaller end with unit.
    pub smallest: String,
    /// Wear used in percent, or empty.
    pub used_percent: String,
    /// Whether the next stage can be entered.
    pub can_go: bool,
}

/// Where Front or Rear stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TruePhase {
    /// Touch at the zero end and set the dial (Front); read the first end (Rear).
    #[default]
    First,
    /// Touch at the other end and enter the dial (Front); read the second end (Rear).
    Second,
    /// Turn an adjuster.
    Adjust,
    /// Within tolerance but not proven; more touches can prove it.
    TouchAgain,
    /// Within tolerance, not proven, and no touch can prove it: small move, or record so.
    NotProven,
    /// Proven parallel.
    Parallel,
    /// Recorded by name as within tolerance, not proven.
    AcceptedNotProven,
}

/// Which way to turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Direction {
    /// As the adjuster is seen.
    Clockwise,
    /// As the adjuster is seen.
    Counterclockwise,
    /// The turning direction is not known: raise this side.
    #[default]
    Raise,
    /// The turning direction is not known: lower this side.
    Lower,
}

/// The unit of a turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TurnUnit {
    /// Turns of a screw.
    Turn,
    /// Degrees of an eccentric.
    Degrees,
    /// Only the height is known (no adjuster data, or beyond an eccentric's reach).
    #[default]
    Height,
}

/// One way to cure what was measured.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Turn {
    /// How much, unsigned.
    pub amount: String,
    /// Of what.
    pub unit: TurnUnit,
    /// The unit of the amount when it is a height.
    pub height_unit: String,
    /// Which way.
    pub direction: Direction,
    /// Which adjuster.
    pub side: SideName,
    /// Whether the adjuster is looked at from above (else from its end).
    pub from_above: bool,
    /// The height it makes, signed, with unit.
    pub height: String,
    /// In flats of a hexagon, or empty.
    pub flats: String,
    /// What the zero end will read afterwards, signed; empty for Rear.
    pub rezero: String,
}

/// A finished round of touches or readings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RoundLine {
    /// Counted from one.
    pub number: u32,
    /// The reading, signed.
    pub reading: String,
    /// What it means, unsigned, such as `3.0`.
    pub error: String,
    /// Whether the other end (Rear: your right) sits high; false when low.
    pub high: bool,
    /// What was turned, such as `0.17`, or empty.
    pub turned: String,
    /// Unit of what was turned.
    pub turn_unit: TurnUnit,
    /// Whether it is the round in hand.
    pub now: bool,
}

/// The reel axis trued to the rails.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Front {
    /// Where it stands.
    pub phase: TruePhase,
    /// Round, counted from one.
    pub round: u32,
    /// Touches taken at each end in this round.
    pub touches: u32,
    /// How many touches at each end would prove it; 0 when not asked for.
    pub touches_needed: u32,
    /// Where the dial is zeroed.
    pub zero_end: EndName,
    /// Its side.
    pub zero_side: SideName,
    /// The dial target at the other end, signed.
    pub target: String,
    /// The unit of dial values and errors.
    pub unit: String,
    /// The last reading, signed, or empty.
    pub reading: String,
    /// The tilt without sign, or empty.
    pub tilt: String,
    /// Its uncertainty (95 %), or empty.
    pub tilt_u95: String,
    /// The tolerance.
    pub limit: String,
    /// −1 the other end sits low, 0 level, 1 high.
    pub sits: i32,
    /// Tilt for the picture: rise of your right end over your left, −1 to 1 of the most that is drawn.
    pub picture_tilt: f32,
    /// How many times the tilt is exaggerated, as text.
    pub exaggeration: String,
    /// Dial for the picture: where the hand stands, as a fraction of a turn from zero (signed).
    pub dial_hand: f32,
    /// Where the target mark stands, as `dial_hand`.
    pub dial_target: f32,
    /// The move asked for.
    pub turn: Option<Turn>,
    /// The same cure at the other adjuster.
    pub alternative: Option<Turn>,
    /// What the zero end is expected to read at the start of this round, signed, or empty.
    pub expected_zero: String,
    /// The rounds, oldest first.
    pub rounds: Vec<RoundLine>,
    /// Whether the next stage can be entered.
    pub can_go: bool,
}

/// The rear roller trued to the rails.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Rear {
    /// Where it stands.
    pub phase: TruePhase,
    /// Round, counted from one.
    pub round: u32,
    /// Unit of readings and errors.
    pub unit: String,
    /// Reading at your left, or empty.
    pub left: String,
    /// Reading at your right, or empty.
    pub right: String,
    /// Which side is asked for now.
    pub side: SideName,
    /// The error without sign, or empty.
    pub error: String,
    /// Its uncertainty (95 %), or empty.
    pub error_u95: String,
    /// The tolerance.
    pub limit: String,
    /// −1 your right sits low, 0 level, 1 high.
    pub sits: i32,
    /// As in [`Front::picture_tilt`].
    pub picture_tilt: f32,
    /// How many times the error is exaggerated, as text.
    pub exaggeration: String,
    /// The move asked for.
    pub turn: Option<Turn>,
    /// The rounds, oldest first.
    pub rounds: Vec<RoundLine>,
    /// Whether the next stage can be entered.
    pub can_go: bool,
}

/// Signal words of ANSI Z535.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs, reason = "the names are the standard's")]
pub enum Signal {
    Danger,
    #[default]
    Warning,
    Caution,
    Notice,
}

/// An item of the gate, in the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ItemLine {
    /// In a few words, in the person's language.
    pub short: String,
    /// How far it is.
    pub state: StopState,
}

/// The item to acknowledge now, in the person's language.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Item {
    /// Counted from one.
    pub number: u32,
    /// Its signal word.
    pub signal: Signal,
    /// What must be so.
    pub title: String,
    /// Why, and how to check.
    pub text: String,
    /// The rule behind it.
    pub reference: String,
}

/// The safety gate.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Clearance {
    /// The items, in order.
    pub items: Vec<ItemLine>,
    /// The one to acknowledge; none when the checklist is complete or blocked.
    pub current: Option<Item>,
    /// What stands in the way, each a sentence in the person's language.
    pub blocks: Vec<String>,
    /// Whether every item is acknowledged and nothing stands in the way: the grind may be started by a held pointer.
    pub complete: bool,
    /// The wheel's surface speed, figure.
    pub speed: String,
    /// Its unit.
    pub speed_unit: String,
    /// The spindle's speed against the wheel's rated speed: `3450 / 4200`.
    pub rpm: String,
    /// Margin below the rating in percent, signed.
    pub margin_percent: String,
    /// Whether the wheel turns within its rating.
    pub within_rating: bool,
    /// Time left before it lapses, `9:41`, or the whole time before it is complete.
    pub lapses_in: String,
    /// Passes already done when a grind was interrupted; 0 otherwise.
    pub passes_kept: u32,
}

/// One pass in the strip.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PassCell {
    /// Dial after it, or empty for a pass without infeed.
    pub dial: String,
    /// How far it is.
    pub state: StopState,
    /// Whether it is without infeed.
    pub spark_out: bool,
}

/// Passes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Grind {
    /// The pass in hand, counted from one.
    pub pass: u32,
    /// All of them.
    pub passes: u32,
    /// What to dial now (largest figure); empty in a pass without infeed.
    pub dial: String,
    /// Its unit.
    pub unit: String,
    /// The dial of the pass after, or empty.
    pub next_dial: String,
    /// The strip.
    pub strip: Vec<PassCell>,
    /// Since the start, `01:12`.
    pub elapsed: String,
    /// Estimated time left, `01:22`.
    pub left: String,
    /// Expected diameter at the end, with unit.
    pub final_diameter: String,
    /// Expected land with unit, or empty.
    pub land_after: String,
    /// Who cleared it.
    pub cleared_by: String,
    /// When.
    pub cleared_at: String,
    /// All passes are done: the run-down warning stands until both have come to rest (held pointer).
    pub run_down: bool,
}

/// What Prove asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names say it")]
pub enum ProveName {
    Leading,
    Trailing,
    Centre,
    Land,
    HeightOfCut,
}

/// A value that Prove asks for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ProvePlace {
    /// Which.
    pub what: ProveName,
    /// Where that is for the operator.
    pub side: SideName,
    /// The value with unit, or empty.
    pub value: String,
    /// Whether the entry is about this one.
    pub now: bool,
    /// Whether it may be left out.
    pub optional: bool,
}

/// What was done to the bedknife.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs, reason = "the names are the trade's")]
pub enum BedknifeWork {
    #[default]
    NotSaid,
    Faced,
    Reground,
    New,
}

/// The verdict of Prove.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs, reason = "the names are the handbook's")]
pub enum ProveVerdict {
    #[default]
    Open,
    Pass,
    Regrind,
    Repeat,
    AcceptedNotProven,
}

/// What came out.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Prove {
    /// The values, in the order they are asked.
    pub places: Vec<ProvePlace>,
    /// The verdict on the cone.
    pub verdict: ProveVerdict,
    /// Cone before, signed, with unit.
    pub cone_before: String,
    /// Cone after, signed.
    pub cone: String,
    /// Its uncertainty (95 %).
    pub cone_u95: String,
    /// The unit of both.
    pub unit: String,
    /// The tolerance.
    pub limit: String,
    /// Removed from the diameter, with unit, or empty.
    pub removed: String,
    /// Misclosure with Front, with unit and uncertainty, or empty.
    pub misclosure: String,
    /// The reel's outline before, as [`Tape::profile`].
    pub profile_before: [f32; 3],
    /// The reel's outline after.
    pub profile_after: [f32; 3],
    /// What was done to the bedknife.
    pub bedknife: BedknifeWork,
    /// Whether paper is cut along the whole length.
    pub paper_cuts: bool,
    /// Whether the land calls for relief.
    pub relief_due: bool,
    /// Whether the next stage can be entered.
    pub can_go: bool,
}

/// A one-bit picture, one byte a pixel (0 black, 255 white).
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Raster {
    /// Dots across.
    pub width: u32,
    /// Dots down.
    pub height: u32,
    /// Row by row.
    pub pixels: Vec<u8>,
}

/// The printed result.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Label {
    /// The label as it prints.
    pub raster: Raster,
    /// Whether it was read back from its own raster.
    pub read_back: bool,
    /// Whether it was printed (written).
    pub printed: bool,
    /// Whether it was scanned on the unit.
    pub scanned: bool,
    /// Where it went: a file's name, or a printer's.
    pub printed_to: String,
    /// The verdict that stands on it.
    pub verdict: ProveVerdict,
    /// Whether the next stage can be entered.
    pub can_go: bool,
}

/// Back to its mower.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Return {
    /// The unit.
    pub tag: String,
    /// Where it belongs.
    pub mower: MowerPicture,
    /// When it is due next, or empty.
    pub next_due: String,
}

/// Settings, cautions and licences.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct About {
    /// The program's version.
    pub version: String,
    /// Where the journal lies.
    pub data_folder: String,
    /// The journal's short root, for the daily sheet.
    pub short_root: String,
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
    /// The field's name when [`Asked::TypeField`], in the person's language.
    pub field: String,
    /// Whether it may be negative (the ± key is alive).
    pub signed: bool,
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
