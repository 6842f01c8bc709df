//! Reckons what is printed: each number stands for every value that is printed so, and what comes out is an interval.

use std::f64::consts::PI;
use std::iter::Peekable;
use std::str::Chars;

/// From the least to the most that it can be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    pub least: f64,
    pub most: f64,
}

impl Span {
    const fn exact(value: f64) -> Self {
        Self { least: value, most: value }
    }

    fn of(values: &[f64]) -> Self {
        Self {
            least: values.iter().copied().fold(f64::INFINITY, f64::min),
            most: values.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        }
    }

    fn both(self, other: Self, apply: impl Fn(f64, f64) -> f64) -> Self {
        let corners = [
            apply(self.least, other.least),
            apply(self.least, other.most),
            apply(self.most, other.least),
            apply(self.most, other.most),
        ];
        Self::of(&corners)
    }

    /// For functions that only rise or only fall where they are used.
    fn each(self, apply: impl Fn(f64) -> f64) -> Self {
        Self::of(&[apply(self.least), apply(self.most)])
    }

    fn size(self) -> Self {
        if self.least <= 0.0 && self.most >= 0.0 {
            return Self { least: 0.0, most: self.most.max(-self.least) };
        }
        self.each(f64::abs)
    }

    pub fn middle(self) -> f64 {
        f64::midpoint(self.least, self.most)
    }

    pub fn meets(self, other: Self) -> bool {
        // What binary fractions add.
        let slack = 1e-9 * (1.0 + self.most.abs());
        self.least <= other.most + slack && other.least <= self.most + slack
    }
}

/// A number as printed, and its last step; whole numbers are exact.
pub fn printed(text: &str, decimal: char) -> (f64, f64) {
    let plain: String = text
        .chars()
        .filter(|letter| !matches!(letter, '\u{2009}' | '+'))
        .map(|letter| match letter {
            '−' => '-',
            letter if letter == decimal => '.',
            other => other,
        })
        .collect();
    let places = plain.split('.').nth(1).map_or(0, str::len);
    let value = plain.parse().unwrap_or_else(|_| panic!("{text:?} is no number"));
    (value, 0.1_f64.powi(places as i32))
}

pub struct Reckoner<'a> {
    letters: Peekable<Chars<'a>>,
    decimal: char,
}

impl<'a> Reckoner<'a> {
    pub fn new(text: &'a str, decimal: char) -> Self {
        Self { letters: text.chars().peekable(), decimal }
    }

    fn next(&mut self) -> Option<char> {
        while self.letters.next_if(|letter| *letter == ' ').is_some() {}
        self.letters.peek().copied()
    }

    fn take(&mut self, wanted: char) -> bool {
        self.next() == Some(wanted) && self.letters.next().is_some()
    }

    #[track_caller]
    fn require(&mut self, wanted: char) {
        assert!(self.take(wanted), "{wanted:?} is missing before {:?}", self.letters.clone().collect::<String>());
    }

    /// The text to its end, or to the sign of a comparison, which is given back.
    pub fn side(&mut self) -> (Span, Option<char>) {
        let span = self.sum();
        let sign = self.next();
        self.letters.next();
        assert!(matches!(sign, None | Some('=' | '≤' | '>')), "{sign:?} is not understood");
        (span, sign)
    }

    fn sum(&mut self) -> Span {
        let mut sum = self.product();
        loop {
            if self.take('+') {
                sum = sum.both(self.product(), |one, other| one + other);
            } else if self.take('−') {
                sum = sum.both(self.product(), |one, other| one - other);
            } else {
                return sum;
            }
        }
    }

    fn product(&mut self) -> Span {
        let mut product = self.power();
        loop {
            if self.take('×') {
                product = product.both(self.power(), |one, other| one * other);
            } else if self.take('÷') {
                product = product.both(self.power(), |one, other| one / other);
            } else {
                return product;
            }
        }
    }

    fn power(&mut self) -> Span {
        if self.take('−') {
            return self.power().each(|value| -value);
        }
        let mut span = self.single();
        while self.take('²') {
            span = span.size().each(|value| value * value);
        }
        span
    }

    fn single(&mut self) -> Span {
        match self.next() {
            Some('(') => {
                self.require('(');
                let span = self.sum();
                self.require(')');
                span
            }
            Some('|') => {
                self.require('|');
                let span = self.sum();
                self.require('|');
                span.size()
            }
            Some('π') => {
                self.require('π');
                Span::exact(PI)
            }
            Some('√') => {
                self.require('√');
                self.argument().each(|value| value.max(0.0).sqrt())
            }
            Some(letter) if letter.is_ascii_digit() => self.number(),
            Some(letter) if letter.is_ascii_alphabetic() => self.function(),
            other => panic!("{other:?} begins nothing"),
        }
    }

    fn argument(&mut self) -> Span {
        self.require('(');
        let span = self.sum();
        self.require(')');
        span
    }

    fn number(&mut self) -> Span {
        let decimal = self.decimal;
        let mut text = String::new();
        while let Some(letter) =
            self.letters.next_if(|letter| letter.is_ascii_digit() || *letter == decimal || *letter == '\u{2009}')
        {
            text.push(letter);
        }
        let (value, step) = printed(&text, decimal);
        let half = if text.contains(decimal) { step / 2.0 } else { 0.0 };
        let span = Span { least: value - half, most: value + half };
        if self.letters.next_if_eq(&'°').is_some() { span.each(f64::to_radians) } else { span }
    }

    fn function(&mut self) -> Span {
        let mut name = String::new();
        while let Some(letter) = self.letters.next_if(char::is_ascii_alphabetic) {
            name.push(letter);
        }
        match name.as_str() {
            "sin" => self.argument().each(f64::sin),
            "cos" => self.argument().each(f64::cos),
            "arctan" => self.argument().each(f64::atan),
            "arccos" => self.argument().each(|value| value.clamp(-1.0, 1.0).acos()),
            "floor" => self.argument().each(f64::floor),
            "ceil" => self.argument().each(f64::ceil),
            "max" => {
                self.require('(');
                let one = self.sum();
                self.require(';');
                let other = self.sum();
                self.require(')');
                one.both(other, f64::max)
            }
            other => panic!("{other:?} is no function"),
        }
    }
}
