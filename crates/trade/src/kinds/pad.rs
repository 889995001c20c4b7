//! A foam block on a board with folded ends, no sewing: the long edges are fixed first, the ends folded
//! like a parcel, with the corner squares of the cloth cut away.

use super::common::CROWN;
use super::table::{Key, Nature, Table};
use super::values::Values;
use super::{Kind, OfKind};
use crate::bench::cautions::{BLADE, STAPLER};
use crate::bench::{Bench, Step};
use crate::build::crown::{Crown, over_crown};
use crate::build::{Ask, Kit, board};
use crate::fault::Fault;
use crate::message::message;
use crate::panel::Side;
use crate::part::{Mark, Meaning, Turning};
use geometry::{Length, Point};

/// A pad.
#[derive(Clone, Debug, PartialEq)]
pub struct Pad {
    /// Along the long edges.
    pub width: Length,
    /// Across.
    pub height: Length,
    /// How far the stuffing rises in the middle over the edge.
    pub crown: Length,
}

const KEYS: [Key; 3] = [
    Key::length("width", "board, along the long edges").from_run(),
    Key::length("height", "board, across"),
    CROWN,
];

/// What is asked of a pad.
pub const TABLE: Table =
    Table { name: "pad", keys: &KEYS, nature: Nature { is_block: true, ..Nature::BOARD }, read };

fn read(values: &mut Values, _: &mut Vec<Fault>) -> Kind {
    let [width, height, crown] = ["width", "height", "crown"].map(|key| values.length(key));
    Kind::Pad(Pad { width, height, crown })
}

impl OfKind for Pad {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    /// Source: relief squares 1 in out from the board and stopping 1 in short of the block's top:
    /// common practice, no source.
    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let size = (self.width, self.height);
        let over = over_crown(ask, size, self.crown)?;
        let (mut covered, mut parts) = board::rectangle(ask, size, &over.sides)?;
        over.explain(&mut parts);
        covered.quantities.wadding_mm2 = Crown::wadding(size, self.crown);
        let reach = ask.build.reach(&Side::default()).mm();
        let relief = ask.build.allowances.fold_relief.mm().min(reach);
        let (w, h) = (self.width.mm(), self.height.mm());
        covered.marks.retain(|m| m.meaning != Meaning::Slit);
        covered.corners.clear();
        for (x, y, sx, sy) in
            [(0.0, 0.0, -1.0, -1.0), (w, 0.0, 1.0, -1.0), (w, h, 1.0, 1.0), (0.0, h, -1.0, 1.0)]
        {
            let at = |a: f64, b: f64| Point::new(x + sx * a, y + sy * b);
            let square =
                vec![at(relief, reach), at(relief, relief), at(reach, relief), at(reach, reach)];
            covered.marks.push(Mark::open(Meaning::CutAway, square));
            covered.marks.push(Mark::open(Meaning::Fold, vec![at(0.0, 0.0), at(0.0, relief)]));
            covered.marks.push(Mark::open(Meaning::Fold, vec![at(0.0, 0.0), at(relief, 0.0)]));
        }
        covered.quantities.folded_ends = 2;
        if let Some(part) = parts.first_mut() {
            part.marks.clone_from(&covered.marks);
            part.turning = Turning::Direction(None);
        }
        Ok(Kit::of_board((covered, parts)))
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        let relief = bench.allowances.fold_relief;
        let long_edges = message("step-pad-long-edges")
            .length("short", relief * 2)
            .said("staples", bench.staples());
        let ends = message("step-pad-ends").length("relief", relief);
        let round = vec![Step::new(long_edges, &[STAPLER]), Step::new(ends, &[BLADE, STAPLER])];
        bench.covered(self.crown, round, &[])
    }

    fn reach(&self) -> Option<Length> {
        Some(self.width)
    }

    fn set_width(&mut self, board: Length) {
        self.width = board;
    }

    fn height_in_run(&self) -> Option<Length> {
        Some(self.height)
    }

    fn sizes(&mut self) -> Vec<(&'static str, &mut Length)> {
        vec![("width", &mut self.width), ("height", &mut self.height)]
    }
}
