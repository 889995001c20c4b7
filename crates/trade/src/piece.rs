//! A finished thing to cover, as measured and as wanted.

use crate::kind::{Kind, Run, WeltGrain};
use crate::material::Direction;
use crate::panel::FoamEdge;
use crate::rates::Allowances;
use geometry::Length;
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
    /// Nobody has said: it lies anyhow, which is told where the cloth has a pattern.
    #[default]
    Unsaid,
    /// Anyhow.
    Free,
    /// A motif on the middle of the face.
    Centred,
    /// In step with all others of this name.
    Matched(String),
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
        /// Where the holes are, from the board's left and bottom edges in the face view, if measured.
        holes: Vec<(Length, Length)>,
    },
    /// Clips, so many each piece.
    Clips(usize),
    /// Hung on a cleat.
    Cleat,
    /// Only laid or pushed in.
    Loose,
}

/// Buttons covered in the face cloth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Buttons {
    /// On each piece.
    pub count: usize,
    /// Size: 40 lignes are an inch (button trade pages, measure dictionaries).
    pub ligne: u32,
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
    /// The piece that this one is the mirror image of; its measures are that one's.
    pub mirrors: Option<String>,
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
    /// How foam ends at stapled edges.
    pub foam_edge: FoamEdge,
    /// Foam cut larger than the board by this on each side; stapled pieces.
    pub foam_beyond: Length,
    /// Dust cover on the back.
    pub dust_cover: bool,
    /// An old cover has to come off.
    pub strip: bool,
    /// Which way, if not the cloth's own.
    pub direction: Option<Direction>,
    /// Pattern.
    pub pattern: PatternRule,
    /// The pattern of a cushion's top runs on down the front of its boxing.
    pub boxing_in_step: bool,
    /// A seam is allowed where a part is wider than the cloth.
    pub seam_allowed: bool,
    /// Covers wider than half the cloth are joined down the middle even if they would fit: a near miss.
    pub halved: bool,
    /// Welt strips.
    pub welt_grain: WeltGrain,
    /// The shop's allowances with this piece's own.
    pub allowances: Allowances,
    /// Keys of the allowances that are its own.
    pub own_allowances: Vec<String>,
    /// How it is fixed.
    pub fixing: Option<Fixing>,
    /// Hours for one piece, instead of the rate book.
    pub hours_each: Option<Decimal>,
    /// An agreed price for the work on one piece, instead of hours.
    pub price_each: Option<Decimal>,
    /// Covered buttons, each of this many lignes.
    pub buttons: Option<Buttons>,
    /// Cloth the dust cover is cut from, if it is laid with the job's cloths.
    pub dust_cloth: Option<String>,
    /// Which pieces come first where the customer's own cloth is short: the lowest number.
    pub priority: usize,
    /// For the bench.
    pub note: String,
    /// Findings on inspection.
    pub found: String,
    /// Each measure as it was typed.
    pub typed: Vec<(String, String)>,
}
