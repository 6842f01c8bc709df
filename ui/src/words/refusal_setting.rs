//! Why something was not taken in the stages beside the usual trip.

use super::{place_label, say, shown, shown_limit};
use crate::present::figures;
use crate::screen::Settings;
use sparkout_core::reading::LengthKind;
use sparkout_core::visit::event::{KnifeCheck, Place};
use sparkout_core::visit::refusal::Refusal;

/// One sentence for the person at the bench; what is not of these stages has its words elsewhere.
pub(super) fn setting(refusal: &Refusal, settings: Settings) -> String {
    match refusal {
        Refusal::NotLead { name } => say!(
            settings,
            "Only a lead decides this; {name} is none. A lead scans a badge first.",
            "Solo lo decide un encargado; {name} no lo es. Primero escanee la credencial de un encargado.",
        ),
        Refusal::ReasonLength { most, .. } => say!(
            settings,
            "A reason is needed, of at most {most} characters.",
            "Hace falta un motivo, de {most} caracteres como máximo."
        ),
        Refusal::NotHeld => say!(settings, "Nothing is held there.", "Ahí no hay nada detenido."),
        Refusal::WorkBegun { .. } => say!(
            settings,
            "Metal was taken off already. Finish this visit, then open another.",
            "Ya se quitó metal. Termine este trabajo y después abra otro.",
        ),
        Refusal::FrameToReplace { error, limit } => {
            let error = figures::with_unit(error.abs(), LengthKind::Fine, settings);
            let limit = figures::with_unit(*limit, LengthKind::Fine, settings);
            say!(
                settings,
                "Out by {error}, limit {limit}: replace the frame, or a lead lets it go on.",
                "Desviado {error}, límite {limit}: cambie el bastidor o un encargado autoriza seguir.",
            )
        }
        Refusal::NothingToRelieve { land, wanted } => {
            let land = shown(*land, Some(Place::Land), settings);
            let wanted = figures::with_unit(*wanted, LengthKind::Size, settings);
            say!(
                settings,
                "The land is {land}; relief would leave {wanted}. Nothing to take off.",
                "La faja mide {land}; al destalonar quedaría {wanted}. No hay nada que quitar.",
            )
        }
        Refusal::LandWide { land, limit } => {
            let (land, limit) = (shown(*land, Some(Place::Land), settings), shown(*limit, Some(Place::Land), settings));
            say!(
                settings,
                "The land is still {land}, limit {limit}. Relieve again.",
                "La faja todavía mide {land}, límite {limit}. Destalone otra vez.",
            )
        }
        Refusal::AngleOff { place, angle, least, most } => {
            let name = place_label(*place, settings);
            let (angle, least, most) = (angle.angle().degrees(), least.degrees(), most.degrees());
            say!(
                settings,
                "{name}: {angle:.1}° is taken between {least:.1}° and {most:.1}°. Grind it again.",
                "{name}: {angle:.1}° debe estar entre {least:.1}° y {most:.1}°. Rectifique otra vez.",
            )
        }
        Refusal::CountOutOfRange { place, count, least, most } => {
            let name = place_label(*place, settings);
            say!(
                settings,
                "{name}: {count} cannot be right. Between {least} and {most} is taken.",
                "{name}: {count} no puede ser correcto. Se acepta entre {least} y {most}.",
            )
        }
        Refusal::KnifeThin { thickness, least } => {
            let place = Some(Place::Thickness);
            let (thickness, least) = (shown(*thickness, place, settings), shown_limit(*least, place, settings));
            say!(
                settings,
                "{thickness} is left, at least {least} is needed. Fit a new bedknife.",
                "Quedan {thickness}, hacen falta {least}. Monte una contracuchilla nueva.",
            )
        }
        Refusal::KnifeWorkNotSaid => say!(
            settings,
            "Say first what was done to the bedknife.",
            "Indique primero qué se hizo con la contracuchilla."
        ),
        Refusal::KnifeCheckOpen { check } => match check {
            KnifeCheck::ScrewsTorqued => {
                say!(settings, "Tighten the screws, then mark it.", "Apriete los tornillos y márquelo.")
            }
            KnifeCheck::BurrRemoved => {
                say!(settings, "Take the burr off, then mark it.", "Quite la rebaba y márquelo.")
            }
            KnifeCheck::AdjustedToReel => {
                say!(settings, "Adjust it to the reel, then mark it.", "Ajústela al molinete y márquelo.")
            }
        },
        Refusal::PaperNotSaid => say!(
            settings,
            "Try paper along the whole length, then say whether it cuts.",
            "Pruebe con papel a todo lo largo e indique si corta."
        ),
        _ => String::new(),
    }
}
