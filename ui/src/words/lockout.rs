//! The lockout in words: whose lock is on, what was refused, why and how a lead takes another person's lock off.

use super::say;
use crate::screen::Settings;
use sparkout_core::lockout::{ForcedRelease, Lockout, LockoutRefusal};

/// The lock that is on, as Home tells it.
pub fn lock_on(lockout: &Lockout, settings: Settings) -> String {
    let padlock = lockout.padlock();
    let (number, by, to) = (&padlock.number, &padlock.by, &padlock.to);
    match lockout {
        Lockout::Applied(_) => say!(
            settings,
            "Lock {number} of {by} is on: {to}. It was not tried yet.",
            "Candado {number} de {by} puesto: {to}. Todavía no se probó.",
        ),
        Lockout::Tried(_) => say!(
            settings,
            "Lock {number} of {by} is on: {to}. Tried, not proved dead yet.",
            "Candado {number} de {by} puesto: {to}. Probado; falta comprobar que esté sin energía.",
        ),
        Lockout::Dead(_) => say!(
            settings,
            "Lock {number} of {by} is on: {to}. Tried and proved dead. Only {by} takes it off.",
            "Candado {number} de {by} puesto: {to}. Probado y sin energía. Solo {by} lo retira.",
        ),
    }
}

/// What the owner of a lock is told that a lead took off.
pub fn lock_was_taken_off(release: &ForcedRelease, settings: Settings) -> String {
    let (by, reason, attempts) = (&release.by, &release.reason, release.attempts.join("; "));
    let to = &release.padlock.to;
    say!(
        settings,
        "{by} took it off {to}. Reason: {reason}. Before that: {attempts}. What you left in the machine may have been \
         moved, and power may be on.",
        "{by} lo retiró de {to}. Motivo: {reason}. Antes: {attempts}. Lo que usted dejó en la máquina puede haberse \
         movido, y puede haber energía.",
    )
}

/// Why an event of the lockout was not taken.
pub fn lockout_refusal(refusal: &LockoutRefusal, settings: Settings) -> String {
    match refusal {
        LockoutRefusal::NoOperator => say!(settings, "Scan your badge.", "Escanee su credencial."),
        LockoutRefusal::NotTrained { name } => say!(
            settings,
            "{name} is not recorded as trained to grind. Ask a lead.",
            "{name} no figura como capacitado para rectificar. Consulte al encargado.",
        ),
        LockoutRefusal::HeldTooShort { .. } => say!(
            settings,
            "Held too short. Keep it held until the ring is full.",
            "Muy breve. Mantenga pulsado hasta que se llene el anillo.",
        ),
        LockoutRefusal::AlreadyOn { lock, by } => say!(
            settings,
            "Lock {lock} of {by} is on already. Hang yours beside it, and wait with the entry until {by} has taken it off.",
            "El candado {lock} de {by} ya está puesto. Cuelgue el suyo al lado y anótelo cuando {by} lo haya retirado.",
        ),
        LockoutRefusal::NoLock => say!(
            settings,
            "No lock is on record. Hang your own, then write it down.",
            "No hay ningún candado anotado. Cuelgue el suyo y después anótelo.",
        ),
        LockoutRefusal::Number { most, .. } => say!(
            settings,
            "Enter the number on the lock: 1 to {most} letters or figures.",
            "Ingrese el número del candado: de 1 a {most} letras o cifras.",
        ),
        LockoutRefusal::NothingNamed => {
            say!(settings, "Say what the lock is on.", "Diga en qué está puesto el candado.")
        }
        LockoutRefusal::OutOfTurn => say!(
            settings,
            "Hang the lock, try it, prove it dead: in this order.",
            "Ponga el candado, pruebe y compruebe que no hay energía: en ese orden.",
        ),
        LockoutRefusal::NotTheOwner { lock, by } => say!(
            settings,
            "Lock {lock} is {by}’s: only {by} goes on with it and takes it off. Where {by} cannot be found, a lead \
             releases it by exception.",
            "El candado {lock} es de {by}: solo {by} sigue y lo retira. Si {by} no aparece, un encargado lo libera por \
             excepción.",
        ),
        LockoutRefusal::NotALead { name } => say!(
            settings,
            "{name} is not a lead. Only a lead takes another person’s lock off.",
            "{name} no es encargado. Solo un encargado retira el candado de otra persona.",
        ),
        LockoutRefusal::OwnLock => say!(
            settings,
            "It is your own lock: take it off, and hold “My lock is off”.",
            "Es su propio candado: retírelo y mantenga «Retiré mi candado».",
        ),
        LockoutRefusal::NotAccountedFor { .. } => say!(
            settings,
            "Say why, how the owner was looked for, and how you tried to reach them.",
            "Diga el motivo, cómo se buscó al dueño y cómo se intentó avisarle.",
        ),
        LockoutRefusal::NothingToTell => say!(settings, "Nothing is to be told.", "No hay nada que informar."),
    }
}
