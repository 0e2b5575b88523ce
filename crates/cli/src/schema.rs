//! `witnessmark schema`: the JSON Schema of the files that come in, for editors.

use crate::{Outcome, print};
use clap::ValueEnum;
use witnessmark_intake::schema::{build_schema, catalogue_schema};

/// Arguments of `schema`.
#[derive(clap::Args)]
pub(crate) struct Args {
    /// Which file it describes
    #[arg(value_enum, default_value_t = Of::Build)]
    of: Of,
}

/// A file that has a schema.
#[derive(Clone, Copy, ValueEnum)]
enum Of {
    /// A build document
    Build,
    /// Parts of a catalogue in TOML
    Catalogue,
}

/// Prints the schema.
pub(crate) fn run(args: &Args) -> Outcome {
    print::json(&match args.of {
        Of::Build => build_schema(),
        Of::Catalogue => catalogue_schema(),
    });
    Outcome::Fine
}
