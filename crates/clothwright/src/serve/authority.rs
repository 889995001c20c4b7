//! The workroom's own certificate authority: made once, kept in the store, trusted by each phone once.
//! It speaks for nothing but the page of this workroom.

use super::store::Store;
use rcgen::{
    BasicConstraints, CertificateParams, DistinguishedName, DnType, ExtendedKeyUsagePurpose, IsCa,
    Issuer, KeyPair, KeyUsagePurpose, SanType,
};
use std::collections::BTreeMap;
use std::net::IpAddr;
use std::sync::{Arc, Mutex, PoisonError};
use time::{Duration, OffsetDateTime};
use tokio_rustls::rustls::ServerConfig;
use tokio_rustls::rustls::pki_types::{CertificateDer, PrivateKeyDer, pem::PemObject};

/// A phone trusts the authority so long.
const YEARS: i64 = 10;

/// The page's own certificate lasts so many days; it is made anew at every start.
const DAYS: i64 = 90;

/// Most addresses of one machine.
const MOST: usize = 64;

/// The authority, and the certificates it gave the page for each address it is reached at.
pub struct Authority {
    key: KeyPair,
    certificate: CertificateDer<'static>,
    /// What a person may compare: the certificate's SHA-256 in groups of two digits.
    pub print: String,
    given: Mutex<BTreeMap<IpAddr, Arc<ServerConfig>>>,
}

fn told(error: impl std::fmt::Display) -> String {
    format!("the workroom's certificate: {error}")
}

fn named() -> CertificateParams {
    let mut of = CertificateParams::default();
    of.distinguished_name = DistinguishedName::new();
    of.distinguished_name.push(DnType::CommonName, "Clothwright workroom");
    of.is_ca = IsCa::Ca(BasicConstraints::Constrained(0));
    of.key_usages = vec![KeyUsagePurpose::KeyCertSign, KeyUsagePurpose::CrlSign];
    of.not_before = OffsetDateTime::now_utc() - Duration::days(1);
    of.not_after = OffsetDateTime::now_utc() + Duration::days(365 * YEARS);
    of
}

/// This machine's name on its network, `name.local`, if the system tells it.
pub fn local_name() -> Option<String> {
    let name = std::fs::read_to_string("/etc/hostname").ok();
    let name = name.or_else(|| std::env::var("COMPUTERNAME").ok())?;
    let name = name.trim().split('.').next().unwrap_or_default().to_lowercase();
    let is_plain = name.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-');
    (is_plain && !name.is_empty()).then(|| format!("{name}.local"))
}

impl Authority {
    /// The one that is kept, or a fresh one.
    ///
    /// # Errors
    /// In words: a store that cannot be read, a key that cannot be made.
    pub fn of(store: &Store) -> Result<Self, String> {
        let kept = (store.setting("authority key"), store.setting("authority certificate"));
        let (key, pem) = match kept {
            (Ok(Some(key)), Ok(Some(pem))) => (KeyPair::from_pem(&key).map_err(told)?, pem),
            _ => {
                let key = KeyPair::generate().map_err(told)?;
                let pem = named().self_signed(&key).map_err(told)?.pem();
                store.set_setting("authority key", &key.serialize_pem()).map_err(told)?;
                store.set_setting("authority certificate", &pem).map_err(told)?;
                (key, pem)
            }
        };
        let certificate = CertificateDer::from_pem_slice(pem.as_bytes()).map_err(told)?;
        let print = super::access::print(&certificate);
        Ok(Self { key, certificate, print, given: Mutex::default() })
    }

    /// The certificate as phones take it (DER).
    pub fn certificate(&self) -> &[u8] {
        &self.certificate
    }

    /// What the page answers with at one of the machine's addresses; made when it is first asked for, so
    /// that an address that changed while the page runs is served as well.
    ///
    /// # Errors
    /// In words.
    pub fn at(&self, address: IpAddr) -> Result<Arc<ServerConfig>, String> {
        let mut given = self.given.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = given.get(&address) {
            return Ok(known.clone());
        }
        if given.len() >= MOST {
            given.clear();
        }
        let key = KeyPair::generate().map_err(told)?;
        let mut of = CertificateParams::default();
        of.distinguished_name = DistinguishedName::new();
        of.distinguished_name.push(DnType::CommonName, "Clothwright page");
        of.not_before = OffsetDateTime::now_utc() - Duration::days(1);
        of.not_after = OffsetDateTime::now_utc() + Duration::days(DAYS);
        of.key_usages = vec![KeyUsagePurpose::DigitalSignature];
        of.extended_key_usages = vec![ExtendedKeyUsagePurpose::ServerAuth];
        of.subject_alt_names = vec![SanType::IpAddress(address)];
        for name in ["localhost".to_string()].into_iter().chain(local_name()) {
            of.subject_alt_names.push(SanType::DnsName(name.try_into().map_err(told)?));
        }
        let authority = named();
        let issuer = Issuer::from_params(&authority, &self.key);
        let own = of.signed_by(&key, &issuer).map_err(told)?;
        let chain = vec![own.der().clone(), self.certificate.clone()];
        let secret = PrivateKeyDer::from_pem_slice(key.serialize_pem().as_bytes()).map_err(told)?;
        let made = ServerConfig::builder()
            .with_no_client_auth()
            .with_single_cert(chain, secret)
            .map_err(told)?;
        let made = Arc::new(made);
        given.insert(address, made.clone());
        Ok(made)
    }
}
