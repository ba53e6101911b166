//! Tests of the whole judgement, on an invented part.

mod any;
mod bounds;
mod calibrated;
mod fixture;
mod live;
mod many;
mod promises;
mod sources;
