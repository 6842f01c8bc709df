//! The values of a stage by name, and why work is due.

use super::{say, shown, shown_limit};
use crate::present::figures;
use crate::screen::Settings;
use sparkout_core::reading::LengthKind;
use sparkout_core::visit::DueReason;
use sparkout_core::visit::event::Place;

/// A value's name as it stands by itself.
pub fn place_label(place: Place, settings: Settings) -> String {
    match place {
        Place::Lead => say!(settings, "Leading end", "Extremo de entrada"),
        Place::Trail => say!(settings, "Trailing end", "Extremo de salida"),
        Place::Centre => say!(settings, "Centre", "Centro"),
        Place::Land => say!(settings, "Land", "Faja"),
        Place::HeightOfCut => say!(settings, "Height of cut", "Altura de corte"),
        Place::RearLeft => say!(settings, "Roller, your left", "Rodillo, a su izquierda"),
        Place::RearRight => say!(settings, "Roller, your right", "Rodillo, a su derecha"),
        Place::LandLead => say!(settings, "Land, leading end", "Faja, entrada"),
        Place::LandTrail => say!(settings, "Land, trailing end", "Faja, salida"),
        Place::TopAngle => say!(settings, "Top angle", "Ángulo superior"),
        Place::FrontAngle => say!(settings, "Front angle", "Ángulo frontal"),
        Place::Thickness => say!(settings, "Thickness left", "Espesor restante"),
        Place::HeightWanted => say!(settings, "Height wanted", "Altura deseada"),
        Place::HeightLeft => say!(settings, "Height, your left", "Altura, izquierda"),
        Place::HeightRight => say!(settings, "Height, your right", "Altura, derecha"),
        Place::EdgeLeft => say!(settings, "Edge, your left", "Filo, izquierda"),
        Place::EdgeRight => say!(settings, "Edge, your right", "Filo, derecha"),
        Place::GapLeft => say!(settings, "Gap, your left", "Holgura, izquierda"),
        Place::GapRight => say!(settings, "Gap, your right", "Holgura, derecha"),
        Place::Minutes => say!(settings, "Minutes lapped", "Minutos de asentado"),
        Place::Grit => say!(settings, "Grit", "Grano"),
        Place::BearingPlay => say!(settings, "Play, reel bearings", "Juego, rodamientos"),
        Place::RollerPlay => say!(settings, "Play, rollers", "Juego, rodillos"),
    }
}

/// The play that was measured, where it was, and what it may be.
pub fn play(measured: Option<&str>, limit: &str, settings: Settings) -> String {
    match measured {
        Some(measured) => say!(settings, "{measured} · limit {limit}", "{measured} · límite {limit}"),
        None => say!(settings, "not measured · limit {limit}", "sin medir · límite {limit}"),
    }
}

/// What a bedknife must be.
pub fn knife_asked_for(top: &str, front: &str, tolerance: &str, least: &str, settings: Settings) -> String {
    say!(
        settings,
        "top {top} ± {tolerance} · front {front} ± {tolerance} · at least {least} thick",
        "superior {top} ± {tolerance} · frontal {front} ± {tolerance} · espesor mínimo {least}",
    )
}

/// Why work is due.
pub fn due(reason: &DueReason, settings: Settings) -> String {
    match reason {
        DueReason::WornOut { smallest, limit } => {
            let smallest = figures::with_unit(*smallest, LengthKind::Size, settings);
            let limit = shown_limit(*limit, Some(Place::Lead), settings);
            say!(
                settings,
                "Worn out: {smallest}, limit {limit}. Replace the reel.",
                "Gastado: {smallest}, límite {limit}. Cambie el molinete."
            )
        }
        DueReason::Cone { cone, tolerance } => {
            let cone = figures::signed_with_unit(*cone, settings);
            let limit = figures::with_unit(*tolerance, LengthKind::Fine, settings);
            say!(settings, "Coned by {cone}, limit {limit}. Spin it.", "Cono de {cone}, límite {limit}. Rectifique.")
        }
        DueReason::Land { land, limit } => {
            let (land, limit) =
                (shown(*land, Some(Place::Land), settings), shown_limit(*limit, Some(Place::Land), settings));
            say!(
                settings,
                "Land {land}, limit {limit}. Relief is due.",
                "Faja {land}, límite {limit}. Corresponde destalonar."
            )
        }
        DueReason::Paper => {
            say!(settings, "Paper is not cut along the whole length.", "No corta papel a todo lo largo.")
        }
        DueReason::Height { error, tolerance } => {
            let error = figures::with_unit(*error, LengthKind::Fine, settings);
            let limit = figures::with_unit(*tolerance, LengthKind::Fine, settings);
            say!(
                settings,
                "Height of cut off by {error}, limit {limit}. Set it.",
                "Altura de corte desviada {error}, límite {limit}. Ajústela."
            )
        }
    }
}

/// The reasons a lead may give, likeliest first; the words are kept with the event.
pub fn override_reasons(settings: Settings) -> [String; 2] {
    [
        say!(settings, "Seen by me: it can be worked on", "Revisado por mí: se puede trabajar"),
        say!(settings, "Parts are on order; watched until then", "Repuesto pedido; se vigila mientras tanto"),
    ]
}

/// What a lead is asked before a visit goes on.
pub fn override_question(settings: Settings) -> (String, String, String) {
    (
        say!(settings, "Let this visit go on?", "¿Dejar que este trabajo siga?"),
        say!(
            settings,
            "Only a lead decides this. Name and reason go into the record.",
            "Solo lo decide un encargado. El nombre y el motivo quedan en el registro.",
        ),
        say!(settings, "Leave it held", "Dejarlo detenido"),
    )
}
