//! The main job in the engines of other browsers, where they are installed: Firefox's, and WebKit, which
//! every browser of an iPhone has.

use std::env;
use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

use anyhow::{Context, Result, bail};
use serde_json::json;

use crate::command;
use crate::project::Project;

/// An engine that can be driven here.
struct Engine {
    name: &'static str,
    driver: PathBuf,
    capabilities: serde_json::Value,
    /// Whether it shows its window only on a display.
    needs_display: bool,
}

/// Runs the job in each that is here, from a host and from a file, and says which are left out.
pub(crate) fn main_job(project: &Project, hosted: &str, file: &Path) -> Result<()> {
    let Some(node) = command::find("node") else { bail!("node is not on the search path any more") };
    let file = format!("file://{}", file.display());
    for (engine, lacks) in [
        (firefox(), "Firefox is left out: it takes firefox and geckodriver on the search path"),
        (
            webkit(),
            "WebKit is left out: it takes WebKitWebDriver, MiniBrowser of WebKitGTK, and a display or Xvfb",
        ),
    ] {
        let Some(engine) = engine else {
            println!("  {lacks}");
            continue;
        };
        println!("  {}", engine.name);
        let display =
            (engine.needs_display && env::var_os("DISPLAY").is_none()).then(Display::open).transpose()?;
        let mut job = Command::new(&node);
        job.arg(project.root().join("tests/engines/job.mjs")).arg(&engine.driver);
        job.args([&engine.capabilities.to_string(), hosted, &file]);
        if let Some(display) = &display {
            job.env("DISPLAY", &display.name);
        }
        command::run(&mut job)?;
    }
    Ok(())
}

fn firefox() -> Option<Engine> {
    let browser = ["firefox", "firefox-esr"].iter().find_map(|name| command::find(name))?;
    Some(Engine {
        name: "Firefox",
        driver: command::find("geckodriver")?,
        capabilities: json!({
            "browserName": "firefox",
            "moz:firefoxOptions": { "binary": browser, "args": ["-headless"] },
        }),
        needs_display: false,
    })
}

/// Debian puts the browser that WebKitGTK is tested with beside its libraries.
fn webkit() -> Option<Engine> {
    let folders = std::fs::read_dir("/usr/lib").ok()?.flatten();
    let browser = folders
        .flat_map(|folder| {
            ["webkitgtk-6.0", "webkit2gtk-4.1"].map(|kind| folder.path().join(kind).join("MiniBrowser"))
        })
        .find(|browser| browser.is_file())?;
    if env::var_os("DISPLAY").is_none() {
        command::find("Xvfb")?;
    }
    Some(Engine {
        name: "WebKit",
        driver: command::find("WebKitWebDriver")?,
        capabilities: json!({ "webkitgtk:browserOptions": { "binary": browser, "args": ["--automation"] } }),
        needs_display: true,
    })
}

/// A display that nobody sees.
struct Display {
    server: Child,
    name: String,
}

impl Display {
    fn open() -> Result<Display> {
        let mut xvfb = Command::new("Xvfb");
        // It chooses a number that is free, and says which.
        xvfb.args(["-displayfd", "1", "-screen", "0", "1280x1024x24", "-nolisten", "tcp"]);
        let mut server =
            xvfb.stdout(Stdio::piped()).stderr(Stdio::null()).spawn().context("could not start Xvfb")?;
        let mut number = String::new();
        if let Some(said) = server.stdout.take() {
            BufReader::new(said).read_line(&mut number)?;
        }
        Ok(Display { server, name: format!(":{}", number.trim()) })
    }
}

impl Drop for Display {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.server.kill();
        let _ = self.server.wait();
    }
}
