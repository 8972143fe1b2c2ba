use super::*;
use crate::failure::ErrorKind;

fn line(id: &str, percent: f64) -> Line {
    Line { id: Some(id.to_owned()), percent, ..Line::default() }
}

#[track_caller]
fn round_trip(shared: &Shared) -> String {
    let fragment = fragment(shared).expect("writes");
    let (back, remarks) = open(&format!("#{fragment}")).expect("reads back");
    assert_eq!(&back, shared, "{fragment}");
    assert!(remarks.is_empty());
    fragment
}

#[track_caller]
fn refused(fragment: &str, says: &str) {
    let failure = open(fragment).expect_err("must be refused");
    assert_eq!(failure.kind, ErrorKind::BadLink);
    assert!(failure.message.contains(says), "{}", failure.message);
}

/// Links that are out in the world: each must mean for ever what it meant. Never change one; add new ones.
#[test]
fn golden_links_of_version_1() {
    let simple = Shared {
        recipe: vec![line("shea-butter", 62.5), line("sunflower-oil", 37.5)],
        format: Format::Whipped,
        coldest_c: 16.0,
        hottest_c: 31.0,
        firmness: Some(Firmness::Scoopable),
        on_skin: Some(OnSkin::Melts),
        ..Shared::default()
    };
    let golden = "v1&recipe=shea-butter:62.5,sunflower-oil:37.5&as=whipped&store=16~31&feel=scoopable,melts";
    assert_eq!(round_trip(&simple), golden);

    let all = Shared {
        name: Some("Été & hiver".to_owned()),
        recipe: vec![
            line("cocoa-butter", 60.0),
            Line {
                name: Some("lot 7".to_owned()),
                percent: 38.25,
                composition: vec![("SOS".to_owned(), 26.0), ("liquid".to_owned(), 74.0)],
                like: Some("shea-butter".to_owned()),
                ..Line::default()
            },
            Line { name: Some("my <b>wax</b>".to_owned()), ..line("a-later-wax", 1.75) },
        ],
        format: Format::Bar,
        coldest_c: -5.5,
        hottest_c: 38.0,
        skin_c: 33.0,
        firmness: Some(Firmness::Hard),
        on_skin: Some(OnSkin::Stays),
        allowed: Allowed {
            wax_percent: 5.0,
            fatty_acid_percent: 4.0,
            step_percent: 0.1,
            changes: 2,
            locked: vec!["cocoa-butter".to_owned(), "lot 7".to_owned()],
            pantry: Some(vec!["stearic-acid".to_owned()]),
            bounds: vec![("cocoa-butter".to_owned(), 10.0, 70.0)],
            ..Allowed::default()
        },
        picture: Some(Picture {
            hardeners: vec!["beeswax".to_owned(), "stearic-acid".to_owned()],
            swap: Swap::All,
            dose_percent: 7.5,
        }),
        ..Shared::default()
    };
    let golden = "v1&name=%C3%89t%C3%A9+%26+hiver&recipe=cocoa-butter:60,!lot+7!shea-butter!SOS~26;liquid~74:38.25,\
        a-later-wax!my+%3Cb%3Ewax%3C%2Fb%3E:1.75&as=bar&store=-5.5~38&skin=33&feel=hard,stays&wax=5&acid=4&step=0.1\
        &changes=2&keep=cocoa-butter,lot+7&within=cocoa-butter:10~70&pantry=stearic-acid\
        &picture=beeswax,stearic-acid&swap=all&dose=7.5";
    assert_eq!(round_trip(&all), golden);

    let mended = Shared {
        recipe: vec![line("shea-butter", 100.0)],
        allowed: Allowed {
            refuse: vec!["bee".to_owned(), "cocoa-butter".to_owned()],
            as_now: true,
            ..Allowed::default()
        },
        made: Some((740.0, 120.5)),
        other_c: Some((5.0, 20.0)),
        ..Shared::default()
    };
    let golden = "v1&recipe=shea-butter:100&as=pot&store=18~25&avoid=bee,cocoa-butter&aim=now&made=740~120.5&other=5~20";
    assert_eq!(round_trip(&mended), golden);

    let sure = Shared {
        recipe: vec![line("shea-butter", 100.0)],
        allowed: Allowed { keep_lead: true, any_step: true, margin_points: 2.5, ..Allowed::default() },
        ..Shared::default()
    };
    let golden = "v1&recipe=shea-butter:100&as=pot&store=18~25&hold=lead,weighing&margin=2.5";
    assert_eq!(round_trip(&sure), golden);

    let priced = |id: &str, percent: f64, price: f64| Line { price: Some(price), ..line(id, percent) };
    let parcel = Shared {
        recipe: vec![
            priced("shea-butter", 60.0, 12.5),
            line("coconut-oil", 20.0),
            priced("olive-oil", 15.0, 8.0),
            line("beeswax", 5.0),
        ],
        pack: Some(Pack::PaperTube),
        allowed: Allowed {
            fatty_alcohol_percent: Some(4.0),
            powder_percent: Some(12.5),
            ..Allowed::default()
        },
        journey: Some(Journey {
            preset: Some(Preset::DeliveryVan),
            insulation_mm: 30.0,
            cold_pack_g: 300.0,
            ..Journey::default()
        }),
        ..Shared::default()
    };
    let golden = "v1&recipe=shea-butter:60,coconut-oil:20,olive-oil:15,beeswax:5&price=12.5,,8&as=pot&pack=paper-tube\
        &store=18~25&alcohol=4&powder=12.5&way=delivery-van&parcel=120~30~300";
    assert_eq!(round_trip(&parcel), golden);

    let way = Journey::default();
    for (journey, golden) in [
        (Journey { preset: Some(Preset::Mailbox), ..way.clone() }, "v1&as=pot&store=18~25&way=mailbox"),
        (
            Journey { constant_c: Some(-2.5), hours: Some(36.0), ..way.clone() },
            "v1&as=pot&store=18~25&way=steady:-2.5~36",
        ),
        (
            Journey { points: Some(vec![(0.0, 20.0), (6.5, 38.0), (12.0, 24.0)]), ..way },
            "v1&as=pot&store=18~25&way=hourly:0~20;6.5~38;12~24",
        ),
    ] {
        assert_eq!(round_trip(&Shared { journey: Some(journey), ..Shared::default() }), golden);
    }
}

#[test]
fn ten_lines_with_goals_fit_in_300_characters() {
    let ids = [
        "shea-butter",
        "cocoa-butter",
        "mango-butter",
        "coconut-oil",
        "sweet-almond-oil",
        "high-oleic-sunflower-oil",
        "apricot-kernel-oil",
        "fractionated-coconut-oil",
        "stearic-acid",
        "candelilla-wax",
    ];
    let shared = Shared {
        recipe: ids.iter().map(|id| line(id, 10.5)).collect(),
        format: Format::Whipped,
        coldest_c: 16.5,
        hottest_c: 31.5,
        skin_c: 33.5,
        firmness: Some(Firmness::Scoopable),
        on_skin: Some(OnSkin::Lingers),
        ..Shared::default()
    };
    let fragment = round_trip(&shared);
    assert!(fragment.len() <= 300, "{} characters: {fragment}", fragment.len());

    // A price for each, a pack and a parcel take another 81.
    let more = Shared {
        recipe: shared.recipe.iter().map(|line| Line { price: Some(12.5), ..line.clone() }).collect(),
        pack: Some(Pack::Tin),
        journey: Some(Journey { preset: Some(Preset::Mailbox), volume_ml: 60.0, ..Journey::default() }),
        ..shared
    };
    let longer = round_trip(&more);
    assert!(longer.len() <= fragment.len() + 81 + 12, "{} characters: {longer}", longer.len());
}

#[test]
fn what_is_left_out_means_what_the_table_says() {
    let (shared, remarks) = open("#v1").expect("a bare version is a link");
    assert_eq!(shared, Shared::default());
    assert!(remarks.is_empty());
}

#[test]
fn a_part_from_a_later_version_is_left_out_and_said() {
    let (shared, remarks) = open("v1&recipe=shea-butter:100&mood=blue").expect("reads");
    assert_eq!(shared.recipe.len(), 1);
    assert_eq!(remarks.len(), 1);
    assert!(remarks[0].contains("`mood`"), "{}", remarks[0]);
}

#[test]
fn hostile_links_are_refused_with_the_part_named() {
    refused("", "v1");
    refused("recipe=shea-butter:100", "v1");
    refused("v2&anything", "later version");
    refused("v1&recipe=shea-butter", "no percentage");
    refused("v1&recipe=shea-butter:1e2", "not a number");
    refused("v1&recipe=shea-butter:NaN", "not a number");
    refused("v1&recipe=shea-butter:-1", "not from 0 to 100");
    refused("v1&changes=2.7", "not a whole number");
    refused("v1&changes=5", "not from 2 to 3");
    refused("v1&recipe=:5", "neither id nor name");
    refused("v1&recipe=%ZZ:5", "percent-encoded");
    refused("v1&recipe=%FF:5", "percent-encoded");
    refused("v1&name=a%00b", "control");
    refused("v1&name=a%E2%80%AEb", "direction");
    refused("v1&recipe=a!b!c!d!e:5", "no percentage");
    refused("v1&recipe=a!!!!!10:5", "`~`");
    refused("v1&recipe=a!!!!!10~900:5", "not from 0 to 100");
    refused("v1&recipe=a!!!!!!colour~red:5", "nothing known");
    refused("v1&recipe=a!!!!!!spread~flat:5", "none of seed, pulp, random");
    refused("v1&recipe=a!!!!!!!:5", "too many fields");
    refused("v1&as=soap", "none of whipped, pot, bar");
    refused("v1&store=20", "`~`");
    refused("v1&price=1,2&recipe=shea-butter:100", "more prices than the recipe has lines");
    refused("v1&recipe=shea-butter:100&price=-3", "not from 0 to 1000000");
    refused("v1&recipe=shea-butter:100&price=ten", "not a number");
    refused("v1&pack=bucket", "none of jar, glass-jar");
    refused("v1&alcohol=101", "not from 0 to 100");
    refused("v1&powder=x", "not a number");
    refused("v1&way=moon", "none of parked-car-sun");
    refused("v1&way=by:3", "neither `steady` nor `hourly`");
    refused("v1&way=steady:30", "`~`");
    refused("v1&way=steady:300~4", "not from -40 to 100");
    refused("v1&way=steady:30~4000", "not from 0 to 1000");
    refused("v1&way=hourly:1;2", "`~`");
    refused("v1&way=hourly:0~20", "from 2 to 100 corners");
    refused("v1&way=hourly:0~20;3~30;3~25", "hours do not rise");
    refused(&format!("v1&way=hourly:{}", "1~2;".repeat(101)), "from 2 to 100");
    refused("v1&parcel=120~30", "`~`");
    refused("v1&parcel=0~30~1", "not from 1 to 5000");
    refused("v1&store=20~900", "not from -40 to 100");
    refused("v1&skin=32&skin=33", "twice");
    refused("v1&feel=melts,melts", "one too many");
    refused(&format!("v1&recipe={}", "a:1,".repeat(61)), "more than 60");
    refused(&format!("v1&name={}", "a".repeat(81)), "longer than 80");
    refused(&format!("v1&name={}", "a".repeat(20_000)), "longer than 16000");
}

/// A small seeded generator (xorshift), so that a failure can be run again.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % sides
    }
    fn text(&mut self) -> String {
        let letters: Vec<char> = "aZ09-_.~:;,!&=+%#? \"<'é樹🧈".chars().collect();
        let length = 1 + self.roll(12);
        let body: String = (0..length).map(|_| letters[self.roll(letters.len() as u64) as usize]).collect();
        format!("x{body}")
    }
    fn thousandths(&mut self) -> f64 {
        self.roll(100_001) as f64 / 1000.0
    }
    fn optional<T>(&mut self, make: impl FnOnce(&mut Self) -> T) -> Option<T> {
        if self.roll(2) == 0 { None } else { Some(make(self)) }
    }
}

#[test]
fn any_state_comes_back_as_it_went() {
    let mut dice = Dice(0x5eed_0001);
    for _ in 0..500 {
        let way = dice.roll(3);
        let texts = |dice: &mut Dice| (0..dice.roll(4)).map(|_| dice.text()).collect::<Vec<_>>();
        let shared = Shared {
            name: dice.optional(Dice::text),
            recipe: (0..dice.roll(9))
                .map(|_| Line {
                    id: Some(dice.text()),
                    name: dice.optional(Dice::text),
                    percent: dice.thousandths(),
                    composition: (0..dice.roll(3)).map(|_| (dice.text(), dice.thousandths())).collect(),
                    like: dice.optional(Dice::text),
                    fatty_acids: (0..dice.roll(3)).map(|_| (dice.text(), dice.thousandths())).collect(),
                    solid_points: (0..dice.roll(3))
                        .map(|_| (dice.thousandths(), dice.thousandths()))
                        .collect(),
                    known: Known {
                        spread: dice.optional(|dice| Rule::ALL[dice.roll(3) as usize]),
                        class: dice.optional(|dice| Class::ALL[dice.roll(7) as usize]),
                        melts_at_c: dice.optional(Dice::thousandths),
                        free_acid_percent: dice.optional(Dice::thousandths),
                        unsaponifiable_percent: dice.optional(Dice::thousandths),
                        diglyceride_percent: dice.optional(Dice::thousandths),
                    },
                    price: dice.optional(Dice::thousandths),
                })
                .collect(),
            format: Format::ALL[dice.roll(3) as usize],
            pack: dice.optional(|dice| Pack::ALL[dice.roll(6) as usize]),
            coldest_c: -(dice.roll(40_001) as f64) / 1000.0 + 0.0,
            hottest_c: dice.thousandths(),
            skin_c: dice.thousandths(),
            firmness: dice.optional(|dice| Firmness::ALL[dice.roll(7) as usize]),
            on_skin: dice.optional(|dice| OnSkin::ALL[dice.roll(3) as usize]),
            allowed: Allowed {
                wax_percent: dice.thousandths(),
                fatty_acid_percent: dice.thousandths(),
                fatty_alcohol_percent: dice.optional(Dice::thousandths),
                powder_percent: dice.optional(Dice::thousandths),
                step_percent: dice.thousandths(),
                changes: 2 + dice.roll(2) as u32,
                locked: texts(&mut dice),
                pantry: dice.optional(texts),
                bounds: (0..dice.roll(3))
                    .map(|_| (dice.text(), dice.thousandths(), dice.thousandths()))
                    .collect(),
                refuse: texts(&mut dice),
                as_now: dice.roll(2) == 1,
                keep_lead: dice.roll(2) == 1,
                any_step: dice.roll(2) == 1,
                margin_points: dice.thousandths(),
            },
            made: dice.optional(|dice| (dice.thousandths(), dice.thousandths())),
            other_c: dice.optional(|dice| (dice.thousandths(), dice.thousandths())),
            picture: dice.optional(|dice| Picture {
                hardeners: texts(dice),
                swap: Swap::ALL[dice.roll(2) as usize],
                dose_percent: dice.thousandths(),
            }),
            journey: dice.optional(|dice| Journey {
                preset: (way == 0).then(|| Preset::ALL[dice.roll(7) as usize]),
                constant_c: (way == 1).then(|| dice.thousandths()),
                hours: (way == 1).then(|| dice.thousandths()),
                points: (way == 2)
                    .then(|| (0..2 + dice.roll(4)).map(|hour| (hour as f64, dice.thousandths())).collect()),
                volume_ml: (1000 + dice.roll(100_000)) as f64 / 1000.0,
                insulation_mm: dice.thousandths(),
                cold_pack_g: dice.thousandths(),
            }),
        };
        round_trip(&shared);
    }
}

#[test]
fn no_fragment_panics_and_what_is_read_can_be_written() {
    let mut dice = Dice(0x5eed_0002);
    let golden = "v1&name=n&recipe=a!b!c!S~1;T~2:5,d:6&as=bar&store=1~2&skin=3&feel=soft&keep=a&within=a:1~2&avoid=a&hold=lead&margin=1&aim=now&made=7~1\
        &other=1~2&dose=5&price=1,,2&pack=jar&alcohol=1&powder=2&way=hourly:0~1;2~3&parcel=9~8~7";
    for _ in 0..20_000 {
        let mut text: Vec<char> = golden.chars().collect();
        for _ in 0..=dice.roll(4) {
            let at = dice.roll(text.len() as u64) as usize;
            let letters: Vec<char> = "&=,:!~;%+-.0v1\u{202e}é".chars().collect();
            let letter = letters[dice.roll(letters.len() as u64) as usize];
            match dice.roll(3) {
                0 => text[at] = letter,
                1 => text.insert(at, letter),
                _ => drop(text.remove(at)),
            }
        }
        let text: String = text.into_iter().collect();
        if let Ok((shared, _)) = open(&text) {
            let again = fragment(&shared).unwrap_or_else(|failure| panic!("{text}: {}", failure.message));
            assert!(open(&again).is_ok(), "{text} became {again}");
        }
    }
}
