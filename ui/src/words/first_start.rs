//! What a new bench is asked before its first visit, and what each value means.

use super::say;
use crate::screen::Settings;

/// A value of a new bench.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "the words below say it")]
pub enum FirstValue {
    GrinderName,
    DialKind,
    DialPerTurn,
    DialGraduation,
    SpindleSpeed,
    GrinderChecked,
    WheelDiameter,
    WheelRated,
    WheelInspected,
    WheelRings,
    LeadBadge,
    LeadName,
    LeadInitials,
    MowerName,
    MowerPositions,
}

impl FirstValue {
    /// All of them, in the order they are asked.
    pub const ALL: [Self; 15] = [
        Self::GrinderName,
        Self::DialKind,
        Self::DialPerTurn,
        Self::DialGraduation,
        Self::SpindleSpeed,
        Self::GrinderChecked,
        Self::WheelDiameter,
        Self::WheelRated,
        Self::WheelInspected,
        Self::WheelRings,
        Self::LeadBadge,
        Self::LeadName,
        Self::LeadInitials,
        Self::MowerName,
        Self::MowerPositions,
    ];
}

/// A value's name.
pub fn first_value(value: FirstValue, settings: Settings) -> String {
    match value {
        FirstValue::GrinderName => say!(settings, "Grinder’s name", "Nombre de la rectificadora"),
        FirstValue::DialKind => say!(settings, "Dial counts in", "El dial cuenta en"),
        FirstValue::DialPerTurn => say!(settings, "Dial, one turn", "Dial, una vuelta"),
        FirstValue::DialGraduation => say!(settings, "Dial, smallest step", "Dial, división mínima"),
        FirstValue::SpindleSpeed => say!(settings, "Spindle, rpm", "Husillo, rpm"),
        FirstValue::GrinderChecked => say!(settings, "Check on the master bar", "Verificación con barra"),
        FirstValue::WheelDiameter => say!(settings, "Wheel diameter", "Diámetro de la piedra"),
        FirstValue::WheelRated => say!(settings, "Rated speed, rpm", "Velocidad marcada, rpm"),
        FirstValue::WheelInspected => say!(settings, "Wheel inspected", "Piedra inspeccionada"),
        FirstValue::WheelRings => say!(settings, "Ring test", "Prueba de sonido"),
        FirstValue::LeadBadge => say!(settings, "Lead’s badge", "Credencial del encargado"),
        FirstValue::LeadName => say!(settings, "Lead’s name", "Nombre del encargado"),
        FirstValue::LeadInitials => say!(settings, "Lead’s initials", "Iniciales del encargado"),
        FirstValue::MowerName => say!(settings, "A mower’s name", "Nombre de una máquina"),
        FirstValue::MowerPositions => say!(settings, "Its cutting units", "Sus unidades de corte"),
    }
}

/// What it means, in one sentence.
pub fn first_value_explained(value: FirstValue, settings: Settings) -> String {
    match value {
        FirstValue::GrinderName => say!(
            settings,
            "As the shop calls it; it stands on every label.",
            "Como la llama el taller; va en cada etiqueta.",
        ),
        FirstValue::DialKind => say!(
            settings,
            "Turn the dial by 5: does the reel lose 5 of diameter, or 10?",
            "Gire el dial 5: ¿el molinete pierde 5 de diámetro, o 10?",
        ),
        FirstValue::DialPerTurn => {
            say!(settings, "What one whole turn of the dial counts.", "Lo que cuenta una vuelta entera del dial.")
        }
        FirstValue::DialGraduation => {
            say!(settings, "The smallest step that can be read on it.", "La división más chica que se puede leer.")
        }
        FirstValue::SpindleSpeed => say!(
            settings,
            "From the grinder’s plate, or measured; never guessed.",
            "De la placa de la rectificadora, o medida; nunca estimada.",
        ),
        FirstValue::GrinderChecked => say!(
            settings,
            "Rails and head against the master bar. Without a check Clearance stays shut.",
            "Rieles y cabezal contra la barra patrón. Sin verificación el Permiso no se da.",
        ),
        FirstValue::WheelDiameter => {
            say!(settings, "Of the wheel that is mounted now.", "De la piedra que está montada ahora.")
        }
        FirstValue::WheelRated => say!(
            settings,
            "Read it off the wheel itself, with power locked out.",
            "Léala en la piedra misma, con la energía bloqueada.",
        ),
        FirstValue::WheelInspected => say!(
            settings,
            "Looked over for chips and cracks before this mounting.",
            "Revisada por astillas y grietas antes de este montaje.",
        ),
        FirstValue::WheelRings => {
            say!(settings, "Before this mounting, where its type rings.", "Antes de este montaje, si su tipo suena.",)
        }
        FirstValue::LeadBadge => say!(
            settings,
            "Scan the badge, or enter a number to be printed on one.",
            "Escanee la credencial, o ingrese un número para imprimirla.",
        ),
        FirstValue::LeadName => say!(settings, "Who decides at this bench.", "Quien decide en este banco."),
        FirstValue::LeadInitials => {
            say!(settings, "They stand on labels and in the strip.", "Van en las etiquetas y en la franja.")
        }
        FirstValue::MowerName => say!(
            settings,
            "Where the first units come from; more can follow.",
            "De donde vienen las primeras unidades; pueden seguir más.",
        ),
        FirstValue::MowerPositions => {
            say!(settings, "How many it carries, 1 to 35.", "Cuántas lleva, de 1 a 35.")
        }
    }
}

/// What can be chosen; empty where a number or letters are asked.
pub fn first_choices(value: FirstValue, settings: Settings) -> Vec<String> {
    match value {
        FirstValue::DialKind => vec![
            say!(settings, "reel diameter: it loses 5", "diámetro del molinete: pierde 5"),
            say!(settings, "head travel: it loses 10", "recorrido del cabezal: pierde 10"),
        ],
        FirstValue::GrinderChecked => vec![
            say!(settings, "checked today, for six months", "verificada hoy, por seis meses"),
            say!(settings, "not checked", "sin verificar"),
        ],
        FirstValue::WheelInspected => {
            vec![say!(settings, "inspected", "inspeccionada"), say!(settings, "not inspected", "sin inspeccionar")]
        }
        FirstValue::WheelRings => vec![
            say!(settings, "it rang clear", "sonó limpia"),
            say!(settings, "its type does not ring", "su tipo no suena"),
            say!(settings, "not tested", "sin probar"),
        ],
        FirstValue::GrinderName
        | FirstValue::DialPerTurn
        | FirstValue::DialGraduation
        | FirstValue::SpindleSpeed
        | FirstValue::WheelDiameter
        | FirstValue::WheelRated
        | FirstValue::LeadBadge
        | FirstValue::LeadName
        | FirstValue::LeadInitials
        | FirstValue::MowerName
        | FirstValue::MowerPositions => Vec::new(),
    }
}
