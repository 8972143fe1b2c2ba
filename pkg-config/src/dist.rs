//! `dist/`: the hosted page, and beside it the same page as one file.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result};

use crate::budget::{Sizes, gzip};
use crate::bundle::{self, ASSETS};
use crate::project::Project;
use crate::stamp::{Inputs, Stamp, files_under};
use crate::{hosted, single_file, words};

/// The self-contained page, beside the hosted one.
pub(crate) const SINGLE_FILE: &str = "meltmargin.html";

/// Builds `dist/`, if anything changed, and measures it.
pub(crate) fn build(project: &Project, engine: &Path, hosted_at: Option<&str>) -> Result<Sizes> {
    words::check(project)?;
    let dist = project.dist();
    let inputs = Inputs::default()
        .folder(&project.www(), &["node_modules"])?
        .folder(&project.root().join("pkg-config/src"), &[])?
        .file(engine)
        .text(hosted_at.unwrap_or_default());
    let stamp = Stamp::new(project, "bundle", inputs);
    if !stamp.holds(&[dist.join("index.html"), dist.join(SINGLE_FILE), dist.join(ASSETS)]) {
        bundle::types(project)?;
        let fresh = project.work().join("dist");
        clear(&fresh)?;
        fs::create_dir_all(fresh.join(ASSETS))?;
        hosted::write(project, engine, &fresh, hosted_at)?;
        single_file::write(project, engine, &fresh.join(SINGLE_FILE), hosted_at)?;
        clear(&dist)?;
        fs::rename(&fresh, &dist).context("cannot put the finished page into dist/")?;
        stamp.set()?;
    }
    measure(&dist)
}

fn clear(folder: &Path) -> Result<()> {
    if folder.exists() {
        fs::remove_dir_all(folder).with_context(|| format!("cannot empty {}", folder.display()))?;
    }
    Ok(())
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
        if hosted::only_to_install(&path) {
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
