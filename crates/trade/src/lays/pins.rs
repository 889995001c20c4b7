//! Parts that the person has put in place on the length bought.

use super::{ClothLay, LaidPart};
use crate::fault::Fault;
use crate::job::Job;
use crate::material::Cloth;
use crate::message::{Message, message};
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
) -> Result<Spot, Message> {
    let mut instance = lay.instance.clone();
    if let Some(pin) = anew.filter(|pin| *pin < instance.pins.len()) {
        instance.pins.remove(pin);
    }
    let corner = instance.snapped(item, turn, corner, REACH);
    let kept = instance.keep(item, turn, corner).map_err(|why| {
        let part = match lay.parts.get(item) {
            Some(laid) => Message::typed(&laid.part.id),
            None => message("the-part"),
        };
        let (what, remedy) = words(why);
        message("pin-refused").said("part", part).said("what", what).said("remedy", remedy)
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
        let what = message("pin-on-own-cloth").text("cloth", &cloth.name);
        let remedy = message("pin-on-own-cloth").part("do");
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
                message("pin-not-kept")
                    .text("part", &pin.part)
                    .text("cloth", &cloth.name)
                    .said("what", what),
                remedy,
            )
            .about(piece.as_deref().unwrap_or(&cloth.name))
        })
        .collect()
}

/// Why a pin does not hold, and what to do.
const fn words(why: Refused) -> (Message, Message) {
    let id = match why {
        Refused::NoSuch => "pin-no-such",
        Refused::Turn => "pin-turn",
        Refused::Outside => "pin-outside",
        Refused::Pattern => "pin-pattern",
        Refused::Flaw => "pin-flaw",
        Refused::Overlap => "pin-overlap",
    };
    (message(id), message(id).part("do"))
}
