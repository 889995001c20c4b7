//! How a number came about, so that every derived number can explain itself.

use geometry::{Length, Unit};

/// How lengths are written in one job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Style {
    /// The job's unit.
    pub unit: Unit,
    /// The finest mark used at the bench: 1/16 in, 1 mm.
    pub mark: Length,
}

impl Style {
    /// A unit with the mark usual for it: 1/16 in, 1 mm. Common practice, no source.
    pub fn usual(unit: Unit) -> Self {
        let mark = if unit.is_binary() { Length::from_inch_64ths(4) } else { Length::from_mm(1.0) };
        Self { unit, mark }
    }

    /// Exact, without the unit's sign.
    pub fn number(&self, length: Length) -> String {
        length.number(self.unit)
    }

    /// Exact, with the sign.
    pub fn show(&self, length: Length) -> String {
        length.show(self.unit)
    }

    /// To the nearest bench mark, with the sign: what a person can chalk.
    pub fn chalk(&self, length: Length) -> String {
        length.round_even(self.mark).show(self.unit)
    }

    /// Up to the next bench mark, without the sign: sizes to cut are never rounded down.
    pub fn cut_number(&self, length: Length) -> String {
        length.round_up(self.mark).number(self.unit)
    }

    /// Up to the next bench mark, with the sign.
    pub fn cut(&self, length: Length) -> String {
        length.round_up(self.mark).show(self.unit)
    }

    /// To the nearest bench mark, without the sign.
    pub fn chalk_number(&self, length: Length) -> String {
        length.round_even(self.mark).number(self.unit)
    }
}

/// Part of a formula as it is written out.
#[derive(Clone, Debug, PartialEq)]
pub enum Term {
    /// A sign or word.
    Text(&'static str),
    /// A length, shown in the job's unit.
    Length(Length),
    /// A bare number.
    Number(f64),
}

/// One derived number and its formula.
#[derive(Clone, Debug, PartialEq)]
pub struct Working {
    /// What was worked out: `cut width`.
    pub what: String,
    /// The formula with its numbers.
    pub terms: Vec<Term>,
    /// What came out.
    pub result: Length,
}

impl Working {
    /// From its formula.
    pub fn new(what: impl Into<String>, terms: Vec<Term>, result: Length) -> Self {
        Self { what: what.into(), terms, result }
    }

    /// The formula: `450 + 2 × (100 + 18 + 50) = 786`.
    pub fn formula(&self, style: &Style) -> String {
        let mut text = String::new();
        for term in &self.terms {
            match term {
                Term::Text(sign) => text.push_str(sign),
                Term::Length(length) => text.push_str(&style.number(*length)),
                Term::Number(n) => text.push_str(&number(*n)),
            }
        }
        format!("{text} = {}", style.number(self.result))
    }

    /// `from + 2 × (a + b + c)`, leaving out what is nought, and its result.
    pub fn grown(what: impl Into<String>, from: Length, by: &[Length]) -> Self {
        let by: Vec<Length> = by.iter().copied().filter(|l| *l != Length::ZERO).collect();
        let sum: Length = by.iter().copied().sum();
        let mut terms = vec![Term::Length(from)];
        if !by.is_empty() {
            terms.push(Term::Text(if by.len() > 1 { " + 2 × (" } else { " + 2 × " }));
            for (i, length) in by.iter().enumerate() {
                if i > 0 {
                    terms.push(Term::Text(" + "));
                }
                terms.push(Term::Length(*length));
            }
            if by.len() > 1 {
                terms.push(Term::Text(")"));
            }
        }
        Self::new(what, terms, from + sum * 2)
    }
}

fn number(n: f64) -> String {
    if n == n.trunc() {
        format!("{n:.0}")
    } else {
        format!("{n:.3}").trim_end_matches('0').trim_end_matches('.').to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cover_explains_itself() {
        let mm = |x: f64| Length::from_mm(x);
        let working = Working::grown("cut width", mm(450.0), &[mm(100.0), mm(18.0), mm(50.0)]);
        let style = Style { unit: Unit::Millimetre, mark: mm(1.0) };
        assert_eq!(working.formula(&style), "450 + 2 × (100 + 18 + 50) = 786");
        let bare = Working::grown("cut height", mm(450.0), &[mm(0.0), mm(50.0)]);
        assert_eq!(bare.formula(&style), "450 + 2 × 50 = 550");
    }
}
