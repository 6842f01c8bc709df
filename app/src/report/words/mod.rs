//! What happened, as sentences that stand by themselves on paper.

mod grinder;
mod lockout;
mod turning;
mod visit;
mod wheel;

pub(super) use grinder::{grinder, spot_beyond, verdict};
pub(super) use lockout::lockout;
pub(super) use turning::{Held, blocked, start, turning_title};
pub(super) use visit::{Told, event};
pub(super) use wheel::wheel;

use sparkout_core::entry::Record;
use sparkout_core::inputs::Switches;
use sparkout_core::journal::witness::Alarm;
use sparkout_core::journal::{Checkpoint, SignedCheckpoint};
use sparkout_core::pin::PinEvent;
use sparkout_core::reading::{Reading, Units};
use sparkout_core::record::RingTest;
use sparkout_core::setting::{Setting, SettingValue};
use sparkout_core::visit::gate::Block;
use sparkout_ui::screen::{Language, Settings};
use sparkout_ui::words as screen_words;

/// Picks the sentence of the language.
macro_rules! say {
    ($language:expr, $english:literal, $spanish:literal $(,)?) => {
        match $language {
            sparkout_ui::screen::Language::English => format!($english),
            sparkout_ui::screen::Language::Spanish => format!($spanish),
        }
    };
}
use say;

pub(super) const fn pick(language: Language, english: &'static str, spanish: &'static str) -> &'static str {
    match language {
        Language::English => english,
        Language::Spanish => spanish,
    }
}

/// The screen's own words, in the language of the record.
fn settings(language: Language) -> Settings {
    Settings { language, units: Units::Inch, ..Settings::default() }
}

/// The head kept elsewhere does not go with the journal.
pub(super) fn witness(alarm: &Alarm, language: Language) -> String {
    screen_words::alarm(alarm, settings(language))
}

/// The log goes on from another one.
pub(super) fn continues(parent: &str, language: Language) -> String {
    let Ok(parent) = SignedCheckpoint::parse(parent) else { return not_understood(language).to_owned() };
    let Checkpoint { origin, size, root } = parent.checkpoint();
    let root = root.short();
    say!(
        language,
        "Another log from here on: it goes on from {origin}, whose entries 1 to {size} stand before it, root {root}.",
        "Desde aquí es otro registro: continúa {origin}, cuyos asientos 1 a {size} están antes, raíz {root}.",
    )
}

/// Bytes that are no entry.
pub(super) const fn not_understood(language: Language) -> &'static str {
    pick(
        language,
        "This version of the program does not understand this entry; its bytes stand in the JSON Lines export.",
        "Esta versión del programa no entiende este asiento; sus bytes están en la exportación JSON Lines.",
    )
}

/// An entry that does not follow from those before.
pub(super) const fn not_taken(language: Language) -> &'static str {
    pick(
        language,
        "This entry does not follow from those before it, so nothing was worked out from it.",
        "Este asiento no se sigue de los anteriores; no se calculó nada a partir de él.",
    )
}

/// The program started.
pub(super) fn started(version: &str, language: Language) -> String {
    say!(language, "The kiosk started, version {version}.", "El quiosco arrancó, versión {version}.")
}

/// What happened to a badge's PIN.
pub(super) fn pin(what: PinEvent, name: &str, language: Language) -> String {
    match what {
        PinEvent::Set => say!(
            language,
            "A first PIN was chosen for {name}'s badge.",
            "Se eligió un primer PIN para la credencial de {name}."
        ),
        PinEvent::Changed => say!(language, "{name} chose another PIN.", "{name} eligió otro PIN."),
        PinEvent::Reset => say!(
            language,
            "A lead took {name}'s PIN away; its next use chooses a new one.",
            "Un encargado quitó el PIN de {name}; el próximo uso elige uno nuevo.",
        ),
        PinEvent::Forgotten => say!(
            language,
            "{name}'s PIN was taken away at the machine's command line.",
            "El PIN de {name} se quitó desde la línea de órdenes de la máquina.",
        ),
        PinEvent::Wrong { in_a_row } => say!(
            language,
            "A wrong PIN was typed for {name}'s badge, {in_a_row} in a row.",
            "Se escribió un PIN equivocado para la credencial de {name}, {in_a_row} seguidos.",
        ),
        PinEvent::Locked { minutes } => say!(
            language,
            "{name}'s badge was locked for {minutes} min after wrong PINs.",
            "La credencial de {name} quedó bloqueada {minutes} min por PIN equivocados.",
        ),
    }
}

/// Who stands at the bench now.
pub(super) fn operator(who: &str, language: Language) -> String {
    if who.is_empty() {
        pick(language, "Nobody is signed on any more.", "Ya no hay nadie registrado en el banco.").to_owned()
    } else {
        say!(language, "{who} signed on with a badge.", "{who} se registró con su credencial.")
    }
}

/// What the switches say, and whether something turned under power when they did.
pub(super) fn inputs(seen: Switches, turning: bool, language: Language) -> String {
    let what = match seen.fault() {
        Some(Block::GuardOpen) => say!(language, "The guard is open.", "La guarda está abierta."),
        Some(Block::StopPressed) => say!(language, "The stop is pressed.", "El paro está presionado."),
        Some(Block::InputsLost) => {
            say!(language, "The connection to the switches is lost.", "Se perdió la conexión con los interruptores.")
        }
        Some(_) => {
            say!(language, "The switches have not answered in time.", "Los interruptores no respondieron a tiempo.")
        }
        None => say!(language, "The switches show no fault.", "Los interruptores no muestran ninguna falla."),
    };
    if turning {
        let then = say!(language, "Work under power was under way.", "Había trabajo con energía en curso.");
        format!("{what} {then}")
    } else {
        what
    }
}

/// The clock on the wall went another way than the time; order is the journal's.
pub(super) fn clock_turned(seconds: i64, language: Language) -> String {
    let far = span(seconds.unsigned_abs());
    if seconds < 0 {
        say!(
            language,
            "The clock was set back by {far} before this entry; order is the journal's own.",
            "El reloj se atrasó {far} antes de este asiento; el orden es el del propio registro."
        )
    } else {
        say!(
            language,
            "The clock was set ahead by {far} before this entry; order is the journal's own.",
            "El reloj se adelantó {far} antes de este asiento; el orden es el del propio registro."
        )
    }
}

fn span(seconds: u64) -> String {
    let (hours, minutes, seconds) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    if hours > 0 { format!("{hours} h {minutes:02} min") } else { format!("{minutes} min {seconds:02} s") }
}

/// A lead changed a setting.
pub(super) fn setting(setting: Setting, old: SettingValue, new: SettingValue, language: Language) -> String {
    let settings = settings(language);
    let name = screen_words::setting_name(setting, settings);
    let [old, new] = [old, new].map(|value| screen_words::setting_value(setting, value, settings));
    say!(
        language,
        "A lead changed a setting: {name}, from {old} to {new}.",
        "Un encargado cambió un ajuste: {name}, de {old} a {new}."
    )
}

/// A reading in both units, exactly as far as it was read.
pub(super) fn length(reading: Reading) -> String {
    let (inches, millimetres) = (super::csv::inches(reading), super::csv::millimetres(reading));
    format!("{inches} in ({millimetres} mm)").replace('-', "−")
}

/// A record was written.
pub(super) fn record(record: &Record, language: Language) -> String {
    match record {
        Record::Type { unit_type } => {
            let name = &unit_type.name;
            say!(language, "Unit type recorded: {name}.", "Tipo de unidad registrado: {name}.")
        }
        Record::Unit { unit } => {
            let (tag, mower, position) = (&unit.tag, &unit.mower, unit.position);
            say!(
                language,
                "Unit recorded: {tag}, {mower} · {position}.",
                "Unidad registrada: {tag}, {mower} · {position}."
            )
        }
        Record::Mower { mower } => {
            let name = &mower.name;
            say!(language, "Mower recorded: {name}.", "Máquina registrada: {name}.")
        }
        Record::Operator { operator } => {
            let (name, id) = (&operator.name, &operator.id);
            let trained = if operator.trained {
                pick(language, "trained to grind", "capacitado para rectificar")
            } else {
                pick(language, "not trained to grind", "sin capacitación para rectificar")
            };
            let lead = if operator.lead { pick(language, ", a lead", ", encargado") } else { "" };
            say!(
                language,
                "Person recorded: {name}, badge {id}, {trained}{lead}.",
                "Persona registrada: {name}, credencial {id}, {trained}{lead}."
            )
        }
        Record::Grinder { grinder } => {
            let (name, due) = (&grinder.name, grinder.check_due);
            say!(
                language,
                "Grinder recorded: {name}, check counts until {due}.",
                "Rectificadora registrada: {name}, verificación vigente hasta {due}."
            )
        }
        Record::Wheel { wheel } => {
            let (mounting, diameter) = (&wheel.mounting, length(wheel.diameter));
            let rated = match wheel.rated_speed {
                Some(speed) => format!("{:.0} rpm", speed.rpm()),
                None => pick(language, "not recorded", "sin registrar").to_owned(),
            };
            let inspected = if wheel.inspected {
                pick(language, "inspected", "inspeccionada")
            } else {
                pick(language, "inspection NOT recorded", "inspección SIN registrar")
            };
            let ring = match &wheel.ring_test {
                RingTest::Missing => {
                    pick(language, "ring test NOT recorded", "prueba de sonido SIN registrar").to_owned()
                }
                RingTest::Clear => pick(language, "rang clear", "sonó limpia").to_owned(),
                RingTest::NotApplicable(kind) => {
                    say!(language, "ring test does not apply ({kind})", "la prueba de sonido no aplica ({kind})")
                }
            };
            say!(
                language,
                "Wheel recorded: mounting {mounting}, {diameter}, rated speed {rated}, {inspected}, {ring}.",
                "Piedra registrada: montaje {mounting}, {diameter}, velocidad marcada {rated}, {inspected}, {ring}."
            )
        }
        Record::OlderWork { tag, work } => {
            let date = work.date;
            say!(language, "Older work taken over: {tag}, {date}.", "Trabajo anterior incorporado: {tag}, {date}.")
        }
    }
}
