//! An item in one allowed turn, ready to be compared with others.

use crate::phase::{self, Phases};
use crate::{Instance, Item, Rule};
use geometry::{Polygon, Rect, Spot, convex_pieces};
use std::sync::OnceLock;

/// One item in one turn.
#[derive(Clone, Debug)]
pub(crate) struct Form {
    pub turn: f64,
    pub polygon: Polygon,
    pub pieces: Vec<Piece>,
    pub bounds: Rect,
    /// Turned anchor of the item's rule; the origin if it has none.
    pub anchor: Spot,
    /// An upright rectangle.
    pub upright: bool,
    /// Its number among all forms of an instance.
    number: usize,
}

/// All forms of an instance, and for each pair the slices already worked out.
pub(crate) struct Forms {
    /// By item.
    pub list: Vec<Vec<Form>>,
    /// Phases each matched group may take across the cloth, or the item that leaves it none.
    pub phases: Result<Vec<Option<Phases>>, usize>,
    count: usize,
    pairs: Vec<OnceLock<Box<[NoFit]>>>,
}

/// Past this many forms the table of pairs would fill the memory; slices are worked out each time.
const MOST_FORMS: usize = 700;

impl Forms {
    /// Each side grown by `margin` nanometres.
    pub fn of(instance: &Instance, margin: i64) -> Self {
        let mut list: Vec<Vec<Form>> = instance
            .items
            .iter()
            .map(|item| Form::all(item, if item.exact { 0 } else { margin }))
            .collect();
        for (number, form) in list.iter_mut().flatten().enumerate() {
            form.number = number;
        }
        let count = list.iter().map(Vec::len).sum();
        let pairs = if count <= MOST_FORMS { count * count } else { 0 };
        let phases = phase::groups(instance, &list);
        Self {
            list,
            phases,
            count,
            pairs: std::iter::repeat_with(OnceLock::new).take(pairs).collect(),
        }
    }

    /// The open intervals of y in which form `a` at x meets form `b` at `at`, added to `found`.
    pub fn forbidden(&self, a: &Form, x: i64, b: &Form, at: Spot, found: &mut Vec<(i64, i64)>) {
        if a.upright && b.upright {
            let b = b.bounds.moved(at);
            if a.bounds.low.x + x < b.high.x && b.low.x < a.bounds.high.x + x {
                found.push((b.low.y - a.bounds.high.y, b.high.y - a.bounds.low.y));
            }
            return;
        }
        let mut slice = |no_fits: &[NoFit]| {
            for no_fit in no_fits {
                if let Some((low, high)) = no_fit.slice(x - at.x) {
                    found.push((low + at.y, high + at.y));
                }
            }
        };
        match self.pairs.get(a.number * self.count + b.number) {
            Some(cell) => slice(cell.get_or_init(|| NoFit::all(a, b))),
            None => slice(&NoFit::all(a, b)),
        }
    }
}

/// Where one convex piece, moved, would share area with another: their no-fit polygon, open.
///
/// Source: the Minkowski sum of one with the other mirrored through the origin; its upper chain has
/// the edges of both upper chains in order of slope.
#[derive(Debug)]
struct NoFit {
    lower: Vec<Spot>,
    upper: Vec<Spot>,
}

impl NoFit {
    fn all(a: &Form, b: &Form) -> Box<[Self]> {
        let each = |p: &Piece, q: &Piece| {
            let mirrored = |chain: &[Spot]| {
                chain.iter().rev().map(|s| Spot::new(-s.x, -s.y)).collect::<Vec<_>>()
            };
            Self {
                upper: added(&q.upper, &mirrored(&p.lower), true),
                lower: added(&q.lower, &mirrored(&p.upper), false),
            }
        };
        a.pieces.iter().flat_map(|p| b.pieces.iter().map(move |q| each(p, q))).collect()
    }

    /// The open interval of y at x, rounded outwards; `None` beside it.
    fn slice(&self, x: i64) -> Option<(i64, i64)> {
        let (first, last) = (self.lower.first()?, self.lower.last()?);
        if x <= first.x || last.x <= x {
            return None;
        }
        Some((at(&self.lower, x).0, at(&self.upper, x).1))
    }
}

/// Two chains of edges from left to right, merged by slope: falling for upper chains.
fn added(p: &[Spot], q: &[Spot], upper: bool) -> Vec<Spot> {
    let mut here = p[0].plus(q[0]);
    let mut chain = vec![here];
    let (mut i, mut j) = (0, 0);
    while i + 1 < p.len() || j + 1 < q.len() {
        let edge = |c: &[Spot], k: usize| {
            (k + 1 < c.len()).then(|| Spot::new(c[k + 1].x - c[k].x, c[k + 1].y - c[k].y))
        };
        let first = match (edge(p, i), edge(q, j)) {
            (Some(a), Some(b)) => {
                let turn = i128::from(a.x) * i128::from(b.y) - i128::from(a.y) * i128::from(b.x);
                if upper { turn <= 0 } else { turn >= 0 }
            }
            (Some(_), None) => true,
            _ => false,
        };
        let step = if first { edge(p, i) } else { edge(q, j) };
        if first {
            i += 1;
        } else {
            j += 1;
        }
        here = here.plus(step.unwrap_or_default());
        chain.push(here);
    }
    chain
}

/// A convex piece as two chains of corners from left to right.
#[derive(Clone, Debug)]
pub(crate) struct Piece {
    lower: Vec<Spot>,
    upper: Vec<Spot>,
}

impl Form {
    /// All allowed turns of an item, each side grown by `margin` nanometres (for the question
    /// how much measuring error a lay forgives).
    pub fn all(item: &Item, margin: i64) -> Vec<Self> {
        let mut turns = item.turns.clone();
        // The same outline in another turn is only another name for the same places.
        let mut seen: Vec<Polygon> = Vec::new();
        turns.retain(|&turn| {
            let polygon = settled(&item.shape.turned(turn));
            let new = matches!(item.rule, Rule::Free) && seen.contains(&polygon);
            seen.push(polygon);
            !new
        });
        turns.into_iter().map(|turn| Self::new(item, turn, margin)).collect()
    }

    pub fn new(item: &Item, turn: f64, margin: i64) -> Self {
        let polygon = item.shape.turned(turn);
        let pieces =
            convex_pieces(&polygon).iter().map(|c| Piece::new(c.points(), margin)).collect();
        let mut bounds = polygon.bounds();
        bounds.low = Spot::new(bounds.low.x - margin, bounds.low.y - margin);
        bounds.high = Spot::new(bounds.high.x + margin, bounds.high.y + margin);
        let anchor = match item.rule {
            Rule::Free => Spot::default(),
            Rule::Centred(anchor) | Rule::Matched { anchor, .. } => anchor.turned(turn),
        };
        let upright = polygon.is_upright_rectangle();
        Self { turn, polygon, pieces, bounds, anchor, upright, number: 0 }
    }
}

fn settled(polygon: &Polygon) -> Polygon {
    let low = polygon.bounds().low;
    let mut points: Vec<Spot> =
        polygon.points().iter().map(|p| Spot::new(p.x - low.x, p.y - low.y)).collect();
    let first = (0..points.len()).min_by_key(|&i| points[i]).unwrap_or(0);
    points.rotate_left(first);
    Polygon::new(points)
}

impl Piece {
    /// From a convex ring, grown by a square of half side `margin` (its Minkowski sum).
    fn new(ring: &[Spot], margin: i64) -> Self {
        let spots: Vec<Spot> = if margin == 0 {
            ring.to_vec()
        } else {
            let steps = [(-1, -1), (1, -1), (1, 1), (-1, 1)];
            ring.iter()
                .flat_map(|p| steps.map(|(x, y)| Spot::new(p.x + x * margin, p.y + y * margin)))
                .collect()
        };
        Self::hull(spots)
    }

    /// Upper and lower chains of the convex hull.
    ///
    /// Source: Andrew, "Another efficient algorithm for convex hulls in two dimensions",
    /// Information Processing Letters 9 (1979).
    fn hull(mut spots: Vec<Spot>) -> Self {
        spots.sort_unstable();
        spots.dedup();
        let cross = |a: Spot, b: Spot, c: Spot| {
            i128::from(b.x - a.x) * i128::from(c.y - a.y)
                - i128::from(b.y - a.y) * i128::from(c.x - a.x)
        };
        let mut lower: Vec<Spot> = Vec::new();
        let mut upper: Vec<Spot> = Vec::new();
        for &p in &spots {
            // On the same x the lower chain keeps the lowest, the upper the highest.
            if lower.last().is_none_or(|last| last.x < p.x) {
                while lower.len() > 1
                    && cross(lower[lower.len() - 2], lower[lower.len() - 1], p) <= 0
                {
                    lower.pop();
                }
                lower.push(p);
            }
            if upper.last().is_some_and(|last| last.x == p.x) {
                upper.pop();
            }
            while upper.len() > 1 && cross(upper[upper.len() - 2], upper[upper.len() - 1], p) >= 0 {
                upper.pop();
            }
            upper.push(p);
        }
        Self { lower, upper }
    }
}

/// Heights at x of a chain, rounded down and up.
fn at(chain: &[Spot], x: i64) -> (i64, i64) {
    let i = chain.partition_point(|p| p.x < x);
    if i < chain.len() && chain[i].x == x {
        return (chain[i].y, chain[i].y);
    }
    let (a, b) = (chain[i - 1], chain[i]);
    let (rise, run) = (b.y - a.y, b.x - a.x);
    // Whole numbers of 64 bits hold the product for shapes up to three metres; it is ten times faster.
    let (down, exact) = match rise.checked_mul(x - a.x) {
        Some(product) => (product.div_euclid(run), product % run == 0),
        None => {
            let product = i128::from(rise) * i128::from(x - a.x);
            let run = i128::from(run);
            (product.div_euclid(run) as i64, product % run == 0)
        }
    };
    (a.y + down, a.y + down + i64::from(!exact))
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry::interiors_meet;
    use proptest::prelude::*;

    fn item(points: Vec<(i64, i64)>) -> Item {
        let shape = Polygon::new(points.into_iter().map(|(x, y)| Spot::new(x, y)).collect());
        Item {
            name: String::new(),
            shape,
            count: 1,
            turns: vec![0.0],
            rule: Rule::Free,
            exact: false,
        }
    }

    #[test]
    fn turns_that_look_alike_are_kept_once() {
        let square = item(vec![(0, 0), (5, 0), (5, 5), (0, 5)]);
        let all = Item { turns: vec![0.0, 90.0, 180.0, 270.0], ..square };
        assert_eq!(Form::all(&all, 0).len(), 1);
        let oblong = Item {
            shape: Polygon::new(vec![
                Spot::new(0, 0),
                Spot::new(9, 0),
                Spot::new(9, 5),
                Spot::new(0, 5),
            ]),
            ..all.clone()
        };
        assert_eq!(Form::all(&oblong, 0).len(), 2);
        // With a pattern a half turn moves the anchor and is another thing.
        let centred = Item { rule: Rule::Centred(Spot::new(1, 1)), ..all };
        assert_eq!(Form::all(&centred, 0).len(), 4);
    }

    /// A star-shaped polygon: simple by construction, seldom convex.
    fn star() -> impl Strategy<Value = Item> {
        proptest::collection::vec(20_i64..60, 4..10).prop_map(|radii| {
            let n = radii.len() as f64;
            let spot = |(i, &r): (usize, &i64)| {
                let angle = i as f64 / n * std::f64::consts::TAU;
                ((r as f64 * angle.cos()) as i64, (r as f64 * angle.sin()) as i64)
            };
            item(radii.iter().enumerate().map(spot).collect())
        })
    }

    proptest! {
        #[test]
        fn slices_agree_with_exact_meeting(a in star(), b in star(), x in -100_i64..100) {
            prop_assume!(a.shape.is_simple() && b.shape.is_simple());
            let buying = crate::Buying { left: geometry::Length::ZERO, right: geometry::Length::ZERO, roll: None, trim: geometry::Length::ZERO, step: geometry::Length::from_nm(1) };
            let instance = Instance { items: vec![a.clone(), b.clone()], on_hand: vec![], buying, pattern: None };
            let forms = Forms::of(&instance, 0);
            let mut found = Vec::new();
            forms.forbidden(&forms.list[0][0], x, &forms.list[1][0], Spot::default(), &mut found);
            let (pa, pb) = (convex_pieces(&a.shape), convex_pieces(&b.shape));
            for y in -130..130 {
                let inside = found.iter().any(|&(low, high)| low < y && y < high);
                let meet = interiors_meet(&pa, Spot::new(x, y), &pb, Spot::default());
                // Rounding outwards may forbid up to one nanometre more, never less.
                prop_assert!(inside || !meet, "at {y}");
                if inside && !meet {
                    let near = found.iter().any(|&(low, high)| y - low <= 1 || high - y <= 1);
                    prop_assert!(near, "at {y}");
                }
            }
        }
    }
}
