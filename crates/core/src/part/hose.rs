//! Brake hose from lever to caliper.

use crate::part::BrakeFluid;

part! {
    /// The hose of one wheel's brake.
    pub struct Hose {
        brake: Choice<BrakeFluid> "The fluid it is made for.",
        diameter_mm: Length(3.0..8.0) "Outside diameter.",
        bore_mm: Length(1.0..5.0) "Inside diameter of the liner.",
        bend_radius_min_mm: Length(10.0..150.0) "Smallest bend its maker allows, to the hose's centre.",
        bending_stiffness_n_mm2: Plain(100.0..200_000.0) "Bending stiffness, newton times square millimetre, from a droop test on a length of it.",
        length_mm: Length(300.0..3500.0) "Length as sold or as it is now, face to face.",
        insertion_mm: Length(4.0..25.0) "How far it goes into the lever and into the caliper, each end.",
        lever_fitting: Text "Kind of hose end at the lever: olive and insert, or a plug-in end.",
        caliper_fitting: Text "Kind of hose end at the caliper: olive and insert, or a banjo.",
        insert: Text "Id of the insert, as the grooves or the colour on it say; inserts of other hoses leak.",
        fitting_torque_nm: Torque(1.0..15.0) "Torque its maker states for the nut at either end.",
        sleeve: Text "Foam sleeve against rattling: none, or where it sits.",
        route_mm: Length(200.0..3500.0) "A string from the lever's port to the caliper's, along its way, with the bar turned as far as it goes.",
        sleeve_length_mm: Length(0.0..3000.0) "Length of the foam sleeves over it; 0 for none.",
        inside_mm: Length(0.0..3000.0) "Length of it that runs free inside a tube.",
    }
}
