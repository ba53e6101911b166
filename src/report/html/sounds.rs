//! Owns how the sound of a session stands in its page: as a link to the clip beside the journal, or inside the page itself.

use super::{
    super::{
        said::{Heading, Name, Sentence},
        wording::{Wording, plain},
    },
    Column::Words,
    columns,
    escape::{Free, link_step},
    readings, wide,
};
use crate::report::{Enclosed, Intake, Record};
use base64::{Engine as _, prelude::BASE64_STANDARD};
use maud::{Markup, html};
use std::{cell::RefCell, collections::BTreeSet};

/// Where the sound of a page is.
pub(super) enum Sounds<'a> {
    /// In `clips/`, beside the page.
    Beside,
    /// In the page. The set holds the names of those that already stand in it: each is put in once.
    Inside(&'a [Enclosed], RefCell<BTreeSet<&'a str>>),
}

impl<'a> Sounds<'a> {
    pub(super) fn inside(clips: &'a [Enclosed]) -> Self {
        Self::Inside(clips, RefCell::default())
    }

    /// From where the page may take sound, as a content policy has it.
    pub(super) fn policy(&self) -> &'static str {
        match self {
            Self::Beside => "'self' file:",
            Self::Inside(..) => "data:",
        }
    }

    /// The sound of one intake, or nothing where it has none.
    pub(super) fn of(&self, intake: &Intake, to: Wording<'_>) -> Markup {
        let Some(name) = intake.clip.as_deref() else { return Markup::default() };
        match self {
            Self::Beside => match link_step(name) {
                Some(link) => player(name, &format!("clips/{link}"), "none", None, to),
                None => Markup::default(),
            },
            Self::Inside(clips, placed) => match clips.iter().position(|clip| clip.name == name) {
                Some(at) => inside(at, &clips[at], placed, to),
                None => Markup::default(),
            },
        }
    }

    /// What no table of the page has: commands, talk, noise. Nothing where sound lies beside the page.
    pub(super) fn others(&self, record: &Record, to: Wording<'_>) -> Markup {
        let Self::Inside(clips, placed) = self else { return Markup::default() };
        let left: Vec<usize> =
            (0..clips.len()).filter(|at| !placed.borrow().contains(clips[*at].name.as_str())).collect();
        if left.is_empty() {
            return Markup::default();
        }
        let heading = to.say(&Heading::OtherSound);
        let table = html! {
            table.readings.cards {
                (columns(&[Words(Name::Time), Words(Name::CameIn), Words(Name::Listen)], to))
                tbody {
                    @for at in left {
                        tr {
                            td.time data-name=(to.say(&Name::Time)) { (readings::time(record, clips[at].at, to)) }
                            td data-name=(to.say(&Name::CameIn)) {
                                @if let Some(words) = readings::opinions(&clips[at].opinions, to) { (words) }
                            }
                            td { (inside(at, &clips[at], placed, to)) }
                        }
                    }
                }
            }
        };
        html! { section { h2 { (heading) } (wide(&heading, &table)) p.hint { (to.say(&Sentence::OtherSoundHint)) } } }
    }
}

/// One clip inside the page; where it stands in it already, the way to it.
fn inside<'a>(at: usize, clip: &'a Enclosed, placed: &RefCell<BTreeSet<&'a str>>, to: Wording<'_>) -> Markup {
    let id = format!("s{at}");
    let sound = match &clip.sound {
        Ok(sound) => sound,
        Err(why) => {
            placed.borrow_mut().insert(&clip.name);
            return html! { p.remark.nosound { (to.say(why)) } span.clip { (Free(&clip.name)) } };
        }
    };
    if !placed.borrow_mut().insert(&clip.name) {
        return html! { a.clip href=(format!("#{id}")) { (Free(&clip.name)) } };
    }
    let source = format!("data:audio/ogg;base64,{}", BASE64_STANDARD.encode(sound));
    player(&clip.name, &source, "metadata", Some(&id), to)
}

fn player(name: &str, source: &str, preload: &str, id: Option<&str>, to: Wording<'_>) -> Markup {
    html! {
        audio controls id=[id] preload=(preload) src=(source)
            aria-label=(format!("{} {}", to.say(&Name::Listen), plain(name))) {}
        span.clip { (Free(name)) }
    }
}
