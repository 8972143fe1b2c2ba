//! The minor components of a fat where nobody states them.
//!
//! Those of a refined seed oil, from memory of general literature. Without any, a fat
//! comes out some 8 points too solid.

/// Unsaponifiable matter, percent by mass.
pub const UNSAPONIFIABLE_PERCENT: f64 = 1.0;

/// Free fatty acids, percent by mass.
pub const FREE_ACID_PERCENT: f64 = 0.3;

/// Diglycerides, percent by mass.
pub const DIGLYCERIDE_PERCENT: f64 = 1.5;
