//! A back bent to a curve: its inside and outside faces differ in length, and each is cut in as many
//! widths as the cloth asks for.

use super::table::{Key, Nature, Sort, Table, words};
use super::values::Values;
use super::{Kind, OfKind};
use crate::bench::cautions::{NEEDLE, STAPLER};
use crate::bench::{Bench, Step};
use crate::build::strips::rectangle;
use crate::build::{Ask, Kit};
use crate::fault::Fault;
use crate::message::message;
use crate::panel::Side;
use crate::part::{CornerHow, CornerWork, Mark, Meaning, Part, Stuff};
use crate::working::{Formula, HUNDREDTH, Working, of};
use geometry::{Arc, Length, Path, Point};

/// Which faces of a curved back are covered.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CurvedFaces {
    /// The hollow side, padded.
    #[default]
    Inside,
    /// The bulging side, padded.
    Outside,
    /// The hollow side padded, the bulging one plain.
    Both,
}

/// A curved back, measured on the board's inside face.
#[derive(Clone, Debug, PartialEq)]
pub struct CurvedBack {
    /// End to end, straight.
    pub chord: Length,
    /// Depth of the curve in the middle of the chord.
    pub rise: Length,
    /// Upright.
    pub height: Length,
    /// Which faces.
    pub faces: CurvedFaces,
    /// How many widths a face is made of; as many as the cloth's width asks for if not said.
    pub panels: Option<usize>,
}

const FACES: [(&str, CurvedFaces); 3] = [
    ("inside", CurvedFaces::Inside),
    ("outside", CurvedFaces::Outside),
    ("both", CurvedFaces::Both),
];
const FACE_WORDS: [&str; 3] = words(&FACES);
const KEYS: [Key; 5] = [
    Key::length("chord", "straight across the hollow, end to end of the board"),
    Key::or_zero("rise", "from that line to the board, in the middle"),
    Key::length("height", "upright; at both ends and the middle"),
    Key::word("faces", &FACE_WORDS),
    Key::optional("panels", Sort::Count(1, 60), ""),
];

/// What is asked of a curved back.
pub const TABLE: Table = Table { name: "curved back", keys: &KEYS, nature: Nature::BOARD, read };

fn read(values: &mut Values, _: &mut Vec<Fault>) -> Kind {
    Kind::CurvedBack(CurvedBack {
        chord: values.length("chord"),
        rise: values.length("rise"),
        height: values.length("height"),
        faces: values.choice("faces", &FACES).unwrap_or_default(),
        panels: values.opt_count("panels"),
    })
}

/// Names of a face's cover: in one, and its widths.
const WIDTHS: [&str; 4] = ["part-face", "part-face-left", "part-face-middle", "part-face-right"];

/// Most widths of one face.
const MOST_PANELS: usize = 60;

impl OfKind for CurvedBack {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    /// Develops a curved back; chord and rise are those of the board's hollow face.
    ///
    /// ```text
    /// R = c^2/8h + h/2    angle = 2 asin(c/2R)    face of radius r is r x angle long
    /// hollow face padded: r = R - f      bulging face: r = R + b, padded R + b + f
    /// ```
    ///
    /// Source: the chord theorem and arc length; worked in carpentry columns (chord 96, rise 12: R 102).
    /// Common practice besides: a traced template wins over the sum.
    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let (f, b) = (ask.build.foam + ask.build.wrap, ask.build.board);
        let arc = Arc::over(self.chord.mm(), self.rise.mm()).map_err(|_| {
            vec![ask.fault(
                "rise-too-great",
                "rise",
                message("rise-too-great").length("chord", self.chord).length("rise", self.rise),
                message("rise-too-great").part("do"),
            )]
        })?;
        let (radius, angle) = (arc.radius(), arc.angle());
        if self.faces != CurvedFaces::Outside && radius <= f.mm() {
            return Err(vec![ask.fault(
                "curve-too-tight",
                "foam",
                message("curve-too-tight").length("f", f).chalk("radius", Length::from_mm(radius)),
                message("curve-too-tight").part("do"),
            )]);
        }
        // A straight back is the chord at any depth.
        let long =
            |off: f64| if self.rise == Length::ZERO { arc.chord } else { (radius + off) * angle };
        let along = |what: &'static str, off: Length| {
            let formula = if self.rise == Length::ZERO {
                of(self.chord)
            } else if off == Length::ZERO {
                Formula::Arc(self.chord, self.rise)
            } else {
                let (arc, radius) = (Length::from_mm(long(0.0)), Length::from_mm(radius));
                let of_radius = of(radius.round_even(HUNDREDTH));
                let there = if off > Length::ZERO {
                    of_radius.clone() + of(off)
                } else {
                    of_radius.clone() - of(off.abs())
                };
                of(arc.round_even(HUNDREDTH)) * there / of_radius
            };
            Working::of(message("work-along-curve").said("what", message(what)), formula)
        };
        let mut kit = Kit { finished: (self.chord, self.height), ..Kit::default() };
        let board_face = Length::from_mm(long(0.0)).round_even(HUNDREDTH);
        if self.rise > Length::ZERO {
            let (c, h) = (of(self.chord), of(self.rise));
            let radius = c.squared() / (8 * h.clone()) + h / 2;
            kit.workings = vec![
                Working::of(message("work-radius-of-the-board-s-hollow-face"), radius),
                along("curve-hollow-face", Length::ZERO),
            ];
        }
        let reach = ask.build.reach(&Side::default());
        let (hollow, bulge) = (along("curve-inside", -f), along("curve-outside", b + f));
        match self.faces {
            CurvedFaces::Inside => face(ask, self, true, hollow, reach, &mut kit),
            CurvedFaces::Outside => face(ask, self, false, bulge, reach, &mut kit),
            CurvedFaces::Both => {
                face(ask, self, true, hollow, reach, &mut kit);
                let plain = along("curve-outside", b);
                kit.quantities.tack_strip = (plain.result + self.height) * 2;
                face(ask, self, false, plain, ask.build.allowances.tack_strip, &mut kit);
            }
        }
        let step = ask.build.allowances.cut_step;
        let flat = |off: Length, stuff: Stuff, name: &'static str, material: &str| {
            let long = along(name, off).up_to(step).width();
            Part::new(message(name), stuff, material, rectangle(long.result, self.height))
                .explained([long])
        };
        let outward = self.faces == CurvedFaces::Outside;
        let middle_of_foam = if outward { b + f.share(2) } else { -f.share(2) };
        if let Some(name) = ask.foam {
            kit.parts.push(flat(middle_of_foam, Stuff::Foam, "part-foam", name));
        }
        if let Some(name) = ask.board {
            kit.parts.push(flat(b.share(2), Stuff::Board, "part-board-to-bend", name));
        }
        let area = board_face.mm() * self.height.mm();
        let q = &mut kit.quantities;
        q.staple_line = (board_face + self.height) * 2;
        q.corner_line = (ask.build.allowances.pleat * 16).min(q.staple_line);
        q.glue_mm2 = if f > Length::ZERO && b > Length::ZERO { area } else { 0.0 };
        q.wrap_mm2 = if ask.wrap { area } else { 0.0 };
        let (w, h) = (board_face.mm(), self.height.mm());
        kit.corners = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)]
            .into_iter()
            .enumerate()
            .map(|(corner, (x, y))| CornerWork {
                corner,
                at: Point::new(x, y),
                how: CornerHow::Square,
            })
            .collect();
        Ok(kit)
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        let check = message("step-curve-check").length("chord", self.chord);
        let mut steps = vec![Step::new(check.length("rise", self.rise), &[])];
        steps.extend(bench.groundwork(Length::ZERO));
        steps.push(bench.cut_cloth());
        let widths = bench.made.parts.iter().filter(|p| WIDTHS[1..].iter().any(|id| p.name.is(id)));
        if widths.count() > 1 {
            steps.push(Step::new(message("step-curve-join"), &[NEEDLE]));
        }
        steps.push(match self.faces {
            CurvedFaces::Outside => bench.edges(),
            _ => {
                let hollow = message("step-curve-hollow").said("staples", bench.staples());
                Step::new(hollow, &[STAPLER])
            }
        });
        steps.extend(bench.corners("step-corners"));
        if self.faces == CurvedFaces::Both {
            let allowed = bench.allowances.tack_strip;
            let outside = message("step-curve-outside").length("allowed", allowed);
            steps.push(Step::new(outside, &[STAPLER]));
        }
        steps.push(bench.trim());
        steps
    }
}

/// One face along the curve, in equal widths, with `beyond` on every outer edge.
fn face(ask: &Ask, back: &CurvedBack, inside: bool, along: Working, beyond: Length, kit: &mut Kit) {
    let a = ask.build.allowances;
    let arc = along.result.round_even(HUNDREDTH);
    let name = |which: &'static str| message(which).flag("inside", inside);
    let cut = |k: usize, which: &'static str, left: Length, right: Length| {
        let sum = of(arc) / k as i64 + of(left) + of(right);
        Working::of(name(which), sum).up_to(a.cut_step).width()
    };
    let widest = |k: usize| match k {
        1 => cut(1, WIDTHS[0], beyond, beyond).result,
        _ => cut(k, WIDTHS[0], a.seam, beyond.max(a.seam)).result,
    };
    let k = match back.panels {
        Some(k) => k.max(1),
        None if ask.railroads => 1,
        None => (1..=MOST_PANELS).find(|&k| widest(k) <= ask.usable).unwrap_or(1),
    };
    let height = Working::grown(message("work-cut-height"), back.height, &[beyond]).height();
    let pieces: &[(&'static str, Length, Length, usize)] = match k {
        1 => &[(WIDTHS[0], beyond, beyond, 1)],
        2 => &[(WIDTHS[1], beyond, a.seam, 1), (WIDTHS[3], a.seam, beyond, 1)],
        _ => &[
            (WIDTHS[1], beyond, a.seam, 1),
            (WIDTHS[2], a.seam, a.seam, k - 2),
            (WIDTHS[3], a.seam, beyond, 1),
        ],
    };
    let share = arc.share(k as i64);
    for &(which, left, right, count) in pieces {
        let width = cut(k, which, left, right);
        let outline = rectangle(width.result, height.result);
        let mut part = Part::new(name(which), Stuff::Cloth, ask.cloth, outline).seen().explained([
            along.clone(),
            width,
            height.clone(),
        ]);
        part.count = count;
        part.divided = (k > 1 && back.panels.is_none()).then(|| share.mm() * height.result.mm());
        let (x0, x1) = (left.mm(), left.mm() + share.mm());
        let (y0, y1) = (beyond.mm(), (beyond + back.height).mm());
        let board = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)];
        part.marks.push(Mark::closed(
            Meaning::BoardEdge,
            Path::straight(&board.map(|(x, y)| Point::new(x, y))),
        ));
        let middle = (x0 + x1) / 2.0;
        let top = height.result.mm();
        for (from, to) in [(0.0, 8.0), (top, top - 8.0)] {
            part.marks.push(Mark::open(
                Meaning::Centre,
                vec![Point::new(middle, from), Point::new(middle, to)],
            ));
        }
        kit.parts.push(part);
    }
    kit.quantities.seam += height.result * (k as i64 - 1);
}
