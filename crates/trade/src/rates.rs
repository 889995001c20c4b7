//! The shop's own numbers: allowances, minutes, rates, tax. All are settings; defaults that rest on
//! common practice say so.

pub use crate::class::Class;
use crate::money::Uplift;
use crate::operations::Minutes;
use geometry::{Length, Unit};
use rust_decimal::Decimal;

/// Lengths added, left or kept when parts are developed. Set for the job, overridden for a piece,
/// some of them for one edge. Defaults: common practice, no source, unless said.
#[derive(Clone, Debug, PartialEq)]
pub struct Allowances {
    /// `w`: cloth that goes round and is stapled on the back. 1 to 2 in is usual.
    pub turn_under: Length,
    /// `a`: more, cut off at the end.
    pub trim: Length,
    /// `s`: from the back edge to the staple line.
    pub staple_inset: Length,
    /// `n`: seam allowance.
    pub seam: Length,
    /// `p`: depth of a pleat at a rounded corner.
    pub pleat: Length,
    /// A slit ends this far short of a square corner.
    pub slit_stop: Length,
    /// Relief squares of a folded end: this far out from the board and short of the block's top.
    pub fold_relief: Length,
    /// Boxed cushion: taken off each face to hold the foam snug.
    pub snug: Length,
    /// Boxed cushion: foam over the finished size, each side.
    pub foam_oversize: Length,
    /// Polyester wrap once the cover is pulled tight over it; 1/2 to 1 in as it comes.
    pub wrap_thickness: Length,
    /// Folded under beside a zip, each half.
    pub zip_turn: Length,
    /// Zip strip runs this far round each corner.
    pub zip_return: Length,
    /// Boxing ends lap the zip strip by this, each end.
    pub boxing_lap: Length,
    /// Diameter of welt cord.
    pub cord: Length,
    /// Extra welt for each run: start, end and lap.
    pub welt_lap: Length,
    /// No strip of welt is cut shorter.
    pub welt_shortest: Length,
    /// Turned in at a cut-out.
    pub cut_out_turn: Length,
    /// Relief cuts of a cut-out stop this far short of its corners.
    pub cut_out_stop: Length,
    /// Between covered neighbours: cover thickness on each side of a section.
    pub build_up: Length,
    /// Cut sizes that come from curves are rounded up to this.
    pub cut_step: Length,
    /// Boards worked out from a run or wall are rounded down to this.
    pub board_step: Length,
    /// Beyond an edge that is closed over a tack strip.
    pub tack_strip: Length,
    /// Height of a pull of cheaper cloth.
    pub pull: Length,
    /// Turned in under a headboard's border, beyond the foam.
    pub border_turn: Length,
    /// Staples no further apart than this.
    pub staple_spacing: Length,
    /// Staples at corners and pleats.
    pub corner_spacing: Length,
}

impl Allowances {
    /// Their keys in a job file.
    pub const KEYS: [&'static str; 26] = [
        "turn_under",
        "trim",
        "staple_inset",
        "seam",
        "pleat",
        "slit_stop",
        "fold_relief",
        "snug",
        "foam_oversize",
        "wrap_thickness",
        "zip_turn",
        "zip_return",
        "boxing_lap",
        "cord",
        "welt_lap",
        "welt_shortest",
        "cut_out_turn",
        "cut_out_stop",
        "build_up",
        "cut_step",
        "board_step",
        "tack_strip",
        "pull",
        "border_turn",
        "staple_spacing",
        "corner_spacing",
    ];

    /// The allowance of a key; the turn-under for what is none.
    pub fn value(&mut self, key: &str) -> &mut Length {
        match key {
            "turn_under" => &mut self.turn_under,
            "trim" => &mut self.trim,
            "staple_inset" => &mut self.staple_inset,
            "seam" => &mut self.seam,
            "pleat" => &mut self.pleat,
            "slit_stop" => &mut self.slit_stop,
            "fold_relief" => &mut self.fold_relief,
            "snug" => &mut self.snug,
            "foam_oversize" => &mut self.foam_oversize,
            "wrap_thickness" => &mut self.wrap_thickness,
            "zip_turn" => &mut self.zip_turn,
            "zip_return" => &mut self.zip_return,
            "boxing_lap" => &mut self.boxing_lap,
            "cord" => &mut self.cord,
            "welt_lap" => &mut self.welt_lap,
            "welt_shortest" => &mut self.welt_shortest,
            "cut_out_turn" => &mut self.cut_out_turn,
            "cut_out_stop" => &mut self.cut_out_stop,
            "build_up" => &mut self.build_up,
            "cut_step" => &mut self.cut_step,
            "board_step" => &mut self.board_step,
            "tack_strip" => &mut self.tack_strip,
            "pull" => &mut self.pull,
            "border_turn" => &mut self.border_turn,
            "staple_spacing" => &mut self.staple_spacing,
            "corner_spacing" => &mut self.corner_spacing,
            _ => &mut self.turn_under,
        }
    }

    /// Usual allowances in round numbers of the unit.
    pub fn usual(unit: Unit) -> Self {
        let pick = |sixty_fourths: i64, mm: f64| {
            if unit.is_binary() {
                Length::from_inch_64ths(sixty_fourths)
            } else {
                Length::from_mm(mm)
            }
        };
        Self {
            turn_under: pick(2 * 64, 50.0),
            trim: Length::ZERO,
            staple_inset: pick(48, 20.0),
            seam: pick(32, 12.0),
            pleat: pick(32, 12.0),
            slit_stop: pick(32, 12.0),
            fold_relief: pick(64, 25.0),
            snug: Length::ZERO,
            foam_oversize: pick(16, 6.0),
            wrap_thickness: pick(16, 6.0),
            zip_turn: pick(48, 20.0),
            zip_return: pick(3 * 64, 75.0),
            boxing_lap: pick(64, 25.0),
            cord: pick(10, 4.0),
            welt_lap: pick(6 * 64, 150.0),
            welt_shortest: pick(15 * 64, 400.0),
            cut_out_turn: pick(48, 20.0),
            cut_out_stop: pick(8, 4.0),
            build_up: pick(4, 2.0),
            cut_step: pick(4, 1.0),
            board_step: pick(4, 1.0),
            tack_strip: pick(64, 25.0),
            pull: pick(5 * 64, 125.0),
            border_turn: pick(96, 40.0),
            staple_spacing: pick(64, 25.0),
            corner_spacing: pick(32, 12.0),
        }
    }
}

/// Tax: one rate, and classes with another.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tax {
    /// What it is called on the quote.
    pub name: String,
    /// Percent.
    pub rate: Decimal,
    /// Percent for some classes instead.
    pub classes: Vec<(Class, Decimal)>,
}

impl Tax {
    /// Percent for a class.
    pub fn rate(&self, class: Class) -> Decimal {
        self.classes.iter().find(|c| c.0 == class).map_or(self.rate, |c| c.1)
    }
}

/// Paid before cloth is ordered.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Deposit {
    /// Percent of the total.
    pub percent: Decimal,
    /// Never less than what the shop itself pays for materials.
    pub at_least_materials: bool,
}

/// Money rules of the shop.
#[derive(Clone, Debug, PartialEq)]
pub struct Rates {
    /// An hour at the bench, once it is set: without it there is no price for work.
    pub hour: Option<Decimal>,
    /// For cloth.
    pub cloth: Uplift,
    /// For foam.
    pub foam: Uplift,
    /// For board.
    pub board: Uplift,
    /// For sundries with a price.
    pub sundries: Uplift,
    /// Percent of the sale price of all other materials, for sundries without a price.
    pub sundries_percent: Decimal,
    /// Percent of labour.
    pub overhead_percent: Decimal,
    /// No job for less, before tax.
    pub minimum: Decimal,
    /// Labour percent when the customer brings the cloth.
    pub own_cloth_percent: Decimal,
    /// Labour percent of pieces in a patterned cloth that are centred or matched.
    pub pattern_percent: Decimal,
    /// What an hour outside usual hours is multiplied by.
    pub night_factor: Decimal,
    /// A mile or kilometre.
    pub travel: Decimal,
    /// The total is rounded to this.
    pub round_to: Decimal,
    /// Tax.
    pub tax: Tax,
    /// Deposit.
    pub deposit: Deposit,
    /// Minutes an operation takes.
    pub minutes: Minutes,
    /// How far real hours have been from planned ones, percent either way.
    pub spread_percent: Decimal,
    /// In how many jobs; without any the percentage is a guess.
    pub spread_jobs: usize,
}

impl Default for Rates {
    fn default() -> Self {
        Self {
            hour: None,
            cloth: Uplift::NONE,
            foam: Uplift::NONE,
            board: Uplift::NONE,
            sundries: Uplift::NONE,
            sundries_percent: Decimal::ZERO,
            overhead_percent: Decimal::ZERO,
            minimum: Decimal::ZERO,
            own_cloth_percent: Decimal::ZERO,
            pattern_percent: Decimal::ZERO,
            night_factor: Decimal::ONE,
            travel: Decimal::ZERO,
            round_to: Decimal::new(1, 2),
            tax: Tax::default(),
            deposit: Deposit::default(),
            minutes: Minutes::default(),
            spread_percent: Decimal::from(15),
            spread_jobs: 0,
        }
    }
}
