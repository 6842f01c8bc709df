//! What stands between a checklist and a clearance.

use super::say;
use crate::present::figures;
use crate::screen::Settings;
use sparkout_core::visit::gate::Block;

/// A block as one sentence that says what to do.
pub fn block(block: &Block, settings: Settings) -> String {
    match block {
        Block::NoOperator => say!(settings, "Scan your badge.", "Escanee su credencial."),
        Block::NotTrained { name } => say!(
            settings,
            "{name} is not recorded as trained to grind. Ask a lead.",
            "{name} no figura como capacitado para rectificar. Consulte al encargado.",
        ),
        Block::NoWheel => say!(
            settings,
            "No wheel is on record for this grinder. Record the mounted wheel.",
            "No hay piedra registrada en esta rectificadora. Registre la piedra montada.",
        ),
        Block::NotLookedOver => say!(
            settings,
            "You have not looked the wheel over in this shift. Do it at Grinder, Wheel, under your own lockout.",
            "Usted no revisó la piedra en este turno. Hágalo en Rectificadora, Piedra, con su propio bloqueo.",
        ),
        Block::OwnerNotTold { lock, by } => say!(
            settings,
            "{by} took your lock {lock} off. Read at Lockout what was done, before you start anything.",
            "{by} retiró su candado {lock}. Lea en Bloqueo qué se hizo antes de poner nada en marcha.",
        ),
        Block::NotInspected => say!(
            settings,
            "The wheel's inspection before mounting is not recorded. Take it off under lockout, inspect it, mount it anew.",
            "Falta registrar la inspección antes del montaje. Desmonte la piedra con bloqueo, inspecciónela y móntela.",
        ),
        Block::NoRingTest => say!(
            settings,
            "The wheel's ring test before mounting is not recorded. Take it off under lockout, ring it, mount it anew.",
            "Falta registrar la prueba de sonido antes del montaje. Desmonte con bloqueo, pruebe la piedra y móntela.",
        ),
        Block::NoRatedSpeed => say!(
            settings,
            "The speed marked on the wheel is not recorded. Mount it anew under lockout, and read it off.",
            "Falta registrar la velocidad marcada en la piedra. Móntela de nuevo con bloqueo y léala.",
        ),
        Block::Overspeed { spindle, rated } => {
            let (spindle, rated) = (figures::grouped(spindle.rpm()), figures::grouped(rated.rpm()));
            say!(
                settings,
                "The spindle turns {spindle} rpm, the wheel is rated {rated}. Mount a wheel rated for it.",
                "El husillo gira a {spindle} rpm y la piedra admite {rated}. Monte una piedra adecuada.",
            )
        }
        Block::CheckOverdue { due } => {
            let due = figures::date(*due, settings);
            say!(
                settings,
                "The grinder's check ran out on {due}. Check it, or ask a lead.",
                "La verificación de la rectificadora venció el {due}. Verifíquela o consulte al encargado.",
            )
        }
        Block::OutOfTrue { checked } => {
            let checked = figures::date(*checked, settings.language);
            say!(
                settings,
                "The grinder was found out of true on {checked}. Have it put right, or ask a lead.",
                "La rectificadora quedó fuera de paralelismo el {checked}. Hágala corregir o consulte al encargado.",
            )
        }
        Block::LockedOut { lock, by } => say!(
            settings,
            "Lock {lock} of {by} is on the grinder. Only {by} takes it off.",
            "El candado {lock} de {by} está puesto. Solo {by} lo retira.",
        ),
        Block::GuardOpen => say!(
            settings,
            "The guard switch says open. Close the guard. This screen only reads it; it stops nothing.",
            "El interruptor de la guarda indica abierta. Cierre la guarda. Esta pantalla solo lo lee; no detiene nada.",
        ),
        Block::StopPressed => say!(
            settings,
            "The stop is pressed. Find out why before it is released. This screen only reads it; it stops nothing.",
            "El paro está oprimido. Averigüe por qué antes de soltarlo. Esta pantalla solo lo lee; no detiene nada.",
        ),
        Block::InputsStale => say!(
            settings,
            "The guard and stop switches do not answer. Look at them yourself; have the input module checked.",
            "Los interruptores de guarda y paro no responden. Mírelos usted; haga revisar el módulo de entradas.",
        ),
        Block::InputsLost => say!(
            settings,
            "No link to the guard and stop switches. Look at them yourself; have module and cable checked.",
            "Sin enlace con los interruptores de guarda y paro. Mírelos usted; haga revisar módulo y cable.",
        ),
    }
}

/// The rule behind an item, and that it is not the only one.
pub fn reference(rule: &str, settings: Settings) -> String {
    if rule.is_empty() {
        return say!(
            settings,
            "Local code and the makers may ask more",
            "La norma local y los fabricantes pueden pedir más",
        );
    }
    say!(
        settings,
        "{rule} · local code and the makers may ask more",
        "{rule} · la norma local y los fabricantes pueden pedir más",
    )
}
