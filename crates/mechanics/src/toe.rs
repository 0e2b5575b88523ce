//! (toe overlap: being written)
