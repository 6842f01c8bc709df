//! Questions about a type that are asked once.

use super::say;
use crate::screen::Settings;
use sparkout_core::record::{SeenFrom, Side};

pub(crate) fn leading_end(settings: Settings) -> String {
    say!(settings, "Where does the leading end stand?", "¿Dónde queda el extremo de entrada?")
}

pub(crate) fn leading_end_why(settings: Settings) -> String {
    say!(
        settings,
        "Turn the reel the way it cuts: the leading end is where a blade first meets the bedknife. Asked once for this type.",
        "Gire el molinete en el sentido de corte: el extremo de entrada es donde la cuchilla toca primero la contracuchilla. Se pregunta una sola vez por tipo.",
    )
}

pub(crate) fn your_left(settings: Settings) -> String {
    say!(settings, "Your left", "A su izquierda")
}

pub(crate) fn your_right(settings: Settings) -> String {
    say!(settings, "Your right", "A su derecha")
}

pub(crate) fn clockwise(side: Side, settings: Settings) -> String {
    match side {
        Side::Left => say!(
            settings,
            "Left adjuster clockwise: does this end rise?",
            "Ajustador izquierdo a la derecha (horario): ¿sube este extremo?",
        ),
        Side::Right => say!(
            settings,
            "Right adjuster clockwise: does this end rise?",
            "Ajustador derecho a la derecha (horario): ¿sube este extremo?",
        ),
    }
}

pub(crate) fn clockwise_why(seen_from: SeenFrom, settings: Settings) -> String {
    match seen_from {
        SeenFrom::Above => say!(
            settings,
            "Seen from above. Asked once for this type; no direction is told before.",
            "Visto desde arriba. Se pregunta una sola vez por tipo; antes no se indica ningún sentido.",
        ),
        SeenFrom::End => say!(
            settings,
            "Seen from the end. Asked once for this type; no direction is told before.",
            "Visto desde el extremo. Se pregunta una sola vez por tipo; antes no se indica ningún sentido.",
        ),
    }
}

pub(crate) fn raises(settings: Settings) -> String {
    say!(settings, "It raises", "Sube")
}

pub(crate) fn lowers(settings: Settings) -> String {
    say!(settings, "It lowers", "Baja")
}

pub(crate) fn not_known(settings: Settings) -> String {
    say!(settings, "Not known", "No se sabe")
}
