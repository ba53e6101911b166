//! Tests of the whole judgement, on an invented part.

mod fixture;
mod live;
mod many;
mod promises;
