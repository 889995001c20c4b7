//! Near misses: small things the shop allows to be given up that let less be bought. Each is a list of
//! changes to the job and is planned again with them, so that what is told is what taking it does.

use crate::job::{Job, Relaxation};
use crate::lays;
use crate::material::{Cloth, Direction};
use crate::message::{Between, Message, message};
use crate::piece::Piece;
use crate::plan::{Plan, check, plan_again};
use geometry::Length;
use lay::Limits;
use rust_decimal::Decimal;

/// What a change is made to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// The allowances of the shop.
    Allowances,
    /// A piece's own allowances.
    PieceAllowances(usize),
    /// A piece.
    Piece(usize),
    /// The run that a piece stands in.
    Run(usize),
    /// A cloth.
    Cloth(usize),
}

/// A value as a job file has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Value {
    /// A length.
    Length(Length),
    /// A word or name.
    Word(String),
    /// Yes.
    Yes,
}

/// One value of the job changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// Where.
    pub place: Place,
    /// Its key there.
    pub key: &'static str,
    /// What it becomes.
    pub to: Value,
}

/// One near miss.
#[derive(Clone, Debug, PartialEq)]
pub struct Hint {
    /// What would be done.
    pub what: Message,
    /// The same, value by value: no more than has the full effect.
    pub changes: Vec<Change>,
    /// Each cloth whose purchase changes: name, before, after.
    pub cloths: Vec<(String, Length, Length)>,
    /// Each foam or board of which fewer or other sheets are bought: name, before, after.
    pub sheets: Vec<(String, usize, usize)>,
    /// The customer's own cloth that is enough then.
    pub enough: Vec<String>,
    /// What the customer pays less, before tax.
    pub saves: Decimal,
    /// What it costs besides.
    pub gives_up: Message,
}

impl Hint {
    /// What it does to what is bought.
    pub fn effect(&self, job: &Job) -> Message {
        let enough = self.enough.iter().map(|name| message("effect-enough").text("cloth", name));
        let bought = self.cloths.iter().filter(|cloth| !self.enough.contains(&cloth.0));
        let cloths = bought.filter_map(|(name, before, after)| {
            let unit = job.cloth(name)?.unit;
            let effect = message("effect-cloth").text("cloth", name);
            Some(effect.sold("after", *after, unit).sold("before", *before, unit))
        });
        let sheets = self.sheets.iter().map(|(name, before, after)| {
            let effect = message("effect-sheets").text("goods", name);
            effect.count("after", *after).count("before", *before)
        });
        let all = enough.chain(cloths).chain(sheets).collect();
        message("list").list("list", all, Between::Semicolon)
    }
}

/// Tries everything the job allows; the least that has the full effect is reported. Where the customer's
/// own cloth is short what is usually given up is tried whatever the job says. `limits.work` is for all
/// of it together.
pub fn hints(base: &Plan, limits: &Limits) -> Vec<Hint> {
    let mut tried = base.job.relaxations.clone();
    if is_short(base) {
        let asked = |wanted: &Relaxation| {
            tried.iter().any(|r| std::mem::discriminant(r) == std::mem::discriminant(wanted))
        };
        let more: Vec<Relaxation> =
            for_own_cloth(&base.job).into_iter().filter(|r| !asked(r)).collect();
        tried.extend(more);
    }
    let share = Limits { work: limits.work / tried.len().max(1) as u64, closely: false, ..*limits };
    tried.iter().filter_map(|relaxation| try_one(base, relaxation, &share)).collect()
}

/// Whether [`hints`] may have something to try; known before the job is planned.
pub fn are_wanted(job: &Job) -> bool {
    !job.relaxations.is_empty() || job.cloths.iter().any(|cloth| cloth.customers_own)
}

/// What is tried where the customer's own cloth is short. Common practice, no source.
fn for_own_cloth(job: &Job) -> Vec<Relaxation> {
    let half = if job.style.unit.is_binary() {
        Length::from_inch_64ths(32)
    } else {
        Length::from_mm(12.0)
    };
    vec![Relaxation::TurnUnder(half), Relaxation::Seam(half.share(4)), Relaxation::HiddenSeam]
}

fn is_short(plan: &Plan) -> bool {
    plan.lays.cloths.iter().any(|lay| lay.own.as_ref().is_some_and(|own| !own.is_enough()))
}

/// One way of giving something up: words for it, and its changes.
type Way = (Message, Vec<Change>);

fn try_one(base: &Plan, relaxation: &Relaxation, limits: &Limits) -> Option<Hint> {
    let mut best: Option<(Way, Plan)> = None;
    let mut trial = relaxation.clone();
    let mark = base.job.style.mark;
    for _ in 0..=MOST_HALVINGS {
        let ways = ways(base, &trial);
        let trials = (1 + MOST_HALVINGS) * ways.len().max(1) as u64;
        let share = Limits { work: limits.work / trials, ..*limits };
        let mut better = false;
        for way in ways {
            if (limits.stop)() {
                break;
            }
            let job = changed(&base.job, &way.1);
            let Ok(found) = plan_again(&job, &share, Some(base)) else { continue };
            let enough = match &best {
                None => is_worth_it(base, &found),
                Some((_, before)) => is_as_good(before, &found),
            };
            if enough {
                best = Some((way, found));
                better = true;
            }
        }
        match halved(&trial, mark) {
            Some(half) if better => trial = half,
            _ => break,
        }
    }
    let ((what, changes), found) = best?;
    Some(told(base, &found, what, changes))
}

/// A half, a quarter, an eighth of what may be given up may do as well.
const MOST_HALVINGS: u64 = 3;

/// Cheaper, or enough where the customer's own cloth was not.
fn is_worth_it(base: &Plan, found: &Plan) -> bool {
    let cheaper = found.price.net < base.price.net && buys_less(base, found);
    let newly_enough = !enough_now(base, found).is_empty();
    (cheaper || newly_enough) && found.price.net <= base.price.net
}

fn is_as_good(before: &Plan, found: &Plan) -> bool {
    found.price.net <= before.price.net && enough_now(found, before).is_empty()
}

/// The customer's cloths that are enough in the second plan and not in the first.
fn enough_now(first: &Plan, second: &Plan) -> Vec<String> {
    let enough = |plan: &Plan, cloth: usize| {
        let lay = plan.lays.cloths.iter().find(|lay| lay.cloth == cloth);
        lay.and_then(|lay| lay.own.as_ref()).is_none_or(|own| own.is_enough())
    };
    (0..first.job.cloths.len())
        .filter(|&i| first.job.cloths[i].customers_own && !enough(first, i) && enough(second, i))
        .map(|i| first.job.cloths[i].name.clone())
        .collect()
}

fn buys_less(base: &Plan, found: &Plan) -> bool {
    let cloth = base.lays.cloths.iter().zip(&found.lays.cloths);
    let sheets = base.lays.sheets.iter().zip(&found.lays.sheets);
    cloth.into_iter().any(|(a, b)| b.purchase < a.purchase)
        || sheets.into_iter().any(|(a, b)| b.cost() < a.cost())
}

fn told(base: &Plan, found: &Plan, what: Message, changes: Vec<Change>) -> Hint {
    let pairs = base.lays.cloths.iter().zip(&found.lays.cloths);
    let cloths: Vec<(String, Length, Length)> = pairs
        .filter(|(a, b)| a.purchase != b.purchase)
        .map(|(a, b)| (base.job.cloths[a.cloth].name.clone(), a.purchase, b.purchase))
        .collect();
    let sheets = base
        .lays
        .sheets
        .iter()
        .zip(&found.lays.sheets)
        .filter(|(a, b)| a.cost() != b.cost())
        .map(|(a, b)| {
            let goods = base.job.goods(a.stuff, a.material);
            (goods.name.clone(), a.cutting.sheets.len(), b.cutting.sheets.len())
        })
        .collect();
    let touched =
        |lay: &&lays::ClothLay| cloths.iter().any(|c| c.0 == found.job.cloths[lay.cloth].name);
    let spare = found.lays.cloths.iter().filter(touched).map(|lay| lay.forgives).min();
    let spare = spare.map(|spare| spare.round_down(base.job.style.mark));
    let gives_up = match spare {
        None => Message::nothing(),
        Some(Length::ZERO) => message("nothing-to-spare"),
        Some(spare) => message("then-to-spare").length("spare", spare),
    };
    let saves = base.price.net - found.price.net;
    let enough = enough_now(base, found);
    let (what, changes) = gaining(&base.job, &cloths, &enough, (what, changes));
    Hint { what, changes, cloths, sheets, enough, saves, gives_up }
}

/// What is given up of a cloth without any gain is left as it is.
fn gaining(
    job: &Job,
    bought: &[(String, Length, Length)],
    enough: &[String],
    (what, mut changes): Way,
) -> Way {
    let gains = |name: &String| bought.iter().any(|b| b.0 == *name) || enough.contains(name);
    let before = changes.len();
    changes.retain(|change| match change.place {
        Place::Cloth(i) => gains(&job.cloths[i].name),
        _ => true,
    });
    if changes.len() == before {
        return (what, changes);
    }
    let names = changes.iter().filter_map(|change| match change.place {
        Place::Cloth(i) => Some(job.cloths[i].name.as_str()),
        _ => None,
    });
    let names = names.collect::<Vec<_>>().join(", ");
    (message("hint-of-cloths").said("what", what).text("cloths", names), changes)
}

/// The job with values changed, as the job file with those values would be read.
pub fn changed(job: &Job, changes: &[Change]) -> Job {
    let mut job = job.clone();
    job.choices.clear();
    job.relaxations.clear();
    for change in changes {
        apply(&mut job, change);
        let (Place::Piece(i) | Place::PieceAllowances(i) | Place::Run(i)) = change.place else {
            continue;
        };
        // Its mirror images follow.
        let name = job.pieces[i].name.clone();
        let follows = |piece: &Piece| piece.mirrors.as_deref() == Some(name.as_str());
        let images: Vec<usize> =
            (0..job.pieces.len()).filter(|&j| follows(&job.pieces[j])).collect();
        for image in images {
            let place = match change.place {
                Place::Piece(_) => Place::Piece(image),
                Place::PieceAllowances(_) => Place::PieceAllowances(image),
                _ => Place::Run(image),
            };
            apply(&mut job, &Change { place, ..change.clone() });
        }
    }
    job
}

fn apply(job: &mut Job, change: &Change) {
    let (key, to) = (change.key, &change.to);
    match (change.place, to) {
        (Place::Allowances, Value::Length(length)) => {
            *job.allowances.value(key) = *length;
            let inherits = |own: &[String]| !own.iter().any(|own| own == key);
            for piece in job.pieces.iter_mut().filter(|piece| inherits(&piece.own_allowances)) {
                *piece.allowances.value(key) = *length;
            }
        }
        (Place::PieceAllowances(i), Value::Length(length)) => {
            *job.pieces[i].allowances.value(key) = *length;
            job.pieces[i].own_allowances.push(key.into());
        }
        (Place::Run(i), Value::Length(length)) => {
            if let Some(run) = &mut job.pieces[i].run {
                run.joint_gap = *length;
            }
        }
        (Place::Piece(i), Value::Length(length)) => {
            if let Some((_, size)) =
                job.pieces[i].kind.of_mut().sizes().into_iter().find(|s| s.0 == key)
            {
                *size = *length;
            }
        }
        (Place::Piece(i), Value::Word(name)) => job.pieces[i].cloth = Some(name.clone()),
        (Place::Piece(i), Value::Yes) => job.pieces[i].halved = true,
        (Place::Cloth(i), Value::Length(length)) => job.cloths[i].trim = *length,
        (Place::Cloth(i), Value::Word(_)) => job.cloths[i].direction = Direction::Either,
        _ => {}
    }
}

/// Each way in which something may be given up, with words for it.
fn ways(base: &Plan, relaxation: &Relaxation) -> Vec<Way> {
    let job = &base.job;
    let by = |id: &'static str, by: &Length| message(id).length("by", *by);
    let one = |what: Message, changes: Vec<Change>| match changes.is_empty() {
        true => Vec::new(),
        false => vec![(what, changes)],
    };
    match relaxation {
        Relaxation::TurnUnder(less) => {
            // Enough must stay to staple and trim.
            let changes = fewer(job, "turn_under", *less, &|a| a.staple_inset + a.pleat);
            one(by("hint-turn-under", less), changes)
        }
        Relaxation::Seam(less) => {
            let changes = fewer(job, "seam", *less, &|_| Length::from_mm(6.0));
            one(by("hint-seam", less), changes)
        }
        Relaxation::Trim(less) => {
            let trims =
                job.cloths.iter().enumerate().filter(|(_, cloth)| cloth.trim > Length::ZERO);
            let changes = trims.map(|(i, cloth)| Change {
                place: Place::Cloth(i),
                key: "trim",
                to: Value::Length((cloth.trim - *less).max(Length::ZERO)),
            });
            one(by("hint-trim", less), changes.collect())
        }
        Relaxation::JointGap(more) => {
            let changes = measured(job).filter_map(|(i, piece)| {
                let gap = piece.run.as_ref()?.joint_gap + *more;
                Some(Change { place: Place::Run(i), key: "joint_gap", to: Value::Length(gap) })
            });
            one(by("hint-joint-gap", more), changes.collect())
        }
        Relaxation::Railroad => {
            let may = |cloth: &Cloth| {
                cloth.direction != Direction::Either && !cloth.one_way && cloth.pattern.is_none()
            };
            let cloths = job.cloths.iter().enumerate().filter(|(_, cloth)| may(cloth));
            let changes = cloths.map(|(i, _)| Change {
                place: Place::Cloth(i),
                key: "direction",
                to: Value::Word("either".into()),
            });
            one(message("hint-railroad"), changes.collect())
        }
        Relaxation::Size(less) => smaller(base, *less),
        Relaxation::HiddenSeam => seams(job),
        Relaxation::SwapCloths => swaps(job),
    }
}

/// The pieces that have measures of their own, with their numbers.
fn measured(job: &Job) -> impl Iterator<Item = (usize, &Piece)> {
    job.pieces.iter().enumerate().filter(|(_, piece)| piece.mirrors.is_none())
}

/// An allowance taken down for the shop, and for pieces that have their own or must keep more.
fn fewer(
    job: &Job,
    key: &'static str,
    less: Length,
    least: &dyn Fn(&crate::rates::Allowances) -> Length,
) -> Vec<Change> {
    let down = |a: &crate::rates::Allowances| {
        let now = *a.clone().value(key);
        (now - less).max(least(a).min(now))
    };
    let shop = down(&job.allowances);
    let mut changes = Vec::new();
    if shop != *job.allowances.clone().value(key) {
        changes.push(Change { place: Place::Allowances, key, to: Value::Length(shop) });
    }
    for (i, piece) in measured(job) {
        let own = piece.own_allowances.iter().any(|own| own == key);
        let to = down(&piece.allowances);
        let as_it_is = if own { *piece.allowances.clone().value(key) } else { shop };
        if to != as_it_is {
            changes.push(Change { place: Place::PieceAllowances(i), key, to: Value::Length(to) });
        }
    }
    changes
}

/// Pieces tried with a seam, those there are most of first.
const MOST_SEAMS: usize = 6;

/// One piece at a time with its covers joined down the middle.
fn seams(job: &Job) -> Vec<Way> {
    let mut order: Vec<usize> = measured(job).map(|(i, _)| i).collect();
    order.sort_by_key(|&i| std::cmp::Reverse(job.pieces[i].count));
    let open = order.into_iter().filter(|&i| !job.pieces[i].halved).take(MOST_SEAMS);
    open.map(|i| {
        let what = message("hint-hidden-seam").text("piece", &job.pieces[i].name);
        (what, vec![Change { place: Place::Piece(i), key: "joined", to: Value::Yes }])
    })
    .collect()
}

/// Each two cloths that pieces are covered in, exchanged.
fn swaps(job: &Job) -> Vec<Way> {
    let names = job.cloths.iter().map(|cloth| cloth.name.as_str());
    let used: Vec<&str> =
        names.filter(|name| job.pieces.iter().any(|p| p.cloth.as_deref() == Some(name))).collect();
    let mut all = Vec::new();
    for (i, a) in used.iter().enumerate() {
        for b in &used[i + 1..] {
            let other = |name: &str| match name {
                name if name == *a => Some(b.to_string()),
                name if name == *b => Some(a.to_string()),
                _ => None,
            };
            let changes = measured(job).filter_map(|(i, piece)| {
                let to = Value::Word(other(piece.cloth.as_deref()?)?);
                Some(Change { place: Place::Piece(i), key: "cloth", to })
            });
            let what = message("hint-swap").text("one", *a).text("other", *b);
            all.push((what, changes.collect()));
        }
    }
    all
}

/// One measure of one piece a little less, where that alone saves a sheet of foam or board, or where it
/// is the widest part of its cloth.
fn smaller(base: &Plan, less: Length) -> Vec<Way> {
    let job = &base.job;
    let mut all = Vec::new();
    for (i, piece) in measured(job) {
        for (key, size) in piece.kind.clone().of_mut().sizes() {
            let to = *size - less;
            if to <= Length::ZERO || (key == "width" && piece.run.is_some()) {
                continue;
            }
            let change = Change { place: Place::Piece(i), key, to: Value::Length(to) };
            let changes = vec![change];
            if saves_a_sheet(base, &changes) {
                let what = message("hint-size").text("piece", &piece.name).text("key", key);
                let what = what.length("by", less);
                all.push((what, changes));
            }
        }
    }
    all
}

/// Whether foam and board alone cost less with some changes.
fn saves_a_sheet(base: &Plan, changes: &[Change]) -> bool {
    let job = changed(&base.job, changes);
    let Ok(developed) = check(&job) else { return false };
    let lays = lays::sheets(&job, &developed, base.seed);
    let cost = |lays: &[lays::SheetLay]| lays.iter().map(lays::SheetLay::cost).sum::<i64>();
    lays.is_ok_and(|lays| cost(&lays) < cost(&base.lays.sheets))
}

fn halved(relaxation: &Relaxation, mark: Length) -> Option<Relaxation> {
    let half =
        |l: Length| Some(l.share(2).round_down(mark)).filter(|h| *h > Length::ZERO && *h < l);
    Some(match relaxation {
        Relaxation::TurnUnder(l) => Relaxation::TurnUnder(half(*l)?),
        Relaxation::Seam(l) => Relaxation::Seam(half(*l)?),
        Relaxation::Trim(l) => Relaxation::Trim(half(*l)?),
        Relaxation::JointGap(l) => Relaxation::JointGap(half(*l)?),
        Relaxation::Size(l) => Relaxation::Size(half(*l)?),
        Relaxation::Railroad | Relaxation::HiddenSeam | Relaxation::SwapCloths => return None,
    })
}
