//! The lesser and the greater of two numbers.

/// The lesser of two numbers, neither of which may be NaN; unlike `f64::min`, which is a call in
/// WebAssembly, it takes one instruction.
#[inline(always)]
pub(crate) fn lesser(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}

/// The greater of two, likewise.
#[inline(always)]
pub(crate) fn greater(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}
