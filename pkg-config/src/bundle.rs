//! What esbuild makes of the page's sources, and the page's icons.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

use anyhow::{Context, Result, bail};
use serde::Deserialize;

use crate::command;
use crate::project::Project;
use crate::stamp::files_under;

/// The folder of files whose names change with their content.
pub(crate) const ASSETS: &str = "assets";

/// What `www/src/build.d.ts` declares.
pub(crate) struct Constants<'a> {
    pub(crate) single_file: bool,
    pub(crate) engine_url: &'a str,
    pub(crate) worker_url: &'a str,
    pub(crate) hosted_at: Option<&'a str>,
}

impl Constants<'_> {
    fn define(&self, esbuild: &mut Command) {
        esbuild.arg(format!("--define:SINGLE_FILE={}", self.single_file));
        let hosted_at = self.hosted_at.unwrap_or_default();
        for (name, value) in
            [("ENGINE_URL", self.engine_url), ("WORKER_URL", self.worker_url), ("HOSTED_AT", hosted_at)]
        {
            esbuild.arg(format!("--define:{name}={}", serde_json::Value::from(value)));
        }
    }
}

/// Checks the types of the page's scripts, which say its messages.
pub(crate) fn types(project: &Project) -> Result<()> {
    let mut tsc = Command::new(project.npm_program("tsc"));
    command::run(tsc.args(["--project", "tsconfig.json"]).current_dir(project.www()))
}

/// A file of `www/icons/`.
pub(crate) struct Icon {
    /// How the page and the manifest refer to it.
    pub(crate) reference: String,
    pub(crate) stem: String,
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
pub(crate) fn page_bundles(
    project: &Project,
    dist: &Path,
    constants: &Constants,
) -> Result<(String, String)> {
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
pub(crate) fn inline_bundles(project: &Project, hosted_at: Option<&str>) -> Result<(String, String)> {
    let constants = Constants { single_file: true, engine_url: "", worker_url: "", hosted_at };
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
