//! What is true of any shape: lengths, outlines of lines and arcs, growing them, exact overlap.
//!
//! No cloth, no money. Lengths that are measured, bought or compared are whole nanometres
//! ([`Length`]); curves are `f64` millimetres ([`Point`], [`Path`]) and come back to whole
//! nanometres only as a flattened [`Polygon`].

#![cfg_attr(
    test,
    allow(
        clippy::disallowed_methods,
        reason = "a test works out what is near, not what is the same"
    )
)]

mod arc;
mod convex;
mod fit;
mod flatten;
mod frustum;
mod grow;
mod length;
mod lighter;
mod outline;
mod point;
mod polygon;
mod tape;

pub use arc::{Arc, ArcError};
pub use convex::{Convex, convex_pieces, few_convex_pieces, interiors_meet};
pub use fit::{Distance, Fit, FitError, fit};
pub use frustum::Frustum;
pub use grow::grow;
pub use length::{Length, Unit};
pub use lighter::lighter;
pub use outline::{Corner, Node, Outline, OutlineError, Path, Run, Seg};
pub use point::{Point, Vector};
pub use polygon::{Polygon, Rect, Spot};
pub use tape::{TapeError, read_length};
