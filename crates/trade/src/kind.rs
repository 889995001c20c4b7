//! Kinds of pieces and what is measured of each.

use crate::panel::{CutOut, Notch, PanelShape, Side};
use geometry::Length;

/// Which edge of a cushion carries the zip.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ZipSide {
    /// The back.
    #[default]
    Back,
    /// The left end.
    Left,
    /// The right end.
    Right,
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
        /// How far the stuffing rises in the middle over the edge.
        crown: Length,
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
        /// How far the stuffing rises in the middle over the edge.
        crown: Length,
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
        /// Channels lie level instead of upright.
        level: bool,
        /// Each channel a strip of its own, sewn to its neighbours.
        strips: bool,
    },
    /// A boxed cushion of any outline.
    ShapedCushion(Shaped),
    /// Thicker at one end.
    WedgeCushion(Wedge),
    /// Lies against a side that leans: its bottom is smaller than its top.
    SlopedCushion(Sloped),
    /// One panel over the top, round the front and under the bottom.
    WaterfallCushion(Waterfall),
    /// A roll thicker at one end.
    TaperedBolster(Tapered),
    /// A padded stool.
    Ottoman(Ottoman),
    /// A back bent to a curve.
    CurvedBack(Curved),
    /// A padded field in a border.
    Headboard(Headboard),
    /// Deep buttons in a diamond grid.
    ButtonedBack(Buttoned),
    /// Hangs round a seat or bed.
    Skirt(Skirt),
    /// A chair or sofa piece by piece, as its cuts are measured.
    CutPieces(Vec<CutPiece>),
    /// Covered cord alone.
    WeltRuns(WeltRuns),
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
            Self::ShapedCushion(_) => "shaped cushion",
            Self::WedgeCushion(_) => "wedge cushion",
            Self::SlopedCushion(_) => "sloped cushion",
            Self::WaterfallCushion(_) => "waterfall cushion",
            Self::TaperedBolster(_) => "tapered bolster",
            Self::Ottoman(_) => "ottoman",
            Self::CurvedBack(_) => "curved back",
            Self::Headboard(_) => "headboard",
            Self::ButtonedBack(_) => "buttoned back",
            Self::Skirt(_) => "skirt",
            Self::CutPieces(_) => "cut pieces",
            Self::WeltRuns(_) => "welt",
            Self::WallGrid(_) => "wall grid",
            Self::Measured { .. } => "measured",
        }
    }

    /// Sewn and filled, not stapled.
    pub const fn is_sewn(&self) -> bool {
        matches!(
            self,
            Self::BoxedCushion { .. }
                | Self::KnifeEdge { .. }
                | Self::Bolster { .. }
                | Self::ShapedCushion(_)
                | Self::WedgeCushion(_)
                | Self::SlopedCushion(_)
                | Self::WaterfallCushion(_)
                | Self::TaperedBolster(_)
        )
    }

    /// Its face is a whole disc.
    pub const fn is_round(&self) -> bool {
        matches!(
            self,
            Self::Ottoman(Ottoman { depth: None, .. })
                | Self::Panel { shape: PanelShape::Disc { .. }, .. }
                | Self::ShapedCushion(Shaped { shape: PanelShape::Disc { .. }, .. })
        )
    }

    /// Cut to measure and nothing more.
    pub const fn is_cut_only(&self) -> bool {
        matches!(self, Self::Measured { .. } | Self::WeltRuns(_))
    }
}

/// Measures of a boxed cushion of any outline.
#[derive(Clone, Debug, PartialEq)]
pub struct Shaped {
    /// Seen from above, front at the bottom.
    pub shape: PanelShape,
    /// Side with the zip, from 0; `None` for a cushion sewn shut.
    pub zip: Option<usize>,
    /// Length of the zip strip on an outline without corners; half of its round if not said.
    pub zip_length: Option<Length>,
    /// Welt.
    pub welt: Welt,
}

/// Measures of a wedge: level at the bottom, thicker at one end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wedge {
    /// Left to right.
    pub width: Length,
    /// Front to back along the bottom.
    pub depth: Length,
    /// Thickness at the front.
    pub front: Length,
    /// Thickness at the back.
    pub back: Length,
    /// Zip along the back.
    pub zip: bool,
    /// Welt.
    pub welt: Welt,
}

/// How much a side leans.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lean {
    /// From the upright, degrees.
    Degrees(f64),
    /// What the bottom measures where the top measures `width` or `depth`.
    Bottom(Length),
}

/// Which side of a cushion leans.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LeaningSide {
    /// The back.
    #[default]
    Back,
    /// The left.
    Left,
    /// The right.
    Right,
}

/// Measures of a cushion against a sloping side: bottom = top - T tan(angle).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sloped {
    /// Left to right on top.
    pub width: Length,
    /// Front to back on top.
    pub depth: Length,
    /// How much it leans.
    pub lean: Lean,
    /// Which side leans.
    pub side: LeaningSide,
    /// Zip along the back.
    pub zip: bool,
    /// Welt.
    pub welt: Welt,
}

/// Measures of a waterfall cushion.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Waterfall {
    /// Left to right.
    pub width: Length,
    /// Front to back over all.
    pub depth: Length,
    /// The front is a half round (a bullnose), else square.
    pub round: bool,
    /// Zip along the back.
    pub zip: bool,
    /// Welt along the ends.
    pub welt: Welt,
}

/// Measures of a tapered bolster.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tapered {
    /// Along the axis.
    pub length: Length,
    /// Diameter of the larger end.
    pub large: Length,
    /// Diameter of the smaller end; nought comes to a point.
    pub small: Length,
    /// Zip along the body.
    pub zip: bool,
    /// Welt round the ends.
    pub welt: Welt,
}

/// Measures of an ottoman. The bottom is stapled under its frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ottoman {
    /// Left to right, or across if it is round.
    pub width: Length,
    /// Front to back; `None` if it is round.
    pub depth: Option<Length>,
    /// Covered height of the side, filling included.
    pub height: Length,
    /// Front, top and back in one length.
    pub wrapped: bool,
    /// Welt round the top.
    pub welt: Welt,
}

/// Which faces of a curved back are covered.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CurvedFaces {
    /// The hollow side, padded.
    #[default]
    Inside,
    /// The bulging side, padded.
    Outside,
    /// The hollow side padded, the bulging one plain.
    Both,
}

/// Measures of a curved back, on the board's inside face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Curved {
    /// End to end, straight.
    pub chord: Length,
    /// Depth of the curve in the middle of the chord.
    pub rise: Length,
    /// Upright.
    pub height: Length,
    /// Which faces.
    pub faces: CurvedFaces,
    /// In so many widths; as many as the cloth's width asks for if not said.
    pub panels: Option<usize>,
}

/// Measures of a headboard with a border and perhaps wings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Headboard {
    /// Left to right over the border.
    pub width: Length,
    /// Bottom to top over the border.
    pub height: Length,
    /// Face of the border, along the top and both sides.
    pub border: Length,
    /// Depth of the wings at the sides, if it has them.
    pub wing: Option<Length>,
}

/// How much cloth a diamond takes: the rules of the trade differ, and one diamond is tried first.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Fullness {
    /// The arc over each diamond: chord the spacing, rise the depth of the buttons.
    #[default]
    Arc,
    /// Straight down to each button: `2 sqrt((s/2)^2 + p^2)`.
    Slant,
    /// The depth once for each diamond: `s + p`.
    Depth,
    /// The depth at each end of the diamond: `s + 2 p`.
    TwoDepths,
    /// So much more for each diamond, across and along.
    Added(Length, Length),
}

/// Where buttons stand in the cells of the field.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ButtonPlaces {
    /// At the middles of each cell's sides: whole diamonds.
    #[default]
    Tips,
    /// At each cell's corners and middle.
    Corners,
}

/// Measures of a deep-buttoned back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Buttoned {
    /// Board.
    pub width: Length,
    /// Board.
    pub height: Length,
    /// Left free of buttons along each edge.
    pub border: Length,
    /// Diamonds across.
    pub across: usize,
    /// Diamonds one above the other.
    pub high: usize,
    /// How deep buttons are pulled.
    pub depth: Length,
    /// How much cloth a diamond takes.
    pub fullness: Fullness,
    /// Where buttons stand.
    pub places: ButtonPlaces,
    /// Buttons on the outline of the field too.
    pub edge_buttons: bool,
    /// Size of the buttons.
    pub ligne: u32,
}

/// How a skirt is pleated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pleating {
    /// Flat, with an inverted pleat over an underlay at each corner.
    Corners {
        /// Folded back at each end of a side.
        fold: Length,
    },
    /// Box or inverted pleats all along (one is the other's back): spacing and depth of each fold.
    Even {
        /// From fold to fold, finished.
        spacing: Length,
        /// Depth of each fold.
        depth: Length,
    },
}

/// Measures of a skirt.
#[derive(Clone, Debug, PartialEq)]
pub struct Skirt {
    /// Each side it hangs from, in order.
    pub sides: Vec<Length>,
    /// Finished height.
    pub drop: Length,
    /// Turned up at the bottom; not for a lined skirt.
    pub hem: Length,
    /// Lined with itself: cut twice as high.
    pub lined: bool,
    /// How it is pleated.
    pub pleats: Pleating,
}

/// What happens at an edge of a cut piece.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CutEdge {
    /// Stapled: the turn-under is added.
    #[default]
    Stapled,
    /// Closed over a tack strip.
    TackStrip,
    /// Sewn: the seam allowance is added.
    Seam,
    /// Out of sight: a pull of cheaper cloth is sewn on.
    Pull,
    /// Nothing is added.
    Bare,
}

/// One cut of a chair or sofa, as it is measured over the padding.
#[derive(Clone, Debug, PartialEq)]
pub struct CutPiece {
    /// `inside back`, `outside arm`.
    pub name: String,
    /// Widest.
    pub width: Length,
    /// Tallest.
    pub height: Length,
    /// For one chair.
    pub count: usize,
    /// Half of them mirrored.
    pub pair: bool,
    /// Bottom, right, top, left.
    pub edges: [CutEdge; 4],
    /// Another cloth than the piece's.
    pub cloth: Option<String>,
    /// Carries the pattern rule of the piece.
    pub shows: bool,
}

/// Covered cord by the length.
#[derive(Clone, Debug, PartialEq)]
pub struct WeltRuns {
    /// Each run, finished.
    pub runs: Vec<Length>,
    /// Two cords side by side in one strip.
    pub double: bool,
}
