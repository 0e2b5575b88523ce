//! A real server that speaks TLS alone: the line is used where it shows a certificate that is trusted for the name that was
//! asked for, and refused in a sentence where it does not.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

mod common;

use common::postgres::Postgres;
use common::{Folder, by, change, leaves};
use rcgen::{BasicConstraints, CertificateParams, IsCa, Issuer, KeyPair};
use std::time::{Duration, Instant};
use witnessmark_store::{NewBuild, Store, StoreError};

/// An authority that vouches for servers.
struct Authority {
    pem: String,
    issuer: Issuer<'static, KeyPair>,
}

impl Authority {
    fn new() -> Self {
        let key = KeyPair::generate().unwrap();
        let mut params = CertificateParams::new(Vec::new()).unwrap();
        params.is_ca = IsCa::Ca(BasicConstraints::Unconstrained);
        let pem = params.self_signed(&key).unwrap().pem();
        Self { pem, issuer: Issuer::new(params, key) }
    }

    /// A certificate and its key for a server of this name.
    fn vouches_for(&self, name: &str) -> (String, String) {
        let key = KeyPair::generate().unwrap();
        let params = CertificateParams::new(vec![name.to_owned()]).unwrap();
        (params.signed_by(&key, &self.issuer).unwrap().pem(), key.serialize_pem())
    }
}

#[tokio::test]
async fn a_server_is_believed_by_its_authority_and_its_name_and_by_nothing_else() {
    let folder = Folder::new("tls");
    let (ours, other) = (Authority::new(), Authority::new());
    let trusted = |name: &str, authority: &Authority| {
        let file = folder.file(name);
        std::fs::write(&file, &authority.pem).unwrap();
        file
    };
    let (right, wrong) = (trusted("right.pem", &ours), trusted("wrong.pem", &other));
    let server = Postgres::start();
    let plain = server.database().await;
    let (certificate, key) = ours.vouches_for("127.0.0.1");
    server.shows(&certificate, &key).await;
    let start = Instant::now();
    // Its settings are read a moment later: from then on nobody comes in without TLS.
    while Store::open(&format!("{plain}?sslmode=disable")).await.is_ok() {
        assert!(start.elapsed() < Duration::from_mins(1), "it does not read its settings");
        tokio::time::sleep(Duration::from_millis(50)).await;
    }

    let store = Store::open(&format!("{plain}?sslmode=verify-full&sslrootcert={right}")).await.unwrap();
    let fields = leaves(&[("settings.spacers_under", "0")]);
    let new = NewBuild { leaves: &fields, copied_from: None };
    let build = store.create_build(new, &by("Anna", 0, "made")).await.unwrap();
    let step = [change("settings.spacers_under", Some("0"), Some("5"))];
    assert_eq!(store.edit(&build, &step, &by("Anna", 1, "step")).await.unwrap().revision, 2);
    store.close().await;

    let by_another_name = plain.replace("127.0.0.1", "localhost");
    for (address, authority) in [(&plain, &wrong), (&by_another_name, &right)] {
        let told = Store::open(&format!("{address}?sslmode=verify-full&sslrootcert={authority}")).await.unwrap_err();
        assert!(matches!(told, StoreError::NotSafe(_)), "{told:?}");
        let says = told.to_string();
        assert!(says.starts_with("No safe line to the workshop's database: ") && !says.contains('\n'), "{says}");
    }
    // Without a word about authorities this machine's own are asked, and none of them knows this server.
    let told = Store::open(&format!("{plain}?sslmode=verify-full")).await.unwrap_err();
    assert!(matches!(told, StoreError::NotSafe(_)), "{told:?}");
}
