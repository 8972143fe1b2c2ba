//! What the first verdict reaches in the compiled engine, by the linker's own account of who refers to what.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::ops::Range;

use anyhow::{Context, Result, bail};
use wasmparser::{
    ConstExpr, DataKind, ElementItems, ElementKind, ExternalKind, KnownCustom, Linking, Operator, Parser,
    Payload, RelocationEntry, RelocationType, SymbolInfo, TypeRef,
};

/// The function that a first verdict does not call.
const LATER: &str = "meltmargin::contract::later";

/// Whether a function, by the name the compiler gave it, is [`LATER`].
pub(super) fn is_later(name: &str) -> bool {
    format!("{:#}", rustc_demangle::demangle(name)) == LATER
}

/// What wasm-bindgen runs to learn of the types, and throws away.
const DESCRIPTIONS: &str = "__wbindgen_describe";

/// Data of fewer bytes stays in the first part: to say where it lies takes six, and more after packing; and so the parts weigh alike.
const WORTH_A_SEGMENT: usize = 60;

/// What the engine needs before [`LATER`] is called. Neither a function's place in the table nor an address in memory
/// changes when the module is bound and optimised.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Reach {
    /// Places in the table of functions that are called through it.
    pub(super) slots: HashSet<u32>,
    /// Constants in memory that only [`LATER`] reads, in order and apart.
    pub(super) later_data: Vec<Range<u32>>,
}

/// A piece of data with a name of the linker's.
#[derive(Clone, Copy)]
struct Datum {
    start: u32,
    end: u32,
}

/// What the linker tells of the compiled engine.
#[derive(Default)]
struct Linked<'a> {
    imported: u32,
    /// Of each function that is not imported, where its body lies in the code section.
    bodies: Vec<Range<usize>>,
    /// Of each segment of data, where it lies in the data section and where in memory.
    segments: Vec<(Range<usize>, u32)>,
    slots: Vec<(u32, u32)>,
    roots: Vec<u32>,
    symbols: Vec<SymbolInfo<'a>>,
    code: Vec<RelocationEntry>,
    data: Vec<RelocationEntry>,
}

/// Follows all references from the exports on, except into [`LATER`].
pub(super) fn before_later(compiled: &[u8]) -> Result<Reach> {
    let linked = Linked::read(compiled)?;
    let function_refers = linked.by_function();
    let datum_refers = linked.by_address()?;
    let later = linked.later()?;

    let mut functions = HashSet::from([later]);
    let mut data: HashSet<u32> = HashSet::new();
    let mut ahead: Vec<&RelocationEntry> = Vec::new();
    for root in &linked.roots {
        visit(*root, &mut functions, &function_refers, &mut ahead);
    }
    while let Some(reference) = ahead.pop() {
        match linked.symbols.get(reference.index as usize) {
            _ if reference.ty == RelocationType::TypeIndexLeb => {}
            Some(SymbolInfo::Func { index, .. }) => {
                visit(*index, &mut functions, &function_refers, &mut ahead)
            }
            Some(SymbolInfo::Data { symbol: Some(_), .. }) if data.insert(reference.index) => {
                let Datum { start, end } = linked.datum(reference.index)?;
                ahead.extend(datum_refers.range(start..end).map(|(_, reference)| *reference));
            }
            _ => {}
        }
    }

    functions.remove(&later);
    let slots = linked.slots.iter().filter(|(_, function)| functions.contains(function));
    Ok(Reach { slots: slots.map(|(slot, _)| *slot).collect(), later_data: linked.data_besides(&data)? })
}

/// Goes on to what a function refers to, unless it was seen before.
fn visit<'a>(
    function: u32,
    seen: &mut HashSet<u32>,
    refers: &HashMap<u32, Vec<&'a RelocationEntry>>,
    ahead: &mut Vec<&'a RelocationEntry>,
) {
    if seen.insert(function) {
        ahead.extend(refers.get(&function).into_iter().flatten());
    }
}

impl<'a> Linked<'a> {
    fn read(compiled: &'a [u8]) -> Result<Self> {
        let mut linked = Linked::default();
        let mut code_start = 0;
        for payload in Parser::new(0).parse_all(compiled) {
            match payload.context("the compiled engine is not a WebAssembly module")? {
                Payload::ImportSection(imports) => {
                    for import in imports.into_imports() {
                        linked.imported += u32::from(matches!(import?.ty, TypeRef::Func(_)));
                    }
                }
                Payload::ExportSection(exports) => {
                    for export in exports {
                        let export = export?;
                        if export.kind == ExternalKind::Func && !export.name.starts_with(DESCRIPTIONS) {
                            linked.roots.push(export.index);
                        }
                    }
                }
                Payload::StartSection { func, .. } => linked.roots.push(func),
                Payload::ElementSection(elements) => {
                    for element in elements {
                        linked.slots.extend(slots(&element?)?);
                    }
                }
                Payload::CodeSectionStart { range, .. } => code_start = range.start,
                Payload::CodeSectionEntry(body) => {
                    let range = body.range();
                    linked.bodies.push(range.start - code_start..range.end - code_start);
                }
                Payload::DataSection(segments) => {
                    let data_start = segments.range().start;
                    for segment in segments {
                        let segment = segment?;
                        let start = segment.range.end - segment.data.len() - data_start;
                        linked
                            .segments
                            .push((start..segment.range.end - data_start, address(&segment.kind)?));
                    }
                }
                Payload::CustomSection(section) => linked.read_custom(section.as_known(), section.name())?,
                _ => {}
            }
        }
        if linked.symbols.is_empty() || linked.code.is_empty() {
            bail!("the linker left no account of the engine: it is linked with `--emit-relocs` for that");
        }
        Ok(linked)
    }

    fn read_custom(&mut self, section: KnownCustom<'a>, name: &str) -> Result<()> {
        match section {
            KnownCustom::Linking(linking) => {
                for part in linking.subsections() {
                    if let Linking::SymbolTable(symbols) = part? {
                        self.symbols = symbols.into_iter().collect::<Result<_, _>>()?;
                    }
                }
            }
            KnownCustom::Reloc(references) => {
                let entries = references.entries().into_iter().collect::<Result<_, _>>()?;
                match name {
                    "reloc.CODE" => self.code = entries,
                    "reloc.DATA" => self.data = entries,
                    _ => {}
                }
            }
            _ => {}
        }
        Ok(())
    }

    fn later(&self) -> Result<u32> {
        let named = |symbol: &SymbolInfo| match symbol {
            SymbolInfo::Func { index, name: Some(name), .. } if is_later(name) => Some(*index),
            _ => None,
        };
        self.symbols
            .iter()
            .find_map(named)
            .with_context(|| format!("no function of the engine is named {LATER}"))
    }

    fn datum(&self, symbol: u32) -> Result<Datum> {
        match self.symbols.get(symbol as usize) {
            Some(SymbolInfo::Data { symbol: Some(place), .. }) => {
                let (_, base) = self.segments.get(place.index as usize).context("data of no segment")?;
                let start = base + place.offset;
                Ok(Datum { start, end: start + place.size })
            }
            _ => bail!("symbol {symbol} is no data"),
        }
    }

    /// What each function refers to.
    fn by_function(&self) -> HashMap<u32, Vec<&RelocationEntry>> {
        let mut refers: HashMap<u32, Vec<&RelocationEntry>> = HashMap::new();
        for reference in &self.code {
            // Bodies come in order.
            let body = self.bodies.partition_point(|body| body.end <= reference.offset as usize);
            refers.entry(self.imported + body as u32).or_default().push(reference);
        }
        refers
    }

    /// What the data refer to, by their address.
    fn by_address(&self) -> Result<BTreeMap<u32, &RelocationEntry>> {
        let mut refers = BTreeMap::new();
        for reference in &self.data {
            let at = reference.offset as usize;
            let (section, base) = self
                .segments
                .iter()
                .find(|(section, _)| section.contains(&at))
                .context("a reference in no data")?;
            refers.insert(base + (at - section.start) as u32, reference);
        }
        Ok(refers)
    }

    /// What has a name and none of these names.
    fn data_besides(&self, reached: &HashSet<u32>) -> Result<Vec<Range<u32>>> {
        let (mut kept, mut others) = (Vec::new(), Vec::new());
        for (index, symbol) in self.symbols.iter().enumerate() {
            if matches!(symbol, SymbolInfo::Data { symbol: Some(_), .. }) {
                let Datum { start, end } = self.datum(index as u32)?;
                if reached.contains(&(index as u32)) { &mut kept } else { &mut others }.push(start..end);
            }
        }
        let (kept, others) = (joined(kept), joined(others));
        let besides = others.into_iter().flat_map(|range| without(range, &kept));
        Ok(besides.filter(|range| range.len() >= WORTH_A_SEGMENT).collect())
    }
}

/// The places in the table that a segment fills, and with which functions.
pub(super) fn slots(element: &wasmparser::Element) -> Result<Vec<(u32, u32)>> {
    let ElementKind::Active { table_index, offset_expr } = &element.kind else { return Ok(Vec::new()) };
    let ElementItems::Functions(functions) = &element.items else {
        bail!("the engine's table is filled with expressions, which cannot be told apart");
    };
    if table_index.unwrap_or(0) != 0 {
        bail!("the engine calls functions through a second table");
    }
    let first = constant(offset_expr)?;
    functions.clone().into_iter().zip(first..).map(|(function, slot)| Ok((slot, function?))).collect()
}

/// Where a segment of data lies.
pub(super) fn address(kind: &DataKind) -> Result<u32> {
    match kind {
        DataKind::Active { memory_index: 0, offset_expr } => constant(offset_expr),
        _ => bail!("the engine has data without an address"),
    }
}

pub(super) fn constant(expression: &ConstExpr) -> Result<u32> {
    match expression.get_operators_reader().read()? {
        Operator::I32Const { value } => Ok(value as u32),
        other => bail!("{other:?} stands where a number is expected"),
    }
}

/// The same numbers in ranges in order and apart.
fn joined(mut ranges: Vec<Range<u32>>) -> Vec<Range<u32>> {
    ranges.retain(|range| !range.is_empty());
    ranges.sort_by_key(|range| range.start);
    let mut joined: Vec<Range<u32>> = Vec::new();
    for range in ranges {
        match joined.last_mut() {
            Some(last) if range.start <= last.end => last.end = last.end.max(range.end),
            _ => joined.push(range),
        }
    }
    joined
}

/// What of a range is in none of these, which are in order and apart.
fn without(range: Range<u32>, taken: &[Range<u32>]) -> Vec<Range<u32>> {
    let mut left = Vec::new();
    let mut from = range.start;
    let first = taken.partition_point(|taken| taken.end <= range.start);
    for taken in taken[first..].iter().take_while(|taken| taken.start < range.end) {
        left.push(from..taken.start.max(from));
        from = taken.end.max(from);
    }
    left.push(from..range.end.max(from));
    left.retain(|range| !range.is_empty());
    left
}

#[cfg(test)]
mod tests {
    use wasm_encoder::Module;

    use super::*;
    use crate::split::sample::engine;

    #[test]
    fn what_only_later_refers_to_is_told_apart() {
        let reach = before_later(&engine(false)).unwrap();
        assert_eq!(reach.slots, HashSet::from([1]));
        let [Range { start: 1088, end: 1152 }] = reach.later_data[..] else {
            panic!("{:?}", reach.later_data)
        };
    }

    #[test]
    fn an_engine_without_an_account_or_without_the_function_is_refused() {
        let without = |unwanted: &str| -> Vec<u8> {
            let mut module = Module::new();
            let engine = engine(false);
            for payload in Parser::new(0).parse_all(&engine) {
                let payload = payload.unwrap();
                let named = matches!(&payload, Payload::CustomSection(section) if section.name() == unwanted);
                if let (Some((id, range)), false) = (payload.as_section(), named) {
                    module.section(&wasm_encoder::RawSection { id, data: &engine[range] });
                }
            }
            module.finish()
        };
        assert!(before_later(&without("name")).is_ok());
        for account in ["reloc.CODE", "linking"] {
            let said = before_later(&without(account)).unwrap_err().to_string();
            assert!(said.contains("--emit-relocs"), "{account}: {said}");
        }
        let name = "later17h".as_bytes();
        let mut other = engine(false);
        let at: Vec<usize> = (0..other.len()).filter(|at| other[*at..].starts_with(name)).collect();
        at.into_iter().for_each(|at| other[at] = b'L');
        assert!(before_later(&other).unwrap_err().to_string().contains("contract::later"));
    }

    #[test]
    fn ranges_are_cut_by_others() {
        let all = joined(vec![10..20, 0..5, 18..30, 5..5]);
        assert_eq!(all, [0..5, 10..30]);
        assert_eq!(without(2..28, &all), vec![5..10]);
        assert_eq!(without(0..40, &all), vec![5..10, 30..40]);
        assert_eq!(without(12..14, &all), Vec::<Range<u32>>::new());
        assert_eq!(without(40..50, &all), vec![40..50]);
    }
}
