//! Differences between two bikes that carrying a position over takes into account, in sentences.

use crate::build::Build;
use crate::fact;
use crate::finding::mm;
use crate::held::Bike;
use crate::model::Model;
use crate::part::{Bar, BarShape, Lever};
use crate::plan::Plan;

/// All of them: cranks, pedals, saddle, levers, bar.
pub(super) fn accounted(old: &Bike<'_>, build: &Build, new: &Plan) -> Vec<String> {
    let mut all = Vec::new();
    let (before, after) = (Model::new(old.build), Model::new(build));
    if let (Some(then), Ok(now)) = (&build.fit.crank_length_mm, fact!(after.crankset, arm_length_mm)) {
        let by = now - then.value;
        if by.abs() > 0.05 {
            all.push(format!(
                "The cranks are {}, so the saddle goes {} along its own ray; over the top of the stroke the knee {} by {}.",
                longer(by, "longer", "shorter"),
                longer(-by, "up", "down"),
                if by > 0.0 { "closes" } else { "opens" },
                mm(2.0 * by.abs())
            ));
        }
    }
    if let (Some(then), Ok(now)) = (&build.fit.pedal_stack_mm, fact!(after.pedal, stack_mm)) {
        let by = now - then.value;
        if by.abs() > 0.05 {
            all.push(format!(
                "Pedal and sole stand {}, so the saddle goes {}.",
                longer(by, "higher over the axle", "lower over the axle"),
                longer(by, "up", "down")
            ));
        }
    }
    if new.worked.target.rebased_mm.abs() > 0.05 {
        all.push(format!("Together the saddle moves {}.", longer(new.worked.target.rebased_mm, "up", "down")));
    }
    let nose =
        (build.fit.nose_to_reference_mm.as_ref().map(|given| given.value), fact!(after.saddle, nose_to_reference_mm));
    if let (Some(then), Ok(now)) = nose {
        let by = now - then;
        if by.abs() > 0.5 {
            all.push(format!(
                "The saddle is {} from its nose to where it is 80 mm wide; the rider sits at the same place, and its nose \
                 comes {}.",
                longer(by, "longer", "shorter"),
                longer(by, "further forward", "further back")
            ));
        }
    }
    all.extend(lever(&before, &after));
    all.extend(bar(&before, &after));
    all
}

fn lever(before: &Model<'_>, after: &Model<'_>) -> Option<String> {
    type Figure = (&'static str, fn(&Lever) -> Option<f64>);
    let figures: [Figure; 4] = [
        ("its trough stands from the bar", |lever| lever.trough_out_mm.as_ref().map(|given| given.value)),
        ("its trough lies along the bar", |lever| lever.trough_along_mm.as_ref().map(|given| given.value)),
        ("its tip stands from the bar", |lever| lever.tip_out_mm.as_ref().map(|given| given.value)),
        ("it is wide", |lever| lever.hood_width_mm.as_ref().map(|given| given.value)),
    ];
    let (then, now) = (before.lever_left.part?, after.lever_left.part?);
    let changes: Vec<String> = figures
        .iter()
        .filter_map(|(words, figure)| {
            let (then, now) = (figure(then)?, figure(now)?);
            ((now - then).abs() > 0.05).then(|| format!("{words} {} instead of {}", mm(now), mm(then)))
        })
        .collect();
    (!changes.is_empty()).then(|| {
        format!("The lever has another body: {}. It is set by the lowest point of its own trough.", changes.join("; "))
    })
}

fn bar(before: &Model<'_>, after: &Model<'_>) -> Option<String> {
    let shape = |model: &Model<'_>, name: &str| -> Option<f64> {
        let bar: Option<&Bar> = model.bar.part;
        let whole = model.cockpit.part.map(|part| part as &dyn BarShape);
        whole.or(bar.map(|part| part as &dyn BarShape))?.figure(name)
    };
    let names = [("drop_mm", "drop"), ("reach_mm", "reach"), ("width_hoods_mm", "width at the hoods")];
    let changes: Vec<String> = names
        .iter()
        .filter_map(|(name, words)| {
            let (then, now) = (shape(before, name)?, shape(after, name)?);
            ((now - then).abs() > 0.05).then(|| format!("{words} {} instead of {}", mm(now), mm(then)))
        })
        .collect();
    (!changes.is_empty()).then(|| {
        format!("The bar has another shape: {}. The hoods are kept; tops and drops come elsewhere.", changes.join("; "))
    })
}

/// "2.5 mm longer", for a length against another.
fn longer(by_mm: f64, more: &str, less: &str) -> String {
    format!("{} {}", mm(by_mm.abs()), if by_mm > 0.0 { more } else { less })
}
