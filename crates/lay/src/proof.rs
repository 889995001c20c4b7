//! Whether any lay buys less than one that was found.

use crate::bound::{Bound, Reason, least};
use crate::form::{Detail, Forms};
use crate::frontier::Frontier;
use crate::stacked::stacked;
use crate::{Instance, Limits, exact, fill, purse};
use geometry::Length;
use std::cell::Cell;

/// What a skyline costs, in looks of the placing.
const SKYLINE: u64 = 100;

/// What a step of the frontier costs, in looks of the placing.
const FRONTIER: u64 = 4;

/// Steps that are always allowed where there is a search at all: about a hundredth of a second.
const FEW_STEPS: u64 = 1_000_000;

/// Trials of columns and of rows that are always allowed where there is a search at all.
const FEW_NODES: u64 = 20_000;

/// Steps of the purchase that are looked at to raise a bound.
const TRIALS: usize = 12;

/// That no lay buys less than `purchase`, if it can be shown with a share of the work allowed.
pub fn no_less(instance: &Instance, purchase: Length, limits: &Limits) -> Option<Bound> {
    let forms = Forms::of(instance, 0, Detail::Light);
    let ruling = Ruling::new(instance, &forms, limits);
    let plain = least(instance, false);
    let promising = ruling.columns || ruling.first().is_some_and(|b| b.length > plain.length);
    promising.then(|| ruling.out(longest(instance, purchase), 1)).flatten()
}

/// The longest lay that buys less than `purchase`.
fn longest(instance: &Instance, purchase: Length) -> Length {
    purchase - instance.buying.step - instance.buying.trim
}

/// What can be ruled out of an instance.
struct Ruling<'a> {
    instance: &'a Instance,
    forms: &'a Forms,
    /// A few rectangles.
    columns: bool,
    frontier: Option<Frontier<'a>>,
    steps: u64,
    /// Choices of columns and rows looked at.
    nodes: Cell<u64>,
    limits: &'a Limits<'a>,
}

impl<'a> Ruling<'a> {
    fn new(instance: &'a Instance, forms: &'a Forms, limits: &'a Limits) -> Self {
        let steps = steps(limits.work);
        let columns = fill::takes(instance, forms) && instance.copies() <= exact::MOST_PARTS;
        let frontier =
            (!columns).then(|| Frontier::new(instance, forms, steps, limits.stop)).flatten();
        Self { instance, forms, columns, frontier, steps, nodes: Cell::new(0), limits }
    }

    /// That every lay is longer than `longest`, if it can be shown with a share of the work.
    fn out(&self, longest: Length, share: u64) -> Option<Bound> {
        let Self { instance, forms, limits, .. } = *self;
        if longest <= Length::ZERO {
            return None;
        }
        if self.columns {
            let nodes = (purse::COLUMNS.of(limits.work) / SKYLINE / share).max(FEW_NODES);
            let (never, looked) =
                exact::never_in_columns(instance, forms, longest.nm(), nodes, limits.stop);
            self.nodes.set(self.nodes.get() + looked);
            return never.then(|| self.over(longest, Reason::Columns));
        }
        let frontier = self.frontier.as_ref()?;
        let shown = frontier.impossible(longest.nm(), self.steps / share);
        shown.then(|| self.over(longest, frontier.reason()))
    }

    /// What coarse cells show at once.
    fn first(&self) -> Option<Bound> {
        let frontier = self.frontier.as_ref()?;
        let least = frontier.least(purse::COARSE_CELLS.of(self.steps));
        (least > 0).then(|| self.over(Length::from_nm(least - 1), frontier.reason()))
    }

    /// Work done, in looks of the placing.
    fn spent(&self) -> u64 {
        let steps = self.frontier.as_ref().map_or(0, Frontier::spent);
        self.nodes.get() * SKYLINE + steps * FRONTIER
    }

    fn over(&self, longest: Length, reason: Reason) -> Bound {
        let least = longest + Length::from_nm(1);
        Bound { length: stacked(self.instance, least).unwrap_or(least), reason }
    }
}

/// The share of a search that goes on proving, in steps of the frontier.
const fn steps(work: u64) -> u64 {
    let steps = purse::RULING_OUT.of(work) / FRONTIER;
    if steps < FEW_STEPS { FEW_STEPS } else { steps }
}

/// A bound raised as far towards what was found as steps of the purchase can be ruled out, and the work
/// that took.
pub(crate) fn raised(
    instance: &Instance,
    forms: &Forms,
    found: Length,
    bound: Bound,
    limits: &Limits,
) -> (Bound, u64) {
    let step = instance.buying.step;
    let purchase = |bound: &Bound| instance.buying.purchase(bound.length);
    if purchase(&bound) >= found {
        return (bound, 0);
    }
    let ruling = Ruling::new(instance, forms, limits);
    let mut bound = match ruling.first() {
        Some(first) if first.length > bound.length => first,
        _ if ruling.columns => bound,
        // Where coarse cells tell less than areas and widths do, finer ones hardly tell more; and what
        // they took is too little to count.
        _ => return (bound, 0),
    };
    // First whether the next step less can be ruled out at all, then half of what is open.
    let (mut open, mut next) = (found, found);
    for trial in 0..TRIALS {
        // Nothing is on sale, or no lay ends, between.
        let over = bound.length + Length::from_nm(1);
        let total = stacked(instance, over).map_or(Length::ZERO, |l| instance.buying.purchase(l));
        let above = total.max(purchase(&bound) + step);
        if open < above {
            break;
        }
        next = next.max(above);
        match ruling.out(longest(instance, next), if trial == 0 { 2 } else { 16 }) {
            Some(raised) => bound = raised,
            None => open = next - step,
        }
        let between = (open - purchase(&bound)).steps_up(step);
        next = purchase(&bound) + step * (between + 1).div_euclid(2);
    }
    (bound, ruling.spent())
}

/// How many of each item may best lie on hand, most promising first; none if that cannot be told.
pub(crate) fn splits(instance: &Instance, forms: &Forms, limits: &Limits) -> Vec<Vec<usize>> {
    let steps = steps(limits.work);
    let frontier = Frontier::new(instance, forms, steps, limits.stop);
    frontier.map_or(Vec::new(), |frontier| frontier.splits(steps))
}

/// A bound lifted to what was found, if every lay that would buy less has been tried.
pub(crate) fn tried(
    instance: &Instance,
    forms: &Forms,
    found: Length,
    bound: Bound,
    limits: &Limits,
) -> Bound {
    if !fill::takes(instance, forms) || found <= instance.buying.purchase(bound.length) {
        return bound;
    }
    let longest = longest(instance, found);
    let most = purse::TRYING_ALL.of(limits.work) / SKYLINE;
    match exact::fits(instance, forms, longest.nm(), most, limits.stop) {
        exact::Outcome::Impossible => {
            let least = longest + Length::from_nm(1);
            let length = stacked(instance, least).unwrap_or(least).max(bound.length);
            Bound { length, reason: Reason::Tried }
        }
        _ => bound,
    }
}
