//! Kinds of cloth: what each asks of needle, stitch, staple, iron and hand.
//!
//! Source: needle and stitch tables of thread makers and leaflets of cloth and vinyl makers, from memory;
//! the rest is common practice, no source. Trial stitches on a scrap decide.

use geometry::{Length, Unit};

/// What a cloth is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ClothSort {
    /// Flat woven.
    Woven,
    /// With a pile.
    Velvet,
    /// Plastic on a knitted or woven back.
    Vinyl,
    /// Hides.
    Leather,
    /// Cloth with a coat: imitation leather of polyurethane, blackout, waterproofed.
    Coated,
    /// Gives in one way or both.
    Stretch,
    /// For wet places.
    Outdoor,
}

struct Row {
    name: &'static str,
    /// Staples and seams of its own, in 64ths of an inch and in mm; nothing where the usual ones serve.
    spacing: Option<(i64, f64)>,
    seam: Option<(i64, f64)>,
    sew: &'static str,
    pull: &'static str,
}

const ROWS: [Row; 7] = [
    Row { name: "woven", spacing: None, seam: None, sew: "sew-woven", pull: "pull-woven" },
    Row { name: "velvet", spacing: None, seam: None, sew: "sew-velvet", pull: "pull-velvet" },
    // Half an inch between staples and seams of three eighths: common practice in vinyl work.
    Row {
        name: "vinyl",
        spacing: Some((32, 12.0)),
        seam: Some((24, 10.0)),
        sew: "sew-vinyl",
        pull: "pull-vinyl",
    },
    Row {
        name: "leather",
        spacing: Some((32, 12.0)),
        seam: Some((24, 10.0)),
        sew: "sew-leather",
        pull: "pull-leather",
    },
    Row {
        name: "coated",
        spacing: Some((32, 12.0)),
        seam: Some((24, 10.0)),
        sew: "sew-coated",
        pull: "pull-coated",
    },
    Row { name: "stretch", spacing: None, seam: None, sew: "sew-stretch", pull: "pull-stretch" },
    Row { name: "outdoor", spacing: None, seam: None, sew: "sew-outdoor", pull: "pull-outdoor" },
];

impl ClothSort {
    /// All, with their words in a job file.
    pub const ALL: [(&'static str, Self); 7] = [
        (ROWS[0].name, Self::Woven),
        (ROWS[1].name, Self::Velvet),
        (ROWS[2].name, Self::Vinyl),
        (ROWS[3].name, Self::Leather),
        (ROWS[4].name, Self::Coated),
        (ROWS[5].name, Self::Stretch),
        (ROWS[6].name, Self::Outdoor),
    ];

    const fn row(self) -> &'static Row {
        &ROWS[self as usize]
    }

    /// As written in a job file.
    pub const fn name(self) -> &'static str {
        self.row().name
    }

    /// Its pile runs one way, unless it is said otherwise.
    pub fn has_pile(self) -> bool {
        self == Self::Velvet
    }

    /// Air cannot pass through it: what is sealed in with it must breathe elsewhere.
    pub fn is_airtight(self) -> bool {
        matches!(self, Self::Vinyl | Self::Leather | Self::Coated)
    }

    /// The message that says how it is sewn.
    pub const fn sew(self) -> &'static str {
        self.row().sew
    }

    /// The message that says how it is pulled and stapled.
    pub const fn pull(self) -> &'static str {
        self.row().pull
    }

    /// An allowance of its own instead of the usual one, if it has one, by its key.
    pub fn allowance(self, key: &str, unit: Unit) -> Option<Length> {
        let (sixty_fourths, mm) = match key {
            "staple_spacing" => self.row().spacing?,
            "seam" => self.row().seam?,
            _ => return None,
        };
        Some(if unit.is_binary() {
            Length::from_inch_64ths(sixty_fourths)
        } else {
            Length::from_mm(mm)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_stand_in_the_order_of_the_sorts() {
        for (i, (name, sort)) in ClothSort::ALL.into_iter().enumerate() {
            assert_eq!((sort as usize, sort.name()), (i, name));
        }
    }
}
