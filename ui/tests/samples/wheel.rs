//! The wheel's record, the lockout, and the forms of both.

use super::{Sample, bare, clearance, either, entry, visit};
use sparkout_ui::screen::*;
use sparkout_ui::words::{form_choices, form_value, form_value_explained};

pub fn all(language: Language) -> Vec<Sample> {
    vec![
        ("88a-wheel", locked(bare(language, Body::Wheel(Box::new(wheel(language)))))),
        ("88b-wheel-incomplete", bare(language, Body::Wheel(Box::new(incomplete(language))))),
        ("88c-wheel-none", bare(language, Body::Wheel(Box::new(none(language))))),
        ("88d-lockout-free", bare(language, lockout(LockPhase::Free))),
        ("88e-lockout-on", untried(bare(language, lockout(LockPhase::Applied)))),
        ("88f-lockout-tried", tried(bare(language, lockout(LockPhase::Tried)))),
        ("88g-lockout-dead", locked(bare(language, lockout(LockPhase::Dead)))),
        ("88h-lockout-off", untried(bare(language, lockout(LockPhase::Off)))),
        ("88i-lockout-of-another", locked(bare(language, Body::Lockout(Box::new(of_another()))))),
        ("88j-lockout-told", bare(language, Body::Lockout(Box::new(told(language))))),
        ("88k-mount", locked(form(language, FormKind::Mount, 0))),
        ("88l-mount-type", locked(form(language, FormKind::Mount, 1))),
        ("88m-mount-diameter", locked(form(language, FormKind::Mount, 2))),
        ("88n-mount-done", locked(form(language, FormKind::Mount, 6))),
        ("88o-lock-on", form(language, FormKind::LockOn, 0)),
        ("88p-lock-on-done", form(language, FormKind::LockOn, 2)),
        ("88q-force-release", locked(form(language, FormKind::ForceRelease, 1))),
        ("88r-force-release-done", locked(form(language, FormKind::ForceRelease, 3))),
        ("88s-scrap", locked(form(language, FormKind::Scrap, 0))),
        ("88t-clearance-locked-out", blocked(language)),
        ("88u-measure-done", locked(form(language, FormKind::Measure, 1))),
    ]
}

/// The longest that a person can write.
pub fn long(language: Language) -> Vec<Sample> {
    let long_name = "Maria de los Angeles Villavicencio";
    let card = LockoutCard {
        number: "WWWWWWWWWWWW".into(),
        owner: long_name.into(),
        to: either(language, "Main isolator of the grinder and its dust collector", "Seccionador y colector de polvo"),
        ..of_another()
    };
    let described = WheelCard { description: "W".repeat(40), ..incomplete(language) };
    vec![
        ("88i-lockout-of-another", bare(language, Body::Lockout(Box::new(card)))),
        ("88b-wheel-incomplete", bare(language, Body::Wheel(Box::new(described)))),
    ]
}

fn locked(mut screen: Screen) -> Screen {
    screen.strip.isolation = Isolation::Locked;
    screen.strip.lock = "7 · IB".into();
    screen
}

fn untried(screen: Screen) -> Screen {
    let mut screen = locked(screen);
    screen.strip.isolation = Isolation::LockUntried;
    screen
}

fn tried(screen: Screen) -> Screen {
    let mut screen = locked(screen);
    screen.strip.isolation = Isolation::LockTried;
    screen
}

fn line(language: Language, english: &str, spanish: &str, value: &str) -> FieldRow {
    FieldRow { label: either(language, english, spanish), value: value.into(), now: false }
}

fn wheel(language: Language) -> WheelCard {
    let day = either(language, "IB · 3 Nov 2026", "IB · 3 nov 2026");
    WheelCard {
        state: WheelState::Complete,
        description: "60 grit, soft, straight".into(),
        diameter: "5.320".into(),
        unit: "in".into(),
        diameter_foot: either(language, "mounted at 5.500 in", "montada con 5.500 in"),
        speed: "4 805".into(),
        speed_unit: "ft/min".into(),
        rpm: "3 450 / 4 200".into(),
        margin_percent: "18".into(),
        within_rating: true,
        smallest: "3.269".into(),
        smallest_foot: either(language, "below it the surface is too slow", "menos: superficie demasiado lenta"),
        lines: vec![
            line(language, "Mounted", "Montada", &day),
            line(
                language,
                "Inspected before mounting",
                "Inspeccionada antes de montar",
                &either(language, "no chip, no crack", "sin astillas ni grietas"),
            ),
            line(
                language,
                "Ring test before mounting",
                "Prueba de sonido antes de montar",
                &either(language, "rang clear", "sonó limpia"),
            ),
            line(language, "Looked over", "Revisada", &day),
            line(language, "Measured since", "Medida después", "–"),
        ],
        before: vec![either(
            language,
            "46 grit: scrapped 3 Nov 2026, OH, worn to its smallest diameter",
            "Grano 46: descartada 3 nov 2026, OH, gastada hasta su diámetro mínimo",
        )],
        locked: true,
        missing: Vec::new(),
    }
}

fn incomplete(language: Language) -> WheelCard {
    WheelCard {
        state: WheelState::Incomplete,
        missing: vec![
            either(
                language,
                "The wheel's inspection before mounting is not recorded. Take it off under lockout, inspect it, mount it anew.",
                "Falta registrar la inspección antes del montaje. Desmonte la piedra con bloqueo, inspecciónela y móntela.",
            ),
            either(
                language,
                "The wheel's ring test before mounting is not recorded. Take it off under lockout, ring it, mount it anew.",
                "Falta registrar la prueba de sonido antes del montaje. Desmonte con bloqueo, pruebe la piedra y móntela.",
            ),
        ],
        locked: false,
        ..wheel(language)
    }
}

fn none(language: Language) -> WheelCard {
    WheelCard {
        missing: vec![either(
            language,
            "No wheel is on record for this grinder. Record the mounted wheel.",
            "No hay piedra registrada en esta rectificadora. Registre la piedra montada.",
        )],
        before: wheel(language).before,
        ..WheelCard::default()
    }
}

fn lockout(phase: LockPhase) -> Body {
    Body::Lockout(Box::new(LockoutCard { phase, own: true, may_force: false, ..of_another() }))
}

fn of_another() -> LockoutCard {
    LockoutCard {
        phase: LockPhase::Dead,
        number: "7".into(),
        owner: "Otto Hale".into(),
        to: "Main isolator".into(),
        since: "09:12".into(),
        own: false,
        may_force: true,
        signed_on: true,
        told: String::new(),
    }
}

fn told(language: Language) -> LockoutCard {
    LockoutCard {
        phase: LockPhase::Told,
        own: true,
        may_force: false,
        told: either(
            language,
            "Ines Barro took it off Main isolator. Reason: the owner has gone home. Before that: looked for on the whole \
             premises; telephoned: no answer, word left. What you left in the machine may have been moved, and power may \
             be on.",
            "Ines Barro lo retiró de Seccionador principal. Motivo: el dueño se fue. Antes: se lo buscó en todo el predio; \
             por teléfono: sin respuesta, se dejó recado. Lo que usted dejó en la máquina puede haberse movido, y puede \
             haber energía.",
        ),
        ..of_another()
    }
}

/// A form as it stands at a value; beyond the last one it is complete.
fn form(language: Language, kind: FormKind, at: usize) -> Screen {
    let settings = Settings { language, ..Settings::default() };
    let given = |index: usize| match (kind, index) {
        (FormKind::Mount, 0) => "60 GRIT SOFT".to_owned(),
        (FormKind::Mount, 2) | (FormKind::Measure, 0) => "5.500 in".to_owned(),
        (FormKind::Mount, 3) => "4 200".to_owned(),
        (FormKind::LockOn, 0) => either(language, "Main isolator of the grinder", "Seccionador principal"),
        (FormKind::LockOn, 1) => "7".to_owned(),
        _ => form_choices(kind.values()[index], settings).into_iter().next().unwrap_or_default(),
    };
    let rows = kind.values().iter().enumerate().map(|(index, value)| SettingRow {
        name: format!("Value {}", index + 1),
        label: form_value(*value, settings),
        value: if index < at { given(index) } else { String::new() },
        now: index == at,
    });
    let asked = kind.values().get(at).copied();
    let points = || {
        vec![
            either(language, "Main isolator of the grinder", "Seccionador principal de la rectificadora"),
            either(language, "Isolator, and the dust collector", "Seccionador y colector de polvo"),
        ]
    };
    let letters = matches!((kind, at), (FormKind::Mount, 0) | (FormKind::LockOn, 1)).then(|| "60 GRIT".to_owned());
    let form = Form {
        kind,
        rows: rows.collect(),
        asked: asked.map_or_else(String::new, |value| form_value(value, settings)),
        explained: asked.map_or_else(String::new, |value| form_value_explained(value, settings)),
        choices: match (kind, asked) {
            (FormKind::LockOn, Some(_)) if at == 0 => points(),
            (_, Some(value)) => form_choices(value, settings),
            (_, None) => Vec::new(),
        },
        letters,
        complete: asked.is_none(),
    };
    let mut screen = bare(language, Body::Form(form));
    if kind == FormKind::Mount && at == 2 {
        let mut number = entry(2, Asked::TypeField, EndName::Centre, SideName::Middle, "in", "");
        number.field = form_value(kind.values()[2], settings);
        screen.entry = Some(number);
    }
    screen
}

fn blocked(language: Language) -> Screen {
    let mut body = clearance::clearance(language, 2);
    body.blocks = vec![either(
        language,
        "Lock 7 of Otto Hale is on the grinder. Only Otto Hale takes it off.",
        "El candado 7 de Otto Hale está puesto. Solo Otto Hale lo retira.",
    )];
    body.remedy = GateRemedy::Lockout;
    locked(visit(language, StopName::Clearance, Body::Clearance(body)))
}
