//! An item in one allowed turn, ready to be compared with others.

use crate::{Item, Rule};
use geometry::{Polygon, Rect, Spot, convex_pieces};

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
}

/// A convex piece as two chains of corners from left to right.
#[derive(Clone, Debug)]
pub(crate) struct Piece {
    pub bounds: Rect,
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
        Self { turn, polygon, pieces, bounds, anchor, upright }
    }

    /// The open intervals of y in which this form at x meets `other` at `at`, added to `found`.
    pub fn forbidden(&self, x: i64, other: &Self, at: Spot, found: &mut Vec<(i64, i64)>) {
        if self.upright && other.upright {
            let b = other.bounds.moved(at);
            if self.bounds.low.x + x < b.high.x && b.low.x < self.bounds.high.x + x {
                found.push((b.low.y - self.bounds.high.y, b.high.y - self.bounds.low.y));
            }
            return;
        }
        for p in &self.pieces {
            for q in &other.pieces {
                if let Some((low, high)) = forbidden(p, q, x - at.x) {
                    found.push((low + at.y, high + at.y));
                }
            }
        }
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
        let low = Spot::new(
            spots.first().map_or(0, |p| p.x),
            spots.iter().map(|p| p.y).min().unwrap_or(0),
        );
        let high = Spot::new(
            spots.last().map_or(0, |p| p.x),
            spots.iter().map(|p| p.y).max().unwrap_or(0),
        );
        Self { bounds: Rect { low, high }, lower, upper }
    }
}

/// Heights at x of a chain, rounded down and up.
fn at(chain: &[Spot], x: i64) -> (i64, i64) {
    let i = chain.partition_point(|p| p.x < x);
    if i < chain.len() && chain[i].x == x {
        return (chain[i].y, chain[i].y);
    }
    let (a, b) = (chain[i - 1], chain[i]);
    let rise = i128::from(b.y - a.y) * i128::from(x - a.x);
    let run = i128::from(b.x - a.x);
    let down = rise.div_euclid(run);
    let up = if rise.rem_euclid(run) == 0 { down } else { down + 1 };
    (a.y + down as i64, a.y + up as i64)
}

/// The open interval of y in which `p`, moved by (`dx`, y), shares area with `q`; rounded outwards.
///
/// One vertical slice of the no-fit polygon of two convex pieces. Upper minus lower chain is
/// concave between the corners, so its greatest value lies at a corner of either.
fn forbidden(p: &Piece, q: &Piece, dx: i64) -> Option<(i64, i64)> {
    let left = (p.bounds.low.x + dx).max(q.bounds.low.x);
    let right = (p.bounds.high.x + dx).min(q.bounds.high.x);
    if left >= right {
        return None;
    }
    let mut low = i64::MAX;
    let mut high = i64::MIN;
    let mut look = |x: i64| {
        if x < left || x > right {
            return;
        }
        high = high.max(at(&q.upper, x).1 - at(&p.lower, x - dx).0);
        low = low.min(at(&q.lower, x).0 - at(&p.upper, x - dx).1);
    };
    for spot in q.upper.iter().chain(&q.lower) {
        look(spot.x);
    }
    for spot in p.upper.iter().chain(&p.lower) {
        look(spot.x + dx);
    }
    Some((low, high))
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry::interiors_meet;
    use proptest::prelude::*;

    fn item(points: Vec<(i64, i64)>) -> Item {
        let shape = Polygon::new(points.into_iter().map(|(x, y)| Spot::new(x, y)).collect());
        Item { name: String::new(), shape, count: 1, turns: vec![0.0], rule: Rule::Free }
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
            let (fa, fb) = (Form::new(&a, 0.0, 0), Form::new(&b, 0.0, 0));
            let mut found = Vec::new();
            fa.forbidden(x, &fb, Spot::default(), &mut found);
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
