//! `witnessmark move`: a whole workshop from a file to a server, or back; the old one stays as it is.

use crate::serve::{on_runtime, open};
use crate::{Outcome, print, restore};
use witnessmark_store::move_workshop;

/// Arguments of `move`.
#[derive(clap::Args)]
pub(crate) struct Args {
    /// Where the workshop is: a file or a PostgreSQL database
    #[arg(long, value_name = "FILE|URL")]
    from: String,
    /// Where it is to be: a new file or an empty PostgreSQL database
    #[arg(long, value_name = "FILE|URL")]
    to: String,
}

/// Copies it, and proves it by counts and hashes.
pub(crate) fn run(args: Args) -> Outcome {
    on_runtime(async move {
        let is_server = args.from.contains("://");
        if !is_server && !std::path::Path::new(args.from.trim_start_matches("sqlite:")).exists() {
            print::complain(&format!("There is no file {} to move from.", args.from));
            return Outcome::Unusable;
        }
        let Some(store) = open(&args.from).await else { return Outcome::Unusable };
        let moved = move_workshop(&store, &args.to).await;
        store.close().await;
        match moved {
            Ok(copied) => {
                print::out(&restore::told(&copied));
                print::out(
                    "The old place is as it was; what is written there from now on stays there. Start the server with the \
                     new one, then put the old one away.\n",
                );
                Outcome::Fine
            }
            Err(error) => {
                print::complain(&error.to_string());
                Outcome::Unusable
            }
        }
    })
}
