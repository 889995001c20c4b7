//! The tapered bolster: a cone frustum laid flat, and two discs.

use super::common::{WELT, ZIP};
use super::table::{Key, Nature, Table};
use super::values::Values;
use super::{Bolster, Kind, OfKind};
use crate::bench::{Bench, Sewing, Step, Zip};
use crate::build::cover::grown_box;
use crate::build::{Ask, Kit, welt};
use crate::fault::Fault;
use crate::message::{Message, message};
use crate::part::{Filling, Mark, Meaning, Part, Quantities, Stuff};
use crate::wanted::Welt;
use crate::working::{Formula, Working, count, of};
use geometry::{Frustum, Length, Outline, Path, Vector, grow};
use std::f64::consts::PI;

/// A tapered bolster.
#[derive(Clone, Debug, PartialEq)]
pub struct TaperedBolster {
    /// Along the axis.
    pub length: Length,
    /// Diameter of the larger end.
    pub large: Length,
    /// Diameter of the smaller end; zero comes to a point.
    pub small: Length,
    /// Zip along the body.
    pub zip: bool,
    /// Welt round the ends.
    pub welt: Welt,
}

const KEYS: [Key; 5] = [
    Key::length("length", "along the middle, end to end"),
    Key::length("large", "across the larger end"),
    Key::or_zero("small", "across the smaller end"),
    ZIP,
    WELT,
];

/// What is asked of a tapered bolster.
pub const TABLE: Table =
    Table { name: "tapered bolster", keys: &KEYS, nature: Nature::FILLED, read };

fn read(values: &mut Values, _: &mut Vec<Fault>) -> Kind {
    let [length, large, small] = ["length", "large", "small"].map(|key| values.length(key));
    let (zip, welt) = (values.flag("zip"), super::common::welt(values));
    Kind::TaperedBolster(TaperedBolster { length, large, small, zip, welt })
}

/// Flatter cones have no room for their own seam.
const MOST_DEGREES: f64 = 330.0;

impl OfKind for TaperedBolster {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    /// Develops a tapered bolster; ends alike make a plain one.
    ///
    /// `s = sqrt(L^2 + ((D - d)/2)^2)`, ring radii `D s/(D - d)` and `d s/(D - d)`, angle `180 (D - d)/s`.
    ///
    /// Source: E. M. Longfield, *Sheet Metal Drafting*, chapter V. Chord and rise let the arcs be struck
    /// without a long compass. Worked: 10 to 6, 24 long: radii 60.208 and 36.125, angle 29.896 degrees,
    /// outer chord 31.061 with a rise of 2.0375.
    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let a = ask.build.allowances;
        let (large, small) = (self.large.max(self.small), self.large.min(self.small));
        let frustum = Frustum { large: large.mm(), small: small.mm(), height: self.length.mm() };
        let Some(sector) = frustum.sector() else {
            let Self { length, large: diameter, zip, welt, .. } = *self;
            let drawn = false;
            return Ok(Bolster { length, diameter, drawn, zip, welt }.rolled(ask));
        };
        let angle = frustum.angle();
        if angle.to_degrees() > MOST_DEGREES {
            return Err(vec![
                ask.fault(
                    "taper-too-flat",
                    "length",
                    message("taper-too-flat")
                        .length("length", self.length)
                        .length("large", large)
                        .length("small", small),
                    message("taper-too-flat").part("do"),
                ),
            ]);
        }
        let n = a.seam.mm();
        let seam_line = grounded(&sector);
        let body = grow(&seam_line, &vec![n; seam_line.nodes.len()]);
        let [wide, high] = grown_box(
            [message("work-cut-width"), message("work-cut-height")],
            &seam_line,
            &body,
            &[a.seam],
        );
        let mut part =
            Part::new(message("part-body"), Stuff::Cloth, ask.cloth, Outline::solid(body))
                .explained([wide.width(), high.height()]);
        part.marks.push(Mark::closed(Meaning::Stitch, seam_line));
        let taper = of(large) - of(small);
        let slant = of(self.length).squared() + (taper.clone() / 2).squared();
        let slant = Working::of(message("work-slant"), slant.root());
        let half = (angle.to_degrees() / 2.0 * 1000.0).round() / 1000.0;
        for (name, diameter) in [("outer", large), ("inner", small)] {
            if diameter <= Length::ZERO {
                continue;
            }
            let arc = |id: &'static str| message(id).text("arc", name);
            let radius = of(diameter) * of(slant.result) / taper.clone();
            let radius = Working::of(arc("work-arc-radius"), radius);
            let chord = 2 * of(radius.result) * Formula::Sine(half);
            let rise = of(radius.result) * (count(1) - Formula::Cosine(half));
            part.explain(radius);
            part.explain(Working::of(arc("work-arc-chord"), chord));
            part.explain(Working::of(arc("work-arc-rise"), rise));
        }
        part.workings.insert(0, slant);
        let mut parts = vec![part];
        let disc = |diameter: Length, name: Message| {
            let cut = Path::circle(diameter + a.seam * 2);
            let mut end = Part::new(name, Stuff::Cloth, ask.cloth, Outline::solid(cut));
            let stitch = Path::circle(diameter).moved(Vector::new(n, n));
            end.marks.push(Mark::closed(Meaning::Stitch, stitch));
            end.explain(Working::grown(message("work-disc"), diameter, &[a.seam]).both());
            end
        };
        parts.push(disc(large, message("part-end-larger")));
        let mut rounds = vec![Length::from_mm(large.mm() * PI)];
        if small > Length::ZERO {
            parts.push(disc(small, message("part-end-smaller")));
            rounds.push(Length::from_mm(small.mm() * PI));
        }
        let runs: Vec<Length> = match self.welt {
            Welt::None => Vec::new(),
            _ => rounds.iter().map(|r| *r + a.welt_lap).collect(),
        };
        let (welt, welt_length) = welt::strips(ask, &runs);
        parts.extend(welt);
        let slant = Length::from_mm(frustum.slant());
        let zip = self.zip.then_some(slant);
        let round: Length = rounds.iter().copied().sum();
        let quantities = Quantities {
            seam: slant + round * if runs.is_empty() { 1 } else { 2 },
            welt: welt_length,
            welt_runs: runs.len(),
            zip,
            wrap_mm2: if ask.wrap { sector.area() } else { 0.0 },
            fills: 1,
            filling: (ask.build.foam == Length::ZERO).then_some(Filling::Form {
                length: self.length,
                large,
                small,
            }),
            ..Quantities::default()
        };
        Ok(Kit::of_sewn((parts, quantities), (self.length, large)))
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        let roll = message("fill-tapered-roll")
            .length("large", self.large.max(self.small))
            .length("small", self.large.min(self.small))
            .length("length", self.length);
        bench.sewn(&Sewing {
            welt: self.welt,
            is_round: true,
            zip: Zip::Body,
            order: message("sew-tapered-bolster"),
            filling: bench.foam_or(roll),
        })
    }
}

/// Lower left of its box at the origin, so that places on it are small numbers.
fn grounded(path: &Path) -> Path {
    let low = path.bounds().0;
    path.moved(Vector::new(-low.x, -low.y))
}
