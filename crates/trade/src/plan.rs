//! The whole program, one line for each arrow.

use crate::develop;
use crate::fault::Fault;
use crate::job::{Choice, Job};
use crate::labour::{self, Task};
use crate::lays::{self, Lays};
use crate::message::message;
use crate::part::{Developed, Part};
use crate::price::{self, Price};
use crate::take_off::{self, TakeOff};
use lay::Limits;

/// A job planned.
#[derive(Clone, Debug)]
pub struct Plan {
    /// What was asked.
    pub job: Job,
    /// Pieces developed into parts.
    pub developed: Vec<Developed>,
    /// Parts laid.
    pub lays: Lays,
    /// What it takes.
    pub take_off: TakeOff,
    /// How long it takes.
    pub labour: Vec<Task>,
    /// What it costs.
    pub price: Price,
    /// The customer's choices, priced the same way.
    pub choices: Vec<(Choice, Box<Plan>)>,
    /// The seed of the search.
    pub seed: u64,
}

/// Checks a job without laying it.
///
/// # Errors
/// Every fault found.
pub fn check(job: &Job) -> Result<Vec<Developed>, Vec<Fault>> {
    let mut faults = job.faults();
    match develop::develop(job) {
        Ok(developed) if faults.is_empty() => match too_many(&developed) {
            None => Ok(developed),
            Some(fault) => Err(vec![fault]),
        },
        Ok(_) => Err(faults),
        Err(found) => {
            faults.extend(found);
            Err(faults)
        }
    }
}

/// More parts than this are refused: the lay would take minutes.
const MOST_PARTS: usize = 30_000;

fn too_many(developed: &[Developed]) -> Option<Fault> {
    let parts: usize = developed.iter().flat_map(|d| &d.parts).map(|p| p.count).sum();
    (parts > MOST_PARTS).then(|| {
        Fault::new(
            "too-many-parts",
            "piece",
            message("too-many-parts").count("parts", parts),
            message("too-many-parts").part("do").count("most-parts", MOST_PARTS),
        )
    })
}

/// Plans a job. The same job, seed and work give the same plan.
///
/// # Errors
/// Every fault found, none half done.
pub fn plan(job: &Job, limits: &Limits) -> Result<Plan, Vec<Fault>> {
    plan_again(job, limits, None)
}

/// The same, taking over from an earlier plan the lays that a change has not touched.
///
/// # Errors
/// See [`plan`].
pub fn plan_again(job: &Job, limits: &Limits, earlier: Option<&Plan>) -> Result<Plan, Vec<Fault>> {
    planned(job, limits, earlier.map(|plan| (&plan.job, &plan.lays)))
}

fn planned(job: &Job, limits: &Limits, earlier: Option<(&Job, &Lays)>) -> Result<Plan, Vec<Fault>> {
    // A choice changes some of the cloths only: half as much for each.
    let part = limits.work / (2 + job.choices.len() as u64);
    let (share, half) = match job.choices.is_empty() {
        true => (limits.work, 0),
        false => (2 * part, part),
    };
    let share = Limits { work: share, ..*limits };
    let developed = check(job)?;
    let lays = lays::lays_again(job, &developed, &share, earlier)?;
    let developed = as_laid(developed, &lays);
    let take_off = take_off::take_off(job, &developed, &lays);
    let labour = labour::labour(job, &developed);
    let price = price::price(job, &developed, &take_off, &labour);
    let mut choices = Vec::new();
    for choice in &job.choices {
        // Cloths that the choice leaves alone are laid as they are without it.
        let other =
            planned(&job.with(choice), &Limits { work: half, ..*limits }, Some((job, &lays)))
                .map_err(|faults| named(faults, choice))?;
        choices.push((choice.clone(), Box::new(other)));
    }
    Ok(Plan {
        job: job.clone(),
        developed,
        lays,
        take_off,
        labour,
        price,
        choices,
        seed: limits.seed,
    })
}

/// Parts as they are cut: welt strips that the lay has cut in two.
fn as_laid(mut developed: Vec<Developed>, lays: &Lays) -> Vec<Developed> {
    for lay in lays.cloths.iter().filter(|lay| lay.asked != lay.instance) {
        for laid in &lay.parts {
            let parts = &mut developed[laid.developed].parts;
            if let Some(part) = parts.iter_mut().find(|p| p.id == laid.part.id) {
                *part = laid.part.clone();
            }
        }
    }
    for laid in lays.cloths.iter().flat_map(|lay| &lay.parts) {
        joined(&mut developed[laid.developed], &laid.part);
    }
    developed
}

/// Notes a width that a part is joined from, and its seam. The first width has none.
fn joined(piece: &mut Developed, width: &Part) {
    let own = piece.parts.iter().any(|part| part.id == width.id);
    let Some(part) = piece.parts.iter().find(|part| width.of(&part.id)).filter(|_| !own) else {
        return;
    };
    let first = width.id.strip_prefix(&part.id) == Some("1");
    piece.widths.push(width.clone());
    if first {
        return;
    }
    let each = width.count.div_ceil(piece.count.max(1));
    piece.quantities.seam += width.size().1 * each as i64;
}

fn named(faults: Vec<Fault>, choice: &Choice) -> Vec<Fault> {
    faults
        .into_iter()
        .map(|f| {
            let what = message("in-option").text("option", &choice.name).said("what", f.what);
            Fault { what, ..f }
        })
        .collect()
}

impl Plan {
    /// All warnings, in the order of the flow.
    pub fn warnings(&self) -> Vec<&Fault> {
        self.developed
            .iter()
            .flat_map(|d| &d.warnings)
            .chain(&self.lays.warnings)
            .chain(&self.take_off.warnings)
            .collect()
    }
}
