//! The whole module, and how each part is written from it.

use std::collections::{BTreeMap, HashSet};
use std::ops::Range;

use anyhow::{Context, Result, bail};
use wasm_encoder::reencode::Reencode;
use wasm_encoder::{
    CodeSection, ConstExpr, DataSection, EntityType, ExportKind, ExportSection, FunctionSection,
    GlobalSection, ImportSection, MemorySection, Module, RawSection, SectionId, TableSection,
};
use wasmparser::{
    Data, Export, FunctionBody, Global, Import, KnownCustom, MemoryType, Name, Operator, Parser, Payload,
    Table, TypeRef,
};

use super::part::Part;
use super::reach::{self, Reach};

/// The module that the rest imports from: the exports of the first part.
const FIRST: &str = "first";

/// The global that says how far the stack is used, by the name the linker gave it.
const STACK_POINTER: &str = "__stack_pointer";

/// A module, taken apart.
#[derive(Default)]
pub(super) struct Whole<'a> {
    types: &'a [u8],
    imports: Vec<Import<'a>>,
    /// How many functions are imported.
    imported: u32,
    /// The type of every function, imported ones first.
    type_of: Vec<u32>,
    tables: Vec<Table<'a>>,
    memories: Vec<MemoryType>,
    globals: Vec<Global<'a>>,
    exports: Vec<Export<'a>>,
    start: Option<u32>,
    slots: Vec<(u32, u32)>,
    bodies: Vec<FunctionBody<'a>>,
    data: Vec<Data<'a>>,
    later: Option<u32>,
    stack_pointer: Option<u32>,
}

impl<'a> Whole<'a> {
    pub(super) fn read(module: &'a [u8]) -> Result<Self> {
        let mut whole = Whole::default();
        for payload in Parser::new(0).parse_all(module) {
            match payload.context("the engine is not a WebAssembly module")? {
                Payload::TypeSection(types) => whole.types = &module[types.range()],
                Payload::ImportSection(imports) => {
                    for import in imports.into_imports() {
                        let import = import?;
                        match import.ty {
                            TypeRef::Func(ty) => whole.type_of.push(ty),
                            _ => bail!("the engine imports `{}`, which is no function", import.name),
                        }
                        whole.imports.push(import);
                    }
                    whole.imported = whole.type_of.len() as u32;
                }
                Payload::FunctionSection(types) => {
                    whole.type_of.extend(types.into_iter().collect::<Result<Vec<_>, _>>()?);
                }
                Payload::TableSection(tables) => {
                    whole.tables = tables.into_iter().collect::<Result<_, _>>()?
                }
                Payload::MemorySection(memories) => {
                    whole.memories = memories.into_iter().collect::<Result<_, _>>()?;
                }
                Payload::GlobalSection(globals) => {
                    whole.globals = globals.into_iter().collect::<Result<_, _>>()?
                }
                Payload::ExportSection(exports) => {
                    whole.exports = exports.into_iter().collect::<Result<_, _>>()?
                }
                Payload::StartSection { func, .. } => whole.start = Some(func),
                Payload::ElementSection(elements) => {
                    for element in elements {
                        whole.slots.extend(reach::slots(&element?)?);
                    }
                }
                Payload::CodeSectionEntry(body) => whole.bodies.push(body),
                Payload::DataSection(data) => whole.data = data.into_iter().collect::<Result<_, _>>()?,
                Payload::CustomSection(section) => {
                    if let KnownCustom::Name(names) = section.as_known() {
                        for names in names {
                            whole.read_names(names?)?;
                        }
                    }
                }
                Payload::TagSection(_) => bail!("the engine throws exceptions, which no part of it should"),
                _ => {}
            }
        }
        Ok(whole)
    }

    fn read_names(&mut self, names: Name<'_>) -> Result<()> {
        match names {
            Name::Function(names) => {
                for name in names {
                    let name = name?;
                    if reach::is_later(name.name) {
                        self.later = Some(name.index);
                    }
                }
            }
            Name::Global(names) => {
                for name in names {
                    let name = name?;
                    if name.name == STACK_POINTER {
                        self.stack_pointer = Some(name.index);
                    }
                }
            }
            _ => {}
        }
        Ok(())
    }

    fn stack_pointer(&self) -> Result<u32> {
        self.stack_pointer.with_context(|| format!("no global of the engine is named `{STACK_POINTER}`"))
    }

    fn later(&self) -> Result<u32> {
        self.later.context("no function of the engine is named `contract::later`")
    }

    /// The place in the table where the rest puts `contract::later`: a new one at its end.
    fn later_slot(&self) -> Result<u32> {
        Ok(u32::try_from(self.tables.first().context("the engine has no table")?.ty.initial)?)
    }

    fn body(&self, function: u32) -> Option<&FunctionBody<'a>> {
        self.bodies.get(function.checked_sub(self.imported)? as usize)
    }

    /// All functions of the first part. What the compiler saw called through the table is taken by its place there, what is
    /// called by name by what is left of such calls.
    pub(super) fn called_before_later(&self, reach: &Reach) -> Result<HashSet<u32>> {
        let later = self.later()?;
        let mut ahead: Vec<u32> = self.start.into_iter().collect();
        ahead.extend(self.exports.iter().filter(|export| is_function(export)).map(|export| export.index));
        ahead.extend(
            self.slots.iter().filter(|(slot, _)| reach.slots.contains(slot)).map(|(_, called)| *called),
        );
        let mut found = HashSet::new();
        while let Some(function) = ahead.pop() {
            if function == later || !found.insert(function) {
                continue;
            }
            if let Some(body) = self.body(function) {
                ahead.extend(calls(body)?);
            }
        }
        Ok(found)
    }

    /// The functions of a part that are not imported, in order.
    fn of_part(&self, in_part: impl Fn(u32) -> bool) -> Vec<u32> {
        (self.imported..self.type_of.len() as u32).filter(|function| in_part(*function)).collect()
    }

    /// Of all functions of the first part, those that the rest calls, and the names that they are exported by.
    fn shared(&self, first: &HashSet<u32>) -> Result<BTreeMap<u32, String>> {
        let mut shared = BTreeMap::new();
        for function in self.of_part(|function| !first.contains(&function)) {
            for called in self.body(function).map(calls).transpose()?.into_iter().flatten() {
                if called < self.imported || first.contains(&called) {
                    shared.insert(called, String::new());
                }
            }
        }
        for (at, name) in shared.values_mut().enumerate() {
            *name = at.to_string();
        }
        Ok(shared)
    }

    pub(super) fn first(&self, first: &HashSet<u32>, reach: &Reach) -> Result<Vec<u8>> {
        let later = self.later()?;
        let own = self.of_part(|function| first.contains(&function));
        let places = (0..self.imported).chain(own.iter().copied()).zip(0..).collect();
        let through_table = Some((later, self.later_slot()?, self.type_of[later as usize]));
        let globals = (0..self.globals.len() as u32).collect();
        let mut part = Part { places, globals, through_table };

        let mut imports = ImportSection::new();
        for import in &self.imports {
            imports.import(import.module, import.name, part.entity_type(import.ty)?);
        }
        let mut tables = TableSection::new();
        for (at, table) in self.tables.iter().enumerate() {
            let mut ty = part.table_type(table.ty)?;
            if at == 0 {
                ty.minimum += 1;
                ty.maximum = ty.maximum.map(|most| most.max(ty.minimum));
            }
            tables.table(ty);
        }
        let mut memories = MemorySection::new();
        for memory in &self.memories {
            memories.memory(part.memory_type(*memory)?);
        }
        let mut globals = GlobalSection::new();
        for global in &self.globals {
            part.parse_global(&mut globals, global.clone())?;
        }
        let mut exports = ExportSection::new();
        for export in &self.exports {
            part.parse_export(&mut exports, *export)?;
        }
        for (function, name) in self.shared(first)? {
            exports.export(&name, ExportKind::Func, part.function_index(function)?);
        }
        for (kind, entity) in self.shared_entities()? {
            exports.export(&entity.name, kind, entity.index);
        }

        let mut module = Module::new();
        module.section(&self.type_section()).section(&imports).section(&self.function_section(&own));
        module.section(&tables).section(&memories).section(&globals).section(&exports);
        if let Some(start) = self.start {
            module.section(&wasm_encoder::StartSection { function_index: part.function_index(start)? });
        }
        let slots = self.slots.iter().copied().filter(|(_, function)| first.contains(function));
        module.section(&part.elements(slots)?);
        module.section(&self.code(&mut part, &own)?);
        module.section(&self.data_section(|address| !within(&reach.later_data, address))?);
        Ok(module.finish())
    }

    pub(super) fn rest(&self, first: &HashSet<u32>, reach: &Reach) -> Result<Vec<u8>> {
        let own = self.of_part(|function| !first.contains(&function));
        let shared = self.shared(first)?;
        let places = shared.keys().copied().chain(own.iter().copied()).zip(0..).collect();
        // Imported globals come first, so that the pointer to the stack is the last.
        let (stack, count) = (self.stack_pointer()?, self.globals.len() as u32);
        let place = |global| match global {
            _ if global == stack => count - 1,
            _ if global > stack => global - 1,
            _ => global,
        };
        let mut part = Part { places, globals: (0..count).map(place).collect(), through_table: None };

        let mut imports = ImportSection::new();
        for (function, name) in &shared {
            imports.import(FIRST, name, EntityType::Function(self.type_of[*function as usize]));
        }
        for (_, entity) in self.shared_entities()? {
            let ty = match entity.of {
                Of::Table(table) => {
                    let mut ty = part.table_type(table.ty)?;
                    ty.minimum += u64::from(entity.index == 0);
                    ty.maximum = ty.maximum.map(|most| most.max(ty.minimum));
                    EntityType::Table(ty)
                }
                Of::Memory(memory) => EntityType::Memory(part.memory_type(*memory)?),
                Of::Global(global) => EntityType::Global(part.global_type(global.ty)?),
            };
            imports.import(FIRST, &entity.name, ty);
        }

        let global = &self.globals[stack as usize];
        let mut globals = GlobalSection::new();
        let lower_half = ConstExpr::i32_const((reach::constant(&global.init_expr)? / 2) as i32);
        globals.global(part.global_type(global.ty)?, &lower_half);

        let mut module = Module::new();
        module.section(&self.type_section()).section(&imports).section(&self.function_section(&own));
        module.section(&globals);
        let slots = self.slots.iter().copied().filter(|(_, function)| !first.contains(function));
        module.section(&part.elements(slots.chain([(self.later_slot()?, self.later()?)]))?);
        module.section(&self.code(&mut part, &own)?);
        module.section(&self.data_section(|address| within(&reach.later_data, address))?);
        Ok(module.finish())
    }

    fn type_section(&self) -> RawSection<'a> {
        RawSection { id: SectionId::Type.into(), data: self.types }
    }

    fn function_section(&self, functions: &[u32]) -> FunctionSection {
        let mut section = FunctionSection::new();
        for function in functions {
            section.function(self.type_of[*function as usize]);
        }
        section
    }

    fn code(&self, part: &mut Part, functions: &[u32]) -> Result<CodeSection> {
        let mut code = CodeSection::new();
        for function in functions {
            let body = self.body(*function).context("a function without a body")?;
            part.parse_function_body(&mut code, body.clone())?;
        }
        Ok(code)
    }

    /// The data at the addresses that `wanted` names.
    fn data_section(&self, wanted: impl Fn(u32) -> bool) -> Result<DataSection> {
        let mut section = DataSection::new();
        for data in &self.data {
            let base = reach::address(&data.kind)?;
            for run in runs(data.data.len(), |at| wanted(base + at as u32)) {
                let offset = ConstExpr::i32_const((base + run.start as u32) as i32);
                section.active(0, &offset, data.data[run].iter().copied());
            }
        }
        Ok(section)
    }

    /// What both parts share besides functions: all but the pointer to the stack.
    fn shared_entities(&self) -> Result<Vec<(ExportKind, Entity<'_, 'a>)>> {
        let named = |kind, letter: &str, at: usize, of| {
            (kind, Entity { name: format!("{letter}{at}"), index: at as u32, of })
        };
        let tables = self.tables.iter().enumerate();
        let memories = self.memories.iter().enumerate();
        let stack = self.stack_pointer()? as usize;
        let globals = self.globals.iter().enumerate().filter(|(at, _)| *at != stack);
        let entities = tables
            .map(|(at, table)| named(ExportKind::Table, "t", at, Of::Table(table)))
            .chain(memories.map(|(at, memory)| named(ExportKind::Memory, "m", at, Of::Memory(memory))))
            .chain(globals.map(|(at, global)| named(ExportKind::Global, "g", at, Of::Global(global))));
        Ok(entities.collect())
    }
}

/// A table, a memory or a global that both parts use.
struct Entity<'w, 'a> {
    name: String,
    index: u32,
    of: Of<'w, 'a>,
}

enum Of<'w, 'a> {
    Table(&'w Table<'a>),
    Memory(&'w MemoryType),
    Global(&'w Global<'a>),
}

fn is_function(export: &Export) -> bool {
    export.kind == wasmparser::ExternalKind::Func
}

/// The functions that a body names.
fn calls(body: &FunctionBody) -> Result<Vec<u32>> {
    let mut called = Vec::new();
    for operator in body.get_operators_reader()? {
        match operator? {
            Operator::Call { function_index }
            | Operator::ReturnCall { function_index }
            | Operator::RefFunc { function_index } => called.push(function_index),
            Operator::MemoryInit { .. } | Operator::TableInit { .. } => {
                bail!("the engine fills memory or table by itself, which a split one cannot")
            }
            _ => {}
        }
    }
    Ok(called)
}

/// Whether ranges that are in order and apart contain a number.
fn within(ranges: &[Range<u32>], number: u32) -> bool {
    let at = ranges.partition_point(|range| range.end <= number);
    ranges.get(at).is_some_and(|range| range.contains(&number))
}

/// The longest runs below `length` that are wanted throughout.
fn runs(length: usize, wanted: impl Fn(usize) -> bool) -> Vec<Range<usize>> {
    let mut runs: Vec<Range<usize>> = Vec::new();
    for at in (0..length).filter(|at| wanted(*at)) {
        match runs.last_mut() {
            Some(run) if run.end == at => run.end += 1,
            _ => runs.push(at..at + 1),
        }
    }
    runs
}
