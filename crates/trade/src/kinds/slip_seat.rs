//! A drop-in seat: a board that must drop into its rails covered.

use super::common::CROWN;
use super::table::{Key, Nature, Sort, Table};
use super::values::Values;
use super::{Kind, OfKind};
use crate::bench::{Bench, Step};
use crate::build::crown::{Crown, over_crown};
use crate::build::{Ask, Kit, board, shape};
use crate::fault::Fault;
use crate::message::message;
use crate::panel::{FoamEdge, PanelShape};
use geometry::Length;

/// A drop-in seat.
#[derive(Clone, Debug, PartialEq)]
pub struct SlipSeat {
    /// Front edge.
    pub front: Length,
    /// Back edge.
    pub back: Length,
    /// Front to back.
    pub depth: Length,
    /// Corner radius.
    pub radius: Length,
    /// Opening of the rails: front, back and depth, if measured.
    pub opening: Option<(Length, Length, Length)>,
    /// How far the stuffing rises in the middle over the edge.
    pub crown: Length,
}

const OPENING: [Key; 3] =
    [Key::length("front", ""), Key::optional("back", Sort::Length, ""), Key::length("depth", "")];
const KEYS: [Key; 6] = [
    Key::length("front", "board, front edge, at the corners before rounding"),
    Key::optional("back", Sort::Length, "board, back edge"),
    Key::length("depth", "front to back, square to both"),
    Key::or_zero("radius", "corner, with a coin or template"),
    CROWN,
    Key::optional("opening", Sort::Table(&OPENING), "of the rails: front, back, depth"),
];

/// What is asked of a drop-in seat.
pub const TABLE: Table = Table {
    name: "slip seat",
    keys: &KEYS,
    nature: Nature { foam_edge: FoamEdge::PulledDown, ..Nature::BOARD },
    read,
};

fn read(values: &mut Values, _: &mut Vec<Fault>) -> Kind {
    let sizes = |v: &Values| {
        let front = v.length("front");
        (front, v.opt_length("back").unwrap_or(front), v.length("depth"))
    };
    let (front, back, depth) = sizes(values);
    let opening = values.table("opening").map(sizes);
    let (radius, crown) = (values.length("radius"), values.length("crown"));
    Kind::SlipSeat(SlipSeat { front, back, depth, radius, opening, crown })
}

impl SlipSeat {
    /// Its board from above, the front edge at the bottom.
    pub const fn shape(&self) -> PanelShape {
        PanelShape::tapered(self.front, self.back, self.depth, self.radius)
    }

    /// Source of the clearance: 3/16 to 1/4 in each side, furniture trade pages; here the fold of the
    /// cloth is asked for and no more.
    fn tight_sides(&self, ask: &Ask) -> Vec<Fault> {
        let Some((front, back, depth)) = self.opening else { return Vec::new() };
        // Cloth goes down each side once, and folds over itself at the corners.
        let needed = ask.build.cloth * 2;
        let style = &ask.build.style;
        [("front", front, self.front), ("back", back, self.back), ("depth", depth, self.depth)]
            .into_iter()
            .map(|(what, open, board)| (what, Length::from_nm((open - board).nm() / 2)))
            .filter(|(_, clear)| *clear < needed)
            .map(|(what, clear)| {
                let clear = style.show(clear.max(Length::ZERO));
                ask.fault(
                    "seat-too-tight",
                    "opening",
                    message("seat-too-tight")
                        .text("what", what)
                        .text("clear", &clear)
                        .length("needed", needed),
                    message("seat-too-tight").part("do"),
                )
            })
            .collect()
    }
}

impl OfKind for SlipSeat {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let (shape, size) = (self.shape(), (self.front.max(self.back), self.depth));
        let over = over_crown(ask, size, self.crown)?;
        let (mut covered, mut parts) = board::develop(ask, &shape, &[], &over.sides, &[])?;
        over.explain(&mut parts);
        covered.quantities.wadding_mm2 = Crown::wadding(size, self.crown);
        covered.warnings.extend(self.tight_sides(ask));
        let outline = shape::told(&shape, &[]);
        Ok(Kit { finished: size, outline, ..Kit::of_board((covered, parts)) })
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        bench.covered(self.crown, vec![bench.edges()], &[])
    }

    fn reach(&self) -> Option<Length> {
        Some(self.front)
    }

    fn sizes(&mut self) -> Vec<(&'static str, &mut Length)> {
        vec![("front", &mut self.front), ("depth", &mut self.depth)]
    }
}
