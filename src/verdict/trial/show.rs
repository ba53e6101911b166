//! Owns how a trial's results are shown: a table in Markdown and a plot in SVG.

use super::{
    model::FaultKind,
    run::{Calibration, Cell, Results},
};
use std::fmt::Write as _;

/// The results as a table.
#[must_use]
pub fn markdown(results: &Results) -> String {
    let mut text = String::new();
    let mut line = |part: String| {
        text.push_str(&part);
        text.push('\n');
    };
    line(format!(
        "{} simulated parts, seed {}. False alarms of the engine on sound parts: {:.2} % (worst cell {:.2} %). The ways by \
         hand have one threshold each that gives them the same share: {}.\n",
        results.parts,
        results.seed,
        100.0 * results.false_alarms,
        100.0 * results.worst_false_alarms,
        results
            .thresholds
            .iter()
            .map(|(rival, threshold)| format!("{rival:?} {threshold:.3}"))
            .collect::<Vec<_>>()
            .join(", ")
    ));
    line("| fault | size | engine | fixed window | plain average | 3-sigma | engine names right | window | average | 3-sigma |".into());
    line("|---|---|---|---|---|---|---|---|---|---|".into());
    for row in &results.faults {
        let percent = |share: f64| format!("{:.1} %", 100.0 * share);
        line(format!(
            "| {}{} | {:.0} % | **{}** | {} | {} | {} |",
            words(row.kind),
            if row.held_apart { " (held apart)" } else { "" },
            100.0 * row.size,
            percent(row.engine),
            row.rivals.map(percent).join(" | "),
            percent(row.engine_right),
            row.rivals_right.map(percent).join(" | "),
        ));
    }
    line(format!(
        "\nCells compared: {}. Lost with one threshold each: {}. Lost to ways by hand that have a threshold of their own in \
         every cell: {}. The same with the cells parted by kind of part, {} of them: {}.\n",
        results.cells,
        results.lost.len(),
        results.lost_to_own_thresholds.len(),
        results.cells_by_part,
        results.lost_by_part.len()
    ));
    lost(&mut line, "Lost with one threshold each", &results.lost);
    lost(&mut line, "Lost to thresholds of their own in every cell", &results.lost_to_own_thresholds);
    lost(&mut line, "Lost to thresholds of their own, cells parted by kind of part", &results.lost_by_part);
    line("\n| members | most standard deviations possible | found by the 3-sigma rule as taught, one circuit 50 % high |".into());
    line("|---|---|---|".into());
    for (size, most, found) in &results.three_sigma_can_fire {
        line(format!("| {size} | {most:.2} | {:.1} % |", 100.0 * found));
    }
    for (title, table) in [
        ("Certainty stated and right, kinds tuned on", &results.calibration),
        ("The same, kinds held apart", &results.calibration_held_apart),
    ] {
        line(format!("\n{title}:\n"));
        line("| stated | parts | mean stated | right |".into());
        line("|---|---|---|---|".into());
        for Calibration { from, to, parts, stated, right } in table {
            line(format!("| {from} to {to} | {parts} | {stated:.3} | {right:.3} |"));
        }
    }
    line("\nStated between 0.5 and 0.9, by kind of fault:\n".into());
    line("| fault | parts | mean stated | right |".into());
    line("|---|---|---|---|".into());
    for (kind, parts, stated, right) in &results.calibration_of_kinds {
        let apart = if kind.held_apart() { " (held apart)" } else { "" };
        line(format!("| {}{apart} | {parts} | {stated:.3} | {right:.3} |", words(*kind)));
    }
    text
}

fn lost(line: &mut impl FnMut(String), title: &str, cells: &[Cell]) {
    if cells.is_empty() {
        return;
    }
    line(format!("\n{title}:\n"));
    line("| members | temperature ± | meter | contact | fault | size | engine (false) | best by hand (false) |".into());
    line("|---|---|---|---|---|---|---|---|".into());
    for cell in cells {
        line(format!(
            "| {} | {} K | {} | {} Ω | {}{} | {:.0} % | {:.1} % ({:.1} %) | {:?} {:.1} % ({:.1} %) |",
            cell.members,
            cell.temperature_by,
            cell.meter,
            cell.contact,
            words(cell.kind),
            cell.part.map_or(String::new(), |ohms| format!(", {ohms} Ω")),
            100.0 * cell.size,
            100.0 * cell.engine,
            100.0 * cell.engine_false,
            cell.rival,
            100.0 * cell.detects,
            100.0 * cell.rival_false,
        ));
    }
}

fn words(kind: FaultKind) -> &'static str {
    match kind {
        FaultKind::OneHigh => "one high",
        FaultKind::OneLow => "one low",
        FaultKind::TwoHigh => "two high",
        FaultKind::AllShifted => "all shifted (naming one is wrong)",
        FaultKind::OneHighOneLow => "one high, one low",
        FaultKind::TwoLowUnequal => "two low, unequal",
        FaultKind::OneHighOneBadContact => "one high, one bad contact",
        FaultKind::OneLowWhileCooling => "one low, cooling by 15 K",
    }
}

/// Detection against fault size, one panel for each kind that names circuits.
#[must_use]
pub fn plot(results: &Results) -> String {
    const SERIES: [(&str, &str, &str); 4] = [
        ("engine", "#1b5e9b", ""),
        ("fixed window", "#b3541e", "6 3"),
        ("plain average", "#4d7c3a", "2 3"),
        ("3-sigma", "#777777", "8 3 2 3"),
    ];
    let kinds: Vec<FaultKind> = FaultKind::ALL.into_iter().filter(|kind| kind.names_circuits()).collect();
    let (wide, high, columns) = (230.0, 190.0, 4);
    let rows = kinds.len().div_ceil(columns);
    let (width, height) = (wide * columns as f64 + 20.0, high * rows as f64 + 40.0);
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\" \
         font-size=\"10\">\n<title>Detection against fault size at equal false alarms</title>\n<rect width=\"{width}\" \
         height=\"{height}\" fill=\"white\"/>\n"
    );
    for (at, kind) in kinds.iter().enumerate() {
        let left = 40.0 + wide * (at % columns) as f64;
        let top = 25.0 + high * (at / columns) as f64;
        let (inner_w, inner_h) = (wide - 55.0, high - 60.0);
        let _ = writeln!(
            svg,
            "<text x=\"{left}\" y=\"{:.0}\" font-weight=\"bold\">{}</text>",
            top - 6.0,
            words(*kind)
        );
        let _ = writeln!(
            svg,
            "<rect x=\"{left}\" y=\"{top}\" width=\"{inner_w}\" height=\"{inner_h}\" fill=\"none\" stroke=\"#aaa\"/>"
        );
        for share in [0.0, 0.5, 1.0] {
            let _ = writeln!(
                svg,
                "<text x=\"{:.0}\" y=\"{:.1}\" text-anchor=\"end\">{:.0} %</text>",
                left - 3.0,
                top + inner_h * (1.0 - share) + 3.0,
                share * 100.0
            );
        }
        for size in [0.1, 0.25, 0.5] {
            let _ = writeln!(
                svg,
                "<text x=\"{:.1}\" y=\"{:.0}\" text-anchor=\"middle\">{:.0} %</text>",
                left + inner_w * size / 0.5,
                top + inner_h + 12.0,
                size * 100.0
            );
        }
        for (series, (_, colour, dash)) in SERIES.iter().enumerate() {
            let points: Vec<String> = results
                .faults
                .iter()
                .filter(|row| row.kind == *kind)
                .map(|row| {
                    let share = if series == 0 { row.engine } else { row.rivals[series - 1] };
                    format!("{:.1},{:.1}", left + inner_w * row.size / 0.5, top + inner_h * (1.0 - share))
                })
                .collect();
            let _ = writeln!(
                svg,
                "<polyline points=\"{}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"2\" stroke-dasharray=\"{dash}\"/>",
                points.join(" ")
            );
        }
    }
    for (series, (name, colour, dash)) in SERIES.iter().enumerate() {
        let x = 40.0 + 160.0 * series as f64;
        let y = height - 12.0;
        let _ = writeln!(
            svg,
            "<line x1=\"{x}\" y1=\"{y}\" x2=\"{}\" y2=\"{y}\" stroke=\"{colour}\" stroke-width=\"2\" \
             stroke-dasharray=\"{dash}\"/><text x=\"{}\" y=\"{}\">{name}</text>",
            x + 26.0,
            x + 32.0,
            y + 3.0
        );
    }
    svg.push_str("</svg>\n");
    svg
}
