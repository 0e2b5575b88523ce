//! `witnessmark due`: what is due across all bikes that were handed over.

use crate::clock::today;
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
                    print::json(&due);
                } else {
                    print::out(&said(&due));
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

fn said(due: &DueJson) -> String {
    let mut lines = vec![format!("DUE ON {} OR BEFORE {}", due.day, due.until)];
    for bike in &due.bikes {
        let title = bike.title.as_deref().unwrap_or("a build without a title");
        let rider = bike.rider.as_ref().map_or_else(String::new, |rider| format!(", {rider}"));
        lines.push(format!("\n{title}{rider} ({})", bike.build));
        if bike.from.is_none() {
            lines.push("  its day of hand-over cannot be read: nothing counts from it".to_owned());
        }
        for one in &bike.services {
            let on = one.due_on.as_deref().unwrap_or("?");
            let word = match on.cmp(due.day.as_str()) {
                std::cmp::Ordering::Less => "overdue",
                std::cmp::Ordering::Equal => "today",
                std::cmp::Ordering::Greater => "",
            };
            lines.push(format!("  {on}  {word:<8} {}", one.name));
        }
    }
    if due.bikes.is_empty() {
        lines.push("\nNothing.".to_owned());
    }
    if due.not_counted > 0 {
        let finished = match due.finished_without_day.len() {
            0 => String::new(),
            some => format!(" ({some} said to be finished)"),
        };
        lines.push(format!(
            "\nWithout a day of hand-over, so that nothing is known of what is due: {}{finished}.",
            due.not_counted
        ));
    }
    lines.join("\n") + "\n"
}
