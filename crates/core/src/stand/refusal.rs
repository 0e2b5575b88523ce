//! What may not be written down at the stand, and why: a step done behind a shut gate, a gate opened without a reason, a
//! number buried unread.

use super::{Against, Stands, StepNow, Work};

/// Why this record is not taken, as a sentence for whoever typed it; `None` where it may be written.
///
/// A step is not done before its gate was opened, nor while it hides a number that nobody read, unless the reason why it
/// could not be read stands beside it. A gate against which something speaks is opened only with a reason.
pub fn refuses(work: &Work, path: &str, after: Option<&str>) -> Option<String> {
    let (key, field) = path.strip_prefix("steps.")?.split_once('.')?;
    let after = after?;
    let Some(step) = work.step(key) else {
        return Some("This bike has no such step; its parts may have changed meanwhile.".to_owned());
    };
    match (field, after) {
        ("state", "done") => not_done(step),
        ("opened_by", _) => not_opened(step),
        _ => None,
    }
}

fn not_done(step: &StepNow) -> Option<String> {
    if let Some(now) = &step.gate {
        let opened = matches!(now.stands, Stands::Opened | Stands::OpenedAgainst);
        if !opened {
            return Some(format!("The gate before {} is not open: open it first, with your name.", now.gate.protects));
        }
    }
    if step.first.is_empty() || step.record.reason.is_some() {
        return None;
    }
    Some(format!(
        "This step hides what nobody has noted. {} Note it first, or write beside it why it cannot be had.",
        sentences(&step.first)
    ))
}

fn not_opened(step: &StepNow) -> Option<String> {
    let Some(now) = &step.gate else {
        return Some("No gate stands before this step.".to_owned());
    };
    if now.against.is_empty() || step.record.opened_against.is_some() {
        return None;
    }
    Some(format!(
        "Something speaks against {}. {} Mend it, or write the reason for opening it all the same.",
        now.gate.protects,
        sentences(&now.against)
    ))
}

/// The first few of what speaks against it, and how many more there are.
fn sentences(against: &[Against]) -> String {
    const SHOWN: usize = 3;
    let said = |one: &Against| if one.says.ends_with('.') { one.says.clone() } else { format!("{}.", one.says) };
    let mut all: Vec<String> = against.iter().take(SHOWN).map(said).collect();
    if against.len() > SHOWN {
        all.push(format!("And {} more.", against.len() - SHOWN));
    }
    all.join(" ")
}
