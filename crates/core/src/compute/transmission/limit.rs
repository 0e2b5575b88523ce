//! What the race's rules ask of the longest gear, for each gear of the bike: the same dated rule book that the checks of
//! the race ask, on the same day, for a rider of the same age.

use crate::model::{Known, Missing, Model};
use crate::number::DEVELOPMENT_LONGEST;
use crate::rulebook::{Asks, Limit, Reading, Rules, Status, Verdict};
use jiff::civil::Date;

/// What a rule book asks of the longest gear on the day of the race.
#[derive(Clone, Debug, PartialEq)]
pub struct GearLimits {
    /// Under whose rules.
    pub rules: Rules,
    /// On which day.
    pub day: Date,
    /// The age that the rider reaches in the year of the race, where known.
    pub age: Option<i16>,
    /// Every limit of the longest gear that covers the day and is for the rider: figures, those whose figure was not
    /// found, and the knowledge that there is none. Not all of them need be in force.
    pub limits: Vec<&'static Limit>,
    /// Limits that would count if the rider's age allowed: nobody said when the rider was born.
    pub depend_on_age: Vec<&'static Limit>,
}

impl GearLimits {
    /// What the job's rules ask on the job's day.
    pub(super) fn of(model: &Model<'_>) -> Known<Self> {
        let job = &model.build.job;
        let mut missing = Missing::default();
        if job.rules.is_none() {
            missing = missing.and(&Missing::fact("job.rules"));
        }
        if job.day.is_none() {
            missing = missing.and(&Missing::fact("job.day"));
        }
        let Some((rules, day)) = job.rules.as_ref().zip(job.day.as_ref()) else { return Err(missing) };
        let (rules, day) = (rules.value, day.value);
        let born = model.build.rider.birth_year.as_ref().and_then(|year| i16::try_from(year.value).ok());
        let age = born.map(|born| day.year() - born);
        let asked = model.rules.on(rules, day, age);
        let of_number = |limit: &&'static Limit| limit.number == Some(DEVELOPMENT_LONGEST.id);
        Ok(GearLimits {
            rules,
            day,
            age,
            limits: asked.limits.into_iter().filter(of_number).collect(),
            depend_on_age: asked
                .depend_on_age
                .into_iter()
                .filter(of_number)
                .filter(|limit| limit.asks != Asks::Nothing)
                .collect(),
        })
    }

    /// Limits with a figure that are in force: the limit, and the longest way in a turn of the crank that it allows.
    pub fn in_force(&self) -> impl Iterator<Item = (&'static Limit, f64)> {
        let in_force = self.limits.iter().copied().filter(|limit| limit.status == Status::InForce);
        in_force.filter_map(|limit| match limit.asks {
            Asks::Within(range) if range.high.is_finite() => Some((limit, range.high)),
            _ => None,
        })
    }

    /// What the limits in force say about a gear; none where none has a figure.
    ///
    /// A way that is worked out is doubted by no less than the number's own tolerance, as the check of the race doubts it.
    pub fn verdict(&self, development_mm: f64, plus_minus_mm: f64) -> Option<Verdict> {
        let reading =
            Reading { value: development_mm, plus_minus: plus_minus_mm.max(DEVELOPMENT_LONGEST.tolerance.value) };
        self.in_force().filter_map(|(limit, _)| limit.verdict(reading)).max()
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test stops at what it did not expect")]

    use super::super::{Avoid, Transmission};
    use super::*;
    use crate::build::sample::sample;
    use crate::compute;
    use jiff::civil::date;

    /// The sample's transmission for a rider of this year under these rules.
    fn raced(rules: Rules, day: Date, born: Option<u32>) -> Transmission {
        let mut build = sample();
        build.job.rules = Some(rules.into());
        build.job.day = Some(day.into());
        build.rider.birth_year = born.map(Into::into);
        compute::work_out(&Model::new(&build)).transmission
    }

    #[test]
    fn every_gear_of_a_junior_is_held_against_the_limit_of_the_day() {
        // The last season with a limit for juniors: 7.93 m.
        let worked = raced(Rules::Uci, date(2022, 6, 1), Some(2005));
        let limits = worked.limits.as_ref().unwrap();
        assert_eq!(limits.in_force().map(|(limit, mm)| (limit.article, mm)).collect::<Vec<_>>(), [("2.2.023", 7930.0)]);
        let (mut over, mut under) = (0, 0);
        for line in worked.gears.as_ref().unwrap() {
            let development_mm = line.development_mm.unwrap();
            let said = line.limit.unwrap();
            if development_mm > 8010.0 {
                assert_eq!((said, line.avoid.contains(&Avoid::OverLimit)), (Verdict::Outside, true), "{line:?}");
                over += 1;
            } else if development_mm < 7850.0 {
                assert_eq!((said, line.avoid.contains(&Avoid::OverLimit)), (Verdict::Inside, false), "{line:?}");
                under += 1;
            } else {
                assert_eq!(said, Verdict::TooClose, "{line:?}");
            }
        }
        assert!(over > 0 && under > 0, "{over} over, {under} under");
    }

    #[test]
    fn the_season_after_there_is_none_and_that_is_known() {
        let worked = raced(Rules::Uci, date(2023, 6, 1), Some(2006));
        let limits = worked.limits.as_ref().unwrap();
        assert_eq!(limits.in_force().count(), 0);
        assert!(limits.limits.iter().any(|limit| limit.asks == Asks::Nothing));
        assert!(worked.gears.as_ref().unwrap().iter().all(|line| line.limit.is_none()));
    }

    #[test]
    fn without_an_age_it_is_said_that_it_depends_on_it_and_without_rules_what_is_missing() {
        let worked = raced(Rules::BritishCycling, date(2024, 6, 1), None);
        assert!(!worked.limits.as_ref().unwrap().depend_on_age.is_empty());
        let mut build = sample();
        build.job.rules = None;
        build.job.day = None;
        let missing = compute::work_out(&Model::new(&build)).transmission.limits.unwrap_err();
        assert_eq!(missing.to_string(), "not known: job: rules; job: day");
    }
}
