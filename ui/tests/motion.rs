//! What moved is seen to move, and nothing moves for whoever asked for that (WCAG 2.2, 2.3.3, 2023: motion from an
//! interaction can be turned off).

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::bench::{Bench, pose, wait};
use image::RgbaImage;
use sparkout_ui::screen::{Body, Language, Screen};

/// Before its end, and after its begin: the theme's motions take 200 to 300 ms.
const MIDDLE_MS: u64 = 130;
const AT_REST_MS: u64 = 600;

fn sample(name: &str) -> Screen {
    let all = crate::samples::all(Language::English);
    all.into_iter().find(|(sample, _)| *sample == name).expect("a sample").1
}

/// The pictures at the change's begin, in its middle and at its end.
fn changing(reduced: bool, from: &Screen, to: &Screen) -> [RgbaImage; 3] {
    let bench = Bench::new(1280.0, 800.0);
    bench.window.set_reduced_motion(reduced);
    bench.show(from);
    // Only what was drawn once has a place to move from.
    pose::picture(&bench.window);
    wait(AT_REST_MS);
    wait(AT_REST_MS);
    pose::picture(&bench.window);
    bench.window.show_screen(to);
    pose::picture(&bench.window);
    // What is made anew with the screen starts to move with the first beat of its timer.
    wait(2);
    let begin = pose::picture(&bench.window);
    wait(MIDDLE_MS);
    let middle = pose::picture(&bench.window);
    wait(AT_REST_MS);
    wait(AT_REST_MS);
    [begin, middle, pose::picture(&bench.window)]
}

/// A part of the window, in fractions of it.
fn part(picture: &RgbaImage, x: (f32, f32), y: (f32, f32)) -> RgbaImage {
    let (width, height) = (picture.width() as f32, picture.height() as f32);
    let (left, top) = ((x.0 * width) as u32, (y.0 * height) as u32);
    let size = (((x.1 - x.0) * width) as u32, ((y.1 - y.0) * height) as u32);
    image::imageops::crop_imm(picture, left, top, size.0, size.1).to_image()
}

fn moves(from: &Screen, to: &Screen, x: (f32, f32), y: (f32, f32)) {
    let [begin, middle, end] = changing(false, from, to).map(|picture| part(&picture, x, y));
    assert!(begin != middle && middle != end && begin != end, "it moves on the way from the old to the new");
    let [begin, middle, end] = changing(true, from, to).map(|picture| part(&picture, x, y));
    assert!(begin == middle && middle == end, "with reduced motion it stands where it belongs at once");
}

/// The drawing between the captions and the rounds, left of the hand's column.
const PICTURE: ((f32, f32), (f32, f32)) = ((0.02, 0.55), (0.52, 0.72));
/// The dial at the head of the hand's column.
const DIAL: ((f32, f32), (f32, f32)) = ((0.6, 0.98), (0.09, 0.5));

#[test]
fn the_unit_tilts_to_its_new_position_when_a_reading_comes_in() {
    let to = sample("23-front-adjust");
    let mut from = to.clone();
    let Body::Front(front) = &mut from.body else { panic!("Front") };
    front.picture_tilt = -0.8;
    moves(&from, &to, PICTURE.0, PICTURE.1);
}

#[test]
fn the_dial_s_hand_goes_to_the_reading() {
    // The keypad stood there: the dial is new, and its hand comes from zero.
    moves(&sample("22-front-second"), &sample("23-front-adjust"), DIAL.0, DIAL.1);
}

#[test]
fn the_rear_roller_and_its_indicators_move() {
    moves(&sample("31-rear-second"), &sample("32-rear-adjust"), PICTURE.0, (0.35, 0.7));
}

#[test]
fn the_reel_s_profile_changes_its_shape() {
    let to = sample("14-tape-done");
    let mut from = to.clone();
    let Body::Tape(tape) = &mut from.body else { panic!("Tape") };
    tape.profile = [-0.5, 0.0, 0.5];
    moves(&from, &to, PICTURE.0, (0.35, 0.6));
}

#[test]
fn reel_and_bedknife_go_to_where_they_were_found_on_the_plate() {
    moves(&sample("66-plate-beyond"), &sample("66-plate-proven"), PICTURE.0, (0.40, 0.7));
}

#[test]
fn the_bedknife_s_edge_goes_to_its_new_height() {
    let to = sample("65-height-adjust");
    let mut from = to.clone();
    let Body::Height(height) = &mut from.body else { panic!("Height") };
    height.drawn.left = 0.5;
    height.drawn.right = -0.5;
    moves(&from, &to, PICTURE.0, (0.5, 0.75));
}

#[test]
fn the_wheel_head_travels_along_the_rail() {
    let from = sample("14-tape-done");
    let to = sample("20-front-zero");
    moves(&from, &to, (0.1, 0.9), (0.885, 0.99));
}

#[test]
fn every_motion_ends_within_three_tenths_of_a_second() {
    let bench = Bench::new(1280.0, 800.0);
    let to = sample("23-front-adjust");
    bench.show(&sample("22-front-second"));
    pose::picture(&bench.window);
    wait(AT_REST_MS);
    bench.window.show_screen(&to);
    pose::picture(&bench.window);
    wait(2);
    pose::picture(&bench.window);
    wait(300);
    let early = pose::picture(&bench.window);
    wait(AT_REST_MS);
    assert!(early == pose::picture(&bench.window));
}
