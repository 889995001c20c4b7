//! A closed path of lines and circular arcs, with holes: the shape of a piece.

use crate::flatten::{flatten_arc, without_flat};
use crate::{Length, Point, Polygon, Spot, Vector};
use cavalier_contours::polyline::{PlineCreation, PlineSource, PlineSourceMut, Polyline};
use std::fmt;

/// Which stretch of the measured outline a segment came from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Run {
    /// Between corner `i` and the next.
    Side(usize),
    /// The rounding of corner `i`.
    Corner(usize),
}

/// A vertex and the segment that leaves it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Node {
    /// Where the segment starts.
    pub at: Point,
    /// Tangent of a quarter of the segment's sweep; positive turns left, nought is straight.
    pub bulge: f64,
    /// What the segment belongs to.
    pub run: Run,
}

/// A closed path; each node's segment ends at the next node, the last at the first.
///
/// Walked counter-clockwise when it bounds material from outside.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Path {
    /// At least two nodes.
    pub nodes: Vec<Node>,
}

/// A shape: one outer path and any number of holes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outline {
    /// Counter-clockwise.
    pub outer: Path,
    /// Counter-clockwise too; what they enclose is cut away.
    pub holes: Vec<Path>,
}

/// One segment of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seg {
    /// First end.
    pub start: Point,
    /// Second end.
    pub end: Point,
    /// See [`Node::bulge`].
    pub bulge: f64,
    /// See [`Node::run`].
    pub run: Run,
}

/// A corner as measured: a place, how much it is rounded, how the edge after it bows.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Corner {
    /// Where the two edges meet, before rounding.
    pub at: Point,
    /// Radius in mm; nought is square.
    pub radius: f64,
    /// Rise in mm of the edge to the next corner over its chord; positive bows to the right of
    /// the walking direction (outwards when counter-clockwise).
    pub rise: f64,
}

/// Why corners make no outline. Corners are counted from 0.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum OutlineError {
    /// Fewer than three corners (two if both edges bow).
    TooFew,
    /// Two corners in one place.
    Same {
        /// The first of the two.
        corner: usize,
    },
    /// The radius takes more of a side than there is; `most` would fit.
    Radius {
        /// Which corner.
        corner: usize,
        /// The largest radius that fits: for both if its neighbour has the same, else for this one.
        /// In mm.
        most: f64,
    },
    /// A rounded corner next to a bowed edge.
    RadiusAtBow {
        /// Which corner.
        corner: usize,
    },
    /// The edge bows more than a half circle.
    Bow {
        /// The corner the edge leaves.
        corner: usize,
    },
    /// The outline crosses or touches itself.
    Crosses,
}

impl fmt::Display for OutlineError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooFew => write!(f, "an outline needs at least three corners"),
            Self::Same { corner } => {
                write!(f, "corners {} and the next lie in one place", corner + 1)
            }
            Self::Radius { corner, .. } => {
                write!(f, "the radius of corner {} is larger than its sides allow", corner + 1)
            }
            Self::RadiusAtBow { corner } => {
                write!(f, "corner {} is rounded but meets a bowed edge", corner + 1)
            }
            Self::Bow { corner } => {
                write!(f, "the edge after corner {} bows more than a half circle", corner + 1)
            }
            Self::Crosses => write!(f, "the outline crosses itself"),
        }
    }
}

impl Seg {
    /// Sweep in radians, positive to the left.
    pub fn sweep(&self) -> f64 {
        4.0 * libm::atan(self.bulge)
    }

    /// Radius in mm; infinite for a line.
    pub fn radius(&self) -> f64 {
        if self.bulge == 0.0 {
            return f64::INFINITY;
        }
        let chord = (self.end - self.start).length();
        chord * (1.0 + self.bulge * self.bulge) / (4.0 * self.bulge.abs())
    }

    /// Centre of an arc; the middle for a line.
    pub fn centre(&self) -> Point {
        let middle = self.start.middle(self.end);
        if self.bulge == 0.0 {
            return middle;
        }
        let b = self.bulge;
        let chord = self.end - self.start;
        // From the middle, to the left of the chord: c (1 - b^2) / (4 b).
        middle + chord.right() * (-(1.0 - b * b) / (4.0 * b))
    }

    /// In mm, along the curve.
    pub fn length(&self) -> f64 {
        if self.bulge == 0.0 {
            (self.end - self.start).length()
        } else {
            self.radius() * self.sweep().abs()
        }
    }

    /// Direction of travel at the start and at the end.
    pub fn directions(&self) -> (Vector, Vector) {
        let chord = (self.end - self.start).unit();
        if self.bulge == 0.0 {
            return (chord, chord);
        }
        let half = self.sweep() / 2.0;
        (turn(chord, -half), turn(chord, half))
    }

    /// The place a share `t` (0 to 1) along, and the direction of travel there.
    pub fn at(&self, t: f64) -> (Point, Vector) {
        if self.bulge == 0.0 {
            let v = self.end - self.start;
            return (self.start + v * t, v.unit());
        }
        let centre = self.centre();
        let angle = self.sweep() * t;
        (centre + turn(self.start - centre, angle), turn(self.directions().0, angle))
    }
}

fn turn(v: Vector, radians: f64) -> Vector {
    let (sin, cos) = (libm::sin(radians), libm::cos(radians));
    Vector::new(v.x * cos - v.y * sin, v.x * sin + v.y * cos)
}

impl Path {
    /// Through measured corners, rounded as asked; turned counter-clockwise if it was not (then
    /// side and corner numbers still mean the corners as given).
    ///
    /// # Errors
    /// See [`OutlineError`].
    pub fn from_corners(corners: &[Corner]) -> Result<Self, OutlineError> {
        let n = corners.len();
        let bowed = corners.iter().filter(|c| c.rise != 0.0).count();
        if n < 2 || (n == 2 && bowed < 2) {
            return Err(OutlineError::TooFew);
        }
        let mut sides = Vec::with_capacity(n);
        for i in 0..n {
            let (a, b) = (corners[i], corners[(i + 1) % n]);
            let chord = (b.at - a.at).length();
            if chord < 1e-6 {
                return Err(OutlineError::Same { corner: i });
            }
            if a.rise.abs() > chord / 2.0 + 1e-9 {
                return Err(OutlineError::Bow { corner: i });
            }
            // Bulge is rise over half the chord; travelling counter-clockwise an arc that bows
            // outwards turns left.
            sides.push(Seg {
                start: a.at,
                end: b.at,
                bulge: 2.0 * a.rise / chord,
                run: Run::Side(i),
            });
        }
        let cut = tangent_lengths(corners, &sides)?;
        let mut nodes = Vec::with_capacity(2 * n);
        for i in 0..n {
            let side = sides[i];
            let before = sides[(i + n - 1) % n];
            if cut[i] > 0.0 {
                let turn = before.directions().1;
                let start = corners[i].at + turn * -cut[i];
                let angle =
                    libm::atan2(turn.cross(side.directions().0), turn.dot(side.directions().0));
                nodes.push(Node { at: start, bulge: libm::tan(angle / 4.0), run: Run::Corner(i) });
            }
            let at = corners[i].at + side.directions().0 * cut[i];
            nodes.push(Node { at, bulge: side.bulge, run: Run::Side(i) });
        }
        let path = Self { nodes: without_empty_sides(nodes) };
        let path = if path.signed_area() < 0.0 { path.reversed() } else { path };
        if !path.flatten().is_simple() {
            return Err(OutlineError::Crosses);
        }
        Ok(path)
    }

    /// A rectangle from (0, 0), with corner radii from the bottom left, counter-clockwise: bottom
    /// left, bottom right, top right, top left. Sides: 0 bottom, 1 right, 2 top, 3 left.
    ///
    /// # Errors
    /// `Radius` if two radii on one side add up to more than the side.
    pub fn rectangle(
        width: Length,
        height: Length,
        radii: [Length; 4],
    ) -> Result<Self, OutlineError> {
        let (w, h) = (width.mm(), height.mm());
        let places = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)];
        let corners: Vec<Corner> = places
            .iter()
            .zip(radii)
            .map(|(&(x, y), r)| Corner { at: Point::new(x, y), radius: r.mm(), rise: 0.0 })
            .collect();
        Self::from_corners(&corners)
    }

    /// A circle that touches both axes: its box starts at (0, 0).
    pub fn circle(diameter: Length) -> Self {
        let d = diameter.mm();
        let node = |x| Node { at: Point::new(x, d / 2.0), bulge: 1.0, run: Run::Side(0) };
        Self { nodes: vec![node(0.0), node(d)] }
    }

    /// Straight lines through points, without checks.
    pub fn straight(points: &[Point]) -> Self {
        let node = |(i, &at)| Node { at, bulge: 0.0, run: Run::Side(i) };
        Self { nodes: points.iter().enumerate().map(node).collect() }
    }

    /// The segments in order.
    pub fn segs(&self) -> impl Iterator<Item = Seg> + '_ {
        let n = self.nodes.len();
        self.nodes.iter().enumerate().map(move |(i, node)| Seg {
            start: node.at,
            end: self.nodes[(i + 1) % n].at,
            bulge: node.bulge,
            run: node.run,
        })
    }

    /// Enclosed area in mm2, arcs exact; negative if walked clockwise.
    pub fn signed_area(&self) -> f64 {
        self.polyline().area()
    }

    /// Enclosed area in mm2.
    pub fn area(&self) -> f64 {
        self.signed_area().abs()
    }

    /// Length once round in mm, arcs exact.
    pub fn perimeter(&self) -> f64 {
        self.polyline().path_length()
    }

    /// Least and greatest corner of the box that holds it.
    pub fn bounds(&self) -> (Point, Point) {
        self.polyline().extents().map_or_else(Default::default, |b| {
            (Point::new(b.min_x, b.min_y), Point::new(b.max_x, b.max_y))
        })
    }

    /// Walked the other way round.
    pub fn reversed(&self) -> Self {
        let n = self.nodes.len();
        let nodes = (0..n)
            .rev()
            .map(|j| Node {
                at: self.nodes[(j + 1) % n].at,
                bulge: -self.nodes[j].bulge,
                ..self.nodes[j]
            })
            .collect();
        Self { nodes }
    }

    /// Mirrored left to right (x becomes -x), still walked the same way round.
    pub fn mirrored(&self) -> Self {
        let mut path = self.reversed();
        for node in &mut path.nodes {
            node.at.x = -node.at.x;
            node.bulge = -node.bulge;
        }
        path
    }

    /// Moved.
    pub fn moved(&self, by: Vector) -> Self {
        let mut path = self.clone();
        path.nodes.iter_mut().for_each(|node| node.at = node.at + by);
        path
    }

    /// Turned counter-clockwise about the origin.
    pub fn turned(&self, degrees: f64) -> Self {
        let mut path = self.clone();
        path.nodes.iter_mut().for_each(|node| node.at = node.at.turned(degrees));
        path
    }

    /// As a polygon in whole nanometres that nowhere lies inside the true shape: arcs that bow
    /// outwards are replaced by tangents, arcs that bow inwards by chords, with the outermost
    /// points in x and y kept, so that a disc 27 in wide is exactly 27 in wide.
    pub fn flatten(&self) -> Polygon {
        let mut points = Vec::with_capacity(self.nodes.len());
        for seg in self.segs() {
            points.push(seg.start);
            if seg.bulge != 0.0 {
                flatten_arc(&seg, &mut points);
            }
        }
        Polygon::new(without_flat(points.into_iter().map(Spot::from_point).collect()))
    }

    pub(crate) fn polyline(&self) -> Polyline<f64> {
        let mut line = Polyline::with_capacity(self.nodes.len(), true);
        for node in &self.nodes {
            line.add(node.at.x, node.at.y, node.bulge);
        }
        line
    }
}

impl Outline {
    /// Without holes.
    pub fn solid(outer: Path) -> Self {
        Self { outer, holes: Vec::new() }
    }

    /// Area without the holes, mm2.
    pub fn area(&self) -> f64 {
        self.outer.area() - self.holes.iter().map(Path::area).sum::<f64>()
    }

    /// The same change to the outer path and every hole.
    pub fn map(&self, change: impl Fn(&Path) -> Path) -> Self {
        Self { outer: change(&self.outer), holes: self.holes.iter().map(change).collect() }
    }

    /// Whether it is a whole disc, with or without a hole.
    pub fn is_round(&self) -> bool {
        let (w, h) = self.size();
        let all_round = self.outer.nodes.iter().all(|node| node.bulge > 0.0);
        all_round && (w - h).abs() < Length::from_nm(1000) && !self.outer.nodes.is_empty()
    }

    /// The outer path let out in the middle by so much in x and y: what lies right of the middle moves
    /// right, what lies above it moves up. Where the box starts at the origin it still does; elsewhere
    /// both halves move apart. Arcs across the middle change; the caller looks at the size.
    #[must_use]
    pub fn widened(&self, x: Length, y: Length) -> Self {
        let (low, high) = self.outer.bounds();
        let middle = low.middle(high);
        let moved = |at: f64, middle: f64, low: f64, by: Length| {
            let before = if low.abs() < 1e-9 { Length::ZERO } else { by.share(2) };
            match at - middle {
                off if off > 1e-6 => at + (by - before).mm(),
                off if off < -1e-6 => at - before.mm(),
                _ => at,
            }
        };
        let mut outline = self.clone();
        for node in &mut outline.outer.nodes {
            node.at.x = moved(node.at.x, middle.x, low.x, x);
            node.at.y = moved(node.at.y, middle.y, low.y, y);
        }
        outline
    }

    /// Width and height of the box that holds it.
    pub fn size(&self) -> (Length, Length) {
        let (low, high) = self.outer.bounds();
        (Length::from_mm(high.x - low.x), Length::from_mm(high.y - low.y))
    }
}

/// How much of each side the rounding of its corner takes: `r tan(turn / 2)`.
fn tangent_lengths(corners: &[Corner], sides: &[Seg]) -> Result<Vec<f64>, OutlineError> {
    let n = corners.len();
    let half_tangent = |i: usize| {
        let (a, b) = (sides[(i + n - 1) % n].directions().1, sides[i].directions().0);
        libm::tan(libm::atan2(a.cross(b), a.dot(b)).abs() / 2.0)
    };
    let mut cut = vec![0.0; n];
    for i in 0..n {
        if corners[i].radius > 0.0 {
            if sides[i].bulge != 0.0 || sides[(i + n - 1) % n].bulge != 0.0 {
                return Err(OutlineError::RadiusAtBow { corner: i });
            }
            cut[i] = corners[i].radius * half_tangent(i);
        }
    }
    let mut least: Option<(usize, f64)> = None;
    for i in 0..n {
        let next = (i + 1) % n;
        let over = cut[i] + cut[next] - sides[i].length();
        if over > 1e-6 {
            let corner = if cut[i] >= cut[next] { i } else { next };
            // Neighbours of one radius are meant to stay alike.
            let most = if corners[i].radius == corners[next].radius {
                sides[i].length() / (half_tangent(i) + half_tangent(next))
            } else {
                (cut[corner] - over).max(0.0) / half_tangent(corner)
            };
            if least.is_none_or(|(_, before)| most < before) {
                least = Some((corner, most));
            }
        }
    }
    // The tightest side is told: a radius that fits there fits at all.
    match least {
        Some((corner, most)) => Err(OutlineError::Radius { corner, most }),
        None => Ok(cut),
    }
}

/// Drops sides that two roundings have eaten up.
fn without_empty_sides(nodes: Vec<Node>) -> Vec<Node> {
    let n = nodes.len();
    let keep = |i: usize| (nodes[(i + 1) % n].at - nodes[i].at).length() > 1e-7;
    (0..n).filter(|&i| keep(i)).map(|i| nodes[i]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    fn mm(x: f64) -> Length {
        Length::from_mm(x)
    }

    fn inches(path: &Path) -> (f64, f64) {
        (path.perimeter() / 25.4, path.area() / (25.4 * 25.4))
    }

    #[test]
    fn a_rounded_rectangle_has_its_closed_form_area_and_perimeter() {
        // 20 x 16 in, corner radius 3: P 66.8496, A 312.2743 (closed form 2(l+w) - (8-2pi)r, lw - (4-pi)r2).
        let r = Length::from_inches(3.0);
        let path =
            Path::rectangle(Length::from_inches(20.0), Length::from_inches(16.0), [r; 4]).unwrap();
        let (p, a) = inches(&path);
        assert!((p - 66.8496).abs() < 5e-5 && (a - 312.2743).abs() < 5e-5, "{p} {a}");
        let radii = |r: f64| [Length::from_inches(r); 4];
        let too_large = Path::rectangle(mm(100.0), mm(60.0), radii(2.0));
        assert!(matches!(too_large, Err(OutlineError::Radius { .. })), "{too_large:?}");
        // On 30 x 24 in half the shorter side is the most, whichever side is looked at first.
        let wide =
            Path::rectangle(Length::from_inches(30.0), Length::from_inches(24.0), radii(20.0));
        let Err(OutlineError::Radius { most, .. }) = wide else { panic!("{wide:?}") };
        assert!((most - 12.0 * 25.4).abs() < 1e-6, "{most}");
        // Half the short side is the most: a stadium.
        let stadium = Path::rectangle(mm(100.0), mm(60.0), [mm(30.0); 4]).unwrap();
        assert!((stadium.area() - (40.0 * 60.0 + PI * 900.0)).abs() < 1e-6);
    }

    #[test]
    fn shapes_do_not_depend_on_direction_start_or_mirroring() {
        let corners = [
            Corner { at: Point::new(0.0, 0.0), radius: 10.0, rise: 0.0 },
            Corner { at: Point::new(200.0, 0.0), radius: 0.0, rise: 12.0 },
            Corner { at: Point::new(180.0, 120.0), radius: 0.0, rise: 0.0 },
            Corner { at: Point::new(90.0, 60.0), radius: 15.0, rise: 0.0 },
            Corner { at: Point::new(10.0, 120.0), radius: 5.0, rise: 0.0 },
        ];
        let path = Path::from_corners(&corners).unwrap();
        for start in 0..corners.len() {
            let mut turned = corners.to_vec();
            turned.rotate_left(start);
            let other = Path::from_corners(&turned).unwrap();
            assert!((other.area() - path.area()).abs() < 1e-6);
            assert!((other.perimeter() - path.perimeter()).abs() < 1e-6);
        }
        let mirror = path.mirrored();
        assert!(mirror.signed_area() > 0.0);
        assert!((mirror.area() - path.area()).abs() < 1e-6);
        assert!((path.reversed().signed_area() + path.area()).abs() < 1e-6);
        let flat = path.flatten().area_mm2();
        assert!(flat >= path.area() && flat < path.area() * 1.001, "{flat} {}", path.area());
        assert!(mirror.mirrored() == path || mirror.mirrored().area() == path.area());
    }

    #[test]
    fn a_disc_is_flattened_exactly_as_wide_as_it_is() {
        let disc = Path::circle(Length::from_inches(27.0)).flatten();
        assert_eq!(disc.bounds().width(), Length::from_inches(27.0));
        assert_eq!(disc.bounds().height(), Length::from_inches(27.0));
        let true_area = PI * (13.5 * 25.4_f64).powi(2);
        assert!(disc.area_mm2() > true_area && disc.area_mm2() < true_area * 1.001);
        assert_eq!(crate::convex_pieces(&disc).len(), 1, "no corner is hollow");
    }

    #[test]
    fn corners_that_make_no_outline_are_refused() {
        let corner = |x, y| Corner { at: Point::new(x, y), radius: 0.0, rise: 0.0 };
        let square = [corner(0.0, 0.0), corner(9.0, 0.0), corner(9.0, 9.0), corner(0.0, 9.0)];
        assert_eq!(Path::from_corners(&square[..2]), Err(OutlineError::TooFew));
        let bow_tie = [square[0], square[2], square[1], square[3]];
        assert_eq!(Path::from_corners(&bow_tie), Err(OutlineError::Crosses));
        let double = [square[0], square[0], square[1], square[2]];
        assert_eq!(Path::from_corners(&double), Err(OutlineError::Same { corner: 0 }));
        let mut bowed = square;
        bowed[1].rise = 5.0;
        assert_eq!(Path::from_corners(&bowed), Err(OutlineError::Bow { corner: 1 }));
        bowed[1].rise = 4.5;
        let half_disc = Path::from_corners(&bowed).unwrap();
        assert!((half_disc.area() - (81.0 + PI * 4.5 * 4.5 / 2.0)).abs() < 1e-9);
    }
}
