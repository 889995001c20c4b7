//! What the person should know of a lay before cloth is ordered or cut.

use super::own_cloth::OwnCloth;
use super::{ClothLay, starts};
use crate::fault::Fault;
use crate::job::Job;
use crate::material::{Cloth, Direction};
use crate::message::{Between, Message, message};
use crate::part::{Developed, Motif};
use geometry::Length;

/// Every warning of a cloth's lay.
pub(super) fn warnings(job: &Job, developed: &[Developed], lay: &ClothLay) -> Vec<Fault> {
    let mut all: Vec<Fault> = own_cloth(job, lay).into_iter().collect();
    all.extend(super::pins::warnings(job, developed, lay));
    all.extend(start(job, lay));
    all.extend(across(job, lay));
    all.extend(on_hand(job, lay));
    all.extend(sideways(job, lay).map(|what| {
        let at = format!("cloth.{}.direction", lay.cloth);
        let remedy = message("one-way-sideways").part("do");
        Fault::new("one-way-sideways", at, what, remedy).about(&job.cloths[lay.cloth].name)
    }));
    all
}

/// What is claimed of how much is bought, and for what it holds.
pub fn claim(job: &Job, lay: &ClothLay) -> Message {
    let cloth = &job.cloths[lay.cloth];
    let as_divided = lay.as_divided.as_ref();
    let is_settled =
        as_divided.is_some_and(|bound| lay.instance.buying.purchase(bound.length) == lay.purchase);
    let is_open = lay.least_purchase == Length::ZERO;
    let id = match (lay.answer.proven, lay.starts.is_some()) {
        (true, false) => "claim-proven",
        (true, true) => "claim-proven-for-every-start",
        (false, _) if is_settled && is_open => "claim-as-cut",
        (false, _) if is_settled => "claim-as-cut-and-least",
        (false, _) if is_open => "claim-nothing-needed",
        (false, false) => "claim-least",
        (false, true) => "claim-least-for-every-start",
    };
    message(id).sold("least", lay.least_purchase, cloth.unit)
}

/// How the customer's own cloth does, in a sentence.
pub fn own_cloth_says(job: &Job, lay: &ClothLay) -> Option<Message> {
    let own = lay.own.as_ref()?;
    let cloth = &job.cloths[lay.cloth];
    Some(match own.is_enough() {
        true => message("own-enough").count("laid", own.laid).count("asked", own.asked),
        false => own_short(job, cloth, own, message("own-the-customers")),
    })
}

/// What the customer should know, in a sentence each: it belongs to the quote's assumptions.
pub fn assumed(job: &Job, lay: &ClothLay) -> Vec<Message> {
    let cloth = &job.cloths[lay.cloth];
    let mut all: Vec<Message> = sideways(job, lay).into_iter().collect();
    if let Some(own) = lay.own.as_ref().filter(|own| !own.is_enough()) {
        let name = message("own-yours").text("cloth", &cloth.name);
        all.push(own_short(job, cloth, own, name));
    }
    if lay.starts.is_some() {
        all.push(message("assumed-start").text("cloth", &cloth.name));
    }
    all
}

/// By how little the customer's own cloth fails, what it gives, and what has to be had besides.
fn own_short(job: &Job, cloth: &Cloth, own: &OwnCloth, name: Message) -> Message {
    let (given, all) = own.whole();
    let least = own.short_at_least.round_down(job.style.mark);
    let short = message(if own.short == Length::ZERO {
        "own-too-narrow"
    } else if own.short_at_least == Length::ZERO {
        "own-short-as-far-as-found"
    } else if least == Length::ZERO {
        "own-short"
    } else {
        "own-short-and-least"
    });
    let short = short.said("name", name).cut("short", own.short).cut("least", least);
    let gives = message("own-gives").count("given", given).count("all", all);
    let besides = if own.missing_at_least < own.missing {
        message("own-more-or").sold("least", own.missing_at_least, cloth.unit)
    } else {
        message("own-more")
    };
    message("own-falls-short")
        .said("short", short)
        .said("gives", gives)
        .count("laid", own.laid)
        .count("asked", own.asked)
        .said("besides", besides.sold("more", own.missing, cloth.unit))
}

fn own_cloth(job: &Job, lay: &ClothLay) -> Option<Fault> {
    let own = lay.own.as_ref().filter(|own| !own.is_enough())?;
    let cloth = &job.cloths[lay.cloth];
    let short = own_short(job, cloth, own, message("own-named").text("cloth", &cloth.name));
    let left = own.left_over();
    let what = message("own-cloth-short").said("short", short).count("count", left.len());
    let mut names: Vec<Message> = own.elsewhere.iter().map(|(_, name)| name.clone()).collect();
    names.dedup();
    let remedy = message("own-cloth-short").part("do").count("count", names.len());
    let at = format!("cloth.{}.on_hand", lay.cloth);
    let what = what.list("left", left, Between::Comma);
    let remedy = remedy.list("elsewhere", names, Between::Or);
    Some(Fault::new("own-cloth-short", at, what, remedy).about(&cloth.name))
}

/// Bought for every start of the pattern.
fn start(job: &Job, lay: &ClothLay) -> Option<Fault> {
    let cloth = &job.cloths[lay.cloth];
    let at = format!("cloth.{}.repeat", lay.cloth);
    let remedy = message("pattern-start").part("do");
    if let Some(starts) = &lay.starts {
        let what = message("pattern-start")
            .text("cloth", &cloth.name)
            .sold("worst", starts.worst, cloth.unit)
            .flag("better", starts.best < starts.worst)
            .sold("best", starts.best, cloth.unit);
        return Some(Fault::new("pattern-start", at, what, remedy).about(&cloth.name));
    }
    // Pinned, or with flaws measured from a cut end, it is laid for one start, which nobody measured.
    let unknown = starts::matters(&lay.asked).is_some()
        && !cloth.start_is_known()
        && lay.answer.lay.new_length() > Length::ZERO;
    unknown.then(|| {
        let what = message("pattern-start-here").text("cloth", &cloth.name);
        Fault::new("pattern-start", at, what, remedy).about(&cloth.name)
    })
}

/// A motif taken to lie on the middle of the width.
fn across(job: &Job, lay: &ClothLay) -> Option<Fault> {
    let cloth = &job.cloths[lay.cloth];
    let wide = cloth.pattern.as_ref().is_some_and(|p| p.width.is_some());
    let held = lay.parts.iter().any(|laid| matches!(laid.part.motif, Motif::Centred(_)));
    (wide && held && !cloth.across_measured).then(|| {
        Fault::new(
            "pattern-across",
            format!("cloth.{}.repeat", lay.cloth),
            message("pattern-across").text("cloth", &cloth.name),
            message("pattern-across").part("do"),
        )
        .about(&cloth.name)
    })
}

/// Lengths on hand of which nobody has measured where the pattern starts.
fn on_hand(job: &Job, lay: &ClothLay) -> Option<Fault> {
    let cloth = &job.cloths[lay.cloth];
    let repeat = cloth.pattern.as_ref()?.length?;
    let held = lay.parts.iter().any(|laid| laid.part.motif != Motif::Free);
    let unknown = cloth.on_hand.iter().filter(|r| cloth.motif_of(r).is_none());
    let names: Vec<&str> = unknown.map(|remnant| remnant.id.as_str()).collect();
    (held && !names.is_empty()).then(|| {
        Fault::new(
            "pattern-on-hand",
            format!("cloth.{}.on_hand", lay.cloth),
            message("pattern-on-hand").text("lengths", names.join(", ")).length("repeat", repeat),
            message("pattern-on-hand").part("do"),
        )
        .about(&cloth.name)
    })
}

/// A cloth with one right way up that lies on its side, and why.
fn sideways(job: &Job, lay: &ClothLay) -> Option<Message> {
    let cloth = &job.cloths[lay.cloth];
    if !(cloth.one_way
        && lay.direction == Direction::Railroaded
        && cloth.direction == Direction::Either)
    {
        return None;
    }
    let up = lay.compared.iter().find(|way| way.direction == Direction::UpTheRoll)?;
    let why = match (&up.refused, up.length) {
        (Some(what), _) => message("sideways-refused").said("what", what.clone()),
        (None, Some(_)) => {
            let more = (up.purchase - lay.purchase).max(Length::ZERO);
            message("sideways-more").sold("more", more, cloth.unit)
        }
        (None, None) => message("sideways-cannot"),
    };
    Some(message("one-way-sideways").text("cloth", &cloth.name).said("why", why))
}
