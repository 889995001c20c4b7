//! What a form asks of every piece besides its measures, and the words in which it asks.

/// How a field is filled in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Input {
    /// A length as on the tape, or a name.
    Text,
    /// Any number.
    Number,
    /// Yes or no.
    Flag,
    /// One of some words; the first when nothing is said.
    Choice(&'static [&'static str]),
}

impl Input {
    /// As a form says it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Number => "number",
            Self::Flag => "flag",
            Self::Text | Self::Choice(_) => "text",
        }
    }
}

/// Fields that all pieces have besides what is measured.
pub const COMMON: [(&str, Input); 15] = [
    ("hand", Input::Choice(&["neither", "left", "right", "pair"])),
    ("foam_condition", Input::Choice(&["renew", "keep", "repair"])),
    ("board_condition", Input::Choice(&["renew", "keep", "repair"])),
    ("pattern", Input::Choice(&["", "centred", "free"])),
    ("direction", Input::Choice(&["", "up the roll", "railroaded", "either"])),
    ("foam_edge", Input::Choice(&["", "square", "bevelled", "pulled down"])),
    ("foam_beyond", Input::Text),
    ("boxing_in_step", Input::Flag),
    ("wrap", Input::Flag),
    ("dust_cover", Input::Flag),
    ("seam_allowed", Input::Flag),
    ("joined", Input::Flag),
    ("price_each", Input::Number),
    ("strip", Input::Flag),
    ("welt_grain", Input::Choice(&["cross", "straight", "bias"])),
];

/// Words of a choice, of a kind, of a shape as a tradesperson says them, with a capital.
pub fn title(word: &str) -> String {
    let known = match word {
        "" => "As usual",
        "slip seat" => "Drop-in seat",
        "measured" => "Flat piece by size",
        "cut pieces" => "Chair or sofa by its cuts",
        "welt" => "Piping alone",
        "pad" => "Pad with folded ends",
        "knife-edge cushion" => "Scatter cushion",
        "waterfall cushion" => "Waterfall cushion",
        "ell" => "L-shape",
        "tee" => "T-shape",
        "disc" => "Round",
        "sides" => "Sides and diagonals",
        "offsets" => "Heights from a line",
        "corners" => "Corner points",
        "traced" => "From a photograph",
        "renew" => "New",
        "keep" => "Reuse",
        "none" => "None",
        "neither" => "No",
        "free" => "Anywhere",
        "centred" => "Centre it",
        "cross" => "Across the roll",
        "straight" => "Along the roll",
        "up the roll" => "Up the roll",
        "either" => "Try both",
        other => return capital(other),
    };
    known.into()
}

/// The first letter large.
pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    let first: String = letters.next().map(char::to_uppercase).into_iter().flatten().collect();
    format!("{first}{}", letters.as_str())
}

/// A measure's caption in a form, by its kind.
pub fn caption(kind: &str, key: &str) -> String {
    let known = match (kind, key) {
        ("slip seat", "front") => "Across the front",
        ("slip seat", "back") => "Across the back",
        ("wedge cushion", "front") => "Thickness at the front",
        ("wedge cushion", "back") => "Thickness at the back",
        ("waterfall cushion", "front") => "Front",
        ("boxed cushion", "width") => "Width at the front",
        ("boxed cushion", "back_width") => "Width at the back",
        ("skirt", "sides") => "Each side",
        ("skirt", "fold") => "Depth of a fold",
        ("curved back", "chord") => "Straight across",
        ("curved back", "rise") => "Depth of the curve",
        ("bolster", "ends") => "Ends",
        ("knife-edge cushion", "back") => "Back",
        ("knife-edge cushion", "overlap") => "Back halves lie over each other by",
        (_, "filling_beyond") => "Filling larger than the cover by",
        (_, "half_row") => "A half row of diamonds more",
        (_, "fullness_percent") => "Fullness, % of the run",
        (_, "layer") => "Layers, from the frame out",
        ("layer", "what") => "Layer",
        ("layer", "length") => "Length of one",
        ("layer", "spacing") => "From nail to nail",
        ("layer", "minutes") => "Minutes, if not from the rate book",
        (_, "x") => "Centre from the left",
        (_, "y") => "Centre from the bottom",
        (_, "what") => "Opening for",
        (_, "body") => "Width of the body",
        (_, "ear") => "Depth of the ear",
        (_, "ear_side") => "Ear on which side",
        (_, "depth") => "Depth over all",
        (_, "radius") => "Corner radius",
        (_, "radii") => "Radius of each corner",
        (_, "diagonals") => "Diagonals",
        (_, "across") => "Corner to corner",
        (_, "inner") => "Diameter of the hole",
        (_, "crown") => "Crown",
        (_, "offset") => "Top starts in from the left by",
        (_, "cut_out") => "Openings",
        (_, "notch") => "Notches",
        (_, "side" | "edge") => "Edges",
        (_, "welt") => "Piping",
        (_, "zip_side") => "Zip on side",
        (_, "large") => "Large end, across",
        (_, "small") => "Small end, across",
        (_, "hand") => "Handed",
        (_, "foam_condition") => "Foam",
        (_, "board_condition") => "Board",
        (_, "foam_edge") => "Foam at the edges",
        (_, "foam_beyond") => "Foam larger than its board by",
        (_, "boxing_in_step") => "Pattern runs on down the boxing",
        (_, "wrap") => "Wadding round the foam",
        (_, "dust_cover") => "Dust cover",
        (_, "seam_allowed") => "May be joined",
        (_, "joined") => "Joined down the middle",
        (_, "price_each") => "Agreed price for the work on one",
        (_, "strip") => "Old cover comes off",
        (_, "welt_grain") => "Piping is cut",
        (_, "direction") => "Runs",
        (_, "pattern") => "Pattern",
        _ => return capital(&key.replace('_', " ")),
    };
    known.into()
}
