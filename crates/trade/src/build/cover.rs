//! The cover of a board with foam: what every stapled kind shares.

use super::corner::corners;
use super::cut_out;
use crate::fault::Fault;
use crate::message::{Message, message};
use crate::panel::{CutOut, Edge, FoamEdge, Side};
use crate::part::{CornerWork, CutOutWork, Mark, Meaning, Part, Quantities, Stuff};
use crate::rates::Allowances;
use crate::working::{Style, Working};
use geometry::{Length, Outline, Path, Point, Run, grow};

/// What lies under the cloth, and the allowances.
#[derive(Clone, Copy, Debug)]
pub struct Build<'a> {
    /// `f`.
    pub foam: Length,
    /// `b`.
    pub board: Length,
    /// How foam ends at stapled edges.
    pub foam_edge: FoamEdge,
    /// Foam is larger than the board by this, all round.
    pub foam_beyond: Length,
    /// Wrapping round the foam, as thick as it is once the cover is on.
    pub wrap: Length,
    /// The rest.
    pub allowances: &'a Allowances,
    /// Thickness of the cloth.
    pub cloth: Length,
    /// For messages.
    pub style: Style,
}

/// A covered board: its parts' outlines, marks and work.
#[derive(Clone, Debug)]
pub struct Covered {
    /// Of the cloth.
    pub cover: Path,
    /// Of the foam: the board's, set back at lips.
    pub foam: Outline,
    /// Of the board, with its holes.
    pub board: Outline,
    /// On the cover.
    pub marks: Vec<Mark>,
    /// Where its measures come from.
    pub workings: Vec<Working>,
    /// At the corners.
    pub corners: Vec<CornerWork>,
    /// At openings.
    pub cut_outs: Vec<CutOutWork>,
    /// What it takes.
    pub quantities: Quantities,
    /// What the person should know.
    pub warnings: Vec<Fault>,
}

impl Build<'_> {
    /// How far the cloth goes down foam, wrapping and board at a side.
    pub fn down(&self, side: &Side) -> Length {
        side.foam_edge.unwrap_or(self.foam_edge).reach(self.foam)
            + self.wrap
            + self.foam_beyond
            + self.board
    }

    /// How far the cloth goes beyond one side of the board: `f + b + w + a` when it is stapled; `f` is what
    /// of the foam stands at the edge, with its wrapping.
    ///
    /// With the foam set back by a lip `l` the cloth goes `f + l + b + w + a` from the foam's edge,
    /// which lies `l` inside the board's: the same beyond the board.
    pub fn reach(&self, side: &Side) -> Length {
        let a = self.allowances;
        match side.edge {
            Edge::Stapled | Edge::Lip(_) => {
                self.down(side) + side.over + side.turn_under.unwrap_or(a.turn_under) + a.trim
            }
            Edge::Tucked(length) => length,
            Edge::Sewn => a.seam,
            Edge::Joined | Edge::Open => Length::ZERO,
        }
    }

    /// Develops the cover of a board.
    ///
    /// Source: parallel offset of the outline by the length the cloth takes round the edge;
    /// geometry. That cloth neither stretches nor is compressed is our simplification, and errs on
    /// the long side for foam with a rolled edge.
    pub fn cover(&self, board: &Path, sides: &[Side], cut_outs: &[CutOut]) -> Covered {
        let side = |i: usize| sides.get(i).copied().unwrap_or_default();
        let n = board.segs().map(|seg| side_of(seg.run)).max().unwrap_or(0) + 1;
        // A rounded corner takes the greater reach of its two sides.
        let sides_of = |run: Run| match run {
            Run::Side(i) => [side(i), side(i)],
            Run::Corner(i) => [side((i + n - 1) % n), side(i)],
        };
        let distances: Vec<f64> = board
            .segs()
            .map(|seg| {
                let [a, b] = sides_of(seg.run);
                self.reach(&a).max(self.reach(&b)).mm()
            })
            .collect();
        let overs: Vec<f64> = board
            .segs()
            .map(|seg| {
                let [a, b] = sides_of(seg.run);
                a.over.max(b.over).mm()
            })
            .collect();
        let is_stapled = |s: &Side| matches!(s.edge, Edge::Stapled | Edge::Lip(_));
        let stapled: Vec<bool> =
            board.segs().map(|seg| sides_of(seg.run).iter().all(is_stapled)).collect();
        let lips: Vec<f64> = board
            .segs()
            .map(|seg| {
                let lip = |s: &Side| if let Edge::Lip(l) = s.edge { l } else { Length::ZERO };
                let [a, b] = sides_of(seg.run);
                let set_back = lip(&a).max(lip(&b));
                // Foam stands over where it is not set back and the cloth goes down it.
                let stands_over = set_back == Length::ZERO && is_stapled(&a) && is_stapled(&b);
                if stands_over { self.foam_beyond.mm() } else { -set_back.mm() }
            })
            .collect();
        let cover = grow(board, &distances);
        let foam = grow(board, &lips);
        let holes: Vec<Path> = cut_outs.iter().map(|c| c.shape.clone()).collect();
        let longest = distances.iter().copied().fold(0.0, f64::max);
        let under = self.down(&Side::default());
        let (corners, mut marks) =
            corners(board, &stapled, under, Length::from_mm(longest), self.allowances);
        marks.push(Mark::closed(Meaning::BoardEdge, board.clone()));
        if lips.iter().any(|&l| l != 0.0) {
            marks.push(Mark::closed(Meaning::FoamEdge, foam.clone()));
        }
        let staple_line = grow(
            board,
            &distances
                .iter()
                .zip(stapled.iter().zip(&overs))
                .map(|(&d, (&is, over))| {
                    let line = (under + self.allowances.staple_inset).mm() + over;
                    if is { line.min(d) } else { 0.0 }
                })
                .collect::<Vec<_>>(),
        );
        marks.push(Mark::closed(Meaning::Staples, staple_line));
        marks.extend(centre_marks(&cover, board));
        let mut warnings = Vec::new();
        let mut works = Vec::new();
        for cut in cut_outs {
            let (work, cut_marks, cut_warnings) = cut_out::develop(cut, board, self);
            works.push(work);
            marks.extend(cut_marks);
            warnings.extend(cut_warnings);
        }
        if corners.iter().any(|c| c.how == crate::part::CornerHow::Inside) {
            warnings.push(Fault::new(
                "inside-corner",
                "",
                message("inside-corner"),
                message("inside-corner").part("do"),
            ));
        }
        let length = |which: &dyn Fn(usize) -> bool| -> Length {
            let total =
                board.segs().enumerate().filter(|(i, _)| which(*i)).map(|(_, s)| s.length());
            Length::from_mm(total.sum())
        };
        let round = |i: usize| board.nodes.get(i).is_some_and(|n| matches!(n.run, Run::Corner(_)));
        // At a square corner about a pleat's depth on either side counts as corner.
        let square = corners.iter().filter(|c| c.how == crate::part::CornerHow::Square).count();
        let staple_line = length(&|i| stapled[i]);
        let corner_line =
            length(&|i| stapled[i] && round(i)) + self.allowances.pleat * 4 * square as i64;
        let hole_area: f64 = holes.iter().map(Path::area).sum();
        let foam_area = if self.foam > Length::ZERO { foam.area() - hole_area } else { 0.0 };
        let quantities = Quantities {
            staple_line,
            corner_line: corner_line.min(staple_line),
            glue_mm2: if self.board > Length::ZERO { foam_area } else { 0.0 },
            ..Quantities::default()
        };
        Covered {
            workings: self.workings(board, &cover, sides),
            cover,
            foam: Outline { outer: foam, holes: holes.clone() },
            board: Outline { outer: board.clone(), holes },
            marks,
            corners,
            cut_outs: works,
            quantities,
            warnings,
        }
    }

    /// How cut width and height came about.
    fn workings(&self, board: &Path, cover: &Path, sides: &[Side]) -> Vec<Working> {
        let a = self.allowances;
        let over = |side: usize| sides.get(side).map_or(Length::ZERO, |s| s.over);
        let foam = self.foam_edge.reach(self.foam);
        let by = |over: Length| {
            [foam, self.wrap, self.foam_beyond, self.board, over, a.turn_under, a.trim]
        };
        let what = || [message("work-cut-width"), message("work-cut-height")];
        let [wide, _] = grown_box(what(), board, cover, &by(over(1)));
        let [_, high] = grown_box(what(), board, cover, &by(over(0)));
        vec![wide.width(), high.height()]
    }
}

/// How the box of a cut came about that has grown from another outline by the sum of `by`, and by more or
/// less where edges differ or a corner is not square.
pub fn grown_box(what: [Message; 2], from: &Path, to: &Path, by: &[Length]) -> [Working; 2] {
    let ((low, high), (cut_low, cut_high)) = (from.bounds(), to.bounds());
    let one = |what: Message, (low, high): (f64, f64), (cut_low, cut_high): (f64, f64)| {
        let even: Length = by.iter().copied().sum();
        let near = |grown: f64| {
            let grown = Length::from_mm(grown);
            if (grown - even).abs() < Length::from_nm(100) { even } else { grown }
        };
        Working::beyond(
            what,
            Length::from_mm(high - low),
            (near(low - cut_low), near(cut_high - high)),
            by,
        )
    };
    let [wide, high_word] = what;
    [
        one(wide, (low.x, high.x), (cut_low.x, cut_high.x)),
        one(high_word, (low.y, high.y), (cut_low.y, cut_high.y)),
    ]
}

const fn side_of(run: Run) -> usize {
    match run {
        Run::Side(i) | Run::Corner(i) => i,
    }
}

/// Short marks where the middle lines of the board's box meet the cover's edge.
fn centre_marks(cover: &Path, board: &Path) -> Vec<Mark> {
    let (b_low, b_high) = board.bounds();
    let middle = b_low.middle(b_high);
    let nick = 8.0;
    let (ys, xs) = (crossings(cover, middle.x, false), crossings(cover, middle.y, true));
    let upright = |y: f64, by: f64| [Point::new(middle.x, y), Point::new(middle.x, y + by)];
    let level = |x: f64, by: f64| [Point::new(x, middle.y), Point::new(x + by, middle.y)];
    let mut marks = Vec::new();
    if let (Some(low), Some(high)) = (ys.first(), ys.last()) {
        marks.extend([upright(*low, nick), upright(*high, -nick)]);
    }
    if let (Some(low), Some(high)) = (xs.first(), xs.last()) {
        marks.extend([level(*low, nick), level(*high, -nick)]);
    }
    marks.into_iter().map(|[a, b]| Mark::open(Meaning::Centre, vec![a, b])).collect()
}

/// Where an upright line at x (or a level one at y) crosses a path, in order.
fn crossings(path: &Path, at: f64, level: bool) -> Vec<f64> {
    let flat = path.flatten();
    let points: Vec<(f64, f64)> = flat
        .points()
        .iter()
        .map(|s| if level { (s.point().y, s.point().x) } else { (s.point().x, s.point().y) })
        .collect();
    let n = points.len();
    let mut found: Vec<f64> = (0..n)
        .map(|i| (points[i], points[(i + 1) % n]))
        .filter(|(a, b)| (a.0 <= at) != (b.0 <= at))
        .map(|(a, b)| a.1 + (b.1 - a.1) * (at - a.0) / (b.0 - a.0))
        .collect();
    found.sort_by(f64::total_cmp);
    found
}

/// Middle of a board's box: the usual anchor of a motif.
pub fn middle(board: &Path) -> Point {
    let (low, high) = board.bounds();
    low.middle(high)
}

/// The three usual parts of a covered board.
pub fn parts(covered: &Covered, cloth: &str, foam: Option<&str>, board: Option<&str>) -> Vec<Part> {
    let mut cover = Part::new(
        message("part-cover"),
        Stuff::Cloth,
        cloth,
        Outline::solid(covered.cover.clone()),
    )
    .seen();
    cover.marks.clone_from(&covered.marks);
    cover.workings.clone_from(&covered.workings);
    let mut parts = vec![cover];
    if let Some(name) = foam {
        parts.push(Part::new(message("part-foam"), Stuff::Foam, name, covered.foam.clone()));
    }
    if let Some(name) = board {
        parts.push(Part::new(message("part-board"), Stuff::Board, name, covered.board.clone()));
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry::Unit;

    fn mm(x: f64) -> Length {
        Length::from_mm(x)
    }

    fn build(allowances: &Allowances) -> Build<'_> {
        let style = Style { unit: Unit::Millimetre, mark: mm(1.0), is_converted: false };
        Build {
            foam: mm(40.0),
            board: mm(12.0),
            foam_edge: FoamEdge::Square,
            foam_beyond: Length::ZERO,
            wrap: Length::ZERO,
            allowances,
            cloth: mm(1.0),
            style,
        }
    }

    fn cover_box(sides: &[Side]) -> (f64, f64, f64, f64) {
        let allowances = Allowances::usual(Unit::Millimetre);
        let board = Path::rectangle(mm(600.0), mm(400.0), [Length::ZERO; 4]).unwrap();
        let covered = build(&allowances).cover(&board, sides, &[]);
        let (low, high) = covered.cover.bounds();
        (low.x, low.y, high.x, high.y)
    }

    #[test]
    fn every_edge_takes_its_own_cloth() {
        // f + b + w = 40 + 12 + 50 = 102 beyond a stapled side; nothing beyond a joined one; its own
        // length beyond a tucked one; the seam beyond a sewn one. Arithmetic.
        let side = |edge| Side { edge, ..Side::default() };
        assert_eq!(cover_box(&[]), (-102.0, -102.0, 702.0, 502.0));
        let sides = [
            side(Edge::Tucked(mm(80.0))),
            side(Edge::Joined),
            Side { turn_under: Some(mm(30.0)), ..Side::default() },
            side(Edge::Sewn),
        ];
        assert_eq!(cover_box(&sides), (-12.0, -80.0, 600.0, 482.0));
    }

    #[test]
    fn an_edge_pulled_down_takes_half_the_foam_and_a_bevel_its_slope() {
        // 40 of foam: half is 20; a slope of 45 degrees 40 (root 2 - 1) = 16.57. Wrapping and foam larger
        // than the board go on top of either. Arithmetic.
        let allowances = Allowances::usual(Unit::Millimetre);
        let board = Path::rectangle(mm(600.0), mm(400.0), [Length::ZERO; 4]).unwrap();
        let wide = |build: &Build| {
            Outline::solid(build.cover(&board, &[], &[]).cover).size().0.mm() - 600.0 - 2.0 * 62.0
        };
        let square = build(&allowances);
        assert!((wide(&square) - 80.0).abs() < 1e-6);
        let pulled = Build { foam_edge: FoamEdge::PulledDown, ..square };
        assert!((wide(&pulled) - 40.0).abs() < 1e-6);
        let bevelled = Build { foam_edge: FoamEdge::Bevelled, ..square };
        assert!((wide(&bevelled) - 33.137).abs() < 1e-3);
        let more = Build { wrap: mm(6.0), foam_beyond: mm(10.0), ..pulled };
        assert!((wide(&more) - 72.0).abs() < 1e-6);
        assert_eq!(more.cover(&board, &[], &[]).foam.size(), (mm(620.0), mm(420.0)));
        // One edge may be bevelled for itself.
        let own = Side { foam_edge: Some(FoamEdge::Bevelled), ..Side::default() };
        let sides = [Side::default(), own];
        let covered = square.cover(&board, &sides, &[]).cover;
        assert!((Outline::solid(covered).size().0.mm() - 724.0 - 40.0 - 16.569).abs() < 1e-3);
    }

    #[test]
    fn a_lip_sets_the_foam_back_and_leaves_the_cover_as_it_was() {
        // From the foam's edge f + l + b + w; the foam's edge lies l inside the board's.
        let allowances = Allowances::usual(Unit::Millimetre);
        let board = Path::rectangle(mm(600.0), mm(400.0), [Length::ZERO; 4]).unwrap();
        let lip = Side { edge: Edge::Lip(mm(15.0)), ..Side::default() };
        let covered = build(&allowances).cover(&board, &[lip; 4], &[]);
        assert_eq!(Outline::solid(covered.cover).size(), (mm(804.0), mm(604.0)));
        assert_eq!(covered.foam.size(), (mm(570.0), mm(370.0)));
    }

    #[test]
    fn staples_run_only_where_cloth_is_stapled() {
        let allowances = Allowances::usual(Unit::Millimetre);
        let board = Path::rectangle(mm(600.0), mm(400.0), [Length::ZERO; 4]).unwrap();
        let joined = Side { edge: Edge::Joined, ..Side::default() };
        let covered =
            build(&allowances).cover(&board, &[Side::default(), joined, Side::default()], &[]);
        assert_eq!(covered.quantities.staple_line, mm(600.0 + 600.0 + 400.0));
        assert_eq!(covered.corners.len(), 2);
    }
}
