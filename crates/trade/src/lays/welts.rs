//! Strips of welt divided otherwise: shorter ones may lie in what other parts leave, and a bias block of
//! another shape may lie better. A division is taken where it is cheaper, its cutting and joining counted.

use super::{Before, ClothLay, LaidPart, lay_parts};
use crate::build::welt;
use crate::job::Job;
use crate::money::decimal;
use crate::operations::Operation;
use crate::part::{Developed, Part};
use crate::purse;
use geometry::Length;
use lay::Limits;
use rust_decimal::Decimal;

/// The lay with its welt divided otherwise, if that is cheaper than the lay as it is and than what was
/// found before.
pub(super) fn divided_otherwise(
    job: &Job,
    developed: &[Developed],
    best: &ClothLay,
    known: Option<&ClothLay>,
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
    let lay = |parts: Vec<LaidPart>, work: u64, known: Option<&ClothLay>| {
        let limits = Limits { work, closely: false, ..*limits };
        let before = Before::of(known.into_iter().collect(), None);
        lay_parts(job, best.cloth, developed, best.direction, parts, (&limits, &before)).ok()
    };
    let each = purse::WELT_DIVISIONS.of(limits.work) / most as u64;
    let tried = (1..most).filter_map(|choice| {
        let parts = with(choice);
        let same = known.filter(|lay| lay.parts == parts);
        lay(parts, each, same)
    });
    let cheapest = tried.min_by_key(|lay| cost(job, best, lay))?;
    // A moment's search of the others is held against a moment's search of this one.
    if cost(job, best, &cheapest) > cost(job, best, best) && cheapest.purchase > best.purchase {
        return None;
    }
    let found = lay(cheapest.parts.clone(), purse::WELT_DIVISIONS.of(limits.work), Some(&cheapest));
    let found = found.unwrap_or(cheapest);
    let known = known.map(|lay| cost(job, best, lay));
    let cheaper = known.is_none_or(|known| cost(job, best, &found) < known);
    (cheaper && is_cheaper(job, best, &found))
        .then(|| ClothLay { asked: best.asked.clone(), ..found })
}

/// Whether parts divided otherwise cost less than as they are usually divided.
pub(super) fn is_cheaper(job: &Job, usual: &ClothLay, otherwise: &ClothLay) -> bool {
    cost(job, usual, otherwise) < cost(job, usual, usual)
}

/// What the customer pays for the cloth bought and for the cutting that goes beyond that of the usual
/// division; then the length.
fn cost(job: &Job, usual: &ClothLay, lay: &ClothLay) -> (Decimal, Length, Length) {
    let cloth = &job.cloths[lay.cloth];
    let cuts = |lay: &ClothLay| -> i64 {
        let all = lay.parts.iter().filter(|laid| laid.part.strips.is_some());
        all.map(|laid| (laid.part.count * laid.part.cut_into) as i64).sum()
    };
    let more = Decimal::from(cuts(lay) - cuts(usual));
    let hour = job.rates.hour.unwrap_or_default();
    let work = job.rates.minutes.of(Operation::CutStrip) * more / Decimal::from(60) * hour;
    let bought = cloth.price * decimal(lay.purchase.in_unit(cloth.unit));
    (job.rates.cloth.price(bought) + work, lay.purchase, lay.answer.lay.new_length())
}
