//! A cushion against a side that leans: its bottom is smaller than its top.

use super::common::{WELT, ZIP, welt};
use super::table::{Key, Nature, Sort, Table, words};
use super::values::Values;
use super::{Kind, Mirrored, OfKind};
use crate::bench::{Bench, Sewing, Step, Zip};
use crate::build::block::{self, Block, add_foam};
use crate::build::{Ask, Kit};
use crate::fault::Fault;
use crate::message::message;
use crate::wanted::Welt;
use crate::working::{HUNDREDTH, Working, of};
use geometry::Length;
use rust_decimal::prelude::ToPrimitive;

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

/// A cushion against a sloping side: bottom = top - T tan(angle).
#[derive(Clone, Debug, PartialEq)]
pub struct SlopedCushion {
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

const SIDES: [(&str, LeaningSide); 3] =
    [("back", LeaningSide::Back), ("left", LeaningSide::Left), ("right", LeaningSide::Right)];
const SIDE_WORDS: [&str; 3] = words(&SIDES);
const KEYS: [Key; 7] = [
    Key::length("width", "left to right, on top"),
    Key::length("depth", "front to back, on top"),
    Key::optional(
        "angle",
        Sort::Degrees(-80, 80),
        "of the leaning side from the upright, in degrees, or:",
    ),
    Key::optional("bottom", Sort::Length, "what the bottom measures towards the leaning side"),
    Key::word("leans", &SIDE_WORDS),
    ZIP,
    WELT,
];

/// What is asked of a sloped cushion.
pub const TABLE: Table =
    Table { name: "sloped cushion", keys: &KEYS, nature: Nature::CUSHION, read };

fn read(values: &mut Values, faults: &mut Vec<Fault>) -> Kind {
    let angle = values.number("angle");
    let bottom = values.opt_length("bottom");
    if angle.is_some() == bottom.is_some() {
        faults.push(Fault::new(
            "lean-not-said",
            "angle",
            message("lean-not-said"),
            message("lean-not-said").part("do"),
        ));
    }
    let degrees = angle.and_then(|a| a.to_f64()).unwrap_or(0.0);
    Kind::SlopedCushion(SlopedCushion {
        width: values.length("width"),
        depth: values.length("depth"),
        lean: bottom.map_or(Lean::Degrees(degrees), Lean::Bottom),
        side: values.choice("leans", &SIDES).unwrap_or_default(),
        zip: values.flag("zip"),
        welt: welt(values),
    })
}

impl OfKind for SlopedCushion {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    /// A cushion whose back, left or right lies against a side leaning by an angle: the bottom is smaller
    /// by `T tan(angle)` and the leaning boxing `T / cos(angle)` high.
    ///
    /// Source: right-angled triangles; 90 mm at 12 degrees: 19.1 mm shorter, 92.0 mm high.
    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let thickness = ask.build.foam;
        if thickness <= Length::ZERO {
            return Err(vec![ask.no_foam("a-sloped-cushion")]);
        }
        let across = matches!(self.side, LeaningSide::Back);
        let top = if across { self.depth } else { self.width };
        let t = thickness.mm();
        let (lean, key, what) = match self.lean {
            Lean::Degrees(angle) => {
                let what = message("lean-too-great").text("angle", angle.to_string());
                (t * libm::tan(angle.to_radians()), "angle", what)
            }
            Lean::Bottom(bottom) => {
                let what = message("lean-too-great-bottom").length("bottom", bottom);
                ((top - bottom).mm(), "bottom", what)
            }
        };
        if lean >= top.mm() || lean <= -top.mm() {
            let remedy = message("lean-too-great").part("do");
            return Err(vec![ask.fault("lean-too-great", key, what.length("top", top), remedy)]);
        }
        let (w, d) = (self.width.mm(), self.depth.mm());
        let top_corners = [[0.0, 0.0, t], [w, 0.0, t], [w, d, t], [0.0, d, t]];
        let (x0, x1, y1) = match self.side {
            LeaningSide::Back => (0.0, w, d - lean),
            LeaningSide::Left => (lean, w, d),
            LeaningSide::Right => (0.0, w - lean, d),
        };
        let bottom = [[x0, 0.0, 0.0], [x1, 0.0, 0.0], [x1, y1, 0.0], [x0, y1, 0.0]];
        let block = Block { bottom, top: top_corners };
        let less = Length::from_mm(lean);
        let lean = less.abs().round_even(HUNDREDTH);
        let bottom = match less < Length::ZERO {
            true => of(top) + of(lean),
            false => of(top) - of(lean),
        };
        let high = (of(thickness).squared() + of(lean).squared()).root();
        let workings = vec![
            Working::of(message("work-bottom-towards-the-leaning-side"), bottom),
            Working::of(message("work-leaning-boxing-finished-height"), high),
        ];
        let (mut parts, quantities) = block::sewn(ask, &block, self.zip, self.welt, workings);
        // Cut from the larger face; the slope is sawn off.
        let bottom_size = |top: Length, is: bool| if is { top.max(top - less) } else { top };
        let size = (bottom_size(self.width, !across), bottom_size(self.depth, across));
        add_foam(ask, &mut parts, size, |foam| {
            foam.name = message("part-foam-one-side-cut-on-the-slope")
        });
        Ok(Kit::of_sewn((parts, quantities), (self.width, self.depth)))
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        bench.sewn(&Sewing {
            welt: self.welt,
            is_round: false,
            zip: Zip::Halves,
            order: message("sew-sloped"),
            filling: bench.cut_foam_and(message("fill-sloped")),
        })
    }

    fn mirrored(&self) -> Mirrored {
        let side = match self.side {
            LeaningSide::Left => LeaningSide::Right,
            LeaningSide::Right => LeaningSide::Left,
            LeaningSide::Back => LeaningSide::Back,
        };
        Mirrored::Other(Kind::SlopedCushion(Self { side, ..self.clone() }))
    }
}
