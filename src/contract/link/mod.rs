//! `link` and `open-link`: the state of the page to and from the fragment of an address.

mod parts;
mod v1;

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::{ErrorKind, Failure, State, wire};
use crate::quote::{is_unruly, quoted};

/// `{"ask":"link"}`: write the state as a fragment.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LinkRequest {
    /// What the link should carry.
    pub state: State,
    /// The state may be of a later version, in a file: what is not known of it is left out, and the answer
    /// says so. Else it is refused.
    #[serde(default)]
    pub may_be_newer: bool,
}

/// The answer to [`LinkRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LinkAnswer {
    /// The fragment, without `#`.
    pub fragment: String,
    /// The state holds what this version does not know, which was left out.
    pub newer: bool,
}

/// `{"ask":"open-link"}`: read a fragment.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct OpenLinkRequest {
    /// The fragment, with or without `#`.
    pub fragment: String,
}

/// The answer to [`OpenLinkRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct OpenLinkAnswer {
    /// What the link carried.
    pub state: State,
    /// What there is to know of it.
    pub remarks: Vec<LinkRemark>,
}

/// What there is to know of a link that was opened.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum LinkRemark {
    /// It has a part that this version does not know, which was left out.
    UnknownPart {
        /// The key of the part.
        key: String,
    },
    /// It asked for a margin, which reworks had before they were judged by how surely a butter holds: it asks
    /// for 9 batches in 10 now.
    MarginIsSurety,
    /// It was made before reworks asked for room: what it finds may be another recipe now.
    FindsOtherwise,
}

/// The longest fragment that is read, in bytes: far above any real recipe, low enough that a hostile link is
/// refused before it costs anything.
const LONGEST: usize = 16_000;

pub(super) fn write(request: &Value) -> Result<LinkAnswer, Failure> {
    let (LinkRequest { mut state, .. }, newer) = match wire::read::<LinkRequest>(request) {
        Ok(asked) => (asked, false),
        Err(failure) => match wire::read_what_is_known::<LinkRequest>(request)? {
            asked if asked.may_be_newer => (asked, true),
            _ => return Err(failure),
        },
    };
    let State { recipe, prices, .. } = &mut state;
    prices.retain(|key, _| recipe.iter().any(|item| item.key() == key));
    let fragment = parts::write(&state).map_err(|failure| failure.below("state"))?;
    Ok(LinkAnswer { fragment, newer })
}

pub(super) fn open(request: OpenLinkRequest) -> Result<OpenLinkAnswer, Failure> {
    let fragment = request.fragment.trim();
    let text = fragment.strip_prefix('#').unwrap_or(fragment);
    if text.len() > LONGEST {
        return Err(bad("", &format!("it is longer than {LONGEST} bytes")));
    }
    let after_digits =
        text.strip_prefix('v').map(|rest| rest.trim_start_matches(|it: char| it.is_ascii_digit()));
    let version = &text[..text.len() - after_digits.map_or(text.len(), str::len)];
    let (state, remarks) = match version {
        "v1" if text == version || text.starts_with("v1&") => {
            let (state, mut remarks) = v1::read(text)?;
            if !state.recipe.is_empty() && !remarks.contains(&LinkRemark::MarginIsSurety) {
                remarks.push(LinkRemark::FindsOtherwise);
            }
            (state, remarks)
        }
        // Some programs encode what they need not; nothing of such a link means a `%` itself.
        "v2" => parts::read(&decoded(text).ok_or_else(|| bad("", "it is not percent-encoded UTF-8"))?)?,
        "" | "v" | "v0" | "v1" => return Err(bad("", "it does not begin with its version, `v1` or `v2`")),
        _ => {
            return Err(Failure::new(
                ErrorKind::BadLink,
                "fragment",
                "this link was made by a later version of the page: reload the page to update it, then open the link again",
            ));
        }
    };
    Ok(OpenLinkAnswer { state, remarks })
}

/// Percent-decoded UTF-8, with `+` for a space.
fn decoded(value: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(value.len());
    let mut rest = value.bytes();
    while let Some(byte) = rest.next() {
        match byte {
            b'%' => {
                let digit = |byte: u8| char::from(byte).to_digit(16);
                let (high, low) = (digit(rest.next()?)?, digit(rest.next()?)?);
                bytes.push(u8::try_from(high * 16 + low).ok()?);
            }
            b'+' => bytes.push(b' '),
            other => bytes.push(other),
        }
    }
    String::from_utf8(bytes).ok()
}

fn unknown_part(key: &str) -> LinkRemark {
    LinkRemark::UnknownPart { key: quoted(key) }
}

fn bad(key: &str, what: &str) -> Failure {
    let place = if key.is_empty() { String::new() } else { format!(" in its part `{}`", quoted(key)) };
    Failure::new(
        ErrorKind::BadLink,
        "fragment",
        format!(
            "This link cannot be read{place}: {what}. Ask for it again, or start from the recipe on the screen."
        ),
    )
}

#[cfg(test)]
mod tests;
