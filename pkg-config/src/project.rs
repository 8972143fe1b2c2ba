//! Where things are in the project.

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result};

/// The project's folders.
pub(crate) struct Project {
    root: PathBuf,
}

impl Project {
    /// The project this packager was started from; without cargo, the one it was built in.
    pub(crate) fn locate() -> Result<Self> {
        let member =
            std::env::var("CARGO_MANIFEST_DIR").unwrap_or_else(|_| env!("CARGO_MANIFEST_DIR").into());
        let root = Path::new(&member).parent().context("the packager is not inside the project")?;
        Ok(Project { root: root.to_owned() })
    }

    /// A project at this folder, for tests.
    #[cfg(test)]
    pub(crate) fn at(root: &Path) -> Self {
        Project { root: root.to_owned() }
    }

    /// The cargo this was started by, in the folder of the workspace.
    pub(crate) fn cargo(&self) -> Command {
        let mut cargo = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
        cargo.current_dir(&self.root);
        cargo
    }

    /// The folder of the workspace.
    pub(crate) fn root(&self) -> &Path {
        &self.root
    }

    /// The page's sources.
    pub(crate) fn www(&self) -> PathBuf {
        self.root.join("www")
    }

    /// The Playwright tests.
    pub(crate) fn page_tests(&self) -> PathBuf {
        self.root.join("tests/page")
    }

    /// The bindings that wasm-bindgen generates, beside the page so that its types are checked against them.
    pub(crate) fn generated(&self) -> PathBuf {
        self.www().join("generated")
    }

    /// What is delivered.
    pub(crate) fn dist(&self) -> PathBuf {
        self.root.join("dist")
    }

    /// Cargo's output, where everything else that can be thrown away is kept too.
    pub(crate) fn target(&self) -> PathBuf {
        self.root.join("target")
    }

    /// The packager's own part of `target`.
    pub(crate) fn work(&self) -> PathBuf {
        self.target().join("page")
    }

    /// A program of the page's npm packages.
    pub(crate) fn npm_program(&self, name: &str) -> PathBuf {
        let file = if cfg!(windows) { format!("{name}.cmd") } else { name.to_owned() };
        self.www().join("node_modules/.bin").join(file)
    }
}
