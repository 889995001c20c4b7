//! Strips of welt divided otherwise: shorter ones may lie in what other parts leave, and a bias block of
//! another shape may lie better. A division is taken where it is cheaper, its cutting and joining counted.

use super::{ClothLay, LaidPart, lay_parts};
use crate::develop::welt;
use crate::job::Job;
use crate::money::decimal;
use crate::part::{Developed, Part};
use geometry::Length;
use lay::Limits;
use rust_decimal::Decimal;

/// The part of the work that goes on trying divisions; as much again goes on the one chosen.
const TRYING: u64 = 2;

/// The lay with its welt divided otherwise, if that is cheaper.
pub(super) fn divided_otherwise(
    job: &Job,
    developed: &[Developed],
    best: &ClothLay,
    limits: &Limits,
) -> Option<ClothLay> {
    if best.answer.proven || best.own.is_some() || limits.work == 0 || (limits.stop)() {
        return None;
    }
    let divisions: Vec<(usize, Vec<Part>)> = (0..best.parts.len())
        .map(|i| (i, welt::divisions(&best.parts[i].part)))
        .filter(|(_, all)| all.len() > 1)
        .collect();
    let most = divisions.iter().map(|(_, all)| all.len()).max()?;
    let with = |choice: usize| -> Vec<LaidPart> {
        let mut parts = best.parts.clone();
        for (i, all) in &divisions {
            parts[*i].part = all[choice.min(all.len() - 1)].clone();
        }
        parts
    };
    let lay = |parts: Vec<LaidPart>, work: u64| {
        let limits = Limits { work, ..*limits };
        lay_parts(job, best.cloth, developed, best.direction, parts, &limits).ok()
    };
    let each = limits.work / TRYING / most as u64;
    let tried = (1..most).filter_map(|choice| lay(with(choice), each));
    let cheapest = tried.min_by_key(|lay| cost(job, best, lay))?;
    // A moment's search of the others is held against a moment's search of this one.
    if cost(job, best, &cheapest) > cost(job, best, best) && cheapest.purchase > best.purchase {
        return None;
    }
    let found = lay(cheapest.parts.clone(), limits.work / TRYING).unwrap_or(cheapest);
    (cost(job, best, &found) < cost(job, best, best))
        .then(|| ClothLay { asked: best.asked.clone(), ..found })
}

/// Cloth bought and the cutting that goes beyond that of the usual division, in money; then the length.
fn cost(job: &Job, usual: &ClothLay, lay: &ClothLay) -> (Decimal, Length, Length) {
    let cloth = &job.cloths[lay.cloth];
    let cuts = |lay: &ClothLay| -> i64 {
        let all = lay.parts.iter().filter(|laid| laid.part.strips.is_some());
        all.map(|laid| (laid.part.count * laid.part.cut_into) as i64).sum()
    };
    let more = Decimal::from(cuts(lay) - cuts(usual));
    let hour = job.rates.hour.unwrap_or_default();
    let work = job.rates.minutes.cut_strip * more / Decimal::from(60) * hour;
    let bought = cloth.price * decimal(lay.purchase.in_unit(cloth.unit));
    (bought + work, lay.purchase, lay.answer.lay.new_length())
}
