//! A length, exact in whole nanometres, and how it is shown.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};

/// A length, exact in whole nanometres.
///
/// One inch is 25 400 000 nm and 1/64 in is 396 875 nm, so tape readings in inches and in
/// millimetres are whole, add up without error and may be compared with `==`: two 27 in
/// covers fit a 54 in cloth. Curves are computed in `f64` millimetres and come back through
/// [`Length::from_mm`], the only place that rounds.
///
/// Source: 1 in = 25.4 mm and 1 yd = 0.9144 m exactly, NIST SP 811 appendix B.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

/// A unit that lengths are typed or shown in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Millimetres, shown to a hundredth at most.
    Millimetre,
    /// Centimetres.
    Centimetre,
    /// Metres, the unit cloth is sold in.
    Metre,
    /// Inches, shown as whole number and fraction down to 1/64.
    Inch,
    /// Feet.
    Foot,
    /// Yards, the other unit cloth is sold in.
    Yard,
}

impl Unit {
    /// One of this unit.
    pub const fn one(self) -> Length {
        Length(match self {
            Self::Millimetre => 1_000_000,
            Self::Centimetre => 10_000_000,
            Self::Metre => 1_000_000_000,
            Self::Inch => 25_400_000,
            Self::Foot => 304_800_000,
            Self::Yard => 914_400_000,
        })
    }

    /// The sign written after a number.
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
            Self::Metre => "m",
            Self::Inch => "in",
            Self::Foot => "ft",
            Self::Yard => "yd",
        }
    }

    /// From the sign or name a person writes; `None` for anything else.
    pub fn from_sign(text: &str) -> Option<Self> {
        Some(match text {
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Self::Millimetre,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Self::Centimetre,
            "m" | "metre" | "metres" | "meter" | "meters" => Self::Metre,
            "in" | "inch" | "inches" | "\"" | "\u{2033}" | "\u{201d}" | "''" => Self::Inch,
            "ft" | "foot" | "feet" | "'" | "\u{2032}" | "\u{2019}" => Self::Foot,
            "yd" | "yds" | "yard" | "yards" => Self::Yard,
            _ => return None,
        })
    }

    /// Whether lengths in this unit are read as halves, quarters, eighths and so on.
    pub const fn is_binary(self) -> bool {
        matches!(self, Self::Inch | Self::Foot | Self::Yard)
    }
}

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0);

    /// From whole nanometres.
    pub const fn from_nm(nm: i64) -> Self {
        Self(nm)
    }

    /// In whole nanometres.
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// From 64ths of an inch, the finest mark on a tape. Exact.
    pub const fn from_inch_64ths(n: i64) -> Self {
        Self(n * 396_875)
    }

    /// From millimetres, to the nearest nanometre; halves go away from zero. A number that is
    /// not finite or beyond 9 million kilometres saturates.
    pub fn from_mm(mm: f64) -> Self {
        Self((mm * 1e6).round() as i64)
    }

    /// From inches, to the nearest nanometre.
    pub fn from_inches(inches: f64) -> Self {
        Self::from_mm(inches * 25.4)
    }

    /// In millimetres, for curves and for drawing.
    pub fn mm(self) -> f64 {
        self.0 as f64 / 1e6
    }

    /// In inches.
    pub fn inches(self) -> f64 {
        self.0 as f64 / 25.4e6
    }

    /// In any unit.
    pub fn in_unit(self, unit: Unit) -> f64 {
        self.0 as f64 / unit.one().0 as f64
    }

    /// How many `step`s cover this length, rounded up: pleats, strips, selling steps. Exact.
    ///
    /// Panics if `step` is not above zero.
    pub fn steps_up(self, step: Self) -> i64 {
        assert!(Self::ZERO < step, "step must be above zero");
        -(-self.0).div_euclid(step.0)
    }

    /// The least multiple of `step` that is not less. Exact; panics like [`Self::steps_up`].
    pub fn round_up(self, step: Self) -> Self {
        step * self.steps_up(step)
    }

    /// The greatest multiple of `step` that is not more. Exact.
    ///
    /// Panics if `step` is not above zero.
    pub fn round_down(self, step: Self) -> Self {
        assert!(Self::ZERO < step, "step must be above zero");
        step * self.0.div_euclid(step.0)
    }

    /// The nearest multiple of `step`; midway goes to the even mark, the odd-and-even rule for
    /// reading a tape.
    ///
    /// Source: NIST Handbook 44, section 10.3 of the general considerations, as quoted by
    /// weights-and-measures teaching texts.
    pub fn round_even(self, step: Self) -> Self {
        let down = self.0.div_euclid(step.0);
        let rest = self.0 - down * step.0;
        let up = match (2 * rest).cmp(&step.0) {
            std::cmp::Ordering::Less => 0,
            std::cmp::Ordering::Greater => 1,
            std::cmp::Ordering::Equal => down.rem_euclid(2),
        };
        step * (down + up)
    }

    /// A `1/n` share, rounded down to the nanometre.
    ///
    /// Panics if `n` is not above zero.
    pub fn share(self, n: i64) -> Self {
        assert!(0 < n, "share needs a count above zero");
        Self(self.0.div_euclid(n))
    }

    /// The absolute length.
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// As a bare number in `unit`, without the sign: `74 1/2`, `1196.67`.
    ///
    /// Inches, feet and yards show a fraction down to 1/64 when that is exact, otherwise three
    /// decimals; metric units show what is exact to 1/10 mm and otherwise 1/100 mm.
    pub fn number(self, unit: Unit) -> String {
        self.with_places(unit, 0)
    }

    /// The same with two more decimals where it is not exact: for a length that is taken many times.
    pub fn fine_number(self, unit: Unit) -> String {
        self.with_places(unit, 2)
    }

    fn with_places(self, unit: Unit, more: usize) -> String {
        if unit.is_binary() {
            if let Some(text) = self.fraction(unit) {
                return text;
            }
            let places = 3 + more;
            return trim_zeros(format!("{:.places$}", self.in_unit(unit)));
        }
        let places = more
            + match unit {
                Unit::Metre => 5,
                Unit::Centimetre => 3,
                _ => 2,
            };
        trim_zeros(format!("{:.places$}", self.in_unit(unit)))
    }

    /// With its sign: `74 1/2 in`, `1880 mm`.
    pub fn show(self, unit: Unit) -> String {
        format!("{} {}", self.number(unit), unit.sign())
    }

    /// Whole number and lowest fraction, if exact to 1/64 of the unit.
    fn fraction(self, unit: Unit) -> Option<String> {
        let sixty_fourths = self.0.checked_mul(64)?;
        let one = unit.one().0;
        if sixty_fourths % one != 0 {
            return None;
        }
        let n = (sixty_fourths / one).abs();
        let minus = if self.0 < 0 { "-" } else { "" };
        let (whole, mut top, mut bottom) = (n / 64, n % 64, 64);
        if top == 0 {
            return Some(format!("{minus}{whole}"));
        }
        while top % 2 == 0 {
            top /= 2;
            bottom /= 2;
        }
        Some(if whole == 0 {
            format!("{minus}{top}/{bottom}")
        } else {
            format!("{minus}{whole} {top}/{bottom}")
        })
    }
}

fn trim_zeros(text: String) -> String {
    if !text.contains('.') {
        return text;
    }
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".into() } else { text.into() }
}

impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.show(Unit::Millimetre))
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, n: i64) -> Self {
        Self(self.0 * n)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_are_those_of_the_national_standard() {
        // NIST SP 811 appendix B.8, exact factors: in 25.4 mm, ft 0.3048 m, yd 0.9144 m.
        assert_eq!(Unit::Inch.one(), Length::from_mm(25.4));
        assert_eq!(Unit::Foot.one(), Length::from_mm(304.8));
        assert_eq!(Unit::Yard.one(), Length::from_mm(914.4));
        // 1 m = 1.0936 yd and 4 1/3 yd = 3.9624 m, computed from the same factors.
        assert!((Unit::Metre.one().in_unit(Unit::Yard) - 1.0936).abs() < 5e-5);
        assert_eq!(Length::from_mm(914.4 * 13.0 / 3.0), Length::from_mm(3962.4));
    }

    #[test]
    fn every_64th_of_an_inch_and_every_tenth_of_a_millimetre_is_shown_exactly() {
        for n in 1..6400 {
            let length = Length::from_inch_64ths(n);
            let text = length.number(Unit::Inch);
            assert!(!text.contains('.'), "{n}/64 in shows as {text}");
            let tenth = Length::from_nm(n * 100_000);
            assert_eq!(tenth.number(Unit::Millimetre).parse::<f64>().unwrap(), n as f64 / 10.0);
        }
        assert_eq!(Length::from_inch_64ths(74 * 64 + 32).show(Unit::Inch), "74 1/2 in");
        assert_eq!(Length::from_inch_64ths(-16).show(Unit::Inch), "-1/4 in");
    }

    #[test]
    fn a_reading_midway_goes_to_the_even_mark() {
        // NIST Handbook 44 10.3 as quoted: midway between 8/16 and 9/16 is read 8/16.
        let sixteenth = Length::from_inch_64ths(4);
        assert_eq!(Length::from_inch_64ths(34).round_even(sixteenth), sixteenth * 8);
        assert_eq!(Length::from_inch_64ths(38).round_even(sixteenth), sixteenth * 10);
        assert_eq!(Length::from_inch_64ths(35).round_even(sixteenth), sixteenth * 9);
    }

    #[test]
    fn buying_rounds_up_and_never_down() {
        // 3.417 yd in halves is 3.5; 1.031 in quarters 1.25 (two home-economics texts).
        let yd = Unit::Yard.one();
        assert_eq!(Length::from_mm(914.4 * 3.417).round_up(yd.share(2)), Length::from_mm(3200.4));
        assert_eq!(Length::from_mm(914.4 * 1.031).round_up(yd.share(4)), Length::from_mm(1143.0));
        assert_eq!(yd.round_up(yd), yd);
        assert_eq!(Length::ZERO.steps_up(yd), 0);
    }
}
