//! The values of a new unit type, as they are asked for.

use super::say;
use crate::screen::Settings;

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
    ReelX,
    Wheelbase,
    JackY,
    RearSpan,
}

impl TypeField {
    /// All of them, in the order they are asked.
    pub const ALL: [Self; 15] = [
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
        Self::ReelX,
        Self::Wheelbase,
        Self::JackY,
        Self::RearSpan,
    ];
}

/// What a value is called.
pub fn type_field(field: TypeField, settings: Settings) -> String {
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
        TypeField::ReelX => say!(settings, "Reel behind front roller", "Molinete tras rodillo del."),
        TypeField::Wheelbase => say!(settings, "Jack behind front roller", "Gato tras rodillo del."),
        TypeField::JackY => say!(settings, "Jack along the reel", "Gato a lo largo"),
        TypeField::RearSpan => say!(settings, "Rear reading span", "Tramo medido atrás"),
    }
}
