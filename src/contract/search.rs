//! `search`: ingredients by what is typed of their name.

use serde::{Deserialize, Serialize};

use super::Failure;
use crate::reading;

/// `{"ask":"search"}`, to find the ingredients that are called so, or nearly so, and `{"ask":"certificate"}`,
/// to understand the fatty acids of a certificate.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct TextRequest {
    /// A name in any language of the aliases, or what is typed of it so far; rows
    /// of an acid and its percentage.
    pub text: String,
}

/// The answer to `search`.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct SearchAnswer {
    /// Catalogue ids, likeliest first: those that are called so, then those with a word that
    /// begins so by how common they are.
    pub ids: Vec<&'static str>,
    /// The one that is meant; `null` where it could be several.
    pub one: Option<&'static str>,
    /// Nothing is called like that: these are through a spelling mistake, or come near.
    pub misspelt: bool,
    /// It is water, or mostly water: not for this tool.
    pub water: bool,
}

/// Works out `search`.
#[allow(clippy::unnecessary_wraps, reason = "as the other questions")]
pub(super) fn search(request: TextRequest) -> Result<SearchAnswer, Failure> {
    let reading::Found { ids, one, misspelt, water } = reading::search(&request.text);
    Ok(SearchAnswer { ids, one, misspelt, water })
}
