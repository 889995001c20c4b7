//! Where one convex piece may not go because of another.

use geometry::Spot;

/// Where convex pieces, moved, would share area with others: their no-fit polygons, open, one for each two
/// of them, in one stretch of memory.
///
/// Source: the Minkowski sum of one with the other mirrored through the origin; its upper chain has
/// the edges of both upper chains in order of slope.
#[derive(Debug)]
pub(crate) struct NoFits {
    spots: Box<[Spot]>,
    /// Where the lower chain of each starts, where its upper one, and the end of the last.
    starts: Box<[u32]>,
}

/// One of them: chains of corners from left to right.
#[derive(Clone, Copy, Debug)]
pub(crate) struct NoFit<'a> {
    pub lower: &'a [Spot],
    pub upper: &'a [Spot],
}

impl NoFits {
    /// Of each piece with each.
    pub fn all(a: &[Piece], b: &[Piece]) -> Self {
        let corners =
            |all: &[Piece]| all.iter().map(|p| p.lower.len() + p.upper.len()).sum::<usize>();
        let most = corners(a) * b.len() + corners(b) * a.len();
        let mut spots = Vec::with_capacity(most);
        let mut starts = Vec::with_capacity(2 * a.len() * b.len() + 1);
        let mirrored: Vec<Piece> = a.iter().map(Piece::mirrored).collect();
        for p in &mirrored {
            for q in b {
                starts.push(spots.len() as u32);
                add(&q.lower, &p.lower, false, &mut spots);
                starts.push(spots.len() as u32);
                add(&q.upper, &p.upper, true, &mut spots);
            }
        }
        starts.push(spots.len() as u32);
        Self { spots: spots.into(), starts: starts.into() }
    }

    /// One after another.
    pub fn iter(&self) -> impl Iterator<Item = NoFit<'_>> {
        let of = |from: u32, to: u32| &self.spots[from as usize..to as usize];
        self.starts
            .windows(3)
            .step_by(2)
            .map(move |s| NoFit { lower: of(s[0], s[1]), upper: of(s[1], s[2]) })
    }

    /// What they take of the memory.
    pub fn bytes(&self) -> usize {
        size_of::<Self>() + size_of_val(&*self.spots) + size_of_val(&*self.starts)
    }
}

impl NoFit<'_> {
    /// The open interval of y at x, rounded outwards; `None` beside it.
    pub fn slice(&self, x: i64) -> Option<(i64, i64)> {
        let (first, last) = (self.lower.first()?, self.lower.last()?);
        if x <= first.x || last.x <= x {
            return None;
        }
        Some((at(self.lower, x).0, at(self.upper, x).1))
    }
}

/// Two chains of edges from left to right, merged by slope: falling for upper chains.
fn add(p: &[Spot], q: &[Spot], upper: bool, chain: &mut Vec<Spot>) {
    let mut here = p[0].plus(q[0]);
    chain.push(here);
    let edge = |c: &[Spot], k: usize| {
        (k + 1 < c.len()).then(|| Spot::new(c[k + 1].x - c[k].x, c[k + 1].y - c[k].y))
    };
    let (mut i, mut j) = (0, 0);
    loop {
        let (a, b) = (edge(p, i), edge(q, j));
        let is_first = match (a, b) {
            (Some(a), Some(b)) => {
                let turn = i128::from(a.x) * i128::from(b.y) - i128::from(a.y) * i128::from(b.x);
                if upper { turn <= 0 } else { turn >= 0 }
            }
            (Some(_), None) => true,
            (None, Some(_)) => false,
            (None, None) => return,
        };
        let step = if is_first { a } else { b };
        *if is_first { &mut i } else { &mut j } += 1;
        here = here.plus(step.unwrap_or_default());
        chain.push(here);
    }
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

    /// Its corners, counter-clockwise.
    pub fn ring(&self) -> impl Iterator<Item = Spot> {
        self.lower.iter().chain(self.upper.iter().rev()).copied()
    }

    /// Half a turn.
    fn mirrored(&self) -> Self {
        let of = |chain: &[Spot]| chain.iter().rev().map(|s| Spot::new(-s.x, -s.y)).collect();
        Self { lower: of(&self.upper), upper: of(&self.lower) }
    }

    /// So many quarters counter-clockwise.
    pub fn turned(&self, quarters: u8) -> Self {
        let degrees = 90.0 * f64::from(quarters);
        Self::hull(self.lower.iter().chain(&self.upper).map(|p| p.turned(degrees)).collect())
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
