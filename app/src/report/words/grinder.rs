//! The grinder's own health.

use super::{length, pick, say};
use sparkout_core::health::check::GrinderEvent;
use sparkout_ui::screen::Language;

/// Something about the grinder's own health.
pub(in crate::report) fn grinder(event: &GrinderEvent, language: Language) -> String {
    match event {
        GrinderEvent::Started => {
            pick(language, "Check of the grinder begun.", "Verificación de la rectificadora iniciada.").to_owned()
        }
        GrinderEvent::IsolationHeld { held_ms } => isolation(
            pick(language, "the check of the grinder", "la verificación de la rectificadora"),
            *held_ms,
            language,
        ),
        GrinderEvent::Read { reading } => {
            let text = length(*reading);
            say!(language, "Master bar read: dial {text}.", "Barra patrón leída: dial {text}.")
        }
        GrinderEvent::StationPicked { station } => {
            let number = station + 1;
            say!(language, "Station {number} is read again.", "Se repite la lectura en la estación {number}.")
        }
        GrinderEvent::BarTurned => {
            pick(language, "Master bar turned end for end.", "Barra patrón invertida de extremo a extremo.").to_owned()
        }
        GrinderEvent::Finished => {
            pick(language, "Check of the grinder finished.", "Verificación de la rectificadora terminada.").to_owned()
        }
        GrinderEvent::Abandoned => pick(
            language,
            "Check of the grinder ended without a verdict.",
            "Verificación de la rectificadora abandonada sin dictamen.",
        )
        .to_owned(),
        GrinderEvent::Overridden { reason } => say!(
            language,
            "A lead lets the grinder be used although its check says otherwise. Reason: {reason}",
            "Un encargado permite usar la rectificadora pese a su verificación. Motivo: {reason}"
        ),
        GrinderEvent::SpotChecked { unit, reading } => {
            let text = length(*reading);
            say!(
                language,
                "{unit} spot-checked on the surface plate: {text}.",
                "{unit} controlada en el mármol: {text}."
            )
        }
    }
}

/// What a finished check found.
pub(in crate::report) const fn verdict(is_out: bool, language: Language) -> &'static str {
    if is_out {
        pick(
            language,
            "Found OUT OF TRUE: the grinder is blocked until it is put right or a lead overrides it.",
            "Quedó FUERA DE PARALELISMO: la rectificadora queda bloqueada hasta corregirla o hasta que un encargado la autorice.",
        )
    } else {
        pick(language, "Found true within the tolerance.", "Dentro de tolerancia.")
    }
}

/// A spot check beyond the shop's limit.
pub(in crate::report) const fn spot_beyond(language: Language) -> &'static str {
    pick(language, "Beyond the shop's limit.", "Fuera del límite del taller.")
}

/// Power is off and was tried.
pub(super) fn isolation(before: &str, held_ms: u64, language: Language) -> String {
    let held = held(held_ms, language);
    say!(
        language,
        "Power off and tried before {before}: acknowledged ({held}).",
        "Energía cortada y probada antes de {before}: confirmado ({held})."
    )
}

/// For how long a pointer was held.
pub(super) fn held(held_ms: u64, language: Language) -> String {
    let seconds = format!("{}.{}", held_ms / 1000, held_ms % 1000 / 100);
    say!(language, "held {seconds} s", "sostenido {seconds} s")
}
