//! `witnessmark person`: everything that is kept about one rider, handed out as a folder; and erasing it.

use crate::clock::now_ms;
use crate::serve::{Data, on_runtime, open};
use crate::{Outcome, print};
use std::fs;
use std::io::{IsTerminal, stdin};
use std::path::{Path, PathBuf};
use witnessmark_store::{By, Noted, Store};
use witnessmark_web::person::{self, KEPT_YEARS};

/// Arguments of `person`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(subcommand)]
    what: What,
}

#[derive(clap::Subcommand)]
enum What {
    /// Write everything about a rider into a new folder: texts to read, pictures, documents
    Export(Export),
    /// Erase what is of the rider, out of the log too, and say what is kept and until when
    Erase(Erase),
}

#[derive(clap::Args)]
struct Export {
    /// The rider's name, as it stands in a build
    name: String,
    /// The folder to make; it must not be there yet
    #[arg(long, value_name = "DIR")]
    to: PathBuf,
    #[command(flatten)]
    data: Data,
}

#[derive(clap::Args)]
struct Erase {
    /// The rider's name, as it stands in a build
    name: String,
    /// How many years name, quote and work are kept after the last change, as the country's law asks
    #[arg(long, value_name = "YEARS", default_value_t = KEPT_YEARS, value_parser = clap::value_parser!(i16).range(0..=100))]
    kept_years: i16,
    /// Erase without asking
    #[arg(long)]
    yes: bool,
    #[command(flatten)]
    data: Data,
}

/// Runs one of them.
pub(crate) fn run(args: Args) -> Outcome {
    on_runtime(async move {
        let data = match &args.what {
            What::Export(args) => &args.data,
            What::Erase(args) => &args.data,
        };
        let Some(store) = open(&data.place).await else { return Outcome::Unusable };
        let done = match &args.what {
            What::Export(args) => export(&store, &args.name, &args.to).await,
            What::Erase(args) => erase(&store, args).await,
        };
        store.close().await;
        match done {
            Ok(says) => {
                print::out(&says);
                Outcome::Fine
            }
            Err(why) => {
                print::complain(&why);
                Outcome::Unusable
            }
        }
    })
}

async fn export(store: &Store, name: &str, to: &Path) -> Result<String, String> {
    if kept(store, name).await?.is_empty() {
        return Err(nobody(name));
    }
    let files = person::handed_out(store, name, KEPT_YEARS).await.map_err(|error| error.to_string())?;
    let failed = |error: std::io::Error| format!("{}: {error}", to.display());
    // Written beside and moved in one step: a folder that is there is whole.
    let beside = to.with_extension("part");
    if to.exists() || beside.exists() {
        return Err(format!("{} is there already (or a .part of it); name another folder", to.display()));
    }
    for file in &files {
        let path = beside.join(&file.path);
        let folder = path.parent().unwrap_or(&beside);
        fs::create_dir_all(folder).and_then(|()| fs::write(&path, &file.bytes)).map_err(failed)?;
    }
    fs::rename(&beside, to).map_err(failed)?;
    let noted = Noted { who: "the terminal", did: "handed out data of", what: "a person", at_ms: now_ms() };
    store.note(noted).await.map_err(|error| error.to_string())?;
    Ok(format!("{} files in {}; begin with read-me-first.txt\n", files.len(), to.display()))
}

async fn erase(store: &Store, args: &Erase) -> Result<String, String> {
    let kept = kept(store, &args.name).await?;
    if kept.is_empty() {
        return Err(nobody(&args.name));
    }
    for one in &kept {
        let of_person = one.ever.iter().filter(|(_, why)| *why == person::Why::Personal).count();
        let until = one.until(args.kept_years).map_or_else(|| "an unknown day".to_owned(), |day| day.to_string());
        print::out(&format!(
            "{} ({}): {of_person} fields of the person and {} pictures and documents are erased; name, quote and work are kept until {until}\n",
            one.title,
            one.build,
            one.uploads.len()
        ));
    }
    if !args.yes {
        if !stdin().is_terminal() {
            return Err("nothing was erased: say so with --yes".into());
        }
        print::out("This cannot be taken back. Type the name once more to erase: ");
        let mut line = String::new();
        stdin().read_line(&mut line).map_err(|error| format!("standard input: {error}"))?;
        if line.trim().to_lowercase() != args.name.trim().to_lowercase() {
            return Err("the names differ; nothing was erased".into());
        }
    }
    let now_ms = now_ms();
    let by =
        By { who: "the terminal".into(), at_ms: now_ms, request_key: format!("erase-{now_ms}-{}", std::process::id()) };
    let today = person::day_of(now_ms).ok_or("the clock says no day")?;
    let erased =
        person::erase(store, &args.name, today, args.kept_years, &by).await.map_err(|error| error.to_string())?;
    Ok(format!(
        "{} fields emptied, {} changes put out of the log, {} pictures and documents removed. Copies made before still hold them.\n",
        erased.fields, erased.edits, erased.uploads
    ))
}

async fn kept(store: &Store, name: &str) -> Result<Vec<person::Kept>, String> {
    person::kept_about(store, name).await.map_err(|error| error.to_string())
}

fn nobody(name: &str) -> String {
    format!("nothing is kept about a rider called {name}")
}
