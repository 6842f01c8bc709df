//! What is said about PINs. No sentence holds one.

use super::say;
use crate::screen::Settings;

/// One thing said about a PIN.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PinSaid {
    /// It was not the right one.
    Wrong {
        /// Whose was asked.
        name: String,
        /// Tries left before the badge is locked.
        left: u32,
    },
    /// The badge takes no PIN for a while.
    Locked {
        /// Whose.
        name: String,
        /// Minutes left, rounded up.
        minutes: u32,
    },
    /// Too few or too many digits.
    Digits {
        /// How many it needs.
        digits: u32,
    },
    /// Anybody would try that one first.
    Easy,
    /// The second time was not the first.
    NotTheSame,
    /// It is kept.
    Kept,
    /// A lead took it away.
    Reset {
        /// Whose.
        name: String,
    },
    /// The badge is no lead's, or the person's own.
    AnotherLead,
    /// The lead has no PIN yet.
    LeadHasNone {
        /// The lead.
        name: String,
    },
    /// A scan is no PIN.
    NotByScan,
    /// The file with the pepper is gone.
    PepperMissing {
        /// Where it should lie.
        folder: String,
    },
    /// It could not be checked.
    NotChecked,
    /// Not while wheel and reel may turn.
    NotWhileTurning,
}

/// Whether it tells of something that was not done.
pub const fn is_refusal(said: &PinSaid) -> bool {
    !matches!(said, PinSaid::Kept | PinSaid::Reset { .. })
}

/// What stands over the field.
pub fn pin_field(digits: u32, settings: Settings) -> String {
    say!(settings, "PIN, {digits} digits", "PIN, {digits} cifras")
}

/// A thing said, as one sentence.
pub fn pin(said: &PinSaid, settings: Settings) -> String {
    match said {
        PinSaid::Wrong { name, left: 1 } => say!(
            settings,
            "That is not {name}'s PIN. One try is left, then the badge is locked for a while.",
            "Ese no es el PIN de {name}. Queda un intento; después la credencial se bloquea un tiempo.",
        ),
        PinSaid::Wrong { name, left } => say!(
            settings,
            "That is not {name}'s PIN. {left} tries are left. Type it again.",
            "Ese no es el PIN de {name}. Quedan {left} intentos. Escríbalo de nuevo.",
        ),
        PinSaid::Locked { name, minutes } => say!(
            settings,
            "{name}'s badge is locked for {minutes} min after wrong PINs. Wait, or ask a lead.",
            "La credencial de {name} queda bloqueada {minutes} min por PIN equivocados. Espere o llame a un encargado.",
        ),
        PinSaid::Digits { digits } => {
            say!(
                settings,
                "A PIN here has {digits} digits. Type it again.",
                "Aquí el PIN tiene {digits} cifras. Escríbalo de nuevo."
            )
        }
        PinSaid::Easy => say!(
            settings,
            "Anybody would try that one first. Choose another.",
            "Ese es el primero que cualquiera probaría. Elija otro.",
        ),
        PinSaid::NotTheSame => say!(
            settings,
            "The second time was not the first. Choose it again.",
            "La segunda vez no fue igual a la primera. Elíjalo de nuevo.",
        ),
        PinSaid::Kept => {
            say!(settings, "The PIN is kept. Nobody can read it.", "El PIN quedó guardado. Nadie puede leerlo.")
        }
        PinSaid::Reset { name } => say!(
            settings,
            "{name}'s PIN is taken away. {name} chooses a new one now.",
            "Se quitó el PIN de {name}. {name} elige ahora uno nuevo.",
        ),
        PinSaid::AnotherLead => say!(
            settings,
            "Another person's badge is needed, and a lead's. Scan it.",
            "Hace falta la credencial de otra persona, y que sea encargado. Escanéela.",
        ),
        PinSaid::LeadHasNone { name } => say!(
            settings,
            "{name} has no PIN yet. Scan {name}'s badge at Home and choose one first.",
            "{name} todavía no tiene PIN. Escanee su credencial en Inicio y elija uno primero.",
        ),
        PinSaid::NotByScan => say!(
            settings,
            "That was a scan. The PIN is typed, on the keys or on a keyboard.",
            "Eso fue un escaneo. El PIN se escribe, en las teclas o en un teclado.",
        ),
        PinSaid::PepperMissing { folder } => say!(
            settings,
            "No PIN can be checked: the file pin.pepper is missing in {folder}. Put it back from the backup.",
            "No se puede comprobar ningún PIN: falta el archivo pin.pepper en {folder}. Repóngalo de la copia.",
        ),
        PinSaid::NotChecked => say!(
            settings,
            "The PIN could not be checked. Try again; if it stays so, tell a lead.",
            "El PIN no se pudo comprobar. Pruebe otra vez; si sigue igual, avise a un encargado.",
        ),
        PinSaid::NotWhileTurning => say!(
            settings,
            "Not while wheel and reel may turn. Wait until both stand still.",
            "No mientras la piedra y el molinete puedan girar. Espere a que estén quietos.",
        ),
    }
}
