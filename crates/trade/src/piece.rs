//! A finished thing to cover, as measured and as wanted.

use crate::material::Direction;
use crate::rates::Allowances;
use geometry::{Corner, Length};
use rust_decimal::Decimal;

/// What is done with a board or foam found under the old cover.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Condition {
    /// Sound: used again.
    Keep,
    /// Mended and used again.
    Repair,
    /// Cut new.
    #[default]
    Renew,
}

/// Left, right, both, or neither.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Hand {
    /// No side.
    #[default]
    Neither,
    /// As measured is the left one.
    Left,
    /// As measured is the right one.
    Right,
    /// Half of them as measured (left), half mirrored (right).
    Pair,
}

/// How the pattern must lie on a piece.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum PatternRule {
    /// Anyhow.
    #[default]
    Free,
    /// A motif on the middle of the face.
    Centred,
    /// In step with all others of this name.
    Matched(String),
}

/// What happens to cloth at one edge of a covered panel.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Edge {
    /// Goes round foam and board and is stapled on the back.
    #[default]
    Stapled,
    /// Foam set back from the board's edge by this.
    Lip(Length),
    /// Butts its neighbour: no cloth beyond the edge.
    Joined,
    /// Goes on for this length past the edge of the foam, tucked away.
    Tucked(Length),
    /// Ends at the edge with a seam allowance: sewn to another part.
    Sewn,
    /// Nothing at all is done here; same cloth as joined, no staples either side.
    Open,
}

/// One side of a panel: what happens there, and allowances that differ.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Side {
    /// What happens.
    pub edge: Edge,
    /// Turn-under here.
    pub turn_under: Option<Length>,
}

/// A hole for a vent, socket or switch.
#[derive(Clone, Debug, PartialEq)]
pub struct CutOut {
    /// What goes there.
    pub what: String,
    /// In the face view, in the panel's own coordinates: the opening in the cover.
    pub shape: geometry::Path,
    /// How far the fitting's flange covers beyond the opening, all round.
    pub flange: Length,
}

/// How a piece is fixed where it belongs.
#[derive(Clone, Debug, PartialEq)]
pub enum Fixing {
    /// Wood screws, through the face with a cap or from behind.
    Screws {
        /// How many each piece.
        count: usize,
        /// Number of the screw, ASME B18.6.1.
        gauge: u32,
        /// Length of the screw.
        length: Length,
        /// Through the face (with cap) or from behind.
        through_face: bool,
        /// Thickness of what it bites into behind the board, or of the rail when from behind.
        into: Length,
    },
    /// Clips, so many each piece.
    Clips(usize),
    /// Hung on a cleat.
    Cleat,
    /// Only laid or pushed in.
    Loose,
}

/// The outline of a board, seen from the face.
#[derive(Clone, Debug, PartialEq)]
pub enum PanelShape {
    /// Sides: bottom, right, top, left. The width is nought if a run gives it.
    Rectangle {
        /// Left to right.
        width: Length,
        /// Bottom to top.
        height: Length,
        /// Corner radii from the bottom left, counter-clockwise.
        radii: [Length; 4],
        /// Corner to corner, if measured.
        diagonals: Vec<Length>,
    },
    /// Two level sides. Sides: bottom, right, top, left.
    Trapezoid {
        /// Bottom side.
        bottom: Length,
        /// Top side.
        top: Length,
        /// Square to both.
        height: Length,
        /// How far the top's left end lies right of the bottom's; the middle if not measured.
        /// Negative when it lies left.
        offset: Option<Length>,
        /// Corner radius.
        radius: Length,
        /// Corner to corner, if measured: bottom left to top right first.
        diagonals: Vec<Length>,
    },
    /// One side all round.
    Disc {
        /// Across.
        diameter: Length,
    },
    /// A disc with a round hole in the middle.
    Ring {
        /// Across.
        outer: Length,
        /// Of the hole.
        inner: Length,
    },
    /// Any corners, walked counter-clockwise seen from the face; side `i` leaves corner `i`.
    Corners(Vec<Corner>),
}

/// A rectangle cut out of a straight side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Notch {
    /// Which side, from 0.
    pub side: usize,
    /// From where the side starts, walking counter-clockwise.
    pub from: Length,
    /// Along the side.
    pub width: Length,
    /// Into the panel.
    pub depth: Length,
}

/// Which edge of a cushion carries the zip.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ZipSide {
    /// The back.
    #[default]
    Back,
    /// The left end.
    Left,
    /// No zip: sewn shut.
    None,
}

/// Welt on a sewn piece.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Welt {
    /// None.
    #[default]
    None,
    /// Along the top seam, or the one seam there is.
    One,
    /// Along top and bottom seams, or both ends.
    Both,
}

/// How welt strips lie on the cloth.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WeltGrain {
    /// Across the roll.
    #[default]
    Cross,
    /// Along the roll.
    Straight,
    /// At 45 degrees.
    Bias,
}

/// Sections along a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Wall to wall.
    pub length: Length,
    /// How many.
    pub sections: usize,
    /// Left at each end.
    pub end_gap: Length,
    /// Between finished neighbours.
    pub joint_gap: Length,
    /// Finished widths as measured, if they are not all alike.
    pub measured: Vec<Length>,
}

/// Fitting on a wall, placed from the left corner and the floor.
#[derive(Clone, Debug, PartialEq)]
pub struct WallFitting {
    /// What it is.
    pub what: String,
    /// Centre from the left corner of the wall.
    pub x: Length,
    /// Centre from the floor.
    pub y: Length,
    /// Opening.
    pub width: Length,
    /// Opening.
    pub height: Length,
    /// How far its plate covers beyond the opening.
    pub flange: Length,
}

/// Panels in columns and rows on a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Wall {
    /// Of the wall.
    pub width: Length,
    /// Of the wall.
    pub height: Length,
    /// Left free all round.
    pub margin: Length,
    /// Between panels.
    pub gap: Length,
    /// Side by side.
    pub columns: usize,
    /// One above the other.
    pub rows: usize,
    /// Sockets, switches, vents.
    pub fittings: Vec<WallFitting>,
}

/// What kind of piece it is, and its measures.
#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// Board, foam and cloth stapled on the back; any outline.
    Panel {
        /// The board.
        shape: PanelShape,
        /// Rectangles cut out of straight sides.
        notches: Vec<Notch>,
        /// One for each side of the shape; missing ones are stapled.
        sides: Vec<Side>,
        /// Openings.
        cut_outs: Vec<CutOut>,
    },
    /// Foam block on a board, ends folded like a parcel.
    Pad {
        /// Along the long edges.
        width: Length,
        /// Across.
        height: Length,
    },
    /// Drop-in seat.
    SlipSeat {
        /// Front edge.
        front: Length,
        /// Back edge.
        back: Length,
        /// Front to back.
        depth: Length,
        /// Corner radius.
        radius: Length,
        /// Opening of the rails: front, back and depth, if measured.
        opening: Option<(Length, Length, Length)>,
    },
    /// Two faces, boxing, zip strip.
    BoxedCushion {
        /// Front edge.
        front: Length,
        /// Back edge, if it tapers.
        back: Length,
        /// Front to back.
        depth: Length,
        /// Corner radius seen from above.
        radius: Length,
        /// Where the zip is.
        zip: ZipSide,
        /// Welt.
        welt: Welt,
    },
    /// Two faces sewn edge to edge.
    KnifeEdge {
        /// Finished.
        width: Length,
        /// Finished.
        height: Length,
        /// Added for the crown, each way.
        crown: Length,
        /// Zip along the bottom.
        zip: bool,
        /// Welt round the edge.
        welt: Welt,
    },
    /// A roll.
    Bolster {
        /// Finished.
        length: Length,
        /// Finished.
        diameter: Length,
        /// Zip along the body.
        zip: bool,
        /// Welt round the ends.
        welt: Welt,
    },
    /// Padded channels on a board.
    ChannelledBack {
        /// Board.
        width: Length,
        /// Board.
        height: Length,
        /// How many, upright.
        channels: usize,
        /// Height of a channel over its valleys.
        loft: Length,
        /// Cloth tucked into each valley, each side.
        tuck: Length,
    },
    /// A wall of panels.
    WallGrid(Wall),
    /// Cut as measured.
    Measured {
        /// Cut.
        width: Length,
        /// Cut.
        height: Length,
    },
}

impl Kind {
    /// As written in a job file.
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Panel { .. } => "panel",
            Self::Pad { .. } => "pad",
            Self::SlipSeat { .. } => "slip seat",
            Self::BoxedCushion { .. } => "boxed cushion",
            Self::KnifeEdge { .. } => "knife-edge cushion",
            Self::Bolster { .. } => "bolster",
            Self::ChannelledBack { .. } => "channelled back",
            Self::WallGrid(_) => "wall grid",
            Self::Measured { .. } => "measured",
        }
    }
}

/// One line of the survey.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Unique in the job.
    pub name: String,
    /// Room or vehicle.
    pub place: String,
    /// What it is.
    pub kind: Kind,
    /// How many, all hands together.
    pub count: usize,
    /// Left, right or a pair.
    pub hand: Hand,
    /// Sections along a wall, if the width comes from there.
    pub run: Option<Run>,
    /// Cloth of the face, by name.
    pub cloth: Option<String>,
    /// Cloth of the underside, if another.
    pub under_cloth: Option<String>,
    /// Foam by name.
    pub foam: Option<String>,
    /// Board by name.
    pub board: Option<String>,
    /// State of the foam.
    pub foam_condition: Condition,
    /// State of the board.
    pub board_condition: Condition,
    /// Foam wrapped in polyester.
    pub wrap: bool,
    /// Dust cover on the back.
    pub dust_cover: bool,
    /// An old cover has to come off.
    pub strip: bool,
    /// Which way, if not the cloth's own.
    pub direction: Option<Direction>,
    /// Pattern.
    pub pattern: PatternRule,
    /// A seam is allowed where a part is wider than the cloth.
    pub seam_allowed: bool,
    /// Covers wider than half the cloth are joined down the middle even if they would fit: a near miss.
    pub halved: bool,
    /// Welt strips.
    pub welt_grain: WeltGrain,
    /// The shop's allowances with this piece's own.
    pub allowances: Allowances,
    /// How it is fixed.
    pub fixing: Option<Fixing>,
    /// Hours for one piece, instead of the rate book.
    pub hours_each: Option<Decimal>,
    /// Which pieces come first where the customer's own cloth is short: the lowest number.
    pub priority: usize,
    /// For the bench.
    pub note: String,
    /// Findings on inspection.
    pub found: String,
    /// Each measure as it was typed.
    pub typed: Vec<(String, String)>,
}
