//! Computer mount: what carries the computer at the bar.

use crate::part::Material;

part! {
    /// A mount for the computer.
    pub struct ComputerMount {
        material: Choice<Material> "What it is made of.",
        fixing: Text "How it is fixed: band round the bar, bolts under the stem, the stem's own cap.",
        bar_diameter_mm: Length(15.0..40.0) "Diameter of the bar that its band is made for.",
        bolt_spacing_mm: Length(5.0..80.0) "Centre to centre of its bolts, where it is bolted.",
        interface: Text "Shape id of the socket into which the computer turns.",
        reach_mm: Length(-150.0..200.0) "Level, centre of the bar forward to the centre of the computer.",
        drop_mm: Length(-60.0..60.0) "How far the computer's underside lies below the top of the bar.",
        load_max_g: Mass(20.0..2000.0) "Heaviest load its maker allows on it, computer and light together.",
        torque_nm: Torque(0.1..8.0) "Torque its maker states for its bolts.",
    }
}
