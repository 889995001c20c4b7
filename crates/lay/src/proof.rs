//! Whether any lay buys less than one that was found.

use crate::bound::{Bound, Reason};
use crate::form::Forms;
use crate::frontier::Frontier;
use crate::stacked::stacked;
use crate::{Instance, Limits, exact, fill};
use geometry::Length;

/// What a skyline costs, in looks of the placing.
const SKYLINE: u64 = 100;

/// What a step of the frontier costs, in looks of the placing.
const FRONTIER: u64 = 4;

/// Steps that are always allowed where there is a search at all: about a hundredth of a second.
const FEW_STEPS: u64 = 1_000_000;

/// Steps of the purchase that are looked at to raise a bound.
const TRIALS: u64 = 6;

/// That no lay buys less than `purchase`, if it can be shown with a share of the work allowed.
pub fn no_less(instance: &Instance, purchase: Length, limits: &Limits) -> Option<Bound> {
    let forms = Forms::of(instance, 0);
    let steps = steps(limits.work);
    let frontier = Frontier::new(instance, &forms, steps, limits.stop)?;
    let longest = longest(instance, purchase);
    let shown = longest > Length::ZERO && frontier.impossible(longest.nm(), steps);
    shown.then(|| beside(&frontier, longest))
}

/// The share of a search that goes on proving, in steps of the frontier.
const fn steps(work: u64) -> u64 {
    let steps = work / 8 / FRONTIER;
    if steps < FEW_STEPS { FEW_STEPS } else { steps }
}

/// The longest lay that buys less than `purchase`.
fn longest(instance: &Instance, purchase: Length) -> Length {
    purchase - instance.buying.step - instance.buying.trim
}

fn beside(frontier: &Frontier, longest: Length) -> Bound {
    let reason = Reason::Beside { items: frontier.items().to_vec() };
    Bound { length: longest + Length::from_nm(1), reason }
}

/// A bound raised as far towards what was found as steps of the purchase can be ruled out.
pub(crate) fn raised(
    instance: &Instance,
    forms: &Forms,
    found: Length,
    bound: Bound,
    limits: &Limits,
) -> Bound {
    let step = instance.buying.step;
    let mut least = instance.buying.purchase(bound.length);
    if least >= found {
        return bound;
    }
    let work = steps(limits.work);
    let Some(frontier) = Frontier::new(instance, forms, work, limits.stop) else { return bound };
    let mut bound = bound;
    let first = beside(&frontier, Length::from_nm(frontier.least(work / 8) - 1));
    if least < instance.buying.purchase(first.length) {
        least = instance.buying.purchase(first.length);
        bound = first;
    }
    // First whether the next step less can be ruled out at all, then half of what is open.
    let (mut open, mut next) = (found, found);
    for trial in 0..TRIALS {
        if open <= least {
            break;
        }
        let longest = longest(instance, next);
        let most = if trial == 0 { work / 2 } else { work / 8 };
        if longest > Length::ZERO && frontier.impossible(longest.nm(), most) {
            bound = beside(&frontier, longest);
            least = instance.buying.purchase(bound.length);
        } else {
            open = next - step;
        }
        let between = (open - least).steps_up(step);
        next = least + step * (between + 1).div_euclid(2);
    }
    bound
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
    if !fill::applies(instance, forms) || found <= instance.buying.purchase(bound.length) {
        return bound;
    }
    let longest = longest(instance, found);
    let most = limits.work / 5 / SKYLINE;
    match exact::fits(instance, forms, longest.nm(), most, limits.stop) {
        exact::Outcome::Impossible => {
            let length = stacked(instance, longest + Length::from_nm(1));
            let length = length.unwrap_or(longest + Length::from_nm(1)).max(bound.length);
            Bound { length, reason: Reason::Tried }
        }
        _ => bound,
    }
}
