//! Sections: what stands in the way of the eye cut across, as an engineer draws it. Outlines as in [`super::draw`].

use super::draw::{Pen, path};
use super::generated::{FingerDrawing, KnifeDrawing, LandDrawing, LapDrawing, SectionDraw};
use super::over_plate;
use slint::SharedString;
use std::f32::consts::{FRAC_PI_2, PI, TAU};

/// A point of a drawing, pixels.
pub(super) type Point = (f32, f32);

/// Of an axis, and of everything that is only thought.
pub(super) const DASH_DOT: [f32; 4] = [18.0, 6.0, 4.0, 6.0];
pub(super) const DASH: [f32; 2] = [9.0, 6.0];

/// Angles of a bedknife are a few degrees: drawn as many times as large, or no eye sees them.
const KNIFE_ANGLES: f32 = 2.0;

/// At `angle` radians from straight down, counted to the right, on a circle about `centre`.
fn below(centre: Point, radius: f32, angle: f32) -> Point {
    (centre.0 + radius * angle.sin(), centre.1 + radius * angle.cos())
}

fn along(from: Point, to: Point, part: f32) -> Point {
    (from.0 + (to.0 - from.0) * part, from.1 + (to.1 - from.1) * part)
}

fn arc(pen: &mut Pen, centre: Point, radius: f32, from: f32, to: f32) {
    const STEPS: i16 = 48;
    for step in 0..=STEPS {
        let angle = from + (to - from) * f32::from(step) / f32::from(STEPS);
        pen.to(if step == 0 { 'M' } else { 'L' }, &[below(centre, radius, angle)]);
    }
}

/// An arc as points, for outlines that go on.
fn arc_points(centre: Point, radius: f32, from: f32, to: f32) -> Vec<Point> {
    const STEPS: i16 = 24;
    (0..=STEPS).map(|step| below(centre, radius, from + (to - from) * f32::from(step) / f32::from(STEPS))).collect()
}

/// A dimension line, and the heads at both its ends.
pub(super) fn dimension(from: Point, to: Point) -> (SharedString, SharedString) {
    let length = (to.0 - from.0).hypot(to.1 - from.1);
    let line = path(|pen| {
        pen.line(from, to);
    });
    if length <= 0.0 {
        return (SharedString::new(), SharedString::new());
    }
    let size = (length * 0.4).min(12.0);
    let (dx, dy) = ((to.0 - from.0) / length, (to.1 - from.1) / length);
    let head = |tip: Point, way: f32| {
        let back = (tip.0 - dx * size * way, tip.1 - dy * size * way);
        let half = size * 0.32;
        [tip, (back.0 - dy * half, back.1 + dx * half), (back.0 + dy * half, back.1 - dx * half)]
    };
    let heads = path(|pen| {
        pen.polygon(&head(to, 1.0)).polygon(&head(from, -1.0));
    });
    (line, heads)
}

fn polygon(corners: &[Point]) -> SharedString {
    path(|pen| {
        pen.polygon(corners);
    })
}

/// A blade that ends on the tip circle: its land from `tip` on, its relief face along `relief` behind it.
fn blade(centre: Point, radius: f32, tip: f32, land: f32, relief: &[Point]) -> Vec<Point> {
    const ROOT: f32 = 0.52;
    let edge = tip + land;
    let behind = relief.first().copied().unwrap_or_else(|| below(centre, radius, tip));
    let angle = (behind.0 - centre.0).atan2(behind.1 - centre.1);
    let mut outline = relief.to_vec();
    outline.push(below(centre, radius, tip));
    outline.push(below(centre, radius, edge));
    outline.push(below(centre, radius * ROOT, edge + 0.03));
    outline.push(below(centre, radius * ROOT, angle + (edge - angle) * 0.2));
    outline
}

/// Blade on its finger over the wheel, seen from the reel's end. Both angles are drawn as they are; the wheel is as
/// large as they make it when its axis stands below the reel's.
fn finger(width: f32, height: f32, relief: f32, blade_angle: f32, blades: i32) -> FingerDrawing {
    let (alpha, beta) = (relief.clamp(5.0, 60.0).to_radians(), blade_angle.clamp(1.0, 55.0).to_radians());
    let lean = (alpha - beta).max(0.02);
    let axis = (width * 0.36, height * 0.09);
    let radius = height * 0.74;
    let tip = below(axis, radius, beta);
    let wheel_radius = (radius * beta.sin() / lean.sin()).clamp(radius * 0.4, radius * 4.0);
    let wheel = (tip.0 - wheel_radius * lean.sin(), tip.1 + wheel_radius * lean.cos());
    // On the wheel, angles are counted from its crown: PI − angle from straight down.
    let on_wheel = |angle: f32| below(wheel, wheel_radius, PI - angle);
    let land = 0.07;
    let face: Vec<_> =
        (0..=8_i16).map(|step| on_wheel(lean - 0.17 * radius / wheel_radius * (1.0 - f32::from(step) / 8.0))).collect();
    let body = blade(axis, radius, beta, land, &face);
    let pitch = TAU / f32::from(i16::try_from(blades.clamp(3, 30)).unwrap_or(3));
    let others = path(|pen| {
        for side in [-1.0, 1.0] {
            let tip = beta + side * pitch;
            if tip.abs() < 1.2 {
                let behind = [below(axis, radius * 0.985, tip - 0.16)];
                pen.polygon(&blade(axis, radius, tip, land, &behind));
            }
        }
    });
    // The wedge between tip circle and wheel opens beside the edge: there lies the finger.
    let edge = below(axis, radius, beta + land);
    let middle = beta - alpha / 2.0;
    let reach = width * 0.80 - edge.0;
    let half = (alpha * 0.3).min(0.13);
    let at = |distance: f32, turn: f32| {
        (edge.0 + distance * (middle + turn).cos(), edge.1 - distance * (middle + turn).sin())
    };
    let (neck, thick) = (reach * 0.55, reach * 0.55 * half.sin());
    let end = at(reach, 0.0);
    let dimension_y = axis.1 + radius * 0.20;
    let (line, heads) = dimension((axis.0, dimension_y), (tip.0, dimension_y));
    FingerDrawing {
        tips: path(|pen| arc(pen, axis, radius, -1.35, 1.35)),
        others,
        blade: polygon(&body),
        wheel: polygon(&arc_points(wheel, wheel_radius, PI - FRAC_PI_2, PI + FRAC_PI_2)),
        finger: polygon(&[edge, at(neck, half), (end.0, end.1 - thick), (end.0, end.1 + thick), at(neck, -half)]),
        holder: polygon(&[
            (width * 0.79, end.1 - height * 0.07),
            (width * 0.90, end.1 - height * 0.07),
            (width * 0.90, height),
            (width * 0.79, height),
        ]),
        axis: path(|pen| {
            pen.dashes((axis.0, 0.0), (axis.0, height * 0.99), &DASH_DOT);
            pen.dashes((axis.0 - height * 0.09, axis.1), (axis.0 + height * 0.09, axis.1), &DASH_DOT);
        }),
        blade_line: path(|pen| {
            pen.dashes(axis, tip, &DASH_DOT);
        }),
        angle: path(|pen| arc(pen, axis, radius * 0.44, 0.0, beta)),
        dimension: path(|pen| {
            pen.line((tip.0, dimension_y - height * 0.03), tip);
        }) + &line,
        dimension_heads: heads,
        axis_x: axis.0,
        axis_y: axis.1,
        tip_x: tip.0,
        tip_y: tip.1,
        dimension_y,
        holder_x: width * 0.845,
    }
}

/// A blade's tip in large. `land` and `mark` are of the widest that is drawn; with `comes_off` what lies between the
/// relief face and the one that leaves `mark` is metal that goes.
fn land(width: f32, height: f32, land: f32, mark: f32, relief: f32, comes_off: bool) -> LandDrawing {
    let slope = relief.clamp(5.0, 60.0).to_radians().tan();
    let (back, front) = (width * 0.16, width * 0.80);
    let (top, foot) = (height * 0.05, height * 0.64);
    let wide = |part: f32| part.clamp(0.0, 1.0) * (front - back) * 0.66;
    let face = |part: f32| {
        let from = front - wide(part);
        // The face ends in the blade's back, or where the drawing does.
        let rise = ((from - back) * slope).min((foot - top) * 0.85);
        ((from, foot), (from - rise / slope, foot - rise))
    };
    let (now, then) = (face(if land > 0.0 { land } else { mark }), face(mark));
    let lines = |part: f32, y: f32| dimension((front - wide(part), y), (front, y));
    let (measured, measured_heads) = if land > 0.0 { lines(land, height * 0.76) } else { Default::default() };
    let (marked, marked_heads) = lines(mark, height * 0.91);
    let extension = |x: f32, y: f32| {
        path(|pen| {
            pen.line((x, foot + height * 0.03), (x, y + height * 0.03));
        })
    };
    LandDrawing {
        blade: polygon(&[(front, top), (front, foot), now.0, now.1, (back, now.1.1), (back, top)]),
        coming_off: if comes_off && land > mark {
            polygon(&[now.0, then.0, then.1, (back, now.1.1), now.1])
        } else {
            SharedString::new()
        },
        face: path(|pen| {
            pen.dashes(then.0, then.1, &DASH);
        }),
        tips: path(|pen| {
            pen.dashes((width * 0.04, foot), (width * 0.96, foot), &DASH_DOT);
        }),
        measured: if land > 0.0 { measured + &extension(front - wide(land), height * 0.76) } else { measured },
        measured_heads,
        marked: marked + &extension(front, height * 0.91) + &extension(front - wide(mark), height * 0.91),
        marked_heads,
    }
}

/// A bedknife cut across: its edge at the left above, the reel's tips over it.
fn knife(width: f32, height: f32, top: f32, front: f32, thickness: f32, least: f32) -> KnifeDrawing {
    let turned = |degrees: f32| (degrees * KNIFE_ANGLES).clamp(0.0, 60.0).to_radians();
    let (top, front) = (turned(top), turned(front));
    let most = height * 0.60;
    let foot = height * 0.82;
    let thick = if thickness > 0.0 { thickness } else { least.max(0.6) }.clamp(0.1, 1.0) * most;
    let edge = (width * 0.40, foot - thick);
    let (right, fall) = (width * 0.86, top.tan());
    // The top face runs out into the level before the screws.
    let ends = (width * 0.60, edge.1 + width * 0.20 * fall.min(1.2));
    let level = ends.1.min(foot - most * 0.12);
    let recess = (front.tan() * thick).min(width * 0.16);
    let radius = height * 1.15;
    let reel = (edge.0 + radius * 0.16, edge.1 - radius * 0.987);
    let arm = width * 0.17;
    let x = width * 0.27;
    let (line, heads) = dimension((x, edge.1), (x, foot));
    KnifeDrawing {
        bar: polygon(&[
            (edge.0 + recess.max(width * 0.08), foot),
            (right + width * 0.05, foot),
            (right + width * 0.05, height * 0.97),
            (edge.0 + width * 0.16, height * 0.97),
        ]),
        knife: polygon(&[edge, (ends.0, level), (right, level), (right, foot), (edge.0 + recess, foot)]),
        screw: path(|pen| {
            pen.dashes((width * 0.74, level - height * 0.06), (width * 0.74, height * 0.99), &DASH_DOT);
        }),
        tips: path(|pen| arc(pen, reel, radius, -0.26, 0.06)),
        top_line: path(|pen| {
            pen.dashes(edge, (edge.0 + arm * 1.4, edge.1), &DASH);
        }),
        top: path(|pen| arc(pen, edge, arm, FRAC_PI_2 - top, FRAC_PI_2)),
        front_line: path(|pen| {
            pen.dashes(edge, (edge.0, foot + height * 0.06), &DASH);
        }),
        front: path(|pen| arc(pen, edge, thick * 0.8, 0.0, front)),
        thickness: path(|pen| {
            pen.line((x - width * 0.02, edge.1), (edge.0 - width * 0.015, edge.1));
            pen.line((x - width * 0.02, foot), (edge.0 + recess - width * 0.01, foot));
        }) + &line,
        thickness_heads: heads,
        least: path(|pen| {
            let y = foot - least.clamp(0.0, 1.0) * most;
            pen.dashes((x - width * 0.02, y), (edge.0 + width * 0.1, y), &DASH);
        }),
        edge_x: edge.0,
        edge_y: edge.1,
        foot_y: foot - least.clamp(0.0, 1.0) * most,
    }
}

/// A reel on the bedknife's edge, turning backwards; the brush at its handle's length.
fn lap(width: f32, height: f32) -> LapDrawing {
    const BLADES: i16 = 9;
    let radius = height * 0.33;
    let centre = (width * 0.54, height * 0.46);
    let contact = 0.16;
    let edge = below(centre, radius, contact);
    let blades = path(|pen| {
        for blade in 0..BLADES {
            let tip = contact + TAU * f32::from(blade) / f32::from(BLADES);
            for (index, part) in [1.0_f32, 0.8, 0.6, 0.4].into_iter().enumerate() {
                let lean = tip - (1.0 - part) * 0.45;
                pen.to(if index == 0 { 'M' } else { 'L' }, &[below(centre, radius * part, lean)]);
            }
        }
    });
    // Compound goes on where the blades leave the bedknife's side, above: the hand stays away.
    let touch = below(centre, radius * 1.02, -2.0);
    let hand = (width * 0.04, height * 0.34);
    let head = along(touch, hand, 0.13);
    let across = {
        let length = (hand.0 - touch.0).hypot(hand.1 - touch.1).max(1.0);
        (-(hand.1 - touch.1) / length, (hand.0 - touch.0) / length)
    };
    let beside = |point: Point, by: f32| (point.0 + across.0 * by, point.1 + across.1 * by);
    let broad = height * 0.07;
    let (from, sweep) = (-2.55_f32, -1.25_f32);
    let reach = radius * 1.16;
    let tip = below(centre, reach, from + sweep);
    let size = height * 0.055;
    LapDrawing {
        tips: path(|pen| arc(pen, centre, radius, 0.0, TAU)),
        blades,
        hub: polygon(&arc_points(centre, radius * 0.36, 0.0, TAU)),
        knife: polygon(&[
            edge,
            (edge.0 + width * 0.10, edge.1 + height * 0.025),
            (edge.0 + width * 0.19, edge.1 + height * 0.025),
            (edge.0 + width * 0.19, edge.1 + height * 0.10),
            (edge.0 + width * 0.025, edge.1 + height * 0.10),
        ]),
        bar: polygon(&[
            (edge.0 + width * 0.05, edge.1 + height * 0.10),
            (edge.0 + width * 0.21, edge.1 + height * 0.10),
            (edge.0 + width * 0.21, height * 0.98),
            (edge.0 + width * 0.09, height * 0.98),
        ]),
        handle: polygon(&[beside(head, 3.5), beside(hand, 3.5), beside(hand, -3.5), beside(head, -3.5)]),
        brush: polygon(&[
            beside(along(touch, hand, 0.10), broad),
            beside(head, broad),
            beside(head, -broad),
            beside(along(touch, hand, 0.10), -broad),
        ]),
        bristles: path(|pen| {
            for part in [-0.85_f32, -0.5, -0.17, 0.17, 0.5, 0.85] {
                pen.line(beside(along(touch, hand, 0.10), broad * part), beside(touch, broad * part));
            }
        }),
        // Clockwise as it is drawn: at the bottom the blades run away from the bedknife, not onto it.
        arrow: path(|pen| arc(pen, centre, reach, from, from + sweep)),
        arrow_head: polygon(&[
            below(centre, reach - size, from + sweep),
            below(centre, reach + size, from + sweep),
            below(centre, reach, from + sweep - size * 2.0 / reach),
        ]),
        paper: path(|pen| {
            pen.line((edge.0 - 1.0, edge.1 - height * 0.10), (edge.0 - width * 0.01, height * 0.98));
        }),
        handle_x: hand.0,
        handle_y: hand.1,
        arrow_x: tip.0,
        arrow_y: tip.1,
        knife_x: edge.0 + width * 0.21,
        knife_y: edge.1 + height * 0.06,
    }
}

/// Answers the pure callbacks of `section-draw.slint`.
pub(super) fn connect(draw: &SectionDraw<'_>) {
    draw.on_finger(finger);
    draw.on_land(land);
    draw.on_knife(knife);
    draw.on_edge(over_plate::edge);
    draw.on_plate(over_plate::plate);
    draw.on_lap(lap);
}

#[cfg(test)]
mod tests {
    use super::super::draw::numbers;
    use super::*;

    #[test]
    fn the_finger_s_tip_stands_at_r_sin_beta_from_the_axis_and_on_the_wheel() {
        // 25° with a 5 in reel over a 6 in wheel: blade 13.65° past the bottom (the worked example of the relief).
        let drawn = finger(480.0, 300.0, 25.0, 13.65, 11);
        let radius = 300.0 * 0.74;
        assert!((drawn.tip_x - drawn.axis_x - radius * 13.65_f32.to_radians().sin()).abs() < 1e-3);
        // The wheel that these angles belong to is 6/5 of the reel, and its axis lies below the reel's.
        let wheel = numbers(&drawn.wheel);
        let least_y = wheel.chunks(2).map(|point| point[1]).fold(f32::MAX, f32::min);
        let crown = wheel.chunks(2).find(|point| (point[1] - least_y).abs() < 1e-3).map(|point| point[0]);
        assert!(crown.is_some_and(|x| (x - drawn.axis_x).abs() < 20.0), "{crown:?}");
        assert!(least_y < drawn.tip_y && drawn.tip_y - least_y < 10.0);
    }

    #[test]
    fn a_land_is_as_wide_as_it_is_measured_and_only_what_is_wider_comes_off() {
        let drawn = land(300.0, 200.0, 1.0, 0.25, 25.0, true);
        let (measured, marked) = (numbers(&drawn.measured), numbers(&drawn.marked));
        let wide = |line: &[f32]| line[2] - line[0];
        assert!((wide(&marked) / wide(&measured) - 0.25).abs() < 1e-3);
        assert!(!drawn.coming_off.is_empty());
        assert!(land(300.0, 200.0, 0.2, 0.25, 25.0, true).coming_off.is_empty());
        assert!(land(300.0, 200.0, 1.0, 0.25, 25.0, false).coming_off.is_empty());
        assert!(land(300.0, 200.0, 0.0, 0.25, 25.0, true).measured.is_empty(), "not measured yet");
    }

    #[test]
    fn a_thinner_knife_has_its_edge_lower_and_a_dimension_has_heads_at_both_ends() {
        let (thick, thin) = (knife(400.0, 300.0, 5.0, 15.0, 1.0, 0.4), knife(400.0, 300.0, 5.0, 15.0, 0.5, 0.4));
        assert!(thin.edge_y > thick.edge_y + 30.0, "y runs down the picture");
        assert!(thin.edge_y < thin.foot_y, "still above the least");
        let (line, heads) = dimension((0.0, 0.0), (100.0, 0.0));
        assert_eq!(line, "M 0.00 0.00 L 100.00 0.00 ");
        assert_eq!(heads.matches('M').count(), 2);
    }

    #[test]
    fn sections_stay_inside_their_picture() {
        for (width, height) in [(700.0, 300.0), (480.0, 160.0), (360.0, 260.0)] {
            let (f, k, l) =
                (finger(width, height, 25.0, 13.65, 11), knife(width, height, 5.0, 18.0, 0.7, 0.4), lap(width, height));
            for outline in [
                &f.blade,
                &f.finger,
                &f.holder,
                &f.dimension,
                &k.knife,
                &k.bar,
                &k.thickness,
                &l.tips,
                &l.knife,
                &l.bar,
                &l.handle,
                &l.arrow_head,
            ] {
                let inside =
                    numbers(outline).chunks(2).all(|p| (0.0..=width).contains(&p[0]) && (0.0..=height).contains(&p[1]));
                assert!(inside, "{width}x{height}: {outline}");
            }
        }
    }
}
