//! True outlines in millimetres from photographs.
//!
//! Printed sheets (a chessboard with marks of an open family in its white squares) lie round a part on the
//! floor; distances between their crosses are taped. From one photograph or more: marks are read, the places
//! where four squares meet found to a tenth of a pixel, and one least squares says where the cameras stood,
//! how their lenses bend and where the sheets lie. Then the part's edge is followed and divided into lines and
//! arcs. No file, no clock: decoded pictures go in.
//!
//! ```text
//! pictures -> marks -> crossings -> placing -> propose -> snap -> runs -> joined -> tolerance
//! ```

pub mod camera;
pub mod codes;
mod crossings;
mod flat;
mod ground;
mod joined;
mod least_squares;
mod marks;
mod measure;
mod picture;
mod placing;
mod propose;
mod regions;
mod rigid;
mod ring;
mod runs;
pub mod sheet;
mod snap;
mod tolerance;
mod traced;

pub use crossings::{SeenSheet, find_sheets};
pub use flat::FlatView;
pub use joined::{Fitted, dense};
pub use marks::{Mark, find_marks};
pub use measure::{
    CLEAR, Looked, Loop, Measured, Outlined, Photograph, Refusal, Stage, Watch, few_corners, look,
};
pub use picture::{Grey, Picture, Pixel};
pub use placing::{CheckLines, Held, Placed, Tape, View};
pub use rigid::Rigid;
pub use traced::{Opening, Traced, lay_level};
