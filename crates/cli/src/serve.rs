//! `witnessmark serve`: the workshop's pages, on this machine, or for others with a sign-in.
//!
//! Beyond this machine it starts only where an owner exists and the line is safe, or somebody said in so many words that
//! it need not be.

use crate::{Outcome, copies, print};
use std::net::SocketAddr;
use std::path::PathBuf;
use tokio::net::TcpListener;
use witnessmark_store::Store;
use witnessmark_web::{App, Certificate};

/// Arguments of `serve`.
#[derive(clap::Args)]
#[group(id = "serve")]
pub(crate) struct Args {
    #[command(flatten)]
    data: Data,
    /// Address to listen on. Others reach any but this machine's own: then people sign in, and an owner must exist
    #[arg(long, value_name = "ADDR", default_value = "127.0.0.1:8417")]
    listen: SocketAddr,
    #[command(flatten)]
    copies: copies::ByTheClock,
    /// Ask who it is on this machine's own address too: where another program stands before this one
    #[arg(long)]
    sign_in: bool,
    /// A name under which browsers may ask for this machine, such as bench.local; may be given more than once
    #[arg(long = "name", value_name = "NAME")]
    names: Vec<String>,
    /// The certificate to show, a PEM file, with all it is vouched for by
    #[arg(long, value_name = "FILE", requires = "tls_key")]
    tls_cert: Option<PathBuf>,
    /// The certificate's key, a PEM file
    #[arg(long, value_name = "FILE", requires = "tls_cert")]
    tls_key: Option<PathBuf>,
    /// Show a certificate of this program's own, known by its fingerprint; made if there is none
    #[arg(long, value_name = "WHOSE", conflicts_with_all = ["tls_cert", "plain_http"])]
    tls: Option<Whose>,
    /// Serve others without TLS: whoever is on the way reads everything, passwords too
    #[arg(long)]
    plain_http: bool,
}

/// Whose certificate is shown.
#[derive(Clone, Copy, clap::ValueEnum)]
enum Whose {
    /// One that this program makes for itself
    Own,
}

/// Where the workshop's data is.
#[derive(clap::Args)]
pub(crate) struct Data {
    /// The workshop's file, made if there is none; or a PostgreSQL database, as postgres://name@machine/database (its
    /// password is better kept in ~/.pgpass or PGPASSWORD)
    #[arg(long = "data", value_name = "FILE|URL", default_value = "workshop.sqlite")]
    pub(crate) place: String,
}

/// Serves until it is interrupted.
pub(crate) fn run(args: Args) -> Outcome {
    let to_others = !args.listen.ip().is_loopback();
    let has_tls = args.tls.is_some() || args.tls_cert.is_some();
    if to_others && !has_tls && !args.plain_http {
        print::complain(&format!(
            "Others can reach {}, and without TLS whoever is on the way reads everything, passwords too.\n\
             Add --tls own (a certificate of this program's own), or --tls-cert FILE --tls-key FILE; or --plain-http in \
             a network that nobody else is in.",
            args.listen
        ));
        return Outcome::Unusable;
    }
    on_runtime(async move {
        let Some(store) = open(&args.data.place).await else { return Outcome::Unusable };
        if to_others || args.sign_in {
            match store.has_owner().await {
                Ok(true) => {}
                Ok(false) => {
                    print::complain(&format!(
                        "People are to sign in, and nobody may let them in yet. Add an owner first:\n  \
                         witnessmark people add NAME --role owner --data {}",
                        args.data.named()
                    ));
                    return Outcome::Unusable;
                }
                Err(error) => {
                    print::complain(&error.to_string());
                    return Outcome::Unusable;
                }
            }
        }
        let certificate = match certificate(&args) {
            Ok(certificate) => certificate,
            Err(error) => {
                print::complain(&error.to_string());
                return Outcome::Unusable;
            }
        };
        let listener = match TcpListener::bind(args.listen).await {
            Ok(listener) => listener,
            Err(error) => {
                print::complain(&format!("cannot listen on {}: {error}; name another with --listen", args.listen));
                return Outcome::Unusable;
            }
        };
        if to_others && certificate.is_none() {
            print::complain(
                "Without TLS: whoever is on the way between a tablet and this machine reads everything, passwords too, \
                 and can pass for whoever is signed in.",
            );
        }
        let mut app = App::new(store.clone());
        if args.sign_in {
            app = app.with_sign_in();
        }
        for name in &args.names {
            app = app.known_as(name);
        }
        if let Some(folder) = args.copies.folder() {
            app = app.keeping_copies(folder);
        }
        let copies = tokio::spawn(copies::made(store.clone(), args.copies));
        let outcome = serving(listener, store, app, certificate).await;
        copies.abort();
        outcome
    })
}

impl Data {
    /// The place as it may be shown: a password in an address is not.
    fn named(&self) -> &str {
        if self.place.contains("://") { "URL" } else { &self.place }
    }

    /// Where a certificate of our own is kept: beside the file.
    fn tls_folder(&self) -> PathBuf {
        let beside = if self.place.contains("://") { "witnessmark" } else { self.place.trim_start_matches("sqlite:") };
        PathBuf::from(format!("{beside}-tls"))
    }
}

/// The certificate that is to be shown, if one is.
fn certificate(args: &Args) -> Result<Option<Certificate>, witnessmark_web::Unusable> {
    if let (Some(chain), Some(key)) = (&args.tls_cert, &args.tls_key) {
        return Certificate::read(chain, key).map(Some);
    }
    if args.tls.is_none() {
        return Ok(None);
    }
    let mut names = vec!["localhost".to_owned(), "127.0.0.1".to_owned()];
    if !args.listen.ip().is_unspecified() && !args.listen.ip().is_loopback() {
        names.push(args.listen.ip().to_string());
    }
    names.extend(args.names.iter().cloned());
    Certificate::own(&args.data.tls_folder(), &names).map(Some)
}

/// Runs a command that waits for disk and network.
pub(crate) fn on_runtime(work: impl Future<Output = Outcome>) -> Outcome {
    match tokio::runtime::Builder::new_multi_thread().enable_all().build() {
        Ok(runtime) => runtime.block_on(work),
        Err(error) => {
            print::complain(&format!("cannot start: {error}"));
            Outcome::Unusable
        }
    }
}

/// The workshop's data, open; `None` when it cannot be used, which has then been said.
pub(crate) async fn open(place: &str) -> Option<Store> {
    match Store::open(place).await {
        Ok(store) => Some(store),
        Err(error) => {
            print::complain(&error.to_string());
            None
        }
    }
}

/// Says where the pages are and serves them to this machine until Ctrl-C or the system asks to stop.
pub(crate) async fn until_interrupted(listener: TcpListener, store: Store) -> Outcome {
    let app = App::new(store.clone());
    serving(listener, store, app, None).await
}

async fn serving(listener: TcpListener, store: Store, app: App, certificate: Option<Certificate>) -> Outcome {
    let scheme = if certificate.is_some() { "https" } else { "http" };
    match listener.local_addr() {
        Ok(address) => print::out(&format!("The workshop's pages: {scheme}://{address}/   (Ctrl-C ends)\n")),
        Err(error) => print::complain(&error.to_string()),
    }
    let served = match certificate {
        Some(certificate) => {
            print::out(&format!("The certificate's SHA-256 fingerprint:\n  {}\n", certificate.fingerprint()));
            witnessmark_web::serve_tls(listener, app, certificate, interrupted()).await
        }
        None => witnessmark_web::serve(listener, app, interrupted()).await,
    };
    store.close().await;
    match served {
        Ok(()) => Outcome::Fine,
        Err(error) => {
            print::complain(&format!("the pages stopped: {error}"));
            Outcome::Unusable
        }
    }
}

async fn interrupted() {
    let by_hand = tokio::signal::ctrl_c();
    #[cfg(unix)]
    {
        let by_system = async {
            match tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate()) {
                Ok(mut signal) => {
                    signal.recv().await;
                }
                Err(_) => std::future::pending().await,
            }
        };
        tokio::select! { _ = by_hand => {}, () = by_system => {} }
    }
    #[cfg(not(unix))]
    let _ = by_hand.await;
}
