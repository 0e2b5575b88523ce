//! `witnessmark backup`: the whole workshop in one file, read back; while people go on working.

use crate::clock::now_ms;
use crate::serve::{Data, on_runtime, open};
use crate::{Outcome, print};
use std::path::PathBuf;
use witnessmark_store::{Contents, CopyMade};

/// Arguments of `backup`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    data: Data,
    /// The file to be made; none is ever written over
    #[arg(long, value_name = "FILE")]
    to: PathBuf,
}

/// Makes a copy and says what is in it.
pub(crate) fn run(args: Args) -> Outcome {
    on_runtime(async move {
        let Some(store) = open(&args.data.place).await else { return Outcome::Unusable };
        let made = store.backup(&args.to, now_ms()).await;
        store.close().await;
        match made {
            Ok(CopyMade { contents, .. }) => {
                print::out(&format!(
                    "{}\n{} holds all of this, photos included, and was read back row by row. Keep it on another disk.\n\
                     To put it back: witnessmark restore {} --to NEW\n",
                    table(&contents),
                    args.to.display(),
                    args.to.display(),
                ));
                Outcome::Fine
            }
            Err(error) => {
                print::complain(&error.to_string());
                Outcome::Unusable
            }
        }
    })
}

/// Every table, how many rows it has and the beginning of what they hash to.
pub(crate) fn table(contents: &Contents) -> String {
    let wide = contents.tables.iter().map(|table| table.name.len()).max().unwrap_or(0);
    let lines = contents
        .tables
        .iter()
        .map(|table| format!("{:wide$}  {:>9} rows  sha-256 {}\n", table.name, table.rows, &table.hash[..16]));
    lines.collect()
}
