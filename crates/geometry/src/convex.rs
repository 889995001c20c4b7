//! Convex pieces of a polygon, and whether two shapes share any cloth: exact, touching allowed.

use crate::polygon::side;
use crate::{Polygon, Rect, Spot};
use std::collections::BTreeMap;

/// A convex polygon in whole nanometres, counter-clockwise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Convex {
    points: Vec<Spot>,
    bounds: Rect,
}

impl Convex {
    fn new(points: Vec<Spot>) -> Self {
        let mut bounds = Rect { low: points[0], high: points[0] };
        for p in &points {
            bounds.low = Spot::new(bounds.low.x.min(p.x), bounds.low.y.min(p.y));
            bounds.high = Spot::new(bounds.high.x.max(p.x), bounds.high.y.max(p.y));
        }
        Self { points, bounds }
    }

    /// The corners.
    pub fn points(&self) -> &[Spot] {
        &self.points
    }

    /// The box that holds it.
    pub const fn bounds(&self) -> Rect {
        self.bounds
    }
}

/// Cuts a simple polygon into convex pieces that together are exactly the polygon: ear clipping
/// on its own corners, then merging pieces over diagonals that are not needed.
///
/// Source: Hertel and Mehlhorn, "Fast triangulation of simple polygons", FCT 1983: at most four
/// times the least number of pieces.
pub fn convex_pieces(polygon: &Polygon) -> Vec<Convex> {
    let points = polygon.points();
    if points.len() < 3 {
        return Vec::new();
    }
    let n = points.len();
    if (0..n).all(|i| side(points[i], points[(i + 1) % n], points[(i + 2) % n]) > 0) {
        return vec![Convex::new(points.to_vec())];
    }
    merge(triangles(points)).into_iter().map(Convex::new).collect()
}

/// As [`convex_pieces`], from several first corners, keeping the cut with the fewest pieces: worth its
/// time where the pieces are used often.
pub fn few_convex_pieces(polygon: &Polygon) -> Vec<Convex> {
    let points = polygon.points();
    let n = points.len();
    let usual = convex_pieces(polygon);
    if usual.len() < 3 {
        return usual;
    }
    // The work of a start grows with the cube of the corners; many corners are mostly those of arcs,
    // where another start seldom helps.
    let work = if n <= 40 { 4_000_000 } else { 600_000 };
    let starts = (work / n.pow(3)).clamp(1, 64).min(n);
    (1..starts)
        .map(|start| {
            let mut ring = points.to_vec();
            ring.rotate_left(start * n / starts);
            merge(triangles(&ring))
        })
        .min_by_key(Vec::len)
        .filter(|pieces| pieces.len() < usual.len())
        .map_or(usual, |pieces| pieces.into_iter().map(Convex::new).collect())
}

/// Whether two shapes, each moved, share area. Exact; sharing an edge or a corner is not meeting.
///
/// Source: separating axis theorem for convex sets, applied to every pair of pieces.
pub fn interiors_meet(a: &[Convex], a_at: Spot, b: &[Convex], b_at: Spot) -> bool {
    let shift = Spot::new(b_at.x - a_at.x, b_at.y - a_at.y);
    a.iter().any(|p| {
        b.iter().any(|q| {
            p.bounds.meets(&q.bounds.moved(shift))
                && !parted(p, q, shift)
                && !parted(q, p, Spot::new(-shift.x, -shift.y))
        })
    })
}

/// Whether some edge of `p` has all of `q`, moved by `shift`, on its outer side.
fn parted(p: &Convex, q: &Convex, shift: Spot) -> bool {
    let n = p.points.len();
    (0..n).any(|i| {
        let (a, b) = (p.points[i], p.points[(i + 1) % n]);
        q.points.iter().all(|c| side(a, b, c.plus(shift)) <= 0)
    })
}

fn triangles(points: &[Spot]) -> Vec<Vec<Spot>> {
    let mut ring: Vec<Spot> = points.to_vec();
    let mut found = Vec::with_capacity(ring.len());
    while ring.len() > 3 {
        let n = ring.len();
        let ear = (0..n).find(|&i| is_ear(&ring, i)).or_else(|| {
            // Only points in line are left to choose from: drop one of no area.
            (0..n).find(|&i| side(ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]) == 0)
        });
        let Some(i) = ear else { break };
        let triangle = vec![ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]];
        if side(triangle[0], triangle[1], triangle[2]) > 0 {
            found.push(triangle);
        }
        ring.remove(i);
    }
    if ring.len() == 3 && side(ring[0], ring[1], ring[2]) > 0 {
        found.push(ring);
    }
    found
}

fn is_ear(ring: &[Spot], i: usize) -> bool {
    let n = ring.len();
    let (a, b, c) = (ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]);
    if side(a, b, c) <= 0 {
        return false;
    }
    ring.iter().all(|&p| {
        p == a || p == b || p == c || side(a, b, p) < 0 || side(b, c, p) < 0 || side(c, a, p) < 0
    })
}

/// Triangles joined over each side that two of them share, wherever what comes out is convex.
///
/// Source: Hertel and Mehlhorn, "Fast triangulation of the plane with respect to simple polygons",
/// Information and Control 64 (1985): diagonals that can be spared are taken away, one after another.
fn merge(mut pieces: Vec<Vec<Spot>>) -> Vec<Vec<Spot>> {
    let sides = |piece: &[Spot]| {
        let piece = piece.to_vec();
        (0..piece.len()).map(move |k| (piece[k], piece[(k + 1) % piece.len()]))
    };
    let mut owner = BTreeMap::new();
    for (i, piece) in pieces.iter().enumerate() {
        owner.extend(sides(piece).map(|side| (side, i)));
    }
    // Where each piece has gone to.
    let mut gone: Vec<usize> = (0..pieces.len()).collect();
    let find = |gone: &[usize], mut i: usize| {
        while gone[i] != i {
            i = gone[i];
        }
        i
    };
    for (i, triangle) in pieces.clone().iter().enumerate() {
        for (a, b) in sides(triangle) {
            let Some(&other) = owner.get(&(b, a)) else { continue };
            let (p, q) = (find(&gone, i), find(&gone, other));
            if p != q
                && let Some(joined) = join(&pieces[p], &pieces[q], a, b)
            {
                let (low, high) = (p.min(q), p.max(q));
                pieces[low] = joined;
                pieces[high].clear();
                gone[high] = low;
            }
        }
    }
    pieces.retain(|piece| !piece.is_empty());
    pieces
}

/// Two convex pieces over the side that leads from `a` to `b` in the first, if together they are convex.
fn join(p: &[Spot], q: &[Spot], a: Spot, b: Spot) -> Option<Vec<Spot>> {
    let (n, m) = (p.len(), q.len());
    let i = (0..n).find(|&i| p[i] == a && p[(i + 1) % n] == b)?;
    let j = (0..m).find(|&j| q[j] == b && q[(j + 1) % m] == a)?;
    let (before, after) = (p[(i + n - 1) % n], p[(i + 2) % n]);
    let (next, last) = (q[(j + 2) % m], q[(j + m - 1) % m]);
    if side(before, a, next) < 0 || side(last, b, after) < 0 {
        return None;
    }
    let own = (0..n).map(|k| p[(i + 1 + k) % n]);
    Some(own.chain((0..m - 2).map(|k| q[(j + 2 + k) % m])).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo::{Area, BooleanOps, Coord, LineString};
    use proptest::prelude::*;

    fn polygon(points: &[(i64, i64)]) -> Polygon {
        Polygon::new(points.iter().map(|&(x, y)| Spot::new(x, y)).collect())
    }

    fn twice_area(pieces: &[Convex]) -> i128 {
        pieces.iter().map(|c| Polygon::new(c.points().to_vec()).twice_area()).sum()
    }

    #[test]
    fn touching_is_not_meeting() {
        let square = convex_pieces(&polygon(&[(0, 0), (27, 0), (27, 30), (0, 30)]));
        let at = |x, y| Spot::new(x, y);
        assert!(!interiors_meet(&square, at(0, 0), &square, at(27, 0)));
        assert!(!interiors_meet(&square, at(0, 0), &square, at(27, 30)));
        assert!(interiors_meet(&square, at(0, 0), &square, at(26, 29)));
        assert!(interiors_meet(&square, at(0, 0), &square, at(0, 0)));
    }

    #[test]
    fn a_block_fits_a_notch_of_its_own_size() {
        let u = convex_pieces(&polygon(&[
            (0, 0),
            (9, 0),
            (9, 9),
            (6, 9),
            (6, 3),
            (3, 3),
            (3, 9),
            (0, 9),
        ]));
        let block = convex_pieces(&polygon(&[(0, 0), (3, 0), (3, 6), (0, 6)]));
        assert!(!interiors_meet(&u, Spot::new(0, 0), &block, Spot::new(3, 3)));
        assert!(interiors_meet(&u, Spot::new(0, 0), &block, Spot::new(3, 2)));
        assert_eq!(twice_area(&u), 2 * (81 - 18));
    }

    /// A star-shaped polygon: simple by construction, seldom convex.
    fn star() -> impl Strategy<Value = Polygon> {
        proptest::collection::vec(20_i64..100, 5..14).prop_map(|radii| {
            let n = radii.len() as f64;
            let spots = radii.iter().enumerate().map(|(i, &r)| {
                let angle = i as f64 / n * std::f64::consts::TAU;
                Spot::new(
                    (r as f64 * libm::cos(angle)) as i64,
                    (r as f64 * libm::sin(angle)) as i64,
                )
            });
            Polygon::new(spots.collect())
        })
    }

    fn geo_polygon(p: &Polygon, at: Spot) -> geo::Polygon {
        let ring =
            p.points().iter().map(|s| Coord { x: (s.x + at.x) as f64, y: (s.y + at.y) as f64 });
        geo::Polygon::new(LineString(ring.collect()), vec![])
    }

    proptest! {
        #[test]
        fn pieces_are_convex_and_add_up_to_the_polygon(p in star()) {
            prop_assume!(p.is_simple());
            let pieces = convex_pieces(&p);
            prop_assert_eq!(twice_area(&pieces), p.twice_area());
        }

        #[test]
        fn an_independent_geometry_crate_agrees_on_meeting(a in star(), b in star(), x in -180_i64..180, y in -180_i64..180) {
            prop_assume!(a.is_simple() && b.is_simple());
            let shared = geo_polygon(&a, Spot::default())
                .intersection(&geo_polygon(&b, Spot::new(x, y)))
                .unsigned_area();
            let meet = interiors_meet(&convex_pieces(&a), Spot::default(), &convex_pieces(&b), Spot::new(x, y));
            // Boolean operations round to a grid; only a sliver may be judged differently.
            if shared > 1e-3 { prop_assert!(meet, "shared {}", shared); }
            if !meet { prop_assert!(shared < 1e-3, "shared {}", shared); }
        }
    }
}
