//! Bench steps, written out piece by piece.
