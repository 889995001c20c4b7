//! A bolster.

use super::Figure;
use super::circle;
use crate::solid::Solid;
use trade::kinds::Bolster;

pub fn draw(figure: &mut Figure, roll: &Bolster) {
    let (l, d) = (roll.length.mm(), roll.diameter.mm());
    figure.add(Solid::drawn_out(&circle(d), l, l));
    figure.measure("length", [0.0, 0.0, 0.0], [l, 0.0, 0.0], 7.0);
    figure.measure("diameter", [l, d / 2.0, 0.0], [l, d / 2.0, d], 9.0);
}
