//! A bolster: a roll with flat ends.

use super::common::{WELT, ZIP};
use super::table::{Key, Nature, Table};
use super::values::Values;
use super::{Kind, OfKind};
use crate::bench::{Bench, Sewing, Step, Zip};
use crate::build::strips::rectangle;
use crate::build::{Ask, Kit, welt};
use crate::fault::Fault;
use crate::message::message;
use crate::part::{Filling, Mark, Meaning, Part, Quantities, Stuff};
use crate::wanted::Welt;
use crate::working::{Formula, Working, of};
use geometry::{Length, Outline, Path, Vector};

/// A bolster.
#[derive(Clone, Debug, PartialEq)]
pub struct Bolster {
    /// Finished.
    pub length: Length,
    /// Finished.
    pub diameter: Length,
    /// Its ends are drawn together instead of closed with discs.
    pub drawn: bool,
    /// Zip along the body.
    pub zip: bool,
    /// Welt round the ends.
    pub welt: Welt,
}

const KEYS: [Key; 5] = [
    Key::length("length", "end to end"),
    Key::length("diameter", "across an end"),
    Key::word("ends", &["discs", "drawn"]),
    ZIP,
    WELT.when("ends", &["discs"]),
];

/// What is asked of a bolster.
pub const TABLE: Table = Table { name: "bolster", keys: &KEYS, nature: Nature::FILLED, read };

fn read(values: &mut Values, _: &mut Vec<Fault>) -> Kind {
    Kind::Bolster(Bolster {
        length: values.length("length"),
        diameter: values.length("diameter"),
        drawn: values.is("ends", "drawn"),
        zip: values.flag("zip"),
        welt: super::common::welt(values),
    })
}

impl Bolster {
    /// A roll: a body `L + 2 n` by `pi D + 2 n` and two discs `D + 2 n`.
    ///
    /// The zip is as long as the roll, from end seam to end seam: its form must go in. Common practice (a
    /// household page: about the length of the form or a little longer).
    ///
    /// Source: development of a cylinder, geometry (D 8, L 36, seams 1/2: 26.133 x 37, discs 9).
    pub fn rolled(&self, ask: &Ask) -> Kit {
        let Self { length, diameter, drawn, zip, welt: welt_kind } = *self;
        let a = ask.build.allowances;
        let round = Length::from_mm(diameter.mm() * std::f64::consts::PI);
        let girth =
            Working::of(message("work-body-round"), Formula::Pi * of(diameter) + 2 * of(a.seam));
        let girth = girth.up_to(a.cut_step).height();
        let long = match drawn {
            // Half the end each, and the casing. Source: two household pages: length + D + 1 by round + 1.
            true => {
                let sum = of(length) + of(diameter) + 2 * of(a.seam);
                Working::of(message("work-body-length-drawn"), sum).width()
            }
            false => Working::grown(message("work-body-length"), length, &[a.seam]).width(),
        };
        let outline = rectangle(long.result, girth.result);
        let mut body = Part::new(message("part-body"), Stuff::Cloth, ask.cloth, outline)
            .explained([long, girth]);
        body.may_seam = ask.may_seam;
        let disc = Path::circle(diameter + a.seam * 2);
        let mut end = Part::new(message("part-end"), Stuff::Cloth, ask.cloth, Outline::solid(disc));
        end.marks.push(Mark::closed(
            Meaning::Stitch,
            Path::circle(diameter).moved(Vector::new(a.seam.mm(), a.seam.mm())),
        ));
        end.count = 2;
        end.explain(Working::grown(message("work-disc"), diameter, &[a.seam]).both());
        let ends = if welt_kind == Welt::None || drawn { 0 } else { 2 };
        let (welt, welt_length) = welt::strips(ask, &vec![round + a.welt_lap; ends]);
        let mut parts = vec![body];
        parts.extend((!drawn).then_some(end));
        parts.extend(welt);
        // A firm form goes in sideways only, and opens no seam that is shorter than it is long.
        let zip = zip.then_some(length);
        let quantities = Quantities {
            seam: length + round * (2 + ends as i64),
            welt: welt_length,
            welt_runs: ends,
            zip,
            wrap_mm2: if ask.wrap { length.mm() * round.mm() } else { 0.0 },
            fills: 1,
            filling: (ask.build.foam == Length::ZERO).then_some(Filling::Form {
                length,
                large: diameter,
                small: diameter,
            }),
            ..Quantities::default()
        };
        Kit::of_sewn((parts, quantities), (length, diameter))
    }
}

impl OfKind for Bolster {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        Ok(self.rolled(ask))
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        let roll = message("fill-roll");
        bench.sewn(&Sewing {
            welt: self.welt,
            is_round: true,
            zip: Zip::Body,
            order: message(if self.drawn { "sew-bolster-drawn" } else { "sew-bolster" }),
            filling: bench
                .foam_or(roll.length("across", self.diameter).length("length", self.length)),
        })
    }
}
