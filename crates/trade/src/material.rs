//! What is bought: cloth off a roll, foam and board in sheets, sundries by count or length.

use crate::cloth_sort::ClothSort;
use crate::money::Uplift;
use geometry::{Length, Rect, Spot, Unit};
use lay::Pattern;
use rust_decimal::Decimal;

/// What a part is cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stuff {
    /// Off a roll.
    Cloth,
    /// From a sheet.
    Foam,
    /// From a sheet.
    Board,
}

/// A length of cloth on hand.
#[derive(Clone, Debug, PartialEq)]
pub struct Remnant {
    /// Written on it.
    pub id: String,
    /// Along the roll.
    pub length: Length,
    /// Selvedge to selvedge, if not the cloth's own width.
    pub width: Option<Length>,
    /// Flaws, from the left selvedge and the cut end.
    pub flaws: Vec<Rect>,
    /// Where its first motif lies, if measured on this length.
    pub motif: Option<Spot>,
    /// It was bought for this job and is charged whole, used or not.
    pub charged: bool,
}

/// A part that is to stay where it was put on the length bought.
#[derive(Clone, Debug, PartialEq)]
pub struct Pin {
    /// The part's tag.
    pub part: String,
    /// Degrees it is turned; its first allowed turn if not said.
    pub turn: Option<f64>,
    /// The lower left corner of the box round it, from the left selvedge and the cut end.
    pub corner: Spot,
}

/// Which way a part's top lies on the roll.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// Towards the roll's end.
    UpTheRoll,
    /// Towards a selvedge.
    Railroaded,
    /// Whichever buys less.
    Either,
}

/// A cloth, vinyl or other roll goods.
#[derive(Clone, Debug, PartialEq)]
pub struct Cloth {
    /// As called in the job.
    pub name: String,
    /// Where it is bought.
    pub supplier: String,
    /// Selvedge to selvedge.
    pub width: Length,
    /// Not to be used along each edge.
    pub selvedge: Length,
    /// Price of one `unit`; for the customer's own cloth, nought.
    pub price: Decimal,
    /// Metre or yard.
    pub unit: Unit,
    /// Sold in steps of this.
    pub step: Length,
    /// Lost at the ends of a length bought.
    pub trim: Length,
    /// The longest piece sold.
    pub roll: Option<Length>,
    /// Thickness, for welt and stacks.
    pub thickness: Length,
    /// Grams a square metre, if known.
    pub weight: Option<f64>,
    /// What it is, if that was said.
    pub sort: Option<ClothSort>,
    /// Pile or print runs one way: no half turns.
    pub one_way: bool,
    /// Chalked on the back: the cutting plan is drawn as the cloth lies face down.
    pub chalk_back: bool,
    /// A flaw may lie beyond the staple line of a stapled cover.
    pub flaws_under: bool,
    /// Which way parts lie unless a piece says otherwise.
    pub direction: Direction,
    /// Its motifs.
    pub pattern: Option<Pattern>,
    /// Where the first motif lies was measured along the roll, on a length that is here; else the
    /// pattern's origin says nothing of it.
    pub start_measured: bool,
    /// Where the first motif lies across the roll was measured; else it is taken to be in the middle.
    pub across_measured: bool,
    /// Brought by the customer: `on_hand` is all there is.
    pub customers_own: bool,
    /// Lengths on hand.
    pub on_hand: Vec<Remnant>,
    /// Flaws of the first length bought, from the left selvedge and the cut end.
    pub flaws: Vec<Rect>,
    /// Parts that stay where they are on the first length bought.
    pub pins: Vec<Pin>,
    /// Instead of the shop's for cloth.
    pub uplift: Option<Uplift>,
    /// Costs nothing more: it is in another price already.
    pub included: bool,
}

impl Cloth {
    /// Whether it is known where the pattern will start on a length that is bought. Of the customer's own
    /// cloth what was measured is the length that is here; more of it starts anywhere.
    pub fn start_is_known(&self) -> bool {
        self.start_measured && !self.customers_own
    }

    /// Where the first motif of a length on hand lies, if that was measured.
    pub fn motif_of(&self, remnant: &Remnant) -> Option<Spot> {
        let own = self.pattern.as_ref().filter(|_| self.customers_own && self.start_measured);
        remnant.motif.or(own.map(|pattern| pattern.origin))
    }

    /// The width that may be used.
    pub fn usable(&self) -> Length {
        self.width - self.selvedge * 2
    }

    /// Degrees that a part may be turned on the roll, for one direction.
    pub fn turns(&self, direction: Direction) -> Vec<f64> {
        match (direction, self.one_way) {
            (Direction::UpTheRoll, true) => vec![0.0],
            (Direction::UpTheRoll, false) => vec![0.0, 180.0],
            (Direction::Railroaded, true) => vec![90.0],
            (Direction::Railroaded, false) => vec![90.0, 270.0],
            (Direction::Either, true) => vec![0.0, 90.0],
            (Direction::Either, false) => vec![0.0, 90.0, 180.0, 270.0],
        }
    }
}

/// A size that foam or board is sold in, or an offcut.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetSize {
    /// Along the grain for board.
    pub length: Length,
    /// Across.
    pub width: Length,
    /// Price of one.
    pub price: Decimal,
    /// How many offcuts of this size there are; `None` when it is bought.
    pub on_hand: Option<usize>,
}

/// A price by volume.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Volume {
    /// Of one unit.
    pub price: Decimal,
    /// Which unit.
    pub unit: VolumeUnit,
}

/// A unit of volume that foam is sold in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum VolumeUnit {
    /// 12 x 12 x 1 in.
    BoardFoot,
    /// A cubic metre.
    CubicMetre,
}

impl VolumeUnit {
    /// Both, with their words.
    pub const ALL: [(&'static str, Self); 2] =
        [("board ft", Self::BoardFoot), ("m3", Self::CubicMetre)];

    /// As written in a job file and on a list.
    pub const fn name(self) -> &'static str {
        match self {
            Self::BoardFoot => "board ft",
            Self::CubicMetre => "m3",
        }
    }

    /// Cubic millimetres of one. A board foot is 144 cubic inches; source: NIST Handbook 44, from memory.
    pub const fn cubic_mm(self) -> f64 {
        match self {
            Self::BoardFoot => 144.0 * 25.4 * 25.4 * 25.4,
            Self::CubicMetre => 1e9,
        }
    }
}

/// Foam or board.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetGoods {
    /// As called in the job.
    pub name: String,
    /// Where it is bought.
    pub supplier: String,
    /// Measured, since it enters every cover twice.
    pub thickness: Length,
    /// Kilograms a cubic metre.
    pub density: Option<f64>,
    /// Firmness grade, foam only: density says nothing of it.
    pub firmness: Option<String>,
    /// Parts keep their length along the sheet's.
    pub grain: bool,
    /// Width of the blade.
    pub kerf: Length,
    /// Sizes.
    pub sheets: Vec<SheetSize>,
    /// Sold by its volume, each part cut to size by the supplier: price of one unit, its word, and its
    /// cubic metres.
    pub by_volume: Option<Volume>,
    /// Costs nothing more: it is in another price already.
    pub included: bool,
    /// Instead of the shop's.
    pub uplift: Option<Uplift>,
}

/// What a sundry is used for; ties a take-off line to what is bought.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Use {
    /// Counted.
    Staples,
    /// By area.
    Adhesive,
    /// By length.
    WeltCord,
    /// By length.
    Zip,
    /// By length.
    Thread,
    /// By area.
    DustCover,
    /// By area: polyester or felt over the foam.
    Wrap,
    /// Counted.
    Screws,
    /// Counted.
    ScrewCaps,
    /// Counted.
    Clips,
    /// By length: tack strip.
    TackStrip,
    /// Counted.
    Buttons,
    /// By length: cord that buttons are pulled with.
    ButtonTwine,
    /// Counted: what closes a zip sold by length.
    ZipSliders,
    /// Counted by size.
    InnerCushions,
    /// Counted by size: what fills a bolster.
    BolsterForms,
    /// By area of a layer: fills channels and crowns.
    Wadding,
    /// By length: battens that a piece hangs on, on its back and on the wall.
    Cleats,
    /// By length: under springs or foam.
    Webbing,
    /// Counted.
    Springs,
    /// By length: lashes springs.
    LaidCord,
    /// By area.
    Hessian,
    /// By area of a layer: hair or fibre.
    Stuffing,
    /// By area.
    Calico,
    /// Counted: decorative nails.
    Nails,
    /// By length: gimp or braid.
    Gimp,
}

impl Use {
    /// All uses, in the order of a shopping list.
    pub const ALL: [Self; 26] = [
        Self::Staples,
        Self::Adhesive,
        Self::WeltCord,
        Self::Zip,
        Self::Thread,
        Self::DustCover,
        Self::Wrap,
        Self::Screws,
        Self::ScrewCaps,
        Self::Clips,
        Self::TackStrip,
        Self::Buttons,
        Self::ButtonTwine,
        Self::ZipSliders,
        Self::InnerCushions,
        Self::BolsterForms,
        Self::Wadding,
        Self::Cleats,
        Self::Webbing,
        Self::Springs,
        Self::LaidCord,
        Self::Hessian,
        Self::Stuffing,
        Self::Calico,
        Self::Nails,
        Self::Gimp,
    ];

    /// How it is measured.
    pub const fn measure(self) -> Measure {
        match self {
            Self::Adhesive
            | Self::DustCover
            | Self::Wrap
            | Self::Wadding
            | Self::Hessian
            | Self::Stuffing
            | Self::Calico => Measure::Area,
            Self::WeltCord
            | Self::Zip
            | Self::Thread
            | Self::TackStrip
            | Self::ButtonTwine
            | Self::Cleats
            | Self::Webbing
            | Self::LaidCord
            | Self::Gimp => Measure::Length,
            Self::Staples
            | Self::Screws
            | Self::ScrewCaps
            | Self::Clips
            | Self::Buttons
            | Self::ZipSliders
            | Self::InnerCushions
            | Self::BolsterForms
            | Self::Springs
            | Self::Nails => Measure::Count,
        }
    }

    /// As written in a job file and on a list.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Staples => "staples",
            Self::Adhesive => "adhesive",
            Self::WeltCord => "welt cord",
            Self::Zip => "zip",
            Self::Thread => "thread",
            Self::DustCover => "dust cover",
            Self::Wrap => "wrap",
            Self::Screws => "screws",
            Self::ScrewCaps => "screw caps",
            Self::Clips => "clips",
            Self::TackStrip => "tack strip",
            Self::Buttons => "buttons",
            Self::ButtonTwine => "button twine",
            Self::ZipSliders => "zip sliders",
            Self::InnerCushions => "inner cushions",
            Self::BolsterForms => "bolster forms",
            Self::Wadding => "wadding",
            Self::Cleats => "cleats",
            Self::Webbing => "webbing",
            Self::Springs => "springs",
            Self::LaidCord => "laid cord",
            Self::Hessian => "hessian",
            Self::Stuffing => "stuffing",
            Self::Calico => "calico",
            Self::Nails => "nails",
            Self::Gimp => "gimp",
        }
    }

    /// The message that says what it is.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Staples => "use-staples",
            Self::Adhesive => "use-adhesive",
            Self::WeltCord => "use-welt-cord",
            Self::Zip => "use-zip",
            Self::Thread => "use-thread",
            Self::DustCover => "use-dust-cover",
            Self::Wrap => "use-wrap",
            Self::Screws => "use-screws",
            Self::ScrewCaps => "use-screw-caps",
            Self::Clips => "use-clips",
            Self::TackStrip => "use-tack-strip",
            Self::Buttons => "use-buttons",
            Self::ButtonTwine => "use-button-twine",
            Self::ZipSliders => "use-zip-sliders",
            Self::InnerCushions => "use-inner-cushions",
            Self::BolsterForms => "use-bolster-forms",
            Self::Wadding => "use-wadding",
            Self::Cleats => "use-cleats",
            Self::Webbing => "use-webbing",
            Self::Springs => "use-springs",
            Self::LaidCord => "use-laid-cord",
            Self::Hessian => "use-hessian",
            Self::Stuffing => "use-stuffing",
            Self::Calico => "use-calico",
            Self::Nails => "use-nails",
            Self::Gimp => "use-gimp",
        }
    }
}

/// How a sundry is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// Pieces.
    Count,
    /// Metres.
    Length,
    /// Square metres.
    Area,
}

/// A sundry with its pack.
#[derive(Clone, Debug, PartialEq)]
pub struct Sundry {
    /// As called in the job.
    pub name: String,
    /// Where it is bought.
    pub supplier: String,
    /// What for.
    pub used_for: Use,
    /// How much is in a pack, in pieces, metres or square metres after its use.
    pub pack: Decimal,
    /// Price of a pack; nought if its cost is in the sundries percentage.
    pub price: Decimal,
    /// Staple leg, if it is staples.
    pub leg: Option<Length>,
    /// Size, if it is an inner cushion or a roll: for the piece that asks for this size.
    pub size: Vec<Length>,
    /// Costs nothing more: it is in another price already.
    pub included: bool,
}
