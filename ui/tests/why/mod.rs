//! Every explanation of every sample visit, reckoned again from the numbers that are printed on it.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod reckon;

use crate::samples::bench::{Walk, cases, stands};
use reckon::{Reckoner, Span, printed};
use sparkout_core::reading::Units;
use sparkout_ui::locale::Locale;
use sparkout_ui::present::figures;
use sparkout_ui::screen::{Formula, Language, Rounded, Settings, Why, WhyOf};
use std::collections::BTreeSet;

fn every_settings() -> Vec<Settings> {
    let mut all = Vec::new();
    for (language, region) in [(Language::English, "US"), (Language::Spanish, "MX"), (Language::Spanish, "AR")] {
        for units in [Units::Inch, Units::Thou, Units::Metric] {
            all.push(Settings { language, units, region: region.parse().unwrap(), ..Settings::default() });
        }
    }
    all
}

/// What a printed result can stand for.
fn span_of(formula: &Formula, decimal: char) -> (Span, f64, f64) {
    let (value, step) = printed(&formula.result, decimal);
    let span = match formula.rounded {
        Rounded::Nearest => Span { least: value - step / 2.0, most: value + step / 2.0 },
        Rounded::Up => Span { least: value - step, most: value },
    };
    (span, value, step)
}

fn holds(formula: &Formula, decimal: char) -> Result<(), String> {
    let mut reckoner = Reckoner::new(&formula.numbers, decimal);
    let (left, sign) = reckoner.side();
    if let Some(sign) = sign {
        let (right, end) = reckoner.side();
        assert_eq!(end, None);
        let true_as_printed = match sign {
            '≤' => left.least <= right.most + 1e-12,
            '>' => left.most > right.least,
            _ => left.meets(right),
        };
        return if true_as_printed { Ok(()) } else { Err(format!("{left:?} {sign} {right:?}")) };
    }
    let (result, value, step) = span_of(formula, decimal);
    let turn = if formula.unit == "°" { 180.0 / std::f64::consts::PI } else { 1.0 };
    let left = Span { least: left.least * turn, most: left.most * turn };
    if !left.meets(result) {
        return Err(format!("{left:?} is not {result:?}"));
    }
    // Wide intervals would prove nothing: the numbers as printed come near by themselves.
    let off = (left.middle() - value).abs();
    if off > 2.0 * step { Err(format!("{} is far from {value}", left.middle())) } else { Ok(()) }
}

fn check(walk: &Walk, why: &Why, settings: Settings) -> Vec<String> {
    let decimal = Locale::from(settings).decimal();
    let place = format!("{:?} {:?} {:?}", why.of, settings.units, settings.region);
    let mut wrong = Vec::new();
    for formula in &why.formulas {
        if why.of == WhyOf::NextDue {
            continue;
        }
        if let Err(error) = holds(formula, decimal) {
            wrong.push(format!("{place}: {} | {} = {}: {error}", formula.letters, formula.numbers, formula.result));
        }
        let other = if decimal == ',' { '.' } else { ',' };
        if formula.numbers.contains(other) || formula.result.contains(other) {
            wrong.push(format!("{place}: {} has another decimal sign", formula.numbers));
        }
    }
    for input in &why.inputs {
        let used = |line: &Formula| {
            line.letters.split(|letter: char| !letter.is_ascii_alphanumeric()).any(|word| word == input.letter)
        };
        if !why.formulas.iter().any(used) {
            wrong.push(format!("{place}: {} goes into nothing", input.letter));
        }
        if input.name.is_empty() || input.origin.is_empty() || input.value.is_empty() {
            wrong.push(format!("{place}: {input:?} says too little"));
        }
    }
    // The figure that is explained is the one that its screen shows.
    let shown = format!("{:?}", walk.body(settings)).replace("\\u{2009}", "\u{2009}");
    let figure = why.result.split(' ').next().unwrap_or_default();
    let figure = figure.trim_start_matches(['+', '−']).trim_end_matches('°');
    if !shown.contains(figure) {
        wrong.push(format!("{place}: {figure} is not on the screen"));
    }
    if why.title.is_empty() || why.source.is_empty() || why.formulas.is_empty() {
        wrong.push(format!("{place}: {why:?} says too little"));
    }
    wrong
}

#[test]
fn every_right_side_reckoned_from_the_printed_numbers_gives_the_printed_figure() {
    let mut wrong = BTreeSet::new();
    let mut seen = BTreeSet::new();
    for case in cases() {
        for walk in stands(case) {
            for settings in every_settings() {
                for why in walk.whys(settings) {
                    seen.insert(format!("{:?}", why.of));
                    wrong.extend(check(&walk, &why, settings));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    let missing: Vec<_> = WhyOf::ALL.iter().map(|of| format!("{of:?}")).filter(|name| !seen.contains(name)).collect();
    assert!(missing.is_empty(), "no sample explains {missing:?}");
}

#[test]
fn the_next_date_is_so_many_days_later() {
    let walk = stands(cases()[0]).pop().unwrap();
    let settings = Settings::default();
    let why = walk.why(WhyOf::NextDue, settings).unwrap();
    let days: i64 = why.inputs[1].value.trim_end_matches(" d").parse().unwrap();
    let due = walk.facts.today.checked_add(jiff::Span::new().days(days)).unwrap();
    assert_eq!(why.result, figures::date(due, settings));
    assert_eq!(why.formulas[0].numbers, format!("{} + {days} d", figures::date(walk.facts.today, settings)));
}

#[test]
fn letters_and_numbers_are_the_same_in_both_languages() {
    let in_language = |language| Settings { language, region: "MX".parse().unwrap(), ..Settings::default() };
    for walk in stands(cases()[0]) {
        let english = walk.whys(in_language(Language::English));
        let spanish = walk.whys(in_language(Language::Spanish));
        for (one, other) in english.iter().zip(&spanish) {
            if one.of == WhyOf::NextDue {
                continue;
            }
            for (line, same) in one.formulas.iter().zip(&other.formulas) {
                assert_eq!((&line.letters, &line.numbers, &line.result), (&same.letters, &same.numbers, &same.result));
            }
            assert_ne!((&one.title, &one.source), (&other.title, &other.source));
        }
    }
}

#[test]
fn nothing_is_explained_that_is_not_computed_or_is_elsewhere() {
    let mut walk = Walk::new(cases()[0]);
    assert!(walk.why(WhyOf::Cone, Settings::default()).is_none(), "nothing is taped at Receive");
    walk.through();
    assert!(walk.whys(Settings::default()).is_empty(), "nothing is taped yet");
}
