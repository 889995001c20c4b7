//! Kinds of pieces: one file for each, with its measures, the table of its keys, how it is developed, and
//! its steps at the bench.
//!
//! A new kind is a file here and a line in each list below; the compiler names what is missing of it.

pub mod bolster;
pub mod boxed_cushion;
pub mod buttoned_back;
pub mod channelled_back;
pub mod common;
pub mod curved_back;
pub mod cut_pieces;
pub mod headboard;
pub mod knife_edge;
pub mod measured;
pub mod ottoman;
pub mod outline;
pub mod pad;
pub mod panel;
pub mod shaped_cushion;
pub mod skirt;
pub mod slip_seat;
pub mod sloped_cushion;
pub mod table;
pub mod tapered_bolster;
pub mod values;
pub mod wall_grid;
pub mod waterfall_cushion;
pub mod wedge_cushion;
pub mod welt_runs;

pub use bolster::Bolster;
pub use boxed_cushion::BoxedCushion;
pub use buttoned_back::ButtonedBack;
pub use channelled_back::ChannelledBack;
pub use curved_back::CurvedBack;
pub use cut_pieces::CutPieces;
pub use headboard::Headboard;
pub use knife_edge::KnifeEdge;
pub use measured::Measured;
pub use ottoman::Ottoman;
pub use pad::Pad;
pub use panel::Panel;
pub use shaped_cushion::ShapedCushion;
pub use skirt::Skirt;
pub use slip_seat::SlipSeat;
pub use sloped_cushion::SlopedCushion;
pub use tapered_bolster::TaperedBolster;
pub use wall_grid::WallGrid;
pub use waterfall_cushion::WaterfallCushion;
pub use wedge_cushion::WedgeCushion;
pub use welt_runs::WeltRuns;

use crate::bench::{Bench, Step};
use crate::build::{Ask, Kit};
use crate::fault::Fault;
use crate::working::Working;
use geometry::Length;
use table::{Key, Nature, Table, Work};

/// Every kind, in the order in which they are offered.
pub const TABLES: [&Table; 21] = [
    &panel::TABLE,
    &pad::TABLE,
    &slip_seat::TABLE,
    &boxed_cushion::TABLE,
    &knife_edge::TABLE,
    &bolster::TABLE,
    &channelled_back::TABLE,
    &shaped_cushion::TABLE,
    &wedge_cushion::TABLE,
    &sloped_cushion::TABLE,
    &waterfall_cushion::TABLE,
    &tapered_bolster::TABLE,
    &ottoman::TABLE,
    &curved_back::TABLE,
    &headboard::TABLE,
    &buttoned_back::TABLE,
    &skirt::TABLE,
    &cut_pieces::TABLE,
    &welt_runs::TABLE,
    &wall_grid::TABLE,
    &measured::TABLE,
];

/// A piece's kind with its measures.
#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// Board, foam and cloth stapled on the back; any outline.
    Panel(Panel),
    /// Foam block on a board, ends folded like a parcel.
    Pad(Pad),
    /// Drop-in seat.
    SlipSeat(SlipSeat),
    /// Two faces, boxing, zip strip.
    BoxedCushion(BoxedCushion),
    /// Two faces sewn edge to edge.
    KnifeEdge(KnifeEdge),
    /// A roll.
    Bolster(Bolster),
    /// Padded channels on a board.
    ChannelledBack(ChannelledBack),
    /// A boxed cushion of any outline.
    ShapedCushion(ShapedCushion),
    /// Thicker at one end.
    WedgeCushion(WedgeCushion),
    /// Lies against a side that leans: its bottom is smaller than its top.
    SlopedCushion(SlopedCushion),
    /// One panel over the top, round the front and under the bottom.
    WaterfallCushion(WaterfallCushion),
    /// A roll thicker at one end.
    TaperedBolster(TaperedBolster),
    /// A padded stool.
    Ottoman(Ottoman),
    /// A back bent to a curve.
    CurvedBack(CurvedBack),
    /// A padded field in a border.
    Headboard(Headboard),
    /// Deep buttons in a diamond grid.
    ButtonedBack(ButtonedBack),
    /// Hangs round a seat or bed.
    Skirt(Skirt),
    /// A chair or sofa piece by piece, as its cuts are measured.
    CutPieces(CutPieces),
    /// Covered cord alone.
    WeltRuns(WeltRuns),
    /// A wall of panels.
    WallGrid(WallGrid),
    /// Cut as measured.
    Measured(Measured),
}

/// What a piece becomes as its mirror image.
#[derive(Clone, Debug, PartialEq)]
pub enum Mirrored {
    /// It is alike left and right.
    Same,
    /// Another.
    Other(Kind),
    /// Its measures do not tell.
    Unknown,
}

impl From<Option<Kind>> for Mirrored {
    fn from(kind: Option<Kind>) -> Self {
        kind.map_or(Self::Unknown, Self::Other)
    }
}

/// One thing that is made alike of a piece: of a wall, its panels.
#[derive(Clone, Debug)]
pub struct Panels {
    /// What is said after the piece's name; empty for what has no place of its own.
    pub label: String,
    /// What it is.
    pub kind: Kind,
    /// How many for each piece.
    pub count: usize,
    /// Finished size.
    pub finished: (Length, Length),
    /// How its size was worked out.
    pub workings: Vec<Working>,
}

/// A piece of several things, and what the person should know.
#[derive(Clone, Debug)]
pub struct Panelled {
    /// All that is made.
    pub panels: Vec<Panels>,
    /// Told with the first.
    pub warnings: Vec<Fault>,
}

/// What a customer is told of how large a piece is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Extent {
    /// Width, then depth or height, then thickness or height if that belongs to it.
    Sizes(Vec<Length>),
    /// How many cuts it is made of: no size tells what it is.
    Cuts(usize),
    /// So many runs, and their length together.
    Runs(usize, Length),
}

/// What every kind does.
pub trait OfKind {
    /// Its table.
    fn table(&self) -> &'static Table;

    /// The parts to cut for one, and what it takes besides.
    ///
    /// # Errors
    /// Faults at keys of the piece.
    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>>;

    /// How one is made at the bench, from the cloth on.
    fn steps(&self, bench: &Bench) -> Vec<Step>;

    /// Its mirror image.
    fn mirrored(&self) -> Mirrored {
        Mirrored::Same
    }

    /// What was said of a key on which others hang.
    fn said(&self, _key: &str) -> String {
        String::new()
    }

    /// How large it is when it is done, by the size of its face and the thickness of its foam.
    fn extent(&self, (width, height): (Length, Length), foam: Option<Length>) -> Extent {
        let thick = foam.filter(|_| self.table().nature.is_block);
        Extent::Sizes([Some(width), Some(height), thick].into_iter().flatten().collect())
    }

    /// Its face is a whole disc.
    fn is_round(&self) -> bool {
        false
    }

    /// How wide its own coordinates reach, if its measures tell.
    fn reach(&self) -> Option<Length> {
        None
    }

    /// Sets the width that a run along a wall gives.
    fn set_width(&mut self, _board: Length) {}

    /// Height of its face where a run gives the width.
    fn height_in_run(&self) -> Option<Length> {
        None
    }

    /// Measures that may be a little less, by their keys.
    fn sizes(&mut self) -> Vec<(&'static str, &mut Length)> {
        Vec::new()
    }

    /// Cloths of its own besides the piece's, each with its key.
    fn cloths(&mut self) -> Vec<(String, &mut String)> {
        Vec::new()
    }

    /// The things that a piece of several is made of; `None` for a piece that is one thing.
    ///
    /// # Errors
    /// Faults at keys of the piece.
    fn panels(&self, _ask: &Ask) -> Result<Option<Panelled>, Vec<Fault>> {
        Ok(None)
    }
}

impl Kind {
    /// What it does.
    pub fn of(&self) -> &dyn OfKind {
        match self {
            Self::Panel(kind) => kind,
            Self::Pad(kind) => kind,
            Self::SlipSeat(kind) => kind,
            Self::BoxedCushion(kind) => kind,
            Self::KnifeEdge(kind) => kind,
            Self::Bolster(kind) => kind,
            Self::ChannelledBack(kind) => kind,
            Self::ShapedCushion(kind) => kind,
            Self::WedgeCushion(kind) => kind,
            Self::SlopedCushion(kind) => kind,
            Self::WaterfallCushion(kind) => kind,
            Self::TaperedBolster(kind) => kind,
            Self::Ottoman(kind) => kind,
            Self::CurvedBack(kind) => kind,
            Self::Headboard(kind) => kind,
            Self::ButtonedBack(kind) => kind,
            Self::Skirt(kind) => kind,
            Self::CutPieces(kind) => kind,
            Self::WeltRuns(kind) => kind,
            Self::WallGrid(kind) => kind,
            Self::Measured(kind) => kind,
        }
    }

    /// The same, to change its measures.
    pub fn of_mut(&mut self) -> &mut dyn OfKind {
        match self {
            Self::Panel(kind) => kind,
            Self::Pad(kind) => kind,
            Self::SlipSeat(kind) => kind,
            Self::BoxedCushion(kind) => kind,
            Self::KnifeEdge(kind) => kind,
            Self::Bolster(kind) => kind,
            Self::ChannelledBack(kind) => kind,
            Self::ShapedCushion(kind) => kind,
            Self::WedgeCushion(kind) => kind,
            Self::SlopedCushion(kind) => kind,
            Self::WaterfallCushion(kind) => kind,
            Self::TaperedBolster(kind) => kind,
            Self::Ottoman(kind) => kind,
            Self::CurvedBack(kind) => kind,
            Self::Headboard(kind) => kind,
            Self::ButtonedBack(kind) => kind,
            Self::Skirt(kind) => kind,
            Self::CutPieces(kind) => kind,
            Self::WeltRuns(kind) => kind,
            Self::WallGrid(kind) => kind,
            Self::Measured(kind) => kind,
        }
    }

    /// As written in a job file.
    pub fn name(&self) -> &'static str {
        self.of().table().name
    }

    /// What holds for all pieces of its kind.
    pub fn nature(&self) -> &'static Nature {
        &self.of().table().nature
    }

    /// The letter of each of its measures.
    pub fn letters(&self) -> Vec<(char, &'static Key)> {
        letters(self.of().table(), |key| self.of().said(key))
    }

    /// Sewn and filled, not stapled.
    pub fn is_sewn(&self) -> bool {
        self.nature().work == Work::Sewn
    }

    /// Cut to measure and nothing more.
    pub fn is_cut_only(&self) -> bool {
        self.nature().work == Work::Cut
    }

    /// Its mirror image; `None` where its measures do not tell what that is.
    pub fn mirrored(&self) -> Option<Self> {
        match self.of().mirrored() {
            Mirrored::Same => Some(self.clone()),
            Mirrored::Other(kind) => Some(kind),
            Mirrored::Unknown => None,
        }
    }
}

/// The table of a kind, by its name in the job file.
pub fn named(name: &str) -> Option<&'static Table> {
    TABLES.into_iter().find(|table| table.name == name)
}

/// The letter of each measure that is asked, in the order in which they are taken: A, B, C.
pub fn letters(table: &Table, said: impl Fn(&str) -> String) -> Vec<(char, &'static Key)> {
    let measured = table.asked(said).into_iter().filter(|key| key.is_measured());
    measured.enumerate().map(|(i, key)| (char::from(b'A' + (i % 26) as u8), key)).collect()
}
