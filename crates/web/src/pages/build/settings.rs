//! Where on the walk round the bike a setting is shown.

use witnessmark_core::build::Settings;
use witnessmark_core::field::Field;
use witnessmark_core::number::Area;

/// The beginnings of settings' keys, with the area in which a mechanic turns them.
const PLACES: &[(&str, Area)] = &[
    ("spacers", Area::FrontEnd),
    ("set_down", Area::FrontEnd),
    ("expander", Area::FrontEnd),
    ("stem", Area::FrontEnd),
    ("bar", Area::Cockpit),
    ("lever", Area::Cockpit),
    ("toe_in", Area::Cockpit),
    ("tape", Area::Cockpit),
    ("computer", Area::Cockpit),
    ("hose", Area::FrameAndRouting),
    ("wire", Area::FrameAndRouting),
    ("chain", Area::Transmission),
    ("cage", Area::Transmission),
    ("tyre", Area::WheelsAndBrakes),
    ("pressure", Area::WheelsAndBrakes),
    ("rotor", Area::WheelsAndBrakes),
    ("post", Area::Saddle),
    ("rail", Area::Saddle),
    ("saddle", Area::Saddle),
];

/// The settings of an area, in the order of the document. What no row of the table knows is shown where a mechanic looks
/// last, so that nothing is ever hidden.
pub(super) fn of(area: Area) -> Vec<&'static Field> {
    Settings::FIELDS.iter().filter(|field| place_of(field) == area).collect()
}

fn place_of(field: &Field) -> Area {
    let row = PLACES.iter().find(|(start, _)| field.key().starts_with(start));
    row.map_or(Area::Finish, |(_, area)| *area)
}

#[cfg(test)]
mod tests {
    use super::super::fragment::AREAS;
    use super::*;

    #[test]
    fn every_setting_is_shown_once() {
        let shown: usize = AREAS.iter().map(|area| of(*area).len()).sum();
        assert_eq!(shown, Settings::FIELDS.len());
    }

    #[test]
    fn a_spacer_is_shown_at_the_front_end_and_the_post_at_the_saddle() {
        let keys = |area| of(area).iter().map(|field| field.key()).collect::<Vec<_>>();
        assert!(keys(Area::FrontEnd).contains(&"spacers_under"));
        assert!(keys(Area::Saddle).contains(&"post_extension"));
    }
}
