//! Which phases across the cloth a matched group may take: those at which every member has a place.
//!
//! The first member laid would otherwise settle a phase at which another lies over the edge. A member
//! that may stand at x from a to b has anchors from a to b too, so its phases are an interval as long
//! as its play, taken modulo the width repeat; a group has what is common to all its members.

use crate::form::{Form, Forms};
use crate::ground::{Ground, Held};
use crate::{Instance, Lay, Pattern, Rule, Stock, Strip};
use geometry::{Length, Spot};

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
    let ground = Ground::new_cloth(instance);
    let mut all = Vec::new();
    for form in forms {
        let (low, high) = ground.across(form);
        let phase = form.anchor.x - ground.motif.x;
        let (low, high) = (low + phase, high + phase);
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

/// Where the anchors of each matched group stand to the motifs in a lay.
pub(crate) fn of_lay(instance: &Instance, forms: &Forms, lay: &Lay) -> Vec<Option<Spot>> {
    let mut phases: Vec<Option<Spot>> = Vec::new();
    for strip in &lay.strips {
        let ground = Ground::of(instance, strip.stock);
        let motif = ground.motif;
        for p in &strip.placements {
            let Held::Group(group) = ground.held(p.item) else { continue };
            let anchor = p.at.plus(forms.of_laid(p).map_or(Spot::default(), |f| f.anchor));
            if phases.len() <= group {
                phases.resize(group + 1, None);
            }
            phases[group].get_or_insert(Spot::new(anchor.x - motif.x, anchor.y - motif.y));
        }
    }
    phases
}

/// The same of the parts that stay where they are.
pub(crate) fn of_pins(instance: &Instance, forms: &Forms) -> Vec<Option<Spot>> {
    let strip =
        Strip { stock: Stock::New(0), placements: instance.pins.clone(), length: Length::ZERO };
    of_lay(instance, forms, &Lay { strips: vec![strip] })
}

/// Whether two lays have every group in the same phase.
pub(crate) fn same(pattern: &Pattern, a: &[Option<Spot>], b: &[Option<Spot>]) -> bool {
    let same = |pair: (&Option<Spot>, &Option<Spot>)| match pair {
        (Some(a), Some(b)) => pattern.same_phase(*a, *b),
        _ => true,
    };
    a.iter().zip(b).all(same)
}

/// A phase for a group at which some part of it would just touch another part, or a selvedge.
///
/// The lowest place of the part that happens to be laid first is seldom the phase at which a whole
/// group follows on the others with the least cloth lost between. `across` has phases across worth a look,
/// as are the ends of those allowed.
pub(crate) fn touching(
    instance: &Instance,
    forms: &Forms,
    phases: &[Option<Spot>],
    (group, across): (usize, &[i64]),
    random: &mut fastrand::Rng,
) -> Option<Spot> {
    let pattern = instance.pattern.as_ref()?;
    let is_member =
        |&i: &usize| matches!(instance.items[i].rule, Rule::Matched { group: g, .. } if g == group);
    let members: Vec<usize> = (0..instance.items.len()).filter(is_member).collect();
    let member = *random.choice(&members)?;
    let form = random.choice(&forms.list[member])?;
    // The other's anchor falls on a motif, in its own phase if it has one.
    let other = random.usize(0..instance.items.len());
    let base = match instance.items[other].rule {
        Rule::Centred(_) => Some(Spot::default()),
        Rule::Matched { group, .. } => phases.get(group).copied().flatten(),
        Rule::Free => None,
    };
    let drop = match (pattern.length, pattern.staggered()) {
        (Some(length), true) if random.bool() => length.nm() / 2,
        _ => 0,
    };
    let y = match (base, random.choice(&forms.list[other])) {
        (Some(base), Some(other)) => {
            let origin = base.y + drop - other.anchor.y;
            if random.bool() {
                origin + other.bounds.high.y - form.bounds.low.y
            } else {
                origin + other.bounds.low.y - form.bounds.high.y
            }
        }
        // From the cut end.
        _ => drop - pattern.origin.y - form.bounds.low.y,
    };
    if !across.is_empty() && random.bool() {
        return Some(Spot::new(*random.choice(across)?, y + form.anchor.y));
    }
    let ends: Vec<i64> = match forms.phases.as_ref().ok()?.get(group)? {
        Some(all) => all.iter().flat_map(|p| [p.0, p.1]).collect(),
        None => vec![0],
    };
    Some(Spot::new(*random.choice(&ends)?, y + form.anchor.y))
}

/// How many groups there are to keep in phase.
pub(crate) fn of_groups(instance: &Instance) -> usize {
    let number = |item: &crate::Item| match item.rule {
        Rule::Matched { group, .. } => Some(group + 1),
        _ => None,
    };
    instance
        .pattern
        .as_ref()
        .map_or(0, |_| instance.items.iter().filter_map(number).max().unwrap_or(0))
}
