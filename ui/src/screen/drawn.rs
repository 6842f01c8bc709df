//! Numbers of the pictures that belong to the stages beside the usual trip. Lengths are fractions of the most that is
//! drawn, so that a picture needs no unit.

/// Blade, finger and wheel seen from the reel's end, and the land on the blade's tip.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ReliefDrawn {
    /// The relief face below the tangent, degrees.
    pub relief_degrees: f32,
    /// The blade's tip past the bottom of the reel, degrees; 0 while it is not known.
    pub blade_degrees: f32,
    /// Blades of the reel.
    pub blades: u32,
    /// The land at the leading and the trailing end, of the widest; 0 where it is not measured.
    pub lands: [f32; 2],
    /// The land that relief leaves, of the widest.
    pub wanted: f32,
    /// The limit of the land, of the widest.
    pub limit: f32,
}

/// The bedknife cut across.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct KnifeDrawn {
    /// The top face below the level, degrees: as measured, else as asked for.
    pub top_degrees: f32,
    /// The front face behind the upright, degrees: as measured, else as asked for.
    pub front_degrees: f32,
    /// What is left of the thickness, of the thickest that is drawn; 0 while it is not measured.
    pub thickness: f32,
    /// The least thickness, likewise.
    pub least: f32,
    /// The least thickness with unit.
    pub least_text: String,
}

/// The bedknife's edge over the plate.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct HeightDrawn {
    /// The error at your left, −1 to 1 of the most that is drawn; 0 while it is not known.
    pub left: f32,
    /// The error at your right, likewise.
    pub right: f32,
    /// How many times errors are exaggerated, as text.
    pub exaggeration: String,
}

/// Reel and bedknife over the plate.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PlateDrawn {
    /// How much higher the edge stands at your right, −1 to 1 of the most that is drawn; 0 while it is not known.
    pub edge: f32,
    /// How much wider the gap is at your right, likewise.
    pub gap: f32,
    /// The limit, of the most that is drawn.
    pub limit: f32,
    /// The edge is beyond it.
    pub edge_off: bool,
    /// The gap is beyond it.
    pub gap_off: bool,
    /// How many times differences are exaggerated, as text.
    pub exaggeration: String,
}
