//! An outline with fewer corners round a given one, nowhere farther out than a stated hair.

use crate::polygon::side;
use crate::{Length, Polygon, Rect, Spot};
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// A polygon with few corners that holds `polygon` whole, in the same box, and nowhere stands out of it
/// by more than `most`.
///
/// Corners go one at a time, least harm first: a hollow corner by the straight line between its
/// neighbours, a side between two full corners by drawing out the sides beside it until they meet. Each
/// step only adds, so that the polygon is held exactly; what steps add up to is counted. The same
/// polygon comes back where nothing can go.
///
/// Source: derived here; drawing sides out is common for simplified outlines that may not cut in.
pub fn lighter(polygon: &Polygon, most: Length) -> Polygon {
    let points = polygon.points();
    if points.len() < 4 || most <= Length::ZERO {
        return polygon.clone();
    }
    let mut ring = Ring::of(points, most.nm() as f64);
    let mut waiting: BinaryHeap<Reverse<Change>> = (0..points.len())
        .flat_map(|i| [ring.filled(i), ring.drawn_out(i)])
        .flatten()
        .map(Reverse)
        .collect();
    while let Some(Reverse(change)) = waiting.pop() {
        if ring.corners <= FEWEST || !ring.may_still(&change) || !ring.is_clear(&change) {
            continue;
        }
        for i in ring.make(&change) {
            let more = [ring.filled(i), ring.drawn_out(i)];
            waiting.extend(more.into_iter().flatten().map(Reverse));
        }
    }
    ring.polygon()
}

/// A shape has at least so many corners.
const FEWEST: usize = 3;

/// A step that takes one corner away.
#[derive(Clone, Copy, Debug)]
struct Change {
    /// How far the outline then stands out at most, in whole nanometres: sorts before all else.
    out: i64,
    /// The corner that goes, or the first of the side that goes.
    at: usize,
    /// Where the sides beside the side that goes meet; `None` where a hollow corner is filled.
    meet: Option<Spot>,
    /// The corners concerned as they were when it was thought of.
    seen: [(usize, u32); 4],
}

impl PartialEq for Change {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Change {}

impl PartialOrd for Change {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Change {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        (self.out, self.at, self.meet).cmp(&(other.out, other.at, other.meet))
    }
}

/// Corners in a circle, some of them gone.
struct Ring {
    spots: Vec<Spot>,
    next: Vec<usize>,
    before: Vec<usize>,
    /// Raised whenever a corner moves, goes or gets another neighbour.
    changes: Vec<u32>,
    gone: Vec<bool>,
    /// How far the side from a corner to the next stands out.
    out: Vec<f64>,
    corners: usize,
    bounds: Rect,
    most: f64,
}

impl Ring {
    fn of(points: &[Spot], most: f64) -> Self {
        let n = points.len();
        Self {
            spots: points.to_vec(),
            next: (0..n).map(|i| (i + 1) % n).collect(),
            before: (0..n).map(|i| (i + n - 1) % n).collect(),
            changes: vec![0; n],
            gone: vec![false; n],
            out: vec![0.0; n],
            corners: n,
            bounds: Polygon::new(points.to_vec()).bounds(),
            most,
        }
    }

    fn change(&self, out: f64, at: usize, meet: Option<Spot>, of: [usize; 4]) -> Option<Change> {
        let seen = of.map(|i| (i, self.changes[i]));
        (out <= self.most).then_some(Change { out: out.ceil() as i64, at, meet, seen })
    }

    /// A hollow corner, or one in line, left out.
    fn filled(&self, i: usize) -> Option<Change> {
        let (a, b) = (self.before[i], self.next[i]);
        let [p, q, r] = [a, i, b].map(|i| self.spots[i]);
        if side(p, q, r) > 0 {
            return None;
        }
        let out = from_line(p, r, q)? + self.out[a].max(self.out[i]);
        self.change(out, i, None, [a, i, b, b])
    }

    /// The side from a corner to the next left out, those beside it drawn out until they meet.
    fn drawn_out(&self, i: usize) -> Option<Change> {
        let (a, j) = (self.before[i], self.next[i]);
        let b = self.next[j];
        let [p, q, r, s] = [a, i, j, b].map(|i| self.spots[i]);
        if side(p, q, r) <= 0 || side(q, r, s) <= 0 {
            return None;
        }
        let meet = meeting([p, q, r, s], self.most)?;
        let is_inside = self.bounds.holds(&Rect { low: meet, high: meet });
        let out = from_line(q, r, meet)? + self.out[a].max(self.out[i]).max(self.out[j]);
        is_inside.then(|| self.change(out, i, Some(meet), [a, i, j, b]))?
    }

    fn may_still(&self, change: &Change) -> bool {
        change.seen.iter().all(|&(i, changes)| !self.gone[i] && self.changes[i] == changes)
    }

    /// Whether no other corner stands in what a change adds.
    fn is_clear(&self, change: &Change) -> bool {
        let own = change.seen.map(|(i, _)| i);
        let triangle = match change.meet {
            None => [self.spots[own[0]], self.spots[own[2]], self.spots[own[1]]],
            Some(meet) => [self.spots[own[1]], meet, self.spots[own[2]]],
        };
        let xs = triangle.map(|p| p.x);
        let ys = triangle.map(|p| p.y);
        let (left, right) = (xs[0].min(xs[1]).min(xs[2]), xs[0].max(xs[1]).max(xs[2]));
        let (low, high) = (ys[0].min(ys[1]).min(ys[2]), ys[0].max(ys[1]).max(ys[2]));
        let mut i = self.next[own[3]];
        while i != own[0] {
            let p = self.spots[i];
            if left <= p.x && p.x <= right && low <= p.y && p.y <= high {
                let sides = [0, 1, 2].map(|k| side(triangle[k], triangle[(k + 1) % 3], p));
                if sides.iter().all(|&s| s >= 0) || sides.iter().all(|&s| s <= 0) {
                    return false;
                }
            }
            i = self.next[i];
        }
        true
    }

    /// Makes a change; the corners whose own changes are to be thought of again.
    fn make(&mut self, change: &Change) -> [usize; 7] {
        let [a, i, j, b] = change.seen.map(|(i, _)| i);
        let out = change.out as f64;
        if let Some(meet) = change.meet {
            self.spots[i] = meet;
            self.remove(j);
            self.out[i] = out;
            self.changes[i] += 1;
        } else {
            self.remove(i);
        }
        self.out[a] = out;
        self.changes[a] += 1;
        self.changes[b] += 1;
        // All changes that have one of these in sight.
        let mut all = [self.before[self.before[a]]; 7];
        for k in 1..all.len() {
            all[k] = self.next[all[k - 1]];
        }
        all
    }

    fn remove(&mut self, i: usize) {
        let (a, b) = (self.before[i], self.next[i]);
        (self.next[a], self.before[b]) = (b, a);
        self.gone[i] = true;
        self.corners -= 1;
    }

    fn polygon(&self) -> Polygon {
        let kept = (0..self.spots.len()).filter(|&i| !self.gone[i]);
        Polygon::new(kept.map(|i| self.spots[i]).collect())
    }
}

/// How far a spot is from the line through two others; `None` if they are one.
fn from_line(a: Spot, b: Spot, p: Spot) -> Option<f64> {
    let length = libm::hypot((b.x - a.x) as f64, (b.y - a.y) as f64);
    (length > 0.0).then(|| side(a, b, p).unsigned_abs() as f64 / length)
}

/// Where the sides `p q` and `s r`, drawn out beyond `q` and `r`, meet: a whole spot with both of these
/// within; `None` if nowhere near.
fn meeting([p, q, r, s]: [Spot; 4], most: f64) -> Option<Spot> {
    let (ax, ay) = ((q.x - p.x) as f64, (q.y - p.y) as f64);
    let (bx, by) = ((r.x - s.x) as f64, (r.y - s.y) as f64);
    let turn = ax * by - ay * bx;
    if turn >= 0.0 {
        return None;
    }
    let t = ((s.x - q.x) as f64 * by - (s.y - q.y) as f64 * bx) / turn;
    let (x, y) = (q.x as f64 + t * ax, q.y as f64 + t * ay);
    // Far out it would stand out too much anyway.
    let far = (x - q.x as f64).abs().max((y - q.y as f64).abs());
    if t < 0.0 || far > 1e6 * most {
        return None;
    }
    let middle = Spot::new(x.round() as i64, y.round() as i64);
    let near = (-2..=2).flat_map(|dx| (-2..=2).map(move |dy| Spot::new(dx, dy)));
    let holds = |meet: &Spot| side(p, *meet, q) >= 0 && side(*meet, s, r) >= 0;
    let far_from = |meet: &Spot| (meet.x - middle.x).abs() + (meet.y - middle.y).abs();
    near.map(|by| middle.plus(by)).filter(holds).min_by_key(|meet| (far_from(meet), *meet))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{convex_pieces, interiors_meet};
    use proptest::prelude::*;

    /// A wavy outline with bays, some 400 mm wide.
    fn wavy() -> impl Strategy<Value = Polygon> {
        let waves = proptest::collection::vec((-0.3..0.3_f64, 0.0..std::f64::consts::TAU), 6);
        (8_usize..200, waves).prop_map(|(n, waves)| {
            let spot = |i: usize| {
                let t = std::f64::consts::TAU * i as f64 / n as f64;
                let wave = |(k, w): (usize, &(f64, f64))| {
                    w.0 / (k + 2) as f64 * ((k + 2) as f64 * t + w.1).cos()
                };
                let r = 2e8 * (1.0 + waves.iter().enumerate().map(wave).sum::<f64>()).max(0.2);
                Spot::new((r * t.cos()) as i64, (r * t.sin()) as i64)
            };
            Polygon::new((0..n).map(spot).collect())
        })
    }

    /// How far a spot is from a polygon's outline.
    fn away(polygon: &Polygon, p: Spot) -> f64 {
        let points = polygon.points();
        let from = |i: usize| {
            let (a, b) = (points[i], points[(i + 1) % points.len()]);
            let (dx, dy) = ((b.x - a.x) as f64, (b.y - a.y) as f64);
            let (px, py) = ((p.x - a.x) as f64, (p.y - a.y) as f64);
            let t = ((px * dx + py * dy) / (dx * dx + dy * dy)).clamp(0.0, 1.0);
            (px - t * dx).hypot(py - t * dy)
        };
        (0..points.len()).map(from).fold(f64::INFINITY, f64::min)
    }

    proptest! {
        #[test]
        fn the_outline_is_held_whole_in_its_box_and_within_the_hair(outline in wavy(), hair in 1_000_i64..4_000_000) {
            prop_assume!(outline.is_simple());
            let light = lighter(&outline, Length::from_nm(hair));
            prop_assert!(light.is_simple());
            prop_assert!(light.points().len() <= outline.points().len());
            prop_assert_eq!(light.bounds(), outline.bounds());
            prop_assert!(light.twice_area() >= outline.twice_area());
            for p in light.points() {
                prop_assert!(away(&outline, *p) <= hair as f64 + 4.0, "{}", away(&outline, *p) - hair as f64);
            }
            // Whatever clears the light outline clears the true one: nothing of the true one is outside.
            let around = Spot::new(0, 0);
            let (light, true_one) = (convex_pieces(&light), convex_pieces(&outline));
            let area = |all: &[crate::Convex]| -> i128 { all.iter().map(|c| Polygon::new(c.points().to_vec()).twice_area()).sum() };
            prop_assert!(interiors_meet(&light, around, &true_one, around));
            prop_assert!(area(&light) >= area(&true_one));
        }
    }

    #[test]
    fn straight_sides_stay_and_round_corners_get_few() {
        let l = Length::from_mm;
        let disc = crate::Path::circle(l(100.0)).flatten();
        let light = lighter(&disc, l(1.0));
        assert!(light.points().len() < disc.points().len());
        assert_eq!(light.bounds(), disc.bounds());
        let square = Polygon::rectangle(l(300.0), l(200.0));
        assert_eq!(lighter(&square, l(5.0)), square);
    }
}
