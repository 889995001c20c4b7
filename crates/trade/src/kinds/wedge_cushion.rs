//! A wedge: level at the bottom, thicker at one end.

use super::common::{WELT, ZIP, welt};
use super::table::{Key, Nature, Table};
use super::values::Values;
use super::{Extent, Kind, OfKind};
use crate::bench::{Bench, Sewing, Step, Zip};
use crate::build::block::{self, Block, add_foam};
use crate::build::{Ask, Kit};
use crate::fault::Fault;
use crate::message::message;
use crate::part::Stuff;
use crate::wanted::Welt;
use crate::working::{Working, of};
use geometry::Length;

/// A wedge.
#[derive(Clone, Debug, PartialEq)]
pub struct WedgeCushion {
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

const KEYS: [Key; 6] = [
    Key::length("width", "left to right"),
    Key::length("depth", "front to back along the bottom"),
    Key::length("front", "thickness at the front"),
    Key::length("back", "thickness at the back"),
    ZIP,
    WELT,
];

/// What is asked of a wedge.
pub const TABLE: Table =
    Table { name: "wedge cushion", keys: &KEYS, nature: Nature::CUSHION, read };

fn read(values: &mut Values, _: &mut Vec<Fault>) -> Kind {
    let [width, depth, front, back] =
        ["width", "depth", "front", "back"].map(|key| values.length(key));
    let (zip, welt) = (values.flag("zip"), welt(values));
    Kind::WedgeCushion(WedgeCushion { width, depth, front, back, zip, welt })
}

impl OfKind for WedgeCushion {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    /// A wedge: bottom level, top along the slant `sqrt(D^2 + (back - front)^2)`, side boxing tapering from
    /// one thickness to the other.
    ///
    /// Source: right-angled triangles; geometry. One slanted cut of a block gives two wedges: a cushion
    /// maker's page.
    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let (w, d) = (self.width.mm(), self.depth.mm());
        let (f, b) = (self.front.mm(), self.back.mm());
        let block = Block {
            bottom: [[0.0, 0.0, 0.0], [w, 0.0, 0.0], [w, d, 0.0], [0.0, d, 0.0]],
            top: [[0.0, 0.0, f], [w, 0.0, f], [w, d, b], [0.0, d, b]],
        };
        let thick = self.front.max(self.back);
        let thickness = ask.build.foam;
        if ask.foam.is_some() && thickness < thick {
            return Err(vec![ask.fault(
                "foam-too-thin",
                "foam",
                message("foam-too-thin").length("thick", thick).length("thickness", thickness),
                message("foam-too-thin").part("do"),
            )]);
        }
        let rise = of(self.back.max(self.front)) - of(self.back.min(self.front));
        let slant = (of(self.depth).squared() + rise.squared()).root();
        let workings = vec![Working::of(message("work-top-front-to-back-along-the-slant"), slant)];
        let (mut parts, quantities) = block::sewn(ask, &block, self.zip, self.welt, workings);
        let two_from_one = self.front + self.back <= thickness;
        add_foam(ask, &mut parts, (self.width, self.depth), |foam| {
            foam.name = message("part-foam-cut-on-the-slant");
            foam.from_one = if two_from_one { 2 } else { 1 };
        });
        Ok(Kit::of_sewn((parts, quantities), (self.width, self.depth)))
    }

    fn extent(&self, _: (Length, Length), _: Option<Length>) -> Extent {
        Extent::Sizes(vec![self.width, self.depth, self.front.max(self.back)])
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        let parts = &bench.made.parts;
        let is_two = parts.iter().any(|p| p.stuff == Stuff::Foam && p.from_one == 2);
        let saw = message("fill-wedge").length("front", self.front).length("back", self.back);
        bench.sewn(&Sewing {
            welt: self.welt,
            is_round: false,
            zip: Zip::Halves,
            order: message("sew-wedge"),
            filling: bench.cut_foam_and(saw.flag("two", is_two)),
        })
    }
}
