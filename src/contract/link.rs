//! `link` and `open-link`: the whole state of the page to and from the fragment of an address.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{Failure, Item, StorageC};
use crate::behaviour::{Firmness, Format, OnSkin, Pack};
use crate::link::{self, Allowed, Journey, Line, Shared};

/// `{"ask":"link"}`: write the state as a fragment.
#[derive(Clone, Debug, Deserialize)]
pub struct LinkRequest {
    /// What the link should carry.
    pub state: State,
}

/// The answer to [`LinkRequest`].
#[derive(Clone, Debug, Serialize)]
pub struct LinkAnswer {
    /// The fragment, without `#`.
    pub fragment: String,
}

/// `{"ask":"open-link"}`: read a fragment.
#[derive(Clone, Debug, Deserialize)]
pub struct OpenLinkRequest {
    /// The fragment, with or without `#`.
    pub fragment: String,
}

/// The answer to [`OpenLinkRequest`].
#[derive(Clone, Debug, Serialize)]
pub struct OpenLinkAnswer {
    /// What the link carried.
    pub state: State,
    /// What it carried that this version does not know, in sentences.
    pub remarks: Vec<String>,
}

/// The state of the page: a recipe, a climate, wishes, limits. The recipe need not sum to 100.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
pub struct State {
    /// What the maker calls the recipe.
    pub name: Option<String>,
    /// The recipe.
    pub recipe: Vec<Item>,
    /// How it is sold.
    pub format: Format,
    /// What it is packed in; absent: not said.
    pub pack: Option<Pack>,
    /// Where the jar lives.
    pub storage_c: StorageC,
    /// Skin surface, °C.
    pub skin_c: f64,
    /// How firm; absent: no wish.
    pub firmness: Option<Firmness>,
    /// What on skin; absent: no wish.
    pub on_skin: Option<OnSkin>,
    /// What a rework may do.
    #[serde(default)]
    pub limits: StateLimits,
    /// A batch that is made, if it is one that needs mending.
    pub made: Option<MadeBatch>,
    /// Where the jar lives in the other season, if two versions are wanted.
    pub other_storage_c: Option<StorageC>,
    /// The teaching picture, if it is open.
    pub picture: Option<Picture>,
    /// How it travels, if that is looked at.
    pub journey: Option<Journey>,
    /// Prices of a kilogram, in any currency, by id or own name. A link carries those of what is in the recipe.
    #[serde(default)]
    pub prices: BTreeMap<String, f64>,
}

/// A batch that is made.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize, Serialize)]
pub struct MadeBatch {
    /// What was made, g.
    pub grams: f64,
    /// What of it is used, sold or lost, g.
    #[serde(default)]
    pub used_grams: f64,
}

/// As the limits of `rework`, but a pantry may be left to the page.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
#[serde(default)]
pub struct StateLimits {
    /// The most wax, percent.
    pub wax_percent: f64,
    /// The most free fatty acid, percent.
    pub fatty_acid_percent: f64,
    /// The most fatty alcohol, percent; absent: what is usual, or in the recipe.
    pub fatty_alcohol_percent: Option<f64>,
    /// The most powder, percent; absent: what is usual, or in the recipe.
    pub powder_percent: Option<f64>,
    /// The step of the scale, percent.
    pub step_percent: f64,
    /// The most lines that may change.
    pub changes: u32,
    /// Ids or own names that stay as they are.
    pub locked: Vec<String>,
    /// Ids that may be added; `null`: the page's usual ones.
    pub pantry: Option<Vec<String>>,
    /// Least and most, percent, by id or own name.
    pub bounds: BTreeMap<String, (f64, f64)>,
    /// Ids, classes or allergen groups that may not be in it.
    pub refuse: Vec<String>,
    /// Whether to aim at how it behaves now, rather than at the wishes.
    pub as_now: bool,
    /// Whether the line that is first on the label stays first.
    pub keep_lead: bool,
    /// Whether the wishes must be met with any line weighed a step wrong.
    pub any_step: bool,
    /// Points that the prediction may err without a wish being missed.
    pub margin_points: f64,
}

impl Default for StateLimits {
    fn default() -> Self {
        StateLimits::from(Allowed::default())
    }
}

/// The teaching picture: how hardeners move the melting point of the recipe.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
pub struct Picture {
    /// Catalogue ids, at most four.
    pub hardeners: Vec<String>,
    /// What they replace.
    pub swap: Swap,
    /// The dose looked at, percent.
    pub dose_percent: f64,
}

/// What a hardener replaces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Swap {
    /// The liquid oils only.
    Oil,
    /// Everything in proportion.
    All,
}

pub(super) fn write(request: LinkRequest) -> Result<LinkAnswer, Failure> {
    let fragment = link::fragment(&Shared::from(request.state)).map_err(|failure| failure.below("state"))?;
    Ok(LinkAnswer { fragment })
}

pub(super) fn open(request: OpenLinkRequest) -> Result<OpenLinkAnswer, Failure> {
    let (shared, remarks) = link::open(&request.fragment)?;
    Ok(OpenLinkAnswer { state: State::from(shared), remarks })
}

impl From<State> for Shared {
    fn from(state: State) -> Self {
        let prices = state.prices;
        let priced = |item: Item| {
            let price = prices.get(item.key()).copied();
            Line { price, ..Line::from(item) }
        };
        Shared {
            name: state.name,
            recipe: state.recipe.into_iter().map(priced).collect(),
            format: state.format,
            pack: state.pack,
            coldest_c: state.storage_c.coldest,
            hottest_c: state.storage_c.hottest,
            skin_c: state.skin_c,
            firmness: state.firmness,
            on_skin: state.on_skin,
            allowed: Allowed {
                wax_percent: state.limits.wax_percent,
                fatty_acid_percent: state.limits.fatty_acid_percent,
                fatty_alcohol_percent: state.limits.fatty_alcohol_percent,
                powder_percent: state.limits.powder_percent,
                step_percent: state.limits.step_percent,
                changes: state.limits.changes,
                locked: state.limits.locked,
                pantry: state.limits.pantry,
                bounds: state
                    .limits
                    .bounds
                    .into_iter()
                    .map(|(id, (least, most))| (id, least, most))
                    .collect(),
                refuse: state.limits.refuse,
                as_now: state.limits.as_now,
                keep_lead: state.limits.keep_lead,
                any_step: state.limits.any_step,
                margin_points: state.limits.margin_points,
            },
            made: state.made.map(|made| (made.grams, made.used_grams)),
            other_c: state.other_storage_c.map(|it| (it.coldest, it.hottest)),
            picture: state.picture.map(|picture| link::Picture {
                hardeners: picture.hardeners,
                swap: match picture.swap {
                    Swap::Oil => link::Swap::Oil,
                    Swap::All => link::Swap::All,
                },
                dose_percent: picture.dose_percent,
            }),
            journey: state.journey,
        }
    }
}

impl From<Shared> for State {
    fn from(shared: Shared) -> Self {
        let mut prices = BTreeMap::new();
        let mut item = |line: Line| {
            let price = line.price;
            let item = Item::from(line);
            if let Some(price) = price {
                prices.insert(item.key().to_owned(), price);
            }
            item
        };
        State {
            name: shared.name,
            recipe: shared.recipe.into_iter().map(&mut item).collect(),
            format: shared.format,
            pack: shared.pack,
            storage_c: StorageC { coldest: shared.coldest_c, hottest: shared.hottest_c },
            skin_c: shared.skin_c,
            firmness: shared.firmness,
            on_skin: shared.on_skin,
            limits: StateLimits::from(shared.allowed),
            made: shared.made.map(|(grams, used_grams)| MadeBatch { grams, used_grams }),
            other_storage_c: shared.other_c.map(|(coldest, hottest)| StorageC { coldest, hottest }),
            picture: shared.picture.map(|picture| Picture {
                hardeners: picture.hardeners,
                swap: match picture.swap {
                    link::Swap::Oil => Swap::Oil,
                    link::Swap::All => Swap::All,
                },
                dose_percent: picture.dose_percent,
            }),
            journey: shared.journey,
            prices,
        }
    }
}

impl From<Allowed> for StateLimits {
    fn from(allowed: Allowed) -> Self {
        StateLimits {
            wax_percent: allowed.wax_percent,
            fatty_acid_percent: allowed.fatty_acid_percent,
            fatty_alcohol_percent: allowed.fatty_alcohol_percent,
            powder_percent: allowed.powder_percent,
            step_percent: allowed.step_percent,
            changes: allowed.changes,
            locked: allowed.locked,
            pantry: allowed.pantry,
            bounds: allowed.bounds.into_iter().map(|(id, least, most)| (id, (least, most))).collect(),
            refuse: allowed.refuse,
            as_now: allowed.as_now,
            keep_lead: allowed.keep_lead,
            any_step: allowed.any_step,
            margin_points: allowed.margin_points,
        }
    }
}

impl From<Item> for Line {
    fn from(item: Item) -> Self {
        Line {
            id: item.id,
            name: item.name,
            percent: item.percent,
            composition: item.composition.unwrap_or_default().into_iter().collect(),
            like: item.like,
            fatty_acids: item.fatty_acids.unwrap_or_default().into_iter().collect(),
            solid_points: item.solid_points.unwrap_or_default(),
            known: link::Known {
                spread: item.spread,
                class: item.class,
                melts_at_c: item.melts_at_c,
                free_acid_percent: item.free_acid_percent,
                unsaponifiable_percent: item.unsaponifiable_percent,
                diglyceride_percent: item.diglyceride_percent,
            },
            price: None,
        }
    }
}

impl From<Line> for Item {
    fn from(line: Line) -> Self {
        let shares = |shares: Vec<(String, f64)>| (!shares.is_empty()).then(|| shares.into_iter().collect());
        Item {
            id: line.id,
            name: line.name,
            percent: line.percent,
            composition: shares(line.composition),
            fatty_acids: shares(line.fatty_acids),
            spread: line.known.spread,
            free_acid_percent: line.known.free_acid_percent,
            unsaponifiable_percent: line.known.unsaponifiable_percent,
            diglyceride_percent: line.known.diglyceride_percent,
            solid_points: (!line.solid_points.is_empty()).then_some(line.solid_points),
            like: line.like,
            melts_at_c: line.known.melts_at_c,
            class: line.known.class,
        }
    }
}
