//! A sheet or a table as a file to take away.

use super::build::loaded;
use super::photos::says;
use crate::app::App;
use crate::loaded::Loaded;
use crate::refusal::Refusal;
use crate::{uploads, words};
use axum::extract::{Path, State};
use axum::http::HeaderMap;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE, HOST};
use axum::response::{IntoResponse, Response};
use axum::routing::{MethodRouter, get};
use witnessmark_sheets::export::{csv, xlsx};
use witnessmark_sheets::paper::{Kind, NoSheet, Paper, Photo, Record, Subject, pdf, photos_on, safe_name};
use witnessmark_store::Size;

pub(super) fn methods() -> MethodRouter<App> {
    get(give)
}

/// A file that can be asked for.
#[derive(Clone, Debug, PartialEq)]
enum Asked {
    Sheet(Kind, Paper),
    Csv(String),
    Workbook,
}

impl Asked {
    /// `bench-a4.pdf`, `numbers.csv`, `tables.xlsx`.
    fn of(file: &str) -> Option<Self> {
        let (stem, ending) = file.rsplit_once('.')?;
        match ending {
            "pdf" => {
                let (kind, paper) = stem.rsplit_once('-')?;
                Some(Asked::Sheet(Kind::from_word(kind)?, Paper::from_name(paper)?))
            }
            "csv" => Some(Asked::Csv(file.to_owned())),
            "xlsx" if stem == "tables" => Some(Asked::Workbook),
            _ => None,
        }
    }
}

async fn give(
    State(app): State<App>,
    Path((id, file)): Path<(String, String)>,
    headers: HeaderMap,
) -> Result<Response, Refusal> {
    let loaded = loaded(&app, &id).await?;
    let no_such = || Refusal::NothingSoNamed {
        name: file.clone(),
        why: "bench-a4.pdf, numbers.csv or tables.xlsx would be a file of a build".into(),
    };
    let asked = Asked::of(&file).ok_or_else(no_such)?;
    let host = headers.get(HOST).and_then(|host| host.to_str().ok()).unwrap_or("localhost");
    let scheme = if app.names().secure { "https" } else { "http" };
    let address = format!("{scheme}://{host}/builds/{}", loaded.id);
    let name = format!("{}-{file}", safe_name(loaded.title()));
    let photos = match asked {
        Asked::Sheet(kind, _) => chosen(&app, &loaded, kind).await?,
        Asked::Csv(_) | Asked::Workbook => Vec::new(),
    };
    let made = app.try_compute(move || made(&asked, &loaded, &address, photos)).await;
    let (kind, bytes) = made
        .unwrap_or_else(|_| Err(Unmade::Broken("the sheet stopped while it was made".into())))?
        .ok_or_else(no_such)?;
    Ok(attachment(kind, &name, bytes))
}

/// A file under a name of small letters, figures and hyphens, so that nothing in it needs quoting.
pub(super) fn attachment(kind: &'static str, name: &str, bytes: Vec<u8>) -> Response {
    let disposition = format!("attachment; filename=\"{name}\"");
    ([(CONTENT_TYPE, kind.to_owned()), (CONTENT_DISPOSITION, disposition)], bytes).into_response()
}

/// A photo that was chosen for a sheet, with what is said under it.
struct Chosen {
    name: String,
    picture: Vec<u8>,
    shows: String,
    taken: String,
}

/// The photos that were chosen for this sheet, the oldest first. One that was removed since is said to be missing by the
/// sheet itself.
async fn chosen(app: &App, loaded: &Loaded, kind: Kind) -> Result<Vec<Chosen>, Refusal> {
    let names = photos_on(&loaded.build, kind);
    if names.is_empty() {
        return Ok(Vec::new());
    }
    let mut chosen = Vec::new();
    for upload in
        app.store().uploads(&loaded.id).await?.into_iter().filter(|upload| names.contains(&upload.id.as_str()))
    {
        if let Some((_, picture)) = app.store().upload(&loaded.id, &upload.id, Size::Whole).await? {
            let taken = format!("{}, {}", upload.who, words::day(upload.at_ms));
            chosen.push(Chosen { shows: says(&upload), name: upload.id, picture, taken });
        }
    }
    Ok(chosen)
}

/// Why a file was not made.
enum Unmade {
    Wants(&'static str),
    Broken(String),
}

impl From<Unmade> for Refusal {
    fn from(unmade: Unmade) -> Self {
        match unmade {
            Unmade::Wants(what) => Refusal::Incomplete(super::build::capital(&format!("{what}."))),
            Unmade::Broken(why) => {
                eprintln!("web: {why}");
                Refusal::Incomplete("The file could not be made; the reason is in the log of this program.".into())
            }
        }
    }
}

type Made = Option<(&'static str, Vec<u8>)>;

fn made(asked: &Asked, loaded: &Loaded, address: &str, photos: Vec<Chosen>) -> Result<Made, Unmade> {
    let (build, plan) = (&loaded.build, &loaded.plan);
    let broken = |why: &dyn std::fmt::Display| Unmade::Broken(why.to_string());
    match asked {
        Asked::Sheet(kind, paper) => {
            let record = Some(Record { address, revision: Some(loaded.revision) });
            let mut sized = Vec::with_capacity(photos.len());
            for one in photos {
                let picture = uploads::for_paper(one.picture).map_err(|why| Unmade::Broken(why.sentence()))?;
                sized.push(Chosen { picture, ..one });
            }
            let photos: Vec<Photo<'_>> = sized
                .iter()
                .map(|Chosen { name, picture, shows, taken }| Photo { name, picture, shows, taken })
                .collect();
            match pdf(*kind, &Subject { build, plan, record, photos: &photos }, *paper) {
                Ok(bytes) => Ok(Some(("application/pdf", bytes))),
                Err(NoSheet::Wants(what)) => Err(Unmade::Wants(what)),
                Err(NoSheet::Unwritten(why)) => Err(broken(&why)),
            }
        }
        Asked::Csv(name) => {
            let files = csv(build, plan).map_err(|why| broken(&why))?;
            let found = files.into_iter().find(|file| file.name == *name);
            Ok(found.map(|file| ("text/csv; charset=utf-8", file.bytes)))
        }
        Asked::Workbook => {
            let bytes = xlsx(build, plan).map_err(|why| broken(&why))?;
            Ok(Some(("application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", bytes)))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_asked_for_by_its_kind_and_its_paper() {
        assert_eq!(Asked::of("bench-a4.pdf"), Some(Asked::Sheet(Kind::Bench, Paper::A4)));
        assert_eq!(Asked::of("hand-over-letter.pdf"), Some(Asked::Sheet(Kind::HandOver, Paper::Letter)));
        assert_eq!(Asked::of("tables.xlsx"), Some(Asked::Workbook));
        let roll = Paper::Roll { width_mm: 62, height_mm: 29 };
        assert_eq!(Asked::of("label-62x29.pdf"), Some(Asked::Sheet(Kind::Label, roll)));
        for wrong in [
            "bench.pdf",
            "label-62x.pdf",
            "label-1x1.pdf",
            "bench-a3.pdf",
            "pdf",
            "",
            "..",
            "secret-a4.pdf",
            "bench-a4.exe",
            "other.xlsx",
        ] {
            assert_eq!(Asked::of(wrong), None, "{wrong}");
        }
    }
}
