//! Parts and stock to lays: each cloth, foam and board is laid on its own.

mod claims;
mod earlier;
pub mod own_cloth;
pub mod pins;
pub mod starts;
pub mod told;
mod ways;
mod welts;

use self::earlier::Before;
use self::own_cloth::OwnCloth;
use self::starts::Starts;
use self::ways::Standing;
use crate::build::seam;
use crate::fault::Fault;
use crate::job::Job;
use crate::material::{Cloth, Direction, SheetGoods};
use crate::message::{Message, message};
pub use crate::part::LaidPart;
use crate::part::{Developed, Line, Meaning, Motif, Part, Stuff, Turning};
use crate::purse;
use geometry::{Length, Polygon, Spot};
use lay::sheets::{self, Cutting};
use lay::{Answer, Bound, Buying, Instance, Item, Limits, OnHand, Rule, Stock, Strip};
use rust_decimal::Decimal;

/// One way of laying a cloth, for comparison.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// Which way parts' tops lie.
    pub direction: Direction,
    /// Used; `None` if some part does not fit that way.
    pub length: Option<Length>,
    /// To buy.
    pub purchase: Length,
    /// Why it cannot be laid that way.
    pub refused: Option<Message>,
}

/// A cloth laid.
#[derive(Clone, Debug)]
pub struct ClothLay {
    /// Index of the cloth.
    pub cloth: usize,
    /// The way chosen.
    pub direction: Direction,
    /// What was laid; items are in the order of the instance.
    pub parts: Vec<LaidPart>,
    /// The question.
    pub instance: Instance,
    /// The question before strips were divided otherwise and the worst start of the pattern taken: what
    /// the pieces ask for.
    pub asked: Instance,
    /// The answer.
    pub answer: Answer,
    /// To buy.
    pub purchase: Length,
    /// No lay buys less, however the parts that the program divided were divided.
    pub least_purchase: Length,
    /// The least with those parts divided as they are, where that is more.
    pub as_divided: Option<Bound>,
    /// Where the pattern's start is not known: what is bought at the best start, and for any.
    pub starts: Option<Starts>,
    /// Lays that together are enough, each with its question: how much parts may grow is worked out from
    /// them, and what is searched again begins with them.
    pub(crate) forgiving: Vec<(Instance, Answer)>,
    /// How much every part may grow before the purchase does.
    pub forgives: Length,
    /// Ways compared, where the cloth allows more than one.
    pub compared: Vec<Compared>,
    /// For the customer's own cloth.
    pub own: Option<OwnCloth>,
}

impl ClothLay {
    /// What is bought of each new length.
    pub fn lengths(&self) -> Vec<Length> {
        let new = self.answer.lay.strips.iter().filter(|s| matches!(s.stock, Stock::New(_)));
        new.map(|strip| self.instance.buying.purchase(strip.length)).collect()
    }

    /// The least that a length bought must be; where several are bought, for the parts that lie on this
    /// one.
    pub fn least_of(&self, strip: &Strip) -> Length {
        if !matches!(strip.stock, Stock::New(_)) {
            return Length::ZERO;
        }
        let strips = &self.answer.lay.strips;
        if strips.iter().filter(|s| matches!(s.stock, Stock::New(_))).count() == 1 {
            return self.answer.bound.length;
        }
        let mut counts = vec![0; self.parts.len()];
        strip.placements.iter().for_each(|p| counts[p.item] += 1);
        let mut here = self.instance.some(&counts).instance;
        here.on_hand.clear();
        here.pins.clear();
        lay::least_length(&here).length
    }
}

/// Foam or board cut from sheets.
#[derive(Clone, Debug)]
pub struct SheetLay {
    /// Foam or board.
    pub stuff: Stuff,
    /// Index of the material.
    pub material: usize,
    /// What is cut; indices are those of the cutting.
    pub parts: Vec<LaidPart>,
    /// Whether a part lies with its height along the sheet's length before any turn.
    pub swapped: Vec<bool>,
    /// The question's sheets.
    pub sheets: Vec<sheets::Sheet>,
    /// The answer.
    pub cutting: Cutting,
}

/// All lays of a job.
#[derive(Clone, Debug, Default)]
pub struct Lays {
    /// Cloths that something is cut from.
    pub cloths: Vec<ClothLay>,
    /// Foams and boards that something is cut from.
    pub sheets: Vec<SheetLay>,
    /// What the person should know.
    pub warnings: Vec<Fault>,
}

/// Lays all parts of a job; `limits.work` is shared among the cloths.
///
/// # Errors
/// Parts that fit no cloth or sheet, by name.
pub fn lays(job: &Job, developed: &[Developed], limits: &Limits) -> Result<Lays, Vec<Fault>> {
    lays_again(job, developed, limits, None)
}

/// The same, taking over from earlier lays what asks the same question again.
///
/// # Errors
/// See [`lays`].
pub fn lays_again(
    job: &Job,
    developed: &[Developed],
    limits: &Limits,
    earlier: Option<(&Job, &Lays)>,
) -> Result<Lays, Vec<Fault>> {
    let mut lays = Lays::default();
    let mut faults = Vec::new();
    let used = |stuff: Stuff, name: &str| {
        developed.iter().flat_map(|d| &d.parts).any(|p| p.stuff == stuff && p.material == name)
    };
    let cloths: Vec<usize> =
        (0..job.cloths.len()).filter(|&i| used(Stuff::Cloth, &job.cloths[i].name)).collect();
    let mut taken: Vec<Option<ClothLay>> = Vec::new();
    let mut open: Vec<(usize, Standing)> = Vec::new();
    for (at, &i) in cloths.iter().enumerate() {
        taken.push(earlier.and_then(|e| earlier::taken_over(job, i, developed, e)));
        if taken[at].is_none() {
            let before = earlier.and_then(|e| earlier::of_cloth(job, i, e));
            open.push((at, Standing::first(job, i, developed, before, limits)));
        }
    }
    search(&mut open, limits);
    for (at, cloth) in open {
        match cloth.found(limits) {
            Ok(lay) => taken[at] = Some(lay),
            Err(found) => faults.extend(found),
        }
    }
    lays.cloths = taken.into_iter().flatten().collect();
    for lay in &lays.cloths {
        lays.warnings.extend(told::warnings(job, developed, lay));
    }
    match sheets(job, developed, limits.seed) {
        Ok(found) => lays.sheets = found,
        Err(found) => faults.extend(found),
    }
    if faults.is_empty() { Ok(lays) } else { Err(faults) }
}

/// Searches all cloths side by side in courses, each with more work than the one before: where a clock or
/// a person ends it, every cloth has had its turn. All but the last course are the same whatever the work.
fn search(open: &mut [(usize, Standing)], limits: &Limits) {
    let mut left = limits.work;
    // A trial against what was found before is one course.
    let mut next = if limits.closely { purse::FIRST_COURSE.min(left) } else { left };
    let mut seed = limits.seed;
    while left > 0 && !(limits.stop)() {
        // What cannot be bettered leaves all but a little of its share, for a tidier lay, to the rest.
        let shares = |cloth: &Standing| match cloth.open_ways() {
            0 => 1,
            ways => purse::OPEN_WAY * ways as u64,
        };
        let all: u64 = open.iter().map(|(_, cloth)| shares(cloth)).sum();
        let work = next / all.max(purse::OPEN_WAY) * purse::OPEN_WAY;
        left -= next;
        for (_, cloth) in open.iter_mut().filter(|(_, c)| left == 0 || c.open_ways() > 0) {
            cloth.search(&Limits { work, seed, ..*limits });
        }
        // Otherwise each course would begin with what the one before did in vain.
        seed = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15).wrapping_add(1);
        next = left.min(purse::GROWING * next);
    }
}

/// Cuts all foam and board from sheets; what is bought by its volume needs none.
///
/// # Errors
/// Parts that fit no sheet, by name.
pub fn sheets(job: &Job, developed: &[Developed], seed: u64) -> Result<Vec<SheetLay>, Vec<Fault>> {
    let mut lays = Vec::new();
    let mut faults = Vec::new();
    for (stuff, goods, list) in
        [(Stuff::Foam, &job.foams, "foam"), (Stuff::Board, &job.boards, "board")]
    {
        for (i, goods) in goods.iter().enumerate() {
            let mut parts = developed.iter().flat_map(|d| &d.parts);
            let used = parts.any(|p| p.stuff == stuff && p.material == goods.name);
            if !used || goods.sheets.is_empty() {
                continue;
            }
            match sheet_lay(stuff, i, goods, developed, seed) {
                Ok(lay) => lays.push(lay),
                Err(misfit) => {
                    let LaidPart { developed: index, part } = *misfit;
                    let label = &developed[index].label;
                    faults.push(
                        Fault::new(
                            "part-larger-than-sheet",
                            format!("{list}.{i}.sheet"),
                            message("part-larger-than-sheet")
                                .said("part", part.name.clone())
                                .text("piece", label)
                                .number("width", part.printed_size(&job.style).0)
                                .length("height", part.printed_size(&job.style).1)
                                .text("goods", &goods.name),
                            message("part-larger-than-sheet").part("do"),
                        )
                        .about(label),
                    );
                }
            }
        }
    }
    if faults.is_empty() { Ok(lays) } else { Err(faults) }
}

impl SheetLay {
    /// What is bought costs, in the least coin; sheets without a price count one coin each.
    pub fn cost(&self) -> i64 {
        let bought = self.cutting.sheets.iter().map(|cut| &self.sheets[cut.sheet]);
        bought.filter(|sheet| sheet.on_hand.is_none()).map(|sheet| sheet.cost).sum()
    }
}

fn lay_one_way(
    job: &Job,
    index: usize,
    developed: &[Developed],
    direction: Direction,
    limits: &Limits,
    before: &Before,
) -> Result<ClothLay, Vec<Fault>> {
    let cloth = &job.cloths[index];
    let parts = fitting_all(job, index, developed, direction)?;
    lay_parts(job, index, developed, direction, parts, (limits, before)).map_err(|(item, parts)| {
        let laid = &parts[item];
        vec![no_place(cloth, &developed[laid.developed], &laid.part, direction)]
    })
}

/// Lays parts of a cloth; `Err` names one that has no place, and gives the parts back.
fn lay_parts(
    job: &Job,
    index: usize,
    developed: &[Developed],
    direction: Direction,
    parts: Vec<LaidPart>,
    (limits, before): (&Limits, &Before),
) -> Result<ClothLay, (usize, Vec<LaidPart>)> {
    let cloth = &job.cloths[index];
    let asked = instance(cloth, &parts, direction);
    let (laid, own) = match cloth.customers_own {
        true => match own_cloth::laid(job, developed, cloth, &parts, &asked, (limits, before)) {
            Ok((laid, own)) => (laid, Some(own)),
            Err(item) => return Err((item, parts)),
        },
        false => match starts::laid(cloth, &asked, limits, before) {
            Ok(laid) => (laid, None),
            Err(item) => return Err((item, parts)),
        },
    };
    let purchase = laid.answer.lay.purchase(&laid.instance.buying);
    let least_purchase = laid.instance.buying.purchase(laid.answer.bound.length);
    // First answers come at once; how much they forgive is told with better ones.
    let mut lay = ClothLay {
        cloth: index,
        direction,
        parts,
        asked,
        forgiving: laid.forgiving,
        instance: laid.instance,
        answer: laid.answer,
        purchase,
        least_purchase,
        as_divided: None,
        starts: laid.starts,
        forgives: Length::ZERO,
        compared: Vec::new(),
        own,
    };
    claims::weigh(&mut lay);
    Ok(lay)
}

/// Every part cut from a cloth, pieced where it is too wide for it.
fn fitting_all(
    job: &Job,
    index: usize,
    developed: &[Developed],
    direction: Direction,
) -> Result<Vec<LaidPart>, Vec<Fault>> {
    let cloth = &job.cloths[index];
    let mut parts: Vec<LaidPart> = Vec::new();
    let mut faults = Vec::new();
    for (d, piece) in developed.iter().enumerate() {
        for part in &piece.parts {
            if part.stuff != Stuff::Cloth || part.material != cloth.name || part.count == 0 {
                continue;
            }
            match fitting(job, cloth, piece, part, direction) {
                Ok(found) => {
                    parts.extend(found.into_iter().map(|part| LaidPart { developed: d, part }))
                }
                // The left one and the right one are too wide alike.
                Err(fault) if faults.contains(&*fault) => {}
                Err(fault) => faults.push(*fault),
            }
        }
    }
    if faults.is_empty() { Ok(parts) } else { Err(faults) }
}

/// Degrees a part may take, on a cloth laid one way.
fn turns(cloth: &Cloth, part: &Part, way: Direction) -> Vec<f64> {
    match &part.turning {
        Turning::Degrees(degrees) => degrees.clone(),
        Turning::Direction(own) => cloth.turns(own.unwrap_or(way)),
    }
}

/// The part itself, or the widths it is pieced from if it is too wide for the cloth.
fn fitting(
    job: &Job,
    cloth: &Cloth,
    piece: &Developed,
    part: &Part,
    way: Direction,
) -> Result<Vec<Part>, Box<Fault>> {
    let polygon = part.outline.outer.flatten();
    let usable = cloth.usable();
    let (w, h) = part.size();
    let upright = turns(cloth, part, way).contains(&0.0);
    let own = &job.pieces[piece.piece];
    let halved = own.halved && upright && w > usable.share(2);
    let fits =
        turns(cloth, part, way).iter().any(|&turn| polygon.turned(turn).bounds().width() <= usable);
    if fits && !halved {
        return Ok(vec![part.clone()]);
    }
    let seam = own.allowances.seam;
    let mark = job.style.mark;
    // Joined down the middle although it would fit.
    let at_most = if halved { w - Length::from_nm(1) } else { usable };
    if (part.may_seam || halved)
        && upright
        && let Some(mut pieces) = seam::pieced(part, at_most.min(usable), seam, mark)
    {
        for (i, piece) in pieces.iter_mut().enumerate() {
            piece.id = format!("{}{}", part.id, i + 1);
        }
        return Ok(pieces);
    }
    let turned_fits = polygon.turned(90.0).bounds().width() <= usable;
    let remedy = message("too-wide-for-cloth").part(if turned_fits && !upright {
        "up-the-roll"
    } else if turned_fits {
        "railroad"
    } else {
        "do"
    });
    let what = message("too-wide-for-cloth")
        .said("part", part.name.clone())
        .text("piece", &piece.label)
        .number("width", w)
        .length("height", h)
        .length("usable", usable)
        .text("cloth", &cloth.name);
    let at = format!("piece.{}.cloth", piece.piece);
    Err(Box::new(Fault::new("too-wide-for-cloth", at, what, remedy).about(&piece.label)))
}

/// Why a part fits no length of the cloth although it is narrow enough.
fn no_place(cloth: &Cloth, piece: &Developed, part: &Part, way: Direction) -> Fault {
    let polygon = part.outline.outer.flatten();
    let least = turns(cloth, part, way)
        .iter()
        .map(|&turn| polygon.turned(turn).bounds())
        .filter(|b| b.width() <= cloth.usable())
        .map(|b| b.height())
        .min()
        .unwrap_or_default();
    let too_long = cloth.roll.filter(|roll| least + cloth.trim > *roll);
    let (code, what) = match too_long {
        Some(roll) => (
            "longer-than-roll",
            message("longer-than-roll").length("takes", least + cloth.trim).length("roll", roll),
        ),
        None => {
            let is_matched = matches!(part.motif, Motif::Matched(..));
            let id = if is_matched { "no-common-phase" } else { "no-place-on-pattern" };
            let wide = message(id).length("width", polygon.bounds().width());
            (id, wide.length("usable", cloth.usable()))
        }
    };
    let what =
        what.said("part", part.name.clone()).text("piece", &piece.label).text("cloth", &cloth.name);
    let remedy = message(code).part("do");
    Fault::new(code, format!("piece.{}.cloth", piece.piece), what, remedy).about(&piece.label)
}

fn instance(cloth: &Cloth, parts: &[LaidPart], way: Direction) -> Instance {
    let mut groups: Vec<&str> = Vec::new();
    let items = parts
        .iter()
        .map(|laid| {
            let part = &laid.part;
            let rule = match &part.motif {
                _ if cloth.pattern.is_none() => Rule::Free,
                Motif::Free => Rule::Free,
                Motif::Centred(p) => Rule::Centred(Spot::from_point(*p)),
                Motif::Matched(group, p) => {
                    let i = groups.iter().position(|g| g == group).unwrap_or_else(|| {
                        groups.push(group);
                        groups.len() - 1
                    });
                    Rule::Matched { group: i, anchor: Spot::from_point(*p) }
                }
            };
            Item {
                name: part.id.clone(),
                shape: part.outline.outer.flatten(),
                count: part.count,
                turns: turns(cloth, part, way),
                rule,
                exact: matches!(part.turning, Turning::Degrees(_)),
                face: if cloth.flaws_under { face(part) } else { None },
            }
        })
        .collect();
    let held = parts.iter().any(|laid| laid.part.motif != Motif::Free);
    let repeat = cloth.pattern.as_ref().filter(|_| held).and_then(|pattern| pattern.length);
    let on_hand = cloth
        .on_hand
        .iter()
        .map(|remnant| {
            let width = remnant.width.unwrap_or(cloth.width);
            let origin = cloth.motif_of(remnant);
            // Where its pattern starts is not known: up to a repeat is cut off until it starts as the lay
            // has it.
            let lost = repeat.filter(|_| origin.is_none()).unwrap_or_default();
            let assumed = cloth.pattern.as_ref().map(|p| Spot::new(p.origin.x, 0));
            OnHand {
                name: remnant.id.clone(),
                left: cloth.selvedge,
                right: width - cloth.selvedge,
                length: (remnant.length - lost).max(Length::ZERO),
                flaws: remnant.flaws.clone(),
                origin: origin.or(assumed),
            }
        })
        .collect();
    let buying = Buying {
        left: cloth.selvedge,
        right: cloth.width - cloth.selvedge,
        roll: cloth.roll,
        trim: cloth.trim,
        step: cloth.step,
        flaws: if cloth.customers_own { Vec::new() } else { cloth.flaws.clone() },
    };
    let pattern = cloth.pattern.clone();
    let instance = Instance { items, on_hand, buying, pattern, pins: Vec::new() };
    pins::keep(cloth, parts, instance).0
}

/// What of a stapled cover lies within its staple line.
fn face(part: &Part) -> Option<Polygon> {
    part.marks.iter().find_map(|mark| match &mark.line {
        Line::Closed(path) if mark.meaning == Meaning::Staples => Some(path.flatten()),
        _ => None,
    })
}

fn sheet_lay(
    stuff: Stuff,
    index: usize,
    goods: &SheetGoods,
    developed: &[Developed],
    seed: u64,
) -> Result<SheetLay, Box<LaidPart>> {
    let parts: Vec<LaidPart> = developed
        .iter()
        .enumerate()
        .flat_map(|(d, piece)| piece.parts.iter().map(move |part| (d, part)))
        .filter(|(_, p)| p.stuff == stuff && p.material == goods.name && p.count > 0)
        .map(|(developed, part)| LaidPart { developed, part: part.clone() })
        .collect();
    // Along the grain lies a part's longer side.
    let swapped: Vec<bool> = parts
        .iter()
        .map(|laid| {
            let (w, h) = laid.part.size();
            goods.grain && h > w
        })
        .collect();
    let asked: Vec<sheets::Part> = parts
        .iter()
        .zip(&swapped)
        .map(|(laid, &swap)| {
            let (w, h) = laid.part.size();
            let (width, height) = if swap { (h, w) } else { (w, h) };
            sheets::Part { width, height, count: laid.part.count, may_turn: !goods.grain }
        })
        .collect();
    let kinds: Vec<sheets::Sheet> = goods
        .sheets
        .iter()
        .map(|size| sheets::Sheet {
            name: goods.name.clone(),
            width: size.length,
            height: size.width,
            cost: coin(size.price),
            on_hand: size.on_hand,
        })
        .collect();
    let cutting =
        sheets::cut(&asked, &kinds, goods.kerf, seed).map_err(|i| Box::new(parts[i].clone()))?;
    Ok(SheetLay { stuff, material: index, parts, swapped, sheets: kinds, cutting })
}

/// A price in the least coin, for comparing; sheets without a price count one coin each.
fn coin(price: Decimal) -> i64 {
    use rust_decimal::prelude::ToPrimitive;
    (price * Decimal::ONE_HUNDRED).to_i64().unwrap_or(1).max(1)
}
