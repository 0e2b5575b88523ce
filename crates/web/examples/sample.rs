//! Serves one invented build, kept in memory, so that one can look at a page while working on it:
//! `cargo run -p witnessmark-web --example sample`, then <http://localhost:8173>.

use std::error::Error;
use tokio::net::TcpListener;
use witnessmark_core::build::sample::sample;
use witnessmark_store::{By, NewBuild, Store};
use witnessmark_web::{App, serve};

#[tokio::main]
async fn main() -> Result<(), Box<dyn Error>> {
    let store = match std::env::args().nth(1) {
        Some(file) => Store::open(&file).await?,
        None => Store::open_in_memory().await?,
    };
    if store.builds().await?.is_empty() {
        let mut leaves: Vec<(String, String)> =
            sample().leaves().into_iter().map(|(path, leaf)| (path, leaf.typed)).collect();
        leaves.retain(|(path, _)| path != "job.title");
        leaves.push(("job.title".into(), "road race, first bike".into()));
        leaves.push(("rider.name".into(), "Rider One".into()));
        leaves.push(("job.event".into(), "spring criterium".into()));
        let by = By { who: "sample".into(), at_ms: 0, request_key: "sample".into() };
        store.create_build(NewBuild { leaves: &leaves, copied_from: None }, &by).await?;
    }
    let listener = TcpListener::bind("127.0.0.1:8173").await?;
    println!("http://{}", listener.local_addr()?);
    serve(listener, App::new(store), async {
        let _ = tokio::signal::ctrl_c().await;
    })
    .await?;
    Ok(())
}
