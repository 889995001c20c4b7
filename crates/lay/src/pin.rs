//! Parts that the person puts in place: settled on the pattern, and refused where they cannot stay.

use crate::form::{Detail, Form, Forms};
use crate::ground::{Ground, Held};
use crate::{Breach, Instance, Lay, Placement, Stock, Strip, phase, verify};
use geometry::{Length, Spot};

/// Why a part cannot stay where it was put.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refused {
    /// There is no such part, or no further copy of it.
    NoSuch,
    /// It may not lie turned like that.
    Turn,
    /// It is wider than the cloth, or longer than a roll.
    Outside,
    /// Its motif cannot fall right there.
    Pattern,
    /// It lies over a flaw.
    Flaw,
    /// It lies over another part that stays where it is.
    Overlap,
}

/// No cloth is so long, in nanometres: a kilometre.
const FARTHEST: u64 = 1_000_000_000_000;

impl Instance {
    /// Keeps one copy of an item on the first length bought, with the lower left corner of the box round
    /// it at `corner` or, where the cloth's edges or its pattern do not allow that, as near as may be.
    ///
    /// # Errors
    /// Why it cannot be kept there; the instance is then as it was.
    pub fn keep(&mut self, item: usize, turn: f64, corner: Spot) -> Result<Placement, Refused> {
        if item >= self.items.len() || self.loose(item) == 0 {
            return Err(Refused::NoSuch);
        }
        if !self.items[item].turns.contains(&turn) {
            return Err(Refused::Turn);
        }
        if corner.x.unsigned_abs() > FARTHEST || corner.y.unsigned_abs() > FARTHEST {
            return Err(Refused::Outside);
        }
        let forms = Forms::of(self, 0, Detail::Light);
        // Of turns that look alike only one has a form.
        let polygon = self.items[item].shape.turned(turn);
        let size = |p: &geometry::Polygon| (p.bounds().width(), p.bounds().height());
        let form = forms.list[item]
            .iter()
            .find(|form| form.turn == turn)
            .or_else(|| forms.list[item].iter().find(|f| size(&f.polygon) == size(&polygon)))
            .ok_or(Refused::Turn)?;
        let wanted = Spot::new(corner.x - form.bounds.low.x, corner.y - form.bounds.low.y);
        let at = self.settled(&forms, item, form, wanted)?;
        let pin = Placement { item, copy: 0, at, turn: form.turn };
        let mut pins = self.pins.clone();
        pins.push(pin);
        match self.refused(&pins) {
            Some(why) => Err(why),
            None => {
                self.pins = pins;
                Ok(pin)
            }
        }
    }

    /// A corner at which sides that nearly meet a selvedge, the cut end or another part that stays do
    /// meet it.
    pub fn snapped(&self, item: usize, turn: f64, corner: Spot, reach: Length) -> Spot {
        let Some(item) = self.items.get(item) else { return corner };
        let own = item.shape.turned(turn).bounds();
        let (w, h) = (own.width().nm(), own.height().nm());
        let ground = Ground::new_cloth(self);
        let mut xs = vec![ground.left, ground.right - w];
        let mut ys = vec![0];
        for pin in &self.pins {
            let b = self.items[pin.item].shape.turned(pin.turn).bounds().moved(pin.at);
            xs.extend([b.high.x, b.low.x - w]);
            ys.extend([b.high.y, b.low.y - h]);
        }
        let near = |at: i64, all: Vec<i64>| {
            let nearest = all.into_iter().min_by_key(|x| x.abs_diff(at)).unwrap_or(at);
            if nearest.abs_diff(at) <= reach.nm().unsigned_abs() { nearest } else { at }
        };
        Spot::new(near(corner.x, xs), near(corner.y, ys))
    }

    /// The place nearest to `wanted` that the edges and the pattern allow.
    fn settled(
        &self,
        forms: &Forms,
        item: usize,
        form: &Form,
        wanted: Spot,
    ) -> Result<Spot, Refused> {
        let ground = Ground::new_cloth(self);
        let (low, high) = ground.across(form);
        if high < low {
            return Err(Refused::Outside);
        }
        let free = Spot::new(wanted.x.clamp(low, high), wanted.y.max(-form.bounds.low.y));
        let base = ground.motif_of(item, &phase::of_pins(self, forms));
        if let (Held::Group(group), None) = (ground.held(item), base) {
            return self.in_phase(forms, group, form, (low, high), free);
        }
        let near = |y: i64, steps: crate::pattern::Steps| {
            if steps.period == 0 {
                return y;
            }
            let up = steps.up(y);
            let down = up - steps.period;
            let may = down >= -form.bounds.low.y && y - down < up - y;
            if may { down } else { up }
        };
        let places = ground.places(form, base).ok_or(Refused::Pattern)?;
        places
            .stretches()
            .into_iter()
            .map(|(from, to, steps)| Spot::new(free.x.clamp(from, to), near(free.y, steps)))
            .min_by_key(|at| (at.x - free.x).abs() + (at.y - free.y).abs())
            .ok_or(Refused::Pattern)
    }

    /// The first of a matched group: at a phase that leaves room for the others.
    fn in_phase(
        &self,
        forms: &Forms,
        group: usize,
        form: &Form,
        (low, high): (i64, i64),
        free: Spot,
    ) -> Result<Spot, Refused> {
        let repeat = self.pattern.as_ref().and_then(|p| p.width).map(|w| w.nm());
        let phases = forms.phases.as_ref().ok().and_then(|all| all.get(group)?.clone());
        let (Some(repeat), Some(phases)) = (repeat, phases) else { return Ok(free) };
        let from = Ground::new_cloth(self).motif.x - form.anchor.x;
        let first = (low - from).div_euclid(repeat) - 1;
        let last = (high - from).div_euclid(repeat) + 1;
        (first..=last)
            .flat_map(|k| {
                phases.iter().map(move |p| (from + k * repeat + p.0, from + k * repeat + p.1))
            })
            .map(|(a, b)| (a.max(low), b.min(high)))
            .filter(|(a, b)| a <= b)
            .map(|(a, b)| Spot::new(free.x.clamp(a, b), free.y))
            .min_by_key(|at| (at.x - free.x).abs())
            .ok_or(Refused::Pattern)
    }

    fn refused(&self, pins: &[Placement]) -> Option<Refused> {
        let tops = pins
            .iter()
            .map(|p| self.items[p.item].shape.turned(p.turn).bounds().moved(p.at).high.y);
        let length = Length::from_nm(tops.max().unwrap_or(0));
        let strip = Strip { stock: Stock::New(0), placements: pins.to_vec(), length };
        let why = |breach: Breach| match breach {
            Breach::Outside { .. } => Some(Refused::Outside),
            Breach::Pattern { .. } => Some(Refused::Pattern),
            Breach::Flaw { .. } => Some(Refused::Flaw),
            Breach::Overlap { .. } => Some(Refused::Overlap),
            _ => None,
        };
        verify(self, &Lay { strips: vec![strip] }).into_iter().find_map(why)
    }
}
