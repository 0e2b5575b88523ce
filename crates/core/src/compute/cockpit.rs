//! Stem, bar and levers: where the hands are.

use super::chassis::Chassis;
use crate::model::{Known, Missing, Model};
use crate::number::Side;
use crate::part::BarShape;
use crate::{fact, known};
use witnessmark_mechanics::bar::{BarCurve, BarFigures};
use witnessmark_mechanics::cockpit::{Hood, LeverBody, LeverPlacement, Stack, Stem, bar_clamp, hood, hood_gap_mm};
use witnessmark_mechanics::{Point2, Side as Hand};

/// The stem, or the stem's end of a one-piece cockpit, as fitted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StemInPlace {
    /// Centre of the steerer to centre of the bar.
    pub length_mm: f64,
    /// From square to the steerer, up positive, as fitted.
    pub angle_deg: f64,
    /// Height of the clamp along the steerer.
    pub clamp_height_mm: f64,
}

/// Bar and hoods.
#[derive(Clone, Debug, PartialEq)]
pub struct Front {
    /// The stem as fitted.
    pub stem: Known<StemInPlace>,
    /// Centre of the bar in its clamp.
    pub bar_clamp: Known<Point2>,
    /// The bar's curve.
    pub curve: Known<BarCurve>,
    /// The left hood.
    pub hood_left: Known<Hood>,
    /// The right hood.
    pub hood_right: Known<Hood>,
    /// Between the hoods, inside to inside.
    pub hood_gap_mm: Known<f64>,
    /// Across the ends, centre to centre, as the bar's own figures give it.
    pub end_width_mm: Known<f64>,
}

impl Front {
    /// The hood on a side.
    pub fn hood(&self, side: Side) -> &Known<Hood> {
        if side == Side::Right { &self.hood_right } else { &self.hood_left }
    }
}

/// Works out the cockpit.
pub fn front(model: &Model<'_>, chassis: &Chassis) -> Front {
    let stem = stem_in_place(model);
    let bar_clamp = clamp(model, chassis, &stem);
    let curve = bar_figures(model).and_then(|figures| {
        BarCurve::from_figures(&figures).map_err(|refusal| Missing::refused(refusal_in_words(&refusal)))
    });
    let curve = curve.and_then(|curve| cut(model, &curve));
    let hood_left = one_hood(model, &bar_clamp, &curve, Side::Left);
    let hood_right = one_hood(model, &bar_clamp, &curve, Side::Right);
    let hood_gap_mm = match (&hood_left, &hood_right) {
        (Ok(left), Ok(right)) => Ok(hood_gap_mm(left, right)),
        (Err(missing), Err(other)) => Err(missing.clone().and(other)),
        (Err(missing), _) | (_, Err(missing)) => Err(missing.clone()),
    };
    let end_width_mm = match (&curve, &hood_left, &hood_right) {
        (Ok(curve), Ok(left), Ok(right)) => {
            let middle = f64::midpoint(left.clamp_arc_mm, right.clamp_arc_mm);
            Ok(curve.end_width_mm(middle))
        }
        (Err(missing), ..) | (_, Err(missing), _) | (.., Err(missing)) => Err(missing.clone()),
    };
    Front { stem, bar_clamp, curve, hood_left, hood_right, hood_gap_mm, end_width_mm }
}

/// The stem, or the stem's end of a one-piece cockpit.
pub fn stem_in_place(model: &Model<'_>) -> Known<StemInPlace> {
    if model.one_piece() {
        known!(
            length_mm = fact!(model.cockpit, stem_length_mm),
            angle_deg = fact!(model.cockpit, stem_angle_deg),
            clamp_height_mm = fact!(model.cockpit, clamp_height_mm),
        );
        return Ok(StemInPlace { length_mm, angle_deg, clamp_height_mm });
    }
    known!(
        length_mm = fact!(model.stem, length_mm),
        printed_deg = fact!(model.stem, angle_deg),
        clamp_height_mm = fact!(model.stem, clamp_height_mm),
    );
    // Not said to be flipped is a setting, not a fact: a stem goes on the way it is printed.
    let flipped = fact!(model.settings, stem_flipped).unwrap_or(false);
    Ok(StemInPlace { length_mm, angle_deg: if flipped { -printed_deg } else { printed_deg }, clamp_height_mm })
}

fn clamp(model: &Model<'_>, chassis: &Chassis, stem: &Known<StemInPlace>) -> Known<Point2> {
    known!(
        top = chassis.head_tube_top.clone(),
        head_angle_deg = chassis.head_angle_deg.clone(),
        cover_mm = fact!(model.headset, cover_height_mm),
        spacers_under_mm = fact!(model.settings, spacers_under_mm),
        stem = stem.clone(),
    );
    let stack = Stack { cover_mm, spacers_under_mm, clamp_height_mm: stem.clamp_height_mm };
    Ok(bar_clamp(top, head_angle_deg, stack, Stem { length_mm: stem.length_mm, angle_deg: stem.angle_deg }))
}

/// The bar as it will be, with what is to be cut off its ends.
fn cut(model: &Model<'_>, curve: &BarCurve) -> Known<BarCurve> {
    // A bar that stays as it is has no cut to fill in.
    let cut_mm = model.build.settings.bar_cut_mm.as_ref().map_or(0.0, |cut| cut.value);
    if cut_mm == 0.0 {
        return Ok(*curve);
    }
    curve.cut_at_end(cut_mm).ok_or_else(|| {
        Missing::refused(format!(
            "{} are to be cut off each end of the bar, and that leaves nothing of the straight run there",
            crate::finding::mm(cut_mm)
        ))
    })
}

/// The bar's figures, of the bar or of the one-piece cockpit.
pub fn bar_figures(model: &Model<'_>) -> Known<BarFigures> {
    let (path, part): (&str, Option<&dyn BarShape>) = if model.one_piece() {
        (model.cockpit.path, model.cockpit.part.map(|part| part as &dyn BarShape))
    } else {
        (model.bar.path, model.bar.part.map(|part| part as &dyn BarShape))
    };
    figures_of(path, part)
}

/// The figures of a bar's curve, from a part under a path.
pub(crate) fn figures_of(path: &str, part: Option<&dyn BarShape>) -> Known<BarFigures> {
    let get = |name: &str| {
        part.and_then(|part| part.figure(name)).ok_or_else(|| {
            let key = name.trim_end_matches("_mm").trim_end_matches("_deg");
            Missing::fact(format!("{path}.{key}"))
        })
    };
    known!(
        reach_mm = get("reach_mm"),
        drop_mm = get("drop_mm"),
        ramp_angle_deg = get("ramp_angle_deg"),
        clamp_straight_mm = get("clamp_straight_mm"),
        ramp_bend_radius_mm = get("ramp_bend_radius_mm"),
        front_bend_radius_mm = get("front_bend_radius_mm"),
        lower_bend_radius_mm = get("lower_bend_radius_mm"),
        end_length_mm = get("end_length_mm"),
        end_angle_deg = get("end_angle_deg"),
        flare_deg = get("flare_deg"),
        width_at_hoods_mm = get("width_hoods_mm"),
        tube_diameter_mm = get("tube_diameter_mm"),
    );
    Ok(BarFigures {
        reach_mm,
        drop_mm,
        ramp_angle_deg,
        clamp_straight_mm,
        ramp_bend_radius_mm,
        front_bend_radius_mm,
        lower_bend_radius_mm,
        end_length_mm,
        end_angle_deg,
        flare_deg,
        width_at_hoods_mm,
        tube_diameter_mm,
    })
}

/// The lever's body, of the lever on a side.
pub(crate) fn lever_body(model: &Model<'_>, side: Side) -> Known<LeverBody> {
    let lever = if side == Side::Right { &model.lever_right } else { &model.lever_left };
    known!(
        clamp_above_foot_mm = fact!(lever, foot_to_clamp_mm),
        trough_along_mm = fact!(lever, trough_along_mm),
        trough_out_mm = fact!(lever, trough_out_mm),
        tip_out_mm = fact!(lever, tip_out_mm),
        hood_width_mm = fact!(lever, hood_width_mm),
    );
    Ok(LeverBody { clamp_above_foot_mm, trough_along_mm, trough_out_mm, tip_out_mm, hood_width_mm })
}

fn placement(model: &Model<'_>, side: Side) -> Known<LeverPlacement> {
    let (from_end, toe_in) = if side == Side::Right {
        (fact!(model.settings, lever_from_end_right_mm), fact!(model.settings, toe_in_right_mm))
    } else {
        (fact!(model.settings, lever_from_end_left_mm), fact!(model.settings, toe_in_left_mm))
    };
    known!(from_end_mm = from_end, toe_in_mm = toe_in);
    Ok(LeverPlacement { from_end_mm, toe_in_mm })
}

fn one_hood(model: &Model<'_>, clamp: &Known<Point2>, curve: &Known<BarCurve>, side: Side) -> Known<Hood> {
    known!(
        clamp = clamp.clone(),
        curve = curve.clone(),
        roll_deg = fact!(model.settings, bar_roll_deg),
        lever = lever_body(model, side),
        placement = placement(model, side),
    );
    let hand = if side == Side::Right { Hand::Right } else { Hand::Left };
    hood(clamp, &curve, roll_deg, lever, placement, hand).ok_or_else(|| {
        Missing::refused(format!(
            "the {} lever would not sit on the bar: {} mm from its end with {} mm of toe-in",
            side.word(),
            placement.from_end_mm,
            placement.toe_in_mm
        ))
    })
}

/// Why a bar's figures do not make a bar, in words.
pub(crate) fn refusal_in_words(refusal: &witnessmark_mechanics::bar::BarRefusal) -> String {
    use crate::finding::mm;
    use witnessmark_mechanics::bar::BarRefusal;
    match refusal {
        BarRefusal::ReachTooShort { reach_mm, least_mm } => format!(
            "the bar's own figures do not close: a reach of {} is stated, and its straight and bends alone reach {}",
            mm(*reach_mm),
            mm(*least_mm)
        ),
        BarRefusal::DropTooSmall { drop_mm, least_mm } => format!(
            "the bar's own figures do not close: a drop of {} is stated, and its bends alone go {} deep",
            mm(*drop_mm),
            mm(*least_mm)
        ),
        other => format!("the bar's own figures do not close: {other:?}"),
    }
}
