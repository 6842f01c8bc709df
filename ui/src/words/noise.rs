//! How loud the day was for who stands at the bench, as far as it is known.

use super::say;
use crate::present::figures;
use crate::screen::Settings;
use sparkout_core::exposure::{NoiseToday, WARNED_FROM_PERCENT};

/// The noise of the day, in one sentence that calls itself an estimate. Where no level is entered it says that, and no
/// number.
pub fn noise(noise: &NoiseToday, settings: Settings) -> String {
    let NoiseToday::Estimated { dose, ms } = noise else {
        return say!(
            settings,
            "Noise is not estimated: no sound level is entered.",
            "El ruido no se estima: no hay nivel sonoro cargado.",
        );
    };
    let percent = figures::number(dose.dose_percent.value(), 0, settings);
    let minutes = ms / 60_000;
    if dose.over_limit {
        return say!(
            settings,
            "Noise today {percent} %, above what a day allows (estimate). Stop grinding for today; tell a lead.",
            "Ruido hoy {percent} %, más de lo permitido en un día (estimado). No rectifique más hoy; avise al encargado.",
        );
    }
    if dose.action_level {
        return say!(
            settings,
            "Noise today {percent} %, at the action level of 50 % (estimate). Ears covered; tell a lead.",
            "Ruido hoy {percent} %, en el nivel de acción del 50 % (estimado). Oídos protegidos; avise al encargado.",
        );
    }
    if dose.dose_percent.value() >= WARNED_FROM_PERCENT {
        return say!(
            settings,
            "Noise today {percent} %, near the action level of 50 % (estimate). Ears covered; change hands in time.",
            "Ruido hoy {percent} %, cerca del nivel de acción del 50 % (estimado). Oídos protegidos; túrnese a tiempo.",
        );
    }
    say!(
        settings,
        "Noise today {percent} % of a day's dose (estimate, {minutes} min ground).",
        "Ruido hoy {percent} % de la dosis diaria (estimado, {minutes} min de rectificado).",
    )
}

/// The same in the few words that fit under a figure.
pub fn noise_short(noise: &NoiseToday, settings: Settings) -> String {
    let NoiseToday::Estimated { dose, .. } = noise else {
        return say!(settings, "noise not estimated", "ruido sin estimar");
    };
    let percent = figures::number(dose.dose_percent.value(), 0, settings);
    if dose.over_limit {
        return say!(settings, "est. noise {percent} %: stop", "ruido est. {percent} %: pare");
    }
    if dose.action_level {
        return say!(settings, "est. noise {percent} %: over 50", "ruido est. {percent} %: pasó 50");
    }
    if dose.dose_percent.value() >= WARNED_FROM_PERCENT {
        return say!(settings, "est. noise {percent} %: near 50", "ruido est. {percent} %: casi 50");
    }
    say!(settings, "noise {percent} % (estimate)", "ruido {percent} % (estimado)")
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::screen::Language;
    use sparkout_core::exposure::noise_today;
    use sparkout_core::quantity::Ratio;

    /// 29 CFR 1910.95, Table G-16: 100 dBA may last two hours; (c): the action level is half the dose.
    #[test]
    fn it_warns_before_the_action_level_and_always_says_estimate() {
        let told = |minutes: u64, language| {
            let noise_now = noise_today(Some(Ratio::from_value(100.0)), minutes * 60_000).unwrap();
            noise(&noise_now, Settings { language, ..Settings::default() })
        };
        let english = |minutes| told(minutes, Language::English);
        for (minutes, part) in [
            (0, "Noise today 0 % of a day's dose"),
            (47, "Noise today 39 % of a day's dose"),
            (48, "near the action level"),
            (59, "Noise today 49 %, near"),
            (60, "at the action level"),
            (120, "Noise today 100 %, at the action level"),
            (121, "above what a day allows"),
        ] {
            assert!(english(minutes).contains(part), "{minutes}: {}", english(minutes));
            assert!(english(minutes).contains("estimate"));
            assert!(told(minutes, Language::Spanish).contains("estimado"));
        }
    }

    #[test]
    fn in_few_words_it_says_the_same() {
        for (minutes, part) in [
            (0, "noise 0 % (estimate)"),
            (48, "est. noise 40 %: near 50"),
            (60, "est. noise 50 %: over 50"),
            (121, "est. noise 101 %: stop"),
        ] {
            let noise_now = noise_today(Some(Ratio::from_value(100.0)), minutes * 60_000).unwrap();
            assert_eq!(noise_short(&noise_now, Settings::default()), part);
        }
    }

    #[test]
    fn no_level_is_said_without_a_number() {
        for language in [Language::English, Language::Spanish] {
            let settings = Settings { language, ..Settings::default() };
            for text in [noise(&NoiseToday::NoLevel, settings), noise_short(&NoiseToday::NoLevel, settings)] {
                assert!(!text.contains(|letter: char| letter.is_ascii_digit()), "{text}");
            }
        }
    }
}
