//! Lays of the same job as it was before a change.

use super::{ClothLay, Lays, fitting_all, instance, starts};
use crate::job::Job;
use crate::part::Developed;
use lay::Limits;

/// An earlier lay of a cloth that answers the question still asked.
pub(super) fn taken_over(
    job: &Job,
    index: usize,
    developed: &[Developed],
    (earlier, lays): (&Job, &Lays),
) -> Option<ClothLay> {
    let cloth = &job.cloths[index];
    let lay = lays.cloths.iter().find(|l| earlier.cloths[l.cloth] == *cloth)?;
    let parts = fitting_all(job, index, developed, lay.direction).ok()?;
    // With other names and numbers the same shapes are laid alike, but tags would be wrong.
    let same = instance(cloth, &parts, lay.direction) == lay.asked;
    if !same || lay.own.is_some() {
        return None;
    }
    let parts = if lay.asked == lay.instance { parts } else { lay.parts.clone() };
    Some(ClothLay { cloth: index, parts, ..lay.clone() })
}

/// Takes the places of the earlier lay of a cloth where they serve the changed parts too and less is
/// bought so: with less asked for, no more is bought.
pub(super) fn keep_better(lay: &mut ClothLay, lays: &Lays, limits: &Limits) {
    let same = |other: &&ClothLay| other.cloth == lay.cloth && other.direction == lay.direction;
    let Some(before) = lays.cloths.iter().find(same) else { return };
    let is_plain =
        |lay: &ClothLay| lay.own.is_none() && lay.starts.is_none() && lay.asked == lay.instance;
    let items = |lay: &ClothLay| -> Vec<(String, usize)> {
        lay.instance.items.iter().map(|item| (item.name.clone(), item.count)).collect()
    };
    let purchase = before.answer.lay.purchase(&lay.instance.buying);
    let may = purchase < lay.purchase && is_plain(before) && is_plain(lay);
    if !may || items(before) != items(lay) {
        return;
    }
    let Some(answer) = before.answer.serving(&lay.instance, &lay.answer.bound) else { return };
    lay.purchase = purchase;
    lay.answer = answer;
    lay.answer.proven = purchase == lay.least_purchase;
    lay.forgiving = vec![(lay.instance.clone(), lay.answer.clone())];
    lay.forgives = starts::forgives(&lay.forgiving, limits.work);
}
