//! Among lays that buy the same: the largest rectangle left over, then fewer and straighter cuts.

use crate::cutting::{Cuts, bounds, cuts};
use crate::form::Forms;
use crate::ground::{Closed, Ground, Held};
use crate::leftover::{WORTH_KEEPING, leftover};
use crate::place::{Gene, Order, Placer, Use};
use crate::{Instance, Lay, Limits, Strip};
use geometry::{Length, Rect, Spot};

/// More parts than this are left as they lie.
const MOST_PARTS: usize = 160;

/// Remnants are compared in steps of this on each side: a hair more cloth is not worth a cut.
const STEP: i64 = 10_000_000;

/// What is less is better: to buy, less kept in one piece, then cuts.
type Merit = (i64, i64, Cuts);

fn merit(instance: &Instance, lay: &Lay) -> Merit {
    let steps = |l: Length| l.nm() / STEP;
    let mut kept = 0;
    let mut all = Cuts::default();
    for strip in &lay.strips {
        let largest = leftover(instance, strip, instance.room(strip), WORTH_KEEPING, 1);
        let area = largest.first().map_or(0, |r| steps(r.width()) * steps(r.height()));
        kept = kept.max(area);
        let here = cuts(instance, strip);
        all.lines += here.lines;
        all.length += here.length;
    }
    (lay.purchase(&instance.buying).nm(), -kept, all)
}

/// A tidier lay that buys no more, and the order it came from; `None` if none was found.
pub(crate) fn tidied(
    instance: &Instance,
    forms: &Forms,
    which: Use,
    (lay, order): (&Lay, &Order),
    work: u64,
    limits: &Limits,
) -> Option<(Lay, Order)> {
    let n = instance.copies();
    let loose = n - instance.pins.len();
    if work == 0 || !(2..=MOST_PARTS).contains(&n) || loose == 0 || (limits.stop)() {
        return None;
    }
    let first = merit(instance, lay);
    let mut best = (first, lay.clone(), order.clone());
    let mut spent = 0;
    let mut random = fastrand::Rng::with_seed(limits.seed ^ 0x5EED);
    // Judging a lay costs about as much as this many looks.
    let judging = (n * n * n / 4 + 40 * n) as u64;
    let mut now = (first, order.clone());
    while spent < work && order.genes.len() == loose && !(limits.stop)() {
        let changed = Order { genes: changed(&now.1.genes, &mut random), ..now.1.clone() };
        let Some((next, looks)) =
            Placer::new(instance, forms, which, limits.stop).run(&changed, false)
        else {
            spent += judging;
            continue;
        };
        spent += looks;
        if next.purchase(&instance.buying).nm() > first.0 {
            continue;
        }
        spent += judging;
        let merit = merit(instance, &next);
        if merit <= now.0 {
            now = (merit, changed.clone());
        }
        if merit < best.0 {
            best = (merit, next, changed);
        }
    }
    let (lined_up, merit) = lined_up(instance, forms, &best.1, best.0, limits.stop);
    (merit < first).then_some((lined_up, best.2))
}

/// The order with two parts exchanged, one moved, or like parts brought together.
fn changed(order: &[Gene], random: &mut fastrand::Rng) -> Vec<Gene> {
    let n = order.len();
    let mut order = order.to_vec();
    let i = random.usize(0..n);
    match random.u32(0..6) {
        0 | 1 => order.swap(i, random.usize(0..n)),
        2 | 3 => {
            let gene = order.remove(i);
            order.insert(random.usize(0..n), gene);
        }
        4 => {
            let (like, rest): (Vec<Gene>, Vec<Gene>) =
                order.iter().partition(|g| g.item == order[i].item);
            let at = random.usize(0..=rest.len());
            order = [&rest[..at], &like, &rest[at..]].concat();
        }
        _ => {
            // All copies of one item turned alike.
            let (item, form) = (order[i].item, order[i].form);
            order.iter_mut().filter(|g| g.item == item).for_each(|g| g.form = form);
        }
    }
    order
}

/// Parts moved, one at a time, to where their sides line up with others'.
fn lined_up(
    instance: &Instance,
    forms: &Forms,
    lay: &Lay,
    merit_so_far: Merit,
    stop: &(dyn Fn() -> bool + Sync),
) -> (Lay, Merit) {
    let mut lay = lay.clone();
    let mut best = merit_so_far;
    for s in 0..lay.strips.len() {
        for i in 0..lay.strips[s].placements.len() {
            if stop() {
                return (lay, best);
            }
            let p = lay.strips[s].placements[i];
            let ground = Ground::of(instance, lay.strips[s].stock);
            if ground.held(p.item) != Held::Free || instance.pinned(lay.strips[s].stock, &p) {
                continue;
            }
            let Some(form) = forms.of_laid(&p) else { continue };
            let here = bounds(instance, &lay.strips[s]);
            let mut places = Vec::new();
            for other in here.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, other)| other) {
                // Only neighbours: what touches, or almost.
                let around = Rect {
                    low: Spot::new(other.low.x - NEAR, other.low.y - NEAR),
                    high: Spot::new(other.high.x + NEAR, other.high.y + NEAR),
                };
                if !around.meets(&here[i]) {
                    continue;
                }
                let (low, high) = (form.bounds.low, form.bounds.high);
                places.push(Spot::new(other.low.x - low.x, p.at.y));
                places.push(Spot::new(other.high.x - high.x, p.at.y));
                places.push(Spot::new(p.at.x, other.low.y - low.y));
                places.push(Spot::new(p.at.x, other.high.y - high.y));
            }
            for at in places {
                if at == p.at || !stands(instance, forms, &lay.strips[s], i, at) {
                    continue;
                }
                let old = lay.strips[s].placements[i].at;
                lay.strips[s].placements[i].at = at;
                let trial = merit(instance, &lay);
                if trial < best {
                    best = trial;
                } else {
                    lay.strips[s].placements[i].at = old;
                }
            }
        }
    }
    for strip in &mut lay.strips {
        let boxes = bounds(instance, strip);
        let mut order: Vec<usize> = (0..boxes.len()).collect();
        order.sort_by_key(|&i| (boxes[i].low.y, boxes[i].low.x));
        strip.placements = order.iter().map(|&i| strip.placements[i]).collect();
        let top = boxes.iter().map(|b| b.high.y).max().unwrap_or(0);
        strip.length = Length::from_nm(top);
    }
    (lay, best)
}

/// Parts no farther apart than this are neighbours.
const NEAR: i64 = 200_000_000;

/// Whether a part may stand at a place, the others staying where they are, without making the strip longer.
fn stands(instance: &Instance, forms: &Forms, strip: &Strip, part: usize, at: Spot) -> bool {
    let p = strip.placements[part];
    let Some(form) = forms.of_laid(&p) else { return false };
    let ground = Ground::of(instance, strip.stock);
    let b = form.bounds.moved(at);
    if b.low.x < ground.left
        || ground.right < b.high.x
        || b.low.y < 0
        || strip.length.nm() < b.high.y
    {
        return false;
    }
    let face = Closed::concerns(form).1.moved(at);
    if ground.closed().any(|closed| closed.area.meets(&face)) {
        return false;
    }
    let mut forbidden = Vec::new();
    for (i, other) in strip.placements.iter().enumerate() {
        if i == part {
            continue;
        }
        let Some(other_form) = forms.of_laid(other) else { return false };
        if other_form.bounds.moved(other.at).meets(&b) {
            forms.forbidden(form, at.x, other_form, other.at, &mut forbidden);
        }
    }
    forbidden.iter().all(|&(low, high)| at.y <= low || high <= at.y)
}
