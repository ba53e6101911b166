//! The program by keys, with a stored code: from the part to the control unit's plug, over a break, into the record.

mod keyed;

use keyed::bothhands;
use predicates::prelude::*;
use std::fs;

const GATES: &str = "11\n22\n33\n44\n55\n66\n77\n88\n99\n18\n0.2\n";
const ROUND: &str = "1.071k\n2.72k\n6.62k\n60.3\n0.5\n14.3\n1.071k\n";

#[test]
fn a_code_leads_to_the_plug_and_is_in_the_record_after_a_break() {
    let data = tempfile::tempdir().unwrap();
    // The code, the whole part sound, yes to the plug, its gates, the sound sensor there; then the input ends.
    let keys = format!("9901\nno\n{GATES}{ROUND}y\n111\n222\n333\n444\n555\n666\n6.63k\n");
    bothhands(data.path())
        .args(["--profile", "sweeper-sensor-pack", "--meter", "handheld-6000", "--keys", "--plain"])
        .write_stdin(keys)
        .assert()
        .failure()
        .stdout(predicate::str::contains("9901, oil sensor."))
        .stdout(predicate::str::contains("Plug pin 17 to plug pin 31, oil sensor."));
    // Gone on with: the code is known, everything is made safe anew, and it goes back to the plug.
    let keys = format!("{GATES}111\n222\n333\n444\n555\n666\n*\n6.63k\n*\n6.63k\n*\nf\n");
    bothhands(data.path())
        .args(["resume", "--keys", "--plain"])
        .write_stdin(keys)
        .assert()
        .success()
        .stdout(predicate::str::contains("stored code?").not())
        .stdout(predicate::str::contains("wiring of oil sensor"));
    let session = fs::read_dir(data.path().join("sessions")).unwrap().next().unwrap().unwrap().path();
    let record: serde_json::Value =
        serde_json::from_str(&fs::read_to_string(session.join("record.json")).unwrap()).unwrap();
    let record = &record["record"];
    assert_eq!(record["codes"][0]["circuit"], "oil-sensor");
    let gates: Vec<_> = record["confirmations"].as_array().unwrap().iter().map(|one| &one["gate"]).collect();
    assert_eq!(gates.iter().filter(|gate| **gate == "control-unit-unplugged").count(), 2);
    assert!(
        record["judgement"]["observed"].as_array().unwrap().iter().any(|one| one["about"] == "stored-code")
    );
    let page = fs::read_to_string(session.join("record.html")).unwrap();
    assert!(page.contains("plug 17 / 31") && page.contains("Also observed"));
}
