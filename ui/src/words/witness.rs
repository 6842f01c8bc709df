//! What the head kept elsewhere says about this journal. Each way of not fitting has its own words, because each has
//! its own cause, and none of them says whose fault it is.

use super::say;
use crate::screen::Settings;
use sparkout_core::journal::witness::Alarm;

/// How the journal stands with the head kept elsewhere.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Witness {
    /// No such place is configured.
    #[default]
    None,
    /// It has not answered yet.
    Asked,
    /// It vouches for the entries up to this one.
    Vouched(u64),
    /// It is not in its place.
    Away,
    /// What it keeps does not go with this journal.
    Alarm(Alarm),
}

/// Whether it is something to act on; a card that is not in its place is told and is no alarm.
pub const fn is_alarm(witness: &Witness) -> bool {
    matches!(witness, Witness::Alarm(_))
}

/// How it stands, as one sentence; nothing where no place is configured.
pub fn witness(witness: &Witness, settings: Settings) -> String {
    match witness {
        Witness::None => String::new(),
        Witness::Asked => {
            say!(settings, "The second card has not answered yet.", "La segunda tarjeta aún no responde.")
        }
        Witness::Vouched(size) => say!(
            settings,
            "The second card keeps the record’s head: entries 1 to {size}.",
            "La segunda tarjeta guarda la cabecera del registro: asientos 1 a {size}.",
        ),
        Witness::Away => say!(
            settings,
            "The second card is not in its place: the record’s head is kept here only. Put it back when you can.",
            "La segunda tarjeta no está en su lugar: la cabecera solo se guarda aquí. Vuelva a ponerla cuando pueda.",
        ),
        Witness::Alarm(found) => alarm(found, settings),
    }
}

/// What does not fit, and what to do.
pub fn alarm(alarm: &Alarm, settings: Settings) -> String {
    match alarm {
        Alarm::Cut { vouched, size } => say!(
            settings,
            "The record is shorter than the second card knows it: {vouched} entries there, {size} here. Tell a lead.",
            "El registro es más corto que en la segunda tarjeta: {vouched} asientos allí, {size} aquí. Avise al \
             encargado.",
        ),
        Alarm::Forked { size } => say!(
            settings,
            "The record has {size} entries, as the second card knows it, but not the same ones. Tell a lead.",
            "El registro tiene {size} asientos, como en la segunda tarjeta, pero no los mismos. Avise al encargado.",
        ),
        Alarm::Rewritten { vouched, size: _ } => say!(
            settings,
            "The record’s first {vouched} entries are not those that the second card knows. Tell a lead.",
            "Los primeros {vouched} asientos no son los que conoce la segunda tarjeta. Avise al encargado.",
        ),
        Alarm::NotSigned => say!(
            settings,
            "What the second card keeps is not signed by this station. Leave it as it is, and tell a lead.",
            "Lo que guarda la segunda tarjeta no lo firmó esta estación. Déjelo como está y avise al encargado.",
        ),
        Alarm::OtherLog { .. } => say!(
            settings,
            "The second card keeps the head of another record than this one. Leave it as it is, and tell a lead.",
            "La segunda tarjeta guarda la cabecera de otro registro. Déjela como está y avise al encargado.",
        ),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::screen::Language;
    use std::collections::BTreeSet;

    #[test]
    fn each_alarm_has_its_own_words_in_both_languages() {
        let log = || "log".to_owned();
        let alarms = [
            Alarm::Cut { vouched: 9, size: 5 },
            Alarm::Forked { size: 9 },
            Alarm::Rewritten { vouched: 9, size: 12 },
            Alarm::NotSigned,
            Alarm::OtherLog { kept: log(), offered: log() },
        ];
        let all: BTreeSet<String> = [Language::English, Language::Spanish]
            .into_iter()
            .flat_map(|language| {
                alarms.iter().map(move |found| alarm(found, Settings { language, ..Settings::default() }))
            })
            .collect();
        assert_eq!(all.len(), 2 * alarms.len());
        assert!(all.iter().all(|text| text.contains("lead") || text.contains("encargado")), "{all:?}");
    }
}
