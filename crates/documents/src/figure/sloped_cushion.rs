//! A cushion against a side that leans.

use super::Figure;
use crate::solid::Solid;
use trade::kinds::SlopedCushion;
use trade::kinds::sloped_cushion::{Lean, LeaningSide};

pub fn draw(figure: &mut Figure, sloped: &SlopedCushion) {
    let t = figure.foam.max(10.0);
    let (w, d) = (sloped.width.mm(), sloped.depth.mm());
    let top = if sloped.side == LeaningSide::Back { d } else { w };
    let lean = match sloped.lean {
        Lean::Degrees(angle) => t * libm::tan(angle.to_radians()),
        Lean::Bottom(bottom) => top - bottom.mm(),
    };
    let (x0, x1, y1) = match sloped.side {
        LeaningSide::Back => (0.0, w, d - lean),
        LeaningSide::Left => (lean, w, d),
        LeaningSide::Right => (0.0, w - lean, d),
    };
    figure.add(Solid::between(
        vec![[0.0, 0.0, t], [w, 0.0, t], [w, d, t], [0.0, d, t]],
        vec![[x0, 0.0, 0.0], [x1, 0.0, 0.0], [x1, y1, 0.0], [x0, y1, 0.0]],
    ));
    figure.measure("width", [0.0, 0.0, t], [w, 0.0, t], 12.0);
    figure.measure("depth", [w, 0.0, t], [w, d, t], -4.0);
    match sloped.side {
        LeaningSide::Back => figure.measure("bottom", [w, 0.0, 0.0], [w, y1, 0.0], 6.0),
        _ => figure.measure("bottom", [x0, 0.0, 0.0], [x1, 0.0, 0.0], 4.0),
    }
}
