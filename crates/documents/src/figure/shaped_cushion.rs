//! A cushion of any outline.

use super::Figure;
use super::outline::{cushion, measure};
use trade::build::shape;
use trade::kinds::ShapedCushion;

pub fn draw(figure: &mut Figure, shaped: &ShapedCushion) {
    cushion(figure, &shaped.shape);
    let Ok(path) = shape::outline(&shaped.shape, &[], "", &figure.style) else { return };
    let t = figure.foam;
    measure(figure, &shaped.shape, &path, move |p| [p.x, p.y, t]);
}
