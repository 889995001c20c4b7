//! Cut as measured, and nothing more.

use super::table::{Key, Nature, Table, Work};
use super::values::Values;
use super::{Kind, OfKind};
use crate::bench::{Bench, Step};
use crate::build::strips::rectangle;
use crate::build::{Ask, Kit};
use crate::fault::Fault;
use crate::message::message;
use crate::part::{Part, Quantities, Stuff};
use crate::working::{Working, of};
use geometry::Length;

/// A length of cloth.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// Cut.
    pub width: Length,
    /// Cut.
    pub height: Length,
}

const KEYS: [Key; 2] =
    [Key::length("width", "to cut, across").from_run(), Key::length("height", "to cut, along")];

/// What is asked.
pub const TABLE: Table = Table {
    name: "measured",
    keys: &KEYS,
    nature: Nature { work: Work::Cut, ..Nature::FILLED },
    read,
};

fn read(values: &mut Values, _: &mut Vec<Fault>) -> Kind {
    Kind::Measured(Measured { width: values.length("width"), height: values.length("height") })
}

impl OfKind for Measured {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let outline = rectangle(self.width, self.height);
        let mut part =
            Part::new(message("part-cut-as-measured"), Stuff::Cloth, ask.cloth, outline).seen();
        part.explain(Working::of(message("work-width-as-measured"), of(self.width)).width());
        part.explain(Working::of(message("work-height-as-measured"), of(self.height)).height());
        Ok(Kit::of_sewn((vec![part], Quantities::default()), (self.width, self.height)))
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        vec![bench.cut_cloth()]
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
}
