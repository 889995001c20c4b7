//! How a number came about, so that every derived number can explain itself and none can be false.

use crate::message::Message;
use geometry::{Arc, Length, Unit};
use std::ops::{Add, Div, Mul, Sub};

/// A hundredth of a millimetre: as fine as a worked-out length is shown.
pub const HUNDREDTH: Length = Length::from_nm(10_000);

/// How lengths are written in one job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Style {
    /// The job's unit.
    pub unit: Unit,
    /// The finest mark used at the bench: 1/16 in, 1 mm.
    pub mark: Length,
    /// The papers are in another unit than the job: what was round there is told to the mark here.
    pub is_converted: bool,
}

impl Style {
    /// A unit with the mark usual for it: 1/16 in, 1 mm. Common practice, no source.
    pub fn usual(unit: Unit) -> Self {
        let mark = if unit.is_binary() { Length::from_inch_64ths(4) } else { Length::from_mm(1.0) };
        Self { unit, mark, is_converted: false }
    }

    /// A length as it is told: exact, or to the mark where the unit is not the one it was given in; small
    /// ones to a tenth of the mark.
    fn told(&self, length: Length) -> Length {
        if !self.is_converted {
            length
        } else if length.abs() < self.mark * 10 {
            length.round_even(self.mark.share(10))
        } else {
            length.round_even(self.mark)
        }
    }

    /// Exact, without the unit's sign.
    pub fn number(&self, length: Length) -> String {
        self.told(length).number(self.unit)
    }

    /// Exact, with the sign.
    pub fn show(&self, length: Length) -> String {
        self.told(length).show(self.unit)
    }

    /// To the nearest bench mark, with the sign: what a person can chalk.
    pub fn chalk(&self, length: Length) -> String {
        length.round_even(self.mark).show(self.unit)
    }

    /// Up to the next bench mark, without the sign: sizes to cut are never rounded down.
    pub fn cut_number(&self, length: Length) -> String {
        self.up(length).number(self.unit)
    }

    /// Up to the next bench mark, with the sign.
    pub fn cut(&self, length: Length) -> String {
        self.up(length).show(self.unit)
    }

    /// Up to the next bench mark; a length a few nanometres over one, as curves come out, is that mark.
    pub fn up(&self, length: Length) -> Length {
        (length - Length::from_nm(20)).round_up(self.mark)
    }

    /// Down to a 32nd of an inch or half a millimetre: as fine as a screw is told.
    pub fn fine(&self, length: Length) -> Length {
        let step =
            if self.unit.is_binary() { Length::from_inch_64ths(2) } else { Length::from_mm(0.5) };
        length.round_down(step)
    }

    /// The bench mark nearest to a place; midway goes up, so that places a whole number of marks apart
    /// are printed as far apart.
    pub fn place(&self, at: Length) -> Length {
        (at + self.mark.share(2)).round_down(self.mark)
    }

    /// From mark to mark: a stretch that begins at a place and is `size` long, up to the next mark. The
    /// marks are the size apart.
    pub fn stretch(&self, from: Length, size: Length) -> (Length, Length) {
        let near = self.place(from);
        (near, near + self.up(size))
    }

    /// To the nearest bench mark, without the sign.
    pub fn chalk_number(&self, length: Length) -> String {
        length.round_even(self.mark).number(self.unit)
    }
}

/// A formula that can be written out and worked out again, so that no printed sum can be false.
#[derive(Clone, Debug, PartialEq)]
pub enum Formula {
    /// A length, shown in the job's unit.
    Length(Length),
    /// A bare number.
    Number(f64),
    /// The circle's number.
    Pi,
    /// Two joined by a sign.
    Two(Sign, Box<Formula>, Box<Formula>),
    /// Square root.
    Root(Box<Formula>),
    /// Square.
    Square(Box<Formula>),
    /// Sine of an angle in degrees.
    Sine(f64),
    /// Cosine of an angle in degrees.
    Cosine(f64),
    /// Length of the arc over a chord that rises so far in its middle.
    Arc(Length, Length),
}

/// A sign between two parts of a formula.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// Added.
    Plus,
    /// Taken off.
    Minus,
    /// Multiplied.
    Times,
    /// Divided.
    Over,
}

/// A length as a formula.
pub const fn of(length: Length) -> Formula {
    Formula::Length(length)
}

/// A whole number as a formula.
pub const fn count(n: i64) -> Formula {
    Formula::Number(n as f64)
}

impl Formula {
    /// Worked out: millimetres, or a bare number.
    pub fn value(&self) -> f64 {
        match self {
            Self::Length(length) => length.mm(),
            Self::Number(n) => *n,
            Self::Pi => std::f64::consts::PI,
            Self::Two(sign, a, b) => match sign {
                Sign::Plus => a.value() + b.value(),
                Sign::Minus => a.value() - b.value(),
                Sign::Times => a.value() * b.value(),
                Sign::Over => a.value() / b.value(),
            },
            Self::Root(a) => a.value().sqrt(),
            Self::Square(a) => a.value() * a.value(),
            Self::Sine(degrees) => libm::sin(degrees.to_radians()),
            Self::Cosine(degrees) => libm::cos(degrees.to_radians()),
            Self::Arc(chord, rise) => {
                Arc::over(chord.mm(), rise.mm()).map_or(f64::NAN, |arc| arc.length())
            }
        }
    }

    /// Square root.
    #[must_use]
    pub fn root(self) -> Self {
        Self::Root(Box::new(self))
    }

    /// Square.
    #[must_use]
    pub fn squared(self) -> Self {
        Self::Square(Box::new(self))
    }

    /// The sum of lengths, leaving out those that are zero.
    pub fn sum(lengths: &[Length]) -> Self {
        let all = lengths.iter().copied().filter(|l| *l != Length::ZERO).map(of);
        all.reduce(|a, b| a + b).unwrap_or(of(Length::ZERO))
    }

    /// The same and twice the sum of lengths; nothing is added where they are all zero.
    #[must_use]
    pub fn and_twice(self, by: &[Length]) -> Self {
        if by.iter().all(|l| *l == Length::ZERO) { self } else { self + 2 * Self::sum(by) }
    }

    /// The same and one more length, unless that is zero.
    #[must_use]
    pub fn and(self, more: Length) -> Self {
        if more == Length::ZERO { self } else { self + of(more) }
    }

    /// The same less a length, unless that is zero.
    #[must_use]
    pub fn less(self, length: Length) -> Self {
        if length == Length::ZERO { self } else { self - of(length) }
    }

    /// How tightly it holds together: 1 a sum, 2 a product, 3 one thing.
    const fn rank(&self) -> u8 {
        match self {
            Self::Two(Sign::Plus | Sign::Minus, ..) => 1,
            Self::Two(Sign::Times | Sign::Over, ..) => 2,
            _ => 3,
        }
    }

    /// Written out: `450 + 2 × (100 + 18 + 50)`.
    pub fn write(&self, style: &Style) -> String {
        self.written(style, false)
    }

    /// Whether it is a number that many lengths are taken by: what is not printed of one length would
    /// show in the sum.
    const fn is_many(&self) -> bool {
        matches!(self, Self::Number(n) if *n >= 2.0 || *n <= -2.0)
    }

    fn written(&self, style: &Style, fine: bool) -> String {
        let fine =
            fine || matches!(self, Self::Two(Sign::Times, a, b) if a.is_many() || b.is_many());
        let length = |length: &Length| match fine {
            true => length.fine_number(style.unit),
            false => style.number(*length),
        };
        let held = |part: &Self, least: u8| {
            let text = part.written(style, fine);
            if part.rank() < least { format!("({text})") } else { text }
        };
        match self {
            Self::Length(one) => length(one),
            Self::Number(n) => number(*n),
            Self::Pi => "π".into(),
            Self::Two(sign, a, b) => {
                let (word, left, right) = match sign {
                    Sign::Plus => ("+", 1, 1),
                    Sign::Minus => ("-", 1, 2),
                    Sign::Times => ("×", 2, 2),
                    Sign::Over => ("/", 2, 3),
                };
                format!("{} {word} {}", held(a, left), held(b, right))
            }
            Self::Root(a) => format!("√({})", a.written(style, fine)),
            Self::Square(a) => format!("{}²", held(a, 3)),
            Self::Sine(degrees) => format!("sin({}°)", number(*degrees)),
            Self::Cosine(degrees) => format!("cos({}°)", number(*degrees)),
            Self::Arc(chord, rise) => {
                format!("arc(chord {}, rise {})", length(chord), length(rise))
            }
        }
    }
}

fn joined(sign: Sign, a: Formula, b: Formula) -> Formula {
    Formula::Two(sign, Box::new(a), Box::new(b))
}

impl Add for Formula {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        joined(Sign::Plus, self, other)
    }
}

impl Sub for Formula {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        joined(Sign::Minus, self, other)
    }
}

impl Mul for Formula {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        joined(Sign::Times, self, other)
    }
}

impl Div for Formula {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        joined(Sign::Over, self, other)
    }
}

impl Div<i64> for Formula {
    type Output = Self;
    fn div(self, n: i64) -> Self {
        self / count(n)
    }
}

impl Mul<Formula> for i64 {
    type Output = Formula;
    fn mul(self, formula: Formula) -> Formula {
        count(self) * formula
    }
}

/// How what a formula gives is rounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rounding {
    /// Never smaller: cloth.
    Up(Length),
    /// Never larger: what must go into a space.
    Down(Length),
    /// To the nearest.
    Nearest(Length),
}

impl Rounding {
    fn apply(self, length: Length) -> Length {
        match self {
            Self::Up(step) => length.round_up(step),
            Self::Down(step) => length.round_down(step),
            Self::Nearest(step) => length.round_even(step),
        }
    }

    fn words(self, style: &Style) -> String {
        match self {
            Self::Up(step) => format!("up to the next {}", style.number(step)),
            Self::Down(step) => format!("down to the next {}", style.number(step)),
            Self::Nearest(step) => format!("to the nearest {}", style.number(step)),
        }
    }
}

/// Which size of its part a working gives.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Gives {
    /// A number on the way.
    #[default]
    Step,
    /// How wide the part is cut.
    Width,
    /// How high the part is cut.
    Height,
    /// Both, of a part as wide as it is high.
    Both,
}

/// One derived number and its formula.
#[derive(Clone, Debug, PartialEq)]
pub struct Working {
    /// What was worked out: the cut width.
    pub what: Message,
    /// How.
    pub formula: Formula,
    /// How it was rounded, one after another.
    pub rounded: Vec<Rounding>,
    /// Which size of its part it is.
    pub gives: Gives,
    /// What came out: the formula's value to the nanometre, rounded.
    pub result: Length,
}

impl Working {
    /// From its formula, exact.
    pub fn of(what: Message, formula: Formula) -> Self {
        let result = Length::from_mm(formula.value());
        Self { what, formula, rounded: Vec::new(), gives: Gives::Step, result }
    }

    /// `from + 2 × (a + b + c)`, leaving out what is zero.
    pub fn grown(what: Message, from: Length, by: &[Length]) -> Self {
        Self::of(what, of(from).and_twice(by))
    }

    /// The size of a box that another has grown to: `from` and what each of its two sides adds, which is
    /// the sum of `by` where the outline's corners are square.
    pub fn beyond(
        what: Message,
        from: Length,
        (low, high): (Length, Length),
        by: &[Length],
    ) -> Self {
        let even: Length = by.iter().copied().sum();
        let formula = match low == even && high == even {
            true => of(from).and_twice(by),
            false => of(from).and(low).and(high),
        };
        Self::of(what, formula)
    }

    /// The same, rounded.
    #[must_use]
    pub fn round(mut self, rounding: Rounding) -> Self {
        self.result = rounding.apply(self.result);
        self.rounded.push(rounding);
        self
    }

    /// The same, rounded up.
    #[must_use]
    pub fn up_to(self, step: Length) -> Self {
        self.round(Rounding::Up(step))
    }

    /// The same as the width that its part is cut.
    #[must_use]
    pub fn width(self) -> Self {
        Self { gives: Gives::Width, ..self }
    }

    /// The same as the height that its part is cut.
    #[must_use]
    pub fn height(self) -> Self {
        Self { gives: Gives::Height, ..self }
    }

    /// The same as the size that its part is cut both ways.
    #[must_use]
    pub fn both(self) -> Self {
        Self { gives: Gives::Both, ..self }
    }

    /// Written out with what it gives: `450 + 2 × (100 + 18 + 50) = 786`, and how that was rounded:
    /// `53 5/8 + 1/10 = 53.725, up to the next 1/16: 53 3/4`.
    pub fn sentence(&self, style: &Style) -> String {
        let mut now = Length::from_mm(self.formula.value());
        let (sum, exact) = (self.formula.write(style), style.number(now));
        let mut text = if sum == exact { exact } else { format!("{sum} = {exact}") };
        for (i, rounding) in self.rounded.iter().enumerate() {
            let next = rounding.apply(now);
            let last = self.rounded[i + 1..].iter().all(|later| later.apply(next) == next);
            if style.number(next) != style.number(now) && last {
                text += &format!(", {}: {}", rounding.words(style), style.number(next));
            }
            now = next;
        }
        text
    }
}

fn number(n: f64) -> String {
    if n == n.trunc() {
        format!("{n:.0}")
    } else {
        format!("{n:.5}").trim_end_matches('0').trim_end_matches('.').to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(x: f64) -> Length {
        Length::from_mm(x)
    }

    #[test]
    fn a_cover_explains_itself() {
        let working =
            Working::grown(Message::nothing(), mm(450.0), &[mm(100.0), mm(18.0), mm(50.0)]);
        let style = Style { unit: Unit::Millimetre, mark: mm(1.0), is_converted: false };
        assert_eq!(working.sentence(&style), "450 + 2 × (100 + 18 + 50) = 786");
        let bare = Working::grown(Message::nothing(), mm(450.0), &[mm(0.0), mm(50.0)]);
        assert_eq!(bare.sentence(&style), "450 + 2 × 50 = 550");
    }

    #[test]
    fn signs_hold_together_as_in_arithmetic() {
        let style = Style { unit: Unit::Millimetre, mark: mm(1.0), is_converted: false };
        let [a, b, c] = [12.0, 5.0, 2.0].map(|x| of(mm(x)));
        for (formula, text, value) in [
            (a.clone() - (b.clone() - c.clone()), "12 - (5 - 2)", 9.0),
            ((a.clone() - b.clone()) / 2, "(12 - 5) / 2", 3.5),
            (a.clone() / (b.clone() * c.clone()), "12 / (5 × 2)", 1.2),
            ((a.clone().squared() + b.squared()).root(), "√(12² + 5²)", 13.0),
            (2 * (a + c), "2 × (12 + 2)", 28.0),
        ] {
            assert_eq!(formula.write(&style), text);
            assert!((formula.value() - value).abs() < 1e-12, "{text}");
        }
    }

    #[test]
    fn rounding_is_told_with_its_step() {
        let inch = Length::from_inches;
        let style = Style::usual(Unit::Inch);
        let working =
            Working::of(Message::nothing(), of(inch(53.625)) + of(inch(0.1))).up_to(inch(0.0625));
        assert_eq!(working.result, inch(53.75));
        assert_eq!(working.sentence(&style), "53 5/8 + 0.1 = 53.725, up to the next 1/16: 53 3/4");
        // Of two roundings the one that decides is told.
        let twice = working.up_to(inch(0.5));
        assert_eq!(twice.result, inch(54.0));
        assert!(twice.sentence(&style).ends_with("= 53.725, up to the next 1/2: 54"));
    }
}
