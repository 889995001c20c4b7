//! Skirts: pleated all along, or flat with an inverted pleat at each corner.

use super::common::missing;
use super::table::{Key, Nature, Sort, Table, Unsaid};
use super::values::Values;
use super::{Kind, Mirrored, OfKind};
use crate::bench::cautions::{NEEDLE, STAPLER};
use crate::bench::{Bench, Step};
use crate::build::strips::{pieced_odd, rectangle, strip};
use crate::build::{Ask, Kit};
use crate::fault::Fault;
use crate::message::{Between, Message, message};
use crate::part::{Mark, Meaning, Part, Quantities, Stuff};
use crate::working::{Working, of};
use geometry::{Length, Point};

/// How a skirt is pleated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pleating {
    /// Flat, with an inverted pleat over an underlay at each corner.
    Corners {
        /// Folded back at each end of a side.
        fold: Length,
    },
    /// Pleats all along.
    Even {
        /// Face of a pleat, finished.
        spacing: Length,
        /// How far a fold goes under.
        depth: Length,
        /// Folds under each face: two of a box or inverted pleat (one is the other's back), one of a knife
        /// pleat.
        folds: i64,
    },
    /// Gathered: so many hundredths of the run.
    Gathered {
        /// Percent of the run: 200 is twice.
        percent: usize,
    },
}

/// A skirt.
#[derive(Clone, Debug, PartialEq)]
pub struct Skirt {
    /// Each side it hangs from, in order.
    pub sides: Vec<Length>,
    /// Finished height.
    pub drop: Length,
    /// Turned up at the bottom; not for a lined skirt.
    pub hem: Length,
    /// Lined with itself: cut twice as high.
    pub lined: bool,
    /// How it is pleated.
    pub pleats: Pleating,
}

const EVEN: &[&str] = &["box", "inverted", "knife"];
const CORNER: &[&str] = &["corner"];
const KEYS: [Key; 9] = [
    Key::optional("sides", Sort::Lengths, "each side it hangs from, in order"),
    Key::length("drop", "from where it is fixed to a finger above the floor"),
    Key::optional(
        "pleats",
        Sort::Word(&["box", "inverted", "knife", "corner", "gathered", "none"]),
        "",
    ),
    Key::length("spacing", "face of a pleat, finished").when("pleats", EVEN),
    Key::optional("fold", Sort::Length, "how far a fold goes under").when("pleats", EVEN),
    Key::length("fold", "folded back at each corner").when("pleats", CORNER),
    Key::new("fullness_percent", Sort::Count(110, 400), "")
        .unsaid(Unsaid::Count(200))
        .when("pleats", &["gathered"]),
    Key::flag("lined", false),
    Key::optional("hem", Sort::LengthOrZero, "").when("lined", &["false"]),
];

/// What is asked of a skirt.
pub const TABLE: Table = Table {
    name: "skirt",
    keys: &KEYS,
    nature: Nature { had_cover: false, takes_foam: false, takes_board: false, ..Nature::BOARD },
    read,
};

fn read(values: &mut Values, faults: &mut Vec<Fault>) -> Kind {
    let sides = values.lengths("sides");
    if sides.is_empty() {
        faults.push(missing("sides", message("missing-sides")));
    }
    let pleats = match values.opt_word("pleats") {
        Some("gathered") => Pleating::Gathered { percent: values.count("fullness_percent") },
        // Falls straight, from corner to corner.
        Some("none") => Pleating::Corners { fold: Length::ZERO },
        Some("corner") => Pleating::Corners { fold: values.length("fold") },
        Some(word) => {
            let folds = if word == "knife" { 1 } else { 2 };
            let spacing = values.length("spacing");
            // Full pleats: the folds meet behind each face.
            let depth = values.opt_length("fold").unwrap_or(spacing.share(folds));
            Pleating::Even { spacing: spacing.max(Length::from_mm(1.0)), depth, folds }
        }
        None => {
            if !values.has("pleats") {
                faults.push(missing("pleats", message("missing-pleats")));
            }
            Pleating::Corners { fold: Length::ZERO }
        }
    };
    let lined = values.flag("lined");
    // Common practice, no source.
    let usual = if values.is_metric { Length::from_mm(25.0) } else { Length::from_inches(1.0) };
    let hem = if lined { Length::ZERO } else { values.opt_length("hem").unwrap_or(usual) };
    Kind::Skirt(Skirt { sides, drop: values.length("drop"), hem, lined, pleats })
}

/// Whole pleats on each side, as near the spacing as they come.
pub fn pleats(sides: &[Length], spacing: Length) -> Vec<i64> {
    sides.iter().map(|side| ((side.mm() / spacing.mm()).round() as i64).max(1)).collect()
}

/// Cloth a pleated run takes: each side, and for each of its pleats twice the depth of each fold.
///
/// Source: count the layers; sewing teaching page (knife pleats, spacing 2, depth 2, 1, 4, 3: three, two,
/// five and four times the run); full box pleats, their folds meeting behind the face, take three times
/// the run, common practice, no source.
pub fn fullness(sides: &[Length], spacing: Length, depth: Length, folds: i64) -> Length {
    let count: i64 = pleats(sides, spacing).iter().sum();
    sides.iter().copied().sum::<Length>() + depth * (2 * folds * count)
}

impl OfKind for Skirt {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    fn said(&self, key: &str) -> String {
        match (key, self.pleats) {
            ("pleats", Pleating::Even { folds: 1, .. }) => "knife".into(),
            ("pleats", Pleating::Even { .. }) => "box".into(),
            ("pleats", Pleating::Gathered { .. }) => "gathered".into(),
            ("pleats", Pleating::Corners { fold: Length::ZERO }) => "none".into(),
            ("pleats", Pleating::Corners { .. }) => "corner".into(),
            ("lined", _) => self.lined.to_string(),
            _ => String::new(),
        }
    }

    /// Develops a skirt.
    ///
    /// Cut height: `drop + hem + n`, or `2 drop + 2 n` when it is lined with itself. With corner pleats each
    /// side is `side + 2 fold` with a seam at either end, and an underlay of two folds lies behind each corner.
    ///
    /// Source: published soft-furnishing text: sides + 11 cm at both ends, underlay 22 cm, cut depth twice
    /// the drop + 2.5 cm.
    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let a = ask.build.allowances;
        let run: Length = self.sides.iter().copied().sum();
        let (height, height_working) = if self.lined {
            let height = self.drop * 2 + a.seam * 2;
            let sum = 2 * of(self.drop) + 2 * of(a.seam);
            (height, Working::of(message("work-cut-height-lined-with-itself"), sum).height())
        } else {
            let height = self.drop + self.hem + a.seam;
            let sum = of(self.drop) + of(self.hem) + of(a.seam);
            (height, Working::of(message("work-cut-height"), sum).height())
        };
        let mut kit = Kit { finished: (run, self.drop), ..Kit::default() };
        let mut seam = run;
        match self.pleats {
            Pleating::Even { spacing, depth, folds } => {
                if depth * folds > spacing {
                    kit.warnings.push(self.overlap(ask, spacing, folds));
                }
                let number: i64 = pleats(&self.sides, spacing).iter().sum();
                let what = message("work-cloth-for-pleats").count("pleats", number);
                let whole = Working::of(what, of(run) + number * ((2 * folds) * of(depth)));
                let total = fullness(&self.sides, spacing, depth, folds);
                let mut part = in_widths(ask, total, whole, height_working)?;
                let each = part.size().0;
                part.marks = pleat_marks((spacing, depth, folds), a.seam, each, height);
                // A ring: as many joins as widths.
                seam += height * part.count as i64 + run;
                kit.parts.push(part);
            }
            Pleating::Gathered { percent } => {
                let whole = percent as i64 * of(run) / 100;
                let whole = Working::of(message("work-cloth-for-gathers"), whole);
                let part = in_widths(ask, whole.result, whole, height_working)?;
                // Two rows of gathering stitches, then the seam it hangs by.
                let gathers = Length::from_mm(run.mm() * percent as f64 / 100.0) * 2;
                seam += height * part.count as i64 + run + gathers;
                kit.parts.push(part);
            }
            Pleating::Corners { fold } => {
                seam += self.flat_sides(ask, fold, (height, &height_working), &mut kit.parts);
            }
        }
        kit.quantities = Quantities { seam, ..Quantities::default() };
        Ok(kit)
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        let is_even = !matches!(self.pleats, Pleating::Corners { .. });
        let hem = message("step-skirt-hem")
            .flag("even", is_even)
            .flag("lined", self.lined)
            .length("hem", self.hem);
        let hang = message("step-skirt-hang").length("drop", self.drop);
        vec![
            bench.cut_cloth(),
            Step::new(hem, &[NEEDLE]),
            Step::new(self.how_to_pleat(), &[NEEDLE]),
            Step::new(hang.length("seam", bench.allowances.seam), &[STAPLER]),
        ]
    }

    fn mirrored(&self) -> Mirrored {
        let sides = self.sides.iter().rev().copied().collect();
        Mirrored::Other(Kind::Skirt(Self { sides, ..self.clone() }))
    }
}

impl Skirt {
    /// A side for each, and an underlay behind each corner where cloth is folded back; what is sewn.
    fn flat_sides(
        &self,
        ask: &Ask,
        fold: Length,
        (height, working): (Length, &Working),
        parts: &mut Vec<Part>,
    ) -> Length {
        let a = ask.build.allowances;
        let mut seam = Length::ZERO;
        let mut sides: Vec<(Length, usize)> = Vec::new();
        for side in &self.sides {
            match sides.iter_mut().find(|s| s.0 == *side) {
                Some(found) => found.1 += 1,
                None => sides.push((*side, 1)),
            }
        }
        for (side, count) in sides {
            let width = side + fold * 2 + a.seam * 2;
            let mut part = strip(message("part-skirt-side"), ask.cloth, width, height).seen();
            part.count = count;
            for x in [a.seam + fold, a.seam + fold + side] {
                let ends = [0.0, height.mm()].map(|y| Point::new(x.mm(), y));
                part.marks.push(Mark::open(Meaning::Fold, ends.to_vec()));
            }
            part.explain(Working::grown(message("work-skirt-side"), side, &[fold, a.seam]).width());
            part.explain(working.clone());
            if self.lined {
                // The fold along its length is the hem.
                let middle = height.share(2).mm();
                let ends = [0.0, width.mm()].map(|x| Point::new(x, middle));
                part.marks.push(Mark::open(Meaning::Fold, ends.to_vec()));
            }
            let (mut pieces, joins) = if ask.railroads {
                (vec![part], 0)
            } else {
                pieced_odd(part, ask.usable, &ask.build)
            };
            if joins > 0 {
                // Its folds are marked once it is joined.
                pieces.iter_mut().for_each(|p| p.marks.clear());
            }
            seam += height * (joins * count) as i64;
            parts.extend(pieces);
        }
        let run: Length = self.sides.iter().copied().sum();
        let corners = self.sides.len();
        if fold == Length::ZERO {
            // Sewn to a ring, a seam at each corner.
            return seam + height * corners as i64 + run;
        }
        let outline = rectangle(fold * 2 + a.seam * 2, height);
        let name = message("part-corner-underlay");
        let mut underlay = Part::new(name, Stuff::Cloth, ask.cloth, outline);
        underlay.count = corners;
        underlay.explain(Working::grown(message("work-underlay"), fold * 2, &[a.seam]).width());
        underlay.explain(working.clone());
        parts.push(underlay);
        seam + height * (corners * 2) as i64 + run
    }

    /// Folds that lie over one another behind a face.
    fn overlap(&self, ask: &Ask, spacing: Length, folds: i64) -> Fault {
        let style = &ask.build.style;
        let most = style.chalk(spacing.share(folds));
        ask.fault(
            "folds-overlap",
            "fold",
            message("folds-overlap").length("spacing", spacing),
            message("folds-overlap").part("do").text("most", &most),
        )
    }

    fn how_to_pleat(&self) -> Message {
        match self.pleats {
            Pleating::Even { spacing, depth, folds } => {
                let numbers = pleats(&self.sides, spacing);
                let each = self.sides.iter().zip(numbers).map(|(side, n)| {
                    let on = message("pleats-on").count("count", n);
                    on.chalk("width", side.share(n)).length("side", *side)
                });
                message("step-skirt-pleat")
                    .list("list", each.collect(), Between::Comma)
                    .count("folds", folds)
                    .length("fold", depth)
            }
            Pleating::Gathered { percent } => {
                message("step-skirt-gather").count("percent", percent)
            }
            Pleating::Corners { fold: Length::ZERO } => message("step-skirt-plain"),
            Pleating::Corners { fold } => message("step-skirt-corners").length("fold", fold),
        }
    }
}

/// Equal widths of cloth for a ring of so much, each as wide as the cloth allows.
fn in_widths(
    ask: &Ask,
    total: Length,
    whole: Working,
    height: Working,
) -> Result<Part, Vec<Fault>> {
    let a = ask.build.allowances;
    let room = ask.usable - a.seam * 2;
    if room <= Length::ZERO {
        let what = message("cloth-too-narrow");
        let remedy = message("cloth-too-narrow").part("do");
        return Err(vec![ask.fault("cloth-too-narrow", "cloth", what, remedy)]);
    }
    let count = total.steps_up(room).max(1);
    let mark = ask.build.style.mark;
    let width = |count: i64| {
        let width = of(total) / count + 2 * of(a.seam);
        Working::of(message("work-each-width"), width).up_to(a.cut_step).up_to(mark).width()
    };
    // Whole marks may take one width more.
    let count = (count..=count + 1).find(|&n| width(n).result <= ask.usable).unwrap_or(1);
    let (each, tall) = (width(count).result, height.result);
    let mut part = strip(message("part-skirt-width"), ask.cloth, each, tall).seen();
    part = part.explained([whole, width(count), height]);
    part.count = count as usize;
    part.divided = Some(total.share(count).mm() * tall.mm());
    Ok(part)
}

/// Folds of a width, from its left seam: a pleat's face, then for each fold its two hidden layers.
fn pleat_marks(
    (spacing, depth, folds): (Length, Length, i64),
    seam: Length,
    width: Length,
    height: Length,
) -> Vec<Mark> {
    let period = (spacing + depth * (2 * folds)).mm();
    let (left, right) = (seam.mm(), (width - seam).mm());
    let (face, under) = (spacing.mm(), depth.mm());
    // Where the second of two folds begins the cloth runs on straight.
    let places = match folds {
        1 => vec![face, face + under],
        _ => vec![face, face + under, face + 3.0 * under, face + 4.0 * under],
    };
    let mut marks = Vec::new();
    let mut at = left;
    while at < right && marks.len() < 400 {
        for x in places.iter().map(|place| at + place) {
            if x < right {
                let ends = vec![Point::new(x, 0.0), Point::new(x, height.mm())];
                marks.push(Mark::open(Meaning::Fold, ends));
            }
        }
        at += period;
    }
    marks
}
