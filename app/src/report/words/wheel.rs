//! The wheel's record, as sentences.

use super::grinder::held;
use super::{length, pick, say};
use sparkout_core::wheel::{Rang, WheelEvent, WheelKind};
use sparkout_ui::screen::Language;

/// What happened to the wheel.
pub(in crate::report) fn wheel(event: &WheelEvent, language: Language) -> String {
    match event {
        WheelEvent::WheelMounted { mounting, wheel, held_ms } => {
            let (what, diameter) = (&wheel.description, length(wheel.diameter));
            let (rated, held) = (format!("{:.0}", wheel.rated_speed.rpm()), held(*held_ms, language));
            let inspected = if wheel.inspected {
                pick(language, "inspected", "inspeccionada")
            } else {
                pick(language, "NOT inspected", "SIN inspeccionar")
            };
            let rang = rang(&wheel.kind, language);
            say!(
                language,
                "Wheel mounted: {mounting}, {what}, {diameter}, marked {rated} rpm, {inspected}, {rang} ({held}).",
                "Piedra montada: {mounting}, {what}, {diameter}, marcada {rated} rpm, {inspected}, {rang} ({held})."
            )
        }
        WheelEvent::WheelLookedOver { held_ms } => {
            let held = held(*held_ms, language);
            say!(
                language,
                "Wheel looked over for this shift, under lockout ({held}).",
                "Piedra revisada para este turno, con bloqueo ({held})."
            )
        }
        WheelEvent::WheelMeasured { diameter, held_ms } => {
            let (diameter, held) = (length(*diameter), held(*held_ms, language));
            say!(
                language,
                "Wheel measured under lockout: {diameter} ({held}).",
                "Piedra medida con bloqueo: {diameter} ({held})."
            )
        }
        WheelEvent::WheelScrapped { reason } => {
            say!(language, "Wheel scrapped. Reason: {reason}.", "Piedra descartada. Motivo: {reason}.")
        }
    }
}

fn rang(kind: &WheelKind, language: Language) -> String {
    match kind {
        WheelKind::DoesNotRing { shape } => {
            say!(language, "ring test does not apply ({shape})", "la prueba de sonido no aplica ({shape})")
        }
        WheelKind::Vitrified { rang } | WheelKind::Organic { rang } => match rang {
            Rang::Clear => pick(language, "rang clear", "sonó limpia").to_owned(),
            Rang::Dull => pick(language, "rang DULL", "sonó APAGADA").to_owned(),
            Rang::NotTested => pick(language, "ring test NOT made", "prueba de sonido NO hecha").to_owned(),
        },
    }
}
