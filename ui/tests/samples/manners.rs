//! Practice, tour, dimmed screen, settings, pages, a new bench.

use super::*;
use sparkout_core::reading::Units;
use sparkout_core::setting::Setting;
use sparkout_ui::words::tour::TourStep;
use sparkout_ui::words::{self, FirstValue, about};

pub fn all(language: Language) -> Vec<Sample> {
    vec![
        ("93-home-empty", empty(language)),
        ("94-practice-home", practised(bare(language, Body::Home(home(language))))),
        ("94a-practice-sheet", sheet(language)),
        ("94b-practice-clearance", practised(gate(language))),
        ("95-tour", tour(language)),
        ("96-dimmed", dimmed(language)),
        ("97-strip-troubled", troubled(language)),
        ("97a-strip-guard-closed", guarded(language, SwitchState::GuardClosed)),
        ("97b-strip-guard-open", guarded(language, SwitchState::GuardOpen)),
        ("97c-strip-guard-lost", lost(language)),
        ("97d-strip-guard-practice", guarded_practice(language)),
        ("98-shop-settings", shop_settings(language, true)),
        ("98a-shop-settings-read", shop_settings(language, false)),
        ("99-pages-caution", pages(language, 0)),
        ("99a-pages-licences", pages(language, 2)),
        ("99b-pages-libraries", libraries(language)),
        ("99c-first-start", first_start(language, 2)),
        ("99d-first-start-letters", first_start(language, 0)),
        ("99e-first-start-choice", first_start(language, 9)),
        ("99f-first-start-done", first_start(language, 15)),
        ("99g-pin", pin(language, PinAsks::Own, false)),
        ("99h-pin-turning", pin(language, PinAsks::Own, true)),
        ("99i-pin-choose", pin(language, PinAsks::Choose, false)),
        ("99j-pin-again", pin(language, PinAsks::Again, false)),
        ("99k-pin-lead-badge", pin(language, PinAsks::LeadBadge, false)),
        ("99l-pin-lead", pin(language, PinAsks::LeadPin, false)),
        ("99m-pin-locked", pin(language, PinAsks::Locked, true)),
    ]
}

fn pin(language: Language, asks: PinAsks, turning: bool) -> Screen {
    let body = PinAsked {
        asks,
        name: "Otto Hale".into(),
        lead: "Ines Barro".into(),
        digits: 4,
        locked_minutes: 15,
        may_forget: matches!(asks, PinAsks::Own | PinAsks::Locked),
        turning,
    };
    let mut screen = bare(language, Body::Pin(body));
    screen.strip.operator = String::new();
    if !matches!(asks, PinAsks::Locked | PinAsks::LeadBadge) {
        let field = words::pin_field(4, screen.settings);
        screen.entry = Some(Entry { asked: Asked::TypeField, field, secret: true, ..Entry::default() });
    }
    screen
}

fn settings(language: Language) -> Settings {
    Settings { language, units: Units::Thou, ..Settings::default() }
}

fn empty(language: Language) -> Screen {
    let body = Home { grinder: "Bench 1".into(), units: "0".into(), ..Home::default() };
    let mut screen = bare(language, Body::Home(body));
    screen.strip.operator = String::new();
    screen.manners.offers = Offers { practice: true, tour: true, set_up: true, end_practice: false };
    screen
}

fn practised(mut screen: Screen) -> Screen {
    screen.strip.practice = true;
    screen.strip.journal_entries = String::new();
    screen.manners.practice = Some(Practice { sheet: None, tour_waits: true });
    screen.manners.offers = Offers { end_practice: true, ..Offers::default() };
    screen
}

fn gate(language: Language) -> Screen {
    visit(language, StopName::Clearance, Body::Clearance(clearance::clearance(language, 3)))
}

fn sheet(language: Language) -> Screen {
    let mut screen = practised(stages::tape_first(language));
    let code = |name: &str, english: &str, spanish: &str, detail: &str| PracticeCode {
        name: name.into(),
        label: either(language, english, spanish),
        detail: detail.into(),
    };
    let card = either(language, "command card", "tarjeta de mando");
    let codes = vec![
        code("Badge Ines Barro", "Ines Barro", "Ines Barro", &either(language, "badge, lead", "credencial, encargado")),
        code("Badge Otto Hale", "Otto Hale", "Otto Hale", &either(language, "badge", "credencial")),
        code("Label", "The label", "La etiqueta", "Q-114"),
        code("Place", "Its place", "Su lugar", "Fairway 3 · 2"),
        code("Card Next", "Next", "Siguiente", &card),
        code("Card Back", "Back", "Atrás", &card),
        code("Card Repeat", "Repeat", "Repetir", &card),
        code("Card Pass done", "Pass done", "Pasada hecha", &card),
        code("Card Pause visit", "Pause visit", "Pausar", &card),
    ];
    screen.manners.practice = Some(Practice { sheet: Some(codes), tour_waits: false });
    screen
}

fn tour(language: Language) -> Screen {
    let mut screen = practised(visit(language, StopName::Receive, Body::Receive(stages::receive(language))));
    let step = TourStep::Receive;
    let words = step.words(settings(language));
    screen.manners.practice = Some(Practice::default());
    screen.manners.coach = Some(Coach {
        number: step.number(),
        count: TourStep::ALL.len() as u32,
        title: words.title.into(),
        purpose: words.purpose.into(),
        look: words.look.into(),
        act: words.act.into(),
        can_do: true,
        last: false,
    });
    screen
}

fn dimmed(language: Language) -> Screen {
    let mut screen = bare(language, Body::Home(home(language)));
    screen.manners.veil = Some(Veil { clock: "09:42".into(), station: "Bench 1".into() });
    screen
}

/// The strip at its fullest.
fn troubled(language: Language) -> Screen {
    let mut screen = stages::tape_first(language);
    screen.strip.printer_ready = false;
    screen.strip.clock_changed = true;
    screen.strip.link = LinkState::Offline { unsent: 1204 };
    screen
}

/// A grind under power, and what the switches say.
fn guarded(language: Language, switches: SwitchState) -> Screen {
    let (_, mut screen) =
        super::clearance::all(language).into_iter().find(|(name, _)| *name == "50-grind").expect("a grind");
    screen.strip.switches = switches;
    screen
}

/// The strip at its fullest, and the switches do not answer besides.
fn lost(language: Language) -> Screen {
    let mut screen = troubled(language);
    screen.strip.switches = SwitchState::Stale;
    screen
}

/// Practice says what the real guard says.
fn guarded_practice(language: Language) -> Screen {
    let mut screen = practised(bare(language, Body::Home(home(language))));
    screen.strip.switches = SwitchState::GuardClosed;
    screen
}

fn shop_settings(language: Language, may_change: bool) -> Screen {
    let said = settings(language);
    let values = ["2.0 thou", "2.0 thou", "2.0 thou", "2.0 thou", "3", "10 min", "10 min", "217 mm"];
    let off = either(language, "off", "no");
    let rows = Setting::ALL.iter().zip(values.into_iter().map(str::to_owned).chain([off.clone(), off]));
    let picked = Setting::LapseAfter;
    bare(
        language,
        Body::ShopSettings(ShopSettings {
            rows: rows
                .map(|(setting, value)| SettingRow {
                    name: words::setting_name(*setting, Settings::default()),
                    label: words::setting_name(*setting, said),
                    value,
                    now: *setting == picked,
                })
                .collect(),
            picked: PickedSetting {
                label: words::setting_name(picked, said),
                value: if may_change { "15 min" } else { "10 min" }.into(),
                range: words::setting_range(picked, said),
                default: "10 min".into(),
                changed: may_change,
                less: true,
                more: true,
            },
            may_change,
        }),
    )
}

fn pages(language: Language, page: usize) -> Screen {
    let said = settings(language);
    let mut parts: Vec<about::Part> = about::cautions(said).into();
    parts.push(about::program("0.1.0", "/var/lib/sparkout", "K7QF-2M4A", "14 208", "", said));
    let part = parts.swap_remove(page);
    let pages =
        Pages { title: part.title, paragraphs: part.paragraphs, caution: page < 2, page: page as u32 + 1, pages: 11 };
    bare(language, Body::Pages(pages))
}

/// A page of libraries as full as one gets.
fn libraries(language: Language) -> Screen {
    let names = |count: usize| vec!["some-library-name 12.34.56"; count].join(", ");
    let paragraphs = vec![
        format!("Apache-2.0 WITH LLVM-exception OR Apache-2.0 OR MIT: {}", names(4)),
        format!("MIT OR Apache-2.0: {}", names(24)),
        format!("Unicode-3.0: {}", names(6)),
        format!("Zlib OR Apache-2.0 OR MIT: {}", names(2)),
    ];
    let title = about::libraries(settings(language));
    bare(language, Body::Pages(Pages { title, paragraphs, caution: false, page: 4, pages: 11 }))
}

fn first_start(language: Language, asked: usize) -> Screen {
    let said = settings(language);
    let given = ["West bench", "", "0.100 in", "0.001 in", "3 450", "", "5.500 in", "4 200", "", "", "1042"];
    let rows = FirstValue::ALL.iter().enumerate().map(|(index, value)| {
        let choice = words::first_choices(*value, said).into_iter().next();
        let value_given = choice.or_else(|| given.get(index).map(|text| (*text).to_owned()));
        SettingRow {
            name: format!("Value {}", index + 1),
            label: words::first_value(*value, said),
            value: if index < asked { value_given.unwrap_or_else(|| "MH".to_owned()) } else { String::new() },
            now: index == asked,
        }
    });
    let now = FirstValue::ALL.get(asked).copied();
    let choices = now.map(|now| words::first_choices(now, said)).unwrap_or_default();
    let is_letters = now == Some(FirstValue::GrinderName);
    let body = FirstStart {
        rows: rows.collect(),
        asked: now.map(|now| words::first_value(now, said)).unwrap_or_default(),
        explained: now.map(|now| words::first_value_explained(now, said)).unwrap_or_default(),
        letters: is_letters.then(|| "WEST BENCH NUMBER 2".to_owned()),
        complete: now.is_none(),
        choices,
    };
    let mut screen = bare(language, Body::FirstStart(body));
    screen.strip.operator = String::new();
    if now == Some(FirstValue::DialPerTurn) {
        let mut asked = entry(7, Asked::TypeField, EndName::Leading, SideName::Left, "in", "");
        asked.field = words::first_value(FirstValue::DialPerTurn, said);
        screen.entry = Some(asked);
    }
    screen
}
