//! `witnessmark serve`: the workshop's pages, on this machine.

use crate::{Outcome, print};
use std::net::SocketAddr;
use tokio::net::TcpListener;
use witnessmark_store::Store;
use witnessmark_web::App;

/// Arguments of `serve`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    data: Data,
    /// Address to listen on; only this machine's own until there is a sign-in
    #[arg(long, value_name = "ADDR", default_value = "127.0.0.1:8417")]
    listen: SocketAddr,
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
    if !args.listen.ip().is_loopback() {
        print::complain(&format!(
            "{} can be reached by others, and there is no sign-in yet: listen on this machine only, such as 127.0.0.1:8417",
            args.listen
        ));
        return Outcome::Unusable;
    }
    on_runtime(async move {
        let Some(store) = open(&args.data.place).await else { return Outcome::Unusable };
        let listener = match TcpListener::bind(args.listen).await {
            Ok(listener) => listener,
            Err(error) => {
                print::complain(&format!("cannot listen on {}: {error}; name another with --listen", args.listen));
                return Outcome::Unusable;
            }
        };
        until_interrupted(listener, store).await
    })
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

/// Says where the pages are and serves them until Ctrl-C or the system asks to stop.
pub(crate) async fn until_interrupted(listener: TcpListener, store: Store) -> Outcome {
    match listener.local_addr() {
        Ok(address) => print::out(&format!("The workshop's pages: http://{address}/   (Ctrl-C ends)\n")),
        Err(error) => print::complain(&error.to_string()),
    }
    let served = witnessmark_web::serve(listener, App::new(store.clone()), interrupted()).await;
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
