//! `witnessmark service FILE`: what is looked at when, as a sheet, as JSON or as a calendar file.

use crate::{FileArg, Outcome, input, print};
use jiff::civil::Date;
use witnessmark_core::service::service;
use witnessmark_sheets::calendar;

/// Arguments of `service`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    file: FileArg,
    /// The day for which to say what is due: 2027-06-01
    #[arg(long)]
    day: Option<Date>,
    /// Print JSON instead of text
    #[arg(long, conflicts_with = "calendar")]
    json: bool,
    /// Print a calendar file (iCalendar) instead of text
    #[arg(long)]
    calendar: bool,
}

/// Prints the service plan.
pub(crate) fn run(args: &Args) -> Outcome {
    let Some(build) = input::build(&args.file.file) else { return Outcome::Unusable };
    let plan = service(&build);
    if args.calendar {
        let title = build.job.title.as_ref().map_or("bike", |given| given.value.as_str());
        let key = args.file.file.file_stem().map_or_else(|| "bike".into(), |stem| stem.to_string_lossy());
        let Some(day) = args.day.or_else(|| plan.from.clone().ok()) else {
            print::complain("There is no day of hand-over to count from: give one in the document, or --day.");
            return Outcome::Unusable;
        };
        print::out(&calendar::calendar(&plan, calendar::About { key: &key, title, day }));
    } else if args.json {
        print::json(&witnessmark_web::api::mirror_service(&plan, args.day));
    } else {
        print::sheet(&witnessmark_sheets::finish::service(&build, &plan, args.day));
    }
    Outcome::Fine
}
