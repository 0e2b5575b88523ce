//! The chain's true path: round the ring, the cage's lower wheel, its upper wheel and the sprocket, and back.
//!
//! A chain is a polygon on its wheels. Turned slowly, its length over one wheel swings a little about that of a belt on
//! the circle of radius N·p/2π, and the mean over the teeth is that of the belt to better than 0.001 pitch. So every
//! wheel here is a circle of that *mean radius*. The pitch circle is larger and would make a road chain 0.1 to 0.2
//! pitches too long.
//!
//! Lengths of chain are in pitches, which the trade calls links: each inner and each outer pair of plates counts one.

use crate::angle::sin_cos_deg;
use crate::vector::Point2;
use core::f64::consts::{PI, TAU};

/// Pin to pin of every road chain, mm: half an inch.
pub const PITCH_MM: f64 = 12.7;

/// Fewest teeth a wheel can have: with two, a chain would lie folded upon itself.
pub const LEAST_TEETH: u32 = 3;

/// The radius that stands for a wheel in every length here: N·p/2π, mm.
///
/// ```
/// use witnessmark_mechanics::chain::mean_radius_mm;
/// assert!((mean_radius_mm(50) - 101.063_388).abs() < 1e-6);
/// ```
///
/// Source: a full turn of the wheel carries N pitches; held against polygons of chain (`chain-paths.csv`).
pub fn mean_radius_mm(teeth: u32) -> f64 {
    f64::from(teeth) * PITCH_MM / TAU
}

/// Diameter of the circle on which the pins of a seated chain lie: p / sin(180°/N), mm.
///
/// - Comes back: `None` below [`LEAST_TEETH`].
///
/// ```
/// use witnessmark_mechanics::chain::pitch_diameter_mm;
/// assert!((pitch_diameter_mm(11).unwrap() - 45.078).abs() < 5e-4);
/// ```
///
/// Source: ISO 606:2015, annex A; the same in ASME B29.1.
pub fn pitch_diameter_mm(teeth: u32) -> Option<f64> {
    (teeth >= LEAST_TEETH).then(|| PITCH_MM / libm::sin(PI / f64::from(teeth)))
}

/// Radius to the tips of the teeth: p·(0.6 + cot(180°/N))/2, mm.
///
/// A road ring's tips are cut lower than this by up to 2 mm and its shifting teeth lower still, so a clearance worked
/// out with it is on the safe side.
///
/// - Comes back: `None` below [`LEAST_TEETH`].
///
/// ```
/// use witnessmark_mechanics::chain::tip_radius_mm;
/// assert!((tip_radius_mm(52).unwrap() - 108.788).abs() < 1e-3);
/// ```
///
/// Source: ASME B29.1, outside diameter of a sprocket with full teeth, from memory.
pub fn tip_radius_mm(teeth: u32) -> Option<f64> {
    (teeth >= LEAST_TEETH).then(|| {
        let (sin, cos) = libm::sincos(PI / f64::from(teeth));
        PITCH_MM * (0.6 + cos / sin) / 2.0
    })
}

/// Which way a wheel turns when the chain pulls forward, seen from the drive side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sense {
    /// As the ring, the sprocket and the cage's lower wheel.
    Clockwise,
    /// As the cage's upper wheel: the chain passes on its other side.
    Anticlockwise,
}

impl Sense {
    const fn sign(self) -> f64 {
        match self {
            Self::Clockwise => -1.0,
            Self::Anticlockwise => 1.0,
        }
    }
}

/// A toothed wheel in its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wheel {
    /// Its centre.
    pub centre: Point2,
    /// Its teeth.
    pub teeth: u32,
    /// Which way it turns.
    pub sense: Sense,
}

/// A straight run of chain between two wheels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Run {
    /// Where it leaves a wheel.
    pub from: Point2,
    /// Where it meets the next.
    pub to: Point2,
    /// The step of length 1 along it, in the sense of travel.
    pub along: Point2,
    /// Its length, mm.
    pub length_mm: f64,
}

/// A closed path round so many wheels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Path<const N: usize> {
    /// The run that leaves each wheel.
    pub runs: [Run; N],
    /// How far the chain lies round each wheel, degrees.
    pub wraps_deg: [f64; N],
    /// Its length in pitches.
    pub links: f64,
}

/// Why there is no path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Refusal {
    /// A wheel has too few teeth; which, in the order given.
    TooFewTeeth(usize),
    /// A place is not a number.
    NotANumber(usize),
    /// Two wheels that follow each other overlap; the first of them, in the order given.
    Overlap(usize),
    /// Nowhere between its stops does the cage leave a way for the chain.
    NoSwing,
}

/// A wrap of this much less than nothing is still read as the chain lifting off a wheel, and a wrap of a full turn less
/// this much as a wrap: radians. No wheel of a derailleur is wrapped by more than 315°.
const LIFTED_RAD: f64 = PI / 4.0;

/// The path of a chain pulled tight round wheels, in the order in which it runs over them.
///
/// From wheel i to the next, with D the step between the centres, L its length, θ its direction, σ = +1 for
/// anticlockwise and −1 for clockwise, and q = σ′r′ − σr:
/// run = √(L² − q²), direction φ = θ − asin(q/L), touch = c − σr·(−sin φ, cos φ);
/// wrap = σ(φ out − φ in); links = Σ run/p + Σ wrap·N/2π.
/// One formula serves open (equal σ) and crossed (unequal σ) tangents.
///
/// - `wheels`: in the order of travel. Wheels that do not follow each other may overlap: sprocket and lower wheel lie in
///   front of one another in some layouts, and the chain does not meet there.
/// - Comes back: the path; a wrap below zero means that the tight chain would not lie on that wheel at all. Refused:
///   fewer than three teeth, a place that is not a number, wheels that overlap where the chain passes between them.
///
/// ```
/// use witnessmark_mechanics::{Point2, chain::{Sense, Wheel, around}};
/// let wheel = |x, teeth| Wheel { centre: Point2::at(x, 0.0), teeth, sense: Sense::Clockwise };
/// let path = around(&[wheel(0.0, 50), wheel(-410.0, 11)]).unwrap();
/// assert!((path.links - 96.264_056).abs() < 1e-6);
/// ```
///
/// Source: plane geometry of tangents; the two-wheel case is ISO 10823's length of chain, exact instead of to second
/// order; held against polygons of chain (`chain-paths.csv`).
pub fn around<const N: usize>(wheels: &[Wheel; N]) -> Result<Path<N>, Refusal> {
    for (place, wheel) in wheels.iter().enumerate() {
        if wheel.teeth < LEAST_TEETH {
            return Err(Refusal::TooFewTeeth(place));
        }
        if !(wheel.centre.x_mm.is_finite() && wheel.centre.y_mm.is_finite()) {
            return Err(Refusal::NotANumber(place));
        }
    }
    let still = Run { from: Point2::ORIGIN, to: Point2::ORIGIN, along: Point2::ORIGIN, length_mm: 0.0 };
    let mut runs = [still; N];
    for place in 0..N {
        runs[place] =
            run(&Circle::of(&wheels[place]), &Circle::of(&wheels[(place + 1) % N])).ok_or(Refusal::Overlap(place))?;
    }
    let mut wraps_deg = [0.0; N];
    let mut links = 0.0;
    for place in 0..N {
        let wheel = &wheels[place];
        let wrap = wrap_rad(runs[(place + N - 1) % N].along, runs[place].along, wheel.sense);
        wraps_deg[place] = wrap.to_degrees();
        links += runs[place].length_mm / PITCH_MM + wrap * f64::from(wheel.teeth) / TAU;
    }
    Ok(Path { runs, wraps_deg, links })
}

/// A wheel as the paths see it: centre, mean radius, and +1 or −1 for its sense.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Circle {
    centre: Point2,
    radius_mm: f64,
    turn: f64,
}

impl Circle {
    fn of(wheel: &Wheel) -> Self {
        Circle { centre: wheel.centre, radius_mm: mean_radius_mm(wheel.teeth), turn: wheel.sense.sign() }
    }
}

/// The run from a wheel to the next; `None` where the wheels overlap.
fn run(wheel: &Circle, next: &Circle) -> Option<Run> {
    let step = next.centre - wheel.centre;
    let apart_mm2 = step.dot(step);
    let outside_mm = wheel.radius_mm + next.radius_mm;
    // Written so that a place that is not a number is refused too.
    let apart = apart_mm2 > outside_mm * outside_mm;
    if !apart {
        return None;
    }
    let q_mm = next.turn * next.radius_mm - wheel.turn * wheel.radius_mm;
    let length_mm = libm::sqrt(apart_mm2 - q_mm * q_mm);
    // The direction turned by −asin(q/L): its cosine is run/L, its sine −q/L.
    let (cos, sin) = (length_mm / apart_mm2, -q_mm / apart_mm2);
    let along = Point2::at(step.x_mm * cos - step.y_mm * sin, step.x_mm * sin + step.y_mm * cos);
    let beside = along.quarter_turned();
    let from = wheel.centre - beside * (wheel.turn * wheel.radius_mm);
    let to = next.centre - beside * (next.turn * next.radius_mm);
    Some(Run { from, to, along, length_mm })
}

/// How far a chain turns on a wheel, from the direction in which it comes to that in which it goes, radians.
fn wrap_rad(comes: Point2, goes: Point2, sense: Sense) -> f64 {
    let turned = sense.sign() * libm::atan2(comes.cross(goes), comes.dot(goes));
    if turned < -LIFTED_RAD { turned + TAU } else { turned }
}

/// The sprung cage with its two wheels, and the stops between which it swings.
///
/// Its angle is that of the line from pivot to lower wheel: 0° points ahead, −90° straight down, −180° straight back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cage {
    /// Teeth of the upper wheel, under the sprocket.
    pub upper_teeth: u32,
    /// Teeth of the lower wheel.
    pub lower_teeth: u32,
    /// Pivot to the centre of the upper wheel, mm.
    pub pivot_to_upper_mm: f64,
    /// Pivot to the centre of the lower wheel, mm.
    pub pivot_to_lower_mm: f64,
    /// From the line to the lower wheel on to the line to the upper wheel, degrees: positive when the upper wheel stands
    /// ahead of a cage that hangs straight down.
    pub upper_from_lower_deg: f64,
    /// The stop ahead, degrees.
    pub forward_stop_deg: f64,
    /// The stop behind, degrees.
    pub rear_stop_deg: f64,
}

impl Cage {
    /// The angle between the lines from the pivot to the two wheels, from the three distances, degrees, 0 to 180.
    ///
    /// - Comes back: `None` where no triangle has these sides, a millimetre of reading error forgiven; 0 where the upper
    ///   wheel sits on the pivot.
    ///
    /// ```
    /// use witnessmark_mechanics::chain::Cage;
    /// assert!((Cage::angle_between_wheels_deg(3.0, 4.0, 5.0).unwrap() - 90.0).abs() < 1e-12);
    /// ```
    ///
    /// Source: law of cosines.
    pub fn angle_between_wheels_deg(to_upper_mm: f64, to_lower_mm: f64, between_mm: f64) -> Option<f64> {
        const FORGIVEN_MM: f64 = 1.0;
        let sides_meet = between_mm <= to_upper_mm + to_lower_mm + FORGIVEN_MM
            && between_mm + FORGIVEN_MM >= (to_upper_mm - to_lower_mm).abs();
        if !sides_meet || to_lower_mm <= 0.0 || to_upper_mm < 0.0 {
            return None;
        }
        if to_upper_mm == 0.0 {
            return Some(0.0);
        }
        let cos = (to_upper_mm * to_upper_mm + to_lower_mm * to_lower_mm - between_mm * between_mm)
            / (2.0 * to_upper_mm * to_lower_mm);
        Some(libm::acos(cos.clamp(-1.0, 1.0)).to_degrees())
    }
}

/// Where the cage's pivot is, at the two ends of the cassette: steps from the rear axle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PivotTravel {
    /// With the chain on the smallest sprocket.
    pub smallest: Point2,
    /// With the chain on the largest sprocket.
    pub largest: Point2,
}

/// A sprocket and the two at the ends of its cassette.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OnCassette {
    /// Teeth of the sprocket meant.
    pub sprocket: u32,
    /// Teeth of the smallest.
    pub smallest: u32,
    /// Teeth of the largest.
    pub largest: u32,
}

impl PivotTravel {
    /// The step from the rear axle to the pivot with the chain on this sprocket: between the two measured places in
    /// proportion to the teeth, because the derailleur follows the height of the sprockets and not their number.
    ///
    /// - Comes back: the place for the smallest where the cassette's ends are alike.
    ///
    /// Source: common practice, no source; a pivot 1 mm off moves the length by 0.002 to 0.045 pitch.
    pub fn at(&self, on: OnCassette) -> Point2 {
        let range = f64::from(on.largest) - f64::from(on.smallest);
        if range <= 0.0 {
            return self.smallest;
        }
        let share = (f64::from(on.sprocket) - f64::from(on.smallest)) / range;
        self.smallest * (1.0 - share) + self.largest * share
    }
}

/// One gear of a bike with a sprung cage: everything that the chain touches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drive {
    /// Teeth of the ring, about the bottom-bracket centre.
    pub ring_teeth: u32,
    /// Teeth of the sprocket.
    pub sprocket_teeth: u32,
    /// The rear axle.
    pub rear_axle: Point2,
    /// The cage's pivot in this gear.
    pub pivot: Point2,
    /// The cage.
    pub cage: Cage,
}

/// The wheels of a drive, in the order of travel: places in [`Path::runs`] and [`Path::wraps_deg`].
pub mod place {
    /// The chainring.
    pub const RING: usize = 0;
    /// The cage's lower wheel.
    pub const LOWER: usize = 1;
    /// The cage's upper wheel.
    pub const UPPER: usize = 2;
    /// The sprocket.
    pub const SPROCKET: usize = 3;
}

/// What ends the swing of a cage.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SwingEnd {
    /// Its stop.
    Stop,
    /// Further on, the chain would slacken again: the length needed is greatest or least here.
    Turning,
    /// Further on, wheels would touch or the chain would lift off a wheel.
    Blocked,
}

/// The part of a cage's swing over which it holds a chain tight: from the foremost place, where the shortest chain is
/// needed, back to where it takes up the longest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Swing {
    drive: Drive,
    moving: Moving,
    /// How fast the cage swings with the links at the forward and at the rear end, degrees a link; no more than five times
    /// the mean, so that an end where the length turns over is no end of the guess.
    ends_deg_per_link: [f64; 2],
    /// The foremost angle, degrees.
    pub forward_deg: f64,
    /// Links needed there: fewer are too short.
    pub least_links: f64,
    /// What ends the swing ahead.
    pub forward_end: SwingEnd,
    /// The rearmost angle, degrees.
    pub rear_deg: f64,
    /// Links taken up there: more hang slack.
    pub most_links: f64,
    /// What ends the swing behind.
    pub rear_end: SwingEnd,
}

/// How a chain of so many links lies in a gear.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Lies {
    /// It does not reach round: so many links are missing.
    TooShort {
        /// Links missing.
        by_links: f64,
    },
    /// Tight, with the cage at an angle.
    Tight {
        /// The cage's angle, degrees.
        cage_deg: f64,
    },
    /// The cage stands at its rear end and the chain hangs: so many links are too many.
    Slack {
        /// Links too many.
        by_links: f64,
    },
}

/// Step of the first look over the swing, degrees. The length turns from falling to rising on the scale of a radian, so
/// no turning place hides between two looks of 6°.
const LOOK_DEG: f64 = 6.0;

/// Widest swing looked over: a full turn. With [`LOOK_DEG`] the look ends after 61 steps at the most.
const MOST_SWING_DEG: f64 = 360.0;

/// Halvings with which the end of a swing is closed in on: 6°/2⁴⁰ is far below what can be told apart.
const END_ROUNDS: u32 = 40;

/// Rounds in which a guess by the tangent is taken. Where the length falls smoothly three are enough.
const NEWTON_ROUNDS: u32 = 40;

/// Rounds after which a cage angle is found: those after the tangent's halve the bracket, which has 53 bits.
const MOST_ROUNDS: u32 = NEWTON_ROUNDS + 53;

/// A step of Newton's so short that the next would be shorter than 1e-9°: the length bends by less than a fiftieth of its
/// slope in a degree.
const LAST_STEP_DEG: f64 = 2e-4;

/// Links within which a chain is called as long as its path.
const EQUAL_LINKS: f64 = 1e-11;

/// The length needed at a cage angle and how it changes.
#[derive(Clone, Copy)]
struct Needed {
    links: f64,
    links_per_deg: f64,
}

/// A drive made ready for many cage angles: what does not change with the cage is worked out once. The run from sprocket to
/// ring stands still, and that between the cage's wheels turns with the cage; two runs are left.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Moving {
    ring: Circle,
    sprocket: Circle,
    /// The cage's wheels about the pivot, with the cage pointing ahead.
    lower: Circle,
    upper: Circle,
    pivot: Point2,
    /// Links on a wheel for each radian of wrap, in the order of travel.
    links_per_radian: [f64; 4],
    /// Direction of the run from sprocket to ring.
    back_along: Point2,
    back_rad: f64,
    /// Direction of the run between the cage's wheels, with the cage pointing ahead.
    inner_along: Point2,
    inner_rad: f64,
    /// Links of these two runs.
    still_links: f64,
}

impl Moving {
    fn new(drive: &Drive) -> Result<Self, Refusal> {
        let cage_ahead = Drive { pivot: Point2::ORIGIN, ..*drive }.wheels(0.0);
        let [ring, lower, upper, sprocket] = [0, 1, 2, 3].map(|place| Circle::of(&cage_ahead[place]));
        for (place, wheel) in cage_ahead.iter().enumerate() {
            if wheel.teeth < LEAST_TEETH {
                return Err(Refusal::TooFewTeeth(place));
            }
            if !(wheel.centre.x_mm.is_finite() && wheel.centre.y_mm.is_finite()) {
                return Err(Refusal::NotANumber(place));
            }
        }
        let back = run(&sprocket, &ring).ok_or(Refusal::Overlap(place::SPROCKET))?;
        let inner = run(&lower, &upper).ok_or(Refusal::Overlap(place::LOWER))?;
        Ok(Moving {
            ring,
            sprocket,
            lower,
            upper,
            pivot: drive.pivot,
            links_per_radian: cage_ahead.map(|wheel| f64::from(wheel.teeth) / TAU),
            back_along: back.along,
            back_rad: libm::atan2(back.along.y_mm, back.along.x_mm),
            inner_along: inner.along,
            inner_rad: libm::atan2(inner.along.y_mm, inner.along.x_mm),
            still_links: (back.length_mm + inner.length_mm) / PITCH_MM,
        })
    }

    /// The length needed at this angle, where wheels and chain leave each other room.
    fn needed(&self, cage_deg: f64) -> Option<Needed> {
        let (sin, cos) = sin_cos_deg(cage_deg);
        let turned = |step: Point2| Point2::at(step.x_mm * cos - step.y_mm * sin, step.x_mm * sin + step.y_mm * cos);
        let (lower_arm, upper_arm) = (turned(self.lower.centre), turned(self.upper.centre));
        let lower = Circle { centre: self.pivot + lower_arm, ..self.lower };
        let upper = Circle { centre: self.pivot + upper_arm, ..self.upper };
        let below = run(&self.ring, &lower)?;
        let above = run(&upper, &self.sprocket)?;
        let (below_rad, above_rad) =
            (libm::atan2(below.along.y_mm, below.along.x_mm), libm::atan2(above.along.y_mm, above.along.x_mm));
        let inner_rad = self.inner_rad + cage_deg.to_radians();
        // Clockwise wheels turn from the direction that comes down to the one that goes; the upper wheel the other way.
        let wraps =
            [self.back_rad - below_rad, below_rad - inner_rad, above_rad - inner_rad, above_rad - self.back_rad]
                .map(in_one_turn);
        if wraps[place::LOWER] < 0.0 || wraps[place::UPPER] < 0.0 {
            return None;
        }
        let on_wheels: f64 = wraps.iter().zip(&self.links_per_radian).map(|(wrap, links)| wrap * links).sum();
        // A wheel that moves by v lengthens the path by v·(comes − goes); a cage wheel moves square to its arm.
        let inner_along = turned(self.inner_along);
        let mm_per_radian = lower_arm.quarter_turned().dot(below.along - inner_along)
            + upper_arm.quarter_turned().dot(inner_along - above.along);
        Some(Needed {
            links: self.still_links + (below.length_mm + above.length_mm) / PITCH_MM + on_wheels,
            links_per_deg: (mm_per_radian / PITCH_MM).to_radians(),
        })
    }

    fn tight_at(&self, cage_deg: f64) -> bool {
        self.needed(cage_deg).is_some_and(|needed| needed.links_per_deg <= 0.0)
    }

    fn why_not(&self, cage_deg: f64) -> SwingEnd {
        if self.needed(cage_deg).is_some() { SwingEnd::Turning } else { SwingEnd::Blocked }
    }

    /// The last tight angle between one that is tight and one that is not.
    fn edge(&self, mut tight_deg: f64, mut loose_deg: f64) -> f64 {
        for _ in 0..END_ROUNDS {
            let middle = f64::midpoint(tight_deg, loose_deg);
            if self.tight_at(middle) {
                tight_deg = middle;
            } else {
                loose_deg = middle;
            }
        }
        tight_deg
    }
}

/// A turned angle between what is read as lifting off and a turn more.
fn in_one_turn(turned_rad: f64) -> f64 {
    turned_rad - TAU * libm::floor((turned_rad + LIFTED_RAD) / TAU)
}

impl Drive {
    /// The wheels with the cage at this angle, in the order of travel.
    ///
    /// Source: definition of the cage's angles.
    pub fn wheels(&self, cage_deg: f64) -> [Wheel; 4] {
        let cage = &self.cage;
        let lower = Point2::direction(cage_deg) * cage.pivot_to_lower_mm;
        let upper = if cage.pivot_to_upper_mm == 0.0 {
            Point2::ORIGIN
        } else {
            Point2::direction(cage_deg + cage.upper_from_lower_deg) * cage.pivot_to_upper_mm
        };
        let clockwise = |centre, teeth| Wheel { centre, teeth, sense: Sense::Clockwise };
        [
            clockwise(Point2::ORIGIN, self.ring_teeth),
            clockwise(self.pivot + lower, cage.lower_teeth),
            Wheel { centre: self.pivot + upper, teeth: cage.upper_teeth, sense: Sense::Anticlockwise },
            clockwise(self.rear_axle, self.sprocket_teeth),
        ]
    }

    /// The path with the cage at this angle, whether or not it can stand there.
    ///
    /// - Comes back: as [`around`]; refused too where ring and sprocket overlap.
    ///
    /// Source: as [`around`].
    pub fn path_at(&self, cage_deg: f64) -> Result<Path<4>, Refusal> {
        around(&self.wheels(cage_deg))
    }

    /// The swing over which the cage holds a chain tight.
    ///
    /// The length needed falls as the cage swings ahead, as a rule over the whole swing. Where it does not (a cage that
    /// can swing past the straight line from ring to sprocket, or up behind the axle) the swing ends at the turning
    /// place: further on, the spring would pull the cage away from the chain.
    ///
    /// - Comes back: the swing. Refused: what [`around`] refuses at every angle, stops in the wrong order, and
    ///   [`Refusal::NoSwing`].
    ///
    /// Source: the slope of a tight chain's length when a wheel moves by v is v·(comes − goes), the principle of virtual
    /// work; held against scalar root finding (`chain-cages.csv`).
    pub fn swing(&self) -> Result<Swing, Refusal> {
        let Cage { forward_stop_deg, rear_stop_deg, .. } = self.cage;
        let width_deg = forward_stop_deg - rear_stop_deg;
        let in_order = (0.0..=MOST_SWING_DEG).contains(&width_deg);
        if !in_order {
            return Err(Refusal::NoSwing);
        }
        let moving = Moving::new(self)?;
        let steps = libm::ceil(width_deg / LOOK_DEG).max(1.0);
        let mut front: Option<(f64, SwingEnd)> = None;
        let mut rear = (rear_stop_deg, SwingEnd::Stop);
        let mut before = forward_stop_deg;
        let mut step = 0.0;
        while step <= steps {
            let here = forward_stop_deg - width_deg * step / steps;
            let tight = moving.tight_at(here);
            if front.is_none() && tight {
                front = Some(if step == 0.0 {
                    (here, SwingEnd::Stop)
                } else {
                    (moving.edge(here, before), moving.why_not(before))
                });
            } else if front.is_some() && !tight {
                rear = (moving.edge(before, here), moving.why_not(here));
                break;
            }
            before = here;
            step += 1.0;
        }
        let (forward_deg, forward_end) = front.ok_or(Refusal::NoSwing)?;
        let (rear_deg, rear_end) = rear;
        let (least, most) = (moving.needed(forward_deg), moving.needed(rear_deg));
        let (least, most) = least.zip(most).ok_or(Refusal::NoSwing)?;
        let mean_links_per_deg = (most.links - least.links) / (rear_deg - forward_deg).min(-f64::MIN_POSITIVE);
        let deg_per_link = |end: Needed| 1.0 / end.links_per_deg.min(mean_links_per_deg / 5.0).min(-f64::MIN_POSITIVE);
        Ok(Swing {
            drive: *self,
            moving,
            ends_deg_per_link: [deg_per_link(least), deg_per_link(most)],
            forward_deg,
            least_links: least.links,
            forward_end,
            rear_deg,
            most_links: most.links,
            rear_end,
        })
    }
}

impl Swing {
    /// The gear whose cage swings here.
    ///
    /// Source: what was given.
    pub const fn drive(&self) -> &Drive {
        &self.drive
    }

    /// How a chain of so many links lies.
    ///
    /// The tangent's guess (Newton) inside a bracket; a guess that leaves the bracket is replaced by its middle, and after
    /// forty rounds so is every guess: the search ends after at most 93 rounds and usually after three.
    ///
    /// - Comes back: the cage's angle to better than 1e-9°; or how many links are missing or too many.
    ///
    /// ```
    /// use witnessmark_mechanics::{Point2, chain::*};
    /// let cage = Cage {
    ///     upper_teeth: 11, lower_teeth: 11, pivot_to_upper_mm: 0.0, pivot_to_lower_mm: 56.0,
    ///     upper_from_lower_deg: 0.0, forward_stop_deg: -25.0, rear_stop_deg: -172.0,
    /// };
    /// let rear_axle = Point2::at(-403.980_197_5, 70.0);
    /// let pivot = rear_axle + Point2::at(18.0, -99.0);
    /// let swing = Drive { ring_teeth: 52, sprocket_teeth: 34, rear_axle, pivot, cage }.swing().unwrap();
    /// assert!((swing.least_links - 110.354_709).abs() < 1e-6);
    /// let Lies::Tight { cage_deg } = swing.lies(112.0) else { panic!() };
    /// assert!((cage_deg + 41.670_012).abs() < 1e-6);
    /// assert!(matches!(swing.lies(110.0), Lies::TooShort { .. }));
    /// ```
    ///
    /// Source: Newton's method in a bracket; held against `brentq` of another library (`chain-cages.csv`).
    pub fn lies(&self, links: f64) -> Lies {
        if links < self.least_links {
            return Lies::TooShort { by_links: self.least_links - links };
        }
        // Written so that a number of links that is not a number hangs slack by it and ends here.
        let taken_up = links <= self.most_links;
        if !taken_up {
            return Lies::Slack { by_links: links - self.most_links };
        }
        let (mut low_deg, mut high_deg) = (self.rear_deg, self.forward_deg);
        let mut guess_deg = self.first_guess_deg(links);
        for round in 0..MOST_ROUNDS {
            let Some(needed) = self.moving.needed(guess_deg) else { break };
            let over = needed.links - links;
            if over.abs() <= EQUAL_LINKS {
                break;
            }
            // Too much chain needed: swing ahead, where less is.
            if over > 0.0 {
                low_deg = guess_deg;
            } else {
                high_deg = guess_deg;
            }
            let middle = f64::midpoint(low_deg, high_deg);
            let newton = guess_deg - over / needed.links_per_deg;
            let inside = low_deg < newton && newton < high_deg;
            if inside && (newton - guess_deg).abs() < LAST_STEP_DEG {
                guess_deg = newton;
                break;
            }
            guess_deg = if inside && round < NEWTON_ROUNDS { newton } else { middle };
            if high_deg - low_deg <= 1e-12 {
                break;
            }
        }
        Lies::Tight { cage_deg: guess_deg }
    }

    /// Room between the lower run and the chain on the upper wheel with the cage at this angle, mm: the distance from that
    /// wheel's centre to the run, less its radius and the height of the chain. Below zero the chain rubs itself.
    ///
    /// - Comes back: `None` where ring and lower wheel overlap.
    ///
    /// Source: distance of a point from a segment.
    pub fn self_gap_mm(&self, cage_deg: f64, chain_height_mm: f64) -> Option<f64> {
        let (sin, cos) = sin_cos_deg(cage_deg);
        let turned = |step: Point2| Point2::at(step.x_mm * cos - step.y_mm * sin, step.x_mm * sin + step.y_mm * cos);
        let Moving { ring, lower, upper, pivot, .. } = &self.moving;
        let run = run(ring, &Circle { centre: *pivot + turned(lower.centre), ..*lower })?;
        let from_start = *pivot + turned(upper.centre) - run.from;
        let along_mm = from_start.dot(run.along).clamp(0.0, run.length_mm);
        Some((from_start - run.along * along_mm).length_mm() - upper.radius_mm - chain_height_mm)
    }

    /// Where the cage would stand if its angle, as a function of the links, were the cubic through both ends with their
    /// slopes; kept inside the swing.
    fn first_guess_deg(&self, links: f64) -> f64 {
        let range = (self.most_links - self.least_links).max(f64::MIN_POSITIVE);
        let share = (links - self.least_links) / range;
        let (across, [from_forward, into_rear]) = (self.rear_deg - self.forward_deg, self.ends_deg_per_link);
        let rest = 1.0 - share;
        let bend = share * rest * (rest * (range * from_forward - across) - share * (range * into_rear - across));
        (self.forward_deg + share * across + bend).clamp(self.rear_deg, self.forward_deg)
    }

    /// Links that the cage can take up between its ends, twice over: the take-up in teeth, to be held against the
    /// maker's capacity. Ring and sprocket together take up half a link for each tooth.
    ///
    /// ```
    /// # use witnessmark_mechanics::{Point2, chain::*};
    /// # let cage = Cage { upper_teeth: 11, lower_teeth: 11, pivot_to_upper_mm: 0.0, pivot_to_lower_mm: 56.0,
    /// #     upper_from_lower_deg: 0.0, forward_stop_deg: -25.0, rear_stop_deg: -172.0 };
    /// # let rear_axle = Point2::at(-403.980_197_5, 70.0);
    /// # let pivot = rear_axle + Point2::at(14.0, -70.0);
    /// let swing = Drive { ring_teeth: 36, sprocket_teeth: 11, rear_axle, pivot, cage }.swing().unwrap();
    /// assert!((swing.take_up_teeth() - 34.847_76).abs() < 1e-4);
    /// ```
    ///
    /// Source: arithmetic on the path's lengths.
    pub fn take_up_teeth(&self) -> f64 {
        2.0 * (self.most_links - self.least_links)
    }
}

/// Two wheels and their distance: what the rules of thumb look at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TwoWheels {
    /// Teeth of the ring.
    pub ring_teeth: u32,
    /// Teeth of the sprocket.
    pub sprocket_teeth: u32,
    /// Centre to centre, mm: the chainstay.
    pub centres_mm: f64,
}

impl TwoWheels {
    /// Links straight round both, the cage left out.
    ///
    /// - Comes back: refused as [`around`].
    ///
    /// Source: as [`around`].
    pub fn links(&self) -> Result<f64, Refusal> {
        let wheel = |x_mm, teeth| Wheel { centre: Point2::at(x_mm, 0.0), teeth, sense: Sense::Clockwise };
        around(&[wheel(0.0, self.ring_teeth), wheel(-self.centres_mm, self.sprocket_teeth)]).map(|path| path.links)
    }

    /// The handbooks' length: 2C + (N + n)/2 + ((N − n)/2π)²/C, with C in pitches.
    ///
    /// - Valid where C is well over half the difference of the wheels; up to 0.01 links short on a road bike.
    ///
    /// ```
    /// use witnessmark_mechanics::chain::TwoWheels;
    /// let drive = TwoWheels { ring_teeth: 50, sprocket_teeth: 11, centres_mm: 410.0 };
    /// assert!((drive.handbook_links() - 96.260_338).abs() < 1e-6);
    /// ```
    ///
    /// Source: ISO 10823; Machinery's Handbook, "Length of chain".
    pub fn handbook_links(&self) -> f64 {
        let centres = self.centres_mm / PITCH_MM;
        let (ring, sprocket) = (f64::from(self.ring_teeth), f64::from(self.sprocket_teeth));
        let difference = (ring - sprocket) / TAU;
        2.0 * centres + f64::midpoint(ring, sprocket) + difference * difference / centres
    }

    /// The customary rule: round the largest ring and sprocket without the cage, one inner and one outer pair of plates
    /// more, rounded up to whole pairs.
    ///
    /// - It knows nothing of the cage: on ordinary cages it leaves 20° to the stop ahead, on cages with large wheels 7°.
    /// - Comes back: `None` where [`TwoWheels::links`] refuses.
    ///
    /// ```
    /// use witnessmark_mechanics::chain::TwoWheels;
    /// let drive = TwoWheels { ring_teeth: 52, sprocket_teeth: 34, centres_mm: 410.0 };
    /// assert_eq!(drive.rule_links(), Some(110));
    /// ```
    ///
    /// Source: common practice, no source.
    pub fn rule_links(&self) -> Option<u32> {
        self.links().ok().and_then(|links| even_at_least(links + 2.0))
    }
}

/// The least even number of links that is not below this.
///
/// - Comes back: `None` for what is no length of chain: below zero, above a million, or not a number.
///
/// Source: inner and outer plates take turns, so a closed chain has an even number.
pub fn even_at_least(links: f64) -> Option<u32> {
    const MOST: f64 = 1e6;
    let is_length = (0.0..=MOST).contains(&links);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole, and between 0 and a million")]
    is_length.then(|| 2 * libm::ceil(links / 2.0) as u32)
}

/// The greatest even number of links that is not above this.
///
/// - Comes back: `None` for what is no length of chain: below zero, above a million, or not a number.
///
/// Source: as [`even_at_least`].
pub fn even_at_most(links: f64) -> Option<u32> {
    let up = even_at_least(links)?;
    if f64::from(up) > links { up.checked_sub(2) } else { Some(up) }
}
