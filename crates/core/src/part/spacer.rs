//! Spacer on the steerer.

use crate::choice;

choice! {
    /// Where a spacer sits.
    pub enum SpacerPlace {
        /// Under the stem.
        Under = "under the stem",
        /// Over the stem.
        Over = "over the stem",
    }
}

part! {
    /// A spacer on the steerer.
    pub struct Spacer {
        height_mm: Length(0.2..60.0) "Height along the steerer.",
        sits: Choice<SpacerPlace> "Where it sits.",
        shape: Text "Shape id: round, or the maker's own.",
        split: YesNo "Comes off without freeing the hoses.",
        hose_passage: YesNo "Lets hoses through.",
        material: Choice<crate::part::Material> "What it is made of.",
    }
}
