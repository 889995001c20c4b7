//! What the person should know of a lay before cloth is ordered or cut.

use super::own_cloth::OwnCloth;
use super::{ClothLay, starts};
use crate::fault::Fault;
use crate::job::Job;
use crate::material::{Cloth, Direction};
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
        let remedy = "show the customer a sample lying that way before cloth is ordered, or say direction = \"up the roll\"";
        Fault::new("one-way-sideways", at, what, remedy).about(&job.cloths[lay.cloth].name)
    }));
    all
}

/// What is claimed of how much is bought, and for what it holds.
pub fn claim(job: &Job, lay: &ClothLay) -> String {
    let cloth = &job.cloths[lay.cloth];
    let least = lay.least_purchase.show(cloth.unit);
    let as_divided = lay.as_divided.as_ref();
    let settled =
        as_divided.is_some_and(|bound| lay.instance.buying.purchase(bound.length) == lay.purchase);
    match (lay.answer.proven, lay.starts.is_some()) {
        (true, false) => "no lay can buy less".into(),
        (true, true) => "no lay that is enough for every start of the pattern buys less".into(),
        (false, _) if settled && lay.least_purchase == Length::ZERO => {
            "with its welt and joined widths cut as they are here no lay buys less".into()
        }
        (false, _) if settled => format!(
            "with its welt and joined widths cut as they are here no lay buys less; cut in other pieces at least {least} is needed"
        ),
        (false, _) if lay.least_purchase == Length::ZERO => {
            "what is on hand may hold everything: nothing is known to be needed".into()
        }
        (false, false) => format!("at least {least} is needed, however it is laid"),
        (false, true) => {
            format!("for every start of the pattern at least {least} is needed, however it is laid")
        }
    }
}

/// How the customer's own cloth does, in a sentence.
pub fn own_cloth_says(job: &Job, lay: &ClothLay) -> Option<String> {
    let own = lay.own.as_ref()?;
    let cloth = &job.cloths[lay.cloth];
    Some(match own.is_enough() {
        true => {
            format!("the customer's own is enough: {} of {} parts lie on it", own.laid, own.asked)
        }
        false => own_short(cloth, own, "the customer's own", &job.style),
    })
}

/// What the customer should know, in a sentence each: it belongs to the quote's assumptions.
pub fn assumed(job: &Job, lay: &ClothLay) -> Vec<String> {
    let cloth = &job.cloths[lay.cloth];
    let mut all: Vec<String> = sideways(job, lay).into_iter().collect();
    if let Some(own) = lay.own.as_ref().filter(|own| !own.is_enough()) {
        all.push(own_short(cloth, own, &format!("your {}", cloth.name), &job.style));
    }
    if lay.starts.is_some() {
        all.push(format!(
            "{} is ordered long enough for wherever its pattern starts on the roll; it is measured when it is here, before it is cut",
            cloth.name
        ));
    }
    all
}

/// By how little the customer's own cloth fails, what it gives, and what has to be had besides.
fn own_short(cloth: &Cloth, own: &OwnCloth, name: &str, style: &crate::working::Style) -> String {
    let (given, all) = own.whole();
    let short = style.cut(own.short);
    let least = own.short_at_least.round_down(style.mark);
    let short = if own.short == Length::ZERO {
        format!("{name} is too narrow for everything")
    } else if own.short_at_least == Length::ZERO {
        format!(
            "{name} does not hold everything as far as was found; {short} more in one piece is enough, and a longer search may still find room"
        )
    } else if least == Length::ZERO {
        format!("{name} cannot hold everything; {short} more in one piece is enough")
    } else {
        format!(
            "{name} cannot hold everything; {short} more in one piece is enough, {} at least is needed",
            style.cut(least)
        )
    };
    let pieces = if all == 1 {
        "no whole piece".to_string()
    } else {
        format!("{given} of {all} pieces whole")
    };
    let more = own.missing.show(cloth.unit);
    let besides = if own.missing_at_least < own.missing {
        format!(
            "{more} more is needed for the others whole, or {} if pieces may be cut from both lengths",
            own.missing_at_least.show(cloth.unit)
        )
    } else {
        format!("{more} more of it is needed")
    };
    format!("{short}. It gives {pieces}, {} of {} parts; {besides}", own.laid, own.asked)
}

fn own_cloth(job: &Job, lay: &ClothLay) -> Option<Fault> {
    let own = lay.own.as_ref().filter(|own| !own.is_enough())?;
    let cloth = &job.cloths[lay.cloth];
    let mut what = own_short(cloth, own, &format!("the customer's {}", cloth.name), &job.style);
    let left = own.left_over();
    if !left.is_empty() {
        what += &format!(" (not covered from it: {})", left.join(", "));
    }
    let mut remedy = String::new();
    if !own.elsewhere.is_empty() {
        let mut names: Vec<&str> = own.elsewhere.iter().map(|(_, name)| name.as_str()).collect();
        names.dedup();
        remedy += &format!(
            "with another cloth for {} everything else comes out of it; ",
            names.join(" or ")
        );
    }
    remedy += "ask for more of the same lot before cutting, or cover those pieces in another cloth";
    let at = format!("cloth.{}.on_hand", lay.cloth);
    Some(Fault::new("own-cloth-short", at, what, remedy).about(&cloth.name))
}

/// Bought for every start of the pattern.
fn start(job: &Job, lay: &ClothLay) -> Option<Fault> {
    let cloth = &job.cloths[lay.cloth];
    let at = format!("cloth.{}.repeat", lay.cloth);
    let remedy = "measure the first motif once the cloth is here, say it with first_along, and plan again before cutting";
    if let Some(starts) = &lay.starts {
        let best = match starts.best < starts.worst {
            true => {
                format!("at the best start looked at {} would do", starts.best.show(cloth.unit))
            }
            false => "no start looked at needs less".into(),
        };
        let what = format!(
            "where the pattern of {} starts on the roll is not known: {} is enough for every start; {best}",
            cloth.name,
            starts.worst.show(cloth.unit)
        );
        return Some(Fault::new("pattern-start", at, what, remedy).about(&cloth.name));
    }
    // Pinned, or with flaws measured from a cut end, it is laid for one start, which nobody measured.
    let unknown = starts::matters(&lay.asked).is_some()
        && !cloth.start_is_known()
        && lay.answer.lay.new_length() > Length::ZERO;
    unknown.then(|| {
        let what = format!(
            "the cloth lies here, but where its pattern starts is not said: {} is laid as if a motif lay at the cut end",
            cloth.name
        );
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
            format!("a motif of {} is taken to lie on the middle of its width", cloth.name),
            "ask the supplier or measure it, and say so with first_across: the lay hangs on it",
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
            format!(
                "where the pattern starts on {} is not said: up to {} of it is kept for that",
                names.join(", "),
                job.style.show(repeat)
            ),
            "it lies here: measure its first motif and say so with `first`",
        )
        .about(&cloth.name)
    })
}

/// A cloth with one right way up that lies on its side, and why.
fn sideways(job: &Job, lay: &ClothLay) -> Option<String> {
    let cloth = &job.cloths[lay.cloth];
    if !(cloth.one_way
        && lay.direction == Direction::Railroaded
        && cloth.direction == Direction::Either)
    {
        return None;
    }
    let up = lay.compared.iter().find(|way| way.direction == Direction::UpTheRoll)?;
    let why = match (&up.refused, up.length) {
        (Some(what), _) => format!("up the roll it cannot be laid: {what}"),
        (None, Some(_)) => format!(
            "up the roll it would take {} more",
            (up.purchase - lay.purchase).max(Length::ZERO).show(cloth.unit)
        ),
        (None, None) => "up the roll it cannot be laid".into(),
    };
    Some(format!(
        "{} is laid railroaded: its pattern or pile, which runs one way, lies on its side on every piece; {why}",
        cloth.name
    ))
}
