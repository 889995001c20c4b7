//! Bare strip instances in the open format of the nesting literature, and lays of them.
//!
//! `strip_height` is the fixed width, x runs along the strip. Inside, y runs along the roll: both axes
//! are swapped coming in and going out, which mirrors shapes and turns alike and so changes nothing.

use geometry::{Length, Polygon, Spot};
use lay::{Answer, Buying, Instance, Item, Rule};
use serde::{Deserialize, Serialize};
use trade::fault::Fault;

#[derive(Deserialize)]
struct FileStrip {
    #[serde(default)]
    name: String,
    strip_height: f64,
    items: Vec<FileItem>,
}

#[derive(Deserialize)]
struct FileItem {
    id: Option<serde_json::Value>,
    demand: f64,
    allowed_orientations: Option<Vec<f64>>,
    shape: FileShape,
}

#[derive(Deserialize)]
struct FileShape {
    data: Vec<[f64; 2]>,
}

/// An instance as read.
pub struct StripFile {
    /// Its name.
    pub name: String,
    /// As laid.
    pub instance: Instance,
    ids: Vec<serde_json::Value>,
    height: f64,
}

/// What `lay --json` prints.
#[derive(Serialize)]
pub struct StripResult {
    /// Of the instance.
    pub name: String,
    /// Used, in the instance's units.
    pub length: f64,
    /// Item area over length times height.
    pub density: f64,
    /// No lay is shorter.
    pub least_possible: f64,
    /// The lay is as short as can be.
    pub proven: bool,
    /// Taken.
    pub seconds: f64,
    /// Where each copy lies.
    pub placements: Vec<StripPlacement>,
}

/// One copy: turned about its own origin, then moved.
#[derive(Serialize)]
pub struct StripPlacement {
    /// Id of the item.
    pub item: serde_json::Value,
    /// Which copy.
    pub copy: usize,
    /// Along the strip.
    pub x: f64,
    /// Across.
    pub y: f64,
    /// Counter-clockwise.
    pub turn_deg: f64,
}

/// One unit of the file is taken as a millimetre: a millionth of it is the finest step.
fn swap(p: [f64; 2]) -> Spot {
    Spot::new(Length::from_mm(p[1]).nm(), Length::from_mm(p[0]).nm())
}

/// Reads an instance.
///
/// # Errors
/// Everything that is wrong with it.
pub fn read(text: &str) -> Result<StripFile, Vec<Fault>> {
    let wrong = |what: String, remedy: &str| Fault::typed("instance", "", what, remedy);
    let file: FileStrip = serde_json::from_str(text).map_err(|e| {
        vec![wrong(
            format!("line {}: {e}", e.line()),
            "strip_height and items with demand and shape.data are needed",
        )]
    })?;
    let mut faults = Vec::new();
    let fine = |x: f64| x.is_finite() && x.abs() < 1e8;
    if !(fine(file.strip_height) && file.strip_height > 0.0) {
        faults.push(wrong(
            format!("strip_height is {}", file.strip_height),
            "it must be above 0 and below a hundred million",
        ));
    }
    let mut items = Vec::new();
    let mut ids = Vec::new();
    for (i, item) in file.items.into_iter().enumerate() {
        let id = item.id.unwrap_or_else(|| i.into());
        let name = id.to_string();
        if !(item.demand.fract() == 0.0 && (0.0..=100_000.0).contains(&item.demand)) {
            faults.push(wrong(
                format!("item {name}: a demand of {}", item.demand),
                "a whole number of copies",
            ));
            continue;
        }
        if item.shape.data.iter().flatten().any(|x| !fine(*x)) {
            faults.push(wrong(
                format!("item {name}: a coordinate is not a number"),
                "coordinates must be finite and below a hundred million",
            ));
            continue;
        }
        let shape = Polygon::new(item.shape.data.iter().map(|p| swap(*p)).collect());
        if !shape.is_simple() {
            let what =
                if shape.twice_area() == 0 { "has no area" } else { "crosses or touches itself" };
            faults.push(wrong(
                format!("item {name}: its outline {what}"),
                "give the corners in order, once round",
            ));
            continue;
        }
        // No list means free rotation in the literature; quarter turns are what is laid here.
        let turns = item.allowed_orientations.unwrap_or_else(|| vec![0.0, 90.0, 180.0, 270.0]);
        if turns.is_empty() || turns.iter().any(|t| !fine(*t)) {
            faults.push(wrong(
                format!("item {name}: no orientation it may take"),
                "list degrees, or leave allowed_orientations out",
            ));
            continue;
        }
        if item.demand > 0.0 {
            // Swapping the axes turns the other way round.
            let turns = turns.into_iter().map(|t| (-t).rem_euclid(360.0)).collect();
            items.push(Item {
                name,
                shape,
                count: item.demand as usize,
                turns,
                rule: Rule::Free,
                exact: false,
                face: None,
            });
            ids.push(id);
        }
    }
    if items.is_empty() && faults.is_empty() {
        faults.push(wrong("there are no items".into(), "add items with a demand above 0"));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let buying = Buying {
        left: Length::ZERO,
        right: Length::from_mm(file.strip_height),
        roll: None,
        trim: Length::ZERO,
        step: Length::from_nm(1),
        flaws: Vec::new(),
    };
    let instance = Instance { items, on_hand: Vec::new(), buying, pattern: None, pins: Vec::new() };
    Ok(StripFile { name: file.name, instance, ids, height: file.strip_height })
}

impl StripFile {
    /// A lay in the instance's own units and axes.
    pub fn result(&self, answer: &Answer, seconds: f64) -> StripResult {
        let length = answer.lay.new_length().mm();
        let area: f64 =
            self.instance.items.iter().map(|i| i.shape.area_mm2() * i.count as f64).sum();
        let placements = answer
            .lay
            .strips
            .iter()
            .flat_map(|strip| &strip.placements)
            .map(|p| StripPlacement {
                item: self.ids[p.item].clone(),
                copy: p.copy,
                x: Length::from_nm(p.at.y).mm(),
                y: Length::from_nm(p.at.x).mm(),
                turn_deg: (-p.turn).rem_euclid(360.0),
            })
            .collect();
        StripResult {
            name: self.name.clone(),
            length,
            density: area / (length * self.height),
            least_possible: answer.bound.length.mm(),
            proven: answer.proven,
            seconds,
            placements,
        }
    }
}
