//! The order of the engine's functions: alike ones side by side, where the compressor, which looks back 32 kB, sees both.

use std::collections::HashMap;

use anyhow::{Context, Result};
use wasm_encoder::{Module, NameMap, NameSection, RawSection, SectionId};
use wasmparser::{Parser, Payload, TypeRef};

/// What functions have in common: runs of so many bytes.
const RUN: usize = 6;
/// A run that so many functions have says nothing about any.
const COMMON: usize = 60;
/// How many of the functions placed last count, and how much less each than the one after it.
const LOOKS_BACK: usize = 6;
const FADES: f64 = 0.75;
/// Bytes that are added to the size of a function, so that a tiny one is not alike by chance.
const SMALL: f64 = 30.0;

/// The module without its names and other custom sections, but with every function named by its place in the order, so that
/// sorting by name brings it about.
pub(crate) fn named_by_place(module: &[u8]) -> Result<Vec<u8>> {
    let mut imported = 0;
    let mut bodies = Vec::new();
    let mut named = Module::new();
    for payload in Parser::new(0).parse_all(module) {
        let payload = payload.context("the engine is not a WebAssembly module")?;
        match payload.as_section() {
            Some((id, range)) if id != u8::from(SectionId::Custom) => {
                named.section(&RawSection { id, data: &module[range] });
            }
            _ => {}
        }
        match payload {
            Payload::ImportSection(imports) => {
                for import in imports.into_imports() {
                    imported += u32::from(matches!(import?.ty, TypeRef::Func(_)));
                }
            }
            Payload::CodeSectionEntry(body) => bodies.push(&module[body.range()]),
            _ => {}
        }
    }
    let mut place = vec![0; bodies.len()];
    for (at, body) in order(&bodies).into_iter().enumerate() {
        place[body] = at;
    }
    let mut names = NameMap::new();
    for index in 0..imported {
        names.append(index, &format!("import {index}"));
    }
    for (index, place) in (imported..).zip(place) {
        names.append(index, &format!("{place:08}"));
    }
    let mut section = NameSection::new();
    section.functions(&names);
    named.section(&section);
    Ok(named.finish())
}

/// From the largest on, always the one most like those placed last.
fn order(bodies: &[&[u8]]) -> Vec<usize> {
    let mut runs: HashMap<&[u8], Vec<usize>> = HashMap::new();
    for (body, bytes) in bodies.iter().enumerate() {
        for run in bytes.windows(RUN) {
            let having = runs.entry(run).or_default();
            if having.last() != Some(&body) {
                having.push(body);
            }
        }
    }
    // In the order of their bytes, for the same order of functions at every build.
    let mut shared: Vec<_> =
        runs.into_iter().filter(|(_, having)| (2..=COMMON).contains(&having.len())).collect();
    shared.sort();
    let mut runs_of = vec![Vec::new(); bodies.len()];
    for (run, (_, having)) in shared.iter().enumerate() {
        for body in having {
            runs_of[*body].push(run);
        }
    }
    let mut left: Vec<usize> = (0..bodies.len()).collect();
    left.sort_by_key(|body| bodies[*body].len());
    let mut placed: Vec<usize> = Vec::new();
    while let Some(largest) = left.last() {
        let mut alike = vec![0.0; bodies.len()];
        let mut weight = 1.0;
        for before in placed.iter().rev().take(LOOKS_BACK) {
            for run in &runs_of[*before] {
                let having = &shared[*run].1;
                for body in having {
                    alike[*body] += weight / having.len() as f64;
                }
            }
            weight *= FADES;
        }
        let likeness = |body: usize| alike[body] / (SMALL + runs_of[body].len() as f64).sqrt();
        let next = left.iter().copied().max_by(|a, b| likeness(*a).total_cmp(&likeness(*b)));
        let next = next.filter(|next| likeness(*next) > 0.0).unwrap_or(*largest);
        left.retain(|body| *body != next);
        placed.push(next);
    }
    placed
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn alike_functions_are_neighbours_and_each_has_one_place() {
        let bodies: [&[u8]; 5] = [b"aaabbbcccdddeee", b"123456789", b"aaabbbcccddd", b"12345678", b"?"];
        assert_eq!(order(&bodies), [0, 2, 1, 3, 4]);
    }

    #[test]
    fn a_module_gets_a_name_for_each_function() {
        // (module (func) (func nop))
        let module =
            b"\0asm\x01\0\0\0\x01\x04\x01\x60\0\0\x03\x03\x02\0\0\x0a\x08\x02\x02\0\x0b\x03\0\x01\x0b";
        let named = named_by_place(module).unwrap();
        assert!(named.starts_with(module));
        let text = String::from_utf8_lossy(&named[module.len()..]).into_owned();
        assert!(text.contains("name") && text.contains("00000000") && text.contains("00000001"), "{text}");
        assert!(named_by_place(b"no module").is_err());
    }
}
