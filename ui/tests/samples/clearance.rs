//! The gate and the grind.

use super::{Sample, either, visit};
use sparkout_ui::screen::*;

pub fn all(language: Language) -> Vec<Sample> {
    let gate = |body| visit(language, StopName::Clearance, Body::Clearance(body));
    let running = |body| visit(language, StopName::Grind, Body::Grind(body));
    vec![
        ("40-clearance", gate(clearance(language, 2))),
        ("41-clearance-first", gate(clearance(language, 0))),
        ("42-clearance-blocked", gate(blocked(language))),
        ("43-clearance-complete", gate(complete(language))),
        ("50-grind", running(grind(7))),
        ("51-grind-spark-out", running(grind(12))),
        ("52-grind-run-down", running(Grind { run_down: true, ..grind(14) })),
    ]
}

const SHORTS: [(&str, &str); 5] = [
    ("Bedknife clear of the reel", "Contracuchilla lejos del molinete"),
    ("Eyes, face, hearing; no gloves", "Ojos, cara, oídos; sin guantes"),
    ("Guard and cover", "Guarda y cubierta"),
    ("Unit clamped, tools off the bed", "Unidad sujeta, bancada sin herramientas"),
    ("Nobody else at the bench", "Nadie más junto al banco"),
];

fn items(language: Language, now: usize) -> Vec<ItemLine> {
    SHORTS
        .iter()
        .enumerate()
        .map(|(index, (english, spanish))| ItemLine {
            short: either(language, english, spanish),
            state: match index.cmp(&now) {
                std::cmp::Ordering::Less => StopState::Done,
                std::cmp::Ordering::Equal => StopState::Now,
                std::cmp::Ordering::Greater => StopState::ToCome,
            },
        })
        .collect()
}

pub fn clearance(language: Language, now: usize) -> Clearance {
    let item = if now == 0 {
        Item {
            number: 1,
            signal: Signal::Danger,
            title: either(
                language,
                "Bedknife clear of the reel through a full turn by hand.",
                "Contracuchilla lejos del molinete en toda una vuelta a mano.",
            ),
            text: either(
                language,
                "A blade that meets the bedknife at speed breaks out. Turn the reel by hand through a full turn and \
                 listen at both ends. Cut-resistant gloves to turn it; take them off before anything runs.",
                "Una cuchilla que topa con la contracuchilla a velocidad se desprende. Gire el molinete a mano una vuelta \
                 entera y escuche en los dos extremos. Guantes anticorte para girarlo; quíteselos antes de que algo gire.",
            ),
            reference: either(language, "Common practice", "Práctica común"),
        }
    } else {
        Item {
            number: 3,
            signal: Signal::Warning,
            title: either(
                language,
                "Wheel guard closed and latched. Reel cover down.",
                "Guarda de la piedra cerrada y trabada. Cubierta del molinete abajo.",
            ),
            text: either(
                language,
                "Fragments and blades can reach you through an open guard. Try the latch by hand.",
                "Por una guarda abierta le alcanzan fragmentos y cuchillas. Pruebe el seguro con la mano.",
            ),
            reference: either(
                language,
                "29 CFR 1910.215(b) · local code may ask more",
                "29 CFR 1910.215(b) · el código local puede pedir más",
            ),
        }
    };
    Clearance {
        remedy: GateRemedy::None,
        work: TurningName::Grind,
        items: items(language, now),
        current: Some(item),
        blocks: Vec::new(),
        complete: false,
        speed: "4 970".into(),
        speed_unit: "ft/min".into(),
        rpm: "3450 / 4200".into(),
        margin_percent: "18".into(),
        within_rating: true,
        lapses_in: "10:00".into(),
        passes_kept: 0,
        noise: either(language, "est. noise 43 %: near 50", "ruido est. 43 %: casi 50"),
    }
}

fn blocked(language: Language) -> Clearance {
    Clearance {
        items: items(language, 1),
        current: None,
        blocks: vec![
            either(
                language,
                "Lock 7 (Ines Barro) is still on the grinder. She releases it, or a lead by the recorded procedure.",
                "El candado 7 (Ines Barro) sigue en la rectificadora. Lo retira ella, o un encargado por el procedimiento registrado.",
            ),
            either(
                language,
                "The mounted wheel has no ring test on record before this mounting.",
                "La piedra montada no tiene prueba de sonido registrada antes de este montaje.",
            ),
        ],
        ..clearance(language, 1)
    }
}

fn complete(language: Language) -> Clearance {
    Clearance {
        items: items(language, 9),
        current: None,
        complete: true,
        lapses_in: "9:41".into(),
        passes_kept: 6,
        noise: either(language, "noise not estimated", "ruido sin estimar"),
        ..clearance(language, 1)
    }
}

fn grind(pass: u32) -> Grind {
    let strip = (1..=14)
        .map(|number: u32| PassCell {
            dial: if number <= 11 { (number * 2).to_string() } else { String::new() },
            state: match number.cmp(&pass) {
                std::cmp::Ordering::Less => StopState::Done,
                std::cmp::Ordering::Equal => StopState::Now,
                std::cmp::Ordering::Greater => StopState::ToCome,
            },
            spark_out: number > 11,
        })
        .collect();
    Grind {
        pass,
        passes: 14,
        dial: if pass <= 11 { (pass * 2).to_string() } else { String::new() },
        unit: "thou".into(),
        next_dial: if pass < 11 { (pass * 2 + 2).to_string() } else { String::new() },
        strip,
        elapsed: "01:12".into(),
        left: "01:22".into(),
        final_diameter: "4.998 in".into(),
        land_after: "0.064 in".into(),
        cleared_by: "IB".into(),
        cleared_at: "09:51".into(),
        run_down: false,
    }
}
