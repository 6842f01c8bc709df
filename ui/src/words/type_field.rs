//! The values of a new unit type, as they are asked for.

use super::say;
use crate::screen::Settings;
use sparkout_core::bench::FrameKind;

/// A value of a new unit type.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names are those of the type's record")]
pub enum TypeField {
    Blades,
    NewDiameter,
    WearLimit,
    ReelLength,
    BladeThickness,
    LandLimit,
    TouchLeft,
    TouchRight,
    AdjusterLeft,
    AdjusterRight,
    Pitch,
    Throw,
    Resting,
    ReelX,
    Wheelbase,
    JackY,
    RearSpan,
}

impl TypeField {
    /// All of them, in the order they are asked.
    pub const ALL: [Self; 17] = [
        Self::Blades,
        Self::NewDiameter,
        Self::WearLimit,
        Self::ReelLength,
        Self::BladeThickness,
        Self::LandLimit,
        Self::TouchLeft,
        Self::TouchRight,
        Self::AdjusterLeft,
        Self::AdjusterRight,
        Self::Pitch,
        Self::Throw,
        Self::Resting,
        Self::ReelX,
        Self::Wheelbase,
        Self::JackY,
        Self::RearSpan,
    ];
}

/// How a roller is adjusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Made {
    /// A screw with a hexagon.
    Screws,
    /// An eccentric that is turned.
    Eccentrics,
    /// Shims from the shelf.
    Shims,
    /// Not at all.
    Fixed,
}

/// A kind of frame to choose, and what can be adjusted on it.
pub fn frame_choice(frame: FrameKind, settings: Settings) -> (String, String) {
    match frame {
        FrameKind::Adjustable => (
            say!(settings, "Adjustable frame", "Bastidor ajustable"),
            say!(settings, "both rollers have adjusters", "ambos rodillos tienen ajuste"),
        ),
        FrameKind::SidePlates => (
            say!(settings, "Bolted side plates", "Placas laterales atornilladas"),
            say!(settings, "rear squared, shimmed or by eccentric", "trasero: a escuadra, calces o excéntrico"),
        ),
        FrameKind::Welded => (
            say!(settings, "Welded frame", "Bastidor soldado"),
            say!(settings, "rear roller fixed in the frame", "rodillo trasero fijo en el bastidor"),
        ),
        FrameKind::FloatingReel => (
            say!(settings, "Floating reel", "Molinete flotante"),
            say!(settings, "the reel moves to the bedknife", "el molinete va a la contracuchilla"),
        ),
        FrameKind::FixedHead => (
            say!(settings, "Fixed head", "Cabezal fijo"),
            say!(settings, "walking mower, drum in the frame", "de a pie, tambor en el bastidor"),
        ),
    }
}

/// How the front and the other roller of a frame are adjusted, to choose.
pub fn made_choice(frame: FrameKind, front: Made, rear: Made, settings: Settings) -> (String, String) {
    let first = match (frame, front) {
        (FrameKind::FixedHead, Made::Eccentrics) => say!(settings, "Head on eccentrics", "Cabezal con excéntricos"),
        (FrameKind::FixedHead, _) => say!(settings, "Head on screws", "Cabezal con tornillos"),
        (_, Made::Eccentrics) => say!(settings, "Front on eccentrics", "Delantero con excéntricos"),
        (_, _) => say!(settings, "Front on screws", "Delantero con tornillos"),
    };
    let second = match (frame, rear) {
        (FrameKind::FixedHead, Made::Eccentrics) => {
            say!(settings, "front roller on eccentrics", "rodillo delantero con excéntricos")
        }
        (FrameKind::FixedHead, _) => say!(settings, "front roller on screws", "rodillo delantero con tornillos"),
        (_, Made::Screws) => say!(settings, "rear on screws", "trasero con tornillos"),
        (_, Made::Eccentrics) => say!(settings, "rear on eccentrics", "trasero con excéntricos"),
        (_, Made::Shims) => say!(settings, "rear by shims", "trasero con calces"),
        (_, Made::Fixed) => say!(settings, "rear fixed", "trasero fijo"),
    };
    (first, second)
}

/// What is asked before the values: the frame, then how it is adjusted.
pub fn type_asks(frame: Option<FrameKind>, settings: Settings) -> String {
    match frame {
        None => say!(settings, "Which kind of frame?", "¿Qué clase de bastidor?"),
        Some(_) => say!(settings, "How is it adjusted?", "¿Cómo se ajusta?"),
    }
}

/// What is taken for granted about a type until somebody sets it otherwise, and where that comes from. `square` and
/// `replace` are the shop's limits with their units.
pub fn type_assumed(frame: FrameKind, square: &str, replace: &str, settings: Settings) -> String {
    let common = say!(
        settings,
        "Assumed: relief angle 25° (common practice), wear limit as a caliper reads it.",
        "Se supone: ángulo de destalonado 25° (práctica común), límite de desgaste medido con calibre.",
    );
    let own = match frame {
        FrameKind::Adjustable => return common,
        FrameKind::SidePlates => say!(
            settings,
            "Squared up to {square} (the shop’s limit); a shim pushes the roller down (from memory of the trade).",
            "Se escuadra hasta {square} (límite del taller); un calce baja el rodillo (de memoria del oficio).",
        ),
        FrameKind::Welded => say!(
            settings,
            "Frame replaced above {replace} (the shop’s limit).",
            "El bastidor se cambia desde {replace} (límite del taller).",
        ),
        FrameKind::FloatingReel => say!(settings, "It leaves over the surface plate.", "Sale pasando por el mármol."),
        FrameKind::FixedHead => say!(
            settings,
            "Counted from the drum; the front roller comes last (from memory of the trade).",
            "Se cuenta desde el tambor; el rodillo delantero va al final (de memoria del oficio).",
        ),
    };
    format!("{common} {own}")
}

/// What a value is called on a frame; on a fixed head the drum is what distances are counted from.
pub fn type_field(field: TypeField, frame: FrameKind, settings: Settings) -> String {
    if frame == FrameKind::FixedHead {
        match field {
            TypeField::ReelX => return say!(settings, "Reel from the drum", "Molinete desde tambor"),
            TypeField::Wheelbase => return say!(settings, "Jack from the drum", "Gato desde tambor"),
            TypeField::RearSpan => return say!(settings, "Front reading span", "Tramo medido delante"),
            _ => {}
        }
    }
    match field {
        TypeField::Blades => say!(settings, "Blades", "Cuchillas"),
        TypeField::NewDiameter => say!(settings, "Diameter when new", "Diámetro nuevo"),
        TypeField::WearLimit => say!(settings, "Wear limit", "Límite de desgaste"),
        TypeField::ReelLength => say!(settings, "Reel length", "Largo del molinete"),
        TypeField::BladeThickness => say!(settings, "Blade thickness", "Espesor de cuchilla"),
        TypeField::LandLimit => say!(settings, "Land limit", "Límite de la faja"),
        TypeField::TouchLeft => say!(settings, "Touch, your left", "Toque, izquierda"),
        TypeField::TouchRight => say!(settings, "Touch, your right", "Toque, derecha"),
        TypeField::AdjusterLeft => say!(settings, "Adjuster, your left", "Ajustador, izquierda"),
        TypeField::AdjusterRight => say!(settings, "Adjuster, your right", "Ajustador, derecha"),
        TypeField::Pitch => say!(settings, "Adjuster screw pitch", "Paso del tornillo"),
        TypeField::Throw => say!(settings, "Eccentric throw", "Excentricidad"),
        TypeField::Resting => say!(settings, "Eccentric stands at", "Excéntrico parado en"),
        TypeField::ReelX => say!(settings, "Reel behind front roller", "Molinete tras rodillo del."),
        TypeField::Wheelbase => say!(settings, "Jack behind front roller", "Gato tras rodillo del."),
        TypeField::JackY => say!(settings, "Jack along the reel", "Gato a lo largo"),
        TypeField::RearSpan => say!(settings, "Rear reading span", "Tramo medido atrás"),
    }
}
