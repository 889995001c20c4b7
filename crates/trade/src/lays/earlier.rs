//! Lays of the same job as it was before a change, or as far as it was searched before.

use super::own_cloth::OwnCloth;
use super::{ClothLay, Lays, fitting_all, instance};
use crate::job::Job;
use crate::part::Developed;
use geometry::Length;
use lay::{Answer, Instance};

/// Lays found before that may serve a question; each is held against it before it is used.
#[derive(Default)]
pub(super) struct Before<'a> {
    /// Answers, each with the question it was found for.
    pub answers: Vec<&'a (Instance, Answer)>,
    /// What was found of the customer's own cloth.
    pub own_cloths: Vec<&'a OwnCloth>,
    /// The lay of the very same question.
    pub same: Option<&'a ClothLay>,
}

impl<'a> Before<'a> {
    pub fn of(lays: Vec<&'a ClothLay>, same: Option<&'a ClothLay>) -> Self {
        let answers = lays.iter().flat_map(|lay| &lay.forgiving).collect();
        let own_cloths = lays.iter().filter_map(|lay| lay.own.as_ref()).collect();
        Self { answers, own_cloths, same }
    }

    /// What is known to be needed whatever is found.
    pub fn least(&self) -> Length {
        self.same.map_or(Length::ZERO, |lay| lay.answer.bound.length)
    }
}

/// The earlier lay of a cloth, known by its name.
pub(super) fn of_cloth<'a>(
    job: &Job,
    index: usize,
    (earlier, lays): (&Job, &'a Lays),
) -> Option<&'a ClothLay> {
    lays.cloths.iter().find(|lay| earlier.cloths[lay.cloth].name == job.cloths[index].name)
}

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
