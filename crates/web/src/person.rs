//! Everything that is kept about one person, for the one it is about; and what of it is erased when that is asked for.
//!
//! A person is found by the name in a build's `rider.name`, now or at any time before. Three kinds of field are told apart:
//!
//! - **of the body and the person**: what they weigh, when they were born, their position, their words, what they agreed to
//!   show, pictures. It is erased when they ask.
//! - **kept by law for a while**: the name, the quote and its lines, which stand for the bill. Books are kept up to ten
//!   years in most countries of Europe, and a claim about a product that hurts somebody lapses ten years after it was
//!   handed over (Directive 85/374/EEC, article 11; both from memory, and a country's own law comes first). It is listed with
//!   the day until which it is kept, and erased by asking again after that day.
//! - **of the bike**: parts, settings, torques, readings, steps. It says nothing of a person once the name is gone. It stays.
//!
//! Whatever field has the name in its text counts as of the person, wherever it stands.

use jiff::Timestamp;
use jiff::civil::Date;
use std::fmt::Write as _;
use witnessmark_store::{BuildId, By, ERASED, EditError, EditRow, Erased, Forgotten, Size, Store, StoreError, Upload};

/// How many years a bill and what a bike was built with are kept, unless somebody says otherwise.
pub const KEPT_YEARS: i16 = 10;

/// Paths of the body and the person.
const PERSONAL: &[&str] = &["rider", "fit", "asked", "survey", "liked", "show"];
/// Paths that are kept by law for a while.
const BOOKS: &[&str] = &["rider.name", "quote", "work"];

/// Why a field is kept or not.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// It is of the person, and erased when they ask.
    Personal,
    /// It is kept by law for a while.
    Books,
    /// It is of the bike.
    Bike,
}

/// What is kept about a person with one build.
#[derive(Clone, Debug)]
pub struct Kept {
    /// The build.
    pub build: BuildId,
    /// What the workshop calls it.
    pub title: String,
    /// The day it was last changed, erasing aside.
    pub changed_on: Option<Date>,
    /// Every field as it is: path, text, and why it is kept.
    pub fields: Vec<(String, String, Why)>,
    /// Fields that said something once, or say it now, that is to be erased when asked: by path.
    pub ever: Vec<(String, Why)>,
    /// Every change of those fields, the oldest first.
    pub changes: Vec<EditRow>,
    /// Pictures and documents.
    pub uploads: Vec<Upload>,
}

impl Kept {
    /// The day until which the books are kept; `None` where the day of the last change cannot be read.
    pub fn until(&self, years: i16) -> Option<Date> {
        self.changed_on.and_then(|day| day.checked_add(jiff::Span::new().years(years)).ok())
    }
}

/// Everything about a person, build by build; none if nobody of that name ever was.
pub async fn kept_about(store: &Store, name: &str) -> Result<Vec<Kept>, StoreError> {
    let wanted = plain(name);
    if wanted.is_empty() {
        return Ok(Vec::new());
    }
    let mut builds: Vec<BuildId> = store
        .builds_ever_saying("rider.name")
        .await?
        .into_iter()
        .filter(|(_, text)| plain(text) == wanted)
        .map(|(build, _)| build)
        .collect();
    builds.dedup();
    let mut all = Vec::new();
    for build in builds {
        let Some(record) = store.leaves(&build).await? else { continue };
        let fields: Vec<_> =
            record.leaves.iter().map(|(path, text)| (path.clone(), text.clone(), why(path, text, &wanted))).collect();
        let mut ever: Vec<(String, Why)> = store
            .texts_ever(&build)
            .await?
            .into_iter()
            .filter(|(_, text)| text != ERASED)
            .map(|(path, text)| (why(&path, &text, &wanted), path))
            .filter(|(why, _)| *why != Why::Bike)
            .map(|(why, path)| (path, why))
            .collect();
        ever.sort();
        // One text with the name in it makes the field one of the person's.
        ever.dedup_by(|later, first| later.0 == first.0);
        let (mut changes, mut changed_ms) = (Vec::new(), 0);
        for row in store.recent(&build, i64::MAX).await?.into_iter().rev() {
            // Erasing is no work on the bike: it puts nothing off.
            if row.before.as_deref() != Some(ERASED) {
                changed_ms = row.at_ms;
            }
            if ever.iter().any(|(path, _)| *path == row.path) {
                changes.push(row);
            }
        }
        all.push(Kept {
            title: record.leaves.get("job.title").cloned().unwrap_or_default(),
            changed_on: day_of(changed_ms),
            fields,
            ever,
            changes,
            uploads: store.uploads(&build).await?,
            build,
        });
    }
    Ok(all)
}

/// Erases what may be erased on this day: of the person everything, of the books what was kept long enough.
pub async fn erase(store: &Store, name: &str, today: Date, years: i16, by: &By) -> Result<Erased, EditError> {
    let kept = kept_about(store, name).await?;
    let forgotten: Vec<Forgotten> = kept
        .iter()
        .map(|kept| {
            let is_over = kept.until(years).is_some_and(|until| until < today);
            let goes = |why: Why| why == Why::Personal || (why == Why::Books && is_over);
            Forgotten {
                build: kept.build.clone(),
                paths: kept.ever.iter().filter(|(_, why)| goes(*why)).map(|(path, _)| path.clone()).collect(),
                uploads: kept.uploads.iter().map(|upload| upload.id.clone()).collect(),
            }
        })
        .filter(|one| !one.paths.is_empty() || !one.uploads.is_empty())
        .collect();
    store.erase(&forgotten, by).await
}

/// A file of the folder that a person is given.
pub struct Handed {
    /// Where in the folder: letters, figures and hyphens, made here and never taken from anybody.
    pub path: String,
    /// What stands in it.
    pub bytes: Vec<u8>,
}

/// What a person is given: a page to read, and per build its fields, their changes, and the pictures.
pub async fn handed_out(store: &Store, name: &str, years: i16) -> Result<Vec<Handed>, StoreError> {
    let kept = kept_about(store, name).await?;
    let mut files = Vec::new();
    let mut front = format!("Everything that this workshop’s program keeps about {name}.\n");
    for one in &kept {
        let _ = write!(front, "\n{} ({})\n", one.title, one.build);
        let _ = writeln!(front, "  {}/fields.txt     every field as it is, one a line", one.build);
        let _ = writeln!(front, "  {}/changes.txt    what was written about you, when and by whom", one.build);
        if let Some(until) = one.until(years) {
            let _ = writeln!(
                front,
                "  Name, quote and work are kept until {until}, as a bill is; the rest is erased when you ask."
            );
        }
        let mut fields = String::new();
        for (path, text, _) in &one.fields {
            let _ = writeln!(fields, "{path} = {}", text.replace('\n', "\n    "));
        }
        files.push(Handed { path: format!("{}/fields.txt", one.build), bytes: fields.into_bytes() });
        let said = |text: &Option<String>| text.clone().unwrap_or_else(|| "nothing".into());
        let mut changes = String::new();
        for row in &one.changes {
            let (when, before, after) = (moment(row.at_ms), said(&row.before), said(&row.after));
            let _ = writeln!(changes, "{when} {}: {}: {before} became {after}", row.who, row.path);
        }
        files.push(Handed { path: format!("{}/changes.txt", one.build), bytes: changes.into_bytes() });
        for (at, upload) in one.uploads.iter().enumerate() {
            let Some((kind, bytes)) = store.upload(&one.build, &upload.id, Size::Whole).await? else { continue };
            let ending = match kind.as_str() {
                "image/jpeg" => "jpg",
                "application/pdf" => "pdf",
                _ => "txt",
            };
            let path = format!("{}/picture-{:03}.{ending}", one.build, at + 1);
            let _ = writeln!(front, "  {path}    {} {}", upload.place, upload.note);
            files.push(Handed { path, bytes });
        }
    }
    files.insert(0, Handed { path: "read-me-first.txt".into(), bytes: front.into_bytes() });
    Ok(files)
}

/// Why a field is kept.
fn why(path: &str, text: &str, name: &str) -> Why {
    let lies_in = |roots: &[&str]| {
        roots.iter().any(|root| path.strip_prefix(root).is_some_and(|rest| rest.is_empty() || rest.starts_with('.')))
    };
    if lies_in(BOOKS) {
        Why::Books
    } else if lies_in(PERSONAL) || plain(text).contains(name) {
        Why::Personal
    } else {
        Why::Bike
    }
}

/// A name as it is compared.
fn plain(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

/// The day of a moment, in UTC.
pub fn day_of(at_ms: i64) -> Option<Date> {
    moment(at_ms).get(..10)?.parse().ok()
}

fn moment(at_ms: i64) -> String {
    Timestamp::from_millisecond(at_ms).map_or_else(|_| "?".to_owned(), |at| at.to_string())
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

    use super::*;
    use witnessmark_store::{Content, NewBuild, NewUpload, Quota};

    fn by(key: &str, at_ms: i64) -> By {
        By { who: "Anna".into(), at_ms, request_key: key.into() }
    }

    async fn workshop() -> (Store, BuildId) {
        let store = Store::open_in_memory().await.unwrap();
        let leaves = [
            ("job.title", "Ilka Sample, race bike"),
            ("rider.name", "Ilka Sample"),
            ("rider.mass", "61 kg"),
            ("fit.by", "a fitter"),
            ("quote.number", "2027-14"),
            ("settings.spacers_under", "15"),
            ("job.note", "ring Ilka  sample before cutting"),
        ]
        .map(|(path, text)| (path.to_owned(), text.to_owned()));
        let new = NewBuild { leaves: &leaves, copied_from: None };
        // 15 March 2027.
        let build = store.create_build(new, &by("k0", 1_805_068_800_000)).await.unwrap();
        let other = [("rider.name".to_owned(), "Oren Other".to_owned()), ("rider.mass".to_owned(), "80 kg".to_owned())];
        store.create_build(NewBuild { leaves: &other, copied_from: None }, &by("k1", 0)).await.unwrap();
        let content = Content { kind: "image/jpeg", bytes: b"a picture" };
        let upload = NewUpload { build: &build, place: "", note: "", content, small: None, quota: Quota::default() };
        store.add_upload(upload, &by("k2", 0)).await.unwrap();
        (store, build)
    }

    #[tokio::test]
    async fn a_person_is_given_everything_and_nothing_of_anybody_else() {
        let (store, build) = workshop().await;
        let files = handed_out(&store, " ilka  SAMPLE ", KEPT_YEARS).await.unwrap();
        let paths: Vec<&str> = files.iter().map(|file| file.path.as_str()).collect();
        let in_build = |name: &str| format!("{build}/{name}");
        assert_eq!(
            paths,
            ["read-me-first.txt", &in_build("fields.txt"), &in_build("changes.txt"), &in_build("picture-001.jpg")]
        );
        let all: Vec<String> = files.iter().map(|file| String::from_utf8_lossy(&file.bytes).into_owned()).collect();
        assert!(all[0].contains("kept until 2037-03-15"), "{}", all[0]);
        assert!(all[1].contains("rider.mass = 61 kg") && all[1].contains("settings.spacers_under = 15"), "{}", all[1]);
        assert!(all[2].contains("rider.mass: nothing became 61 kg"), "{}", all[2]);
        assert!(all.iter().all(|text| !text.contains("Oren") && !text.contains("80 kg")));
        assert_eq!(handed_out(&store, "", KEPT_YEARS).await.unwrap().len(), 1);
    }

    #[tokio::test]
    async fn what_is_of_the_person_goes_at_once_and_the_books_when_their_time_is_over() {
        let (store, build) = workshop().await;
        let day = |text: &str| text.parse::<Date>().unwrap();
        let erased = erase(&store, "Ilka Sample", day("2028-01-01"), KEPT_YEARS, &by("k3", 1_830_000_000_000)).await;
        assert_eq!(erased.unwrap().uploads, 1);
        let left = store.leaves(&build).await.unwrap().unwrap().leaves;
        let paths: Vec<&str> = left.keys().map(String::as_str).collect();
        assert_eq!(paths, ["quote.number", "rider.name", "settings.spacers_under"]);
        store.verify().await.unwrap();
        erase(&store, "Ilka Sample", day("2037-03-15"), KEPT_YEARS, &by("k4", 2_100_000_000_000)).await.unwrap();
        assert!(store.leaves(&build).await.unwrap().unwrap().leaves.contains_key("rider.name"), "the last day");
        erase(&store, "Ilka Sample", day("2037-03-16"), KEPT_YEARS, &by("k5", 2_200_000_000_000)).await.unwrap();
        let left = store.leaves(&build).await.unwrap().unwrap().leaves;
        assert_eq!(left.keys().collect::<Vec<_>>(), ["settings.spacers_under"], "the bike’s own stays");
        assert!(kept_about(&store, "Ilka Sample").await.unwrap().is_empty(), "nobody of that name is found any more");
        assert_eq!(kept_about(&store, "Oren Other").await.unwrap().len(), 1);
        store.verify().await.unwrap();
    }
}
