//! `witnessmark people`: who may sign in, and what each may do.

use crate::clock::now_ms;
use crate::serve::{Data, on_runtime, open};
use crate::{Outcome, print};
use std::io::{ErrorKind, IsTerminal, stdin};
use witnessmark_store::{Noted, Role, Store};

/// Arguments of `people`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(subcommand)]
    what: What,
}

#[derive(clap::Subcommand)]
enum What {
    /// Add a person; the password is asked for twice
    Add(Add),
    /// List everybody, with role and PIN
    List(List),
    /// Take a person away and sign them out everywhere; the log of edits keeps the name
    Remove(Name),
    /// Set a new password, or a PIN, and sign the person out
    Reset(Reset),
}

#[derive(clap::Args)]
struct Add {
    /// The name, as it is to stand beside every edit
    name: String,
    /// What the person may do: viewer looks, mechanic also writes, owner also lets people in
    #[arg(long, value_name = "ROLE", value_parser = role)]
    role: Role,
    #[command(flatten)]
    from: From,
    #[command(flatten)]
    data: Data,
}

#[derive(clap::Args)]
struct List {
    #[command(flatten)]
    data: Data,
}

#[derive(clap::Args)]
struct Name {
    /// The name
    name: String,
    #[command(flatten)]
    data: Data,
}

#[derive(clap::Args)]
struct Reset {
    /// The name
    name: String,
    /// Set the PIN for bench tablets instead of the password
    #[arg(long)]
    pin: bool,
    #[command(flatten)]
    from: From,
    #[command(flatten)]
    data: Data,
}

#[derive(clap::Args)]
struct From {
    /// Read the password (or PIN) from standard input, one line, instead of asking
    #[arg(long)]
    password_stdin: bool,
}

/// Runs one of them.
pub(crate) fn run(args: Args) -> Outcome {
    on_runtime(async move {
        let data = match &args.what {
            What::Add(args) => &args.data,
            What::List(args) => &args.data,
            What::Remove(args) => &args.data,
            What::Reset(args) => &args.data,
        };
        let Some(store) = open(&data.place).await else { return Outcome::Unusable };
        let done = match args.what {
            What::Add(args) => add(&store, &args).await,
            What::List(_) => list(&store).await,
            What::Remove(args) => remove(&store, &args.name).await,
            What::Reset(args) => reset(&store, &args).await,
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

async fn add(store: &Store, args: &Add) -> Result<String, String> {
    let password = secret("Password", args.from.password_stdin)?;
    let name = args.name.trim();
    store.add_person(name, args.role, &password, now_ms()).await.map_err(|error| error.to_string())?;
    note(store, "added", name).await?;
    Ok(format!("{name} may sign in, as {}.\n", args.role))
}

async fn list(store: &Store) -> Result<String, String> {
    let people = store.people().await.map_err(|error| error.to_string())?;
    if people.is_empty() {
        return Ok("Nobody may sign in. Add an owner: witnessmark people add NAME --role owner\n".into());
    }
    let lines = people.iter().map(|person| {
        let pin = if person.has_pin { "  has a PIN" } else { "" };
        format!("{:<9} {}{pin}\n", person.role.to_string(), person.name)
    });
    Ok(lines.collect())
}

async fn remove(store: &Store, name: &str) -> Result<String, String> {
    store.remove_person(name).await.map_err(|error| error.to_string())?;
    note(store, "removed", name).await?;
    Ok(format!("{name} may not sign in any more, and is signed out everywhere.\n"))
}

async fn reset(store: &Store, args: &Reset) -> Result<String, String> {
    let name = args.name.trim();
    let secret = secret(if args.pin { "PIN" } else { "Password" }, args.from.password_stdin)?;
    let (done, says) = if args.pin {
        (store.set_pin(name, Some(&secret)).await, "has a new PIN.")
    } else {
        (store.reset_password(name, &secret).await, "has a new password, and is signed out everywhere.")
    };
    done.map_err(|error| error.to_string())?;
    note(store, if args.pin { "set a new PIN for" } else { "set a new password for" }, name).await?;
    Ok(format!("{name} {says}\n"))
}

async fn note(store: &Store, did: &str, what: &str) -> Result<(), String> {
    let noted = Noted { who: "the terminal", did, what, at_ms: now_ms() };
    store.note(noted).await.map_err(|error| error.to_string())
}

/// A password or a PIN: asked for twice without showing it, or read from standard input.
fn secret(what: &str, from_stdin: bool) -> Result<String, String> {
    if from_stdin {
        let mut line = String::new();
        stdin().read_line(&mut line).map_err(|error| format!("standard input: {error}"))?;
        return Ok(line.trim_end_matches(['\r', '\n']).to_owned());
    }
    if !stdin().is_terminal() {
        return Err(format!("{what}: there is no terminal to ask at; give it on standard input with --password-stdin"));
    }
    // While it is asked nothing that is typed is shown. Ctrl-C is caught, so that the terminal is given back as it was
    // instead of staying mute; then nothing is done.
    #[cfg(unix)]
    let _caught = tokio::signal::unix::signal(tokio::signal::unix::SignalKind::interrupt());
    let ask = |prompt: String| {
        rpassword::prompt_password(prompt).map_err(|error| match error.kind() {
            ErrorKind::Interrupted | ErrorKind::UnexpectedEof => "\nNone was given; nothing was changed.".to_owned(),
            _ => format!("{what}: {error}"),
        })
    };
    let first = ask(format!("{what}: "))?;
    let second = ask("Once more: ".into())?;
    if first == second { Ok(first) } else { Err(format!("{what}: the two differ; nothing was changed")) }
}

/// The role that a word names.
fn role(word: &str) -> Result<Role, String> {
    word.parse().map_err(|_| "it is one of: owner, mechanic, viewer".to_owned())
}
