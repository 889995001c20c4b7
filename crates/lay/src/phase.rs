//! Which phases across the cloth a matched group may take: those at which every member has a place.
//!
//! The first member laid would otherwise settle a phase at which another lies over the edge. A member
//! that may stand at x from a to b has anchors from a to b too, so its phases are an interval as long
//! as its play, taken modulo the width repeat; a group has what is common to all its members.

use crate::form::Form;
use crate::{Instance, Rule};

/// Closed intervals of phases, within nought and the repeat.
pub(crate) type Phases = Vec<(i64, i64)>;

/// For each group its phases; `None` where the pattern has no width repeat. `Err` names the first
/// item that leaves a group none.
pub(crate) fn groups(
    instance: &Instance,
    forms: &[Vec<Form>],
) -> Result<Vec<Option<Phases>>, usize> {
    let repeat = instance.pattern.as_ref().and_then(|p| p.width).map(|w| w.nm());
    let mut found: Vec<Option<Phases>> = Vec::new();
    for (i, item) in instance.items.iter().enumerate() {
        let Rule::Matched { group, .. } = item.rule else { continue };
        if found.len() <= group {
            found.resize(group + 1, None);
        }
        let Some(repeat) = repeat else { continue };
        let own = of_item(instance, &forms[i], repeat);
        let common = match &found[group] {
            None => own,
            Some(others) => shared(others, &own),
        };
        if common.is_empty() {
            return Err(i);
        }
        found[group] = Some(common);
    }
    Ok(found)
}

fn of_item(instance: &Instance, forms: &[Form], repeat: i64) -> Phases {
    let (left, right) = (instance.buying.left.nm(), instance.buying.right.nm());
    let motif = instance.pattern.as_ref().map_or(0, |p| p.origin.x);
    let mut all = Vec::new();
    for form in forms {
        let low = left - form.bounds.low.x + form.anchor.x - motif;
        let high = right - form.bounds.high.x + form.anchor.x - motif;
        if high < low {
            continue;
        }
        if high - low >= repeat {
            return vec![(0, repeat - 1)];
        }
        let start = low.rem_euclid(repeat);
        let end = start + (high - low);
        if end < repeat {
            all.push((start, end));
        } else {
            all.extend([(start, repeat - 1), (0, end - repeat)]);
        }
    }
    all
}

fn shared(a: &Phases, b: &Phases) -> Phases {
    let mut all: Phases = a
        .iter()
        .flat_map(|p| b.iter().map(move |q| (p.0.max(q.0), p.1.min(q.1))))
        .filter(|(low, high)| low <= high)
        .collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// Whether a place across the cloth has one of the phases.
pub(crate) fn allows(phases: &Phases, x: i64, motif: i64, repeat: i64) -> bool {
    let phase = (x - motif).rem_euclid(repeat);
    phases.iter().any(|&(low, high)| low <= phase && phase <= high)
}
