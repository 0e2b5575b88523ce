//! `witnessmark parts find WORDS…`: search the catalogue.

use super::{Data, catalogue, counted};
use crate::{Outcome, print};
use std::collections::HashMap;
use std::fmt::Write as _;
use witnessmark_core::catalogue::{Entry, Index};

/// Arguments of `parts find`.
#[derive(clap::Args)]
pub(crate) struct Args {
    /// Words and figures that must all be met, such as: stem 110 -6
    #[arg(required = true, allow_negative_numbers = true)]
    words: Vec<String>,
    #[command(flatten)]
    pub(super) data: Data,
    /// How many are shown
    #[arg(long, value_name = "NUMBER", default_value_t = 20)]
    most: usize,
    /// Print JSON instead of text, with every fact that is known
    #[arg(long)]
    json: bool,
}

/// Prints what is found, best first.
pub(crate) async fn run(store: &witnessmark_store::Store, args: &Args) -> Result<Outcome, String> {
    let parts = catalogue(store, None).await?;
    let index = Index::new(&parts);
    let found = index.find(&args.words.join(" "), args.most);
    let by_id: HashMap<(&str, &str), &Entry> =
        parts.iter().map(|part| ((part.kind.key, part.id.as_str()), part)).collect();
    let best: Vec<&Entry> = found.best.iter().filter_map(|hit| by_id.get(&(hit.kind.key, hit.id)).copied()).collect();
    if args.json {
        let parts: Vec<serde_json::Value> = best.iter().map(|part| json(part)).collect();
        print::json(&serde_json::json!({ "all": found.all, "parts": parts }));
    } else {
        print::out(&table(&best, found.all));
    }
    Ok(Outcome::Fine)
}

fn json(part: &Entry) -> serde_json::Value {
    let facts: serde_json::Map<String, serde_json::Value> =
        part.leaves().into_iter().map(|(key, text)| (key, text.into())).collect();
    serde_json::json!({
        "kind": part.kind.key,
        "id": part.id,
        "version": part.version,
        "stock": part.stock.as_ref().map(|given| given.value),
        "facts": facts,
    })
}

fn table(best: &[&Entry], all: usize) -> String {
    let mut text = String::new();
    let kind = |part: &Entry| part.kind.key.replace('_', " ");
    let width = |of: &dyn Fn(&Entry) -> usize| best.iter().map(|part| of(part)).max().unwrap_or(0);
    let (kinds, ids) = (width(&|part| part.kind.key.len()), width(&|part| part.id.len()));
    for part in best {
        let stock = part.stock.as_ref().map_or_else(String::new, |given| format!("{} here", given.value));
        let price = part.named("price").map_or_else(String::new, |leaf| leaf.typed.clone());
        let _ = writeln!(text, "{:<kinds$}  {:<ids$}  {:>8}  {price:>8}  {}", kind(part), part.id, stock, part.name());
    }
    let shown = best.len();
    let _ = match all {
        0 => writeln!(text, "no part meets all of these words"),
        _ if all > shown => writeln!(text, "{}, the best {shown} of them shown", counted(all as u64, "part", "parts")),
        _ => writeln!(text, "{}", counted(all as u64, "part", "parts")),
    };
    text
}
