//! What is asked and what is answered.

use crate::Pattern;
use crate::ground::Ground;
use geometry::{Length, Polygon, Rect, Spot};

/// A shape to lay, in one or more copies.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// For messages.
    pub name: String,
    /// About its own origin.
    pub shape: Polygon,
    /// How many.
    pub count: usize,
    /// Allowed turns in degrees counter-clockwise, at least one.
    pub turns: Vec<f64>,
    /// How it must lie to the pattern.
    pub rule: Rule,
    /// Cut to measure from the cloth itself (a strip as long as the cloth is wide): it does not grow
    /// when it is asked how much measuring error a lay forgives.
    pub exact: bool,
    /// What of it must be free of flaws, if not all: a flaw may lie where it will be hidden.
    pub face: Option<Polygon>,
}

/// How an item must lie to the motifs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    /// Anywhere.
    Free,
    /// The anchor, a spot of the item before turning, falls on a motif.
    Centred(Spot),
    /// The anchors of all items of a group keep the same place to the motifs; the anchor may lie
    /// outside the item.
    Matched {
        /// Which group.
        group: usize,
        /// A spot of the item before turning.
        anchor: Spot,
    },
}

/// A length of cloth that is already there.
#[derive(Clone, Debug, PartialEq)]
pub struct OnHand {
    /// For messages.
    pub name: String,
    /// Usable from this x ...
    pub left: Length,
    /// ... to this one.
    pub right: Length,
    /// Along the roll.
    pub length: Length,
    /// What must not be used.
    pub flaws: Vec<Rect>,
    /// A motif's place, if its pattern does not start like the new cloth's.
    pub origin: Option<Spot>,
}

/// Cloth that can be bought.
#[derive(Clone, Debug, PartialEq)]
pub struct Buying {
    /// Usable from this x ...
    pub left: Length,
    /// ... to this one.
    pub right: Length,
    /// The longest piece sold, if any.
    pub roll: Option<Length>,
    /// Lost at the ends of each length bought, start and end together.
    pub trim: Length,
    /// Sold in steps of this.
    pub step: Length,
    /// What must not be used of the first length: found once it was delivered.
    pub flaws: Vec<Rect>,
}

impl Buying {
    /// What must be bought to use `length`: with trim, rounded up to the step; nothing for nothing.
    pub fn purchase(&self, length: Length) -> Length {
        if length <= Length::ZERO { Length::ZERO } else { (length + self.trim).round_up(self.step) }
    }
}

/// A whole question.
#[derive(Clone, Debug, PartialEq)]
pub struct Instance {
    /// What to lay.
    pub items: Vec<Item>,
    /// Cloth on hand, filled in this order.
    pub on_hand: Vec<OnHand>,
    /// Cloth to buy; for a customer's own cloth, what a further length of it would be.
    pub buying: Buying,
    /// Motifs of the cloth.
    pub pattern: Option<Pattern>,
    /// Parts that stay where they are on the first length bought; their copies are not looked at.
    pub pins: Vec<Placement>,
}

/// Which cloth a strip is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stock {
    /// `on_hand[i]`.
    OnHand(usize),
    /// The `i`-th length bought.
    New(usize),
}

/// Where one copy lies: turned counter-clockwise about its origin, then moved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    /// Index of the item.
    pub item: usize,
    /// Which copy, from 0.
    pub copy: usize,
    /// Where its origin comes to lie.
    pub at: Spot,
    /// Degrees.
    pub turn: f64,
}

/// One length of cloth and what lies on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    /// Which cloth.
    pub stock: Stock,
    /// In the order in which they are best cut, from the cut end upwards.
    pub placements: Vec<Placement>,
    /// The highest point used.
    pub length: Length,
}

/// An answer: every copy of every item, on strips.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Lay {
    /// Strips with something on them, on hand first.
    pub strips: Vec<Strip>,
}

impl Lay {
    /// Total length used of new cloth.
    pub fn new_length(&self) -> Length {
        self.new_strips().map(|strip| strip.length).sum()
    }

    /// Total purchase.
    pub fn purchase(&self, buying: &Buying) -> Length {
        self.new_strips().map(|strip| buying.purchase(strip.length)).sum()
    }

    fn new_strips(&self) -> impl Iterator<Item = &Strip> {
        self.strips.iter().filter(|strip| matches!(strip.stock, Stock::New(_)))
    }
}

impl Instance {
    /// Usable x-range of a strip.
    pub fn usable(&self, stock: Stock) -> (Length, Length) {
        let ground = Ground::of(self, stock);
        (Length::from_nm(ground.left), Length::from_nm(ground.right))
    }

    /// A motif's place on a strip.
    pub fn motif(&self, stock: Stock) -> Spot {
        Ground::of(self, stock).motif
    }

    /// Whether an item is held to the motifs as they lie on the cloth.
    pub fn holds(&self, item: usize) -> bool {
        self.pattern.is_some() && matches!(self.items[item].rule, Rule::Centred(_))
    }

    /// How many copies in all.
    pub fn copies(&self) -> usize {
        self.items.iter().map(|item| item.count).sum()
    }

    /// How many copies of an item do not stay where they are.
    pub fn loose(&self, item: usize) -> usize {
        let pinned = self.pins.iter().filter(|pin| pin.item == item).count();
        self.items[item].count.saturating_sub(pinned)
    }

    /// What must not be used of a strip.
    pub fn flaws(&self, stock: Stock) -> &[Rect] {
        Ground::of(self, stock).flaws
    }

    /// How much cloth there is for a strip: what is on hand, or what is bought for it less what is lost at
    /// the ends.
    pub fn room(&self, strip: &Strip) -> Length {
        match strip.stock {
            Stock::OnHand(i) => self.on_hand[i].length,
            Stock::New(_) => self.buying.purchase(strip.length) - self.buying.trim,
        }
    }

    /// Whether a part of a strip is one that stays where it is.
    pub fn pinned(&self, stock: Stock, part: &Placement) -> bool {
        let same =
            |pin: &Placement| (pin.item, pin.at, pin.turn) == (part.item, part.at, part.turn);
        Ground::of(self, stock).pins.iter().any(same)
    }
}
