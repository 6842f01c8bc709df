//! Why something was not taken, and what to do next.

use super::refusal_setting::setting;
use super::{block, place_name, say, shown, shown_limit};
use crate::present::figures;
use crate::screen::Settings;
use sparkout_core::reading::EntryError;
use sparkout_core::visit::gate::{Block, LapseReason};
use sparkout_core::visit::kind::StageName;
use sparkout_core::visit::refusal::Refusal;

/// A refusal as one sentence for the person at the bench.
pub fn refusal(refusal: &Refusal, settings: Settings) -> String {
    match refusal {
        Refusal::NotHere { stage } => {
            let stage = stage_name(*stage, settings);
            say!(settings, "That does not belong to {stage}.", "Eso no corresponde a {stage}.")
        }
        Refusal::Paused => say!(
            settings,
            "The visit waits. Scan the unit first.",
            "El trabajo está en pausa. Escanee primero la unidad."
        ),
        Refusal::NotPaused => {
            say!(settings, "The unit is already on the rails.", "La unidad ya está sobre los rieles.")
        }
        Refusal::Closed => say!(
            settings,
            "This visit is over. Scan the unit to open another.",
            "Este trabajo terminó. Escanee la unidad para abrir otro."
        ),
        Refusal::QuestionOpen => say!(settings, "Answer the question first.", "Responda primero la pregunta."),
        Refusal::NotAnAnswer => say!(settings, "That answers no question.", "Eso no responde ninguna pregunta."),
        Refusal::IsolationNeeded { .. } => say!(
            settings,
            "Hands go in now: switch off, isolate and try, then hold to acknowledge.",
            "Va a meter las manos: apague, aísle y pruebe; después mantenga pulsado para confirmar.",
        ),
        Refusal::HeldTooShort { .. } => say!(
            settings,
            "Held too short. Keep it held until the ring is full.",
            "Muy breve. Mantenga pulsado hasta que se llene el anillo."
        ),
        Refusal::AnotherOperator => say!(
            settings,
            "Somebody else began this checklist. Begin again with your own badge.",
            "Otra persona empezó esta lista. Empiece de nuevo con su credencial.",
        ),
        Refusal::NotThisItem => {
            say!(settings, "Take the items one at a time, in order.", "Confirme los puntos de uno en uno, en orden.")
        }
        Refusal::ItemsOpen => say!(
            settings,
            "The checklist is not complete. Nothing can be ground without it.",
            "La lista no está completa. Sin ella no se puede rectificar.",
        ),
        Refusal::Blocked(found) => block(found, settings),
        Refusal::Lapsed(reason) => lapse(reason, settings),
        Refusal::NotLapsed => say!(settings, "The checklist still counts.", "La lista sigue vigente."),
        Refusal::OutOfRange { place, reading, least, most } => {
            let value = shown(*reading, *place, settings);
            let (least, most) = (shown_limit(*least, *place, settings), shown_limit(*most, *place, settings));
            say!(
                settings,
                "{value} cannot be right here. Between {least} and {most} is taken.",
                "{value} no puede ser correcto aquí. Se acepta entre {least} y {most}.",
            )
        }
        Refusal::Missing { place } => {
            let place = place_name(*place, settings.language);
            say!(settings, "Measure {place} first.", "Mida primero {place}.")
        }
        Refusal::NotLooked => say!(
            settings,
            "Look at bearings, rollers and blades first.",
            "Revise primero rodamientos, rodillos y cuchillas."
        ),
        Refusal::HeldForRepair => say!(
            settings,
            "Held for repair. Mend what is bad, then mark it mended; or a lead lets it go on.",
            "Detenida para reparación. Repare lo dañado y márquelo como reparado; o un encargado autoriza seguir.",
        ),
        Refusal::LeadingEndUnknown => say!(
            settings,
            "Say first where the leading end stands.",
            "Indique primero dónde queda el extremo de entrada.",
        ),
        Refusal::NoNumberAsked => say!(settings, "No number is asked for now.", "Ahora no se pide ningún número."),
        Refusal::NotProven => say!(
            settings,
            "Not proven yet. Follow what the screen asks, or record it as not proven.",
            "Todavía no está comprobado. Siga lo que pide la pantalla o regístrelo como no comprobado.",
        ),
        Refusal::NotTrued { stage } => {
            let stage = stage_name(*stage, settings);
            say!(
                settings,
                "The unit is not trued as it stands now. Go back to {stage}.",
                "La unidad no está alineada tal como está ahora. Vuelva a {stage}.",
            )
        }
        Refusal::PaperNotCut => {
            say!(settings, "Cut paper along the whole length, then mark it.", "Corte papel a todo lo largo y márquelo.",)
        }
        Refusal::PassesOpen { open } => say!(settings, "Passes still to make: {open}.", "Pasadas por hacer: {open}."),
        Refusal::PassesDone => say!(
            settings,
            "All passes are done. Keep out until wheel and reel stand still.",
            "Todas las pasadas están hechas. No meta las manos hasta que la piedra y el molinete estén quietos.",
        ),
        Refusal::NotPrinted => say!(settings, "Print the label first.", "Imprima primero la etiqueta."),
        Refusal::LabelNotScanned => {
            say!(settings, "Stick the label on the unit and scan it.", "Pegue la etiqueta en la unidad y escanéela.")
        }
        Refusal::OtherLabel => say!(
            settings,
            "That is another label. Scan the one just printed.",
            "Esa es otra etiqueta. Escanee la que se acaba de imprimir.",
        ),
        Refusal::LabelWrong => say!(
            settings,
            "The label does not read right. Print it again.",
            "La etiqueta no se lee bien. Imprímala otra vez."
        ),
        Refusal::NotLead { .. }
        | Refusal::ReasonLength { .. }
        | Refusal::NotHeld
        | Refusal::WorkBegun { .. }
        | Refusal::FrameToReplace { .. }
        | Refusal::NothingToRelieve { .. }
        | Refusal::LandWide { .. }
        | Refusal::AngleOff { .. }
        | Refusal::CountOutOfRange { .. }
        | Refusal::KnifeThin { .. }
        | Refusal::KnifeWorkNotSaid
        | Refusal::KnifeCheckOpen { .. }
        | Refusal::PaperNotSaid => setting(refusal, settings),
        Refusal::Calculation(error) => say!(
            settings,
            "The type's record does not fit these numbers: {error}. Check the type.",
            "Los datos del tipo no concuerdan con estos números: {error}. Revise el tipo.",
        ),
    }
}

/// Why a clearance lapsed.
pub fn lapse(reason: &LapseReason, settings: Settings) -> String {
    match reason {
        LapseReason::Time => say!(
            settings,
            "The checklist lapsed: not started in time. Go through it again.",
            "La lista venció: no se empezó a tiempo. Repásela de nuevo.",
        ),
        LapseReason::Operator => say!(
            settings,
            "The checklist lapsed: another operator. Go through it again.",
            "La lista venció: cambió el operador. Repásela de nuevo.",
        ),
        LapseReason::Wheel => say!(
            settings,
            "The checklist lapsed: another wheel. Go through it again.",
            "La lista venció: cambió la piedra. Repásela de nuevo.",
        ),
        LapseReason::Restart => say!(
            settings,
            "The checklist lapsed: the kiosk started again. Go through it again.",
            "La lista venció: el equipo se reinició. Repásela de nuevo.",
        ),
        LapseReason::Blocked(found) => lapsed_by(found, settings),
    }
}

/// What came up and ended it.
fn lapsed_by(found: &Block, settings: Settings) -> String {
    match found {
        Block::GuardOpen => say!(
            settings,
            "The checklist lapsed: the guard was opened. Go through it again.",
            "La lista venció: se abrió la guarda. Repásela de nuevo.",
        ),
        Block::StopPressed => say!(
            settings,
            "The checklist lapsed: the stop was pressed. Go through it again.",
            "La lista venció: se oprimió el paro. Repásela de nuevo.",
        ),
        Block::InputsStale => say!(
            settings,
            "The checklist lapsed: guard and stop did not answer. Go through it again.",
            "La lista venció: guarda y paro no respondieron. Repásela de nuevo.",
        ),
        Block::InputsLost => say!(
            settings,
            "The checklist lapsed: no link to guard and stop. Go through it again.",
            "La lista venció: sin enlace con guarda y paro. Repásela de nuevo.",
        ),
        Block::NoOperator
        | Block::NotTrained { .. }
        | Block::NoWheel
        | Block::NotInspected
        | Block::NoRingTest
        | Block::NoRatedSpeed
        | Block::Overspeed { .. }
        | Block::CheckOverdue { .. }
        | Block::OutOfTrue { .. }
        | Block::LockedOut { .. }
        | Block::NotLookedOver
        | Block::OwnerNotTold { .. } => block(found, settings),
    }
}

/// Why a typed number was not taken.
pub fn entry(error: &EntryError, settings: Settings) -> String {
    match error {
        EntryError::Empty => say!(settings, "Enter the number first.", "Ingrese primero el número."),
        EntryError::NotANumber { text } => say!(settings, "“{text}” is not a number.", "«{text}» no es un número."),
        EntryError::TooFine { text, most } => {
            let text = figures::typed(text, settings);
            say!(
                settings,
                "{text} has more than {most} decimals. No instrument here shows that.",
                "{text} tiene más de {most} decimales. Ningún instrumento aquí los muestra.",
            )
        }
        EntryError::TooLarge { text } => {
            let text = figures::typed(text, settings);
            say!(
                settings,
                "{text} is longer than anything at this bench.",
                "{text} es más largo que cualquier cosa en este banco."
            )
        }
    }
}

/// A stage's name as the strip has it.
pub fn stage_name(stage: StageName, settings: Settings) -> String {
    match stage {
        StageName::Receive => say!(settings, "Receive", "Recibir"),
        StageName::Tape => say!(settings, "Tape", "Cinta"),
        StageName::Front => say!(settings, "Front", "Delantero"),
        StageName::Rear => say!(settings, "Rear", "Trasero"),
        StageName::Clearance => say!(settings, "Clearance", "Permiso"),
        StageName::Grind => say!(settings, "Grind", "Rectificar"),
        StageName::Prove => say!(settings, "Prove", "Comprobar"),
        StageName::Label => say!(settings, "Label", "Etiqueta"),
        StageName::Return => say!(settings, "Return", "Devolver"),
        StageName::Finger => say!(settings, "Finger", "Apoyo"),
        StageName::Relief => say!(settings, "Relief", "Destalonar"),
        StageName::Knife => say!(settings, "Bedknife", "Contracuchilla"),
        StageName::BackLap => say!(settings, "Back-lap", "Asentar"),
        StageName::Height => say!(settings, "Height", "Altura"),
        StageName::Plate => say!(settings, "Plate", "Mármol"),
        StageName::Check => say!(settings, "Check", "Revisar"),
    }
}
