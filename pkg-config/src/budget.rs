//! The size budgets of what is delivered.

use std::io::Write as _;

use anyhow::{Result, bail};
use flate2::{Compression, write::GzEncoder};

/// Sizes of one build, bytes.
pub(crate) struct Sizes {
    /// The engine, gzipped.
    pub(crate) engine: usize,
    /// All scripts and styles, gzipped each.
    pub(crate) scripts_and_styles: usize,
    /// All that a first visit fetches, gzipped each.
    pub(crate) first_load: usize,
    /// The self-contained file as it is.
    pub(crate) single_file: usize,
}

/// What a host sends for this content: gzip at its best level.
pub(crate) fn gzip(bytes: &[u8]) -> Result<Vec<u8>> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(bytes)?;
    Ok(encoder.finish()?)
}

/// Prints sizes against budgets (1 kB = 1000 bytes); fails when any is exceeded.
pub(crate) fn check(sizes: &Sizes) -> Result<()> {
    let rows = rows(sizes);
    for Row { what, size, budget } in &rows {
        let mark = if size > budget { "  EXCEEDED" } else { "" };
        println!("  {what:<26}{:>7.1} kB of {:>3} kB{mark}", *size as f64 / 1000.0, budget / 1000);
    }
    let exceeded: Vec<_> = rows.iter().filter(|row| row.size > row.budget).map(|row| row.what).collect();
    if !exceeded.is_empty() {
        bail!("larger than the budget: {}", exceeded.join(", "));
    }
    Ok(())
}

struct Row {
    what: &'static str,
    size: usize,
    budget: usize,
}

fn rows(sizes: &Sizes) -> [Row; 4] {
    let row = |what, size, kilobytes: usize| Row { what, size, budget: kilobytes * 1000 };
    [
        row("engine, gzipped", sizes.engine, 110),
        row("script and style, gzipped", sizes.scripts_and_styles, 60),
        row("first load, gzipped", sizes.first_load, 200),
        row("single file", sizes.single_file, 500),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_budget_is_kept_to_the_byte() {
        let sizes =
            |engine| Sizes { engine, scripts_and_styles: 60_000, first_load: 200_000, single_file: 500_000 };
        check(&sizes(110_000)).unwrap();
        let said = check(&sizes(110_001)).unwrap_err().to_string();
        assert!(said.contains("engine"), "{said}");
    }

    #[test]
    fn gzip_can_be_read_back() {
        let mut text = String::new();
        let packed = gzip(b"the same, the same, the same").unwrap();
        std::io::Read::read_to_string(&mut flate2::read::GzDecoder::new(&packed[..]), &mut text).unwrap();
        assert_eq!(text, "the same, the same, the same");
    }
}
