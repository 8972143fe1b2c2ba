//! `certificate`: the fatty acids of a certificate of analysis that was pasted as text.

use serde::Serialize;

use super::{Failure, TextRequest};
use crate::reading;

/// The answer to `certificate`.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct CertificateAnswer {
    /// Common names that an own ingredient takes, each with its percent by mass.
    pub fatty_acids: Vec<(&'static str, f64)>,
    /// Rows with a number that were not understood.
    pub unread: Vec<String>,
    /// The text is a recipe, to be read by `read`.
    pub is_recipe: bool,
}

/// Works out `certificate`.
pub(super) fn certificate(request: TextRequest) -> Result<CertificateAnswer, Failure> {
    let is_recipe = reading::is_recipe(&request.text);
    let read = reading::certificate(&request.text);
    let reading::Certificate { fatty_acids, unread } =
        if is_recipe { read.unwrap_or_default() } else { read? };
    Ok(CertificateAnswer { fatty_acids, unread, is_recipe })
}
