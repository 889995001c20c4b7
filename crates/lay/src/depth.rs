//! How deep one form lies in another: the way out of it, and for how far.
//!
//! What forms share is known from convex regions of offsets, one for each two of their convex pieces.
//! Places are whole nanometres held in floating point, exact to well over a thousand kilometres. Against
//! upright edges a depth is exact, so that parts may touch; slanting edges are set out by one nanometre,
//! so that what counts as free is free. Further in, where nothing depends on the last nanometre, the depth
//! comes from a grid: the distance to the nearest place that is free, of all regions together.

mod direct;
mod distance;
mod grid;

use crate::no_fit::{NoFit, NoFits, Piece};
pub(crate) use direct::Body;
use grid::{Grid, Look};

/// Convex regions of offsets at which two forms share cloth.
#[derive(Debug)]
pub(crate) struct Depth {
    /// Largest first: a deep place is soon found and the rest need only be shown to be shallower.
    regions: Box<[Region]>,
    /// Outward unit normal and distance from the origin of the slanting edges of all regions.
    edges: Box<[[f64; 3]]>,
    grid: Grid,
}

#[derive(Debug)]
struct Region {
    low: [f64; 2],
    high: [f64; 2],
    edges: (u32, u32),
}

/// How many of the largest regions are asked whether they hold a smaller one, which then adds nothing.
const MOST_HOLDERS: usize = 24;

/// A shortest way out: moving by `depth` along the unit vector frees.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Push {
    pub depth: f64,
    pub along: [f64; 2],
}

impl Depth {
    /// Of form `a`, moved, in form `b`.
    pub fn between(a: &[Piece], b: &[Piece]) -> Self {
        let mut edges = Vec::new();
        let no_fits = NoFits::all(a, b);
        let mut regions: Vec<(Region, NoFit)> =
            no_fits.iter().map(|no_fit| (Region::new(&no_fit, &mut edges), no_fit)).collect();
        let size = |r: &Region| (r.high[0] - r.low[0]) * (r.high[1] - r.low[1]);
        regions.sort_by(|p, q| size(&q.0).total_cmp(&size(&p.0)));
        let inside = |no_fit: &NoFit, own: &Region, region: &Region| {
            let box_is =
                (0..2).all(|k| region.low[k] <= own.low[k] && own.high[k] <= region.high[k]);
            let edges = &edges[region.edges.0 as usize..region.edges.1 as usize];
            box_is
                && no_fit
                    .lower
                    .iter()
                    .chain(no_fit.upper)
                    .all(|p| region.deeper(edges, p.x as f64, p.y as f64, -0.5) >= 0.0)
        };
        let mut kept: Vec<(Region, NoFit)> = Vec::new();
        for (region, no_fit) in regions {
            if !kept.iter().take(MOST_HOLDERS).any(|large| inside(&no_fit, &region, &large.0)) {
                kept.push((region, no_fit));
            }
        }
        // Only the edges of what is kept.
        let mut own = Vec::new();
        for (region, _) in &mut kept {
            let first = own.len() as u32;
            own.extend_from_slice(&edges[region.edges.0 as usize..region.edges.1 as usize]);
            region.edges = (first, own.len() as u32);
        }
        let (regions, no_fits): (Vec<Region>, Vec<NoFit>) = kept.into_iter().unzip();
        let mut depth = Self { regions: regions.into(), edges: own.into(), grid: Grid::default() };
        depth.grid = Grid::of(&depth, &no_fits);
        depth
    }

    /// What it takes of the memory.
    pub fn bytes(&self) -> usize {
        size_of::<Self>()
            + size_of_val(&*self.regions)
            + size_of_val(&*self.edges)
            + self.grid.bytes()
    }

    /// Depth when `a` lies `x`, `y` from `b`; nought if they are apart or touch.
    pub fn at(&self, x: f64, y: f64) -> f64 {
        match self.grid.look(x, y) {
            Look::Free => 0.0,
            Look::Deep(depth) => depth,
            Look::Near(about, regions) => {
                let mut most = 0.0;
                for &region in regions {
                    let region = &self.regions[usize::from(region)];
                    most = region.deeper(self.slanting(region), x, y, most);
                }
                // On a seam between regions none of them is deep, all together are.
                if most > 0.0 && about > self.grid.cell { about.max(most) } else { most }
            }
        }
    }

    /// The same with the way out of the deepest region.
    pub fn push(&self, x: f64, y: f64) -> Push {
        let mut most = Push::default();
        for region in &self.regions {
            let edges = self.slanting(region);
            if region.deeper(edges, x, y, most.depth) > most.depth {
                most = region.push(edges, x, y);
            }
        }
        most
    }

    fn slanting(&self, region: &Region) -> &[[f64; 3]] {
        &self.edges[region.edges.0 as usize..region.edges.1 as usize]
    }
}

impl Region {
    fn new(no_fit: &NoFit, edges: &mut Vec<[f64; 3]>) -> Self {
        let mut low = [f64::INFINITY; 2];
        let mut high = [f64::NEG_INFINITY; 2];
        for p in no_fit.lower.iter().chain(no_fit.upper) {
            low = [low[0].min(p.x as f64), low[1].min(p.y as f64)];
            high = [high[0].max(p.x as f64), high[1].max(p.y as f64)];
        }
        let first = edges.len() as u32;
        for (chain, side) in [(no_fit.lower, 1.0), (no_fit.upper, -1.0)] {
            for e in chain.windows(2).filter(|e| e[0].x != e[1].x && e[0].y != e[1].y) {
                let (dx, dy) = ((e[1].x - e[0].x) as f64, (e[1].y - e[0].y) as f64);
                let length = libm::hypot(dx, dy);
                let n = [side * dy / length, -side * dx / length];
                edges.push([n[0], n[1], n[0] * e[0].x as f64 + n[1] * e[0].y as f64 + 1.0]);
            }
        }
        Self { low, high, edges: (first, edges.len() as u32) }
    }

    /// Depth in this region if it is more than `most`, else `most`.
    fn deeper(&self, edges: &[[f64; 3]], x: f64, y: f64, most: f64) -> f64 {
        let mut least = lesser(
            lesser(x - self.low[0], self.high[0] - x),
            lesser(y - self.low[1], self.high[1] - y),
        );
        if least <= most {
            return most;
        }
        for edge in edges {
            least = lesser(least, edge[2] - edge[0] * x - edge[1] * y);
            if least <= most {
                return most;
            }
        }
        least
    }

    fn push(&self, edges: &[[f64; 3]], x: f64, y: f64) -> Push {
        let upright = [
            (x - self.low[0], [-1.0, 0.0]),
            (self.high[0] - x, [1.0, 0.0]),
            (y - self.low[1], [0.0, -1.0]),
            (self.high[1] - y, [0.0, 1.0]),
        ];
        let slanting = edges.iter().map(|e| (e[2] - e[0] * x - e[1] * y, [e[0], e[1]]));
        let (depth, along) = upright
            .into_iter()
            .chain(slanting)
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .unwrap_or_default();
        Push { depth, along }
    }
}

/// Without the care for what is not a number that `f64::min` takes: it runs twice as fast.
fn lesser(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry::{Polygon, Spot, convex_pieces, interiors_meet};
    use proptest::prelude::*;

    /// A star-shaped polygon, seldom convex, some hundreds of nanometres wide.
    fn star() -> impl Strategy<Value = Polygon> {
        proptest::collection::vec(200_i64..600, 4..9).prop_map(|radii| {
            let n = radii.len() as f64;
            let spot = |(i, &r): (usize, &i64)| {
                let angle = i as f64 / n * std::f64::consts::TAU;
                Spot::new((r as f64 * angle.cos()) as i64, (r as f64 * angle.sin()) as i64)
            };
            Polygon::new(radii.iter().enumerate().map(spot).collect())
        })
    }

    proptest! {
        #[test]
        fn what_meets_is_deep_and_nothing_else_is(a in star(), b in star(), x in -1300_i64..1300, y in -1300_i64..1300) {
            prop_assume!(a.is_simple() && b.is_simple());
            let pieces = |p: &Polygon| -> Vec<Piece> {
                convex_pieces(p).iter().map(|c| Piece::new(c.points(), 0)).collect()
            };
            let depth = Depth::between(&pieces(&a), &pieces(&b));
            let d = depth.at(x as f64, y as f64);
            let region = depth.push(x as f64, y as f64).depth;
            prop_assert_eq!(d > 0.0, region > 0.0);
            // Exactly, by another way: separating axes of convex pieces.
            // Seen from the pieces alone it is the same.
            let (one, other) = (Body::of(&pieces(&a)), Body::of(&pieces(&b)));
            prop_assert!((one.at(&other, x as f64, y as f64) - region).abs() < 1e-6);
            let direct = one.push(&other, x as f64, y as f64);
            prop_assert!((direct.depth - region).abs() < 1e-6);
            prop_assert_eq!(direct.depth > 0.0, d > 0.0);
            let meet = interiors_meet(&convex_pieces(&a), Spot::new(x, y), &convex_pieces(&b), Spot::default());
            prop_assert!(!meet || d > 0.0);
            // Slanting edges are set out by a nanometre, so that a little more may count as deep.
            prop_assert!(meet || d <= 1.001, "{d}");
            let push = depth.push(x as f64, y as f64);
            prop_assert!(d == 0.0 || (push.along[0].hypot(push.along[1]) - 1.0).abs() < 1e-9);
            // No parts of these sizes lie deeper than their boxes.
            prop_assert!(d <= 1200.0);
        }
    }
}
