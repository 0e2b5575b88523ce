//! Bringing parts in: files or a pasted text are sent, read, and kept until somebody has seen what they would change.

use crate::app::{App, Mechanic};
use crate::bring::{Ended, Holds, MOST_BYTES, Progress, Tally, Upload, read, write};
use crate::catalogue::Catalogue;
use crate::pages::edit::by;
use crate::refusal::Refusal;
use crate::shell::{Page, page};
use crate::{key, words};
use axum::extract::multipart::{Field, MultipartError};
use axum::extract::{DefaultBodyLimit, Multipart, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{MethodRouter, get, post};
use maud::{Markup, html};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;
use tokio::sync::Notify;
use witnessmark_core::part::{self, KINDS};
use witnessmark_store::CatalogueBy;

/// How long an answer waits for a short file to be read, so that most are shown at once.
const PATIENCE: Duration = Duration::from_millis(700);

pub(super) fn methods() -> MethodRouter<App> {
    // The limit is ours: beyond it the rest is let go by, and the answer is a sentence instead of a broken line.
    get(show).merge(post(send).layer(DefaultBodyLimit::disable()))
}

/// Files that were sent.
#[derive(Debug)]
pub(crate) struct Import {
    /// By which it is found again.
    pub(crate) key: String,
    /// What was sent.
    pub(super) uploads: Arc<Vec<Upload>>,
    /// Bytes in all.
    pub(super) size: u64,
    state: Mutex<Stage>,
    /// The catalogue that the files were held against: only if it still stands there, what was shown is written.
    against: Mutex<Arc<Catalogue>>,
    /// Told at each change of the state.
    moved: Notify,
}

/// How far an import has come.
#[derive(Clone, Debug)]
pub(super) enum Stage {
    /// It is being read.
    Reading(Arc<Progress>),
    /// There are slips; nothing is written.
    Slips(Arc<Tally>),
    /// What it would change; and why it is shown again, where it is.
    Shown(Arc<Tally>, Option<&'static str>),
    /// It is being written.
    Writing(Arc<Progress>),
    /// It is on the disk.
    Written(Arc<Tally>),
    /// The store could not; nothing was written.
    Failed(String, Arc<Tally>),
}

impl Import {
    pub(super) fn stage(&self) -> Stage {
        self.lock().clone()
    }

    fn lock(&self) -> MutexGuard<'_, Stage> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn set(&self, stage: Stage) {
        *self.lock() = stage;
        self.moved.notify_waiters();
    }

    /// Waits a moment for reading or writing to end.
    pub(super) async fn settled(&self) -> Stage {
        let _ = tokio::time::timeout(PATIENCE, async {
            loop {
                let moved = self.moved.notified();
                if !matches!(self.stage(), Stage::Reading(_) | Stage::Writing(..)) {
                    return;
                }
                moved.await;
            }
        })
        .await;
        self.stage()
    }

    /// Reads what was sent and shows it.
    pub(super) async fn look(self: &Arc<Self>, app: &App, again: Option<&'static str>) -> Result<(), Refusal> {
        let catalogue = app.catalogue().await?;
        *self.against.lock().unwrap_or_else(PoisonError::into_inner) = Arc::clone(&catalogue);
        let progress = Arc::new(Progress::default());
        self.set(Stage::Reading(Arc::clone(&progress)));
        let import = Arc::clone(self);
        tokio::task::spawn_blocking(move || {
            let tally = read(&import.uploads, &catalogue, &progress, |_| {});
            let tally = Arc::new(tally);
            import.set(if tally.slips > 0 { Stage::Slips(tally) } else { Stage::Shown(tally, again) });
        });
        Ok(())
    }

    /// Writes what was shown. A second yes finds it being written, and does nothing.
    pub(super) fn wanted(self: &Arc<Self>, app: &App, mechanic: Mechanic, who: &str) {
        let catalogue = Arc::clone(&self.against.lock().unwrap_or_else(PoisonError::into_inner));
        let progress = Arc::new(Progress::default());
        let shown = {
            let mut stage = self.lock();
            let tally = match &*stage {
                Stage::Shown(tally, _) | Stage::Failed(_, tally) => Arc::clone(tally),
                _ => return,
            };
            *stage = Stage::Writing(Arc::clone(&progress));
            tally
        };
        let person = by(who, "none");
        let by = CatalogueBy { who: person.who, at_ms: person.at_ms, source: self.source() };
        let (import, app) = (Arc::clone(self), app.clone());
        tokio::spawn(async move {
            match write(&mechanic, catalogue, Arc::clone(&import.uploads), progress, by).await {
                Ok(Ended::Written(tally)) => {
                    // Ready before the page says so: the next search finds the new parts.
                    let _ = app.catalogue().await;
                    import.set(Stage::Written(Arc::new(tally)));
                }
                Ok(Ended::Slips(tally)) => import.set(Stage::Slips(Arc::new(tally))),
                Ok(Ended::Moved) => {
                    let says = "Somebody else changed the catalogue after this was shown. Nothing was written; this is \
                                what it would change now.";
                    if let Err(error) = import.look(&app, Some(says)).await {
                        import.set(Stage::Failed(error.sentence(), shown));
                    }
                }
                Err(error) => {
                    eprintln!("web: import: {error:?}");
                    import.set(Stage::Failed(error.to_string(), shown));
                }
            }
        });
    }

    fn source(&self) -> String {
        let names = self.uploads.iter().map(|upload| if upload.name.is_empty() { "pasted" } else { &upload.name });
        names.collect::<Vec<_>>().join(", ")
    }
}

async fn show() -> Markup {
    form("", None)
}

/// The form, with what was typed and why it was not taken.
fn form(pasted: &str, refused: Option<&str>) -> Markup {
    let main = html! {
        p.back { a href="/catalogue" { "The shop’s catalogue" } }
        h1 { "Bring parts in" }
        p.lead { "Nothing is written before you have seen what would change. It comes in whole or not at all." }
        form.import method="post" action="/catalogue/import" enctype="multipart/form-data" {
            @if let Some(refused) = refused { div.note #import-note role="alert" { p { (refused) } } }
            div.field {
                label for="file" { "Files" }
                input #file type="file" name="file" multiple accept=".csv,.toml,.txt,.tsv,text/csv"
                    aria-describedby=(if refused.is_some() { "import-note file-says" } else { "file-says" })
                    data-most=(MOST_BYTES);
                p.says #file-says {
                    "Tables as CSV, one kind of part a file, named for it (stem.csv); or TOML, with parts of all kinds. "
                    "Commas, semicolons or tabs; decimal point or comma; any common encoding. " (MOST_BYTES / 1_048_576) " MB together at most."
                }
            }
            div.field {
                label for="text" { "Or paste a table, or TOML" }
                textarea #text name="text" rows="7" spellcheck="false" autocapitalize="off"
                    placeholder="id;name;length (mm);price&#10;plain-110;Plain stem 110;110;72,00" { (pasted) }
            }
            div.field {
                label for="holds" { "What it holds" }
                select #holds name="holds" {
                    option value="" { "as the file’s name or the text says" }
                    option value="toml" { "TOML" }
                    @for kind in KINDS { option value=(kind.key) { "a table: " (words::of_key(kind.key)) } }
                }
            }
            input type="hidden" name="who" value="";
            p.press { button { "Look at what would change" } }
        }
        details.fold {
            summary { "Which headings a table may have" }
            p { "The first row holds headings: id, and any of the facts of its kind. A table to be filled in, with every heading, for each kind:" }
            ul.choices { @for kind in KINDS { li { a href={ "/catalogue/export/" (kind.key) "-template.csv" } { (words::of_key(kind.key)) } } } }
            p { "An empty cell says nothing about its fact; ? says that it is not known. A column “length from” says where the length comes from: measured here, maker’s sheet, printed on the part, catalogue or assumed. A better origin is never written over by a worse one." }
        }
    };
    page(&Page { title: "Bring parts in", main })
}

/// What was sent.
#[derive(Default)]
struct Sent {
    files: Vec<Upload>,
    text: String,
    holds: String,
    size: usize,
}

async fn send(
    State(app): State<App>,
    sent: Result<Multipart, axum::extract::multipart::MultipartRejection>,
) -> Result<Response, Refusal> {
    let refused = |status: StatusCode, says: &str, text: &str| Ok((status, form(text, Some(says))).into_response());
    let Ok(mut multipart) = sent else {
        return refused(
            StatusCode::BAD_REQUEST,
            "What was sent is no form of this page. Choose a file or paste a text.",
            "",
        );
    };
    let mut sent = Sent::default();
    loop {
        match multipart.next_field().await {
            Ok(Some(field)) => {
                if let Err(error) = take(field, &mut sent).await {
                    return refused(StatusCode::BAD_REQUEST, &broken(&error), &sent.text);
                }
            }
            Ok(None) => break,
            Err(error) => return refused(StatusCode::BAD_REQUEST, &broken(&error), &sent.text),
        }
    }
    if sent.size > MOST_BYTES {
        let says = format!(
            "That is {} MB together; {} MB at most is taken here. Part it into several, or bring it in at the terminal: witnessmark parts import FILE.",
            sent.size.div_ceil(1_048_576),
            MOST_BYTES / 1_048_576
        );
        return refused(StatusCode::PAYLOAD_TOO_LARGE, &says, "");
    }
    let holds = match sent.holds.as_str() {
        "" => Holds::AsNamed,
        "toml" => Holds::Toml,
        key => match part::kind(key) {
            Some(kind) => Holds::Table(kind.key),
            None => {
                return refused(StatusCode::UNPROCESSABLE_ENTITY, &format!("“{key}” is no kind of part."), &sent.text);
            }
        },
    };
    let mut uploads = sent.files;
    if !sent.text.trim().is_empty() {
        uploads.push(Upload { name: String::new(), holds: Holds::AsNamed, bytes: sent.text.clone().into_bytes() });
    }
    if uploads.is_empty() {
        return refused(StatusCode::UNPROCESSABLE_ENTITY, "Nothing was sent: choose a file or paste a text.", "");
    }
    for upload in &mut uploads {
        upload.holds = holds;
    }
    let import = app.keep_import(Import {
        key: key::draw(),
        size: uploads.iter().map(|upload| upload.bytes.len() as u64).sum(),
        uploads: Arc::new(uploads),
        state: Mutex::new(Stage::Reading(Arc::default())),
        against: Mutex::default(),
        moved: Notify::new(),
    });
    import.look(&app, None).await?;
    import.settled().await;
    Ok(Redirect::to(&format!("/catalogue/import/{}", import.key)).into_response())
}

/// Takes a field of the form. Of what is beyond the limit only the size is kept.
async fn take(mut field: Field<'_>, sent: &mut Sent) -> Result<(), MultipartError> {
    let name = field.name().unwrap_or_default().to_owned();
    let file =
        field.file_name().map(|file| file.chars().filter(|sign| !sign.is_control()).take(200).collect::<String>());
    let mut bytes = Vec::new();
    while let Some(chunk) = field.chunk().await? {
        sent.size += chunk.len();
        if sent.size <= MOST_BYTES {
            bytes.extend_from_slice(&chunk);
        } else {
            bytes = Vec::new();
        }
    }
    let text = |bytes: Vec<u8>| String::from_utf8_lossy(&bytes).into_owned();
    match name.as_str() {
        // A browser sends a file field in which nothing was chosen as a file without name and content.
        "file" => {
            if let Some(file) = file.filter(|file| !file.is_empty()) {
                sent.files.push(Upload { name: file, holds: Holds::AsNamed, bytes });
            }
        }
        "text" => sent.text = text(bytes),
        "holds" => sent.holds = text(bytes),
        _ => {}
    }
    Ok(())
}

fn broken(error: &MultipartError) -> String {
    format!("What was sent broke off or cannot be read ({}). Nothing was written; send it again.", error.status())
}
