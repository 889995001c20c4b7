//! What may be claimed of a lay: no more than holds however the parts that the program itself has
//! divided (strips of welt, joined widths, boxing in lengths) were divided.

use super::ClothLay;
use crate::part::LaidPart;
use geometry::Length;
use lay::{Bound, Divided, Instance, Limits, Reason};

/// The parts of a question that are as they are, without those that might be cut otherwise; `None` if
/// there are no such parts.
fn settled(parts: &[LaidPart], instance: &Instance) -> Option<Divided> {
    let divided = |laid: &LaidPart| laid.part.divided.is_some();
    if !parts.iter().any(divided) {
        return None;
    }
    let counts = parts.iter().zip(&instance.items);
    let counts: Vec<usize> =
        counts.map(|(laid, item)| if divided(laid) { 0 } else { item.count }).collect();
    let mut divided = instance.some(&counts);
    // Pins are of items by number.
    divided.instance.pins.clear();
    Some(divided)
}

/// All cloth that is covered in any case, over the usable width, less what is on hand.
fn area(parts: &[LaidPart], instance: &Instance) -> Length {
    let covered: f64 = parts
        .iter()
        .zip(&instance.items)
        .map(|(laid, item)| {
            let one = laid.part.divided.unwrap_or_else(|| item.shape.area_mm2());
            one * item.count as f64
        })
        .sum();
    let on_hand: f64 =
        instance.on_hand.iter().map(|s| (s.right - s.left).mm() * s.length.mm()).sum();
    let width = (instance.buying.right - instance.buying.left).mm();
    // A hair under, since areas of curves are rounded.
    Length::from_mm(((covered - on_hand) / width - 1e-3).max(0.0))
}

/// The least length that holds for every division.
fn least(parts: &[LaidPart], instance: &Instance) -> Option<Bound> {
    let settled = settled(parts, instance)?;
    let bound = settled.whole(&lay::least_length(&settled.instance));
    let length = area(parts, instance);
    Some(if length > bound.length { Bound { length, reason: Reason::Area } } else { bound })
}

/// Lowers what is claimed of a lay to what holds for every division of its parts.
pub(super) fn weigh(lay: &mut ClothLay) {
    if let Some(bound) = least(&lay.parts, &lay.instance)
        && bound.length < lay.answer.bound.length
    {
        lay.as_divided = Some(lay.answer.bound.clone());
        claim(lay, bound);
    }
}

/// Takes a bound as what is claimed.
pub(super) fn claim(lay: &mut ClothLay, bound: Bound) {
    lay.least_purchase = lay.instance.buying.purchase(bound.length);
    lay.answer.proven = lay.purchase == lay.least_purchase;
    lay.answer.bound = bound;
}

/// Shows that a lay's parts, however divided, cannot buy less than `purchase`, if it can be shown.
pub(super) fn raise(lay: &mut ClothLay, purchase: Length, limits: &Limits) {
    if purchase <= lay.least_purchase {
        return;
    }
    let bound = match settled(&lay.parts, &lay.instance) {
        Some(settled) => {
            lay::no_less(&settled.instance, purchase, limits).map(|bound| settled.whole(&bound))
        }
        None => lay::no_less(&lay.instance, purchase, limits),
    };
    if let Some(bound) = bound {
        claim(lay, bound);
    }
}
