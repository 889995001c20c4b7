//! The rate book: what is done in a workroom, what it is counted by, and how many minutes one takes until
//! a shop knows better.

use crate::class::Class;
use rust_decimal::Decimal;

/// Where a usual number of minutes comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// Our guess, no source; together the guesses are set so that whole pieces come out as texts of the
    /// trade say (`docs/measured.md`).
    Guess,
    /// A text of the trade, named beside the number.
    Text,
}

/// Something that is done, counted by one: a metre of seam, a zip, a corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Operation {
    /// Unroll a cloth, measure it, look it over for flaws: each cloth.
    Unpack,
    /// Look a piece over and label it.
    Inspect,
    /// Strip an old cover: each metre of staple line.
    Strip,
    /// Look over a frame, glue what is loose: each piece with a frame.
    Frame,
    /// Mend one board.
    MendBoard,
    /// Cut one board from a sheet.
    Board,
    /// Stretch and fix a metre of webbing.
    Webbing,
    /// Sew in and lash one spring.
    Spring,
    /// Put on a square metre of hessian.
    Hessian,
    /// Lay, stitch and shape a square metre of stuffing.
    Stuffing,
    /// Put on a square metre of calico.
    Calico,
    /// Lay a square metre of wadding.
    Wadding,
    /// Cut one foam.
    Foam,
    /// Glue a square metre of joint.
    Glue,
    /// Lay out, mark and cut one part of cloth.
    CutPart,
    /// Mark and cut one strip of welt or one button cover.
    CutStrip,
    /// Place one part on its motif.
    PlaceOnPattern,
    /// Join one width of cloth to the next.
    JoinWidth,
    /// Sew a metre of seam.
    Seam,
    /// Make and sew a metre of welt.
    Welt,
    /// Put in a zip.
    Zip,
    /// Press the cover of one button.
    CoverButton,
    /// A channel.
    Channel,
    /// Set one deep button, its pleats included.
    Button,
    /// Fit one cut of a chair round posts and rails.
    FitCut,
    /// Close a metre over tack strip.
    TackStrip,
    /// Staple a metre of cover.
    Staple,
    /// A square corner.
    SquareCorner,
    /// A rounded corner.
    RoundCorner,
    /// A folded end.
    FoldedEnd,
    /// A cut-out.
    CutOut,
    /// Sew a metre by hand.
    HandSew,
    /// Set one decorative nail.
    Nail,
    /// Glue or sew on a metre of gimp.
    Gimp,
    /// Stuff and close a cushion.
    Fill,
    /// Put on a dust cover.
    DustCover,
    /// Brush off, look over, wrap one piece.
    Pack,
    /// Refit one piece.
    Fit,
}

/// One line of the rate book.
struct Row {
    operation: Operation,
    key: &'static str,
    /// Tenths of a minute.
    tenths: i64,
    class: Class,
    task: &'static str,
    origin: Origin,
}

const fn row(
    operation: Operation,
    key: &'static str,
    tenths: i64,
    class: Class,
    task: &'static str,
) -> Row {
    Row { operation, key, tenths, class, task, origin: Origin::Guess }
}

use Class::{Application, Fabrication, Fitting, Repair};

/// In working order.
const ROWS: [Row; 38] = [
    row(Operation::Unpack, "unpack_and_check", 100, Fabrication, "task-unpack"),
    row(Operation::Inspect, "inspect", 40, Application, "task-inspect-and-label"),
    row(Operation::Strip, "strip_metre", 50, Application, "task-strip-the-old-cover"),
    row(Operation::Frame, "frame", 300, Repair, "task-frame"),
    row(Operation::MendBoard, "board_repair", 200, Repair, "task-mend-the-board"),
    row(Operation::Board, "board", 120, Application, "task-cut-board"),
    row(Operation::Webbing, "webbing_metre", 50, Application, "task-webbing"),
    row(Operation::Spring, "spring", 80, Application, "task-springs"),
    row(Operation::Hessian, "hessian_m2", 400, Application, "task-hessian"),
    row(Operation::Stuffing, "stuffing_m2", 1800, Application, "task-stuffing"),
    row(Operation::Calico, "calico_m2", 600, Application, "task-calico"),
    row(Operation::Wadding, "wadding_m2", 150, Application, "task-wadding"),
    row(Operation::Foam, "foam", 60, Application, "task-cut-foam"),
    row(Operation::Glue, "glue_m2", 120, Application, "task-glue"),
    row(Operation::CutPart, "cut_part", 30, Fabrication, "task-lay-out-and-cut-cloth"),
    row(Operation::CutStrip, "cut_strip", 10, Fabrication, "task-cut-strips"),
    row(Operation::PlaceOnPattern, "place_on_pattern", 30, Fabrication, "task-place-on-pattern"),
    row(Operation::JoinWidth, "join_widths", 80, Fabrication, "task-join-widths"),
    row(Operation::Seam, "seam_metre", 40, Fabrication, "task-sew"),
    row(Operation::Welt, "welt_metre", 50, Fabrication, "task-welt"),
    row(Operation::Zip, "zip", 150, Fabrication, "task-zip"),
    row(Operation::CoverButton, "cover_button", 10, Fabrication, "task-cover-buttons"),
    row(Operation::Channel, "channel", 120, Application, "task-channels"),
    // 30 min on a first piece, 10 once in rhythm: a teaching text of deep buttoning; 7 with their pleats
    // brings a panel of 42 into the 6 to 8 h that texts give it.
    Row {
        origin: Origin::Text,
        ..row(Operation::Button, "button", 70, Application, "task-buttons")
    },
    row(Operation::FitCut, "fit_cut", 120, Application, "task-fit-cuts"),
    row(Operation::TackStrip, "tack_strip_metre", 100, Application, "task-tack-strip"),
    row(Operation::Staple, "staple_metre", 60, Application, "task-staple"),
    row(Operation::SquareCorner, "square_corner", 30, Application, "task-square-corners"),
    row(Operation::RoundCorner, "round_corner", 30, Application, "task-rounded-corners"),
    row(Operation::FoldedEnd, "folded_end", 80, Application, "task-folded-ends"),
    row(Operation::CutOut, "cut_out", 100, Application, "task-cut-outs"),
    row(Operation::HandSew, "hand_sew_metre", 250, Application, "task-hand-sew"),
    row(Operation::Nail, "nail", 5, Application, "task-nails"),
    row(Operation::Gimp, "gimp_metre", 100, Application, "task-gimp"),
    row(Operation::Fill, "fill", 100, Fabrication, "task-fill-and-close"),
    row(Operation::DustCover, "dust_cover", 60, Application, "task-dust-cover"),
    row(Operation::Pack, "pack", 20, Application, "task-pack"),
    row(Operation::Fit, "fit", 80, Fitting, "task-refit"),
];

impl Operation {
    /// All of them, in working order.
    pub fn all() -> impl Iterator<Item = Self> {
        ROWS.iter().map(|row| row.operation)
    }

    fn row(self) -> &'static Row {
        // Rows stand in the order of the operations: held by a test.
        &ROWS[self as usize]
    }

    /// As written in a job file.
    pub fn key(self) -> &'static str {
        self.row().key
    }

    /// The operation of a key.
    pub fn of(key: &str) -> Option<Self> {
        ROWS.iter().find(|row| row.key == key).map(|row| row.operation)
    }

    /// Minutes that one takes, until a shop sets its own.
    pub fn usual(self) -> Decimal {
        Decimal::new(self.row().tenths, 1).normalize()
    }

    /// How tax sees it.
    pub fn class(self) -> Class {
        self.row().class
    }

    /// The message that names it.
    pub fn task(self) -> &'static str {
        self.row().task
    }

    /// Where its usual minutes come from.
    pub fn origin(self) -> Origin {
        self.row().origin
    }
}

/// Minutes for one of each operation: the shop's own where it has set them, replaced little by little by
/// what jobs really took.
#[derive(Clone, Debug, PartialEq)]
pub struct Minutes([Decimal; ROWS.len()]);

impl Minutes {
    /// Minutes for one.
    pub fn of(&self, operation: Operation) -> Decimal {
        self.0[operation as usize]
    }

    /// Sets the minutes for one.
    pub fn set(&mut self, operation: Operation, minutes: Decimal) {
        self.0[operation as usize] = minutes;
    }
}

impl Default for Minutes {
    fn default() -> Self {
        let mut all = [Decimal::ZERO; ROWS.len()];
        Operation::all().for_each(|operation| all[operation as usize] = operation.usual());
        Self(all)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_stand_in_the_order_of_the_operations() {
        for (i, row) in ROWS.iter().enumerate() {
            assert_eq!(row.operation as usize, i, "{}", row.key);
            assert_eq!(Operation::of(row.key), Some(row.operation));
        }
        assert_eq!(ROWS.last().map(|row| row.operation), Some(Operation::Fit));
    }
}
