//! What was agreed, what is invoiced of it, what is paid and what is owed.

use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};
use trade::message::Message;
use trade::money::cents;
use trade::plan::Plan;

/// A line as the customer sees it: an amount before tax, and the tax on it in percent.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Line {
    /// What it is for.
    pub what: String,
    /// Before tax.
    pub net: Decimal,
    /// Tax, percent.
    pub percent: Decimal,
}

/// A price as it was agreed with the customer, frozen: the plan may change, this does not.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Agreed {
    /// Sign or code.
    pub currency: String,
    /// What the tax is called.
    pub tax_name: String,
    /// Lines by heading and tax.
    pub lines: Vec<Line>,
    /// With tax, as rounded.
    pub total: Decimal,
    /// To pay before cloth is ordered.
    pub deposit: Decimal,
}

impl Agreed {
    /// The price of a plan as it stands; nothing where there is no total.
    pub fn of(plan: &Plan, say: impl Fn(&Message) -> String) -> Option<Self> {
        let total = plan.price.whole()?;
        let tax = &plan.job.rates.tax;
        let mut lines: Vec<Line> = Vec::new();
        for line in &plan.price.lines {
            let (what, percent) = (say(&line.group.name()), tax.rate(line.class));
            match lines.iter_mut().find(|l| l.what == what && l.percent == percent) {
                Some(found) => found.net += line.amount,
                None => lines.push(Line { what, net: line.amount, percent }),
            }
        }
        Some(Self {
            currency: plan.job.currency.clone(),
            tax_name: tax.name.clone(),
            lines,
            total,
            deposit: plan.price.first().unwrap_or_default(),
        })
    }
}

/// Net and tax of some lines at each percentage: tax is rounded once for each, halves up.
///
/// Source: tax on the taxable sum of each rate, EN 16931 rule BR-CO-17.
pub fn taxes(lines: &[Line]) -> Vec<(Decimal, Decimal, Decimal)> {
    let mut sums: Vec<(Decimal, Decimal, Decimal)> = Vec::new();
    for line in lines {
        match sums.iter_mut().find(|sum| sum.0 == line.percent) {
            Some(sum) => sum.1 += line.net,
            None => sums.push((line.percent, line.net, Decimal::ZERO)),
        }
    }
    sums.sort_by_key(|sum| std::cmp::Reverse(sum.0));
    for sum in &mut sums {
        sum.2 = cents(sum.1 * sum.0 / Decimal::ONE_HUNDRED);
    }
    sums
}

/// What an invoice is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Kind {
    /// A deposit, or a part of what was agreed.
    Part,
    /// The rest.
    Final,
    /// Takes an invoice back.
    Credit,
}

impl Kind {
    /// As it is kept.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Part => "part",
            Self::Final => "final",
            Self::Credit => "credit",
        }
    }
}

/// Who writes it, or to whom.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Party {
    /// Name.
    pub name: String,
    /// Street and place, as written.
    pub address: String,
    /// Country by its ISO 3166 letters; may be empty.
    pub country: String,
    /// Number at the tax office; may be empty.
    pub tax_number: String,
    /// Telephone or mail.
    pub contact: String,
}

/// An invoice as it is issued: frozen, numbered without a gap.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Invoice {
    /// In the order of issue, from 1.
    pub number: i64,
    /// What it is.
    pub kind: Kind,
    /// The invoice that a credit takes back.
    pub takes_back: Option<i64>,
    /// Issued on, as 2026-11-27.
    pub date: String,
    /// To be paid by.
    pub due: String,
    /// The job's name.
    pub job: String,
    /// The workroom.
    pub seller: Party,
    /// The customer.
    pub buyer: Party,
    /// Sign or code.
    pub currency: String,
    /// What the tax is called.
    pub tax_name: String,
    /// What it is for. Of a credit the amounts that are taken back, above zero.
    pub lines: Vec<Line>,
    /// What brings the sums to the total that was agreed.
    pub rounding: Decimal,
    /// Printed under it.
    pub terms: String,
}

impl Invoice {
    /// Before tax.
    pub fn net(&self) -> Decimal {
        self.lines.iter().map(|line| line.net).sum()
    }

    /// All tax.
    pub fn tax(&self) -> Decimal {
        taxes(&self.lines).iter().map(|sum| sum.2).sum()
    }

    /// To pay; of a credit what is given back.
    pub fn total(&self) -> Decimal {
        self.net() + self.tax() + self.rounding
    }

    /// What it adds to what the customer owes: less than nothing for a credit.
    pub fn owed(&self) -> Decimal {
        if self.kind == Kind::Credit { -self.total() } else { self.total() }
    }
}

/// Lines and rounding of an invoice.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// What it is for.
    pub lines: Vec<Line>,
    /// What brings the sums to the total.
    pub rounding: Decimal,
}

/// Why an invoice cannot be written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refused {
    /// Nothing is left to invoice.
    NothingLeft,
    /// More than what is left.
    TooMuch,
    /// Not above zero.
    NotAboveZero,
}

/// What is still to invoice of what was agreed. Part invoices and credits have changed it before.
pub fn left(agreed: &Agreed, before: &[Invoice]) -> Decimal {
    agreed.total - before.iter().map(Invoice::owed).sum::<Decimal>()
}

/// A part of what was agreed: `amount` with tax, as a share of each rate's sum.
///
/// # Errors
/// An amount that is not above zero, or more than what is left.
pub fn part(
    agreed: &Agreed,
    before: &[Invoice],
    amount: Decimal,
    what: &str,
) -> Result<Body, Refused> {
    if amount <= Decimal::ZERO {
        return Err(Refused::NotAboveZero);
    }
    if amount > left(agreed, before) {
        return Err(Refused::TooMuch);
    }
    let share = amount / agreed.total;
    let lines: Vec<Line> = taxes(&agreed.lines)
        .into_iter()
        .map(|(percent, net, _)| Line { what: what.into(), net: cents(net * share), percent })
        .filter(|line| !line.net.is_zero())
        .collect();
    let sums: Decimal = taxes(&lines).iter().map(|(_, net, tax)| net + tax).sum();
    Ok(Body { lines, rounding: amount - sums })
}

/// The rest: every line that was agreed, less each earlier invoice, and what brings the sum to the cent.
///
/// # Errors
/// Nothing is left.
pub fn rest(
    agreed: &Agreed,
    before: &[Invoice],
    less: impl Fn(&Invoice) -> String,
) -> Result<Body, Refused> {
    let to_pay = left(agreed, before);
    if to_pay <= Decimal::ZERO {
        return Err(Refused::NothingLeft);
    }
    let mut lines = agreed.lines.clone();
    for invoice in before {
        let sign = if invoice.kind == Kind::Credit { Decimal::ONE } else { -Decimal::ONE };
        lines.extend(taxes(&invoice.lines).into_iter().map(|(percent, net, _)| Line {
            what: less(invoice),
            net: net * sign,
            percent,
        }));
    }
    let sums: Decimal = taxes(&lines).iter().map(|(_, net, tax)| net + tax).sum();
    Ok(Body { lines, rounding: to_pay - sums })
}

/// An invoice and what is still owed of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Open {
    /// Its number.
    pub number: i64,
    /// To be paid by.
    pub due: String,
    /// Still owed.
    pub owed: Decimal,
}

/// What is owed of each invoice of one job when credits and payments have gone to the oldest first: a credit
/// to its own invoice before that. What was paid beyond all of them comes back besides.
pub fn open(invoices: &[Invoice], paid: Decimal) -> (Vec<Open>, Decimal) {
    let mut all: Vec<Open> = invoices
        .iter()
        .filter(|invoice| invoice.kind != Kind::Credit)
        .map(|invoice| Open {
            number: invoice.number,
            due: invoice.due.clone(),
            owed: invoice.total(),
        })
        .collect();
    let mut to_give = paid;
    for credit in invoices.iter().filter(|invoice| invoice.kind == Kind::Credit) {
        let own = all.iter_mut().find(|open| Some(open.number) == credit.takes_back);
        let taken = own.map_or(Decimal::ZERO, |open| {
            let taken = credit.total().min(open.owed);
            open.owed -= taken;
            taken
        });
        to_give += credit.total() - taken;
    }
    for open in &mut all {
        let taken = to_give.min(open.owed).max(Decimal::ZERO);
        open.owed -= taken;
        to_give -= taken;
    }
    all.retain(|open| open.owed > Decimal::ZERO);
    (all, to_give)
}

/// Ages of what is owed, in days past the day it was due: not yet, to 30, to 60, to 90, more.
pub const AGES: usize = 5;

/// Which age a sum has on a day; dates that cannot be read are not yet due.
pub fn age(due: &str, today: &str) -> usize {
    let (Ok(due), Ok(today)) =
        (due.parse::<jiff::civil::Date>(), today.parse::<jiff::civil::Date>())
    else {
        return 0;
    };
    match due.until(today).map_or(0, |span| span.get_days()) {
        ..=0 => 0,
        1..=30 => 1,
        31..=60 => 2,
        61..=90 => 3,
        _ => 4,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)] // In tests a failure may say so.
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn line(what: &str, cents: i64, percent: i64) -> Line {
        Line { what: what.into(), net: Decimal::new(cents, 2), percent: Decimal::from(percent) }
    }

    fn agreed(lines: Vec<Line>, rounding: i64) -> Agreed {
        let sums: Decimal = taxes(&lines).iter().map(|(_, net, tax)| net + tax).sum();
        Agreed {
            currency: "EUR".into(),
            tax_name: "VAT".into(),
            lines,
            total: sums + Decimal::new(rounding, 2),
            deposit: Decimal::ZERO,
        }
    }

    fn invoice(number: i64, kind: Kind, body: Body) -> Invoice {
        Invoice {
            number,
            kind,
            takes_back: None,
            date: "2026-11-27".into(),
            due: "2026-12-27".into(),
            job: "J".into(),
            seller: Party::default(),
            buyer: Party::default(),
            currency: "EUR".into(),
            tax_name: "VAT".into(),
            lines: body.lines,
            rounding: body.rounding,
            terms: String::new(),
        }
    }

    #[test]
    fn tax_is_that_of_the_standards_example() {
        // EN 16931-1, example of two rates: 1436.50 at 25 % and -25.00 at 0 %: 359.13 (half a cent up).
        let sums = taxes(&[line("a", 143_650, 25), line("b", -2500, 0)]);
        assert_eq!(sums[0].2, Decimal::new(35_913, 2));
        assert_eq!(sums[1].2, Decimal::ZERO);
    }

    proptest! {
        #[test]
        fn parts_and_the_rest_add_up_to_what_was_agreed(
            nets in proptest::collection::vec((1_i64..500_000, prop_oneof![Just(0_i64), Just(7), Just(20)]), 1..6),
            rounding in -50_i64..50,
            shares in proptest::collection::vec(1_i64..60, 0..4),
        ) {
            let lines = nets.iter().enumerate().map(|(i, (net, percent))| line(&i.to_string(), *net, *percent));
            let agreed = agreed(lines.collect(), rounding);
            prop_assume!(agreed.total > Decimal::ONE);
            let mut all: Vec<Invoice> = Vec::new();
            for share in shares {
                let amount = cents(left(&agreed, &all) * Decimal::new(share, 2));
                if amount <= Decimal::ZERO {
                    continue;
                }
                let body = part(&agreed, &all, amount, "part").unwrap();
                let next = invoice(all.len() as i64 + 1, Kind::Part, body);
                prop_assert_eq!(next.total(), amount);
                prop_assert!(next.rounding.abs() <= Decimal::new(5, 2) + Decimal::new(rounding.abs(), 2));
                all.push(next);
            }
            if left(&agreed, &all) > Decimal::ZERO {
                let body = rest(&agreed, &all, |i| format!("less {}", i.number)).unwrap();
                all.push(invoice(all.len() as i64 + 1, Kind::Final, body));
            }
            let sum: Decimal = all.iter().map(Invoice::owed).sum();
            prop_assert_eq!(sum, agreed.total);
            prop_assert_eq!(rest(&agreed, &all, |_| String::new()), Err(Refused::NothingLeft));
            // What is paid leaves the rest open, and nothing is given away.
            let paid = cents(agreed.total / Decimal::from(3));
            let (open, over) = open(&all, paid);
            prop_assert_eq!(open.iter().map(|o| o.owed).sum::<Decimal>() - over, agreed.total - paid);
        }
    }

    #[test]
    fn a_credit_goes_to_its_own_invoice() {
        let body = |cents| Body { lines: vec![line("a", cents, 0)], rounding: Decimal::ZERO };
        let first = invoice(1, Kind::Part, body(10_000));
        let second = invoice(2, Kind::Part, body(5_000));
        let credit = Invoice { takes_back: Some(2), ..invoice(3, Kind::Credit, body(5_000)) };
        let (open, over) = open(&[first, second, credit], Decimal::new(4_000, 2));
        assert_eq!((open.len(), open[0].number), (1, 1));
        assert_eq!((open[0].owed, over), (Decimal::new(6_000, 2), Decimal::ZERO));
    }

    #[test]
    fn ages_are_counted_from_the_day_it_was_due() {
        let ages =
            ["2026-11-27", "2026-11-26", "2026-10-28", "2026-10-27", "2026-08-29", "2026-08-28"]
                .map(|due| age(due, "2026-11-27"));
        assert_eq!(ages, [0, 1, 1, 2, 3, 4]);
    }
}
