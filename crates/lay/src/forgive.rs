//! How much larger parts may come out before more is bought.

use crate::form::{Detail, Forms};
use crate::place::{Order, Placer};
use crate::search::Answer;
use crate::{Instance, Lay, Limits, Stock, purse, shrink};
use geometry::Length;

/// By how much every part may grow in length and in width, on all sides alike, before the purchase
/// rises, as far as this lay's own order, or a
/// little pushing of its parts if some work is allowed for it, shows; in half millimetres, at most 25 mm. Once it
/// is told to stop: what was shown so far.
pub fn forgives(instance: &Instance, answer: &Answer, limits: &Limits) -> Length {
    let work = limits.work;
    // Parts that stay where they are would be nudged too if they came out larger.
    let loose = Instance { pins: Vec::new(), ..instance.clone() };
    let order = match instance.pins.is_empty() {
        true => answer.order.clone(),
        false => Order::of(&loose, &Forms::of(instance, 0, Detail::Light), &answer.lay),
    };
    let instance = &loose;
    let purchase = answer.lay.purchase(&instance.buying);
    let strips = |lay: &Lay| lay.strips.iter().filter(|s| matches!(s.stock, Stock::New(_))).count();
    let replayed = |forms: &Forms| {
        let laid = Placer::new(instance, forms, answer.which, limits.stop).run(&order, false);
        laid.is_some_and(|(lay, _)| {
            order.genes.len() == instance.copies()
                && lay.purchase(&instance.buying) <= purchase
                && strips(&lay) <= strips(&answer.lay)
        })
    };
    // Margins are per side: half the growth. A large job is asked only coarsely.
    let fine = if instance.copies() > 250 { 13 } else { 1 };
    let grown = |half_mm: i64| Forms::of(instance, half_mm * 250_000, Detail::Light);
    let (mut yes, mut no) = (0_i64, MOST_FORGIVEN);
    if replayed(&grown(0)) {
        while no - yes > fine && !(limits.stop)() {
            let middle = (yes + no) / 2;
            if replayed(&grown(middle)) { yes = middle } else { no = middle }
        }
    }
    // Pushing may do better; each trial costs much more.
    no = MOST_FORGIVEN;
    for _ in 0..if work == 0 { 0 } else { PUSHES } {
        let middle = (yes + no) / 2;
        if middle == yes || (limits.stop)() {
            break;
        }
        let pushed = shrink::holds(
            instance,
            &grown(middle),
            &answer.lay,
            purse::FORGIVING.of(work),
            limits.stop,
        );
        if pushed { yes = middle } else { no = middle }
    }
    Length::from_nm(yes * 500_000)
}

/// Half millimetres: no lay is asked for more.
const MOST_FORGIVEN: i64 = 51;

/// Trials of pushing grown parts.
const PUSHES: usize = 4;
