//! What the types, the checks and the refusals of the calculations cost: each beside the same arithmetic written plainly
//! with bare numbers, in the same run. `cargo bench -p sparkout --bench calc`
#![allow(clippy::expect_used, clippy::panic)]

mod plain;

use jiff::ToSpan;
use jiff::civil::{Date, date};
use plain::{Plain, PlainUnit};
use sparkout_core::bench::DialKind;
use sparkout_core::calc::due::{Due, DueInput, MonthDay, Season, due};
use sparkout_core::calc::front::{FrontInput, FrontUncertainty, FrontVerdict, Pair, front};
use sparkout_core::calc::knife::{KnifeInput, Pivot, knife};
use sparkout_core::quantity::{Length, Ratio};
use std::hint::black_box;
use std::time::{Duration, Instant};

/// Runs of which the median is told.
const RUNS: usize = 101;
/// Draws of the Monte Carlo.
const DRAWS: u32 = 10_000;

fn main() {
    println!("{:<38} {:>12} {:>12} {:>7}", "median time", "sparkout", "plain", "ratio");
    compare("front", 1000, time_front, time_plain_front);
    compare("knife, with worn edge", 1000, time_knife, time_plain_knife);
    compare("front, 10,000-draw Monte Carlo", 1, || monte_carlo(draw_front), || monte_carlo(plain_draw));
    let (units, plain_units) = fleet();
    compare("due list of 200 units", 1, || due_list(&units), || plain::due_list(&plain_units));
}

/// Times both, alternating so that a clock that changes its speed changes it for both; what they compute must agree.
fn compare(name: &str, calls: u32, ours: impl Fn() -> f64, plain: impl Fn() -> f64) {
    let (one, other) = (ours(), plain());
    assert!((one - other).abs() <= 1e-9 * other.abs().max(1e-3), "{name}: {one} and {other} do not agree");
    let (mut our_times, mut plain_times) = (Vec::new(), Vec::new());
    for _ in 0..RUNS {
        our_times.push(timed(calls, &ours));
        plain_times.push(timed(calls, &plain));
    }
    let (ours, plain) = (median(our_times), median(plain_times));
    println!("{name:<38} {:>12} {:>12} {:>7.2}", shown(ours), shown(plain), ours / plain);
}

/// Seconds a call.
fn timed(calls: u32, call: &impl Fn() -> f64) -> f64 {
    let start = Instant::now();
    for _ in 0..calls {
        black_box(call());
    }
    let passed: Duration = start.elapsed();
    passed.as_secs_f64() / f64::from(calls)
}

fn median(mut times: Vec<f64>) -> f64 {
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

fn shown(seconds: f64) -> String {
    if seconds < 1e-6 {
        format!("{:.1} ns", seconds * 1e9)
    } else if seconds < 1e-3 {
        format!("{:.2} µs", seconds * 1e6)
    } else {
        format!("{:.2} ms", seconds * 1e3)
    }
}

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

const PLAIN_FRONT: Plain = Plain {
    zero_diameter: 127.508,
    other_diameter: 127.0,
    reading: 0.5842,
    touch: (25.4, 533.4),
    adjuster: (-38.1, 596.9),
    reel_x: 114.3,
    wheelbase: 279.4,
    jack_y: 279.4,
    tolerance: 0.0508,
    graduations: (0.0254, 0.0254),
    touch_sd: 0.00762,
};

fn typed(plain: &Plain) -> FrontInput {
    let pair = |(zero, other): (f64, f64)| Pair { zero_y: mm(zero), other_y: mm(other) };
    FrontInput {
        zero_diameter: mm(plain.zero_diameter),
        other_diameter: mm(plain.other_diameter),
        reading: mm(plain.reading),
        dial: DialKind::Diameter,
        touch: pair(plain.touch),
        tape_y: None,
        adjuster: pair(plain.adjuster),
        reel_x: mm(plain.reel_x),
        wheelbase: mm(plain.wheelbase),
        jack_y: mm(plain.jack_y),
        tolerance: mm(plain.tolerance),
        uncertainty: Some(FrontUncertainty {
            dial_graduation: mm(plain.graduations.0),
            tape_graduation: mm(plain.graduations.1),
            touch_sd: mm(plain.touch_sd),
            touches_zero: 1,
            touches_other: 1,
        }),
        adjuster_kind: None,
    }
}

/// Everything that was computed in one number, so that none of it is left out.
fn time_front() -> f64 {
    let told = front(&typed(&black_box(PLAIN_FRONT))).expect("a good input");
    let verdict = match told.verdict {
        FrontVerdict::Parallel => 0.0,
        FrontVerdict::Repeat => 1.0,
        FrontVerdict::Adjust => 2.0,
    };
    let moves = [
        told.move_other.height,
        told.move_other.rezero,
        told.move_zero.height * 2.0,
        told.move_zero.rezero,
        told.move_both.zero,
        told.move_both.other,
    ];
    let lengths = moves.into_iter().fold(told.tilt + told.tilt_u95.unwrap_or_default(), |sum, each| sum + each);
    lengths.mm() + verdict + f64::from(told.touches_needed.unwrap_or(0))
}

fn time_plain_front() -> f64 {
    let told = plain::front(&black_box(PLAIN_FRONT));
    let [other, other_rezero, zero, zero_rezero, both_zero, both_other] = told.moves;
    let moves = other + other_rezero + 2.0 * zero + zero_rezero + both_zero + both_other;
    told.tilt + told.u95 + moves + f64::from(told.verdict) + f64::from(told.touches.unwrap_or(0))
}

const PLAIN_KNIFE: plain::Bedknife = plain::Bedknife {
    reel: 127.0,
    axis_height: 64.77,
    height_of_cut: 3.175,
    gap: 0.0254,
    pivot: (50.8, 50.8),
    worn: 121.92,
};

fn time_knife() -> f64 {
    let plain = black_box(PLAIN_KNIFE);
    let input = KnifeInput {
        reel_diameter: mm(plain.reel),
        axis_height: mm(plain.axis_height),
        height_of_cut: mm(plain.height_of_cut),
        gap: Some(mm(plain.gap)),
        pivot: Some(Pivot { x: mm(plain.pivot.0), z: mm(plain.pivot.1), reel_x: Length::ZERO }),
        worn_diameter: Some(mm(plain.worn)),
    };
    let told = knife(&input).expect("a good input");
    let worn = told.worn.expect("a pivot was given");
    told.contact_angle.degrees() + (told.behind_centre + worn.behind_centre + worn.roller_move).mm()
}

fn time_plain_knife() -> f64 {
    let told = plain::knife(&black_box(PLAIN_KNIFE));
    told.angle + told.behind + told.worn_behind + told.roller_move
}

fn draw_front(drawn: &Plain) -> f64 {
    front(&typed(drawn)).expect("a good input").tilt.mm()
}

fn plain_draw(drawn: &Plain) -> f64 {
    plain::front(drawn).tilt
}

/// Standard deviation of the tilt over draws of what was read; the same draws for both.
fn monte_carlo(tilt: impl Fn(&Plain) -> f64) -> f64 {
    let mut state = 1_u64;
    // A multiplicative congruential generator (Knuth's MMIX constants, from memory): cheap, so that front is what is timed.
    let mut even = |width: f64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((state >> 11) as f64 / (1_u64 << 53) as f64 - 0.5) * width
    };
    let (mut sum, mut squares) = (0.0, 0.0);
    for _ in 0..DRAWS {
        let drawn = Plain {
            zero_diameter: PLAIN_FRONT.zero_diameter + even(0.0254),
            other_diameter: PLAIN_FRONT.other_diameter + even(0.0254),
            reading: PLAIN_FRONT.reading + even(0.0254) + even(0.0254),
            ..PLAIN_FRONT
        };
        let off = tilt(&drawn) - 0.0381;
        sum += off;
        squares += off * off;
    }
    let draws = f64::from(DRAWS);
    ((squares - sum * sum / draws) / (draws - 1.0)).sqrt()
}

/// Two hundred units at all stages of their wear, twice.
fn fleet() -> (Vec<DueInput>, Vec<PlainUnit>) {
    let today = date(2026, 11, 25);
    let season = |from: (i8, i8), to: (i8, i8)| {
        let day = |(month, day)| MonthDay::new(month, day).expect("a day of the year");
        Season { from: day(from), to: day(to) }
    };
    (0_u32..200)
        .map(|at| {
            let last: Date = today - (i64::from(at * 37 % 400)).days();
            let (hours, land, diameter) =
                (f64::from(at * 13 % 140), 1.0 + f64::from(at % 7) * 0.1, 124.0 + f64::from(at % 30) * 0.1);
            let interval = 20 + at % 90;
            let unit = DueInput {
                last_grind: Some(last),
                interval_days: Some(interval),
                season: Some(season((4, 1), (10, 31))),
                hours: Some(Ratio::from_value(hours)),
                hours_interval: Some(Ratio::from_value(120.0)),
                land: Some(mm(land)),
                land_limit: Some(mm(1.55)),
                diameter: Some(mm(diameter)),
                wear_limit: Some(mm(124.05)),
                usual_removal: Some(mm(0.25)),
                today,
            };
            let plain = PlainUnit {
                last: (last.year(), last.month(), last.day()),
                interval,
                season: ((4, 1), (10, 31)),
                hours: (hours, 120.0),
                land: (land, 1.55),
                diameter: (diameter, 124.05, 0.25),
                today: (today.year(), today.month(), today.day()),
            };
            (unit, plain)
        })
        .unzip()
}

/// Ranked by the day; what is summed tells every day and rank.
fn due_list(units: &[DueInput]) -> f64 {
    let mut list: Vec<(usize, Due)> =
        units.iter().enumerate().map(|(at, unit)| (at, due(unit).expect("a good unit"))).collect();
    list.sort_by_key(|(at, due)| (due.due, *at));
    let days = |date: Date| f64::from(plain::day_number((date.year(), date.month(), date.day())));
    let ranked = list.iter().enumerate();
    ranked.map(|(rank, (at, due))| (rank * at) as f64 + due.due.map_or(0.0, days)).sum()
}
