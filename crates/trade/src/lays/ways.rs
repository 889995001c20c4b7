//! Which way a cloth is laid: up the roll, railroaded, or each part as it fits.

use super::{ClothLay, Compared, instance, lay_one_way};
use crate::develop::welt;
use crate::fault::Fault;
use crate::job::Job;
use crate::material::{Cloth, Direction};
use crate::money::decimal;
use crate::part::Developed;
use geometry::Length;
use lay::Limits;
use rust_decimal::Decimal;

/// The ways a cloth may be laid.
const fn ways(cloth: &Cloth) -> &'static [Direction] {
    match (cloth.direction, cloth.one_way) {
        (Direction::Either, true) => &[Direction::UpTheRoll, Direction::Railroaded],
        (Direction::Either, false) => {
            &[Direction::UpTheRoll, Direction::Railroaded, Direction::Either]
        }
        (Direction::UpTheRoll, _) => &[Direction::UpTheRoll],
        (Direction::Railroaded, _) => &[Direction::Railroaded],
    }
}

/// A cloth's first lays, one for each way.
pub(super) struct First {
    ways: Vec<(Direction, Result<ClothLay, Vec<Fault>>)>,
    /// The ways of which no bound says that they cannot buy less than the best.
    pub open: usize,
    /// The ways to be searched: those, or the best if there are none.
    searched: Vec<Direction>,
}

/// Lays a cloth each way it may be laid, without a search.
pub(super) fn first_lays(
    job: &Job,
    index: usize,
    developed: &[Developed],
    limits: &Limits,
) -> First {
    // Next to no work; but where there will be more, what cannot be undercut is looked at closely.
    let none = Limits { work: limits.work.min(1), ..*limits };
    let mut ways: Vec<(_, Result<ClothLay, _>)> = ways(&job.cloths[index])
        .iter()
        .map(|&way| (way, lay_one_way(job, index, developed, way, &none)))
        .collect();
    // A way in which fewer pins hold is no answer to what was asked.
    let held = |way: &(_, Result<ClothLay, _>)| way.1.as_ref().map_or(0, |l| l.instance.pins.len());
    let most = ways.iter().map(held).max().unwrap_or(0);
    ways.retain(|way| most == 0 || held(way) == most);
    let laid = || ways.iter().filter_map(|w| w.1.as_ref().ok());
    let best = laid().min_by_key(|lay| (lay.purchase, lay.answer.lay.new_length()));
    let mut searched: Vec<Direction> = laid()
        .filter(|lay| best.is_some_and(|best| lay.least_purchase < best.purchase))
        .map(|lay| lay.direction)
        .collect();
    let open = searched.len();
    if open == 0 {
        searched.extend(best.map(|lay| lay.direction));
    }
    First { ways, open, searched }
}

/// The best of a cloth's ways; `limits.work` is for each way that is searched.
pub(super) fn cloth_lay(
    job: &Job,
    index: usize,
    developed: &[Developed],
    first: First,
    limits: &Limits,
) -> Result<ClothLay, Vec<Fault>> {
    let mut best: Option<ClothLay> = None;
    let mut compared = Vec::new();
    let mut first_faults = Vec::new();
    for (direction, laid) in first.ways {
        let searched = limits.work > 0 && first.searched.contains(&direction);
        let laid = match laid {
            Ok(_) if searched => lay_one_way(job, index, developed, direction, limits),
            laid => laid,
        };
        match laid {
            Ok(lay) => {
                compared.push(Compared {
                    direction,
                    length: Some(lay.answer.lay.new_length()),
                    purchase: lay.purchase,
                });
                let cost = |l: &ClothLay| (l.purchase, l.answer.lay.new_length());
                if best.as_ref().is_none_or(|b| cost(&lay) < cost(b)) {
                    best = Some(lay);
                }
            }
            Err(faults) => {
                compared.push(Compared { direction, length: None, purchase: Length::ZERO });
                if first_faults.is_empty() {
                    first_faults = faults;
                }
            }
        }
    }
    let mut best = best.ok_or(first_faults)?;
    if let Some(shorter) = welt_from_waste(job, developed, &best, limits) {
        best = shorter;
    }
    // First answers come at once; how much they forgive is told with better ones.
    if limits.work > 0 {
        best.forgives = lay::forgives(&best.instance, &best.answer, limits.work);
    }
    best.compared = if compared.len() > 1 { compared } else { Vec::new() };
    Ok(best)
}

/// The lay with its welt strips cut in two, if that buys less by more than the cutting costs.
fn welt_from_waste(
    job: &Job,
    developed: &[Developed],
    best: &ClothLay,
    limits: &Limits,
) -> Option<ClothLay> {
    if best.answer.proven || best.own.is_some() || limits.work == 0 || (limits.stop)() {
        return None;
    }
    let mut more = 0;
    let mut parts = best.parts.clone();
    for laid in &mut parts {
        let allowances = &job.pieces[developed[laid.developed].piece].allowances;
        if let Some(half) = welt::halved(&laid.part, allowances) {
            more += half.count - laid.part.count;
            laid.part = half;
        }
    }
    if more == 0 {
        return None;
    }
    let instance = instance(&job.cloths[best.cloth], &parts, best.direction);
    let answer = lay::lay(&instance, limits).ok()?;
    let purchase = answer.lay.purchase(&instance.buying);
    // Of the strips as they are now: with other strips less could do.
    let least_purchase = instance.buying.purchase(answer.bound.length);
    let cloth = &job.cloths[best.cloth];
    let saved = cloth.price * decimal((best.purchase - purchase).in_unit(cloth.unit));
    let work =
        job.rates.minutes.cut_part * Decimal::from(more) / Decimal::from(60) * job.rates.hour;
    (purchase < best.purchase && saved >= work).then(|| ClothLay {
        parts,
        instance,
        answer,
        purchase,
        least_purchase,
        ..best.clone()
    })
}
