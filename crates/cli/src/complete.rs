//! `witnessmark complete FILE`: the best parts for the places that are open.

use crate::{FileArg, Outcome, input, offer, print};
use serde::Serialize;
use std::path::PathBuf;
use witnessmark_core::search::complete::{Completion, List, Order, Price, WishOf, complete};
use witnessmark_core::search::complete_exact::{Cost, Quantity};
use witnessmark_core::search::fitting::Spot;

/// Arguments of `complete`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    file: FileArg,
    /// Parts on offer beside those on the document's shelf: a TOML or CSV file, or a folder of them
    #[arg(long, value_name = "PATH")]
    catalogue: Option<PathBuf>,
    /// What the new parts may cost together
    #[arg(long, value_name = "AMOUNT")]
    budget: Option<f64>,
    /// What the bike may weigh, in grams
    #[arg(long, value_name = "GRAMS")]
    mass: Option<f64>,
    /// What is to be least
    #[arg(long, value_enum, default_value = "price")]
    aim: Aim,
    /// Replace what is fitted at this place; may be given several times
    #[arg(long, value_name = "PLACE")]
    replace: Vec<String>,
    /// How many lists to tell
    #[arg(long, value_name = "COUNT", default_value_t = 5, value_parser = clap::value_parser!(u16).range(1..=50))]
    lists: u16,
    /// Only parts that are in stock
    #[arg(long)]
    in_stock: bool,
    /// Only parts of which everything is known that decides whether they fit
    #[arg(long)]
    judged: bool,
    /// Print JSON instead of text
    #[arg(long)]
    json: bool,
}

/// What is to be least.
#[derive(Clone, Copy, clap::ValueEnum)]
enum Aim {
    /// The price of the new parts
    Price,
    /// The mass of the bike
    Mass,
    /// The number of new parts
    NewParts,
}

/// Prints the best lists.
pub(crate) fn run(args: &Args) -> Outcome {
    for place in &args.replace {
        if Spot::from_path(place).is_none() {
            print::complain(&format!("“{place}” is no place on the bike; such as stem or tyre.front was expected"));
            return Outcome::Unusable;
        }
    }
    for (name, value) in [("--budget", args.budget), ("--mass", args.mass)] {
        if value.is_some_and(|value| !(0.0..=10_000_000.0).contains(&value)) {
            print::complain(&format!("{name}: from 0 to 10 000 000 was expected"));
            return Outcome::Unusable;
        }
    }
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    let parts = match &args.catalogue {
        None => Vec::new(),
        Some(path) => match offer::parts(path) {
            Some(parts) => parts,
            None => return Outcome::Unusable,
        },
    };
    let order = Order {
        aim: match args.aim {
            Aim::Price => Quantity::Price,
            Aim::Mass => Quantity::Mass,
            Aim::NewParts => Quantity::NewParts,
        },
        budget: args.budget,
        mass_max_g: args.mass,
        lists: usize::from(args.lists),
        replace: args.replace.clone(),
        in_stock: args.in_stock,
        judged: args.judged,
    };
    let answer = complete(&build, &parts, &order);
    if args.json {
        print::json(&CompletionJson::from(&answer));
    } else {
        print::sheet(&witnessmark_sheets::choice::completion(&answer));
    }
    if answer.lists.is_empty() || !answer.at_odds.is_empty() { Outcome::Stopped } else { Outcome::Fine }
}

#[derive(Serialize)]
struct CompletionJson {
    open: Vec<String>,
    without_candidates: Vec<String>,
    proven: bool,
    steps: u64,
    refusal: Option<String>,
    lists: Vec<ListJson>,
    wishes: Vec<PriceJson>,
    clash: Option<ClashJson>,
    at_odds: Vec<String>,
    staying_mass: f64,
    mass_not_known: Vec<String>,
    not_counted: usize,
    out_of_stock: usize,
}

#[derive(Serialize)]
struct ListJson {
    cost: CostJson,
    parts: Vec<PickJson>,
    questions: Vec<String>,
}

#[derive(Serialize)]
struct PickJson {
    place: String,
    id: String,
    name: String,
    stays: bool,
}

/// Price in the workshop's currency, mass in grams.
#[derive(Serialize)]
struct CostJson {
    price: f64,
    mass: f64,
    new_parts: i64,
}

#[derive(Serialize)]
struct PriceJson {
    wish: String,
    without: Option<CostJson>,
    next: Option<CostJson>,
    proven: bool,
}

#[derive(Serialize)]
struct ClashJson {
    wishes: Vec<String>,
    places: Vec<String>,
    smallest: bool,
}

#[allow(clippy::cast_precision_loss, reason = "sums of a bike, far below where a float loses a unit")]
fn cost(cost: Cost) -> CostJson {
    CostJson { price: cost.price_cents as f64 / 100.0, mass: cost.mass_mg as f64 / 1000.0, new_parts: cost.new_parts }
}

fn wish(wish: &WishOf) -> String {
    match wish {
        WishOf::Limit(Quantity::Price) => "budget".to_owned(),
        WishOf::Limit(Quantity::Mass) => "mass".to_owned(),
        WishOf::Limit(Quantity::NewParts) => "new parts".to_owned(),
        WishOf::Keep(spot) => format!("keep {}", spot.path()),
    }
}

fn paths(spots: &[Spot]) -> Vec<String> {
    spots.iter().map(Spot::path).collect()
}

impl From<&Completion> for CompletionJson {
    fn from(answer: &Completion) -> Self {
        CompletionJson {
            open: paths(&answer.open),
            without_candidates: paths(&answer.without_candidates),
            proven: answer.proven,
            steps: answer.steps,
            refusal: answer.refusal.clone(),
            lists: answer.lists.iter().map(ListJson::from).collect(),
            wishes: answer.prices.iter().map(PriceJson::from).collect(),
            clash: answer.clashing.as_ref().map(|clash| ClashJson {
                wishes: clash.wishes.iter().map(wish).collect(),
                places: paths(&clash.spots),
                smallest: clash.smallest,
            }),
            at_odds: answer.at_odds.iter().map(|finding| format!("{} {}", finding.what, finding.why)).collect(),
            staying_mass: answer.staying_mass_g,
            mass_not_known: answer.mass_not_known.clone(),
            not_counted: answer.not_counted,
            out_of_stock: answer.out_of_stock,
        }
    }
}

impl From<&List> for ListJson {
    fn from(list: &List) -> Self {
        let parts = list.picks.iter().map(|pick| PickJson {
            place: pick.spot.path(),
            id: pick.part.id.clone(),
            name: pick.part.name().to_owned(),
            stays: pick.stays,
        });
        ListJson {
            cost: cost(list.cost),
            parts: parts.collect(),
            questions: list.questions.iter().map(|finding| format!("{} {}", finding.what, finding.why)).collect(),
        }
    }
}

impl From<&Price> for PriceJson {
    fn from(price: &Price) -> Self {
        PriceJson {
            wish: wish(&price.wish),
            without: price.without.map(cost),
            next: price.next.map(cost),
            proven: price.proven,
        }
    }
}
