//! A covered panel, its openings drawn on its face.

use super::Figure;
use super::outline;
use crate::figure::points;
use crate::solid::{Place, Solid};
use trade::build::shape;
use trade::kinds::Panel;

pub fn draw(figure: &mut Figure, panel: &Panel) {
    let Ok(path) = shape::outline(&panel.shape, &panel.notches, "", &figure.style) else { return };
    let rings = panel.cut_outs.iter().map(|cut| {
        let mut ring: Vec<Place> = points(&cut.shape).iter().map(|p| [p.x, 0.0, p.y]).collect();
        ring.extend(ring.first().copied());
        ring
    });
    let thick = figure.thick();
    figure.add(Solid::standing(&points(&path), 0.0, thick).lined(rings.collect()));
    outline::measure(figure, &panel.shape, &path, |p| [p.x, 0.0, p.y]);
}
