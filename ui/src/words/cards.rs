//! What the next command card will do.

use crate::screen::{BedknifeWork, KindName, Language, Settings};

/// What a command card may do.
#[derive(Debug, Clone, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names say it")]
pub enum CardName {
    /// Go on to the next stage.
    On,
    /// Take up the visit of this tag.
    TakeUp(String),
    /// Answer so, in the person's language.
    Answer(String),
    /// Take this value again.
    Again(String),
    Kind(KindName),
    Bedknife(BedknifeWork),
    EndVisit,
    ZeroSet,
    Turned,
    OtherAdjuster,
    MeasureAgain,
    TouchAgain,
    NotProven,
    Regrind,
    PaperCuts,
    Squared,
    Shimmed,
    FingerSet,
    PassRepeated,
    /// A check of the bedknife that is told, by its place: screws, burr, adjusted.
    KnifeCheck(usize),
    PaperNot,
    Print,
    Back,
    /// What the screen itself calls it, in the person's language.
    Named(String),
    /// The card of this tag.
    UnitCard(String),
    /// A position on the mower, and the tag there or nothing.
    Position(String, String),
    /// Something of the screens round a visit.
    Round(RoundName),
}

/// What the screens round a visit offer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "each is what its words below say")]
pub enum RoundName {
    FindByMower,
    Due,
    Grinder,
    Settings,
    NewType,
    Keep,
    StartCheck,
    SpotCheck,
    OtherClosures,
    Override,
    BarTurned,
    KeepVerdict,
    EndWithout,
    Less,
    More,
    Default,
    PageDown,
    PageUp,
    Cautions,
    ShopSettings,
    Inch,
    Thou,
    Metric,
    Light,
    Dark,
    Contrast,
    SignOut,
    SetUp,
    Practice,
    Tour,
    EndPractice,
    LetGoOn,
    Wheel,
    Lockout,
}

/// Names what "next" will do, and says how to come to something else.
pub fn card_in_hand(name: &CardName, settings: Settings) -> String {
    let what = card_name(name, settings.language);
    match settings.language {
        Language::English => format!("Card “next”: {what}. Card “repeat”: something else."),
        Language::Spanish => format!("Tarjeta «siguiente»: {what}. Tarjeta «repetir»: otra cosa."),
    }
}

fn card_name(name: &CardName, language: Language) -> String {
    let (english, spanish) = match name {
        CardName::Answer(label) => return label.clone(),
        CardName::TakeUp(tag) => return either(language, format!("take up {tag}"), format!("retomar {tag}")),
        CardName::Again(value) => {
            return either(language, format!("take {value} again"), format!("volver a medir {value}"));
        }
        CardName::Named(name) => return name.clone(),
        CardName::UnitCard(tag) => return either(language, format!("the card of {tag}"), format!("la ficha de {tag}")),
        CardName::Position(number, tag) => {
            return either(language, format!("position {number}, {tag}"), format!("posición {number}, {tag}"))
                .trim_end_matches([',', ' '])
                .to_owned();
        }
        CardName::Round(name) => round_name(*name),
        CardName::Kind(kind) => kind_name(*kind),
        CardName::Bedknife(work) => bedknife_name(*work),
        CardName::Squared => ("side plates squared", "placas laterales escuadradas"),
        CardName::Shimmed => ("shims are in", "calzas puestas"),
        CardName::FingerSet => ("finger set", "tope puesto"),
        CardName::PassRepeated => ("the same round once more", "la misma vuelta otra vez"),
        CardName::KnifeCheck(0) => ("screws tightened", "tornillos apretados"),
        CardName::KnifeCheck(1) => ("burr removed", "rebaba quitada"),
        CardName::KnifeCheck(_) => ("adjusted to the reel", "ajustada al molinete"),
        CardName::On => ("go on", "seguir"),
        CardName::EndVisit => ("end the visit", "terminar el trabajo"),
        CardName::ZeroSet => ("zero set", "cero puesto"),
        CardName::Turned => ("turned", "ya giré"),
        CardName::OtherAdjuster => ("the other adjuster instead", "mejor el otro ajustador"),
        CardName::MeasureAgain => ("measure again", "medir otra vez"),
        CardName::TouchAgain => ("touch again", "tocar otra vez"),
        CardName::NotProven => ("record: within tolerance, not proven", "anotar: dentro de tolerancia, sin comprobar"),
        CardName::Regrind => ("grind again", "rectificar otra vez"),
        CardName::PaperCuts => ("paper cuts along the whole length", "corta papel en todo el largo"),
        CardName::PaperNot => ("paper does not cut after all", "el papel no corta después de todo"),
        CardName::Print => ("print the label", "imprimir la etiqueta"),
        CardName::Back => ("it is back in its place", "ya está en su lugar"),
    };
    either(language, english.to_owned(), spanish.to_owned())
}

fn either(language: Language, english: String, spanish: String) -> String {
    match language {
        Language::English => english,
        Language::Spanish => spanish,
    }
}

const fn kind_name(kind: KindName) -> (&'static str, &'static str) {
    match kind {
        KindName::Spin => ("kind of visit: spin", "tipo de trabajo: cilíndrico"),
        KindName::ReliefAndSpin => ("kind of visit: relief and spin", "tipo de trabajo: destalonar y cilíndrico"),
        KindName::Bedknife => ("kind of visit: bedknife", "tipo de trabajo: contracuchilla"),
        KindName::BackLap => ("kind of visit: back-lap", "tipo de trabajo: asentar"),
        KindName::HeightOfCut => ("kind of visit: height of cut", "tipo de trabajo: altura de corte"),
        KindName::CheckOnly => ("kind of visit: check only", "tipo de trabajo: solo revisar"),
    }
}

const fn bedknife_name(work: BedknifeWork) -> (&'static str, &'static str) {
    match work {
        BedknifeWork::NotSaid => ("bedknife: not said yet", "contracuchilla: sin anotar"),
        BedknifeWork::Faced => ("bedknife: faced", "contracuchilla: repasada"),
        BedknifeWork::Reground => ("bedknife: reground", "contracuchilla: rectificada"),
        BedknifeWork::New => ("bedknife: new", "contracuchilla: nueva"),
    }
}

const fn round_name(name: RoundName) -> (&'static str, &'static str) {
    match name {
        RoundName::FindByMower => ("find by mower", "buscar por máquina"),
        RoundName::Due => ("what is due", "lo que está por hacer"),
        RoundName::Grinder => ("the grinder", "la rectificadora"),
        RoundName::Settings => ("settings", "ajustes"),
        RoundName::NewType => ("a new type", "un tipo nuevo"),
        RoundName::Keep => ("keep it", "guardarlo"),
        RoundName::StartCheck => ("start the check with the master bar", "iniciar la verificación con la barra patrón"),
        RoundName::SpotCheck => ("spot check on the plate", "control en el mármol"),
        RoundName::OtherClosures => ("other closures", "otros cierres"),
        RoundName::Override => ("override by a lead", "autorización del encargado"),
        RoundName::BarTurned => ("the bar is turned", "la barra está dada vuelta"),
        RoundName::KeepVerdict => ("keep this verdict", "guardar este veredicto"),
        RoundName::EndWithout => ("end without a verdict", "terminar sin veredicto"),
        RoundName::Less => ("less", "menos"),
        RoundName::More => ("more", "más"),
        RoundName::Default => ("as configured", "como en el archivo"),
        RoundName::PageDown => ("page down", "página siguiente"),
        RoundName::PageUp => ("page up", "página anterior"),
        RoundName::Cautions => ("cautions and licences", "precauciones y licencias"),
        RoundName::ShopSettings => ("settings of the shop", "ajustes del taller"),
        RoundName::Inch => ("lengths in inches", "medidas en pulgadas"),
        RoundName::Thou => ("lengths in thousandths", "medidas en milésimas"),
        RoundName::Metric => ("metric lengths", "medidas métricas"),
        RoundName::Light => ("light colours", "colores claros"),
        RoundName::Dark => ("dark colours", "colores oscuros"),
        RoundName::Contrast => ("high contrast", "alto contraste"),
        RoundName::SignOut => ("sign out", "salir"),
        RoundName::SetUp => ("set up this bench", "preparar este banco"),
        RoundName::Practice => ("practice, nothing is recorded", "práctica, nada se registra"),
        RoundName::Tour => ("take the tour", "hacer el recorrido"),
        RoundName::EndPractice => ("end practice", "terminar la práctica"),
        RoundName::LetGoOn => ("let it go on: a lead", "dejar que siga: un encargado"),
        RoundName::Wheel => ("the wheel’s record", "el registro de la piedra"),
        RoundName::Lockout => ("the lockout", "el bloqueo"),
    }
}
