//! The customer's own cloth when it is short: as many whole pieces from it as can be, the most wanted
//! first; the rest needs more.
//!
//! A piece half covered is of no use, so that pieces are taken whole: all parts of it from this cloth
//! lie on what is there, or none. Common practice, no source.

use crate::job::Job;
use crate::part::{Developed, LaidPart};
use geometry::Length;
use lay::{Answer, Instance, Limits, Stock};

/// What the customer's own cloth gives.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnCloth {
    /// Parts that lie on it.
    pub laid: usize,
    /// Parts asked for.
    pub asked: usize,
    /// Whole pieces that come from it, with how many of how many.
    pub pieces: Vec<(String, usize, usize)>,
    /// More cloth needed for the others; nothing if there is enough.
    pub missing: Length,
}

/// A job's parts by whole pieces.
struct Unit {
    developed: usize,
    /// How many whole pieces.
    count: usize,
    /// Items of the lay with their copies for one piece.
    items: Vec<(usize, usize)>,
    /// Cloth for one, to compare.
    area: f64,
}

/// Divides a lay so that whole pieces come from the cloth that is there.
pub fn whole_pieces_first(
    job: &Job,
    developed: &[Developed],
    parts: &[LaidPart],
    instance: &Instance,
    limits: &Limits,
) -> Option<(Answer, Vec<usize>)> {
    let mut units = units(developed, parts, instance);
    units.sort_by(|a, b| {
        let wanted = |u: &Unit| job.pieces[developed[u.developed].piece].priority;
        wanted(a).cmp(&wanted(b)).then(a.area.total_cmp(&b.area))
    });
    let mut counts = vec![0; parts.len()];
    let mut taken = vec![0; developed.len()];
    let trial = Limits { work: (limits.work / 40).min(4_000_000), ..*limits };
    let on_hand = |counts: &[usize]| {
        let divided = instance.some(counts);
        let answer = lay::lay(&divided.instance, &trial).ok()?;
        (answer.lay.new_length() == Length::ZERO).then_some((divided, answer))
    };
    let mut best = None;
    for unit in &units {
        for _ in 0..unit.count {
            let mut more = counts.clone();
            unit.items.iter().for_each(|&(item, n)| more[item] += n);
            let Some(found) = on_hand(&more) else { break };
            best = Some(found);
            counts = more;
            taken[unit.developed] += 1;
        }
    }
    let Some((first, first_answer)) = best else {
        // Not one whole piece: all of them need new cloth.
        let new = Instance { on_hand: Vec::new(), ..instance.clone() };
        return Some((lay::lay(&new, limits).ok()?, taken));
    };
    let rest: Vec<usize> =
        instance.items.iter().zip(&counts).map(|(item, taken)| item.count - taken).collect();
    let mut second = instance.some(&rest);
    second.instance.on_hand.clear();
    let second_answer = lay::lay(&second.instance, limits).ok()?;
    Some((lay::together((&first, &first_answer), (&second, &second_answer)), taken))
}

fn units(developed: &[Developed], parts: &[LaidPart], instance: &Instance) -> Vec<Unit> {
    (0..developed.len())
        .filter_map(|d| {
            let count = developed[d].count;
            let items: Vec<(usize, usize)> = parts
                .iter()
                .enumerate()
                .filter(|(_, laid)| laid.developed == d)
                .map(|(item, laid)| (item, laid.part.count))
                .collect();
            if items.is_empty() || count == 0 {
                return None;
            }
            // Parts cut for all pieces together, welt for instance, tie the pieces to one another.
            let each = items.iter().all(|(_, n)| n % count == 0);
            let count = if each { count } else { 1 };
            let items: Vec<(usize, usize)> =
                items.into_iter().map(|(item, n)| (item, n / count)).collect();
            let area = items
                .iter()
                .map(|&(item, n)| instance.items[item].shape.area_mm2() * n as f64)
                .sum();
            Some(Unit { developed: d, count, items, area })
        })
        .collect()
}

/// What the cloth that is there gives; `whole` is how many of each piece, if it was divided.
pub fn given(
    developed: &[Developed],
    parts: &[LaidPart],
    answer: &Answer,
    missing: Length,
    whole: Option<&[usize]>,
) -> OwnCloth {
    let laid = answer
        .lay
        .strips
        .iter()
        .filter(|strip| matches!(strip.stock, Stock::OnHand(_)))
        .map(|strip| strip.placements.len())
        .sum();
    let from_it = |d: usize| parts.iter().any(|laid| laid.developed == d);
    let pieces = (0..developed.len())
        .filter(|&d| from_it(d))
        .map(|d| {
            let count = developed[d].count;
            (developed[d].label.clone(), whole.map_or(count, |w| w[d].min(count)), count)
        })
        .collect();
    OwnCloth { laid, asked: parts.iter().map(|p| p.part.count).sum(), pieces, missing }
}

impl OwnCloth {
    /// Pieces it is not enough for, in words.
    pub fn left_over(&self) -> Vec<String> {
        self.pieces
            .iter()
            .filter(|(_, given, count)| given < count)
            .map(|(name, given, count)| {
                if *count == 1 {
                    name.clone()
                } else {
                    format!("{} of {count} {name}", count - given)
                }
            })
            .collect()
    }
}
