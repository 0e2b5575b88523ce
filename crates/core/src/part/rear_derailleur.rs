//! Rear derailleur and its cage.

use crate::part::Shifting;

part! {
    /// A rear derailleur.
    pub struct RearDerailleur {
        mount: Text "Hanger it is made for, in the frame's own words.",
        shifting: Choice<Shifting> "What moves it.",
        ports: Count(0.0..4.0) "Ports for shift wires.",
        end_kind: Text "Kind of wire end its ports take.",
        exit: Text "Where its wire or cable leaves it.",
        speeds: Count(5.0..14.0) "Rear speeds it is made for.",
        smallest_sprocket_min: Count(8.0..20.0) "Least teeth that the smallest sprocket may have.",
        smallest_sprocket_max: Count(8.0..24.0) "Most teeth that the smallest sprocket may have.",
        largest_sprocket_min: Count(18.0..60.0) "Least teeth that the largest sprocket may have.",
        largest_sprocket_max: Count(18.0..60.0) "Most teeth that the largest sprocket may have.",
        ring_difference_max: Count(0.0..40.0) "Largest difference of the two rings.",
        capacity: Count(10.0..60.0) "Teeth it can take up: ring difference and sprocket difference together.",
        upper_wheel: Count(8.0..24.0) "Teeth of the cage's upper wheel.",
        lower_wheel: Count(8.0..30.0) "Teeth of the cage's lower wheel.",
        pivot_to_upper_mm: Length(0.0..60.0) "Cage pivot to the centre of the upper wheel.",
        pivot_to_lower_mm: Length(30.0..150.0) "Cage pivot to the centre of the lower wheel.",
        wheel_to_wheel_mm: Length(30.0..150.0) "Centre of the upper wheel to the centre of the lower wheel.",
        pivot_behind_mm: Length(-60.0..80.0) "Cage pivot behind the rear axle, level, chain on a middle sprocket.",
        pivot_below_mm: Length(20.0..150.0) "Cage pivot below the rear axle, chain on a middle sprocket.",
        pivot_behind_smallest_mm: Length(-60.0..80.0) "Cage pivot behind the rear axle, level, chain on the smallest sprocket.",
        pivot_below_smallest_mm: Length(20.0..150.0) "Cage pivot below the rear axle, chain on the smallest sprocket.",
        pivot_behind_largest_mm: Length(-60.0..80.0) "Cage pivot behind the rear axle, level, chain on the largest sprocket.",
        pivot_below_largest_mm: Length(20.0..180.0) "Cage pivot below the rear axle, chain on the largest sprocket.",
        upper_wheel_ahead: YesNo "With the cage hanging straight down, the upper wheel's centre lies ahead of the pivot.",
        cage_forward_deg: Angle(-120.0..60.0) "Farthest the cage swings forward, pivot to lower wheel; 0 points ahead and -90 straight down.",
        cage_rear_deg: Angle(-270.0..-90.0) "Farthest the cage swings back, pivot to lower wheel; -180 points straight back.",
        oversize_cage: YesNo "The cage is not its maker's own but one with larger wheels; its chain and capacity figures are the cage maker's.",
        own_upper_wheel: Count(8.0..24.0) "Where another cage is fitted: teeth of the upper wheel of its maker's own cage.",
        own_lower_wheel: Count(8.0..30.0) "Where another cage is fitted: teeth of the lower wheel of its maker's own cage.",
        own_pivot_to_upper_mm: Length(0.0..60.0) "Where another cage is fitted: pivot to the upper wheel of its maker's own cage.",
        own_pivot_to_lower_mm: Length(30.0..150.0) "Where another cage is fitted: pivot to the lower wheel of its maker's own cage.",
        own_wheel_to_wheel_mm: Length(30.0..150.0) "Where another cage is fitted: wheel to wheel of its maker's own cage.",
        wheel_gap_mm: Length(1.0..30.0) "Gap its maker wants between upper wheel and largest sprocket.",
        mount_torque_nm: Torque(1.0..20.0) "Torque its maker states at the hanger.",
        family: Text "Family and generation of the shifting it belongs to.",
    }
}
