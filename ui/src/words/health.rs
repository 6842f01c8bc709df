//! The grinder's own health in words: how it stands, what warns, where repeatabilities come from.

use super::say;
use crate::present::{Gathered, figures};
use crate::screen::{GrinderState, Language, Settings};
use sparkout_core::health::check::CheckRefusal;
use sparkout_core::health::closure::Sign;
use sparkout_core::health::drift::{Drift, Series};
use sparkout_core::health::earned::Source;
use sparkout_core::health::spot::SpotCheck;
use sparkout_core::quantity::Length;
use sparkout_core::reading::LengthKind;
use sparkout_core::record::Grinder;

/// A reason for which a lead lets a grinder be used although its check says or asks otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OverrideReason {
    /// The master bar is not in the shop.
    BarAway,
    /// Every unit goes over the surface plate until then.
    PlateChecked,
    /// Somebody comes to put it right.
    FitterBooked,
}

/// The reasons, in the order they are offered.
pub const OVERRIDE_REASONS: [OverrideReason; 3] =
    [OverrideReason::PlateChecked, OverrideReason::FitterBooked, OverrideReason::BarAway];

/// The reason as it stands on the screen, and in the record.
pub const fn override_reason(reason: OverrideReason, language: Language) -> &'static str {
    match (reason, language) {
        (OverrideReason::BarAway, Language::English) => "Master bar not in the shop",
        (OverrideReason::BarAway, Language::Spanish) => "La barra patrón no está en el taller",
        (OverrideReason::PlateChecked, Language::English) => "Every unit goes over the surface plate",
        (OverrideReason::PlateChecked, Language::Spanish) => "Cada unidad pasa por el mármol",
        (OverrideReason::FitterBooked, Language::English) => "Repair is booked",
        (OverrideReason::FitterBooked, Language::Spanish) => "La reparación está programada",
    }
}

/// How the grinder stands, as one sentence.
pub fn grinder_state(grinder: &Grinder, state: GrinderState, settings: Settings) -> String {
    let date = |day| figures::date(day, settings.language);
    let due = date(grinder.check_due);
    match state {
        GrinderState::Unchecked | GrinderState::InTrue | GrinderState::NotProven => {
            say!(settings, "The check counts until {due}.", "La verificación vale hasta el {due}.")
        }
        GrinderState::Overdue => say!(
            settings,
            "The check ran out on {due}. Clearance is blocked until it is checked, or a lead overrides.",
            "La verificación venció el {due}. El Permiso está bloqueado hasta verificarla, o hasta que un encargado \
             lo autorice."
        ),
        GrinderState::OutOfTrue => say!(
            settings,
            "Out of true. Clearance is blocked until it is put right and checked, or a lead overrides.",
            "Fuera de paralelismo. El Permiso está bloqueado hasta corregirla y verificarla, o hasta que un encargado \
             lo autorice."
        ),
        GrinderState::Overridden => {
            let (by, why) = grinder.check_override.clone().unwrap_or_default();
            match grinder.override_until.map(date) {
                Some(until) => say!(
                    settings,
                    "{by} lets it be used until {until}: {why}",
                    "{by} autoriza su uso hasta el {until}: {why}"
                ),
                None => say!(settings, "{by} lets it be used: {why}", "{by} autoriza su uso: {why}"),
            }
        }
    }
}

/// A check is open, seen from elsewhere.
pub fn check_open(settings: Settings) -> String {
    say!(
        settings,
        "A check with the master bar is open: finish it under Grinder.",
        "Hay una verificación con barra patrón abierta: termínela en Rectificadora."
    )
}

/// What warns, and what to do about it.
pub fn drift(drift: Drift, settings: Settings) -> String {
    let day = figures::date(drift.date, settings.language);
    match (drift.series, drift.sign) {
        (Series::Closure, Sign::Outside) => say!(
            settings,
            "A closure of {day} lies outside its limits. Look at clamps and rails, then check with the master bar.",
            "Un cierre del {day} está fuera de sus límites. Revise sujeciones y rieles, y verifique con la barra patrón."
        ),
        (Series::Closure, Sign::Run) => say!(
            settings,
            "Eight closures in a row on one side, up to {day}. The bench drifts: check with the master bar.",
            "Ocho cierres seguidos del mismo lado, hasta el {day}. El banco deriva: verifique con la barra patrón."
        ),
        (Series::SpotCheck, Sign::Outside) => say!(
            settings,
            "The spot check of {day} lies outside its limits. Check with the master bar.",
            "El control en mármol del {day} está fuera de sus límites. Verifique con la barra patrón."
        ),
        (Series::SpotCheck, Sign::Run) => say!(
            settings,
            "Eight spot checks in a row on one side, up to {day}. The bench drifts: check with the master bar.",
            "Ocho controles en mármol seguidos del mismo lado, hasta el {day}. El banco deriva: verifique con la barra \
             patrón."
        ),
    }
}

/// Where the touch's repeatability comes from.
pub fn touch_source(source: Source, touch_sd: Length, settings: Settings) -> String {
    let sd = figures::with_unit(touch_sd, LengthKind::Fine, settings);
    match source {
        Source::Assumed => say!(settings, "Touch {sd}, assumed", "Toque {sd}, supuesto"),
        Source::TooFew { closures, needed } => say!(
            settings,
            "Touch {sd}, assumed: {closures} of {needed} closures",
            "Toque {sd}, supuesto: {closures} de {needed} cierres"
        ),
        Source::Hidden { closures } => say!(
            settings,
            "Touch {sd}, assumed: graduations explain all of {closures} closures",
            "Toque {sd}, supuesto: las graduaciones explican los {closures} cierres"
        ),
        Source::Closures { closures, own: true, .. } => say!(
            settings,
            "Touch {sd}, earned from {closures} closures of yours",
            "Toque {sd}, ganado con {closures} cierres suyos"
        ),
        Source::Closures { closures, own: false, .. } => say!(
            settings,
            "Touch {sd}, earned from {closures} closures of this bench",
            "Toque {sd}, ganado con {closures} cierres de este banco"
        ),
        Source::Touches { visits, own: true, .. } => say!(
            settings,
            "Touch {sd}, earned from your repeated touches in {visits} visits",
            "Toque {sd}, ganado con sus toques repetidos en {visits} trabajos"
        ),
        Source::Touches { visits, own: false, .. } => say!(
            settings,
            "Touch {sd}, earned from repeated touches in {visits} visits",
            "Toque {sd}, ganado con toques repetidos en {visits} trabajos"
        ),
    }
}

/// What is charted.
pub fn closures_of(by: &Gathered, operator: &str, tape: &str, count: usize, settings: Settings) -> String {
    match by {
        Gathered::Bench => say!(settings, "Closure, this bench · {count}", "Cierre, este banco · {count}"),
        Gathered::Operator => say!(settings, "Closure, {operator} · {count}", "Cierre, {operator} · {count}"),
        Gathered::Tape => say!(settings, "Closure, {tape} · {count}", "Cierre, {tape} · {count}"),
        Gathered::Unit(tag) => say!(settings, "Closure, {tag} · {count}", "Cierre, {tag} · {count}"),
    }
}

/// The spot checks' title.
pub fn spots_title(count: usize, settings: Settings) -> String {
    say!(settings, "Spot checks on the plate · {count}", "Controles en mármol · {count}")
}

/// What the last spot check was.
pub fn spots_note(last: Option<&SpotCheck>, settings: Settings) -> String {
    let Some(spot) = last else {
        return say!(settings, "None yet.", "Ninguno todavía.");
    };
    let (day, value) =
        (figures::date(spot.date, settings.language), figures::signed_with_unit(spot.reading.length(), settings));
    let unit = &spot.unit;
    say!(settings, "Last {value}, {unit}, {day}", "Último {value}, {unit}, {day}")
}

/// The last spot check shows more than the shop accepts.
pub fn spot_beyond(unit: &str, settings: Settings) -> String {
    say!(
        settings,
        "{unit} shows more than is accepted. Check with the master bar.",
        "{unit} muestra más de lo aceptado. Verifique con la barra patrón."
    )
}

/// The number that a check asks for.
pub fn dial_at_station(place: &str, settings: Settings) -> String {
    say!(settings, "Dial at {place}", "Dial en {place}")
}

/// The number that a spot check asks for.
pub fn spot_field(settings: Settings) -> String {
    say!(settings, "Right less left end", "Derecho menos izquierdo")
}

/// Why an event of the grinder's health was not taken.
pub fn check_refusal(refusal: &CheckRefusal, settings: Settings) -> String {
    match refusal {
        CheckRefusal::NoOperator => say!(settings, "Scan your badge.", "Escanee su credencial."),
        CheckRefusal::NotTrained { name } => say!(
            settings,
            "{name} is not recorded as trained to grind. Ask a lead.",
            "{name} no figura como capacitado para rectificar. Consulte al encargado."
        ),
        CheckRefusal::NotALead { name } => say!(
            settings,
            "{name} is not a lead. Only a lead overrides, with a reason.",
            "{name} no es encargado. Solo un encargado autoriza, con un motivo."
        ),
        CheckRefusal::NoReason => say!(settings, "Choose a reason.", "Elija un motivo."),
        CheckRefusal::NothingToOverride => {
            say!(settings, "Nothing is to be overridden.", "No hay nada que autorizar.")
        }
        CheckRefusal::NotHere => {
            say!(settings, "That does not belong here.", "Eso no corresponde aquí.")
        }
        CheckRefusal::IsolationNeeded => say!(
            settings,
            "Hands go in now: switch off, isolate and try, then hold to acknowledge.",
            "Va a meter las manos: apague, aísle y pruebe; después mantenga pulsado para confirmar."
        ),
        CheckRefusal::HeldTooShort { .. } => say!(
            settings,
            "Held too short. Keep it held until the ring is full.",
            "Muy breve. Mantenga pulsado hasta que se llene el anillo."
        ),
        CheckRefusal::OutOfRange { reading, least, most } => {
            let value = figures::reading_with_unit(*reading, LengthKind::Fine, settings);
            let (least, most) = (
                figures::signed_with_unit(least.length(), settings),
                figures::signed_with_unit(most.length(), settings),
            );
            say!(
                settings,
                "{value} cannot be right here. Between {least} and {most} is taken.",
                "{value} no puede ser correcto aquí. Se acepta entre {least} y {most}."
            )
        }
        CheckRefusal::StationOpen { station } => {
            say!(settings, "Read station {station} first.", "Lea primero la estación {station}.")
        }
        CheckRefusal::NotTurned => {
            say!(settings, "Turn the bar end for end first.", "Dé vuelta primero la barra.")
        }
        CheckRefusal::RailsTaken { tag } => say!(
            settings,
            "{tag} is on the rails. Pause its visit first: the bar needs them.",
            "{tag} está sobre los rieles. Ponga su trabajo en pausa: la barra los necesita."
        ),
        CheckRefusal::CheckOpen => say!(
            settings,
            "The master bar is on the rails. Finish or end the check under Grinder first.",
            "La barra patrón está sobre los rieles. Termine o anule primero la verificación en Rectificadora."
        ),
        CheckRefusal::Calculation(_) => say!(
            settings,
            "These readings cannot be computed with. Take them again.",
            "Con estas lecturas no se puede calcular. Tómelas otra vez."
        ),
    }
}

/// A check is over.
pub fn checked(is_true: bool, due: jiff::civil::Date, settings: Settings) -> String {
    let due = figures::date(due, settings.language);
    if is_true {
        say!(settings, "Checked: true. Next check by {due}.", "Verificada: en regla. Próxima verificación: {due}.")
    } else {
        say!(
            settings,
            "Checked: out of true. Clearance is blocked; a lead can override.",
            "Verificada: fuera de paralelismo. El Permiso queda bloqueado; un encargado puede autorizar."
        )
    }
}

/// A lead let it be used.
pub fn overridden(by: &str, until: jiff::civil::Date, settings: Settings) -> String {
    let until = figures::date(until, settings.language);
    say!(settings, "Overridden by {by}, until {until}.", "Autorizado por {by}, hasta el {until}.")
}

/// A spot check was kept.
pub fn spot_kept(unit: &str, within: bool, settings: Settings) -> String {
    if within {
        return say!(settings, "Spot check of {unit} kept.", "Control en mármol de {unit} guardado.");
    }
    spot_beyond(unit, settings)
}
