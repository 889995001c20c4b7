//! A boxed cushion: two faces, boxing, a zip strip.

use super::common::{RADIUS, WELT};
use super::table::{Key, Nature, Sort, Table, words};
use super::values::Values;
use super::{Kind, Mirrored, OfKind};
use crate::bench::{Bench, Opening, Sewing, Step, Zip};
use crate::build::boxing::{Boxed, boxed};
use crate::build::{Ask, Kit};
use crate::fault::Fault;
use crate::message::{Message, message};
use crate::panel::PanelShape;
use crate::wanted::Welt;
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

/// A boxed cushion.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxedCushion {
    /// Front edge.
    pub front: Length,
    /// Back edge, if it tapers.
    pub back: Length,
    /// Front to back.
    pub depth: Length,
    /// Corner radius seen from above.
    pub radius: Length,
    /// Where the zip is.
    pub zip: ZipSide,
    /// Welt.
    pub welt: Welt,
}

const ZIPS: [(&str, ZipSide); 4] = [
    ("back", ZipSide::Back),
    ("left", ZipSide::Left),
    ("right", ZipSide::Right),
    ("none", ZipSide::None),
];
const ZIP_WORDS: [&str; 4] = words(&ZIPS);
const KEYS: [Key; 7] = [
    Key::length("width", "the space it fills, front edge, not the old cushion").from_run(),
    Key::optional("back_width", Sort::Length, "back edge, if it tapers"),
    Key::length("depth", "front to back, in three places; the least"),
    Key::or_zero("radius", RADIUS),
    Key::optional("thickness", Sort::OfFoam, "of the foam, new"),
    Key::word("zip", &ZIP_WORDS),
    WELT,
];

/// What is asked of a boxed cushion.
pub const TABLE: Table = Table {
    name: "boxed cushion",
    keys: &KEYS,
    nature: Nature { is_block: true, ..Nature::CUSHION },
    read,
};

fn read(values: &mut Values, _: &mut Vec<Fault>) -> Kind {
    let front = values.length("width");
    Kind::BoxedCushion(BoxedCushion {
        front,
        back: values.opt_length("back_width").unwrap_or(front),
        depth: values.length("depth"),
        radius: values.length("radius"),
        zip: values.choice("zip", &ZIPS).unwrap_or_default(),
        welt: super::common::welt(values),
    })
}

impl BoxedCushion {
    /// Its outline from above, the front at the bottom.
    pub const fn shape(&self) -> PanelShape {
        PanelShape::tapered(self.front, self.back, self.depth, self.radius)
    }
}

impl OfKind for BoxedCushion {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let zip = match self.zip {
            ZipSide::Back => Some(2),
            ZipSide::Left => Some(3),
            ZipSide::Right => Some(1),
            ZipSide::None => None,
        };
        let cushion = Boxed::of(ask, &self.shape(), zip, None, self.welt)?;
        let size = (self.front.max(self.back), self.depth);
        Ok(Kit::of_sewn(boxed(ask, &cushion, ask.build.foam), size))
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        let opening = match self.zip {
            ZipSide::Back => Opening::Back,
            ZipSide::Left | ZipSide::Right => Opening::Elsewhere,
            ZipSide::None => Opening::None,
        };
        bench.sewn(&Sewing {
            welt: self.welt,
            is_round: false,
            zip: Zip::Halves,
            order: bench.boxing(opening, message("notches-corners"), Message::nothing()),
            filling: bench.cut_foam(),
        })
    }

    fn mirrored(&self) -> Mirrored {
        let zip = match self.zip {
            ZipSide::Left => ZipSide::Right,
            ZipSide::Right => ZipSide::Left,
            same => same,
        };
        Mirrored::Other(Kind::BoxedCushion(Self { zip, ..self.clone() }))
    }

    fn set_width(&mut self, board: Length) {
        self.front = board;
        self.back = board;
    }

    fn height_in_run(&self) -> Option<Length> {
        Some(self.depth)
    }

    fn sizes(&mut self) -> Vec<(&'static str, &mut Length)> {
        if self.front == self.back {
            vec![("width", &mut self.front), ("depth", &mut self.depth)]
        } else {
            Vec::new()
        }
    }
}
