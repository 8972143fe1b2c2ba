//! Checks that how things are said and what there is to say belong together, before a visitor finds a gap.
//!
//! What is said stands in `www/words/en.ftl`, in Project Fluent's syntax. What there is to say comes from two
//! sides. The engine's findings are listed in `www/words/findings.json`, which a native test of the engine
//! keeps true. The page names its own messages in its sources, and TypeScript checks those calls against the
//! type of all messages that is written here.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use anyhow::{Context, Result, bail};
use fluent_syntax::ast::{
    CallArguments, Entry, Expression, InlineExpression, Pattern, PatternElement, VariantKey,
};
use fluent_syntax::parser;

use crate::project::Project;
use crate::stamp::files_under;

/// Of each subject of the engine's findings, the kinds, and of each kind the figures.
type Findings = BTreeMap<String, BTreeMap<String, Vec<String>>>;

/// Checks the messages of the page, and writes their type for its scripts.
pub(crate) fn check(project: &Project) -> Result<()> {
    let www = project.www();
    let read = |name: &str| {
        fs::read_to_string(www.join("words").join(name))
            .with_context(|| format!("cannot read www/words/{name}"))
    };
    let mut sources = String::new();
    for path in files_under(&www.join("src"), &[])? {
        sources.push_str(&fs::read_to_string(path)?);
    }
    let findings: Findings =
        serde_json::from_str(&read("findings.json")?).context("cannot read www/words/findings.json")?;
    let types = checked(&read("en.ftl")?, &findings, &sources)?;
    fs::create_dir_all(project.generated())?;
    let path = project.generated().join("messages.ts");
    if fs::read_to_string(&path).is_ok_and(|there| there == types) {
        return Ok(());
    }
    fs::write(&path, types).with_context(|| format!("cannot write {}", path.display()))
}

/// The TypeScript type of all messages, where nothing is wrong with them.
fn checked(words: &str, findings: &Findings, sources: &str) -> Result<String> {
    let mut faults = Vec::new();
    let (messages, mut said) = messages(words, findings, &mut faults);
    for (subject, kinds) in findings {
        for (kind, figures) in kinds {
            let id = format!("{subject}-{kind}");
            match messages.get(&id) {
                None => {
                    faults.push(format!("`{id}` is missing: the engine finds it, with {}", list(figures)))
                }
                Some(needs) => {
                    for name in needs.keys().filter(|name| !figures.contains(name)) {
                        faults.push(format!("`{id}` names ${name}, and the engine gives {}", list(figures)));
                    }
                }
            }
            said.insert(id);
        }
    }
    for id in messages.keys().filter(|id| !said.contains(*id) && !names(sources, id)) {
        faults.push(format!(
            "`{id}` is said nowhere: no finding is called so, and no source of the page names \"{id}\""
        ));
    }
    if !faults.is_empty() {
        bail!("www/words/en.ftl:\n{}", faults.join("\n"));
    }
    Ok(types(&messages, findings))
}

/// Whether the sources name a message; what stands right after an equals sign is the attribute of an element.
fn names(sources: &str, id: &str) -> bool {
    let quoted = format!("\"{id}\"");
    sources.match_indices(&quoted).any(|(at, _)| !sources[..at].ends_with('='))
}

fn list(figures: &[String]) -> String {
    if figures.is_empty() {
        return "no figures".to_owned();
    }
    figures.iter().map(|name| format!("${name}")).collect::<Vec<_>>().join(", ")
}

/// What a message is given under a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Given {
    Number,
    Text,
    Texts,
}

/// What a message needs, by name.
type Needs = BTreeMap<String, Given>;

/// The functions that a message may call, with what each takes, and how the names of what it takes must end:
/// a temperature is never written as a plain number, nor a mass as a temperature.
const FUNCTIONS: &[(&str, Given, &[&str])] = &[
    ("TEMP", Given::Number, &["_c"]),
    ("TEMPDIFF", Given::Number, &["_k"]),
    ("MASS", Given::Number, &["_g"]),
    ("VOLUME", Given::Number, &["_ml"]),
    ("LENGTH", Given::Number, &["_mm"]),
    ("PERCENT", Given::Number, &["_percent"]),
    ("SECONDS", Given::Number, &["_s"]),
    ("HOURS", Given::Number, &["_h"]),
    ("NUMBER", Given::Number, &[]),
    ("WORDS", Given::Text, &[]),
    ("TEXT", Given::Text, &[]),
    ("NAME", Given::Text, &["id"]),
    ("NAMES", Given::Texts, &["ids"]),
];

/// Fluent's own plural categories (CLDR): a choice between these is made by a number.
const PLURALS: &[&str] = &["zero", "one", "two", "few", "many", "other"];

/// Every message with what it needs, and which of them are part of others.
fn messages(
    words: &str,
    findings: &Findings,
    faults: &mut Vec<String>,
) -> (BTreeMap<String, Needs>, BTreeSet<String>) {
    let resource = match parser::parse(words) {
        Ok(resource) => resource,
        Err((resource, errors)) => {
            for error in errors {
                let line = words[..error.pos.start].matches('\n').count() + 1;
                faults.push(format!("line {line}: {error}"));
            }
            resource
        }
    };
    let mut patterns: BTreeMap<String, &Pattern<&str>> = BTreeMap::new();
    for entry in &resource.body {
        let (id, pattern, attributes) = match entry {
            Entry::Message(message) => {
                (message.id.name.to_owned(), message.value.as_ref(), &message.attributes)
            }
            Entry::Term(term) => (format!("-{}", term.id.name), Some(&term.value), &term.attributes),
            _ => continue,
        };
        if !attributes.is_empty() {
            faults.push(format!("`{id}` has attributes, which nothing here says: make them messages"));
        }
        match pattern {
            None => faults.push(format!("`{id}` says nothing")),
            Some(pattern) if patterns.insert(id.clone(), pattern).is_some() => {
                faults.push(format!("`{id}` is there twice"));
            }
            Some(_) => {}
        }
    }
    let mut reader =
        Reader { patterns: &patterns, findings, faults, used: BTreeSet::new(), id: "", depth: 0 };
    let mut messages = BTreeMap::new();
    for (id, pattern) in &patterns {
        let mut needs = Needs::new();
        (reader.id, reader.depth) = (id, 0);
        reader.pattern(pattern, &mut needs);
        if !id.starts_with('-') {
            messages.insert(id.clone(), needs);
        }
    }
    let used = reader.used;
    for id in patterns.keys().filter(|id| id.starts_with('-') && !used.contains(*id)) {
        faults.push(format!("`{id}` is used by no message"));
    }
    (messages, used)
}

/// Reads what one message needs.
struct Reader<'a> {
    patterns: &'a BTreeMap<String, &'a Pattern<&'a str>>,
    findings: &'a Findings,
    faults: &'a mut Vec<String>,
    /// Other entries that messages are made with.
    used: BTreeSet<String>,
    id: &'a str,
    depth: usize,
}

/// Messages within messages go no deeper than this; a circle does.
const DEEPEST: usize = 5;

impl Reader<'_> {
    fn fault(&mut self, what: &str) {
        self.faults.push(format!("`{}` {what}", self.id));
    }

    fn pattern(&mut self, pattern: &Pattern<&str>, needs: &mut Needs) {
        for element in &pattern.elements {
            match element {
                PatternElement::TextElement { value } => {
                    if value.contains('°') {
                        self.fault("writes degrees by hand, which a reader may want in others");
                    }
                }
                PatternElement::Placeable { expression: Expression::Inline(inline) } => {
                    self.inline(inline, needs)
                }
                PatternElement::Placeable { expression: Expression::Select { selector, variants } } => {
                    let plural = variants.iter().all(|variant| match variant.key {
                        VariantKey::Identifier { name } => PLURALS.contains(&name),
                        VariantKey::NumberLiteral { .. } => true,
                    });
                    match selector {
                        InlineExpression::VariableReference { id } => {
                            self.need(id.name, if plural { Given::Number } else { Given::Text }, needs);
                        }
                        _ => self.fault("chooses by something else than one of its variables"),
                    }
                    for variant in variants {
                        self.pattern(&variant.value, needs);
                    }
                }
            }
        }
    }

    fn inline(&mut self, inline: &InlineExpression<&str>, needs: &mut Needs) {
        match inline {
            InlineExpression::StringLiteral { .. } | InlineExpression::NumberLiteral { .. } => {}
            InlineExpression::VariableReference { id } => {
                let ends =
                    FUNCTIONS.iter().find(|(_, _, ends)| ends.iter().any(|end| ends_with(id.name, end)));
                match ends {
                    Some((function, ..)) => self.fault(&format!("writes ${} without {function}()", id.name)),
                    None => self.need(id.name, Given::Text, needs),
                }
            }
            InlineExpression::FunctionReference { id, arguments } => {
                self.function(id.name, &arguments.positional, needs);
                if id.name == "WORDS" {
                    self.of(arguments);
                }
            }
            InlineExpression::MessageReference { id, attribute: None } => {
                self.entry(id.name.to_owned(), needs)
            }
            InlineExpression::TermReference { id, attribute: None, .. } => {
                // What a term names is given to it where it is called, so that nothing of it is asked of the
                // message.
                self.entry(format!("-{}", id.name), &mut Needs::new());
            }
            InlineExpression::Placeable { expression } => match &**expression {
                Expression::Inline(inline) => self.inline(inline, needs),
                Expression::Select { .. } => self.fault("has a choice within braces within braces"),
            },
            _ => self.fault("speaks of an attribute, which nothing here has"),
        }
    }

    fn function(&mut self, name: &str, taken: &[InlineExpression<&str>], needs: &mut Needs) {
        let Some((_, given, ends)) = FUNCTIONS.iter().find(|(known, ..)| *known == name) else {
            self.fault(&format!("calls {name}(), which www/src/words.ts has not"));
            return;
        };
        let id = match taken {
            [InlineExpression::VariableReference { id }] => id,
            // A figure of the message's own.
            [InlineExpression::NumberLiteral { .. }] if *given == Given::Number => return,
            _ => return self.fault(&format!("must give {name}() one variable")),
        };
        let other = FUNCTIONS
            .iter()
            .find(|(known, _, ends)| *known != name && ends.iter().any(|end| ends_with(id.name, end)));
        if let Some((other, ..)) = other {
            self.fault(&format!("gives ${} to {name}(), and it is for {other}()", id.name));
        } else if !ends.is_empty() && !ends.iter().any(|end| ends_with(id.name, end)) {
            self.fault(&format!(
                "gives ${} to {name}(), which takes what ends in {}",
                id.name,
                ends.join(" or ")
            ));
        } else {
            self.need(id.name, *given, needs);
        }
    }

    /// Checks that a word is said as one of a subject that there is.
    fn of(&mut self, arguments: &CallArguments<&str>) {
        let of = arguments.named.iter().find(|argument| argument.name.name == "of");
        match of.map(|argument| &argument.value) {
            Some(InlineExpression::StringLiteral { value }) if self.findings.contains_key(*value) => {}
            _ => self.fault("does not say of: which subject WORDS() are"),
        }
    }

    fn entry(&mut self, id: String, needs: &mut Needs) {
        let Some(pattern) = self.patterns.get(&id) else {
            self.fault(&format!("is made with `{id}`, which is missing"));
            return;
        };
        self.used.insert(id);
        self.depth += 1;
        if self.depth > DEEPEST {
            self.fault("is made with itself");
        } else {
            self.pattern(pattern, needs);
        }
        self.depth -= 1;
    }

    fn need(&mut self, name: &str, given: Given, needs: &mut Needs) {
        if needs.insert(name.to_owned(), given).is_some_and(|before| before != given) {
            self.fault(&format!("takes ${name} for a number in one place and for text in another"));
        }
    }
}

/// Whether a name is `end`, or ends in it as a word of its own.
fn ends_with(name: &str, end: &str) -> bool {
    let end = end.trim_start_matches('_');
    name.strip_suffix(end).is_some_and(|rest| rest.is_empty() || rest.ends_with('_'))
}

fn types(messages: &BTreeMap<String, Needs>, findings: &Findings) -> String {
    let mut text = "// Written by `cargo page words` from www/words.\n\n\
        /** Every message, with what it needs. */\nexport interface Messages {\n"
        .to_owned();
    for (id, needs) in messages {
        let needs: Vec<String> = needs
            .iter()
            .map(|(name, given)| {
                let kind = match given {
                    Given::Number => "number",
                    Given::Text => "string",
                    Given::Texts => "readonly string[]",
                };
                format!(" {name}: {kind};")
            })
            .collect();
        text.push_str(&format!("  \"{id}\": {{{} }};\n", needs.concat()));
    }
    text.push_str("}\n\n/** What the engine finds, by subject. */\nexport interface Kinds {\n");
    for (subject, kinds) in findings {
        let kinds: Vec<String> = kinds.keys().map(|kind| format!("\"{kind}\"")).collect();
        text.push_str(&format!("  \"{subject}\": {};\n", kinds.join(" | ")));
    }
    text.push_str("}\n");
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    const WORDS: &str = "\
# A comment.
-unit = degrees
part = about { PERCENT($oil_percent) } of it
remark-weeps = At { TEMP($at_c) } { part } is oil.
remark-grainy = It may go grainy.
jars = { $count ->
    [one] One jar of { MASS($fill_g, digits: 0) }
   *[other] { NUMBER($count) } jars, { -unit }
}
save = Keep { NAMES($ids) } on { $shelf ->
    [own] your
   *[other] the
} shelf
";

    fn findings() -> Findings {
        let figures = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect();
        let kinds =
            [("weeps".to_owned(), figures(&["at_c", "oil_percent"])), ("grainy".to_owned(), figures(&[]))];
        [("remark".to_owned(), kinds.into())].into()
    }

    const SOURCES: &str = r#"say("jars", { count, fill_g }); say("save", { ids, shelf });"#;

    fn fault(words: &str, findings: &Findings, sources: &str) -> String {
        let said = format!("{:#}", checked(words, findings, sources).unwrap_err());
        assert_eq!(said.lines().count(), 2, "one fault: {said}");
        said
    }

    #[test]
    fn what_belongs_together_passes_and_is_typed() {
        let types = checked(WORDS, &findings(), SOURCES).unwrap();
        for line in [
            r#""jars": { count: number; fill_g: number; };"#,
            r#""remark-weeps": { at_c: number; oil_percent: number; };"#,
            r#""remark-grainy": { };"#,
            r#""remark": "grainy" | "weeps";"#,
            r#""save": { ids: readonly string[]; shelf: string; };"#,
        ] {
            assert!(types.contains(line), "{types}");
        }
    }

    #[test]
    fn a_missing_message_is_found() {
        let without = WORDS.replace("remark-grainy = It may go grainy.\n", "");
        assert!(fault(&without, &findings(), SOURCES).contains("`remark-grainy` is missing"));
        let typo = WORDS.replace("{ -unit }", "{ -units }").replace("-unit = ", "-units2 = ");
        assert!(
            checked(&typo, &findings(), SOURCES)
                .unwrap_err()
                .to_string()
                .contains("`-units`, which is missing")
        );
    }

    #[test]
    fn an_unused_message_is_found() {
        assert!(fault(WORDS, &findings(), r#"say("jars", ..)"#).contains("`save` is said nowhere"));
        let mut fewer = findings();
        fewer.get_mut("remark").unwrap().remove("grainy");
        assert!(fault(WORDS, &fewer, SOURCES).contains("`remark-grainy` is said nowhere"));
        let term = format!("{WORDS}-other = other\n");
        assert!(fault(&term, &findings(), SOURCES).contains("`-other` is used by no message"));
    }

    #[test]
    fn the_id_of_an_element_is_no_use_of_a_message() {
        let sources = format!("{SOURCES} <h2 id=\"title\">");
        assert!(
            fault(&format!("{WORDS}title = Title\n"), &findings(), &sources)
                .contains("`title` is said nowhere")
        );
    }

    #[test]
    fn a_wrong_argument_is_found() {
        let said = |from: &str, to: &str| fault(&WORDS.replace(from, to), &findings(), SOURCES);
        assert!(
            said("$oil_percent", "$water_percent")
                .contains("names $water_percent, and the engine gives $at_c, $oil_percent")
        );
        assert!(
            said("TEMP($at_c)", "TEMP($oil_percent)")
                .contains("gives $oil_percent to TEMP(), and it is for PERCENT()")
        );
        assert!(
            said("TEMP($at_c)", "NUMBER($at_c)").contains("gives $at_c to NUMBER(), and it is for TEMP()")
        );
        assert!(said("{ TEMP($at_c) }", "{ $at_c }").contains("writes $at_c without TEMP()"));
        assert!(said("TEMP($at_c)", "HEAT($at_c)").contains("calls HEAT()"));
        assert!(
            said("{ NUMBER($count) } jars", "{ $count } jars").contains("$count for a number in one place")
        );
    }

    #[test]
    fn what_a_reader_may_want_otherwise_is_not_written_by_hand() {
        assert!(
            fault(&WORDS.replace("grainy.", "grainy at 20 °C."), &findings(), SOURCES).contains("by hand")
        );
        let with = |words: &str| WORDS.replace("go grainy", words);
        assert!(
            checked(&with("{ WORDS($how, of: \"remark\") }"), &findings(), SOURCES).is_err(),
            "no $how is given"
        );
        let said = fault(&with("{ WORDS(\"grainy\", of: \"remark\") }"), &findings(), SOURCES);
        assert!(said.contains("one variable"), "{said}");
        let page = format!("{WORDS}how = {{ WORDS($how, of: \"remarks\") }}\n");
        assert!(
            fault(&page, &findings(), &format!("{SOURCES} \"how\"")).contains("which subject WORDS() are")
        );
    }

    #[test]
    fn slips_of_the_pen_are_found() {
        assert!(
            fault(&format!("{WORDS}save = Again\n"), &findings(), SOURCES).contains("`save` is there twice")
        );
        assert!(checked(&WORDS.replace("[own] your", "[own your"), &findings(), SOURCES).is_err());
        let circle = format!("{WORDS}one = {{ two }}\ntwo = {{ one }}\n");
        let said =
            checked(&circle, &findings(), &format!("{SOURCES} \"one\" \"two\"")).unwrap_err().to_string();
        assert!(said.contains("`one` is made with itself"));
    }
}
