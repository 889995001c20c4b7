//! How deep any two forms lie in each other: seen from their pieces, or, for two that are looked at often, from
//! what is worked out once and kept.
//!
//! Forms that are quarter turns of one another share what is kept: a pair is looked at as the second part lies
//! unturned.

use crate::depth::{Body, Depth, Push};
use crate::form::{Form, Forms};
use crate::no_fit::Piece;
use std::cell::Cell;
use std::sync::OnceLock;

/// A form as a quarter turn of another.
#[derive(Clone, Copy)]
struct Turned {
    base: usize,
    quarters: u8,
}

/// All pairs of an instance's forms.
pub(crate) struct Pairs {
    /// By form.
    turned: Vec<Turned>,
    bases: Vec<Vec<Piece>>,
    cells: Vec<OnceLock<Box<Depth>>>,
    /// By form.
    bodies: Vec<Body>,
}

/// How deep the first of two forms lies in the second.
pub(crate) enum Pair<'a> {
    Seen(&'a Body, &'a Body),
    Kept {
        depth: &'a Depth,
        /// The second form is turned by so many quarters from how it was looked at.
        quarters: u8,
        /// It was looked at the other way round.
        is_swapped: bool,
    },
}

impl Pairs {
    pub fn of(forms: &Forms) -> Self {
        let mut turned = vec![Turned { base: 0, quarters: 0 }; forms.count];
        let mut bases = Vec::new();
        let bodies = forms.list.iter().flatten().map(|form| Body::of(&form.pieces)).collect();
        for list in &forms.list {
            let mut upright: Option<Turned> = None;
            for form in list {
                let quarter = form.turn.rem_euclid(360.0) / 90.0;
                let quarters = (quarter.fract() == 0.0).then_some(quarter as u8);
                turned[form.number] = match (quarters, upright) {
                    (Some(quarters), Some(first)) => {
                        Turned { quarters: (quarters + 4 - first.quarters) % 4, ..first }
                    }
                    (quarters, _) => {
                        bases.push(form.pieces.clone());
                        let base = bases.len() - 1;
                        if let Some(quarters) = quarters {
                            upright = Some(Turned { base, quarters });
                        }
                        Turned { base, quarters: 0 }
                    }
                };
            }
        }
        let cells = bases.len() * bases.len() * 4;
        let cells = std::iter::repeat_with(OnceLock::new).take(cells).collect();
        Self { turned, bases, cells, bodies }
    }

    /// How many there are.
    pub const fn count(&self) -> usize {
        self.cells.len()
    }

    /// The number of a pair: the same for all pairs that are known from one.
    pub fn number(&self, a: &Form, b: &Form) -> usize {
        let (a, b) = (self.turned[a.number], self.turned[b.number]);
        let (first, second) = if a.base <= b.base { (a, b) } else { (b, a) };
        let turns = (first.quarters + 4 - second.quarters) % 4;
        (first.base * self.bases.len() + second.base) * 4 + usize::from(turns)
    }

    /// Form `a` in form `b`, seen from their pieces.
    pub fn seen(&self, a: &Form, b: &Form) -> Pair<'_> {
        Pair::Seen(&self.bodies[a.number], &self.bodies[b.number])
    }

    /// The same from what is kept; worked out if it is not.
    pub fn kept(&self, a: &Form, b: &Form) -> Pair<'_> {
        let is_swapped = self.turned[a.number].base > self.turned[b.number].base;
        let (first, second) = if is_swapped { (b, a) } else { (a, b) };
        let (first, second) = (self.turned[first.number], self.turned[second.number]);
        let depth = self.cells[self.number(a, b)].get_or_init(|| {
            let quarters = (first.quarters + 4 - second.quarters) % 4;
            let turned: Vec<Piece> =
                self.bases[first.base].iter().map(|piece| piece.turned(quarters)).collect();
            Box::new(Depth::between(&turned, &self.bases[second.base]))
        });
        Pair::Kept { depth, quarters: second.quarters, is_swapped }
    }
}

impl Pair<'_> {
    /// Depth when the first lies `x`, `y` from the second.
    pub fn at(&self, x: f64, y: f64) -> f64 {
        match self {
            Self::Seen(a, b) => a.at(b, x, y),
            Self::Kept { depth, quarters, is_swapped } => {
                let [x, y] = looked_at([x, y], *quarters, *is_swapped);
                depth.at(x, y)
            }
        }
    }

    /// The way out for the first.
    pub fn push(&self, x: f64, y: f64) -> Push {
        match self {
            Self::Seen(a, b) => a.push(b, x, y),
            Self::Kept { depth, quarters, is_swapped } => {
                let [x, y] = looked_at([x, y], *quarters, *is_swapped);
                let Push { depth, along } = depth.push(x, y);
                let [x, y] = turned(along, *quarters);
                Push { depth, along: if *is_swapped { [-x, -y] } else { [x, y] } }
            }
        }
    }

    /// What is kept takes so many bytes.
    pub fn bytes(&self) -> usize {
        match self {
            Self::Seen(..) => 0,
            Self::Kept { depth, .. } => depth.bytes(),
        }
    }
}

/// After so many looks a pair of forms is worth keeping; looks that it takes to work it out for each two of
/// their pieces.
const WORTH_KEEPING: u16 = 100;
const WORKED_OUT: u64 = 10;

/// Pairs kept for one who looks take no more bytes than this.
const MOST_KEPT: usize = 150_000_000;

/// Pairs that one who looks has met. What is kept for them depends on what they asked alone, though others
/// may have worked it out before.
pub(crate) struct Met {
    /// Looks at each pair until it was worth keeping.
    looks: Vec<Cell<u16>>,
    /// Bytes of the pairs kept.
    kept: Cell<usize>,
}

impl Met {
    pub fn none_of(pairs: &Pairs) -> Self {
        Self { looks: vec![Cell::new(0); pairs.count()], kept: Cell::new(0) }
    }

    /// Form `a` in form `b`, and the looks it took to work that out.
    pub fn look<'a>(&self, pairs: &'a Pairs, a: &Form, b: &Form) -> (Pair<'a>, u64) {
        let met = &self.looks[pairs.number(a, b)];
        let looks = met.get();
        if looks > WORTH_KEEPING {
            return (pairs.kept(a, b), 0);
        }
        if looks < WORTH_KEEPING {
            met.set(looks + 1);
        } else if self.kept.get() < MOST_KEPT {
            met.set(looks + 1);
            let pair = pairs.kept(a, b);
            self.kept.set(self.kept.get() + pair.bytes());
            return (pair, WORKED_OUT * (a.pieces.len() * b.pieces.len()) as u64);
        }
        (pairs.seen(a, b), 0)
    }
}

/// The offset as a pair was looked at.
const fn looked_at([x, y]: [f64; 2], quarters: u8, is_swapped: bool) -> [f64; 2] {
    turned(if is_swapped { [-x, -y] } else { [x, y] }, (4 - quarters) % 4)
}

/// So many quarters counter-clockwise.
const fn turned([x, y]: [f64; 2], quarters: u8) -> [f64; 2] {
    match quarters {
        0 => [x, y],
        1 => [-y, x],
        2 => [-x, -y],
        _ => [y, -x],
    }
}
