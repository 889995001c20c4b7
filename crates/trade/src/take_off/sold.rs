//! Sizes that staples and screws are sold in: advice names one that can be bought.

use crate::message::{Message, message};
use crate::working::Style;
use geometry::Length;

/// Legs of fine-wire upholstery staples, 64ths of an inch: 3/16, 1/4, 5/16, 3/8, 7/16, 1/2, 9/16, 5/8.
/// Common practice, no source.
const LEGS_INCH: [i64; 8] = [12, 16, 20, 24, 28, 32, 36, 40];

/// The same in millimetres. Common practice, no source.
const LEGS_MM: [i64; 7] = [4, 6, 8, 10, 12, 14, 16];

/// Lengths of wood screws in 64ths of an inch: by eighths to 1 in, by quarters to 3 in, by halves to 4 in.
///
/// Source: ASME B18.6.1, standard lengths of wood screws, from memory.
const SCREWS_INCH: [i64; 16] =
    [24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160, 176, 192, 224, 256];

/// The same in millimetres. Common practice, no source.
const SCREWS_MM: [i64; 16] = [10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 70, 80, 90, 100];

/// What is sold by its length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sold {
    /// By the leg.
    Staples,
    /// Under the head.
    Screws,
}

/// Every size sold that is at least `least` and at most `most`, the shortest first.
pub fn sizes(what: Sold, style: &Style, least: Length, most: Length) -> Vec<Length> {
    let inches = |list: &[i64]| list.iter().map(|n| Length::from_inch_64ths(*n)).collect();
    let metric = |list: &[i64]| list.iter().map(|n| Length::from_nm(n * 1_000_000)).collect();
    let mut all: Vec<Length> = match (what, style.unit.is_binary()) {
        (Sold::Staples, true) => inches(&LEGS_INCH),
        (Sold::Staples, false) => metric(&LEGS_MM),
        (Sold::Screws, true) => inches(&SCREWS_INCH),
        (Sold::Screws, false) => metric(&SCREWS_MM),
    };
    all.sort();
    all.retain(|size| least <= *size && *size <= most);
    all
}

/// Those sizes, two at most: `5/16 or 3/8 in`; `None` if none is sold.
pub fn named(what: Sold, style: &Style, least: Length, most: Length) -> Option<Message> {
    match sizes(what, style, least, most)[..] {
        [] => None,
        [only] => Some(message("sold-one").length("only", only)),
        [first, .., last] => Some(message("sold-two").number("first", first).length("last", last)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry::Unit;

    #[test]
    fn only_what_is_sold_is_named() {
        // A 1/4 in board under 1/16 in of cloth: from 5/16 to 1/4, so there is no such leg.
        let inch = Length::from_inches;
        let style = Style { unit: Unit::Inch, mark: inch(0.125), is_converted: false };
        assert_eq!(named(Sold::Staples, &style, inch(0.3125), inch(0.25)), None);
        let three_eighths = named(Sold::Staples, &style, inch(0.3125), inch(0.375));
        let two = message("sold-two").number("first", inch(0.3125)).length("last", inch(0.375));
        assert_eq!(three_eighths.unwrap(), two);
        // Under 26 mm and over 25.003 mm no screw is sold; 25 is for 25.
        let mm = Length::from_mm;
        let metric = Style::usual(Unit::Millimetre);
        assert_eq!(named(Sold::Screws, &metric, mm(25.003), mm(26.0)), None);
        let only = message("sold-one").length("only", mm(25.0));
        assert_eq!(named(Sold::Screws, &metric, mm(25.0), mm(26.0)).unwrap(), only);
    }
}
