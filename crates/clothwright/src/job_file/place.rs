//! From a key's name to its place in the file.

use serde_spanned::Spanned;
use std::ops::Range;
use toml::de::{DeTable, DeValue};

/// Where a key such as `piece.2.corner.0.radius` is in the file; the nearest table above it if it is
/// not there. `numbers` maps pieces as planned to pieces in the file.
pub fn span_of(root: &DeTable, at: &str, numbers: &[usize]) -> Range<usize> {
    let mut span = 0..0;
    let mut table = Some(root);
    let mut array = None;
    let mut first = true;
    let mut in_pieces = false;
    for part in at.split('.') {
        let value: Option<&Spanned<DeValue>> = match (table, array) {
            (Some(table), _) => table.get(part),
            (None, Some(list)) => {
                let list: &toml::de::DeArray = list;
                let index = part.parse::<usize>().ok();
                let index =
                    index.map(|i| if in_pieces { numbers.get(i).copied().unwrap_or(i) } else { i });
                index.and_then(|i| list.get(i))
            }
            _ => None,
        };
        in_pieces = first && part == "piece";
        first = false;
        let Some(value) = value else { break };
        span = value.span();
        table = value.get_ref().as_table();
        array = value.get_ref().as_array();
    }
    span
}
