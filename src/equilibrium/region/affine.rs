//! Figures of a mixture of which up to three ingredients change: each is affine in their amounts.

/// Grams of the ingredients that change; those that are fewer than three leave the last at 0.
pub(super) type Amounts = [f64; 3];

/// What the fixed part gives, and what a gram of each changing ingredient adds.
pub(super) type Affine = [f64; 4];

/// The figure at these amounts.
#[inline(always)]
pub(super) fn value(parts: &Affine, amounts: &Amounts) -> f64 {
    parts[0] + amounts[0] * parts[1] + amounts[1] * parts[2] + amounts[2] * parts[3]
}

/// Whether any part is above 0.
#[inline(always)]
pub(super) fn is_any(parts: &Affine) -> bool {
    parts[0] > 0.0 || parts[1] > 0.0 || parts[2] > 0.0 || parts[3] > 0.0
}
