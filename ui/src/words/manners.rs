//! What the kiosk says about itself: practice, settings, leaving, the clock, a new bench.

use super::say;
use crate::present::figures;
use crate::screen::{Language, Settings};
use sparkout_core::reading::LengthKind;
use sparkout_core::setting::{Setting, SettingValue};

/// One thing the kiosk says about itself after an act.
#[derive(Debug, Clone, PartialEq)]
pub enum Manners {
    /// A code of the real shop was scanned in practice.
    ThisIsPractice {
        /// What it names.
        code: String,
    },
    /// Practice begins at Home, with nothing on the rails.
    PracticeFromHome,
    /// Practice could not be set up.
    NoPractice,
    /// Practice is over.
    PracticeOver,
    /// The tour is over.
    TourOver,
    /// Only a lead changes the shop's settings.
    LeadOnly,
    /// Settings of the shop are not changed from practice.
    NotFromPractice,
    /// The window closes for a lead only.
    LeadToLeave,
    /// Nobody leaves while wheel and reel turn.
    NotWhileTurning,
    /// A setting was changed.
    SettingKept {
        /// Which.
        setting: Setting,
        /// What it was.
        old: SettingValue,
        /// What it is.
        new: SettingValue,
    },
    /// The wall clock was moved.
    ClockMoved {
        /// By how much, seconds; more is ahead.
        seconds: i64,
    },
    /// A value of the first start cannot be so.
    ValueNotTaken,
    /// A badge that no code of ours is.
    NotABadge,
    /// The bench is on record.
    BenchOnRecord,
}

/// Whether it tells of something that was not done.
pub const fn is_refusal(said: &Manners) -> bool {
    match said {
        Manners::PracticeOver | Manners::TourOver | Manners::SettingKept { .. } | Manners::BenchOnRecord => false,
        Manners::ThisIsPractice { .. }
        | Manners::PracticeFromHome
        | Manners::NoPractice
        | Manners::LeadOnly
        | Manners::NotFromPractice
        | Manners::LeadToLeave
        | Manners::NotWhileTurning
        | Manners::ClockMoved { .. }
        | Manners::ValueNotTaken
        | Manners::NotABadge => true,
    }
}

/// A thing said, as one sentence.
pub fn manners(said: &Manners, settings: Settings) -> String {
    match said {
        Manners::ThisIsPractice { code } => say!(
            settings,
            "This is practice: {code} was not taken. End practice to work on it.",
            "Esto es práctica: {code} no se tomó. Termine la práctica para trabajar con él.",
        ),
        Manners::PracticeFromHome => say!(
            settings,
            "Practice begins at Home with nothing on the rails. Pause the visit first.",
            "La práctica empieza en Inicio, sin nada sobre los rieles. Ponga el trabajo en pausa primero.",
        ),
        Manners::NoPractice => {
            say!(settings, "Practice cannot be set up here.", "La práctica no se puede preparar aquí.")
        }
        Manners::PracticeOver => {
            say!(settings, "Practice is over. This is the real bench.", "La práctica terminó. Este es el banco real.",)
        }
        Manners::TourOver => say!(
            settings,
            "The tour is over. Practice goes on until you end it.",
            "El recorrido terminó. La práctica sigue hasta que usted la termine.",
        ),
        Manners::LeadOnly => say!(
            settings,
            "Only a lead changes this. Scan a lead's badge first.",
            "Solo un encargado cambia esto. Escanee primero la credencial de un encargado.",
        ),
        Manners::NotFromPractice => say!(
            settings,
            "The shop's settings are not changed from practice. End practice first.",
            "Los ajustes del taller no se cambian desde la práctica. Termine la práctica primero.",
        ),
        Manners::LeadToLeave => say!(
            settings,
            "The kiosk stays open. A lead leaves it: scan a lead's badge, then Settings, Leave the kiosk.",
            "El quiosco queda abierto. Lo cierra un encargado: escanee su credencial, luego Ajustes, Salir del quiosco.",
        ),
        Manners::NotWhileTurning => say!(
            settings,
            "Not while wheel and reel may turn. Finish at Grind first.",
            "No mientras la piedra y el molinete puedan girar. Termine primero en Rectificar.",
        ),
        Manners::SettingKept { setting, old, new } => {
            let name = setting_name(*setting, settings);
            let (old, new) = (setting_value(*setting, *old, settings), setting_value(*setting, *new, settings));
            say!(settings, "{name}: {new}, was {old}. Recorded.", "{name}: {new}, era {old}. Registrado.")
        }
        Manners::ClockMoved { seconds } => clock_moved(*seconds, settings),
        Manners::ValueNotTaken => say!(
            settings,
            "That value cannot be so. Look at what is asked and enter it again.",
            "Ese valor no puede ser. Mire lo que se pide e ingréselo de nuevo.",
        ),
        Manners::NotABadge => say!(
            settings,
            "That is no badge of this program. Type the badge's number, or scan the badge.",
            "Esa no es una credencial de este programa. Escriba su número o escanee la credencial.",
        ),
        Manners::BenchOnRecord => say!(
            settings,
            "The bench is on record. Scan a unit's tag to enrol it.",
            "El banco quedó registrado. Escanee la placa de una unidad para darla de alta.",
        ),
    }
}

fn clock_moved(seconds: i64, settings: Settings) -> String {
    let minutes = seconds.unsigned_abs().div_ceil(60);
    let far = if minutes < 120 { format!("{minutes} min") } else { format!("{} h", minutes / 60) };
    if seconds > 0 {
        return say!(
            settings,
            "The clock was moved {far} ahead. The record keeps its own order; tell a lead.",
            "El reloj se adelantó {far}. El registro guarda su propio orden; avise al encargado.",
        );
    }
    say!(
        settings,
        "The clock was moved {far} back. The record keeps its own order; tell a lead.",
        "El reloj se atrasó {far}. El registro guarda su propio orden; avise al encargado.",
    )
}

/// A setting's name.
pub fn setting_name(setting: Setting, settings: Settings) -> String {
    let (english, spanish) = match setting {
        Setting::TiltLimit => ("Tilt limit", "Límite de inclinación"),
        Setting::RearLimit => ("Rear roller limit", "Límite del rodillo trasero"),
        Setting::ConeLimit => ("Cone limit", "Límite de cono"),
        Setting::Infeed => ("Infeed of a pass", "Avance por pasada"),
        Setting::SparkoutPasses => ("Spark-out passes", "Pasadas sin avance"),
        Setting::LapseAfter => ("Clearance lapses after", "El Permiso caduca a los"),
        Setting::DimAfter => ("Screen dims after", "La pantalla se atenúa a los"),
        Setting::PanelWidth => ("Width of the panel", "Ancho del panel"),
        Setting::ReducedMotion => ("Reduced motion", "Movimiento reducido"),
        Setting::AskPin => ("Badges ask for a PIN", "La credencial pide PIN"),
    };
    match settings.language {
        Language::English => english.to_owned(),
        Language::Spanish => spanish.to_owned(),
    }
}

/// A setting's value, with its unit.
pub fn setting_value(setting: Setting, value: SettingValue, settings: Settings) -> String {
    match (setting, value) {
        (_, SettingValue::On(true)) => say!(settings, "on", "sí"),
        (_, SettingValue::On(false)) => say!(settings, "off", "no"),
        (Setting::DimAfter, SettingValue::Minutes(0)) => say!(settings, "never", "nunca"),
        (_, SettingValue::Minutes(minutes)) => format!("{minutes} min"),
        (_, SettingValue::Count(count)) => count.to_string(),
        (Setting::PanelWidth, SettingValue::Length(length)) => format!("{:.0} mm", length.length().mm()),
        (_, SettingValue::Length(length)) => figures::reading_with_unit(length, LengthKind::Fine, settings),
    }
}

/// What a setting may be.
pub fn setting_range(setting: Setting, settings: Settings) -> String {
    let (least, most) = setting.range();
    let (least, most) = (setting_value(setting, least, settings), setting_value(setting, most, settings));
    say!(settings, "{least} to {most}", "de {least} a {most}")
}
