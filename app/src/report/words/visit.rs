//! What happened to a visit.

use super::grinder::{held, isolation};
use super::{length, pick, say, settings};
use sparkout_core::facts::{BenchFacts, TypeFact};
use sparkout_core::record::Side;
use sparkout_core::visit::Visit;
use sparkout_core::visit::event::{Answer, BedknifeWork, Condition, Event, Hold, KnifeCheck, Part, Place, StopReason};
use sparkout_core::visit::kind::{Turning, VisitKind};
use sparkout_ui::present;
use sparkout_ui::screen::Language;
use sparkout_ui::words as screen_words;

/// What is known around an event.
pub(in crate::report) struct Told<'a> {
    /// The language of the sentences.
    pub language: Language,
    /// The visit as it stood before, where it is known.
    pub before: Option<&'a Visit>,
    /// The visit as it stands now.
    pub now: Option<&'a Visit>,
    /// What the bench knew.
    pub facts: Option<&'a BenchFacts>,
}

/// Something about a visit.
pub(in crate::report) fn event(event: &Event, told: &Told<'_>) -> String {
    let language = told.language;
    let is = |english, spanish| pick(language, english, spanish).to_owned();
    match event {
        Event::Opened { unit } => {
            let (tag, mower, position) = (&unit.tag, &unit.mower, unit.position);
            say!(language, "{tag} of {mower} · {position} received.", "{tag} de {mower} · {position} recibida.")
        }
        Event::Looked { part, condition } => {
            let (part, condition) = (part_name(*part, language), condition_name(*condition, language));
            say!(language, "Looked at {part}: {condition}.", "Revisión de {part}: {condition}.")
        }
        Event::Mended { part } => {
            let part = part_name(*part, language);
            say!(language, "Mended: {part}. The hold is lifted.", "Reparado: {part}. Se levanta la retención.")
        }
        Event::Overridden { hold, reason } => {
            let hold = hold_name(*hold, language);
            say!(
                language,
                "A lead lets the work go on although {hold} holds it. Reason: {reason}",
                "Un encargado permite seguir pese a la retención por {hold}. Motivo: {reason}"
            )
        }
        Event::KindChosen { kind } => {
            let kind = kind_name(*kind, language);
            say!(language, "Kind of visit: {kind}.", "Tipo de trabajo: {kind}.")
        }
        Event::TypeTold { fact } => type_told(*fact, language),
        Event::IsolationHeld { held_ms } => {
            let stage = told.before.map(|visit| screen_words::stage_name(visit.stage_name(), settings(language)));
            let stage = stage.unwrap_or_else(|| is("an unknown stage", "una etapa desconocida"));
            isolation(&stage, *held_ms, language)
        }
        Event::ItemHeld { wording, held_ms, .. } => {
            let held = held(*held_ms, language);
            say!(language, "Acknowledged: {wording} ({held})", "Confirmado: {wording} ({held})")
        }
        Event::GrindStarted { held_ms } => {
            let (work, held) = (turning_name(told.before, language), held(*held_ms, language));
            say!(language, "{work} STARTED under a clearance ({held}).", "{work} INICIADO con permiso ({held}).")
        }
        Event::StandStill { held_ms } => {
            let held = held(*held_ms, language);
            say!(
                language,
                "Run-down over: wheel and reel seen to stand still ({held}).",
                "Fin del giro por inercia: piedra y molinete vistos detenidos ({held})."
            )
        }
        Event::Lapsed { reason } => {
            let words = screen_words::lapse(reason, settings(language));
            say!(
                language,
                "CLEARANCE LAPSED. The screen said: “{words}”",
                "PERMISO CADUCADO. La pantalla decía: «{words}»"
            )
        }
        Event::Answered { answer } => answered(*answer, told),
        Event::Stopped { reason } => stopped(*reason, language),
        Event::Read { reading } => read(&length(*reading), told),
        Event::AngleRead { angle } => read(&format!("{:.1}°", angle.angle().degrees()), told),
        Event::CountRead { count } => read(&count.to_string(), told),
        Event::PlacePicked { place } => {
            let place = screen_words::place_label(*place, settings(language));
            say!(language, "Measured again: {place}.", "Se mide de nuevo: {place}.")
        }
        Event::PassDone => passes(told),
        Event::KnifeChecked { check, done } => knife_check(*check, *done, language),
        Event::BedknifeSaid { work } => {
            let work = knife_work(*work, language);
            say!(language, "Bedknife: {work}.", "Contracuchilla: {work}.")
        }
        Event::PaperCut { whole_length: true } => {
            is("Paper is cut along the whole length.", "Corta papel a todo lo largo.")
        }
        Event::PaperCut { whole_length: false } => {
            is("Paper is NOT cut along the whole length.", "NO corta papel a todo lo largo.")
        }
        Event::Printed { to, .. } => say!(language, "Label printed: {to}.", "Etiqueta impresa: {to}."),
        Event::PlaceConfirmed { scanned: true } => {
            is("Back in its place on the mower, scanned.", "De vuelta en su lugar en la máquina, escaneado.")
        }
        Event::PlaceConfirmed { scanned: false } => {
            is("Back in its place on the mower, confirmed.", "De vuelta en su lugar en la máquina, confirmado.")
        }
        Event::Paused
        | Event::TakenUp
        | Event::Next
        | Event::Back
        | Event::Restarted
        | Event::NotProvenAccepted
        | Event::ErrorRecorded
        | Event::Regrind
        | Event::LabelScanned { .. }
        | Event::ZeroSet
        | Event::CurePicked { .. }
        | Event::Turned { .. }
        | Event::Squared
        | Event::Shimmed
        | Event::FingerSet
        | Event::TouchAgain
        | Event::PassRepeated
        | Event::MeasuredAgain
        | Event::PrintAsked => plain(event, told),
    }
}

/// What needs no more than a sentence, and for a change of stage the stage.
fn plain(event: &Event, told: &Told<'_>) -> String {
    let language = told.language;
    let stage = told.now.map(|visit| screen_words::stage_name(visit.stage_name(), settings(language)));
    let stage = stage.unwrap_or_default();
    if matches!(event, Event::Next) {
        return say!(language, "On to the stage {stage}.", "Pasa a la etapa {stage}.");
    }
    if matches!(event, Event::Back) {
        return say!(language, "Back to the stage {stage}.", "Vuelve a la etapa {stage}.");
    }
    let (english, spanish) = sentence(event);
    pick(language, english, spanish).to_owned()
}

const fn sentence(event: &Event) -> (&'static str, &'static str) {
    match event {
        Event::Paused => ("Visit paused; the unit leaves the rails.", "Trabajo en pausa; la unidad deja los rieles."),
        Event::TakenUp => ("Visit taken up again.", "Trabajo retomado."),
        Event::Restarted => (
            "The kiosk started again during this visit; no clearance outlived it.",
            "El quiosco se reinició durante este trabajo; ningún permiso siguió vigente.",
        ),
        Event::NotProvenAccepted => (
            "Recorded by name: within tolerance, NOT PROVEN.",
            "Registrado con nombre: dentro de tolerancia, SIN COMPROBAR.",
        ),
        Event::ErrorRecorded => (
            "Rear roller's error recorded as it is: the frame has nothing to adjust.",
            "Error del rodillo trasero registrado como está: el bastidor no tiene ajuste.",
        ),
        Event::Regrind => ("Back to the rails: out of tolerance.", "De vuelta a los rieles: fuera de tolerancia."),
        Event::LabelScanned { .. } => ("Label read back from the unit.", "Etiqueta leída en la unidad."),
        Event::ZeroSet => ("Dial set to zero at the touch.", "Dial puesto a cero en el contacto."),
        Event::CurePicked { .. } => ("The other adjuster is used.", "Se usa el otro regulador."),
        Event::Turned { .. } => ("Adjuster turned as told.", "Regulador girado según lo indicado."),
        Event::Squared => ("Side plates squared.", "Placas laterales escuadradas."),
        Event::Shimmed => ("Shims set.", "Calzas colocadas."),
        Event::FingerSet => ("Blade and finger set for the relief.", "Cuchilla y apoyo puestos para destalonar."),
        Event::TouchAgain => ("More touches are taken.", "Se toman más contactos."),
        Event::PassRepeated => ("The pass is done once more.", "Se repite la pasada."),
        Event::MeasuredAgain => ("Measured again.", "Se mide de nuevo."),
        Event::PrintAsked => ("Label asked for.", "Etiqueta solicitada."),
        // Everything else was told with its values; an entry is never without words.
        _ => ("See the entry itself.", "Vea el asiento mismo."),
    }
}

fn read(value: &str, told: &Told<'_>) -> String {
    let language = told.language;
    let place = told.before.and_then(present::asked);
    let name = place.map_or_else(
        || pick(language, "Dial", "Dial").to_owned(),
        |place: Place| screen_words::place_label(place, settings(language)),
    );
    format!("{name}: {value}.")
}

fn passes(told: &Told<'_>) -> String {
    let language = told.language;
    match told.now.zip(told.facts).filter(|(visit, _)| visit.passes().done() > 0) {
        Some((visit, facts)) => {
            let (done, all) = (visit.passes().done(), visit.passes_in_all(facts));
            say!(language, "Pass {done} of {all} done.", "Pasada {done} de {all} hecha.")
        }
        None => pick(language, "Pass done.", "Pasada hecha.").to_owned(),
    }
}

fn answered(answer: Answer, told: &Told<'_>) -> String {
    let language = told.language;
    let asked = told.before.and_then(Visit::question);
    let asked = asked.map(|asked| screen_words::question(asked, settings(language)).text);
    let asked = asked.unwrap_or_else(|| pick(language, "A doubtful value", "Un valor dudoso").to_owned());
    let taken = match answer {
        Answer::Keep => pick(language, "what was typed was KEPT", "se MANTUVO lo escrito"),
        Answer::Again => pick(language, "it was taken again", "se repitió"),
        Answer::Offered => pick(language, "what was offered was taken", "se tomó lo ofrecido"),
        Answer::Stop => pick(language, "the visit was ended", "se terminó el trabajo"),
    };
    say!(language, "Asked “{asked}”: {taken}.", "Se preguntó «{asked}»: {taken}.")
}

fn type_told(fact: TypeFact, language: Language) -> String {
    let side = |side| match side {
        Side::Left => pick(language, "left", "izquierda"),
        Side::Right => pick(language, "right", "derecha"),
    };
    let raises = |raises| if raises { pick(language, "raises", "sube") } else { pick(language, "lowers", "baja") };
    match fact {
        TypeFact::LeadingEndAt(at) => {
            let at = side(at);
            say!(
                language,
                "Told once: the leading end is at the {at}.",
                "Dato del tipo: el extremo de entrada está a la {at}."
            )
        }
        TypeFact::FrontClockwiseRaises(at, does) => {
            let (at, does) = (side(at), raises(does));
            say!(
                language,
                "Told once: clockwise {does} at the front adjuster, {at}.",
                "Dato del tipo: a la derecha {does} en el regulador delantero, {at}."
            )
        }
        TypeFact::RearClockwiseRaises(at, does) => {
            let (at, does) = (side(at), raises(does));
            say!(
                language,
                "Told once: clockwise {does} at the rear adjuster, {at}.",
                "Dato del tipo: a la derecha {does} en el regulador trasero, {at}."
            )
        }
    }
}

fn turning_name(before: Option<&Visit>, language: Language) -> &'static str {
    match before.map(Visit::turning) {
        Some(Turning::Grind) => pick(language, "Grind", "Rectificado"),
        Some(Turning::Relief) => pick(language, "Relief", "Destalonado"),
        Some(Turning::BackLap) => pick(language, "Back-lap", "Asentado"),
        None => pick(language, "Turning work", "Trabajo con giro"),
    }
}

const fn kind_name(kind: VisitKind, language: Language) -> &'static str {
    match kind {
        VisitKind::Spin => pick(language, "spin", "rectificado cilíndrico"),
        VisitKind::ReliefAndSpin => pick(language, "relief and spin", "destalonado y cilíndrico"),
        VisitKind::Bedknife => pick(language, "bedknife", "contracuchilla"),
        VisitKind::BackLap => pick(language, "back-lap", "asentado"),
        VisitKind::HeightOfCut => pick(language, "height of cut", "altura de corte"),
        VisitKind::CheckOnly => pick(language, "check only", "solo revisión"),
    }
}

const fn stopped_words(reason: StopReason) -> (&'static str, &'static str) {
    match reason {
        StopReason::BelowLimit => (
            "Visit ended: a grind would go below the wear limit.",
            "Trabajo terminado: rectificar bajaría del límite de desgaste.",
        ),
        StopReason::HeldForRepair => ("Visit ended: held for repair.", "Trabajo terminado: retenida para reparar."),
        StopReason::FrameToReplace => {
            ("Visit ended: the frame is to be replaced.", "Trabajo terminado: hay que cambiar el bastidor.")
        }
    }
}

fn stopped(reason: StopReason, language: Language) -> String {
    let (english, spanish) = stopped_words(reason);
    pick(language, english, spanish).to_owned()
}

const fn part_name(part: Part, language: Language) -> &'static str {
    match part {
        Part::Bearings => pick(language, "reel bearings", "los rodamientos del molinete"),
        Part::Rollers => pick(language, "rollers", "los rodillos"),
        Part::Blades => pick(language, "blades and spiders", "las cuchillas y arañas"),
    }
}

const fn condition_name(condition: Condition, language: Language) -> &'static str {
    match condition {
        Condition::Good => pick(language, "good", "bien"),
        Condition::Note => pick(language, "a note", "con observación"),
        Condition::Bad => pick(language, "TO BE MENDED, the visit is held", "A REPARAR, el trabajo queda retenido"),
    }
}

const fn hold_name(hold: Hold, language: Language) -> &'static str {
    match hold {
        Hold::Part(part) => part_name(part, language),
        Hold::Frame => pick(language, "the frame", "el bastidor"),
    }
}

fn knife_check(check: KnifeCheck, done: bool, language: Language) -> String {
    let name = match check {
        KnifeCheck::ScrewsTorqued => pick(language, "screws at their torque", "tornillos al par"),
        KnifeCheck::BurrRemoved => pick(language, "burr removed", "rebaba quitada"),
        KnifeCheck::AdjustedToReel => pick(language, "adjusted to the reel", "ajustada al molinete"),
    };
    let state = if done { pick(language, "made", "hecho") } else { pick(language, "open again", "abierto de nuevo") };
    say!(language, "Bedknife, {name}: {state}.", "Contracuchilla, {name}: {state}.")
}

const fn knife_work(work: BedknifeWork, language: Language) -> &'static str {
    match work {
        BedknifeWork::Faced => pick(language, "faced", "asentada"),
        BedknifeWork::Reground => pick(language, "reground", "rectificada"),
        BedknifeWork::New => pick(language, "new", "nueva"),
    }
}
