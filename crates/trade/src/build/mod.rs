//! What kinds of pieces share when they are developed: covers, corners, openings, boxing, welt, strips.

pub mod block;
pub mod board;
pub mod boxing;
pub mod buttons;
pub mod corner;
pub mod cover;
pub mod crown;
pub mod cut_out;
pub mod seam;
pub mod sections;
pub mod shape;
pub mod strips;
pub mod welt;

use crate::fault::Fault;
use crate::material::Cloth;
use crate::message::{Message, message};
use crate::part::{CornerWork, CutOutWork, Part, Quantities};
use crate::wanted::WeltGrain;
use crate::working::Working;
use cover::{Build, Covered};
use geometry::Length;

/// What a kind is told besides its measures.
#[derive(Clone, Debug)]
pub struct Ask<'a> {
    /// Foam, board, allowances, cloth thickness.
    pub build: Build<'a>,
    /// Cloth of the face.
    pub cloth: &'a str,
    /// Cloth of the underside, if another.
    pub under: Option<&'a str>,
    /// Usable width of the face cloth.
    pub usable: Length,
    /// Other cloths than the face's for some parts.
    pub others: Others<'a>,
    /// Foam.
    pub foam: Option<&'a str>,
    /// Board.
    pub board: Option<&'a str>,
    /// Wrapped in polyester.
    pub wrap: bool,
    /// Welt strips.
    pub grain: WeltGrain,
    /// A seam may be put where the cloth is too narrow.
    pub may_seam: bool,
    /// Parts may lie with their tops towards a selvedge.
    pub railroads: bool,
    /// Key of the piece in the job file.
    pub at: String,
}

/// Cloths of their own.
#[derive(Clone, Copy, Debug, Default)]
pub struct Others<'a> {
    /// Of the boxing.
    pub boxing: Option<&'a Cloth>,
    /// Of the welt.
    pub welt: Option<&'a Cloth>,
    /// Of the zip strip.
    pub zip: Option<&'a Cloth>,
}

impl Ask<'_> {
    /// The same for parts of another cloth.
    #[must_use]
    pub fn in_cloth<'b>(&'b self, other: Option<&'b Cloth>) -> Ask<'b> {
        let mut ask: Ask<'b> = self.clone();
        if let Some(cloth) = other {
            (ask.cloth, ask.usable) = (&cloth.name, cloth.usable());
            ask.build.cloth = cloth.thickness;
        }
        ask
    }

    /// A fault at one of the piece's keys.
    pub fn fault(&self, code: &'static str, key: &str, what: Message, remedy: Message) -> Fault {
        Fault::new(code, format!("{}.{key}", self.at), what, remedy)
    }

    /// A border that leaves nothing of the face.
    pub fn border_too_wide(
        &self,
        border: Length,
        (width, height): (Length, Length),
        remedy: Message,
    ) -> Fault {
        let what = message("border-too-wide").length("border", border);
        let what = what.number("width", width).length("height", height);
        self.fault("border-too-wide", "border", what, remedy)
    }

    /// A cushion without the foam that gives its thickness.
    pub fn no_foam(&self, what: &'static str) -> Fault {
        Fault::new(
            "no-foam",
            self.at.clone(),
            message("no-foam").said("what", message(what)),
            message("no-foam").part("do"),
        )
    }
}

/// Parts and what they take.
pub type Sewn = (Vec<Part>, Quantities);

/// A piece developed.
#[derive(Clone, Debug, Default)]
pub struct Kit {
    /// To cut.
    pub parts: Vec<Part>,
    /// What it takes.
    pub quantities: Quantities,
    /// Finished width and height of the face.
    pub finished: (Length, Length),
    /// Numbers worked out before the parts.
    pub workings: Vec<Working>,
    /// Corners to fold.
    pub corners: Vec<CornerWork>,
    /// Openings.
    pub cut_outs: Vec<CutOutWork>,
    /// The board's outline in words, if it is not a plain rectangle.
    pub outline: Message,
    /// What the person should know.
    pub warnings: Vec<Fault>,
}

impl Kit {
    /// A sewn piece.
    pub fn of_sewn((parts, quantities): Sewn, finished: (Length, Length)) -> Self {
        Self { parts, quantities, finished, ..Self::default() }
    }

    /// A covered board.
    pub fn of_board((covered, parts): (Covered, Vec<Part>)) -> Self {
        Self {
            finished: covered.board.size(),
            parts,
            quantities: covered.quantities,
            corners: covered.corners,
            cut_outs: covered.cut_outs,
            warnings: covered.warnings,
            ..Self::default()
        }
    }
}
