//! Mass: a sum with its doubt, its centre, what stands on each wheel, and which parts could explain a difference.
//!
//! A part's mass lies surely within its half-width either way; its standard uncertainty is that over √3. Doubts of parts
//! that were weighed one by one cancel in part (the root of the sum of squares); claims of one maker, rounded the same way,
//! may all err together (the plain sum). Both are told.

use crate::vector::Point2;

/// A part as a lump.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lump {
    /// Its mass, g.
    pub mass_g: f64,
    /// Standard uncertainty of the mass, g.
    pub mass_u_g: f64,
    /// Where its centre lies.
    pub at: Point2,
    /// Standard uncertainty of that along the bike, mm.
    pub at_u_mm: f64,
}

/// The sum of lumps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lumps {
    /// Mass, g.
    pub mass_g: f64,
    /// Standard uncertainty where the parts err each for itself, g.
    pub mass_u_g: f64,
    /// Where they all err together, g.
    pub together_u_g: f64,
    /// Centre of mass.
    pub centre: Point2,
}

/// Where the wheels stand, along the bike.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Axles {
    /// The rear axle, mm from the bottom bracket; behind it is negative.
    pub rear_x_mm: f64,
    /// The front axle, mm.
    pub front_x_mm: f64,
}

/// What stands on each wheel, bike level.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OnWheels {
    /// On the front wheel, g.
    pub front_g: f64,
    /// On the rear wheel, g.
    pub rear_g: f64,
    /// Standard uncertainty of the front, g.
    pub front_u_g: f64,
    /// Standard uncertainty of the rear, g.
    pub rear_u_g: f64,
}

/// Standard uncertainty of a value that lies surely within a half-width either way.
///
/// Source: JCGM 100:2008 (GUM), 4.3.7, rectangular distribution (from memory).
pub fn standard_u(half_width: f64) -> f64 {
    half_width / libm::sqrt(3.0)
}

/// Sums lumps up.
///
/// - Comes back: `None` for no lump, or lumps without mass.
///
/// ```
/// use witnessmark_mechanics::{Point2, mass::{Lump, sum}};
/// let lump = |mass_g, x_mm| Lump { mass_g, mass_u_g: 3.0, at: Point2 { x_mm, y_mm: 0.0 }, at_u_mm: 0.0 };
/// let both = sum([lump(100.0, 0.0), lump(300.0, 40.0)]).unwrap();
/// assert_eq!((both.mass_g, both.centre.x_mm, both.together_u_g), (400.0, 30.0, 6.0));
/// ```
///
/// Source: definition of the centre of mass; GUM for the doubt.
pub fn sum(lumps: impl IntoIterator<Item = Lump>) -> Option<Lumps> {
    let (mut mass, mut square, mut together, mut x, mut y) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for lump in lumps {
        mass += lump.mass_g;
        square += lump.mass_u_g * lump.mass_u_g;
        together += lump.mass_u_g;
        x += lump.mass_g * lump.at.x_mm;
        y += lump.mass_g * lump.at.y_mm;
    }
    (mass > 0.0).then(|| Lumps {
        mass_g: mass,
        mass_u_g: libm::sqrt(square),
        together_u_g: together,
        centre: Point2 { x_mm: x / mass, y_mm: y / mass },
    })
}

impl Axles {
    /// Share of a load at this place that stands on the front wheel, bike level.
    ///
    /// ```
    /// use witnessmark_mechanics::mass::Axles;
    /// let axles = Axles { rear_x_mm: -400.0, front_x_mm: 585.0 };
    /// assert!((axles.front_share(40.0) - 0.4467).abs() < 1e-4);
    /// ```
    ///
    /// Source: statics: the moments about the rear axle.
    pub fn front_share(&self, x_mm: f64) -> f64 {
        (x_mm - self.rear_x_mm) / (self.front_x_mm - self.rear_x_mm)
    }

    /// What stands on each wheel.
    ///
    /// - Comes back: `None` for axles in one place or the wrong order.
    ///
    /// Source: statics; the doubts of mass and place go along linearly, each lump for itself.
    pub fn loads(&self, lumps: impl IntoIterator<Item = Lump>) -> Option<OnWheels> {
        let wheelbase_mm = self.front_x_mm - self.rear_x_mm;
        let in_order = wheelbase_mm > 0.0;
        if !in_order {
            return None;
        }
        let (mut front, mut rear, mut front_square, mut rear_square) = (0.0, 0.0, 0.0, 0.0);
        for lump in lumps {
            let share = self.front_share(lump.at.x_mm);
            front += lump.mass_g * share;
            rear += lump.mass_g * (1.0 - share);
            let by_place = lump.mass_g * lump.at_u_mm / wheelbase_mm;
            let by_place_square = by_place * by_place;
            let (in_front, behind) = (lump.mass_u_g * share, lump.mass_u_g * (1.0 - share));
            front_square += in_front * in_front + by_place_square;
            rear_square += behind * behind + by_place_square;
        }
        Some(OnWheels {
            front_g: front,
            rear_g: rear,
            front_u_g: libm::sqrt(front_square),
            rear_u_g: libm::sqrt(rear_square),
        })
    }
}

/// Which parts together weigh what is to be explained.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted {
    /// What they are to weigh, g.
    pub mass_g: f64,
    /// How far off is still an explanation, g.
    pub within_g: f64,
}

/// The most parts of which an explanation is made. Four parts of fifty explain nearly everything, and so nothing.
pub const MOST_PARTS: usize = 3;

/// Every set of one, two or three parts whose masses explain a difference, handed over one by one: the places of the parts
/// in rising order, how many of them count, and what they weigh.
///
/// Every set is looked at; none is left out for being unlikely. Fifty parts make 20 875 sets.
///
/// ```
/// use witnessmark_mechanics::mass::{Wanted, explain};
/// let mut found = 0;
/// explain(&[310.0, 95.0, 250.0, 60.0], Wanted { mass_g: 345.0, within_g: 5.0 }, |set, mass_g| {
///     assert_eq!((set, mass_g), (&[1, 2][..], 345.0));
///     found += 1;
/// });
/// assert_eq!(found, 1);
/// ```
///
/// Source: definition.
pub fn explain(masses_g: &[f64], wanted: Wanted, mut found: impl FnMut(&[usize], f64)) {
    let mut look = |set: &[usize], mass_g: f64| {
        if (mass_g - wanted.mass_g).abs() <= wanted.within_g {
            found(set, mass_g);
        }
    };
    for (one, first_g) in masses_g.iter().enumerate() {
        look(&[one], *first_g);
        for (two, second_g) in masses_g.iter().enumerate().skip(one + 1) {
            look(&[one, two], first_g + second_g);
            for (three, third_g) in masses_g.iter().enumerate().skip(two + 1) {
                look(&[one, two, three], first_g + second_g + third_g);
            }
        }
    }
}
