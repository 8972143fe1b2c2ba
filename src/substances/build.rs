//! Reads the data files in `src/substances/data` and writes them as static Rust tables, so that a bad
//! figure stops the build and nothing is parsed in the browser.

fn main() {}
