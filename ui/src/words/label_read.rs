//! What a scanned label says, and why one cannot be used.

use super::say;
use crate::present::figures;
use crate::screen::Settings;
use jiff::civil::Date;
use sparkout_core::label::{LabelRefusal, LabelVerdict};

/// The day, what was found, and who vouches for it, as the middle of a sentence.
pub(super) fn says(date: Date, verdict: LabelVerdict, signed_by: Option<&str>, settings: Settings) -> String {
    let (day, found) = (figures::date(date, settings), found(verdict, settings));
    match signed_by {
        Some(bench) => say!(settings, "{found} on {day}, signed by {bench}", "{found} el {day}, firmada por {bench}",),
        None => say!(
            settings,
            "{found} on {day}; nobody signed it, so anybody may have written it",
            "{found} el {day}; nadie la firmó, así que cualquiera pudo escribirla",
        ),
    }
}

fn found(verdict: LabelVerdict, settings: Settings) -> String {
    match verdict {
        LabelVerdict::Proven => say!(settings, "proven", "comprobada"),
        LabelVerdict::WithinNotProven => say!(settings, "within tolerance, not proven", "en tolerancia, sin comprobar"),
        LabelVerdict::Done => say!(settings, "work done", "trabajo hecho"),
        LabelVerdict::Fit => say!(settings, "checked, nothing due", "revisada, nada pendiente"),
        LabelVerdict::Due => say!(settings, "checked, work due", "revisada, requiere trabajo"),
    }
}

/// Why a label cannot be used, as the middle of a sentence: damage, alteration and other formats told apart.
pub(super) fn why_not(refusal: &LabelRefusal, settings: Settings) -> String {
    match refusal {
        LabelRefusal::NotALabel => say!(settings, "it is no label of ours", "no es una etiqueta nuestra"),
        LabelRefusal::Damaged => say!(
            settings,
            "its code is damaged or was read incompletely; scan again or print it again",
            "su código está dañado o se leyó incompleto; escanee de nuevo o imprímala otra vez",
        ),
        LabelRefusal::Altered => say!(
            settings,
            "what it says was altered after it was written; tell a lead and print a new one",
            "lo que dice fue alterado después de escribirla; avise al encargado e imprima otra",
        ),
        LabelRefusal::OtherFormat { found, known } if found < known => say!(
            settings,
            "it has the old format {found} and this kiosk reads {known}; print it again",
            "tiene el formato antiguo {found} y este equipo lee el {known}; imprímala otra vez",
        ),
        LabelRefusal::OtherFormat { found, known } => say!(
            settings,
            "it has the newer format {found} and this kiosk reads {known}; this kiosk needs its update",
            "tiene el formato más nuevo {found} y este equipo lee el {known}; hay que actualizar este equipo",
        ),
        LabelRefusal::OtherSeal { kind } => say!(
            settings,
            "it is sealed in a way ({kind}) that this kiosk cannot check; this kiosk needs its update",
            "está sellada de un modo ({kind}) que este equipo no puede comprobar; hay que actualizar este equipo",
        ),
        LabelRefusal::Content(_) => say!(
            settings,
            "it holds what no label of ours says; tell a lead",
            "contiene lo que ninguna etiqueta nuestra dice; avise al encargado",
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screen::Language;

    #[test]
    fn each_way_of_not_being_usable_has_words_of_its_own() {
        let refusals = [
            LabelRefusal::NotALabel,
            LabelRefusal::Damaged,
            LabelRefusal::Altered,
            LabelRefusal::OtherFormat { found: 0, known: 1 },
            LabelRefusal::OtherFormat { found: 2, known: 1 },
            LabelRefusal::OtherSeal { kind: 9 },
        ];
        for language in [Language::English, Language::Spanish] {
            let settings = Settings { language, ..Settings::default() };
            let mut told: Vec<String> = refusals.iter().map(|refusal| why_not(refusal, settings)).collect();
            told.dedup();
            assert_eq!(told.len(), refusals.len(), "{told:?}");
        }
    }

    #[test]
    fn who_signed_is_told_and_that_nobody_did() {
        let day = jiff::civil::date(2026, 11, 25);
        let told = |by| says(day, LabelVerdict::Proven, by, Settings::default());
        assert!(told(Some("Bench A")).ends_with("signed by Bench A"), "{}", told(Some("Bench A")));
        assert!(told(None).contains("nobody signed"), "{}", told(None));
    }
}
