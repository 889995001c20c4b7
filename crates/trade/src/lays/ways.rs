//! Which way a cloth is laid: up the roll, railroaded, or each part as it fits.
//!
//! A cloth is laid again and again, each time with more work, and nothing that was found is lost: a
//! further course never buys more, nor does what asks for less than the plan it is given.

use super::{Before, ClothLay, Compared, claims, lay_one_way, starts, welts};
use crate::fault::Fault;
use crate::job::Job;
use crate::material::{Cloth, Direction};
use crate::part::Developed;
use crate::purse;
use geometry::Length;
use lay::{Limits, Reason};
use std::cmp::Reverse;

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

type Way = (Direction, Result<ClothLay, Vec<Fault>>);

/// A cloth as far as it has been searched.
pub(super) struct Standing<'a> {
    job: &'a Job,
    index: usize,
    developed: &'a [Developed],
    /// The shortest lay of each way.
    ways: Vec<Way>,
    /// The cheapest with parts divided otherwise.
    otherwise: Option<ClothLay>,
    /// An earlier lay of the cloth, perhaps of a somewhat other job.
    earlier: Option<&'a ClothLay>,
}

/// What is less is better: with the customer's own cloth what comes whole out of it, then what is bought,
/// then what is used.
fn rank(lay: &ClothLay) -> (Reverse<Vec<usize>>, Length, Length) {
    let merit = lay.own.as_ref().map_or(Vec::new(), |own| own.merit.clone());
    (Reverse(merit), lay.purchase, lay.answer.lay.new_length())
}

/// What is bought cannot be less than in the best of all ways: lowers what is claimed of one way to what
/// is known of another.
fn among_ways(best: &mut ClothLay, other: &ClothLay) {
    if let (Some(own), Some(also)) = (&mut best.own, &other.own) {
        own.or_otherwise(also);
        return;
    }
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

/// Takes the shorter of two lays of one way, and what is known of either.
fn take_better(lay: &mut ClothLay, again: Result<ClothLay, Vec<Fault>>) {
    let Ok(again) = again else { return };
    let is_better = rank(&again) < rank(lay);
    if let Some(own) = &mut lay.own {
        // What is needed besides depends on what was taken from what is there.
        match (is_better, again.own) {
            (false, Some(more)) => own.learn(more),
            (_, more) => *lay = ClothLay { own: more, ..again },
        }
        return;
    }
    let (least, bound) = if again.least_purchase > lay.least_purchase {
        (again.least_purchase, again.answer.bound.clone())
    } else {
        (lay.least_purchase, lay.answer.bound.clone())
    };
    if is_better {
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

impl<'a> Standing<'a> {
    /// A cloth laid each way it may be laid, without a search.
    pub fn first(
        job: &'a Job,
        index: usize,
        developed: &'a [Developed],
        earlier: Option<&'a ClothLay>,
        limits: &Limits,
    ) -> Self {
        let mut cloth = Self { job, index, developed, ways: Vec::new(), otherwise: None, earlier };
        // Next to no work; but where there will be more, what cannot be undercut is looked at closely.
        let none = Limits { work: limits.work.min(1), ..*limits };
        for &way in ways(&job.cloths[index]) {
            let laid = cloth.laid(way, &none);
            cloth.ways.push((way, laid));
        }
        // What lies one way serves where more is allowed, and is told of the narrower one.
        cloth.share(&none);
        // A way in which fewer pins hold is no answer to what was asked.
        let held = |way: &Way| way.1.as_ref().map_or(0, |l| l.instance.pins.len());
        let most = cloth.ways.iter().map(held).max().unwrap_or(0);
        cloth.ways.retain(|way| most == 0 || held(way) == most);
        if limits.work > 0 {
            cloth.raise_all(&none);
        }
        cloth
    }

    /// One way laid, as well as what is known serves it at least.
    fn laid(&self, way: Direction, limits: &Limits) -> Result<ClothLay, Vec<Fault>> {
        let own = self.ways.iter().find(|w| w.0 == way).and_then(|w| w.1.as_ref().ok());
        let others = self.ways.iter().filter(|w| w.0 != way).filter_map(|w| w.1.as_ref().ok());
        let mut lays: Vec<&ClothLay> = own.into_iter().chain(others).collect();
        lays.extend(self.earlier);
        let before = Before::of(lays, own);
        lay_one_way(self.job, self.index, self.developed, way, limits, &before)
    }

    /// Each way laid as it is best in another, where that serves.
    fn share(&mut self, limits: &Limits) {
        if self.ways.len() < 2 {
            return;
        }
        let none = Limits { work: 0, closely: false, ..*limits };
        for at in 0..self.ways.len() {
            let again = self.laid(self.ways[at].0, &none);
            if let Ok(lay) = &mut self.ways[at].1 {
                take_better(lay, again);
            }
        }
    }

    fn least(&self) -> Option<&ClothLay> {
        self.ways.iter().filter_map(|way| way.1.as_ref().ok()).min_by_key(|lay| rank(lay))
    }

    /// The ways to be searched: those of which no bound says that they cannot buy less than the best.
    fn open(&self) -> Vec<Direction> {
        let Some(best) = self.least() else { return Vec::new() };
        let laid = self.ways.iter().filter_map(|way| way.1.as_ref().ok());
        // Of the customer's own cloth more pieces may come as long as not all do.
        let open = |lay: &&ClothLay| match &lay.own {
            Some(own) => !own.is_enough(),
            None => lay.least_purchase < best.purchase,
        };
        laid.filter(open).map(|lay| lay.direction).collect()
    }

    /// How many ways may buy less than what was found.
    pub fn open_ways(&self) -> usize {
        self.open().len()
    }

    /// Searches once; `limits.work` is for each way that is searched.
    pub fn search(&mut self, limits: &Limits) {
        let mut searched = self.open();
        if searched.is_empty() {
            searched.extend(self.least().map(|lay| lay.direction));
        }
        let trial = {
            let share = if searched.len() > 1 { purse::EVERY_WAY } else { purse::ONLY_WAY };
            share.of(limits.work)
        };
        for &way in &searched {
            self.anew(way, &Limits { work: trial, ..*limits });
        }
        self.raise_all(limits);
        let rest = (limits.work - trial) * searched.len() as u64;
        if rest > 0
            && let Some(promising) = self.promising()
        {
            let seed = limits.seed.wrapping_add(1);
            self.again(promising, &Limits { work: rest, seed, ..*limits });
            self.raise_all(limits);
        }
        self.share(limits);
        let divided = self.best().and_then(|best| {
            welts::divided_otherwise(
                self.job,
                self.developed,
                &best,
                self.otherwise.as_ref(),
                limits,
            )
        });
        if divided.is_some() {
            self.otherwise = divided;
        }
    }

    /// Searches a way from nothing, with other luck than before, where that costs no more than going on.
    fn anew(&mut self, way: Direction, limits: &Limits) {
        let simple = |lay: &ClothLay| lay.starts.is_none() && lay.own.is_none();
        let laid = self.ways.iter().find(|w| w.0 == way).and_then(|w| w.1.as_ref().ok());
        if !limits.closely || !laid.is_some_and(simple) {
            return self.again(way, limits);
        }
        let before = Before { same: laid, ..Before::default() };
        let again = lay_one_way(self.job, self.index, self.developed, way, limits, &before);
        self.take(way, again);
    }

    /// Goes on from what is known.
    fn again(&mut self, way: Direction, limits: &Limits) {
        let again = self.laid(way, limits);
        self.take(way, again);
    }

    fn take(&mut self, way: Direction, again: Result<ClothLay, Vec<Fault>>) {
        if let Some((_, Ok(lay))) = self.ways.iter_mut().find(|w| w.0 == way) {
            take_better(lay, again);
        }
    }

    /// Shows of as many ways as it can that they buy no less than the best.
    fn raise_all(&mut self, limits: &Limits) {
        if !limits.closely {
            return;
        }
        let laid = self.ways.iter().filter_map(|way| way.1.as_ref().ok());
        let Some(least) = laid.map(|lay| lay.purchase).min() else { return };
        for lay in self.ways.iter_mut().filter_map(|way| way.1.as_mut().ok()) {
            if lay.purchase > least {
                claims::raise(lay, least, limits);
            }
        }
    }

    /// Of the ways that may buy less than the best, the one that buys least so far.
    fn promising(&self) -> Option<Direction> {
        let open = self.open();
        let laid = self.ways.iter().filter_map(|way| way.1.as_ref().ok());
        let laid = laid.filter(|lay| open.contains(&lay.direction));
        laid.min_by_key(|lay| rank(lay)).map(|lay| lay.direction)
    }

    /// The best of all ways, and what may be claimed of it.
    fn best(&self) -> Option<ClothLay> {
        let mut best = self.least()?.clone();
        for other in self.ways.iter().filter_map(|way| way.1.as_ref().ok()) {
            among_ways(&mut best, other);
        }
        Some(best)
    }

    /// The best that was found.
    pub fn found(self, limits: &Limits) -> Result<ClothLay, Vec<Fault>> {
        let Some(mut best) = self.best() else {
            // Of two ways in vain the one that comes nearer tells what to do.
            let mut faults: Vec<Vec<Fault>> =
                self.ways.into_iter().filter_map(|way| way.1.err()).collect();
            let wide = |faults: &Vec<Fault>| faults.iter().any(|f| f.code == "too-wide-for-cloth");
            faults.sort_by_key(wide);
            return Err(faults.into_iter().next().unwrap_or_default());
        };
        let compared: Vec<Compared> = self.ways.iter().map(compared).collect();
        if let Some(cheaper) = self.otherwise
            && welts::is_cheaper(self.job, &best, &cheaper)
        {
            best = cheaper;
        }
        // A length that is there already ends where it ends, whatever is bought.
        if limits.work > 0 && best.own.is_none() {
            best.forgives = starts::forgives(&best.forgiving, limits);
        }
        best.compared = if compared.len() > 1 { compared } else { Vec::new() };
        Ok(best)
    }
}
