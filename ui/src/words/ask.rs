//! Questions that must be answered before a visit goes on.

use super::{place_name, say, shown};
use crate::present::figures;
use crate::screen::{Answer as ShownAnswer, Question as ShownQuestion, Settings};
use sparkout_core::reading::{LengthKind, Reading};
use sparkout_core::visit::event::{Answer, Place, Question};

/// A question with its answers, in the person's language.
pub fn question(asked: &Question, settings: Settings) -> ShownQuestion {
    let answers = asked
        .answers()
        .iter()
        .map(|answer| ShownAnswer { name: answer_name(*answer, asked), label: answer_label(*answer, asked, settings) })
        .collect();
    ShownQuestion { text: text(asked, settings), detail: detail(asked, settings), answers }
}

/// A number with more decimals than can be recorded, which makes sense in inches: asked before it is an event at all,
/// for what cannot be recorded cannot be kept. Answers: take what is offered; measure again.
pub fn too_fine(typed: &str, offered: Reading, settings: Settings) -> ShownQuestion {
    let sign = figures::sign_of(LengthKind::Fine, settings);
    let typed = format!("{} {sign}", figures::typed(typed, settings));
    let offered = |settings: Settings| figures::signed_with_unit(offered.length(), settings);
    let label = |settings: Settings| {
        let offered = offered(settings);
        say!(settings, "Take {offered}", "Tomar {offered}")
    };
    let again = |settings: Settings| say!(settings, "Measure again", "Medir otra vez");
    let english = Settings::default();
    let meant = offered(settings);
    ShownQuestion {
        text: say!(settings, "{typed}, or {meant}?", "¿{typed} o {meant}?"),
        detail: too_fine_why(settings),
        answers: vec![
            ShownAnswer { name: label(english), label: label(settings) },
            ShownAnswer { name: again(english), label: again(settings) },
        ],
    }
}

fn too_fine_why(settings: Settings) -> String {
    say!(
        settings,
        "That is finer than the dial can be read. Thousandths are asked for here.",
        "Eso es más fino de lo que se lee en el dial. Aquí se piden milésimas.",
    )
}

fn text(asked: &Question, settings: Settings) -> String {
    match asked {
        Question::FarFromLast { place, reading, .. } => {
            let (value, name) = (shown(*reading, Some(*place), settings), place_name(*place, settings.language));
            say!(settings, "{value} at {name}?", "¿{value} en {name}?")
        }
        Question::LargerThanNew { place, reading, .. } => {
            let value = shown(*reading, Some(*place), settings);
            say!(settings, "{value}, larger than new?", "¿{value}, más grande que nuevo?")
        }
        Question::EndsSwapped { .. } => say!(settings, "Were the ends swapped?", "¿Se cambiaron los extremos?"),
        Question::DialShort { reading, offered } => {
            let value = shown(*reading, None, settings);
            let offered = figures::signed_with_unit(offered.length(), settings);
            say!(settings, "Dial at {value}: is that {offered}?", "Dial en {value}: ¿es {offered}?")
        }
        Question::TooFine { reading, offered } => {
            let value = shown(*reading, None, settings);
            let offered = figures::signed_with_unit(offered.length(), settings);
            say!(settings, "{value}, or {offered}?", "¿{value} o {offered}?")
        }
        Question::BelowLimit { .. } => {
            say!(
                settings,
                "This grind ends below the wear limit",
                "Este rectificado termina bajo el límite de desgaste"
            )
        }
    }
}

fn detail(asked: &Question, settings: Settings) -> String {
    match asked {
        Question::FarFromLast { place, last, .. } => {
            let last = shown(*last, Some(*place), settings);
            say!(
                settings,
                "The reading before was {last}. More has changed than is usual.",
                "La lectura anterior fue {last}. Cambió más de lo habitual.",
            )
        }
        Question::LargerThanNew { place, new, .. } => {
            let new = shown(*new, Some(*place), settings);
            say!(settings, "When new this type measures {new}.", "Nuevo, este tipo mide {new}.")
        }
        Question::EndsSwapped { cone, last } => {
            let cone = figures::signed_with_unit(cone.length(), settings);
            let last = figures::signed_with_unit(last.length(), settings);
            say!(
                settings,
                "Leading less trailing is {cone} now. Last time it came in with {last}.",
                "Entrada menos salida es ahora {cone}. La última vez llegó con {last}.",
            )
        }
        Question::DialShort { .. } => say!(
            settings,
            "A dial that stands short of zero shows the rest of its turn.",
            "Un dial que no llega a cero muestra lo que falta de la vuelta.",
        ),
        Question::TooFine { .. } => too_fine_why(settings),
        Question::BelowLimit { ends_at, limit } => {
            let ends_at = figures::with_unit(ends_at.length(), LengthKind::Size, settings);
            let limit = shown(*limit, Some(Place::Lead), settings);
            say!(
                settings,
                "It would end at {ends_at}; the limit is {limit}. The reel is due to be replaced.",
                "Terminaría en {ends_at}; el límite es {limit}. Corresponde cambiar el molinete.",
            )
        }
    }
}

/// An answer's name in English, by which scripts press it.
pub fn answer_name(answer: Answer, asked: &Question) -> String {
    answer_label(answer, asked, Settings::default())
}

fn answer_label(answer: Answer, asked: &Question, settings: Settings) -> String {
    match (answer, asked) {
        (Answer::Keep, Question::BelowLimit { .. }) => {
            say!(settings, "Grind all the same", "Rectificar de todos modos")
        }
        (Answer::Keep, _) => say!(settings, "It is right", "Es correcto"),
        (Answer::Again, Question::BelowLimit { .. }) => say!(settings, "Back to Tape", "Volver a Cinta"),
        (Answer::Again, _) => say!(settings, "Measure again", "Medir otra vez"),
        (Answer::Offered, Question::EndsSwapped { .. }) => say!(settings, "Swap the ends", "Cambiar los extremos"),
        (Answer::Offered, Question::DialShort { offered, .. } | Question::TooFine { offered, .. }) => {
            let offered = figures::signed_with_unit(offered.length(), settings);
            say!(settings, "Take {offered}", "Tomar {offered}")
        }
        (
            Answer::Offered,
            Question::FarFromLast { .. } | Question::LargerThanNew { .. } | Question::BelowLimit { .. },
        ) => {
            say!(settings, "Take it", "Tomar")
        }
        (Answer::Stop, _) => say!(settings, "End the visit", "Terminar el trabajo"),
    }
}
