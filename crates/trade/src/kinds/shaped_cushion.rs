//! A boxed cushion of any outline.

use super::common::WELT;
use super::table::{Key, Nature, Sort, Table, joined};
use super::values::Values;
use super::{Kind, Mirrored, OfKind, outline};
use crate::bench::{Bench, Opening, Sewing, Step, Zip};
use crate::build::boxing::{Boxed, boxed};
use crate::build::shape::{back_side, fit_note, measured, told};
use crate::build::{Ask, Kit};
use crate::fault::Fault;
use crate::message::{Message, message};
use crate::panel::{PanelShape, side_number};
use crate::wanted::Welt;
use geometry::Length;

/// A cushion of any outline.
#[derive(Clone, Debug, PartialEq)]
pub struct ShapedCushion {
    /// Seen from above, front at the bottom.
    pub shape: PanelShape,
    /// Side with the zip, from 0; `None` for a cushion sewn shut.
    pub zip: Option<usize>,
    /// Length of the zip strip on an outline without corners; half of its round if not said.
    pub zip_length: Option<Length>,
    /// Welt.
    pub welt: Welt,
}

const KEYS: [Key; outline::COUNT + 3] = joined(
    outline::keys("of the space it fills"),
    [
        Key::optional("zip_side", Sort::Text, ""),
        Key::optional("zip_length", Sort::Length, ""),
        WELT,
    ],
);

/// What is asked of a shaped cushion.
pub const TABLE: Table = Table {
    name: "shaped cushion",
    keys: &KEYS,
    nature: Nature { is_block: true, ..Nature::CUSHION },
    read,
};

fn read(values: &mut Values, faults: &mut Vec<Fault>) -> Kind {
    let shape = outline::read(values, faults);
    let usual = usual_zip(&shape);
    let zip = match values.text("zip_side") {
        None => usual,
        Some("none") => None,
        Some("back") => usual.or(Some(2)),
        Some(other) => {
            let side = side_number(other);
            if side.is_none() {
                let what = message("unknown-side").text("name", other);
                let remedy = message("unknown-side").part("do");
                faults.push(Fault::new("unknown-side", "zip_side", what, remedy));
            }
            side
        }
    };
    Kind::ShapedCushion(ShapedCushion {
        shape,
        zip,
        zip_length: values.opt_length("zip_length"),
        welt: super::common::welt(values),
    })
}

/// The side at the back, where an outline has one.
const fn usual_zip(shape: &PanelShape) -> Option<usize> {
    match shape {
        PanelShape::Rectangle { .. } | PanelShape::Trapezoid { .. } => Some(2),
        PanelShape::Tee { ears, .. } => Some(back_side(*ears)),
        PanelShape::Disc { .. } | PanelShape::Ring { .. } => Some(0),
        _ => None,
    }
}

impl OfKind for ShapedCushion {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    fn said(&self, key: &str) -> String {
        if key == "shape" { outline::word(&self.shape).into() } else { String::new() }
    }

    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let cushion = Boxed::of(ask, &self.shape, self.zip, self.zip_length, self.welt)?;
        let size = measured(&self.shape).unwrap_or_else(|| cushion.finished.size());
        let mut kit = Kit::of_sewn(boxed(ask, &cushion, ask.build.foam), size);
        kit.outline = told(&self.shape, &[]);
        kit.warnings.extend(fit_note(&self.shape, &ask.at));
        Ok(kit)
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        let notches = message(match self.shape {
            PanelShape::Tee { .. } => "notches-inside",
            _ => "notches-curve",
        });
        let is_ring = matches!(self.shape, PanelShape::Ring { .. });
        let hole = if is_ring { message("ring-hole") } else { Message::nothing() };
        let opening = match (self.zip, usual_zip(&self.shape)) {
            (None, _) => Opening::None,
            (zip, usual) if zip == usual => Opening::Back,
            _ => Opening::Elsewhere,
        };
        let cut = bench.cut_foam();
        let filling = if is_ring {
            message("fill-foam-and").said("cut", cut).said("more", message("ring-foam"))
        } else {
            cut
        };
        bench.sewn(&Sewing {
            welt: self.welt,
            is_round: self.is_round(),
            zip: Zip::Halves,
            order: bench.boxing(opening, notches, hole),
            filling,
        })
    }

    fn mirrored(&self) -> Mirrored {
        let zip = match (self.zip, self.shape.side_count()) {
            (Some(side), Some(n)) => Some((n - side % n) % n),
            (Some(_), None) => return Mirrored::Unknown,
            (None, _) => None,
        };
        let shape = self.shape.mirrored();
        Mirrored::Other(Kind::ShapedCushion(Self { shape, zip, ..self.clone() }))
    }

    fn is_round(&self) -> bool {
        matches!(self.shape, PanelShape::Disc { .. })
    }
}
