//! When a service was last done, under the id of the service (`chain-wear`, `brake-fluid-front`).
//!
//! Which services a bike wants is no part of the document: [`service`](crate::service) tells that from the parts fitted.

use crate::record;

record! {
    /// The last time that a service was done.
    pub struct ServiceRecord {
        on: Day "When it was last done.",
        read: Text "What was read, with the instrument: thickness, elongation, play.",
        by: Text "Who did it.",
        note: Text "Anything else.",
    }
}
