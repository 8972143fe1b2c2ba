//! The page as one file that works when opened from disk, with no server at all.

use std::fs;
use std::path::Path;

use anyhow::{Result, bail};
use base64::{Engine as _, engine::general_purpose::STANDARD as BASE64};
use sha2::{Digest as _, Sha256};

use crate::budget::gzip;
use crate::bundle::{self, Icon};
use crate::html::Page;
use crate::policy::policy_tag;
use crate::project::Project;

/// Writes the self-contained page.
pub(crate) fn write(project: &Project, engine: &Path, to: &Path, hosted_at: Option<&str>) -> Result<()> {
    let www = project.www();
    let (script, style) = bundle::inline_bundles(project, hosted_at)?;
    let worker = String::from_utf8(bundle::worker(project)?)?;
    for (what, text) in [("main script", &script), ("worker", &worker)] {
        fits_in_a_script_tag(what, text)?;
    }
    if style.to_ascii_lowercase().contains("</style") {
        bail!("the style has `</style` in it, which would end its tag in the single file");
    }
    let packed = BASE64.encode(gzip(&fs::read(engine)?)?);

    let mut page = Page::new(&fs::read_to_string(www.join("index.html"))?);
    for icon in bundle::icons(&www)? {
        page.replace_all(&format!("\"{}\"", icon.reference), &format!("\"{}\"", data_url(&icon)));
    }
    page.fill("policy", &policy_tag(&policy(&script, &style)))?;
    page.fill("preload", "")?;
    page.fill("card", "")?;
    page.replace("<link rel=\"manifest\" href=\"manifest.webmanifest\">", "")?;
    page.replace("<link rel=\"stylesheet\" href=\"styles/main.css\">", &format!("<style>{style}</style>"))?;
    page.replace(
        "<script type=\"module\" src=\"src/main.ts\"></script>",
        &format!("<script type=\"module\">{script}</script>"),
    )?;
    // Blocks of data: a browser neither runs them nor asks the policy about them. See www/src/delivery.ts.
    page.fill(
        "embedded",
        &format!(
            "<script type=\"application/gzip\" id=\"engine-wasm-gz\">{packed}</script>\n\
             <script type=\"text/plain\" id=\"engine-worker\">{worker}</script>"
        ),
    )?;
    Ok(fs::write(to, page.finish()?)?)
}

/// Nothing may run but these two, the engine, and the worker, which is a blob of the page's own.
fn policy(script: &str, style: &str) -> String {
    let hash = |text: &str| format!("'sha256-{}'", BASE64.encode(Sha256::digest(text)));
    format!(
        "default-src 'none'; script-src {} 'wasm-unsafe-eval'; style-src {}; img-src data: blob:; \
         worker-src blob:; base-uri 'none'; form-action 'none'; require-trusted-types-for 'script'; \
         trusted-types meltmargin lit-html",
        hash(script),
        hash(style)
    )
}

fn data_url(icon: &Icon) -> String {
    let kind = if icon.extension == "svg" { "svg+xml" } else { &icon.extension };
    format!("data:image/{kind};base64,{}", BASE64.encode(&icon.bytes))
}

/// HTML ends a script at the first `</script`, wherever it stands, and does not even do that between `<!--`
/// with a `<script` after it, and `-->`.
fn fits_in_a_script_tag(what: &str, script: &str) -> Result<()> {
    let script = script.to_ascii_lowercase();
    let swallowed = script.split_once("<!--").is_some_and(|(_, rest)| rest.contains("<script"));
    if script.contains("</script") || swallowed {
        bail!(
            "the {what} has a script tag or comment in a string, which would end its own tag in the single file"
        );
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_script_that_would_break_out_of_its_tag_is_refused() {
        for script in ["f('</script>')", "f('</SCRIPT')", "f('<!--');g('<script')"] {
            assert!(fits_in_a_script_tag("test", script).is_err(), "{script}");
        }
        for script in ["f('<!--')", "f('<script')", "f('<script');g('<!--')", "a<b"] {
            fits_in_a_script_tag("test", script).unwrap();
        }
    }

    #[test]
    fn the_policy_names_the_hash_of_the_script() {
        // FIPS 180-4 example "abc", in base64.
        assert!(
            policy("abc", "").contains("script-src 'sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0='")
        );
    }
}
