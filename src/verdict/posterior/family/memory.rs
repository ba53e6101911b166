//! Owns what was held before: a session judges again after each reading, and most groups have not changed since.
//!
//! A memory of a pure function, one for each thread: it changes no result, only when it is worked out.

use super::{Held, Member, Seen, Setting};
use std::{cell::RefCell, collections::HashMap, rc::Rc};

/// So many are remembered; then all are forgotten.
const MOST: usize = 4096;

thread_local! {
    static KNOWN: RefCell<HashMap<Box<[u64]>, Rc<Held>>> = RefCell::new(HashMap::new());
}

/// All that a result depends on, to the bit.
fn key(members: &[Member], setting: &Setting) -> Box<[u64]> {
    let mut key = Vec::with_capacity(12 * members.len() + 2 * setting.windows.len() + 12);
    let mut put = |value: f64| key.push(value.to_bits());
    put(setting.tolerance);
    put(setting.common.0);
    put(setting.common.1);
    put(f64::from(u8::from(setting.coarse)));
    for (p, weight) in setting.rates {
        put(p);
        put(weight);
    }
    put(setting.windows.len() as f64);
    for (low, high) in &setting.windows {
        put(*low);
        put(*high);
    }
    for member in members {
        match member.seen {
            Seen::Number(value) => {
                put(0.0);
                put(value);
            }
            Seen::Open => put(1.0),
            Seen::Wanders(how) => put(2.0 + f64::from(how as u8)),
        }
        put(member.blur.step);
        put(member.blur.contact);
        put(member.blur.own);
        put(member.blur.count);
        put(member.odds);
        for pair in [member.slip, member.learned] {
            match pair {
                None => put(0.0),
                Some((a, b)) => {
                    put(1.0);
                    put(a);
                    put(b);
                }
            }
        }
    }
    key.into_boxed_slice()
}

/// What is known for these, else what `work` makes.
pub fn recall(members: &[Member], setting: &Setting, work: impl FnOnce() -> Held) -> Rc<Held> {
    let key = key(members, setting);
    if let Some(held) = KNOWN.with_borrow(|known| known.get(&key).cloned()) {
        return held;
    }
    let held = Rc::new(work());
    KNOWN.with_borrow_mut(|known| {
        if known.len() >= MOST {
            known.clear();
        }
        known.insert(key, Rc::clone(&held));
    });
    held
}
