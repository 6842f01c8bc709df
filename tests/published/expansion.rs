//! Steel at other temperatures: Swyt, J. Res. NIST 99, 31 (1994), 11.5e-6 a kelvin; 20 °C after ISO 1 (2016/2022).

use super::{calc, near, number};
use serde_json::{Value, json};

/// How much longer 100 mm are at this temperature of the reel, a tape that stayed at 20 °C telling it.
fn growth_of_100(reading: f64, reel: f64) -> f64 {
    let with = |more: Value| {
        let mut input = json!({ "units": "metric", "blades": 11, "lead": reading, "trail": reading });
        if let (Some(input), Some(more)) = (input.as_object_mut(), more.as_object()) {
            input.extend(more.clone());
        }
        number(&calc("tape", input), "/diameter/lead")
    };
    let warm = with(json!({}));
    let at_reference = with(json!({ "reel_temperature": reel, "tape_temperature": 20 }));
    (warm / at_reference - 1.0) * 100.0
}

/// ΔL = L·α·ΔT, computed: 50 mm by 1 K 0.575 µm, 100 mm by 10 K 11.5 µm, 500 mm by 5 K 28.75 µm, 762 mm by 10 K 87.63 µm.
/// No reel is 500 mm, but each grows by the same share.
#[test]
fn growth_of_steel() {
    for (length, kelvin, grown) in
        [(50.0, 1.0, 0.000_575), (100.0, 10.0, 0.011_5), (500.0, 5.0, 0.028_75), (762.0, 10.0, 0.087_63)]
    {
        near(growth_of_100(120.0, 20.0 + kelvin) * length / 100.0, grown, 1e-10);
        near(growth_of_100(200.0, 20.0 - kelvin) * length / 100.0, -grown, 1e-10);
    }
    // 87.63 µm are 0.00345 in.
    near(growth_of_100(120.0, 30.0) * 7.62 / 25.4, 0.003_45, 5e-6);
}

/// A tape as warm as the reel, and no temperature at all, say the same.
#[test]
fn a_tape_as_warm_as_the_reel() {
    let of = |more: &str| {
        let text = format!(r#"{{"units": "metric", "blades": 11, "lead": 127, "trail": 127{more}}}"#);
        number(&calc("tape", text.parse().expect("JSON")), "/diameter/lead")
    };
    near(of(r#", "reel_temperature": 35"#), of(""), 1e-12);
    near(of(r#", "reel_temperature": 35, "tape_temperature": 35"#), of(""), 1e-12);
}
