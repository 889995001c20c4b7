//! Rectangles on plain cloth: filling the strip from below without more waste than a target length
//! leaves, by depth-first search with restarts.
//!
//! The lowest, leftmost stretch of the skyline is filled next: by a rectangle set at its left end, or
//! by nothing, when it is raised to its lower neighbour and what lies under it is waste. A branch ends
//! when its waste exceeds what the target allows. Exact fits come first, so that perfect packings are
//! found; nothing is proven by not finding one.
//!
//! Source: the skyline with a waste budget is common to exact methods for perfect packings, e.g.
//! Lesh, Marks, McMahon and Mitzenmacher, "Exhaustive approaches to 2D rectangular perfect packings",
//! Information Processing Letters 90 (2004); the scoring is ours.

use crate::form::Forms;
use crate::ground::{Demands, Ground};
use crate::{Instance, Lay, Placement, Stock, Strip};
use fastrand::Rng;
use geometry::{Length, Spot};

/// One way to place one item.
#[derive(Clone, Copy)]
struct Block {
    item: usize,
    form: usize,
    w: i64,
    h: i64,
}

#[derive(Clone, Copy)]
struct Ledge {
    x: i64,
    w: i64,
    y: i64,
}

struct Filler<'a> {
    blocks: &'a [Block],
    left: Vec<usize>,
    placed: Vec<(Block, i64, i64)>,
    total: usize,
    length: i64,
    nodes: u64,
    random: Rng,
    noise: u32,
    /// For each item how much it is to be hurried.
    haste: Vec<i64>,
    /// The fewest items left over so far in this run, and which.
    fewest: usize,
    over: Vec<usize>,
}

/// Added to an item's haste each time it is left over, in micrometres of size.
const HASTE: i64 = 400;

/// Whether an instance is of this kind.
pub(crate) fn takes(instance: &Instance, forms: &Forms) -> bool {
    let Demands { on_hand, pins, closed, rolls, held, parts } = Demands::of(instance);
    let plain = !(on_hand || pins || closed || rolls || held);
    plain && parts <= MOST_PARTS && forms.list.iter().flatten().all(|f| f.upright)
}

/// More parts than this are laid as well, and sooner, by moving them about.
const MOST_PARTS: usize = 400;

/// A lay no longer than `length`, if one is found within `work`.
pub(crate) fn fill(
    instance: &Instance,
    forms: &Forms,
    length: Length,
    work: u64,
    seed: u64,
    stop: &(dyn Fn() -> bool + Sync),
) -> Option<Lay> {
    let mut blocks = Vec::new();
    for (item, list) in forms.list.iter().enumerate() {
        for (form, f) in list.iter().enumerate() {
            blocks.push(Block { item, form, w: f.bounds.width().nm(), h: f.bounds.height().nm() });
        }
    }
    let width = Ground::new_cloth(instance).width();
    let area: i128 =
        instance.items.iter().map(|i| i.shape.twice_area() / 2 * i.count as i128).sum();
    let budget = i128::from(width) * i128::from(length.nm()) - area;
    if budget < 0 {
        return None;
    }
    let mut random = Rng::with_seed(seed);
    // Every block is looked at once for all the nodes below a skyline: measured.
    let nodes = work / (blocks.len() as u64 / 2 + 10);
    let mut spent = 0;
    // Short runs with another order each time beat one long run.
    let each = (instance.copies() as u64 * 150).max(2_000);
    let mut round = 0_u32;
    // Items that were left over again and again come earlier.
    let mut haste = vec![0_i64; instance.items.len()];
    while spent < nodes && !stop() {
        let mut filler = Filler {
            blocks: &blocks,
            left: instance.items.iter().map(|i| i.count).collect(),
            placed: Vec::new(),
            total: instance.copies(),
            length: length.nm(),
            nodes: each.min(nodes - spent),
            random: random.fork(),
            noise: round % 5,
            haste: haste.clone(),
            fewest: usize::MAX,
            over: Vec::new(),
        };
        let granted = filler.nodes;
        let skyline = vec![Ledge { x: 0, w: width, y: 0 }];
        if filler.step(&skyline, budget) {
            return Some(filler.into_lay(instance, forms));
        }
        spent += granted - filler.nodes + 1;
        for h in &mut haste {
            *h -= *h / 16;
        }
        for &item in &filler.over {
            haste[item] += HASTE;
        }
        round += 1;
    }
    None
}

impl Filler<'_> {
    fn step(&mut self, skyline: &[Ledge], budget: i128) -> bool {
        if self.placed.len() == self.total {
            return true;
        }
        let Some(i) = (0..skyline.len()).min_by_key(|&i| (skyline[i].y, skyline[i].x)) else {
            return false;
        };
        let ledge = skyline[i];
        let wall = |j: Option<usize>| j.and_then(|j| skyline.get(j)).map(|l| l.y);
        let (before, after) = (wall(i.checked_sub(1)), wall(Some(i + 1)));
        let mut choices: Vec<(i64, usize)> = (0..self.blocks.len())
            .filter(|&b| {
                let block = self.blocks[b];
                self.left[block.item] > 0 && block.w <= ledge.w && ledge.y + block.h <= self.length
            })
            .map(|b| (0, b))
            .collect();
        for choice in &mut choices {
            choice.0 = self.score(self.blocks[choice.1], ledge, before, after);
        }
        choices.sort_unstable();
        for (_, b) in choices {
            if self.nodes == 0 {
                return false;
            }
            self.nodes -= 1;
            let block = self.blocks[b];
            self.left[block.item] -= 1;
            self.placed.push((block, ledge.x, ledge.y));
            if self.step(&with(skyline, i, block), budget) {
                return true;
            }
            self.placed.pop();
            self.left[block.item] += 1;
        }
        if self.total - self.placed.len() < self.fewest {
            self.fewest = self.total - self.placed.len();
            self.over = (0..self.left.len()).filter(|&i| self.left[i] > 0).collect();
        }
        // Or nothing: the ledge is raised to its lower neighbour.
        let up = [before, after].into_iter().flatten().min().unwrap_or(self.length);
        let waste = i128::from(ledge.w) * i128::from(up.min(self.length) - ledge.y);
        if waste > budget || up >= self.length && before.is_none() && after.is_none() {
            return false;
        }
        self.step(&raised(skyline, i, up), budget - waste)
    }

    /// Less is tried first: exact widths, tops level with a neighbour, large blocks; with some noise.
    fn score(
        &mut self,
        block: Block,
        ledge: Ledge,
        before: Option<i64>,
        after: Option<i64>,
    ) -> i64 {
        let mut score = -(block.w / 1000 + block.h / 2000);
        let size = ledge.w / 1000 + 1;
        if block.w == ledge.w {
            score -= 3 * size;
        }
        let top = Some(ledge.y + block.h);
        if top == before || top == after {
            score -= 2 * size;
        }
        if ledge.y + block.h == self.length {
            score -= size;
        }
        // Haste is a share of the ledge, so that it means the same on any scale.
        score -= self.haste[block.item] * size / 10_000;
        if self.noise > 0 {
            score += self.random.i64(0..=size) * i64::from(self.noise);
        }
        score
    }

    fn into_lay(self, instance: &Instance, forms: &Forms) -> Lay {
        let mut copies = vec![0; forms.list.len()];
        let mut placed = self.placed;
        placed.sort_by_key(|p| (p.2, p.1));
        let mut top = 0;
        let placements = placed
            .into_iter()
            .map(|(block, x, y)| {
                let form = &forms.list[block.item][block.form];
                copies[block.item] += 1;
                top = top.max(y + block.h);
                let low = form.bounds.low;
                Placement {
                    item: block.item,
                    copy: copies[block.item] - 1,
                    at: Spot::new(instance.buying.left.nm() + x - low.x, y - low.y),
                    turn: form.turn,
                }
            })
            .collect();
        Lay {
            strips: vec![Strip { stock: Stock::New(0), placements, length: Length::from_nm(top) }],
        }
    }
}

/// The skyline with a block on the left end of ledge `i`.
fn with(skyline: &[Ledge], i: usize, block: Block) -> Vec<Ledge> {
    let mut next = skyline.to_vec();
    let ledge = next[i];
    next[i] = Ledge { x: ledge.x, w: block.w, y: ledge.y + block.h };
    if block.w < ledge.w {
        next.insert(i + 1, Ledge { x: ledge.x + block.w, w: ledge.w - block.w, y: ledge.y });
    }
    merged(next)
}

fn raised(skyline: &[Ledge], i: usize, y: i64) -> Vec<Ledge> {
    let mut next = skyline.to_vec();
    next[i].y = y;
    merged(next)
}

fn merged(skyline: Vec<Ledge>) -> Vec<Ledge> {
    let mut next: Vec<Ledge> = Vec::with_capacity(skyline.len());
    for ledge in skyline {
        match next.last_mut() {
            Some(last) if last.y == ledge.y => last.w += ledge.w,
            _ => next.push(ledge),
        }
    }
    next
}
