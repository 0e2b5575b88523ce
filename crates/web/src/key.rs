//! A key for a request, drawn anew for each form: by it a second tap on the same button is known as the same request.

use std::collections::hash_map::RandomState;
use std::hash::{BuildHasher, Hasher};

/// A key nobody drew before: 128 bits from the system's randomness. It is no secret and opens nothing.
pub(crate) fn draw() -> String {
    let bits = || RandomState::new().build_hasher().finish();
    format!("{:016x}{:016x}", bits(), bits())
}
