//! Exact money: decimals in one currency, markup and margin kept apart.

use crate::message::{Message, message};
use rust_decimal::prelude::FromPrimitive;
use rust_decimal::{Decimal, RoundingStrategy};

/// What is added to a cost to make a price.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Uplift {
    /// Percent of the cost: 100 at 50 % is 150.
    Markup(Decimal),
    /// Percent of the price: 90 at 40 % is 150.
    Margin(Decimal),
}

impl Uplift {
    /// Nothing added.
    pub const NONE: Self = Self::Markup(Decimal::ZERO);

    /// The price of a cost, unrounded.
    ///
    /// Source: markup is on cost, `p = c (1 + m)`; margin is on price, `p = c / (1 - g)`; business
    /// arithmetic texts. A margin of 100 % or more is refused when read.
    pub fn price(self, cost: Decimal) -> Decimal {
        let hundred = Decimal::ONE_HUNDRED;
        match self {
            Self::Markup(percent) => cost * (hundred + percent) / hundred,
            Self::Margin(percent) => cost * hundred / (hundred - percent),
        }
    }

    /// Markup or margin, and its percentage.
    pub fn show(self) -> Message {
        match self {
            Self::Markup(percent) => message("markup").decimal("percent", percent),
            Self::Margin(percent) => message("margin").decimal("percent", percent),
        }
    }
}

/// Margin of a price over a cost, in percent of the price; `None` for no price.
pub fn margin(cost: Decimal, price: Decimal) -> Option<Decimal> {
    (!price.is_zero()).then(|| (price - cost) * Decimal::ONE_HUNDRED / price)
}

/// A measured amount as a decimal, to a millionth.
pub fn decimal(x: f64) -> Decimal {
    Decimal::from_f64(x).unwrap_or_default().round_dp(6).normalize()
}

/// To the cent, halves away from zero.
pub fn cents(amount: Decimal) -> Decimal {
    amount.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero)
}

/// To the nearest multiple of `step`, halves away from zero; unchanged for a step of nought.
pub fn to_step(amount: Decimal, step: Decimal) -> Decimal {
    if step <= Decimal::ZERO {
        return cents(amount);
    }
    (amount / step).round_dp_with_strategy(0, RoundingStrategy::MidpointAwayFromZero) * step
}

/// With two decimals always: `12.50`.
pub fn show(amount: Decimal) -> String {
    format!("{:.2}", cents(amount))
}

/// A sum for a screen, with its currency and commas between thousands: `£1,530.98`, `USD 1,530.98`.
pub fn sum(currency: &str, amount: Decimal) -> String {
    let text = show(amount);
    let (sign, text) = text.strip_prefix('-').map_or(("", text.as_str()), |rest| ("−", rest));
    let (whole, cents) = text.split_once('.').unwrap_or((text, "00"));
    let first = whole.len() % 3;
    let mut out = whole[..first].to_string();
    for at in (first..whole.len()).step_by(3) {
        if !out.is_empty() {
            out.push(',');
        }
        out.push_str(&whole[at..at + 3]);
    }
    let space =
        if currency.chars().all(char::is_alphabetic) && !currency.is_empty() { " " } else { "" };
    format!("{sign}{currency}{space}{out}.{cents}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn d(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    #[test]
    fn sums_have_commas_between_thousands() {
        assert_eq!(sum("£", d("1530.98")), "£1,530.98");
        assert_eq!(sum("USD", d("1234567.5")), "USD 1,234,567.50");
        assert_eq!(sum("€", d("-12")), "−€12.00");
        assert_eq!(sum("", d("999.999")), "1,000.00");
    }

    #[test]
    fn markup_and_margin_are_not_confused() {
        // Business arithmetic texts: 100 at markup 50 -> 150, margin 33.33; 100 sold at 125: markup
        // 25, margin 20; 600 at margin 40 -> 1000; 70 at margin 30 -> 100; 17 500 at 20 -> 21 000.
        assert_eq!(Uplift::Markup(d("50")).price(d("100")), d("150"));
        assert_eq!(cents(margin(d("100"), d("150")).unwrap()), d("33.33"));
        assert_eq!(margin(d("100"), d("125")).unwrap(), d("20"));
        assert_eq!(Uplift::Margin(d("40")).price(d("600")), d("1000"));
        assert_eq!(Uplift::Margin(d("40")).price(d("90")), d("150"));
        assert_eq!(Uplift::Margin(d("30")).price(d("70")), d("100"));
        assert_eq!(Uplift::Markup(d("20")).price(d("17500")), d("21000"));
        assert_eq!(cents(margin(d("17500"), d("21000")).unwrap()), d("16.67"));
    }

    #[test]
    fn rounding_is_half_up_and_to_any_step() {
        assert_eq!(cents(d("554.896")), d("554.90"));
        assert_eq!(cents(d("0.005")), d("0.01"));
        assert_eq!(to_step(d("1234.50"), d("5")), d("1235"));
        assert_eq!(to_step(d("1232.49"), d("5")), d("1230"));
        assert_eq!(show(d("3")), "3.00");
    }
}
