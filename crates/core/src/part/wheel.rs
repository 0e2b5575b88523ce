//! Wheel: hub, spokes and rim.

use crate::choice;
use crate::part::Material;

choice! {
    /// How a rim holds the bead of a tyre.
    pub enum RimBead {
        /// With hooks.
        Hooked = "hooked",
        /// Straight walls; only tyres approved for it, and a lower pressure.
        Hookless = "hookless",
        /// For glued tyres.
        Glued = "glued",
    }
}

choice! {
    /// How a hub carries its rotor.
    pub enum RotorMount {
        /// Splines and a lockring.
        Splined = "splined",
        /// Six bolts on a circle of 44 mm.
        SixBolt = "six bolts",
    }
}

part! {
    /// A wheel.
    pub struct Wheel {
        material: Choice<Material> "What the rim is made of.",
        axle: Text "Axle it takes, in the frame's own words, such as 12 x 142.",
        hub_spacing_mm: Length(90.0..160.0) "Across the faces that meet fork or frame.",
        freehub: Text "Id of the freehub's spline; rear wheel only.",
        bead: Choice<RimBead> "How the rim holds the tyre.",
        bead_seat_diameter_mm: Length(400.0..640.0) "Diameter of the bead seat by the standard: 622 on road bikes.",
        rim_inner_width_mm: Length(8.0..40.0) "Between the rim's walls.",
        rim_outer_width_mm: Length(12.0..50.0) "Greatest width of the rim.",
        rim_depth_mm: Length(10.0..120.0) "Depth of the rim, edge to inner rim.",
        valve_hole_mm: Length(5.0..10.0) "Diameter of the valve hole.",
        valve_bed_mm: Length(0.5..90.0) "From the rim's bed, where the valve's foot rests, to where its nut sits.",
        tyre_width_min_mm: Length(15.0..60.0) "Narrowest tyre its maker allows, as printed on the tyre.",
        tyre_width_max_mm: Length(15.0..80.0) "Widest tyre its maker allows, as printed on the tyre.",
        pressure_max_kpa: Pressure(100.0..1500.0) "Highest pressure its maker allows.",
        rotor_mount: Choice<RotorMount> "How its hub carries the rotor.",
        rotor_from_face_mm: Length(2.0..40.0) "Face of the hub's end cap inward to the outer face of the rotor.",
        spokes: Count(10.0..48.0) "Number of spokes.",
        rider_mass_max_g: Mass(40_000.0..250_000.0) "Heaviest rider its maker allows.",
        tubeless_bed: YesNo "The rim's bed is sealed, with tape or without holes.",
        freehub_length_mm: Length(20.0..50.0) "Length of the freehub's spline, shoulder to end; rear wheel only.",
        lockring: Text "Kind of lockring its rotor spline takes: inner teeth, outer teeth.",
        tape_width_mm: Length(0.0..60.0) "Width of the tape on the rim's bed; 0 where the bed has no holes and none is needed.",
    }
}
