//! Where a part's label goes: its number in the order, its tag, an arrow to its top and its size, placed as
//! one block that lies wholly inside the part, so that the arrow cannot stand in a neighbour.

use crate::drawing::{Anchor, Drawing, Ink, Step};
use crate::letters;
use geometry::{Point, Vector};

/// A typographer's point, mm.
pub const PT: f64 = 25.4 / 72.0;

/// A rectangle on paper: upper left, lower right.
pub type Frame = (Point, Point);

/// What is drawn or written already, so that nothing comes to lie on it.
#[derive(Default)]
pub struct Taken(Vec<Frame>);

impl Taken {
    /// Whether nothing lies there yet.
    pub fn is_free(&self, (low, high): Frame) -> bool {
        let apart = |(a, b): &Frame| b.x <= low.x || high.x <= a.x || b.y <= low.y || high.y <= a.y;
        self.0.iter().all(apart)
    }

    /// Something lies there now.
    pub fn take(&mut self, (low, high): Frame) {
        self.0.push((low, high));
    }
}

/// A part on paper: its outline and holes as corners, and the frame that shows.
pub struct Area {
    /// Outline first, then holes.
    pub rings: Vec<Vec<Point>>,
    /// What of the paper shows.
    pub shown: Frame,
}

impl Area {
    fn frame(&self) -> Frame {
        let (mut low, mut high) = (self.rings[0][0], self.rings[0][0]);
        for p in &self.rings[0] {
            low = Point::new(low.x.min(p.x), low.y.min(p.y));
            high = Point::new(high.x.max(p.x), high.y.max(p.y));
        }
        let (a, b) = self.shown;
        (Point::new(low.x.max(a.x), low.y.max(a.y)), Point::new(high.x.min(b.x), high.y.min(b.y)))
    }

    /// Whether a point lies in the part: an odd number of sides lie to its right.
    fn has(&self, p: Point) -> bool {
        let mut inside = false;
        for ring in &self.rings {
            for (i, a) in ring.iter().enumerate() {
                let b = ring[(i + 1) % ring.len()];
                if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)
                {
                    inside = !inside;
                }
            }
        }
        inside
    }

    /// Whether a rectangle lies in the part with a margin round it.
    fn holds(&self, (low, high): Frame, margin: f64) -> bool {
        let (low, high) = (
            Point::new(low.x - margin, low.y - margin),
            Point::new(high.x + margin, high.y + margin),
        );
        let (a, b) = self.shown;
        if low.x < a.x || low.y < a.y || high.x > b.x || high.y > b.y {
            return false;
        }
        let sides = |ring: &Vec<Point>| {
            (0..ring.len()).any(|i| crosses(ring[i], ring[(i + 1) % ring.len()], low, high))
        };
        self.has(low.middle(high)) && !self.rings.iter().any(sides)
    }

    /// Places for the middle of a block, the best first: from the middle of the part outwards.
    fn places(&self, step: f64) -> Vec<Point> {
        let (low, high) = self.frame();
        let middle = low.middle(high);
        let step = step.max((high.x - low.x).max(high.y - low.y) / 24.0);
        let mut places = vec![middle];
        let (nx, ny) = (((high.x - low.x) / step) as i64 / 2, ((high.y - low.y) / step) as i64 / 2);
        for i in -nx..=nx {
            for j in -ny..=ny {
                places.push(middle + Vector::new(i as f64 * step, j as f64 * step));
            }
        }
        places.sort_by(|a, b| (*a - middle).length().total_cmp(&(*b - middle).length()));
        places
    }

    /// Points well inside for a leader to start at, at different places across the paper.
    pub fn starts(&self, apart: f64) -> Vec<Point> {
        let mut found: Vec<Point> = Vec::new();
        for place in self.places(0.5) {
            let is_new = found.iter().all(|p| (p.x - place.x).abs() >= apart);
            if is_new && self.has(place) {
                found.push(place);
            }
            if found.len() == 8 {
                break;
            }
        }
        if found.is_empty() {
            let (low, high) = self.frame();
            found.push(low.middle(high));
        }
        found
    }
}

/// Whether a straight line has a point in a rectangle.
///
/// Source: clipping of a line to a rectangle side by side (Liang and Barsky 1984, ACM TOG 3(1)).
pub fn crosses(a: Point, b: Point, low: Point, high: Point) -> bool {
    let d = b - a;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (p, q) in
        [(-d.x, a.x - low.x), (d.x, high.x - a.x), (-d.y, a.y - low.y), (d.y, high.y - a.y)]
    {
        if p == 0.0 {
            if q < 0.0 {
                return false;
            }
            continue;
        }
        let t = q / p;
        if p < 0.0 {
            from = from.max(t);
        } else {
            to = to.min(t);
        }
        if from > to {
            return false;
        }
    }
    true
}

/// What is written into a part.
#[derive(Clone, Debug)]
pub struct Told {
    /// Its number in the order of cuts.
    pub order: String,
    /// Its tag.
    pub tag: String,
    /// `L` or `R` beside the arrow of a mirrored pair.
    pub hand: Option<&'static str>,
    /// Which way its top lies on paper: degrees to the left from the right hand; none if either end may be up.
    pub top: Option<f64>,
    /// Where the motif it lies on is, on paper: the arrow begins there.
    pub motif: Option<Point>,
    /// Along and across, as it lies.
    pub size: (String, String),
}

#[derive(Clone, Debug)]
enum Sign {
    Ring(String, f64),
    Word(String, f64, bool),
    Arrow(f64, f64),
    Diamond(f64),
}

impl Sign {
    fn size(&self) -> (f64, f64) {
        match self {
            Self::Ring(text, size) => {
                let across = ring_radius(text, *size) * 2.0;
                (across, across)
            }
            Self::Word(text, size, bold) => {
                (letters::width(text, *size, *bold), size * letters::RISE)
            }
            Self::Diamond(half) => (half * 2.0, half * 2.0),
            Self::Arrow(turn, long) => {
                let turn = turn.to_radians();
                let (c, s) = (libm::cos(turn).abs(), libm::sin(turn).abs());
                let wide = long * 0.45;
                (c * long + s * wide, s * long + c * wide)
            }
        }
    }
}

fn ring_radius(text: &str, size: f64) -> f64 {
    (letters::width(text, size, true) / 2.0 + size * 0.14).max(size * 0.66)
}

/// Signs put together in rows.
pub struct Block {
    /// mm.
    pub width: f64,
    /// mm.
    pub height: f64,
    signs: Vec<(Vector, Sign)>,
}

impl Block {
    fn new(rows: Vec<Vec<Sign>>, pt: f64) -> Self {
        let (gap, between) = (3.5 * pt, 2.4 * pt);
        let row_size = |row: &Vec<Sign>| {
            let sizes: Vec<(f64, f64)> = row.iter().map(Sign::size).collect();
            let wide = sizes.iter().map(|s| s.0).sum::<f64>() + gap * (row.len() as f64 - 1.0);
            (wide, sizes.iter().map(|s| s.1).fold(0.0, f64::max))
        };
        let sizes: Vec<(f64, f64)> = rows.iter().map(row_size).collect();
        let width = sizes.iter().map(|s| s.0).fold(0.0, f64::max);
        let height =
            sizes.iter().map(|s| s.1).sum::<f64>() + between * (rows.len() as f64 - 1.0).max(0.0);
        let mut signs = Vec::new();
        let mut y = 0.0;
        for (row, (wide, high)) in rows.into_iter().zip(sizes) {
            let mut x = (width - wide) / 2.0;
            for sign in row {
                let (w, _) = sign.size();
                signs.push((Vector::new(x + w / 2.0, y + high / 2.0), sign));
                x += w + gap;
            }
            y += high + between;
        }
        Self { width, height, signs }
    }

    fn around(&self, middle: Point) -> Frame {
        let half = Vector::new(self.width / 2.0, self.height / 2.0);
        (middle + -half, middle + half)
    }

    /// Draws it round a middle.
    pub fn draw(&self, drawing: &mut Drawing, middle: Point, pt: f64) {
        let corner = self.around(middle).0;
        for (at, sign) in &self.signs {
            let at = corner + *at;
            match sign {
                Sign::Ring(text, size) => {
                    ring(drawing, at, ring_radius(text, *size), pt);
                    let base = at + Vector::new(0.0, size * letters::RISE / 2.0);
                    drawing.bold(base, *size, Anchor::Middle, text);
                }
                Sign::Word(text, size, bold) => {
                    let base = at + Vector::new(0.0, size * letters::RISE / 2.0);
                    if *bold {
                        drawing.bold(base, *size, Anchor::Middle, text);
                    } else {
                        drawing.text(base, *size, Anchor::Middle, text);
                    }
                }
                Sign::Arrow(turn, long) => arrow(drawing, at, *turn, *long, pt),
                Sign::Diamond(half) => {
                    crate::edge::diamond(drawing, at, *half, Ink::line(0.0).filled(0.0));
                }
            }
        }
    }
}

/// A ring round a number.
pub fn ring(drawing: &mut Drawing, at: Point, radius: f64, pt: f64) {
    let (a, b) = (at + Vector::new(-radius, 0.0), at + Vector::new(radius, 0.0));
    let steps =
        vec![Step::Move(a), Step::Arc(radius, true, b), Step::Arc(radius, true, a), Step::Close];
    drawing.shape(steps, Ink::line(0.9 * pt).filled(1.0));
}

/// A solid arrow round its middle; `turn` in degrees to the left from the right hand.
pub fn arrow(drawing: &mut Drawing, middle: Point, turn: f64, long: f64, pt: f64) {
    let radians = turn.to_radians();
    let ahead = Vector::new(libm::cos(radians), -libm::sin(radians));
    let side = ahead.right();
    let (tail, tip) = (middle + ahead * (-long / 2.0), middle + ahead * (long / 2.0));
    let head = (long * 0.5).min(7.5 * pt);
    drawing.stroke(tail, tip + ahead * (-head * 0.6), Ink::line(1.7 * pt));
    let steps = vec![
        Step::Move(tip),
        Step::Line(tip + ahead * -head + side * (head * 0.45)),
        Step::Line(tip + ahead * -head + side * (-head * 0.45)),
        Step::Close,
    ];
    drawing.shape(steps, Ink::line(0.0).filled(0.0));
}

/// The forms a label may take, the fullest first.
fn forms(told: &Told, with_motif: bool, pt: f64) -> Vec<Block> {
    let mut forms = Vec::new();
    let diamond = || with_motif.then_some(Sign::Diamond(3.0 * pt));
    for (tag, size, number) in [(14.5, 11.0, 11.0), (12.0, 11.0, 10.0), (12.0, 9.5, 9.0)] {
        let ring = || Sign::Ring(told.order.clone(), number * pt);
        let tag_sign = || Sign::Word(told.tag.clone(), tag * pt, true);
        let mut arrow = Vec::new();
        if let Some(hand) = told.hand {
            arrow.push(Sign::Word(hand.into(), tag * pt, true));
        }
        arrow.extend(diamond());
        arrow.extend(told.top.map(|turn| Sign::Arrow(turn, 16.0 * pt)));
        let head = |more: Vec<Sign>| [vec![ring(), tag_sign()], more].concat();
        let word = |text: String| vec![Sign::Word(text, size * pt, false)];
        let whole = || word(format!("{} × {}", told.size.0, told.size.1));
        let split = || vec![word(format!("{} ×", told.size.0)), word(told.size.1.clone())];
        let below = |mut rows: Vec<Vec<Sign>>, more: Vec<Vec<Sign>>| {
            rows.extend(more);
            rows.retain(|row| !row.is_empty());
            Block::new(rows, pt)
        };
        forms.push(below(vec![head(arrow.clone())], vec![whole()]));
        forms.push(below(vec![head(vec![]), arrow.clone()], vec![whole()]));
        forms.push(below(vec![head(vec![]), arrow.clone()], split()));
        forms.push(below(vec![vec![ring()], vec![tag_sign()], arrow.clone()], split()));
    }
    // The size stands in the table too: the number, the tag and the arrow do without it.
    for (tag, number) in [(14.5, 11.0), (12.0, 9.0)] {
        let ring = || Sign::Ring(told.order.clone(), number * pt);
        let tag_sign = || Sign::Word(told.tag.clone(), tag * pt, true);
        let long = if with_motif { 9.0 } else { 14.0 };
        let ahead = told.top.iter().map(|turn| Sign::Arrow(*turn, long * pt));
        let arrow: Vec<Sign> = diamond().into_iter().chain(ahead).collect();
        let rows = |rows: Vec<Vec<Sign>>| {
            Block::new(rows.into_iter().filter(|row| !row.is_empty()).collect(), pt)
        };
        forms.push(rows(vec![[vec![ring(), tag_sign()], arrow.clone()].concat()]));
        forms.push(rows(vec![vec![ring(), tag_sign()], arrow.clone()]));
        if with_motif {
            forms.push(rows(vec![vec![ring()], arrow.clone(), vec![tag_sign()]]));
        }
        forms.push(rows(vec![vec![ring()], vec![tag_sign()], arrow]));
    }
    let ring = || Sign::Ring(told.order.clone(), 9.0 * pt);
    match told.top {
        Some(turn) => {
            let arrow = || -> Vec<Sign> {
                diamond().into_iter().chain([Sign::Arrow(turn, 9.0 * pt)]).collect()
            };
            forms.push(Block::new(vec![[vec![ring()], arrow()].concat()], pt));
            forms.push(Block::new(vec![vec![ring()], arrow()], pt));
        }
        None => forms.push(Block::new(vec![vec![ring()]], pt)),
    }
    forms
}

/// The label of a part where it fits, with its middle; none if it must stand outside.
pub fn place(told: &Told, area: &Area, taken: &Taken, pt: f64) -> Option<(Block, Point)> {
    let places = area.places(3.0 * pt);
    let (low, high) = area.frame();
    let (wide, tall) = (high.x - low.x, high.y - low.y);
    forms(told, false, pt).into_iter().find_map(|block| {
        if block.width > wide || block.height > tall {
            return None;
        }
        let fits = |middle: &&Point| {
            let frame = block.around(**middle);
            area.holds(frame, 2.0 * pt) && taken.is_free(frame)
        };
        let middle = places.iter().find(fits).copied()?;
        Some((block, middle))
    })
}

/// The label of a part so that its diamond lies on the motif that the part lies on.
pub fn place_on_motif(told: &Told, area: &Area, taken: &Taken, pt: f64) -> Option<(Block, Point)> {
    let motif = told.motif?;
    forms(told, true, pt).into_iter().find_map(|block| {
        let is_diamond = |sign: &&(Vector, Sign)| matches!(sign.1, Sign::Diamond(_));
        let at = block.signs.iter().find(is_diamond)?.0;
        let half = Vector::new(block.width / 2.0, block.height / 2.0);
        let middle = motif + (half + at * -1.0);
        let frame = block.around(middle);
        (area.holds(frame, pt) && taken.is_free(frame)).then_some((block, middle))
    })
}

impl Block {
    /// What it takes round a middle.
    pub fn frame(&self, middle: Point, margin: f64) -> Frame {
        let (low, high) = self.around(middle);
        let more = Vector::new(margin, margin);
        (low + -more, high + more)
    }
}

/// The frame of a line of text at its anchor.
pub fn text_frame(at: Point, size: f64, anchor: Anchor, text: &str, bold: bool) -> Frame {
    let wide = letters::width(text, size, bold);
    let left = match anchor {
        Anchor::Start => at.x,
        Anchor::Middle => at.x - wide / 2.0,
        Anchor::End => at.x - wide,
    };
    (
        Point::new(left, at.y - size * letters::RISE),
        Point::new(left + wide, at.y + size * letters::FALL),
    )
}
