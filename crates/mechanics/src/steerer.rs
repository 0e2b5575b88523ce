//! Where to cut the steerer, and where it then ends.
//!
//! Everything is measured along the steering axis, upwards from the fork's crown-race seat.

/// What stands on the crown-race seat, from below.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SteererStack {
    /// Lower headset: crown-race seat to the head tube's lower face, mm.
    pub lower_stack_mm: f64,
    /// Head tube, mm.
    pub head_tube_mm: f64,
    /// Upper headset with its cover: head tube's upper face to the top of the cover, mm.
    pub cover_mm: f64,
    /// Spacers between cover and stem, mm.
    pub spacers_under_mm: f64,
    /// Height of the stem's steerer clamp, mm.
    pub clamp_height_mm: f64,
    /// Spacers above the stem, mm.
    pub spacers_over_mm: f64,
    /// Set-down: how far the steerer ends below the top of the topmost part, mm.
    pub gap_mm: f64,
}

impl SteererStack {
    /// Where to cut, from the crown-race seat, mm: the sum of all that stands on it, less the gap.
    ///
    /// ```
    /// use witnessmark_mechanics::steerer::SteererStack;
    /// let stack = SteererStack {
    ///     lower_stack_mm: 1.5, head_tube_mm: 140.0, cover_mm: 8.0, spacers_under_mm: 20.0,
    ///     clamp_height_mm: 40.0, spacers_over_mm: 5.0, gap_mm: 3.0,
    /// };
    /// assert_eq!(stack.cut_length_mm(), 211.5);
    /// assert_eq!(stack.proud_of_clamp_mm(), 2.0);
    /// ```
    ///
    /// Source: common practice, no source; the sum every workshop does on paper.
    pub const fn cut_length_mm(&self) -> f64 {
        self.clamp_top_mm() + self.spacers_over_mm - self.gap_mm
    }

    /// Top of the stem's clamp, from the crown-race seat, mm.
    ///
    /// Source: sum of lengths.
    pub const fn clamp_top_mm(&self) -> f64 {
        self.clamp_bottom_mm() + self.clamp_height_mm
    }

    /// Foot of the stem's clamp, from the crown-race seat, mm.
    ///
    /// Source: sum of lengths.
    pub const fn clamp_bottom_mm(&self) -> f64 {
        self.lower_stack_mm + self.head_tube_mm + self.cover_mm + self.spacers_under_mm
    }

    /// How far the cut steerer stands above the top of the stem's clamp, mm; negative when it ends inside the clamp.
    ///
    /// Source: difference of lengths.
    pub const fn proud_of_clamp_mm(&self) -> f64 {
        self.cut_length_mm() - self.clamp_top_mm()
    }

    /// The same stack with as many spacers under the stem as a steerer of this length still takes.
    ///
    /// The spacers over the stem and the gap stay. A negative number of millimetres comes back when the steerer is
    /// too short for this stem on this frame, by that much.
    ///
    /// Source: [`SteererStack::cut_length_mm`] solved for the spacers.
    pub const fn most_spacers_under_mm(&self, steerer_length_mm: f64) -> f64 {
        self.spacers_under_mm + steerer_length_mm - self.cut_length_mm()
    }

    /// The gap this stack leaves above a steerer already cut, mm; negative when the steerer stands above everything
    /// and the cap cannot preload the bearings.
    ///
    /// Source: [`SteererStack::cut_length_mm`] solved for the gap.
    pub const fn gap_over_mm(&self, steerer_length_mm: f64) -> f64 {
        self.clamp_top_mm() + self.spacers_over_mm - steerer_length_mm
    }

    /// How well an expander plug backs the stem's clamp from inside.
    ///
    /// Source: overlap of two intervals.
    pub fn backing(&self, expander: Expander) -> Backing {
        let top_mm = self.cut_length_mm() - expander.depth_mm;
        let bottom_mm = top_mm - expander.grip_length_mm;
        Backing {
            backed_mm: (top_mm.min(self.clamp_top_mm()) - bottom_mm.max(self.clamp_bottom_mm())).max(0.0),
            bare_above_mm: (self.clamp_top_mm() - top_mm).clamp(0.0, self.clamp_height_mm),
            bare_below_mm: (bottom_mm - self.clamp_bottom_mm()).clamp(0.0, self.clamp_height_mm),
        }
    }
}

/// An expander plug in the top of the steerer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expander {
    /// Length over which it presses on the steerer's inside, mm.
    pub grip_length_mm: f64,
    /// From the steerer's end down to the top of that length, mm.
    pub depth_mm: f64,
}

/// The part of the stem's clamp that an expander backs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Backing {
    /// Length of clamp with the expander behind it, mm.
    pub backed_mm: f64,
    /// Length of clamp above the expander, mm.
    pub bare_above_mm: f64,
    /// Length of clamp below the expander, mm.
    pub bare_below_mm: f64,
}
