//! What the guard's and the stop's switches say, as the strip shows it.

use sparkout_core::facts::{GuardInput, StopInput};
use sparkout_core::inputs::Switches;
use sparkout_core::visit::gate::Block;

/// The one thing about the switches that a person must know.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum SwitchState {
    /// No switch is read at this bench.
    #[default]
    NotRead,
    /// The guard is closed, and the stop, where it is read, is released.
    GuardClosed,
    /// Only the stop is read, and it is released.
    StopReleased,
    /// The guard is open.
    GuardOpen,
    /// The stop is pressed.
    StopPressed,
    /// They have not answered for too long, or not for long enough again.
    Stale,
    /// There is no connection to them.
    Lost,
    /// Only the stop is read, and it has not answered for too long, or not for long enough again.
    StopStale,
    /// Only the stop is read, and there is no connection to it.
    StopLost,
}

impl SwitchState {
    /// Of both switches.
    pub fn of(switches: Switches) -> Self {
        let stop_alone = switches.guard == GuardInput::NotFitted;
        match switches.fault() {
            Some(Block::StopPressed) => Self::StopPressed,
            Some(Block::InputsStale) if stop_alone => Self::StopStale,
            Some(Block::InputsLost) if stop_alone => Self::StopLost,
            Some(Block::InputsStale) => Self::Stale,
            Some(Block::InputsLost) => Self::Lost,
            Some(_) => Self::GuardOpen,
            None => match (switches.guard, switches.stop) {
                (GuardInput::NotFitted, StopInput::NotFitted) => Self::NotRead,
                (GuardInput::NotFitted, _) => Self::StopReleased,
                _ => Self::GuardClosed,
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Guard | stop | what the strip shows.
    #[test]
    fn the_strip_shows_what_a_person_must_know() {
        use GuardInput as Guard;
        use StopInput as Stop;
        let table = [
            (Guard::NotFitted, Stop::NotFitted, SwitchState::NotRead),
            (Guard::Closed, Stop::NotFitted, SwitchState::GuardClosed),
            (Guard::Closed, Stop::Released, SwitchState::GuardClosed),
            (Guard::NotFitted, Stop::Released, SwitchState::StopReleased),
            (Guard::Open, Stop::Pressed, SwitchState::GuardOpen),
            (Guard::Open, Stop::Released, SwitchState::GuardOpen),
            (Guard::Closed, Stop::Pressed, SwitchState::StopPressed),
            (Guard::Stale, Stop::Pressed, SwitchState::StopPressed),
            (Guard::Stale, Stop::Stale, SwitchState::Stale),
            (Guard::Closed, Stop::Stale, SwitchState::Stale),
            (Guard::Lost, Stop::Lost, SwitchState::Lost),
            (Guard::NotFitted, Stop::Stale, SwitchState::StopStale),
            (Guard::NotFitted, Stop::Lost, SwitchState::StopLost),
        ];
        for (guard, stop, shown) in table {
            assert_eq!(SwitchState::of(Switches { guard, stop }), shown, "{guard:?}, {stop:?}");
        }
    }
}
