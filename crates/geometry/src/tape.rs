//! Lengths as people write them: `74 1/2`, `6' 2 3/8"`, `1880 mm`, `1.88 m`.

use crate::{Length, Unit};
use std::fmt;

/// Why a text is not a length.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TapeError {
    /// Nothing but blanks.
    Empty,
    /// Something that is neither a number nor a unit, as found.
    Unreadable(String),
    /// A fraction over nought.
    OverZero,
    /// A minus sign.
    Negative,
    /// A decimal comma, or commas between thousands.
    Comma,
    /// Beyond what any tape or roll can hold (1000 km).
    TooLong,
}

impl fmt::Display for TapeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(f, "there is no length here"),
            Self::Unreadable(what) => write!(f, "`{what}` is not part of a length"),
            Self::OverZero => write!(f, "a fraction cannot be over 0"),
            Self::Negative => write!(f, "a length cannot be negative"),
            Self::Comma => write!(f, "a comma can be read two ways"),
            Self::TooLong => write!(f, "the number is too long"),
        }
    }
}

impl TapeError {
    /// What the person can do about it.
    pub fn remedy(&self) -> &'static str {
        match self {
            Self::Comma => "write a point for decimals (1.88) and nothing between thousands",
            Self::Negative => "measure again and enter a length above 0",
            _ => "write it like `74 1/2`, `6' 2 3/8\"`, `1880 mm`, `188 cm` or `1.88 m`",
        }
    }
}

/// Reads a length; bare numbers are in `unit`, or in inches after feet.
///
/// Exact: fractions and decimals are added as whole-number ratios and rounded once, to the
/// nearest nanometre, which leaves every 1/64 in and every 1/10 mm whole.
///
/// # Errors
/// See [`TapeError`]; the text is never read in part.
pub fn read_length(text: &str, unit: Unit) -> Result<Length, TapeError> {
    let tokens = tokens(text)?;
    if tokens.is_empty() {
        return Err(TapeError::Empty);
    }
    let mut total = Ratio { top: 0, bottom: 1 };
    let mut last_unit = None;
    let mut rest = tokens.as_slice();
    while !rest.is_empty() {
        let (number, used) = mixed_number(rest)?;
        rest = &rest[used..];
        let here = match rest.first() {
            Some(Token::Unit(unit)) => {
                rest = &rest[1..];
                *unit
            }
            Some(Token::Number(..) | Token::Slash | Token::Dash) => {
                return Err(TapeError::Unreadable(text.trim().into()));
            }
            None if last_unit == Some(Unit::Foot) => Unit::Inch,
            None if last_unit.is_none() => unit,
            None => return Err(TapeError::Unreadable(text.trim().into())),
        };
        // Only larger units first: 6 ft 2 in, never 2 in 6 ft.
        if last_unit.is_some_and(|last| last.one() <= here.one()) {
            return Err(TapeError::Unreadable(text.trim().into()));
        }
        total = total.plus(number.times(i128::from(here.one().nm()))?)?;
        last_unit = Some(here);
    }
    total.rounded()
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Token {
    /// Digits before and after the point, as a ratio; `true` if it was a plain whole number.
    Number(Ratio, bool),
    Slash,
    Dash,
    Unit(Unit),
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Ratio {
    top: i128,
    bottom: i128,
}

impl Ratio {
    fn plus(self, other: Self) -> Result<Self, TapeError> {
        let top = self.top.checked_mul(other.bottom).zip(other.top.checked_mul(self.bottom));
        let (a, b) = top.ok_or(TapeError::TooLong)?;
        let bottom = self.bottom.checked_mul(other.bottom).ok_or(TapeError::TooLong)?;
        Ok(Self { top: a.checked_add(b).ok_or(TapeError::TooLong)?, bottom })
    }

    fn times(self, n: i128) -> Result<Self, TapeError> {
        Ok(Self { top: self.top.checked_mul(n).ok_or(TapeError::TooLong)?, ..self })
    }

    fn rounded(self) -> Result<Length, TapeError> {
        let nm = (2 * self.top + self.bottom).div_euclid(2 * self.bottom);
        if nm > 1_000_000_000_000_000 {
            return Err(TapeError::TooLong);
        }
        i64::try_from(nm).map(Length::from_nm).map_err(|_| TapeError::TooLong)
    }
}

/// `a`, `a b/c`, `a-b/c` or `b/c`, and how many tokens it took.
fn mixed_number(tokens: &[Token]) -> Result<(Ratio, usize), TapeError> {
    use Token::{Dash, Number, Slash};
    match tokens {
        [Number(a, true), Number(b, true), Slash, Number(c, true), ..] => {
            Ok((a.plus(over(*b, *c)?)?, 4))
        }
        [Number(a, true), Dash, Number(b, true), Slash, Number(c, true), ..] => {
            Ok((a.plus(over(*b, *c)?)?, 5))
        }
        [Number(b, true), Slash, Number(c, true), ..] => Ok((over(*b, *c)?, 3)),
        [Number(a, _), ..] => Ok((*a, 1)),
        [Dash, ..] => Err(TapeError::Negative),
        [Slash, ..] => Err(TapeError::Unreadable("/".into())),
        [Token::Unit(unit), ..] => Err(TapeError::Unreadable(unit.sign().into())),
        [] => Err(TapeError::Empty),
    }
}

fn over(top: Ratio, bottom: Ratio) -> Result<Ratio, TapeError> {
    if bottom.top == 0 {
        return Err(TapeError::OverZero);
    }
    Ok(Ratio { top: top.top, bottom: bottom.top })
}

fn tokens(text: &str) -> Result<Vec<Token>, TapeError> {
    let mut found = Vec::new();
    let chars: Vec<char> = text.chars().collect();
    let mut i = 0;
    while i < chars.len() {
        let c = chars[i];
        let end = |ok: &dyn Fn(char) -> bool| {
            chars[i..].iter().position(|&c| !ok(c)).map_or(chars.len(), |n| i + n)
        };
        if c.is_whitespace() {
            i += 1;
        } else if c == ',' {
            return Err(TapeError::Comma);
        } else if c.is_ascii_digit() || c == '.' {
            let stop = end(&|c| c.is_ascii_digit() || c == '.');
            let word: String = chars[i..stop].iter().collect();
            found.push(number(&word)?);
            i = stop;
        } else if let Some((top, bottom)) = vulgar(c) {
            let whole = |n| Token::Number(Ratio { top: n, bottom: 1 }, true);
            found.extend([whole(top), Token::Slash, whole(bottom)]);
            i += 1;
        } else if c == '/' || c == '\u{2044}' {
            found.push(Token::Slash);
            i += 1;
        } else if c == '-' || c == '\u{2212}' {
            found.push(Token::Dash);
            i += 1;
        } else {
            let stop = if c.is_alphabetic() { end(&char::is_alphabetic) } else { end(&|d| d == c) };
            let word: String = chars[i..stop].iter().collect();
            let unit = Unit::from_sign(&word.to_lowercase());
            found.push(Token::Unit(unit.ok_or(TapeError::Unreadable(word))?));
            i = stop;
        }
    }
    Ok(found)
}

fn number(word: &str) -> Result<Token, TapeError> {
    let bad = || TapeError::Unreadable(word.into());
    let (whole, part) = word.split_once('.').unwrap_or((word, ""));
    if part.contains('.') || (whole.is_empty() && part.is_empty()) {
        return Err(bad());
    }
    if whole.len() > 15 || part.len() > 15 {
        return Err(TapeError::TooLong);
    }
    let digits = |text: &str| if text.is_empty() { Ok(0) } else { text.parse::<i128>() };
    let bottom = 10_i128.pow(part.len() as u32);
    let top = digits(whole).map_err(|_| bad())? * bottom + digits(part).map_err(|_| bad())?;
    Ok(Token::Number(Ratio { top, bottom }, !word.contains('.')))
}

fn vulgar(c: char) -> Option<(i128, i128)> {
    Some(match c {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn lengths_as_people_write_them() {
        let inch = |n: i64| Length::from_inch_64ths(n);
        for (text, want) in [
            ("74 1/2", inch(74 * 64 + 32)),
            ("74-1/2", inch(74 * 64 + 32)),
            ("74½", inch(74 * 64 + 32)),
            ("6' 2 3/8\"", inch(74 * 64 + 24)),
            ("6'2 3/8", inch(74 * 64 + 24)),
            ("6 ft 2 in", inch(74 * 64)),
            ("6'", inch(72 * 64)),
            ("3/32", inch(6)),
            (".5", inch(32)),
            ("1880 mm", Length::from_mm(1880.0)),
            ("1.88 m", Length::from_mm(1880.0)),
            ("188cm", Length::from_mm(1880.0)),
            ("1 m 88 cm", Length::from_mm(1880.0)),
            ("2 1/4 yd", Length::from_mm(2057.4)),
            ("12.7 mm", inch(32)),
            ("0", Length::ZERO),
        ] {
            assert_eq!(read_length(text, Unit::Inch), Ok(want), "{text}");
        }
        assert_eq!(read_length("1880", Unit::Millimetre), Ok(Length::from_mm(1880.0)));
    }

    #[test]
    fn what_is_not_a_length_is_refused_whole() {
        for (text, want) in [
            ("", TapeError::Empty),
            ("  ", TapeError::Empty),
            ("1/0", TapeError::OverZero),
            ("-4", TapeError::Negative),
            ("1,88 m", TapeError::Comma),
            ("NaN", TapeError::Unreadable("NaN".into())),
            ("12 furlongs", TapeError::Unreadable("furlongs".into())),
            ("mm", TapeError::Unreadable("mm".into())),
            ("2 in 6 ft", TapeError::Unreadable("2 in 6 ft".into())),
            ("1 2 3", TapeError::Unreadable("1 2 3".into())),
            ("1.5 1/2", TapeError::Unreadable("1.5 1/2".into())),
            ("1.2.3", TapeError::Unreadable("1.2.3".into())),
            ("99999999999999999999", TapeError::TooLong),
            ("inf", TapeError::Unreadable("inf".into())),
        ] {
            assert_eq!(read_length(text, Unit::Inch), Err(want), "{text}");
        }
    }

    proptest! {
        #[test]
        fn what_is_shown_reads_back_the_same(n in 1_i64..6_400_000, tenth in 1_i64..9_999_999) {
            let inches = Length::from_inch_64ths(n);
            prop_assert_eq!(read_length(&inches.show(Unit::Inch), Unit::Millimetre), Ok(inches));
            let mm = Length::from_nm(tenth * 100_000);
            for unit in [Unit::Millimetre, Unit::Centimetre, Unit::Metre] {
                prop_assert_eq!(read_length(&mm.show(unit), Unit::Inch), Ok(mm));
            }
        }

        #[test]
        fn no_text_makes_it_panic(text in ".{0,40}") {
            let _ = read_length(&text, Unit::Inch);
        }
    }
}
