//! Simple solids seen from the front, a little from the right and from above, with parallel rays:
//! enough to see that a piece was entered right.

use crate::drawing::{Anchor, Drawing, Ink, Step};
use geometry::{Point, Vector};

/// Left to right, front to back, up; millimetres.
pub type Place = [f64; 3];

/// Turned so far about the upright, and seen from so far above; degrees.
const TURN: f64 = 28.0;
const ABOVE: f64 = 24.0;

/// A prism or anything between two rings of as many points: the near ring is walked counter-clockwise
/// as it is seen from outside.
#[derive(Clone, Debug)]
pub struct Solid {
    near: Vec<Place>,
    far: Vec<Place>,
    /// Lines on its near face, or anywhere.
    lines: Vec<Vec<Place>>,
    /// A hole through both faces.
    hole: Vec<Place>,
}

/// A measure between two places.
#[derive(Clone, Debug)]
struct Measure {
    /// Its letter or number.
    label: String,
    /// Its key in the job file; one of a list has its place behind it, from 0.
    key: String,
    from: Place,
    to: Place,
    /// So many paper mm to the right of the way.
    off: f64,
}

/// A measure as it lies on paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Arrow {
    /// Its letter or number.
    pub label: String,
    /// See [`Measure`].
    pub key: String,
    /// Ends of what is measured.
    pub of: (Point, Point),
    /// Ends of its line.
    pub line: (Point, Point),
}

/// A picture in the making.
#[derive(Clone, Debug, Default)]
pub struct Scene {
    solids: Vec<Solid>,
    measures: Vec<Measure>,
    /// Nothing is written round it.
    is_bare: bool,
}

impl Solid {
    /// Between two rings.
    pub fn between(near: Vec<Place>, far: Vec<Place>) -> Self {
        Self { near, far, lines: Vec::new(), hole: Vec::new() }
    }

    /// An outline lying flat, its top at `top`, so thick.
    pub fn lying(outline: &[Point], top: f64, thick: f64) -> Self {
        let at = |z: f64| outline.iter().map(|p| [p.x, p.y, z]).collect();
        Self::between(at(top), at(top - thick))
    }

    /// An outline standing with its face to the front at `front`, so thick.
    pub fn standing(outline: &[Point], front: f64, thick: f64) -> Self {
        let at = |y: f64| outline.iter().map(|p| [p.x, y, p.y]).collect();
        Self::between(at(front), at(front + thick))
    }

    /// A profile (front to back, up) seen from the right, drawn out to the left.
    pub fn drawn_out(profile: &[Point], right: f64, wide: f64) -> Self {
        let at = |x: f64| profile.iter().map(|p| [x, p.x, p.y]).collect();
        Self::between(at(right), at(right - wide))
    }

    /// A box: its lower front left corner and its size.
    pub fn cuboid(at: Place, size: Place) -> Self {
        let [x, y, z] = at;
        let corners = [(x, y), (x + size[0], y), (x + size[0], y + size[1]), (x, y + size[1])];
        Self::lying(&corners.map(|(x, y)| Point::new(x, y)), z + size[2], size[2])
    }

    /// With lines on it.
    #[must_use]
    pub fn lined(mut self, lines: Vec<Vec<Place>>) -> Self {
        self.lines.extend(lines);
        self
    }

    /// With a hole in its top.
    #[must_use]
    pub fn pierced(mut self, hole: Vec<Place>) -> Self {
        self.hole = hole;
        self
    }
}

/// Where a place comes to lie on paper before scaling, y up, and how far off it is.
fn seen(p: Place) -> (Point, f64) {
    let (turn, above) = (TURN.to_radians(), ABOVE.to_radians());
    let x = p[0] * libm::cos(turn) + p[1] * libm::sin(turn);
    let away = -p[0] * libm::sin(turn) + p[1] * libm::cos(turn);
    let y = p[2] * libm::cos(above) + away * libm::sin(above);
    (Point::new(x, y), away * libm::cos(above) - p[2] * libm::sin(above))
}

fn area(points: &[Point]) -> f64 {
    let n = points.len();
    (0..n).map(|i| points[i].x * points[(i + 1) % n].y - points[i].y * points[(i + 1) % n].x).sum()
}

impl Scene {
    /// Adds a solid.
    pub fn add(&mut self, solid: Solid) {
        self.solids.push(solid);
    }

    /// A measure between two places, its line set off to the right of the way by `off` paper mm.
    pub fn measure(&mut self, (label, key): (String, String), from: Place, to: Place, off: f64) {
        self.measures.push(Measure { label, key, from, to, off });
    }

    /// The same without its measures.
    #[must_use]
    pub fn bare(self) -> Self {
        Self { measures: Vec::new(), is_bare: true, ..self }
    }

    /// Drawn to fit a box; nothing if there is nothing to draw.
    pub fn draw(&self, width: f64, height: f64) -> Option<Drawing> {
        let (mut drawing, arrows) = self.apart(width, height)?;
        for arrow in &arrows {
            letter(&mut drawing, arrow);
        }
        Some(drawing)
    }

    /// The solids drawn to fit a box, and where the measures lie over them.
    pub fn apart(&self, width: f64, height: f64) -> Option<(Drawing, Vec<Arrow>)> {
        let all = self.solids.iter().flat_map(|s| s.near.iter().chain(&s.far));
        let points: Vec<Point> = all.map(|p| seen(*p).0).collect();
        if points.len() < 3 {
            return None;
        }
        let fold = |pick: fn(&Point) -> f64, least: fn(f64, f64) -> f64, start: f64| {
            points.iter().map(pick).fold(start, least)
        };
        let low = Point::new(fold(|p| p.x, f64::min, f64::MAX), fold(|p| p.y, f64::min, f64::MAX));
        let high = Point::new(fold(|p| p.x, f64::max, f64::MIN), fold(|p| p.y, f64::max, f64::MIN));
        let edge = if self.is_bare { 0.6 } else { 12.5 };
        let (w, h) = ((high.x - low.x).max(1.0), (high.y - low.y).max(1.0));
        let scale = ((width - 2.0 * edge) / w).min((height - 2.0 * edge) / h);
        let mut drawing = Drawing::new(w * scale + 2.0 * edge, h * scale + 2.0 * edge);
        let paper = |p: Place| {
            let q = seen(p).0;
            Point::new(edge + (q.x - low.x) * scale, edge + (high.y - q.y) * scale)
        };
        let mut order: Vec<&Solid> = self.solids.iter().collect();
        order.sort_by(|a, b| off(b).total_cmp(&off(a)));
        for solid in order {
            draw_solid(&mut drawing, solid, &paper);
        }
        let arrow = |m: &Measure| {
            let (from, to) = (paper(m.from), paper(m.to));
            // Paper's y runs down.
            let side = (to - from).unit().right() * -m.off;
            let (label, key) = (m.label.clone(), m.key.clone());
            Arrow { label, key, of: (from, to), line: (from + side, to + side) }
        };
        Some((drawing, self.measures.iter().map(arrow).collect()))
    }
}

/// How far off a solid's middle is.
fn off(solid: &Solid) -> f64 {
    let all = solid.near.iter().chain(&solid.far);
    all.map(|p| seen(*p).1).sum::<f64>() / (solid.near.len() + solid.far.len()).max(1) as f64
}

fn ring(points: &[Place], paper: &impl Fn(Place) -> Point, close: bool) -> Vec<Step> {
    let mut steps: Vec<Step> = points
        .iter()
        .enumerate()
        .map(|(i, p)| if i == 0 { Step::Move(paper(*p)) } else { Step::Line(paper(*p)) })
        .collect();
    if close {
        steps.push(Step::Close);
    }
    steps
}

fn draw_solid(drawing: &mut Drawing, solid: &Solid, paper: &impl Fn(Place) -> Point) {
    let n = solid.near.len();
    // Walked counter-clockwise the near ring has each side face to the right of its edge.
    let quad =
        |i: usize| [solid.far[i], solid.far[(i + 1) % n], solid.near[(i + 1) % n], solid.near[i]];
    let faces =
        |points: &[Place]| area(&points.iter().map(|p| seen(*p).0).collect::<Vec<_>>()) > 1e-9;
    let visible: Vec<bool> = (0..n).map(|i| faces(&quad(i))).collect();
    let mut sides: Vec<usize> = (0..n).filter(|i| visible[*i]).collect();
    let depth = |i: usize| quad(i).iter().map(|p| seen(*p).1).sum::<f64>();
    sides.sort_by(|a, b| depth(*b).total_cmp(&depth(*a)));
    let line = Ink::line(0.3);
    let thin = Ink::line(0.18).grey(0.35);
    for i in sides {
        // Its own shade for a line, so that facets of a curve leave no seams.
        let grey = shade(&quad(i));
        drawing.shape(ring(&quad(i), paper, true), Ink::line(0.15).grey(grey).filled(grey));
        drawing.stroke(paper(solid.far[i]), paper(solid.far[(i + 1) % n]), line);
        for (here, next) in [(i, (i + n - 1) % n), ((i + 1) % n, (i + 1) % n)] {
            if !visible[next] || hard(solid, here) {
                drawing.stroke(paper(solid.near[here]), paper(solid.far[here]), line);
            }
        }
        if !faces(&solid.near) {
            drawing.stroke(paper(solid.near[i]), paper(solid.near[(i + 1) % n]), line);
        }
    }
    if faces(&solid.near) {
        drawing.shape(ring(&solid.near, paper, true), line.filled(0.985));
        if !solid.hole.is_empty() {
            drawing.shape(ring(&solid.hole, paper, true), line.filled(0.8));
        }
    }
    for line in &solid.lines {
        drawing.shape(ring(line, paper, false), thin);
    }
}

/// Whether the ring turns sharply at a point.
fn hard(solid: &Solid, i: usize) -> bool {
    let n = solid.near.len();
    let way = |a: Place, b: Place| [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
    let (a, b) = (
        way(solid.near[(i + n - 1) % n], solid.near[i]),
        way(solid.near[i], solid.near[(i + 1) % n]),
    );
    let dot = |a: Place, b: Place| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    let long = (dot(a, a) * dot(b, b)).sqrt();
    // A ring that is a point there has no direction.
    long > 1e-9 && dot(a, b) / long < 0.9
}

/// Lighter the more a face looks upwards or to the front.
fn shade(quad: &[Place; 4]) -> f64 {
    let less = |a: Place, b: Place| [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
    let (u, v) = (less(quad[1], quad[0]), less(quad[3], quad[0]));
    let n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    let long = (n[0] * n[0] + n[1] * n[1] + n[2] * n[2]).sqrt();
    if long < 1e-9 {
        return 0.95;
    }
    // Light from the upper left in front.
    let light = (-0.35 * n[0] - 0.55 * n[1] + 0.75 * n[2]) / long;
    0.86 + 0.1 * light.clamp(-1.0, 1.0)
}

/// A measure's line with ticks, its letter in a ring.
fn letter(drawing: &mut Drawing, arrow: &Arrow) {
    let ((from, to), (a, b)) = (arrow.of, arrow.line);
    let along = (to - from).unit();
    let ink = Ink::line(0.16);
    for (p, q) in [(from, a), (to, b)] {
        drawing.stroke(p, q, Ink::line(0.1).grey(0.45));
    }
    drawing.stroke(a, b, ink);
    for p in [a, b] {
        let tick = (along + along.right() * -1.0).unit() * 0.9;
        drawing.stroke(p + tick * -1.0, p + tick, ink);
    }
    let middle = a.middle(b);
    let r = 2.4;
    let disc = vec![
        Step::Move(middle + Vector::new(-r, 0.0)),
        Step::Arc(r, true, middle + Vector::new(r, 0.0)),
        Step::Arc(r, true, middle + Vector::new(-r, 0.0)),
        Step::Close,
    ];
    drawing.shape(disc, Ink::line(0.18).filled(1.0));
    drawing.bold(
        middle + Vector::new(0.0, 1.15),
        9.0 * crate::label::PT,
        Anchor::Middle,
        &arrow.label,
    );
}
