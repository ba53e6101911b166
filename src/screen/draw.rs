//! Owns the full screen's layout: which part gets which lines at which size. Colour only underlines what words and signs say.

use super::{Ears, Label, Last, Listening, Picture, Probe, View, Who, connector, glyphs::large, wording};
use crate::{session::Kind, words::Words};
use ratatui::{
    Frame,
    layout::{Position, Rect},
    style::{Color, Modifier, Style},
    text::{Line, Span},
    widgets::{Block, BorderType},
};

/// How it looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look {
    /// Whether colours are used at all.
    pub colour: bool,
}

impl Look {
    fn coloured(self, style: Style, colour: Color) -> Style {
        if self.colour { style.fg(colour) } else { style }
    }
}

/// Levels between which the bar is drawn, in decibels against full scale.
const BAR_DB: (f32, f32) = (-70.0, 0.0);
/// Cells of the bar.
const BAR: usize = 28;

/// Draws the picture over the whole frame, at any size.
pub fn draw(frame: &mut Frame, picture: &Picture, look: Look, words: &Words) {
    let area = frame.area();
    let mut page =
        Page { frame, look, words, left: area.x, width: area.width, top: area.y, bottom: area.bottom() };
    let tall = area.height;
    page.typing(&picture.typing);
    let Some(view) = &picture.view else {
        page.log(picture);
        return;
    };
    page.header(view);
    if tall >= 14 {
        page.progress(view);
    }
    page.may_be_said(&view.may_be_said, if tall >= 20 { 2 } else { u16::from(tall >= 12) });
    match (&view.probe, tall) {
        (Some(probe), 34..) => page.probe(probe, view.last.as_ref(), 16),
        (Some(probe), 23..) => page.probe(probe, view.last.as_ref(), 9),
        (Some(probe), 16..) => page.probe(probe, view.last.as_ref(), 6),
        (Some(probe), _) => page.probe_in_one_line(probe, view.last.as_ref()),
        (None, 34..) => page.word(&view.word, 8),
        (None, 16..) => page.word(&view.word, 4),
        (None, _) => {}
    }
    page.prompt(picture, view.aside.as_deref(), if view.probe.is_some() && tall < 34 { 3 } else { 5 });
    if tall >= 12 {
        page.came_in(picture);
        page.hearing(picture.listening);
    }
    if let Some(notice) = &picture.notice {
        page.notice(notice);
    }
    if view.probe.is_some() {
        page.connector(view);
    }
    page.log(picture);
}

/// The part of the frame that is still free, filled from both ends.
struct Page<'a, 'b> {
    frame: &'a mut Frame<'b>,
    look: Look,
    words: &'a Words,
    left: u16,
    width: u16,
    top: u16,
    bottom: u16,
}

impl Page<'_, '_> {
    fn free(&self) -> u16 {
        self.bottom.saturating_sub(self.top)
    }

    fn width(&self) -> usize {
        usize::from(self.width)
    }

    /// The next lines from above; fewer where fewer are left.
    fn take(&mut self, lines: u16) -> Rect {
        let height = lines.min(self.free());
        let area = Rect::new(self.left, self.top, self.width, height);
        self.top += height;
        area
    }

    fn take_from_below(&mut self, lines: u16) -> Rect {
        let height = lines.min(self.free());
        self.bottom -= height;
        Rect::new(self.left, self.bottom, self.width, height)
    }

    fn line(&mut self, line: Line<'_>) {
        let area = self.take(1);
        self.frame.render_widget(line, area);
    }

    fn put(&mut self, area: Rect, lines: Vec<Line<'_>>) {
        for (line, row) in lines.into_iter().zip(area.rows()) {
            self.frame.render_widget(line, row);
        }
    }

    fn typing(&mut self, typing: &str) {
        let area = self.take_from_below(1);
        if area.is_empty() {
            return;
        }
        // The end is what matters when it is longer than the line.
        let room = self.width().saturating_sub(4);
        let shown: String = typing.chars().skip(typing.chars().count().saturating_sub(room)).collect();
        let text = Line::from(vec![Span::styled("> ", bold()), Span::styled(shown, bold())]);
        let end = u16::try_from(text.width()).unwrap_or(u16::MAX).min(area.width.saturating_sub(1));
        let keys = self.words.text(&Label::Keys);
        if text.width() + Span::raw(keys.as_str()).width() + 2 <= self.width() {
            self.frame.render_widget(Line::styled(keys, dim()).right_aligned(), area);
        }
        self.frame.render_widget(text, area);
        self.frame.set_cursor_position(Position::new(area.x + end, area.y));
    }

    fn header(&mut self, view: &View) {
        let area = self.take(1);
        let invented = match view.profile.invented {
            true => format!("{}  ", self.words.text(&Label::Invented)),
            false => String::new(),
        };
        let stage = format!(" {} ", view.stage);
        let room = self.width().saturating_sub(Span::raw(stage.as_str()).width() + 1);
        let title = format!(" {}", cut(&format!("{invented}{}", view.profile.title), room));
        let style = bold().add_modifier(Modifier::REVERSED);
        self.frame.render_widget(Line::styled(" ".repeat(self.width()), style), area);
        self.frame.render_widget(Line::styled(title, style), area);
        self.frame.render_widget(Line::styled(stage, style).right_aligned(), area);
    }

    fn progress(&mut self, view: &View) {
        let progress = Label::Progress { done: view.done, planned: view.planned };
        let count = format!(" {}", self.words.text(&progress));
        let bar = self.width().saturating_sub(Span::raw(count.as_str()).width() + 2);
        let done = (bar * view.done).checked_div(view.planned).unwrap_or(0);
        let text = format!(" {}{}{count}", "━".repeat(done), "╌".repeat(bar - done));
        self.line(Line::raw(text));
    }

    /// The pin to probe at the left, the last reading with its verdict at the right.
    fn probe(&mut self, probe: &Probe, last: Option<&Last>, lines: u16) {
        let area = self.take(lines);
        let left = Rect { width: (area.width * 7 / 20).max(20).min(area.width), ..area };
        let right = Rect { x: left.right() + 2, width: area.width.saturating_sub(left.width + 3), ..area };
        let against = Label::Against { against: probe.against.to_string(), circuit: probe.circuit.clone() };
        let frame = Block::bordered()
            .border_type(BorderType::Thick)
            .title_top(Line::styled(format!(" {} ", self.words.text(&Label::Pin)), bold()))
            .title_bottom(Line::styled(format!(" {} ", self.words.text(&against)), bold()));
        let inside = frame.inner(left);
        self.frame.render_widget(frame, left);
        self.large(inside, probe.pin.as_str(), bold(), true);
        if right.width < 12 {
            return;
        }
        let Some(last) = last else {
            self.frame.render_widget(Line::raw(self.words.text(&Label::LastNone)), right);
            return;
        };
        let room = usize::from(right.width);
        let (reading, verdict) = (last.reading.clone(), last.verdict.clone());
        let labels = [self.last_with_pin(last), self.words.text(&Label::LastShort { reading, verdict })];
        let fits = |label: &&String| Span::raw(label.as_str()).width() <= room;
        let label = labels.iter().find(fits).unwrap_or(&labels[1]);
        self.frame.render_widget(Line::styled(cut(label, room), bold()), right);
        let half = right.height.saturating_sub(1) / 2;
        let value = Rect { y: right.y + 1, height: half, ..right };
        // A line between them where there is one to spare.
        let verdict = Rect { y: right.bottom().saturating_sub(half), height: half, ..right };
        self.large(value, &last.large, bold(), false);
        self.large(verdict, &last.large_verdict, self.verdict_style(last), false);
    }

    fn verdict_style(&self, last: &Last) -> Style {
        if last.suspect {
            self.look.coloured(bold().add_modifier(Modifier::REVERSED), Color::Red)
        } else {
            self.look.coloured(bold(), Color::Green)
        }
    }

    fn probe_in_one_line(&mut self, probe: &Probe, last: Option<&Last>) {
        let style = bold().add_modifier(Modifier::REVERSED);
        let (pin, against) = (probe.pin.to_string(), probe.against.to_string());
        let probe = Label::Probe { pin, against, circuit: probe.circuit.clone() };
        self.line(Line::styled(format!(" {} ", self.words.text(&probe)), style));
        if let Some(last) = last {
            let style = self.verdict_style(last);
            self.line(Line::styled(self.last_with_pin(last), style));
        }
    }

    fn last_with_pin(&self, last: &Last) -> String {
        let (pin, reading, verdict) = (last.pin.to_string(), last.reading.clone(), last.verdict.clone());
        self.words.text(&Label::Last { pin, reading, verdict })
    }

    fn word(&mut self, word: &str, lines: u16) {
        if !word.is_empty() {
            let area = self.take(lines);
            self.large(
                Rect { x: area.x + 1, width: area.width.saturating_sub(1), ..area },
                word,
                bold(),
                false,
            );
        }
    }

    /// Text as large as fits, else as plain text.
    fn large(&mut self, area: Rect, text: &str, style: Style, centred: bool) {
        let (width, height) = (usize::from(area.width), usize::from(area.height));
        let lines = large(text, width, height).unwrap_or_else(|| vec![text.to_owned()]);
        let above = if centred { height.saturating_sub(lines.len()) / 2 } else { 0 };
        let lines = std::iter::repeat_n(Line::default(), above).chain(lines.into_iter().map(|line| {
            let line = Line::from(Span::styled(line, style));
            if centred { line.centered() } else { line }
        }));
        self.put(area, lines.collect());
    }

    /// What was said last: read-back and what to do now.
    fn prompt(&mut self, picture: &Picture, aside: Option<&str>, at_most: u16) {
        let Some((kind, text)) = &picture.said else { return };
        let aside = aside.map_or(String::new(), |aside| format!("  [{aside}]"));
        let colour = match kind {
            Kind::Caution => Some(Color::Yellow),
            Kind::Question => Some(Color::Cyan),
            Kind::Prompt | Kind::Answer | Kind::Conclusion => None,
        };
        let tag = self.tag(wording::who(*kind));
        let mut style = bold();
        if let Some(colour) = colour {
            style = self.look.coloured(style, colour);
        }
        if *kind == Kind::Question {
            style = style.add_modifier(Modifier::UNDERLINED);
        }
        self.tagged(&tag, &format!("{text}{aside}"), style, at_most);
    }

    fn came_in(&mut self, picture: &Picture) {
        match &picture.came_in {
            Some((who, text)) => self.tagged(&self.tag(*who), text, Style::new(), 1),
            None => self.tagged(&self.tag(Who::Heard), "", Style::new(), 1),
        }
    }

    fn tag(&self, who: Who) -> String {
        self.words.text(&who).to_uppercase()
    }

    fn hearing(&mut self, listening: Listening) {
        let label = match (listening.ears, listening.levels) {
            (Ears::None, _) => Label::EarsNone,
            (Ears::OwnVoice, _) => Label::EarsOwnVoice,
            (Ears::Shut, _) => Label::EarsShut,
            (Ears::Open, None) => Label::EarsOpen,
            (Ears::Open, Some(levels)) => Label::EarsLevels {
                speech: levels.speech,
                // Decibels of a sound card: far within the range, and a silent one saturates.
                level: levels.level_dbfs.round() as i32,
                room: levels.room_dbfs.round() as i32,
                lost: u32::try_from(levels.dropped).unwrap_or(u32::MAX),
            },
        };
        let text = self.words.text(&label);
        let text = match (listening.ears, listening.levels) {
            (Ears::Open, Some(levels)) => format!("{}  {text}", bar(levels.level_dbfs, levels.room_dbfs)),
            _ => text,
        };
        let tag = self.words.text(&Label::Hears);
        self.tagged(&tag, &text, Style::new(), 1);
    }

    fn notice(&mut self, text: &str) {
        let style = self.look.coloured(bold(), Color::Yellow);
        self.tagged(&self.tag(Who::Notice), text, style, 2);
    }

    /// A word in front, and the text beside it over several lines.
    fn tagged(&mut self, tag: &str, text: &str, style: Style, at_most: u16) {
        const MARGIN: usize = 9;
        let texts = wrap(text, self.width().saturating_sub(MARGIN + 2).max(10));
        for (number, text) in texts.into_iter().take(usize::from(at_most)).enumerate() {
            let tag = if number == 0 { tag } else { "" };
            self.line(Line::from(vec![
                Span::styled(format!(" {tag:<MARGIN$}"), dim()),
                Span::styled(text, style),
            ]));
        }
    }

    fn may_be_said(&mut self, text: &str, at_most: u16) {
        let texts = wrap(text, self.width().saturating_sub(2).max(10));
        let lines = u16::try_from(texts.len()).unwrap_or(at_most).min(at_most);
        let area = self.take_from_below(lines);
        self.put(area, texts.into_iter().map(|text| Line::raw(format!(" {text}"))).collect());
    }

    fn connector(&mut self, view: &View) {
        let free = usize::from(self.free());
        if free < 2 {
            return;
        }
        // The rows go before all else where lines are few, then in which place, seen from where, and the signs.
        let rows = connector::rows(view).min(free);
        let more = free - rows;
        let width = self.width().saturating_sub(1);
        if more > 4 {
            self.take(1);
        }
        if more > 0 {
            self.line(Line::styled(format!(" {}", cut(&connector::place(view, self.words), width)), bold()));
        }
        for line in connector::lines(view, self.width(), rows) {
            self.line(line);
        }
        if more > 1 {
            let from = view.profile.connector.seen_from.clone();
            let seen_from = self.words.text(&Label::SeenFrom { from });
            self.line(Line::raw(format!(" {}", cut(&seen_from, width))));
        }
        if more > 2 {
            self.line(Line::styled(format!(" {}", cut(&self.words.text(&Label::Legend), width)), dim()));
        }
    }

    /// The lines before the last one, as many as there is room for.
    fn log(&mut self, picture: &Picture) {
        const MARGIN: usize = 9;
        let lines = usize::from(self.free());
        if lines < 3 {
            return;
        }
        if picture.view.is_some() {
            self.line(Line::styled(format!(" {}", "╌".repeat(self.width().saturating_sub(2))), dim()));
        }
        let width = self.width().saturating_sub(MARGIN + 2).max(10);
        let mut rows = Vec::new();
        // The line said last stands above already.
        let said = picture.said.as_ref().map(|(_, said)| said).filter(|_| picture.view.is_some());
        let above = picture.lines.iter().rposition(|(_, text)| Some(text) == said);
        for (place, (who, text)) in picture.lines.iter().enumerate().rev() {
            if Some(place) == above {
                continue;
            }
            for (number, text) in wrap(text, width).into_iter().enumerate().rev() {
                let who = if number == 0 { self.words.text(who) } else { String::new() };
                rows.push(Line::raw(format!(" {who:<MARGIN$}{text}")));
            }
            if rows.len() >= lines {
                break;
            }
        }
        rows.truncate(usize::from(self.free()));
        rows.reverse();
        let area = self.take(self.free());
        self.put(area, rows);
    }
}

fn bold() -> Style {
    Style::new().add_modifier(Modifier::BOLD)
}

fn dim() -> Style {
    Style::new().add_modifier(Modifier::DIM)
}

/// The level as a bar, with the room's level marked in it.
fn bar(level: f32, room: f32) -> String {
    let cell = |level: f32| {
        let share = ((level - BAR_DB.0) / (BAR_DB.1 - BAR_DB.0)).clamp(0.0, 1.0);
        // Between 0 and BAR, so that the cast is exact.
        (share * BAR as f32).round() as usize
    };
    let (level, room) = (cell(level), cell(room).min(BAR - 1));
    (0..BAR)
        .map(|place| match place {
            _ if place == room => '|',
            _ if place < level => '█',
            _ => '·',
        })
        .collect()
}

/// The text, cut to so many columns with a sign that it was.
fn cut(text: &str, width: usize) -> String {
    if Span::raw(text).width() <= width {
        return text.to_owned();
    }
    let mut cut = String::new();
    for letter in text.chars() {
        if Span::raw(format!("{cut}{letter}…")).width() > width {
            break;
        }
        cut.push(letter);
    }
    cut + "…"
}

/// The text in lines of at most `width` columns, broken at spaces; longer words are cut.
fn wrap(text: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    let mut used = 0;
    for word in text.split_whitespace() {
        let mut word = word;
        let wide = Span::raw(word).width();
        if used > 0 && used + 1 + wide > width {
            lines.push(String::new());
            used = 0;
        }
        while used == 0 && Span::raw(word).width() > width {
            let (head, tail) = word.split_at(word.char_indices().nth(width).map_or(word.len(), |(at, _)| at));
            if tail.is_empty() {
                break;
            }
            lines.last_mut().expect("there is one always").push_str(head);
            lines.push(String::new());
            word = tail;
        }
        let line = lines.last_mut().expect("there is one always");
        if used > 0 {
            line.push(' ');
            used += 1;
        }
        line.push_str(word);
        used += Span::raw(word).width();
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_wrapped_at_spaces_and_long_words_are_cut() {
        assert_eq!(wrap("one two three", 7), ["one two", "three"]);
        assert_eq!(wrap("abcdefghij kl", 4), ["abcd", "efgh", "ij", "kl"]);
        assert_eq!(wrap("", 4), [""]);
    }

    #[test]
    fn the_bar_marks_level_and_room() {
        assert_eq!(bar(-35.0, -70.0), format!("|{}{}", "█".repeat(13), "·".repeat(14)));
        assert_eq!(bar(f32::NEG_INFINITY, -35.0), format!("{}|{}", "·".repeat(14), "·".repeat(13)));
        assert_eq!(bar(3.0, 3.0), format!("{}|", "█".repeat(27)));
        assert_eq!(bar(f32::NAN, -70.0).chars().count(), BAR);
    }
}
