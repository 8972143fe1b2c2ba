//! wasm-bindgen's test runner: it starts a browser and runs a compiled test in it.
//!
//! `cargo install` would take whatever versions of its dependencies are newest; here they are those of
//! `Cargo.lock`.

use std::env;

fn main() -> anyhow::Result<()> {
    wasm_bindgen_cli::wasm_bindgen_test_runner::run_cli_with_args(env::args_os())
}
