//! The engine in two modules: what a first verdict needs, and the rest, which the page fetches after it.
//!
//! The rest is what only `contract::later` reaches. The first part calls that function through the table, where the
//! rest puts it once it is there; both share memory, table and globals, and neither repeats anything of the other. Only the
//! pointer to the stack is each part's own, and so is half of the stack: one that is imported is read and set through a detour,
//! at both ends of nearly every function.

mod part;
mod reach;
#[cfg(test)]
mod sample;
mod whole;

use anyhow::Result;

use self::whole::Whole;

/// Both parts of a module.
pub(crate) struct Parts {
    /// What a first verdict needs, with all exports.
    pub(crate) first: Vec<u8>,
    /// The rest, to be instantiated with the exports of the first part as its module `first`.
    pub(crate) rest: Vec<u8>,
}

/// Splits the optimised engine, which still has the names of its functions.
pub(crate) fn split(compiled: &[u8], optimised: &[u8]) -> Result<Parts> {
    let reach = reach::before_later(compiled)?;
    let whole = Whole::read(optimised)?;
    let first = whole.called_before_later(&reach)?;
    Ok(Parts { first: whole.first(&first, &reach)?, rest: whole.rest(&first, &reach)? })
}

#[cfg(test)]
mod tests {
    use wasmparser::{Parser, Payload};

    use super::sample::engine;
    use super::*;

    /// What a part has.
    #[derive(Default)]
    struct Shape {
        functions: usize,
        /// Addresses and lengths.
        data: Vec<(u32, usize)>,
        /// Places in the table that it fills.
        slots: Vec<u32>,
        imports: Vec<String>,
        exports: Vec<String>,
    }

    fn shape(module: &[u8]) -> Shape {
        let mut shape = Shape::default();
        for payload in Parser::new(0).parse_all(module) {
            match payload.unwrap() {
                Payload::ImportSection(section) => {
                    shape
                        .imports
                        .extend(section.into_imports().map(|import| import.unwrap().name.to_owned()));
                }
                Payload::ExportSection(section) => {
                    shape.exports.extend(section.into_iter().map(|export| export.unwrap().name.to_owned()));
                }
                Payload::ElementSection(section) => {
                    for element in section {
                        let filled = reach::slots(&element.unwrap()).unwrap();
                        shape.slots.extend(filled.into_iter().map(|(slot, _)| slot));
                    }
                }
                Payload::CodeSectionEntry(_) => shape.functions += 1,
                Payload::DataSection(section) => {
                    for segment in section {
                        let segment = segment.unwrap();
                        shape.data.push((reach::address(&segment.kind).unwrap(), segment.data.len()));
                    }
                }
                _ => {}
            }
        }
        shape
    }

    #[test]
    fn each_function_and_each_constant_is_in_one_part() {
        let Parts { first, rest } = split(&engine(false), &engine(true)).unwrap();
        let first = shape(&first);
        assert_eq!(first.functions, 4);
        assert_eq!(first.data, [(1024, 64), (1152, 64)]);
        assert_eq!(first.slots, [1]);
        assert!(first.imports.is_empty());
        assert_eq!(first.exports, ["first", "memory", "0", "t0", "m0", "g1"]);
        let rest = shape(&rest);
        assert_eq!(rest.functions, 2);
        assert_eq!(rest.data, [(1088, 64)]);
        // `later` comes at the end of the table, which had three places.
        assert_eq!(rest.slots, [2, 3]);
        assert_eq!(rest.imports, ["0", "t0", "m0", "g1"]);
        assert!(rest.exports.is_empty());
    }

    #[test]
    fn the_first_part_calls_the_rest_through_the_table() {
        let Parts { first, rest } = split(&engine(false), &engine(true)).unwrap();
        let called = |module: &[u8]| -> Vec<String> {
            let mut called = Vec::new();
            for payload in Parser::new(0).parse_all(module) {
                if let Payload::CodeSectionEntry(body) = payload.unwrap() {
                    let operators = body.get_operators_reader().unwrap().into_iter();
                    called.extend(operators.map(|operator| format!("{:?}", operator.unwrap())));
                }
            }
            called.retain(|operator| operator.contains("Call"));
            called
        };
        // Without `later`, the third of all, `shared` is its fifth.
        let [through_table, shared] = &called(&first)[..] else { panic!("not two calls") };
        assert!(through_table.starts_with("CallIndirect"), "{through_table}");
        assert_eq!(shared, "Call { function_index: 3 }");
        // What it imports comes first: `shared`; then `later` and `only_later`.
        assert_eq!(called(&rest), ["Call { function_index: 2 }", "Call { function_index: 0 }"]);
    }

    /// The globals that a part has itself, with what they hold at the start, and those that it reads, both printed.
    fn globals(module: &[u8]) -> (Vec<String>, Vec<String>) {
        let (mut own, mut read) = (Vec::new(), Vec::new());
        for payload in Parser::new(0).parse_all(module) {
            match payload.unwrap() {
                Payload::GlobalSection(section) => own.extend(section.into_iter().map(|global| {
                    let mut start = global.unwrap().init_expr.get_operators_reader();
                    format!("{:?}", start.read().unwrap())
                })),
                Payload::CodeSectionEntry(body) => {
                    let operators = body.get_operators_reader().unwrap().into_iter();
                    read.extend(operators.map(|operator| format!("{:?}", operator.unwrap())));
                }
                _ => {}
            }
        }
        read.retain(|operator| operator.contains("Global"));
        (own, read)
    }

    #[test]
    fn each_part_has_half_of_the_stack() {
        let Parts { first, rest } = split(&engine(false), &engine(true)).unwrap();
        let own = ["I32Const { value: 1024 }", "I32Const { value: 7 }"].map(str::to_owned);
        assert_eq!(globals(&first), (own.to_vec(), vec![]));
        // After the one that it imports.
        let (own, read) = globals(&rest);
        assert_eq!(own, ["I32Const { value: 512 }"]);
        assert_eq!(read, ["GlobalGet { global_index: 1 }"]);
    }

    #[test]
    fn an_engine_without_names_is_refused() {
        let mut nameless = engine(true);
        let at: Vec<usize> =
            (0..nameless.len()).filter(|at| nameless[*at..].starts_with(b"later17h")).collect();
        at.into_iter().for_each(|at| nameless[at] = b'L');
        let said = split(&engine(false), &nameless).err().unwrap().to_string();
        assert!(said.contains("contract::later"), "{said}");
    }
}
