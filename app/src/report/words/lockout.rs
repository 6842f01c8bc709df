//! Lockouts, as sentences.

use super::grinder::held;
use super::say;
use sparkout_core::lockout::{LockoutEvent, Lockouts};
use sparkout_ui::screen::Language;

/// What happened to a lock, with whose it is.
pub(in crate::report) fn lockout(event: &LockoutEvent, before: &Lockouts, language: Language) -> String {
    let (number, owner) = before.open().map_or_else(
        || ("–".to_owned(), "–".to_owned()),
        |open| (open.padlock().number.clone(), open.padlock().by.clone()),
    );
    match event {
        LockoutEvent::LockApplied { to, lock, held_ms } => {
            let held = held(*held_ms, language);
            say!(
                language,
                "Lockout: own lock {lock} and tag put on {to} ({held}).",
                "Bloqueo: candado propio {lock} y tarjeta puestos en {to} ({held})."
            )
        }
        LockoutEvent::LockTried { held_ms } => {
            let held = held(*held_ms, language);
            say!(
                language,
                "Lockout: tried under lock {number}, nothing moved ({held}).",
                "Bloqueo: probado con el candado {number}, nada se movió ({held})."
            )
        }
        LockoutEvent::ProvedDead { held_ms } => {
            let held = held(*held_ms, language);
            say!(
                language,
                "Lockout: proved dead under lock {number} ({held}).",
                "Bloqueo: comprobado sin energía con el candado {number} ({held})."
            )
        }
        LockoutEvent::LockReleased { held_ms } => {
            let held = held(*held_ms, language);
            say!(
                language,
                "Lockout: lock {number} taken off by its owner ({held}).",
                "Bloqueo: candado {number} retirado por su dueño ({held})."
            )
        }
        LockoutEvent::ForceReleased { reason, attempts, held_ms } => {
            let (attempts, held) = (attempts.join("; "), held(*held_ms, language));
            say!(
                language,
                "Lockout: a lead took off lock {number} of {owner} BY EXCEPTION ({held}). Reason: {reason}. Before that: \
                 {attempts}. {owner} is to be told before starting work again.",
                "Bloqueo: un encargado retiró POR EXCEPCIÓN el candado {number} de {owner} ({held}). Motivo: {reason}. \
                 Antes: {attempts}. {owner} debe ser informado antes de volver a trabajar."
            )
        }
        LockoutEvent::OwnerTold { held_ms } => {
            let held = held(*held_ms, language);
            say!(
                language,
                "Lockout: the owner was told that the lock had been taken off ({held}).",
                "Bloqueo: se informó al dueño que su candado había sido retirado ({held})."
            )
        }
    }
}
