//! The forms of the contract as TypeScript types, written for the page from the same structs.

use std::any::TypeId;
use std::collections::BTreeMap;
use std::path::Path;

use ts_rs::{Config, TS, TypeVisitor};

use super::*;
use crate::behaviour::{Firmness, Format};

/// What is written: every form by its name, and what each question takes and gives.
struct Forms {
    /// A large integer is a number, as JSON has it.
    config: Config,
    declared: BTreeMap<String, (TypeId, String)>,
    questions: Vec<(&'static str, String)>,
}

impl TypeVisitor for Forms {
    fn visit<T: TS + 'static + ?Sized>(&mut self) {
        // Numbers, texts and lists have no file of their own, and need no declaration.
        if T::output_path().is_none() {
            return;
        }
        let name = T::ident(&self.config);
        let id = TypeId::of::<T>();
        if let Some((other, _)) = self.declared.get(&name) {
            assert!(*other == id, "two forms are called {name}: give one `ts(rename = ..)`");
            return;
        }
        let text = format!("{}export {}", T::docs().unwrap_or_default(), T::decl(&self.config));
        self.declared.insert(name, (id, shaped(&text)));
        T::visit_dependencies(self);
    }
}

/// A declaration with its explanations in lines of their own.
fn shaped(declaration: &str) -> String {
    let declaration = declaration.replace("/**\n * ", "/** ").replace("\n */", " */");
    let lines = declaration.lines().map(str::trim_end).skip_while(|line| line.is_empty());
    let mut shaped = String::new();
    let mut within = "";
    for line in lines {
        shaped.push_str(within);
        shaped.push_str(line);
        shaped.push('\n');
        if line.starts_with("export ") {
            within = "  ";
        }
    }
    shaped
}

/// Notes what a question takes, which may be several forms at once, and what it gives.
macro_rules! question {
    ($forms:ident, $ask:literal, [$($request:ty),*], $answer:ty) => {
        $($forms.visit::<$request>();)*
        $forms.visit::<$answer>();
        <$answer>::visit_generics(&mut $forms);
        let requests: Vec<String> = vec![$(<$request>::name(&$forms.config)),*];
        let request = if requests.is_empty() { "object".to_owned() } else { requests.join(" & ") };
        let answer = <$answer>::name(&$forms.config);
        $forms.questions.push(($ask, format!("{{ request: {request}; answer: {answer} }}")));
    };
}

fn forms() -> Forms {
    let config = Config::new().with_large_int("number");
    let mut forms = Forms { config, declared: BTreeMap::new(), questions: Vec::new() };
    question!(forms, "melt", [MeltRequest], MeltAnswer);
    question!(forms, "behave", [BehaveRequest, WishesRequest], BehaveAnswer);
    question!(forms, "rework", [ReworkRequest, WishesRequest], ReworkAnswer);
    question!(forms, "rescue", [ReworkRequest, RescueRequest, WishesRequest], RescueAnswer);
    question!(forms, "ladder", [ReworkRequest, WishesRequest], LadderAnswer);
    question!(forms, "seasons", [ReworkRequest, SeasonsRequest], SeasonsAnswer);
    question!(forms, "expose", [ExposeRequest], ExposeAnswer);
    question!(forms, "batch", [BatchRequest], BatchAnswer);
    question!(forms, "liquidus", [LiquidusRequest], LiquidusAnswer);
    question!(forms, "link", [LinkRequest], LinkAnswer);
    question!(forms, "open-link", [OpenLinkRequest], OpenLinkAnswer);
    question!(forms, "read", [ReadRequest], ReadAnswer);
    question!(forms, "scale", [ScaleRequest], ScaleAnswer);
    question!(forms, "certificate", [TextRequest], CertificateAnswer);
    question!(forms, "search", [TextRequest], SearchAnswer);
    question!(forms, "qr", [QrRequest], QrAnswer);
    question!(forms, "harden", [HardenRequest, WishesRequest], HardenAnswer);
    question!(forms, "symptom", [SymptomRequest, WishesRequest], SymptomAnswer);
    question!(forms, "learn", [LearnRequest], LearnAnswer);
    question!(forms, "plan", [PlanRequest], PlanAnswer);
    question!(forms, "notebook", [NotebookRequest], NotebookAnswer);
    question!(forms, "ingredients", [], Vec<Ingredient>);
    forms.visit::<ReworkProgress>();
    forms.visit::<Fault>();
    forms
}

/// The ranges of the page's boxes.
const BOXES: [(&str, ranges::Range); 5] = [
    ("storage_c", ranges::STORAGE_C),
    ("skin_c", ranges::SKIN_C),
    ("air_c", ranges::AIR_C),
    ("fill_ml", ranges::FILL_ML),
    ("overrun_percent", ranges::OVERRUN_PERCENT),
];

/// A form with its defaults, as a constant.
fn usual<Form: TS + Serialize>(name: &str, form: &Form) -> String {
    let value = serde_json::to_string(form).expect("a form can be written");
    format!("export const {name}: {} = {value};\n", Form::name(&Config::new()))
}

#[test]
fn the_types_of_the_page_are_those_of_the_structs() {
    let Forms { declared, questions, .. } = forms();
    let known: Vec<&str> = QUESTIONS.iter().map(|(name, _)| *name).collect();
    assert_eq!(questions.iter().map(|(name, _)| *name).collect::<Vec<_>>(), known);

    let mut text = "// Written by `MINT=1 cargo test --lib forms` from the structs of src/contract/. Temperatures are °C, amounts percent by\n\
        // mass, unless a name says otherwise.\n"
        .to_owned();
    for (_, form) in declared.values() {
        text.push_str(&format!("\n{form}"));
    }
    text.push_str("\n/** What each question takes and gives. */\nexport interface Questions {\n");
    for (name, question) in &questions {
        text.push_str(&format!("  {name:?}: {question};\n"));
    }
    text.push_str("}\n\n// What stands for what is left out of them.\n");
    text.push_str(&usual("USUAL_STATE", &State::default()));
    text.push_str(&usual("USUAL_WAY", &Way::default()));
    text.push_str(&usual("USUAL_PICTURE", &Picture::default()));
    text.push_str("\n/** From and to what the engine takes, where the page has a box for it. */\nexport const RANGES = {\n");
    for (name, (least, most)) in BOXES {
        text.push_str(&format!("  {name}: [{least}, {most}],\n"));
    }
    text.push_str("} as const;\n");
    text.push_str("\n/** What is too soft, every day, for a format to keep its shape. */\n");
    text.push_str("export const TOO_SOFT: Record<Format, Firmness[]> = {\n");
    let firmer = |it: &Firmness| (it.harder() != *it).then(|| it.harder());
    let classes = || std::iter::successors(Some(Firmness::Pourable), firmer);
    for format in [Format::Whipped, Format::Pot, Format::Bar, Format::Stick] {
        let too_soft: Vec<Firmness> = classes().filter(|it| it.is_too_soft_for(format)).collect();
        let [format, too_soft] = [serde_json::to_string(&format), serde_json::to_string(&too_soft)]
            .map(|text| text.expect("a word can be written"));
        text.push_str(&format!("  {format}: {too_soft},\n"));
    }
    text.push_str("};\n");

    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("www/src/forms.ts");
    if std::env::var_os("MINT").is_some() {
        std::fs::write(&file, &text).expect("the types can be written");
    }
    let committed = std::fs::read_to_string(&file).expect("the types can be read");
    assert_eq!(text, committed, "if that is meant: MINT=1 cargo test --lib forms");
}
