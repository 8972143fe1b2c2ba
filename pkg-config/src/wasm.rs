//! The engine for the browser: compiled, bound to JavaScript, made small.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result};
use wasm_bindgen_cli_support::Bindgen;

use crate::command;
use crate::project::Project;
use crate::stamp::{Inputs, Stamp};
use crate::toolchain::{TARGET, Toolchain};

/// The name of the crate, and so of the bindings.
const NAME: &str = "meltmargin";
/// The profile in Cargo.toml that it is compiled with.
const PROFILE: &str = "web";
/// What binaryen is asked for. The compiler has inlined what gains by it; what binaryen would inline on top
/// makes the engine a tenth larger (gzipped) and no faster.
const OPTIMISER_OPTIONS: &[&str] = &[
    "-O3",
    "--always-inline-max-function-size=2",
    "--flexible-inline-max-function-size=0",
    "--one-caller-inline-max-function-size=0",
];

/// What browsers of today understand.
const FEATURES: &[&str] = &[
    "--enable-bulk-memory",
    "--enable-sign-ext",
    "--enable-mutable-globals",
    "--enable-nontrapping-float-to-int",
    "--enable-reference-types",
    "--enable-multivalue",
];

/// How all is compiled where the standard library is compiled here too: that one small, without the words of
/// a panic, which a browser does not show (it ends in the same trap), and without what `{:?}` prints, which
/// no message uses.
const STANDARD_LIBRARY_OPTIONS: &[&str] = &["-Z", "build-std-features=optimize_for_size"];
const STANDARD_LIBRARY_FLAGS: &str =
    "-Zunstable-options -Cpanic=immediate-abort -Zfmt-debug=none -Zlocation-detail=none";

/// Builds the engine and its bindings, as far as they changed, and says where the engine is. The JavaScript
/// side is in `www/generated/`.
pub(crate) fn build(project: &Project, toolchain: &Toolchain) -> Result<PathBuf> {
    let mut cargo = toolchain.cargo(project, "build");
    cargo.args(["--quiet", "--profile", PROFILE, "--lib", "--package", NAME]);
    if toolchain.compiles_library() {
        cargo.args(STANDARD_LIBRARY_OPTIONS).env("RUSTFLAGS", STANDARD_LIBRARY_FLAGS);
    }
    command::run(&mut cargo)?;
    let compiled = toolchain.target_dir(project).join(TARGET).join(PROFILE).join(format!("{NAME}.wasm"));

    let generated = project.generated();
    let bound = generated.join(format!("{NAME}_bg.wasm"));
    let engine = project.work().join(format!("{NAME}.wasm"));
    let inputs = Inputs::default()
        .file(&compiled)
        // wasm-bindgen's version is in the one, binaryen's in the other.
        .file(&project.root().join("Cargo.lock"))
        .folder(&project.root().join("pkg-config/src"), &[])?
        .file(&project.www().join("package-lock.json"));
    let made = [
        engine.clone(),
        bound.clone(),
        generated.join(format!("{NAME}.js")),
        generated.join(format!("{NAME}.d.ts")),
    ];
    let stamp = Stamp::new(project, "engine", inputs);
    if !stamp.holds(&made) {
        bind(project, &compiled)?;
        fs::create_dir_all(project.work())?;
        optimise(project, &bound, &engine)?;
        stamp.set()?;
    }
    Ok(engine)
}

fn bind(project: &Project, compiled: &Path) -> Result<()> {
    let generated = project.generated();
    fs::create_dir_all(&generated)?;
    Bindgen::new()
        .input_path(compiled)
        .web(true)?
        .typescript(true)
        // The page compiles the engine itself and hands it over; see www/src/delivery.ts.
        .omit_default_module_path(true)
        .remove_name_section(true)
        .remove_producers_section(true)
        .out_name(NAME)
        .generate(&generated)
        .with_context(|| format!("wasm-bindgen could not read {}", compiled.display()))
}

/// Runs binaryen's optimiser.
fn optimise(project: &Project, from: &Path, to: &Path) -> Result<()> {
    let mut optimiser = Command::new(project.npm_program("wasm-opt"));
    optimiser.args(FEATURES).args(OPTIMISER_OPTIONS).arg(from).arg("-o").arg(to);
    command::run_quietly(&mut optimiser)?;
    Ok(())
}
