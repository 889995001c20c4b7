//! A length of cloth divided where it is cut straight across, and from where each part on it is measured.
//!
//! Nobody has a table for a whole length: each section is measured anew from its own cut, and where no cut
//! falls within reach a new zero is marked on both selvedges.

use crate::lay_drawing::{cloth_width, shown_length};
use crate::lay_labels::held_place;
use geometry::{Length, Rect, Spot};
use lay::{Drop, Strip};
use trade::lays::ClothLay;
use trade::plan::Plan;
use trade::remnants;

/// As far as a tape is read from a zero at a bench: 120 in. Common practice, no source.
const REACH: Length = Length::from_inch_64ths(120 * 64);

/// Sections shorter than this are cut off together: strips side by side.
const SHORT: Length = Length::from_inch_64ths(5 * 64);

/// Strips no further apart than this are one group.
const NEAR: Length = Length::from_inch_64ths(8);

/// From one cut straight across to the next.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Where it begins, to the mark, from the cut end of the length.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// Zeros within it, to the mark, from the cut end of the length: its own cut first.
    pub zeros: Vec<Length>,
    /// Its parts, as indices of the strip's placements, in the order they are cut; equal strips or buttons
    /// side by side are one group.
    pub groups: Vec<Vec<usize>>,
}

/// A part's place on a motif: which column, counted from the left selvedge, and which motif of it, counted
/// from the section's cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OnMotif {
    /// From 1; nought where the pattern does not repeat across.
    pub column: usize,
    /// From 1.
    pub nth: usize,
    /// How far the part's middle lies to the right of the motif.
    pub right: Length,
    /// How far it lies beyond the motif, along the roll.
    pub beyond: Length,
}

/// Where each placement of a strip lies, as a box.
pub fn boxes(lay: &ClothLay, strip: &Strip) -> Vec<Rect> {
    let of =
        |p: &lay::Placement| lay.instance.items[p.item].shape.turned(p.turn).bounds().moved(p.at);
    strip.placements.iter().map(of).collect()
}

/// The sections of a strip, in order; every placement is in one.
pub fn sections(plan: &Plan, lay: &ClothLay, strip: &Strip) -> Vec<Section> {
    let style = &plan.job.style;
    let boxes = boxes(lay, strip);
    let kept = remnants::kept(lay);
    let here = || kept.iter().filter(|k| lay.answer.lay.strips[k.strip].stock == strip.stock);
    // A cut right across must not go through what is to be kept.
    let through = |y: i64| here().any(|k| k.place.low.y < y && y < k.place.high.y);
    let cuts: Vec<Length> = lay::cross_cuts(&lay.instance, strip)
        .into_iter()
        .filter(|y| !through(y.nm()))
        .map(|y| cut_mark(style, y, &boxes))
        .collect();
    let end = shown_length(lay, strip);
    let mut all: Vec<Section> = Vec::new();
    let mut from = Length::ZERO;
    for to in cuts.into_iter().chain([end]) {
        if to <= from {
            continue;
        }
        all.push(Section { from, to, zeros: vec![from], groups: Vec::new() });
        from = to;
    }
    for (i, b) in boxes.iter().enumerate() {
        // A part begins a hair before its cut's mark at most.
        let low = style.place(Length::from_nm(b.low.y));
        let found = all.iter().rposition(|s| s.from <= low).unwrap_or(0);
        if let Some(section) = all.get_mut(found) {
            section.groups.push(vec![i]);
        }
    }
    let mut all = joined(all);
    for section in &mut all {
        section.zeros = zeros(style, section, &boxes);
        section.groups = grouped(lay, strip, section, &boxes);
    }
    all
}

/// The mark at which a cut is made: beyond the parts before it, if the next parts leave room for that;
/// else the mark nearest to it.
fn cut_mark(style: &trade::working::Style, cut: Length, boxes: &[Rect]) -> Length {
    let next = boxes.iter().map(|b| b.low.y).filter(|low| *low >= cut.nm()).min();
    let beyond = style.up(cut);
    if next.is_some_and(|low| beyond.nm() <= low) { beyond } else { style.place(cut) }
}

/// Short ones side by side made one; what holds nothing goes to the one before it.
fn joined(all: Vec<Section>) -> Vec<Section> {
    let mut out: Vec<Section> = Vec::new();
    let short = |s: &Section| s.to - s.from < SHORT;
    let mut last_short = false;
    for section in all {
        let is_short = short(&section);
        match out.last_mut() {
            Some(before) if section.groups.is_empty() || (last_short && is_short) => {
                before.to = section.to;
                before.groups.extend(section.groups);
            }
            _ => {
                last_short = is_short;
                out.push(section);
            }
        }
    }
    out
}

/// The section's cut, and new zeros where parts begin beyond the tape's reach.
fn zeros(style: &trade::working::Style, section: &Section, boxes: &[Rect]) -> Vec<Length> {
    let mut zeros = vec![section.from];
    let mut starts: Vec<Length> =
        section.parts().map(|i| style.place(Length::from_nm(boxes[i].low.y))).collect();
    starts.sort();
    let mut last = section.from;
    let Some(&furthest) = starts.last() else { return zeros };
    while furthest - last > REACH {
        let next = starts.iter().copied().filter(|s| *s > last && *s <= last + REACH).max();
        last = next.unwrap_or_else(|| style.place(last + REACH));
        zeros.push(last);
    }
    zeros
}

/// Equal strips and buttons side by side put together.
fn grouped(lay: &ClothLay, strip: &Strip, section: &Section, boxes: &[Rect]) -> Vec<Vec<usize>> {
    let parts: Vec<usize> = section.parts().collect();
    let alike = |a: usize, b: usize| {
        let (p, q) = (&strip.placements[a], &strip.placements[b]);
        p.item == q.item && p.turn == q.turn && lay.parts[p.item].part.is_small()
    };
    let beside = |a: usize, b: usize| {
        let (a, b) = (&boxes[a], &boxes[b]);
        let near = |gap: i64| gap <= NEAR.nm();
        near(a.low.x.max(b.low.x) - a.high.x.min(b.high.x))
            && near(a.low.y.max(b.low.y) - a.high.y.min(b.high.y))
    };
    let mut groups: Vec<Vec<usize>> = Vec::new();
    let mut done = vec![false; strip.placements.len()];
    for &first in &parts {
        if done[first] {
            continue;
        }
        done[first] = true;
        let mut group = vec![first];
        let mut next = 0;
        while next < group.len() {
            let one = group[next];
            for &other in &parts {
                if !done[other] && alike(one, other) && beside(one, other) {
                    done[other] = true;
                    group.push(other);
                }
            }
            next += 1;
        }
        groups.push(group);
    }
    groups
}

impl Section {
    /// Its parts in the order they are cut.
    pub fn parts(&self) -> impl Iterator<Item = usize> + '_ {
        self.groups.iter().flatten().copied()
    }

    /// The zero that a place is measured from.
    pub fn zero(&self, at: Length) -> Length {
        self.zeros.iter().copied().filter(|z| *z <= at).max().unwrap_or(self.from)
    }
}

/// Motifs of a strip, if the pattern repeats along the roll.
pub struct Motifs {
    /// A motif, from the left selvedge and the cut end.
    first: Spot,
    across: Option<i64>,
    along: i64,
    is_half_drop: bool,
    /// What is used of the cloth, from selvedge to selvedge.
    usable: (i64, i64),
}

impl Motifs {
    /// Of a strip; none on cloth without a length repeat.
    pub fn of(lay: &ClothLay, strip: &Strip) -> Option<Self> {
        let pattern = lay.instance.pattern.as_ref()?;
        let (left, right) = lay.instance.usable(strip.stock);
        Some(Self {
            first: lay.instance.motif(strip.stock),
            across: pattern.width.map(Length::nm),
            along: pattern.length?.nm(),
            is_half_drop: pattern.drop == Drop::Half && pattern.width.is_some(),
            usable: (left.nm(), right.nm()),
        })
    }

    /// The least distance between neighbouring motifs along an axis.
    pub fn apart(&self) -> Length {
        Length::from_nm(self.across.unwrap_or(self.along).min(self.along))
    }

    /// Middles of the columns across, from the left.
    pub fn columns(&self) -> Vec<Length> {
        let Some(across) = self.across else { return Vec::new() };
        let first = (self.usable.0 - self.first.x).div_euclid(across)
            + i64::from((self.usable.0 - self.first.x).rem_euclid(across) != 0);
        (first..)
            .map(|n| self.first.x + n * across)
            .take_while(|x| *x <= self.usable.1)
            .map(Length::from_nm)
            .collect()
    }

    /// How far along the roll the motifs of a column stand from the first one's.
    fn shift(&self, x: i64) -> i64 {
        let column = self.across.map_or(0, |across| (x - self.first.x).div_euclid(across));
        if self.is_half_drop && column.rem_euclid(2) == 1 { self.along / 2 } else { 0 }
    }

    /// Every motif from one place along the roll to another.
    pub fn between(&self, from: Length, to: Length) -> Vec<Spot> {
        let mut all = Vec::new();
        for x in self.columns() {
            let phase = self.first.y + self.shift(x.nm());
            let mut y = from.nm() + (phase - from.nm()).rem_euclid(self.along);
            while y <= to.nm() {
                all.push(Spot::new(x.nm(), y));
                y += self.along;
            }
        }
        all
    }

    /// The motif by which a part's place is told: of the columns that are counted and not before the
    /// section's cut, the nearest; none where no column lies on the cloth.
    pub fn by(&self, place: Spot, section: &Section) -> Option<Spot> {
        if self.across.is_none() {
            return Some(Spot::new(place.x, self.nearest_along(place.x, place.y, section)));
        }
        let far = |s: &Spot| {
            let (dx, dy) = ((s.x - place.x) as f64, (s.y - place.y) as f64);
            dx * dx + dy * dy
        };
        let columns = self.columns().into_iter();
        let motifs =
            columns.map(|x| Spot::new(x.nm(), self.nearest_along(x.nm(), place.y, section)));
        motifs.min_by(|a, b| far(a).total_cmp(&far(b)))
    }

    /// The motif of a column nearest to a place along the roll, not before a section's cut.
    fn nearest_along(&self, x: i64, y: i64, section: &Section) -> i64 {
        let first = self.first_of(x, section);
        first + ((y - first + self.along / 2).div_euclid(self.along)).max(0) * self.along
    }

    /// The first motif of a column past a section's cut.
    fn first_of(&self, x: i64, section: &Section) -> i64 {
        let phase = self.first.y + self.shift(x);
        section.from.nm() + (phase - section.from.nm()).rem_euclid(self.along)
    }

    /// How a place is told from the motifs of a section.
    pub fn tell(&self, section: &Section, place: Spot, motif: Spot) -> OnMotif {
        let columns = self.columns();
        let column = columns.iter().position(|x| x.nm() == motif.x).map_or(0, |i| i + 1);
        let first = self.first_of(motif.x, section);
        let nth = (motif.y - first).div_euclid(self.along) + 1;
        OnMotif {
            column: if self.across.is_some() { column } else { 0 },
            nth: usize::try_from(nth).unwrap_or(0),
            right: Length::from_nm(place.x - motif.x),
            beyond: Length::from_nm(place.y - motif.y),
        }
    }

    /// How far ahead of the cut end the first motifs stand, and of which columns they are.
    pub fn first_ahead(&self) -> (Length, Option<bool>) {
        let columns = self.columns();
        let odd = columns.first().map_or(0, |x| self.shift(x.nm()));
        let ahead = |shift: i64| (self.first.y + shift).rem_euclid(self.along);
        if !self.is_half_drop {
            return (Length::from_nm(ahead(0)), None);
        }
        let (a, b) = (ahead(odd), ahead(if odd == 0 { self.along / 2 } else { 0 }));
        if a <= b { (Length::from_nm(a), Some(true)) } else { (Length::from_nm(b), Some(false)) }
    }

    /// How far a cut across lies past the motifs before it, and whether those are of the odd columns;
    /// `None` for the columns where all stand side by side.
    pub fn cut(&self, at: Length) -> (Length, Option<bool>) {
        let past = |phase: i64| (at.nm() - phase).rem_euclid(self.along);
        let columns = self.columns();
        let odd = columns.first().map_or(0, |x| self.shift(x.nm()));
        if !self.is_half_drop {
            return (Length::from_nm(past(self.first.y)), None);
        }
        let even = if odd == 0 { self.along / 2 } else { 0 };
        let (a, b) = (past(self.first.y + odd), past(self.first.y + even));
        if a <= b { (Length::from_nm(a), Some(true)) } else { (Length::from_nm(b), Some(false)) }
    }
}

/// How the place of a part held to the pattern is told on the cutting plan: by its section and its index
/// among the strip's placements.
pub fn on_motif(lay: &ClothLay, strip: &Strip, section: &Section, index: usize) -> Option<OnMotif> {
    let placement = &strip.placements[index];
    let place = held_place(placement, &lay.parts[placement.item].part)?;
    let motifs = Motifs::of(lay, strip)?;
    Some(motifs.tell(section, place, motifs.by(place, section)?))
}

/// Face down the right selvedge is counted from.
pub fn from_side(plan: &Plan, lay: &ClothLay, strip: &Strip, b: &Rect) -> (i64, i64) {
    if plan.job.cloths[lay.cloth].chalk_back {
        let width = cloth_width(plan, lay, strip).nm();
        (width - b.high.x, width - b.low.x)
    } else {
        (b.low.x, b.high.x)
    }
}
