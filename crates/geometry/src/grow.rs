//! Growing an outline: the cloth that goes over foam and board edge and under.

use crate::{Node, Path, Point, Run, Seg, Spot, Vector};
use cavalier_contours::polyline::{PlineSource, PlineVertex};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::float::simplify::SimplifyShape;

/// A corner sharper than this keeps no full mitre: its point is cut off square at this many
/// times the growth. Our simplification; cloth beyond it is only trimmed away.
const MITRE_LIMIT: f64 = 4.0;

/// `path` grown outwards, each segment by its own distance in mm (`distances[i]` for segment `i`).
///
/// Square corners stay square (mitred), arcs stay concentric arcs, tangents stay tangent. Where
/// two neighbouring edges grow differently the outline steps at their join. Where growth closes a
/// notch the two margins meet in their mitre and the outline is that of their union, flattened.
///
/// Negative distances shrink. The path must be walked counter-clockwise; panics if the numbers of
/// distances and segments differ.
///
/// Source: parallel curves; area and perimeter of the grown shape follow Steiner's formula when
/// joins are round.
pub fn grow(path: &Path, distances: &[f64]) -> Path {
    assert_eq!(path.nodes.len(), distances.len(), "one distance for each segment");
    if distances.iter().all(|d| *d == 0.0) {
        return path.clone();
    }
    let mitred = mitred(path, distances);
    let flat = mitred.flatten();
    if mitred.signed_area() > 0.0 && flat.is_simple() {
        return mitred;
    }
    round_if_smooth(path, distances).unwrap_or_else(|| tidied(&mitred))
}

/// Each segment offset on its own, then joined to the next.
fn mitred(path: &Path, distances: &[f64]) -> Path {
    let moved: Vec<Seg> =
        path.segs().zip(distances).filter_map(|(seg, &d)| offset(&seg, d)).collect();
    let n = moved.len();
    let mut nodes = Vec::with_capacity(2 * n);
    let mut start = moved.first().map_or(Point::default(), |seg| seg.start);
    let mut joins = Vec::with_capacity(n);
    for i in 0..n {
        joins.push(join(&moved[i], &moved[(i + 1) % n]));
    }
    // The last join fixes where the first segment starts.
    if let Some(last) = joins.last() {
        start = last.1;
    }
    for (i, seg) in moved.iter().enumerate() {
        let (end, next_start, between) = &joins[i];
        nodes.push(Node { at: start, bulge: bulge_between(seg, start, *end), run: seg.run });
        let mut here = *end;
        for &corner in between.iter().chain(std::iter::once(next_start)) {
            if (corner - here).length() > 1e-7 {
                nodes.push(Node { at: here, bulge: 0.0, run: seg.run });
                here = corner;
            }
        }
        start = *next_start;
    }
    let kept: Vec<Node> = nodes
        .iter()
        .enumerate()
        .filter(|(i, node)| (nodes[(i + 1) % nodes.len()].at - node.at).length() > 1e-7)
        .map(|(_, node)| *node)
        .collect();
    Path { nodes: kept }
}

/// A segment moved to its right by `d`; `None` if an inward arc vanishes.
fn offset(seg: &Seg, d: f64) -> Option<Seg> {
    let (from, to) = seg.directions();
    if seg.bulge != 0.0 {
        let radius = if seg.bulge > 0.0 { seg.radius() + d } else { seg.radius() - d };
        if radius <= 1e-9 {
            return None;
        }
    }
    Some(Seg { start: seg.start + from.right() * d, end: seg.end + to.right() * d, ..*seg })
}

/// Where `a` ends, where `b` starts, and corners between the two.
fn join(a: &Seg, b: &Seg) -> (Point, Point, Vec<Point>) {
    let (u, v) = (a.directions().1, b.directions().0);
    let gap = b.start - a.end;
    let turn = u.cross(v);
    if gap.length() < 1e-7 {
        return (b.start, b.start, Vec::new());
    }
    if turn.abs() < 1e-9 {
        // In line but grown differently: a square step.
        return (a.end, b.start, Vec::new());
    }
    // a.end + u s = b.start + v t
    let s = gap.cross(v) / turn;
    let t = gap.cross(u) / turn;
    let corner = a.end + u * s;
    if turn > 0.0 && s >= 0.0 {
        let limit = MITRE_LIMIT * gap.length();
        if s > limit {
            return (a.end, b.start, vec![a.end + u * limit, b.start + v * -limit]);
        }
        let straight = a.bulge == 0.0 && b.bulge == 0.0;
        return if straight {
            (corner, corner, Vec::new())
        } else {
            (a.end, b.start, vec![corner])
        };
    }
    let inside = |seg: &Seg, back: f64| seg.bulge == 0.0 && back.abs() <= seg.length() + 1e-7;
    if inside(a, s) && inside(b, t) {
        return (corner, corner, Vec::new());
    }
    (a.end, b.start, Vec::new())
}

/// The bulge of a segment after its ends were moved: lines stay lines, arcs keep their sweep.
fn bulge_between(seg: &Seg, start: Point, end: Point) -> f64 {
    if seg.bulge == 0.0 || (start == seg.start && end == seg.end) {
        return seg.bulge;
    }
    let centre = seg.centre();
    let (a, b): (Vector, Vector) = (start - centre, end - centre);
    let sweep = libm::atan2(a.cross(b), a.dot(b));
    // About half a circle rounding may turn the angle's sign over; the arc goes round as it did.
    let against = sweep * seg.bulge < 0.0 && sweep.abs() > std::f64::consts::FRAC_PI_2;
    let turn = std::f64::consts::TAU.copysign(seg.bulge);
    libm::tan(if against { sweep + turn } else { sweep } / 4.0)
}

/// For a path without square corners grown evenly: the arc-keeping offset of the library.
fn round_if_smooth(path: &Path, distances: &[f64]) -> Option<Path> {
    let even = distances.windows(2).all(|d| d[0] == d[1]);
    let segs: Vec<Seg> = path.segs().collect();
    let smooth = (0..segs.len()).all(|i| {
        let next = segs[(i + 1) % segs.len()];
        segs[i].directions().1.cross(next.directions().0).abs() < 1e-6
    });
    if !(even && smooth) {
        return None;
    }
    // The library's positive offset is to the left, ours to the right.
    let mut results = path.polyline().parallel_offset(-distances[0]);
    if results.len() != 1 {
        return None;
    }
    let line = results.remove(0);
    let node =
        |v: PlineVertex<f64>| Node { at: Point::new(v.x, v.y), bulge: v.bulge, run: Run::Side(0) };
    Some(Path { nodes: line.iter_vertexes().map(node).collect() })
}

/// The outer boundary of what a self-crossing path winds round at least once.
fn tidied(path: &Path) -> Path {
    let contour: Vec<[f64; 2]> = path
        .flatten()
        .points()
        .iter()
        .map(|spot| {
            let p = spot.point();
            [p.x, p.y]
        })
        .collect();
    let shapes = vec![contour].simplify_shape_as::<i64>(FillRule::Positive);
    let area = |points: &[[f64; 2]]| {
        let next = points.iter().cycle().skip(1);
        points.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum::<f64>().abs()
    };
    let largest = shapes
        .into_iter()
        .filter_map(|mut shape| (!shape.is_empty()).then(|| shape.swap_remove(0)))
        .max_by(|a, b| area(a).total_cmp(&area(b)))
        .unwrap_or_default();
    let spots: Vec<Spot> =
        largest.iter().map(|&[x, y]| Spot::from_point(Point::new(x, y))).collect();
    let points: Vec<Point> = spots.iter().map(|spot| spot.point()).collect();
    Path::straight(&points)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Corner, Length};
    use geo::{Area, Coord, LineString, Polygon as GeoPolygon};

    const INCH: f64 = 25.4;

    fn rectangle(w: f64, h: f64, r: f64) -> Path {
        let l = Length::from_inches;
        Path::rectangle(l(w), l(h), [l(r); 4]).unwrap()
    }

    fn evenly(path: &Path, d: f64) -> Path {
        grow(path, &vec![d * INCH; path.nodes.len()])
    }

    fn measures(path: &Path) -> (f64, f64) {
        (path.perimeter() / INCH, path.area() / INCH / INCH)
    }

    #[test]
    fn a_half_round_end_grows_outwards() {
        // A stadium: straight sides 10 and a half circle of radius 2 at one end. Steiner's formula for
        // convex outlines with square corners mitred: the round end adds pi (r + d)^2 / 2.
        let corner = |x: f64, y: f64, rise: f64| Corner {
            at: Point::new(x * INCH, y * INCH),
            radius: 0.0,
            rise: rise * INCH,
        };
        for (r, d) in [(2.0, 0.5), (2.0, 4.0), (3.0, 1.0 / 3.0), (0.7, 0.1)] {
            let corners = [
                corner(r, 0.0, 0.0),
                corner(10.0, 0.0, 0.0),
                corner(10.0, 2.0 * r, 0.0),
                corner(r, 2.0 * r, r),
            ];
            let grown = evenly(&Path::from_corners(&corners).unwrap(), d);
            let half = std::f64::consts::PI * (r + d) * (r + d) / 2.0;
            let want = half + (10.0 - r + d) * 2.0 * (r + d);
            assert!((measures(&grown).1 - want).abs() < 1e-6, "{} for {want}", measures(&grown).1);
            let (low, high) = grown.bounds();
            assert!((low.x + d * INCH).abs() < 1e-6 && (high.x - (10.0 + d) * INCH).abs() < 1e-6);
        }
    }

    #[track_caller]
    fn near(got: (f64, f64), want: (f64, f64), slack: f64) {
        let off = (got.0 - want.0).abs().max((got.1 - want.1).abs());
        assert!(off < slack, "{got:?} for {want:?}");
    }

    #[test]
    fn grown_rectangles_match_the_closed_form() {
        // Square corners: 20 x 16 by 3.5 is 27 x 23. Rounded: radius grows by d. Closed forms.
        near(measures(&evenly(&rectangle(20.0, 16.0, 0.0), 3.5)), (100.0, 621.0), 1e-9);
        near(measures(&evenly(&rectangle(20.0, 16.0, 3.0), 3.5)), (88.8407, 584.7323), 5e-5);
        // 75 x 20 with radius 3 grown by 4, to eight decimals.
        let got = measures(&evenly(&rectangle(75.0, 20.0, 3.0), 4.0));
        near(got, (209.982_297_15, 2_281.938_040_03), 5e-8);
    }

    #[test]
    fn smooth_outlines_obey_steiner_and_add_up() {
        // P' = P + 2 pi d, A' = A + P d + pi d^2 for a convex outline with round joins (Steiner).
        let base = rectangle(20.0, 16.0, 3.0);
        let (p, a) = measures(&base);
        for d in [0.25, 1.0, 3.5] {
            let pi = std::f64::consts::PI;
            let want = (p + 2.0 * pi * d, a + p * d + pi * d * d);
            near(measures(&evenly(&base, d)), want, 1e-8);
            near(
                measures(&evenly(&evenly(&base, d), 2.0)),
                measures(&evenly(&base, d + 2.0)),
                1e-8,
            );
        }
        near(measures(&evenly(&evenly(&base, 2.0), -2.0)), (p, a), 1e-8);
    }

    #[test]
    fn an_edge_that_does_not_grow_stays_where_it_was() {
        // A panel joined to its neighbour on the right: only three sides grow.
        let base = rectangle(20.0, 10.0, 0.0);
        let d = 2.0 * INCH;
        let grown = grow(&base, &[d, 0.0, d, d]);
        let (low, high) = grown.bounds();
        assert_eq!((low.x, low.y), (-d, -d));
        assert!((high.x - 20.0 * INCH).abs() < 1e-9 && (high.y - 12.0 * INCH).abs() < 1e-9);
        assert_eq!(grown.nodes.len(), 4);
    }

    #[test]
    fn inside_corners_mitre_and_narrow_notches_close() {
        let corner =
            |x: f64, y: f64| Corner { at: Point::new(x * INCH, y * INCH), radius: 0.0, rise: 0.0 };
        let l_shape = [(0., 0.), (20., 0.), (20., 10.), (8., 10.), (8., 16.), (0., 16.)];
        let path = Path::from_corners(&l_shape.map(|(x, y)| corner(x, y))).unwrap();
        let grown = evenly(&path, 2.0);
        // 24 x 20 less what stays free in the inside corner: (12 x 6).
        near(measures(&grown), (88.0, 24.0 * 20.0 - 12.0 * 6.0), 1e-9);
        let notch = [
            (0., 0.),
            (20., 0.),
            (20., 10.),
            (11., 10.),
            (11., 6.),
            (9., 6.),
            (9., 10.),
            (0., 10.),
        ];
        let path = Path::from_corners(&notch.map(|(x, y)| corner(x, y))).unwrap();
        let grown = evenly(&path, 2.0);
        near(measures(&grown), (2.0 * (24.0 + 14.0), 24.0 * 14.0), 1e-6);
    }

    #[test]
    fn an_independent_geometry_crate_agrees_on_the_area() {
        for d in [0.5, 2.0, 5.0] {
            let path = evenly(&rectangle(30.0, 18.0, 4.0), d);
            let ring: Vec<Coord> = path
                .flatten()
                .points()
                .iter()
                .map(|s| Coord { x: s.point().x, y: s.point().y })
                .collect();
            let area = GeoPolygon::new(LineString(ring), vec![]).unsigned_area();
            let ratio = area / path.area();
            assert!((1.0..1.000_2).contains(&ratio), "{ratio}");
        }
    }
}
