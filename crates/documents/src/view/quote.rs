//! What the customer reads: pieces and what is done to each, price, choices, what is assumed and not included.

use super::{Sheets, amount, finished, grouped};
use crate::figure;
use geometry::Length;
use rust_decimal::Decimal;
use serde_json::{Value, json};
use trade::lays::told;
use trade::material::Cloth;
use trade::message::{Between, Message, message};
use trade::money;
use trade::part::{Developed, Stuff};
use trade::piece::{Condition, Fixing, PatternRule, Piece};
use trade::plan::Plan;
use trade::price::{NO_RATE, Price};
use trade::take_off::Source;

/// Width and height of a small drawing of a finished piece, mm.
const SMALL: (f64, f64) = (24.0, 12.0);

/// The lines of the survey as the customer sees them.
pub fn pieces(plan: &Plan, sheets: &mut Sheets) -> Vec<Value> {
    let voice = words::of(&plan.job);
    plan.job
        .pieces
        .iter()
        .enumerate()
        .map(|(i, piece)| {
            let made: Vec<&Developed> = plan.developed.iter().filter(|d| d.piece == i).collect();
            let size = made.first().map(|d| finished(plan, piece, d));
            let count: usize = made.iter().map(|d| d.count).sum();
            let does = made.first().map(|d| does(plan, piece, d));
            json!({
                "number": i + 1, "name": piece.name, "place": piece.place, "kind": piece.kind.name(),
                "count": count, "size": size.unwrap_or_default(), "figure": small(plan, piece, sheets),
                "cloth": piece.cloth.as_deref().map(|name| cloth_name(plan, name)),
                "does": does.map_or(String::new(), |does| sentence(&voice.say(&does))), "price": "",
                "found": piece.found, "note": piece.note,
            })
        })
        .collect()
}

fn cloth_name(plan: &Plan, name: &str) -> String {
    let own = plan.job.cloth(name).is_some_and(|c| c.customers_own);
    let id = if own { "cloth-yours" } else { return name.to_string() };
    words::of(&plan.job).say(&message(id).text("cloth", name))
}

/// The finished piece, small and without letters.
pub fn small(plan: &Plan, piece: &Piece, sheets: &mut Sheets) -> Option<Value> {
    let thickness = (
        plan.job.foam_of(piece).map_or(Length::ZERO, |f| f.thickness),
        plan.job.board_of(piece).map_or(Length::ZERO, |b| b.thickness),
    );
    let kind = trade::develop::with_its_width(piece);
    figure::bare(&kind, thickness, &plan.job.style, SMALL).map(|d| sheets.add(&d))
}

/// With a capital, and a full stop at its end.
pub fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first: String = letters.next().map(char::to_uppercase).into_iter().flatten().collect();
    format!("{first}{}.", letters.as_str().trim_end_matches('.'))
}

/// What is done to a piece, in a sentence.
fn does(plan: &Plan, piece: &Piece, made: &Developed) -> Message {
    let mut all: Vec<Message> = Vec::new();
    let has = |stuff: Stuff| made.parts.iter().any(|p| p.stuff == stuff);
    if piece.strip {
        all.push(message("work-strip"));
    }
    let board = match piece.board_condition {
        Condition::Keep if plan.job.board_of(piece).is_some() => Some("work-board-keep"),
        Condition::Repair if plan.job.board_of(piece).is_some() => Some("work-board-mend"),
        Condition::Renew if has(Stuff::Board) => Some("work-board-new"),
        _ => None,
    };
    all.extend(board.map(message));
    if let Some(foam) = plan.job.foam_of(piece) {
        all.push(match piece.foam_condition {
            Condition::Keep => message("work-foam-keep"),
            Condition::Repair => message("work-foam-mend"),
            Condition::Renew => message("work-foam-new").length("thick", foam.thickness),
        });
    }
    if piece.wrap {
        all.push(message("work-wrap"));
    }
    let pattern = match &piece.pattern {
        PatternRule::Centred => "centred",
        PatternRule::Matched(_) => "matched",
        PatternRule::Free | PatternRule::Unsaid => "free",
    };
    if has(Stuff::Cloth) {
        let id = if piece.kind.is_sewn() { "work-sew" } else { "work-cover" };
        all.push(message(id).text("pattern", pattern));
    }
    if made.quantities.welt > Length::ZERO {
        all.push(message("work-welt"));
    }
    if made.quantities.zip.is_some() {
        all.push(message("work-zip"));
    }
    if let Some(buttons) = piece.buttons {
        all.push(message("work-buttons").count("count", buttons.count));
    }
    if piece.dust_cover || piece.dust_cloth.is_some() {
        all.push(message("work-dust-cover"));
    }
    all.extend(piece.fixing.as_ref().and_then(|fixing| match fixing {
        Fixing::Screws { .. } => Some(message("work-screws")),
        Fixing::Clips(_) => Some(message("work-clips")),
        Fixing::Cleat => Some(message("work-cleat")),
        Fixing::Loose => None,
    }));
    message("list").list("list", all, Between::Comma)
}

/// What the quote takes for granted: as the job has it, and as its lays show.
pub fn assumptions(plan: &Plan) -> Vec<String> {
    let voice = words::of(&plan.job);
    let told = plan.lays.cloths.iter().flat_map(|lay| told::assumed(&plan.job, lay));
    let told = told.map(|assumed| sentence(&voice.say(&assumed)));
    plan.job.assumptions.iter().cloned().chain(told).collect()
}

/// What the price leaves out: fillings that nobody has priced.
pub fn not_included(plan: &Plan) -> Vec<String> {
    let voice = words::of(&plan.job);
    let lines = plan.take_off.lines.iter();
    lines
        .filter(|line| line.source == Source::Unpriced && line.why.is("why-filling"))
        .map(|line| {
            let text = message("not-included-line");
            let text = text.decimal("quantity", line.quantity).said("item", line.item.clone());
            sentence(&voice.say(&text))
        })
        .collect()
}

/// A box for a cutting of each cloth that the quote speaks of.
pub fn swatches(plan: &Plan) -> Vec<String> {
    let used = plan.lays.cloths.iter().map(|lay| &plan.job.cloths[lay.cloth]);
    let other = plan.choices.iter().flat_map(|(choice, _)| choice.swap.iter().map(|(_, to)| to));
    let mut all: Vec<String> = used.map(|cloth: &Cloth| cloth.name.clone()).collect();
    for name in other {
        if !all.contains(name) {
            all.push(name.clone());
        }
    }
    all
}

/// Every sum of the price; the currency's sign stands once, at the total.
pub fn price(plan: &Plan, price: &Price) -> Value {
    let show = |a| grouped(&money::show(a));
    let voice = words::of(&plan.job);
    let none = || voice.word(NO_RATE);
    let tax = |(rate, on, tax): &(Decimal, Decimal, Decimal)| {
        let text = message("tax-line")
            .text("name", &plan.job.rates.tax.name)
            .decimal("rate", *rate)
            .text("on", show(*on));
        json!([voice.say(&text), show(*tax)])
    };
    let spread = &plan.job.rates;
    let id = if spread.spread_jobs == 0 { "spread-no-records" } else { "spread-from-records" };
    let spread =
        message(id).decimal("percent", spread.spread_percent).count("jobs", spread.spread_jobs);
    json!({
        "groups": price.groups().iter().map(|(g, a)| json!([voice.say(&g.name()), show(*a)])).collect::<Vec<_>>(),
        "lines": price.lines.iter().map(|l| json!({
            "group": voice.say(&l.group.name()), "class": l.class.name(),
            "what": voice.say(&l.what), "why": voice.say(&l.why),
            "cost": l.cost.map(&show), "amount": show(l.amount),
        })).collect::<Vec<_>>(),
        "net": price.whole().map_or_else(none, |_| show(price.net)),
        "taxes": price.taxes.iter().filter(|_| price.whole().is_some()).map(tax).collect::<Vec<_>>(),
        "rounding": price.whole().filter(|_| !price.rounding.is_zero()).map(|_| show(price.rounding)),
        "total": price.whole().map_or_else(none, show),
        "deposit": price.first().map(show),
        "has_deposit": price.first().is_some_and(|deposit| !deposit.is_zero()),
        "deposit_why": voice.say(&price.deposit_why),
        "balance": show(price.total - price.deposit),
        "material_cost": show(price.material_cost),
        "contribution": show(price.contribution),
        "per_hour": (!price.hours.is_zero()).then(|| show(price.contribution / price.hours)),
        "hours": super::hours(price.hours * Decimal::from(60)),
        "spread": voice.say(&spread),
    })
}

/// Choices put to the customer, each with its whole total.
pub fn choices(plan: &Plan) -> Vec<Value> {
    let voice = words::of(&plan.job);
    plan.choices
        .iter()
        .map(|(choice, other)| {
            let difference = other.price.whole().zip(plan.price.whole()).map(|(a, b)| a - b);
            let signed = |difference: Decimal| {
                let sign = if difference.is_sign_negative() { "" } else { "+" };
                format!("{sign}{}", grouped(&money::show(difference)))
            };
            let swap = choice.swap.iter().map(|(from, to)| {
                voice.say(&message("choice-swap").text("to", to).text("from", from))
            });
            let buys: Vec<String> = other
                .lays
                .cloths
                .iter()
                .filter(|lay| lay.purchase > Length::ZERO)
                .map(|lay| {
                    let cloth = &other.job.cloths[lay.cloth];
                    format!("{} {}", cloth.name, lay.purchase.show(cloth.unit))
                })
                .collect();
            json!({
                "name": choice.name, "swap": swap.collect::<Vec<_>>().join("; "),
                "total": other.price.whole().map_or_else(|| voice.word(NO_RATE), |total| grouped(&money::show(total))),
                "difference": difference.map_or(String::new(), signed),
                "deposit": other.price.first().map_or(String::new(), |deposit| amount(plan, deposit)),
                "buys": buys.join("; "),
            })
        })
        .collect()
}
