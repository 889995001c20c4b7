//! A finished thing to cover, as measured and as wanted.

use crate::cloth_sort::ClothSort;
use crate::kinds::Kind;
use crate::layers::Layered;
use crate::material::Direction;
use crate::panel::FoamEdge;
use crate::rates::Allowances;
pub use crate::wanted::{Buttons, Condition, Fixing, Hand, PatternRule, Run, Welt, WeltGrain};
use geometry::{Length, Unit};
use rust_decimal::Decimal;

/// One line of the survey.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Its number in the job file, from 1: parts keep it when other pieces are left out.
    pub number: usize,
    /// Unique in the job.
    pub name: String,
    /// Room or vehicle.
    pub place: String,
    /// What it is.
    pub kind: Kind,
    /// How many, all hands together.
    pub count: usize,
    /// Left, right or a pair.
    pub hand: Hand,
    /// The piece that this one is the mirror image of; its measures are that one's.
    pub mirrors: Option<String>,
    /// Sections along a wall, if the width comes from there.
    pub run: Option<Run>,
    /// Cloth of the face, by name.
    pub cloth: Option<String>,
    /// Cloth of the underside, if another.
    pub under_cloth: Option<String>,
    /// Cloth of the boxing, if another.
    pub boxing_cloth: Option<String>,
    /// Cloth of the welt, if another.
    pub welt_cloth: Option<String>,
    /// Cloth of the zip strip, if another.
    pub zip_cloth: Option<String>,
    /// Foam by name.
    pub foam: Option<String>,
    /// Board by name.
    pub board: Option<String>,
    /// State of the foam.
    pub foam_condition: Condition,
    /// State of the board.
    pub board_condition: Condition,
    /// Foam wrapped in polyester.
    pub wrap: bool,
    /// How foam ends at stapled edges.
    pub foam_edge: FoamEdge,
    /// Foam cut larger than the board by this on each side; stapled pieces.
    pub foam_beyond: Length,
    /// Dust cover on the back.
    pub dust_cover: bool,
    /// An old cover has to come off.
    pub strip: bool,
    /// Which way, if not the cloth's own.
    pub direction: Option<Direction>,
    /// Pattern.
    pub pattern: PatternRule,
    /// The pattern of a cushion's top runs on down the front of its boxing.
    pub boxing_in_step: bool,
    /// A seam is allowed where a part is wider than the cloth.
    pub seam_allowed: bool,
    /// Covers wider than half the cloth are joined down the middle even if they would fit: a near miss.
    pub halved: bool,
    /// Welt strips.
    pub welt_grain: WeltGrain,
    /// The shop's allowances with this piece's own.
    pub allowances: Allowances,
    /// Keys of the allowances that are its own.
    pub own_allowances: Vec<String>,
    /// How it is fixed.
    pub fixing: Option<Fixing>,
    /// Hours for one piece, instead of the rate book.
    pub hours_each: Option<Decimal>,
    /// An agreed price for the work on one piece, instead of hours.
    pub price_each: Option<Decimal>,
    /// Covered buttons, each of this many lignes.
    pub buttons: Option<Buttons>,
    /// Layers under the cover and over it, from the frame outwards.
    pub layers: Vec<Layered>,
    /// Cloth the dust cover is cut from, if it is laid with the job's cloths.
    pub dust_cloth: Option<String>,
    /// Which pieces come first where the customer's own cloth is short: the lowest number.
    pub priority: usize,
    /// For the bench.
    pub note: String,
    /// Findings on inspection.
    pub found: String,
    /// Each measure as it was typed.
    pub typed: Vec<(String, String)>,
}

impl Piece {
    /// Cloths of its own besides its face's, each with its key.
    pub fn other_cloths(&mut self) -> [(&'static str, &mut Option<String>); 5] {
        [
            ("under_cloth", &mut self.under_cloth),
            ("boxing_cloth", &mut self.boxing_cloth),
            ("welt_cloth", &mut self.welt_cloth),
            ("zip_cloth", &mut self.zip_cloth),
            ("dust_cloth", &mut self.dust_cloth),
        ]
    }

    /// Takes the allowances that its cloth's sort asks for, where neither the job nor the piece itself has
    /// said its own; `said` are the job's keys.
    pub fn suit(&mut self, sort: ClothSort, unit: Unit, said: &[String]) {
        for key in Allowances::KEYS {
            let is_said = said.iter().chain(&self.own_allowances).any(|own| own == key);
            if let Some(length) = sort.allowance(key, unit).filter(|_| !is_said) {
                *self.allowances.value(key) = length;
            }
        }
    }

    /// The mirror image of a piece; `None` where its measures do not tell what that is: notches and edges
    /// of an outline measured by heights, openings in a piece whose width a run gives.
    pub fn mirrored(&self) -> Option<Self> {
        let kind = self.kind.mirrored()?;
        let width = self.kind.of().reach().filter(|width| *width > Length::ZERO);
        let fixing = match &self.fixing {
            Some(Fixing::Screws { count, gauge, length, through_face, into, holes }) => {
                let flip = |&(x, y): &(Length, Length)| Some((width? - x, y));
                let holes: Option<Vec<_>> = holes.iter().map(flip).collect();
                Some(Fixing::Screws {
                    count: *count,
                    gauge: *gauge,
                    length: *length,
                    through_face: *through_face,
                    into: *into,
                    holes: holes?,
                })
            }
            other => other.clone(),
        };
        let hand = match self.hand {
            Hand::Left => Hand::Right,
            Hand::Right => Hand::Left,
            same => same,
        };
        let mut run = self.run.clone();
        if let Some(run) = &mut run {
            run.measured.reverse();
        }
        Some(Self { kind, fixing, hand, run, ..self.clone() })
    }
}
