//! The net of shift wires: every unit joined to every other, and no way round in a ring.
//!
//! Power and messages share two conductors, so a wire has no direction and any free port of a unit serves. A net in which
//! every unit is reached by exactly one way is a tree: as many wires as units, less one. A ring is refused because a unit
//! inside it hears every message twice, and because it hides a broken wire until the second one breaks.

/// Most units in a net. A road bike has about eight.
pub const MOST_UNITS: usize = 64;

/// Most wires in a net, right or wrong.
pub const MOST_WIRES: usize = 128;

/// A wire by the two units it joins: their places in the list of units.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wire {
    /// The unit at one end.
    pub one: usize,
    /// The unit at the other.
    pub other: usize,
}

/// Why a net was not looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refusal {
    /// More units than [`MOST_UNITS`].
    TooManyUnits,
    /// More wires than [`MOST_WIRES`].
    TooManyWires,
    /// A wire, by its place, names a unit that is not in the list.
    NoSuchUnit(usize),
}

/// What a wire does to the net, wires taken in their order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// It joins two groups of units that nothing joined before.
    Joins,
    /// Both its ends are in one unit.
    UponItself,
    /// Its two units are joined already, by another way: it closes a ring.
    ClosesRing,
}

/// A net that was looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Net {
    units: usize,
    /// Each unit's group: the least place of a unit that it is joined to.
    group: [usize; MOST_UNITS],
    wires: [Wire; MOST_WIRES],
    roles: [Role; MOST_WIRES],
    count: usize,
}

impl Net {
    /// Looks at a net of so many units.
    ///
    /// Each wire relabels at most every unit, so the work is at most wires × units.
    ///
    /// ```
    /// use witnessmark_mechanics::wiring::{Net, Role, Wire};
    /// let wires = [Wire { one: 0, other: 1 }, Wire { one: 1, other: 2 }, Wire { one: 2, other: 0 }];
    /// let net = Net::new(4, &wires).unwrap();
    /// assert_eq!(net.role(2), Some(Role::ClosesRing));
    /// assert_eq!(net.groups(), 2);
    /// assert!(!net.is_tree());
    /// ```
    ///
    /// Source: definition of a spanning forest; held against `networkx` on random graphs (`wiring-nets.csv`).
    pub fn new(units: usize, wires: &[Wire]) -> Result<Self, Refusal> {
        if units > MOST_UNITS {
            return Err(Refusal::TooManyUnits);
        }
        if wires.len() > MOST_WIRES {
            return Err(Refusal::TooManyWires);
        }
        if let Some(place) = wires.iter().position(|wire| wire.one >= units || wire.other >= units) {
            return Err(Refusal::NoSuchUnit(place));
        }
        let mut net = Net {
            units,
            group: core::array::from_fn(|place| place),
            wires: [Wire { one: 0, other: 0 }; MOST_WIRES],
            roles: [Role::Joins; MOST_WIRES],
            count: wires.len(),
        };
        for (place, wire) in wires.iter().enumerate() {
            net.wires[place] = *wire;
            net.roles[place] = net.take(*wire);
        }
        Ok(net)
    }

    fn take(&mut self, wire: Wire) -> Role {
        let (one, other) = (self.group[wire.one], self.group[wire.other]);
        if wire.one == wire.other {
            return Role::UponItself;
        }
        if one == other {
            return Role::ClosesRing;
        }
        let (keeps, gives_up) = (one.min(other), one.max(other));
        for group in &mut self.group[..self.units] {
            if *group == gives_up {
                *group = keeps;
            }
        }
        Role::Joins
    }

    /// What the wire at this place does.
    ///
    /// Source: as [`Net::new`].
    pub fn role(&self, wire: usize) -> Option<Role> {
        self.roles[..self.count].get(wire).copied()
    }

    /// Groups of units that nothing joins; 1 when all are joined, 0 when there are none.
    ///
    /// Source: as [`Net::new`].
    pub fn groups(&self) -> usize {
        (0..self.units).filter(|&unit| self.group[unit] == unit).count()
    }

    /// Two units are joined, by whatever way.
    ///
    /// Source: as [`Net::new`].
    pub fn joined(&self, one: usize, other: usize) -> bool {
        one < self.units && other < self.units && self.group[one] == self.group[other]
    }

    /// All units are joined, and each by one way only.
    ///
    /// Source: definition of a tree.
    pub fn is_tree(&self) -> bool {
        self.groups() == 1 && self.roles[..self.count].iter().all(|role| *role == Role::Joins)
    }

    /// Wire ends in a unit: the ports it needs.
    ///
    /// Source: count.
    pub fn ends_in(&self, unit: usize) -> usize {
        let ends = |wire: &Wire| usize::from(wire.one == unit) + usize::from(wire.other == unit);
        self.wires[..self.count].iter().map(ends).sum()
    }

    /// The next wire, and the unit behind it, on the one way from a unit to another over wires that join.
    ///
    /// Following it ends: each step leaves the wires behind it on the other side of the tree.
    ///
    /// - Comes back: `None` where the units are the same or not joined.
    ///
    /// ```
    /// use witnessmark_mechanics::wiring::{Net, Step, Wire};
    /// let net = Net::new(3, &[Wire { one: 1, other: 0 }, Wire { one: 1, other: 2 }]).unwrap();
    /// assert_eq!(net.next_on_way(0, 2), Some(Step { wire: 0, unit: 1 }));
    /// assert_eq!(net.next_on_way(1, 2), Some(Step { wire: 1, unit: 2 }));
    /// assert_eq!(net.next_on_way(2, 2), None);
    /// ```
    ///
    /// Source: breadth-first search from the far end.
    pub fn next_on_way(&self, from: usize, to: usize) -> Option<Step> {
        if from == to || !self.joined(from, to) {
            return None;
        }
        // Units seen from the far end; each round sees at least one more, so there are at most as many rounds as units.
        let mut seen = [false; MOST_UNITS];
        seen[to] = true;
        for _ in 0..self.units {
            let before = seen;
            for (place, wire) in self.wires[..self.count].iter().enumerate() {
                if self.roles[place] != Role::Joins {
                    continue;
                }
                for (near, far) in [(wire.one, wire.other), (wire.other, wire.one)] {
                    if before[near] && !before[far] {
                        if far == from {
                            return Some(Step { wire: place, unit: near });
                        }
                        seen[far] = true;
                    }
                }
            }
        }
        None
    }
}

/// A step along wires.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    /// The wire taken.
    pub wire: usize,
    /// The unit it leads to.
    pub unit: usize,
}
