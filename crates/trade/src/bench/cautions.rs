//! What can hurt at each step. The usual cautions; local codes and licensed trades decide.

/// Stripping.
pub const EYES: &str = "caution-eyes";
/// Stripping.
pub const HANDS: &str = "caution-hands";
/// Old filling.
pub const DUST: &str = "caution-dust";
/// Old frames.
pub const PAINT: &str = "caution-paint";
/// Sawing and drilling.
pub const SAW: &str = "caution-saw";
/// Cutting by hand.
pub const BLADE: &str = "caution-blade";
/// Glueing.
pub const GLUE: &str = "caution-glue";
/// Stapling.
pub const STAPLER: &str = "caution-stapler";
/// Sewing.
pub const NEEDLE: &str = "caution-needle";
/// Hanging.
pub const OVERHEAD: &str = "caution-overhead";
/// Round sockets and switches.
pub const POWER: &str = "caution-power";
/// Carrying.
pub const LIFT: &str = "caution-lift";
/// Tying buttons.
pub const CORD: &str = "caution-cord";
/// Stripping what was pulled tight, and pulling it anew.
pub const TENSION: &str = "caution-tension";
/// Unpicking.
pub const SEAM_RIPPER: &str = "caution-seam-ripper";
/// Cutting foam with a saw.
pub const FOAM: &str = "caution-foam-saw";
/// Glue guns and hot air.
pub const HOT: &str = "caution-hot";
/// Pressing seams.
pub const STEAM: &str = "caution-steam";
