//! What stays the same while parts of a lay are moved about: where each may stand on each strip, and
//! how deep any two lie in each other.
//!
//! All strips share one plane, far apart along y, so that parts on different strips never meet.

use crate::depth::{Depth, Push};
use crate::form::{Form, Forms};
use crate::ground::{Closed, Ground, Places};
use crate::no_fit::Piece;
use crate::pairs::Pairs;
use crate::pattern::Steps;
use crate::phase;
use crate::{Instance, Item, Lay, Placement, Rule, Strip};
use geometry::{Convex, Length, Rect, Spot, few_convex_pieces};
use std::sync::OnceLock;

/// From one strip to the next along y, in nanometres.
const APART: i64 = 1_000_000_000_000;

/// Upright box in the plane of all strips.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Extent {
    pub low: [f64; 2],
    pub high: [f64; 2],
}

impl Extent {
    fn of(rect: Rect) -> Self {
        Self {
            low: [rect.low.x as f64, rect.low.y as f64],
            high: [rect.high.x as f64, rect.high.y as f64],
        }
    }

    pub fn moved(self, x: f64, y: f64) -> Self {
        Self { low: [self.low[0] + x, self.low[1] + y], high: [self.high[0] + x, self.high[1] + y] }
    }

    pub fn meets(&self, other: &Self) -> bool {
        self.low[0] < other.high[0]
            && other.low[0] < self.high[0]
            && self.low[1] < other.high[1]
            && other.low[1] < self.high[1]
    }
}

/// Where the origin of one form may lie on one strip.
#[derive(Clone, Debug)]
pub(crate) struct Domain {
    pub low: [f64; 2],
    pub high_x: f64,
    /// From the origin up to the highest point.
    rise: f64,
    /// With a width repeat: the allowed x, each with the phase along y.
    columns: Option<Box<[(f64, f64)]>>,
    /// Phase and period along y; a period of nought is any place.
    phase: f64,
    period: f64,
}

impl Domain {
    /// The highest y on a strip that ends at `limit`.
    pub fn high_y(&self, limit: f64) -> f64 {
        limit - self.rise
    }

    /// The nearest allowed place, if there is any below `limit`.
    pub fn settle(&self, x: f64, y: f64, limit: f64) -> Option<[f64; 2]> {
        let high = self.high_y(limit);
        if high < self.low[1] {
            return None;
        }
        let (x, phase) = match &self.columns {
            None => (x.round().clamp(self.low[0], self.high_x), self.phase),
            Some(columns) => {
                let after = columns.partition_point(|c| c.0 < x);
                let near = [after.checked_sub(1), Some(after)].into_iter().flatten();
                *near
                    .filter_map(|i| columns.get(i))
                    .min_by(|a, b| (a.0 - x).abs().total_cmp(&(b.0 - x).abs()))?
            }
        };
        let y = y.round().clamp(self.low[1], high);
        if self.period == 0.0 {
            return Some([x, y]);
        }
        let mut y = phase + ((y - phase) / self.period).round() * self.period;
        if y > high {
            y -= self.period;
        } else if y < self.low[1] {
            y += self.period;
        }
        (self.low[1] <= y && y <= high).then_some([x, y])
    }
}

/// A strip that is filled.
pub(crate) struct Bed<'a> {
    pub ground: Ground<'a>,
    /// Where it ends, in the plane of all strips; `None` if it may be cut to any length.
    pub end: Option<f64>,
    pub start: f64,
    pub blocks: Vec<Block>,
    /// Where the highest part that stays where it is ends.
    pub pinned_top: f64,
}

/// What a part must not lie over.
pub(crate) struct Block {
    pub extent: Extent,
    pieces: Vec<Piece>,
    /// Closed to the parts it concerns; else a part that stays where it is, and closed to all.
    closed: bool,
    /// By form: how deep it lies in this.
    depths: Vec<OnceLock<Depth>>,
}

/// Where a part lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Pose {
    pub strip: usize,
    pub form: usize,
    pub x: f64,
    pub y: f64,
}

pub(crate) struct Scene<'a> {
    pub forms: &'a Forms,
    /// The item of each part.
    pub parts: Vec<usize>,
    pub beds: Vec<Bed<'a>>,
    /// By item and form.
    pub extents: Vec<Vec<Extent>>,
    /// By strip, item and form; `None` where it cannot stand.
    pub domains: Vec<Vec<Vec<Option<Domain>>>>,
    /// Of each part: its share in what an overlap with it counts.
    pub scales: Vec<f64>,
    pub pairs: Pairs,
}

impl<'a> Scene<'a> {
    /// The strips of a lay, and where its parts lie.
    pub fn new(instance: &'a Instance, forms: &'a Forms, lay: &Lay) -> (Self, Vec<Pose>) {
        let beds: Vec<Bed> = lay
            .strips
            .iter()
            .enumerate()
            .map(|(i, s)| bed(forms, Ground::of(instance, s.stock), i))
            .collect();
        let mut parts = Vec::new();
        let mut poses = Vec::new();
        let mut phases = phase::of_lay(instance, forms, lay);
        // A part that is alone in its group is in step wherever it lies.
        for (group, phase) in phases.iter_mut().enumerate() {
            if members(instance, group) == 1 {
                *phase = None;
            }
        }
        for (strip, laid) in lay.strips.iter().enumerate() {
            for p in laid.placements.iter().filter(|p| !instance.pinned(laid.stock, p)) {
                let form = forms.number(p).unwrap_or(0);
                let y = p.at.y + strip as i64 * APART;
                parts.push(p.item);
                poses.push(Pose { strip, form, x: p.at.x as f64, y: y as f64 });
            }
        }
        let domains = beds
            .iter()
            .map(|bed| {
                let of_item = |(item, list): (usize, &Vec<Form>)| {
                    let motif = bed.ground.motif_of(item, &phases);
                    list.iter().map(|form| domain(bed, form, motif)).collect()
                };
                forms.list.iter().enumerate().map(of_item).collect()
            })
            .collect();
        let scales = parts
            .iter()
            .map(|&item| (forms.list[item][0].polygon.area_mm2()).sqrt().sqrt())
            .collect();
        let extents = forms
            .list
            .iter()
            .map(|list| list.iter().map(|form| Extent::of(form.bounds)).collect())
            .collect();
        let pairs = Pairs::of(forms);
        let scene = Self { forms, parts, beds, extents, domains, scales, pairs };
        (scene, poses)
    }

    pub fn form(&self, part: usize, form: usize) -> &Form {
        &self.forms.list[self.parts[part]][form]
    }

    pub fn domain(&self, part: usize, strip: usize, form: usize) -> Option<&Domain> {
        self.domains[strip][self.parts[part]][form].as_ref()
    }

    /// Ways out of the flaws and the parts that stay, where a part lies over them at a pose.
    pub fn in_blocks(&self, part: usize, pose: Pose) -> impl Iterator<Item = Push> {
        let extent = self.extents[self.parts[part]][pose.form].moved(pose.x, pose.y);
        let form = self.form(part, pose.form);
        self.beds[pose.strip]
            .blocks
            .iter()
            .filter(move |block| extent.meets(&block.extent))
            .map(move |block| {
                let own = if block.closed { Closed::concerns(form).0 } else { &form.pieces };
                let depth =
                    block.depths[form.number].get_or_init(|| Depth::between(own, &block.pieces));
                depth.push(pose.x, pose.y)
            })
            .filter(|push| push.depth > 0.0)
    }

    /// The lay of these poses.
    pub fn lay(&self, poses: &[Pose]) -> Lay {
        let mut copies = vec![0; self.forms.list.len()];
        let mut strips = Vec::new();
        for (s, bed) in self.beds.iter().enumerate() {
            let mut here: Vec<(Placement, Rect)> = poses
                .iter()
                .enumerate()
                .filter(|(_, pose)| pose.strip == s)
                .map(|(part, pose)| {
                    let at = Spot::new(pose.x as i64, pose.y as i64 - s as i64 * APART);
                    let form = self.form(part, pose.form);
                    let item = self.parts[part];
                    (Placement { item, copy: 0, at, turn: form.turn }, form.bounds.moved(at))
                })
                .collect();
            let pinned = |p: &Placement| form_of(self.forms, p).bounds.moved(p.at);
            here.extend(bed.ground.pins.iter().map(|p| (*p, pinned(p))));
            here.sort_by_key(|(_, bounds)| (bounds.low.y, bounds.low.x));
            let Some(top) = here.iter().map(|h| h.1.high.y).max() else { continue };
            let placements = here
                .into_iter()
                .map(|(p, _)| {
                    copies[p.item] += 1;
                    Placement { copy: copies[p.item] - 1, ..p }
                })
                .collect();
            let stock = bed.ground.stock;
            strips.push(Strip { stock, placements, length: Length::from_nm(top) });
        }
        Lay { strips }
    }
}

fn members(instance: &Instance, group: usize) -> usize {
    let of = |item: &&Item| matches!(item.rule, Rule::Matched { group: g, .. } if g == group);
    instance.items.iter().filter(of).map(|item| item.count).sum()
}

fn bed<'a>(forms: &Forms, ground: Ground<'a>, strip: usize) -> Bed<'a> {
    let start = strip as i64 * APART;
    let depths = || std::iter::repeat_with(OnceLock::new).take(forms.count).collect();
    let closed = |closed: Closed| {
        let r = closed.area.moved(Spot::new(0, start));
        let corners = [r.low, Spot::new(r.high.x, r.low.y), r.high, Spot::new(r.low.x, r.high.y)];
        Block {
            extent: Extent::of(r),
            pieces: vec![Piece::new(&corners, 0)],
            closed: true,
            depths: depths(),
        }
    };
    let pin = |pin: &Placement| {
        let at = pin.at.plus(Spot::new(0, start));
        let polygon = &form_of(forms, pin).polygon;
        let moved =
            |c: &Convex| Piece::new(&c.points().iter().map(|p| p.plus(at)).collect::<Vec<_>>(), 0);
        let pieces = few_convex_pieces(polygon).iter().map(moved).collect();
        Block {
            extent: Extent::of(polygon.bounds().moved(at)),
            pieces,
            closed: false,
            depths: depths(),
        }
    };
    let blocks: Vec<Block> =
        ground.closed().map(closed).chain(ground.pins.iter().map(pin)).collect();
    let tops = blocks.iter().filter(|block| !block.closed).map(|block| block.extent.high[1]);
    let pinned_top = tops.fold(f64::NEG_INFINITY, f64::max);
    let end = ground.end.map(|end| (end + start) as f64);
    Bed { ground, end, start: start as f64, blocks, pinned_top }
}

fn form_of<'a>(forms: &'a Forms, p: &Placement) -> &'a Form {
    forms.of_laid(p).unwrap_or(&forms.list[p.item][0])
}

fn domain(bed: &Bed, form: &Form, motif: Option<Spot>) -> Option<Domain> {
    let places = bed.ground.places(form, motif)?;
    let (low, high) = bed.ground.across(form);
    let place = |steps: Steps| steps.phase as f64 + if steps.period == 0 { 0.0 } else { bed.start };
    let (columns, steps) = match places {
        Places::Stretch(.., steps) => (None, steps),
        Places::Columns(all) => {
            let steps = all[0].1;
            let columns = all.into_iter().map(|(x, steps)| (x as f64, place(steps))).collect();
            (Some(columns), steps)
        }
    };
    Some(Domain {
        low: [low as f64, bed.start - form.bounds.low.y as f64],
        high_x: high as f64,
        rise: form.bounds.high.y as f64,
        columns,
        phase: place(steps),
        period: steps.period as f64,
    })
}
