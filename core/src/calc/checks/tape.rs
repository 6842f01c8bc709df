use super::{inch, near, prints_as, refused};
use crate::bench::{End, LimitBasis};
use crate::calc::CalcError;
use crate::calc::tape::{STEEL_PER_KELVIN, TapeInput, tape};
use crate::quantity::{Length, Temperature};
use proptest::prelude::*;
use std::f64::consts::PI;

fn input(blades: u32, lead: Length, trail: Length) -> TapeInput {
    TapeInput {
        blades,
        lead,
        trail,
        centre: None,
        land: None,
        reel_temperature: None,
        tape_temperature: None,
        wear_limit: None,
        limit_basis: LimitBasis::Caliper,
        new_diameter: None,
    }
}

/// Worked example, common practice.
#[test]
fn eleven_tips_with_and_without_lands() {
    let sharp = tape(&input(11, inch(5.000), inch(5.000))).unwrap();
    prints_as(sharp.diameter.lead, "5.0686");
    let lands = TapeInput { land: Some(inch(0.040)), ..input(11, inch(5.000), inch(5.000)) };
    prints_as(tape(&lands).unwrap().diameter.lead, "5.0630");
}

/// Worked example, common practice: zero on the leading end, target +0.020 at the trailing one.
#[test]
fn zero_end_and_target() {
    let coned = tape(&input(11, inch(5.020), inch(5.000))).unwrap();
    assert_eq!(coned.zero_end, End::Lead);
    near(coned.cone.inches(), 0.020, 1e-14);
    near(coned.target.inches(), 0.020, 1e-14);
    let other_way = tape(&input(11, inch(5.000), inch(5.020))).unwrap();
    assert_eq!(other_way.zero_end, End::Trail);
    near(other_way.target.inches(), 0.020, 1e-14);
    assert_eq!(tape(&input(11, inch(5.0), inch(5.0))).unwrap().zero_end, End::Lead);
}

/// Perimeter of a regular polygon over that of its circle, (N/π)·sin(π/N): exact mathematics, six printed places.
#[test]
fn polygon_over_circle() {
    for (blades, ratio) in [(7, 0.966766), (8, 0.974495), (10, 0.983632), (11, 0.986461), (12, 0.988616)] {
        let reading = Length::from_mm(100.0);
        let circle = tape(&input(blades, reading, reading)).unwrap().diameter.lead;
        near((reading / circle).value(), ratio, 5e-7);
    }
}

/// The same polygon: a perimeter of 400 mm round 11 tips is a circle of 129.07147 mm, not of 127.32395.
#[test]
fn polygon_of_400_mm() {
    let reading = Length::from_mm(400.0 / PI);
    near(reading.mm(), 127.32395, 5e-6);
    near(tape(&input(11, reading, reading)).unwrap().diameter.lead.mm(), 129.07147, 5e-6);
}

/// Swyt, J. Res. NIST 99, 31 (1994): steel 11.5e-6 a kelvin, 20 °C; 100 mm grow by 11.5 µm in 10 K.
#[test]
fn expansion_of_steel() {
    let hundred = Length::from_mm(100.0);
    for (length_mm, kelvins, grown_mm) in [(50.0, 1.0, 0.000_575), (500.0, 5.0, 0.028_75), (762.0, 10.0, 0.087_63)] {
        near(length_mm * STEEL_PER_KELVIN * kelvins, grown_mm, 1e-12);
    }
    let at = |reel: f64, tape_at: Option<f64>| {
        let warm = TapeInput {
            reel_temperature: Some(Temperature::from_celsius(reel)),
            tape_temperature: tape_at.map(Temperature::from_celsius),
            ..input(11, hundred, hundred)
        };
        tape(&warm).unwrap().diameter.lead.mm()
    };
    let cold = tape(&input(11, hundred, hundred)).unwrap().diameter.lead.mm();
    // A tape at 20 °C on a reel at 30 °C shows a diameter that is 11.5 µm in 100 mm too large.
    near(at(30.0, Some(20.0)), cold / (1.0 + 115e-6), 1e-10);
    near(at(20.0, Some(30.0)), cold * (1.0 + 115e-6), 1e-10);
    // A thin tape takes the reel's temperature, and then nothing is to be corrected.
    near(at(35.0, None), cold, 1e-12);
    let alone = TapeInput { tape_temperature: Some(Temperature::from_celsius(25.0)), ..input(11, hundred, hundred) };
    refused(tape(&alone), "reel_temperature");
}

#[test]
fn wear_on_the_basis_of_the_limit() {
    let of = |limit_basis| TapeInput {
        centre: Some(inch(4.95)),
        wear_limit: Some(inch(4.8)),
        new_diameter: Some(inch(5.2)),
        limit_basis,
        ..input(11, inch(5.02), inch(5.0))
    };
    let read = tape(&of(LimitBasis::Tape)).unwrap();
    near(read.wear_used.unwrap().value(), 0.25 / 0.4, 1e-12);
    near(read.barrel.unwrap().inches(), -0.06, 1e-12);
    let circle = tape(&of(LimitBasis::Caliper)).unwrap();
    let smallest = circle.diameter.centre.unwrap();
    near(circle.wear_used.unwrap().value(), (5.2 - smallest.inches()) / 0.4, 1e-12);
    let worn_out = TapeInput { lead: inch(4.7), ..of(LimitBasis::Tape) };
    assert!(tape(&worn_out).unwrap().wear_used.unwrap().value() > 1.0);
}

#[test]
fn refusals_name_the_field() {
    let good = input(11, inch(5.0), inch(5.0));
    refused(tape(&TapeInput { lead: inch(50.0), ..good }), "lead");
    refused(tape(&TapeInput { trail: inch(-5.0), ..good }), "trail");
    refused(tape(&TapeInput { centre: Some(Length::from_mm(f64::NAN)), ..good }), "centre");
    refused(tape(&TapeInput { lead: Length::from_mm(f64::INFINITY), ..good }), "lead");
    refused(tape(&TapeInput { blades: 2, ..good }), "blades");
    refused(tape(&TapeInput { land: Some(inch(-0.01)), ..good }), "land");
    let reversed = TapeInput { wear_limit: Some(inch(5.2)), new_diameter: Some(inch(5.0)), ..good };
    refused(tape(&reversed), "wear_limit");
    let wide = TapeInput { blades: 30, land: Some(inch(0.45)), lead: inch(4.0), trail: inch(4.0), ..good };
    let error = tape(&wide).unwrap_err();
    assert!(matches!(error, CalcError::Contradicts { .. }), "{error}");
    refused(Err::<(), _>(error), "land");
}

proptest! {
    /// The answer, put back into the equation it was solved from, gives the reading.
    #[test]
    fn solves_its_equation(blades in 3_u32..=30, diameter in 60.0..380.0_f64, share in 0.0..0.95_f64) {
        let land = (diameter * PI / f64::from(blades) * share).min(12.7);
        let tips = f64::from(blades);
        let reading = tips / PI * (land + diameter * (PI / tips - land / diameter).sin());
        prop_assume!((25.0..=400.0).contains(&reading));
        let reading = Length::from_mm(reading);
        let solved = tape(&TapeInput { land: Some(Length::from_mm(land)), ..input(blades, reading, reading) }).unwrap();
        prop_assert!((solved.diameter.lead.mm() - diameter).abs() < 1e-9 * diameter, "{:?}", solved.diameter);
    }

    /// A tape lies inside the tip circle and outside the polygon, and a wider land brings it nearer to the circle.
    #[test]
    fn lands_fill_the_circle(blades in 3_u32..=30, reading in 60.0..380.0_f64, narrow in 0.0..3.0_f64, more in 0.0..3.0_f64) {
        prop_assume!(narrow + more < reading * PI / f64::from(blades) * 0.99);
        let reading = Length::from_mm(reading);
        let of = |land: f64| {
            tape(&TapeInput { land: Some(Length::from_mm(land)), ..input(blades, reading, reading) }).unwrap().diameter.lead
        };
        let (sharp, wide) = (of(narrow), of(narrow + more));
        prop_assert!(wide <= sharp + Length::from_mm(1e-9) && wide >= reading);
    }
}
