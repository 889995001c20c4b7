//! An instance's forms, as closely as each stage of a search needs them, worked out when it does.

use crate::form::{Detail, Forms, least_pieces};
use crate::ground::Demands;
use crate::{Instance, Item};
use std::sync::OnceLock;

/// With more convex pieces than this in all forms, parts are placed by rough outlines, which hold the light
/// ones that they are pushed closer by.
const MOST_PIECES: usize = 400;

/// The forms of an instance, rough to fine; each holds the next.
pub(crate) struct Outlines<'a> {
    instance: &'a Instance,
    rough: Option<Forms>,
    light: OnceLock<Forms>,
    fine: OnceLock<Forms>,
}

impl<'a> Outlines<'a> {
    pub fn of(instance: &'a Instance) -> Self {
        let (light, fine) = (OnceLock::new(), OnceLock::new());
        // Hollow corners tell how many pieces there are at least.
        let of =
            |item: &Item| least_pieces(&item.shape).min(Detail::Light.most()) * item.turns.len();
        let pieces: usize = instance.items.iter().map(of).sum();
        if pieces <= MOST_PIECES || Demands::of(instance).held {
            return Self { instance, rough: None, light, fine };
        }
        let forms: usize = instance.items.iter().map(|item| item.turns.len()).sum();
        let most = (MOST_PIECES / forms.max(1)).clamp(1, 5);
        let rough = Some(Forms::of(instance, 0, Detail::Rough(most)));
        Self { instance, rough, light, fine }
    }

    /// As parts are placed one after another.
    pub fn placing(&self) -> &Forms {
        self.rough.as_ref().unwrap_or_else(|| self.light())
    }

    /// As they are pushed closer.
    pub fn light(&self) -> &Forms {
        self.light.get_or_init(|| Forms::of(self.instance, 0, Detail::Light))
    }

    /// As the last gaps between them are closed.
    pub fn fine(&self) -> &Forms {
        if self.light().is_exact() {
            return self.light();
        }
        self.fine.get_or_init(|| Forms::of(self.instance, 0, Detail::Fine))
    }

    /// The light ones, if anything was asked of them yet.
    pub fn known(&self) -> &Forms {
        self.light.get().unwrap_or_else(|| self.placing())
    }
}
