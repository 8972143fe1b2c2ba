//! Requests and replies as one dynamic value.
//!
//! A form names its fields once more beside its declaration: [`reads!`] those of a request, with what stands for one that is
//! left out, [`writes!`] those of an answer, [`words!`] the words of a choice. What they expand to is one call a field
//! of code that exists once. (serde's derived code is compiled for each type: the page's engine was 11 kB larger with it, gzipped.)

mod domain;
mod reader;
mod writer;

pub(super) use reader::{Read, Reader, read, read_all};
pub(super) use writer::{Fields, Write, text};

/// How a request is read. A field without `= default` must be given; of a form `over` another value, any may be left out.
macro_rules! reads {
    ($form:ident { $($field:ident $(= $default:expr)?),* $(,)? }) => {
        impl $crate::contract::wire::Read for $form {
            fn blank() -> Self {
                $form { $($field: $crate::contract::wire::reads!(@blank $($default)?)),* }
            }

            fn read(&mut self, from: &mut $crate::contract::wire::Reader<'_>) {
                from.form(stringify!($form), self);
                $($crate::contract::wire::reads!(@read from, self, $field $(= $default)?);)*
            }
        }
    };
    ($form:ident over $base:expr; $($field:ident),* $(,)?) => {
        impl $crate::contract::wire::Read for $form {
            fn blank() -> Self {
                $base
            }

            fn read(&mut self, from: &mut $crate::contract::wire::Reader<'_>) {
                from.form(stringify!($form), self);
                let $form { $($field),* } = self;
                $(from.may(stringify!($field), $field);)*
            }
        }
    };
    (@blank) => { $crate::contract::wire::Read::blank() };
    (@blank $default:expr) => { $default };
    (@read $from:ident, $form:ident, $field:ident) => { $from.must(stringify!($field), &mut $form.$field) };
    (@read $from:ident, $form:ident, $field:ident = $default:expr) => {
        $from.may(stringify!($field), &mut $form.$field)
    };
}

/// How an answer is written: every field; `if given` those that are left out when they are `None` or empty, `inline`
/// those whose own fields stand among the others, and `without` those that are not told.
macro_rules! writes {
    ($form:ident { $($field:ident),* $(,)? }
        $(if given { $($given:ident),* $(,)? })?
        $(inline { $($inline:ident),* })?
        $(without { $($left:ident),* })?
    ) => {
        impl $crate::contract::wire::Write for $form {
            fn write(&self) -> serde_json::Value {
                let $form { $($field,)* $($($given,)*)? $($($inline,)*)? $($($left: _,)*)? } = self;
                let mut fields = $crate::contract::wire::Fields::default();
                $(fields.put(stringify!($field), $field);)*
                $($(fields.put_given(stringify!($given), $given);)*)?
                $($(fields.put_inline($inline);)*)?
                fields.end()
            }
        }
    };
}

/// The words that a choice is written as.
macro_rules! words {
    ($choice:ident { $($variant:ident $word:literal),* $(,)? }) => {
        impl $crate::contract::wire::Read for $choice {
            fn blank() -> Self {
                [$($choice::$variant),*][0]
            }

            fn read(&mut self, from: &mut $crate::contract::wire::Reader<'_>) {
                if let Some(choice) = from.word(&[$($word),*]) {
                    *self = [$($choice::$variant),*][choice];
                }
            }
        }

        impl $crate::contract::wire::Write for $choice {
            fn write(&self) -> serde_json::Value {
                $crate::contract::wire::text(match self { $($choice::$variant => $word),* })
            }
        }
    };
}

pub(super) use {reads, words, writes};
