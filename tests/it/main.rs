//! One integration binary; each module is one behaviour of the whole.

mod units;
mod yaml;
