//! Take-off: what to buy and use, counted from the plan, each line with its reason.

mod fixings;
pub mod sold;
mod staples;
mod told;

pub use fixings::{
    advice as screw_advice, longest_safe_screw, screw_diameter, screw_range, size as screw_size,
};
pub use staples::{Legs, legs, staple_leg};

use told::{free_of_pattern, no_rate, unknown_place, unpriced, unpriced_fillings, unpriced_layers};

use crate::develop;
use crate::fault::Fault;
use crate::job::Job;
use crate::layers::Layered;
use crate::lays::{Lays, SheetLay};
use crate::material::{Cloth, Measure, SheetGoods, Sundry, Use};
use crate::message::{Message, message};
use crate::money::decimal;
use crate::part::{Developed, Filling, Part, Stuff};
use crate::piece::{Condition, Fixing};
use geometry::Length;
use rust_decimal::Decimal;

/// Where a line's money comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// Index of the cloth.
    Cloth(usize),
    /// Index of the foam.
    Foam(usize),
    /// Index of the board.
    Board(usize),
    /// Index of the sundry.
    Sundry(usize),
    /// Nothing in the job sells it: in the sundries percentage.
    Unpriced,
}

/// One line.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// What.
    pub item: Message,
    /// How much, as bought.
    pub quantity: Decimal,
    /// `m`, `yd`, `sheet`, `box`, `each`.
    pub unit: Message,
    /// How it was counted.
    pub why: Message,
    /// Where it is bought; nothing if nobody has said.
    pub supplier: Message,
    /// What ties it to a price.
    pub source: Source,
    /// What it costs the shop.
    pub cost: Decimal,
}

/// Kilograms of a piece, and on each of its fixings.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Weight {
    /// Of the whole piece.
    pub piece: Option<f64>,
    /// On each fixing.
    pub each: Option<f64>,
}

/// The take-off.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TakeOff {
    /// Lines in the order of a shopping list.
    pub lines: Vec<Line>,
    /// Kilograms of one of each developed piece, and on each fixing of it; `None` if a material's
    /// density is not known.
    pub weights: Vec<Weight>,
    /// What the person should know.
    pub warnings: Vec<Fault>,
}

/// Counts everything.
pub fn take_off(job: &Job, developed: &[Developed], lays: &Lays) -> TakeOff {
    let mut result = TakeOff::default();
    for lay in &lays.cloths {
        let cloth = &job.cloths[lay.cloth];
        result.lines.extend(delivered(cloth, lay.cloth));
        let quantity = decimal(lay.purchase.in_unit(cloth.unit));
        if quantity.is_zero() {
            continue;
        }
        let used = lay.answer.lay.new_length();
        let lengths = lay.lengths();
        let why = message("why-lay")
            .sold("used", rounded_up(used, cloth.unit), cloth.unit)
            .sold("trim", cloth.trim, cloth.unit)
            .sold("step", cloth.step, cloth.unit)
            .flag("several", lengths.len() > 1);
        result.lines.push(Line {
            item: Message::typed(&cloth.name),
            quantity,
            unit: Message::typed(cloth.unit.sign()),
            why,
            supplier: if cloth.customers_own {
                message("supplier-customer")
            } else {
                supplier(&cloth.supplier)
            },
            source: Source::Cloth(lay.cloth),
            cost: if cloth.customers_own { Decimal::ZERO } else { quantity * cloth.price },
        });
    }
    for lay in &lays.sheets {
        let goods = match lay.stuff {
            Stuff::Foam => &job.foams[lay.material],
            _ => &job.boards[lay.material],
        };
        result.lines.extend(sheet_lines(lay, goods));
    }
    result.lines.extend(by_volume(job, developed));
    for used in Use::ALL {
        if used == Use::Screws {
            result.lines.extend(screw_lines(job, developed));
        } else if let Some((amount, why)) = amount(job, developed, used) {
            let mut line = sundry_line(job, used, amount, why);
            if used == Use::Staples
                && let Some(other) = staples::other_legs(job, developed)
            {
                line.item = message("item-but-legs").said("item", line.item).said("legs", other);
            }
            result.lines.push(line);
        }
    }
    result.lines.extend(fillings(job, developed));
    result.warnings.extend(unpriced_fillings(&result.lines));
    result.warnings.extend(unpriced_layers(&result.lines));
    result.warnings.extend(no_rate(job, developed));
    result.warnings.extend(unknown_place(job));
    result.weights = developed.iter().map(|d| weight(job, d)).collect();
    for piece in developed {
        result.warnings.extend(staples::check(job, piece));
        result.warnings.extend(fixings::check(job, piece));
    }
    result.warnings.extend(unpriced(job, lays));
    result.warnings.extend(free_of_pattern(job));
    for foam in &job.foams {
        if foam.density.is_some() && foam.firmness.is_none() {
            let i = job.foams.iter().position(|f| f.name == foam.name).unwrap_or(0);
            result.warnings.push(
                Fault::new(
                    "no-firmness",
                    format!("foam.{i}.density"),
                    message("no-firmness").text("name", &foam.name),
                    message("no-firmness").part("do"),
                )
                .about(&foam.name),
            );
        }
    }
    result
}

/// Who sells it, if anybody is named.
fn supplier(name: &str) -> Message {
    if name.is_empty() { Message::nothing() } else { Message::typed(name) }
}

/// Up to a sixteenth of a yard or inch, or a hundredth of a metre: what a person can follow.
fn rounded_up(length: Length, unit: geometry::Unit) -> Length {
    let part = if unit.is_binary() { 16 } else { 100 };
    length.round_up(unit.one().share(part).max(Length::from_nm(1)))
}

fn sheet_lines(lay: &SheetLay, goods: &SheetGoods) -> Vec<Line> {
    let copies: usize = lay.parts.iter().map(|p| p.part.count).sum();
    (0..lay.sheets.len())
        .filter_map(|kind| {
            let count = lay.cutting.sheets.iter().filter(|s| s.sheet == kind).count();
            let size = &goods.sheets[kind];
            if count == 0 {
                return None;
            }
            let offcut = size.on_hand.is_some();
            Some(Line {
                item: message("item-sheet")
                    .text("name", &goods.name)
                    .number("length", size.length)
                    .length("width", size.width)
                    .flag("offcut", offcut),
                quantity: Decimal::from(count),
                unit: message("unit-sheets").count("count", count),
                why: message("why-sheet-plan").count("parts", copies),
                supplier: if offcut {
                    message("supplier-on-hand")
                } else {
                    supplier(&goods.supplier)
                },
                source: if lay.stuff == Stuff::Foam {
                    Source::Foam(lay.material)
                } else {
                    Source::Board(lay.material)
                },
                cost: if offcut { Decimal::ZERO } else { Decimal::from(count) * size.price },
            })
        })
        .collect()
}

/// Lengths that were bought for this job and are here.
fn delivered(cloth: &Cloth, index: usize) -> Option<Line> {
    let here: Length = cloth.on_hand.iter().filter(|r| r.charged).map(|r| r.length).sum();
    if here == Length::ZERO || cloth.customers_own {
        return None;
    }
    let quantity = decimal(here.in_unit(cloth.unit)).round_dp(4);
    Some(Line {
        item: Message::typed(&cloth.name),
        quantity,
        unit: Message::typed(cloth.unit.sign()),
        why: message("why-delivered"),
        supplier: message("supplier-on-hand"),
        source: Source::Cloth(index),
        cost: crate::money::cents(quantity * cloth.price),
    })
}

/// How much of a use all pieces take, in pieces, metres or square metres, and how it was counted.
fn amount(job: &Job, developed: &[Developed], used: Use) -> Option<(Decimal, Message)> {
    let sum = |of: &dyn Fn(&Developed) -> f64| -> f64 {
        developed.iter().map(|d| d.count as f64 * of(d)).sum()
    };
    let metres = |of: &dyn Fn(&Developed) -> Length| sum(&|d| of(d).mm() / 1000.0);
    let square = |of: &dyn Fn(&Developed) -> f64| sum(&|d| of(d) / 1e6);
    let fixings = |of: &dyn Fn(&Fixing) -> usize| {
        sum(&|d| job.pieces[d.piece].fixing.as_ref().map_or(0, of) as f64)
    };
    let inches = job.style.unit.is_binary();
    let layered = |wanted: Use| {
        sum(&|d| {
            let layers = job.pieces[d.piece].layers.iter();
            layers.filter(|l| l.bought() == Some(wanted)).map(Layered::amount).sum()
        })
    };
    let (total, why) = match used {
        Use::Staples => {
            // What no leg that is sold holds in is glued.
            let holds = |d: &Developed| legs(job, d).is_none_or(|legs| legs.is_sold(&job.style));
            let count = |d: &Developed| staples::count(develop::allowances(job, d), &d.quantities);
            let total = sum(&|d| if holds(d) { count(d) as f64 } else { 0.0 });
            let line = metres(&|d| d.quantities.staple_line);
            // Whole feet or metres.
            let line = if inches { line / 0.3048 } else { line };
            let why = message("why-staples").count("line", line.round_ties_even() as i64);
            (total, why.flag("feet", inches))
        }
        Use::Adhesive => {
            // Both faces of every joint; source: contact adhesive practice.
            let joint = square(&|d| d.quantities.glue_mm2);
            (2.0 * joint, message("why-adhesive"))
        }
        Use::WeltCord => (metres(&|d| d.quantities.welt), message("why-welt-cord")),
        Use::Zip => {
            let total = metres(&|d| d.quantities.zip.unwrap_or_default());
            let count = sum(&|d| f64::from(u8::from(d.quantities.zip.is_some())));
            (total, message("why-zips").count("count", count as i64))
        }
        Use::Thread => {
            // Lockstitch takes 2.5 times the seam in practice, and 15 % waste (thread makers'
            // bulletin; textile teaching texts give 10 to 20 %).
            let seam = metres(&|d| d.quantities.seam);
            (seam * 2.5 * 1.15, message("why-thread"))
        }
        Use::DustCover => {
            let bought = |d: &Developed| {
                let laid = job.pieces[d.piece].dust_cloth.is_some();
                if laid { 0.0 } else { d.quantities.dust_cover_mm2 }
            };
            (square(&bought), message("why-dust-cover"))
        }
        Use::Wrap => (square(&|d| d.quantities.wrap_mm2), message("why-wrap")),
        Use::ScrewCaps => (
            fixings(&|f| match f {
                Fixing::Screws { count, through_face: true, .. } => *count,
                _ => 0,
            }),
            message("why-screw-caps"),
        ),
        Use::Clips => (
            fixings(&|f| if let Fixing::Clips(count) = f { *count } else { 0 }),
            message("why-fixings"),
        ),
        Use::TackStrip => {
            let strip = |d: &Developed| d.quantities.tack_strip + d.quantities.valleys;
            (metres(&strip), message("why-tack-strip"))
        }
        Use::Buttons => (sum(&|d| d.quantities.buttons as f64), message("why-buttons")),
        // To pull a button and tie it off. Common practice, no source.
        Use::ButtonTwine => {
            (sum(&|d| d.quantities.buttons as f64) * 0.5, message("why-button-twine"))
        }
        Use::ZipSliders => {
            let count = sum(&|d| f64::from(u8::from(d.quantities.zip.is_some())));
            (count, message("why-zip-sliders"))
        }
        Use::Wadding => {
            (square(&|d| d.quantities.wadding_mm2) + layered(Use::Wadding), message("why-wadding"))
        }
        // Lashed both ways and on the slant to every rail: two metres a spring. Common practice, no source.
        Use::LaidCord => (layered(Use::Springs) * 2.0, message("why-laid-cord")),
        Use::Webbing
        | Use::Springs
        | Use::Hessian
        | Use::Stuffing
        | Use::Calico
        | Use::Nails
        | Use::Gimp => (layered(used), message("why-layers")),
        Use::Cleats => {
            let hung = |d: &Developed| match job.pieces[d.piece].fixing {
                Some(Fixing::Cleat) => d.finished.0 * 2,
                _ => Length::ZERO,
            };
            (metres(&hung), message("why-cleats"))
        }
        // A line for each size.
        Use::Screws | Use::InnerCushions | Use::BolsterForms => return None,
    };
    // A hair under a whole number is that number.
    let total = decimal((total * 1000.0 - 1e-6).ceil() / 1000.0);
    (total > Decimal::ZERO).then_some((total, why))
}

/// Screws, a line for each size: the job's own, or where that does not suit what is advised.
fn screw_lines(job: &Job, developed: &[Developed]) -> Vec<Line> {
    let mut sizes: Vec<(Message, usize)> = Vec::new();
    for piece in developed {
        let Some(Fixing::Screws { count, .. }) = &job.pieces[piece.piece].fixing else { continue };
        let Some(size) = fixings::size(job, piece).filter(|_| fixings::is_sold(job, piece)) else {
            continue;
        };
        let many = count * piece.count;
        match sizes.iter_mut().find(|known| known.0 == size) {
            Some(known) => known.1 += many,
            None => sizes.push((size, many)),
        }
    }
    let line = |(size, many): (Message, usize)| {
        let why = message("why-fixings");
        let line = sundry_line(job, Use::Screws, Decimal::from(many), why);
        Line { item: message("item-of-size").said("item", line.item).said("size", size), ..line }
    };
    sizes.into_iter().filter(|size| size.1 > 0).map(line).collect()
}

/// What is asked for, to a tenth and never less.
fn tenths(amount: Decimal) -> Decimal {
    amount.round_dp_with_strategy(1, rust_decimal::RoundingStrategy::ToPositiveInfinity).normalize()
}

fn sundry_line(job: &Job, used: Use, amount: Decimal, why: Message) -> Line {
    let found = job.sundries.iter().position(|s| s.used_for == used);
    let inches = job.style.unit.is_binary();
    // Counted in metres; written as the job's own trade writes it. Exact factors, NIST SP 811.
    let (unit, one) = match (used.measure(), inches) {
        (Measure::Area, true) => ("unit-square-feet", Decimal::new(9_290_304, 8)),
        (Measure::Area, false) => ("unit-square-metres", Decimal::ONE),
        (Measure::Length, true) => ("unit-yards", Decimal::new(9144, 4)),
        (Measure::Length, false) => ("unit-metres", Decimal::ONE),
        (Measure::Count, _) => ("unit-each", Decimal::ONE),
    };
    let shown = |metric: Decimal| {
        let id = if unit == "unit-each" { "amount" } else { "amount-of" };
        let amount = message(id).decimal("amount", tenths(metric / one));
        if id == "amount" { amount } else { amount.said("unit", message(unit)) }
    };
    let Some(i) = found else {
        return Line {
            item: message(used.word()),
            quantity: tenths(amount / one),
            unit: message(unit),
            why,
            supplier: Message::nothing(),
            source: Source::Unpriced,
            cost: Decimal::ZERO,
        };
    };
    let Sundry { name, pack, price, .. } = &job.sundries[i];
    let packs = if pack.is_zero() { amount } else { (amount / pack).ceil() };
    let is_single = *pack == Decimal::ONE;
    Line {
        item: Message::typed(name),
        quantity: packs.normalize(),
        unit: match is_single {
            true => message(unit),
            false => message("unit-packs").flag("one", packs == Decimal::ONE),
        },
        why: match is_single {
            true => why,
            false => message("why-packs")
                .said("amount", shown(amount))
                .said("why", why)
                .said("pack", shown(*pack)),
        },
        supplier: supplier(&job.sundries[i].supplier),
        source: if price.is_zero() { Source::Unpriced } else { Source::Sundry(i) },
        cost: packs * price,
    }
}

/// Foam and board sold by volume, each part cut to size: the block it is cut from.
fn by_volume(job: &Job, developed: &[Developed]) -> Vec<Line> {
    let mut lines = Vec::new();
    for (stuff, list) in [(Stuff::Foam, &job.foams), (Stuff::Board, &job.boards)] {
        for (i, goods) in list.iter().enumerate() {
            let Some(volume) = goods.by_volume else { continue };
            let parts = developed.iter().flat_map(|d| &d.parts);
            let parts: Vec<&Part> =
                parts.filter(|p| p.stuff == stuff && p.material == goods.name).collect();
            let copies: usize = parts.iter().map(|p| p.count).sum();
            if copies == 0 {
                continue;
            }
            let block = |p: &&Part| p.size().0.mm() * p.size().1.mm() * goods.thickness.mm();
            let total: f64 = parts.iter().map(|p| p.count as f64 * block(p)).sum();
            let quantity =
                decimal((total / volume.unit.cubic_mm() * 1000.0 - 1e-6).ceil() / 1000.0);
            lines.push(Line {
                item: Message::typed(&goods.name),
                quantity,
                unit: Message::typed(volume.unit.name()),
                why: message("why-by-volume").count("parts", copies),
                supplier: supplier(&goods.supplier),
                source: if stuff == Stuff::Foam { Source::Foam(i) } else { Source::Board(i) },
                cost: quantity * volume.price,
            });
        }
    }
    lines
}

/// Fillings that are bought made, a line for each size.
fn fillings(job: &Job, developed: &[Developed]) -> Vec<Line> {
    let mut sizes: Vec<(Filling, usize)> = Vec::new();
    for piece in developed {
        let Some(filling) = piece.quantities.filling else { continue };
        match sizes.iter_mut().find(|s| s.0 == filling) {
            Some(found) => found.1 += piece.count,
            None => sizes.push((filling, piece.count)),
        }
    }
    let line = |(filling, count): (Filling, usize)| {
        let (used, size, words) = match filling {
            Filling::Inner(w, h) => (
                Use::InnerCushions,
                vec![w, h],
                message("size").number("width", w).length("height", h),
            ),
            Filling::Form { length, large, small } if large == small => (
                Use::BolsterForms,
                vec![length, large],
                message("size-roll").length("across", large).length("length", length),
            ),
            Filling::Form { length, large, small } => (
                Use::BolsterForms,
                vec![length, large, small],
                message("size-tapered-roll")
                    .number("large", large)
                    .length("small", small)
                    .length("length", length),
            ),
        };
        let fits = |s: &Sundry| s.used_for == used && (s.size == size || s.size.is_empty());
        let of_size = job.sundries.iter().position(|s| fits(s) && !s.size.is_empty());
        let found = of_size.or_else(|| job.sundries.iter().position(fits));
        let name = found.map_or(message(used.word()), |i| Message::typed(&job.sundries[i].name));
        let price = found.map_or(Decimal::ZERO, |i| job.sundries[i].price);
        let settled = found.filter(|&i| !price.is_zero() || job.sundries[i].included);
        Line {
            item: message("item-of-size").said("item", name).said("size", words),
            quantity: Decimal::from(count),
            unit: message("unit-each"),
            why: message("why-filling"),
            supplier: found.map_or(Message::nothing(), |i| supplier(&job.sundries[i].supplier)),
            source: settled.map_or(Source::Unpriced, Source::Sundry),
            cost: Decimal::from(count) * price,
        }
    };
    sizes.into_iter().map(line).collect()
}

/// Weight of one piece, and its share for each fixing; not known unless every foam and board in it
/// has a density: a weight that leaves something out is worse than none.
///
/// Source: volume times density; cloth by its weight a square metre.
pub fn weight(job: &Job, piece: &Developed) -> Weight {
    let about = &job.pieces[piece.piece];
    let (w, h) = piece.finished;
    let face = w.mm() * h.mm();
    let area = |stuff: Stuff, kept: bool| {
        if kept {
            return face;
        }
        let parts = piece.parts.iter().filter(|p| p.stuff == stuff);
        let total: f64 = parts.map(|p| p.count as f64 * p.outline.area()).sum();
        total / piece.count.max(1) as f64
    };
    let of_sheet = |goods: Option<&SheetGoods>, area: f64| match goods {
        None => Some(0.0),
        Some(g) => g.density.map(|density| area * g.thickness.mm() * 1e-9 * density),
    };
    let kept = |condition: Condition| condition != Condition::Renew;
    let foam = of_sheet(job.foam_of(about), area(Stuff::Foam, kept(about.foam_condition)));
    let board = of_sheet(job.board_of(about), area(Stuff::Board, kept(about.board_condition)));
    let cloth = about.cloth.as_deref().and_then(|name| job.cloth(name));
    let cloth = cloth.and_then(|c| c.weight).unwrap_or(0.0) * area(Stuff::Cloth, false) * 1e-9;
    let total = foam.zip(board).map(|(foam, board)| foam + board + cloth).filter(|kg| *kg > 0.0);
    let each = match &about.fixing {
        Some(Fixing::Screws { count, .. } | Fixing::Clips(count)) if *count > 0 => {
            total.map(|kg| kg / *count as f64)
        }
        _ => None,
    };
    Weight { piece: total, each }
}
