//! The packager.

fn main() {}
