//! The ottoman: top and sides over a padded frame, stapled under it.

use super::common::WELT;
use super::table::{Key, Nature, Table};
use super::values::Values;
use super::{Extent, Kind, OfKind};
use crate::bench::cautions::STAPLER;
use crate::bench::{Bench, Step};
use crate::build::strips::{pieced, rectangle, strip};
use crate::build::{Ask, Kit, welt};
use crate::fault::Fault;
use crate::message::{Message, message};
use crate::part::{Mark, Meaning, Part, Quantities, Stuff};
use crate::wanted::Welt;
use crate::working::{Formula, Working, of};
use geometry::{Length, Outline, Path, Vector};
use std::f64::consts::PI;

/// An ottoman. The bottom is stapled under its frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Ottoman {
    /// Left to right, or across if it is round.
    pub width: Length,
    /// Front to back; `None` if it is round.
    pub depth: Option<Length>,
    /// Covered height of the side, filling included.
    pub height: Length,
    /// Front, top and back in one length.
    pub wrapped: bool,
    /// Welt round the top.
    pub welt: Welt,
}

const KEYS: [Key; 7] = [
    Key::word("shape", &["rectangle", "round"]),
    Key::length("diameter", "across the top, over the padding").when("shape", &["round"]),
    Key::length("width", "left to right, over the padding").when("shape", &["rectangle"]),
    Key::length("depth", "front to back, over the padding").when("shape", &["rectangle"]),
    Key::length("height", "top edge to under the frame"),
    Key::word("cut", &["five sides", "wrapped"]),
    WELT,
];

/// What is asked of an ottoman.
pub const TABLE: Table = Table { name: "ottoman", keys: &KEYS, nature: Nature::BOARD, read };

fn read(values: &mut Values, faults: &mut Vec<Fault>) -> Kind {
    let (is_round, wrapped) = (values.is("shape", "round"), values.is("cut", "wrapped"));
    if is_round && wrapped {
        faults.push(Fault::new(
            "round-and-wrapped",
            "cut",
            message("round-and-wrapped"),
            message("round-and-wrapped").part("do"),
        ));
    }
    Kind::Ottoman(Ottoman {
        width: values.length(if is_round { "diameter" } else { "width" }),
        depth: (!is_round).then(|| values.length("depth")),
        height: values.length("height"),
        wrapped,
        welt: super::common::welt(values),
    })
}

impl OfKind for Ottoman {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    fn said(&self, key: &str) -> String {
        let shape = if self.depth.is_none() { "round" } else { "rectangle" };
        if key == "shape" { shape.into() } else { String::new() }
    }

    /// Develops an ottoman.
    ///
    /// ```text
    /// round:       top disc D + 2 n, band (pi D + 2 n) by (H + n + w)
    /// five sides:  top W + 2 n by D + 2 n, sides W + 2 n and D + 2 n by H + n + w
    /// wrapped:     front, top and back in one: W + 2 n by D + 2 H + 2 w; two ends D + 2 n by H + n + w
    /// ```
    ///
    /// Source: development of a cylinder and of a box, geometry; `n` where parts are sewn, the turn-under
    /// `w` where they are stapled below.
    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let a = ask.build.allowances;
        let (w, h) = (self.width, self.height);
        let under = a.turn_under + a.trim;
        let side_height = h + a.seam + under;
        let height_working = || {
            Working::of(message("work-cut-height-of-the-side"), of(h) + of(a.seam) + of(under))
                .height()
        };
        let mut parts = Vec::new();
        let (round, joined, area) = match self.depth {
            None => {
                let mut top = Part::new(
                    message("part-top"),
                    Stuff::Cloth,
                    ask.cloth,
                    Outline::solid(Path::circle(w + a.seam * 2)),
                )
                .seen();
                let stitch = Path::circle(w).moved(Vector::new(a.seam.mm(), a.seam.mm()));
                top.marks.push(Mark::closed(Meaning::Stitch, stitch));
                top.explain(Working::grown(message("work-disc"), w, &[a.seam]).both());
                let round = Length::from_mm(w.mm() * PI);
                let run = Working::of(message("work-band"), Formula::Pi * of(w) + 2 * of(a.seam));
                let run = run.up_to(a.cut_step).width();
                let band = strip(message("part-band"), ask.cloth, run.result, side_height)
                    .explained([run, height_working()]);
                let (bands, joins) = pieced(band, ask.usable, &ask.build);
                parts.push(top);
                parts.extend(bands);
                (round, side_height * (joins as i64 + 1), PI * w.mm() * w.mm() / 4.0)
            }
            Some(d) if self.wrapped => {
                let long = d + h * 2 + under * 2;
                let mut main = Part::new(
                    message("part-front-top-and-back"),
                    Stuff::Cloth,
                    ask.cloth,
                    rectangle(w + a.seam * 2, long),
                )
                .seen();
                main.explain(Working::grown(message("work-width"), w, &[a.seam]).width());
                main.explain(
                    Working::grown(message("work-front-top-and-back"), d, &[h, under]).height(),
                );
                for y in [under + h, under + h + d] {
                    let ends = [0.0, (w + a.seam * 2).mm()];
                    main.marks.push(Mark::open(
                        Meaning::Fold,
                        ends.map(|x| geometry::Point::new(x, y.mm())).to_vec(),
                    ));
                }
                let mut end = side(ask, message("part-end"), d, side_height);
                end.count = 2;
                end = end.explained([
                    Working::grown(message("work-end"), d, &[a.seam]).width(),
                    height_working(),
                ]);
                parts.extend([main, end]);
                ((w + d) * 2, (d + h * 2) * 2, w.mm() * d.mm())
            }
            Some(d) => {
                let outline = rectangle(w + a.seam * 2, d + a.seam * 2);
                let top = Part::new(message("part-top"), Stuff::Cloth, ask.cloth, outline)
                    .seen()
                    .explained([
                        Working::grown(message("work-top-width"), w, &[a.seam]).width(),
                        Working::grown(message("work-top-depth"), d, &[a.seam]).height(),
                    ]);
                parts.push(top);
                for (name, width) in [("front-and-back", w), ("end", d)] {
                    let mut part = side(
                        ask,
                        message(if name == "end" { "part-end" } else { "part-front-and-back" }),
                        width,
                        side_height,
                    );
                    part.count = 2;
                    let across = Working::grown(
                        message(if name == "end" { "work-end" } else { "work-front-and-back" }),
                        width,
                        &[a.seam],
                    )
                    .width();
                    parts.push(part.explained([across, height_working()]));
                }
                ((w + d) * 2, (w + d) * 2 + h * 4, w.mm() * d.mm())
            }
        };
        let runs = if self.welt == Welt::None { vec![] } else { vec![round + a.welt_lap] };
        let (welt, welt_length) = welt::strips(ask, &runs);
        parts.extend(welt);
        let flat = |name: Message, stuff: Stuff, material: &str| {
            let outline = match self.depth {
                None => Outline::solid(Path::circle(w)),
                Some(d) => rectangle(w, d),
            };
            Part::new(name, stuff, material, outline)
        };
        parts.extend(ask.foam.map(|name| flat(message("part-foam"), Stuff::Foam, name)));
        parts.extend(ask.board.map(|name| flat(message("part-board"), Stuff::Board, name)));
        let seam_once = if self.depth.is_none() { joined + round } else { joined };
        let quantities = Quantities {
            staple_line: round,
            corner_line: if self.depth.is_some() { a.pleat * 16 } else { Length::ZERO },
            glue_mm2: if ask.foam.is_some() { area } else { 0.0 },
            seam: seam_once + runs.iter().copied().sum(),
            welt: welt_length,
            welt_runs: runs.len(),
            wrap_mm2: if ask.wrap { area + round.mm() * h.mm() } else { 0.0 },
            fills: 0,
            ..Quantities::default()
        };
        Ok(Kit::of_sewn((parts, quantities), (w, self.depth.unwrap_or(w))))
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        let mut steps = vec![Step::new(message("step-ottoman-frame"), &[])];
        steps.extend(bench.groundwork(Length::ZERO));
        steps.push(bench.cut_cloth());
        if self.welt != Welt::None {
            steps.push(bench.welt_step());
        }
        let order = message(match (self.depth, self.wrapped) {
            (None, _) => "sew-ottoman-round",
            (Some(_), true) => "sew-ottoman-wrapped",
            (Some(_), false) => "sew-ottoman-box",
        });
        steps.push(bench.sew(order));
        let pull_on = message("step-ottoman-pull-on").said("staples", bench.staples());
        steps.push(Step::new(pull_on, &[STAPLER]));
        steps.push(bench.trim());
        steps
    }

    fn extent(&self, _: (Length, Length), _: Option<Length>) -> Extent {
        let sizes = [Some(self.width), self.depth, Some(self.height)];
        Extent::Sizes(sizes.into_iter().flatten().collect())
    }

    fn is_round(&self) -> bool {
        self.depth.is_none()
    }
}

fn side(ask: &Ask, name: Message, width: Length, height: Length) -> Part {
    let n = ask.build.allowances.seam;
    Part::new(name, Stuff::Cloth, ask.cloth, rectangle(width + n * 2, height))
}
