//! What a scan was, and what the kiosk has to say about it.

use super::{entry, refusal, say};
use crate::screen::Settings;
use sparkout_core::health::check::CheckRefusal;
use sparkout_core::label::LabelVerdict;
use sparkout_core::lockout::LockoutRefusal;
use sparkout_core::reading::EntryError;
use sparkout_core::scan::ScanRefusal;
use sparkout_core::visit::gate::LapseReason;
use sparkout_core::visit::refusal::Refusal;
use sparkout_core::wheel::WheelRefusal;

/// One thing the kiosk says after an act.
#[derive(Debug, Clone, PartialEq)]
pub enum Said {
    /// The visit did not take it.
    Refused(Refusal),
    /// The clearance, or the checklist, no longer counts.
    Lapsed(LapseReason),
    /// What was held while the guard or the stop was at fault counts for nothing.
    HoldDropped,
    /// The number could not be read.
    Entry(EntryError),
    /// The scan could not be read.
    Scan(ScanRefusal),
    /// A badge was scanned where it changes nothing else.
    SignedOn {
        /// Who.
        name: String,
    },
    /// The operator signed off.
    SignedOff,
    /// A badge that is on no record.
    UnknownBadge {
        /// What it says.
        id: String,
    },
    /// A place's code where a unit is expected.
    PlaceNotUnit {
        /// The mower.
        mower: String,
        /// The position.
        position: u32,
    },
    /// A label where a unit is expected: what it says, read from its own code.
    LabelOfUnit {
        /// The unit on the label.
        tag: String,
        /// The day of the work.
        date: jiff::civil::Date,
        /// What was found.
        verdict: LabelVerdict,
        /// The bench that signed it; nobody may have.
        signed_by: Option<String>,
    },
    /// A label signed with a key that is not known here.
    LabelOfUnknownKey {
        /// The unit on the label.
        tag: String,
        /// The key's short mark.
        key: String,
    },
    /// A command card with nothing to do here.
    CommandNotHere,
    /// A command card for something that must be done by hand.
    CommandByHand,
    /// A unit's tag while another is on the rails.
    OtherOnRails {
        /// The one on the rails.
        tag: String,
    },
    /// The unit was taken out for good.
    Retired {
        /// Which.
        tag: String,
    },
    /// No unit is on record at that place.
    NobodyThere,
    /// That is not the unit's place.
    WrongPlace {
        /// Where it belongs.
        mower: String,
        /// Its position there.
        position: u32,
    },
    /// The visit closed: the unit is back.
    Back {
        /// Which.
        tag: String,
    },
    /// The visit was ended without a label.
    Ended {
        /// Which.
        tag: String,
    },
    /// The visit waits.
    Waiting {
        /// Which.
        tag: String,
    },
    /// A unit was enrolled.
    Enrolled {
        /// Which.
        tag: String,
    },
    /// A value is missing for a new type, or its wear limit is not below its diameter when new.
    TypeIncomplete,
    /// No eccentric stands there.
    RestingOutOfRange {
        /// What was typed.
        text: String,
    },
    /// No reel has so many blades.
    BladesOutOfRange {
        /// What was typed.
        text: String,
        /// The fewest.
        least: u32,
        /// The most.
        most: u32,
    },
    /// The label was written.
    Printed {
        /// Where it went.
        to: String,
    },
    /// The label could not be made or written.
    LabelFailed {
        /// Why.
        fault: super::LabelFault,
    },
    /// The label is in the printer's queue.
    LabelQueued,
    /// The label is not out, and why.
    Printer {
        /// Why.
        trouble: super::PrinterTrouble,
    },
    /// The label was scanned on the unit.
    LabelClosed,
    /// The record could not be written: nothing was taken.
    NotKept {
        /// Why.
        fault: super::RecordFault,
    },
    /// The record names no grinder, so no visit can be opened.
    NotSetUp,
    /// The database is still being checked.
    StillChecking,
    /// An event of the grinder's health was not taken.
    Check(CheckRefusal),
    /// A check with the master bar is over.
    Checked {
        /// What it found.
        is_true: bool,
        /// Until when the grinder's check counts now.
        due: jiff::civil::Date,
    },
    /// A lead lets the grinder be used.
    Overridden {
        /// Who.
        by: String,
        /// The last day on which that counts.
        until: jiff::civil::Date,
    },
    /// A spot check was kept.
    SpotKept {
        /// Of which unit.
        unit: String,
        /// Whether it shows no more than is accepted.
        within: bool,
    },
    /// Something about a scanner that is a device of its own.
    Scanner(super::ScannerNews),
    /// Something about the kiosk itself.
    Manners(super::Manners),
    /// How the journal stands with the head kept elsewhere.
    Witness(super::Witness),
    /// Something about a PIN.
    Pin(super::PinSaid),
    /// An event of the wheel's record was not taken.
    Wheel(WheelRefusal),
    /// An event of a lockout was not taken.
    Lockout(LockoutRefusal),
    /// The wheel's record was written.
    WheelKept,
    /// A lock is off.
    LockOff {
        /// Its number.
        lock: String,
    },
}

/// Whether it tells of something that was not done.
pub const fn is_refusal(said: &Said) -> bool {
    if let Said::Manners(said) = said {
        return super::manners::is_refusal(said);
    }
    if let Said::Witness(said) = said {
        return super::is_alarm(said);
    }
    if let Said::Pin(said) = said {
        return super::pins::is_refusal(said);
    }
    !matches!(
        said,
        Said::SignedOn { .. }
            | Said::SignedOff
            | Said::Back { .. }
            | Said::Ended { .. }
            | Said::Waiting { .. }
            | Said::Enrolled { .. }
            | Said::Printed { .. }
            | Said::LabelQueued
            | Said::Scanner(super::ScannerNews::Back)
            | Said::LabelClosed
            | Said::Checked { is_true: true, .. }
            | Said::Overridden { .. }
            | Said::SpotKept { within: true, .. }
            | Said::WheelKept
            | Said::LockOff { .. }
    )
}

/// A thing said, as one sentence.
pub fn said(said: &Said, settings: Settings) -> String {
    match said {
        Said::Refused(cause) => refusal(cause, settings),
        Said::Lapsed(reason) => super::lapse(reason, settings),
        Said::HoldDropped => say!(
            settings,
            "Guard or stop changed while you held. Nothing was taken. Look once more, then hold again.",
            "La guarda o el paro cambió mientras mantenía pulsado. No se tomó nada. Revise y mantenga otra vez.",
        ),
        Said::Entry(error) => entry(error, settings),
        Said::Scan(error) => scan(error, settings),
        Said::SignedOn { name } => say!(settings, "{name} is at the bench.", "{name} está en el banco."),
        Said::SignedOff => say!(settings, "Nobody is signed on.", "No hay nadie registrado en el banco."),
        Said::UnknownBadge { id } => say!(
            settings,
            "Badge {id} is not on record here. Ask a lead.",
            "La credencial {id} no está registrada aquí. Consulte al encargado.",
        ),
        Said::PlaceNotUnit { mower, position } => say!(
            settings,
            "That is the place {mower}, position {position}, not a unit. Scan the unit's tag.",
            "Ese es el lugar {mower}, posición {position}, no una unidad. Escanee la placa de la unidad.",
        ),
        Said::LabelOfUnit { tag, date, verdict, signed_by } => {
            let what = super::label_read::says(*date, *verdict, signed_by.as_deref(), settings);
            say!(
                settings,
                "That is the label of {tag}: {what}. Scan the unit's tag.",
                "Esa es la etiqueta de {tag}: {what}. Escanee la placa de la unidad.",
            )
        }
        Said::LabelOfUnknownKey { tag, key } => say!(
            settings,
            "Label of {tag}, signed with key {key}, which is not known here. Do not rely on it; ask a lead to add the bench's key.",
            "Etiqueta de {tag}, firmada con la clave {key}, desconocida aquí. No confíe en ella; pida al encargado agregar la clave.",
        ),
        Said::CommandNotHere => say!(settings, "That card does nothing here.", "Esa tarjeta no hace nada aquí."),
        Said::CommandByHand => say!(
            settings,
            "No card does that. Hold it on the screen.",
            "Ninguna tarjeta hace eso. Mantenga pulsado en la pantalla.",
        ),
        Said::OtherOnRails { tag } => say!(
            settings,
            "{tag} is on the rails. Pause its visit first, then scan again.",
            "{tag} está sobre los rieles. Ponga su trabajo en pausa y escanee de nuevo.",
        ),
        Said::Retired { tag } => say!(
            settings,
            "{tag} was retired. Ask a lead before it is worked on.",
            "{tag} fue dada de baja. Consulte al encargado antes de trabajarla.",
        ),
        Said::NobodyThere => say!(settings, "No unit is on record there.", "No hay ninguna unidad registrada ahí."),
        Said::WrongPlace { mower, position } => say!(
            settings,
            "That is not its place. It belongs on {mower}, position {position}.",
            "Ese no es su lugar. Corresponde a {mower}, posición {position}.",
        ),
        Said::Back { tag } => say!(settings, "{tag} is back in service.", "{tag} vuelve a estar en servicio."),
        Said::Ended { tag } => say!(settings, "The visit of {tag} is ended.", "El trabajo de {tag} terminó."),
        Said::Waiting { tag } => say!(
            settings,
            "{tag} waits. Scan it again to go on.",
            "{tag} queda en espera. Escanéela de nuevo para seguir.",
        ),
        Said::Enrolled { tag } => say!(settings, "{tag} is enrolled.", "{tag} quedó registrada."),
        Said::TypeIncomplete => say!(
            settings,
            "Fill in every value; the wear limit is less than the diameter when new.",
            "Complete todos los valores; el límite de desgaste es menor que el diámetro nuevo.",
        ),
        Said::RestingOutOfRange { text } => say!(
            settings,
            "An eccentric stands at 0 to 180°, not “{text}”.",
            "Un excéntrico está entre 0 y 180°, no «{text}».",
        ),
        Said::BladesOutOfRange { text, least, most } => say!(
            settings,
            "A reel has {least} to {most} blades, not “{text}”.",
            "Un molinete tiene de {least} a {most} cuchillas, no «{text}».",
        ),
        Said::Printed { to } => say!(
            settings,
            "Label written: {to}. Stick it on and scan it.",
            "Etiqueta lista: {to}. Péguela y escanéela.",
        ),
        Said::LabelQueued => {
            say!(settings, "The label is on its way to the printer.", "La etiqueta va camino a la impresora.",)
        }
        Said::Printer { trouble } => {
            let why = super::printer_trouble(trouble, settings);
            say!(settings, "No label yet: {why}.", "Aún no hay etiqueta: {why}.")
        }
        Said::LabelFailed { fault } => {
            let why = super::label_fault::why(fault, settings);
            say!(
                settings,
                "No label was printed: {why}. Try again.",
                "No se imprimió la etiqueta: {why}. Intente de nuevo.",
            )
        }
        Said::LabelClosed => say!(settings, "Label read on the unit.", "Etiqueta leída en la unidad."),
        Said::NotKept { fault } => super::record_fault(fault, settings),
        Said::NotSetUp => say!(
            settings,
            "No grinder is on record at this bench: no visit can be opened. Tell a lead.",
            "Este banco no tiene rectificadora registrada: no se puede abrir ningún trabajo. Avise al encargado.",
        ),
        Said::Check(cause) => super::check_refusal(cause, settings),
        Said::Checked { is_true, due } => super::checked(*is_true, *due, settings),
        Said::Overridden { by, until } => super::overridden(by, *until, settings),
        Said::SpotKept { unit, within } => super::spot_kept(unit, *within, settings),
        Said::StillChecking => say!(
            settings,
            "The record is still being checked. Wait a moment.",
            "Todavía se está revisando el registro. Espere un momento.",
        ),
        Said::Scanner(news) => super::intake::news(news, settings),
        Said::Manners(said) => super::manners::manners(said, settings),
        Said::Witness(said) => super::witness(said, settings),
        Said::Pin(said) => super::pins::pin(said, settings),
        Said::Wheel(cause) => super::wheel_refusal(cause, settings),
        Said::Lockout(cause) => super::lockout_refusal(cause, settings),
        Said::WheelKept => say!(settings, "The wheel’s record is kept.", "El registro de la piedra quedó guardado."),
        Said::LockOff { lock } => say!(
            settings,
            "Lock {lock} is off. Clearance is gone through from the beginning.",
            "Candado {lock} retirado. El Permiso se recorre desde el principio.",
        ),
    }
}

/// A scan that could not be read.
pub fn scan(error: &ScanRefusal, settings: Settings) -> String {
    match error {
        ScanRefusal::Empty => {
            say!(settings, "The scan was empty. Scan again.", "La lectura llegó vacía. Escanee de nuevo.")
        }
        ScanRefusal::TooLong { characters, .. } => say!(
            settings,
            "That code has {characters} characters; no code here is so long.",
            "Ese código tiene {characters} caracteres; aquí ninguno es tan largo.",
        ),
        ScanRefusal::ControlCharacter { .. } | ScanRefusal::ForeignCharacter { .. } => say!(
            settings,
            "The scanner sent a character that no code here has. Check its keyboard setting.",
            "El lector envió un carácter que aquí no existe. Revise su configuración de teclado.",
        ),
        ScanRefusal::Doubled { half } => {
            say!(settings, "“{half}” came doubled. Scan again.", "«{half}» llegó doble. Escanee de nuevo.")
        }
        ScanRefusal::NotReadable { looks_like } => say!(
            settings,
            "No code of this shop: it looks like {looks_like}. Scan the unit's tag.",
            "No es un código de este taller ({looks_like}). Escanee la placa de la unidad.",
        ),
        ScanRefusal::CheckFailed { .. } => say!(
            settings,
            "The code was read incompletely. Scan again.",
            "El código se leyó incompleto. Escanee de nuevo.",
        ),
        ScanRefusal::NoSerial { grai } => say!(
            settings,
            "{grai} names a kind of asset, not one unit: its serial is missing.",
            "{grai} nombra un tipo de activo, no una unidad: falta su serie.",
        ),
        ScanRefusal::OtherCompany { tag } => {
            say!(settings, "{tag} belongs to another company.", "{tag} es de otra empresa.")
        }
        ScanRefusal::Gs1Length { .. } | ScanRefusal::Gs1Character { .. } | ScanRefusal::Contradiction { .. } => {
            say!(settings, "The GS1 code is not well formed: {error}.", "El código GS1 no está bien formado: {error}.",)
        }
        ScanRefusal::Label(label) => {
            let why = super::label_read::why_not(label, settings);
            say!(
                settings,
                "The label cannot be used: {why}. Scan the unit's tag.",
                "La etiqueta no sirve: {why}. Escanee la placa de la unidad.",
            )
        }
    }
}
