//! Parts that take more than half the width follow one another, however closely they nest.
//!
//! Where such a part is wider than half the cloth, its core, no other's core can lie at the same
//! height; so the cores stand one above the other in some order, and from each part to the next it is
//! at least the least distance at which the two clear each other anywhere across the cloth. The
//! shortest such order is a travelling salesman's path: found itself where there are few kinds, else
//! bounded from below by what can be taken off every row and then off every column of its table.
//!
//! Source of that bound: Little, Murty, Sweeney and Karel, "An algorithm for the traveling salesman
//! problem", Operations Research 11 (1963): reduction of the cost matrix. The rest derived here.

use crate::Instance;
use crate::form::Form;
use crate::ground::Ground;
use crate::no_fit::NoFits;
use geometry::Length;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Slices of no-fit polygons worked out at most, in all.
const MOST_SLICES: usize = 2_000_000;

/// Rounding of a slice outwards, at each end, in nanometres.
const ROUNDED: i64 = 2;

/// A form and the stretch, from and to above its origin, over which it takes more than half the width.
pub(crate) struct Core<'a> {
    pub form: &'a Form,
    pub from: i64,
    pub to: i64,
}

/// The least length of the parts that can only follow one another, and which items those are; `None`
/// if there are fewer than two, if cloth on hand may take some of them, or if they are too many.
///
/// `cores` has for each item each of its forms; none for an item that has a form without a core.
pub(crate) fn least(instance: &Instance, cores: &[Vec<Core>]) -> Option<(Length, Vec<usize>)> {
    let items: Vec<usize> = (0..cores.len()).filter(|&i| !cores[i].is_empty()).collect();
    let parts: usize = items.iter().map(|&i| instance.items[i].count).sum();
    if !instance.on_hand.is_empty() || parts < 2 {
        return None;
    }
    // Before outlines with many hollow corners are cut into pieces: there are no fewer.
    let least: usize = items.iter().flat_map(|&i| &cores[i]).map(|c| c.form.least_pieces()).sum();
    if MOST_SLICES / (least * least) < LEAST_TRIALS {
        return None;
    }
    let pieces: usize = items.iter().flat_map(|&i| &cores[i]).map(|c| c.form.exact().len()).sum();
    // As many slices for each place tried.
    let trials = (MOST_SLICES / (pieces * pieces)).min(MOST_TRIALS);
    if trials < LEAST_TRIALS {
        return None;
    }
    let forms: Vec<(usize, &Core)> = items
        .iter()
        .enumerate()
        .flat_map(|(i, &item)| cores[item].iter().map(move |c| (i, c)))
        .collect();
    let counts: Vec<usize> = items.iter().map(|&i| instance.items[i].count).collect();
    let distances = Distances {
        follow: forms
            .iter()
            .map(|(i, f)| {
                let next = |(j, g): &(usize, &Core)| {
                    (i != j || counts[*i] > 1).then(|| clear(instance, f, g, trials))
                };
                forms.iter().map(next).collect()
            })
            .collect(),
        first: forms.iter().map(|(_, c)| -c.form.bounds.low.y).collect(),
        last: forms.iter().map(|(_, c)| c.form.bounds.high.y).collect(),
        item: forms.iter().map(|(i, _)| *i).collect(),
    };
    let length = match distances.shortest(&counts) {
        Some(length) => length,
        None => distances.by_item(items.len()).reduced(&counts),
    };
    Some((Length::from_nm(length.max(0)), items))
}

/// Fewer tell too little.
const LEAST_TRIALS: usize = 32;

/// Stretches across the cloth that are looked at for each pair of forms.
const MOST_TRIALS: usize = 400;

/// How far the origin of `above` is at least from that of `below` once clear of it.
///
/// Over a stretch across the cloth a convex no-fit polygon forbids what it forbids at both ends. The
/// stretch that allows least is halved again and again.
fn clear(instance: &Instance, below: &Core, above: &Core, trials: usize) -> i64 {
    let ground = Ground::new_cloth(instance);
    let play = |core: &Core| ground.across(core.form);
    let (b, a) = (play(below), play(above));
    let no_fits = NoFits::all(above.form.exact(), below.form.exact());
    let past_core = below.to - above.from;
    let slices = |x: i64| -> Vec<Option<(i64, i64)>> {
        let inwards = |(low, high): (i64, i64)| (low + ROUNDED, high - ROUNDED);
        no_fits.iter().map(|no_fit| no_fit.slice(x).map(inwards)).collect()
    };
    let least = |p: &[Option<(i64, i64)>], q: &[Option<(i64, i64)>]| {
        let both = p.iter().zip(q).filter_map(|(p, q)| Some(((*p)?, (*q)?)));
        let mut forbidden: Vec<(i64, i64)> =
            both.map(|(p, q)| (p.0.max(q.0), p.1.min(q.1))).filter(|r| r.0 < r.1).collect();
        forbidden.sort_unstable();
        // Up from the cores, as far as there is no gap to lie in.
        forbidden.iter().fold(past_core, |top, r| if r.0 < top { top.max(r.1) } else { top })
    };
    let ends = [a.0 - b.1, a.1 - b.0];
    let (first, last) = (slices(ends[0]), slices(ends[1]));
    let mut open = BinaryHeap::new();
    let mut known = vec![(ends[0], first), (ends[1], last)];
    open.push(Reverse((least(&known[0].1, &known[1].1), 0, 1)));
    for _ in 0..trials {
        let Some(&Reverse((_, p, q))) = open.peek() else { break };
        let middle = known[p].0 + (known[q].0 - known[p].0) / 2;
        if middle - known[p].0 < NARROW {
            break;
        }
        open.pop();
        known.push((middle, slices(middle)));
        let m = known.len() - 1;
        open.push(Reverse((least(&known[p].1, &known[m].1), p, m)));
        open.push(Reverse((least(&known[m].1, &known[q].1), m, q)));
    }
    open.peek().map_or(past_core, |next| next.0.0)
}

/// Stretches are not halved below this.
const NARROW: i64 = 1000;

/// States in which some of each item are laid that are looked at to find the shortest order itself.
const MOST_STATES: usize = 100_000;

/// How far apart the origins of two forms are at least when one follows the other, of the first from
/// the cut end, and of the last from its own upper end.
struct Distances {
    /// `None` where there is no second part of the kind.
    follow: Vec<Vec<Option<i64>>>,
    first: Vec<i64>,
    last: Vec<i64>,
    /// The item of each form.
    item: Vec<usize>,
}

impl Distances {
    /// The shortest order itself, if there are few: by how many of each item are laid, and which form
    /// last.
    ///
    /// Source: Held and Karp, "A dynamic programming approach to sequencing problems", Journal of the
    /// SIAM 10 (1962), for parts of which many are alike.
    fn shortest(&self, counts: &[usize]) -> Option<i64> {
        let forms = self.item.len();
        // A state's number has the counts laid as its digits.
        let mut places = Vec::with_capacity(counts.len());
        let mut states = 1_usize;
        for &count in counts {
            places.push(states);
            states =
                states.checked_mul(count + 1).filter(|s| s * forms * forms <= MOST_STATES * 16)?;
        }
        let mut best = vec![None; states * forms];
        for form in 0..forms {
            best[places[self.item[form]] * forms + form] = Some(self.first[form]);
        }
        for state in 0..states {
            for last in 0..forms {
                let Some(here) = best[state * forms + last] else { continue };
                for next in 0..forms {
                    let (place, count) = (places[self.item[next]], counts[self.item[next]]);
                    let Some(step) = self.follow[last][next] else { continue };
                    if state / place % (count + 1) < count {
                        let cell = &mut best[(state + place) * forms + next];
                        *cell = Some(cell.map_or(here + step, |c: i64| c.min(here + step)));
                    }
                }
            }
        }
        (0..forms).filter_map(|f| Some(best[(states - 1) * forms + f]? + self.last[f])).min()
    }

    /// The least of all forms of an item.
    fn by_item(&self, items: usize) -> Self {
        let of = |i: usize| (0..self.item.len()).filter(move |&f| self.item[f] == i);
        let least = |i: usize, ends: &[i64]| of(i).map(|f| ends[f]).min().unwrap_or(0);
        let follow = |i: usize, j: usize| {
            of(i).flat_map(|f| of(j).filter_map(move |g| self.follow[f][g])).min()
        };
        Self {
            follow: (0..items).map(|i| (0..items).map(|j| follow(i, j)).collect()).collect(),
            first: (0..items).map(|i| least(i, &self.first)).collect(),
            last: (0..items).map(|i| least(i, &self.last)).collect(),
            item: (0..items).collect(),
        }
    }

    /// What can be taken off every row, then off every column, and last off the ends; or, if that is
    /// more, off every column first.
    fn reduced(&self, counts: &[usize]) -> i64 {
        let n = counts.len();
        let taken = |cell: &dyn Fn(usize, usize) -> Option<i64>, first: &[i64], last: &[i64]| {
            let rows: Vec<i64> =
                (0..n).map(|a| (0..n).filter_map(|b| cell(a, b)).min().unwrap_or(0)).collect();
            let left = |b: usize| (0..n).filter_map(move |a| Some((a, cell(a, b)?)));
            let columns: Vec<i64> =
                (0..n).map(|b| left(b).map(|(a, c)| c - rows[a]).min().unwrap_or(0)).collect();
            let start = (0..n).map(|b| first[b] - columns[b]).min().unwrap_or(0);
            let end = (0..n).map(|a| last[a] - rows[a]).min().unwrap_or(0);
            let each = |i: usize| (rows[i] + columns[i]) * counts[i] as i64;
            (0..n).map(each).sum::<i64>() + start + end
        };
        let rows_first = taken(&|a, b| self.follow[a][b], &self.first, &self.last);
        rows_first.max(taken(&|a, b| self.follow[b][a], &self.last, &self.first))
    }
}
