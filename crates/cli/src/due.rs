//! `witnessmark due`: what is due across all bikes that were handed over.

use crate::serve::{Data, on_runtime, open};
use crate::{Outcome, print};
use jiff::civil::Date;
use witnessmark_store::Looks;
use witnessmark_web::api::{DueJson, mirror_due};
use witnessmark_web::due::bikes;

/// Arguments of `due`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    data: Data,
    /// The day for which to say what is due: 2027-06-01; without it, today in UTC
    #[arg(long)]
    day: Option<Date>,
    /// Print JSON instead of text
    #[arg(long)]
    json: bool,
}

/// Says what is due on the day and in the thirty days after it.
pub(crate) fn run(args: Args) -> Outcome {
    on_runtime(async move {
        let Some(store) = open(&args.data.place).await else { return Outcome::Unusable };
        let day = args.day.unwrap_or_else(today);
        let found = bikes(&Looks::new(store.clone())).await;
        store.close().await;
        match found {
            Ok(bikes) => {
                let due = mirror_due(&bikes, day);
                if args.json {
                    print::json(&due)
                } else {
                    print::out(&said(&due))
                }
                Outcome::Fine
            }
            Err(error) => {
                print::complain(&error.to_string());
                Outcome::Unusable
            }
        }
    })
}

/// The day by the clock, in UTC.
fn today() -> Date {
    jiff::Timestamp::now().to_string().get(..10).and_then(|day| day.parse().ok()).unwrap_or_default()
}

fn said(due: &DueJson) -> String {
    let mut text = format!("DUE ON {} OR BEFORE {}\n", due.day, due.until);
    for bike in &due.bikes {
        let title = bike.title.as_deref().unwrap_or("a build without a title");
        let rider = bike.rider.as_ref().map_or_else(String::new, |rider| format!(", {rider}"));
        text += &format!("\n{title}{rider} ({})\n", bike.build);
        if bike.from.is_none() {
            text += "  its day of hand-over cannot be read: nothing counts from it\n";
        }
        for one in &bike.services {
            let on = one.due_on.as_deref().unwrap_or("?");
            let word = match on.cmp(due.day.as_str()) {
                std::cmp::Ordering::Less => "overdue",
                std::cmp::Ordering::Equal => "today",
                std::cmp::Ordering::Greater => "",
            };
            text += &format!("  {on}  {word:<8} {}\n", one.name);
        }
    }
    if due.bikes.is_empty() {
        text += "\nNothing.\n";
    }
    if due.not_counted > 0 {
        let finished = match due.finished_without_day.len() {
            0 => String::new(),
            some => format!(" ({some} said to be finished)"),
        };
        text +=
            &format!("\nBuilds without a day of hand-over, of which it is not known: {}{finished}.\n", due.not_counted);
    }
    text
}
