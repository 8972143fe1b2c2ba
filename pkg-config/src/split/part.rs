//! One part of a module, with functions under numbers of its own.

use std::collections::{BTreeMap, HashMap};

use anyhow::Result;
use wasm_encoder::reencode::{self, Reencode};
use wasm_encoder::{CodeSection, ConstExpr, ElementSection, Elements, Instruction};
use wasmparser::{FunctionBody, Operator};

/// Functions and globals by their place in one part.
pub(super) struct Part {
    pub(super) places: HashMap<u32, u32>,
    /// Globals by their place in it.
    pub(super) globals: Vec<u32>,
    /// A function that is called through the table, since it is in the other part: itself, its place there, its type.
    pub(super) through_table: Option<(u32, u32, u32)>,
}

impl Part {
    /// Fills the table, each run of places by a segment.
    pub(super) fn elements(&mut self, slots: impl Iterator<Item = (u32, u32)>) -> Result<ElementSection> {
        let slots: BTreeMap<u32, u32> = slots.collect();
        let mut runs: Vec<(u32, Vec<u32>)> = Vec::new();
        for (slot, function) in slots {
            let place = self.function_index(function)?;
            match runs.last_mut() {
                Some((start, run)) if *start + run.len() as u32 == slot => run.push(place),
                _ => runs.push((slot, vec![place])),
            }
        }
        let mut section = ElementSection::new();
        for (start, run) in runs {
            section.active(None, &ConstExpr::i32_const(start as i32), Elements::Functions(run.into()));
        }
        Ok(section)
    }
}

/// A function that a part calls and does not have.
#[derive(Debug)]
pub(super) struct Missing(u32);

impl std::fmt::Display for Missing {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "function {} is called from the part of the engine that does not have it", self.0)
    }
}

impl std::error::Error for Missing {}

impl Reencode for Part {
    type Error = Missing;

    fn function_index(&mut self, function: u32) -> Result<u32, reencode::Error<Missing>> {
        self.places.get(&function).copied().ok_or(reencode::Error::UserError(Missing(function)))
    }

    fn global_index(&mut self, global: u32) -> Result<u32, reencode::Error<Missing>> {
        Ok(self.globals[global as usize])
    }

    fn parse_function_body(
        &mut self,
        code: &mut CodeSection,
        body: FunctionBody<'_>,
    ) -> Result<(), reencode::Error<Missing>> {
        let mut function = self.new_function_with_parsed_locals(&body)?;
        for operator in body.get_operators_reader()? {
            match (operator?, self.through_table) {
                (Operator::Call { function_index }, Some((away, slot, type_index)))
                    if function_index == away =>
                {
                    function.instruction(&Instruction::I32Const(slot as i32));
                    function.instruction(&Instruction::CallIndirect { type_index, table_index: 0 });
                }
                (operator, _) => {
                    function.instruction(&self.instruction(operator)?);
                }
            }
        }
        code.function(&function);
        Ok(())
    }
}
