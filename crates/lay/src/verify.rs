//! An exact check of any lay, whoever made it. Shares no code with the placing but the convex
//! pieces of a polygon, which are checked against another geometry crate.

use crate::{Drop, Instance, Lay, Pattern, Placement, Rule, Stock};
use geometry::{Polygon, Rect, Spot, convex_pieces, interiors_meet};

/// A rule of cloth that a lay breaks.
#[derive(Clone, Debug, PartialEq)]
pub enum Breach {
    /// An item has another number of copies than asked.
    Count {
        /// Which item.
        item: usize,
        /// How many copies lie somewhere.
        found: usize,
    },
    /// The same copy twice, or a number out of range.
    Copy {
        /// Which item.
        item: usize,
    },
    /// A part leaves the usable width or the length.
    Outside {
        /// Which item.
        item: usize,
    },
    /// A turn that is not allowed.
    Turn {
        /// Which item.
        item: usize,
    },
    /// Two parts share cloth.
    Overlap {
        /// The two items.
        items: (usize, usize),
    },
    /// A part lies over a flaw.
    Flaw {
        /// Which item.
        item: usize,
    },
    /// A centred part off the motif, or a matched one out of phase with its group.
    Pattern {
        /// Which item.
        item: usize,
    },
    /// A part that was to stay where it is lies elsewhere.
    Moved {
        /// Which item.
        item: usize,
    },
    /// A length that is cut twice, or that is not there.
    Stock {
        /// Which strip.
        strip: usize,
    },
    /// The used length is not where the highest part ends.
    Length {
        /// Which strip.
        strip: usize,
    },
}

/// Every breach of a lay; none if it is right.
pub fn verify(instance: &Instance, lay: &Lay) -> Vec<Breach> {
    let mut breaches = Vec::new();
    let mut seen: Vec<Vec<bool>> =
        instance.items.iter().map(|item| vec![false; item.count]).collect();
    let mut found = vec![0; instance.items.len()];
    // Anchor of each matched group relative to its strip's motif.
    let mut groups: Vec<(usize, Spot)> = Vec::new();
    for (s, strip) in lay.strips.iter().enumerate() {
        let twice = lay.strips[..s].iter().any(|other| other.stock == strip.stock);
        let there = !matches!(strip.stock, Stock::OnHand(i) if i >= instance.on_hand.len());
        if twice || !there {
            breaches.push(Breach::Stock { strip: s });
        }
        if !there {
            continue;
        }
        let (left, right) = instance.usable(strip.stock);
        let limit = match strip.stock {
            Stock::OnHand(i) => Some(instance.on_hand[i].length),
            Stock::New(_) => instance.buying.roll.map(|roll| roll - instance.buying.trim),
        };
        let flaws = instance.flaws(strip.stock);
        let motif = instance.motif(strip.stock);
        let mut shapes = Vec::new();
        for placement in &strip.placements {
            let item = placement.item;
            let Some(asked) = instance.items.get(item) else {
                breaches.push(Breach::Copy { item });
                continue;
            };
            found[item] += 1;
            match seen[item].get_mut(placement.copy) {
                Some(seen) if !*seen => *seen = true,
                _ => breaches.push(Breach::Copy { item }),
            }
            if !asked.turns.contains(&placement.turn) {
                breaches.push(Breach::Turn { item });
            }
            let polygon = asked.shape.turned(placement.turn);
            let bounds = polygon.bounds().moved(placement.at);
            if bounds.low.x < left.nm()
                || right.nm() < bounds.high.x
                || bounds.low.y < 0
                || limit.is_some_and(|limit| limit.nm() < bounds.high.y)
            {
                breaches.push(Breach::Outside { item });
            }
            let face = asked.face.as_ref().map(|face| face.turned(placement.turn));
            let face = face.as_ref().unwrap_or(&polygon);
            if flaws.iter().any(|flaw| over(face, placement.at, flaw)) {
                breaches.push(Breach::Flaw { item });
            }
            if let Some(pattern) = &instance.pattern {
                let relative = |anchor: Spot| {
                    let anchor = placement.at.plus(anchor.turned(placement.turn));
                    Spot::new(anchor.x - motif.x, anchor.y - motif.y)
                };
                let right = match asked.rule {
                    Rule::Free => true,
                    Rule::Centred(anchor) => {
                        whole_repeats(pattern, Spot::default(), relative(anchor))
                    }
                    Rule::Matched { group, anchor } => {
                        let relative = relative(anchor);
                        match groups.iter().find(|g| g.0 == group) {
                            Some(&(_, first)) => whole_repeats(pattern, first, relative),
                            None => {
                                groups.push((group, relative));
                                true
                            }
                        }
                    }
                };
                if !right {
                    breaches.push(Breach::Pattern { item });
                }
            }
            shapes.push((item, placement.at, convex_pieces(&polygon), bounds));
        }
        let top = shapes.iter().map(|shape| shape.3.high.y).max();
        if top.unwrap_or(0) != strip.length.nm() {
            breaches.push(Breach::Length { strip: s });
        }
        shapes.sort_by_key(|shape| shape.3.low.y);
        for i in 0..shapes.len() {
            let (a, a_at, a_pieces, a_box) = &shapes[i];
            for (b, b_at, b_pieces, b_box) in &shapes[i + 1..] {
                if b_box.low.y >= a_box.high.y {
                    break;
                }
                if a_box.meets(b_box) && interiors_meet(a_pieces, *a_at, b_pieces, *b_at) {
                    breaches.push(Breach::Overlap { items: (*a, *b) });
                }
            }
        }
    }
    let first = lay.strips.iter().filter(|strip| strip.stock == Stock::New(0));
    let laid: Vec<_> = first.flat_map(|strip| &strip.placements).collect();
    for pin in &instance.pins {
        let same = |p: &&&Placement| (p.item, p.at, p.turn) == (pin.item, pin.at, pin.turn);
        if !laid.iter().any(|p| same(&p)) {
            breaches.push(Breach::Moved { item: pin.item });
        }
    }
    for (item, &found) in found.iter().enumerate() {
        if found != instance.items[item].count {
            breaches.push(Breach::Count { item, found });
        }
    }
    breaches
}

/// Whether two anchors are whole repeats apart, by the definition of the pattern: so many columns across,
/// so many lengths along, and half a length more in every second column of a half-drop.
fn whole_repeats(pattern: &Pattern, a: Spot, b: Spot) -> bool {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let columns = match pattern.width.map(|width| width.nm()) {
        Some(width) if dx % width != 0 => return false,
        Some(width) => dx / width,
        None => 0,
    };
    let Some(length) = pattern.length.map(|length| length.nm()) else { return true };
    let half_drop = pattern.drop == Drop::Half && pattern.width.is_some();
    let odd = half_drop && columns % 2 != 0;
    (dy - if odd { length / 2 } else { 0 }) % length == 0
}

fn over(polygon: &Polygon, at: Spot, flaw: &Rect) -> bool {
    let corners = vec![
        flaw.low,
        Spot::new(flaw.high.x, flaw.low.y),
        flaw.high,
        Spot::new(flaw.low.x, flaw.high.y),
    ];
    let flaw = convex_pieces(&Polygon::new(corners));
    interiors_meet(&convex_pieces(polygon), at, &flaw, Spot::default())
}
