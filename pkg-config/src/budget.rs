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

/// What a size should stay below, bytes, and what fails a build because something must have been drawn in by
/// mistake. The alarms have sounded since own lots can be learned, each rung of surety is searched for and a
/// notebook, a class and what cannot be are told: each brings more than its kilobytes cost. A library drawn
/// in by mistake is a hundred of them, so that failing comes a fifth above what there is.
struct Alarm {
    sounds: usize,
    fails: usize,
}

const ENGINE_ALARM: Alarm = Alarm { sounds: 300_000, fails: 580_000 };
const SINGLE_FILE_ALARM: Alarm = Alarm { sounds: 650_000, fails: 1_300_000 };

/// Prints the sizes (1 kB = 1000 bytes), and says which are above their alarm; fails far above it.
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
        let Some(alarm) = alarm else { continue };
        if size > alarm.fails {
            over.push(format!("{what}: {size} bytes, and {} is the most", alarm.fails));
        } else if size > alarm.sounds {
            println!(
                "  ALARM: {} bytes above the {} that it should stay below",
                size - alarm.sounds,
                alarm.sounds
            );
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
    fn a_build_fails_far_above_its_alarm_only() {
        let sizes = |engine, single_file| Sizes { engine, single_file, ..Sizes::default() };
        check(&sizes(ENGINE_ALARM.fails, SINGLE_FILE_ALARM.fails)).unwrap();
        let said = check(&sizes(ENGINE_ALARM.fails + 1, 0)).unwrap_err().to_string();
        assert!(said.contains("engine"), "{said}");
        let said = check(&sizes(0, SINGLE_FILE_ALARM.fails + 1)).unwrap_err().to_string();
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
