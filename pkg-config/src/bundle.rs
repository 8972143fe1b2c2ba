//! The page as it is hosted: scripts, styles and engine under names that change with their content.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

use anyhow::{Context, Result, bail};
use serde::Deserialize;

use crate::budget::{Sizes, gzip};
use crate::command;
use crate::html::Page;
use crate::project::Project;
use crate::single_file;
use crate::stamp::{Inputs, Stamp, content_name, files_under};
use crate::words;

/// The self-contained page, beside the hosted one.
pub(crate) const SINGLE_FILE: &str = "meltmargin.html";
/// The folder of files whose names change with their content.
pub(crate) const ASSETS: &str = "assets";

/// What scripts may do on the hosted page: run this site's own, and the engine.
pub(crate) const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; \
    img-src 'self' data: blob:; connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; \
    form-action 'none'; require-trusted-types-for 'script'; trusted-types meltmargin lit-html";

/// What `www/src/build.d.ts` declares.
pub(crate) struct Constants<'a> {
    pub(crate) single_file: bool,
    pub(crate) engine_url: &'a str,
    pub(crate) worker_url: &'a str,
}

impl Constants<'_> {
    fn define(&self, esbuild: &mut Command) {
        esbuild.arg(format!("--define:SINGLE_FILE={}", self.single_file));
        for (name, value) in [("ENGINE_URL", self.engine_url), ("WORKER_URL", self.worker_url)] {
            esbuild.arg(format!("--define:{name}={}", serde_json::Value::from(value)));
        }
    }
}

/// Builds `dist/`, if anything changed, and measures it.
pub(crate) fn build(project: &Project, engine: &Path) -> Result<Sizes> {
    words::check(project)?;
    let dist = project.dist();
    let inputs = Inputs::default()
        .folder(&project.www(), &["node_modules"])?
        .folder(&project.root().join("pkg-config/src"), &[])?
        .file(engine);
    let stamp = Stamp::new(project, "bundle", inputs);
    if !stamp.holds(&[dist.join("index.html"), dist.join(SINGLE_FILE), dist.join(ASSETS)]) {
        types(project)?;
        let fresh = project.work().join("dist");
        clear(&fresh)?;
        fs::create_dir_all(fresh.join(ASSETS))?;
        hosted(project, engine, &fresh)?;
        single_file::write(project, engine, &fresh.join(SINGLE_FILE))?;
        clear(&dist)?;
        fs::rename(&fresh, &dist).context("cannot put the finished page into dist/")?;
        stamp.set()?;
    }
    measure(&dist)
}

/// Checks the types of the page's scripts, which say its messages.
pub(crate) fn types(project: &Project) -> Result<()> {
    let mut tsc = Command::new(project.npm_program("tsc"));
    command::run(tsc.args(["--project", "tsconfig.json"]).current_dir(project.www()))
}

fn clear(folder: &Path) -> Result<()> {
    if folder.exists() {
        fs::remove_dir_all(folder).with_context(|| format!("cannot empty {}", folder.display()))?;
    }
    Ok(())
}

fn hosted(project: &Project, engine: &Path, dist: &Path) -> Result<()> {
    let www = project.www();
    let engine_url = keep(dist, "meltmargin", "wasm", &fs::read(engine)?)?;
    let worker_url = keep(dist, "worker", "js", &worker(project)?)?;
    let constants = Constants { single_file: false, engine_url: &engine_url, worker_url: &worker_url };
    let (script, style) = page_bundles(project, dist, &constants)?;
    let icons = icons(&www)?
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
    page.fill("embedded", "")?;
    page.replace("\"src/main.ts\"", &quoted(&script))?;
    page.replace("\"styles/main.css\"", &quoted(&style))?;
    fs::write(dist.join("index.html"), page.finish()?)?;

    service_worker(project, dist)
}

/// `"reference"`, as it stands in HTML and JSON.
fn quoted(reference: &str) -> String {
    format!("\"{reference}\"")
}

/// What stands around the policy in its tag.
const POLICY_TAG: (&str, &str) = ("<meta http-equiv=\"Content-Security-Policy\" content=\"", "\">");

/// The tag that states a content-security policy.
pub(crate) fn policy_tag(policy: &str) -> String {
    format!("{}{policy}{}", POLICY_TAG.0, POLICY_TAG.1)
}

/// The policy that a page states.
pub(crate) fn policy_of(page: &str) -> Option<&str> {
    let (_, policy) = page.split_once(POLICY_TAG.0)?;
    policy.split_once(POLICY_TAG.1).map(|(policy, _)| policy)
}

/// Writes a file under a name that changes with its content, and gives that name relative to the page.
fn keep(dist: &Path, stem: &str, extension: &str, bytes: &[u8]) -> Result<String> {
    let url = format!("{ASSETS}/{stem}.{}.{extension}", content_name(bytes));
    fs::write(dist.join(&url), bytes)?;
    Ok(url)
}

/// A file of `www/icons/`.
pub(crate) struct Icon {
    /// How the page and the manifest refer to it.
    pub(crate) reference: String,
    stem: String,
    /// `svg` or `png`.
    pub(crate) extension: String,
    pub(crate) bytes: Vec<u8>,
}

/// All icons, by name.
pub(crate) fn icons(www: &Path) -> Result<Vec<Icon>> {
    files_under(&www.join("icons"), &[])?
        .into_iter()
        .map(|path| {
            let part = |part: Option<&std::ffi::OsStr>| Some(part?.to_str()?.to_owned());
            let (Some(stem), Some(extension)) = (part(path.file_stem()), part(path.extension())) else {
                bail!("{} is not named like an icon", path.display());
            };
            let reference = format!("icons/{stem}.{extension}");
            Ok(Icon { reference, stem, extension, bytes: fs::read(&path)? })
        })
        .collect()
}

/// esbuild, asked to bundle for the browsers that have all the page needs.
pub(crate) fn esbuild(project: &Project) -> Command {
    let mut esbuild = Command::new(project.npm_program("esbuild"));
    esbuild.current_dir(project.www());
    esbuild.args(["--bundle", "--minify", "--target=es2022", "--legal-comments=none", "--log-level=warning"]);
    esbuild.arg("--loader:.ftl=text");
    esbuild
}

/// The worker as one classic script.
pub(crate) fn worker(project: &Project) -> Result<Vec<u8>> {
    let file = project.work().join("worker.js");
    command::run_quietly(
        esbuild(project)
            .args(["src/worker.ts", "--format=iife"])
            .arg(format!("--outfile={}", file.display())),
    )?;
    Ok(fs::read(file)?)
}

/// What esbuild reports of its outputs.
#[derive(Deserialize)]
struct Report {
    outputs: BTreeMap<String, Output>,
}

#[derive(Deserialize)]
#[serde(rename_all = "camelCase")]
struct Output {
    entry_point: Option<String>,
}

/// Bundles the page's scripts and styles, and gives the names of the two to start from.
fn page_bundles(project: &Project, dist: &Path, constants: &Constants) -> Result<(String, String)> {
    let report = project.work().join("esbuild.json");
    let mut esbuild = esbuild(project);
    esbuild.args(["src/main.ts", "styles/main.css", "--format=esm", "--splitting", "--loader:.svg=file"]);
    for kind in ["entry", "chunk", "asset"] {
        esbuild.arg(format!("--{kind}-names={ASSETS}/[name].[hash]"));
    }
    esbuild.arg(format!("--outdir={}", dist.display())).arg(format!("--metafile={}", report.display()));
    constants.define(&mut esbuild);
    command::run_quietly(&mut esbuild)?;

    let report: Report =
        serde_json::from_slice(&fs::read(report)?).context("cannot read esbuild's report")?;
    let made_from = |entry: &str| {
        let output = report.outputs.iter().find(|(_, output)| output.entry_point.as_deref() == Some(entry));
        let name = output.and_then(|(path, _)| Path::new(path).file_name()?.to_str());
        name.map(|name| format!("{ASSETS}/{name}"))
            .with_context(|| format!("esbuild made nothing of www/{entry}"))
    };
    Ok((made_from("src/main.ts")?, made_from("styles/main.css")?))
}

/// The page's script as one module, and its style, with all they refer to inside.
pub(crate) fn inline_bundles(project: &Project) -> Result<(String, String)> {
    let constants = Constants { single_file: true, engine_url: "", worker_url: "" };
    let folder = project.work().join("inline");
    let mut esbuild = esbuild(project);
    esbuild.args([
        "src/main.ts",
        "styles/main.css",
        "--format=esm",
        "--loader:.svg=dataurl",
        "--entry-names=[name]",
    ]);
    esbuild.arg(format!("--outdir={}", folder.display()));
    constants.define(&mut esbuild);
    command::run_quietly(&mut esbuild)?;
    Ok((fs::read_to_string(folder.join("main.js"))?, fs::read_to_string(folder.join("main.css"))?))
}

/// The service worker, told of every other file; its own name must not change.
fn service_worker(project: &Project, dist: &Path) -> Result<()> {
    let build = Inputs::default().folder(dist, &[])?.digest();
    let files = offline_files(dist)?;
    command::run_quietly(
        esbuild(project)
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
fn only_to_install(path: &Path) -> bool {
    path.extension().is_some_and(|extension| extension == "png")
}

/// Sizes of what is in `dist/`.
fn measure(dist: &Path) -> Result<Sizes> {
    let mut sizes = Sizes::default();
    for path in files_under(dist, &[])? {
        let bytes = fs::read(&path)?;
        if path == dist.join(SINGLE_FILE) {
            sizes.single_file = bytes.len();
            continue;
        }
        if only_to_install(&path) {
            continue;
        }
        let packed = gzip(&bytes)?.len();
        sizes.first_load += packed;
        match path.extension().and_then(|extension| extension.to_str()) {
            Some("wasm") => sizes.engine += packed,
            Some("js" | "css") => sizes.scripts_and_styles += packed,
            _ => {}
        }
    }
    Ok(sizes)
}
