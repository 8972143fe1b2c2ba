//! What a butter is packed in.

use serde::{Deserialize, Serialize};

/// What it is packed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Pack {
    /// A plastic jar with a screw lid.
    Jar,
    /// A glass jar with a screw lid.
    GlassJar,
    /// A metal tin with a slip lid.
    Tin,
    /// A plastic stick or tube.
    Tube,
    /// A paperboard tube.
    PaperTube,
    /// A bar in a paper wrap or a carton.
    Wrap,
}

impl Pack {
    /// Whether it lets a liquid through: paper and board soak and open.
    pub fn leaks(self) -> bool {
        matches!(self, Pack::PaperTube | Pack::Wrap)
    }
}
