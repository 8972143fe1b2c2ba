//! The licences of all that the project is made of or checked with: only those that were looked at.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};
use serde::Deserialize;
use spdx::{Expression, LicenseReq, ParseMode};

use crate::command;
use crate::project::Project;

/// What asks for no more than to be named with its text, or for nothing.
const ALLOWED: &[&str] = &[
    "0BSD",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    // Of data: the list of certificate authorities that the test runner draws in.
    "CDLA-Permissive-2.0",
    "ISC",
    "MIT",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];
/// Also of what only tests the page and is handed to nobody: its files stay under it, ours do not come under
/// it.
const ALLOWED_IN_TESTS: &[&str] = &["MPL-2.0"];

/// Checks what both kinds of lock files name.
pub(crate) fn check(project: &Project) -> Result<()> {
    let mut metadata = project.cargo();
    metadata.args(["metadata", "--format-version=1", "--locked"]);
    let mut faults = of_crates(&command::run_quietly(&mut metadata)?)?;
    for (folder, also) in [(project.www(), &[][..]), (project.page_tests(), ALLOWED_IN_TESTS)] {
        faults.extend(of_npm(&folder.join("package-lock.json"), also)?);
    }
    if !faults.is_empty() {
        bail!("{}\nallowed are {}: look at it, then add it there", faults.join("\n"), ALLOWED.join(", "));
    }
    Ok(())
}

/// What `cargo metadata` answers.
#[derive(Deserialize)]
struct Metadata {
    packages: Vec<Crate>,
}

#[derive(Deserialize)]
struct Crate {
    name: String,
    license: Option<String>,
}

fn of_crates(metadata: &str) -> Result<Vec<String>> {
    let metadata: Metadata = serde_json::from_str(metadata).context("cannot read what cargo says")?;
    Ok(metadata
        .packages
        .iter()
        .filter_map(|one| fault(&format!("crate {}", one.name), one.license.as_deref(), &[]))
        .collect())
}

/// What npm locks; the package that it is the lock of has the empty path.
#[derive(Deserialize)]
struct Lock {
    packages: BTreeMap<String, Package>,
}

#[derive(Deserialize)]
struct Package {
    license: Option<String>,
}

fn of_npm(lock: &Path, also: &[&str]) -> Result<Vec<String>> {
    let text = fs::read_to_string(lock).with_context(|| format!("cannot read {}", lock.display()))?;
    let lock: Lock =
        serde_json::from_str(&text).with_context(|| format!("cannot read {}", lock.display()))?;
    let packages = lock.packages.iter().filter(|(path, _)| !path.is_empty());
    Ok(packages.filter_map(|(path, one)| fault(path, one.license.as_deref(), also)).collect())
}

/// What is wrong with the licence that something states.
fn fault(what: &str, licence: Option<&str>, also: &[&str]) -> Option<String> {
    let Some(licence) = licence else { return Some(format!("{what} states no licence")) };
    // Older crates write `MIT/Apache-2.0` for a choice.
    let mode = ParseMode { allow_slash_as_or_operator: true, ..ParseMode::STRICT };
    let Ok(stated) = Expression::parse_mode(licence, mode) else {
        return Some(format!("{what}: `{licence}` is no licence expression"));
    };
    let allowed = |one: &LicenseReq| {
        let name = one.to_string();
        ALLOWED.contains(&&*name) || also.contains(&&*name)
    };
    (!stated.evaluate(allowed)).then(|| format!("{what} is under `{licence}`"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_licence_is_allowed_when_one_of_its_choices_is() {
        for licence in [
            "MIT",
            "MIT/Apache-2.0",
            "(MIT OR Apache-2.0) AND Unicode-3.0",
            "MIT OR Apache-2.0 OR LGPL-2.1-or-later",
        ] {
            assert_eq!(fault("x", Some(licence), &[]), None, "{licence}");
        }
        for licence in ["GPL-3.0-only", "MIT AND GPL-3.0-only", "MPL-2.0", "SEE LICENSE IN x", ""] {
            assert!(fault("x", Some(licence), &[]).is_some(), "{licence}");
        }
        assert!(fault("x", None, &[]).is_some());
        assert_eq!(fault("x", Some("MPL-2.0"), ALLOWED_IN_TESTS), None);
    }

    #[test]
    fn each_package_of_either_kind_is_looked_at() {
        let metadata = r#"{"packages":[{"name":"a","license":"MIT"},{"name":"b","license":null},{"name":"c","license":"GPL-2.0-only"}]}"#;
        assert_eq!(
            of_crates(metadata).unwrap(),
            ["crate b states no licence", "crate c is under `GPL-2.0-only`"]
        );

        let folder = tempfile::tempdir().unwrap();
        let lock = folder.path().join("package-lock.json");
        fs::write(&lock, r#"{"packages":{"":{},"node_modules/a":{"license":"ISC"},"node_modules/b":{"license":"SSPL-1.0"}}}"#)
            .unwrap();
        assert_eq!(of_npm(&lock, &[]).unwrap(), ["node_modules/b is under `SSPL-1.0`"]);
    }
}
