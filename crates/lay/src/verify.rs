//! An exact check of any lay, whoever made it. Shares nothing with the placing but what is asked, and
//! with `geometry` the convex pieces of a polygon, which are checked against another geometry crate.

use crate::{Drop, Instance, Lay, Pattern, Placement, Rule, Stock, Strip};
use geometry::{Convex, Polygon, Rect, Spot, convex_pieces, interiors_meet};
use std::rc::Rc;

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
    let seen = instance.items.iter().map(|item| vec![false; item.count]).collect();
    let found = vec![0; instance.items.len()];
    let mut check = Check {
        instance,
        breaches: Vec::new(),
        seen,
        found,
        groups: Vec::new(),
        turned: vec![Vec::new(); instance.items.len()],
    };
    for (s, strip) in lay.strips.iter().enumerate() {
        let twice = lay.strips[..s].iter().any(|other| other.stock == strip.stock);
        let cloth = Cloth::of(instance, strip.stock);
        if twice || cloth.is_none() {
            check.breaches.push(Breach::Stock { strip: s });
        }
        if let Some(cloth) = cloth {
            check.strip(s, strip, &cloth);
        }
    }
    check.kept(lay);
    for (item, &found) in check.found.iter().enumerate() {
        if found != instance.items[item].count {
            check.breaches.push(Breach::Count { item, found });
        }
    }
    check.breaches
}

/// What a strip allows, read from the question for this check alone.
struct Cloth<'a> {
    usable: (i64, i64),
    end: Option<i64>,
    flaws: &'a [Rect],
    motif: Spot,
}

impl<'a> Cloth<'a> {
    /// `None` if there is no such cloth.
    fn of(instance: &'a Instance, stock: Stock) -> Option<Self> {
        let Instance { on_hand, buying, pattern, .. } = instance;
        let motif = pattern.as_ref().map_or(Spot::default(), |pattern| pattern.origin);
        Some(match stock {
            Stock::OnHand(i) => {
                let piece = on_hand.get(i)?;
                Self {
                    usable: (piece.left.nm(), piece.right.nm()),
                    end: Some(piece.length.nm()),
                    flaws: &piece.flaws,
                    motif: piece.origin.unwrap_or(motif),
                }
            }
            Stock::New(n) => Self {
                usable: (buying.left.nm(), buying.right.nm()),
                end: buying.roll.map(|roll| roll.nm() - buying.trim.nm()),
                flaws: if n == 0 { &buying.flaws } else { &[] },
                motif,
            },
        })
    }
}

/// A part as it lies.
struct Shape {
    item: usize,
    at: Spot,
    pieces: Rc<Vec<Convex>>,
    bounds: Rect,
}

/// An outline in a turn, and what it is cut into.
#[derive(Clone)]
struct Turned {
    turn: f64,
    polygon: Rc<Polygon>,
    pieces: Rc<Vec<Convex>>,
}

/// What was seen so far.
struct Check<'a> {
    instance: &'a Instance,
    breaches: Vec<Breach>,
    /// By item: which copies.
    seen: Vec<Vec<bool>>,
    /// By item: how many.
    found: Vec<usize>,
    /// Anchor of each matched group relative to its strip's motif.
    groups: Vec<(usize, Spot)>,
    /// Outlines seen so far, by item.
    turned: Vec<Vec<Turned>>,
}

impl Check<'_> {
    fn strip(&mut self, number: usize, strip: &Strip, cloth: &Cloth) {
        let laid = &strip.placements;
        let shapes: Vec<Shape> = laid.iter().filter_map(|p| self.part(p, cloth)).collect();
        let top = shapes.iter().map(|shape| shape.bounds.high.y).max();
        if top.unwrap_or(0) != strip.length.nm() {
            self.breaches.push(Breach::Length { strip: number });
        }
        self.overlaps(shapes);
    }

    /// `None` if there is no such item.
    fn part(&mut self, placement: &Placement, cloth: &Cloth) -> Option<Shape> {
        let Placement { item, copy, at, turn } = *placement;
        let Some(asked) = self.instance.items.get(item) else {
            self.breaches.push(Breach::Copy { item });
            return None;
        };
        self.found[item] += 1;
        match self.seen[item].get_mut(copy) {
            Some(seen) if !*seen => *seen = true,
            _ => self.breaches.push(Breach::Copy { item }),
        }
        if !asked.turns.contains(&turn) {
            self.breaches.push(Breach::Turn { item });
        }
        let Turned { polygon, pieces, .. } = self.turned(item, turn);
        let bounds = polygon.bounds().moved(at);
        let (left, right) = cloth.usable;
        let over_an_end = bounds.low.y < 0 || cloth.end.is_some_and(|end| end < bounds.high.y);
        if bounds.low.x < left || right < bounds.high.x || over_an_end {
            self.breaches.push(Breach::Outside { item });
        }
        let face = asked.face.as_ref().map(|face| face.turned(turn));
        let face = face.as_ref().unwrap_or(&*polygon);
        if cloth.flaws.iter().any(|flaw| over(face, at, flaw)) {
            self.breaches.push(Breach::Flaw { item });
        }
        if !self.keeps_to_pattern(placement, cloth) {
            self.breaches.push(Breach::Pattern { item });
        }
        Some(Shape { item, at, pieces, bounds })
    }

    /// An item's outline in a turn.
    fn turned(&mut self, item: usize, turn: f64) -> Turned {
        if let Some(known) = self.turned[item].iter().find(|known| known.turn == turn) {
            return known.clone();
        }
        let polygon = Rc::new(self.instance.items[item].shape.turned(turn));
        let pieces = Rc::new(convex_pieces(&polygon));
        let turned = Turned { turn, polygon, pieces };
        self.turned[item].push(turned.clone());
        turned
    }

    fn keeps_to_pattern(&mut self, placement: &Placement, cloth: &Cloth) -> bool {
        let Some(pattern) = &self.instance.pattern else { return true };
        let relative = |anchor: Spot| {
            let anchor = placement.at.plus(anchor.turned(placement.turn));
            Spot::new(anchor.x - cloth.motif.x, anchor.y - cloth.motif.y)
        };
        match self.instance.items[placement.item].rule {
            Rule::Free => true,
            Rule::Centred(anchor) => whole_repeats(pattern, Spot::default(), relative(anchor)),
            Rule::Matched { group, anchor } => {
                let relative = relative(anchor);
                match self.groups.iter().find(|g| g.0 == group) {
                    Some(&(_, first)) => whole_repeats(pattern, first, relative),
                    None => {
                        self.groups.push((group, relative));
                        true
                    }
                }
            }
        }
    }

    fn overlaps(&mut self, mut shapes: Vec<Shape>) {
        shapes.sort_by_key(|shape| shape.bounds.low.y);
        for (i, a) in shapes.iter().enumerate() {
            let beside = |b: &&Shape| b.bounds.low.y < a.bounds.high.y;
            for b in shapes[i + 1..].iter().take_while(beside) {
                let meet = || interiors_meet(&a.pieces, a.at, &b.pieces, b.at);
                if a.bounds.meets(&b.bounds) && meet() {
                    self.breaches.push(Breach::Overlap { items: (a.item, b.item) });
                }
            }
        }
    }

    /// Parts that stay where they are.
    fn kept(&mut self, lay: &Lay) {
        let first = lay.strips.iter().filter(|strip| strip.stock == Stock::New(0));
        let laid: Vec<_> = first.flat_map(|strip| &strip.placements).collect();
        for pin in &self.instance.pins {
            let same = |p: &&&Placement| (p.item, p.at, p.turn) == (pin.item, pin.at, pin.turn);
            if !laid.iter().any(|p| same(&p)) {
                self.breaches.push(Breach::Moved { item: pin.item });
            }
        }
    }
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
