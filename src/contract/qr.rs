//! `qr`: a link as a code that a phone reads off paper.

use serde::{Deserialize, Serialize};

use std::fmt::Write as _;

use super::{ErrorKind, Failure};
use qrcodegen::{QrCode, QrCodeEcc};

/// The longest text, in bytes: more would print too fine for a phone to read.
const LONGEST: usize = 1_200;

/// `{"ask":"qr"}`.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct QrRequest {
    /// What the code says.
    pub text: String,
}

/// The answer to [`QrRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct QrAnswer {
    /// Modules along a side, without the quiet zone of 4.
    pub size: i32,
    /// The dark modules as the data of an SVG path, one unit a module.
    pub path: String,
}

pub(super) fn qr(request: QrRequest) -> Result<QrAnswer, Failure> {
    let too_long = || {
        Failure::new(
            ErrorKind::OutOfRange,
            "text",
            format!(
                "the link is too long for a code ({} of {LONGEST} bytes): share it as text",
                request.text.len()
            ),
        )
    };
    if request.text.len() > LONGEST {
        return Err(too_long());
    }
    let code = QrCode::encode_binary(request.text.as_bytes(), QrCodeEcc::Low).map_err(|_| too_long())?;
    let mut path = String::new();
    for y in 0..code.size() {
        let mut x = 0;
        while x < code.size() {
            let run = (x..code.size()).take_while(|x| code.get_module(*x, y)).count();
            if run > 0 {
                // Writing to a string cannot fail.
                let _ = write!(path, "M{x} {y}h{run}v1h-{run}z");
            }
            x += i32::try_from(run).unwrap_or(0) + 1;
        }
    }
    Ok(QrAnswer { size: code.size(), path })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The finder patterns that ISO/IEC 18004 puts in three corners: 7 dark modules along the edge.
    #[test]
    fn the_corners_are_finder_patterns() {
        let answer = qr(QrRequest { text: "https://example.org/#v1&recipe=shea-butter:100".to_owned() })
            .expect("fits");
        let size = answer.size;
        assert_eq!((size - 17) % 4, 0, "a version of the standard has 17 + 4 v modules");
        assert!(answer.path.starts_with("M0 0h7v1h-7z"));
        assert!(answer.path.contains(&format!("M{} 0h7v1h-7z", size - 7)));
        assert!(answer.path.contains(&format!("M0 {}h7v1h-7z", size - 1)));
    }

    #[test]
    fn a_text_too_long_is_refused() {
        let failure = qr(QrRequest { text: "x".repeat(LONGEST + 1) }).expect_err("too long");
        assert_eq!(failure.kind, ErrorKind::OutOfRange);
    }
}
