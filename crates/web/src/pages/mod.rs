//! The pages, one file or folder a page: what it answers to, what stands on it, and its tests.

macro_rules! pages {
    ($($module:ident: $path:literal;)+) => {
        $(mod $module;)+

        /// Every page with the address it answers to.
        #[cfg(test)]
        pub(crate) const ALL: &[&str] = &[$($path),+];

        /// The pages as a service.
        pub(crate) fn routes() -> axum::Router<crate::app::App> {
            axum::Router::new()
                .route("/", axum::routing::get(|| async { axum::response::Redirect::to("/builds") }))
                $(.route($path, $module::methods()))+
        }
    };
}

mod choices;

pages! {
    builds: "/builds";
    build: "/builds/{id}";
    edit: "/builds/{id}/edit";
    revision: "/builds/{id}/revision";
    undo: "/builds/{id}/undo";
    copy: "/builds/{id}/copy";
    number: "/builds/{id}/number/{number}";
    part: "/builds/{id}/part/{path}";
    add: "/builds/{id}/add";
    take: "/builds/{id}/take";
    fitting: "/builds/{id}/fitting/{path}";
    complete: "/builds/{id}/complete";
    reach: "/builds/{id}/reach";
    survey: "/builds/{id}/survey";
    carry: "/builds/{id}/carry";
    gears: "/builds/{id}/gears";
    chain: "/builds/{id}/chain";
    wiring: "/builds/{id}/wiring";
    fasteners: "/builds/{id}/fasteners";
    tape: "/builds/{id}/tape";
    mass: "/builds/{id}/mass";
    tyres: "/builds/{id}/tyres";
    stand: "/builds/{id}/stand";
    service: "/builds/{id}/service";
    service_file: "/builds/{id}/service/{file}";
    sheets: "/builds/{id}/sheets";
    sheet_file: "/builds/{id}/sheets/{file}";
    show: "/builds/{id}/show";
    show_file: "/builds/{id}/show/page.html";
    photos: "/builds/{id}/photos";
    photos_on_sheets: "/builds/{id}/photos/on-sheets";
    photo: "/builds/{id}/photos/{photo}";
    history: "/builds/{id}/history";
    due: "/due";
    compare: "/compare";
    catalogue: "/catalogue";
    catalogue_part: "/catalogue/part/{kind}/{part}";
    catalogue_import: "/catalogue/import";
    catalogue_brought: "/catalogue/import/{key}";
    catalogue_export: "/catalogue/export/{file}";
    checks: "/checks";
    sign_in: "/sign-in";
    sign_out: "/sign-out";
    bench: "/bench";
    bench_turn: "/bench/turn";
    me: "/me";
    people: "/people";
    ledger: "/ledger";
    person: "/person";
    copies: "/copies";
}

mod whole;

pub(crate) use build::fragment::{Fragment, PagePrints};
pub(crate) use builds::{Listed, listed};
pub(crate) use catalogue_import::Import;
pub(crate) use compare::as_asked;
pub(crate) use complete::Completing;
