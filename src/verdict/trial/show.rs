//! Owns how a trial's results are shown: tables in Markdown and a plot in SVG.

use super::{
    rivals::Rival,
    run::{Cell, JUDGES, LEVELS, Lost, Results, WORST_FALSE_ALARMS},
    worlds::Fault,
};
use std::fmt::Write as _;

fn names() -> [&'static str; JUDGES] {
    std::array::from_fn(|who| if who == 0 { "engine" } else { Rival::ALL[who - 1].name() })
}

fn percent(share: f64) -> String {
    format!("{:.0}", 100.0 * share)
}

fn fault(fault: Fault, size: f64) -> String {
    let words = match fault {
        Fault::One => "one",
        Fault::TwoAlike => "two alike",
        Fault::TwoOpposite => "two opposite",
        Fault::Half => "half",
    };
    format!("{words} {:.0} %", 100.0 * size)
}

fn apart(held: bool) -> &'static str {
    if held { " (held apart)" } else { "" }
}

/// The results as tables.
#[must_use]
pub fn markdown(results: &Results) -> String {
    let mut text = String::new();
    let mut line = |part: String| {
        text.push_str(&part);
        text.push('\n');
    };
    line(format!(
        "{} simulated parts, seed {}, {} faulty ones in each cell. One threshold each for all worlds, so that in the worst one \
         {:.0} % of sound parts are accused: {}.\n",
        results.parts,
        results.seed,
        results.parts_per_cell,
        100.0 * WORST_FALSE_ALARMS,
        names()
            .iter()
            .zip(results.thresholds)
            .map(|(name, at)| format!("{name} {at:.3}"))
            .collect::<Vec<_>>()
            .join(", ")
    ));
    let columns = names().join(" | ");
    line("Sound parts that are accused, in percent; beside it the share where the engine by itself gives a circuit so much:\n".into());
    line(format!("| world | {columns} | engine ≥ {:.2} | engine ≥ {:.2} |", LEVELS[0], LEVELS[1]));
    line("|---".repeat(JUDGES + 3) + "|");
    for row in &results.sound {
        let alarms: Vec<String> = row.alarms.iter().map(|share| format!("{:.1}", 100.0 * share)).collect();
        line(format!(
            "| {}{} | {} | {:.1} | {:.1} |",
            row.world,
            apart(row.held),
            alarms.join(" | "),
            100.0 * row.levels[0],
            100.0 * row.levels[1]
        ));
    }
    line(
        "\nFaulty parts, alarm / exactly the faulty ones named, in percent, ONE threshold for all worlds:\n"
            .into(),
    );
    table(&mut line, &results.cells, &columns, |cell| &cell.one);
    line("\nThe same with a threshold of its own in each world, which nobody has in a workshop:\n".into());
    table(&mut line, &results.cells, &columns, |cell| &cell.own);
    let (parts, right) = results.cells.iter().fold((0, 0.0), |(parts, right), cell| {
        (parts + cell.failed_right.1, right + cell.failed_right.0 * cell.failed_right.1 as f64)
    });
    line(format!(
        "\nFaulty parts where the engine gives a circuit {:.2} or more: {parts}, all such circuits faulty in {:.1} %.",
        LEVELS[1],
        100.0 * right / parts.max(1) as f64
    ));
    lost(
        &mut line,
        "Exact set: cells lost to a rival with its one threshold, beyond chance",
        &results.lost,
        results.cells.len(),
    );
    lost(
        &mut line,
        "Alarms: cells lost to a rival with its one threshold, beyond chance",
        &results.lost_alarms,
        results.cells.len(),
    );
    line("\nFault in the structure (eight like circuits on one pin, one on pins of its own), in percent of the parts:\n".into());
    line("| what is wrong | parts | right cause leads | a sound circuit blamed | \"nothing found\" leads | mean certainty of what leads |".into());
    line("|---".repeat(6) + "|");
    for row in &results.structures {
        line(format!(
            "| {:?}{} | {} | {} | {} | {} | {:.2} |",
            row.structure,
            apart(row.held),
            row.parts,
            percent(row.right),
            percent(row.blamed),
            percent(row.nothing),
            row.stated
        ));
    }
    line("\nStated against true:\n".into());
    line("| what | fault rate | worlds | bin | count | mean stated | true |".into());
    line("|---".repeat(7) + "|");
    for row in &results.reliability {
        line(format!(
            "| {} | {:.0} % | {} | {} to {} | {} | {:.3} | {:.3} |",
            row.what,
            100.0 * row.fault_rate,
            if row.held { "held apart" } else { "seen" },
            row.from,
            row.to,
            row.count,
            row.stated,
            row.right
        ));
    }
    text
}

fn table(
    line: &mut impl FnMut(String),
    cells: &[Cell],
    columns: &str,
    shares: impl Fn(&Cell) -> &[(f64, f64); JUDGES],
) {
    line(format!("| world | fault | {columns} |"));
    line("|---".repeat(JUDGES + 2) + "|");
    for cell in cells {
        let all: Vec<String> = shares(cell)
            .iter()
            .map(|(alarm, exact)| format!("{}/{}", percent(*alarm), percent(*exact)))
            .collect();
        line(format!(
            "| {}{} | {} | {} |",
            cell.world,
            apart(cell.held),
            fault(cell.fault, cell.size),
            all.join(" | ")
        ));
    }
}

fn lost(line: &mut impl FnMut(String), title: &str, cells: &[Lost], of: usize) {
    line(format!("\n{title}: {} in {of} cells.\n", cells.len()));
    if cells.is_empty() {
        return;
    }
    line("| world | fault | engine | rival |".into());
    line("|---".repeat(4) + "|");
    for cell in cells {
        line(format!(
            "| {} | {} | {} | {} {} |",
            cell.world,
            fault(cell.fault, cell.size),
            percent(cell.engine),
            cell.rival.name(),
            percent(cell.rivals)
        ));
    }
}

/// Exact set against fault size for one faulty circuit, a panel for each world; one threshold for all.
#[must_use]
pub fn plot(results: &Results) -> String {
    const LOOKS: [(&str, &str); JUDGES] = [
        ("#1b5e9b", ""),
        ("#b3541e", "6 3"),
        ("#4d7c3a", "2 3"),
        ("#8a3b8f", "8 3 2 3"),
        ("#777777", "4 2"),
        ("#a08000", "1 2"),
    ];
    let (wide, high, columns) = (230.0, 190.0, 4);
    let rows = results.sound.len().div_ceil(columns);
    let (width, height) = (wide * columns as f64 + 20.0, high * rows as f64 + 40.0);
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\" \
         font-size=\"10\">\n<title>One faulty circuit: named alone, against its size, at one threshold for all worlds</title>\n\
         <rect width=\"{width}\" height=\"{height}\" fill=\"white\"/>\n"
    );
    for (at, row) in results.sound.iter().enumerate() {
        let left = 40.0 + wide * (at % columns) as f64;
        let top = 25.0 + high * (at / columns) as f64;
        let (inner_w, inner_h) = (wide - 55.0, high - 60.0);
        let _ = writeln!(
            svg,
            "<text x=\"{left}\" y=\"{:.0}\" font-weight=\"bold\">{}{}</text>",
            top - 6.0,
            row.world,
            apart(row.held)
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
        for size in [0.05, 0.15, 0.25] {
            let _ = writeln!(
                svg,
                "<text x=\"{:.1}\" y=\"{:.0}\" text-anchor=\"middle\">{:.0} %</text>",
                left + inner_w * size / 0.25,
                top + inner_h + 12.0,
                size * 100.0
            );
        }
        for (who, (colour, dash)) in LOOKS.iter().enumerate() {
            let points: Vec<String> = results
                .cells
                .iter()
                .filter(|cell| cell.world == row.world && cell.fault == Fault::One)
                .map(|cell| {
                    format!(
                        "{:.1},{:.1}",
                        left + inner_w * cell.size / 0.25,
                        top + inner_h * (1.0 - cell.one[who].1)
                    )
                })
                .collect();
            let _ = writeln!(
                svg,
                "<polyline points=\"{}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"2\" stroke-dasharray=\"{dash}\"/>",
                points.join(" ")
            );
        }
    }
    for (who, (colour, dash)) in LOOKS.iter().enumerate() {
        let x = 40.0 + 140.0 * who as f64;
        let y = height - 12.0;
        let _ = writeln!(
            svg,
            "<line x1=\"{x}\" y1=\"{y}\" x2=\"{}\" y2=\"{y}\" stroke=\"{colour}\" stroke-width=\"2\" \
             stroke-dasharray=\"{dash}\"/><text x=\"{}\" y=\"{}\">{}</text>",
            x + 26.0,
            x + 32.0,
            y + 3.0,
            names()[who]
        );
    }
    svg.push_str("</svg>\n");
    svg
}
