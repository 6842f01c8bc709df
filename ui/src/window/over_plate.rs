//! A unit on its plate, seen from the operator's side: the bedknife's edge, and the reel over it. Outlines as in
//! [`super::draw`].

use super::draw::{blades, path};
use super::generated::{EdgeDrawing, PlateDrawing};
use super::sections::{DASH, DASH_DOT, Point, dimension};
use slint::SharedString;

/// How much of the picture's height an error of 1 lifts an end.
const EDGE_OF_HEIGHT: f32 = 0.15;
const PLATE_OF_HEIGHT: f32 = 0.10;
/// Where the gauges stand, of the picture's width.
const STATIONS: [f32; 2] = [0.27, 0.73];

fn polygon(corners: &[Point]) -> SharedString {
    path(|pen| {
        pen.polygon(corners);
    })
}

/// Lines from the plate up to the edge at both stations, and their heads.
fn gauges(width: f32, foot: f32, at: impl Fn(f32) -> f32) -> (SharedString, SharedString) {
    let [left, right] = STATIONS.map(|part| dimension((width * part, foot), (width * part, at(width * part))));
    (left.0 + &right.0, left.1 + &right.1)
}

/// The rear roller's outline behind, standing on the plate.
fn roller(width: f32, height: f32, foot: f32) -> SharedString {
    let (left, right, top) = (width * 0.06, width * 0.94, foot - height * 0.13);
    polygon(&[(left, top), (right, top), (right, foot), (left, foot)])
}

/// The bedknife's edge with the errors at both stations exaggerated about the height that is wanted.
pub(super) fn edge(width: f32, height: f32, left: f32, right: f32) -> EdgeDrawing {
    let (wanted, foot) = (height * 0.53, height * 0.93);
    let lift = |error: f32| error.clamp(-1.0, 1.0) * EDGE_OF_HEIGHT * height;
    let (low, high) = (width * STATIONS[0], width * STATIONS[1]);
    let at = |x: f32| wanted - lift(left) - (lift(right) - lift(left)) * (x - low) / (high - low);
    let (from, to, thick) = (width * 0.09, width * 0.91, height * 0.10);
    let (gauges, gauge_heads) = gauges(width, foot, at);
    EdgeDrawing {
        bar: polygon(&[(from, at(from)), (to, at(to)), (to, at(to) - thick), (from, at(from) - thick)]),
        edge: path(|pen| {
            pen.line((from, at(from)), (to, at(to)));
        }),
        wanted: path(|pen| {
            pen.dashes((width * 0.02, wanted), (width * 0.98, wanted), &DASH);
        }),
        plates: path(|pen| {
            for part in [0.075, 0.895] {
                let (x, up) = (width * part, height * 0.20);
                pen.polygon(&[
                    (x, up),
                    (x + width * 0.03, up),
                    (x + width * 0.03, foot - height * 0.065),
                    (x, foot - height * 0.065),
                ]);
            }
        }),
        roller: roller(width, height, foot),
        gauges,
        gauge_heads,
        left_y: at(low),
        right_y: at(high),
    }
}

/// Bedknife and reel over the plate; what the right has more than the left is exaggerated, beside its limit.
pub(super) fn plate(width: f32, height: f32, edge: f32, gap: f32, limit: f32) -> PlateDrawing {
    let lift = |part: f32| part.clamp(-1.0, 1.0) * PLATE_OF_HEIGHT * height;
    let (foot, level, nominal) = (height * 0.93, height * 0.62, height * 0.13);
    let (from, to) = (width * 0.08, width * 0.86);
    let part_of = |x: f32| (x - from) / (to - from);
    let edge_y = |x: f32| level - lift(edge) * part_of(x);
    let reel_y = |x: f32| edge_y(x) - (nominal + lift(gap) * part_of(x)).max(height * 0.01);
    let (drum_from, drum_to, drum) = (width * 0.12, width * 0.84, height * 0.26);
    let corner = |x: f32, dy: f32| (x, reel_y(x) - drum / 2.0 + dy);
    let band = |middle: f32| {
        let (left, right, half) = (width * 0.875, width * 0.985, lift(limit).max(1.0));
        polygon(&[(left, middle - half), (right, middle - half), (right, middle + half), (left, middle + half)])
    };
    let (gauges, gauge_heads) = gauges(width, foot, edge_y);
    let thick = height * 0.09;
    PlateDrawing {
        bar: polygon(&[(from, edge_y(from)), (to, edge_y(to)), (to, edge_y(to) + thick), (from, edge_y(from) + thick)]),
        // Out to the limit's band, so that the eye sees on which side of it the end lies.
        edge: path(|pen| {
            pen.line((from, edge_y(from)), (width * 0.985, edge_y(to)));
        }),
        edge_level: path(|pen| {
            pen.dashes((from, level), (width * 0.985, level), &DASH);
        }),
        edge_band: band(level),
        drum: polygon(&[
            corner(drum_from, -drum / 2.0),
            corner(drum_to, -drum / 2.0),
            corner(drum_to, drum / 2.0),
            corner(drum_from, drum / 2.0),
        ]),
        blades: blades(drum_from, drum_to, drum / 2.0, &corner),
        axis: path(|pen| {
            let (left, right) = (width * 0.03, width * 0.86);
            pen.dashes(corner(left, 0.0), corner(right, 0.0), &DASH_DOT);
        }),
        reel_level: path(|pen| {
            pen.line((drum_to, reel_y(drum_to)), (width * 0.985, reel_y(to)));
        }),
        gap_band: band(edge_y(to) - nominal),
        gauges,
        gauge_heads,
        roller: roller(width, height, foot),
        left_edge_y: level,
        right_edge_y: edge_y(to),
    }
}

#[cfg(test)]
mod tests {
    use super::super::draw::numbers;
    use super::*;

    #[test]
    fn an_end_that_is_too_high_lies_above_the_wanted_height() {
        let drawn = edge(700.0, 300.0, -0.5, 0.4);
        let wanted = numbers(&drawn.wanted)[1];
        assert!(drawn.left_y > wanted + 10.0 && drawn.right_y < wanted - 10.0, "y runs down the picture");
    }

    #[test]
    fn a_wider_gap_at_the_right_leaves_its_band_when_it_is_beyond_the_limit() {
        let span = |path: &SharedString| {
            let ys: Vec<_> = numbers(path).chunks(2).map(|point| point[1]).collect();
            (ys.iter().copied().fold(f32::MAX, f32::min), ys.iter().copied().fold(f32::MIN, f32::max))
        };
        for (gap, within) in [(0.5, false), (0.2, true), (-0.2, true), (-0.5, false)] {
            let drawn = plate(700.0, 300.0, 0.1, gap, 0.33);
            let (high, low) = span(&drawn.gap_band);
            let end = numbers(&drawn.reel_level)[3];
            assert_eq!((high..=low).contains(&end), within, "{gap}: {end} in {high}..{low}");
        }
    }

    #[test]
    fn what_stands_on_the_plate_stays_inside_its_picture() {
        for error in [-1.0, 0.0, 1.0] {
            let (e, p) = (edge(700.0, 300.0, error, -error), plate(700.0, 300.0, error, error, 0.4));
            for outline in [&e.bar, &e.plates, &e.gauges, &p.bar, &p.drum, &p.edge_band, &p.gap_band, &p.axis] {
                let inside =
                    numbers(outline).chunks(2).all(|p| (0.0..=700.0).contains(&p[0]) && (0.0..=300.0).contains(&p[1]));
                assert!(inside, "{error}: {outline}");
            }
        }
    }
}
