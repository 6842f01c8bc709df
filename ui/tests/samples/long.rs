//! The longest that the shop can write: tags, names, notices, lists. Nothing of it may be cut or run off the screen.

use super::{Sample, bare, clearance, either, enrol, entry, find, home, notice, question, stages, visit};
use sparkout_ui::screen::*;

/// A GIAI of twenty characters after its application identifier (GS1 General Specifications, AI 8004).
pub const TAG: &str = "(8004)061414112345400";

/// Forty characters.
pub const MOWER: &str = "Fairway mower of the north and east loop";

/// Every sample, in the order of a visit.
pub fn all(language: Language) -> Vec<Sample> {
    let in_visit = |mut screen: Screen| {
        screen.strip.tag = TAG.into();
        screen.strip.place = format!("{MOWER} · 2");
        screen
    };
    let mut samples = vec![
        ("02-home", bare(language, Body::Home(full_home(language)))),
        ("04-find", bare(language, Body::Find(Find { mowers: mowers(), picture: None }))),
        ("05-find-mower", bare(language, Body::Find(Find { mowers: mowers(), picture: Some(mower()) }))),
        ("06-enrol", bare(language, Body::Enrol(Enrol { tag: TAG.into(), ..enrol(false) }))),
        (
            "07-enrol-place",
            bare(
                language,
                Body::Enrol(Enrol { tag: TAG.into(), mowers: mowers(), picture: Some(mower()), ..enrol(true) }),
            ),
        ),
        ("08-new-type", sixteen_fields(language)),
        ("10-receive", in_visit(visit(language, StopName::Receive, Body::Receive(receive())))),
        ("12-tape-first", in_visit(stages::tape_first(language))),
        ("40-clearance", in_visit(eight_items(language))),
        ("80-return", in_visit(visit(language, StopName::Return, Body::Return(returning())))),
        ("91-notice", in_visit(long_notice(language))),
        ("92-question", in_visit(long_question(language))),
    ];
    // The strip's words stand beside every body; the front's figures are the widest.
    samples.extend(
        stages::all(language)
            .into_iter()
            .filter(|(name, _)| ["23-front-adjust", "32-rear-adjust", "61-prove-pass"].contains(name))
            .map(|(name, screen)| (name, in_visit(screen))),
    );
    samples
}

fn full_home(language: Language) -> Home {
    let waiting =
        |stage| Waiting { tag: TAG.into(), place: format!("{MOWER} · 3"), stage, since: "24 Nov 16:10".into() };
    // A tag is unique: the last figures differ.
    let numbered = |(index, stage): (usize, StopName)| Waiting {
        tag: format!("{}{index}", &TAG[..TAG.len() - 1]),
        ..waiting(stage)
    };
    Home {
        operator: "María de los Ángeles Villavicencio".into(),
        waiting: [StopName::Clearance, StopName::Receive, StopName::Return, StopName::Label, StopName::Front]
            .into_iter()
            .enumerate()
            .map(numbered)
            .collect(),
        shop: either(language, "Turf workshop of the Pine Hollow estate", "Taller de césped de la finca Pine Hollow"),
        units: "12 408".into(),
        warning: super::health::warning(language),
        noise: either(language, "est. noise 143 %: stop", "ruido est. 143 %: pare"),
        ..home(language)
    }
}

fn mowers() -> Vec<Choice> {
    find(true)
        .mowers
        .into_iter()
        .enumerate()
        .map(|(index, choice)| Choice { name: format!("{}{}", &MOWER[..39], index + 1), ..choice })
        .collect()
}

fn mower() -> MowerPicture {
    let mut picture = super::mower(Some(1));
    picture.name = MOWER.into();
    for (index, slot) in picture.slots.iter_mut().enumerate() {
        slot.tag = format!("{}{index}", &TAG[..TAG.len() - 1]);
    }
    picture
}

fn receive() -> Receive {
    Receive { tag: TAG.into(), type_name: MOWER.into(), mower: mower(), ..stages::receive(Language::English) }
}

fn returning() -> Return {
    Return { tag: TAG.into(), mower: mower(), next_due: "12 Jan 2027".into(), position: "2".into() }
}

fn sixteen_fields(language: Language) -> Screen {
    let field = |index: usize| FieldRow {
        label: if index.is_multiple_of(2) {
            either(language, "Left adjuster, across the frame", "Ajustador izquierdo, a lo ancho")
        } else {
            either(language, "Front roller to reel", "Rodillo delantero a molinete")
        },
        value: if index < 9 { "14.375 in".into() } else { String::new() },
        now: index == 9,
    };
    let fields = (0..16).map(field).collect();
    let mut screen = bare(language, Body::NewType(NewType { fields, complete: false, ..NewType::default() }));
    let mut asked = entry(4, Asked::TypeField, EndName::Leading, SideName::Left, "in", "");
    asked.field = either(language, "Left adjuster, across the frame", "Ajustador izquierdo, a lo ancho");
    screen.entry = Some(asked);
    screen
}

fn eight_items(language: Language) -> Screen {
    let more = [
        ("Wheel sounded, its record is here", "Piedra probada al sonido, con registro"),
        ("Work rest and tongue guard set", "Apoyo y protector de lengüeta ajustados"),
        ("Extraction runs, floor is dry", "La extracción anda, el piso está seco"),
    ];
    let mut body = clearance::clearance(language, 2);
    body.items.extend(
        more.iter()
            .map(|(english, spanish)| ItemLine { short: either(language, english, spanish), state: StopState::ToCome }),
    );
    visit(language, StopName::Clearance, Body::Clearance(body))
}

fn long_notice(language: Language) -> Screen {
    let mut screen = notice(language);
    if let Some(notice) = &mut screen.notice {
        notice.text = either(
            language,
            "The reading of 50.2 in was not kept: a reel of this type is between 4.300 and 5.260 in. Check the units, \
             pull the tape snug over the tips at the marked station and tape again, or set the reel aside.",
            "La lectura de 50.2 in no se guardó: un molinete de este tipo mide entre 4.300 y 5.260 in. Revise las \
             unidades, tense la cinta sobre las puntas y mida otra vez, o aparte el molinete.",
        );
    }
    screen
}

fn long_question(language: Language) -> Screen {
    let mut screen = question(language);
    if let Some(question) = &mut screen.question {
        question.detail = format!("{0} {0}", question.detail);
    }
    screen
}
