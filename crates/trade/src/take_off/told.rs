//! What a person should know of what is bought: what has no price, what nobody has said.

use super::{Line, Source};
use crate::fault::Fault;
use crate::job::Job;
use crate::lays::Lays;
use crate::material::Cloth;
use crate::message::{Between, Message, message};
use crate::part::{Developed, Stuff};
use crate::piece::{PatternRule, Piece};
use crate::places::PLACES;
use geometry::Length;

/// Materials that are bought and have no price: the quote leaves them out.
pub(super) fn unpriced(job: &Job, lays: &Lays) -> Vec<Fault> {
    let cloths = lays.cloths.iter().filter_map(|lay| {
        let cloth = &job.cloths[lay.cloth];
        let free = !cloth.customers_own
            && !cloth.included
            && cloth.price.is_zero()
            && lay.purchase > Length::ZERO;
        free.then(|| (format!("cloth.{}.price", lay.cloth), &cloth.name))
    });
    let sheets = lays.sheets.iter().filter_map(|lay| {
        let (list, goods) = match lay.stuff {
            Stuff::Foam => ("foam", &job.foams[lay.material]),
            _ => ("board", &job.boards[lay.material]),
        };
        let bought = lay.cutting.sheets.iter().map(|s| &goods.sheets[s.sheet]);
        let free =
            !goods.included && bought.into_iter().any(|s| s.on_hand.is_none() && s.price.is_zero());
        free.then(|| (format!("{list}.{}.sheet", lay.material), &goods.name))
    });
    let told = |(at, name): (String, &String)| {
        Fault::new(
            "no-price",
            at,
            message("no-price").text("name", name),
            message("no-price").part("do"),
        )
        .about(name)
    };
    cloths.chain(sheets).map(told).collect()
}

/// Pieces of patterned cloth of which nobody has said how the pattern is to lie.
pub(super) fn free_of_pattern(job: &Job) -> Vec<Fault> {
    let told = |(i, cloth): (usize, &Cloth)| {
        cloth.pattern.as_ref()?;
        let unsaid = |p: &&Piece| {
            p.pattern == PatternRule::Unsaid && p.cloth.as_deref() == Some(cloth.name.as_str())
        };
        let mut names: Vec<&str> =
            job.pieces.iter().filter(unsaid).map(|p| p.name.as_str()).collect();
        names.dedup();
        let rest = names.len().saturating_sub(4);
        let first = names.get(..4).unwrap_or(&names).join(", ");
        (!names.is_empty()).then(|| {
            Fault::new(
                "pattern-unsaid",
                format!("cloth.{i}.repeat"),
                message("pattern-unsaid").text("first", &first).count("rest", rest),
                message("pattern-unsaid").part("do"),
            )
            .about(&cloth.name)
        })
    };
    job.cloths.iter().enumerate().filter_map(told).collect()
}

/// What layers take without a price, in one line.
pub(super) fn unpriced_layers(lines: &[Line]) -> Option<Fault> {
    let ids = ["why-layers", "why-laid-cord"];
    let of_layers = |line: &&Line| ids.iter().any(|id| line.why.is(id));
    let open = lines.iter().filter(|line| line.source == Source::Unpriced).filter(of_layers);
    let names: Vec<Message> = open.map(|line| line.item.clone()).collect();
    if names.is_empty() {
        return None;
    }
    let what = message("layers-unpriced").list("list", names, Between::Comma);
    let remedy = message("layers-unpriced").part("do");
    Some(Fault::new("layers-unpriced", "sundry", what, remedy).about("Layers"))
}

/// Fillings without a price: too dear to go with the sundries.
pub(super) fn unpriced_fillings(lines: &[Line]) -> Vec<Fault> {
    let is_filling = |line: &&Line| line.why.is("why-filling");
    let open = lines.iter().filter(|line| line.source == Source::Unpriced).filter(is_filling);
    open.map(|line| {
        Fault::new(
            "filling-unpriced",
            "sundry",
            message("filling-unpriced")
                .decimal("quantity", line.quantity)
                .said("item", line.item.clone()),
            message("filling-unpriced").part("do"),
        )
        .about("Fillings")
    })
    .collect()
}

/// A place that is not in the list: only general papers can be named.
pub(super) fn unknown_place(job: &Job) -> Option<Fault> {
    (job.place.is_none() && !job.place_said.is_empty()).then(|| {
        let names: Vec<&str> = PLACES.iter().map(|place| place.name).collect();
        let what = message("unknown-place").text("place", &job.place_said);
        let remedy = message("unknown-place").part("do").text("known", names.join(", "));
        Fault::new("unknown-place", "job.place", what, remedy).about("Place")
    })
}

/// Work that no rate and no agreed price pays for, by name.
pub(super) fn no_rate(job: &Job, developed: &[Developed]) -> Option<Fault> {
    if job.rates.hour.is_some() {
        return None;
    }
    let open = developed.iter().filter(|d| job.pieces[d.piece].price_each.is_none());
    let mut names: Vec<&str> = open.map(|piece| piece.label.as_str()).collect();
    let of_pieces = !names.is_empty();
    names.extend(job.extra.iter().map(|extra| extra.what.as_str()));
    names.dedup();
    let rest = names.len().saturating_sub(4);
    let first = names.get(..4).unwrap_or(&names).join(", ");
    let remedy = message("no-rate-for-work").part(if of_pieces { "pieces" } else { "extra" });
    (!names.is_empty()).then(|| {
        Fault::new(
            "no-hourly-rate",
            "rates.hour",
            message("no-rate-for-work").text("first", &first).count("rest", rest),
            remedy,
        )
        .about("Rates")
    })
}
