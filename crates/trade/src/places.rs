//! Where the work goes, and what papers are commonly asked for there. Prompts only, never a claim: which
//! rules apply is for the authority, the insurer and the customer to say.
//!
//! Source: the rules themselves are named so that they can be looked up; from memory.

/// What is looked at in a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    /// Furniture at home.
    Home,
    /// Seats where the public sits.
    Public,
    /// Beds and seats where people are cared for.
    Care,
    /// Ships and boats that carry passengers.
    Vessel,
    /// Cars, vans, buses.
    RoadVehicle,
    /// Caravans and motor homes.
    Caravan,
    /// Aircraft.
    Aircraft,
    /// Railway carriages.
    Train,
}

/// A place that can be chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// As written in a job file.
    pub name: &'static str,
    /// What is looked at there.
    pub rule: Rule,
}

const fn place(name: &'static str, rule: Rule) -> Place {
    Place { name, rule }
}

/// All places, as they are offered.
pub const PLACES: [Place; 24] = [
    place("home", Rule::Home),
    place("restaurant", Rule::Public),
    place("cafe", Rule::Public),
    place("pub", Rule::Public),
    place("bar", Rule::Public),
    place("hotel", Rule::Public),
    place("office", Rule::Public),
    place("waiting room", Rule::Public),
    place("shop", Rule::Public),
    place("school", Rule::Public),
    place("church", Rule::Public),
    place("theatre", Rule::Public),
    place("cinema", Rule::Public),
    place("sports hall", Rule::Public),
    place("hospital", Rule::Care),
    place("care home", Rule::Care),
    place("clinic", Rule::Care),
    place("boat", Rule::Vessel),
    place("ship", Rule::Vessel),
    place("vehicle", Rule::RoadVehicle),
    place("bus", Rule::RoadVehicle),
    place("caravan", Rule::Caravan),
    place("aircraft", Rule::Aircraft),
    place("train", Rule::Train),
];

/// The place of a name.
pub fn named(name: &str) -> Option<Place> {
    PLACES.into_iter().find(|place| place.name == name)
}

/// Countries whose rules are named, by their ISO 3166 letters; elsewhere the prompt is general.
pub const NAMED_COUNTRIES: [&str; 2] = ["GB", "US"];

/// Members of the European Union, whose standards for public seats are the same.
const UNION: [&str; 27] = [
    "AT", "BE", "BG", "HR", "CY", "CZ", "DK", "EE", "FI", "FR", "DE", "GR", "HU", "IE", "IT", "LV",
    "LT", "LU", "MT", "NL", "PL", "PT", "RO", "SK", "SI", "ES", "SE",
];

/// Whether letters are those of a country as they are written: two capitals.
pub fn is_country(letters: &str) -> bool {
    letters.len() == 2 && letters.bytes().all(|b| b.is_ascii_uppercase())
}

impl Place {
    /// The messages that say what is commonly asked for there, in a country if it is known.
    pub fn asked_for(self, country: &str) -> Vec<&'static str> {
        let in_union = UNION.contains(&country);
        match (self.rule, country) {
            (Rule::Home, "GB") => vec!["evidence-home-gb"],
            (Rule::Home, "US") => vec!["evidence-home-us"],
            (Rule::Home, _) => vec!["evidence-home"],
            (Rule::Public, "GB") => vec!["evidence-public-gb", "evidence-abrasion"],
            (Rule::Public, "US") => vec!["evidence-public-us", "evidence-abrasion"],
            (Rule::Public, _) if in_union => vec!["evidence-public-eu", "evidence-abrasion"],
            (Rule::Public, _) => vec!["evidence-public", "evidence-abrasion"],
            (Rule::Care, "GB") => vec!["evidence-public-gb", "evidence-care", "evidence-abrasion"],
            (Rule::Care, _) => vec!["evidence-public", "evidence-care", "evidence-abrasion"],
            (Rule::Vessel, _) => vec!["evidence-vessel"],
            (Rule::RoadVehicle, "US") => vec!["evidence-vehicle-us", "evidence-air-bags"],
            (Rule::RoadVehicle, _) => vec!["evidence-vehicle", "evidence-air-bags"],
            (Rule::Caravan, "GB") => vec!["evidence-caravan-gb", "evidence-air-bags"],
            (Rule::Caravan, _) => vec!["evidence-caravan", "evidence-air-bags"],
            (Rule::Aircraft, _) => vec!["evidence-aircraft"],
            (Rule::Train, _) if in_union || country == "GB" => vec!["evidence-train-eu"],
            (Rule::Train, _) => vec!["evidence-train"],
        }
    }

    /// Seats there may hold air bags and sensors.
    pub fn has_air_bags(self) -> bool {
        matches!(self.rule, Rule::RoadVehicle | Rule::Caravan)
    }
}
