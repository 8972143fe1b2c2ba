//! A compiler for `wasm32-unknown-unknown`: the one at hand with the standard library's source from rustup,
//! else Debian's.

use std::env;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Result, bail};

use crate::project::Project;
use crate::{command, system};

/// The target that the page runs.
pub(crate) const TARGET: &str = "wasm32-unknown-unknown";

const DEBIAN_CARGO: &str = "/usr/bin/cargo";
const DEBIAN_LINKER: &str = "/usr/bin/wasm-ld-22";
const DEBIAN_PACKAGES: &[&str] = &["rustc-web", "cargo-web", "rust-web-src", "lld-22"];

/// A compiler that can build for [`TARGET`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Toolchain {
    /// The one this packager was built with.
    Own(Library),
    /// Debian's, which comes without the target's standard library but with its source.
    Debian,
}

/// Where the target's standard library comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Library {
    /// It is compiled with the engine, as small as that.
    Source,
    /// It came ready-made.
    ReadyMade,
}

/// Finds a compiler for the target, installing what is missing.
pub(crate) fn wasm() -> Result<Toolchain> {
    if own_has_source() {
        return Ok(Toolchain::Own(Library::Source));
    }
    if debian_is_ready() {
        return Ok(Toolchain::Debian);
    }
    let refused = match command::find("rustup") {
        Some(rustup) => {
            println!("installing rust-src (rustup), for the engine in the browser");
            match command::run_quietly(Command::new(rustup).args(["component", "add", "rust-src"])) {
                Ok(_) if own_has_source() => return Ok(Toolchain::Own(Library::Source)),
                Ok(_) => "rustup added rust-src to another toolchain than the one in use".to_owned(),
                Err(error) => format!("{error:#}"),
            }
        }
        None => "rustup is not on the search path".to_owned(),
    };
    if own_has_target() {
        return Ok(Toolchain::Own(Library::ReadyMade));
    }
    if system::is_debian() {
        println!(
            "rustup could not add rust-src; Debian's own compiler will build the engine for the browser"
        );
        system::apt_install(DEBIAN_PACKAGES, "the engine in the browser")?;
        if debian_is_ready() {
            return Ok(Toolchain::Debian);
        }
        bail!("apt-get said that it installed {}, but not all are there", DEBIAN_PACKAGES.join(" "));
    }
    bail!(
        "the compiler has no standard library for {TARGET}: {refused}\n\
         Install Rust with rustup (https://rustup.rs), type `rustup component add rust-src`, then run again."
    )
}

fn own_has_source() -> bool {
    own_says(&["--print", "sysroot"])
        .is_some_and(|sysroot| Path::new(&sysroot).join("lib/rustlib/src/rust/library/std").is_dir())
}

fn own_has_target() -> bool {
    own_says(&["--print", "target-libdir", "--target", TARGET])
        .is_some_and(|folder| Path::new(&folder).is_dir())
}

/// The line that this packager's compiler answers.
fn own_says(ask: &[&str]) -> Option<String> {
    let rustc = env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    let said = command::run_quietly(Command::new(rustc).args(ask)).ok()?;
    Some(said.trim().to_owned())
}

fn debian_is_ready() -> bool {
    system::is_debian() && system::apt_has(DEBIAN_PACKAGES)
}

impl Toolchain {
    /// A cargo that builds for [`TARGET`] with this compiler, given its subcommand.
    pub(crate) fn cargo(&self, project: &Project, subcommand: &str) -> Command {
        let mut cargo;
        match self {
            Toolchain::Own(_) => {
                cargo = Command::new(env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
                cargo.arg(subcommand);
            }
            Toolchain::Debian => {
                cargo = Command::new(DEBIAN_CARGO);
                // Started below rustup's cargo, whose variables and path lead back to rustup's compiler.
                for (name, _) in env::vars_os() {
                    let text = name.to_string_lossy();
                    let kept = ["CARGO_HOME", "CARGO_TERM_COLOR", "CARGO_NET_OFFLINE", "CARGO_HTTP_PROXY"];
                    let leads_back =
                        ["CARGO", "RUSTC", "RUSTUP", "RUSTDOC"].iter().any(|start| text.starts_with(start));
                    if leads_back && !kept.contains(&&*text) {
                        cargo.env_remove(name);
                    }
                }
                cargo.env("PATH", "/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin");
                cargo.env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", DEBIAN_LINKER);
                cargo.arg(subcommand);
            }
        }
        if self.compiles_library() {
            cargo.env("RUSTC_BOOTSTRAP", "1");
            cargo.args(["-Z", "build-std=std,panic_abort"]);
        }
        cargo.current_dir(project.root());
        cargo.args(["--target", TARGET, "--locked", "--target-dir"]).arg(self.target_dir(project));
        cargo
    }

    /// Whether the standard library is compiled with what uses it.
    pub(crate) fn compiles_library(self) -> bool {
        self != Toolchain::Own(Library::ReadyMade)
    }

    /// Where it builds: apart from native work, so that neither makes the other start again.
    pub(crate) fn target_dir(&self, project: &Project) -> PathBuf {
        project.target().join(match self {
            Toolchain::Own(_) => "wasm",
            Toolchain::Debian => "wasm-debian",
        })
    }
}
