//! What can hurt at each step. The usual cautions; local codes and licensed trades decide.

/// Stripping.
pub const EYES: &str = "Wear eye protection: staples and tacks fly.";
/// Stripping.
pub const HANDS: &str = "Keep the free hand behind the blade or lifter; collect staples in a tin.";
/// Old filling.
pub const DUST: &str = "Wear a dust mask for old filling. Bag mouldy or vermin-ridden filling and bin it; never reuse it.";
/// Old frames.
pub const PAINT: &str = "Old paint may hold lead: do not sand it dry.";
/// Sawing and drilling.
pub const SAW: &str = "Guard on, eyes, ears and dust mask; clamp the board.";
/// Cutting by hand.
pub const BLADE: &str = "Cut away from the body; put the knife down closed.";
/// Glueing.
pub const GLUE: &str =
    "Ventilate, no flame or spark in the room, follow the adhesive's data sheet and its open time.";
/// Stapling.
pub const STAPLER: &str = "Air off before clearing or loading; try the pressure on scrap; keep the other hand clear of the nose.";
/// Sewing.
pub const NEEDLE: &str = "Fingers clear of the needle; power off to thread.";
/// Hanging.
pub const OVERHEAD: &str =
    "Overhead and wall panels: two people, and a fixing that carries the weight.";
/// Round sockets and switches.
pub const POWER: &str =
    "Sockets and switches: power off, and a licensed electrician where the law asks for one.";
/// Carrying.
pub const LIFT: &str = "Long pieces: two people.";
/// Tying buttons.
pub const CORD: &str = "Button cord cuts: wear gloves, pull straight, nobody opposite the needle.";
