//! The same job side by side in other widths, directions and cloths: each row is planned, not guessed.

use crate::fault::Fault;
use crate::job::{Choice, Job};
use crate::material::{Cloth, Direction};
use crate::message::{Message, message};
use crate::plan::{Plan, plan, plan_again};
use crate::take_off::Source;
use geometry::{Length, Unit};
use lay::{Limits, Pattern};
use rust_decimal::Decimal;

/// What one row came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// New cloth used.
    pub used: Length,
    /// To buy.
    pub purchase: Length,
    /// No lay buys less.
    pub proven: bool,
    /// Every part may grow so much before the purchase does.
    pub forgives: Length,
    /// What all cloths of the job cost the shop.
    pub cost: Decimal,
    /// What the customer pays for the whole job, before tax.
    pub net: Decimal,
}

/// One way to cover the same pieces.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Of which cloth.
    pub cloth: String,
    /// Selvedge to selvedge.
    pub width: Length,
    /// Its motifs.
    pub pattern: Option<Pattern>,
    /// Which way parts lie.
    pub way: Direction,
    /// This is how the job stands now.
    pub now: bool,
    /// What it comes to, or why it cannot be.
    pub outcome: Result<Outcome, Message>,
}

/// All rows in place of one cloth of the job.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// The cloth as the job has it.
    pub cloth: String,
    /// Sold by.
    pub unit: Unit,
    /// The cloth itself first, then its other widths, then other cloths.
    pub rows: Vec<Row>,
}

/// Compares each cloth of a job with itself in other `widths`, up the roll and railroaded, and with
/// each other cloth the job lists. Cloths a row does not touch keep their lays, so that rows differ by
/// what they compare alone; `standing` is the plan of the same job, if there is one already: its row.
///
/// # Errors
/// The job's own faults; what a row cannot do is said in the row.
pub fn compare(
    job: &Job,
    widths: &[Length],
    limits: &Limits,
    standing: Option<&Plan>,
) -> Result<Vec<Table>, Vec<Fault>> {
    let mut plain = job.clone();
    plain.choices.clear();
    plain.relaxations.clear();
    // The job as it stands is its plan, no other lay of it.
    let base = match standing {
        Some(plan) => plan.clone(),
        None => plan(job, limits)?,
    };
    let asked: Vec<(usize, Vec<Variant>)> = base
        .lays
        .cloths
        .iter()
        .map(|lay| (lay.cloth, variants(&plain, lay.cloth, widths)))
        .collect();
    let rows: usize = asked.iter().map(|a| a.1.len()).sum();
    // A plan shares its work among its cloths, of which all but one are taken over.
    let each = limits.work / rows.max(1) as u64;
    let share = Limits { work: each * asked.len() as u64, ..*limits };
    Ok(asked
        .into_iter()
        .map(|(index, variants)| Table {
            cloth: plain.cloths[index].name.clone(),
            unit: plain.cloths[index].unit,
            rows: variants
                .into_iter()
                .map(|variant| row((&plain, &base), index, variant, &share))
                .collect(),
        })
        .collect())
}

/// One row's cloth, put in the place of the job's.
struct Variant {
    cloth: Cloth,
    /// Which cloth of the job it is.
    index: usize,
    now: bool,
}

fn variants(job: &Job, index: usize, widths: &[Length]) -> Vec<Variant> {
    let own = &job.cloths[index];
    let mut all = Vec::new();
    let mut add = |cloth: &Cloth, index: usize, now: bool| {
        for way in ways(cloth) {
            let now = now && way == cloth.direction;
            let mut cloth = Cloth { direction: way, ..cloth.clone() };
            if !now {
                // What was put in place by hand was put for the cloth as it is.
                cloth.pins.clear();
            }
            all.push(Variant { cloth, index, now });
        }
    };
    add(own, index, true);
    // Lengths on hand are of the width they are.
    for &width in widths.iter().filter(|w| **w != own.width && !own.customers_own) {
        let wider = Cloth { width, on_hand: Vec::new(), ..own.clone() };
        add(&wider, index, false);
    }
    for (i, other) in job.cloths.iter().enumerate() {
        if i != index && !other.customers_own {
            add(other, i, false);
        }
    }
    all
}

/// The way a cloth is to lie; for plain cloth both, and each part whichever way if the job says so.
fn ways(cloth: &Cloth) -> Vec<Direction> {
    let both = [Direction::UpTheRoll, Direction::Railroaded];
    let mut ways = if cloth.direction == Direction::Either {
        vec![Direction::Either]
    } else {
        vec![cloth.direction]
    };
    // Pile and pattern settle which way is up.
    if cloth.direction == Direction::Either || (!cloth.one_way && cloth.pattern.is_none()) {
        ways.extend(both.into_iter().filter(|way| *way != cloth.direction));
    }
    ways
}

fn row((job, base): (&Job, &Plan), index: usize, variant: Variant, limits: &Limits) -> Row {
    let name = variant.cloth.name.clone();
    let mut changed = job.clone();
    changed.cloths[variant.index] = variant.cloth.clone();
    if variant.index != index {
        let swap = vec![(job.cloths[index].name.clone(), name.clone())];
        changed = changed.with(&Choice { name: String::new(), swap });
    }
    let outcome = if variant.now {
        outcome(base, index)
    } else {
        match plan_again(&changed, limits, Some(base)) {
            Ok(plan) => outcome(&plan, variant.index),
            Err(faults) => Err(faults.first().map_or_else(Message::nothing, |f| f.what.clone())),
        }
    };
    Row {
        cloth: name,
        width: variant.cloth.width,
        pattern: variant.cloth.pattern,
        way: variant.cloth.direction,
        now: variant.now,
        outcome,
    }
}

fn outcome(plan: &Plan, index: usize) -> Result<Outcome, Message> {
    let lay = plan.lays.cloths.iter().find(|lay| lay.cloth == index);
    let lay = lay.ok_or_else(|| message("nothing-cut-from-it"))?;
    let cost: Decimal = plan
        .take_off
        .lines
        .iter()
        .filter(|line| matches!(line.source, Source::Cloth(_)))
        .map(|line| line.cost)
        .sum();
    Ok(Outcome {
        used: lay.answer.lay.new_length(),
        purchase: lay.purchase,
        proven: lay.answer.proven,
        forgives: lay.forgives,
        cost,
        net: plan.price.net,
    })
}
