//! Outlines from drawings in open formats: DXF (lines, arcs, polylines, circles) and SVG (any path, curves as
//! arcs that follow them closely).

use geometry::{Corner, Path, Point, Unit};
use photo::{Opening, Traced};
use trade::message::{Message, message};

/// Ends nearer than this meet, in mm.
const MEET: f64 = 0.05;
/// Arcs follow a curve of a drawing within this, in mm.
const FOLLOW: f64 = 0.05;
/// Millimetres of a unit of SVG: 96 to an inch.
///
/// Source: CSS Values and Units 3, absolute lengths.
const SVG_UNIT: f64 = 25.4 / 96.0;
/// More lines and arcs than this are no outline of a piece.
const MOST: usize = 5_000;

/// Where a drawing has this layer (DXF) or group (SVG), only what is in it is taken: the rest is marks and words.
const CUT: &str = "cut";

/// A line or arc: start, end, tangent of a quarter of its sweep to the left.
type Piece = (Point, Point, f64);

/// The outline in a drawing: its largest closed line, and closed lines within that. `unit` is that of a DXF
/// drawing that does not tell its own.
///
/// # Errors
/// What is wrong; its part `do` is the remedy.
pub fn read(name: &str, bytes: &[u8], unit: Unit) -> Result<Traced, Message> {
    let is_svg = name.to_lowercase().ends_with(".svg");
    let pieces = if is_svg { svg(bytes)? } else { dxf(bytes, unit)? };
    if pieces.len() > MOST {
        return Err(message("drawing-too-many").count("count", pieces.len()).count("most", MOST));
    }
    traced(joined(pieces)?)
}

fn unreadable(why: &str) -> Message {
    message("drawing-unreadable").text("why", why)
}

fn dxf(bytes: &[u8], unit: Unit) -> Result<Vec<Piece>, Message> {
    use dxf::entities::EntityType;
    use dxf::enums::Units;
    let drawing = dxf::Drawing::load(&mut &bytes[..]).map_err(|e| unreadable(&e.to_string()))?;
    let scale = match drawing.header.default_drawing_units {
        Units::Inches => 25.4,
        Units::Feet => 304.8,
        Units::Centimeters => 10.0,
        Units::Meters => 1000.0,
        Units::Millimeters => 1.0,
        _ => match unit {
            Unit::Inch => 25.4,
            Unit::Centimetre => 10.0,
            _ => 1.0,
        },
    };
    let at = |x: f64, y: f64| Point::new(x * scale, y * scale);
    let mut out = Vec::new();
    let is_cut = |layer: &str| layer.eq_ignore_ascii_case(CUT);
    let has_cut = drawing.entities().any(|e| is_cut(&e.common.layer));
    for entity in drawing.entities().filter(|e| !has_cut || is_cut(&e.common.layer)) {
        match &entity.specific {
            EntityType::Line(l) => out.push((at(l.p1.x, l.p1.y), at(l.p2.x, l.p2.y), 0.0)),
            EntityType::Arc(a) => {
                let sweep = (a.end_angle - a.start_angle).rem_euclid(360.0);
                let c = at(a.center.x, a.center.y);
                out.extend(arc(c, a.radius * scale, a.start_angle, sweep));
            }
            EntityType::Circle(c) => {
                out.extend(arc(at(c.center.x, c.center.y), c.radius * scale, 0.0, 360.0));
            }
            EntityType::LwPolyline(line) => {
                let points: Vec<(Point, f64)> =
                    line.vertices.iter().map(|v| (at(v.x, v.y), v.bulge)).collect();
                out.extend(course(&points, line.is_closed()));
            }
            EntityType::Polyline(line) => {
                let points: Vec<(Point, f64)> =
                    line.vertices().map(|v| (at(v.location.x, v.location.y), v.bulge)).collect();
                out.extend(course(&points, line.is_closed()));
            }
            EntityType::Spline(_) | EntityType::Ellipse(_) => {
                return Err(message("drawing-splines"));
            }
            _ => {}
        }
    }
    Ok(out)
}

/// An arc in parts that bow less than a half circle; angles in degrees.
fn arc(centre: Point, radius: f64, from: f64, sweep: f64) -> Vec<Piece> {
    let parts = (sweep / 120.0).ceil().max(1.0);
    let on = |degrees: f64| centre + (Point::new(radius, 0.0).turned(degrees) - Point::default());
    let bulge = libm::tan((sweep / parts / 4.0).to_radians());
    (0..parts as usize)
        .map(|k| {
            (on(from + sweep * k as f64 / parts), on(from + sweep * (k + 1) as f64 / parts), bulge)
        })
        .collect()
}

fn course(points: &[(Point, f64)], is_closed: bool) -> Vec<Piece> {
    let n = points.len();
    let last = if is_closed { n } else { n.saturating_sub(1) };
    (0..last).map(|i| (points[i].0, points[(i + 1) % n].0, points[i].1)).collect()
}

fn svg(bytes: &[u8]) -> Result<Vec<Piece>, Message> {
    // Nothing beside the file itself is read.
    let mut options = usvg::Options::default();
    options.image_href_resolver.resolve_string = Box::new(|_, _| None);
    let tree = usvg::Tree::from_data(bytes, &options).map_err(|e| unreadable(&e.to_string()))?;
    let mut out = Vec::new();
    let cut = match tree.node_by_id(CUT) {
        Some(usvg::Node::Group(group)) => group,
        _ => tree.root(),
    };
    paths(cut, &mut out);
    Ok(out)
}

fn paths(group: &usvg::Group, out: &mut Vec<Piece>) {
    use usvg::tiny_skia_path::PathSegment;
    for node in group.children() {
        match node {
            usvg::Node::Group(inner) => paths(inner, out),
            usvg::Node::Path(path) => {
                let turn = path.abs_transform();
                let at = |p: usvg::tiny_skia_path::Point| {
                    let mut p = p;
                    turn.map_point(&mut p);
                    Point::new(f64::from(p.x) * SVG_UNIT, -f64::from(p.y) * SVG_UNIT)
                };
                let (mut first, mut now) = (Point::default(), Point::default());
                for segment in path.data().segments() {
                    match segment {
                        PathSegment::MoveTo(p) => (first, now) = (at(p), at(p)),
                        PathSegment::LineTo(p) => {
                            out.push((now, at(p), 0.0));
                            now = at(p);
                        }
                        PathSegment::QuadTo(p, q) => {
                            let (p, q) = (at(p), at(q));
                            let third = |a: Point| a + (p - a) * (2.0 / 3.0);
                            curve([now, third(now), third(q), q], (0.0, 1.0), 0, out);
                            now = q;
                        }
                        PathSegment::CubicTo(p, q, r) => {
                            curve([now, at(p), at(q), at(r)], (0.0, 1.0), 0, out);
                            now = at(r);
                        }
                        PathSegment::Close => {
                            out.push((now, first, 0.0));
                            now = first;
                        }
                    }
                }
            }
            _ => {}
        }
    }
}

/// A cubic curve as arcs: through its ends and middle, halved where one does not follow it.
fn curve(c: [Point; 4], (from, to): (f64, f64), depth: usize, out: &mut Vec<Piece>) {
    let on = |t: f64| {
        let s = 1.0 - t;
        let w = [s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t];
        let sum = |of: fn(&Point) -> f64| c.iter().zip(w).map(|(p, w)| of(p) * w).sum::<f64>();
        Point::new(sum(|p| p.x), sum(|p| p.y))
    };
    let at = |share: f64| on(from + (to - from) * share);
    let (a, middle, b) = (at(0.0), at(0.5), at(1.0));
    let chord = b - a;
    let length = chord.length().max(1e-9);
    // The circle through both ends and the middle, by its rise over the chord there.
    let off = middle - a;
    let (u, v) = (off.dot(chord) / length, -chord.cross(off) / length);
    let curvature =
        2.0 * v / (u * (length - u) + v * v).max(1e-9) * if v == 0.0 { 0.0 } else { 1.0 };
    let half = (curvature * length / 2.0).clamp(-1.0, 1.0);
    let bulge = half / (1.0 + (1.0 - half * half).sqrt());
    let seg = geometry::Seg { start: a, end: b, bulge, run: geometry::Run::Side(0) };
    let follows = [0.25, 0.5, 0.75].into_iter().all(|s| {
        let p = at(s);
        if bulge.abs() < 1e-7 {
            (chord.cross(p - a) / length).abs() <= FOLLOW
        } else {
            ((p - seg.centre()).length() - seg.radius()).abs() <= FOLLOW
        }
    });
    if depth < 10 && (!follows || half.abs() > 0.9) {
        let between = f64::midpoint(from, to);
        curve(c, (from, between), depth + 1, out);
        curve(c, (between, to), depth + 1, out);
    } else {
        out.push((a, b, if bulge.abs() < 1e-7 { 0.0 } else { bulge }));
    }
}

/// Lines and arcs end to end: those that close. Open ones are slits and marks if they lie within the largest
/// closed line, else the outline has a gap.
fn joined(pieces: Vec<Piece>) -> Result<Vec<Vec<Corner>>, Message> {
    let mut left: Vec<Piece> =
        pieces.into_iter().filter(|(a, b, _)| (*b - *a).length() > MEET).collect();
    let (mut loops, mut open) = (Vec::new(), Vec::new());
    'chains: while let Some(first) = left.pop() {
        let mut chain = vec![first];
        loop {
            let end = chain[chain.len() - 1].1;
            if (end - chain[0].0).length() <= MEET {
                break;
            }
            let next = left
                .iter()
                .position(|(a, b, _)| (*a - end).length() <= MEET || (*b - end).length() <= MEET);
            let Some(next) = next else {
                open.extend(chain.iter().flat_map(|p| [p.0, p.1]));
                continue 'chains;
            };
            let (a, b, bulge) = left.swap_remove(next);
            chain.push(if (a - end).length() <= MEET { (a, b, bulge) } else { (b, a, -bulge) });
        }
        let corner = |(a, b, bulge): &Piece| Corner {
            at: *a,
            radius: 0.0,
            rise: bulge * (*b - *a).length() / 2.0,
        };
        loops.push(chain.iter().map(corner).collect::<Vec<_>>());
    }
    if open.iter().any(|p| !loops.iter().any(|l| box_holds(l, *p))) {
        return Err(message("drawing-open"));
    }
    Ok(loops)
}

/// Whether a place lies in the box of some corners.
fn box_holds(corners: &[Corner], p: Point) -> bool {
    let within = |of: fn(Point) -> f64| {
        let (low, high) = corners
            .iter()
            .map(|c| of(c.at))
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
        (low - 0.5..=high + 0.5).contains(&of(p))
    };
    within(|p| p.x) && within(|p| p.y)
}

fn traced(loops: Vec<Vec<Corner>>) -> Result<Traced, Message> {
    let mut all = Vec::new();
    for corners in loops {
        let corners = counter_clockwise(corners);
        let path = Path::from_corners(&corners).map_err(|e| unreadable(&e.to_string()))?;
        all.push((corners, path));
    }
    all.sort_by(|a, b| b.1.area().total_cmp(&a.1.area()));
    let Some((outer, path)) = all.first().cloned() else { return Err(message("drawing-empty")) };
    let (low, high) = path.bounds();
    let by = Point::default() - low;
    let edge = path.flatten();
    let mut openings = Vec::new();
    for (corners, hole) in &all[1..] {
        if !hole.flatten().points().iter().all(|p| edge.holds(*p)) {
            return Err(message("drawing-several"));
        }
        let (a, b) = hole.bounds();
        let middle = a.middle(b);
        let moved = |c: &Corner| Corner { at: c.at + (Point::default() - middle), ..*c };
        let across = b.x - a.x;
        let round = std::f64::consts::PI * across * across / 4.0;
        let is_round =
            hole.nodes.iter().all(|n| n.bulge > 0.0) && (hole.area() / round - 1.0).abs() < 1e-3;
        openings.push(Opening {
            middle: middle + by,
            corners: corners.iter().map(moved).collect(),
            diameter: is_round.then_some(across),
        });
    }
    let moved = |c: &Corner| Corner { at: c.at + by, ..*c };
    Ok(Traced {
        corners: outer.iter().map(moved).collect(),
        within: Vec::new(),
        openings,
        size: (high.x - low.x, high.y - low.y),
    })
}

/// The same corners walked the other way if they were clockwise; a bow belongs to the side that leaves its
/// corner.
fn counter_clockwise(corners: Vec<Corner>) -> Vec<Corner> {
    let n = corners.len();
    let twice: f64 = (0..n)
        .map(|i| {
            let (a, b) = (corners[i], corners[(i + 1) % n]);
            let chord = b.at - a.at;
            // The chord's part, and the bow as a triangle: enough to tell which way.
            (a.at - Point::default()).cross(b.at - Point::default()) + a.rise * chord.length()
        })
        .sum();
    if twice > 0.0 {
        return corners;
    }
    (0..n)
        .map(|i| Corner { rise: -corners[(2 * n - 2 - i) % n].rise, ..corners[n - 1 - i] })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clockwise_line_is_the_same_outline_the_other_way() {
        let at = |x: f64, y: f64, rise: f64| Corner { at: Point::new(x, y), radius: 0.0, rise };
        let clockwise = vec![
            at(0.0, 0.0, 0.0),
            at(0.0, 100.0, -20.0),
            at(200.0, 100.0, 0.0),
            at(200.0, 0.0, 0.0),
        ];
        let turned = counter_clockwise(clockwise);
        let path = Path::from_corners(&turned).unwrap();
        // The upper side bows outwards by 20.
        let (_, high) = path.bounds();
        assert!((high.y - 120.0).abs() < 1e-9, "{turned:?}");
    }

    /// Source: an SVG circle is taken by its reader as four cubic curves, off by 0.03 % of the radius at most
    /// (a fact of the usual approximation; from memory).
    #[test]
    fn an_svg_circle_is_round() {
        let svg = b"<svg xmlns='http://www.w3.org/2000/svg' width='500mm' height='400mm' viewBox='0 0 500 400'><path d='M10 10H490V390H10Z'/><circle cx='200' cy='150' r='60'/></svg>";
        let found = read("a.svg", svg, Unit::Millimetre).unwrap();
        assert!((found.size.0 - 480.0).abs() < 0.01 && (found.size.1 - 380.0).abs() < 0.01);
        assert!((found.openings[0].diameter.unwrap() - 120.0).abs() < 0.1);
        assert!(
            (found.openings[0].middle.y - 240.0).abs() < 0.05,
            "{:?}",
            found.openings[0].middle
        );
    }
}
