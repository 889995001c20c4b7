//! Which way a cloth is laid: up the roll, railroaded, or each part as it fits.

use super::{ClothLay, Compared, claims, lay_one_way, starts, welts};
use crate::fault::Fault;
use crate::job::Job;
use crate::material::{Cloth, Direction};
use crate::part::Developed;
use geometry::Length;
use lay::{Limits, Reason};

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
    ways: Vec<Way>,
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
    let mut ways: Vec<Way> = ways(&job.cloths[index])
        .iter()
        .map(|&way| (way, lay_one_way(job, index, developed, way, &none)))
        .collect();
    // A way in which fewer pins hold is no answer to what was asked.
    let held = |way: &Way| way.1.as_ref().map_or(0, |l| l.instance.pins.len());
    let most = ways.iter().map(held).max().unwrap_or(0);
    ways.retain(|way| most == 0 || held(way) == most);
    if limits.work > 0 {
        raise_all(&mut ways, &none);
    }
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

/// What is bought cannot be less than in the best of all ways: lowers what is claimed of one way to what
/// is known of another.
fn among_ways(best: &mut ClothLay, other: &ClothLay) {
    if best.least_purchase <= other.least_purchase {
        return;
    }
    best.least_purchase = other.least_purchase;
    best.answer.bound = other.answer.bound.clone();
    // Another way may divide parts otherwise, and its items then have other numbers.
    if best.parts != other.parts {
        best.answer.bound.reason = Reason::Otherwise;
    }
    best.answer.proven = best.purchase == best.least_purchase;
}

/// The part of a way's work that is done on every way alike; the rest goes to the most promising.
const TRIAL: u64 = 4;

type Way = (Direction, Result<ClothLay, Vec<Fault>>);

fn cost(lay: &ClothLay) -> (Length, Length) {
    (lay.purchase, lay.answer.lay.new_length())
}

/// Shows of as many ways as it can that they buy no less than the best.
fn raise_all(ways: &mut [Way], limits: &Limits) {
    if !limits.closely {
        return;
    }
    let laid = ways.iter().filter_map(|way| way.1.as_ref().ok());
    let Some(least) = laid.map(|lay| lay.purchase).min() else { return };
    for lay in ways.iter_mut().filter_map(|way| way.1.as_mut().ok()) {
        if lay.purchase > least {
            claims::raise(lay, least, limits);
        }
    }
}

/// Of the ways that may buy less than the best, the one that buys least so far.
fn promising(ways: &mut [Way]) -> Option<&mut ClothLay> {
    let laid = ways.iter().filter_map(|way| way.1.as_ref().ok());
    let least = laid.map(|lay| lay.purchase).min()?;
    let laid = ways.iter_mut().filter_map(|way| way.1.as_mut().ok());
    laid.filter(|lay| lay.least_purchase < least).min_by_key(|lay| cost(lay))
}

/// Takes the shorter of two lays of one way, and what is known of either.
fn take_better(lay: &mut ClothLay, again: Result<ClothLay, Vec<Fault>>) {
    let Ok(again) = again else { return };
    let (least, bound) = if again.least_purchase > lay.least_purchase {
        (again.least_purchase, again.answer.bound.clone())
    } else {
        (lay.least_purchase, lay.answer.bound.clone())
    };
    if cost(&again) < cost(lay) {
        *lay = again;
    }
    lay.least_purchase = least;
    lay.answer.bound = bound;
    lay.answer.proven = lay.purchase == least;
}

fn compared((direction, laid): &Way) -> Compared {
    let refused = laid.as_ref().err().and_then(|faults| faults.first()).map(|f| f.what.clone());
    let laid = laid.as_ref().ok();
    Compared {
        refused,
        direction: *direction,
        length: laid.map(|lay| lay.answer.lay.new_length()),
        purchase: laid.map_or(Length::ZERO, |lay| lay.purchase),
    }
}

/// The best of a cloth's ways; `limits.work` is for each way that is searched.
pub(super) fn cloth_lay(
    job: &Job,
    index: usize,
    developed: &[Developed],
    first: First,
    limits: &Limits,
) -> Result<ClothLay, Vec<Fault>> {
    let First { mut ways, searched, .. } = first;
    let lay = |way: Direction, work: u64| {
        lay_one_way(job, index, developed, way, &Limits { work, ..*limits })
    };
    if limits.work > 0 {
        let trial = if searched.len() > 1 { limits.work / TRIAL } else { limits.work };
        for (way, laid) in ways.iter_mut().filter(|w| w.1.is_ok() && searched.contains(&w.0)) {
            *laid = lay(*way, trial);
        }
        raise_all(&mut ways, limits);
        let rest = (limits.work - trial) * searched.len() as u64;
        if rest > 0
            && let Some(promising) = promising(&mut ways)
        {
            take_better(promising, lay(promising.direction, rest));
            raise_all(&mut ways, limits);
        }
    }
    let compared: Vec<Compared> = ways.iter().map(compared).collect();
    let (mut laid, mut faults) = (Vec::new(), Vec::new());
    for (_, way) in ways {
        match way {
            Ok(lay) => laid.push(lay),
            Err(found) => faults.push(found),
        }
    }
    let Some(at) = (0..laid.len()).min_by_key(|&i| cost(&laid[i])) else {
        return Err(faults.into_iter().next().unwrap_or_default());
    };
    let mut best = laid.swap_remove(at);
    for other in laid {
        among_ways(&mut best, &other);
    }
    if let Some(cheaper) = welts::divided_otherwise(job, developed, &best, limits) {
        best = cheaper;
    }
    if limits.work > 0 {
        best.forgives = starts::forgives(&best.forgiving, limits.work);
    }
    best.compared = if compared.len() > 1 { compared } else { Vec::new() };
    Ok(best)
}
