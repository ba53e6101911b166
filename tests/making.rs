//! Profiles are made by answering questions, or from a table of pins; what is made passes every check, what is wrong is told where.

mod keyed;

use bothhands::profile::{self, CircuitKind, Profile};
use std::path::Path;

/// Answers the questions and gives what was shown, and the profile.
fn answered(folder: &Path, answers: &[&str], more: &[&str]) -> (String, Profile) {
    let path = folder.join("made.toml");
    let output = keyed::bothhands(folder)
        .args(["profile", "new", "--to"])
        .arg(&path)
        .args(more)
        .write_stdin(answers.join("\n") + "\n")
        .output()
        .unwrap();
    let shown = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(output.status.success(), "{shown}{}", String::from_utf8_lossy(&output.stderr));
    keyed::bothhands(folder).args(["check", "profile"]).arg(&path).assert().success();
    (shown, profile::load(&path).unwrap_or_else(|fault| panic!("{}", fault.rendered(110))))
}

/// "A gearbox has four shift valves, pins 1 to 4 against 9, twenty and a half ohms give or take two at twenty degrees, and an oil sensor
/// between 5 and 6 with 2.5 kilohms at 20 and 600 ohms at 60 degrees."
#[test]
fn shift_valves_and_an_oil_sensor() {
    let folder = tempfile::tempdir().unwrap();
    let answers = [
        "Gearbox valves",
        "",
        "9",
        "1-4",
        "shift valve",
        "1",
        "20.5 +- 2", // the valves
        "5",
        "oil sensor",
        "6",
        "20 2.5k, 60 600",
        "", // read against 9 by the first answer
        "",
    ];
    let (shown, part) = answered(folder.path(), &answers, &[]);
    assert!(
        shown.contains("Taken: shift valve A, shift valve B, shift valve C and shift valve D."),
        "{shown}"
    );
    assert_eq!((part.circuits.len(), part.families.len()), (5, 1));
    let window = part.circuits[3].window.as_ref().unwrap();
    assert_eq!((window.low.get(), window.high.get()), (18.5, 22.5));
    assert!(matches!(&part.circuits[4].kind, CircuitKind::ThermistorTable { points } if points.len() == 2));
    assert_eq!(part.source, "own measurements, no maker's figures");
}

/// "A trailer socket: seven lamps and so on, pin 3 is the earth. Nobody knows what they read."
#[test]
fn a_socket_nobody_knows_figures_of_with_a_slip_taken_back() {
    let folder = tempfile::tempdir().unwrap();
    let answers = [
        "Trailer socket",
        "looked at",
        "3",
        "1",
        "left turn",
        "2",
        "",
        "2",
        "fog lamp",
        "9", // a choice that there is not is asked again
        "2",
        "",
        "4",
        "left turn", // called as another one: refused at once, and asked again
        "right turn",
        "2",
        "-", // back to what it is made of
        "2",
        "",
        "",
    ];
    let (shown, part) = answered(folder.path(), &answers, &[]);
    assert!(shown.contains("Type one of the numbers."), "{shown}");
    assert!(shown.contains("Another circuit is called \"left turn\" too when it is spoken"), "{shown}");
    let names: Vec<&str> = part.circuits.iter().map(|circuit| circuit.name.as_str()).collect();
    assert_eq!(names, ["left turn", "fog lamp", "right turn"]);
    assert!(part.families.is_empty() && part.circuits.iter().all(|circuit| circuit.window.is_none()));
}

/// "Seat heating: two mats alike, 1,4 to 2,2 ohms, pins 1 and 2 against 3; on 7 and 8 is the belt tensioner, hands off." In German.
#[test]
fn a_seat_with_something_nobody_may_measure() {
    let folder = tempfile::tempdir().unwrap();
    let answers = [
        "Sitzheizung",
        "",
        "3",
        "1",
        "Matte links",
        "2",
        "1,4 to 2,2",
        "2",
        "Matte rechts",
        "",
        "7",
        "Gurtstraffer",
        "7",
        "pyrotechnisch",
        "",
    ];
    let path = folder.path().join("made.toml");
    let output = keyed::bothhands(folder.path())
        .env("BOTHHANDS_LANGUAGE", "de")
        .args(["profile", "new", "--to"])
        .arg(&path)
        .write_stdin(answers.join("\n") + "\n")
        .output()
        .unwrap();
    let shown = String::from_utf8_lossy(&output.stdout);
    assert!(shown.contains("[wie Matte links]"), "{shown}");
    let part = profile::load(&path).unwrap_or_else(|fault| panic!("{}\n{shown}", fault.rendered(110)));
    assert_eq!(part.id, "sitzheizung");
    assert_eq!(part.circuits[1].window.as_ref().map(|window| window.high.get()), Some(2.2));
    assert_eq!(part.circuits[2].never_ohmmeter.as_deref(), Some("pyrotechnisch"));
}

#[test]
fn an_end_before_the_end_writes_nothing_and_another_file_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("made.toml");
    let run = |answers: &str| {
        let output = keyed::bothhands(folder.path())
            .args(["profile", "new", "--to"])
            .arg(&path)
            .write_stdin(answers)
            .output()
            .unwrap();
        (output.status.success(), String::from_utf8_lossy(&output.stderr).into_owned())
    };
    let (done, said) = run("Pump\n\n2\n1\n");
    assert!(!done && said.contains("nothing was written") && !path.exists(), "{said}");
    std::fs::write(&path, "mine").unwrap();
    let (done, said) = run("Pump\n\n2\n1\nmotor\n1\n\n\n");
    assert!(!done && said.contains("is there already"), "{said}");
    assert_eq!(std::fs::read_to_string(&path).unwrap(), "mine");
}

/// A table as it comes from a spreadsheet.
fn from_table(table: &str, more: &[&str]) -> Result<Profile, String> {
    let folder = tempfile::tempdir().unwrap();
    let (from, to) = (folder.path().join("Loader valves.csv"), folder.path().join("made.toml"));
    std::fs::write(&from, table).unwrap();
    let output = keyed::bothhands(folder.path())
        .args(["profile", "new", "--from"])
        .arg(&from)
        .arg("--to")
        .arg(&to)
        .args(more)
        .output()
        .unwrap();
    if !output.status.success() {
        assert!(!to.exists());
        return Err(String::from_utf8_lossy(&output.stderr).into_owned());
    }
    Ok(profile::load(&to).unwrap_or_else(|fault| panic!("{}", fault.rendered(110))))
}

#[test]
fn tables_become_profiles() {
    let part = from_table(
        "Pin,Function,Kind,Resistance (ohm),Tolerance\n1,lift coil,coil,5.2,8 %\n2,tilt coil,coil,5.2,±8 %\n3,,,,\n16,common,,,\n",
        &["--common", "16"],
    )
    .unwrap();
    assert_eq!((part.id.as_str(), part.circuits.len(), part.connector.pins.len()), ("loader-valves", 2, 4));
    assert_eq!(part.circuits[1].window.as_ref().map(|window| window.low.get()), Some(4.784));
    // Semicolons and decimal commas, several connectors, each line its own return.
    let part = from_table(
        "Stecker;Pin;Gegen;Funktion;Art;Soll\nX1;1;2;Heber;Spule;4,9 to 5,5\nX1;3;2;Kipper;Spule;4,9 to 5,5\nX2;1;2;Geber;Widerstand;4k7 +- 5 %\n",
        &[],
    )
    .unwrap();
    assert_eq!(part.circuits[2].pin.as_str(), "X2/1");
    assert_eq!(part.circuits[2].window.as_ref().map(|window| window.high.get()), Some(4935.0));
}

#[test]
fn faults_of_a_table_are_told_with_line_and_column() {
    for (table, told) in [
        ("", "The table is empty"),
        ("pin,colour\n1,red\n", "Line 1, column 2: nobody knows “colour”."),
        ("pin,kind\n1,coil\n", "The column name is missing. There are: pin, kind."),
        ("pin,name,kind,reads\n1,lift,coil,5.2\n", "Line 2, column 4 (reads): \"5.2\" is one value"),
        ("pin,name,kind\n1,lift,flux\n", "Line 2, column 3 (kind): \"flux\" says not what it is made of."),
        ("pin,name\n1,lift\n", "Line 2, no column kind: it is not said what it is made of."),
        (
            "pin,name,kind,like\n1,lift,coil,\n2,tilt,,dig\n",
            "Line 3, column 4 (like): no circuit above is called \"dig\".",
        ),
        (
            "pin,name,kind\n1,lift,coil\n\n2,Lift,coil\n",
            "Line 4, column 2 (name): another circuit is called \"lift\" too",
        ),
        ("pin,name,kind\n\"1,lift,coil\n", "Line 2"),
        ("pin,name,kind\n1/2/3,lift,coil\n", "is no name of a pin"),
    ] {
        let said = from_table(table, &["--common", "9"]).unwrap_err();
        // The diagnostic breaks its lines.
        let said = said.split_whitespace().filter(|word| *word != "│").collect::<Vec<_>>().join(" ");
        assert!(said.contains(told), "{table}: {said}");
    }
}
