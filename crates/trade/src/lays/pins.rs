//! Parts that the person has put in place on the length bought.

use super::{ClothLay, LaidPart};
use crate::fault::Fault;
use crate::job::Job;
use crate::material::Cloth;
use crate::part::Developed;
use geometry::{Length, Spot};
use lay::{Instance, Refused};

/// The question with what the cloth pins down kept, and which pins could not be, with the reason.
pub(super) fn keep(
    cloth: &Cloth,
    parts: &[LaidPart],
    mut instance: Instance,
) -> (Instance, Vec<(usize, Refused)>) {
    let mut refused = Vec::new();
    // What a further length of the customer's own cloth would be is not laid by hand.
    let pins = if cloth.customers_own { &[][..] } else { &cloth.pins[..] };
    for (i, pin) in pins.iter().enumerate() {
        let item = parts.iter().position(|laid| laid.part.id == pin.part);
        let kept = item.ok_or(Refused::NoSuch).and_then(|item| {
            let turn = pin.turn.or_else(|| instance.items[item].turns.first().copied());
            instance.keep(item, turn.unwrap_or(0.0), pin.corner)
        });
        if let Err(why) = kept {
            refused.push((i, why));
        }
    }
    (instance, refused)
}

/// Which of a cloth's pins hold in a lay, in the order in which the lay has them.
pub fn held(cloth: &Cloth, lay: &ClothLay) -> Vec<usize> {
    let bare = Instance { pins: Vec::new(), ..lay.instance.clone() };
    let refused = keep(cloth, &lay.parts, bare).1;
    (0..cloth.pins.len()).filter(|i| refused.iter().all(|r| r.0 != *i)).collect()
}

/// Sides nearer than this to a selvedge or another pinned part are meant to meet it.
const REACH: Length = Length::from_nm(12_000_000);

/// Where a part of a lay comes to lie if it is put with its lower left corner at a place; `anew` says
/// which of the lay's pins it takes the place of.
///
/// # Errors
/// Why it cannot lie there, and what to do.
pub fn put(
    lay: &ClothLay,
    (item, turn): (usize, f64),
    corner: Spot,
    anew: Option<usize>,
) -> Result<Spot, String> {
    let mut instance = lay.instance.clone();
    if let Some(pin) = anew.filter(|pin| *pin < instance.pins.len()) {
        instance.pins.remove(pin);
    }
    let corner = instance.snapped(item, turn, corner, REACH);
    let kept = instance.keep(item, turn, corner).map_err(|why| {
        let (what, remedy) = words(why);
        let part = lay.parts.get(item).map_or("the part", |laid| laid.part.id.as_str());
        format!("{part} {what}; {remedy}")
    })?;
    Ok(instance.items[item].shape.turned(kept.turn).bounds().moved(kept.at).low)
}

/// What the person should know of pins that do not hold.
pub(super) fn warnings(job: &Job, developed: &[Developed], lay: &ClothLay) -> Vec<Fault> {
    let cloth = &job.cloths[lay.cloth];
    if cloth.pins.is_empty() {
        return Vec::new();
    }
    if cloth.customers_own {
        let what = format!("parts are pinned on {}, which the customer brings", cloth.name);
        let remedy = "take the pins out: they hold on cloth that is bought";
        return vec![
            Fault::new("pin-not-kept", format!("cloth.{}.pin", lay.cloth), what, remedy)
                .about(&cloth.name),
        ];
    }
    let bare = Instance { pins: Vec::new(), ..lay.asked.clone() };
    let (_, refused) = keep(cloth, &lay.parts, bare);
    refused
        .into_iter()
        .map(|(i, why)| {
            let pin = &cloth.pins[i];
            let laid = lay.parts.iter().find(|laid| laid.part.id == pin.part);
            let piece = laid.map(|laid| developed[laid.developed].label.clone());
            let (what, remedy) = words(why);
            Fault::new(
                "pin-not-kept",
                format!("cloth.{}.pin.{i}", lay.cloth),
                format!("part {} of {} {what}", pin.part, cloth.name),
                remedy,
            )
            .about(piece.as_deref().unwrap_or(&cloth.name))
        })
        .collect()
}

const fn words(why: Refused) -> (&'static str, &'static str) {
    match why {
        Refused::NoSuch => (
            "is pinned, but there is no such part, or no further copy of it",
            "take the pin out, or name the part as it is tagged now",
        ),
        Refused::Turn => {
            ("is pinned turned as this cloth does not allow", "pin it again as it lies in the lay")
        }
        Refused::Outside => (
            "is pinned, but does not fit the cloth there",
            "pin it nearer to the cut end, or take the pin out",
        ),
        Refused::Pattern => (
            "is pinned, but its motif cannot fall right there",
            "pin it a column of motifs further, or take the pin out",
        ),
        Refused::Flaw => ("is pinned over a flaw", "pin it clear of the flaw, or take the pin out"),
        Refused::Overlap => (
            "is pinned over another pinned part",
            "pin it beside that one, or take one of the pins out",
        ),
    }
}
