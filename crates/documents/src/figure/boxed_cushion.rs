//! A boxed cushion.

use super::Figure;
use super::outline::cushion;
use trade::kinds::BoxedCushion;

pub fn draw(figure: &mut Figure, boxed: &BoxedCushion) {
    cushion(figure, &boxed.shape());
    let (w, b, d) = (boxed.front.mm(), boxed.back.mm(), boxed.depth.mm());
    figure.measure("width", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
    figure.measure("depth", [w, 0.0, 0.0], [w, d, 0.0], 6.0);
    if boxed.front != boxed.back {
        let (x, t) = ((w - b) / 2.0, figure.foam);
        figure.measure("back_width", [x, d, t], [x + b, d, t], -5.0);
    }
}
