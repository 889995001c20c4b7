//! Near misses: small things the shop allows to be given up that let less cloth be bought. Each is
//! planned again, not guessed.

use crate::job::{Job, Relaxation};
use crate::material::Direction;
use crate::plan::{Plan, plan};
use geometry::Length;
use lay::Limits;
use rust_decimal::Decimal;

/// One near miss.
#[derive(Clone, Debug, PartialEq)]
pub struct Hint {
    /// What would be done.
    pub what: String,
    /// Each cloth whose purchase changes: name, before, after.
    pub cloths: Vec<(String, Length, Length)>,
    /// What the customer pays less, before tax.
    pub saves: Decimal,
    /// What it costs besides.
    pub gives_up: String,
}

/// Tries everything the job allows; the least that has the full effect is reported.
pub fn hints(base: &Plan, limits: &Limits) -> Vec<Hint> {
    base.job.relaxations.iter().filter_map(|relaxation| try_one(base, relaxation, limits)).collect()
}

fn try_one(base: &Plan, relaxation: &Relaxation, limits: &Limits) -> Option<Hint> {
    let mut best: Option<(Relaxation, Plan)> = None;
    let mut trial = relaxation.clone();
    // Half as much may do as well.
    for _ in 0..2 {
        if (limits.stop)() {
            break;
        }
        let Some(job) = relaxed(&base.job, &trial) else { break };
        let Ok(found) = plan(&job, limits) else { break };
        let enough = match &best {
            None => found.price.net < base.price.net && buys_less(base, &found),
            Some((_, before)) => found.price.net <= before.price.net,
        };
        if !enough {
            break;
        }
        best = Some((trial.clone(), found));
        match halved(&trial, base.job.style.mark) {
            Some(half) => trial = half,
            None => break,
        }
    }
    let (relaxation, found) = best?;
    let cloths: Vec<(String, Length, Length)> = base
        .lays
        .cloths
        .iter()
        .zip(&found.lays.cloths)
        .filter(|(a, b)| a.purchase != b.purchase)
        .map(|(a, b)| (base.job.cloths[a.cloth].name.clone(), a.purchase, b.purchase))
        .collect();
    let spare = found
        .lays
        .cloths
        .iter()
        .filter(|lay| cloths.iter().any(|c| c.0 == found.job.cloths[lay.cloth].name))
        .map(|lay| lay.forgives)
        .min()
        .unwrap_or_default()
        .round_down(base.job.style.mark);
    let spare = if spare == Length::ZERO {
        "nothing to spare: cut to the line".to_string()
    } else {
        format!("every part may then measure {} more", base.job.style.show(spare))
    };
    Some(Hint {
        what: words(&relaxation, &base.job),
        cloths,
        saves: base.price.net - found.price.net,
        gives_up: spare,
    })
}

fn buys_less(base: &Plan, found: &Plan) -> bool {
    base.lays.cloths.iter().zip(&found.lays.cloths).any(|(a, b)| b.purchase < a.purchase)
}

/// The job with one thing given up; `None` if there is nothing to give.
fn relaxed(job: &Job, relaxation: &Relaxation) -> Option<Job> {
    let mut changed = job.clone();
    changed.choices.clear();
    changed.relaxations.clear();
    match relaxation {
        Relaxation::TurnUnder(less) => {
            for piece in &mut changed.pieces {
                let a = &mut piece.allowances;
                // Enough must stay to staple and trim.
                let least = a.staple_inset + a.pleat;
                a.turn_under = (a.turn_under - *less).max(least.min(a.turn_under));
            }
        }
        Relaxation::Seam(less) => {
            for piece in &mut changed.pieces {
                let a = &mut piece.allowances;
                let least = Length::from_mm(6.0).min(a.seam);
                a.seam = (a.seam - *less).max(least);
            }
        }
        Relaxation::Trim(less) => {
            for cloth in &mut changed.cloths {
                cloth.trim = (cloth.trim - *less).max(Length::ZERO);
            }
        }
        Relaxation::JointGap(more) => {
            for run in changed.pieces.iter_mut().filter_map(|p| p.run.as_mut()) {
                run.joint_gap += *more;
            }
        }
        Relaxation::Railroad => {
            for cloth in &mut changed.cloths {
                if cloth.direction != Direction::Either && !cloth.one_way && cloth.pattern.is_none()
                {
                    cloth.direction = Direction::Either;
                }
            }
        }
    }
    let same = changed.pieces == job.pieces && changed.cloths == job.cloths;
    (!same).then_some(changed)
}

fn halved(relaxation: &Relaxation, mark: Length) -> Option<Relaxation> {
    let half =
        |l: Length| Some(l.share(2).round_down(mark)).filter(|h| *h > Length::ZERO && *h < l);
    Some(match relaxation {
        Relaxation::TurnUnder(l) => Relaxation::TurnUnder(half(*l)?),
        Relaxation::Seam(l) => Relaxation::Seam(half(*l)?),
        Relaxation::Trim(l) => Relaxation::Trim(half(*l)?),
        Relaxation::JointGap(l) => Relaxation::JointGap(half(*l)?),
        Relaxation::Railroad => return None,
    })
}

fn words(relaxation: &Relaxation, job: &Job) -> String {
    let show = |l: &Length| job.style.show(*l);
    match relaxation {
        Relaxation::TurnUnder(l) => format!("{} less turn-under on stapled covers", show(l)),
        Relaxation::Seam(l) => format!("seam allowances {} less", show(l)),
        Relaxation::Trim(l) => format!("{} less lost at the ends of each length", show(l)),
        Relaxation::JointGap(l) => format!("{} more between sections", show(l)),
        Relaxation::Railroad => "plain cloth laid whichever way buys less".into(),
    }
}
