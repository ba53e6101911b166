//! Owns the densities of a group's readings at one place and one spread: sound of either shape, off, slipped, and how each
//! fits into the window with that.

use super::{
    super::{
        density::{Blur, Local, between},
        priors::*,
    },
    Member, Seen, Setting,
};

/// What keeps a product from being nothing.
pub const TINY: f64 = 1e-200;

/// A group made ready: what does not depend on place and spread.
pub struct Scene<'m> {
    members: &'m [Member],
    /// Limits as logarithms, with one over the width.
    windows: Vec<(f64, f64, f64)>,
    /// How far each member's own value is inside each window.
    gates: Vec<f64>,
    soft: f64,
    /// Blurs that differ, and which each member has.
    blurs: Vec<Blur>,
    blur_of: Vec<usize>,
    /// What was learned says of each member's value.
    learned: Vec<f64>,
    /// Logarithm of the weight of each fault rate.
    pub weights: [f64; 3],
    /// Each member's fault rates.
    pub rates: Vec<[f64; 3]>,
    /// The one rate of those that are off together.
    pub together: Vec<[f64; 3]>,
    locals: Vec<Local>,
    at: Vec<f64>,
    pub here: Here,
}

/// The densities at one place and spread, a value for each member.
#[derive(Default)]
pub struct Here {
    /// The place in ohms.
    pub m: f64,
    /// Density of the place in the window.
    pub on: f64,
    pub sound: [Vec<f64>; 2],
    pub off: Vec<f64>,
    pub matter: Vec<f64>,
    pub slipped: Vec<f64>,
    pub fit: Vec<f64>,
    pub out: Vec<f64>,
}

fn rate(p: f64, odds: f64) -> f64 {
    let odds = p / (1.0 - p) * odds;
    (odds / (1.0 + odds)).min(0.95)
}

/// The fault rates of each member, its odds in them.
pub fn rates(members: &[Member], all: [f64; 3]) -> Vec<[f64; 3]> {
    members.iter().map(|member| all.map(|p| rate(p, member.odds))).collect()
}

/// How well a sound member goes with what was learned of it.
pub fn learned(member: &Member) -> f64 {
    match (member.seen, member.learned) {
        (Seen::Number(y), Some((expected, u))) => {
            UNLIKE_LEARNED + (1.0 - UNLIKE_LEARNED) * (-0.5 * ((y - expected) / u).powi(2)).exp()
        }
        _ => 1.0,
    }
}

/// The number that a member would have if its prefix is as it should be.
pub fn number(member: &Member) -> Option<f64> {
    match (member.seen, member.slip) {
        (Seen::Number(_), Some((value, _))) => Some(value),
        (Seen::Number(value), None) => Some(value),
        _ => None,
    }
}

impl<'m> Scene<'m> {
    pub fn new(members: &'m [Member], setting: &Setting, reference: f64, soft: f64) -> Self {
        let count = members.len();
        let windows: Vec<(f64, f64, f64)> = setting
            .windows
            .iter()
            .map(|(low, high)| {
                let low = low.max(1e-9);
                (low.ln(), high.max(2e-9).ln(), 1.0 / (high / low).ln().max(1e-6))
            })
            .collect();
        let mut gates = Vec::with_capacity(count * windows.len());
        for member in members {
            let x = number(member).map(|value| value.max(1e-3 * reference).ln());
            gates.extend(windows.iter().map(|window| x.map_or(1.0, |x| inside(x, window, soft))));
        }
        let mut blurs: Vec<Blur> = Vec::new();
        let blur_of = members
            .iter()
            .map(|member| {
                blurs.iter().position(|known| *known == member.blur).unwrap_or_else(|| {
                    blurs.push(member.blur);
                    blurs.len() - 1
                })
            })
            .collect();
        let learned = members.iter().map(learned).collect();
        let zeros = vec![0.0; count];
        Self {
            members,
            at: vec![0.0; windows.len()],
            windows,
            gates,
            soft,
            locals: vec![Local::default(); blurs.len()],
            blurs,
            blur_of,
            learned,
            weights: setting.rates.map(|(_, weight)| weight.ln()),
            rates: rates(members, setting.rates.map(|(p, _)| p)),
            together: rates(members, [GROUP_RATE; 3]),
            here: Here {
                m: 0.0,
                on: 0.0,
                sound: [zeros.clone(), zeros.clone()],
                off: zeros.clone(),
                matter: zeros.clone(),
                slipped: zeros.clone(),
                fit: vec![1.0; count],
                out: zeros,
            },
        }
    }

    /// Works out the densities at the logarithm `t` of a place with the spread `s`.
    pub fn go(&mut self, t: f64, s: f64, shapes: [f64; 2]) {
        let m = t.exp();
        self.here.m = m;
        self.window(t);
        for at in 0..self.blurs.len() {
            self.locals[at].go(m, s, &self.blurs[at]);
        }
        let normal = shapes[0] > 0.0;
        let here = &mut self.here;
        for i in 0..self.members.len() {
            let member = &self.members[i];
            match member.seen {
                Seen::Number(y) => {
                    let local = &self.locals[self.blur_of[i]];
                    let known = self.learned[i];
                    here.sound[0][i] = if normal { known * local.sound(y) } else { 0.0 };
                    here.sound[1][i] = known * local.even(y);
                    here.off[i] = local.off(y);
                    here.slipped[i] = member.slip.map_or(0.0, |(value, factor)| {
                        SLIP * Local::new(m, s.max(0.01), &member.blur).sound(value) / factor
                    });
                }
                Seen::Open | Seen::Wanders(_) => {
                    let (rare, off) = match member.seen {
                        Seen::Wanders(how) => (SOUND_WANDERS[how as usize], OFF_WANDERS),
                        _ => (SOUND_OPEN, KINDS[2]),
                    };
                    here.sound[0][i] = rare;
                    here.sound[1][i] = rare;
                    here.off[i] = off;
                    here.slipped[i] = 0.0;
                }
            }
        }
    }

    /// Which share of what is off matters, where [`Self::go`] went.
    pub fn matters(&mut self) {
        for i in 0..self.members.len() {
            self.here.matter[i] = match self.members[i].seen {
                Seen::Number(y) => self.locals[self.blur_of[i]].matters(y).max(self.here.out[i]),
                _ => 1.0,
            };
        }
    }

    /// The window's density of the place, and how each sound circuit fits into it with that.
    fn window(&mut self, t: f64) {
        let here = &mut self.here;
        if self.windows.is_empty() {
            here.on = 1.0 / DECADES;
            return;
        }
        let (mut sum, mut own) = (0.0, 0.0);
        for (at, window) in self.at.iter_mut().zip(&self.windows) {
            *at = inside(t, window, self.soft) * window.2;
            sum += *at;
            own += *at * *at / window.2;
        }
        here.on = (1.0 - FAMILY_OFF) * sum / self.windows.len() as f64;
        let count = self.windows.len();
        for i in 0..self.members.len() {
            let both: f64 =
                self.at.iter().zip(&self.gates[i * count..(i + 1) * count]).map(|(a, g)| a * g).sum();
            here.fit[i] = ((both + 1e-12) / (own + 1e-12)).min(1.0);
            here.out[i] = if sum > 0.0 { (1.0 - both / sum).clamp(0.0, 1.0) } else { 1.0 };
        }
    }

    /// Density of each member if it is off together with others by `factor`.
    pub fn shifted(&self, factor: f64, s: f64, into: &mut [f64]) {
        let m = self.here.m;
        let wide =
            |blur: &Blur| (m * factor * s).hypot(blur.contact).hypot(GROUP_SMEAR * (factor - 1.0).abs() * m);
        for (density, member) in into.iter_mut().zip(self.members) {
            *density = match member.seen {
                Seen::Number(y) => {
                    let blur = &member.blur;
                    super::super::density::rounded(y - m * factor - blur.contact, wide(blur), blur.step)
                }
                _ => 0.1 * KINDS[2],
            };
        }
    }
}

fn inside(x: f64, (low, high, _): &(f64, f64, f64), soft: f64) -> f64 {
    between((low - x) / soft, (high - x) / soft)
}
