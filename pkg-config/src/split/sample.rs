//! A small engine to split, as a linker leaves it.

use wasm_encoder::{
    CodeSection, ConstExpr, CustomSection, DataSection, DataSymbolDefinition, ElementSection, Elements,
    Encode, ExportKind, ExportSection, Function, FunctionSection, GlobalSection, GlobalType, Instruction,
    LinkingSection, MemorySection, MemoryType, Module, NameMap, NameSection, RefType, SymbolTable,
    TableSection, TableType, TypeSection, ValType,
};
use wasmparser::RelocationType;

/// The functions of [`engine`], in order.
const START: u32 = 0;
const FIRST: u32 = 1;
const LATER: u32 = 2;
const THROUGH_TABLE: u32 = 3;
const ONLY_LATER: u32 = 4;
const SHARED: u32 = 5;
const NAMES: [&str; 6] = [
    "start",
    "first",
    "_ZN10meltmargin8contract5later17h0123456789abcdefE",
    "through_table",
    "only_later",
    "shared",
];
/// Its globals: the pointer to the stack, and another.
const GLOBALS: [(&str, i32); 2] = [("__stack_pointer", 1024), ("other", 7)];
/// In memory, each of 64 bytes: what the first part reads, what only the rest reads, and what the first part's refers to.
const DATA: [(&str, u32); 3] = [("of_first", 0), ("of_later", 64), ("behind", 128)];

/// A module as a linker leaves it: `first` calls `later` and `shared`, and reads `of_first`, which refers to `through_table`
/// (place 1 in the table) and to `behind`; `later` calls `only_later` and `shared`, and reads `of_later` and the
/// pointer to the stack.
/// Before wasm-bindgen was there it also exports what only that runs.
pub(super) fn engine(bound: bool) -> Vec<u8> {
    let mut module = Module::new();
    let mut types = TypeSection::new();
    types.ty().function([], []);
    let mut functions = FunctionSection::new();
    for _ in NAMES {
        functions.function(0);
    }
    let mut tables = TableSection::new();
    tables.table(TableType {
        element_type: RefType::FUNCREF,
        minimum: 3,
        maximum: Some(3),
        table64: false,
        shared: false,
    });
    let mut memories = MemorySection::new();
    memories.memory(MemoryType {
        minimum: 1,
        maximum: None,
        memory64: false,
        shared: false,
        page_size_log2: None,
    });
    let mut globals = GlobalSection::new();
    for (_, start) in GLOBALS {
        let ty = GlobalType { val_type: ValType::I32, mutable: true, shared: false };
        globals.global(ty, &ConstExpr::i32_const(start));
    }
    let mut exports = ExportSection::new();
    exports.export("first", ExportKind::Func, FIRST).export("memory", ExportKind::Memory, 0);
    if !bound {
        exports.export("__wbindgen_describe_first", ExportKind::Func, ONLY_LATER);
    }
    let mut elements = ElementSection::new();
    let filled = Elements::Functions(vec![THROUGH_TABLE, ONLY_LATER].into());
    elements.active(None, &ConstExpr::i32_const(1), filled);
    module.section(&types).section(&functions).section(&tables).section(&memories).section(&globals);
    module.section(&exports);
    module.section(&wasm_encoder::StartSection { function_index: START }).section(&elements);

    // Numbers of five bytes, as a linker leaves them: a body is its size, no locals, and six bytes an instruction.
    let (mut code, mut references) = (CodeSection::new(), Vec::new());
    let bodies: [&[(RelocationType, u32)]; 6] = [
        &[],
        &[
            (RelocationType::FunctionIndexLeb, LATER),
            (RelocationType::FunctionIndexLeb, SHARED),
            (RelocationType::MemoryAddrSleb, 6),
        ],
        &[
            (RelocationType::FunctionIndexLeb, ONLY_LATER),
            (RelocationType::FunctionIndexLeb, SHARED),
            (RelocationType::MemoryAddrSleb, 7),
            (RelocationType::GlobalIndexLeb, 9),
        ],
        &[],
        &[],
        &[],
    ];
    let mut at = 1;
    for refers in bodies {
        let mut function = Function::new([]);
        at += 2;
        for (ty, index) in refers {
            references.push((*ty, at + 1, *index));
            let (opcode, value, drop) = match ty {
                RelocationType::FunctionIndexLeb => (0x10, *index, None),
                RelocationType::GlobalIndexLeb => (0x23, 0, Some(Instruction::Drop)),
                _ => (0x41, DATA[*index as usize - NAMES.len()].1, Some(Instruction::Drop)),
            };
            let low = [value as u8 | 0x80, 0x80, 0x80, 0x80, 0];
            function.raw([opcode].into_iter().chain(low));
            at += 6;
            if let Some(drop) = drop {
                function.instruction(&drop);
                at += 1;
            }
        }
        function.instruction(&Instruction::End);
        at += 1;
        code.function(&function);
    }
    let mut data = DataSection::new();
    data.active(0, &ConstExpr::i32_const(1024), [7; 192]);
    module.section(&code).section(&data);

    let mut symbols = SymbolTable::new();
    for (name, index) in NAMES.iter().zip(0..) {
        symbols.function(0, index, Some(name));
    }
    for (name, offset) in DATA {
        symbols.data(0, name, Some(DataSymbolDefinition { index: 0, offset, size: 64 }));
    }
    symbols.global(0, 0, Some(GLOBALS[0].0));
    module.section(LinkingSection::new().symbol_table(&symbols));
    // Of the data section: how many, kind, address (an instruction of three bytes and its end), length.
    let of_first = 1 + 1 + 4 + 2;
    let of_data = [
        (RelocationType::TableIndexI32, of_first, THROUGH_TABLE),
        (RelocationType::MemoryAddrI32, of_first + 4, 8),
    ];
    for (name, section, references) in [("reloc.CODE", 8, &references[..]), ("reloc.DATA", 9, &of_data[..])] {
        let mut bytes = Vec::new();
        (section as u32).encode(&mut bytes);
        (references.len() as u32).encode(&mut bytes);
        for (ty, offset, index) in references {
            bytes.push(*ty as u8);
            offset.encode(&mut bytes);
            index.encode(&mut bytes);
            if matches!(ty, RelocationType::MemoryAddrSleb | RelocationType::MemoryAddrI32) {
                0i32.encode(&mut bytes);
            }
        }
        module.section(&CustomSection { name: name.into(), data: bytes.into() });
    }
    let mut names = NameMap::new();
    NAMES.iter().zip(0..).for_each(|(name, index)| names.append(index, name));
    let mut section = NameSection::new();
    section.functions(&names);
    let mut names = NameMap::new();
    GLOBALS.iter().zip(0..).for_each(|((name, _), index)| names.append(index, name));
    section.globals(&names);
    module.section(&section);
    module.finish()
}
