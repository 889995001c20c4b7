//! A knife-edge cushion: two faces sewn edge to edge over a crowned filling.

use super::common::{WELT, ZIP};
use super::table::{Key, Nature, Sort, Table};
use super::values::Values;
use super::{Kind, OfKind};
use crate::bench::{Bench, Sewing, Step, Zip};
use crate::build::strips::rectangle;
use crate::build::{Ask, Kit, welt};
use crate::fault::Fault;
use crate::message::message;
use crate::part::{Filling, Mark, Meaning, Part, Quantities, Stuff};
use crate::wanted::Welt;
use crate::working::{Working, of};
use geometry::{Length, grow};

/// A knife-edge cushion.
#[derive(Clone, Debug, PartialEq)]
pub struct KnifeEdge {
    /// Finished.
    pub width: Length,
    /// Finished.
    pub height: Length,
    /// Added for the crown, each way.
    pub crown: Length,
    /// Zip along the bottom.
    pub zip: bool,
    /// The back in two that lie over one another by so much as cut, hems taken out of it; instead of a zip.
    pub overlap: Option<Length>,
    /// Its filling is larger than the cover by this, each way.
    pub filling_beyond: Length,
    /// Welt round the edge.
    pub welt: Welt,
}

const KEYS: [Key; 8] = [
    Key::length("width", "seam to seam, laid flat").from_run(),
    Key::length("height", "seam to seam, laid flat"),
    Key::or_zero("crown", "more cloth each way for a full filling"),
    Key::word("back", &["whole", "envelope"]),
    Key::optional("overlap", Sort::Length, "").when("back", &["envelope"]),
    Key::or_zero("filling_beyond", ""),
    ZIP,
    WELT,
];

/// What is asked of a knife-edge cushion.
pub const TABLE: Table =
    Table { name: "knife-edge cushion", keys: &KEYS, nature: Nature::FILLED, read };

fn read(values: &mut Values, _: &mut Vec<Fault>) -> Kind {
    let [width, height, crown] = ["width", "height", "crown"].map(|key| values.length(key));
    Kind::KnifeEdge(KnifeEdge {
        width,
        height,
        crown,
        zip: values.flag("zip") && !values.is("back", "envelope"),
        overlap: values.is("back", "envelope").then(|| {
            // A hand's width and two hems. Common practice, no source.
            let usual = if values.is_metric { 150.0 } else { 152.4 };
            values.opt_length("overlap").unwrap_or(Length::from_mm(usual))
        }),
        filling_beyond: values.length("filling_beyond"),
        welt: super::common::welt(values),
    })
}

impl OfKind for KnifeEdge {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    /// Two faces sewn edge to edge over a crowned filling.
    ///
    /// `cut = finished + 2 n + crown`. Source: the half-inch seam rule of home-furnishing texts (cut
    /// 20, seams 1/2, finishes 19); the crown is common practice, no source.
    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let Self { width, height, crown, zip, overlap, welt: welt_kind, .. } = *self;
        let a = ask.build.allowances;
        let cut = |finished: Length| finished + a.seam * 2 + crown;
        let outline = rectangle(cut(width), cut(height));
        let mut face =
            Part::new(message("part-front-panel"), Stuff::Cloth, ask.cloth, outline).seen();
        let seam_line = grow(&face.outline.outer, &[-a.seam.mm(); 4]);
        face.marks.push(Mark::closed(Meaning::Stitch, seam_line));
        let sum = |finished: Length| (of(finished) + 2 * of(a.seam)).and(crown);
        face.explain(Working::of(message("work-cut-width"), sum(width)).width());
        face.explain(Working::of(message("work-cut-height"), sum(height)).height());
        let mut back = Part { name: message("part-back-panel"), seen: false, ..face.clone() };
        back.material = ask.under.unwrap_or(ask.cloth).into();
        if let Some(overlap) = overlap {
            // Two halves; source: a household magazine's envelope pillow, 18 in: backs 18 x (18 + 6) / 2 = 12.
            let half = (of(cut(height)) + of(overlap)) / 2;
            let half = Working::of(message("work-envelope-half"), half).up_to(a.cut_step).height();
            back.outline = rectangle(cut(width), half.result);
            back.marks.clear();
            back.count = 2;
            back.explain(half);
        }
        let perimeter = (width + height) * 2;
        let runs = if welt_kind == Welt::None { vec![] } else { vec![perimeter + a.welt_lap] };
        let (welt, welt_length) = welt::strips(ask, &runs);
        let mut parts = vec![face, back];
        parts.extend(welt);
        if let Some(name) = ask.foam {
            parts.push(Part::new(
                message("part-foam"),
                Stuff::Foam,
                name,
                rectangle(width, height),
            ));
        }
        let zip = zip.then(|| width - a.seam * 2);
        let quantities = Quantities {
            seam: perimeter * if welt_kind == Welt::None { 1 } else { 2 }
                + zip.unwrap_or_default() * 2
                + overlap.map_or(Length::ZERO, |_| width * 2),
            welt: welt_length,
            welt_runs: runs.len(),
            zip,
            wrap_mm2: if ask.wrap { 2.0 * width.mm() * height.mm() } else { 0.0 },
            fills: 1,
            filling: (ask.build.foam == Length::ZERO).then_some(self.inner()),
            ..Quantities::default()
        };
        Ok(Kit::of_sewn((parts, quantities), (width, height)))
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        let inner = message("fill-inner").flag("larger", self.filling_beyond == Length::ZERO);
        let (wide, high) = self.filling();
        bench.sewn(&Sewing {
            welt: self.welt,
            is_round: false,
            zip: Zip::LowerEdge,
            order: message(if self.overlap.is_some() { "sew-envelope" } else { "sew-knife-edge" }),
            filling: bench.foam_or(inner.number("width", wide).length("height", high)),
        })
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

impl KnifeEdge {
    /// Width and height of its filling: the cover's and so much more.
    ///
    /// Source: a pillow maker's page, from memory: the cover an inch smaller than the pad up to 17 in, two
    /// inches above.
    fn filling(&self) -> (Length, Length) {
        (self.width + self.filling_beyond, self.height + self.filling_beyond)
    }

    fn inner(&self) -> Filling {
        let (width, height) = self.filling();
        Filling::Inner(width, height)
    }
}
