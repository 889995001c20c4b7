//! A filling that stands higher in the middle than at its edges.

use super::Ask;
use crate::fault::Fault;
use crate::message::message;
use crate::panel::Side;
use crate::part::{Part, wadding};
use crate::working::{Formula, Working, of};
use geometry::{Arc, Length};

/// What a crown adds to the sides of a cover, and how it was worked out.
pub struct Crown {
    /// For the cover.
    pub sides: Vec<Side>,
    /// For the cover.
    pub workings: Vec<Working>,
}

impl Crown {
    /// The middle is built up over about half of the face. Common practice, no source.
    pub fn wadding((width, depth): (Length, Length), crown: Length) -> f64 {
        wadding(width.mm() * depth.mm() / 2.0, crown)
    }

    /// Puts how it was worked out before the cover's own workings.
    pub fn explain(self, parts: &mut [Part]) {
        if let Some(cover) = parts.first_mut() {
            cover.workings.splice(0..0, self.workings);
        }
    }
}

/// Cloth over a crown: the arc of chord `size` and rise `crown` is longer than the chord, half of it for
/// each side.
///
/// Source: arc from chord and rise, geometry.
pub fn over_crown(
    ask: &Ask,
    (width, depth): (Length, Length),
    crown: Length,
) -> Result<Crown, Vec<Fault>> {
    if crown == Length::ZERO {
        return Ok(Crown { sides: Vec::new(), workings: Vec::new() });
    }
    if [width, depth].iter().any(|chord| Arc::over(chord.mm(), crown.mm()).is_err()) {
        return Err(vec![
            ask.fault(
                "crown-too-high",
                "crown",
                message("crown-too-high")
                    .length("crown", crown)
                    .number("width", width)
                    .length("depth", depth),
                message("crown-too-high").part("do"),
            ),
        ]);
    }
    let step = ask.build.allowances.cut_step;
    let more = |what: &'static str, chord: Length| {
        let more = (Formula::Arc(chord, crown) - of(chord)) / 2;
        Working::of(message(what), more).up_to(step.share(2))
    };
    let side = |over: Length| Side { over, ..Side::default() };
    let (x, y) = (more("work-crown-across", width), more("work-crown-along", depth));
    let sides = [y.result, x.result, y.result, x.result].map(side).to_vec();
    Ok(Crown { sides, workings: vec![x, y] })
}
