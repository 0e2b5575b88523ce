//! Pages over TLS: by a certificate that is given, or by one of this program's own, known by its fingerprint.
//!
//! The protocol is `rustls`'s, the certificate `rcgen`'s; here stands only what is kept and where. A certificate of one's
//! own is vouched for by nobody: whoever opens the pages for the first time compares the fingerprint that their browser
//! shows with the one that this machine prints, and from then on the browser knows it.

use crate::{App, router};
use axum_server::Handle;
use axum_server::tls_rustls::RustlsConfig;
use rustls_pki_types::CertificateDer;
use rustls_pki_types::pem::PemObject;
use sha2::{Digest, Sha256};
use std::fs::{self, OpenOptions};
use std::future::Future;
use std::io::{self, Write};
use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, SystemTime};
use tokio::net::TcpListener;

/// How long a certificate of our own is good, in days. Some browsers refuse one that is good for longer than 825.
const GOOD_DAYS: u32 = 820;
const DAY: Duration = Duration::from_hours(24);
/// At what age it is replaced when the program starts.
const REPLACED_AFTER: Duration = Duration::from_hours(790 * 24);
/// How long answers that are under way are waited for at the end.
const LAST_ANSWERS: Duration = Duration::from_secs(10);

/// A certificate with its key.
pub struct Certificate {
    chain_pem: Vec<u8>,
    key_pem: Vec<u8>,
    fingerprint: String,
}

/// A certificate cannot be used.
#[derive(Debug)]
pub struct Unusable {
    path: PathBuf,
    why: String,
}

impl std::fmt::Display for Unusable {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}", self.path.display(), self.why)
    }
}

impl std::error::Error for Unusable {}

impl Certificate {
    /// The certificate and the key in these files, as PEM. Refuses what is none.
    pub fn read(chain: &Path, key: &Path) -> Result<Self, Unusable> {
        let bytes = |path: &Path| fs::read(path).map_err(|error| unusable(path, &error));
        let (chain_pem, key_pem) = (bytes(chain)?, bytes(key)?);
        let first = CertificateDer::from_pem_slice(&chain_pem).map_err(|error| unusable(chain, &error))?;
        Ok(Self { fingerprint: fingerprint(&first), chain_pem, key_pem })
    }

    /// This program's own, from this folder; made if there is none, or if it is about to be over. The key is for the one
    /// who runs this program, and for nobody else.
    pub fn own(folder: &Path, names: &[String]) -> Result<Self, Unusable> {
        let (chain, key) = (folder.join("certificate.pem"), folder.join("key.pem"));
        let is_young = |at: SystemTime| SystemTime::now().duration_since(at).is_ok_and(|age| age < REPLACED_AFTER);
        let made = fs::metadata(&chain).and_then(|it| it.modified());
        if !(made.is_ok_and(is_young) && key.exists()) {
            make(folder, &chain, &key, names)?;
        }
        Self::read(&chain, &key)
    }

    /// The SHA-256 of the certificate, as browsers show it: pairs of capitals with colons.
    pub fn fingerprint(&self) -> &str {
        &self.fingerprint
    }
}

fn unusable(path: &Path, why: &impl ToString) -> Unusable {
    Unusable { path: path.to_owned(), why: why.to_string() }
}

fn make(folder: &Path, chain: &Path, key: &Path, names: &[String]) -> Result<(), Unusable> {
    let failed = |error: rcgen::Error| unusable(folder, &error);
    let pair = rcgen::KeyPair::generate().map_err(failed)?;
    let mut params = rcgen::CertificateParams::new(names.to_vec()).map_err(failed)?;
    params.distinguished_name = rcgen::DistinguishedName::new();
    params.distinguished_name.push(rcgen::DnType::CommonName, "Witness Mark");
    let now = SystemTime::now();
    // A day earlier: the tablet's clock may be behind.
    (params.not_before, params.not_after) = ((now - DAY).into(), (now + DAY * GOOD_DAYS).into());
    params.extended_key_usages = vec![rcgen::ExtendedKeyUsagePurpose::ServerAuth];
    let certificate = params.self_signed(&pair).map_err(failed)?;
    fs::create_dir_all(folder).map_err(|error| unusable(folder, &error))?;
    // The key first: a certificate without its key would be taken for whole.
    private(key, pair.serialize_pem().as_bytes()).map_err(|error| unusable(key, &error))?;
    private(chain, certificate.pem().as_bytes()).map_err(|error| unusable(chain, &error))
}

/// Writes a file that only its owner reads, whole or not at all.
fn private(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let beside = path.with_extension("new");
    let _ = fs::remove_file(&beside);
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let mut file = options.open(&beside)?;
    file.write_all(bytes)?;
    file.sync_all()?;
    fs::rename(&beside, path)
}

fn fingerprint(certificate: &CertificateDer<'_>) -> String {
    let pairs: Vec<String> = Sha256::digest(certificate).iter().map(|byte| format!("{byte:02X}")).collect();
    pairs.join(":")
}

/// Serves the pages over TLS on a door that is already open, until `shutdown` is over; what is being answered then is
/// finished, for a while. Refuses a certificate and a key that do not belong together, and when the door itself fails.
pub async fn serve_tls(
    listener: TcpListener,
    app: App,
    certificate: Certificate,
    shutdown: impl Future<Output = ()> + Send + 'static,
) -> io::Result<()> {
    let app = app.listening_on(listener.local_addr()?).over_tls();
    app.make_ready();
    let config = RustlsConfig::from_pem(certificate.chain_pem, certificate.key_pem).await?;
    // What is offered is what is spoken: the library would offer HTTP/2 too.
    let mut offered = (*config.get_inner()).clone();
    offered.alpn_protocols = vec![b"http/1.1".to_vec()];
    config.reload_from_config(Arc::new(offered));
    let handle = Handle::<SocketAddr>::new();
    let ending = handle.clone();
    tokio::spawn(async move {
        shutdown.await;
        ending.graceful_shutdown(Some(LAST_ANSWERS));
    });
    let service = router(app).into_make_service_with_connect_info::<SocketAddr>();
    axum_server::from_tcp_rustls(listener.into_std()?, config)?.http1_only().handle(handle).serve(service).await
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

    use super::*;

    #[test]
    fn a_certificate_of_ones_own_is_made_once_and_its_key_is_private() {
        let folder = std::env::temp_dir().join(format!("witnessmark-tls-{}", std::process::id()));
        let names = ["localhost".to_owned(), "127.0.0.1".to_owned()];
        let first = Certificate::own(&folder, &names).unwrap();
        assert_eq!(first.fingerprint().len(), 32 * 3 - 1);
        assert_eq!(Certificate::own(&folder, &names).unwrap().fingerprint(), first.fingerprint());
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            let mode = fs::metadata(folder.join("key.pem")).unwrap().permissions().mode();
            assert_eq!(mode & 0o777, 0o600);
        }
        fs::write(folder.join("certificate.pem"), "no certificate").unwrap();
        let Err(refusal) = Certificate::own(&folder, &names) else { panic!("taken for one") };
        assert!(refusal.to_string().contains("certificate.pem"), "{refusal}");
        fs::remove_dir_all(&folder).unwrap();
    }
}
