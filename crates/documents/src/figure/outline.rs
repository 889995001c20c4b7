//! Outlines of boards and cushions, and what is measured of them.

use super::{Figure, circle, points};
use crate::solid::{Place, Solid};
use geometry::{Length, Path, Point};
use trade::build::shape;
use trade::panel::PanelShape;

/// Measures of an outline, on the plane it lies in.
pub fn measure(figure: &mut Figure, shape: &PanelShape, path: &Path, at: impl Fn(Point) -> Place) {
    let p = |x: f64, y: f64| at(Point::new(x, y));
    let (low, high) = path.bounds();
    let (w, h) = (high.x - low.x, high.y - low.y);
    match shape {
        PanelShape::Rectangle { .. } => {
            figure.measure("width", p(0.0, 0.0), p(w, 0.0), 6.0);
            figure.measure("height", p(w, 0.0), p(w, h), 6.0);
        }
        PanelShape::Trapezoid { bottom, top, height, offset, .. } => {
            let (b, t, h) = (bottom.mm(), top.mm(), height.mm());
            let o = offset.map_or((b - t) / 2.0, Length::mm);
            figure.measure("bottom", p(0.0, 0.0), p(b, 0.0), 6.0);
            figure.measure("top", p(o, h), p(o + t, h), -5.0);
            figure.measure("height", p(w, 0.0), p(w, h), 6.0);
        }
        PanelShape::Disc { .. } => {
            figure.measure("diameter", p(0.0, h / 2.0), p(w, h / 2.0), 0.0);
        }
        PanelShape::Ring { outer, inner } => {
            let (o, i) = (outer.mm(), inner.mm());
            figure.measure("diameter", p(0.0, o / 2.0), p(o, o / 2.0), 14.0);
            figure.measure("inner", p((o - i) / 2.0, o / 2.0), p((o + i) / 2.0, o / 2.0), 0.0);
        }
        PanelShape::Tee { front, body, depth, ear, .. } => {
            let (f, d, e) = (front.mm(), depth.mm(), ear.mm());
            let left =
                points(path).iter().filter(|q| q.y > (d + e) / 2.0).map(|q| q.x).fold(f, f64::min);
            figure.measure("width", p(0.0, 0.0), p(f, 0.0), 8.0);
            figure.measure("body", p(left, d), p(left + body.mm(), d), -4.0);
            figure.measure("depth", p(f, 0.0), p(f, d), 8.0);
            figure.measure("ear", p(0.0, e), p(0.0, 0.0), 4.0);
        }
        PanelShape::Sides { sides, diagonals } => {
            if let Ok((corners, _)) = shape::fitted(shape, "") {
                let n = sides.len();
                for i in 0..n {
                    let (a, b) = (corners[i].at, corners[(i + 1) % n].at);
                    figure.one_of("sides", i, at(a), at(b), 4.5);
                }
                for (k, (from, to, _)) in diagonals.iter().enumerate() {
                    if let (Some(a), Some(b)) = (corners.get(*from), corners.get(*to)) {
                        figure.row_of("across", k, at(a.at), at(b.at), 0.0);
                    }
                }
            }
        }
        PanelShape::Offsets { base, points, .. } => {
            figure.measure("base", p(0.0, 0.0), p(base.mm(), 0.0), 6.0);
            if let Some((x, y)) = points.get(points.len() / 2) {
                figure.measure("offset", p(x.mm(), 0.0), p(x.mm(), y.mm()), 0.0);
            }
        }
        PanelShape::Corners(_) | PanelShape::Traced { .. } => {}
    }
}

/// A cushion of any outline, as thick as its foam.
pub fn cushion(figure: &mut Figure, shape: &PanelShape) {
    let Ok(path) = shape::outline(shape, &[], "", &figure.style) else { return };
    let thick = figure.foam.max(10.0);
    let mut solid = Solid::lying(&points(&path), thick, thick);
    if let PanelShape::Ring { outer, inner } = shape {
        let middle = (outer.mm() - inner.mm()) / 2.0;
        let hole = circle(inner.mm());
        solid = solid.pierced(hole.iter().map(|p| [p.x + middle, p.y + middle, thick]).collect());
    }
    figure.add(solid);
}
