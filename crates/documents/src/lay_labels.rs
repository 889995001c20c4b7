//! What is written on a lay: flags of the sections, numbers and arrows of the parts, what to keep, marks along
//! the edges. Each thing placed takes its room; what comes later may not lie on it.

use crate::drawing::{Anchor, Drawing, Ink, Step, View};
use crate::edge::diamond;
use crate::label::{self, Area, Frame, Taken, Told, text_frame};
use crate::lay_drawing::{self, Sheet, kept, placed};
use crate::letters;
use crate::sections;
use geometry::{Length, Point, Spot, Vector};
use lay::Placement;
use trade::message::message;
use trade::part::{Motif, Part};

/// Everything written on a stretch of a lay, placed as if the upper selvedge were at nought.
pub struct Labels {
    over: Drawing,
    above: f64,
    below: f64,
}

/// A line of text in the margin with a leader from a part.
struct Note {
    /// Where it may start in the part, the best first.
    from: Vec<Point>,
    /// The frame of the parts it is about, for a bracket over several.
    about: Frame,
    count: usize,
    text: String,
}

/// Sizes of type, points.
const FLAG: f64 = 10.0;
const MARK: f64 = 10.0;
const NOTE: f64 = 10.0;

/// Height of a row of the margin, points.
const STEP: f64 = 13.0;

struct Desk<'a> {
    sheet: &'a Sheet<'a>,
    view: View,
    pt: f64,
    /// Height of the cloth on paper.
    tall: f64,
    taken: Taken,
    /// Leaders: none of a later note's text stands on them, and no two start at one place of an edge.
    crossed: Taken,
    lines: Vec<(f64, bool)>,
    /// Labels in the parts, which no leader may cross.
    labels: Taken,
    over: Drawing,
    highest: f64,
    lowest: f64,
}

impl Labels {
    /// Places everything.
    pub fn of(sheet: &Sheet) -> Self {
        let pt = sheet.look.pt;
        let tall = sheet.width * sheet.scale;
        let mut desk = Desk {
            sheet,
            view: sheet.view(0.0),
            pt,
            tall,
            taken: Taken::default(),
            crossed: Taken::default(),
            lines: Vec::new(),
            labels: Taken::default(),
            over: Drawing::new(0.0, 0.0),
            highest: -4.0 * pt,
            lowest: tall + 4.0 * pt,
        };
        desk.flags();
        desk.edges();
        let motifs = lay_drawing::motifs(sheet);
        desk.keep();
        let notes = desk.parts();
        let is_patterned = motifs.is_some();
        if is_patterned {
            desk.section_lengths();
        } else {
            desk.marks();
        }
        notes.into_iter().for_each(|note| desk.note(&note));
        if let Some(motifs) = &motifs {
            desk.motifs(motifs);
        }
        Self {
            above: -desk.highest + 2.0 * pt,
            below: desk.lowest - tall + 2.0 * pt,
            over: desk.over,
        }
    }

    /// Room above the upper selvedge, mm.
    pub const fn above(&self) -> f64 {
        self.above
    }

    /// Room below the lower selvedge, mm.
    pub const fn below(&self) -> f64 {
        self.below
    }

    /// Written over the lay.
    pub fn draw(&self, drawing: &mut Drawing) {
        drawing.items.extend(self.over.moved(Vector::new(0.0, self.above)).items);
    }
}

fn grown((low, high): Frame, by: f64) -> Frame {
    let more = Vector::new(by, by);
    (low + -more, high + more)
}

impl Desk<'_> {
    /// A place on paper by its distance along the roll, at a selvedge.
    fn along(&self, y: f64) -> f64 {
        self.view.at(Point::new(0.0, y)).x
    }

    /// A flag for each section and each new zero, and the cuts straight across.
    fn flags(&mut self) {
        let (from, to) = self.sheet.part;
        let pt = self.pt;
        let mut ends: Vec<f64> = Vec::new();
        for (n, section) in self.sheet.sections.iter().enumerate() {
            for (i, zero) in section.zeros.iter().enumerate() {
                let y = zero.mm();
                if y < from - 1e-6 || y >= to - 1e-6 {
                    continue;
                }
                let x = self.along(y);
                let text = if i == 0 { format!("S{}", n + 1) } else { "0".to_string() };
                let wide = letters::width(&text, FLAG * pt, true) + 6.0 * pt;
                let level = ends.iter().position(|end| *end + pt < x).unwrap_or(ends.len());
                if level == ends.len() {
                    ends.push(0.0);
                }
                ends[level] = x + wide;
                let top = -(5.0 + 14.0 * (level as f64 + 1.0)) * pt;
                self.highest = self.highest.min(top);
                let frame = (Point::new(x, top), Point::new(x + wide, top + 13.0 * pt));
                self.over.stroke(
                    Point::new(x, 0.0),
                    Point::new(x, top + 13.0 * pt),
                    Ink::line(0.8 * pt),
                );
                self.over.rect(frame.0, frame.1, Ink::line(0.0).filled(0.0));
                let base =
                    Point::new(x + wide / 2.0, top + (6.5 + FLAG * letters::RISE / 2.0) * pt);
                self.over.white(base, FLAG * pt, Anchor::Middle, text);
                self.taken.take(grown(frame, pt));
                if i == 0 {
                    self.cut_across(x, y > from);
                } else {
                    let tick = |a: f64, b: f64| (Point::new(x, a), Point::new(x, b));
                    let (a, b) = tick(self.tall, self.tall + 7.0 * pt);
                    self.over.stroke(a, b, Ink::line(1.2 * pt));
                }
            }
        }
    }

    /// A cut straight across, running past both selvedges.
    fn cut_across(&mut self, x: f64, is_cut: bool) {
        let pt = self.pt;
        let (a, b) = (Point::new(x, 0.0), Point::new(x, self.tall + 7.0 * pt));
        let ink =
            if is_cut { Ink::dashed(1.2 * pt, 7.0 * pt, 2.0 * pt) } else { Ink::line(1.6 * pt) };
        self.over.stroke(a, b, ink);
    }

    /// The end of the row: of the cloth, or where the next row begins.
    fn edges(&mut self) {
        let pt = self.pt;
        let (from, to) = self.sheet.part;
        let (left, right) = (self.along(from), self.along(to));
        let end = Ink::line(1.6 * pt);
        self.over.stroke(Point::new(right, 0.0), Point::new(right, self.tall), end);
        let voice = words::of(&self.sheet.plan.job);
        let motifs = lay_drawing::motifs(self.sheet);
        let columns = motifs.map(|m| m.columns()).unwrap_or_default();
        let write = |desk: &mut Self, y: f64, text: String| {
            let at = Point::new(left - 4.0 * pt, y + 9.0 * letters::RISE / 2.0 * pt);
            desk.taken.take(text_frame(at, 9.0 * pt, Anchor::End, &text, false));
            desk.over.text(at, 9.0 * pt, Anchor::End, text);
        };
        if columns.is_empty() {
            let (top, bottom) =
                if self.sheet.face_down() { ("right", "left") } else { ("left", "right") };
            write(self, 5.0 * pt, voice.say(&message("plan-selvedge").text("side", top)));
            let tall = self.tall;
            write(self, tall - 5.0 * pt, voice.say(&message("plan-selvedge").text("side", bottom)));
            return;
        }
        let apart = (columns.get(1).map_or(0.0, |x| x.mm()) - columns[0].mm()) * self.sheet.scale;
        let every = (12.0 * pt / apart.max(0.01)).ceil().max(1.0) as usize;
        for (i, x) in
            columns.iter().enumerate().filter(|(i, _)| columns.len() == 1 || i % every == 0)
        {
            let y = self.view.at(Point::new(x.mm(), from)).y;
            write(self, y, (i + 1).to_string());
        }
    }

    /// Where on paper the motif is that a part lies on, if that is drawn.
    fn motif_of(&self, index: usize, part: &Part) -> Option<Point> {
        let motifs = lay_drawing::motifs(self.sheet)?;
        let place = held_place(&self.sheet.strip.placements[index], part)?;
        let section = self.sheet.sections.iter().find(|s| s.parts().any(|i| i == index))?;
        let at = motifs.by(place, section)?.point();
        (at.y >= self.sheet.part.0 && at.y <= self.sheet.part.1).then(|| self.view.at(at))
    }

    /// Names of what is kept.
    fn keep(&mut self) {
        let pt = self.pt;
        let voice = words::of(&self.sheet.plan.job);
        let style = &self.sheet.plan.job.style;
        for (kept, low, high) in kept(self.sheet) {
            let frame = self.sheet.band(&self.view, (low.x, high.x), (low.y, high.y));
            let (wide, tall) = (frame.1.x - frame.0.x, frame.1.y - frame.0.y);
            let name = voice.say(&message("plan-keep").text("name", &kept.id));
            let size = format!(
                "{} × {}",
                style.chalk_number(kept.place.height()),
                style.chalk_number(kept.place.width())
            );
            let middle = frame.0.middle(frame.1);
            let lines: Vec<(String, bool)> = [(name, true), (kept.id.clone(), true), (size, false)]
                .into_iter()
                .filter(|(text, bold)| letters::width(text, 10.0 * pt, *bold) < wide - 6.0 * pt)
                .collect();
            // The short name only where the long one has no room.
            let named = lines.first().is_some_and(|l| l.0 != kept.id);
            let lines: Vec<_> = lines.into_iter().filter(|l| !(named && l.0 == kept.id)).collect();
            let room = ((tall - 4.0 * pt) / (12.0 * pt)).floor().max(0.0) as usize;
            let lines = &lines[..lines.len().min(room)];
            for (i, (text, bold)) in lines.iter().enumerate() {
                let off = (i as f64 - (lines.len() as f64 - 1.0) / 2.0) * 12.0 * pt;
                let at = middle + Vector::new(0.0, off + 10.0 * letters::RISE / 2.0 * pt);
                let size = 10.0 * pt;
                self.taken.take(text_frame(at, size, Anchor::Middle, text, *bold));
                if *bold {
                    self.over.bold(at, size, Anchor::Middle, text);
                } else {
                    self.over.text(at, size, Anchor::Middle, text);
                }
            }
        }
    }

    /// Labels of the parts, the largest first; what has no room inside gets a note in the margin.
    fn parts(&mut self) -> Vec<Note> {
        let mut notes = Vec::new();
        let mut single: Vec<(f64, usize, usize)> = Vec::new();
        let mut order = 0;
        for section in self.sheet.sections {
            for group in &section.groups {
                let first = order + 1;
                order += group.len();
                if group.len() > 1 {
                    notes.extend(self.group_note(group, first));
                } else {
                    let path = placed(self.sheet.lay, &self.sheet.strip.placements[group[0]]);
                    let (low, high) = path.bounds();
                    // In the row that shows more of it.
                    let (from, to) = self.sheet.part;
                    let seen = high.y.min(to) - low.y.max(from);
                    if seen > 0.499 * (high.y - low.y) {
                        single.push((path.area(), group[0], first));
                    }
                }
            }
        }
        single.sort_by(|a, b| b.0.total_cmp(&a.0));
        for (_, index, order) in single {
            notes.extend(self.part(index, order));
        }
        notes.sort_by(|a, b| a.from[0].x.total_cmp(&b.from[0].x));
        notes
    }

    fn area(&self, index: usize) -> Area {
        let placement = &self.sheet.strip.placements[index];
        let part = &self.sheet.lay.parts[placement.item].part;
        let p = placement.at.point();
        let by = Vector::new(p.x, p.y);
        let ring = |path: &geometry::Path| {
            let path = path.turned(placement.turn).moved(by);
            path.flatten().points().iter().map(|s| self.view.at(s.point())).collect()
        };
        let rings =
            std::iter::once(&part.outline.outer).chain(&part.outline.holes).map(ring).collect();
        let shown = self.sheet.band(&self.view, (0.0, self.sheet.width), self.sheet.part);
        Area { rings, shown }
    }

    fn part(&mut self, index: usize, order: usize) -> Option<Note> {
        let told = self.told(index, order);
        let area = self.area(index);
        let mut placed = label::place_on_motif(&told, &area, &self.taken, self.pt);
        if placed.is_none() {
            if let Some(at) = told.motif {
                // The diamond for itself, the label beside it.
                diamond(&mut self.over, at, 3.0 * self.pt, Ink::line(0.0).filled(0.0));
                let half = Vector::new(4.0 * self.pt, 4.0 * self.pt);
                self.taken.take((at + -half, at + half));
            }
            placed = label::place(&told, &area, &self.taken, self.pt);
        }
        if let Some((block, middle)) = placed {
            block.draw(&mut self.over, middle, self.pt);
            self.taken.take(block.frame(middle, 2.0 * self.pt));
            self.labels.take(block.frame(middle, 0.0));
            return None;
        }
        let from = area.starts(1.5 * self.pt);
        let arrow = told.top.map_or("", arrow_sign);
        let hand = told.hand.map_or(String::new(), |hand| format!(" {hand}"));
        let text = format!(
            "{}: {}{hand} {} × {}{}{arrow}",
            told.order,
            told.tag,
            told.size.0,
            told.size.1,
            if arrow.is_empty() { "" } else { " " }
        );
        Some(Note { about: (from[0], from[0]), from, count: 1, text })
    }

    fn told(&self, index: usize, order: usize) -> Told {
        let placement = &self.sheet.strip.placements[index];
        let part = &self.sheet.lay.parts[placement.item].part;
        let style = &self.sheet.plan.job.style;
        let (along, across) = as_it_lies(part, placement.turn, style);
        let turn = if self.sheet.face_down() { -placement.turn } else { placement.turn };
        Told {
            order: order.to_string(),
            tag: part.id.clone(),
            hand: part.hand.map(|hand| if hand == "left" { "L" } else { "R" }),
            top: has_top(part).then_some(turn),
            motif: self.motif_of(index, part),
            size: (style.number(along), style.number(across)),
        }
    }

    fn group_note(&self, group: &[usize], first: usize) -> Option<Note> {
        let boxes = sections::boxes(self.sheet.lay, self.sheet.strip);
        let (mut low, mut high) = (boxes[group[0]].low, boxes[group[0]].high);
        for &i in group {
            low = Spot::new(low.x.min(boxes[i].low.x), low.y.min(boxes[i].low.y));
            high = Spot::new(high.x.max(boxes[i].high.x), high.y.max(boxes[i].high.y));
        }
        let (low, high) = (low.point(), high.point());
        if !self.sheet.shows(low.y, high.y) || low.y < self.sheet.part.0 - 1e-6 {
            return None;
        }
        let placement = &self.sheet.strip.placements[group[0]];
        let part = &self.sheet.lay.parts[placement.item].part;
        let style = &self.sheet.plan.job.style;
        let (along, across) = as_it_lies(part, placement.turn, style);
        let text = words::of(&self.sheet.plan.job).say(
            &message("plan-group")
                .count("first", first)
                .count("last", first + group.len() - 1)
                .count("count", group.len())
                .text("tag", &part.id)
                .number("along", along)
                .number("across", across),
        );
        let about = self.sheet.band(&self.view, (low.x, high.x), (low.y, high.y));
        // Inside one of them, so that it is seen whom it is about.
        let middle = about.0.middle(about.1);
        let of = |i: &usize| self.view.at(boxes[*i].low.point().middle(boxes[*i].high.point()));
        let mut from: Vec<Point> = group.iter().map(of).collect();
        from.sort_by(|a, b| (*a - middle).length().total_cmp(&(*b - middle).length()));
        from.truncate(8);
        Some(Note { from, about, count: group.len(), text })
    }

    /// A note in the margin: its text as near as there is room, a line from the part to it.
    fn note(&mut self, note: &Note) {
        let rows = |strict: bool, over_labels: bool, most: usize| {
            (0..most).find_map(|row| self.spot(note, row, (strict, over_labels)))
        };
        // Where lines must cross, the text at least stands free; a label is crossed only if nothing else is left.
        let found = rows(true, false, 14).or_else(|| rows(false, false, 30));
        let found = found.or_else(|| rows(false, true, 60));
        let Some((from, edge, at, frame, reach)) = found else { return };
        let end = if edge > 0.0 { frame.0.y } else { frame.1.y };
        self.leader(note, from, Point::new(from.x, edge), Point::new(reach, end));
        self.over.text(at, NOTE * self.pt, Anchor::Start, &note.text);
        self.taken.take(frame);
        let (low, high) = (edge.min(end), edge.max(end));
        self.lines.push((from.x, edge > 0.0));
        self.crossed.take((Point::new(from.x - 0.1, low), Point::new(from.x + 0.1, high)));
        self.highest = self.highest.min(frame.0.y);
        self.lowest = self.lowest.max(frame.1.y);
    }

    /// Where a note may stand in a row of the margin: its start, the selvedge its line leaves by, its text's
    /// place and frame, and where the line ends under it.
    fn spot(
        &self,
        note: &Note,
        row: usize,
        (strict, over_labels): (bool, bool),
    ) -> Option<(Point, f64, Point, Frame, f64)> {
        let pt = self.pt;
        let size = NOTE * pt;
        let wide = letters::width(&note.text, size, false);
        let left = self.along(self.sheet.part.0) - (self.sheet.look.before - 2.0) * pt;
        let right = self.along(self.sheet.part.1) + (self.sheet.look.after - 2.0) * pt;
        let is_low = note.from[0].y > self.tall / 2.0;
        for low in [is_low, !is_low] {
            let base = if low {
                self.tall + (14.0 + STEP * row as f64 + NOTE * letters::RISE) * pt
            } else {
                -(8.0 + STEP * row as f64) * pt
            };
            let edge = if low { self.tall } else { 0.0 };
            for from in &note.from {
                let x = from.x;
                let inside = (Point::new(x, from.y.min(edge)), Point::new(x, from.y.max(edge)));
                if !over_labels && !self.labels.is_free(grown(inside, 0.6 * pt)) {
                    continue;
                }
                if strict
                    && self.lines.iter().any(|(other, l)| *l == low && (other - x).abs() < 1.4 * pt)
                {
                    continue;
                }
                for shift in [0.0, 8.0, -8.0, 16.0, -16.0, 28.0, -28.0, 44.0, -44.0] {
                    let start = x + shift * pt - if shift < 0.0 { wide } else { 2.0 * pt };
                    let start = start.clamp(left, (right - wide).max(left));
                    let at = Point::new(start, base);
                    let frame = grown(text_frame(at, size, Anchor::Start, &note.text, false), pt);
                    let end = if low { frame.0.y } else { frame.1.y };
                    let reach = x.clamp(frame.0.x, frame.1.x);
                    let line = (
                        Point::new(x.min(reach) - 0.6 * pt, edge.min(end)),
                        Point::new(x.max(reach) + 0.6 * pt, edge.max(end)),
                    );
                    let is_free = self.taken.is_free(frame)
                        && (!strict || self.taken.is_free(line) && self.crossed.is_free(frame));
                    if is_free {
                        return Some((*from, edge, at, frame, reach));
                    }
                }
            }
        }
        None
    }

    fn leader(&mut self, note: &Note, from: Point, edge: Point, end: Point) {
        let pt = self.pt;
        let ink = Ink::line(0.6 * pt);
        // White under it, so that it is seen across lines of other parts.
        self.over.stroke(from, edge, Ink::line(1.8 * pt).grey(1.0));
        self.over.stroke(from, edge, ink);
        self.over.stroke(edge, end, ink);
        let r = 1.3 * pt;
        let (a, b) = (from + Vector::new(-r, 0.0), from + Vector::new(r, 0.0));
        let dot = vec![Step::Move(a), Step::Arc(r, true, b), Step::Arc(r, true, a), Step::Close];
        self.over.shape(dot, Ink::line(0.0).filled(0.0));
        if note.count > 1 {
            // A bracket over all of them, just inside their edge.
            let (low, high) = note.about;
            let y = from.y;
            let tick = 2.0 * pt;
            for (p, q) in [
                (Point::new(low.x + pt, y), Point::new(high.x - pt, y)),
                (Point::new(low.x + pt, y - tick), Point::new(low.x + pt, y + tick)),
                (Point::new(high.x - pt, y - tick), Point::new(high.x - pt, y + tick)),
            ] {
                self.over.stroke(p, q, ink);
            }
        }
    }

    /// Lengths of the sections, below the cloth.
    fn section_lengths(&mut self) {
        let pt = self.pt;
        let style = &self.sheet.plan.job.style;
        let (from, to) = self.sheet.part;
        for section in self.sheet.sections {
            let (a, b) = (section.from.mm(), section.to.mm());
            if a < from - 1e-6 || b > to + 1e-6 {
                continue;
            }
            let text = style.number(section.to - section.from);
            let (x0, x1) = (self.along(a), self.along(b));
            let y = self.tall + 9.0 * pt;
            let wide = letters::width(&text, MARK * pt, false) + 4.0 * pt;
            let ink = Ink::line(0.5 * pt);
            if wide + 8.0 * pt > x1 - x0 {
                continue;
            }
            let middle = x0.midpoint(x1);
            for (p, q) in [(x0, middle - wide / 2.0), (middle + wide / 2.0, x1)] {
                self.over.stroke(Point::new(p, y), Point::new(q, y), ink);
            }
            for (x, way) in [(x0, 1.0), (x1, -1.0)] {
                let head = vec![
                    Step::Move(Point::new(x, y)),
                    Step::Line(Point::new(x + way * 4.0 * pt, y - 1.6 * pt)),
                    Step::Line(Point::new(x + way * 4.0 * pt, y + 1.6 * pt)),
                    Step::Close,
                ];
                self.over.shape(head, Ink::line(0.0).filled(0.0));
            }
            let at = Point::new(middle, y + MARK * letters::RISE / 2.0 * pt);
            self.taken.take(text_frame(at, MARK * pt, Anchor::Middle, &text, false));
            self.over.text(at, MARK * pt, Anchor::Middle, text);
            self.lowest = self.lowest.max(y + 6.0 * pt);
        }
    }

    /// Near edges of the parts from their zero: of the upper half above, of the lower half below.
    fn marks(&mut self) {
        let pt = self.pt;
        let style = &self.sheet.plan.job.style;
        let boxes = sections::boxes(self.sheet.lay, self.sheet.strip);
        let mut marks: Vec<(f64, bool, String)> = Vec::new();
        for section in self.sheet.sections {
            for i in section.parts() {
                let b = &boxes[i];
                let at = style.place(Length::from_nm(b.low.y));
                let from_zero = at - section.zero(at);
                if from_zero <= Length::ZERO || !self.sheet.shows(at.mm(), at.mm() + 1.0) {
                    continue;
                }
                let frame = self.sheet.band(
                    &self.view,
                    (b.low.point().x, b.high.point().x),
                    (b.low.point().y, b.high.point().y),
                );
                let is_low = frame.0.y + frame.1.y > self.tall;
                marks.push((at.mm(), is_low, style.number(from_zero)));
            }
        }
        marks.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        marks.dedup();
        for (y, is_low, text) in marks {
            let x = self.along(y);
            let base =
                if is_low { self.tall + (6.0 + MARK * letters::RISE) * pt } else { -6.0 * pt };
            let at = Point::new(x, base);
            let frame = grown(text_frame(at, MARK * pt, Anchor::Middle, &text, false), pt);
            if !self.taken.is_free(frame) {
                continue;
            }
            let tick = if is_low { (self.tall, self.tall + 5.0 * pt) } else { (-5.0 * pt, 0.0) };
            self.over.stroke(Point::new(x, tick.0), Point::new(x, tick.1), Ink::line(0.5 * pt));
            self.over.text(at, MARK * pt, Anchor::Middle, text);
            self.taken.take(frame);
            self.lowest = self.lowest.max(frame.1.y);
            self.highest = self.highest.min(frame.0.y);
        }
    }

    /// All other motifs, small and grey, where nothing else stands.
    fn motifs(&mut self, motifs: &sections::Motifs) {
        let pt = self.pt;
        let (from, to) = self.sheet.part;
        for spot in motifs.between(Length::from_mm(from), Length::from_mm(to)) {
            let at = self.view.at(spot.point());
            let half = Vector::new(3.0 * pt, 3.0 * pt);
            let frame = (at + -half, at + half);
            if self.taken.is_free(frame) {
                diamond(&mut self.over, at, 2.4 * pt, Ink::line(0.5 * pt).grey(0.45).filled(1.0));
            }
        }
    }
}

/// A turn as an arrow sign, nearest quarter.
pub fn arrow_sign(turn: f64) -> &'static str {
    let quarter = (turn.rem_euclid(360.0) / 90.0).round() as i64 % 4;
    ["→", "↑", "←", "↓"][usize::try_from(quarter).unwrap_or(0)]
}

/// Whether it matters which end of a part is up: not of strips and buttons, nor of round parts that hang on
/// no motif.
pub fn has_top(part: &Part) -> bool {
    !(part.is_small() || part.outline.is_round() && part.motif == Motif::Free)
}

/// Length along the roll and width across it of a part as it lies, as printed.
pub fn as_it_lies(part: &Part, turn: f64, style: &trade::working::Style) -> (Length, Length) {
    let (w, h) = part.printed_size(style);
    if turn.rem_euclid(180.0) == 90.0 { (w, h) } else { (h, w) }
}

/// Where the middle of what is seen of a part lies on the cloth, if the part is held to motifs.
pub fn held_place(placement: &Placement, part: &Part) -> Option<Spot> {
    if part.motif == Motif::Free {
        return None;
    }
    let middle = Spot::from_point(part.seen_middle().turned(placement.turn));
    Some(Spot::new(placement.at.x + middle.x, placement.at.y + middle.y))
}
