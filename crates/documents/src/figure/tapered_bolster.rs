//! A tapered bolster.

use super::Figure;
use super::circle;
use crate::solid::{Place, Solid};
use trade::kinds::TaperedBolster;

pub fn draw(figure: &mut Figure, roll: &TaperedBolster) {
    let (l, large, small) = (roll.length.mm(), roll.large.mm(), roll.small.mm());
    let off = (large - small) / 2.0;
    let c = large / 2.0;
    let ring = |d: f64, x: f64| -> Vec<Place> {
        let share = d / large;
        circle(large).iter().map(|p| [x, c + (p.x - c) * share, c + (p.y - c) * share]).collect()
    };
    figure.add(Solid::between(ring(large, l), ring(small, 0.0)));
    figure.measure("length", [0.0, c, 0.0], [l, c, 0.0], 7.0);
    figure.measure("large", [l, c, 0.0], [l, c, large], 9.0);
    figure.measure("small", [0.0, c, large - off], [0.0, c, off], 6.0);
}
