//! A lay to scale: selvedges, sections, parts with their numbers and arrows, flaws, motifs, what to keep.

use crate::drawing::{Anchor, Axes, Drawing, Ink, View};
use crate::label::PT;
use crate::lay_labels::Labels;
use crate::sections::{self, Motifs, Section};
use geometry::{Length, Path, Point, Vector};
use lay::{Placement, Stock, Strip};
use trade::lays::ClothLay;
use trade::part::{Line, Meaning};
use trade::plan::Plan;
use trade::remnants;

/// How large letters and lines are, and who looks at the drawing.
#[derive(Clone, Copy)]
pub(crate) struct Look {
    /// A typographer's point in this drawing, mm.
    pub pt: f64,
    /// Left of the cut end, in points.
    pub before: f64,
    /// Right of the last part, in points.
    pub after: f64,
}

const ON_PAPER: Look = Look { pt: PT, before: 26.0, after: 22.0 };

/// At full size letters are ten times as large.
const AT_FULL_SIZE: Look = Look { pt: PT * 10.0, before: 26.0, after: 22.0 };

/// Widths of the cutting plan's drawing on paper, mm.
const ROW: f64 = 193.0;
const ROW_ON_LETTER: f64 = 198.0;

/// Height there is for cloth on one page, mm, less what stands round each row.
const PAGE: f64 = 120.0;
const ROUND_ROW: f64 = 22.0;

/// Scales that are offered, one in so many.
const SCALES: [f64; 17] = [
    4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 18.0, 20.0, 24.0, 27.0, 30.0, 33.0, 36.0, 40.0, 45.0,
    50.0,
];

/// A row of the cutting plan: part of a strip, and the sections on it.
pub struct Row {
    /// To scale.
    pub drawing: Drawing,
    /// Where it begins, mm from the cut end.
    pub from: f64,
    /// Sections on it.
    pub sections: std::ops::Range<usize>,
}

/// Every strip of a lay as rows of paper drawings, with the scale they are drawn at.
pub fn rows(plan: &Plan, lay: &ClothLay, strip: &Strip, sections: &[Section]) -> (f64, Vec<Row>) {
    let width = cloth_width(plan, lay, strip).mm();
    // Within the margins, where every printer prints.
    let room = if plan.job.letter_paper { ROW_ON_LETTER } else { ROW };
    let room = room - (ON_PAPER.before + ON_PAPER.after) * PT;
    let breaks = |one_in: f64| divide(sections, room * one_in);
    let fits = |one_in: f64| {
        let rows = breaks(one_in).len() as f64;
        rows * (width / one_in + ROUND_ROW) <= PAGE && width / one_in < 70.0
    };
    let one_in = SCALES.into_iter().find(|s| fits(*s)).unwrap_or(40.0);
    let rows = breaks(one_in).into_iter().map(|(from, to, sections_on_it)| {
        let part = (from.mm(), to.mm());
        let drawing = draw(plan, lay, strip, sections, 1.0 / one_in, part, &ON_PAPER);
        Row { drawing, from: from.mm(), sections: sections_on_it }
    });
    (one_in, rows.collect())
}

type Stretch = (Length, Length, std::ops::Range<usize>);

/// A strip broken into rows no longer than `longest` mm, at sections where that can be, so that the rows
/// differ least in length.
fn divide(sections: &[Section], longest: f64) -> Vec<Stretch> {
    let mut pieces: Vec<(Length, Length, usize)> = Vec::new();
    for (i, section) in sections.iter().enumerate() {
        // A section longer than a row breaks at its zeros.
        let is_long = (section.to - section.from).mm() > longest;
        let stops = section.zeros[1..].iter().filter(|_| is_long).copied();
        let mut from = section.from;
        for to in stops.chain([section.to]) {
            pieces.push((from, to, i));
            from = to;
        }
    }
    let pack = |longest: f64| {
        let mut rows: Vec<Stretch> = Vec::new();
        for &(from, to, i) in &pieces {
            match rows.last_mut() {
                Some(row) if (to - row.0).mm() <= longest => {
                    row.1 = to;
                    row.2 = row.2.start..i + 1;
                }
                _ => rows.push((from, to, i..i + 1)),
            }
        }
        rows
    };
    let least = pack(longest);
    let (mut low, mut high) = (0.0_f64, longest);
    for _ in 0..24 {
        let middle = low.midpoint(high);
        if pack(middle).len() > least.len() { low = middle } else { high = middle }
    }
    let even = pack(high);
    if even.len() == least.len() { even } else { least }
}

/// Every strip of a lay in one drawing that is easy to read on a screen.
pub fn screen(plan: &Plan, lay: &ClothLay) -> Vec<Drawing> {
    whole(plan, lay, |strip| on_screen(plan, lay, strip), &ON_PAPER)
}

/// Every strip of a lay in one drawing at full size.
pub fn true_scale(plan: &Plan, lay: &ClothLay) -> Vec<Drawing> {
    whole(plan, lay, |_| 1.0, &AT_FULL_SIZE)
}

fn whole(plan: &Plan, lay: &ClothLay, scale: impl Fn(&Strip) -> f64, look: &Look) -> Vec<Drawing> {
    let draw = |strip: &Strip| {
        let sections = sections::sections(plan, lay, strip);
        let all = (0.0, shown_length(lay, strip).mm());
        draw(plan, lay, strip, &sections, scale(strip), all, look)
    };
    lay.answer.lay.strips.iter().map(draw).collect()
}

/// The scale of a strip on a screen.
fn on_screen(plan: &Plan, lay: &ClothLay, strip: &Strip) -> f64 {
    1.0 / (cloth_width(plan, lay, strip).mm() / 90.0).max(4.0)
}

/// Where the parts of a strip are in its drawing for a screen, to take hold of them.
pub struct Handles {
    /// Drawing units for a millimetre of cloth.
    pub scale: f64,
    /// Where the left selvedge meets the cut end in the drawing.
    pub origin: Point,
    /// The cloth lies face down: across it the drawing runs the other way.
    pub face_down: bool,
    /// Of each placement of the strip: the box round it, upper left and lower right in the drawing.
    pub boxes: Vec<(Point, Point)>,
}

/// The handles of a strip in its drawing of [`screen`].
pub fn handles(plan: &Plan, lay: &ClothLay, strip: &Strip) -> Handles {
    let scale = on_screen(plan, lay, strip);
    let sections = sections::sections(plan, lay, strip);
    let all = (0.0, shown_length(lay, strip).mm());
    let sheet = Sheet::new(plan, lay, strip, &sections, scale, all, &ON_PAPER);
    let above = Labels::of(&sheet).above();
    let view = sheet.view(above);
    let of = |p: &Placement| {
        let b = lay.instance.items[p.item].shape.turned(p.turn).bounds().moved(p.at);
        view.band(b.low.point(), b.high.point())
    };
    Handles {
        scale,
        origin: view.at(Point::new(0.0, 0.0)),
        face_down: view.axes == Axes::RollRightFaceDown,
        boxes: strip.placements.iter().map(of).collect(),
    }
}

/// Every strip of a lay for a cutter: layers by meaning, the roll running to the right.
pub fn layers(plan: &Plan, lay: &ClothLay) -> Vec<[(&'static str, Drawing); 3]> {
    lay.answer
        .lay
        .strips
        .iter()
        .map(|strip| {
            let width = cloth_width(plan, lay, strip).mm();
            let empty = || Drawing::new(shown_length(lay, strip).mm(), width);
            let view = View { scale: 1.0, origin: Point::new(0.0, 0.0), axes: Axes::RollRight };
            let (mut cut, mut mark, mut text) = (empty(), empty(), empty());
            mark.rect(Point::new(0.0, 0.0), Point::new(mark.width, width), Ink::line(0.2));
            for placement in &strip.placements {
                let part = &lay.parts[placement.item].part;
                let p = placement.at.point();
                let by = Vector::new(p.x, p.y);
                let outer = placed(lay, placement);
                cut.shape(view.path(&outer), Ink::line(0.2));
                for hole in &part.outline.holes {
                    let hole = hole.turned(placement.turn).moved(by);
                    cut.shape(view.path(&hole), Ink::line(0.2));
                }
                for m in &part.marks {
                    let layer = if m.meaning == Meaning::Slit { &mut cut } else { &mut mark };
                    let steps = match &m.line {
                        Line::Closed(path) => view.path(&path.turned(placement.turn).moved(by)),
                        Line::Open(points) => {
                            let points: Vec<Point> =
                                points.iter().map(|q| q.turned(placement.turn) + by).collect();
                            view.line(&points)
                        }
                    };
                    layer.shape(steps, Ink::line(0.2));
                }
                let (low, high) = outer.bounds();
                text.bold(view.at(low.middle(high)), 12.0, Anchor::Middle, &part.id);
            }
            [("cut", cut), ("mark", mark), ("text", text)]
        })
        .collect()
}

/// A whole piece on hand, or what is used of new cloth and what its purchase brings besides.
pub(crate) fn shown_length(lay: &ClothLay, strip: &Strip) -> Length {
    match strip.stock {
        Stock::OnHand(i) => lay.instance.on_hand[i].length,
        Stock::New(_) => lay.instance.buying.purchase(strip.length),
    }
}

/// Selvedge to selvedge.
pub fn cloth_width(plan: &Plan, lay: &ClothLay, strip: &Strip) -> Length {
    let cloth = &plan.job.cloths[lay.cloth];
    match strip.stock {
        Stock::OnHand(i) => cloth.on_hand[i].width.unwrap_or(cloth.width),
        Stock::New(_) => cloth.width,
    }
}

/// A stretch of a strip that is drawn.
pub(crate) struct Sheet<'a> {
    pub plan: &'a Plan,
    pub lay: &'a ClothLay,
    pub strip: &'a Strip,
    pub sections: &'a [Section],
    pub scale: f64,
    /// From and to along the roll, mm.
    pub part: (f64, f64),
    pub look: &'a Look,
    /// Selvedge to selvedge, mm.
    pub width: f64,
}

impl<'a> Sheet<'a> {
    fn new(
        plan: &'a Plan,
        lay: &'a ClothLay,
        strip: &'a Strip,
        sections: &'a [Section],
        scale: f64,
        part: (f64, f64),
        look: &'a Look,
    ) -> Self {
        let width = cloth_width(plan, lay, strip).mm();
        Self { plan, lay, strip, sections, scale, part, look, width }
    }

    /// Face down the right selvedge lies on top.
    pub fn face_down(&self) -> bool {
        self.plan.job.cloths[self.lay.cloth].chalk_back
    }

    /// How it lies in its drawing, with so much above it.
    pub fn view(&self, above: f64) -> View {
        let left = self.look.before * self.look.pt - self.part.0 * self.scale;
        if self.face_down() {
            let origin = Point::new(left, above + self.width * self.scale);
            View { scale: self.scale, origin, axes: Axes::RollRightFaceDown }
        } else {
            View { scale: self.scale, origin: Point::new(left, above), axes: Axes::RollRight }
        }
    }

    /// A rectangle of the cloth on paper, as far as it is drawn.
    pub fn band(&self, view: &View, x: (f64, f64), y: (f64, f64)) -> (Point, Point) {
        let (from, to) = self.part;
        view.band(Point::new(x.0, y.0.max(from)), Point::new(x.1, y.1.min(to)))
    }

    /// Whether a stretch along the roll is drawn, if only in part.
    pub fn shows(&self, from: f64, to: f64) -> bool {
        to > self.part.0 && from < self.part.1
    }
}

#[allow(clippy::too_many_arguments)] // A stretch of a strip of a lay at a scale: all are needed.
fn draw(
    plan: &Plan,
    lay: &ClothLay,
    strip: &Strip,
    sections: &[Section],
    scale: f64,
    part: (f64, f64),
    look: &Look,
) -> Drawing {
    let sheet = Sheet::new(plan, lay, strip, sections, scale, part, look);
    let labels = Labels::of(&sheet);
    let pt = look.pt;
    let (from, to) = part;
    let mut drawing = Drawing::new(
        (look.before + look.after) * pt + (to - from) * scale,
        labels.above() + sheet.width * scale + labels.below(),
    );
    let view = sheet.view(labels.above());
    waste(&mut drawing, &sheet, &view);
    for placement in &strip.placements {
        let path = placed(lay, placement);
        let (low, high) = path.bounds();
        if sheet.shows(low.y, high.y) {
            drawing.shape(view.path(&path), Ink::line(1.3 * pt).filled(1.0));
        }
    }
    // Holes are cut at the bench; they show where nothing may be spared.
    for placement in &strip.placements {
        let p = placement.at.point();
        for hole in &lay.parts[placement.item].part.outline.holes {
            let hole = hole.turned(placement.turn).moved(Vector::new(p.x, p.y));
            drawing.shape(view.path(&hole), Ink::line(0.9 * pt));
        }
    }
    keep(&mut drawing, &sheet, &view);
    flaws(&mut drawing, &sheet, &view);
    // Parts that go on over the ends of a row are cut off there.
    let (low, high) = sheet.band(&view, (0.0, sheet.width), part);
    let white = Ink::line(0.0).filled(1.0);
    let page = (drawing.width, drawing.height);
    drawing.rect(Point::new(-9.0, 0.0), Point::new(low.x, page.1), white);
    drawing.rect(Point::new(high.x, 0.0), Point::new(page.0 + 9.0, page.1), white);
    for y in [low.y, high.y] {
        drawing.stroke(Point::new(low.x, y), Point::new(high.x, y), Ink::line(1.6 * pt));
    }
    labels.draw(&mut drawing);
    drawing
}

/// Cloth that no part lies on: thin grey lines; what lies beyond the usable width is grey.
fn waste(drawing: &mut Drawing, sheet: &Sheet, view: &View) {
    let pt = sheet.look.pt;
    let (low, high) = sheet.band(view, (0.0, sheet.width), sheet.part);
    let (wide, tall) = (high.x - low.x, high.y - low.y);
    let mut hatch = Drawing::new(wide, tall);
    let mut steps = Vec::new();
    let mut x = -tall;
    while x < wide {
        steps.push(crate::drawing::Step::Move(Point::new(x, 0.0)));
        steps.push(crate::drawing::Step::Line(Point::new(x + tall, tall)));
        x += 4.0 * pt;
    }
    hatch.shape(steps, Ink::line(0.4 * pt).grey(0.72));
    drawing.clip(hatch, Vector::new(low.x, low.y));
    let (left, right) = sheet.lay.instance.usable(sheet.strip.stock);
    for (a, b) in [(0.0, left.mm()), (right.mm(), sheet.width)] {
        if b > a {
            let (low, high) = sheet.band(view, (a, b), sheet.part);
            drawing.rect(low, high, Ink::line(0.0).filled(0.85));
        }
    }
}

/// What is worth keeping: white in a dashed frame.
fn keep(drawing: &mut Drawing, sheet: &Sheet, view: &View) {
    let pt = sheet.look.pt;
    for (_, low, high) in kept(sheet) {
        let (a, b) = sheet.band(view, (low.x, high.x), (low.y, high.y));
        let inset = Vector::new(1.5 * pt, 1.5 * pt);
        let ink = Ink::dashed(0.9 * pt, 5.0 * pt, 3.0 * pt).filled(1.0);
        drawing.rect(a + inset, b + -inset, ink);
    }
}

/// What is kept of the stretch drawn: name, and corners on the cloth.
pub(crate) fn kept(sheet: &Sheet) -> Vec<(remnants::Kept, Point, Point)> {
    let strips = &sheet.lay.answer.lay.strips;
    remnants::kept(sheet.lay)
        .into_iter()
        .filter(|kept| strips[kept.strip].stock == sheet.strip.stock)
        .map(|kept| {
            let (low, high) = (kept.place.low.point(), kept.place.high.point());
            (kept, low, high)
        })
        .filter(|(_, low, high)| sheet.shows(low.y, high.y))
        .collect()
}

/// Flaws: dark, crossed.
fn flaws(drawing: &mut Drawing, sheet: &Sheet, view: &View) {
    let pt = sheet.look.pt;
    for flaw in sheet.lay.instance.flaws(sheet.strip.stock) {
        let (low, high) = (flaw.low.point(), flaw.high.point());
        if !sheet.shows(low.y, high.y) {
            continue;
        }
        let (a, b) = sheet.band(view, (low.x, high.x), (low.y, high.y));
        drawing.rect(a, b, Ink::line(pt).filled(0.6));
        drawing.stroke(a, b, Ink::line(0.7 * pt));
        drawing.stroke(Point::new(a.x, b.y), Point::new(b.x, a.y), Ink::line(0.7 * pt));
    }
}

/// Motifs of the stretch drawn; none where a fine repeat would only blacken the page.
pub(crate) fn motifs(sheet: &Sheet) -> Option<Motifs> {
    let motifs = Motifs::of(sheet.lay, sheet.strip)?;
    let apart = motifs.apart().mm() * sheet.scale;
    (apart >= 5.0 * sheet.look.pt).then_some(motifs)
}

/// A part's outline where it lies.
pub(crate) fn placed(lay: &ClothLay, placement: &Placement) -> Path {
    let p = placement.at.point();
    let part = &lay.parts[placement.item].part;
    part.outline.outer.turned(placement.turn).moved(Vector::new(p.x, p.y))
}
