//! One filled screen for every body and phase, with the figures of an invented shop: for pictures and for tests.

#![allow(dead_code, reason = "each binary uses its part")]

pub mod bench;
pub mod card;
mod clearance;
mod health;
mod long;
mod manners;
mod record;
mod setting;
mod stages;
mod wheel;
mod why;

use sparkout_ui::screen::*;

/// A screen under its name.
pub type Sample = (&'static str, Screen);

/// Every sample, in the order of a visit.
pub fn all(language: Language) -> Vec<Sample> {
    let mut samples = vec![
        ("00-starting", bare(language, Body::Starting)),
        ("01-fault", bare(language, Body::Fault(fault(language)))),
        ("02-home", bare(language, Body::Home(home(language)))),
        ("03-home-nobody", nobody(language)),
        ("04-find", bare(language, Body::Find(find(false)))),
        ("05-find-mower", bare(language, Body::Find(find(true)))),
        ("06-enrol", bare(language, Body::Enrol(enrol(false)))),
        ("07-enrol-place", bare(language, Body::Enrol(enrol(true)))),
        ("08-new-type", new_type(language)),
        ("08-new-type-frame", new_type_frame(language)),
        ("08-new-type-done", new_type_done(language)),
        ("09-isolation", visit(language, StopName::Tape, Body::IsolationAsked(StopName::Tape))),
    ];
    samples.extend(stages::all(language));
    samples.extend(card::all(language));
    samples.extend(clearance::all(language));
    samples.extend(health::all(language));
    samples.extend(setting::all(language));
    for (_, screen) in &mut samples {
        if let Body::Front(front) = &mut screen.body {
            front.source = health::touch_source(language);
        }
    }
    for (_, screen) in &mut samples {
        // Every bench offers practice at home.
        screen.manners.offers.practice = matches!(screen.body, Body::Home(_));
    }
    samples.push(("90-about", bare(language, Body::About(about()))));
    samples.push(("91-notice", notice(language)));
    samples.push(("92-question", question(language)));
    samples.extend(manners::all(language));
    samples.extend(why::all(language));
    samples.extend(wheel::all(language));
    samples
}

/// The samples with the longest words.
pub fn long(language: Language) -> Vec<Sample> {
    let mut samples = long::all(language);
    samples.extend(why::others(language));
    samples.extend(wheel::long(language));
    samples
}

/// Words in either language.
pub fn either(language: Language, english: &str, spanish: &str) -> String {
    match language {
        Language::English => english.to_owned(),
        Language::Spanish => spanish.to_owned(),
    }
}

/// An English date as the person's language writes it.
pub fn day(language: Language, english: &str) -> String {
    let months = [("Jan", "ene"), ("Apr", "abr"), ("Aug", "ago"), ("Dec", "dic")];
    let spanish = months.iter().fold(english.to_owned(), |text, (from, to)| text.replace(from, to));
    either(language, english, &spanish.to_lowercase())
}

/// A screen without a visit.
pub fn bare(language: Language, body: Body) -> Screen {
    Screen {
        settings: Settings { language, ..Settings::default() },
        strip: Strip {
            operator: "IB".into(),
            clock: "09:42".into(),
            printer_ready: true,
            journal_entries: "14 208".into(),
            ..Strip::default()
        },
        body,
        ..Screen::default()
    }
}

/// A screen in a visit that stands at `now`.
pub fn visit(language: Language, now: StopName, body: Body) -> Screen {
    use StopName::{Clearance, Front, Grind, Label, Prove, Rear, Receive, Return, Tape};
    let usual = [Receive, Tape, Front, Rear, Clearance, Grind, Prove, Label, Return];
    visit_of(language, &usual, now, body)
}

/// A screen in a visit of another kind, that stands at `now`.
pub fn visit_of(language: Language, stops: &[StopName], now: StopName, body: Body) -> Screen {
    let at = stops.iter().position(|stop| *stop == now).unwrap_or(0);
    let state = |index: usize| match index.cmp(&at) {
        std::cmp::Ordering::Less => StopState::Done,
        std::cmp::Ordering::Equal => StopState::Now,
        std::cmp::Ordering::Greater => StopState::ToCome,
    };
    let mut screen = bare(language, body);
    screen.strip.tag = "Q-114".into();
    screen.strip.place = "Fairway 3 · 2".into();
    screen.strip.isolation = if now == StopName::Grind { Isolation::Running } else { Isolation::Locked };
    screen.strip.lock = "7".into();
    screen.rail = stops.iter().enumerate().map(|(index, name)| RailStop { name: *name, state: state(index) }).collect();
    screen
}

/// An entry of one kind.
pub fn entry(serial: u64, asked: Asked, end: EndName, side: SideName, unit: &str, hint: &str) -> Entry {
    Entry {
        serial,
        asked,
        end,
        side,
        unit: unit.into(),
        hint: hint.into(),
        field: String::new(),
        signed: matches!(asked, Asked::Dial | Asked::Indicator),
        secret: false,
    }
}

/// A fairway mower with five units.
pub fn mower(now: Option<usize>) -> MowerPicture {
    let places = [(0.0, 0.1), (0.5, 0.0), (1.0, 0.1), (0.06, 0.86), (0.94, 0.86)];
    let tags = ["Q-113", "Q-114", "Q-115", "Q-116", "Q-117"];
    MowerPicture {
        name: "Fairway 3".into(),
        slots: places
            .iter()
            .zip(tags)
            .enumerate()
            .map(|(index, ((x, y), tag))| Slot {
                number: (index + 1).to_string(),
                tag: tag.into(),
                x: *x,
                y: *y,
                now: now == Some(index),
            })
            .collect(),
    }
}

fn fault(language: Language) -> Fault {
    Fault {
        title: either(language, "The record is damaged", "El registro está dañado"),
        detail: either(
            language,
            "The check of kiosk.db failed at entry 9 411. The file was set aside untouched as \
             kiosk.db.2026-11-25.damaged in the data folder; nothing in it was changed.",
            "La revisión de kiosk.db falló en el asiento 9 411. El archivo quedó aparte, sin tocar, como \
             kiosk.db.2026-11-25.damaged en la carpeta de datos; nada se cambió en él.",
        ),
        advice: either(
            language,
            "Call your lead. Restore the last backup: sparkout restore",
            "Llame a su encargado. Restaure el último respaldo: sparkout restore",
        ),
    }
}

fn home(language: Language) -> Home {
    let waiting = |tag: &str, place: &str, stage, since: &str| Waiting {
        tag: tag.into(),
        place: place.into(),
        stage,
        since: since.into(),
    };
    Home {
        operator: "Ines Barro".into(),
        waiting: vec![
            waiting("Q-207", "Greens 1 · 3", StopName::Return, &day(language, "24 Nov 16:10")),
            waiting("Q-113", "Fairway 3 · 1", StopName::Front, "08:55"),
            waiting("Q-116", "Fairway 3 · 4", StopName::Label, "09:12"),
        ],
        shop: "Pine Hollow workshop".into(),
        grinder: "Bench A".into(),
        check_due: day(language, "14 Mar 2027"),
        units: "12".into(),
        due: due(language),
        due_now: 2,
        warning: String::new(),
        noise: either(
            language,
            "Noise today 43 %, near the action level of 50 % (estimate). Ears covered; change hands in time.",
            "Ruido hoy 43 %, cerca del nivel de acción del 50 % (estimado). Oídos protegidos; túrnese a tiempo.",
        ),
    }
}

/// Four units that are due, the most urgent first.
pub fn due(language: Language) -> Vec<DueLine> {
    let line = |tag: &str, place: &str, english: &str, spanish: &str, day: &str| DueLine {
        tag: tag.into(),
        place: place.into(),
        reason: if language == Language::Spanish { spanish.into() } else { english.into() },
        day: day.into(),
        overdue: false,
        pressing: false,
    };
    let now = if language == Language::Spanish { "ahora" } else { "now" };
    let limit = ("Replace the reel: 4.503 in, limit 4.500 in", "Reemplace el molinete: 4.503 in, límite 4.500 in");
    let land = ("Relief: land 0.081 in, limit 0.075 in", "Destalonar: faja 0.081 in, límite 0.075 in");
    let days = ("42 open days after 1 Sep 2026", "42 días de temporada después del 1 sep 2026");
    let dec = if language == Language::Spanish { "3 dic 2026" } else { "3 Dec 2026" };
    let jan = if language == Language::Spanish { "12 ene 2027" } else { "12 Jan 2027" };
    vec![
        DueLine { pressing: true, ..line("Q-205", "Greens 1 · 1", limit.0, limit.1, now) },
        DueLine { pressing: true, ..line("Q-114", "Fairway 3 · 2", land.0, land.1, now) },
        line("Q-301", "Approach 2 · 1", days.0, days.1, dec),
        line("Q-117", "Fairway 3 · 5", days.0, days.1, jan),
    ]
}

fn nobody(language: Language) -> Screen {
    let mut screen =
        bare(language, Body::Home(Home { operator: String::new(), waiting: Vec::new(), ..home(language) }));
    screen.strip.operator = String::new();
    screen.strip.printer_ready = false;
    screen
}

fn choice(name: &str, detail: &str, chosen: bool) -> Choice {
    Choice { name: name.into(), detail: detail.into(), chosen }
}

fn mowers(chosen: bool) -> Vec<Choice> {
    vec![choice("Fairway 3", "5", chosen), choice("Greens 1", "3", false), choice("Approach 2", "3", false)]
}

fn find(chosen: bool) -> Find {
    Find { mowers: mowers(chosen), picture: chosen.then(|| mower(None)) }
}

fn enrol(typed: bool) -> Enrol {
    Enrol {
        tag: "Q-131".into(),
        types: vec![
            choice("Fairway type B", "11 · 5.060 in", typed),
            choice("Greens type A", "14 · 5.000 in", false),
            choice("Rough type C", "7 · 7.000 in", false),
        ],
        mowers: if typed { mowers(true) } else { Vec::new() },
        picture: typed.then(|| mower(None)),
    }
}

fn new_type_frame(language: Language) -> Screen {
    let offer = |english: &str, spanish: &str, detail: &str, detalle: &str| Choice {
        name: either(language, english, spanish),
        detail: either(language, detail, detalle),
        chosen: false,
    };
    let choices = vec![
        offer("Adjustable frame", "Bastidor ajustable", "both rollers have adjusters", "ambos rodillos tienen ajuste"),
        offer(
            "Bolted side plates",
            "Placas laterales atornilladas",
            "rear squared, shimmed or by eccentric",
            "trasero: a escuadra, calces o excéntrico",
        ),
        offer(
            "Welded frame",
            "Bastidor soldado",
            "rear roller fixed in the frame",
            "rodillo trasero fijo en el bastidor",
        ),
        offer(
            "Floating reel",
            "Molinete flotante",
            "the reel moves to the bedknife",
            "el molinete va a la contracuchilla",
        ),
        offer("Fixed head", "Cabezal fijo", "walking mower, drum in the frame", "de a pie, tambor en el bastidor"),
    ];
    let asks = either(language, "Which kind of frame?", "¿Qué clase de bastidor?");
    bare(language, Body::NewType(NewType { asks, choices, ..NewType::default() }))
}

fn new_type(language: Language) -> Screen {
    let row = |english: &str, spanish: &str, value: &str, now| FieldRow {
        label: either(language, english, spanish),
        value: value.into(),
        now,
    };
    let mut screen = bare(
        language,
        Body::NewType(NewType {
            fields: vec![
                row("Blades", "Cuchillas", "11", false),
                row("New diameter", "Diámetro nuevo", "5.060 in", false),
                row("Wear limit", "Límite de desgaste", "4.500 in", false),
                row("Reel length", "Largo del molinete", "22 in", false),
                row("Front roller to reel", "Rodillo delantero a molinete", "", true),
                row("Wheelbase", "Entre rodillos", "", false),
                row("Jack, across", "Gato, a lo ancho", "", false),
                row("Left adjuster, across", "Ajustador izquierdo, a lo ancho", "", false),
                row("Right adjuster, across", "Ajustador derecho, a lo ancho", "", false),
            ],
            assumed: either(
                language,
                "Assumed: relief angle 25° (common practice), wear limit as a caliper reads it. Squared up to 0.0050 in (the shop’s limit); a shim pushes the roller down (from memory of the trade).",
                "Se supone: ángulo de destalonado 25° (práctica común), límite de desgaste medido con calibre. Se escuadra hasta 0.0050 in (límite del taller); un calce baja el rodillo (de memoria del oficio).",
            ),
            complete: false,
            ..NewType::default()
        }),
    );
    let mut asked = entry(4, Asked::TypeField, EndName::Leading, SideName::Left, "in", "");
    asked.field = either(language, "Front roller to reel", "Rodillo delantero a molinete");
    screen.entry = Some(asked);
    screen
}

fn new_type_done(language: Language) -> Screen {
    let mut screen = new_type(language);
    if let Body::NewType(draft) = &mut screen.body {
        draft.complete = true;
        for field in &mut draft.fields {
            field.now = false;
        }
    }
    screen.entry = None;
    screen
}

fn about() -> About {
    About {
        version: "0.1.0".into(),
        data_folder: "/var/lib/sparkout".into(),
        short_root: "K7QF-2M4A".into(),
        change_pin: true,
    }
}

fn notice(language: Language) -> Screen {
    let mut screen = stages::tape_first(language);
    screen.notice = Some(Notice {
        text: either(
            language,
            "50.2 is not a reel of this type: between 4.300 and 5.260 in. Tape again.",
            "50.2 no es un molinete de este tipo: entre 4.300 y 5.260 in. Mida otra vez.",
        ),
        refused: true,
    });
    screen
}

fn question(language: Language) -> Screen {
    let mut screen = stages::tape_first(language);
    let answer = |name: &str, spanish: &str| Answer { name: name.into(), label: either(language, name, spanish) };
    screen.question = Some(Question {
        text: either(language, "Were the ends swapped?", "¿Se cambiaron los extremos?"),
        detail: either(
            language,
            "The cone is −0.020 in; at the last visit it was +0.018 in. Leading end is at your left.",
            "El cono es −0.020 in; en la última visita fue +0.018 in. El extremo de entrada está a su izquierda.",
        ),
        answers: vec![
            answer("Swap them", "Cambiarlos"),
            answer("As taped", "Como se midió"),
            answer("Tape again", "Medir otra vez"),
        ],
    });
    screen
}
