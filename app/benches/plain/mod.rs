//! The same arithmetic as somebody writes it who trusts every input: bare numbers in mm, no ranges, no refusals.

/// What front needs, for a dial in diameter.
#[derive(Clone, Copy)]
pub struct Plain {
    pub zero_diameter: f64,
    pub other_diameter: f64,
    pub reading: f64,
    pub touch: (f64, f64),
    pub adjuster: (f64, f64),
    pub reel_x: f64,
    pub wheelbase: f64,
    pub jack_y: f64,
    pub tolerance: f64,
    pub graduations: (f64, f64),
    pub touch_sd: f64,
}

/// What front says, everything of it.
pub struct PlainTilt {
    pub tilt: f64,
    pub u95: f64,
    pub verdict: u8,
    pub touches: Option<u32>,
    pub moves: [f64; 6],
}

pub fn front(p: &Plain) -> PlainTilt {
    let tilt = (p.reading - (p.zero_diameter - p.other_diameter)) / 2.0;
    let graduation = |q: f64| q / (2.0 * 3.0_f64.sqrt());
    let (dial, tape) = (graduation(p.graduations.0), graduation(p.graduations.1));
    let u95 = |touches: f64| (2.0 * (p.touch_sd * p.touch_sd / touches + dial * dial + tape * tape)).sqrt();
    let proven = |u: f64| tilt.abs() + u <= p.tolerance;
    let verdict = if proven(u95(1.0)) { 0 } else { 1 + u8::from(tilt.abs() > p.tolerance) };
    let touches = if verdict == 1 { (1..=9).find(|touches| proven(u95(f64::from(*touches)))) } else { None };
    let slope = -tilt / (p.touch.1 - p.touch.0);
    let (span, back) = (p.adjuster.1 - p.adjuster.0, p.reel_x / p.wheelbase);
    let rise = |a: f64, b: f64| {
        let g = (b - a) / span;
        a + g * (p.touch.0 - p.adjuster.0) - back * (a + g * (p.jack_y - p.adjuster.0))
    };
    let apart = slope * span;
    let both = -slope * (p.touch.0 - p.adjuster.0 - back * (p.jack_y - p.adjuster.0)) / (1.0 - back);
    let moves = [apart, 2.0 * rise(0.0, apart), -apart, 2.0 * rise(-apart, 0.0), both, both + apart];
    PlainTilt { tilt, u95: u95(1.0), verdict, touches, moves }
}

/// What knife needs.
#[derive(Clone, Copy)]
pub struct Bedknife {
    pub reel: f64,
    pub axis_height: f64,
    pub height_of_cut: f64,
    pub gap: f64,
    pub pivot: (f64, f64),
    pub worn: f64,
}

/// What knife says.
pub struct Edge {
    pub behind: f64,
    pub angle: f64,
    pub worn_behind: f64,
    pub roller_move: f64,
}

pub fn knife(k: &Bedknife) -> Edge {
    let (reach, below) = (k.reel / 2.0 + k.gap, k.axis_height - k.height_of_cut);
    let behind = (reach * reach - below * below).sqrt();
    let (px, pz) = (k.pivot.0, k.pivot.1 - k.axis_height);
    let apart = px.hypot(pz);
    let arm = (px - behind).hypot(pz + below);
    let worn = k.worn / 2.0 + k.gap;
    let along = (apart * apart + worn * worn - arm * arm) / (2.0 * apart);
    let across = (worn * worn - along * along).sqrt();
    let at = |side: f64| ((along * px - side * across * pz) / apart, (along * pz + side * across * px) / apart);
    let away = |(x, z): (f64, f64)| (x - behind).hypot(z + below);
    let (one, other) = (at(1.0), at(-1.0));
    let (x, z) = if away(one) <= away(other) { one } else { other };
    let angle = behind.atan2(below).to_degrees();
    Edge { behind, angle, worn_behind: x, roller_move: z + below }
}

/// A unit as the due list needs it.
pub struct PlainUnit {
    pub last: (i16, i8, i8),
    pub interval: u32,
    pub season: ((i8, i8), (i8, i8)),
    pub hours: (f64, f64),
    pub land: (f64, f64),
    pub diameter: (f64, f64, f64),
    pub today: (i16, i8, i8),
}

/// Ranked by the day; what is summed tells every day and rank.
pub fn due_list(units: &[PlainUnit]) -> f64 {
    let mut list: Vec<(i32, usize)> = units.iter().enumerate().map(|(at, unit)| (due(unit), at)).collect();
    list.sort_unstable();
    list.iter().enumerate().map(|(rank, (day, at))| (rank * at) as f64 + f64::from(*day)).sum()
}

fn due(unit: &PlainUnit) -> i32 {
    let today = day_number(unit.today);
    let reached = unit.diameter.0 - unit.diameter.2 < unit.diameter.1
        || unit.land.0 > unit.land.1
        || unit.hours.0 >= unit.hours.1;
    let mut day = unit.last;
    let mut passed = 0;
    while passed < unit.interval {
        day = next(day);
        let (from, to) = unit.season;
        passed += u32::from(from <= (day.1, day.2) && (day.1, day.2) <= to);
    }
    let after_interval = day_number(day);
    if reached { today.min(after_interval) } else { after_interval }
}

fn is_leap(year: i16) -> bool {
    year % 4 == 0 && (year % 100 != 0 || year % 400 == 0)
}

fn next((year, month, day): (i16, i8, i8)) -> (i16, i8, i8) {
    let last = match month {
        4 | 6 | 9 | 11 => 30,
        2 => 28 + i8::from(is_leap(year)),
        _ => 31,
    };
    if day < last {
        (year, month, day + 1)
    } else if month < 12 {
        (year, month + 1, 1)
    } else {
        (year + 1, 1, 1)
    }
}

/// Days of the calendar, from whatever origin.
pub fn day_number((year, month, day): (i16, i8, i8)) -> i32 {
    // March first, so that the leap day ends the year.
    let (year, month) =
        if month > 2 { (i32::from(year), i32::from(month)) } else { (i32::from(year) - 1, i32::from(month) + 12) };
    365 * year + year / 4 - year / 100 + year / 400 + (153 * (month - 3) + 2) / 5 + i32::from(day)
}
