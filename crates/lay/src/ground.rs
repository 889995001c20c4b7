//! All that one strip allows: how wide it is, where it ends, where its motifs fall, what of it is closed
//! and for which parts. Every engine asks it; a rule of cloth is told here and, apart, in the check.

use crate::form::Form;
use crate::no_fit::Piece;
use crate::pattern::{Pattern, Steps};
use crate::{Instance, Placement, Rule, Stock};
use geometry::{Rect, Spot};

/// One strip of a question.
#[derive(Clone, Debug)]
pub(crate) struct Ground<'a> {
    /// Which cloth.
    pub stock: Stock,
    /// Usable from this x, in nanometres ...
    pub left: i64,
    /// ... to this one.
    pub right: i64,
    /// Where it ends; `None` if it may be cut to any length.
    pub end: Option<i64>,
    /// A motif's place.
    pub motif: Spot,
    pattern: Option<&'a Pattern>,
    rules: &'a [crate::Item],
    /// What must not be used.
    pub flaws: &'a [Rect],
    /// Parts that stay where they are.
    pub pins: &'a [Placement],
}

/// What binds the anchor of an item on a strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Held {
    /// Nothing.
    Free,
    /// The lattice through this motif.
    Motif(Spot),
    /// The phase of its group.
    Group(usize),
}

/// Where the origin of a form may lie, as far as edges and pattern go.
pub(crate) enum Places {
    /// Anywhere across from ... to, with these steps along.
    Stretch(i64, i64, Steps),
    /// At these x only, each with its steps along.
    Columns(Vec<(i64, Steps)>),
}

/// A stretch of cloth that must not be used.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Closed {
    /// Where.
    pub area: Rect,
}

impl Closed {
    /// The part of a form that must stay clear of it: a flaw may lie where it will be hidden.
    pub fn concerns(form: &Form) -> (&[Piece], Rect) {
        (&form.face, form.face_bounds)
    }
}

impl<'a> Ground<'a> {
    /// A strip of an instance.
    pub fn of(instance: &'a Instance, stock: Stock) -> Self {
        let usual = instance.pattern.as_ref().map_or(Spot::default(), |p| p.origin);
        let buying = &instance.buying;
        let (left, right, end, motif, flaws) = match stock {
            Stock::OnHand(i) => {
                let length = &instance.on_hand[i];
                let motif = length.origin.unwrap_or(usual);
                (length.left, length.right, Some(length.length), motif, &length.flaws[..])
            }
            Stock::New(n) => {
                let end = buying.roll.map(|roll| roll - buying.trim);
                let flaws = if n == 0 { &buying.flaws[..] } else { &[] };
                (buying.left, buying.right, end, usual, flaws)
            }
        };
        Self {
            stock,
            left: left.nm(),
            right: right.nm(),
            end: end.map(|end| end.nm()),
            motif,
            pattern: instance.pattern.as_ref(),
            rules: &instance.items,
            flaws,
            pins: if stock == Stock::New(0) { &instance.pins } else { &[] },
        }
    }

    /// The strip that is bought first.
    pub fn new_cloth(instance: &'a Instance) -> Self {
        Self::of(instance, Stock::New(0))
    }

    /// How wide it is.
    pub const fn width(&self) -> i64 {
        self.right - self.left
    }

    /// From and to which x the origin of a form may lie; the wrong way round if it is too wide.
    pub const fn across(&self, form: &Form) -> (i64, i64) {
        (self.left - form.bounds.low.x, self.right - form.bounds.high.x)
    }

    /// What must not be used.
    pub fn closed(&self) -> impl Iterator<Item = Closed> + '_ {
        self.flaws.iter().map(|&area| Closed { area })
    }

    /// What binds an item here.
    pub fn held(&self, item: usize) -> Held {
        match (self.pattern, self.rules[item].rule) {
            (None, _) | (_, Rule::Free) => Held::Free,
            (_, Rule::Centred(_)) => Held::Motif(self.motif),
            (_, Rule::Matched { group, .. }) => Held::Group(group),
        }
    }

    /// The motif an item must keep to, its group standing in one of `phases`; `None` where it is free or
    /// its group has no phase yet.
    pub fn motif_of(&self, item: usize, phases: &[Option<Spot>]) -> Option<Spot> {
        match self.held(item) {
            Held::Free => None,
            Held::Motif(motif) => Some(motif),
            Held::Group(group) => {
                phases.get(group).copied().flatten().map(|phase| self.motif.plus(phase))
            }
        }
    }

    /// Where the origin of a form may lie whose anchor keeps to `motif`, or to none; `None` if nowhere.
    pub fn places(&self, form: &Form, motif: Option<Spot>) -> Option<Places> {
        let (low, high) = self.across(form);
        if high < low {
            return None;
        }
        let (Some(motif), Some(pattern)) = (motif, self.pattern) else {
            return Some(Places::Stretch(low, high, Steps::ANY));
        };
        match pattern.columns(motif, form.anchor, low, high) {
            Some(columns) if columns.is_empty() => None,
            Some(columns) => Some(Places::Columns(columns)),
            None => Some(Places::Stretch(low, high, pattern.steps(motif, form.anchor, 0))),
        }
    }
}

impl Places {
    /// As stretches across, a column being one without width.
    pub fn stretches(self) -> Vec<(i64, i64, Steps)> {
        match self {
            Self::Stretch(low, high, steps) => vec![(low, high, steps)],
            Self::Columns(all) => all.into_iter().map(|(x, steps)| (x, x, steps)).collect(),
        }
    }
}

/// What a question asks beyond parts on one endless strip of plain cloth: each engine says in its own
/// `takes` which of it it can answer.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Demands {
    /// There is cloth on hand.
    pub on_hand: bool,
    /// Parts stay where they were put.
    pub pins: bool,
    /// Something of the first length is closed.
    pub closed: bool,
    /// A length cannot be longer than a roll.
    pub rolls: bool,
    /// Some part is held by the pattern.
    pub held: bool,
    /// How many parts.
    pub parts: usize,
}

impl Demands {
    /// Of an instance.
    pub fn of(instance: &Instance) -> Self {
        Self {
            on_hand: !instance.on_hand.is_empty(),
            pins: !instance.pins.is_empty(),
            closed: !instance.buying.flaws.is_empty(),
            rolls: instance.buying.roll.is_some(),
            held: instance.pattern.is_some()
                && instance.items.iter().any(|item| item.rule != Rule::Free),
            parts: instance.copies(),
        }
    }
}
