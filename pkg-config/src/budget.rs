//! The sizes of what is delivered.

use std::io::Write as _;

use anyhow::{Result, bail};
use flate2::{Compression, write::GzEncoder};

/// Sizes of one build, bytes.
#[derive(Default)]
pub(crate) struct Sizes {
    /// The engine, gzipped.
    pub(crate) engine: usize,
    /// All scripts and styles, gzipped each.
    pub(crate) scripts_and_styles: usize,
    /// All that is fetched until the page works offline, gzipped each.
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

/// What sounds an alarm, bytes: far above what a build weighs, so that it tells of something drawn in by mistake, and
/// nobody saves bytes for it.
const ENGINE_ALARM: usize = 300_000;
const SINGLE_FILE_ALARM: usize = 650_000;

/// Prints the sizes (1 kB = 1000 bytes); fails when one is above its alarm.
pub(crate) fn check(sizes: &Sizes) -> Result<()> {
    let rows = [
        ("engine, gzipped", sizes.engine, Some(ENGINE_ALARM)),
        ("script and style, gzipped", sizes.scripts_and_styles, None),
        ("first load, gzipped", sizes.first_load, None),
        ("single file", sizes.single_file, Some(SINGLE_FILE_ALARM)),
    ];
    let mut over = Vec::new();
    for (what, size, alarm) in rows {
        println!("  {what:<28}{:>7.1} kB", size as f64 / 1000.0);
        if let Some(alarm) = alarm.filter(|alarm| size > *alarm) {
            over.push(format!("{what}: {size} bytes, and {alarm} is the alarm"));
        }
    }
    if !over.is_empty() {
        bail!("much larger than it should be: {}", over.join("; "));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_alarm_sounds_above_its_size_only() {
        let sizes = |engine, single_file| Sizes { engine, single_file, ..Sizes::default() };
        check(&sizes(ENGINE_ALARM, SINGLE_FILE_ALARM)).unwrap();
        let said = check(&sizes(ENGINE_ALARM + 1, 0)).unwrap_err().to_string();
        assert!(said.contains("engine"), "{said}");
        let said = check(&sizes(0, SINGLE_FILE_ALARM + 1)).unwrap_err().to_string();
        assert!(said.contains("single file"), "{said}");
    }

    #[test]
    fn gzip_can_be_read_back() {
        let mut text = String::new();
        let packed = gzip(b"the same, the same, the same").unwrap();
        std::io::Read::read_to_string(&mut flate2::read::GzDecoder::new(&packed[..]), &mut text).unwrap();
        assert_eq!(text, "the same, the same, the same");
    }
}
