//! A Chromium and the driver that goes with it, for the tests that need a browser.

use std::env;
use std::path::PathBuf;
use std::process::Command;

use anyhow::{Result, bail};

use crate::{command, system};

const DEBIAN_PACKAGES: &[&str] = &["chromium", "chromium-driver"];
const BROWSERS: &[&str] =
    &["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"];

/// A browser and its driver, of one version.
pub(crate) struct Browser {
    /// Chromium, or Chrome.
    pub(crate) chromium: PathBuf,
    /// chromedriver.
    pub(crate) driver: PathBuf,
}

/// Finds a browser, installing one where that is done for people. `CHROMIUM` and `CHROMEDRIVER` overrule the
/// search path.
pub(crate) fn find_or_install() -> Result<Browser> {
    if let Some(browser) = find() {
        return checked(browser);
    }
    if system::is_debian() {
        system::apt_install(DEBIAN_PACKAGES, "the tests in a browser")?;
        if let Some(browser) = find() {
            return checked(browser);
        }
    }
    bail!(
        "the tests need Chromium or Chrome, and chromedriver of the same version, on the search path or named by \
         the variables CHROMIUM and CHROMEDRIVER: install both (https://googlechromelabs.github.io/chrome-for-testing), \
         then run again"
    )
}

fn find() -> Option<Browser> {
    let named = |variable: &str| env::var_os(variable).map(PathBuf::from);
    let chromium = named("CHROMIUM").or_else(|| BROWSERS.iter().find_map(|name| command::find(name)))?;
    let driver = named("CHROMEDRIVER").or_else(|| command::find("chromedriver"))?;
    Some(Browser { chromium, driver })
}

/// A driver refuses a browser of another version with a message that says little; this says it first.
fn checked(browser: Browser) -> Result<Browser> {
    let said = |program: &PathBuf| command::run_quietly(Command::new(program).arg("--version"));
    let (chromium, driver) = (said(&browser.chromium)?, said(&browser.driver)?);
    if major(&chromium) != major(&driver) {
        bail!(
            "the browser ({}) and its driver ({}) are of different versions: install two that go together",
            chromium.trim(),
            driver.trim()
        );
    }
    Ok(browser)
}

/// The first number of the first word that is a version.
fn major(said: &str) -> Option<u32> {
    said.split_whitespace().find_map(|word| word.split_once('.')?.0.parse().ok())
}

#[cfg(test)]
mod tests {
    use super::major;

    #[test]
    fn browser_and_driver_say_their_versions() {
        assert_eq!(major("Chromium 142.0.7444.59 built on Debian GNU/Linux 12 (bookworm)\n"), Some(142));
        assert_eq!(major("ChromeDriver 142.0.7444.59 (f1b2.3)"), Some(142));
        assert_eq!(major("no version"), None);
    }
}
