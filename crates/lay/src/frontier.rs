//! Whether parts, few of which lie abreast, can end below a given height at all.
//!
//! Sort the parts of any lay by the height of a level of theirs. Each is then clear of the two before it:
//! how much higher it must lie than either follows from where the three lie across the cloth. All ways
//! to build a lay up by such steps are gone through, with places across the cloth gathered in cells and
//! every step as small as any place in its cells allows; what a part further back forbids is left out, and
//! so are small parts. What is found is therefore never higher than a lay, and where nothing ends below
//! the height asked, no lay does. Cells are halved again and again, up from the cut end and down from the
//! height asked by turns, and only what the pass before left open is gone through.
//!
//! Source: derived here; dynamic programming over counts of like parts as by Held and Karp, "A dynamic
//! programming approach to sequencing problems", Journal of the SIAM 10 (1962).

mod front;
mod grid;
mod pass;

use self::grid::{Grid, MICROMETRE, Shape};
use self::pass::{Pass, Question};
use crate::bound::Reason;
use crate::form::{Form, Forms};
use crate::ground::Ground;
use crate::{Instance, Stock};
use geometry::Rect;
use std::sync::atomic::{AtomicU64, Ordering};

/// How many of each kind there are. So many of each are a state, numbered with the counts as digits.
struct Kinds {
    /// Which item of the instance.
    items: Vec<usize>,
    counts: Vec<usize>,
    places: Vec<usize>,
    states: usize,
}

impl Kinds {
    fn of(&self, state: usize, kind: usize) -> usize {
        state / self.places[kind] % (self.counts[kind] + 1)
    }

    fn total(&self, state: usize) -> usize {
        (0..self.counts.len()).map(|kind| self.of(state, kind)).sum()
    }
}

/// Halvings of the cells.
const LEVELS: u32 = 9;

/// Cells across the cloth to begin with, for the part that may move furthest.
const CELLS: i64 = 4;

/// Parts narrower than this share of the cloth are left out: they only take time.
const NARROW: i64 = 5;

/// Convex pieces of all forms looked at: each is set against each.
const MOST_PIECES: usize = 400;

/// Looks that the first pass may take at most, by a rough count.
const FIRST_PASS: usize = 400_000_000;

/// A question about whether parts fit, and how much of it may be looked at.
pub(crate) struct Frontier<'a> {
    instance: &'a Instance,
    forms: &'a Forms,
    kinds: Kinds,
    /// States that may lie on cloth on hand.
    on_hand: Vec<bool>,
    /// Steps gone through so far.
    spent: AtomicU64,
    stop: &'a (dyn Fn() -> bool + Sync),
}

impl<'a> Frontier<'a> {
    /// `None` if nothing can be said: too few parts, too many kinds, or nothing but small ones.
    pub fn new(
        instance: &'a Instance,
        forms: &'a Forms,
        most: u64,
        stop: &'a (dyn Fn() -> bool + Sync),
    ) -> Option<Self> {
        let kinds = chosen(instance, forms)?;
        let spent = AtomicU64::new(0);
        let mut frontier = Self { instance, forms, kinds, on_hand: Vec::new(), spent, stop };
        let states = frontier.kinds.states;
        let mut on_hand = vec![false; states];
        on_hand[0] = true;
        if states > MOST_SPLIT && !instance.on_hand.is_empty() {
            return None;
        }
        for (i, length) in instance.on_hand.iter().enumerate() {
            let may = frontier.strip(Stock::OnHand(i), length.length.nm(), most).may_hold()?;
            on_hand = together(&frontier.kinds, &on_hand, &may);
        }
        frontier.on_hand = on_hand;
        Some(frontier)
    }

    /// Whether no lay uses `longest` of new cloth, or less: true is certain, false says nothing. Goes
    /// through no more than `most` steps.
    pub fn impossible(&self, longest: i64, most: u64) -> bool {
        let parts = self.kinds.counts.iter().sum::<usize>();
        // One part alone is not a step.
        let few = |state: usize| self.on_hand[state] && self.kinds.total(state) + 2 > parts;
        !(0..self.kinds.states).any(few)
            && self.strip(Stock::New(0), longest, most).cannot_hold(&self.on_hand)
    }

    /// A first bound in nanometres, from coarse cells; nought if that goes through too much.
    pub fn least(&self, most: u64) -> i64 {
        let longest = self.in_a_row();
        let ends = self.strip(Stock::New(0), longest, most).ends(0);
        let all = self.kinds.states - 1;
        let open = (0..=all).filter(|&state| self.on_hand[state]);
        let least = ends.and_then(|ends| open.filter_map(|state| ends[all - state]).min());
        i64::from(least.unwrap_or(0)) * MICROMETRE
    }

    /// All parts above one another.
    fn in_a_row(&self) -> i64 {
        let height = |i: &usize| {
            let highest = self.forms.list[*i].iter().map(|f| f.bounds.height().nm()).max();
            highest.unwrap_or(0) * self.instance.items[*i].count as i64
        };
        let repeat = self.instance.pattern.as_ref().and_then(|p| p.length).map_or(0, |l| l.nm());
        let parts = self.kinds.counts.iter().sum::<usize>() as i64;
        self.kinds.items.iter().map(height).sum::<i64>() + (parts + 1) * repeat
    }

    /// How many of each item may best lie on hand, most promising first.
    pub fn splits(&self, most: u64) -> Vec<Vec<usize>> {
        let all = self.kinds.states - 1;
        let strip = self.strip(Stock::New(0), self.in_a_row(), most);
        let Some(ends) = strip.ends(COARSE) else { return Vec::new() };
        let mut splits: Vec<(i32, usize)> = (1..=all)
            .filter(|&state| self.on_hand[state])
            .filter_map(|state| Some((ends[all - state]?, state)))
            .collect();
        splits.sort_unstable();
        let counts = |state: usize| {
            let mut counts = vec![0; self.instance.items.len()];
            for (kind, &item) in self.kinds.items.iter().enumerate() {
                counts[item] = self.kinds.of(state, kind);
            }
            counts
        };
        splits.into_iter().take(MOST_SPLITS).map(|split| counts(split.1)).collect()
    }

    /// Why what it shows is so.
    pub fn reason(&self) -> Reason {
        Reason::Beside { items: self.kinds.items.clone() }
    }

    /// Steps gone through so far.
    pub fn spent(&self) -> u64 {
        self.spent.load(Ordering::Relaxed)
    }

    /// `most` steps are allowed for it.
    fn strip(&self, stock: Stock, length: i64, most: u64) -> Strip<'_> {
        let Self { instance, forms, ref kinds, ref spent, stop, .. } = *self;
        let most = spent.load(Ordering::Relaxed) + most;
        Strip { instance, forms, kinds, stock, length, most, spent, stop }
    }
}

/// States that are looked at with cloth on hand: pairs of them are added up.
const MOST_SPLIT: usize = 3000;

/// Ways to divide parts between what is on hand and new cloth.
const MOST_SPLITS: usize = 4;

/// All sums of a state of one set and a state of the other.
fn together(kinds: &Kinds, some: &[bool], more: &[bool]) -> Vec<bool> {
    let mut sums = vec![false; kinds.states];
    for a in (0..kinds.states).filter(|&a| some[a]) {
        for b in (0..kinds.states).filter(|&b| more[b]) {
            let fits = |k: usize| kinds.of(a, k) + kinds.of(b, k) <= kinds.counts[k];
            if (0..kinds.counts.len()).all(fits) {
                sums[a + b] = true;
            }
        }
    }
    sums
}

/// The larger items first, as many as can be looked at; `None` if that says nothing.
fn chosen(instance: &Instance, forms: &Forms) -> Option<Kinds> {
    let width = Ground::new_cloth(instance).width();
    let narrowest = |i: usize| {
        let of = |f: &Form| f.bounds.width().nm().min(f.bounds.height().nm());
        forms.list[i].iter().map(of).min().unwrap_or(0)
    };
    let mut items: Vec<usize> =
        (0..instance.items.len()).filter(|&i| narrowest(i) * NARROW >= width).collect();
    items.sort_by_key(|&i| (std::cmp::Reverse(instance.items[i].shape.twice_area()), i));
    let mut kinds = Kinds { items: Vec::new(), counts: Vec::new(), places: Vec::new(), states: 1 };
    let mut cells = 0;
    let mut pieces = 0;
    for i in items {
        pieces += forms.list[i].iter().map(Form::least_pieces).sum::<usize>();
        if pieces > MOST_PIECES {
            break;
        }
        let count = instance.items[i].count;
        let states = kinds.states.checked_mul(count + 1)?;
        let more = cells + forms.list[i].len() * CELLS as usize;
        let looks = more.checked_pow(3).and_then(|n| n.checked_mul(states));
        if looks.is_none_or(|looks| looks > FIRST_PASS) {
            break;
        }
        kinds.items.push(i);
        kinds.counts.push(count);
        kinds.places.push(kinds.states);
        (kinds.states, cells) = (states, more);
    }
    (kinds.counts.iter().sum::<usize>() > 2).then_some(kinds)
}

/// A length of cloth that is asked about.
struct Strip<'a> {
    instance: &'a Instance,
    forms: &'a Forms,
    kinds: &'a Kinds,
    stock: Stock,
    length: i64,
    /// Steps that may have been gone through by the end.
    most: u64,
    spent: &'a AtomicU64,
    stop: &'a (dyn Fn() -> bool + Sync),
}

impl Strip<'_> {
    fn shapes(&self) -> Vec<Shape<'_>> {
        grid::shapes(self.instance, self.forms, self.kinds, self.stock, self.length)
    }

    /// New cloth may come in several lengths, which are looked at as one; its flaws are left out.
    fn flaws(&self) -> &[Rect] {
        match self.stock {
            Stock::OnHand(_) => Ground::of(self.instance, self.stock).flaws,
            Stock::New(_) => &[],
        }
    }

    /// Whether nothing that is still to be laid after any of these states fits.
    fn cannot_hold(&self, laid: &[bool]) -> bool {
        let shapes = self.shapes();
        let mut before: Option<Pass> = None;
        for level in 0..LEVELS {
            let upwards = level % 2 == 0;
            if shapes.len() * (CELLS << level) as usize > MOST_CELLS {
                return false;
            }
            let mut grid = Grid::new(&shapes, self.flaws(), self.length, level);
            if grid.cells.len() * self.kinds.states > MOST_LISTS {
                return false;
            }
            if !upwards {
                grid = grid.turned();
            }
            let Some(pass) = self.pass(&grid, upwards, laid, before.as_ref()) else {
                return false;
            };
            let end = self.kinds.states - 1;
            let open = match upwards {
                true => !pass.is_empty(end),
                false => (0..=end).any(|from| laid[from] && !pass.is_empty(end - from)),
            };
            if !open {
                return true;
            }
            before = Some(pass);
        }
        false
    }

    /// Which states may fit; `None` if that would take too long.
    fn may_hold(&self) -> Option<Vec<bool>> {
        Some(self.ends(COARSE)?.into_iter().map(|end| end.is_some()).collect())
    }

    /// How high the parts of each state end at least, if they may fit at all.
    fn ends(&self, level: u32) -> Option<Vec<Option<i32>>> {
        let shapes = self.shapes();
        let mut nothing = vec![false; self.kinds.states];
        nothing[0] = true;
        let grid = Grid::new(&shapes, self.flaws(), self.length, level);
        let pass = self.pass(&grid, true, &nothing, None)?;
        let alone = |state: usize| {
            let own = grid.cells.iter().filter(|cell| self.kinds.of(state, cell.kind) == 1);
            own.map(|cell| cell.up(cell.low) + cell.high).min().filter(|&end| end <= grid.limit)
        };
        let end = |state: usize| match self.kinds.total(state) {
            0 => Some(0),
            1 => alone(state),
            _ => pass.end(state, &grid),
        };
        Some((0..self.kinds.states).map(end).collect())
    }

    /// `None` if it goes through too much.
    fn pass(
        &self,
        grid: &Grid,
        upwards: bool,
        laid: &[bool],
        before: Option<&Pass>,
    ) -> Option<Pass> {
        if self.length > LONGEST {
            return None;
        }
        // What its table took.
        let cells = grid.cells.len() as u64;
        self.spent.fetch_add(cells * cells / 4, Ordering::Relaxed);
        let Self { kinds, most, spent, stop, .. } = *self;
        Question { kinds, grid, laid, upwards, before, most, spent, stop }.pass()
    }
}

/// How fine the cells are for what may lie on hand.
const COARSE: u32 = 3;

/// Heights are counted in micrometres of 32 bits.
const LONGEST: i64 = 1_000_000_000 * MICROMETRE;

/// Lists of pairs, for each state and cell, that a pass may keep.
const MOST_LISTS: usize = 6_000_000;

/// So fine that the table of pairs of cells stays small.
const MOST_CELLS: usize = 1200;
