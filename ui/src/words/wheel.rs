//! The wheel's record in words.

use super::say;
use crate::present::figures;
use crate::screen::Settings;
use sparkout_core::reading::LengthKind;
use sparkout_core::record::RingTest;
use sparkout_core::wheel::{PastWheel, SmallestBy, WheelRefusal};

/// What stands in a line of the wheel's record.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "the words below say it")]
pub enum WheelLine {
    Mounted,
    Inspected,
    RingTest,
    LookedOver,
    Measured,
}

/// A line's name.
pub fn wheel_line(line: WheelLine, settings: Settings) -> String {
    match line {
        WheelLine::Mounted => say!(settings, "Mounted", "Montada"),
        WheelLine::Inspected => say!(settings, "Inspected before mounting", "Inspeccionada antes de montar"),
        WheelLine::RingTest => say!(settings, "Ring test before mounting", "Prueba de sonido antes de montar"),
        WheelLine::LookedOver => say!(settings, "Looked over", "Revisada"),
        WheelLine::Measured => say!(settings, "Measured since", "Medida después"),
    }
}

/// A wheel whose mounting was written down before descriptions were.
pub fn wheel_undescribed(settings: Settings) -> String {
    say!(settings, "Mounted before descriptions were kept", "Montada antes de que se anotaran descripciones")
}

/// The diameter when it was mounted.
pub fn wheel_mounted_at(diameter: &str, settings: Settings) -> String {
    say!(settings, "mounted at {diameter}", "montada con {diameter}")
}

/// What sets the smallest useful diameter.
pub fn smallest_by(by: SmallestBy, settings: Settings) -> String {
    match by {
        SmallestBy::Speed => say!(settings, "below it the surface is too slow", "menos: superficie demasiado lenta"),
        SmallestBy::Flanges => {
            say!(settings, "flanges and guard fit no smaller one", "bridas y guarda no admiten menos")
        }
    }
}

/// Whether it was inspected before mounting.
pub fn wheel_inspected(inspected: bool, settings: Settings) -> String {
    if inspected {
        say!(settings, "no chip, no crack", "sin astillas ni grietas")
    } else {
        say!(settings, "not inspected", "sin inspeccionar")
    }
}

/// How it rang before mounting.
pub fn ring_test(ring: &RingTest, settings: Settings) -> String {
    match ring {
        RingTest::Missing => say!(settings, "not tested", "sin probar"),
        RingTest::Clear => say!(settings, "rang clear", "sonó limpia"),
        RingTest::NotApplicable(kind) => say!(settings, "does not apply: {kind}", "no aplica: {kind}"),
    }
}

/// A wheel that is off the spindle, in one line.
pub fn past_wheel(past: &PastWheel, settings: Settings) -> String {
    let what = past.wheel.mounted.as_ref().map_or_else(|| past.wheel.mounting.clone(), |on| on.description.clone());
    let (day, by) = (figures::date(past.off, settings), &past.by);
    match &past.scrapped {
        Some(why) => say!(settings, "{what}: scrapped {day}, {by}, {why}", "{what}: descartada {day}, {by}, {why}"),
        None => say!(settings, "{what}: taken off {day}, {by}", "{what}: desmontada {day}, {by}"),
    }
}

/// Why an event of the wheel's record was not taken.
pub fn wheel_refusal(refusal: &WheelRefusal, settings: Settings) -> String {
    match refusal {
        WheelRefusal::NoOperator => say!(settings, "Scan your badge.", "Escanee su credencial."),
        WheelRefusal::NotTrained { name } => say!(
            settings,
            "{name} is not recorded as trained to grind. Ask a lead.",
            "{name} no figura como capacitado para rectificar. Consulte al encargado.",
        ),
        WheelRefusal::HeldTooShort { .. } => say!(
            settings,
            "Held too short. Keep it held until the ring is full.",
            "Muy breve. Mantenga pulsado hasta que se llene el anillo.",
        ),
        WheelRefusal::LockoutNeeded => say!(
            settings,
            "No hand on the wheel before your own lock is on, tried and proved dead. Open Lockout.",
            "No toque la piedra antes de poner su propio candado, probar y comprobar. Abra Bloqueo.",
        ),
        WheelRefusal::LockOfAnother { lock, by } => say!(
            settings,
            "Lock {lock} is {by}’s. No hand on the wheel under another person’s lock.",
            "El candado {lock} es de {by}. No toque la piedra bajo el candado de otra persona.",
        ),
        WheelRefusal::NoWheel => {
            say!(settings, "No wheel is on record. Mount one.", "No hay piedra registrada. Monte una.")
        }
        WheelRefusal::Grown { measured, before } => {
            let shown = |value| figures::reading_with_unit(value, LengthKind::Size, settings);
            let (measured, before) = (shown(*measured), shown(*before));
            say!(
                settings,
                "{measured} is more than the {before} on record, and a wheel does not grow. Measure again.",
                "{measured} es más que los {before} del registro, y una piedra no crece. Mida otra vez.",
            )
        }
        WheelRefusal::Description { most, .. } => {
            say!(settings, "Describe the wheel in 1 to {most} letters.", "Describa la piedra con 1 a {most} letras.",)
        }
        WheelRefusal::RangDull => say!(
            settings,
            "A wheel that rings dull is cracked: do not mount it. Mark it and scrap it.",
            "Una piedra que suena apagada está rajada: no la monte. Márquela y descártela.",
        ),
        WheelRefusal::Overspeed { spindle, rated } => {
            let (spindle, rated) = (figures::grouped(spindle.rpm()), figures::grouped(rated.rpm()));
            say!(
                settings,
                "The spindle turns {spindle} rpm, this wheel is rated {rated}. Do not mount it.",
                "El husillo gira a {spindle} rpm y esta piedra admite {rated}. No la monte.",
            )
        }
        WheelRefusal::NoReason { .. } => say!(settings, "Choose a reason.", "Elija un motivo."),
        WheelRefusal::Calculation(_) => say!(
            settings,
            "No wheel has such numbers. Read them off the wheel again.",
            "Ninguna piedra tiene esos números. Léalos otra vez en la piedra.",
        ),
    }
}
