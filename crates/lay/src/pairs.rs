//! How deep any two forms lie in each other, worked out once and only when asked for.
//!
//! Forms that are quarter turns of one another share what is known: a pair is looked at as the second
//! part lies unturned. What is kept takes a bounded part of the memory; beyond it a pair is worked out
//! each time.

use crate::depth::{Depth, Push};
use crate::form::{Form, Forms};
use crate::no_fit::Piece;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicUsize, Ordering};

/// What is kept of all pairs takes no more bytes than this.
const MOST_KEPT: usize = 350_000_000;

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
    kept: AtomicUsize,
}

/// How deep the first of two forms lies in the second.
pub(crate) struct Pair<'a> {
    depth: Known<'a>,
    /// The second form is turned by so many quarters from how it was looked at.
    quarters: u8,
    /// It was looked at the other way round.
    is_swapped: bool,
}

enum Known<'a> {
    Kept(&'a Depth),
    Now(Box<Depth>),
}

impl Pairs {
    pub fn of(forms: &Forms) -> Self {
        let mut turned = vec![Turned { base: 0, quarters: 0 }; forms.count];
        let mut bases = Vec::new();
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
        Self { turned, bases, cells, kept: AtomicUsize::new(0) }
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

    /// Form `a` in form `b`.
    pub fn of_forms(&self, a: &Form, b: &Form) -> Pair<'_> {
        let number = self.number(a, b);
        let is_swapped = self.turned[a.number].base > self.turned[b.number].base;
        let (first, second) = if is_swapped { (b, a) } else { (a, b) };
        let (first, second) = (self.turned[first.number], self.turned[second.number]);
        let cell = &self.cells[number];
        let made = || {
            let quarters = (first.quarters + 4 - second.quarters) % 4;
            let turned: Vec<Piece> =
                self.bases[first.base].iter().map(|piece| piece.turned(quarters)).collect();
            Box::new(Depth::between(&turned, &self.bases[second.base]))
        };
        let depth = match cell.get() {
            Some(depth) => Known::Kept(depth),
            None if self.kept.load(Ordering::Relaxed) < MOST_KEPT => {
                Known::Kept(cell.get_or_init(|| {
                    let depth = made();
                    self.kept.fetch_add(depth.bytes(), Ordering::Relaxed);
                    depth
                }))
            }
            None => Known::Now(made()),
        };
        Pair { depth, quarters: second.quarters, is_swapped }
    }
}

impl Pair<'_> {
    fn depth(&self) -> &Depth {
        match &self.depth {
            Known::Kept(depth) => depth,
            Known::Now(depth) => depth,
        }
    }

    /// The offset as the pair was looked at.
    fn seen(&self, x: f64, y: f64) -> [f64; 2] {
        let (x, y) = if self.is_swapped { (-x, -y) } else { (x, y) };
        turned([x, y], (4 - self.quarters) % 4)
    }

    /// Depth when the first lies `x`, `y` from the second.
    pub fn at(&self, x: f64, y: f64) -> f64 {
        let [x, y] = self.seen(x, y);
        self.depth().at(x, y)
    }

    /// The way out for the first.
    pub fn push(&self, x: f64, y: f64) -> Push {
        let [x, y] = self.seen(x, y);
        let Push { depth, along } = self.depth().push(x, y);
        let [x, y] = turned(along, self.quarters);
        Push { depth, along: if self.is_swapped { [-x, -y] } else { [x, y] } }
    }
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
