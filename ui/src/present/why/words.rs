//! The words of the explanations, English and Spanish side by side.

use crate::present::figures;
use crate::screen::{Language, Settings};
use jiff::civil::Date;
use sparkout_core::bench::End;
use sparkout_core::record::Side;

/// The same in English and in Spanish.
pub(super) type Pair = (&'static str, &'static str);

/// Where a number came from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Origin {
    /// Taped in this visit before the grind.
    Taped(End),
    /// Taped in the middle.
    TapedCentre,
    /// Taped after the grind.
    TapedAfter(End),
    /// Read on the dial, one touch or the mean of several.
    Dial(u32),
    /// Read on the indicator.
    Indicator(Side),
    /// The type's record.
    Type,
    /// The unit's record of that day.
    Record(Date),
    /// The grinder's record.
    Grinder,
    /// The record of the wheel as mounted.
    Wheel,
    /// The configuration.
    Configured,
    /// An assumption that stands in the configuration until the bench knows better.
    Assumed,
    /// Computed from what stands before it, or in a stage before.
    Computed,
    /// What Front left.
    FromFront,
    /// Counted by the kiosk.
    Counted,
    /// The station's clock.
    Clock,
    /// NIOSH 94-110.
    Niosh,
}

impl Origin {
    /// Whether the number is an assumption.
    pub const fn is_assumed(self) -> bool {
        matches!(self, Self::Assumed)
    }

    pub fn in_words(self, settings: Settings) -> String {
        let pair: Pair = match self {
            Self::Taped(End::Lead) => ("taped at the leading end", "con cinta, extremo de entrada"),
            Self::Taped(End::Trail) => ("taped at the trailing end", "con cinta, extremo de salida"),
            Self::TapedCentre => ("taped in the middle", "con cinta, en el centro"),
            Self::TapedAfter(End::Lead) => ("taped after, leading end", "cinta tras rectificar, entrada"),
            Self::TapedAfter(End::Trail) => ("taped after, trailing end", "cinta tras rectificar, salida"),
            Self::Dial(1) => ("read on the dial", "leído en el dial"),
            Self::Dial(_) => ("read on the dial, mean of the touches", "leído en el dial, promedio de los toques"),
            Self::Indicator(Side::Left) => ("indicator at your left", "comparador a su izquierda"),
            Self::Indicator(Side::Right) => ("indicator at your right", "comparador a su derecha"),
            Self::Type => ("the type’s record", "ficha del tipo"),
            Self::Record(date) => {
                let day = figures::date(date, settings);
                return match settings.language {
                    Language::English => format!("the unit’s record, {day}"),
                    Language::Spanish => format!("ficha de la unidad, {day}"),
                };
            }
            Self::Grinder => ("the grinder’s record", "ficha de la rectificadora"),
            Self::Wheel => ("the wheel’s record", "ficha de la piedra"),
            Self::Configured => ("configured", "configurado"),
            Self::Assumed => ("assumed, configured", "supuesto, configurado"),
            Self::Computed => ("computed", "calculado"),
            Self::FromFront => ("left at Front", "quedó en Delantero"),
            Self::Counted => ("counted here", "contado aquí"),
            Self::Clock => ("this kiosk’s clock", "reloj de este equipo"),
            Self::Niosh => ("NIOSH 94-110, load constant", "NIOSH 94-110, constante de carga"),
        };
        let (english, spanish) = pair;
        match settings.language {
            Language::English => english,
            Language::Spanish => spanish,
        }
        .to_owned()
    }
}

// What the numbers are.
pub(super) const NEW: Pair = ("diameter when new", "diámetro nuevo");
pub(super) const WEAR_LIMIT: Pair = ("wear limit", "límite de desgaste");
pub(super) const SMALLEST: Pair = ("smallest diameter", "diámetro menor");
pub(super) const LARGEST: Pair = ("largest diameter", "diámetro mayor");
pub(super) const LEAD: Pair = ("leading end", "extremo de entrada");
pub(super) const TRAIL: Pair = ("trailing end", "extremo de salida");
pub(super) const CENTRE: Pair = ("centre", "centro");
pub(super) const ZERO_DIAMETER: Pair = ("diameter at the zero end", "diámetro en el extremo del cero");
pub(super) const OTHER_DIAMETER: Pair = ("diameter at the other end", "diámetro en el otro extremo");
pub(super) const USUAL_REMOVAL: Pair = ("usual removal of a grind", "lo que suele quitar un rectificado");
pub(super) const WEIGHT: Pair = ("weight of the unit", "peso de la unidad");
pub(super) const ONE_PERSON: Pair = ("load constant, 51 lb", "constante de carga, 51 lb");
pub(super) const REACH_FACTOR: Pair = ("hands in front of the ankles", "manos por delante de los tobillos");
pub(super) const HEIGHT_FACTOR: Pair = ("height of the hands", "altura de las manos");
pub(super) const TRAVEL_FACTOR: Pair = ("height of the lift", "recorrido vertical");
pub(super) const GRIP_FACTOR: Pair = ("grip", "agarre");
pub(super) const TURN_FACTOR: Pair = ("turn of the body", "giro del cuerpo");
pub(super) const OFTEN_FACTOR: Pair = ("how often", "frecuencia");
pub(super) const RECOMMENDED: Pair = ("recommended weight", "peso recomendado");
pub(super) const DIAL_FACTOR: Pair = ("dial for head travel", "dial por avance del cabezal");
pub(super) const TAPE_READING: Pair = ("tape over the blade tips", "cinta sobre las puntas");
pub(super) const BLADES: Pair = ("blades", "cuchillas");
pub(super) const LAND: Pair = ("land", "faja");
pub(super) const TIP: Pair = ("circle through the tips", "círculo de las puntas");
pub(super) const READING: Pair = ("dial at the other end", "dial en el otro extremo");
pub(super) const TARGET: Pair = ("target when level", "objetivo a nivel");
pub(super) const TOUCH_SD: Pair = ("repeatability of a touch", "repetibilidad de un toque");
pub(super) const TOUCHES: Pair = ("touches at each end", "toques en cada extremo");
pub(super) const DIAL_STEP: Pair = ("smallest step on the dial", "paso menor del dial");
pub(super) const TAPE_STEP: Pair = ("smallest step on the tape", "paso menor de la cinta");
pub(super) const INDICATOR_STEP: Pair = ("smallest step on the indicator", "paso menor del comparador");
pub(super) const LIMIT: Pair = ("limit", "límite");
pub(super) const TILT: Pair = ("tilt of the reel axis", "inclinación del eje");
pub(super) const UNCERTAINTY: Pair = ("uncertainty, 95 %", "incertidumbre, 95 %");
pub(super) const ADJUSTERS_APART: Pair = ("between the adjusters", "entre ajustadores");
pub(super) const TOUCHES_APART: Pair = ("between the touch stations", "entre puntos de toque");
pub(super) const READINGS_APART: Pair = ("between the readings", "entre lecturas");
pub(super) const HEIGHT: Pair = ("height at the adjuster", "altura en el ajustador");
pub(super) const PITCH: Pair = ("pitch of the screw", "paso del tornillo");
pub(super) const THROW: Pair = ("throw of the eccentric", "excentricidad");
pub(super) const ECCENTRIC_AT: Pair = ("eccentric, from its lowest", "excéntrica, desde lo más bajo");
pub(super) const REEL_BACK: Pair = ("reel behind the front roller", "molinete tras el rodillo delantero");
pub(super) const REEL_FROM_DRUM: Pair = ("reel from the drum", "molinete desde el tambor");
pub(super) const JACK_FROM_DRUM: Pair = ("jack from the drum", "gato desde el tambor");
pub(super) const WHEELBASE: Pair = ("jack behind the front roller", "gato tras el rodillo delantero");
pub(super) const TOUCH_FROM_REST: Pair =
    ("zero touch from the adjuster that rests", "toque del cero desde el ajustador fijo");
pub(super) const JACK_FROM_REST: Pair = ("jack from the adjuster that rests", "gato desde el ajustador fijo");
pub(super) const AT_LEFT: Pair = ("at your left", "a su izquierda");
pub(super) const AT_RIGHT: Pair = ("at your right", "a su derecha");
pub(super) const ROLLER_ERROR: Pair = ("error of the roller", "error del rodillo");
pub(super) const WHEEL_DIAMETER: Pair = ("wheel diameter", "diámetro de la piedra");
pub(super) const SPINDLE: Pair = ("spindle speed", "velocidad del husillo");
pub(super) const RATED: Pair = ("speed marked on the wheel", "velocidad marcada en la piedra");
pub(super) const PASS: Pair = ("this pass", "esta pasada");
pub(super) const INFEED: Pair = ("infeed of a pass", "avance por pasada");
pub(super) const STOCK: Pair = ("to come off", "por quitar");
pub(super) const CLEANUP: Pair = ("below the smallest", "por debajo del menor");
pub(super) const STROKE: Pair = ("travel of a pass", "recorrido de una pasada");
pub(super) const PASSES_LEFT: Pair = ("passes left", "pasadas restantes");
pub(super) const TRAVERSE: Pair = ("speed of the wheel head", "velocidad del cabezal");
pub(super) const DIAMETER_BEFORE: Pair = ("diameter before", "diámetro antes");
pub(super) const DIAMETER_AFTER: Pair = ("diameter after", "diámetro después");
pub(super) const REMOVED: Pair = ("off the diameter", "quitado del diámetro");
pub(super) const AT_THE_END: Pair = ("diameter at the end", "diámetro al terminar");
pub(super) const RELIEF_ANGLE: Pair = ("relief angle", "ángulo de alivio");
pub(super) const ALONG_FACE: Pair = ("uncovered along the relief face", "descubierto en la cara de alivio");
pub(super) const CONE_IN: Pair = ("cone", "cono");
pub(super) const CONE_U: Pair = ("uncertainty of the cone, 95 %", "incertidumbre del cono, 95 %");
pub(super) const TILT_U: Pair = ("uncertainty of the tilt, 95 %", "incertidumbre de la inclinación, 95 %");
pub(super) const GROUND_ON: Pair = ("day of the grind", "día del rectificado");
pub(super) const DAYS_BETWEEN: Pair = ("days until the next look", "días hasta la próxima revisión");

// Units that are words.
pub(super) const TURN_UNIT: Pair = ("turn", "vuelta");
pub(super) const FLATS_UNIT: Pair = ("flats", "caras");
pub(super) const GRINDS_UNIT: Pair = ("grinds", "rectificados");
pub(super) const PASSES_UNIT: Pair = ("passes", "pasadas");
pub(super) const TOUCHES_UNIT: Pair = ("touches", "toques");

// What follows.
pub(super) const PARALLEL: Pair = ("Proven parallel", "Paralelo comprobado");
pub(super) const ADJUST: Pair = ("Beyond the limit: adjust", "Fuera del límite: ajustar");
pub(super) const REPEAT: Pair = ("Within the limit, not proven", "Dentro del límite, sin comprobar");
pub(super) const PROVEN: Pair = ("Proven", "Comprobado");
pub(super) const REGRIND: Pair = ("Beyond the limit: grind again", "Fuera del límite: rectificar otra vez");
pub(super) const TRUE_IT: Pair = ("Not proven within the limit: adjust", "No se comprueba dentro del límite: ajustar");
pub(super) const TWO_PEOPLE: Pair = ("Two people or the hoist", "Dos personas o el polipasto");
pub(super) const ONE_LIFTS: Pair =
    ("Not above the recommended weight for one person", "No pasa del peso recomendado para una persona");
pub(super) const WITHIN_RATING: Pair = ("Not above the rating", "No pasa de la velocidad nominal");
pub(super) const ABOVE_RATING: Pair =
    ("Above the rating: do not turn it on", "Pasa de la velocidad nominal: no la encienda");

// Where the formulas are from.
pub(super) const DEFINITION: Pair = ("By definition; bench handbook, 3", "Por definición; manual del banco, 3");
pub(super) const RIGID_BODY: Pair = (
    "Derivation: rigid body on three points; bench handbook, 2",
    "Derivación: cuerpo rígido en tres puntos; manual del banco, 2",
);
pub(super) const DIAL_MODEL: Pair = (
    "Derivation: two touches on one wheel; bench handbook, 2",
    "Derivación: dos toques con una misma piedra; manual del banco, 2",
);
pub(super) const POLYGON: Pair =
    ("Derivation: tape round N tips; bench handbook, 2", "Derivación: cinta sobre N puntas; manual del banco, 2");
pub(super) const GUM: Pair = (
    "Derivation, bench handbook, 2 · uncertainty JCGM 100:2008, 4.3.7, 5.1.2 · decision JCGM 106:2012, 8.3.2",
    "Derivación, manual del banco, 2 · incertidumbre JCGM 100:2008, 4.3.7, 5.1.2 · decisión JCGM 106:2012, 8.3.2",
);
pub(super) const CLOSURE: Pair = (
    "Derivation: a tilt left is ground in twice; bench handbook, 2 · JCGM 100:2008, 5.1.2",
    "Derivación: la inclinación dejada se rectifica al doble; manual del banco, 2 · JCGM 100:2008, 5.1.2",
);
pub(super) const NIOSH: Pair = (
    "NIOSH 94-110, revised lifting equation, with the heights entered for this bench. Estimate.",
    "NIOSH 94-110, ecuación revisada de levantamiento, con las alturas cargadas de este banco. Estimación.",
);
pub(super) const WHEEL_SPEED: Pair =
    ("By definition; the limit: 29 CFR 1910.215(d)(1)", "Por definición; el límite: 29 CFR 1910.215(d)(1)");
pub(super) const SCHEDULE: Pair = (
    "Bench handbook, 3 · infeed and clean-up: common practice",
    "Manual del banco, 3 · avance y limpieza: práctica común",
);
pub(super) const RELIEF_FACE: Pair = (
    "Derivation: circle on the straight relief face; bench handbook, 2",
    "Derivación: círculo sobre la cara recta de alivio; manual del banco, 2",
);
pub(super) const ESTIMATE: Pair = (
    "Bench handbook, 3 · usual removal: common practice. Estimate.",
    "Manual del banco, 3 · lo que suele quitarse: práctica común. Estimación.",
);
pub(super) const COMMON_PRACTICE: Pair = ("Common practice, a default", "Práctica común, valor por omisión");

// What is asked about.
pub(super) const WORN_TITLE: Pair = ("How far the reel is worn", "Cuánto se gastó el molinete");
pub(super) const GRINDS_TITLE: Pair = ("Grinds left, about", "Rectificados que quedan, aprox.");
pub(super) const LIFTING_TITLE: Pair = ("How it is lifted", "Cómo se levanta");
pub(super) const CONE_TITLE: Pair = ("Cone", "Cono");
pub(super) const BARREL_TITLE: Pair = ("Barrel", "Barril");
pub(super) const TARGET_TITLE: Pair = ("Dial at the other end when level", "Dial en el otro extremo, a nivel");
pub(super) const TIP_TITLE: Pair = ("Circle through the blade tips", "Círculo por las puntas de las cuchillas");
pub(super) const TILT_TITLE: Pair = ("How the other end sits", "Cómo queda el otro extremo");
pub(super) const TURN_TITLE: Pair = ("How much to turn", "Cuánto girar");
pub(super) const REZERO_TITLE: Pair = ("What the zero end will read", "Lo que marcará el extremo del cero");
pub(super) const TOUCHES_TITLE: Pair = ("How many touches can prove it", "Cuántos toques lo comprueban");
pub(super) const REAR_TITLE: Pair = ("How your right end sits", "Cómo queda su extremo derecho");
pub(super) const SPEED_TITLE: Pair = ("Speed of the wheel’s surface", "Velocidad de la superficie de la piedra");
pub(super) const MARGIN_TITLE: Pair = ("Below the wheel’s rating", "Por debajo de lo marcado en la piedra");
pub(super) const DIAL_TITLE: Pair = ("Dial for this pass", "Dial para esta pasada");
pub(super) const FINAL_TITLE: Pair = ("Diameter at the end", "Diámetro al terminar");
pub(super) const TIME_TITLE: Pair = ("Time left, about", "Tiempo restante, aprox.");
pub(super) const LAND_TITLE: Pair = ("Land at the end", "Faja al terminar");
pub(super) const PROVED_TITLE: Pair = ("Cone after the grind", "Cono después de rectificar");
pub(super) const REMOVED_TITLE: Pair = ("Off the diameter", "Quitado del diámetro");
pub(super) const MISCLOSURE_TITLE: Pair = ("Misclosure with Front", "Diferencia con Delantero");
pub(super) const DUE_TITLE: Pair = ("Next due", "Próximo vencimiento");
