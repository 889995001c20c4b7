//! Classes of work and goods that tax may treat differently.

/// Kinds of line that tax may treat differently.
///
/// Source: California Regulation 1550 (a)-(b) and annotation 493.0100 split a re-covering contract
/// into goods, fabrication, applying and repair; other places tax otherwise, hence settings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Class {
    /// Cloth, foam, board, sundries.
    Goods,
    /// Cutting and sewing new covers, making cushions.
    Fabrication,
    /// Stripping and applying covers.
    Application,
    /// Mending boards and frames.
    Repair,
    /// Work at the customer's place.
    Fitting,
    /// Going there.
    Travel,
    /// Minimum charge, surcharges and rounding that belong to no other.
    Other,
}

impl Class {
    /// All classes.
    pub const ALL: [Self; 7] = [
        Self::Goods,
        Self::Fabrication,
        Self::Application,
        Self::Repair,
        Self::Fitting,
        Self::Travel,
        Self::Other,
    ];

    /// As written in a job file.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Goods => "goods",
            Self::Fabrication => "fabrication",
            Self::Application => "application",
            Self::Repair => "repair",
            Self::Fitting => "fitting",
            Self::Travel => "travel",
            Self::Other => "other",
        }
    }
}
