//! A tape round N blade tips: perimeter of a regular polygon against its circle, (N/π)·sin(π/N), exact mathematics.

use super::{calc, near, number, prints_as};
use serde_json::{Value, json};

fn taped(blades: u32, reading: f64) -> Value {
    calc("tape", json!({ "units": "metric", "blades": blades, "lead": reading, "trail": reading }))
}

#[test]
fn polygon_over_circle() {
    for (blades, ratio) in [(7, "0.966766"), (8, "0.974495"), (10, "0.983632"), (11, "0.986461"), (12, "0.988616")] {
        prints_as(127.0 / number(&taped(blades, 127.0), "/diameter/lead"), ratio);
    }
}

/// A perimeter of 400 mm round 11 tips is a circle of 129.07147 mm; taken as a circle it would be 127.32395, 1.35 % less.
#[test]
fn perimeter_of_400_mm() {
    let reading = 400.0 / std::f64::consts::PI;
    let circle = number(&taped(11, reading), "/diameter/trail");
    near(circle, 129.07147, 5e-6);
    near(reading, 127.32395, 5e-6);
    near((1.0 - reading / circle) * 100.0, 1.35, 0.005);
}
