//! The shop's records: types, units, mowers, people, grinders and wheels, as plain data.
//!
//! Geometry lives in the type; a unit has only what is its own. `y` runs along the reel from the
//! operator's left, `x` from the front roller to the rear, as the unit stands on the rails.

mod grinder;
mod unit;
mod unit_type;
mod wheel;
mod work;

pub use grinder::{Grinder, MasterCheck};
pub use unit::{Mower, Operator, Unit, UnitStatus};
pub use unit_type::{Adjuster, AdjusterPair, Hand, KnifeShape, SeenFrom, Side, TypeSetup, UnitType};
pub use wheel::{LookedOver, Measured, Mounted, RingTest, Wheel};
pub use work::{Lesson, Service, ServiceVerdict, Work};
