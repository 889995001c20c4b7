//! One flat shape to cut, and what a piece takes besides.

use crate::fault::Fault;
use crate::material::Direction;
pub use crate::material::Stuff;
use crate::message::{Message, message};
use crate::wanted::WeltGrain;
use crate::working::{Gives, Style, Working};
use geometry::{Length, Outline, Path, Point};

/// How a part may lie on its cloth.
#[derive(Clone, Debug, PartialEq)]
pub enum Turning {
    /// As the cloth and the piece want it.
    Direction(Option<Direction>),
    /// Only so, in degrees, whatever the cloth: welt strips.
    Degrees(Vec<f64>),
}

/// How a part must lie to the pattern. Points are the part's own.
#[derive(Clone, Debug, PartialEq)]
pub enum Motif {
    /// Anyhow.
    Free,
    /// This point on a motif.
    Centred(Point),
    /// This point in step with all others of the group.
    Matched(String, Point),
}

/// What a line drawn on a part means.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Meaning {
    /// Where the board's edge comes to lie.
    BoardEdge,
    /// Where foam ends, if not at the board's edge.
    FoamEdge,
    /// Where the cloth is folded.
    Fold,
    /// Where it is stitched.
    Stitch,
    /// Where staples go, as laid flat.
    Staples,
    /// A cut into the cloth.
    Slit,
    /// Cut away.
    CutAway,
    /// A pleat, from its root outwards.
    Pleat,
    /// The middle.
    Centre,
    /// Meets the same mark on the part sewn to it.
    Notch,
    /// A button.
    Button,
}

/// A line drawn on a part.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// What it means.
    pub meaning: Meaning,
    /// Where it runs.
    pub line: Line,
}

/// An open or closed line.
#[derive(Clone, Debug, PartialEq)]
pub enum Line {
    /// Straight from point to point.
    Open(Vec<Point>),
    /// Closed, with arcs.
    Closed(Path),
}

impl Mark {
    /// Straight from point to point.
    pub fn open(meaning: Meaning, points: Vec<Point>) -> Self {
        Self { meaning, line: Line::Open(points) }
    }

    /// Closed.
    pub const fn closed(meaning: Meaning, path: Path) -> Self {
        Self { meaning, line: Line::Closed(path) }
    }
}

/// One flat shape to cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// On tags and plans: piece number and letter, `3B`.
    pub id: String,
    /// The cover, the top panel, the boxing and so on; a cut of a chair as the person calls it.
    pub name: Message,
    /// What from.
    pub stuff: Stuff,
    /// Name of the material.
    pub material: String,
    /// How many for all pieces of the line together.
    pub count: usize,
    /// In the piece's coordinates, face up.
    pub outline: Outline,
    /// `left` or `right`, if it matters.
    pub hand: Option<&'static str>,
    /// How it may lie.
    pub turning: Turning,
    /// How it lies to the pattern.
    pub motif: Motif,
    /// Lines on it.
    pub marks: Vec<Mark>,
    /// Where its measures come from.
    pub workings: Vec<Working>,
    /// May be pieced if it is wider than the cloth.
    pub may_seam: bool,
    /// Part of the seen face: carries the pattern rule of its piece.
    pub seen: bool,
    /// How many come from one cut block: two wedges from one.
    pub from_one: usize,
    /// What of it is seen once it is on, if no line on it tells; a motif hangs on its middle.
    pub face: Option<Path>,
    /// Welt: how it may be divided into strips.
    pub strips: Option<Box<Strips>>,
    /// Cut again into so many once it is off the roll: bias strips.
    pub cut_into: usize,
    /// Divided as the program chose, and might be divided otherwise: what of it, mm2, there is in any case.
    pub divided: Option<f64>,
}

impl Part {
    /// A part of which one is needed for each piece.
    pub fn new(name: Message, stuff: Stuff, material: &str, outline: Outline) -> Self {
        Self {
            id: String::new(),
            name,
            stuff,
            material: material.into(),
            count: 1,
            outline,
            hand: None,
            turning: Turning::Direction(None),
            motif: Motif::Free,
            marks: Vec::new(),
            workings: Vec::new(),
            may_seam: false,
            seen: false,
            from_one: 1,
            face: None,
            strips: None,
            cut_into: 1,
            divided: None,
        }
    }

    /// One that is seen and carries the pattern rule.
    #[must_use]
    pub fn seen(self) -> Self {
        Self { seen: true, ..self }
    }

    /// Whether it is one of the widths that another part is joined from, by its tag: that and a number.
    pub fn of(&self, whole: &str) -> bool {
        let number = self.id.strip_prefix(whole);
        number.is_some_and(|n| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit()))
    }

    /// A strip of welt or the cover of a button: cut in less time than a panel.
    pub fn is_small(&self) -> bool {
        self.strips.is_some() || self.name.is(BUTTON_COVER)
    }

    /// The closed line on it that means something, if there is one.
    pub fn line(&self, meaning: Meaning) -> Option<&Path> {
        self.marks.iter().find_map(|mark| match &mark.line {
            Line::Closed(path) if mark.meaning == meaning => Some(path),
            _ => None,
        })
    }

    /// Middle of what is seen of it: of the board's edge, of the seam line, or of the whole.
    pub fn seen_middle(&self) -> Point {
        let seen = self.face.as_ref().or_else(|| self.line(Meaning::BoardEdge));
        let seen = seen.or_else(|| self.line(Meaning::Stitch)).unwrap_or(&self.outline.outer);
        let (low, high) = seen.bounds();
        low.middle(high)
    }

    /// Width and height of its box.
    pub fn size(&self) -> (Length, Length) {
        self.outline.size()
    }

    /// Width and height as they are printed: cloth up to the next mark, foam and board to the nearest.
    pub fn printed_size(&self, style: &Style) -> (Length, Length) {
        let (w, h) = self.size();
        match self.stuff {
            Stuff::Cloth => (style.up(w), style.up(h)),
            Stuff::Foam | Stuff::Board => (style.place(w), style.place(h)),
        }
    }

    /// The same in words: `24 7/8 × 23 1/4`.
    pub fn printed(&self, style: &Style) -> String {
        let (w, h) = self.printed_size(style);
        format!("{} × {}", style.number(w), style.number(h))
    }

    /// What its box does not tell of a part of cloth: the ends of a tapered one, the edges of a slanted one;
    /// nothing of a rectangle or a disc.
    pub fn outline_told(&self, style: &Style) -> Message {
        let polygon = self.outline.outer.flatten();
        let corners: Vec<Point> = polygon.points().iter().map(|s| s.point()).collect();
        if corners.len() < 3 || polygon.is_upright_rectangle() || self.outline.is_round() {
            return Message::nothing();
        }
        let near = |a: f64, b: f64| (a - b).abs() < 1e-3;
        let (up, place) = (
            |mm: f64| style.up(Length::from_mm(mm.abs())),
            |mm: f64| style.place(Length::from_mm(mm.abs())),
        );
        let sides = || (0..corners.len()).map(|i| (corners[i], corners[(i + 1) % corners.len()]));
        let level: Vec<(Point, Point)> = sides().filter(|(a, b)| near(a.y, b.y)).collect();
        let upright: Vec<(Point, Point)> = sides().filter(|(a, b)| near(a.x, b.x)).collect();
        match (corners.len(), &level[..], &upright[..]) {
            (4, [one, other], _) => {
                let (bottom, top) = if one.0.y < other.0.y { (one, other) } else { (other, one) };
                let left = |(a, b): &(Point, Point)| a.x.min(b.x);
                let from = left(top) - left(bottom);
                message("part-tapered")
                    .number("bottom", up(bottom.0.x - bottom.1.x))
                    .number("top", up(top.0.x - top.1.x))
                    .length("from", place(from))
                    .flag("right", from >= 0.0)
            }
            (4, _, [one, other]) => {
                let (left, right) = if one.0.x < other.0.x { (one, other) } else { (other, one) };
                let low = |(a, b): &(Point, Point)| a.y.min(b.y);
                let rise = low(right) - low(left);
                message(if near(rise, 0.0) { "part-ends" } else { "part-slanted" })
                    .number("left", up(left.0.y - left.1.y))
                    .length("right", up(right.0.y - right.1.y))
                    .length("rise", place(rise))
                    .flag("above", rise > 0.0)
            }
            _ => message("part-to-template").text("tag", &self.id),
        }
    }

    /// Notes where a measure comes from; what gave the same size before is a step on the way now.
    pub fn explain(&mut self, working: Working) {
        let replaced = |earlier: Gives| match working.gives {
            Gives::Step => false,
            Gives::Both => earlier != Gives::Step,
            now => earlier == now,
        };
        for earlier in &mut self.workings {
            if replaced(earlier.gives) {
                earlier.gives = Gives::Step;
            }
        }
        self.workings.push(working);
    }

    /// The same with where its measures come from.
    #[must_use]
    pub fn explained(mut self, workings: impl IntoIterator<Item = Working>) -> Self {
        workings.into_iter().for_each(|working| self.explain(working));
        self
    }

    /// The same, as large as whole marks: what is chalked is what is laid, so that the size printed, the
    /// marks along the roll and the place agree. A part shaped so that its middle cannot be widened
    /// keeps its size.
    #[must_use]
    pub fn chalked(mut self, style: &Style) -> Self {
        let (w, h) = self.size();
        let (wide, high) = (style.up(w), style.up(h));
        if (wide, high) == (w, h) {
            return self;
        }
        let outline = self.outline.widened(wide - w, high - h);
        if outline.size() != (wide, high) {
            return self;
        }
        self.outline = outline;
        for working in &mut self.workings {
            let size = match working.gives {
                Gives::Width => wide,
                Gives::Height | Gives::Both => high,
                Gives::Step => continue,
            };
            if working.result != size {
                *working = working.clone().up_to(style.mark);
            }
        }
        self
    }

    /// The same, mirrored left to right.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let flip = |p: &Point| Point::new(-p.x, p.y);
        let marks = self
            .marks
            .iter()
            .map(|mark| Mark {
                meaning: mark.meaning,
                line: match &mark.line {
                    Line::Open(points) => Line::Open(points.iter().map(flip).collect()),
                    Line::Closed(path) => Line::Closed(path.mirrored()),
                },
            })
            .collect();
        let motif = match &self.motif {
            Motif::Free => Motif::Free,
            Motif::Centred(p) => Motif::Centred(flip(p)),
            Motif::Matched(group, p) => Motif::Matched(group.clone(), flip(p)),
        };
        let face = self.face.as_ref().map(Path::mirrored);
        let outline = self.outline.map(Path::mirrored);
        Self { outline, marks, motif, face, ..self.clone() }
    }
}

/// The width of a welt strip is `2 n + pi (cord + cloth)`, of one for two cords side by side
/// `3 n + 2 pi (cord + cloth)`: both cords wrapped, and the tail that closes the back.
///
/// Source: circumference of the covered cord plus both allowances, geometry; gives the trade's
/// 1 1/2 in for 5/32 cord and 1/2 in allowances (a working upholsterer's instruction page), and about
/// 3 in for two of them, common practice, no source.
///
/// What welt of one kind takes: how it may be divided into strips is settled where it is laid.
#[derive(Clone, Debug, PartialEq)]
pub struct Strips {
    /// All runs of one piece with their laps.
    pub run: Working,
    /// Of a strip.
    pub width: Working,
    /// How strips lie on the cloth.
    pub grain: WeltGrain,
    /// Lost at each join.
    pub join: Length,
    /// No strip is shorter.
    pub shortest: Length,
    /// Usable width of the cloth.
    pub usable: Length,
    /// What is chalked.
    pub mark: Length,
    /// How many pieces the run is for.
    pub pieces: usize,
}

/// The name of the cover of a button.
pub const BUTTON_COVER: &str = "part-button-cover";

/// A part as it is laid: pieced if it had to be.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidPart {
    /// Index into the developed pieces.
    pub developed: usize,
    /// The part.
    pub part: Part,
}

/// A corner of a covered panel and what is done there.
#[derive(Clone, Debug, PartialEq)]
pub struct CornerWork {
    /// Corner of the outline, from 0.
    pub corner: usize,
    /// Where it is on the board.
    pub at: Point,
    /// How it is folded.
    pub how: CornerHow,
}

/// How a corner is folded.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CornerHow {
    /// Two slits, stopping short.
    Square,
    /// Pleats to lose the excess at the staple line.
    Rounded {
        /// Board radius.
        radius: Length,
        /// To lose.
        excess: Length,
        /// How many pleats.
        pleats: i64,
    },
    /// One slit into an inside corner; a gap opens.
    Inside,
}

/// A cut-out as it is made.
#[derive(Clone, Debug, PartialEq)]
pub struct CutOutWork {
    /// What goes there.
    pub what: String,
    /// Middle from the board's left and bottom edges.
    pub centre: Point,
    /// Opening.
    pub size: (Length, Length),
    /// Round: nicks all round instead of an X.
    pub nicks: Option<i64>,
    /// Length of a flap.
    pub flap: Length,
}

/// What one piece takes besides its parts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Quantities {
    /// Along which the cover is stapled.
    pub staple_line: Length,
    /// Of it, at corners, where staples stand closer.
    pub corner_line: Length,
    /// Glued joints, mm2 (one side).
    pub glue_mm2: f64,
    /// Foam wrapped, mm2.
    pub wrap_mm2: f64,
    /// Back covered, mm2.
    pub dust_cover_mm2: f64,
    /// Sewn.
    pub seam: Length,
    /// Welt, finished.
    pub welt: Length,
    /// In so many runs.
    pub welt_runs: usize,
    /// Zips, each of this length.
    pub zip: Option<Length>,
    /// Channels.
    pub channels: usize,
    /// Buttons.
    pub buttons: usize,
    /// Closed over tack strip.
    pub tack_strip: Length,
    /// Folded ends.
    pub folded_ends: usize,
    /// Cushions to fill.
    pub fills: usize,
    /// What fills them, if it is bought made.
    pub filling: Option<Filling>,
    /// Wadding in channels and crowns, mm2 of one layer.
    pub wadding_mm2: f64,
    /// Cuts of a chair fitted round posts and rails.
    pub fitted_cuts: usize,
    /// Valleys of channels, stapled through a strip of card.
    pub valleys: Length,
}

/// A filling that is bought in its size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Filling {
    /// For a knife-edge cushion: width and height of the cover.
    Inner(Length, Length),
    /// For a bolster: its length, and its diameter at the larger and at the smaller end.
    Form {
        /// Along its axis.
        length: Length,
        /// At the larger end.
        large: Length,
        /// At the smaller end.
        small: Length,
    },
}

/// How much a layer of wadding fills: an inch. Common practice, no source.
const LAYER: Length = Length::from_inch_64ths(64);

/// Layers of wadding over an area, mm2, that is filled so deep.
pub fn wadding(area_mm2: f64, deep: Length) -> f64 {
    if deep <= Length::ZERO { 0.0 } else { area_mm2 * deep.steps_up(LAYER) as f64 }
}

impl Developed {
    /// Whether a part is the mirror image of another of the same piece: drawn once, turned over for it.
    pub fn is_twin(&self, part: &Part) -> bool {
        let left = |other: &Part| other.hand == Some("left") && other.name == part.name;
        part.hand == Some("right") && self.parts.iter().any(left)
    }
}

/// A piece (or one section or panel of it) developed.
#[derive(Clone, Debug, PartialEq)]
pub struct Developed {
    /// Index of the piece in the job.
    pub piece: usize,
    /// The piece's name, with the section's.
    pub label: String,
    /// How many of exactly this.
    pub count: usize,
    /// Finished width and height (or depth) of the face.
    pub finished: (Length, Length),
    /// To cut, counts for all of `count`.
    pub parts: Vec<Part>,
    /// The widths that parts too wide for their cloth are joined from, counts for all of `count`; their
    /// tags are their part's and a number.
    pub widths: Vec<Part>,
    /// For one.
    pub quantities: Quantities,
    /// Corners of a covered panel.
    pub corners: Vec<CornerWork>,
    /// Openings.
    pub cut_outs: Vec<CutOutWork>,
    /// The board's outline in words, if it is not a plain rectangle.
    pub outline: Message,
    /// Numbers worked out before the parts: sections of a run, panels of a wall.
    pub workings: Vec<Working>,
    /// What the person should know.
    pub warnings: Vec<Fault>,
}
