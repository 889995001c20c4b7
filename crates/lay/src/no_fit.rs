//! Where one convex piece may not go because of another.

use geometry::Spot;

/// Where one convex piece, moved, would share area with another: their no-fit polygon, open.
///
/// Source: the Minkowski sum of one with the other mirrored through the origin; its upper chain has
/// the edges of both upper chains in order of slope.
#[derive(Debug)]
pub(crate) struct NoFit {
    pub lower: Vec<Spot>,
    pub upper: Vec<Spot>,
}

impl NoFit {
    /// Of each piece with each.
    pub fn all(a: &[Piece], b: &[Piece]) -> Box<[Self]> {
        let each = |p: &Piece, q: &Piece| {
            let mirrored = |chain: &[Spot]| {
                chain.iter().rev().map(|s| Spot::new(-s.x, -s.y)).collect::<Vec<_>>()
            };
            Self {
                upper: added(&q.upper, &mirrored(&p.lower), true),
                lower: added(&q.lower, &mirrored(&p.upper), false),
            }
        };
        a.iter().flat_map(|p| b.iter().map(move |q| each(p, q))).collect()
    }

    /// The open interval of y at x, rounded outwards; `None` beside it.
    pub fn slice(&self, x: i64) -> Option<(i64, i64)> {
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

impl Piece {
    /// From a convex ring, grown by a square of half side `margin` (its Minkowski sum).
    pub fn new(ring: &[Spot], margin: i64) -> Self {
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
    pub fn hull(mut spots: Vec<Spot>) -> Self {
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
