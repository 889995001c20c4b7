//! Near misses: small things the shop allows to be given up that let less cloth be bought. Each is
//! planned again, not guessed.

use crate::job::{Choice, Job, Relaxation};
use crate::material::Direction;
use crate::plan::{Plan, plan_again};
use geometry::Length;
use lay::Limits;
use rust_decimal::Decimal;

/// One near miss.
#[derive(Clone, Debug, PartialEq)]
pub struct Hint {
    /// What would be done.
    pub what: String,
    /// The same, for the program: no more than has the full effect.
    pub step: Relaxation,
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
    let mut best: Option<(String, Plan, Relaxation)> = None;
    let mut trial = relaxation.clone();
    // Half as much may do as well.
    for _ in 0..2 {
        let jobs = relaxed(&base.job, &trial);
        let share = Limits { work: limits.work / jobs.len().max(1) as u64, ..*limits };
        let mut better = false;
        for (what, job) in jobs {
            if (limits.stop)() {
                break;
            }
            let Ok(found) = plan_again(&job, &share, Some(base)) else { continue };
            let enough = match &best {
                None => found.price.net < base.price.net && buys_less(base, &found),
                Some((_, before, _)) => found.price.net <= before.price.net,
            };
            if enough {
                best = Some((what, found, trial.clone()));
                better = true;
            }
        }
        match halved(&trial, base.job.style.mark) {
            Some(half) if better => trial = half,
            _ => break,
        }
    }
    let (what, found, step) = best?;
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
    Some(Hint { what, step, cloths, saves: base.price.net - found.price.net, gives_up: spare })
}

fn buys_less(base: &Plan, found: &Plan) -> bool {
    base.lays.cloths.iter().zip(&found.lays.cloths).any(|(a, b)| b.purchase < a.purchase)
}

/// The job with one thing given up, in each way that can be done, with words for it.
fn relaxed(job: &Job, relaxation: &Relaxation) -> Vec<(String, Job)> {
    let mut plain = job.clone();
    plain.choices.clear();
    plain.relaxations.clear();
    let show = |l: &Length| job.style.show(*l);
    let mut changed = plain.clone();
    let what = match relaxation {
        Relaxation::TurnUnder(less) => {
            for piece in &mut changed.pieces {
                let a = &mut piece.allowances;
                // Enough must stay to staple and trim.
                let least = a.staple_inset + a.pleat;
                a.turn_under = (a.turn_under - *less).max(least.min(a.turn_under));
            }
            format!("{} less turn-under on stapled covers", show(less))
        }
        Relaxation::Seam(less) => {
            for piece in &mut changed.pieces {
                let a = &mut piece.allowances;
                let least = Length::from_mm(6.0).min(a.seam);
                a.seam = (a.seam - *less).max(least);
            }
            format!("seam allowances {} less", show(less))
        }
        Relaxation::Trim(less) => {
            for cloth in &mut changed.cloths {
                cloth.trim = (cloth.trim - *less).max(Length::ZERO);
            }
            format!("{} less lost at the ends of each length", show(less))
        }
        Relaxation::JointGap(more) => {
            for run in changed.pieces.iter_mut().filter_map(|p| p.run.as_mut()) {
                run.joint_gap += *more;
            }
            format!("{} more between sections", show(more))
        }
        Relaxation::Railroad => {
            for cloth in &mut changed.cloths {
                if cloth.direction != Direction::Either && !cloth.one_way && cloth.pattern.is_none()
                {
                    cloth.direction = Direction::Either;
                }
            }
            "plain cloth laid whichever way buys less".into()
        }
        Relaxation::HiddenSeam => return seams(&plain),
        Relaxation::SwapCloths => return swaps(&plain),
    };
    let same = changed.pieces == job.pieces && changed.cloths == job.cloths;
    if same { Vec::new() } else { vec![(what, changed)] }
}

/// Pieces tried with a seam, those there are most of first.
const MOST_SEAMS: usize = 6;

/// One piece at a time with its covers joined down the middle.
fn seams(job: &Job) -> Vec<(String, Job)> {
    let mut order: Vec<usize> = (0..job.pieces.len()).collect();
    order.sort_by_key(|&i| std::cmp::Reverse(job.pieces[i].count));
    order
        .into_iter()
        .filter(|&i| !job.pieces[i].halved)
        .take(MOST_SEAMS)
        .map(|i| {
            let mut changed = job.clone();
            changed.pieces[i].halved = true;
            let what = format!("the cover of {} joined down the middle", job.pieces[i].name);
            (what, changed)
        })
        .collect()
}

/// Each two cloths that pieces are covered in, exchanged.
fn swaps(job: &Job) -> Vec<(String, Job)> {
    let used: Vec<&str> = job
        .cloths
        .iter()
        .map(|c| c.name.as_str())
        .filter(|name| job.pieces.iter().any(|p| p.cloth.as_deref() == Some(name)))
        .collect();
    let mut all = Vec::new();
    for (i, a) in used.iter().enumerate() {
        for b in &used[i + 1..] {
            let both = [(a, b), (b, a)].map(|(x, y)| (x.to_string(), y.to_string()));
            let choice = Choice { name: String::new(), swap: both.to_vec() };
            all.push((format!("{a} and {b} change places"), job.with(&choice)));
        }
    }
    all
}

fn halved(relaxation: &Relaxation, mark: Length) -> Option<Relaxation> {
    let half =
        |l: Length| Some(l.share(2).round_down(mark)).filter(|h| *h > Length::ZERO && *h < l);
    Some(match relaxation {
        Relaxation::TurnUnder(l) => Relaxation::TurnUnder(half(*l)?),
        Relaxation::Seam(l) => Relaxation::Seam(half(*l)?),
        Relaxation::Trim(l) => Relaxation::Trim(half(*l)?),
        Relaxation::JointGap(l) => Relaxation::JointGap(half(*l)?),
        Relaxation::Railroad | Relaxation::HiddenSeam | Relaxation::SwapCloths => return None,
    })
}
