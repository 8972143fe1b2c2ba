//! `certificate`: the fatty acids of a certificate of analysis that was pasted as text.

use serde::{Deserialize, Serialize};

use super::Failure;
use crate::reading;

/// `{"ask":"certificate"}`: understand the fatty acids of a certificate.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct CertificateRequest {
    /// The text: rows of an acid and its percentage.
    pub text: String,
}

/// The answer to [`CertificateRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct CertificateAnswer {
    /// Common names that an own ingredient takes, each with its percent by mass.
    pub fatty_acids: Vec<(&'static str, f64)>,
    /// Rows with a number that were not understood.
    pub unread: Vec<String>,
}

/// Works out [`CertificateRequest`].
pub(super) fn certificate(request: CertificateRequest) -> Result<CertificateAnswer, Failure> {
    let reading::Certificate { fatty_acids, unread } = reading::certificate(&request.text)?;
    Ok(CertificateAnswer { fatty_acids, unread })
}
