//! A drop-in seat, with two lines over its crown.

use super::Figure;
use super::points;
use crate::solid::Solid;
use trade::build::shape;
use trade::kinds::SlipSeat;

pub fn draw(figure: &mut Figure, seat: &SlipSeat) {
    let Ok(path) = shape::outline(&seat.shape(), &[], "", &figure.style) else { return };
    let (f, b, d) = (seat.front.mm(), seat.back.mm(), seat.depth.mm());
    let (thick, x) = (figure.thick(), (f - b) / 2.0);
    let over = figure.crown((f, d), seat.crown.mm());
    figure.add(Solid::lying(&points(&path), thick, thick).lined(over));
    figure.measure("front", [0.0, 0.0, 0.0], [f, 0.0, 0.0], 6.0);
    figure.measure("depth", [f, 0.0, thick], [f, d, thick], 8.0);
    figure.measure("back", [x, d, thick], [x + b, d, thick], -5.0);
}
