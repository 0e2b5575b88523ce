//! `witnessmark schema`: the JSON Schema of the files that come in, for editors; and the description of the JSON mirror.

use crate::{Outcome, print};
use clap::ValueEnum;
use witnessmark_intake::schema::{build_schema, catalogue_schema};

/// Arguments of `schema`.
#[derive(clap::Args)]
pub(crate) struct Args {
    /// What it describes
    #[arg(value_enum, default_value_t = Of::Build)]
    of: Of,
}

/// What has a schema.
#[derive(Clone, Copy, ValueEnum)]
enum Of {
    /// A build document
    Build,
    /// Parts of a catalogue in TOML
    Catalogue,
    /// The JSON mirror of the pages, as OpenAPI 3.1
    Api,
}

/// Prints the schema.
pub(crate) fn run(args: &Args) -> Outcome {
    print::json(&match args.of {
        Of::Build => build_schema(),
        Of::Catalogue => catalogue_schema(),
        Of::Api => witnessmark_web::api::description(),
    });
    Outcome::Fine
}
