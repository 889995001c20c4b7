//! A wedge.

use super::Figure;
use crate::solid::{Place, Solid};
use trade::kinds::WedgeCushion;

pub fn draw(figure: &mut Figure, wedge: &WedgeCushion) {
    let (w, d) = (wedge.width.mm(), wedge.depth.mm());
    let (f, b) = (wedge.front.mm(), wedge.back.mm());
    let top = vec![[0.0, 0.0, f], [w, 0.0, f], [w, d, b], [0.0, d, b]];
    let bottom = top.iter().map(|p: &Place| [p[0], p[1], 0.0]).collect();
    figure.add(Solid::between(top, bottom));
    figure.measure("width", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
    figure.measure("depth", [w, 0.0, 0.0], [w, d, 0.0], 6.0);
    figure.measure("front", [0.0, 0.0, f], [0.0, 0.0, 0.0], 5.0);
    figure.measure("back", [w, d, 0.0], [w, d, b], 5.0);
}
