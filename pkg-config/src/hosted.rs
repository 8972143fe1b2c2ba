//! The page as it is hosted: scripts, styles and engine under names that change with their content.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use anyhow::Result;

use crate::bundle::{self, ASSETS, Constants};
use crate::command;
use crate::html::Page;
use crate::policy::{POLICY, policy_tag};
use crate::project::Project;
use crate::stamp::{Inputs, content_name, files_under};

/// Writes the hosted page.
pub(crate) fn write(project: &Project, engine: &Path, dist: &Path, hosted_at: Option<&str>) -> Result<()> {
    let www = project.www();
    let engine_url = keep(dist, "meltmargin", "wasm", &fs::read(engine)?)?;
    let worker_url = keep(dist, "worker", "js", &bundle::worker(project)?)?;
    let constants =
        Constants { single_file: false, engine_url: &engine_url, worker_url: &worker_url, hosted_at };
    let (script, style) = bundle::page_bundles(project, dist, &constants)?;
    let icons = bundle::icons(&www)?
        .into_iter()
        .map(|icon| {
            let url = keep(dist, &icon.stem, &icon.extension, &icon.bytes)?;
            Ok((icon.reference, url))
        })
        .collect::<Result<BTreeMap<String, String>>>()?;

    let mut manifest = fs::read_to_string(www.join("manifest.webmanifest"))?;
    let mut page = Page::new(&fs::read_to_string(www.join("index.html"))?);
    for (reference, url) in &icons {
        manifest = manifest.replace(&quoted(reference), &quoted(url));
        page.replace_all(&quoted(reference), &quoted(url));
    }
    fs::write(dist.join("manifest.webmanifest"), manifest)?;
    page.fill("policy", &policy_tag(POLICY))?;
    page.fill("preload", &format!("<link rel=\"preload\" as=\"fetch\" href=\"{engine_url}\" crossorigin>"))?;
    page.fill("card", &hosted_at.map_or_else(String::new, |at| card(at, &icons[CARD_ICON])))?;
    page.fill("embedded", "")?;
    page.replace("\"src/main.ts\"", &quoted(&script))?;
    page.replace("\"styles/main.css\"", &quoted(&style))?;
    fs::write(dist.join("index.html"), page.finish()?)?;

    service_worker(project, dist)
}

/// What a preview of the page's link shows.
const CARD_ICON: &str = "icons/icon-512.png";

/// The tags by which chat programs show a link. They know no relative address, so that there are none where
/// the host is not known.
fn card(hosted_at: &str, icon: &str) -> String {
    [
        ("title", "Meltmargin"),
        (
            "description",
            "Will your body butter hold in the heat, and what is the smallest change that helps?",
        ),
        ("type", "website"),
        ("url", hosted_at),
        ("image", &format!("{hosted_at}{icon}")),
    ]
    .map(|(name, content)| format!("<meta property=\"og:{name}\" content=\"{content}\">"))
    .join("\n    ")
}

/// `"reference"`, as it stands in HTML and JSON.
fn quoted(reference: &str) -> String {
    format!("\"{reference}\"")
}

/// Writes a file under a name that changes with its content, and gives that name relative to the page.
fn keep(dist: &Path, stem: &str, extension: &str, bytes: &[u8]) -> Result<String> {
    let url = format!("{ASSETS}/{stem}.{}.{extension}", content_name(bytes));
    fs::write(dist.join(&url), bytes)?;
    Ok(url)
}

/// The service worker, told of every other file; its own name must not change.
fn service_worker(project: &Project, dist: &Path) -> Result<()> {
    let build = Inputs::default().folder(dist, &[])?.digest();
    let files = offline_files(dist)?;
    command::run_quietly(
        bundle::esbuild(project)
            .args(["service-worker.ts", "--format=iife"])
            .arg(format!("--outfile={}", dist.join("service-worker.js").display()))
            .arg(format!("--define:BUILD_ID={}", serde_json::Value::from(&build[..10])))
            .arg(format!("--define:BUILD_FILES={}", serde_json::Value::from(files))),
    )?;
    Ok(())
}

/// What the page needs offline, relative to it; the page itself goes by the name of its folder.
fn offline_files(dist: &Path) -> Result<Vec<String>> {
    let mut urls = vec!["./".to_owned()];
    for path in files_under(dist, &[])? {
        let url = path.strip_prefix(dist)?.to_string_lossy().replace('\\', "/");
        if url != "index.html" && !only_to_install(&path) {
            urls.push(url);
        }
    }
    Ok(urls)
}

/// Icons that a browser fetches itself where the page is installed, and nobody else.
pub(crate) fn only_to_install(path: &Path) -> bool {
    path.extension().is_some_and(|extension| extension == "png")
}

#[cfg(test)]
mod tests {
    use super::card;

    #[test]
    fn a_preview_knows_only_whole_addresses() {
        let tags = card("https://a.example/b/", "assets/icon.0.png");
        assert!(tags.contains("og:url\" content=\"https://a.example/b/\""), "{tags}");
        assert!(tags.contains("og:image\" content=\"https://a.example/b/assets/icon.0.png\""), "{tags}");
    }
}
