//! Cloths, foams, boards, sundries.

use super::reader::{Sort, Table};
use super::settings::uplift;
use geometry::{Length, Rect, Spot, Unit};
use lay::{Drop, Pattern};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use trade::cloth_sort::ClothSort;
use trade::material::{
    Cloth, Direction, Measure, Pin, Remnant, SheetGoods, SheetSize, Sundry, Use, Volume, VolumeUnit,
};

/// One pound a cubic foot in kilograms a cubic metre.
///
/// Source: NIST SP 811 appendix B, 1 lb/ft3 = 16.018 46 kg/m3.
const POUND_CUBIC_FOOT: f64 = 16.018_46;

/// One square foot in square metres, exact from the foot.
const SQUARE_FOOT: f64 = 0.092_903_04;

/// Words for a direction.
pub const DIRECTIONS: [(&str, Direction); 3] = [
    ("up the roll", Direction::UpTheRoll),
    ("railroaded", Direction::Railroaded),
    ("either", Direction::Either),
];

/// A `[[cloth]]`.
pub fn cloth(mut t: Table, unit: Unit) -> Cloth {
    let name = t.text("name");
    let customers_own = t.flag("customers_own", false);
    let per = t
        .choice("per", &[("m", Unit::Metre), ("yd", Unit::Yard)])
        .unwrap_or(if unit.is_binary() { Unit::Yard } else { Unit::Metre });
    let price = t.decimal("price", 0, 1_000_000);
    if price.is_none() && !customers_own && !t.has("price") {
        t.wrong(
            "price",
            "missing",
            "`price` is missing",
            "add `price = 18.40`, for one metre or yard",
        );
    }
    let width = t.length("width", unit);
    let sort = t.choice("sort", &ClothSort::ALL);
    let direction = t.choice("direction", &DIRECTIONS).unwrap_or(Direction::UpTheRoll);
    let (pattern, measured) = match t.table("repeat") {
        Some(repeat) => pattern(repeat, unit, width),
        None => (None, Measured::default()),
    };
    let on_hand = t.tables("on_hand").into_iter().map(|r| remnant(r, unit)).collect::<Vec<_>>();
    if customers_own && on_hand.is_empty() {
        t.wrong(
            "customers_own",
            "no-length",
            "the customer's own cloth has no length",
            "add [[cloth.on_hand]] with its measured length",
        );
    }
    let step = t.length_or(
        "step",
        unit,
        Length::from_nm(per.one().nm() / if per == Unit::Yard { 4 } else { 10 }),
    );
    if step <= Length::ZERO {
        t.wrong(
            "step",
            "zero-length",
            "`step` is zero",
            "the least amount the cloth is sold in, such as \"0.5 m\"",
        );
    }
    let _ = t.opt_text("id");
    let cloth = Cloth {
        name,
        supplier: t.text_or_empty("supplier"),
        width,
        selvedge: t.length_or("selvedge", unit, Length::ZERO),
        price: price.unwrap_or_default(),
        unit: per,
        step: if step > Length::ZERO { step } else { per.one() },
        trim: t.length_or("trim", unit, Length::ZERO),
        roll: t.opt_length("roll", unit, Sort::Positive),
        thickness: t.length_or("thickness", unit, Length::from_mm(1.0)),
        weight: t.decimal("weight", 0, 10_000).and_then(|w| w.to_f64()),
        one_way: t.flag("one_way", pattern.is_some() || sort.is_some_and(ClothSort::has_pile)),
        sort,
        chalk_back: t.choice("chalk", &[("face", false), ("back", true)]).unwrap_or(false),
        flaws_under: t.flag("flaws_under", false),
        direction,
        pattern,
        start_measured: measured.along,
        across_measured: measured.across,
        customers_own,
        on_hand,
        flaws: flaws(&mut t, unit),
        pins: t.tables("pin").into_iter().map(|p| pin(p, unit)).collect(),
        uplift: uplift(&mut t, "markup", "margin"),
        included: t.flag("included", false),
    };
    t.finish();
    cloth
}

/// Whether the first motif's place was given, along the roll and across it.
#[derive(Clone, Copy, Default)]
struct Measured {
    along: bool,
    across: bool,
}

/// A pattern. What of the first motif's place is left out is not known: along the roll any start is
/// planned for; across it a motif is taken to lie on the middle of the cloth.
fn pattern(mut t: Table, unit: Unit, cloth: Length) -> (Option<Pattern>, Measured) {
    let length = t.opt_length("length", unit, Sort::Positive).filter(|l| *l > Length::ZERO);
    let width = t.opt_length("width", unit, Sort::Positive).filter(|l| *l > Length::ZERO);
    let drop = t
        .choice("drop", &[("straight", Drop::Straight), ("half", Drop::Half)])
        .unwrap_or(Drop::Straight);
    if length.is_none() && width.is_none() {
        t.wrong(
            "length",
            "no-repeat",
            "a repeat needs a length, a width or both",
            "take out `repeat` if the cloth is plain",
        );
    }
    if drop == Drop::Half && (length.is_none() || width.is_none()) {
        t.wrong(
            "drop",
            "half-drop-needs-both",
            "a half-drop needs both repeats",
            "measure along and across the roll",
        );
    }
    if width.is_some_and(|w| w > cloth) && cloth > Length::ZERO {
        t.wrong("width", "repeat-wider-than-cloth", "the width repeat is wider than the cloth", "leave the width repeat out if only one motif lies across the cloth, or check the measure");
    }
    let both = t.lengths("first", unit, Sort::OrZero);
    let mut across = t.opt_length("first_across", unit, Sort::OrZero);
    let mut along = t.opt_length("first_along", unit, Sort::OrZero);
    match both[..] {
        [] => {}
        [x, y] if across.is_none() && along.is_none() => (across, along) = (Some(x), Some(y)),
        [_, _] => t.wrong(
            "first",
            "two-places",
            "`first` gives both places of the first motif already",
            "take out `first_across` and `first_along`, or give those instead",
        ),
        _ => t.wrong(
            "first",
            "not-a-place",
            "`first` is two lengths",
            "from the left selvedge and from the cut end: [\"3\", \"5 1/2\"]; or give one alone as `first_across` or `first_along`",
        ),
    }
    t.finish();
    let measured = Measured { along: along.is_some(), across: across.is_some() };
    let x = across.unwrap_or_else(|| if width.is_some() { cloth.share(2) } else { Length::ZERO });
    let origin = Spot::new(x.nm(), along.unwrap_or_default().nm());
    let pattern = Pattern { length, width, drop, origin };
    ((length.is_some() || width.is_some()).then_some(pattern), measured)
}

fn remnant(mut t: Table, unit: Unit) -> Remnant {
    let id = t.text("id");
    let length = t.length("length", unit);
    let width = t.opt_length("width", unit, Sort::Positive);
    let first = t.lengths("first", unit, Sort::OrZero);
    let motif = match first[..] {
        [x, y] => Some(Spot::new(x.nm(), y.nm())),
        _ => None,
    };
    let flaws = flaws(&mut t, unit);
    let charged = t.flag("charged", false);
    t.finish();
    Remnant { id, length, width, flaws, motif, charged }
}

fn flaws(t: &mut Table, unit: Unit) -> Vec<Rect> {
    let flaw = |mut f: Table| {
        let low = corner(&mut f, unit);
        let (w, h) = (f.length("width", unit), f.length("length", unit));
        f.finish();
        Rect { low, high: low.plus(Spot::new(w.nm(), h.nm())) }
    };
    t.tables("flaw").into_iter().map(flaw).collect()
}

/// A lower left corner: from the left selvedge and from the cut end.
fn corner(t: &mut Table, unit: Unit) -> Spot {
    let x = t.length_or("x", unit, Length::ZERO);
    Spot::new(x.nm(), t.length_or("y", unit, Length::ZERO).nm())
}

fn pin(mut t: Table, unit: Unit) -> Pin {
    let part = t.text("part");
    let turn = t.decimal("turn", 0, 359).and_then(|degrees| degrees.to_f64());
    let pin = Pin { part, turn, corner: corner(&mut t, unit) };
    t.finish();
    pin
}

/// A `[[foam]]` or `[[board]]`.
pub fn sheet_goods(mut t: Table, unit: Unit, board: bool) -> SheetGoods {
    let name = t.text("name");
    let thickness = t.length("thickness", unit);
    let density = density(&mut t, unit);
    let sheets: Vec<SheetSize> = t
        .tables("sheet")
        .into_iter()
        .map(|mut s| {
            let on_hand = s.count("on_hand", 1, 1000);
            let price = s.decimal("price", 0, 1_000_000);
            if price.is_none() && on_hand.is_none() && !s.has("price") {
                s.wrong(
                    "price",
                    "missing",
                    "`price` is missing",
                    "add the price of one sheet, or on_hand = 1 for an offcut",
                );
            }
            let size = SheetSize {
                length: s.length("length", unit),
                width: s.length("width", unit),
                price: price.unwrap_or_default(),
                on_hand,
            };
            s.finish();
            size
        })
        .collect();
    let by_volume = t.table("by_volume").map(|v| volume(v, unit));
    if by_volume.is_none() && !sheets.iter().any(|s| s.on_hand.is_none()) {
        t.wrong(
            "sheet",
            "no-sheet",
            format!("{name} has no sheet size to buy"),
            "add [[foam.sheet]] or [[board.sheet]] with length, width and price, or by_volume = { price = 2.40 } for foam cut to size",
        );
    }
    let _ = t.opt_text("id");
    let goods = SheetGoods {
        supplier: t.text_or_empty("supplier"),
        thickness,
        density,
        firmness: if board { None } else { t.opt_text("firmness") },
        grain: if board { t.flag("grain", false) } else { false },
        kerf: if board {
            t.length_or(
                "kerf",
                unit,
                if unit.is_binary() { Length::from_inch_64ths(8) } else { Length::from_mm(3.0) },
            )
        } else {
            Length::ZERO
        },
        sheets: if by_volume.is_some() { Vec::new() } else { sheets },
        by_volume,
        included: t.flag("included", false),
        uplift: uplift(&mut t, "markup", "margin"),
        name,
    };
    t.finish();
    goods
}

/// A price by volume; foam is cut to size by the supplier.
fn volume(mut t: Table, unit: Unit) -> Volume {
    let price = t.decimal("price", 0, 1_000_000);
    if price.is_none() && !t.has("price") {
        t.wrong("price", "missing", "`price` is missing", "add the price of one unit of volume");
    }
    let usual = if unit.is_binary() { VolumeUnit::BoardFoot } else { VolumeUnit::CubicMetre };
    let unit = t.choice("per", &VolumeUnit::ALL).unwrap_or(usual);
    t.finish();
    Volume { price: price.unwrap_or_default(), unit }
}

/// Kilograms a cubic metre; a bare number is in pounds a cubic foot in an inch job.
fn density(t: &mut Table, unit: Unit) -> Option<f64> {
    if !t.has("density") {
        t.opt_text("density");
        return None;
    }
    let text = t.decimal_text("density")?;
    let lower = text.to_lowercase();
    let (number, per) = match lower.find(|c: char| c.is_alphabetic()) {
        Some(i) => (lower[..i].trim().to_string(), Some(lower[i..].trim().to_string())),
        None => (lower.trim().to_string(), None),
    };
    let factor = match per.as_deref() {
        Some("kg/m3" | "kg/m³") => 1.0,
        Some("lb/ft3" | "lb/ft³" | "lb/cu ft") => POUND_CUBIC_FOOT,
        None if unit.is_binary() => POUND_CUBIC_FOOT,
        None => 1.0,
        Some(_) => f64::NAN,
    };
    match number.parse::<f64>() {
        Ok(n) if (n * factor).is_finite() && (1.0..5000.0).contains(&(n * factor)) => {
            Some(n * factor)
        }
        _ => {
            t.wrong(
                "density",
                "not-a-density",
                format!("`density = {text}` is not a density"),
                "write 35, \"35 kg/m3\" or \"1.8 lb/ft3\"",
            );
            None
        }
    }
}

/// A `[[sundry]]`.
pub fn sundry(mut t: Table, unit: Unit) -> Sundry {
    let words: Vec<(&'static str, Use)> = Use::ALL.iter().map(|u| (u.name(), *u)).collect();
    let name = t.text("name");
    let used_for = match t.choice("for", &words) {
        Some(used) => used,
        None => {
            if !t.has("for") {
                t.wrong(
                    "for",
                    "missing",
                    "`for` is missing",
                    "say what it is used for: for = \"staples\"",
                );
            }
            Use::Staples
        }
    };
    let pack = pack(&mut t, used_for, unit).unwrap_or(Decimal::ONE);
    let _ = t.opt_text("id");
    let sundry = Sundry {
        name,
        supplier: t.text_or_empty("supplier"),
        used_for,
        pack,
        price: t.decimal("price", 0, 1_000_000).unwrap_or_default(),
        leg: t.opt_length("leg", unit, Sort::Positive),
        size: t.lengths("size", unit, Sort::Positive),
        included: t.flag("included", false),
    };
    t.finish();
    sundry
}

/// What is in a pack: a number, a length for cord, zip and thread, an area for adhesive and wrap.
fn pack(t: &mut Table, used: Use, unit: Unit) -> Option<Decimal> {
    match used.measure() {
        Measure::Length => {
            let length = t.opt_length("pack", unit, Sort::Supply)?;
            Some(Decimal::new(length.nm(), 9).normalize())
        }
        Measure::Area => {
            let text = t.decimal_text("pack")?;
            let lower = text.to_lowercase();
            let split = lower.find(|c: char| c.is_alphabetic()).unwrap_or(lower.len());
            let feet = match lower[split..].trim() {
                "m2" | "m²" => false,
                "sq ft" | "ft2" | "ft²" => true,
                "" => unit.is_binary(),
                _ => {
                    t.wrong(
                        "pack",
                        "not-an-area",
                        format!("`pack = {text}` is not an area"),
                        "write \"4 m2\" or \"45 sq ft\"",
                    );
                    return None;
                }
            };
            match lower[..split].trim().parse::<f64>() {
                Ok(n) if n > 0.0 && n < 1e6 => {
                    Some(trade::money::decimal(if feet { n * SQUARE_FOOT } else { n }))
                }
                _ => {
                    t.wrong(
                        "pack",
                        "not-an-area",
                        format!("`pack = {text}` is not an area"),
                        "write \"4 m2\" or \"45 sq ft\"",
                    );
                    None
                }
            }
        }
        Measure::Count => {
            let n = t.decimal("pack", 0, 10_000_000)?;
            if n.is_zero() {
                t.wrong("pack", "empty-pack", "`pack` is zero", "how many are in a pack");
                return None;
            }
            Some(n)
        }
    }
}
