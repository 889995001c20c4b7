//! The waterfall cushion: one panel from the back edge over the top, round the front and under the
//! bottom to the back edge; two ends; a zip strip along the back.

use super::common::{WELT, ZIP};
use super::table::{Key, Nature, Table};
use super::values::Values;
use super::{Kind, OfKind};
use crate::bench::{Bench, Sewing, Step, Zip};
use crate::build::boxing::zip_width;
use crate::build::strips::{rectangle, strip};
use crate::build::{Ask, Kit, welt};
use crate::fault::Fault;
use crate::message::message;
use crate::part::{Mark, Meaning, Part, Quantities, Stuff};
use crate::wanted::Welt;
use crate::working::{Formula, Working, of};
use geometry::{Corner, Length, Outline, Path, Point, Vector, grow};

/// A waterfall cushion.
#[derive(Clone, Debug, PartialEq)]
pub struct WaterfallCushion {
    /// Left to right.
    pub width: Length,
    /// Front to back over all.
    pub depth: Length,
    /// The front is a half round (a bullnose), else square.
    pub round: bool,
    /// Zip along the back.
    pub zip: bool,
    /// Welt along the ends.
    pub welt: Welt,
}

const KEYS: [Key; 5] = [
    Key::length("width", "left to right"),
    Key::length("depth", "front to back over all, the front's bulge included"),
    Key::word("front", &["round", "square"]),
    ZIP,
    WELT,
];

/// What is asked of a waterfall cushion.
pub const TABLE: Table = Table {
    name: "waterfall cushion",
    keys: &KEYS,
    nature: Nature { is_block: true, ..Nature::CUSHION },
    read,
};

fn read(values: &mut Values, _: &mut Vec<Fault>) -> Kind {
    Kind::WaterfallCushion(WaterfallCushion {
        width: values.length("width"),
        depth: values.length("depth"),
        round: values.is("front", "round"),
        zip: values.flag("zip"),
        welt: super::common::welt(values),
    })
}

impl OfKind for WaterfallCushion {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    /// Develops a waterfall cushion of thickness `t`.
    ///
    /// ```text
    /// half-round front (bullnose): main = 2 (D - T/2) + pi T/2 + 2 n      square front: main = 2 D + T + 2 n
    /// ends = D + 2 n by T + 2 n, the front a half round;  zip strip as on a boxed cushion
    /// ```
    ///
    /// Source: D. Casey, boat canvas handbook, International Marine, ISBN 0-07-013391-3, for the method: the run from back edge over top, front and bottom to the back edge plus an inch,
    /// width plus an inch, ends an inch larger both ways with a half round, notches at 12, 3 and 6 o'clock.
    /// Worked: 22 wide, 20 deep, 4 thick: 43.283 by 23, ends 21 by 5.
    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let t = ask.build.foam;
        if t <= Length::ZERO {
            return Err(vec![ask.no_foam("a-waterfall-cushion")]);
        }
        let a = ask.build.allowances;
        let (w, d) = (self.width, self.depth);
        if self.round && d <= t.share(2) {
            return Err(vec![ask.fault(
                "front-too-thick",
                "depth",
                message("front-too-thick").length("t", t),
                message("front-too-thick").part("do"),
            )]);
        }
        let half_round = Length::from_mm(t.mm() * std::f64::consts::FRAC_PI_2);
        let run = if self.round { (d - t.share(2)) * 2 + half_round } else { d * 2 + t };
        let along = if self.round {
            2 * (of(d) - of(t) / 2) + Formula::Pi * of(t) / 2
        } else {
            2 * of(d) + of(t)
        };
        let along =
            Working::of(message("work-main-panel-back-edge-to-back-edge"), along + 2 * of(a.seam));
        let along = along.up_to(a.cut_step).up_to(ask.build.style.mark).height();
        let across = Working::grown(message("work-main-panel-width"), w, &[a.seam]).width();
        let long = along.result;
        let mut main = strip(message("part-main-panel"), ask.cloth, across.result, long).seen();
        main = main.explained([along, across]);
        // The roll's top is the back edge of the top; from there down to the front.
        let (left, right) = (0.0, (w + a.seam * 2).mm());
        let from_top = |y: Length| long.mm() - a.seam.mm() - y.mm();
        let top_run = if self.round { d - t.share(2) } else { d };
        let front = if self.round { half_round } else { t };
        let clock = [top_run, top_run + front.share(2), top_run + front];
        for y in clock.map(from_top) {
            for (x, by) in [(left, a.seam.mm()), (right, -a.seam.mm())] {
                main.marks.push(Mark::open(
                    Meaning::Notch,
                    vec![Point::new(x, y), Point::new(x + by, y)],
                ));
            }
        }
        for y in [clock[0], clock[2]].map(from_top) {
            main.marks
                .push(Mark::open(Meaning::Fold, vec![Point::new(left, y), Point::new(right, y)]));
        }
        // From above the top is seen, from the back seam to where it turns down.
        let seen = rectangle(w, top_run).outer;
        let low = Vector::new(a.seam.mm(), from_top(top_run));
        main.face = Some(seen.moved(low));
        let end_line = end_outline(d, t, self.round);
        let mut end = Part::new(
            message("part-end"),
            Stuff::Cloth,
            ask.cloth,
            Outline::solid(grow(&end_line, &vec![a.seam.mm(); end_line.nodes.len()])),
        );
        end.count = 2;
        let clock = if self.round {
            let (r, x) = (t.mm() / 2.0, t.mm() / 2.0);
            vec![(x, t.mm(), 0.0, 1.0), (0.0, r, -1.0, 0.0), (x, 0.0, 0.0, -1.0)]
        } else {
            vec![(0.0, t.mm() / 2.0, -1.0, 0.0)]
        };
        for (x, y, dx, dy) in clock {
            let n = a.seam.mm();
            let tip = Point::new(x + dx * n, y + dy * n);
            end.marks.push(Mark::open(Meaning::Notch, vec![Point::new(x, y), tip]));
        }
        end.marks.push(Mark::closed(Meaning::Stitch, end_line.clone()));
        end.explain(Working::grown(message("work-end-length"), d, &[a.seam]).width());
        end.explain(Working::grown(message("work-end-height"), t, &[a.seam]).height());
        let mut parts = vec![main, end];
        if self.zip {
            let height = zip_width(ask, t);
            let mut half =
                strip(message("part-zip-strip-half"), ask.cloth, w + a.seam * 2, height.result);
            half.count = 2;
            let length = Working::grown(message("work-zip-strip-length"), w, &[a.seam]).width();
            parts.push(half.explained([length, height]));
        } else {
            let back = strip(message("part-back-strip"), ask.cloth, w + a.seam * 2, t + a.seam * 2);
            let length = Working::grown(message("work-back-strip-length"), w, &[a.seam]).width();
            let height = Working::grown(message("work-back-strip-width"), t, &[a.seam]).height();
            parts.push(back.explained([length, height]));
        }
        let round_end = Length::from_mm(end_line.perimeter());
        let runs = match self.welt {
            Welt::None => vec![],
            _ => vec![round_end + a.welt_lap; 2],
        };
        let (welt, welt_length) = welt::strips(ask, &runs);
        parts.extend(welt);
        if let Some(name) = ask.foam {
            let over = a.foam_oversize;
            let outline = rectangle(w + over * 2, d + over * 2);
            let name_of = if self.round { "part-foam-front-rounded" } else { "part-foam" };
            parts.push(Part::new(message(name_of), Stuff::Foam, name, outline).explained([
                Working::grown(message("work-foam-width"), w, &[over]).width(),
                Working::grown(message("work-foam-depth"), d, &[over]).height(),
            ]));
        }
        let quantities = Quantities {
            seam: round_end * (2 + runs.len() as i64)
                + w * 2
                + if self.zip { w * 2 } else { Length::ZERO },
            welt: welt_length,
            welt_runs: runs.len(),
            zip: self.zip.then_some(w),
            wrap_mm2: if ask.wrap { run.mm() * w.mm() + 2.0 * end_line.area() } else { 0.0 },
            fills: 1,
            ..Quantities::default()
        };
        Ok(Kit::of_sewn((parts, quantities), (w, d)))
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        let (order, filling) = if self.round {
            let filling = bench.cut_foam_and(message("fill-waterfall"));
            (message("sew-waterfall-round"), filling)
        } else {
            (message("sew-waterfall-square").flag("zip", self.zip), bench.cut_foam())
        };
        bench.sewn(&Sewing { welt: self.welt, is_round: false, zip: Zip::Halves, order, filling })
    }
}

/// An end from the side, the front at the left.
fn end_outline(d: Length, t: Length, round: bool) -> Path {
    let (d, t) = (d.mm(), t.mm());
    let corner = |x: f64, y: f64, rise: f64| Corner { at: Point::new(x, y), radius: 0.0, rise };
    if !round {
        let points = [(0.0, 0.0), (d, 0.0), (d, t), (0.0, t)];
        return Path::straight(&points.map(|(x, y)| Point::new(x, y)));
    }
    let r = t / 2.0;
    // Each quarter of the half round rises so far over its chord.
    let rise = r * (1.0 - std::f64::consts::FRAC_1_SQRT_2);
    let corners = [
        corner(r, 0.0, 0.0),
        corner(d, 0.0, 0.0),
        corner(d, t, 0.0),
        corner(r, t, rise),
        corner(0.0, r, rise),
    ];
    Path::from_corners(&corners).unwrap_or_else(|_| Path::straight(&[]))
}
