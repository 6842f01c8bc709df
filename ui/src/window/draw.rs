//! Outlines as SVG path commands, in pixels of the drawing.
//!
//! The software renderer turns no items, so what is tilted is drawn as a path. The numbers are written here, not in
//! Slint expressions: those use the language's decimal sign, and `1,5` in a path is two numbers.

use super::generated::{DialDrawing, Draw, ProfileDrawing, RollerDrawing, UnitDrawing};
use slint::SharedString;
use std::f32::consts::TAU;
use std::fmt::Write as _;

/// How much of the picture's height a full tilt of 1 lifts one end over the other.
const TILT_OF_HEIGHT: f32 = 0.22;

/// The same for the rear roller, over which the indicators stand.
const ROLLER_TILT_OF_HEIGHT: f32 = 0.16;

/// A path under construction.
#[derive(Default)]
pub(super) struct Pen(String);

impl Pen {
    pub(super) fn to(&mut self, command: char, points: &[(f32, f32)]) -> &mut Self {
        self.0.push(command);
        for (x, y) in points {
            // Writing to a String cannot fail.
            let _ = write!(self.0, " {x:.2} {y:.2}");
        }
        self.0.push(' ');
        self
    }

    pub(super) fn line(&mut self, from: (f32, f32), to: (f32, f32)) -> &mut Self {
        self.to('M', &[from]).to('L', &[to])
    }

    pub(super) fn polygon(&mut self, corners: &[(f32, f32)]) -> &mut Self {
        if let [first, rest @ ..] = corners {
            self.to('M', &[*first]).to('L', rest).to('Z', &[]);
        }
        self
    }

    /// A line of dashes; `pattern` is drawn, skipped, drawn, skipped … in pixels.
    pub(super) fn dashes(&mut self, from: (f32, f32), to: (f32, f32), pattern: &[f32]) -> &mut Self {
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let length = dx.hypot(dy);
        if length <= 0.0 || pattern.iter().sum::<f32>() <= 0.0 {
            return self;
        }
        let at = |distance: f32| (from.0 + dx * distance / length, from.1 + dy * distance / length);
        let mut start = 0.0;
        for (index, step) in pattern.iter().cycle().enumerate() {
            if start >= length {
                break;
            }
            let end = (start + step).min(length);
            if index % 2 == 0 {
                self.line(at(start), at(end));
            }
            start = end;
        }
        self
    }

    fn done(self) -> SharedString {
        self.0.into()
    }
}

pub(super) fn path(build: impl FnOnce(&mut Pen)) -> SharedString {
    let mut pen = Pen::default();
    build(&mut pen);
    pen.done()
}

/// A unit on its rails: drum, blades, side plates and axis tilted together about the middle of the picture.
///
/// `tilt` is the rise of the operator's right end over the left, −1 to 1.
fn unit(width: f32, height: f32, tilt: f32) -> UnitDrawing {
    let lift = tilt.clamp(-1.0, 1.0) * TILT_OF_HEIGHT * height;
    let middle_y = height * 0.40;
    let half = height * 0.22;
    let (left, right) = (width * 0.13, width * 0.87);
    let axis_y = |x: f32| middle_y - lift * ((x - left) / (right - left) - 0.5);
    // Plates stand square to the axis.
    let slope = -lift / (right - left);
    let plate = |x: f32, down: f32| {
        let (w, up) = (width * 0.014, half * 1.28);
        let y = axis_y(x);
        let corner = |dx: f32, dy: f32| (x + dx - dy * slope, y + dy + dx * slope);
        path(|pen| {
            pen.polygon(&[corner(-w, -up), corner(w, -up), corner(w, down), corner(-w, down)]);
        })
    };
    let corner = |x: f32, dy: f32| (x - dy * slope, axis_y(x) + dy);
    let drum = path(|pen| {
        pen.polygon(&[corner(left, -half), corner(right, -half), corner(right, half), corner(left, half)]);
    });
    UnitDrawing {
        drum,
        blades: blades(left, right, half, &corner),
        blades_thin: path(|pen| {
            for part in [-0.55_f32, 0.55] {
                pen.line(corner(left, half * part), corner(right, half * part));
            }
        }),
        left_plate: plate(left, height * 0.34),
        right_plate: plate(right, height * 0.34),
        axis: path(|pen| {
            let (from, to) = (left - width * 0.06, right + width * 0.06);
            pen.dashes((from, axis_y(from)), (to, axis_y(to)), &[18.0, 6.0, 4.0, 6.0]);
        }),
        datum: path(|pen| {
            pen.dashes((left - width * 0.06, middle_y), (right + width * 0.06, middle_y), &[6.0, 7.0]);
        }),
        left_axis_y: axis_y(left),
        right_axis_y: axis_y(right),
    }
}

/// Seven blades that wind once round the drum's visible half.
pub(super) fn blades(left: f32, right: f32, half: f32, corner: &impl Fn(f32, f32) -> (f32, f32)) -> SharedString {
    const SHOWN: i16 = 7;
    let pitch = (right - left) / f32::from(SHOWN);
    path(|pen| {
        for blade in -1..SHOWN {
            let start = left + pitch * (f32::from(blade) + 0.15);
            let mut drawing = false;
            for step in 0..=12_i16 {
                let turn = f32::from(step) / 12.0;
                let x = start + turn * pitch * 1.5;
                let dy = -half * (turn * std::f32::consts::PI).cos();
                if x < left || x > right {
                    drawing = false;
                    continue;
                }
                pen.to(if drawing { 'L' } else { 'M' }, &[corner(x, dy)]);
                drawing = true;
            }
        }
    })
}

/// A rear roller with its axis, tilted about the middle.
fn rear_roller(width: f32, height: f32, tilt: f32) -> RollerDrawing {
    let lift = tilt.clamp(-1.0, 1.0) * ROLLER_TILT_OF_HEIGHT * height;
    let (left, right, half, middle) = (width * 0.10, width * 0.90, height * 0.11, height * 0.56);
    let y = |x: f32| middle - lift * ((x - left) / (right - left) - 0.5);
    let corner = |x: f32, dy: f32| (x, y(x) + dy);
    RollerDrawing {
        roller: path(|pen| {
            pen.polygon(&[corner(left, -half), corner(right, -half), corner(right, half), corner(left, half)]);
        }),
        axis: path(|pen| {
            let (from, to) = (left - width * 0.07, right + width * 0.07);
            pen.dashes((from, y(from)), (to, y(to)), &[18.0, 6.0, 4.0, 6.0]);
        }),
        datum: path(|pen| {
            pen.dashes((left - width * 0.07, middle - half), (right + width * 0.07, middle - half), &[6.0, 7.0]);
        }),
        left_y: y(left) - half,
        right_y: y(right) - half,
    }
}

/// A reel lying across, its radius exaggerated at left, middle and right (each −1 to 1).
fn profile(width: f32, height: f32, left: f32, middle: f32, right: f32) -> ProfileDrawing {
    let (from, to, axis) = (width * 0.06, width * 0.94, height * 0.5);
    let nominal = height * 0.32;
    let radius = |excess: f32| nominal + excess.clamp(-1.0, 1.0) * height * 0.14;
    let centre = (from + to) / 2.0;
    // The curve must pass through the middle's radius, so the control point lies as far again beyond it.
    let bow = 2.0 * radius(middle) - (radius(left) + radius(right)) / 2.0;
    let body = path(|pen| {
        pen.to('M', &[(from, axis - radius(left))])
            .to('Q', &[(centre, axis - bow), (to, axis - radius(right))])
            .to('L', &[(to, axis + radius(right))])
            .to('Q', &[(centre, axis + bow), (from, axis + radius(left))])
            .to('Z', &[]);
    });
    let at = |x: f32| {
        let t = (x - from) / (to - from);
        (1.0 - t).powi(2) * radius(left) + 2.0 * t * (1.0 - t) * bow + t.powi(2) * radius(right)
    };
    ProfileDrawing {
        body,
        blades: blades(from, to, 1.0, &|x, dy| (x, axis + dy * at(x))),
        axis: path(|pen| {
            pen.dashes((0.0, axis), (width, axis), &[18.0, 6.0, 4.0, 6.0]);
        }),
        nominal: path(|pen| {
            pen.dashes((from, axis - nominal), (to, axis - nominal), &[6.0, 7.0]);
            pen.dashes((from, axis + nominal), (to, axis + nominal), &[6.0, 7.0]);
        }),
    }
}

/// A point at `turn` turns clockwise from the top.
fn around(x: f32, y: f32, radius: f32, turn: f32) -> (f32, f32) {
    let angle = turn * TAU;
    (x + radius * angle.sin(), y - radius * angle.cos())
}

/// A circular arc as short chords: good to a tenth of a pixel at the sizes drawn here.
fn arc(x: f32, y: f32, radius: f32, start: f32, sweep: f32) -> SharedString {
    const STEPS: i16 = 72;
    path(|pen| {
        if sweep.abs() < 1e-4 {
            return;
        }
        let point = |step: i16| around(x, y, radius, start + sweep * f32::from(step) / f32::from(STEPS));
        pen.to('M', &[point(0)]);
        for step in 1..=STEPS {
            pen.to('L', &[point(step)]);
        }
    })
}

/// The head of an arrow at the end of an arc.
fn arc_head(x: f32, y: f32, radius: f32, start: f32, sweep: f32, size: f32) -> SharedString {
    let end = start + sweep;
    let along = size / (radius * TAU) * sweep.signum();
    path(|pen| {
        pen.polygon(&[
            around(x, y, radius - size * 0.75, end),
            around(x, y, radius + size * 0.75, end),
            around(x, y, radius - size * 0.12, end + along * 1.4),
        ]);
    })
}

/// A regular polygon standing on a corner.
fn polygon(corners: i32, x: f32, y: f32, radius: f32) -> SharedString {
    let count = i16::try_from(corners.clamp(3, 24)).unwrap_or(3);
    let points: Vec<_> = (0..count).map(|n| around(x, y, radius, f32::from(n) / f32::from(count))).collect();
    path(|pen| {
        pen.polygon(&points);
    })
}

/// Ticks of a dial: one hundred, every tenth long.
fn dial(diameter: f32) -> DialDrawing {
    let centre = diameter / 2.0;
    let ticks = |keep: fn(i16) -> bool, inner: f32| {
        path(|pen| {
            for tick in (0..100_i16).filter(|tick| keep(*tick)) {
                let turn = f32::from(tick) / 100.0;
                pen.line(
                    around(centre, centre, diameter * inner, turn),
                    around(centre, centre, diameter * 0.455, turn),
                );
            }
        })
    };
    DialDrawing { minor: ticks(|tick| tick % 2 == 0, 0.425), major: ticks(|tick| tick % 10 == 0, 0.39) }
}

fn dial_hand(diameter: f32, turn: f32) -> SharedString {
    let centre = diameter / 2.0;
    path(|pen| {
        pen.polygon(&[
            around(centre, centre, diameter * 0.40, turn),
            around(centre, centre, diameter * 0.035, turn + 0.25),
            around(centre, centre, diameter * 0.12, turn + 0.5),
            around(centre, centre, diameter * 0.035, turn + 0.75),
        ]);
    })
}

/// The target: a triangle outside the ticks that points inward.
fn dial_mark(diameter: f32, turn: f32) -> SharedString {
    let centre = diameter / 2.0;
    path(|pen| {
        pen.polygon(&[
            around(centre, centre, diameter * 0.39, turn),
            around(centre, centre, diameter * 0.498, turn - 0.022),
            around(centre, centre, diameter * 0.498, turn + 0.022),
        ]);
    })
}

/// Where the reel will lie: its outline dashed, level, and so much higher.
fn predicted(width: f32, height: f32, lift: f32) -> SharedString {
    let (left, right, half) = (width * 0.13, width * 0.87, height * 0.22);
    let middle = height * 0.40 - lift.clamp(-1.0, 1.0) * TILT_OF_HEIGHT * height;
    let corners = [(left, middle - half), (right, middle - half), (right, middle + half), (left, middle + half)];
    path(|pen| {
        for (index, corner) in corners.iter().enumerate() {
            pen.dashes(*corner, corners[(index + 1) % corners.len()], &[9.0, 6.0]);
        }
    })
}

/// A round's tilt in small: a bar over the level.
fn tilt_bar(width: f32, height: f32, tilt: f32) -> SharedString {
    let (lift, middle) = (tilt.clamp(-1.0, 1.0) * height * 0.7, height / 2.0);
    path(|pen| {
        pen.line((0.0, middle + lift / 2.0), (width, middle - lift / 2.0));
    })
}

/// Answers the pure callbacks of `draw.slint`.
pub(super) fn connect(draw: &Draw<'_>) {
    draw.on_unit(unit);
    draw.on_rear_roller(rear_roller);
    draw.on_predicted(predicted);
    draw.on_tilt_bar(tilt_bar);
    draw.on_profile(profile);
    draw.on_arc(arc);
    draw.on_arc_head(arc_head);
    draw.on_polygon(polygon);
    draw.on_dial(dial);
    draw.on_dial_hand(dial_hand);
    draw.on_dial_mark(dial_mark);
    draw.on_dashed(|x1, y1, x2, y2, dash, gap| {
        path(|pen| {
            pen.dashes((x1, y1), (x2, y2), &[dash, gap]);
        })
    });
}

/// The numbers of a path, in order.
#[cfg(test)]
pub(super) fn numbers(path: &str) -> Vec<f32> {
    path.split_whitespace()
        .map(|word| word.trim_start_matches(|c: char| c.is_ascii_alphabetic()))
        .filter_map(|word| word.parse().ok())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_level_unit_has_its_axis_on_the_datum_and_a_raised_right_end_is_higher_on_the_picture() {
        let level = unit(700.0, 300.0, 0.0);
        assert!((level.left_axis_y - level.right_axis_y).abs() < 1e-3);
        let raised = unit(700.0, 300.0, 1.0);
        assert!(raised.right_axis_y < raised.left_axis_y - 60.0, "y runs down the picture");
        let beyond = unit(700.0, 300.0, 5.0);
        assert!((beyond.right_axis_y - raised.right_axis_y).abs() < 1e-3, "more than the most that is drawn");
    }

    #[test]
    fn what_is_predicted_is_level_and_lies_higher_when_the_reel_will() {
        let (level, raised) = (numbers(&predicted(700.0, 300.0, 0.0)), numbers(&predicted(700.0, 300.0, 0.5)));
        assert!((level[1] - level[3]).abs() < 1e-3, "its upper edge is level");
        assert!(raised[1] < level[1] - 30.0, "y runs down the picture");
    }

    #[test]
    fn outlines_stay_inside_their_picture() {
        for tilt in [-1.0, -0.3, 0.0, 1.0] {
            let drawing = unit(700.0, 300.0, tilt);
            for outline in [&drawing.drum, &drawing.blades, &drawing.left_plate, &drawing.right_plate, &drawing.axis] {
                let numbers = numbers(outline);
                assert!(!numbers.is_empty());
                assert!(numbers.chunks(2).all(|p| (0.0..=700.0).contains(&p[0]) && (0.0..=300.0).contains(&p[1])));
            }
        }
    }

    #[test]
    fn a_cone_is_drawn_larger_at_its_larger_end_and_passes_through_the_middle() {
        let drawing = profile(100.0, 100.0, 1.0, 0.0, -1.0);
        let numbers = numbers(&drawing.body);
        let (left_top, right_top) = (numbers[1], numbers[5]);
        assert!(left_top < right_top, "the larger end reaches higher");
    }

    #[test]
    fn a_quarter_of_a_turn_clockwise_from_the_top_is_to_the_right() {
        let (x, y) = around(50.0, 50.0, 10.0, 0.25);
        assert!((x - 60.0).abs() < 1e-3 && (y - 50.0).abs() < 1e-3);
        assert!(arc(0.0, 0.0, 1.0, 0.0, 0.0).is_empty());
    }

    #[test]
    fn dashes_end_where_the_line_ends() {
        let drawn = path(|pen| {
            pen.dashes((0.0, 0.0), (25.0, 0.0), &[10.0, 10.0]);
        });
        assert_eq!(drawn, "M 0.00 0.00 L 10.00 0.00 M 20.00 0.00 L 25.00 0.00 ");
    }
}
