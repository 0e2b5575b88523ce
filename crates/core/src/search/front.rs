//! Every way to the asked hoods: stems, spacers, bars or one-piece cockpits, rolls, lever places and toe-ins.

use crate::compute::{Target, figures_of, head_tube_top, lever_body};
use crate::finding::{deg, figure, mm};
use crate::model::{Known, Missing, Model};
use crate::number::{self, Side};
use crate::part::{BarShape, Fitted, Part};
use crate::{fact, known};
use std::cmp::Ordering;
use witnessmark_mechanics::bar::BarCurve;
use witnessmark_mechanics::cockpit::{LeverBody, LeverPlacement, Stack, Stem, bar_clamp, hood, hood_gap_mm};
use witnessmark_mechanics::steerer::SteererStack;
use witnessmark_mechanics::{Point2, Side as Hand};

/// At most so many ways are kept; the best are among them, and the number of all is told.
pub const MOST_KEPT: usize = 20_000;

/// At most so many combinations are tried; beyond, the sets are to be narrowed.
pub const MOST_COMBINATIONS: u64 = 400_000_000;

/// The hoods may be so far off and still be shown, where the document says nothing.
const WITHIN_MM: f64 = 10.0;

/// The result of the search at the front.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FrontReach {
    /// Combinations tried.
    pub tried: u64,
    /// Combinations within the limit.
    pub within: u64,
    /// The limit, mm.
    pub within_mm: f64,
    /// The ways, best first; at most [`MOST_KEPT`].
    pub ways: Vec<FrontWay>,
    /// The nearest miss of the ways kept, mm; of all combinations where none comes within the limit.
    pub nearest_mm: Option<f64>,
    /// Why there was nothing to search.
    pub missing: Option<Missing>,
}

/// One combination.
#[derive(Clone, Debug, PartialEq)]
pub struct FrontWay {
    /// The path of the stem, or of the one-piece cockpit.
    pub stem: String,
    /// The stem goes the other way up than printed.
    pub flipped: bool,
    /// The path of the bar; the same as `stem` for a one-piece cockpit.
    pub bar: String,
    /// Spacers under the stem.
    pub spacers_under_mm: f64,
    /// Bar roll.
    pub bar_roll_deg: f64,
    /// Lever place.
    pub lever_from_end_mm: f64,
    /// Toe-in.
    pub toe_in_mm: f64,
    /// Centre of the bar in its clamp.
    pub clamp: Point2,
    /// The further of the two hoods less where it is asked to be.
    pub off: Point2,
    /// The same as a distance.
    pub miss_mm: f64,
    /// Hood gap, inside to inside.
    pub hood_gap_mm: f64,
    /// What is given up, in words; empty when nothing is.
    pub sacrifices: Vec<String>,
}

/// A place for the bar's clamp.
#[allow(clippy::struct_field_names, reason = "the place of the clamp is what the struct is about")]
struct Clamp {
    stem: String,
    flipped: bool,
    spacers_under_mm: f64,
    clamp: Point2,
    new_part: bool,
    price: f64,
    breaks: Vec<String>,
}

/// A place for the hoods, from the bar's clamp.
struct Hands {
    bar: String,
    roll_deg: f64,
    from_end_mm: f64,
    toe_in_mm: f64,
    left: Point2,
    right: Point2,
    gap_mm: f64,
    new_part: bool,
    price: f64,
}

impl Clamp {
    /// Where the hoods are wanted, from this clamp.
    fn wanted_from_it(&self, left: Point2, right: Point2) -> [f64; 4] {
        let (left, right) = (left - self.clamp, right - self.clamp);
        [left.x_mm, left.y_mm, right.x_mm, right.y_mm]
    }
}

impl Hands {
    /// The two hoods, side by side for the inner loop.
    fn place(&self) -> [f64; 4] {
        [self.left.x_mm, self.left.y_mm, self.right.x_mm, self.right.y_mm]
    }
}

/// Clamps and hands that go together: every stem with every bar, and each one-piece cockpit with itself.
#[derive(Default)]
struct Family {
    clamps: Vec<Clamp>,
    hands: Vec<Hands>,
}

/// Everything the search needs, found once.
struct Field<'a> {
    model: &'a Model<'a>,
    top: Point2,
    head_angle_deg: f64,
    cover_mm: f64,
    levers: [LeverBody; 2],
    spacers: Vec<f64>,
    rolls: Vec<f64>,
    from_ends: Vec<f64>,
    toe_ins: Vec<f64>,
}

/// Every way to the asked hoods, best first.
pub fn front_ways(model: &Model<'_>, target: &Target) -> FrontReach {
    let within_mm = model.build.search.within_mm.as_ref().map_or(WITHIN_MM, |given| given.value);
    let nothing = |missing: Missing| FrontReach { within_mm, missing: Some(missing), ..FrontReach::default() };
    let (Some(left), Some(right)) = (target.hood_left, target.hood_right) else {
        return nothing(Missing::refused("nobody has asked where the hoods are to be, or the figures do not say"));
    };
    let families = match Field::new(model).and_then(|field| families(&field)) {
        Ok(families) => families,
        Err(missing) => return nothing(missing),
    };
    let tried: u64 = families.iter().map(|family| family.clamps.len() as u64 * family.hands.len() as u64).sum();
    if tried > MOST_COMBINATIONS {
        return nothing(Missing::refused(format!(
            "{tried} combinations are more than the {MOST_COMBINATIONS} that are tried: narrow the shelf or the search"
        )));
    }
    let limits = Limits { within_mm, tolerance_mm: tolerance_mm(model) };
    let (hits, within) = enumerate(&families, left, right, limits);
    let nearest_mm = match hits.iter().map(|hit| hit.miss_sq).reduce(f64::min) {
        Some(nearest_sq) => Some(nearest_sq.sqrt()),
        None => nearest_mm(&families, left, right),
    };
    let ways = hits.iter().take(MOST_KEPT).map(|hit| describe(model, target, &families, hit)).collect();
    FrontReach { tried, within, within_mm, ways, nearest_mm, missing: None }
}

impl<'a> Field<'a> {
    fn new(model: &'a Model<'a>) -> Known<Self> {
        let build = model.build;
        known!(
            top = head_tube_top(model),
            head_angle_deg = fact!(model.frame, head_angle_deg),
            cover_mm = fact!(model.headset, cover_height_mm),
            left = lever_body(model, Side::Left),
            right = lever_body(model, Side::Right),
            spacers = spacer_heights(model),
            rolls = tried(build.search.bar_roll_deg.as_ref(), fact!(model.settings, bar_roll_deg)),
            from_ends = tried(build.search.lever_from_end_mm.as_ref(), fact!(model.settings, lever_from_end_left_mm)),
            toe_ins = tried(build.search.toe_in_mm.as_ref(), fact!(model.settings, toe_in_left_mm)),
        );
        Ok(Field { model, top, head_angle_deg, cover_mm, levers: [left, right], spacers, rolls, from_ends, toe_ins })
    }
}

/// The list to try, or the one value that is set.
fn tried(list: Option<&crate::field::Given<Vec<f64>>>, set: Known<f64>) -> Known<Vec<f64>> {
    match list {
        Some(list) => Ok(list.value.clone()),
        None => set.map(|value| vec![value]),
    }
}

/// Heights that can be made up: as the search says; or every sum of spacers at hand; or as set.
fn spacer_heights(model: &Model<'_>) -> Known<Vec<f64>> {
    let build = model.build;
    if let Some(list) = &build.search.spacers_under_mm {
        return Ok(list.value.clone());
    }
    let at_hand = build.parts.spacer.0.values().chain(build.shelf.spacer.0.values());
    let heights: Vec<f64> = at_hand.filter_map(|spacer| spacer.height_mm.as_ref().map(|given| given.value)).collect();
    if heights.is_empty() {
        return fact!(model.settings, spacers_under_mm).map(|set| vec![set]);
    }
    // A tenth of a millimetre tells two stacks apart; sums that agree to it are one height.
    let mut sums = std::collections::BTreeSet::from([0_i64]);
    for height in heights.iter().take(12) {
        #[allow(clippy::cast_possible_truncation, reason = "a spacer has at most some hundred tenths of a millimetre")]
        let tenths = (height * 10.0).round() as i64;
        sums.extend(sums.clone().into_iter().map(|sum| sum + tenths));
    }
    #[allow(clippy::cast_precision_loss, reason = "some hundred tenths of a millimetre")]
    Ok(sums.into_iter().map(|sum| sum as f64 / 10.0).collect())
}

/// The parts of a kind, fitted and on the shelf, with their paths and whether they would be new on this bike.
pub(super) fn candidates<'a, T: Part>(
    kind: &str,
    fitted: &'a Fitted<T>,
    shelf: &'a Fitted<T>,
) -> Vec<(String, &'a T, bool)> {
    let on_bike = fitted.at("").map(|part| (format!("parts.{kind}"), part, false));
    let beside = shelf.0.iter().map(|(name, part)| (format!("shelf.{kind}.{name}"), part, true));
    on_bike.into_iter().chain(beside).collect()
}

fn families(field: &Field<'_>) -> Known<Vec<Family>> {
    let build = field.model.build;
    let mut all = Vec::new();
    let mut missing = Missing::default();
    let mut two_piece = Family::default();
    for (path, stem, new) in candidates("stem", &build.parts.stem, &build.shelf.stem) {
        let place = crate::model::Place { path: "", part: Some(stem) };
        let facts = (fact!(place, length_mm), fact!(place, angle_deg), fact!(place, clamp_height_mm));
        let (Ok(length_mm), Ok(printed_deg), Ok(clamp_height_mm)) = facts else {
            missing = missing.and(&Missing::fact(format!("{path}.length")));
            continue;
        };
        let flips: &[bool] = if fact!(place, reversible).unwrap_or(false) { &[false, true] } else { &[false] };
        let price = price_of(stem, new);
        for flipped in flips {
            let angle_deg = if *flipped { -printed_deg } else { printed_deg };
            two_piece.clamps.extend(clamps(
                field,
                &path,
                Stem { length_mm, angle_deg },
                *flipped,
                clamp_height_mm,
                new,
                price,
                None,
            ));
        }
    }
    for (path, bar, new) in candidates("bar", &build.parts.bar, &build.shelf.bar) {
        match figures_of(&path, Some(bar as &dyn BarShape)) {
            Ok(figures) => two_piece.hands.extend(hands(field, &path, &figures, new, price_of(bar, new))),
            Err(more) => missing = missing.and(&more),
        }
    }
    if !two_piece.clamps.is_empty() && !two_piece.hands.is_empty() {
        all.push(two_piece);
    }
    for (path, cockpit, new) in candidates("cockpit", &build.parts.cockpit, &build.shelf.cockpit) {
        let place = crate::model::Place { path: "", part: Some(cockpit) };
        let facts = (fact!(place, stem_length_mm), fact!(place, stem_angle_deg), fact!(place, clamp_height_mm));
        let (Ok(length_mm), Ok(angle_deg), Ok(clamp_height_mm)) = facts else {
            missing = missing.and(&Missing::fact(format!("{path}.stem_length")));
            continue;
        };
        match figures_of(&path, Some(cockpit as &dyn BarShape)) {
            Ok(figures) => {
                let price = price_of(cockpit, new);
                let most = fact!(place, spacers_max_mm).ok();
                all.push(Family {
                    clamps: clamps(
                        field,
                        &path,
                        Stem { length_mm, angle_deg },
                        false,
                        clamp_height_mm,
                        new,
                        price,
                        most,
                    ),
                    // The part is counted once, at its clamp.
                    hands: hands(field, &path, &figures, false, 0.0),
                });
            }
            Err(more) => missing = missing.and(&more),
        }
    }
    if all.is_empty() {
        if missing.paths.is_empty() {
            missing = Missing::fact("parts.stem.length").and(&Missing::fact("parts.bar.reach"));
        }
        return Err(missing);
    }
    Ok(all)
}

/// What a part costs that is not on the bike yet; nothing where its price is not known.
fn price_of(part: &impl Part, new: bool) -> f64 {
    if new { part.number("price").unwrap_or(0.0) } else { 0.0 }
}

#[allow(clippy::too_many_arguments, reason = "one stem's facts, taken apart by its two callers")]
fn clamps(
    field: &Field<'_>,
    path: &str,
    stem: Stem,
    flipped: bool,
    clamp_height_mm: f64,
    new_part: bool,
    price: f64,
    spacers_max_mm: Option<f64>,
) -> Vec<Clamp> {
    field
        .spacers
        .iter()
        .map(|spacers_under_mm| {
            let stack = Stack { cover_mm: field.cover_mm, spacers_under_mm: *spacers_under_mm, clamp_height_mm };
            Clamp {
                stem: path.to_owned(),
                flipped,
                spacers_under_mm: *spacers_under_mm,
                clamp: bar_clamp(field.top, field.head_angle_deg, stack, stem),
                new_part,
                price,
                breaks: breaks(field, *spacers_under_mm, clamp_height_mm, spacers_max_mm),
            }
        })
        .collect()
}

/// The limits that a stack breaks, in words. A limit nobody knows is broken by nothing here; the checks ask for it.
fn breaks(field: &Field<'_>, under_mm: f64, clamp_height_mm: f64, cockpit_max_mm: Option<f64>) -> Vec<String> {
    let model = field.model;
    let mut all = Vec::new();
    let counts_cover = fact!(model.fork, spacers_max_counts_cover).unwrap_or(false);
    let stacked = if counts_cover { under_mm + field.cover_mm } else { under_mm };
    if let Some(most) = fact!(model.fork, spacers_max_mm).ok().filter(|most| stacked > *most) {
        all.push(format!("{} of spacers over the fork's {}", mm(stacked - most), mm(most)));
    }
    if let Some(most) = cockpit_max_mm.filter(|most| under_mm > *most) {
        all.push(format!("{} of spacers over the cockpit's {}", mm(under_mm - most), mm(most)));
    }
    let facts =
        (fact!(model.headset, lower_stack_mm), fact!(model.frame, head_tube_mm), fact!(model.fork, steerer_uncut_mm));
    if let (Ok(lower_stack_mm), Ok(head_tube_mm), Ok(steerer_mm)) = facts {
        let stack = SteererStack {
            lower_stack_mm,
            head_tube_mm,
            cover_mm: field.cover_mm,
            spacers_under_mm: under_mm,
            clamp_height_mm,
            spacers_over_mm: fact!(model.settings, spacers_over_mm).unwrap_or(0.0),
            gap_mm: fact!(model.settings, set_down_mm).unwrap_or(0.0),
        };
        let short = stack.cut_length_mm() - steerer_mm;
        if short > 0.0 {
            all.push(format!("the steerer is {} too short", mm(short)));
        }
    }
    all
}

fn hands(
    field: &Field<'_>,
    path: &str,
    figures: &witnessmark_mechanics::bar::BarFigures,
    new_part: bool,
    price: f64,
) -> Vec<Hands> {
    let Ok(curve) = BarCurve::from_figures(figures) else { return Vec::new() };
    // What is to be cut is cut off the bar that is fitted; another comes whole.
    let cut_mm = if path.starts_with("parts.") {
        field.model.build.settings.bar_cut_mm.as_ref().map_or(0.0, |cut| cut.value)
    } else {
        0.0
    };
    let Some(curve) = (if cut_mm > 0.0 { curve.cut_at_end(cut_mm) } else { Some(curve) }) else { return Vec::new() };
    let origin = Point2 { x_mm: 0.0, y_mm: 0.0 };
    let mut all = Vec::new();
    for roll_deg in &field.rolls {
        for from_end_mm in &field.from_ends {
            for toe_in_mm in &field.toe_ins {
                let placement = LeverPlacement { from_end_mm: *from_end_mm, toe_in_mm: *toe_in_mm };
                let one = |lever, hand| hood(origin, &curve, *roll_deg, lever, placement, hand);
                let pair = (one(field.levers[0], Hand::Left), one(field.levers[1], Hand::Right));
                let (Some(left), Some(right)) = pair else { continue };
                all.push(Hands {
                    bar: path.to_owned(),
                    roll_deg: *roll_deg,
                    from_end_mm: *from_end_mm,
                    toe_in_mm: *toe_in_mm,
                    left: Point2 { x_mm: left.trough.x_mm, y_mm: left.trough.y_mm },
                    right: Point2 { x_mm: right.trough.x_mm, y_mm: right.trough.y_mm },
                    gap_mm: hood_gap_mm(&left, &right),
                    new_part,
                    price,
                });
            }
        }
    }
    all
}

/// A combination within the limit, with what it is ranked by.
#[derive(Clone, Copy)]
struct Hit {
    family: u32,
    clamp: u32,
    hands: u32,
    miss_sq: f64,
    rank: Rank,
}

/// Best first: what breaks no limit; what reaches within tolerance, and after that what comes nearest; what uses parts
/// already on the bike; the cheaper; the lower stack; the smaller roll. Near-ties are the rule at the front of a bike, so
/// within a tenth of a millimetre beyond the tolerance the later reasons decide.
#[derive(Clone, Copy, PartialEq)]
struct Rank {
    broken: u32,
    beyond_tenths: u32,
    new_parts: u32,
    price: f64,
    spacers_under_mm: f64,
    roll_deg: f64,
    miss_sq: f64,
}

impl Rank {
    fn order(&self, other: &Self) -> Ordering {
        self.broken
            .cmp(&other.broken)
            .then(self.beyond_tenths.cmp(&other.beyond_tenths))
            .then(self.new_parts.cmp(&other.new_parts))
            .then(self.price.total_cmp(&other.price))
            .then(self.spacers_under_mm.total_cmp(&other.spacers_under_mm))
            .then(self.roll_deg.total_cmp(&other.roll_deg))
            .then(self.miss_sq.total_cmp(&other.miss_sq))
    }
}

/// How far off a hood may be: to be shown, and to count as reached.
#[derive(Clone, Copy)]
struct Limits {
    within_mm: f64,
    tolerance_mm: f64,
}

/// The closest tolerance that anybody set for a hood, or the customary one.
fn tolerance_mm(model: &Model<'_>) -> f64 {
    [&number::HOOD_X, &number::HOOD_Y]
        .into_iter()
        .flat_map(|number| [Side::Left, Side::Right].map(|side| model.build.asked_of(number, side)))
        .filter_map(|asked| asked?.tolerance.as_ref().map(|given| given.value))
        .reduce(f64::min)
        .unwrap_or(number::HOOD_X.tolerance.value)
}

/// Every combination within the limit: the hits best first, and how many there are.
fn enumerate(families: &[Family], left: Point2, right: Point2, limits: Limits) -> (Vec<Hit>, u64) {
    let Limits { within_mm, tolerance_mm: tolerance } = limits;
    let limit_sq = within_mm * within_mm;
    let mut hits: Vec<Hit> = Vec::new();
    let mut within = 0;
    for (family_at, family) in (0_u32..).zip(families) {
        // The hands in the order of how far forward they reach: for each clamp, only those whose left hood comes within the
        // limit forward or back can be near at all, and they stand together.
        let mut order: Vec<u32> = (0..).take(family.hands.len()).collect();
        order.sort_by(|a, b| family.hands[*a as usize].left.x_mm.total_cmp(&family.hands[*b as usize].left.x_mm));
        let places: Vec<[f64; 4]> = order.iter().map(|at| family.hands[*at as usize].place()).collect();
        for (clamp_at, clamp) in (0_u32..).zip(&family.clamps) {
            let wanted = clamp.wanted_from_it(left, right);
            let first = places.partition_point(|place| place[0] < wanted[0] - within_mm);
            let end = places.partition_point(|place| place[0] <= wanted[0] + within_mm);
            for (place, hands_at) in places[first..end].iter().zip(&order[first..end]) {
                let miss_sq = miss_sq(place, &wanted);
                if miss_sq <= limit_sq {
                    within += 1;
                    let hands = &family.hands[*hands_at as usize];
                    hits.push(hit(family_at, clamp_at, *hands_at, clamp, hands, miss_sq, tolerance));
                    if hits.len() >= 8 * MOST_KEPT {
                        keep_best(&mut hits);
                    }
                }
            }
        }
    }
    keep_best(&mut hits);
    (hits, within)
}

/// The square of the further hood's miss.
fn miss_sq(place: &[f64; 4], wanted: &[f64; 4]) -> f64 {
    let [lx, ly, rx, ry] = [0, 1, 2, 3].map(|at| place[at] - wanted[at]);
    (lx * lx + ly * ly).max(rx * rx + ry * ry)
}

/// The nearest miss of all combinations: worked out only where none comes within the limit.
fn nearest_mm(families: &[Family], left: Point2, right: Point2) -> Option<f64> {
    families
        .iter()
        .flat_map(|family| family.clamps.iter().map(move |clamp| (family, clamp.wanted_from_it(left, right))))
        .flat_map(|(family, wanted)| family.hands.iter().map(move |hands| miss_sq(&hands.place(), &wanted)))
        .reduce(f64::min)
        .map(f64::sqrt)
}

fn hit(family: u32, clamp_at: u32, hands_at: u32, clamp: &Clamp, hands: &Hands, miss_sq: f64, tolerance: f64) -> Hit {
    let beyond = (miss_sq.sqrt() - tolerance).max(0.0);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a miss of some hundred millimetres")]
    let beyond_tenths = (beyond * 10.0).ceil() as u32;
    #[allow(clippy::cast_possible_truncation, reason = "three limits at most")]
    let broken = clamp.breaks.len() as u32;
    let rank = Rank {
        broken,
        beyond_tenths,
        new_parts: u32::from(clamp.new_part) + u32::from(hands.new_part),
        price: clamp.price + hands.price,
        spacers_under_mm: clamp.spacers_under_mm,
        roll_deg: hands.roll_deg.abs(),
        miss_sq,
    };
    Hit { family, clamp: clamp_at, hands: hands_at, miss_sq, rank }
}

fn keep_best(hits: &mut Vec<Hit>) {
    hits.sort_by(|a, b| {
        a.rank.order(&b.rank).then(a.family.cmp(&b.family)).then(a.clamp.cmp(&b.clamp)).then(a.hands.cmp(&b.hands))
    });
    hits.truncate(MOST_KEPT);
}

fn describe(model: &Model<'_>, target: &Target, families: &[Family], hit: &Hit) -> FrontWay {
    let family = &families[hit.family as usize];
    let clamp = &family.clamps[hit.clamp as usize];
    let hands = &family.hands[hit.hands as usize];
    let off_from = |asked: Option<Point2>, from_clamp: Point2| {
        let asked = asked.unwrap_or(Point2::at(0.0, 0.0));
        Point2 {
            x_mm: clamp.clamp.x_mm + from_clamp.x_mm - asked.x_mm,
            y_mm: clamp.clamp.y_mm + from_clamp.y_mm - asked.y_mm,
        }
    };
    let (left, right) = (off_from(target.hood_left, hands.left), off_from(target.hood_right, hands.right));
    let off = if left.length_mm() >= right.length_mm() { left } else { right };
    let mut sacrifices = clamp.breaks.clone();
    let tolerance = tolerance_mm(model);
    if off.x_mm.abs() > tolerance {
        let way = if off.x_mm > 0.0 { "further" } else { "nearer" };
        sacrifices.push(format!("hoods {} {way}", mm(off.x_mm.abs())));
    }
    if off.y_mm.abs() > tolerance {
        let way = if off.y_mm > 0.0 { "higher" } else { "lower" };
        sacrifices.push(format!("hoods {} {way}", mm(off.y_mm.abs())));
    }
    if let Some(asked) = target.values.get(&(number::HOOD_GAP.id, Side::None)) {
        let more = hands.gap_mm - asked.value;
        if more.abs() > number::HOOD_GAP.tolerance.value {
            let way = if more > 0.0 { "wider" } else { "narrower" };
            sacrifices.push(format!("hood gap {} {way}", mm(more.abs())));
        }
    }
    if hands.roll_deg != 0.0 {
        sacrifices.push(format!("bar rolled {}", deg(hands.roll_deg)));
    }
    for (new, path) in [(clamp.new_part, &clamp.stem), (hands.new_part, &hands.bar)] {
        if new {
            sacrifices.push(format!("get the {}", super::shelf_part(path)));
        }
    }
    if clamp.price + hands.price > 0.0 {
        sacrifices.push(format!("pay {}", figure(clamp.price + hands.price, 2)));
    }
    FrontWay {
        stem: clamp.stem.clone(),
        flipped: clamp.flipped,
        bar: hands.bar.clone(),
        spacers_under_mm: clamp.spacers_under_mm,
        bar_roll_deg: hands.roll_deg,
        lever_from_end_mm: hands.from_end_mm,
        toe_in_mm: hands.toe_in_mm,
        clamp: clamp.clamp,
        off,
        miss_mm: hit.miss_sq.sqrt(),
        hood_gap_mm: hands.gap_mm,
        sacrifices,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test stops where it fails")]
mod tests {
    use super::*;
    use crate::build::Build;
    use crate::build::sample::sample;
    use crate::compute;
    use crate::field::{Given, Value};
    use crate::number::HOOD_X;
    use crate::number::HOOD_Y;

    #[allow(clippy::unnecessary_wraps, reason = "it fills fields of the document, which may be empty")]
    fn list(values: &[f64]) -> Option<Given<Vec<f64>>> {
        Some(Given { value: values.to_vec(), typed: String::new(), origin: None })
    }

    fn searched() -> Build {
        let mut build = sample();
        build.search.spacers_under_mm = list(&[0.0, 5.0, 10.0, 15.0, 20.0, 25.0]);
        build.search.bar_roll_deg = list(&[-4.0, -2.0, 0.0, 2.0, 4.0]);
        build.search.lever_from_end_mm = list(&[186.0, 191.0, 196.0, 201.0]);
        build.search.toe_in_mm = list(&[0.0, 6.0]);
        build.search.within_mm = Some(12.0.into());
        for (name, length) in [("short", 100.0), ("long", 120.0)] {
            let mut stem = build.parts.stem.at("").unwrap().clone();
            stem.length_mm = Some(length.into());
            build.shelf.stem.0.insert(name.into(), stem);
        }
        build
    }

    /// The settings of a way put into the document, and the whole plan worked out again: another road to the same place.
    fn replayed(build: &Build, way: &FrontWay) -> f64 {
        let mut build = build.clone();
        if let Some(name) = way.stem.strip_prefix("shelf.stem.") {
            let stem = build.shelf.stem.at(name).unwrap().clone();
            build.parts.stem.0.insert(String::new(), stem);
        }
        let mut put = |path: &str, value: Value| {
            build.set(path, Some(Given { value, typed: String::new(), origin: None })).unwrap();
        };
        put("settings.stem_flipped", Value::YesNo(way.flipped));
        put("settings.spacers_under", Value::Number(way.spacers_under_mm));
        put("settings.bar_roll", Value::Number(way.bar_roll_deg));
        for side in ["left", "right"] {
            put(&format!("settings.lever_from_end_{side}"), Value::Number(way.lever_from_end_mm));
            put(&format!("settings.toe_in_{side}"), Value::Number(way.toe_in_mm));
        }
        let model = Model::new(&build);
        let worked = compute::work_out(&model);
        let asked = worked.target.hood_left.unwrap();
        let trough = worked.front.hood_left.unwrap().trough;
        (trough.x_mm - asked.x_mm).hypot(trough.y_mm - asked.y_mm)
    }

    #[test]
    fn every_way_leads_where_it_says_when_the_whole_plan_is_worked_out_again() {
        let build = searched();
        let model = Model::new(&build);
        let found = front_ways(&model, &compute::target(&model));
        assert!(found.within > 20, "{}", found.within);
        assert_eq!(found.within, found.ways.len() as u64);
        for way in &found.ways {
            assert!((replayed(&build, way) - way.miss_mm).abs() < 1e-9, "{way:?}");
        }
    }

    #[test]
    fn none_is_missed_against_plain_loops_over_the_whole_plan() {
        let build = searched();
        let model = Model::new(&build);
        let found = front_ways(&model, &compute::target(&model));
        let mut tried = 0;
        let mut within = 0;
        for stem in ["parts.stem", "shelf.stem.short", "shelf.stem.long"] {
            for flipped in [false, true] {
                for spacers_under_mm in [0.0, 5.0, 10.0, 15.0, 20.0, 25.0] {
                    for bar_roll_deg in [-4.0, -2.0, 0.0, 2.0, 4.0] {
                        for lever_from_end_mm in [186.0, 191.0, 196.0, 201.0] {
                            for toe_in_mm in [0.0, 6.0] {
                                let way = FrontWay {
                                    stem: stem.into(),
                                    flipped,
                                    bar: "parts.bar".into(),
                                    spacers_under_mm,
                                    bar_roll_deg,
                                    lever_from_end_mm,
                                    toe_in_mm,
                                    clamp: Point2::at(0.0, 0.0),
                                    off: Point2::at(0.0, 0.0),
                                    miss_mm: 0.0,
                                    hood_gap_mm: 0.0,
                                    sacrifices: Vec::new(),
                                };
                                tried += 1;
                                within += u64::from(replayed(&build, &way) <= 12.0);
                            }
                        }
                    }
                }
            }
        }
        assert_eq!((found.tried, found.within), (tried, within));
    }

    #[test]
    fn the_best_way_breaks_no_limit_and_is_on_the_bike_already() {
        let build = searched();
        let model = Model::new(&build);
        let found = front_ways(&model, &compute::target(&model));
        let best = &found.ways[0];
        assert_eq!((best.stem.as_str(), best.sacrifices.len()), ("parts.stem", 0), "{best:?}");
        assert!(best.miss_mm <= HOOD_X.tolerance.value && best.miss_mm <= HOOD_Y.tolerance.value);
    }

    #[test]
    fn spacers_at_hand_make_every_sum_when_no_heights_are_listed() {
        let mut build = sample();
        build.search = crate::build::Search::default();
        let model = Model::new(&build);
        assert_eq!(spacer_heights(&model).unwrap(), [0.0, 5.0, 10.0, 15.0, 20.0]);
    }

    #[test]
    fn a_build_that_asks_for_nothing_says_so() {
        let build = Build::default();
        let model = Model::new(&build);
        let found = front_ways(&model, &compute::target(&model));
        assert!(found.missing.is_some() && found.ways.is_empty());
    }
}
