//! What the forms of the wheel's record and the lockout ask, and what each value means.

use super::say;
use crate::screen::{FormKind, Settings};

/// A value that a form asks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "the words below say it")]
pub enum FormValue {
    Description,
    Type,
    Diameter,
    Rated,
    Inspected,
    Rang,
    LockedWhat,
    LockNumber,
    ForcedWhy,
    OwnerSought,
    OwnerReached,
    ScrapWhy,
    Worn,
}

impl FormKind {
    /// What it asks, in this order.
    pub const fn values(self) -> &'static [FormValue] {
        match self {
            Self::Mount => &[
                FormValue::Description,
                FormValue::Type,
                FormValue::Diameter,
                FormValue::Rated,
                FormValue::Inspected,
                FormValue::Rang,
            ],
            Self::LockOn => &[FormValue::LockedWhat, FormValue::LockNumber],
            Self::ForceRelease => &[FormValue::ForcedWhy, FormValue::OwnerSought, FormValue::OwnerReached],
            Self::Scrap => &[FormValue::ScrapWhy],
            Self::Measure => &[FormValue::Worn],
        }
    }
}

/// A value's name.
pub fn form_value(value: FormValue, settings: Settings) -> String {
    match value {
        FormValue::Description => say!(settings, "What wheel it is", "Qué piedra es"),
        FormValue::Type => say!(settings, "Its type", "Su tipo"),
        FormValue::Diameter => say!(settings, "Diameter", "Diámetro"),
        FormValue::Rated => say!(settings, "Rated speed, rpm", "Velocidad marcada, rpm"),
        FormValue::Inspected => say!(settings, "Inspected", "Inspeccionada"),
        FormValue::Rang => say!(settings, "Ring test", "Prueba de sonido"),
        FormValue::LockedWhat => say!(settings, "The lock is on", "El candado está en"),
        FormValue::LockNumber => say!(settings, "Number on the lock", "Número del candado"),
        FormValue::ForcedWhy => say!(settings, "Why it comes off", "Por qué se retira"),
        FormValue::OwnerSought => say!(settings, "Looking for the owner", "Búsqueda del dueño"),
        FormValue::OwnerReached => say!(settings, "Reaching the owner", "Aviso al dueño"),
        FormValue::ScrapWhy => say!(settings, "Why it is scrapped", "Por qué se descarta"),
        FormValue::Worn => say!(settings, "Diameter now", "Diámetro ahora"),
    }
}

/// What it means, in one sentence.
pub fn form_value_explained(value: FormValue, settings: Settings) -> String {
    match value {
        FormValue::Description => say!(
            settings,
            "Grit, grade and shape, as the shop calls them.",
            "Grano, dureza y forma, como les dice el taller.",
        ),
        FormValue::Type => {
            say!(settings, "It decides whether a ring test tells anything.", "Decide si la prueba de sonido dice algo.",)
        }
        FormValue::Diameter => {
            say!(settings, "Measured on the wheel that is mounted now.", "Medido en la piedra que se monta ahora.",)
        }
        FormValue::Rated => {
            say!(settings, "Read it off the wheel itself, not off the box.", "Léala en la piedra misma, no en la caja.",)
        }
        FormValue::Inspected => say!(
            settings,
            "Looked over for chips and cracks right before mounting.",
            "Revisada por astillas y grietas justo antes de montar.",
        ),
        FormValue::Rang => say!(
            settings,
            "Dry, off the spindle, tapped at four places with wood.",
            "Seca, fuera del husillo, golpeada con madera en cuatro lugares.",
        ),
        FormValue::LockedWhat => say!(
            settings,
            "What feeds the grinder: all of it is locked off.",
            "Lo que alimenta la rectificadora: todo se bloquea.",
        ),
        FormValue::LockNumber => say!(
            settings,
            "Read it off your own padlock; one person, one lock, one key.",
            "Léalo en su propio candado; una persona, un candado, una llave.",
        ),
        FormValue::ForcedWhy => say!(settings, "It stands in the record.", "Queda en el registro."),
        FormValue::OwnerSought => {
            say!(settings, "Make sure that they are not on the premises.", "Asegúrese de que no esté en el predio.",)
        }
        FormValue::OwnerReached => say!(
            settings,
            "Do all you can to tell them before it comes off.",
            "Haga todo lo posible por avisarle antes de retirarlo.",
        ),
        FormValue::ScrapWhy => say!(settings, "It stands in the record.", "Queda en el registro."),
        FormValue::Worn => say!(
            settings,
            "Across the wheel where it cuts, under your own lock.",
            "En la parte que corta, con su propio candado puesto.",
        ),
    }
}

/// What can be chosen; empty where a number, letters, or something of the shop's own is asked.
pub fn form_choices(value: FormValue, settings: Settings) -> Vec<String> {
    match value {
        FormValue::Type => vec![
            say!(settings, "vitrified bond", "aglomerante vitrificado"),
            say!(settings, "resinoid or other organic bond", "resinoide u otro orgánico"),
            say!(settings, "small, cup or with a fixture: does not ring", "chica, copa o con inserto: no suena"),
            say!(settings, "segmented or steel core: does not ring", "segmentada o con alma de acero: no suena"),
        ],
        FormValue::Inspected => vec![
            say!(settings, "inspected: no chip, no crack", "inspeccionada: sin astillas ni grietas"),
            say!(settings, "not inspected", "sin inspeccionar"),
        ],
        FormValue::Rang => vec![
            say!(settings, "it rang clear", "sonó limpia"),
            say!(settings, "it sounded dull", "sonó apagada"),
            say!(settings, "not tested", "sin probar"),
        ],
        FormValue::ForcedWhy => vec![
            say!(settings, "the owner has gone home", "el dueño se fue"),
            say!(settings, "the owner is ill or hurt", "el dueño está enfermo o herido"),
            say!(settings, "the key is lost", "se perdió la llave"),
        ],
        FormValue::OwnerSought => vec![
            say!(settings, "looked for on the whole premises", "se lo buscó en todo el predio"),
            say!(settings, "seen leaving", "se lo vio salir"),
            say!(settings, "stands beside me", "está a mi lado"),
        ],
        FormValue::OwnerReached => vec![
            say!(settings, "telephoned: told, and agrees", "por teléfono: avisado y de acuerdo"),
            say!(settings, "telephoned: no answer, word left", "por teléfono: sin respuesta, se dejó recado"),
            say!(settings, "told in person", "avisado en persona"),
        ],
        FormValue::ScrapWhy => vec![
            say!(settings, "worn to its smallest diameter", "gastada hasta su diámetro mínimo"),
            say!(settings, "chipped or cracked", "astillada o rajada"),
            say!(settings, "rang dull", "sonó apagada"),
            say!(settings, "wrong wheel for the work", "no es la adecuada"),
        ],
        FormValue::Description
        | FormValue::Diameter
        | FormValue::Rated
        | FormValue::LockedWhat
        | FormValue::LockNumber
        | FormValue::Worn => Vec::new(),
    }
}
