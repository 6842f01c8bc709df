//! The grinder's own health, and what is due.

use super::{Sample, bare, either, entry};
use sparkout_ui::screen::*;

pub fn all(language: Language) -> Vec<Sample> {
    vec![
        ("82-home-warned", warned(language)),
        ("83-grinder", bare(language, Body::Grinder(Box::new(grinder(language))))),
        ("84-grinder-out-of-true", bare(language, Body::Grinder(Box::new(out_of_true(language))))),
        ("85-check-isolation", bare(language, Body::GrinderCheck(check(BarPhase::Isolation)))),
        ("86-check-reading", asking(language, Body::GrinderCheck(check(BarPhase::Reading)), "6.000 in")),
        ("87-check-turn", bare(language, Body::GrinderCheck(check(BarPhase::TurnBar)))),
        ("88-check-complete", bare(language, Body::GrinderCheck(check(BarPhase::Complete)))),
        ("89-spot", bare(language, Body::SpotCheck(SpotCheck { unit: String::new(), limit: "1.0 thou".into() }))),
        ("89-spot-unit", spot(language)),
        ("89-override", bare(language, Body::CheckOverride(overriding(language, true)))),
        ("89-override-no-lead", bare(language, Body::CheckOverride(overriding(language, false)))),
        ("89-due", bare(language, Body::Due(due(language)))),
    ]
}

pub fn touch_source(language: Language) -> String {
    either(language, "Touch 0.3 thou, assumed: 12 of 20 closures", "Toque 0.3 thou, supuesto: 12 de 20 cierres")
}

pub fn warning(language: Language) -> String {
    either(
        language,
        "Eight closures in a row on one side, up to 24 Nov 2026. The bench drifts: check with the master bar.",
        "Ocho cierres seguidos del mismo lado, hasta el 24 nov 2026. El banco deriva: verifique con la barra patrón.",
    )
}

fn warned(language: Language) -> Screen {
    let home = Home {
        operator: "Ines Barro".into(),
        shop: "Pine Hollow workshop".into(),
        grinder: "Bench A".into(),
        check_due: super::day(language, "14 Mar 2027"),
        units: "12".into(),
        warning: warning(language),
        ..Home::default()
    };
    bare(language, Body::Home(home))
}

/// Values on a chart that reaches from −2 to 2.
fn chart(values: &[(f32, ChartSign)]) -> ControlChart {
    let last = values.len().saturating_sub(1).max(1) as f32;
    let y = |value: f32| 0.5 - value / 4.4;
    let points = values.iter().enumerate().map(|(index, (value, sign))| (index as f32 / last, y(*value), *sign));
    ControlChart {
        enough: values.len() >= 8,
        points: points.collect(),
        lines_y: [y(0.0), y(1.6), y(-1.6)],
        lines: ["0.0".into(), "+1.6".into(), "−1.6".into()],
        ..ControlChart::default()
    }
}

fn quiet(values: &[f32]) -> ControlChart {
    chart(&values.iter().map(|value| (*value, ChartSign::None)).collect::<Vec<_>>())
}

fn grinder(language: Language) -> Grinder {
    Grinder {
        name: "Bench A".into(),
        state: GrinderState::InTrue,
        state_detail: either(
            language,
            "The check counts until 14 Mar 2027.",
            "La verificación vale hasta el 14 mar 2027.",
        ),
        checked: "14 Sep 2026 · IB".into(),
        due: super::day(language, "14 Mar 2027"),
        parallel: "0.1 ± 0.4".into(),
        straightness: "0.2".into(),
        bar: "0.6".into(),
        unit: "thou".into(),
        limit: "0.5 thou".into(),
        can_override: false,
        closures: ControlChart {
            title: either(language, "Closure, this bench · 12", "Cierre, este banco · 12"),
            note: touch_source(language),
            ..quiet(&[0.4, -0.8, 1.1, -0.3, 0.6, -1.2, 0.2, 0.9, -0.5, -0.9, 0.7, -0.2])
        },
        spots: ControlChart {
            title: either(language, "Spot checks on the plate · 3", "Controles en mármol · 3"),
            note: either(language, "Last −0.2 thou, Q-113, 20 Nov 2026", "Último −0.2 thou, Q-113, 20 nov 2026"),
            ..quiet(&[0.5, 0.1, -0.2])
        },
    }
}

fn out_of_true(language: Language) -> Grinder {
    let mut values: Vec<(f32, ChartSign)> = [-0.6, -0.2, -0.9, -0.3, -0.7, 1.9, 0.3, 0.6, 0.2, 0.8, 0.4, 0.7]
        .map(|value| (value, ChartSign::None))
        .to_vec();
    values[5].1 = ChartSign::Outside;
    values.extend([(0.5, ChartSign::Run), (0.9, ChartSign::Run)]);
    Grinder {
        state: GrinderState::OutOfTrue,
        state_detail: either(
            language,
            "Out of true. Clearance is blocked until it is put right and checked, or a lead overrides.",
            "Fuera de paralelismo. El Permiso está bloqueado hasta corregirla y verificarla, o hasta que un encargado lo \
             autorice.",
        ),
        parallel: "1.2 ± 0.4".into(),
        can_override: true,
        closures: ControlChart {
            title: either(language, "Closure, this bench · 14", "Cierre, este banco · 14"),
            note: warning(language),
            warns: true,
            ..chart(&values)
        },
        spots: ControlChart {
            title: either(language, "Spot checks on the plate · 0", "Controles en mármol · 0"),
            note: either(language, "None yet.", "Ninguno todavía."),
            ..ControlChart::default()
        },
        ..grinder(language)
    }
}

fn check(phase: BarPhase) -> GrinderCheck {
    let second = phase == BarPhase::Complete;
    let read = phase != BarPhase::Isolation;
    let line = |index: usize, place: &str| {
        let here = phase == BarPhase::Reading && index == 1;
        let first = if read && (phase != BarPhase::Reading || index < 1) {
            ["0.0", "+0.5", "+1.0", "+1.5", "−12.0"][index]
        } else {
            ""
        };
        StationLine {
            place: format!("{place} in"),
            first: first.into(),
            reversed: if second { "−0.5".into() } else { String::new() },
            now: here,
        }
    };
    let places = ["1.000", "6.000", "11.000", "16.000", "21.000"];
    GrinderCheck {
        phase,
        turned: second,
        station: if phase == BarPhase::Reading { 2 } else { 0 },
        stations: places.iter().enumerate().map(|(index, place)| line(index, place)).collect(),
        unit: "thou".into(),
        parallel: if second { "0.1 ± 0.4".into() } else { String::new() },
        straightness: if second { "0.2".into() } else { String::new() },
        bar: if second { "0.6".into() } else { String::new() },
        limit: "0.5 thou".into(),
        state: if second { GrinderState::NotProven } else { GrinderState::Unchecked },
    }
}

fn asking(language: Language, body: Body, place: &str) -> Screen {
    let field = either(language, &format!("Dial at {place}"), &format!("Dial en {place}"));
    let mut screen = bare(language, body);
    screen.entry = Some(Entry {
        field,
        signed: true,
        ..entry(86, Asked::TypeField, EndName::Leading, SideName::Left, "thou", "")
    });
    screen
}

fn spot(language: Language) -> Screen {
    let mut screen =
        asking(language, Body::SpotCheck(SpotCheck { unit: "Q-114".into(), limit: "1.0 thou".into() }), "");
    if let Some(entry) = &mut screen.entry {
        entry.field = either(language, "Right less left end", "Derecho menos izquierdo");
    }
    screen
}

fn overriding(language: Language, lead: bool) -> CheckOverride {
    CheckOverride {
        why: either(
            language,
            "The check ran out on 20 Nov 2026. Clearance is blocked until it is checked, or a lead overrides.",
            "La verificación venció el 20 nov 2026. El Permiso está bloqueado hasta verificarla, o hasta que un encargado \
             lo autorice.",
        ),
        reasons: vec![
            either(language, "Every unit goes over the surface plate", "Cada unidad pasa por el mármol"),
            either(language, "Repair is booked", "La reparación está programada"),
            either(language, "Master bar not in the shop", "La barra patrón no está en el taller"),
        ],
        until: super::day(language, "1 Dec 2026"),
        lead,
    }
}

fn due(language: Language) -> Due {
    let line = |tag: &str, place: &str, english: &str, spanish: &str, day: &str, overdue, pressing| DueLine {
        tag: tag.into(),
        place: place.into(),
        reason: either(language, english, spanish),
        day: super::day(language, day),
        overdue,
        pressing,
    };
    let later = |tag: &str| {
        line(
            tag,
            "Fairway 3 · 5",
            "42 open days after 1 Sep 2026",
            "42 días de temporada después del 1 sep 2026",
            "13 Apr 2027",
            false,
            false,
        )
    };
    let now = either(language, "now", "ahora");
    Due {
        lines: vec![
            line(
                "Q-207",
                "Greens 1 · 3",
                "Replace the reel: 4.503 in, limit 4.500 in",
                "Reemplace el molinete: 4.503 in, límite 4.500 in",
                &now,
                false,
                true,
            ),
            line(
                "Q-114",
                "Fairway 3 · 2",
                "Relief: land 0.081 in, limit 0.075 in",
                "Destalonar: faja 0.081 in, límite 0.075 in",
                &now,
                false,
                true,
            ),
            line(
                "Q-113",
                "Fairway 3 · 1",
                "12 days over: 42 open days since 1 Sep 2026",
                "12 días de más: 42 días de temporada desde el 1 sep 2026",
                "13 Oct 2026",
                true,
                false,
            ),
            line(
                "F-204",
                "Approach 2 · 4",
                "Reel near its limit: about 3 Feb 2027, not before 12 Dec 2026",
                "Molinete cerca de su límite: hacia el 3 feb 2027, no antes del 12 dic 2026",
                "3 Feb 2027",
                false,
                false,
            ),
            later("Q-115"),
            later("Q-116"),
            later("Q-117"),
            line(
                "Z-900",
                "Rough 4 · 1",
                "Nothing on record: take it in",
                "Sin registro: tráigala al banco",
                "",
                false,
                false,
            ),
            later("Q-119"),
        ],
        sets: vec![
            SetLine {
                mower: "Approach 2".into(),
                text: either(language, "Matched within 0.018 in", "Parejos en 0.018 in"),
                matched: true,
            },
            SetLine {
                mower: "Fairway 3".into(),
                text: either(
                    language,
                    "Odd: Q-117. Spread 0.061 in; 4.902 in is common to all",
                    "Dispares: Q-117. Diferencia 0.061 in; 4.902 in vale para todos",
                ),
                matched: false,
            },
        ],
    }
}
