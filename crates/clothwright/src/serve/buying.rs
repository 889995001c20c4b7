//! Orders in the store: what was sent to whom, and what of it has come. Lines are only ever added.

use super::ledger::{Told, wrong};
use super::store::{Result, Store};
use rusqlite::{TransactionBehavior, params};
use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};

/// Something that is bought for a job.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Wanted {
    /// For which job.
    pub job: i64,
    /// What.
    pub item: String,
    /// How much.
    pub quantity: Decimal,
    /// Of what: yd, sheets, packs.
    pub unit: String,
}

/// An order as it was sent.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Order {
    /// Ours, from 1 without a gap.
    pub number: i64,
    /// To whom.
    pub supplier: String,
    /// When.
    pub at: String,
    /// Promised for; may be empty.
    pub due: String,
    /// What, with how much of each has come.
    pub lines: Vec<(Wanted, Decimal)>,
}

impl Order {
    /// Everything has come.
    pub fn is_complete(&self) -> bool {
        self.lines.iter().all(|(wanted, come)| *come >= wanted.quantity)
    }
}

impl Store {
    /// Sends an order under the next number. `open` says of each line how much of it may still be ordered,
    /// by the orders before it: two at once never order the same thing twice.
    pub fn order(
        &self,
        (supplier, due): (&str, &str),
        open: impl FnOnce(&[Order]) -> Vec<Wanted>,
        (who, at): Told,
    ) -> Result<Option<i64>> {
        let mut connection = self.writing()?;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let lines = open(&orders(&transaction)?);
        if lines.is_empty() {
            return Ok(None);
        }
        let number: i64 = transaction.query_row(
            "SELECT COALESCE(MAX(number), 0) + 1 FROM purchase",
            [],
            |r| r.get(0),
        )?;
        let text = serde_json::to_string(&lines).map_err(wrong)?;
        transaction.execute(
            "INSERT INTO purchase VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            params![number, supplier, at, who, due, text],
        )?;
        transaction.commit()?;
        Ok(Some(number))
    }

    /// All orders, by number.
    pub fn orders(&self) -> Result<Vec<Order>> {
        orders(&self.lock())
    }

    /// So much of a line of an order has come.
    pub fn come(&self, number: i64, line: usize, quantity: Decimal, (who, at): Told) -> Result<()> {
        self.writing()?.execute(
            "INSERT INTO arrival (purchase, line, quantity, at, who) VALUES (?1, ?2, ?3, ?4, ?5)",
            params![number, line as i64, quantity.to_string(), at, who],
        )?;
        Ok(())
    }
}

fn orders(connection: &rusqlite::Connection) -> Result<Vec<Order>> {
    let mut asked = connection
        .prepare_cached("SELECT number, supplier, at, due, lines FROM purchase ORDER BY number")?;
    let row = |r: &rusqlite::Row| {
        Ok((r.get(0)?, r.get(1)?, r.get(2)?, r.get(3)?, r.get::<_, String>(4)?))
    };
    let mut all = Vec::new();
    for row in asked.query_map([], row)? {
        let (number, supplier, at, due, text) = row?;
        let lines: Vec<Wanted> = serde_json::from_str(&text).map_err(wrong)?;
        let lines = lines.into_iter().map(|wanted| (wanted, Decimal::ZERO)).collect();
        all.push(Order { number, supplier, at, due, lines });
    }
    let mut asked = connection.prepare_cached("SELECT purchase, line, quantity FROM arrival")?;
    let row =
        |r: &rusqlite::Row| Ok((r.get::<_, i64>(0)?, r.get::<_, i64>(1)?, r.get::<_, String>(2)?));
    for row in asked.query_map([], row)? {
        let (number, line, quantity) = row?;
        let quantity: Decimal = quantity.parse().map_err(wrong)?;
        let order = all.iter_mut().find(|order| order.number == number);
        let line = usize::try_from(line).ok().zip(order).and_then(|(i, o)| o.lines.get_mut(i));
        if let Some(line) = line {
            line.1 += quantity;
        }
    }
    Ok(all)
}
