//! Opens soon.
