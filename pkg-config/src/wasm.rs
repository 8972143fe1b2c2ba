//! The engine for the browser: compiled, bound to JavaScript, made small.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result};
use wasm_bindgen_cli_support::Bindgen;

use crate::project::Project;
use crate::split::split;
use crate::stamp::{Inputs, Stamp};
use crate::toolchain::{TARGET, Toolchain};
use crate::{arrange, command};

/// The name of the crate, and so of the bindings.
const NAME: &str = "meltmargin";
/// The profile in Cargo.toml that it is compiled with.
const PROFILE: &str = "web";
/// What binaryen is asked for. The compiler has inlined what gains by it; what binaryen would inline on top, most of it into
/// one huge function, compresses so badly that the engine grew by a tenth.
const OPTIMISER_OPTIONS: &[&str] = &[
    "-Oz",
    "--converge",
    // The bottom of the stack lies there: it is reached only when the stack is full.
    "--low-memory-unused",
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

/// What is longer than a word is copied by the instruction for it, not word by word: 8 kB less, for 5 % of the time.
/// The linker leaves an account of what refers to what, by which the engine is split; each part gets half of the stack, so it is
/// twice as large as by default.
const FLAGS: &str = "-Cllvm-args=-max-store-memcpy=1 -Cllvm-args=-max-store-memmove=1 \
    -Clink-arg=--emit-relocs -Clink-arg=-zstack-size=2097152";

/// How all is compiled where the standard library is compiled here too: that one small, without the words of a panic,
/// which a browser does not show (it ends in the same trap), and without what `{:?}` prints, which no message uses.
const STANDARD_LIBRARY_OPTIONS: &[&str] = &["-Z", "build-std-features=optimize_for_size"];
const STANDARD_LIBRARY_FLAGS: &str =
    "-Zunstable-options -Cpanic=immediate-abort -Zfmt-debug=none -Zlocation-detail=none";

/// What this step makes. The JavaScript side is in `www/generated/`.
pub(crate) struct Engine {
    /// All of it in one module.
    pub(crate) whole: PathBuf,
    /// The same in two, as `split/` says.
    pub(crate) first: PathBuf,
    pub(crate) rest: PathBuf,
    /// Bytes that a part may weigh more, gzipped, than where the standard library is compiled with it.
    pub(crate) library_excess: usize,
}

/// [`Engine::library_excess`] with a ready-made library: a part is up to 14 kB larger then.
const LIBRARY_EXCESS: usize = 12_000;

/// Builds the engine and its bindings, as far as they changed.
pub(crate) fn build(project: &Project, toolchain: &Toolchain) -> Result<Engine> {
    let mut cargo = toolchain.cargo(project, "build");
    cargo.args(["--quiet", "--profile", PROFILE, "--lib", "--package", NAME]);
    let library_excess = if toolchain.compiles_library() {
        cargo.args(STANDARD_LIBRARY_OPTIONS).env("RUSTFLAGS", format!("{FLAGS} {STANDARD_LIBRARY_FLAGS}"));
        0
    } else {
        cargo.env("RUSTFLAGS", FLAGS);
        LIBRARY_EXCESS
    };
    command::run(&mut cargo)?;
    let compiled = toolchain.target_dir(project).join(TARGET).join(PROFILE).join(format!("{NAME}.wasm"));

    let generated = project.generated();
    let bound = generated.join(format!("{NAME}_bg.wasm"));
    let [whole, first, rest] =
        ["whole", "first", "rest"].map(|part| project.work().join(format!("{NAME}.{part}.wasm")));
    let inputs = Inputs::default()
        .file(&compiled)
        // wasm-bindgen's version is in the one, binaryen's in the other.
        .file(&project.root().join("Cargo.lock"))
        .folder(&project.root().join("pkg-config/src"), &[])?
        .text(&[FEATURES, OPTIMISER_OPTIONS].concat().join(" "))
        .file(&project.www().join("package-lock.json"));
    let engine = Engine { whole, first, rest, library_excess };
    let made = [
        engine.whole.clone(),
        engine.first.clone(),
        engine.rest.clone(),
        bound.clone(),
        generated.join(format!("{NAME}.js")),
        generated.join(format!("{NAME}.d.ts")),
    ];
    let stamp = Stamp::new(project, "engine", inputs);
    if !stamp.holds(&made) {
        bind(project, &compiled)?;
        fs::create_dir_all(project.work())?;
        let optimised = project.work().join(format!("{NAME}.optimised.wasm"));
        optimise(project, &[OPTIMISER_OPTIONS, &["--debuginfo"]].concat(), &bound, &optimised)?;
        let parts = split(&fs::read(&compiled)?, &fs::read(&optimised)?)?;
        for (module, to) in [
            (&fs::read(&optimised)?, &engine.whole),
            (&parts.first, &engine.first),
            (&parts.rest, &engine.rest),
        ] {
            put_in_order(project, module, to)?;
        }
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
        // By its name `split` finds a function.
        .remove_name_section(false)
        .demangle(false)
        .remove_producers_section(true)
        .out_name(NAME)
        .generate(&generated)
        .with_context(|| format!("wasm-bindgen could not read {}", compiled.display()))
}

/// Runs binaryen's optimiser.
fn optimise(project: &Project, options: &[&str], from: &Path, to: &Path) -> Result<()> {
    let mut optimiser = Command::new(project.npm_program("wasm-opt"));
    command::run_quietly(optimiser.args(FEATURES).args(options).arg(from).arg("-o").arg(to))?;
    Ok(())
}

/// Orders the functions of a module so that it packs well, and leaves out what is not for the browser.
fn put_in_order(project: &Project, module: &[u8], to: &Path) -> Result<()> {
    let named = to.with_extension("named.wasm");
    fs::write(&named, arrange::named_by_place(module)?)?;
    optimise(project, &["--reorder-functions-by-name", "--strip-debug"], &named, to)
}
