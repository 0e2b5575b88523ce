//! The gears as notches on a rule: one rule a ring, laid over each other on one scale.
//!
//! The scale is that of the way per turn of the crank, drawn so that equal distances are equal per cents: a rider sees at
//! a glance where the steps are even, where there is a hole, and which gears of two rings fall on one another. The same
//! scale is read below as speed. Places are shares of the rule's length, 0 at its left end and 1 at its right.

use crate::compute::{GearLine, Worked};

/// The scale of the rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GearScale {
    /// Metres per turn of the crank.
    Metres,
    /// Turns of the wheel per turn of the crank, where the tyre is not known.
    Turns,
}

/// A mark of a scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScaleMark {
    /// Where it stands.
    pub share: f64,
    /// The figure beside it.
    pub value: f64,
}

/// A gear on its rule.
#[derive(Clone, Debug, PartialEq)]
pub struct Notch {
    /// Place of the gear in the list of gears.
    pub gear: usize,
    /// The rule it is on: place of its ring.
    pub ring_place: usize,
    /// Where it stands.
    pub share: f64,
    /// Teeth of its sprocket.
    pub sprocket: u32,
    /// How much harder the next smaller sprocket is, per cent; none on the smallest.
    pub step_percent: Option<f64>,
    /// It is better left alone.
    pub avoid: bool,
}

/// The longest gear that the rules of the race allow this rider, as a line across the rules.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitMark {
    /// Where it stands.
    pub share: f64,
    /// Its figure, metres per turn of the crank.
    pub metres: f64,
    /// For whom it is, in the body's own word: "Youth A"; empty where it is for everybody.
    pub class: &'static str,
}

/// Two gears of different rings that do nearly the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tie {
    /// Gear of the larger ring.
    pub one: usize,
    /// Gear of the smaller ring.
    pub other: usize,
}

/// The gears of a bike on their rules.
#[derive(Clone, Debug, PartialEq)]
pub struct GearChart {
    /// What the upper scale counts.
    pub scale: GearScale,
    /// Teeth of the rings, one rule each, largest first.
    pub rings: Vec<u32>,
    /// Marks of the upper scale.
    pub marks: Vec<ScaleMark>,
    /// Marks of the lower scale, km/h at the cadence; none where the tyre is not known.
    pub speeds: Vec<ScaleMark>,
    /// The cadence of the lower scale.
    pub cadence_per_minute: f64,
    /// Every gear.
    pub notches: Vec<Notch>,
    /// Gears that fall on one another.
    pub ties: Vec<Tie>,
    /// The longest gear allowed; empty where no limit with a figure is in force or the tyre is not known.
    pub limits: Vec<LimitMark>,
}

/// Room beyond the first and the last notch, as a factor.
const MARGIN: f64 = 1.04;

/// The rule with the gears on it; nothing where the gears are not known.
pub fn gear_chart(worked: &Worked) -> Option<GearChart> {
    let transmission = &worked.transmission;
    let (gears, rings) = (transmission.gears.as_ref().ok()?, transmission.rings.as_ref().ok()?);
    let scale = if transmission.rolling.is_ok() { GearScale::Metres } else { GearScale::Turns };
    let value = |line: &GearLine| line.development_mm.map_or_else(|| line.gear.turns(), |mm| mm / 1000.0);
    let allowed: Vec<(f64, &'static str)> = transmission
        .limits
        .iter()
        .filter(|_| scale == GearScale::Metres)
        .flat_map(crate::compute::GearLimits::in_force)
        .map(|(limit, longest_mm)| (longest_mm / 1000.0, limit.ages.map_or("", |ages| ages.class)))
        .collect();
    // The rule reaches to the limit, wherever that is: that every gear is beyond it must be seen too.
    let values = || gears.iter().map(value).chain(allowed.iter().map(|(metres, _)| *metres));
    let low = values().min_by(f64::total_cmp)? / MARGIN;
    let high = values().max_by(f64::total_cmp)? * MARGIN;
    let share = |value: f64| (value / low).ln() / (high / low).ln();
    // A development of one metre is a speed of 0.06 km/h for each turn a minute.
    let kmh_per_metre = transmission.cadence_per_minute * 0.06;
    let marks = round_values(low, high, 0.5).map(|value| ScaleMark { share: share(value), value }).collect();
    let speeds = match scale {
        GearScale::Metres => round_values(low * kmh_per_metre, high * kmh_per_metre, 5.0)
            .map(|value| ScaleMark { share: share(value / kmh_per_metre), value })
            .collect(),
        GearScale::Turns => Vec::new(),
    };
    let notches = gears
        .iter()
        .enumerate()
        .map(|(gear, line)| Notch {
            gear,
            ring_place: line.ring_place,
            share: share(value(line)),
            sprocket: line.gear.sprocket,
            step_percent: line.step_percent,
            avoid: !line.avoid.is_empty(),
        })
        .collect();
    let tie = |(one, line): (usize, &GearLine)| {
        let later: Vec<Tie> =
            line.nearly.iter().filter(|other| **other > one).map(|&other| Tie { one, other }).collect();
        later
    };
    let ties = gears.iter().enumerate().flat_map(tie).collect();
    Some(GearChart {
        scale,
        rings: rings.clone(),
        marks,
        speeds,
        cadence_per_minute: transmission.cadence_per_minute,
        notches,
        ties,
        limits: allowed.into_iter().map(|(metres, class)| LimitMark { share: share(metres), metres, class }).collect(),
    })
}

/// Whole multiples of a step between two values. At most a thousand: a scale with more marks is none.
fn round_values(low: f64, high: f64, step: f64) -> impl Iterator<Item = f64> {
    let first = (low / step).ceil();
    (0..1000_u32).map(move |at| (first + f64::from(at)) * step).take_while(move |value| *value <= high)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops at what it did not expect")]

    use super::*;
    use crate::build::sample::sample;
    use crate::compute;
    use crate::model::Model;

    fn chart(change: fn(&mut crate::build::Build)) -> Option<GearChart> {
        let mut build = sample();
        change(&mut build);
        gear_chart(&compute::work_out(&Model::new(&build)))
    }

    #[test]
    fn equal_steps_are_equal_distances_and_every_notch_is_on_the_rule() {
        let chart = chart(|_| {}).unwrap();
        assert_eq!(chart.notches.len(), 24);
        let of = |ring_place: usize, sprocket: u32| {
            chart
                .notches
                .iter()
                .find(|notch| (notch.ring_place, notch.sprocket) == (ring_place, sprocket))
                .unwrap()
                .share
        };
        // 12 to 24 and 15 to 30 are both an octave, on either ring.
        for ring_place in [0, 1] {
            assert!(
                (of(ring_place, 12) - of(ring_place, 24) - (of(ring_place, 15) - of(ring_place, 30))).abs() < 1e-12
            );
        }
        let every_share = chart.notches.iter().map(|notch| notch.share);
        let shares: Vec<f64> =
            every_share.chain(chart.marks.iter().chain(&chart.speeds).map(|mark| mark.share)).collect();
        assert!(shares.iter().all(|share| (0.0..=1.0).contains(share)), "{shares:?}");
    }

    #[test]
    fn both_scales_say_the_same() {
        let chart = chart(|build| build.settings.cadence_per_minute = Some(100.0.into())).unwrap();
        // Six metres at a hundred turns a minute are 36 km/h.
        let six = chart.marks.iter().find(|mark| (mark.value - 6.0).abs() < 1e-9).unwrap();
        let thirty_five = chart.speeds.iter().find(|mark| (mark.value - 35.0).abs() < 1e-9).unwrap();
        let forty = chart.speeds.iter().find(|mark| (mark.value - 40.0).abs() < 1e-9).unwrap();
        assert!(thirty_five.share < six.share && six.share < forty.share);
        assert!((chart.cadence_per_minute - 100.0).abs() < 1e-9);
    }

    #[test]
    fn the_limit_of_a_young_rider_stands_on_the_rule_even_beyond_every_gear() {
        let young = |born: u32| {
            let mut build = sample();
            build.job.rules = Some(crate::rulebook::Rules::Uci.into());
            build.job.day = Some(jiff::civil::date(2022, 6, 1).into());
            build.rider.birth_year = Some(born.into());
            build
        };
        let chart_of = |build: &crate::build::Build| gear_chart(&compute::work_out(&Model::new(build))).unwrap();
        let mut build = young(2005);
        let limit = chart_of(&build).limits;
        assert_eq!((limit.len(), limit[0].metres, limit[0].class), (1, 7.93, "junior"));
        assert!((0.0..=1.0).contains(&limit[0].share));
        // With one small ring no gear comes near it.
        build.parts.crankset.make("").rings.as_mut().unwrap().value = vec![30];
        let chart = chart_of(&build);
        let longest = chart.notches.iter().map(|notch| notch.share).fold(0.0, f64::max);
        assert!(longest < chart.limits[0].share && chart.limits[0].share <= 1.0);
        // Nobody limits a grown rider.
        assert_eq!(chart_of(&young(1990)).limits, []);
    }

    #[test]
    fn without_a_tyre_the_rule_counts_turns_and_shows_no_speed() {
        let chart = chart(|build| build.parts.tyre.0.clear()).unwrap();
        assert_eq!(chart.scale, GearScale::Turns);
        assert!(chart.speeds.is_empty() && !chart.marks.is_empty());
    }

    #[test]
    fn without_sprockets_there_is_no_rule() {
        assert_eq!(chart(|build| build.parts.cassette.0.clear()), None);
    }
}
