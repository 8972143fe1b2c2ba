//! The page's tools and libraries, at the versions its lock files pin.

use std::path::Path;
use std::process::Command;

use anyhow::{Context, Result, bail};

use crate::command;
use crate::project::Project;
use crate::stamp::{Inputs, Stamp};

/// What the tools in the lock files need.
const NODE_MAJOR: u32 = 20;

/// Installs what a folder's lock file names, unless that is what is there.
pub(crate) fn install(project: &Project, folder: &Path) -> Result<()> {
    let inputs = Inputs::default().file(&folder.join("package.json")).file(&folder.join("package-lock.json"));
    let modules = folder.join("node_modules");
    let stamp = Stamp::at(modules.join(".installed"), inputs);
    if stamp.holds(&[]) {
        return Ok(());
    }
    let npm = npm()?;
    let shown = folder.strip_prefix(project.root()).unwrap_or(folder).display();
    println!("installing the packages of {shown}/package-lock.json (npm)");
    // The packages work without their install scripts, so none is run.
    command::run_quietly(
        Command::new(npm).args(["ci", "--ignore-scripts", "--no-audit", "--no-fund"]).current_dir(folder),
    )?;
    stamp.set()
}

/// npm, where there is a Node new enough for the page's tools.
fn npm() -> Result<std::path::PathBuf> {
    let advice = format!("install Node {NODE_MAJOR} or later, with npm (https://nodejs.org), then run again");
    let (Some(node), Some(npm)) = (command::find("node"), command::find("npm")) else {
        bail!("building the page needs Node and npm: {advice}");
    };
    let version = command::run_quietly(Command::new(node).arg("--version"))?;
    let major = major(&version).with_context(|| format!("`node --version` said `{version}`: {advice}"))?;
    if major < NODE_MAJOR {
        bail!("Node {} is too old for the page's tools: {advice}", version.trim());
    }
    Ok(npm)
}

fn major(version: &str) -> Option<u32> {
    version.trim().strip_prefix('v')?.split('.').next()?.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::major;

    #[test]
    fn node_says_its_version() {
        assert_eq!(major("v20.20.2\n"), Some(20));
        assert_eq!(major("v8.1.0"), Some(8));
        assert_eq!(major("command not found"), None);
    }
}
