//! Known holes in the packages the program is built from: facts out of the public database of advisories, kept in
//! `reference/advisories.toml` and held against every version that is locked.
//!
//! The database itself has to be fetched, and where that is not possible nothing would be asked at all. So its facts about
//! our packages are kept here: which packages were asked after, and for each advisory the versions it is about. A package
//! that was not asked after is refused like one with a hole: silence is no answer. How old the facts are is always said;
//! `cargo audit`, where it is installed, asks the database of the day as well.

use semver::{Version, VersionReq};
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

/// The facts.
const KEPT: &str = "reference/advisories.toml";
/// Everything that is locked, what is fuzzed included.
const LOCKS: &[&str] = &["Cargo.lock", "fuzz/Cargo.lock"];
const TO_RENEW: &str = "to renew the facts: cargo xtask advisories FOLDER, a checkout of the database";

/// The file of facts.
#[derive(Debug, Default, Deserialize)]
struct Kept {
    /// When the database was asked.
    read_on: String,
    /// The advisory of the latest day that was seen in it, about any package, and that day: so much it knew at least.
    newest: String,
    newest_on: String,
    asked_after: BTreeSet<String>,
    /// What is lived with, and why.
    #[serde(default)]
    accepted: Vec<Accepted>,
    #[serde(default)]
    advisory: Vec<Advisory>,
}

#[derive(Debug, Deserialize)]
struct Accepted {
    id: String,
    reason: String,
}

/// One advisory, without its text.
#[derive(Debug, Deserialize)]
struct Advisory {
    id: String,
    package: String,
    kind: Kind,
    on: String,
    patched: Vec<String>,
    unaffected: Vec<String>,
    /// The day it was taken back.
    withdrawn: Option<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Kind {
    Vulnerability,
    Unsound,
    Unmaintained,
    Notice,
}

impl Kind {
    fn word(self) -> &'static str {
        match self {
            Self::Vulnerability => "vulnerability",
            Self::Unsound => "unsound",
            Self::Unmaintained => "unmaintained",
            Self::Notice => "notice",
        }
    }

    /// Whether a version it is about may not be built on, unless it is accepted with a reason.
    fn refuses(self) -> bool {
        matches!(self, Self::Vulnerability | Self::Unsound)
    }
}

/// A package and the version of it that is locked.
type Locked = BTreeSet<(String, String)>;

/// What came of holding the facts against what is locked.
#[derive(Debug, Default, PartialEq, Eq)]
struct Outcome {
    refused: Vec<String>,
    told: Vec<String>,
}

/// Holds every locked version against the facts; refuses one with a hole and one that was not asked after.
pub(crate) fn check(root: &Path) -> Result<(), String> {
    let kept = kept(root)?;
    let locked = locked(root)?;
    let outcome = held(&kept, &locked)?;
    let age = age_days(&kept.newest_on)?;
    println!(
        "advisories: {} about {} packages, as read on {}; the newest then was {} of {}, {age} days ago",
        kept.advisory.len(),
        kept.asked_after.len(),
        kept.read_on,
        kept.newest,
        kept.newest_on,
    );
    for line in &outcome.told {
        println!("  {line}");
    }
    if outcome.refused.is_empty() { Ok(()) } else { Err(format!("{}\n{TO_RENEW}", outcome.refused.join("\n"))) }
}

/// Writes the facts anew from a checkout of the database, about every package that is locked.
pub(crate) fn renew(root: &Path, database: &Path) -> Result<(), String> {
    // What is accepted was written by hand: a file that cannot be read is not written over.
    let before = if root.join(KEPT).exists() { kept(root)? } else { Kept::default() };
    let asked_after: BTreeSet<String> = locked(root)?.into_iter().map(|(name, _)| name).collect();
    let crates = database.join("crates");
    let (mut advisory, mut newest) = (Vec::new(), (String::new(), String::new()));
    for package in names(&crates)? {
        for file in names(&crates.join(&package))? {
            // A proposal without a number yet is no advisory.
            let id =
                file.strip_suffix(".md").filter(|id| id.starts_with("RUSTSEC-") && !id.starts_with("RUSTSEC-0000"));
            if id.is_none() {
                continue;
            }
            let path = crates.join(&package).join(&file);
            let one = front_matter(&read(&path)?).map_err(|why| format!("{}: {why}", path.display()))?;
            newest = newest.max((one.on.clone(), one.id.clone()));
            if asked_after.contains(&package) {
                advisory.push(one);
            }
        }
    }
    if newest.1.is_empty() {
        return Err(format!("{}: no advisory is there; it should be a checkout of the database", crates.display()));
    }
    advisory.sort_by(|one, other| (&one.package, &one.id).cmp(&(&other.package, &other.id)));
    let (newest_on, newest) = newest;
    let kept = Kept { read_on: today(), newest, newest_on, asked_after, accepted: before.accepted, advisory };
    fs::write(root.join(KEPT), written(&kept)).map_err(|error| format!("{KEPT}: {error}"))?;
    println!("{KEPT}: {} advisories about {} packages", kept.advisory.len(), kept.asked_after.len());
    Ok(())
}

fn kept(root: &Path) -> Result<Kept, String> {
    toml::from_str(&read(&root.join(KEPT))?).map_err(|error| format!("{KEPT}: {error}"))
}

/// Which of what is locked may not be built on, and what is to be said of the rest.
fn held(kept: &Kept, locked: &Locked) -> Result<Outcome, String> {
    let mut about: BTreeMap<&str, Vec<&Advisory>> = BTreeMap::new();
    for advisory in &kept.advisory {
        about.entry(&advisory.package).or_default().push(advisory);
    }
    let mut outcome = Outcome::default();
    for (name, version) in locked {
        if !kept.asked_after.contains(name) {
            outcome.refused.push(format!("{name} {version}: not asked after whether it has a known hole"));
        }
        for advisory in about.get(name.as_str()).into_iter().flatten() {
            if advisory.withdrawn.is_some() || !is_affected(advisory, version)? {
                continue;
            }
            let says = format!("{name} {version}: {} ({}, {})", advisory.id, advisory.kind.word(), advisory.on);
            match kept.accepted.iter().find(|it| it.id == advisory.id) {
                Some(accepted) => outcome.told.push(format!("{says}, accepted: {}", accepted.reason)),
                None if advisory.kind.refuses() => {
                    let patched =
                        if advisory.patched.is_empty() { "none yet".into() } else { advisory.patched.join(" or ") };
                    outcome.refused.push(format!("{says}; mended in {patched}"));
                }
                None => outcome.told.push(says),
            }
        }
    }
    Ok(outcome)
}

/// Whether the version is neither mended nor from before the fault. A pre-release is within a range only if the range
/// names one of the same version: in doubt it counts as affected.
fn is_affected(advisory: &Advisory, version: &str) -> Result<bool, String> {
    let version = Version::parse(version).map_err(|error| format!("{} {version}: {error}", advisory.package))?;
    for range in advisory.patched.iter().chain(&advisory.unaffected) {
        let range = VersionReq::parse(range).map_err(|error| format!("{KEPT}: {}: “{range}”: {error}", advisory.id))?;
        if range.matches(&version) {
            return Ok(false);
        }
    }
    Ok(true)
}

/// What comes from the registry, out of every lock file.
fn locked(root: &Path) -> Result<Locked, String> {
    let mut locked = Locked::new();
    for file in LOCKS {
        let table: toml::Table = read(&root.join(file))?.parse().map_err(|error| format!("{file}: {error}"))?;
        let packages =
            table.get("package").and_then(toml::Value::as_array).ok_or(format!("{file}: no package in it"))?;
        for package in packages {
            let text = |key| package.get(key).and_then(toml::Value::as_str);
            if let (Some(name), Some(version), Some(_)) = (text("name"), text("version"), text("source")) {
                locked.insert((name.to_owned(), version.to_owned()));
            }
        }
    }
    Ok(locked)
}

/// The facts that stand above an advisory's text, between its fences.
fn front_matter(text: &str) -> Result<Advisory, String> {
    #[derive(Deserialize)]
    struct Front {
        advisory: Head,
        versions: Versions,
    }
    #[derive(Deserialize)]
    struct Head {
        id: String,
        package: String,
        date: String,
        informational: Option<Kind>,
        withdrawn: Option<String>,
    }
    #[derive(Deserialize)]
    struct Versions {
        patched: Vec<String>,
        #[serde(default)]
        unaffected: Vec<String>,
    }
    let fenced = text.strip_prefix("```toml\n").and_then(|rest| rest.split_once("\n```"));
    let (front, _) = fenced.ok_or("does not begin with its facts between fences")?;
    let Front { advisory, versions } = toml::from_str(front).map_err(|error| error.to_string())?;
    Ok(Advisory {
        id: advisory.id,
        package: advisory.package,
        kind: advisory.informational.unwrap_or(Kind::Vulnerability),
        on: advisory.date,
        patched: versions.patched,
        unaffected: versions.unaffected,
        withdrawn: advisory.withdrawn,
    })
}

/// The file of facts.
fn written(kept: &Kept) -> String {
    const HEAD: &str = "\
# Known holes in the packages this is built from: facts, not texts, out of the RustSec advisory database
# (repository rustsec/advisory-db), which its LICENSE.txt dedicates to the public domain (CC0-1.0); the texts of a few
# entries came from elsewhere under a licence of their own, which is why no text is copied.
# `cargo xtask supply` holds every locked version against it. It is generated, by `cargo xtask advisories FOLDER`; only
# what is accepted, with its reason, is written by hand:
#   [[accepted]]
#   id = \"RUSTSEC-…\"
#   reason = \"why we may live with it\"
";
    let mut text = HEAD.to_owned();
    // A string takes what is written to it.
    let _ =
        writeln!(text, "read_on = {:?}\nnewest = {:?}\nnewest_on = {:?}", kept.read_on, kept.newest, kept.newest_on);
    text.push_str("asked_after = [");
    let mut width = usize::MAX;
    for name in &kept.asked_after {
        if width > 110 {
            text.push_str("\n   ");
            width = 3;
        }
        let _ = write!(text, " {name:?},");
        width += name.len() + 4;
    }
    text.push_str("\n]\n");
    for Accepted { id, reason } in &kept.accepted {
        let _ = write!(text, "\n[[accepted]]\nid = {id:?}\nreason = {reason:?}\n");
    }
    for one in &kept.advisory {
        let _ = write!(
            text,
            "\n[[advisory]]\nid = {:?}\npackage = {:?}\nkind = {:?}\non = {:?}\npatched = {:?}\nunaffected = {:?}\n",
            one.id,
            one.package,
            one.kind.word(),
            one.on,
            one.patched,
            one.unaffected,
        );
        if let Some(day) = &one.withdrawn {
            let _ = writeln!(text, "withdrawn = {day:?}");
        }
    }
    text
}

fn today() -> String {
    jiff::tz::Offset::UTC.to_datetime(jiff::Timestamp::now()).date().to_string()
}

fn age_days(day: &str) -> Result<i32, String> {
    let parsed = |day: &str| day.parse::<jiff::civil::Date>().map_err(|error| format!("{KEPT}: “{day}”: {error}"));
    Ok((parsed(&today())? - parsed(day)?).get_days())
}

/// What lies in a folder, in order; nothing if it is no folder.
fn names(folder: &Path) -> Result<BTreeSet<String>, String> {
    if !folder.is_dir() {
        return Ok(BTreeSet::new());
    }
    let entries = fs::read_dir(folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    entries
        .map(|entry| entry.map(|entry| entry.file_name().to_string_lossy().into_owned()))
        .collect::<Result<_, _>>()
        .map_err(|error| format!("{}: {error}", folder.display()))
}

fn read(path: &Path) -> Result<String, String> {
    fs::read_to_string(path).map_err(|error| format!("{}: {error}", path.display()))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

    use super::*;

    const FOUND: &str = "```toml\n[advisory]\nid = \"RUSTSEC-2031-0007\"\npackage = \"leaky\"\ndate = \"2031-02-03\"\n\n\
                         [versions]\npatched = [\">= 1.4.2, < 2.0.0\", \">= 2.1.0\"]\nunaffected = [\"< 1.0.0\"]\n```\n\n# Leaks\n";

    fn kept(informational: Option<&str>, accepted: &str) -> Kept {
        let mut found = FOUND.to_owned();
        if let Some(kind) = informational {
            found = found.replace("date =", &format!("informational = \"{kind}\"\ndate ="));
        }
        let text =
            format!("read_on = \"2031-03-01\"\nnewest = \"\"\nnewest_on = \"\"\nasked_after = [\"leaky\"]\n{accepted}");
        let mut kept: Kept = toml::from_str(&text).unwrap();
        kept.advisory.push(front_matter(&found).unwrap());
        kept
    }

    fn outcome(kept: &Kept, name: &str, version: &str) -> Outcome {
        held(kept, &BTreeSet::from([(name.to_owned(), version.to_owned())])).unwrap()
    }

    #[test]
    fn a_version_with_a_hole_is_refused_and_one_before_or_after_it_is_not() {
        let kept = kept(None, "");
        for version in ["1.0.0", "1.4.1", "2.0.0", "2.0.9", "2.1.0-rc.1"] {
            let refused = outcome(&kept, "leaky", version).refused;
            let says = format!(
                "leaky {version}: RUSTSEC-2031-0007 (vulnerability, 2031-02-03); mended in >= 1.4.2, < 2.0.0 or >= 2.1.0"
            );
            assert_eq!(refused, [says]);
        }
        for version in ["0.9.9", "1.4.2", "1.9.0", "2.1.0", "3.0.0"] {
            assert_eq!(outcome(&kept, "leaky", version), Outcome::default(), "{version}");
        }
    }

    #[test]
    fn a_package_that_was_not_asked_after_is_refused() {
        let outcome = outcome(&kept(None, ""), "unheard-of", "1.0.0");
        assert_eq!(outcome.refused, ["unheard-of 1.0.0: not asked after whether it has a known hole"]);
    }

    #[test]
    fn what_is_unsound_is_refused_unless_a_reason_stands_beside_it_and_what_is_unmaintained_is_told() {
        let accepted = "[[accepted]]\nid = \"RUSTSEC-2031-0007\"\nreason = \"we never call it\"\n";
        assert_eq!(outcome(&kept(Some("unsound"), ""), "leaky", "1.1.0").refused.len(), 1);
        let lived_with = outcome(&kept(Some("unsound"), accepted), "leaky", "1.1.0");
        assert!(lived_with.refused.is_empty());
        assert!(lived_with.told[0].ends_with("accepted: we never call it"), "{lived_with:?}");
        for kind in ["unmaintained", "notice"] {
            let told = outcome(&kept(Some(kind), ""), "leaky", "1.1.0");
            assert!(told.refused.is_empty() && told.told.len() == 1, "{told:?}");
        }
    }

    #[test]
    fn an_advisory_that_was_taken_back_says_nothing() {
        let mut kept = kept(None, "");
        kept.advisory[0].withdrawn = Some("2031-02-04".into());
        assert_eq!(outcome(&kept, "leaky", "1.1.0"), Outcome::default());
    }

    #[test]
    fn what_is_written_reads_back_as_the_same() {
        let mut before = kept(Some("notice"), "[[accepted]]\nid = \"X\"\nreason = \"a \\\"reason\\\"\"\n");
        before.advisory[0].withdrawn = Some("2031-02-04".into());
        before.asked_after.extend((0..40).map(|at| format!("package-{at}")));
        let text = written(&before);
        let after: Kept = toml::from_str(&text).unwrap();
        assert_eq!(format!("{before:?}"), format!("{after:?}"));
        assert!(text.lines().all(|line| line.len() <= 130));
    }

    #[test]
    fn facts_are_renewed_from_a_checkout_about_locked_packages_alone_and_reasons_stay() {
        let folder = std::env::temp_dir().join(format!("xtask-advisories-{}", std::process::id()));
        let database = folder.join("database");
        let put = |path: &Path, text: &str| {
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, text).unwrap();
        };
        let lock = "[[package]]\nname = \"leaky\"\nversion = \"1.1.0\"\nsource = \"registry+x\"\n\n\
                    [[package]]\nname = \"ours\"\nversion = \"0.1.0\"\n";
        fs::create_dir_all(folder.join("reference")).unwrap();
        put(&folder.join("Cargo.lock"), lock);
        put(&folder.join("fuzz/Cargo.lock"), lock);
        put(&database.join("crates/leaky/RUSTSEC-2031-0007.md"), FOUND);
        put(&database.join("crates/leaky/RUSTSEC-0000-0000.md"), "a proposal");
        let other = FOUND.replace("0007", "0099").replace("leaky", "other").replace("2031-02-03", "2031-02-09");
        put(&database.join("crates/other/RUSTSEC-2031-0099.md"), &other);
        renew(&folder, &database).unwrap();
        let refused = check(&folder);
        assert!(refused.is_err_and(|why| why.starts_with("leaky 1.1.0: RUSTSEC-2031-0007") && !why.contains("ours")));

        let kept = fs::read_to_string(folder.join(KEPT)).unwrap();
        assert!(
            kept.contains("newest = \"RUSTSEC-2031-0099\"\nnewest_on = \"2031-02-09\"\n") && !kept.contains("other")
        );
        put(&folder.join(KEPT), &format!("{kept}\n[[accepted]]\nid = \"RUSTSEC-2031-0007\"\nreason = \"tried\"\n"));
        renew(&folder, &database).unwrap();
        assert_eq!(check(&folder), Ok(()));

        let nothing = renew(&folder, &folder.join("reference"));
        fs::remove_dir_all(&folder).unwrap();
        assert!(nothing.is_err_and(|why| why.contains("no advisory is there")));
    }
}
